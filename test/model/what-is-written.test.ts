/**
 * A figure as it is written: its value and limits in SI, the room its rounding leaves, its unit, or
 * what is wrong with it. An inch is 25.4 mm and a foot 12 of them (international yard and pound
 * agreement, 1959), 0 °C is 273.15 K (SI brochure, 9th edition), a pound 0.45359237 kg.
 */
import { describe, expect, test } from "vitest";
import { textAt } from "../../grammar/anchor";
import { readDifference, readFigure, readOff, withOwnSpread } from "../../server/model/literal";
import { readWord } from "../../server/model/words";
import { type Measure, measureNamed } from "../../server/units";
import { analyzed } from "./build";

function measureOf(name: string): Measure {
  const measure = measureNamed(name);
  if (measure === undefined) throw new Error(`${name} is a measure`);
  return measure;
}

/** The expression behind `x:`, as the text reads it, and what gives texts of its places. */
function written(text: string) {
  const analysis = analyzed(`kind any { x: text }\nany a { x: ${text} }`);
  const entry = analysis.things.find(({ path }) => path === "a")?.entries.get("x");
  if (entry === undefined) throw new Error(`${text} is a value`);
  const { value, anchor } = entry;
  return { value, text: (span: typeof anchor.span) => textAt({ ...anchor, span }) };
}

const digits = (value: number): number => Number(value.toPrecision(9));

function read(measure: string, text: string): unknown {
  const { value, text: textOf } = written(text);
  const reading = readFigure(value, measureOf(measure));
  if (reading.is === "formula") return "a formula";
  if (reading.is === "problem") {
    const { is, span, ...facts } = reading.problem as typeof reading.problem & object;
    const said = Object.entries(facts).flatMap(([name, fact]) =>
      typeof fact === "string" || typeof fact === "boolean" || Array.isArray(fact)
        ? [`${name} ${String(fact)}`]
        : name === "found"
          ? [`found ${JSON.stringify(fact)}`]
          : [],
    );
    return [is, textOf(span), ...said].join(" | ");
  }
  const { value: si, low, high, rounding, unit, toleranced, currency } = reading.figure;
  return [
    ...[si, low, high, rounding].map(digits),
    ...(toleranced ? [`${unit} with limits`] : [unit]),
    ...(currency === undefined ? [] : [currency]),
  ];
}

describe("a figure is read", () => {
  test.each([
    // Half of the last place of a decimal, half of 1/32 in on a tape, half a millimeter: decimals and fractions alike.
    ["length", "25.4 mm", [0.0254, 0.0254, 0.0254, 0.00005, "mm"]],
    ["length", "-2.50 in", [-0.0635, -0.0635, -0.0635, 0.000127, "in"]],
    ["length", "-(2.50 in)", [-0.0635, -0.0635, -0.0635, 0.000127, "in"]],
    ["length", "(2.50 in)", [0.0635, 0.0635, 0.0635, 0.000127, "in"]],
    ["length", "5 ft 1.50 in", [1.5621, 1.5621, 1.5621, 0.000127, "in"]],
    ["length", "24.0mm", [0.024, 0.024, 0.024, 0.00005, "mm"]],
    ["length", "2.50 in ± 0.10 in", [0.0635, 0.06096, 0.06604, 0.000127, "in with limits"]],
    ["length", "2.50 in ± 10 %", [0.0635, 0.05715, 0.06985, 0.000127, "in with limits"]],
    ["length", "-2.50 in ± 10 %", [-0.0635, -0.06985, -0.05715, 0.000127, "in with limits"]],
    ["length", "-(2.50 in ± 0.10 in)", [-0.0635, -0.06604, -0.06096, 0.000127, "in with limits"]],
    ["length", "2.00 in..2.500 in", [0.05715, 0.0508, 0.0635, 0.0000127, "in with limits"]],
    ["length", "10.0 mm within 9.0 mm..12.0 mm", [0.01, 0.009, 0.012, 0.00005, "mm with limits"]],
    ["length", "9.0 mm within 9.0 mm..12.0 mm", [0.009, 0.009, 0.012, 0.00005, "mm with limits"]],
    ["length", "12.0 mm within 9.0 mm..12.0 mm", [0.012, 0.009, 0.012, 0.00005, "mm with limits"]],
    ["length", "9.0 mm..9.0 mm", [0.009, 0.009, 0.009, 0.00005, "mm with limits"]],
    ["temperature", "20.0 degC", [293.15, 293.15, 293.15, 0.05, "degC"]],
    ["temperature", "-10.0 degC", [263.15, 263.15, 263.15, 0.05, "degC"]],
    ["temperature", "20.0 degC ± 5.0 degC", [293.15, 288.15, 298.15, 0.05, "degC with limits"]],
    ["ratio", "0.250", [0.25, 0.25, 0.25, 0.0005, ""]],
    ["ratio", "25.0 %", [0.25, 0.25, 0.25, 0.0005, "%"]],
    ["ratio", "25.0 % ± 5.0 %", [0.25, 0.2, 0.3, 0.0005, "% with limits"]],
    ["number", "4.10", [4.1, 4.1, 4.1, 0.005, ""]],
    ["number", "4", [4, 4, 4, 0, ""]],
    ["number", "-4.10", [-4.1, -4.1, -4.1, 0.005, ""]],
    ["number", "3:2", [1.5, 1.5, 1.5, 0, ""]],
    ["number", "4.10 ± 0.10", [4.1, 4, 4.2, 0.005, " with limits"]],
    ["number", "10 ± 10 %", [10, 9, 11, 0, " with limits"]],
    ["count", "4", [4, 4, 4, 0, ""]],
    ["count", "4.0", [4, 4, 4, 0, ""]],
    ["mass", "10 lb 8.0 oz", [4.76271989, 4.76271989, 4.76271989, 0.00141747616, "oz"]],
    ["money", "12.50 usd", [12.5, 12.5, 12.5, 0.005, "usd", "USD"]],
  ] as [string, string, unknown][])("%s %s", (measure, text, wanted) => {
    expect(read(measure, text)).toEqual(wanted);
  });

  test.each([
    ["length", "2 * 3 in"],
    ["length", "wide"],
    ["length", "not wide"],
    ["length", "2 in ± wide"],
    ["length", "wide ± 2 in"],
    ["length", "wide..2 in"],
    ["length", "2 in..wide"],
    ["length", "wide within 1 in..2 in"],
  ])("%s %s as a formula", (measure, text) => {
    expect(read(measure, text)).toBe("a formula");
  });

  test("or what is wrong with it is told", () => {
    const cases: readonly [string, string][] = [
      ["length", "3"],
      ["length", "3 kg"],
      ["length", "3 lb"],
      ["length", "3 inz"],
      ["length", '"3"'],
      ["length", "yes"],
      ["length", "2026-03-14"],
      ["length", "[1 in]"],
      ["length", "4x4"],
      ["length", "3 in ± 4"],
      ["length", "3 in ± -4 in"],
      ["length", "3 in ± 4 kg"],
      ["length", "3 kg ± 4 in"],
      ["length", "4 in..3 in"],
      ["length", "5 in within 3 in..4 in"],
      ["length", "2 in within 3 in..4 in"],
      ["length", "3 kg..4 in"],
      ["length", "3 in..4 kg"],
      ["length", "3 kg within 3 in..4 in"],
      ["number", "3 in"],
      ["number", "3:0"],
      ["number", "3:2x"],
      ["number", "x3:2"],
      ["length", "3:2"],
      ["count", "2.5"],
      ["ratio", "3 in"],
      ["torque", "3 lb"],
    ];
    expect(
      cases.map(([measure, text]) => `${measure} ${text}: ${String(read(measure, text))}`),
    ).toMatchInlineSnapshot(`
      [
        "length 3: unit/missing | 3 | text 3",
        "length 3 kg: unit/wrong | 3 kg | unit kg | near in,mm",
        "length 3 lb: unit/wrong | 3 lb | unit lb | near in,mm",
        "length 3 inz: unit/unknown | inz | unit inz | near in",
        "length "3": value/not-a-number | "3" | found a text",
        "length yes: value/not-a-number | yes | found yes or no",
        "length 2026-03-14: value/not-a-number | 2026-03-14 | found a date",
        "length [1 in]: value/list | [1 in]",
        "length 4x4: value/not-a-number | 4x4 | found {"written":"4x4"}",
        "length 3 in ± 4: unit/missing | 4 | text 4 | like in",
        "length 3 in ± -4 in: value/limits negative | -4 in",
        "length 3 in ± 4 kg: unit/wrong | 4 kg | unit kg | near in,mm | like in",
        "length 3 kg ± 4 in: unit/wrong | 3 kg | unit kg | near in,mm",
        "length 4 in..3 in: value/limits order | 4 in..3 in",
        "length 5 in within 3 in..4 in: value/limits outside | 5 in within 3 in..4 in",
        "length 2 in within 3 in..4 in: value/limits outside | 2 in within 3 in..4 in",
        "length 3 kg..4 in: unit/wrong | 3 kg | unit kg | near in,mm",
        "length 3 in..4 kg: unit/wrong | 4 kg | unit kg | near in,mm",
        "length 3 kg within 3 in..4 in: unit/wrong | 3 kg | unit kg | near in,mm",
        "number 3 in: unit/wrong plain | 3 in | unit in",
        "number 3:0: value/not-a-number | 3:0 | found {"written":"3:0"}",
        "number 3:2x: 3,3,3,0,",
        "number x3:2: a formula",
        "length 3:2: value/not-a-number | 3:2 | found {"written":"3:2"}",
        "count 2.5: value/not-whole | 2.5 | text 2.5",
        "ratio 3 in: unit/wrong | 3 in | unit in | near %",
        "torque 3 lb: unit/wrong | 3 lb | unit lb | meant lb-ft | near lb-ft",
      ]
    `);
  });
});

describe("how far a figure may be off is read", () => {
  const off = (measure: string, text: string) => {
    const found = readOff(written(text).value, measureOf(measure));
    return found === undefined ? undefined : [digits(found.off), digits(found.offShare)];
  };
  test.each([
    ["length", "1/4 in", [0.00635, 0]],
    ["length", "4 %", [0, 0.04]],
    ["ratio", "4 %", [0.04, 0]],
    ["length", "0 mm", [0, 0]],
    ["length", "-1 mm", undefined],
    ["length", "1 kg", undefined],
    ["temperature", "5 degC", [5, 0]],
    ["number", "2", [2, 0]],
  ] as [string, string, number[] | undefined][])("%s ± %s", (measure, text, wanted) => {
    expect(off(measure, text)).toEqual(wanted);
  });

  test("as a difference, or not at all", () => {
    expect(readDifference(written("18 degF").value, measureOf("temperature"))).toBeCloseTo(10, 9);
    expect(readDifference(written("1 kg").value, measureOf("length"))).toBeUndefined();
    expect(readDifference(written("wide").value, measureOf("length"))).toBeUndefined();
  });

  test("behind a default", () => {
    const { value } = written("wide ± 2 in");
    expect(withOwnSpread(value)).toMatchObject({
      nominal: { type: "path" },
      by: { type: "quantity" },
    });
    const plain = written("wide").value;
    expect(withOwnSpread(plain)).toEqual({ nominal: plain });
  });
});

test("a word is read as its field takes it, or else its default; what is none is told", () => {
  const words = (lines: string) => {
    const { things } = analyzed(`designation pipe_size "Pipe" {
  across: length
  heavy: mass
  form "{across mm}"
  form "{across mm}x{heavy kg}"
}
kind any {
  text: text default "t"
  yes: yes_no default yes
  day: date default 2026-03-14
  form: one_of(round, square) default round
  worded: one_of(round, square) default "square"
  pipe: pipe_size default 33.7
  sized: pipe_size default 20x3
  quoted: pipe_size default "40"
  plain: text
  odd: text default 3 mm
  figure: length
}
any a { ${lines} }`);
    const thing = things.find(({ path }) => path === "a");
    return [...(thing?.kind.fields.values() ?? [])].flatMap((field) => {
      if (thing === undefined) return [];
      const { value, entry, problem } = readWord(thing, field);
      const facts = Object.entries(problem ?? {}).flatMap(([name, fact]) =>
        name === "anchor" || name === "is" || fact === undefined ? [] : [`${name} ${String(fact)}`],
      );
      const told = problem === undefined ? "" : ` told ${[problem.is, ...facts].join(" | ")}`;
      return [`${field.name}: ${String(value)}${entry === undefined ? "" : " as written"}${told}`];
    });
  };
  expect(words("")).toMatchInlineSnapshot(`
    [
      "text: t",
      "yes: true",
      "day: 2026-03-14",
      "form: round",
      "worded: square",
      "pipe: 33.7",
      "sized: 20x3",
      "quoted: 40",
      "plain: undefined",
      "odd: undefined",
      "figure: undefined",
    ]
  `);
  expect(
    words(
      `text: "x"  yes: no  day: 2026-01-01  form: square  worded: "round"  pipe: 20  plain: "y"  figure: 3 mm`,
    ),
  ).toMatchInlineSnapshot(`
    [
      "text: x as written",
      "yes: false as written",
      "day: 2026-01-01 as written",
      "form: square as written",
      "worded: round as written",
      "pipe: 20 as written",
      "sized: 20x3",
      "quoted: 40",
      "plain: y as written",
      "odd: undefined",
      "figure: undefined as written",
    ]
  `);
  expect(
    words(
      `text: x  yes: maybe  day: 3  form: roudn  worded: "oval"  pipe: 20y  plain: 3 mm  odd: yes  figure: x`,
    ),
  ).toMatchInlineSnapshot(`
    [
      "text: undefined as written told value/not-a-text | field text | text x",
      "yes: undefined as written told value/wrong yes-no | field yes | text maybe",
      "day: undefined as written told value/wrong date | field day | text 3",
      "form: undefined as written told value/not-a-choice | field form | text roudn | choices round,square | near round",
      "worded: undefined as written told value/not-a-choice | field worded | text oval | choices round,square",
      "pipe: undefined as written told value/wrong | text 20y | designation pipe_size | forms ‹across› or ‹across›x‹heavy›",
      "sized: 20x3",
      "quoted: 40",
      "plain: undefined as written told value/not-a-text | field plain | text 3 mm",
      "odd: undefined as written told value/not-a-text | field odd | text yes",
      "figure: undefined as written",
    ]
  `);
  expect(
    words('text: yes  yes: "yes"  day: "x"  form: a.b  worded: 3  pipe: "20"  plain: a.b'),
  ).toMatchInlineSnapshot(`
    [
      "text: undefined as written told value/not-a-text | field text | text yes",
      "yes: undefined as written told value/wrong yes-no | field yes | text "yes"",
      "day: undefined as written told value/wrong date | field day | text "x"",
      "form: undefined as written told value/not-a-choice | field form | text a.b | choices round,square",
      "worded: undefined as written told value/not-a-choice | field worded | text 3 | choices round,square",
      "pipe: 20 as written",
      "sized: 20x3",
      "quoted: 40",
      "plain: undefined as written told value/not-a-text | field plain | text a.b",
      "odd: undefined",
      "figure: undefined",
    ]
  `);
});
