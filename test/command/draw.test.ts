import { describe, expect, test } from "vitest";
import { workshop } from "./workshop";

describe("draw", () => {
  const build = `joint nuts "Wheel nuts" { thread: 7/16-20  count: 5  torque: 68 lb-ft }\n`;

  test("writes the tightening order of a joint as a drawing that says what it shows", async () => {
    const shop = workshop({ "build.trammel": build });
    const { out, code } = await shop.trammel("draw", "build.trammel", "nuts");
    expect(code).toBe(0);
    expect(out).toMatch(/^<svg [^>]*role="img">\n<title>Wheel nuts: tightening order<\/title>/);
    // Common practice, no source: a star of five.
    expect(out).toContain("<desc>places clockwise from the top: 1, 3, 5, 2, 4</desc>");
  });

  test("names the joints there are where it is asked for another", async () => {
    const shop = workshop({ "build.trammel": build });
    const { log, code } = await shop.trammel("draw", "build.trammel", "nutz");
    expect(code).toBe(2);
    expect(log).toContain("there is no joint nutz: did you mean nuts?");
    expect((await shop.trammel("draw", "build.trammel")).code).toBe(2);
  });
});
