/** Tables as they are declared: cells in SI, and what a table answers to what it is asked by. */
import { describe, expect, test } from "vitest";
import { type KeyValue, lookUp } from "../../server/model/look-up";
import { dimensionless, measureNamed } from "../../server/units";
import { declared, typeText } from "./declared";

const tables = `table loads "Loads" {
  key at: length in mm
  load: mass in kg
  lookup linear
  row 0, 0
  row 20, 400
  row 10, 100
}
table grades {
  key name: text
  key at: length in mm
  load: mass in kg
  grade: text
  lookup step
  row "a", 0, 1, "x"
  row a, 5, 2, "y"
  row b.c, 0, 9, 4x4
  row 7, 1 in, 3, 5
}
table exact "Exact" {
  key turns: number
  key on: yes_no
  heat: temperature in degC
  share: ratio
  count: count
  source "a list"
  row 1, yes, 20, 0.5, 3
  row 2, no, -10, 50 %, 4
  row -3, no, -10 degF, -1 %, 5
}
`;

describe("a table", () => {
  test("has its columns and rows in SI", () => {
    const { vocabulary, told } = declared(tables);
    expect(told).toEqual([]);
    expect(
      [...vocabulary.tables.values()].map(({ name, title, columns, rows, lookup, remarks }) => [
        name,
        title,
        columns.map(
          ({ key, name: column, type }) => `${key ? "key " : ""}${column} ${typeText(type)}`,
        ),
        rows.map((row) =>
          row.map((cell) =>
            typeof cell === "number" ? Number(cell.toPrecision(9)) : (cell ?? null),
          ),
        ),
        lookup,
        remarks,
      ]),
    ).toEqual([
      [
        "loads",
        "Loads",
        ["key at length", "load mass"],
        [
          [0, 0],
          [0.02, 400],
          [0.01, 100],
        ],
        "linear",
        { lookup: "linear" },
      ],
      [
        "grades",
        "grades",
        ["key name text", "key at length", "load mass", "grade text"],
        [
          ["a", 0, 1, "x"],
          ["a", 0.005, 2, "y"],
          ["b.c", 0, 9, "4x4"],
          ["7", 0.0254, 3, "5"],
        ],
        "step",
        { lookup: "step" },
      ],
      [
        "exact",
        "Exact",
        ["key turns number", "key on yes_no", "heat temperature", "share ratio", "count count"],
        // −10 °F = 249.8166… K
        [
          [1, null, 293.15, 0.5, 3],
          [2, null, 263.15, 0.5, 4],
          [-3, null, 249.816667, -0.01, 5],
        ],
        "exact",
        { source: "a list" },
      ],
    ]);
  });

  test("is told of where it cannot be read", () => {
    const { vocabulary, told } = declared(`table t {
  key a: number
  b: mass in kgg
  c: mass in in
  d: mass
  e: mass in kg
  f: nothing
  lookup cubic
  row 1, 2, 3, 4, 5, 6
  row 1, 2, 3, 4 kg, 5 in, 6
  row 1, 2, 3, 4 kg, "five", 6
  row 1, 2, 3, 4 kg
  row 1, 2, 3, 4 kg, 5, 6, 7
  row 1, 2, 3, -4 kg, -5, wide.deep
  row -1, 2, 3, wide, 5, 6
}
table t { key a: number  b: number }
`);
    expect(told).toMatchInlineSnapshot(`
      [
        "name/unknown-type \`nothing\`",
        "unit/unknown column \`kgg\`",
        "unit/wrong column \`in\`",
        "unit/missing column \`4\`",
        "unit/wrong cell \`in\`",
        "table/row cell \`"five"\`",
        "table/row \`row 1, 2, 3, 4 kg\`",
        "table/row \`row 1, 2, 3, 4 kg, 5, 6, 7\`",
        "table/row cell \`wide\`",
        "name/unknown-word lookup \`cubic\`",
        "name/duplicate declaration \`t\`",
      ]
    `);
    expect(
      [...vocabulary.tables.values()].map(({ rows, lookup }) => [rows, lookup]),
    ).toMatchInlineSnapshot(`
      [
        [
          [
            [
              1,
              undefined,
              undefined,
              undefined,
              5,
              "6",
            ],
            [
              1,
              undefined,
              undefined,
              4,
              undefined,
              "6",
            ],
            [
              1,
              undefined,
              undefined,
              4,
              undefined,
              "6",
            ],
            [
              1,
              undefined,
              undefined,
              4,
              undefined,
              undefined,
            ],
            [
              1,
              undefined,
              undefined,
              4,
              5,
              "6",
            ],
            [
              1,
              undefined,
              undefined,
              -4,
              -5,
              "wide.deep",
            ],
            [
              -1,
              undefined,
              undefined,
              undefined,
              5,
              "6",
            ],
          ],
          "exact",
        ],
      ]
    `);
  });

  test("answers by its keys: at once, by the solver, later, or not at all", () => {
    const { vocabulary } = declared(tables);
    const length = measureNamed("length")?.dimension ?? dimensionless;
    const slot = { op: "slot", index: 0 } as const;
    const word = (value: string | boolean): KeyValue => ({ is: "word", value });
    const number = (known?: number, dimension = dimensionless, zero = false): KeyValue => ({
      is: "number",
      expression: slot,
      dimension,
      zero,
      ...(known === undefined ? {} : { known }),
    });
    const asked = (table: string, column: string | undefined, ...keys: KeyValue[]): unknown => {
      const found = vocabulary.tables.get(table);
      if (found === undefined) throw new Error(`${table} is declared`);
      const { expression, measure, ...rest } = lookUp(found, column, keys);
      const { misuse, missed } = rest;
      if (misuse !== undefined) {
        const { is, ...facts } = misuse as { is: string; measure?: { name: string } };
        return {
          is,
          ...facts,
          ...("measure" in facts ? { measure: facts.measure?.name } : {}),
          ...("found" in facts ? { found: (facts.found as { key: string }).key } : {}),
        };
      }
      if (missed !== undefined) return missed;
      if (expression === undefined) return rest;
      const what =
        expression.op === "number"
          ? Number(expression.value.toPrecision(9))
          : expression.op === "lookup"
            ? `${expression.curve.name} ${expression.curve.method} ${expression.curve.keys} ${expression.curve.values}`
            : expression.op;
      return measure === undefined ? what : [what, measure.name];
    };
    // Straight between the points: 100 + (400 - 100) / 2 at 15 mm.
    expect(asked("loads", undefined, number(0.015, length))).toEqual([250, "mass"]);
    expect(asked("loads", "load", number(0.02, length))).toEqual([400, "mass"]);
    expect(asked("loads", "load", number(0, dimensionless, true))).toEqual([0, "mass"]);
    expect(asked("loads", "load", number(undefined, length))).toEqual([
      "loads linear 0,0.01,0.02 0,100,400",
      "mass",
    ]);
    expect(asked("loads", undefined, number(0.021, length))).toEqual({ is: "value" });
    expect(asked("loads", "weight", number(0.021, length))).toEqual({
      is: "table/use columns",
      table: "loads",
      column: "weight",
      columns: ["load"],
    });
    expect(asked("loads", "at", number(0.021, length))).toMatchObject({ is: "table/use columns" });
    expect(asked("loads", undefined)).toEqual({
      is: "table/use keys",
      table: "loads",
      keys: ["at"],
      count: 0,
    });
    expect(asked("loads", undefined, word("x"), word("y"))).toMatchObject({ count: 2 });
    expect(asked("loads", undefined, number(1))).toEqual({
      is: "table/use measure",
      table: "loads",
      column: "at",
      measure: "length",
      found: "",
    });
    expect(asked("loads", undefined, word("x"))).toEqual({
      is: "table/use measure",
      table: "loads",
      column: "at",
      measure: "length",
    });
    expect(asked("grades", undefined, word("a"), number(0, length))).toMatchObject({
      is: "table/use columns",
      columns: ["load", "grade"],
    });
    expect(asked("grades", "load", number(1), number(0, length))).toEqual({
      is: "table/use word",
      table: "grades",
      column: "name",
    });
    // The value of the key below it holds up to the next; below the first there is none.
    expect(asked("grades", "load", word("a"), number(0.0049, length))).toEqual([1, "mass"]);
    expect(asked("grades", "load", word("a"), number(9, length))).toEqual([2, "mass"]);
    expect(asked("grades", "load", word("a"), number(-1, length))).toEqual({ is: "value" });
    expect(asked("grades", "load", word("a"), number(undefined, length))).toEqual([
      "grades step 0,0.005 1,2",
      "mass",
    ]);
    expect(asked("grades", "load", word("none"), number(0, length))).toEqual({ is: "values" });
    expect(asked("grades", "load", word("7"), number(0.0254, length))).toEqual([3, "mass"]);
    expect(asked("grades", "grade", word("a"), number(0.005, length))).toEqual({ word: "y" });
    expect(asked("grades", "grade", word("a"), number(0.005 * (1 + 1e-10), length))).toEqual({
      word: "y",
    });
    expect(asked("grades", "grade", word("a"), number(0.005 * (1 + 1e-8), length))).toEqual({
      is: "value",
    });
    expect(asked("grades", "grade", word("a"), number(0, length))).toEqual({ word: "x" });
    expect(asked("grades", "grade", word("a"), number(undefined, length))).toEqual({ later: true });
    expect(asked("grades", "grade", word("b.c"), number(0, length))).toEqual({ word: "4x4" });
    expect(asked("exact", "count", number(2), word(false))).toEqual({ is: "word", word: false });
    expect(asked("exact", "count", number(undefined), word("x"))).toEqual({ later: true });
  });

  test("says what numbers it goes over where it has no such key", () => {
    const { vocabulary } = declared(`table turns {
  key turns: number
  load: mass in kg
  row 1, 3
  row 4, 5
}
table empty { key a: number  b: number }
table keyless { b: number  row 1 }
`);
    const asked = (table: string, ...known: number[]) => {
      const found = vocabulary.tables.get(table);
      return (
        found &&
        lookUp(
          found,
          undefined,
          known.map((value) => ({
            is: "number",
            expression: { op: "number", value },
            dimension: dimensionless,
            known: value,
          })),
        )
      );
    };
    expect(asked("turns", 5)).toEqual({ missed: { is: "number", number: 5, from: 1, to: 4 } });
    expect(asked("turns", 0)).toEqual({ missed: { is: "number", number: 0, from: 1, to: 4 } });
    expect(asked("turns", 2)).toEqual({ missed: { is: "number", number: 2 } });
    expect(asked("turns", 1)?.expression).toEqual({ op: "number", value: 3 });
    expect(asked("turns", 4)?.expression).toEqual({ op: "number", value: 5 });
    expect(asked("empty", 4)).toEqual({ missed: { is: "values" } });
    expect(asked("keyless")).toEqual({ misuse: { is: "table/use no-key", table: "keyless" } });
  });
});
