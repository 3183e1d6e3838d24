/** The library is held like code: whatever is in it is looked over, and faults put in are seen. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { libraryFiles } from "../../server/library-files";
import { root } from "../command/workshop";
import { faultsOf, type TextFile, unusedRelations } from "./hygiene";

const files = libraryFiles();

/** Each file of a sample that ends in figures, with all others of its folder beside it. */
const builds = readdirSync(join(root, "samples")).flatMap((sample) => {
  const folder = join(root, "samples", sample);
  const all = readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".trammel"))
    .map(
      (name): TextFile => ({
        path: name.replaceAll("\\", "/"),
        text: readFileSync(join(folder, name), "utf8"),
      }),
    );
  return all
    .filter(({ path }) => !path.includes("/"))
    .map((first) => [first, ...all.filter((each) => each !== first)]);
});

/** Builds for what no example of a page shows. */
const more = readFileSync(join(import.meta.dirname, "examples.trammel"), "utf8")
  .split(/^\/\/- [^\n]*\n/m)
  .slice(1)
  .map((text): TextFile[] => [{ path: "build.trammel", text }]);

test("nothing in the library is objected to", () => {
  expect(files.length).toBeGreaterThan(30);
  expect(faultsOf(files)).toEqual([]);
});

test("every relation is used by an example or a sample", () => {
  expect(builds.length).toBeGreaterThan(3);
  expect(unusedRelations(files, [...builds, ...more])).toEqual([]);
});

describe("a fault that is put in is seen", () => {
  test.each<[sort: string, path: string, from: RegExp, to: string, fault: string]>([
    [
      "a misspelled name",
      "oil-level.trammel",
      /= new_slope - old_slope/,
      "= new_slope - old_slop",
      "an oil level has no field `old_slop`",
    ],
    [
      "a length less an angle",
      "oil-level.trammel",
      /= new_slope - old_slope/,
      "= new_slope - fill_up",
      "the two sides of `-` do not measure the same: a plain number on the left, a length on the right",
    ],
    [
      "sides that measure otherwise",
      "oil-level.trammel",
      /level_change = level - fill_up/,
      "level_change = turn",
      "do not measure the same",
    ],
    [
      "a condition on what is not there",
      "body.trammel",
      /when at == "ride": travel/,
      'when att == "ride": travel',
      "has no field `att`",
    ],
    [
      "a check of two sorts",
      "oil-level.trammel",
      /: dip >= dip_least/,
      ": dip >= turn",
      "do not measure the same",
    ],
    [
      "a default that is no choice",
      "vehicle.trammel",
      /\(rear, front, all\) default rear/,
      "(rear, front, all) default rera",
      "the default `rera` is not among the choices of `driven`",
    ],
    [
      "a default of another sort",
      "oil-level.trammel",
      /default 2 in/,
      "default 2 deg",
      "`deg` is a unit of",
    ],
    [
      "a unit nobody knows",
      "oil-level.trammel",
      /range -45 deg\.\.45 deg/,
      "range -45 dge..45 deg",
      "unknown unit `dge`",
    ],
    [
      "a curve of two sorts",
      "spring.trammel",
      /: spring_load \+ x \*/,
      ": droop + x *",
      "do not measure the same",
    ],
    [
      "a text that speaks of nothing",
      "oil-level.trammel",
      /advise "fill less than to the hole/,
      'advise "fill {leess} than to the hole',
      "a text speaks of {leess}",
    ],
    [
      "a missing source",
      "oil-level.trammel",
      /\n {2}source "geometry: the housing turns[^\n]*/,
      "",
      "oil_level: turn: no source",
    ],
    [
      "a default without a source",
      "wheel-fit.trammel",
      /(default 60 mph "[^"]*") source "[^"]*"/,
      "$1",
      "wheel_fit.indicated_speed: no source",
    ],
    [
      "a check without a code",
      "oil-level.trammel",
      /\n {4}code "carrier\/vent"/,
      "",
      "the vent stands clear of the oil: no code",
    ],
    [
      "a check without advice",
      "oil-level.trammel",
      /\n {4}advise "a fitting higher up[^\n]*/,
      "",
      "the vent stands clear of the oil: no advice",
    ],
    [
      "a figure that nobody says and nothing yields",
      "air-spring.trammel",
      /exponent: number case/,
      "free_exponent: number",
      "air_spring.free_exponent: no role, and no relation yields it",
    ],
    [
      "a field without a meaning",
      "oil-level.trammel",
      / "Lowest inside of the housing[^"]*"/,
      "",
      "oil_level.sump: no meaning",
    ],
    [
      "a kind that holds itself",
      "oil-level.trammel",
      /carrier: carrier optional/,
      "carrier: part oil_level",
      "an oil level would hold itself without end",
    ],
    ["a brace that is missing", "oil-level.trammel", /\n\}\n/, "\n", "is never closed"],
    [
      "a table without a source",
      "thread.trammel",
      /\n {2}source "Shigley[^\n]*table 8-2[^"\n]*"/,
      "",
      "unified_stress_area: no source",
    ],
  ])("%s", (_, path, from, to, fault) => {
    const planted = files.map((file) =>
      file.path === path ? { ...file, text: file.text.replace(from, to) } : file,
    );
    expect(planted.find((file) => file.path === path)?.text).not.toBe(
      files.find((file) => file.path === path)?.text,
    );
    expect(faultsOf(planted)).toContainEqual(expect.stringContaining(fault));
  });

  test("a relation that no example uses", () => {
    const planted = files.map((file) =>
      file.path === "oil-level.trammel"
        ? {
            ...file,
            text: file.text.replace(
              '  relation "turn"',
              '  relation "never" when given(shaft_bottom) and not given(shaft_bottom): dip = 0 mm\n  relation "turn"',
            ),
          }
        : file,
    );
    expect(unusedRelations(planted, [...builds, ...more])).toEqual([
      "oil-level.trammel: oil_level: never: no example uses it",
    ]);
  });
});
