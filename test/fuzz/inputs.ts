/**
 * Texts nobody would write, made from a number: the same number makes the same text.
 *
 *     inputOf(4711, seeds)   →   { sort: "mutation", text: "axle rear { left { innner_gap: 7/8 ±" }
 */
export interface Input {
  readonly sort: string;
  readonly text: string;
}

/** Pieces of real builds and of the library to start from. */
export type Seeds = readonly string[];

export function inputOf(number: number, seeds: Seeds): Input {
  const random = new Random(number);
  const [sort, make] = random.of(sorts);
  return { sort, text: make(random, seeds).slice(0, 4_000) };
}

// ───────────────────────────── sorts ─────────────────────────────

const sorts: readonly (readonly [string, (random: Random, seeds: Seeds) => string])[] = [
  [
    "bytes",
    (random) =>
      text(random, random.below(120), () =>
        String.fromCharCode(random.below(random.below(3) === 0 ? 0x1_0000 : 256)),
      ),
  ],
  [
    "tokens",
    (random) => text(random, random.below(60), () => `${random.of(tokens)}${random.of(blanks)}`),
  ],
  ["mutation", mutation],
  ["mutation", mutation],
  ["kinds", kinds],
  ["things", things],
  ["lists", lists],
];

const tokens = [
  "kind",
  "is",
  "of",
  "part",
  "list",
  "relation",
  "check",
  "assume",
  "curve",
  "over",
  "from",
  "to",
  "step",
  "option",
  "record",
  "use",
  "as",
  "table",
  "key",
  "row",
  "order",
  "before",
  "default",
  "range",
  "shown",
  "source",
  "needs",
  "when",
  "if",
  "then",
  "else",
  "and",
  "or",
  "not",
  "each(k)",
  "sum(",
  "given(",
  "{",
  "}",
  "(",
  ")",
  "[",
  "]",
  ":",
  "=",
  "?",
  ",",
  ";",
  ".",
  "..",
  "±",
  "+-",
  "+",
  "-",
  "*",
  "/",
  "^",
  "<",
  "<=",
  ">=",
  '"a"',
  '"',
  "#",
  "1",
  "3/8",
  "61 5/16",
  "1e308",
  "0",
  "1/0",
  "in",
  "mm",
  "lb-ft",
  "%",
  "deg",
  "17x9",
  "275/50R17",
  "5x5 in",
  "2026-02-30",
  "yes",
  "wheel",
  "axle",
  "rear",
  "left",
  "k",
  "x",
  "length",
  "_",
  "library:",
];
const blanks = ["", " ", "\n", "\r\n", "\t", "  ", "\r", "\u00a0"];

function mutation(random: Random, seeds: Seeds): string {
  let made = random.of(seeds);
  const changes = 1 + random.below(4);
  for (let change = 0; change < changes; change++) {
    const at = random.below(made.length + 1);
    const end = Math.min(made.length, at + random.below(12));
    switch (random.below(7)) {
      case 0:
        made = made.slice(0, at) + made.slice(end);
        break;
      case 1:
        made = made.slice(0, at) + random.of(tokens) + made.slice(at);
        break;
      case 2:
        made = made.slice(0, at) + made.slice(at, end) + made.slice(at);
        break;
      case 3:
        made = made.slice(0, at);
        break;
      case 4:
        made = `${made}\n${random.of(seeds)}`;
        break;
      case 5:
        made = made.replace(/\d+/, () =>
          random.of(["0", "-1", "1e300", "1e-300", "99999999999999999999", "3/0"]),
        );
        break;
      default:
        made = made.slice(0, at) + String.fromCharCode(random.below(256)) + made.slice(end);
    }
  }
  return made;
}

/** Kinds that hold, take over from, belong to and speak of each other and themselves. */
function kinds(random: Random): string {
  const count = 1 + random.below(5);
  const name = () => `k${random.below(count + 1)}`;
  const field = (at: number) =>
    `f${at}: ${random.of([`part ${name()}`, name(), `list of ${name()}`, "length", "list of length", "ratio", "text"])}${random.of(["", " optional", " shown", " default 1 in", ` default f${random.below(4)}`, " range 1 in..2 in", " default 0"])}`;
  const path = () =>
    Array.from({ length: 1 + random.below(5) }, () =>
      random.of(["f0", "f1", "f2", "owner", "x"]),
    ).join(".");
  const formula = (): string =>
    random.of([
      path(),
      path(),
      `sum(each(${name()}).${path()})`,
      `${path()} * 2`,
      `max(${path()}, 1 in)`,
      `(if ${path()} > 1 in then ${path()} else 0 in)`,
      `given(${path()})`,
      `sqrt(${path()})`,
      `${path()} ^ 2`,
      "1 in",
      "0",
    ]);
  const member = (at: number) =>
    random.of([
      field(at),
      field(at),
      `relation "r${at}": ${formula()} = ${formula()}`,
      `check "c${at}": ${formula()} < ${formula()}`,
      `assume "a": ${formula()} = ${formula()}`,
      `curve v${at} "v": ${formula()} over n from 0 to ${random.of(["3", "1e9", "-1"])} step ${random.of(["1", "0", "1e-9"])}`,
    ]);
  const declared = Array.from({ length: count }, (_, at) => {
    const head = `kind k${at}${random.of(["", "", ` is ${name()}`])}${random.of(["", "", ` of ${name()}`])}`;
    return `${head} { ${text(random, random.below(6), (each) => `${member(each)}  `)}}`;
  });
  return [
    ...declared,
    ...Array.from({ length: 1 + random.below(3) }, (_, at) => thing(random, `t${at}`, name())),
  ].join("\n");
}

function thing(random: Random, name: string, kind: string): string {
  const value = () =>
    random.of([
      "1 in",
      "?",
      "1 in ± 0.1 in",
      "2",
      "t0",
      "t1",
      "[t0, t1, t0]",
      "[1 in, 2 in]",
      '"a"',
      "0 in",
      "-1 in",
      "1e308 in",
      "1 in .. 2 in",
      "f1",
      "f0 + 1 in",
    ]);
  return `${kind} ${name} { ${text(random, random.below(5), () => `f${random.below(4)}${random.of([": ", ": ", "."])}${random.of(["", "", "f1: "])}${value()}  `)}}`;
}

/** Things of the library that name each other any way round, with options, records and checks. */
function things(random: Random): string {
  const name = () => random.of(["a", "b", "c"]);
  const kind = () =>
    random.of([
      "wheel",
      "tire",
      "axle",
      "housing",
      "brake",
      "vehicle",
      "joint",
      "procedure",
      "carrier",
    ]);
  const given = () =>
    `${random.of(["wheel", "tire", "housing", "size", "offset", "track", "mount_width", "left", "standoff", "thread", "torque", "after", "rear"])}${random.of(["", ".left", ".offset", ".size"])}: ${random.of([name(), "?", "17x9", "275/50R17", "18 mm", "2.5 in ± 0.01 in", "3/8-24", "[a, b]", "80 lb-ft", `${name()}.offset`])}`;
  return text(
    random,
    1 + random.below(6),
    () =>
      `${random.of([
        `${kind()} ${name()} { ${given()}  ${given()} }`,
        `${kind()} ${name()} { ${given()}  left { ${given()} } }`,
        `option ${name()} "o" { ${name()}.${given()} }`,
        `record "r" 2026-01-0${1 + random.below(9)} { ${name()}.${given()} }`,
        `check "c": ${name()}.offset ${random.of(["<", "=", ">"])} ${name()}.track`,
        `use "${random.of(["build.trammel", "x.trammel", "/x", "library:chapters/weld.trammel", "../a.trammel"])}"${random.of(["", " as a"])}`,
        `${name()}.${given()}`,
      ])}\n`,
  );
}

/** Lists in lists, braces in braces, long rows of the same. */
function lists(random: Random): string {
  const depth = 1 + random.below(60);
  const [open, close] = random.of([
    ["[", "]"],
    ["(", ")"],
    ["{", "}"],
    ["a { ", " }"],
    ["procedure p { ", "}"],
    ["-", ""],
    ["not ", ""],
    ["if 1 > 0 then ", " else 0"],
    ["f.", ""],
  ] as const);
  const inner = random.of([
    "1 in",
    "x",
    "",
    "?",
    "1 in ± 1 in",
    text(random, random.below(200), () => "1 in, "),
  ]);
  return `wheel w { offset: ${open.repeat(depth)}${inner}${close.repeat(random.below(3) === 0 ? depth - 1 : depth)} }`;
}

// ───────────────────────────── helpers ─────────────────────────────

function text(_: Random, count: number, piece: (at: number) => string): string {
  return Array.from({ length: count }, (__, at) => piece(at)).join("");
}

/** Mulberry32, by Tommy Ettinger (public domain): enough for choosing pieces. */
class Random {
  constructor(private state: number) {}

  below(limit: number): number {
    this.state = (this.state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return Math.floor((((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296) * limit);
  }

  of<T>(list: readonly T[]): T {
    return list[this.below(list.length)] as T;
  }
}
