/** What is missing since something cannot be read is not told besides: one finding for one cause. */
import { describe, expect, test } from "vitest";
import { analyzed } from "../model/build";

const codesOf = (text: string): string[] => analyzed(text).findings.map(({ code }) => code);

const cannotBeRead = [
  ["foo", "name/unknown"],
  ["10 mmm", "unit/unknown"],
  ["10", "unit/missing"],
  ["10 mm +", "syntax/missing-value"],
  ["", "syntax/missing-value"],
] as const;

describe.each(cannotBeRead)("offset: %s", (written, code) => {
  test("what it would settle is asked for in its own braces", () => {
    expect(codesOf(`wheel w {\n  size: 17x8\n  offset: ${written}\n  backspace: ?\n}`)).toEqual([
      code,
    ]);
  });

  test("or elsewhere, by itself and behind other things", () => {
    const wheel = `wheel w {\n  size: 17x8\n  offset: ${written}\n}`;
    expect(codesOf(`${wheel}\nw.backspace: ?`)).toEqual([code]);
    const axle = "axle rear { wheel: w; mount_width: 60 in; track: ? }";
    expect(codesOf(`${wheel}\n${axle}`)).toEqual([code]);
    const [only] = analyzed(`${wheel}\nw.backspace: ?`).missing;
    expect(only?.path).toBe("w.backspace");
  });
});

test("written in a line of its own", () => {
  expect(codesOf("wheel w { size: 17x8 }\nw.offset: foo\nw.backspace: ?")).toEqual([
    "name/unknown",
  ]);
});

test("what something else settles is told, and what is given another way is not missing", () => {
  const broken = "wheel other {\n  size: 17x8\n  offset: foo\n}";
  expect(codesOf(`${broken}\nwheel w { size: 17x8; backspace: ? }`)).toEqual([
    "name/unknown",
    "missing/value",
  ]);
  // Another of its words: the figure asked for in a line of its own lacks its offset as before.
  const wheel = "wheel w {\n  size: 17x8\n  price: foo\n}";
  expect(codesOf(`${wheel}\nw.backspace: ?`)).toEqual(["name/unknown", "missing/value"]);
  // Two are lacking, and only one of them is told of.
  const two = "axle rear { wheel: w; mount_width: ?; track: ? }";
  expect(codesOf(`wheel w {\n  size: 17x8\n  offset: foo\n}\n${two}`)).toContain("name/unknown");
});

test("an open figure a formula rests on is missing as ever", () => {
  const other = "wheel other { size: 17x8 }\nwheel w { size: 17x8; offset: other.offset }";
  expect(codesOf(`${other}\nw.backspace: ?`)).toEqual(["missing/value"]);
});
