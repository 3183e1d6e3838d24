import { describe, expect, test } from "vitest";
import { workshop } from "./workshop";

describe("draw", () => {
  const build = `joint nuts "Wheel nuts" { thread: 7/16-20  count: 5  torque: 68 lb-ft }\n`;

  test("writes the tightening order of a joint as a drawing that says what it shows", async () => {
    const shop = workshop({ "build.trammel": build });
    const { out, code } = await shop.trammel("draw", "build.trammel", "nuts");
    expect(code).toBe(0);
    expect(out).toMatch(/^<svg [^>]*role="img"/);
    expect(out).toContain("<title>Wheel nuts</title>");
    // Common practice, no source: a star of five.
    expect(out).toContain("<desc>places clockwise from the top: 1, 3, 5, 2, 4</desc>");
  });

  test("lists the pictures there are", async () => {
    const shop = workshop({
      "build.trammel": `${build}axle rear "Back axle" { left { half: 26 in } }\n`,
    });
    const { out, code } = await shop.trammel("draw", "build.trammel");
    expect(code).toBe(0);
    expect(out).toContain("nuts/order");
    expect(out).toMatch(/rear\/behind +Back axle: from behind/);
  });

  test("writes to a file where it is told to", async () => {
    const shop = workshop({ "build.trammel": build });
    const { out, code } = await shop.trammel("draw", "build.trammel", "nuts", "--to", "nuts.svg");
    expect([code, out]).toEqual([0, ""]);
    expect(shop.read("nuts.svg")).toMatch(/^<svg /);
  });

  test("names a picture that is near where it is asked for another", async () => {
    const shop = workshop({ "build.trammel": build });
    const { log, code } = await shop.trammel("draw", "build.trammel", "nutz");
    expect(code).toBe(2);
    expect(log).toContain("there is no picture called nutz: did you mean nuts?");
  });
});
