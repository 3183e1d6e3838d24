/**
 * Builds that take far longer to read than anybody waits, each of another shape.
 *
 * Invented: names and figures mean nothing.
 */
import { range, rollsOf } from "../bench/rolls";

const many = <T>(count: number, make: (at: number) => T): T[] => range(count).map(make);

export interface Giant {
  readonly text: string;
  /** Verbs it is tried with, and what more they are told. */
  readonly verbs: readonly (readonly string[])[];
}

const show = ["show", "--all"];

/** So many figures that each hang on eight others: all are solved together. */
export function dense(count: number): Giant {
  const roll = rollsOf(1);
  const share = (): string => ((100 + roll(900)) / 1_000).toFixed(3);
  const relations = many(count, (at) => {
    const others = many(8, () => `${share()} * n${(at + 1 + roll(count - 1)) % count}.x`);
    return `relation "r${at}": 9 * n${at}.x + ${others.join(" + ")} = ${share()} mm`;
  });
  return {
    text: [
      "kind node { x: length }",
      ...many(count, (at) => `node n${at} { x: ? }`),
      ...relations,
    ].join("\n"),
    verbs: [["check"], show, ["plan"], ["measure"], ["explain", "n5.x"]],
  };
}

/** Readings of one system, far more than it takes: a height for every two and every three. */
export function readings(count: number): Giant {
  const roll = rollsOf(2);
  const ties = many(count, (at) =>
    [1, 2].filter((by) => at + by < count).map((by) => ({ at, by })),
  ).flat();
  return {
    text: [
      "kind point { h: length }",
      "kind climb { d: length measured ± 1 mm }",
      "point p0 { h: 0 mm }",
      ...many(count - 1, (at) => `point p${at + 1} { h: ? }`),
      ...ties.map(
        ({ by }, at) => `climb d${at} { d: ${(10 * by + (roll(80) - 40) / 100).toFixed(2)} mm }`,
      ),
      ...ties.map(({ at, by }, tie) => `relation "t${tie}": d${tie}.d = p${at + by}.h - p${at}.h`),
    ].join("\n"),
    verbs: [["check"], ["measure"]],
  };
}

/** One thing of so many fields, each from the one before. */
function wide(count: number): Giant {
  return {
    text: [
      "kind big {",
      ...many(count, (at) => `  f${at}: length`),
      ...many(count - 1, (at) => `  relation "r${at}": f${at + 1} = f${at} + 1 mm`),
      "}",
      `big b { f0: 1 mm ± 0.1 mm; ${many(200, (at) => `f${at * 9 + 3}: ?`).join("; ")} }`,
      `option more { b.f0: 2 mm }`,
    ].join("\n"),
    verbs: [show, ["plan"], ["explain", "b.f9"], ["compare"]],
  };
}

/** Lists of lists: each of so many sums goes through all of them. */
function lists(count: number): Giant {
  const all = (name: string): string => many(count, (at) => `${name}${at}`).join(", ");
  return {
    text: [
      "kind leaf { x: length }",
      "kind bough { leaves: list of leaf }",
      'kind tree { boughs: list of bough; total: length\n  relation "sum": total = sum(boughs.leaves.x) }',
      ...many(count, (at) => `leaf l${at} { x: ${at} mm }`),
      ...many(count, (at) => `bough m${at} { leaves: [${all("l")}] }`),
      ...many(count, (at) => `tree t${at} { boughs: [${all("m")}]; total: ? }`),
    ].join("\n"),
    verbs: [["check"], ["measure"], show],
  };
}

/** A table looked up in what was looked up in it, again and again. */
function tables(rows: number, uses: number): Giant {
  const deep = 20;
  return {
    text: [
      "table curve { key a: number; b: number",
      "  lookup linear",
      ...many(rows, (at) => `  row ${at}, ${(at * at) % 97}`),
      "}",
      "kind use { a: number }",
      "use u0 { a: 3.5 }",
      ...many(
        uses - 1,
        (at) => `use u${at + 1} { a: ${"curve.b(".repeat(deep)}u${at}.a${")".repeat(deep)} }`,
      ),
    ].join("\n"),
    verbs: [["check"], ["explain", "u5.a"]],
  };
}

/** Each thing sums up all things. */
export function sums(count: number): Giant {
  return {
    text: [
      'kind piece { size: length; total: length\n  relation "sum": total = sum(each(piece).size) }',
      ...many(count, (at) => `piece p${at} { size: ${at} mm; total: ? }`),
      `option more { p3.size: 5 mm }`,
    ].join("\n"),
    verbs: [["check"], show, ["compare"], ["plan"]],
  };
}

/** More combinations than there are seconds. */
function choices(holes: number, knobs: number): Giant {
  const gaps = many(holes, (at) => `h${at}.gap`);
  return {
    text: [
      "kind knob { size: length bought; price: number }",
      'kind hole { knob: knob; gap: length\n  relation "gap": gap = 100 mm - knob.size }',
      ...many(
        knobs,
        (at) => `knob k${at} { size: ${(50 + at * 0.37).toFixed(2)} mm; price: ${(at * 7) % 13} }`,
      ),
      ...many(holes, (at) => `hole h${at} { }`),
      `check "room": ${gaps.join(" + ")} >= ${holes * 30} mm`,
      `check "even": abs(${gaps.map((gap, at) => `${at % 2 === 0 ? "" : "-"}1 * ${gap}`).join(" + ")}) <= 0.01 mm`,
    ].join("\n"),
    verbs: [["choose", "--for", many(holes, (at) => `h${at}.knob`).join(",")], ["measure"]],
  };
}

/** Each of so many options, each with so many checks over everything. */
function options(things: number, count: number): Giant {
  return {
    text: [
      'kind thing { a: length; b: length\n  relation "twice": b = 2 * a }',
      ...many(things, (at) => `thing t${at} { a: ${at} mm; b: ? }`),
      ...many(count, (at) => `check "c${at}": sum(each(thing).b) >= ${at} mm`),
      ...many(count, (at) => `option o${at} { t${at % things}.a: ${at + 5} mm }`),
    ].join("\n"),
    verbs: [["check"], ["compare"], ["plan"]],
  };
}

export const giants: Readonly<Record<string, Giant>> = {
  "one dense system": dense(2_000),
  "readings of one system": readings(150),
  "one thing of 20,000 fields": wide(20_000),
  "lists of lists": lists(100),
  "a table looked up again and again": tables(500, 1_000),
  "things that each sum up all": sums(2_000),
  "many to choose from": choices(8, 60),
  "many options, each with many checks": options(200, 200),
};
