import { existsSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { workshop } from "./workshop";

describe("sheet", () => {
  const build = `
display { length: in 1/32 }
vehicle van "Fish van" { wheelbase: 118 in  rear: rear }
axle rear "Rear axle" { left { inner_limit: 22 in } }
joint nuts "Wheel nuts" { thread: 7/16-20  count: 5  torque: 68 lb-ft }
`;
  const day = { environment: { SOURCE_DATE_EPOCH: "1764201600", PATH: "" } };

  test("writes one HTML file with a title block", async () => {
    const shop = workshop({ "build.trammel": build });
    const { out, code } = await shop.trammelWith(day, "sheet", "build.trammel");
    expect(code).toBe(0);
    expect(out).toMatch(/^<!doctype html>/);
    expect(out).toContain("Fish van");
    expect(out).toContain("2025-11-27");
    expect(out).toContain("not under git");
    expect(out).toContain("size:8.5in 11in");
    const wide = await shop.trammelWith(day, "sheet", "build.trammel", "--paper", "a4");
    expect(wide.out).toContain("size:210mm 297mm");
  });

  test("writes Markdown for a review", async () => {
    const shop = workshop({ "build.trammel": build });
    const { out } = await shop.trammelWith(day, "sheet", "build.trammel", "--format", "markdown");
    expect(out).toMatch(/^# Fish van\n/);
    expect(out).toContain("## Torque cards");
  });

  test("says so where no browser is there to print a PDF", async () => {
    const shop = workshop({ "build.trammel": build });
    const none = { environment: { ...day.environment, TRAMMEL_BROWSER: "" } };
    const args = ["sheet", "build.trammel", "--format", "pdf"];
    expect((await shop.trammelWith(none, ...args)).log).toContain("a PDF needs a file to go to");
    const { log, code } = await shop.trammelWith(none, ...args, "--to", "sheets.pdf");
    expect(code).toBe(2);
    // A machine may have one in its usual place for all that.
    if (log !== "") expect(log).toContain("no Chromium, Chrome or Edge on this machine");
    expect(existsSync(join(shop.folder, "sheets.pdf"))).toBe(false);
  });

  test("tells when the browser named does not print", async () => {
    const shop = workshop({ "build.trammel": build });
    const wrong = { environment: { ...day.environment, TRAMMEL_BROWSER: "/no/such/browser" } };
    const { log, code } = await shop.trammelWith(
      wrong,
      "sheet",
      "build.trammel",
      "--format",
      "pdf",
      "--to",
      "sheets.pdf",
    );
    expect(code).toBe(2);
    expect(log).toContain("/no/such/browser did not print it");
  });
});
