/** The sheets on paper, by a real browser. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { browserOf, printPdf } from "../../server/disk/print-pdf";
import { packOf, sheetsHtml } from "../../server/sheets";
import { sampleAnalysis } from "../pictures/samples";
import { launchBrowser } from "../workbench/host/browser.mts";

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

/** CSS pixels of a millimeter. */
const pixel = 96 / 25.4;

describe.each([
  { paper: "letter", points: [612, 792], file: "samples/harbor-van/work.trammel" },
  { paper: "a4", points: [595, 842], file: "samples/alder-truck/running-gear.trammel" },
] as const)("on $paper", ({ paper, points: [wide, high], file }) => {
  const pack = packOf(sampleAnalysis(file), { file, date: "2026-11-27", paper });
  const html = sheetsHtml(pack);

  test("every sheet begins a page of that size", async () => {
    const page = await browser.newPage();
    await page.setContent(html);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    const boxes = [...pdf.matchAll(/\/MediaBox \[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)];
    expect(boxes.length).toBeGreaterThanOrEqual(pack.sheets.length);
    for (const [, width, height] of boxes) {
      expect(Math.abs(Number(width) - wide)).toBeLessThan(1.5);
      expect(Math.abs(Number(height) - high)).toBeLessThan(1.5);
    }
    await page.close();
  });

  // The browser that comes with the packages takes no commands: this wants one of the machine's own.
  test.skipIf(browserOf(process.env) === undefined)(
    "goes to a PDF by a browser",
    () => {
      const folder = mkdtempSync(join(tmpdir(), "trammel-print-"));
      const path = join(folder, "sheets.pdf");
      const problem = printPdf(html, path, process.env);
      const printed = problem === undefined ? readFileSync(path).toString("latin1") : problem.why;
      expect(printed.slice(0, 5)).toBe("%PDF-");
      const pages = [...printed.matchAll(/\/Type\s*\/Page\b/g)].length;
      expect(pages).toBeGreaterThanOrEqual(pack.sheets.length);
      expect(readdirSync(folder)).toEqual(["sheets.pdf"]);
      rmSync(folder, { recursive: true });
    },
    120_000,
  );

  test("drawings have their millimeters, so that their scale holds", async () => {
    const page = await browser.newPage();
    await page.emulateMedia({ media: "print" });
    await page.setViewportSize({ width: Math.floor(186 * pixel), height: 900 });
    await page.setContent(html);
    const sizes = await page.locator(".sheet > tbody > tr > td > figure svg").evaluateAll((all) =>
      all.map((svg) => {
        const element = svg as unknown as {
          getAttribute(name: string): string | null;
          clientWidth: number;
        };
        return [Number.parseFloat(element.getAttribute("width") ?? ""), element.clientWidth];
      }),
    );
    expect(sizes.length).toBeGreaterThan(3);
    for (const [asked = 0, got = 0] of sizes) {
      expect(asked).toBeLessThanOrEqual(220);
      expect(Math.abs(got / pixel - asked)).toBeLessThan(0.5);
    }
    await page.close();
  });

  test("is black on white in print, also for who reads in the dark", async () => {
    const page = await browser.newPage();
    await page.emulateMedia({ media: "print", colorScheme: "dark" });
    await page.setContent(html);
    const paper = await page.locator("body").evaluate((body) => {
      const view = (body as unknown as { ownerDocument: { defaultView: unknown } }).ownerDocument
        .defaultView as { getComputedStyle(of: unknown): { backgroundColor: string } };
      return view.getComputedStyle(body).backgroundColor;
    });
    expect(paper).toBe("rgb(255, 255, 255)");
    await page.close();
  });
});
