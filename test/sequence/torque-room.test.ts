/** How far from its torque a joint may be on record, by hand from ISO 6789-1 and what is written. */
import { describe, expect, test } from "vitest";
import { findingsOf } from "./helper";

/** Codes of what is said of one entry about a joint of 80 lb-ft. */
function said(entry: string, joint = "", head = ""): string[] {
  return findingsOf(`wrench fine "Fine" { accuracy: 2 %  least: 10 lb-ft  most: 200 lb-ft }
joint studs { count: 2  pattern: line  torque: 80 lb-ft${joint} }
record 2026-03-01 ${head} { studs { ${entry}  held: yes } }`).map(
    (each) => each.split(": ")[1] ?? "",
  );
}

const off = ["record/torque-off"];

describe("without more said, four percent and what the figure is rounded by", () => {
  // 4 % of 80 are 3.2; a figure in tenths stands for half a tenth more, one in whole pounds for 0.5.
  test.each([
    ["80 lb-ft", []],
    ["76.8 lb-ft", []],
    ["76.7 lb-ft", off],
    ["83.2 lb-ft", []],
    ["83.3 lb-ft", off],
    ["77 lb-ft", []],
    ["76 lb-ft", off],
    ["83 lb-ft", []],
    ["84 lb-ft", off],
    // Its own ± is added.
    ["76 lb-ft ± 1 lb-ft", []],
    ["75 lb-ft ± 1 lb-ft", off],
  ] as const)("%s", (torque, wanted) => {
    expect(said(`tightened: ${torque}`)).toEqual(wanted);
  });
});

describe("with what the wrench is good for, or what the joint allows", () => {
  test("two percent of 80 are 1.6", () => {
    expect(said("tightened: 78.4 lb-ft", "", 'with "fine"')).toEqual([]);
    expect(said("tightened: 78.3 lb-ft", "", 'with "fine"')).toEqual(off);
    expect(said("tightened: 81.7 lb-ft", "", 'with "fine"')).toEqual(off);
  });

  test("the joint's own ± goes before both", () => {
    expect(said("tightened: 75.1 lb-ft", " ± 5 lb-ft")).toEqual([]);
    expect(said("tightened: 74.9 lb-ft", " ± 5 lb-ft")).toEqual(off);
    expect(said("tightened: 79.1 lb-ft", " ± 1 lb-ft", 'with "fine"')).toEqual([]);
    expect(said("tightened: 78.9 lb-ft", " ± 1 lb-ft", 'with "fine"')).toEqual(off);
  });
});

test("a lower pass is near enough up to halfway to the nearer of those beside it", () => {
  // Passes at 24, 56 and 80: halfway from 24 to nothing are 12, to 56 would be 16.
  const codes = (torque: number) =>
    said(`tightened: ${torque} lb-ft  pass: 1`, "  passes: [30 %, 70 %, 100 %]").includes(
      "record/torque-off",
    );
  expect([13, 24, 35].map(codes)).toEqual([false, false, false]);
  expect([11, 37, 41].map(codes)).toEqual([true, true, true]);
});
