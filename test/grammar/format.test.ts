import { describe, expect, test } from "vitest";
import { format } from "../../grammar/format";
import { designExample } from "./helper";

describe("layout", () => {
  test.each<[name: string, text: string, wanted: string]>([
    ["blanks", "wheel   w{offset :18 mm}", "wheel w { offset: 18 mm }\n"],
    [
      "indents",
      "a x {\nb: 1\n  left {\nc: 2\n    }\n}",
      "a x {\n  b: 1\n  left {\n    c: 2\n  }\n}\n",
    ],
    ["no columns", "a x {\n  b:      1\n  long:   2\n}", "a x {\n  b: 1\n  long: 2\n}\n"],
    ["operators", "x: a*b+( c-d )^2>=-e", "x: a * b + (c - d) ^ 2 >= -e\n"],
    ["tolerances and limits", "x: 1 in±0.1 in\ny: 1 .. 2 in", "x: 1 in ± 0.1 in\ny: 1..2 in\n"],
    ["calls", "x: max ( a,b ) + sum( each (p) .q )", "x: max(a, b) + sum(each(p).q)\n"],
    ["conditions keep their blank", 'check "t" when(a > b):c', 'check "t" when (a > b): c\n'],
    ["lists", "x: [ a,b ]", "x: [a, b]\n"],
    [
      "a unit that touches its number",
      "x: 12mm\ny: 12   mm\nz: 40%",
      "x: 12mm\ny: 12 mm\nz: 40%\n",
    ],
    ["what may be a name of the trade", "x: G1/2\ny: 8-18\nz: a-b", "x: G1/2\ny: 8-18\nz: a - b\n"],
    [
      "literals of several words",
      "x: 61   3/8  in\ny: 275/50R17  101W",
      "x: 61 3/8 in\ny: 275/50R17 101W\n",
    ],
    [
      "a number sign right behind a colon, a comment anywhere else",
      "j x { thread:#10-32 UNF; b: 1 } # {\n#10-32\nc: 2 #10-32 }\nd: [3] # 4",
      "j x { thread: #10-32 UNF; b: 1 }  # {\n#10-32\nc: 2  #10-32 }\nd: [3]  # 4\n",
    ],
    ["one line stays one line", "a x { b: 1; c: 2 d: 3 }", "a x { b: 1; c: 2; d: 3 }\n"],
    ["several lines stay several", "a x { b: 1\n}", "a x {\n  b: 1\n}\n"],
    ["one member a line", "a x {\n  b: 1; c: 2; d: 3\n}", "a x {\n  b: 1\n  c: 2\n  d: 3\n}\n"],
    ["an empty block", "a x {\n\n}", "a x { }\n"],
    ["blank lines", "\n\na: 1\n\n\n\nb: 2\nc: 3\n\n", "a: 1\n\nb: 2\nc: 3\n"],
    ["blank lines inside", "a x {\n\n\n  b: 1\n\n\n  c: 2\n\n}", "a x {\n  b: 1\n\n  c: 2\n}\n"],
    [
      "comments",
      "# a\na x {# b\n# c\n  d: 1# e\n\n      # f\n}# g\n# h",
      "# a\na x {  # b\n  # c\n  d: 1  # e\n\n  # f\n}  # g\n# h\n",
    ],
    ["a comment only", "  # a\n\n\n# b", "# a\n\n# b\n"],
    [
      "clauses on their own lines",
      'check "t": a\nsource "b"\n      because "c"',
      'check "t": a\n  source "b"\n  because "c"\n',
    ],
    [
      "a comment between clauses",
      'check "t": a\n# why\nsource "b"\n# next\nc: 1',
      'check "t": a\n  # why\n  source "b"\n# next\nc: 1\n',
    ],
    ["lines that go on", "x: a +\nb\ny: (a\n+ b)", "x: a +\n  b\ny: (a\n  + b)\n"],
    ["a brace on the next line", "a x\n{\nb: 1\n}", "a x {\n  b: 1\n}\n"],
    [
      "several on a line",
      'use "a"; use "b"\na x { } b y { }',
      'use "a"\nuse "b"\na x { }\nb y { }\n',
    ],
    [
      "rows",
      "table t {\n  key a: number\n row 1,2 row 3,4\nrow 5,6\n}",
      "table t {\n  key a: number\n  row 1, 2; row 3, 4\n  row 5, 6\n}\n",
    ],
    [
      "units without a number",
      "display { length:in  1/32 ; torque : lb-ft }",
      "display { length: in 1/32; torque: lb-ft }\n",
    ],
    ["a semicolon that is needed", "a x { b: 3; t y { } }", "a x { b: 3; t y { } }\n"],
    ["line ends", "a x {\r\nb: 1\r\n}\r\n", "a x {\r\n  b: 1\r\n}\r\n"],
    ["a byte order mark", "\ufeffa:1", "\ufeffa: 1\n"],
    ["nothing", "", ""],
    ["blanks only", "\n \n", ""],
  ])("%s", (_name, text, wanted) => {
    expect(format(text)).toEqual({ text: wanted });
    expect(format(wanted)).toEqual({ text: wanted });
  });

  test("mixed line ends settle: one way at once, and the same when laid out again", () => {
    const lines = ["a x {", "  b: 1", "  c: 2  # so", "}", 'check "d": b > 1'];
    const ends = ["\n", "\r\n", "\r"];
    for (let mix = 0; mix < 3 ** lines.length; mix++) {
      const text = lines.map((line, at) => line + ends[Math.floor(mix / 3 ** at) % 3]).join("");
      const once = format(text).text;
      const found = new Set(once.match(/\r\n|\r|\n/g));
      expect([...found]).toHaveLength(1);
      expect(format(once).text).toBe(once);
      expect(once.split(/\r\n|\r|\n/)).toEqual([...lines, ""]);
    }
  });

  test("a block that does not fit on its line is broken, its neighbors are not", () => {
    const long = `left { ${"field_with_a_name: 23 1/2 in   ".repeat(4)}}`;
    expect(format(`axle a {\n  ${long}\n  right { b: 1 }\n}`).text).toBe(
      `axle a {\n  left {\n${"    field_with_a_name: 23 1/2 in\n".repeat(4)}  }\n  right { b: 1 }\n}\n`,
    );
  });

  test("a block is broken from outside in", () => {
    const inner = `left { ${"field: 23 1/2 in   ".repeat(3)}}`;
    const text = `axle a { ${inner} right { b: 1; c: 2; d: 3; e: 4 } }`;
    expect(text.length).toBeGreaterThan(100);
    expect(format(text).text).toBe(
      `axle a {\n  left { field: 23 1/2 in; field: 23 1/2 in; field: 23 1/2 in }\n  right { b: 1; c: 2; d: 3; e: 4 }\n}\n`,
    );
  });

  test("the design's example changes only in its columns, comments and separators", () => {
    const text = designExample
      .replace(/^(\s*[a-z_]+:) +/gm, "$1 ")
      .replace(/^( +(?:left|right)) +\{/gm, "$1 {")
      .replace(" in inner_gap", " in; inner_gap")
      .replace(/ +#/g, "  #");
    expect(format(designExample)).toEqual({ text });
  });

  test("a file with a mistake is left alone, and why is said", () => {
    const text = "a x {\n  b :1\n  c:\n}";
    expect(format(text)).toEqual({
      text,
      refused: {
        is: "problem",
        line: 3,
        problem: {
          is: "syntax/missing-value",
          after: "`c:`",
          found: "the end of the line",
          span: { start: 17, end: 17 },
        },
      },
    });
  });
});
