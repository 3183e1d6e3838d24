/**
 * The same in a real browser: texts as they are set there keep clear of each other and of lines that
 * are not theirs, and nothing a title says becomes markup.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { transformSync } from "esbuild";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { standalone } from "../../server/drafting";
import { drawPicture, picturesOf } from "../../server/pictures";
import { launchBrowser } from "../workbench/host/browser.mts";
import { analysisOf, builds } from "./builds";
import { sampleAnalysis, samples } from "./samples";

const script = transformSync(
  readFileSync(join(import.meta.dirname, "page", "meetings.ts"), "utf8"),
  { loader: "ts" },
).code;

let browser: Browser;
let page: Page;
beforeAll(async () => {
  browser = await launchBrowser();
  page = await browser.newPage();
});
afterAll(() => browser?.close());

/** Every picture of a build, on a page of its own. */
async function meetings(svg: string): Promise<readonly string[]> {
  await page.setContent(`<body>${svg}</body>`);
  await page.addScriptTag({ content: script });
  return page.evaluate<readonly string[]>("meetings()");
}

describe.each(Object.keys(builds))("the %s build", (name) => {
  test("keeps its labels apart in every picture", async () => {
    const analysis = analysisOf(builds[name] ?? "");
    for (const { id } of picturesOf(analysis)) {
      const drawing = drawPicture(analysis, id);
      if (drawing === undefined) continue;
      expect({ id, meet: await meetings(standalone(drawing)) }).toEqual({ id, meet: [] });
    }
  });
});

describe.each(samples)("the sample %s", (file) => {
  test("keeps its labels apart in every picture", async () => {
    const analysis = sampleAnalysis(file);
    for (const { id } of picturesOf(analysis)) {
      const drawing = drawPicture(analysis, id);
      if (drawing === undefined) continue;
      expect({ id, meet: await meetings(standalone(drawing)) }).toEqual({ id, meet: [] });
    }
  });
});

describe("a hostile title", () => {
  const hostile = `<img src=x onerror=alert(1)></title><script>alert(2)</script>&quot; javascript:alert(3) \\u202e]]>`;
  const build = (builds.ordinary ?? "").replace('"Rear axle"', JSON.stringify(hostile));

  test("is letters and nothing else", async () => {
    const drawing = drawPicture(analysisOf(build), "rear");
    await page.setContent(`<body>${drawing === undefined ? "" : standalone(drawing)}</body>`);
    const foreign = await page.locator("script, img, a, foreignObject, iframe, image, use").count();
    expect(foreign).toBe(0);
    const title = await page.locator("svg > title").textContent();
    expect(title).toContain("<img src=x onerror=alert(1)>");
  });
});
