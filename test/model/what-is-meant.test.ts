/**
 * What may be meant by a name that is not there, and what a designation looks like. Slips are counted
 * as Damerau (1964) and Levenshtein (1966) count them: letters put in, left out or replaced, and two
 * neighbors swapped.
 */
import { describe, expect, test } from "vitest";
import type { BuildAnalysis } from "../../server/analysis/build-analysis";
import { mostListed } from "../../server/findings/phrases";
import type { DesignationDefinition } from "../../server/model/definition";
import { formsInWords, missingUnits, readDesignation } from "../../server/model/designation";
import { firstFew, misnamed, nearest, slips } from "../../server/model/spelling";
import { analyzed } from "./build";

test("slips are letters put in, left out, replaced or swapped", () => {
  expect(slips("offset", "offset")).toBe(0);
  expect(slips("offset", "ofset")).toBe(1);
  expect(slips("offset", "offsett")).toBe(1);
  expect(slips("offset", "offsat")).toBe(1);
  expect(slips("offset", "offste")).toBe(1);
  expect(slips("ab", "ba")).toBe(1);
  expect(slips("abcd", "badc")).toBeGreaterThan(1);
  expect(slips("offset", "backspace")).toBeGreaterThan(5);
  expect(slips("", "abc")).toBe(3);
  expect(slips("", "")).toBe(0);
});

describe("the nearest name", () => {
  test.each([
    ["face_to_fcae", ["standoff", "face_to_face"], "face_to_face"],
    ["FACE", ["face"], "face"],
    ["face", ["FACE"], "FACE"],
    // One slip in three letters, two in six, three in nine.
    ["abc", ["abd"], "abd"],
    ["abc", ["ade"], undefined],
    ["a", ["b"], "b"],
    ["ab", ["cd"], undefined],
    ["abcdef", ["abcdxy"], "abcdxy"],
    ["abcdef", ["abcxyz"], undefined],
    ["abcdefghi", ["abcdefxyz"], "abcdefxyz"],
    ["abcdefghi", ["abcdewxyz"], undefined],
    // The nearer one, and of two as near the one that comes first in the alphabet.
    ["abcdef", ["abcdxy", "abcdex"], "abcdex"],
    ["abcdef", ["abcdex", "abcdxy"], "abcdex"],
    ["abcdef", ["abcdez", "abcdex"], "abcdex"],
    ["abcdef", ["abcdex", "abcdez"], "abcdex"],
    // Whoever wrote it knows that name.
    ["abc", ["abc"], undefined],
    ["abc", ["abc", "abd"], "abd"],
    ["abc", [], undefined],
    ["x".repeat(60), ["x".repeat(59)], "x".repeat(59)],
    ["x".repeat(61), ["x".repeat(60)], undefined],
  ] as [string, string[], string | undefined][])("to %s of %j is %s", (name, names, wanted) => {
    expect(nearest(name, names)).toBe(wanted);
  });
});

describe("what is told of a name that is not there", () => {
  test("is the near one alone, or else the first few, those alike before all others", () => {
    expect(misnamed("offst", ["width", "offset"])).toEqual({ near: "offset", known: [] });
    expect(misnamed("diameter", ["width", "height", "overall_diameter"])).toEqual({
      known: ["overall_diameter", "width", "height"],
    });
    // `link` begins `linkage` and the other way round; two letters say too little.
    expect(misnamed("link_of_it", ["width", "the_linkage"]).known).toEqual([
      "the_linkage",
      "width",
    ]);
    expect(misnamed("the_linkage", ["width", "of_link"]).known).toEqual(["of_link", "width"]);
    expect(misnamed("in", ["width", "inner_gap"]).known).toEqual(["width", "inner_gap"]);
    expect(misnamed("inner_gap", ["width", "in_deep"]).known).toEqual(["width", "in_deep"]);
    expect(misnamed("TOP_MARK", ["width", "the_top"]).known).toEqual(["the_top", "width"]);
    expect(misnamed("top_mark", ["width", "THE_TOP"]).known).toEqual(["THE_TOP", "width"]);
    expect(misnamed("axe", ["width", "taxes_due"]).known).toEqual(["width", "taxes_due"]);
    expect(misnamed("nothing", [])).toEqual({ known: [] });
  });

  test("lists one more than are shown, each once", () => {
    const names = Array.from({ length: mostListed + 5 }, (_, at) => `name_${at}`);
    expect(firstFew(names)).toEqual(names.slice(0, mostListed + 1));
    expect(firstFew(["a", "a", "b"])).toEqual(["a", "b"]);
    expect(firstFew([])).toEqual([]);
  });
});

describe("a designation", () => {
  const designation = (body: string): DesignationDefinition => {
    const { reading } = analyzed(`designation d "D" {\n${body}\n}\nwheel w {}`) as BuildAnalysis;
    const found = reading.vocabulary.designations.get("d");
    if (found === undefined) throw new Error("it is declared");
    return found;
  };
  const pipe = () =>
    designation(`across: length
  wall: length
  grade: text
  turns: number
  form "{across mm}x{wall mm}[ {grade text}[-{turns}]]"
  form "{across length}"`);

  test("is read by the first form that fits, blanks at its ends or doubled set aside", () => {
    const read = (text: string) => {
      const parts = readDesignation(pipe(), text);
      return parts && Object.fromEntries(parts);
    };
    expect(read("45x2 A-3")).toEqual({ across: 0.045, wall: 0.002, grade: "A", turns: 3 });
    expect(read("  45x2   A ")).toEqual({ across: 0.045, wall: 0.002, grade: "A" });
    expect(read("2 in")).toEqual({ across: 0.0508 });
    expect(read("45y2")).toBeUndefined();
    // Asked again, the very same.
    const one = pipe();
    expect(readDesignation(one, "45x2")).toBe(readDesignation(one, "45x2"));
    expect(readDesignation(one, "x")).toBeUndefined();
    expect(readDesignation(one, "x")).toBeUndefined();
  });

  test("is known again among two thousand others, and read anew after that", () => {
    const one = pipe();
    const first = readDesignation(one, "45x2");
    for (let at = 1; at < 2_000; at++) readDesignation(one, `x${at}`);
    expect(readDesignation(one, "45x2")).toBe(first);
    readDesignation(one, "x2000");
    expect(readDesignation(one, "45x2")).not.toBe(first);
    expect(readDesignation(one, "45x2")).toEqual(first);
  });

  test("is written as its forms say, without what may be left out, up to four of them", () => {
    expect(formsInWords(pipe())).toBe("‹across›x‹wall› or ‹across›");
    expect(formsInWords(designation('a_b: number\nform "{a_b}"\nform "{a_b}[ x]"'))).toBe("‹a b›");
    const forms = (count: number) =>
      designation(
        `a: number\n${Array.from({ length: count }, (_, at) => `form "${"x".repeat(at)}{a}"`).join("\n")}`,
      );
    expect(formsInWords(forms(4))).toBe("‹a› or x‹a› or xx‹a› or xxx‹a›");
    expect(formsInWords(forms(5))).toBe(
      "‹a› or x‹a› or xx‹a› or xxx‹a› or in another way of the trade",
    );
  });

  test("lacks a unit where it ends in a figure that has none", () => {
    const circle = designation(`count: number
  across: length
  heavy: mass
  form "{count}x{across length}"`);
    expect(missingUnits(circle, "5x200")).toEqual(["in", "mm"]);
    expect(missingUnits(circle, " 5x200 ")).toEqual(["in", "mm"]);
    expect(missingUnits(circle, "5x200 mm")).toEqual([]);
    expect(missingUnits(circle, "5y200")).toEqual([]);
    expect(missingUnits(pipe(), "5")).toEqual(["in", "mm"]);
    expect(missingUnits(designation('a: number\nform "{a}x"'), "5")).toEqual([]);
  });
});
