import { describe, expect, test } from "vitest";
import { parseFile } from "../../grammar/source-file";
import { mended, onlyItem, problemsOf, shape } from "./helper";

/** A text, the problems in it as `line:column message`, and the text after their fixes. */
describe("each mistake has one message, and a fix where one text mends it", () => {
  test.each<[name: string, text: string, problems: string[], mended?: string]>([
    [
      "a value is missing",
      "wheel w {\n  offset:\n  flange: 5 mm\n}",
      ["2:10 expected a value after `offset:`, found the end of the line"],
      "wheel w {\n  offset: ?\n  flange: 5 mm\n}",
    ],
    [
      "a value is missing at the end of the file",
      "rear.offset:",
      ["1:13 expected a value after `rear.offset:`, found the end of the line"],
      "rear.offset: ?",
    ],
    [
      "a value is missing before a brace",
      "wheel w { offset: }",
      ["1:18 expected a value after `offset:`, found `}`"],
      "wheel w { offset: ? }",
    ],
    [
      "a value is missing after an operator",
      "wheel w {\n  a: b +\n  c: 3\n}",
      ["2:9 expected a value after `+`, found the end of the line"],
    ],
    [
      "a check has no condition",
      'check "t":\n\nwheel w { }',
      ["1:11 expected a value after the title and `:`, found the end of the line"],
    ],
    [
      "a colon is missing",
      "wheel w { offset 18 mm }",
      ["1:18 expected `:` after `offset`, found `18`"],
      "wheel w { offset: 18 mm }",
    ],
    [
      "an equals sign stands for the colon",
      "wheel w { offset = 18 mm }",
      ["1:18 a field takes its value after `:`, expected `offset:`, found `offset =`"],
      "wheel w { offset : 18 mm }",
    ],
    [
      "a name stands alone",
      "wheel w {\n  off\n}",
      ["2:3 expected `:` and a value after `off`, found the end of the line"],
    ],
    [
      "a path is half typed",
      "axle rear {\n  left.\n  right.half: 3 in\n}",
      ["2:8 expected a name after `left.`, found the end of the line"],
    ],
    [
      "a path in a value is half typed",
      "axle rear {\n  gap: left.\n  track: ?\n}",
      ["2:13 expected a name after `left.`, found the end of the line"],
    ],
    [
      "a block inside is never closed",
      "axle rear {\n  left {\n    half: 3 in\n  track: ?\n}\n\nwheel w { }",
      ["2:3 `left {` is never closed: add `}`"],
      "axle rear {\n  left {\n    half: 3 in\n  }\n  track: ?\n}\n\nwheel w { }",
    ],
    [
      "a block inside is never closed and its owner is",
      "axle rear {\n  left {\n    half: 3 in\n}\n\nwheel w { }",
      ["2:3 `left {` is never closed: add `}`"],
      "axle rear {\n  left {\n    half: 3 in\n  }\n}\n\nwheel w { }",
    ],
    [
      "a block on one line is never closed",
      "axle rear {\n  left { half: 3 in\n  track: ?\n}\n",
      ["2:3 `left {` is never closed: add `}`"],
      "axle rear {\n  left { half: 3 in }\n  track: ?\n}\n",
    ],
    [
      "a thing is never closed",
      "axle rear {\n  track: ?\n\nwheel w { }\nwheel v { }",
      ["1:1 `axle rear {` is never closed: add `}`"],
      "axle rear {\n  track: ?\n}\n\nwheel w { }\nwheel v { }",
    ],
    [
      "two things are never closed",
      "axle rear {\n  track: ?\n\nwheel w {\n  offset: ?\n\nwheel v { }",
      ["1:1 `axle rear {` is never closed: add `}`", "4:1 `wheel w {` is never closed: add `}`"],
      "axle rear {\n  track: ?\n}\n\nwheel w {\n  offset: ?\n}\n\nwheel v { }",
    ],
    [
      "a thing without indents is never closed",
      "axle rear {\ntrack: ?\nhalf: 3 in\n",
      ["1:1 `axle rear {` is never closed: add `}`"],
      "axle rear {\ntrack: ?\nhalf: 3 in\n}\n",
    ],
    [
      "a brace closes nothing",
      "wheel w { }\n}\nwheel v { }",
      ["2:1 this `}` closes nothing: take it out"],
      "wheel w { }\n\nwheel v { }",
    ],
    [
      "parentheses are never closed",
      "wheel w {\n  a: 2 * (b + c\n  d: 3\n}",
      ["2:10 `(` is never closed: add `)`"],
      "wheel w {\n  a: 2 * (b + c)\n  d: 3\n}",
    ],
    [
      "a list is never closed",
      "wheel w {\n  a: [b, c\n  d: 3\n}",
      ["2:6 `[` is never closed: add `]`"],
      "wheel w {\n  a: [b, c]\n  d: 3\n}",
    ],
    [
      "a fraction torn apart by the division before it",
      "a: 10 in / 3/4 in",
      ["1:12 after `/` the fraction `3/4 in` stands in brackets: `(3/4 in)`"],
      "a: 10 in / (3/4 in)",
    ],
    [
      "a fraction torn apart by the power before it",
      "a: x^1/2",
      ["1:6 after `^` the fraction `1/2` stands in brackets: `(1/2)`"],
      "a: x^(1/2)",
    ],
    [
      "three values compared in a row",
      'check "t": 0 in < a.b < 2 in',
      ["1:12 two comparisons are joined by `and`: expected `0 in < a.b and a.b < 2 in`"],
      'check "t": 0 in < a.b and a.b < 2 in',
    ],
    [
      "a day that is not in the calendar",
      'record "r" 2026-02-31 { }',
      ["1:12 there is no such day: `2026-02-31`, a date is year-month-day"],
    ],
    [
      "a severity by another tool's word",
      'check "t": a > b\n  severity info',
      ["2:12 a severity is `error`, `warning` or `note`, not `info`"],
      'check "t": a > b\n  severity note',
    ],
    [
      "a plus before a name",
      "a: + b",
      ["1:4 `+` stands before a figure, or between two values"],
      "a:  b",
    ],
    ["a comma is missing", "a: max(b c)", ["1:10 expected `,` or `)`, found `c`"]],
    [
      "a text is never closed",
      'check "clears: a > b',
      ['1:7 a text in quotes is never closed: add `"` before the end of the line'],
    ],
    [
      "a text ends in a backslash",
      'a: "b\\"',
      ['1:4 a text in quotes is never closed: add `"` before the end of the line'],
      'a: "b\\""',
    ],
    [
      "quotes are curly",
      "a: “b”",
      ['1:4 a text stands in straight quotes `"…"`, found curly ones'],
      'a: "b"',
    ],
    [
      "inches are typed as a mark",
      'a: 23 1/2"\nb: 2 in',
      ['1:10 inches are written `in`: expected `23 1/2 in`, found `23 1/2"`'],
      "a: 23 1/2 in\nb: 2 in",
    ],
    [
      "feet are typed as a mark",
      "a: 5'",
      ["1:5 feet are written `ft`: expected `5 ft`, found `5'`"],
      "a: 5 ft",
    ],
    ["a sign of print", "a: b ≥ 3", ["1:6 `≥` is written `>=`"], "a: b >= 3"],
    ["a fraction of print", "a: ½ in", ["1:4 `½` is written `1/2`"], "a: 1/2 in"],
    ["a turned sign", 'check "t": b => 3', ["1:14 `=>` is written `>=`"], 'check "t": b >= 3'],
    [
      "a clause word is misspelled",
      'check "t": a > b\n  sorce "x"',
      ["2:3 `sorce` says nothing here, did you mean `source`?"],
      'check "t": a > b\n  source "x"',
    ],
    [
      "a clause has nothing to speak of",
      'wheel w {\n  source "x"\n}',
      ["2:3 `source` has nothing to speak of: it follows a value, a field, a relation or a check"],
    ],
    [
      "a brace is missing",
      "wheel w",
      ["1:8 expected `{` after `wheel w`, found the end of the line"],
      "wheel w { }",
    ],
    ["a name is missing", "wheel { }", ["1:1 expected a name after `wheel`, found `{`"]],
    ["a kind has no name", "kind { }", ["1:6 expected a name after `kind`, found `{`"]],
    [
      "a title is missing",
      "check a > b",
      ["1:7 expected a title in quotes after `check`, found `a`"],
    ],
    [
      "a relation has one side",
      'relation "r": a + b',
      ["1:20 expected `=` and the other side after `b`, found the end of the line"],
    ],
    [
      "an order has one side",
      'order "o": a',
      ["1:13 expected `before` and what comes later after `a`, found the end of the line"],
    ],
    [
      "a curve has no range",
      "curve c: x over x from 0",
      ["1:25 expected `to` and a value after `0`, found the end of the line"],
    ],
    [
      "a choice has no else",
      "a: if b then c",
      ["1:15 expected `else` and a value after `c`, found the end of the line"],
    ],
    [
      "limits have no upper end",
      "a: 3 within 2",
      ["1:14 expected `..` and the upper limit after the lower limit, found no `..`"],
    ],
    [
      "a range is one value",
      "kind k { a: length range 3 in }",
      ["1:20 expected limits `low..high` after `range`, found `3 in`"],
    ],
    [
      "a field has no type",
      "kind k {\n  a:\n  b: length\n}",
      ["2:5 expected a measure, a kind or another type after `a:`, found the end of the line"],
    ],
    [
      "a description is written twice",
      'kind k { a: length "one" "two" }',
      ["1:26 the description is already written: keep one of the two"],
    ],
    [
      "a part of a compound has no unit",
      "a: 5 ft 1",
      ["1:10 expected a unit after `1`, found the end of the line"],
    ],
    [
      "a fraction over nothing",
      "a: 3/0 in",
      [
        "1:4 `3/0` is not a number: the lower figure of a fraction cannot be 0, nor have more than nine figures",
      ],
    ],
    [
      "a declaration of the top stands inside",
      'wheel w {\n  use "x"\n  a: 3\n}',
      [
        "2:3 a declaration that begins with `use` stands at the top of a file, so nothing of its kind stands here",
      ],
    ],
    [
      "a thing stands in a kind",
      "kind k {\n  wheel w { a: 3 }\n  b: length\n}",
      ["2:3 a kind lists its fields as `name: type`, so nothing with braces stands here"],
    ],
    [
      "a part stands at the top",
      "rear.left { half: 3 in }",
      [
        "1:1 a part such as `rear.left { … }` stands inside a thing, an option or a record, not at the top of a file",
      ],
    ],
    ["junk at the top", ") a b c", ["1:1 expected a declaration, found `)`"]],
    [
      "junk in a thing",
      "wheel w {\n  ) a\n  b: 3\n}",
      ["2:3 expected `field: value`, `part { … }` or `kind name { … }`, found `)`"],
    ],
    [
      "junk after a value",
      "wheel w {\n  a: 3 in ) 4\n  b: 3\n}",
      ["2:11 expected the end of the line, found `)`"],
    ],
    ["two values", "a: 3 4", ["1:6 expected the end of the line, found `4`"]],
    [
      "a merge left its markers",
      "wheel w {\n<<<<<<< ours\n  offset: 18 mm\n=======\n  offset: 20 mm\n>>>>>>> theirs\n}",
      [
        "2:1 a merge left both versions here: of entries in a log keep both, of anything else one, and take out the marker lines",
        "4:1 a merge left both versions here: of entries in a log keep both, of anything else one, and take out the marker lines",
        "6:1 a merge left both versions here: of entries in a log keep both, of anything else one, and take out the marker lines",
      ],
    ],
    [
      "a merge left its markers between declarations",
      "<<<<<<< ours\nwheel w { }\n||||||| base\n=======\nwheel v { }\n>>>>>>> theirs",
      [
        "1:1 a merge left both versions here: of entries in a log keep both, of anything else one, and take out the marker lines",
        "3:1 a merge left both versions here: of entries in a log keep both, of anything else one, and take out the marker lines",
        "4:1 a merge left both versions here: of entries in a log keep both, of anything else one, and take out the marker lines",
        "6:1 a merge left both versions here: of entries in a log keep both, of anything else one, and take out the marker lines",
      ],
    ],
    [
      "it is no text",
      "PK\u0003\u0004\0\0wheel",
      ["1:1 this does not look like text: expected a build in UTF-8"],
    ],
  ])("%s", (_name, text, problems, after) => {
    expect(problemsOf(text)).toEqual(problems);
    if (after === undefined) return;
    expect(mended(text)).toBe(after);
    expect(problemsOf(after)).toEqual([]);
  });
});

describe("what stands round a mistake is read all the same", () => {
  test.each([
    ["offset:", "offset=∅"],
    ["offset", "offset=∅"],
    ["rear.", "rear.=∅"],
    ["a: (1 + ", "a={(1 + ∅)}"],
    ["a: left.", "a=left."],
    ["a: 3 ) ] junk", "a=3"],
    ['a: "open', 'a="open"'],
    ["a: [1, ", "a=[1, ∅]"],
    ["a: f(b", "a=f(b)"],
    ["a: b and", "a=(b and ∅)"],
  ])("%s", (line, wanted) => {
    const { node } = onlyItem(`wheel w {\n  before: 1\n  ${line}\n  after: 2\n}`);
    if (node.type !== "thing") throw new Error(node.type);
    const members = node.members.map((member) =>
      member.type === "given" ? `${shape(member.path)}=${shape(member.value)}` : member.type,
    );
    expect(members).toEqual(["before=1", wanted, "after=2"]);
  });

  test("declarations behind an open brace", () => {
    const file = parseFile('axle rear {\n  left { a: 1\n\nwheel w { offset: ? }\ncheck "c": a\n');
    expect(file.items.map(({ node }) => node.type)).toEqual(["thing", "thing", "check"]);
  });

  test("members behind a bracket that is never closed", () => {
    expect(problemsOf("wheel w {\n  a: ((((b\n  c: ?\n}").length).toBe(1);
  });
});
