/** Checks, relations and curves inside an option: they count where it is laid over, and nowhere else. */
import { expect, test } from "vitest";
import { analyzed, findingsOf } from "./build";

const text = `kind plate { width: length  depth: length  reach: length }
plate p { width: 4 in; depth: 2 in; reach: ? }
option deep {
  p.depth: 3 in
  check "deep enough": p.depth >= 5 in
  relation "reach": p.reach = p.width + p.depth
}
`;

test("as the option says", () => {
  const analysis = analyzed(text);
  expect(analysis.checks.map(({ title }) => title)).toEqual([]);
  expect(analysis.valueAt("p.reach")?.si).toBeUndefined();
  const deep = analysis.under("deep");
  expect(deep?.checks.map(({ title, verdict }) => [title, verdict.nominal])).toEqual([
    ["deep enough", "fails"],
  ]);
  expect(deep?.valueAt("p.reach")?.si).toBeCloseTo(7 * 0.0254, 12);
});

test("what is wrong with them is told", () => {
  const broken = analyzed(text.replace("p.depth >= 5 in", "p.depht >= 5 in"));
  expect(findingsOf(broken).join("\n")).toContain("name/unknown-field");
});
