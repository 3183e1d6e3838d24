/**
 * Golden drawings and sheets of both samples and of the README's own example. A stale one is written
 * anew and the test fails once: look at it before it goes in. The README's picture is its drawing as
 * a browser shows it, made anew together with it.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { expect, test } from "vitest";
import { standalone } from "../../server/drafting";
import { drawPicture } from "../../server/pictures";
import { packOf, sheetsHtml, sheetsMarkdown } from "../../server/sheets";
import { launchBrowser } from "../workbench/host/browser.mts";
import { analysisOf } from "./builds";
import { sampleAnalysis } from "./samples";

const folder = join(import.meta.dirname, "golden");
const root = join(import.meta.dirname, "..", "..");

const drawn = [
  ["van-axle", "samples/harbor-van/running-gear.trammel", "rear/behind"],
  ["van-saw", "samples/harbor-van/running-gear.trammel", "rear/saw"],
  ["van-wheel-end", "samples/harbor-van/running-gear.trammel", "rear.left/section"],
  ["van-driveline", "samples/harbor-van/running-gear.trammel", "shaft/side"],
  ["van-grip", "samples/harbor-van/running-gear.trammel", "stopping/grip"],
  ["van-carrier-nuts", "samples/harbor-van/work.trammel", "carrier_nuts/order"],
  ["truck-tight", "samples/alder-truck/tight.trammel", "rear/behind"],
  ["truck-axle", "samples/alder-truck/running-gear.trammel", "rear/behind"],
  ["truck-saw", "samples/alder-truck/running-gear.trammel", "rear/saw"],
  ["truck-driveline", "samples/alder-truck/running-gear.trammel", "rear_shaft/side"],
] as const;

test.each(drawn)("the drawing %s", (name, file, id) => {
  const drawing = drawPicture(sampleAnalysis(file), id);
  expect(drawing).toBeDefined();
  expectGolden(`${name}.svg`, drawing === undefined ? "" : standalone(drawing));
});

test.each([
  ["van-sheets", "samples/harbor-van/work.trammel", "letter"],
  ["truck-sheets", "samples/alder-truck/running-gear.trammel", "a4"],
] as const)("the sheets %s", (name, file, paper) => {
  const pack = packOf(sampleAnalysis(file), {
    file,
    paper,
    date: "2026-11-27",
    revision: "0000000",
  });
  expectGolden(`${name}.md`, sheetsMarkdown(pack));
  // A drawing has a golden file of its own; here its place on the sheet counts.
  const html = sheetsHtml(pack)
    .replaceAll(/(<svg[^>]*?aria-label="[^"]*"[^>]*>)[\s\S]*?<\/svg>/g, "$1</svg>\n")
    .replace(/<style>[\s\S]*?<\/style>/, "");
  expectGolden(`${name}.html`, html.replaceAll(/(<\/(?:tr|table|p|figure)>)/g, "$1\n"));
});

test("the picture of the README's own example", async () => {
  const readme = readFileSync(join(root, "README.md"), "utf8");
  const [, build = ""] = /```trammel\n([\s\S]*?)```/.exec(readme) ?? [];
  const drawing = drawPicture(analysisOf(build), "rear/behind");
  const svg = drawing === undefined ? "" : standalone(drawing);
  const picture = join(folder, "readme-axle.png");
  if (golden("readme-axle.svg") !== svg || !existsSync(picture)) {
    const browser = await launchBrowser();
    const page = await browser.newPage({
      viewport: { width: 1100, height: 700 },
      deviceScaleFactor: 1.5,
    });
    await page.setContent(`<body style="margin:0">${svg}</body>`);
    await page.locator("svg").screenshot({ path: picture });
    await browser.close();
  }
  expect(readme.indexOf("test/pictures/golden/readme-axle.png")).toBeGreaterThan(0);
  expectGolden("readme-axle.svg", svg);
});

// ───────────────────────────── helpers ─────────────────────────────

function golden(name: string): string | undefined {
  const file = join(folder, name);
  return existsSync(file) ? readFileSync(file, "utf8") : undefined;
}

function expectGolden(name: string, made: string): void {
  const before = golden(name);
  if (before !== made) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), made);
  }
  expect.soft(made).toBe(before);
}
