/**
 * Entries on one line are read without the parser: whatever is read so is what the parser reads.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { DeclarationParser } from "../../grammar/declaration-parser";
import { readEntryLine } from "../../grammar/entry-line";
import { splitItems } from "../../grammar/items";
import { readTokens } from "../../grammar/lexer";
import { readLines } from "../../grammar/line-structure";
import { isDay } from "../../grammar/literals";
import { clauseWords, expressionWords, joiningWords, roleWords } from "../../grammar/words";
import { base } from "../sequence/axle-log";

const parser = new DeclarationParser(false);

/** What the parser makes of it, and whether it has anything to say about it. */
function parsed(text: string) {
  const { tokens, comments } = readTokens(text);
  return { ...parser.read(text, readLines(tokens)), comments };
}

/** Whether it is read without the parser; what is so read is what the parser makes of it. */
function agrees(text: string): boolean {
  const node = readEntryLine(text);
  if (node === undefined) return false;
  expect(parsed(text), text).toEqual({ node, problems: [], comments: [] });
  return true;
}

test("entries as they are written are read without the parser", () => {
  const read = base.filter(([, text]) => agrees(text));
  expect(read.length).toBe(base.length);
  for (const text of [
    "record 2026-03-14 { a.done: yes }",
    'record 2026-03-14 by "A" at "14:30" with "b" { a { done: no } }\r\n',
    'record 2026-03-14 { a { b { c: 12 3/4 in; d: 1.5 mm }; done: yes }; e: "x y # z" }\n',
    "record 2026-03-14 { j { bolts: [1, 3, 2]  tightened: 30 %; pass: 1 } }\n",
  ])
    expect(agrees(text), text).toBe(true);
});

test("what is laid out otherwise, or may be wrong, is the parser's", () => {
  for (const text of [
    "record 2026-02-30 { a.done: yes }\n",
    "record 2026-03-14 { a.done: yes } # late\n",
    "record 2026-03-14 { a.done: yes\n}\n",
    'record "title" 2026-03-14 { a.done: yes }\n',
    'record 2026-03-14 by "A\\"B" { a.done: yes }\n',
    "record 2026-03-14 { a: ? }\n",
    "record 2026-03-14 { a: 5 widgets }\n",
    "record 2026-03-14 { a: 5 in ± 1 mm }\n",
    'record 2026-03-14 { a: 5 in because "b" }\n',
    "record 2026-03-14 { }\n",
    "record 2026-03-14 { a.done: yes } }\n",
  ])
    expect(readEntryLine(text), text).toBeUndefined();
});

test("a day is one of the calendar, as the machine's own has it", () => {
  fc.assert(
    fc.property(fc.nat(9999), fc.nat(14), fc.nat(33), (year, month, day) => {
      const text = `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
      const date = new Date(`${text}T00:00:00Z`);
      const known = !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
      expect(isDay(text), text).toBe(known);
    }),
  );
});

const plain = "a job tight x in ft t M12 A2 B1 owner J N lb mm".split(" ");
const special = [
  ..."both near yes no check relation wanted record kind uniform".split(" "),
  ...clauseWords,
  ...joiningWords,
  ...roleWords,
  ...expressionWords,
];
/** Mostly what is usual, now and then what is not. */
const mostly = (usual: readonly string[], rare: readonly string[]) =>
  fc.oneof(
    { weight: 12, arbitrary: fc.constantFrom(...usual) },
    { weight: 1, arbitrary: fc.constantFrom(...rare) },
  );
const name = mostly(plain, special);
const path = fc.array(name, { minLength: 1, maxLength: 3 }).map((names) => names.join("."));
const number = fc.constantFrom("3", "12", "1.5", "007", "1 3/4", "3/8", "10/20", "12.50", "0");
const unit = mostly(
  ["in", "lb-ft", "mm", "deg", "%", "mi"],
  ["J", "x", "A", "to", "by", "Nm", "fl"],
);
const value = fc.oneof(
  mostly(["yes", "no", '"text # {"', "[1, 2, 3]", "[4]"], ['""', '"“x”"', "[1,2]", "?"]),
  number,
  fc.tuple(number, unit).map(([figure, of]) => `${figure} ${of}`),
);
const separator = mostly(["; ", "  ", " "], [";  ", ";", ", "]);
const member = fc.tuple(path, mostly([": "], [":", " : "]), value).map((each) => each.join(""));
const members = (each: fc.Arbitrary<string>) =>
  fc
    .array(fc.tuple(each, separator), { minLength: 1, maxLength: 4 })
    .map((list) =>
      list.map(([text, gap], at) => (at < list.length - 1 ? text + gap : text)).join(""),
    );
const part = fc.tuple(path, members(member)).map(([of, inside]) => `${of} { ${inside} }`);
const clause = mostly([' by "A"', ' at "14:30"', ' with "b c"'], [' because "d"', " "]);
const line = fc
  .tuple(fc.array(clause, { maxLength: 3 }), members(fc.oneof(member, part)))
  .map(([clauses, inside]) => `record 2026-03-14${clauses.join("")} { ${inside} }\n`);

test("whatever is read without the parser is what the parser reads", () => {
  let read = 0;
  fc.assert(
    fc.property(line, (text) => {
      if (agrees(text)) read++;
    }),
    { numRuns: 4000 },
  );
  expect(read).toBeGreaterThan(800);
});

test("the same with a sign of an entry taken out, put in or changed", () => {
  const texts = base.map(([, text]) => text);
  const sign = fc.constantFrom(..." \n\t;:{}[]\"\\#.,-±?%1ax(=“/'");
  fc.assert(
    fc.property(
      fc.constantFrom(...texts),
      fc.nat(),
      sign,
      fc.constantFrom(0, 1),
      (text, at, put, taken) => {
        const place = at % text.length;
        agrees(text.slice(0, place) + put + text.slice(place + taken));
      },
    ),
    { numRuns: 4000 },
  );
});

test("entries of one line end where others would", () => {
  const line = fc.constantFrom(
    "record 2026-03-14 { a.done: yes }",
    'record 2026-03-14 by "A { B" { a { done: yes } }',
    'record 2026-03-14 with "5" { a { b { c: 1 in } }; d: "}" }',
    'record 2026-03-14 { a: 5" }',
    'record 2026-03-14 { a: 5" } # "',
    "record 2026-03-14 { a: 5",
    "record 2026-03-14 { a } }",
    "record 2026-03-14",
    "{ b: 2 }",
    '  because "c"',
    "}",
    "",
    "wheel w { }",
    'record "w" { a: 1 }',
    "<<<<<<< HEAD",
  );
  // With a blank at its end no line is one of those that are known by their looks.
  const lines = fc.array(line, { maxLength: 12 });
  const startsIn = (text: string): string[] =>
    splitItems(text).starts.map((start) => {
      const before = text.slice(0, start).split("\n");
      return `${before.length}:${before.at(-1)?.trimEnd().length}`;
    });
  fc.assert(
    fc.property(lines, fc.constantFrom("\n", "\r\n"), (drawn, end) => {
      expect(startsIn(drawn.join(end))).toEqual(startsIn(drawn.join(` ${end}`)));
    }),
    { numRuns: 2000 },
  );
});
