import { describe, expect, test } from "vitest";
import { repository, smallBuild, workshop } from "./workshop";

const build = `${smallBuild}
housing bolt_in_housing "Complete housing" { face_to_face: 57 1/4 in  standoff: 2.5 in  price: 900 usd }
option bolt_in "Bolt-in housing" {
  rear.housing: bolt_in_housing
  rear.mount_width: ?
}
check "wide enough": rear.mount_width >= 63 in
`.replace("standoff: 2.5 in ± 0.010 in", "standoff: 2.5 in ± 0.010 in\n  price: 400 usd");

describe("compare", () => {
  test("puts the housing in use on one line, whichever it is", async () => {
    const { code, out } = await workshop({ "build.trammel": build }).trammel(
      "compare",
      "build.trammel",
    );
    expect(code).toBe(0);
    const lines = out.split("\n").map((line) => line.replaceAll(/ {2,}/g, " | "));
    expect(lines.slice(0, 2)).toEqual(["build.trammel", "bolt_in: Bolt-in housing"]);
    for (const line of [
      " | spec | bolt_in",
      " | rear.housing.face_to_face | 58 in solved | 57 1/4 in given",
      " | rear.mount_width | 63 1/2 in wanted | 62 3/4 in solved",
      " | wide enough | holds | fails",
      " | parts with a price | 400.00 usd | 900.00 usd",
    ]) {
      expect(lines).toContain(line);
    }
    expect(out).not.toContain("bolt_in_housing.");
  });

  test("compares the fields it is told to, by any path", async () => {
    const shop = workshop({ "build.trammel": build });
    const { out } = await shop.trammel(
      "compare",
      "build.trammel",
      "--fields",
      "rear.housing.face_to_face,rear.left.half",
      "--format",
      "json",
    );
    const { values, options, checks } = JSON.parse(out);
    expect(options).toEqual([{ name: "spec" }, { name: "bolt_in", title: "Bolt-in housing" }]);
    expect(Object.keys(values)).toEqual(["rear.housing.face_to_face", "rear.left.half"]);
    expect(values["rear.left.half"].spec.si).toBeCloseTo(29 * 0.0254, 10);
    expect(values["rear.left.half"].bolt_in.si).toBeCloseTo((57.25 / 2) * 0.0254, 10);
    expect(checks.find(({ title }: { title: string }) => title === "wide enough").verdicts).toEqual(
      { spec: "holds", bolt_in: "fails" },
    );
    expect((await shop.trammel("compare", "build.trammel", "--fields", "rear.nothing")).code).toBe(
      2,
    );
  });

  test("a build without options has nothing to compare", async () => {
    const { code, log } = await workshop({ "build.trammel": smallBuild }).trammel(
      "compare",
      "build.trammel",
    );
    expect(code).toBe(2);
    expect(log).toContain("there is nothing to compare in build.trammel: it has no option");
  });

  test("the sample's two ways differ in width and cost", async () => {
    const { out } = await repository.trammel("compare", "samples/harbor-van/build.trammel");
    expect(out).toMatch(/rear_housing\.face_to_face +54 11\/16 in solved +53 7\/8 in given/);
    expect(out).toMatch(/costs\.total +[\d.]+ usd solved +[\d.]+ usd solved/);
  });

  test("the spec beside what the records make of it", async () => {
    const shop = workshop({
      "build.trammel": `display { length: in 1/16 }
kind cut "Cut" {
  rest: length measured
  saw: length made to 1/16 in ± 1/32 in
  gap: length wanted shown
  relation "gap": gap = saw - rest
}
cut c { rest: 10 1/16 in; gap: 1/2 in; saw: ? }
record "cut" 2026-04-02 { c.saw: 10 3/4 in ± 1/64 in }
`,
    });
    // 10 1/16 and 1/2 are 10 9/16 in; sawn to 10 3/4 in the gap is 11/16 in.
    const { out, code } = await shop.trammel("compare", "build.trammel", "--as-built");
    expect(code).toBe(0);
    expect(out).toMatch(/c\.saw +10 9\/16 in made +10 3\/4 in measured/);
    expect(out).toMatch(/c\.gap +1\/2 in wanted +11\/16 in, wanted 1\/2 in/);
  });

  test("checks are told as findings tell them: proved, in how many builds, not in the worst case", async () => {
    const shop = workshop({
      "build.trammel": `kind stack "Stack" {
  a: length in mm
  b: length in mm
  whole: length in mm
  relation "whole": whole = a + b
}
stack s { a: 10 mm ± 0.3 mm; b: 10 mm ± 0.4 mm }
check "fits the slot": s.whole <= 20.25 mm
option finer { s.a: 10 mm ± 0.1 mm; s.b: 10 mm ± 0.2 mm }
option finest { s.a: 10 mm ± 0.1 mm; s.b: 10 mm ± 0.1 mm }
`,
    });
    // Three standard deviations are 0.5 mm: 20.25 mm is one and a half of them, 93 % (normal tables).
    // Finer, 0.22 mm are likely and 0.3 mm possible; finest, 0.2 mm are.
    const { out } = await shop.trammel("compare", "build.trammel");
    expect(out).toMatch(
      /fits the slot +holds in about 93 % of builds +not in the worst case +holds\n/,
    );
    const { out: json } = await shop.trammel("compare", "build.trammel", "--format", "json");
    expect(JSON.parse(json).checks).toEqual([
      {
        title: "fits the slot",
        verdicts: {
          spec: "not in all that is likely",
          finer: "not in the worst case",
          finest: "holds",
        },
        holdsIn: { spec: expect.closeTo(0.933, 2) },
      },
    ]);
  });
});
