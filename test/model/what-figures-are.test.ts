/**
 * Each figure as the solver is given it: what is written of it, its role, how it is made, what is
 * wanted, where its answer is looked for, and which figure mirrors it.
 */
import { describe, expect, test } from "vitest";
import { FormPool } from "../../server/model/kind-environment";
import { figureOf, knownNumber, sameVariable } from "../../server/model/known-figure";
import type { GivenNumber, Variable } from "../../server/solve/system";
import { analyzed } from "./build";

const pool = new FormPool();

function short(value: number): string {
  return String(Number(value.toPrecision(9)));
}

function givenText({ value, low, high, rounding, distribution, together }: GivenNumber): string {
  return [
    short(value),
    ...(low < value || high > value ? [`(${short(low)}..${short(high)})`] : []),
    ...(rounding > 0 ? [`rounded ${short(rounding)}`] : []),
    ...(distribution === undefined ? [] : [distribution]),
    ...(together === undefined ? [] : [`with ${together}`]),
  ].join(" ");
}

function variableText(variable: Variable): string {
  const { name, given, wish, scale, range, angle, near, whole, role, making, twin } = variable;
  return [
    `${name} by ${scale}`,
    ...(role === undefined ? [] : [role]),
    ...(given === undefined ? [] : [`is ${givenText(given)}`]),
    ...(wish === undefined ? [] : [`wanted ${givenText(wish)}`]),
    ...(range === undefined ? [] : [`within ${range.map(short).join("..")}`]),
    ...(near === undefined ? [] : [`near ${short(near)}`]),
    ...(angle ? ["an angle"] : []),
    ...(whole === undefined ? [] : [whole]),
    ...(making === undefined
      ? []
      : [
          `made${making.step === undefined ? "" : ` to ${short(making.step)}`} ± ${short(making.off)} ${short(making.offShare)}${making.said ? " as said" : ""} at ${making.order}`,
        ]),
    ...(twin === undefined ? [] : [`twin ${twin}`]),
    ...(variable.askedFirst ? ["asked first"] : []),
  ].join(" | ");
}

function figures(text: string, ...paths: string[]): string {
  const { things } = analyzed(text);
  return paths
    .map((path) => {
      const thing = things
        .filter((each) => path.startsWith(`${each.path}.`))
        .sort((one, other) => other.path.length - one.path.length)[0];
      if (thing === undefined) return `${path}: no thing`;
      const found = figureOf(thing, path.slice(thing.path.length + 1), pool);
      if (found === undefined) return `${path}: none`;
      const { entry, figure, part, measure } = found;
      const about = [measure.name, ...(part === undefined ? [] : ["part"])].join(" ");
      return `${variableText(found.variable)} | ${about}, ${entry === undefined ? "unwritten" : figure === undefined ? "not as a figure" : "written"}`;
    })
    .join("\n");
}

const kinds = `designation pipe_size "Pipe" {
  across: length range 1 mm..2 m
  grade: text
  form "{across mm}[ {grade text}]"
}
kind pin "Pin" {
  plain: length
  ranged: length range 1 mm..2 mm
  odd: length range 2 mm..1 mm
  count: count
  ranged_count: count range 2..9
  turn: angle
  heat: temperature
  measured: length measured
  bought: length bought ± 2 %
  made: length made to 1/16 in ± 1 mm
  unsure: length made to 0 mm ± -1 mm
  wanted: length wanted
  case: length case
  setting: length setting default 4 mm
  limit: length limit default 5 mm
  constant: length constant default 6 mm
  usual: length default 7 mm
  found: length found out default 8 mm
  formula: length setting default 2 * plain
  needed: length needs "a tape"
  pipe: pipe_size
  sizes: list of length
  counts: list of count
  words: list of text
  word: text setting default "w"
  bought_default: length bought default 3 mm
  other: pin optional
}
kind plate "Plate" { left: part pin  right: part pin  single: part lid  pin: pin }
kind lid "Lid" { long: length  inner: part pin }
kind deck "Deck" { one: part plate  two: part plate }
`;

describe("a figure of a kind that nobody wrote", () => {
  test("is what its field says", () => {
    const names = `plain ranged odd count ranged_count turn heat measured bought made unsure wanted
      case setting limit constant usual found formula needed pipe.across pipe.grade pipe word other
      nothing sizes sizes[1] words[1] plain.x nothing.x nothing[1] plain[1]`;
    expect(
      figures(
        `${kinds}pin p {}`,
        ...names
          .trim()
          .split(/\s+/)
          .map((name) => `p.${name}`),
      ),
    ).toMatchInlineSnapshot(`
      "p.plain by 0.001 | length, unwritten
      p.ranged by 0.001 | within 0.001..0.002 | length, unwritten
      p.odd by 0.001 | length, unwritten
      p.count by 1 | within 0..1000000 | counted | count, unwritten
      p.ranged_count by 1 | within 2..9 | counted | count, unwritten
      p.turn by 0.001 | an angle | angle, unwritten
      p.heat by 0.1 | temperature, unwritten
      p.measured by 0.001 | measured | asked first | length, unwritten
      p.bought by 0.001 | bought | made ± 0 0.02 at 8 | asked first | length, unwritten
      p.made by 0.001 | made | made to 0.0015875 ± 0.001 0 at 9 | length, unwritten
      p.unsure by 0.001 | made | made ± 0 0 at 10 | length, unwritten
      p.wanted by 0.001 | wanted | asked first | length, unwritten
      p.case by 0.001 | case | asked first | length, unwritten
      p.setting by 0.001 | setting | length, unwritten
      p.limit by 0.001 | limit | length, unwritten
      p.constant by 0.001 | constant | length, unwritten
      p.usual by 0.001 | length, unwritten
      p.found by 0.001 | length, unwritten
      p.formula by 0.001 | setting | length, unwritten
      p.needed by 0.001 | asked first | length, unwritten
      p.pipe.across by 0.001 | within 0.001..2 | length part, unwritten
      p.pipe.grade: none
      p.pipe: none
      p.word: none
      p.other: none
      p.nothing: none
      p.sizes: none
      p.sizes[1]: none
      p.words[1]: none
      p.plain.x: none
      p.nothing.x: none
      p.nothing[1]: none
      p.plain[1]: none"
    `);
  });
});

describe("a figure that is written", () => {
  test("is given, or wanted, with the role and the making its line says", () => {
    expect(
      figures(
        `${kinds}pin p {
  plain: 2.0 mm ± 1 mm uniform together "tape"
  ranged: 1.50 mm
  count: 3
  ranged_count: ?
  turn: ? near 30 deg
  measured: 3 mm made to 1 mm ± 10 %
  bought: 4 mm
  made: 5 mm
  wanted: 6 mm
  needed: 7 mm wanted
  unsure: 8 mm made to 2 mm
  usual: 2 * plain
  found: ?
  setting: ? near 0 mm..9 mm
  limit: ? near 1 kg
  constant: ? near plain
  case: 2 mm measured
  pipe: 33.7 A
  sizes: [1 mm, 2 mm, plain, "x"]
  counts: [2, 3]
  words: [red, "blue", a.b]
}`,
        ...`plain ranged count ranged_count turn measured bought made wanted needed unsure usual found
          setting limit constant case pipe.across pipe.grade sizes[1] sizes[2] sizes[3] sizes[4] sizes[5]
          counts[1] words[1]`
          .trim()
          .split(/\s+/)
          .map((name) => `p.${name}`),
      ),
    ).toMatchInlineSnapshot(`
      "p.plain by 0.001 | is 0.002 (0.001..0.003) rounded 0.00005 uniform with tape | length, written
      p.ranged by 0.001 | is 0.0015 rounded 0.000005 | within 0.001..0.002 | length, written
      p.count by 1 | is 3 | within 0..1000000 | counted | count, written
      p.ranged_count by 1 | within 2..9 | sought | count, unwritten
      p.turn by 0.001 | near 0.523598776 | an angle | angle, unwritten
      p.measured by 0.001 | made | is 0.003 (0.0027..0.0033) rounded 0.0005 | made to 0.001 ± 0 0 as said at 7 | asked first | length, written
      p.bought by 0.001 | bought | is 0.004 rounded 0.0005 | made ± 0 0.02 at 8 | asked first | length, written
      p.made by 0.001 | made | is 0.005 rounded 0.0005 | made to 0.0015875 ± 0.001 0 at 9 | length, written
      p.wanted by 0.001 | wanted | wanted 0.006 rounded 0.0005 | asked first | length, written
      p.needed by 0.001 | wanted | wanted 0.007 rounded 0.0005 | asked first | length, written
      p.unsure by 0.001 | made | is 0.008 rounded 0.0005 | made to 0.002 ± 0 0 as said at 10 | length, written
      p.usual by 0.001 | length, not as a figure
      p.found by 0.001 | length, unwritten
      p.setting by 0.001 | setting | within 0..0.009 | length, unwritten
      p.limit by 0.001 | limit | length, unwritten
      p.constant by 0.001 | constant | length, unwritten
      p.case by 0.001 | measured | is 0.002 rounded 0.0005 | asked first | length, written
      p.pipe.across by 0.001 | is 0.0337 | within 0.001..2 | length part, written
      p.pipe.grade: none
      p.sizes[1] by 0.001 | is 0.001 rounded 0.0005 | length, written
      p.sizes[2] by 0.001 | is 0.002 rounded 0.0005 | length, written
      p.sizes[3]: none
      p.sizes[4]: none
      p.sizes[5]: none
      p.counts[1] by 1 | is 2 | counted | count, written
      p.words[1]: none"
    `);
  });

  test("is measured where a record says so", () => {
    const analysis = analyzed(
      `${kinds}pin p { made: 5 mm  plain: 1 mm }\nrecord 2026-03-14 { p.made: 5.1 mm ± 0.2 mm }`,
    ).asBuilt();
    const thing = analysis.things.find(({ path }) => path === "p");
    if (thing === undefined) throw new Error("p is there");
    const shown = ["made", "plain"].map((key) => {
      const found = figureOf(thing, key, pool);
      return found && variableText(found.variable);
    });
    expect(shown).toMatchInlineSnapshot(`
      [
        "p.made by 0.001 | measured | is 0.0051 (0.0049..0.0053) rounded 0.00005",
        "p.plain by 0.001 | is 0.001 rounded 0.0005",
      ]
    `);
  });

  test("of a designation, by itself or as part of it", () => {
    expect(
      figures(
        `${kinds}pin p { pipe.across: 30 mm }\npin q { pipe: 33.7 }\npin r { pipe: 33.7 A  pipe.across: 34 mm }\npin s { pipe.across: ? }`,
        ...["p", "q", "r", "s"].map((name) => `${name}.pipe.across`),
      ),
    ).toMatchInlineSnapshot(`
      "p.pipe.across by 0.001 | is 0.03 rounded 0.0005 | within 0.001..2 | length part, written
      q.pipe.across by 0.001 | is 0.0337 | within 0.001..2 | length part, written
      r.pipe.across by 0.001 | is 0.034 rounded 0.0005 | within 0.001..2 | length part, written
      s.pipe.across by 0.001 | within 0.001..2 | length part, unwritten"
    `);
  });
});

test("parts of one kind in one thing mirror each other, at any depth", () => {
  const build = `${kinds}deck d { one { left.plain: 1 mm  pin.plain: 2 mm } }\nplate e { lid x {} }`;
  expect(
    figures(
      build,
      "d.one.left.plain",
      "d.one.right.plain",
      "d.two.left.plain",
      "d.one.single.long",
      "d.one.single.inner.plain",
      "d.one.pin.plain",
      "e.left.plain",
      "e.right.plain",
      "e.single.long",
      "e.single.inner.plain",
      "e.x.long",
    )
      .split("\n")
      .map((line) => / twin (\S+)/.exec(line)?.[1] ?? "none"),
  ).toEqual([
    "d.(plate).(pin).plain",
    "d.(plate).(pin).plain",
    "d.(plate).(pin).plain",
    "d.(plate).single.long",
    "d.(plate).single.inner.plain",
    "d.(plate).pin.plain",
    "e.(pin).plain",
    "e.(pin).plain",
    "none",
    "none",
    "none",
  ]);
});

test("a number is known before anything is solved where it is written or stands", () => {
  const known = (lines: string) => {
    const { things } = analyzed(`${kinds}pin p { ${lines} }`);
    const thing = things.find(({ path }) => path === "p");
    if (thing === undefined) throw new Error("p is there");
    return [
      "plain",
      "setting",
      "limit",
      "constant",
      "usual",
      "found",
      "formula",
      "word",
      "bought_default",
    ].map((name) => knownNumber(thing, name, pool));
  };
  const [none, stands] = [undefined, [0.004, 0.005, 0.006]];
  expect(known("")).toEqual([none, ...stands, none, 0.008, none, none, none]);
  expect(known("plain: 1 mm  usual: 2 mm")[0]).toBe(0.001);
  expect(known("plain: 1 mm  usual: 2 mm")[4]).toBe(0.002);
  expect(known("plain: 1 mm ± 1 mm")[0]).toBe(0.001);
  expect(known("plain: 2 * setting")[0]).toBe(none);
  expect(known("setting: 3 mm  limit: ?  constant: ?  found: ?")).toEqual([
    none,
    0.003,
    none,
    0.006,
    none,
    none,
    none,
    none,
    none,
  ]);
  expect(known("setting: 2 * plain  found: 2 * plain  constant: 2 * plain")).toEqual([
    none,
    none,
    0.005,
    none,
    none,
    none,
    none,
    none,
    none,
  ]);
});

test("two variables are the same where the solver sees no difference between them", () => {
  const given = {
    value: 1,
    low: 0.9,
    high: 1.1,
    rounding: 0.01,
    distribution: "uniform",
    together: "tape",
  } as const;
  const variable: Variable = {
    name: "p.long",
    scale: 0.001,
    role: "made",
    askedFirst: false,
    angle: false,
    near: 1,
    whole: "counted",
    range: [0, 2],
    given,
    wish: { value: 1, low: 0.9, high: 1.1, rounding: 0 },
    twin: "p.(pin).long",
    making: { step: 1, off: 0.1, offShare: 0.02, said: true, order: 3 },
  };
  expect(sameVariable(variable, structuredClone(variable))).toBe(true);
  const others: readonly Partial<Variable>[] = [
    { name: "q.long" },
    { scale: 1 },
    { role: "bought" },
    { askedFirst: true },
    { angle: true },
    { near: 2 },
    { near: undefined },
    { whole: "sought" },
    { range: [1, 2] },
    { range: [0, 3] },
    { range: undefined },
    { given: undefined },
    ...(["value", "low", "high", "rounding"] as const).map((key) => ({
      given: { ...given, [key]: 7 },
    })),
    { given: { ...given, distribution: "normal" } },
    { given: { ...given, together: "jig" } },
    { wish: undefined },
    { wish: { value: 2, low: 0.9, high: 1.1, rounding: 0 } },
    { wish: { value: 1, low: 0.8, high: 1.1, rounding: 0 } },
    { wish: { value: 1, low: 0.9, high: 1.2, rounding: 0 } },
    { twin: undefined },
    { making: undefined },
    ...[{ step: 2 }, { off: 2 }, { offShare: 2 }, { said: false }, { order: 4 }].map((other) => ({
      making: { step: 1, off: 0.1, offShare: 0.02, said: true, order: 3, ...other },
    })),
  ];
  for (const other of others) {
    const changed = { ...variable, ...other };
    expect(sameVariable(variable, changed), JSON.stringify(other)).toBe(false);
    expect(sameVariable(changed, variable), JSON.stringify(other)).toBe(false);
  }
  const bare: Variable = { name: "p", scale: 1, askedFirst: false };
  expect(sameVariable(bare, { ...bare })).toBe(true);
});

test("a figure is put together once, and a default of many things is told apart by their names", () => {
  const { things } = analyzed(`${kinds}pin p {}\npin q { plain: ? }`);
  const [p, q] = things;
  if (p === undefined || q === undefined) throw new Error("both are there");
  expect(figureOf(p, "plain", pool)).toBe(figureOf(p, "plain", pool));
  expect(figureOf(p, "plain", pool)?.variable.name).toBe("p.plain");
  expect(figureOf(q, "plain", pool)?.variable.name).toBe("q.plain");
  expect(figureOf(q, "usual", pool)?.variable.name).toBe("q.usual");
});

describe("equal formulas share one form", () => {
  const number = (value: number) => ({ op: "number", value }) as const;
  const slot = { op: "slot", index: 0 } as const;

  test("whoever made them, as long as the forms of all fit into the room for them", () => {
    const forms = new FormPool();
    const first = forms.form(slot, number(1), 1);
    expect(forms.form({ op: "slot", index: 0 }, number(1), 1)).toBe(first);
    expect(forms.form(slot, number(1), 2)).not.toBe(first);
    expect(forms.form(number(1), slot, 1)).not.toBe(first);
    expect(first).toEqual({ left: slot, right: number(1), slots: 1 });
    for (let at = 4; at <= 20_000; at++) forms.form(slot, number(at), 1);
    expect(forms.form(slot, number(1), 1)).toBe(first);
    forms.form(slot, number(0), 1);
    expect(forms.form(slot, number(1), 1)).not.toBe(first);
  });

  test("long ones by their length", () => {
    const forms = new FormPool();
    const long = (value: number) => ({
      op: "call" as const,
      name: "sum" as "max",
      of: Array.from({ length: 40_000 }, () => number(value)),
    });
    const first = forms.form(slot, number(1), 1);
    // Each is about a million letters long, and eight millions are kept.
    for (let at = 0; at < 6; at++) forms.form(slot, long(at), 1);
    expect(forms.form(slot, number(1), 1)).toBe(first);
    for (let at = 6; at < 10; at++) forms.form(slot, long(at), 1);
    expect(forms.form(slot, number(1), 1)).not.toBe(first);
  });
});
