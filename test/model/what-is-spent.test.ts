/** Where the room for parts and for terms of sums ends, to the very last one, and who is told. */
import { describe, expect, test } from "vitest";
import { type Anchor, textAt } from "../../grammar/anchor";
import { parseFile } from "../../grammar/source-file";
import type { Item } from "../../grammar/syntax";
import { mostTermsOfAll, overfullFinding, roomForPart, Terms } from "../../server/model/budget";
import { Thing } from "../../server/model/thing";
import { analyzed } from "./build";

const most = 50_000;

describe("terms of sums", () => {
  const anchor: Anchor = {
    uri: "file:///shop/build.trammel",
    item: parseFile("wheel w {}").items[0] as Item,
    span: { start: 0, end: 10 },
  };

  function spending(left: number, ...counts: readonly [count: number, placed?: "nowhere"][]) {
    const told: unknown[] = [];
    const terms = new Terms(left, (found) => told.push(found));
    const room = counts.map(([count, placed]) => terms.spend(count, placed ? undefined : anchor));
    return { limit: terms.limit, spent: terms.spent, room, told };
  }
  const tooMuch = (here: boolean) => ({
    is: "build/too-much terms",
    most: here ? most : mostTermsOfAll,
    here,
    anchor,
  });

  test("of one thing end at fifty thousand, told once", () => {
    expect(spending(mostTermsOfAll, [most - 1], [1], [0], [1], [1])).toEqual({
      limit: most,
      spent: most + 2,
      room: [true, true, true, false, false],
      told: [tooMuch(true)],
    });
    expect(spending(mostTermsOfAll, [most + 1])).toMatchObject({
      room: [false],
      told: [tooMuch(true)],
    });
  });

  test("of all things end where those before it left off, told of whoever takes the last", () => {
    expect(spending(3, [2], [1], [1], [1])).toEqual({
      limit: 3,
      spent: 5,
      room: [true, true, false, false],
      told: [tooMuch(false)],
    });
    expect(spending(0, [0], [1], [1])).toMatchObject({
      limit: 0,
      room: [true, false, false],
      told: [tooMuch(false)],
    });
    // Who took the last of it has been told.
    expect(spending(-7, [0], [1])).toEqual({ limit: -1, spent: 1, room: [true, false], told: [] });
    expect(spending(3, [4, "nowhere"], [1])).toMatchObject({ room: [false, false], told: [] });
  });

  test("come out the same with another rest as long as neither rest is used up", () => {
    const same = (limit: number, spent: number, left: number) => Terms.same({ limit, spent }, left);
    expect(same(most, 10, mostTermsOfAll)).toBe(true);
    expect(same(most, most + 1, most)).toBe(true);
    expect(same(most, 10, 10)).toBe(true);
    expect(same(most, 11, 10)).toBe(false);
    expect(same(10, 10, most)).toBe(true);
    expect(same(10, 11, most)).toBe(false);
    expect(same(-1, 5, -9)).toBe(true);
  });
});

test("who takes the last of the terms is told where the formula stands, in a kind at its thing", () => {
  const lists = Array.from(
    { length: 3 },
    (_, at) =>
      `n a${at} { l: [${Array.from({ length: 40 }, () => (at === 0 ? "z" : `a${at - 1}`)).join(", ")}] }`,
  ).join("\n");
  const { findings } = analyzed(`kind n { l: list of n  x: length }
n z { x: 1 mm }
${lists}
kind r { n: n  y: length  relation "a": y = sum(n.l.l.l.x) }
r q { n: a2  y: ? }
check "top": sum(a2.l.l.l.x) < 1 m
r p { y: sum(a2.l.l.l.x) }
`);
  expect(
    findings
      .filter(({ code }) => code === "build/too-much")
      .map(({ anchor, message }) => `${textAt(anchor)}: ${message}`),
  ).toMatchInlineSnapshot(`
    [
      "r q : lists and \`each\` go through more than 50,000 things here: what needs more is left open",
      "a2.l.l.l.x: lists and \`each\` go through more than 50,000 things here: what needs more is left open",
      "a2.l.l.l.x: lists and \`each\` go through more than 50,000 things here: what needs more is left open",
    ]
  `);
});

describe("parts that nobody wrote", () => {
  const thing = () => {
    const { things } = analyzed(`kind pin { long: length }
kind frame_with_a_name_that_is_long { a_part_with_a_name_that_is_long_too: part pin }
frame_with_a_name_that_is_long a_thing_with_a_name_that_is_long {}`);
    const [top] = things;
    const [part] = top?.parts.values() ?? [];
    if (top === undefined || part === undefined) throw new Error("both are there");
    return { top, part };
  };

  test("have room in one thing up to the two thousandth, told once with where it ended", () => {
    const { top, part } = thing();
    const before = top.impliedParts;
    expect(before).toBe(1);
    for (let count = before; count < 2_000; count++) expect(roomForPart(part)).toBe(true);
    expect(overfullFinding(top)).toBeUndefined();
    expect(roomForPart(part)).toBe(false);
    expect(roomForPart(top)).toBe(false);
    expect(top.overfullFrom).toBe(part.path);
    expect(overfullFinding(top)).toEqual({
      is: "build/too-much parts",
      path: "a_thing_with_a_name_that_is_long",
      most: 2_000,
      from: "a_thing_with_a_name_that_is_long.a_part_with_a_name_that_is…",
      anchor: top.anchor,
    });
  });

  test("are told with a short path whole, and nowhere where the thing has no place", () => {
    const { top } = thing();
    const sixty = "x".repeat(60);
    const other = (overfullFrom: string, anchor = top.anchor) =>
      overfullFinding(
        Object.assign(new Thing({ ...top, owner: undefined, anchor }), { overfullFrom }),
      );
    expect(other(sixty)).toMatchObject({ from: sixty });
    expect(other(`${sixty}x`)).toMatchObject({ from: `${"x".repeat(59)}…` });
    const nowhere = new Thing({ ...top, owner: undefined, anchor: undefined });
    expect(overfullFinding(Object.assign(nowhere, { overfullFrom: sixty }))).toBeUndefined();
  });
});
