/**
 * What is wrong with formulas and conditions: values where others belong, calls, tables.
 *
 * Must not know: how formulas are compiled.
 */
import { type Dimension, describeDimension, type Measure, measureInWords } from "../units";
import type { Family } from "./said";

/** A value as it is called in a sentence. */
type Spoken = { readonly word: string | boolean } | { readonly dimension: Dimension };

export const formulaFindings = {
  "value/not-a-number word": () => ({ message: "a number is expected here, not a word" }),
  "value/not-a-number function": ({ name }: { readonly name: string }) => ({
    message: `\`${name}\` takes figures`,
  }),
  "value/list several": () => ({
    message: "several values stand here where one is expected",
    hint: "put them together with sum, mean, min, max or count, or pick one with item",
  }),
  "value/list key": () => ({ message: "a table takes one value for each of its keys" }),
  "value/tolerance-in-formula": () => ({
    message: "a tolerance belongs to a given value, it cannot stand in a formula",
    hint: "write the figure with its tolerance into a field of its own, and name that field here",
  }),
  "value/ask-in-formula": () => ({
    message: "`?` asks for a whole value, it cannot stand in a formula",
    hint: "write `?` after the name of the field that is wanted",
  }),
  "value/condition-in-formula": ({ operator }: { readonly operator: string }) => ({
    message:
      operator === "not"
        ? "`not` belongs in a condition"
        : `\`${operator}\` belongs in a condition: after \`if\` or \`when\`, or in a check`,
  }),
  "value/not-a-condition": () => ({
    message: "a condition is expected here: a comparison such as `… >= 1/2 in`",
  }),
  "value/clash": ({ left, right }: { readonly left: Spoken; readonly right: Spoken }) => ({
    message: `a word and a figure cannot be compared: ${spoken(left)} on the left, ${spoken(right)} on the right`,
  }),
  "value/thing-in-formula": ({ title }: { readonly title: string }) => ({
    message: `\`${title}\` is a thing, not a figure: name one of its fields`,
  }),
  "value/arguments": ({
    name,
    least,
    most,
    count,
  }: {
    readonly name: string;
    readonly least: number;
    readonly most: number;
    /** How many there are. */
    readonly count: number;
  }) => {
    const wanted =
      least === most ? `${least}` : most > 9 ? `${least} or more` : `${least} or ${most}`;
    return {
      message: `\`${name}\` takes ${wanted === "1 or more" ? "one value or more" : `${wanted} ${wanted === "1" ? "value" : "values"}`}, not ${count === 0 ? "none" : count}`,
    };
  },
  "value/arguments step": ({ name }: { readonly name: string }) => ({
    message: `\`${name}\` needs the step to round to`,
    hint: `write for example \`${name}(x, 1 mm)\``,
  }),
  "value/arguments item": () => ({
    message: "`item` takes a list and a place in it, counted from 1",
  }),
  "value/arguments stack": ({ name }: { readonly name: string }) => ({
    message: `\`${name}\` takes a list of sizes, the wanted size, what may be left over and, if you like, how many there are of each size`,
  }),
  "value/arguments given": () => ({ message: "`given` takes the name of one field" }),
  "value/arguments each": () => ({ message: "`each` takes the name of one kind" }),
  "table/use columns": ({
    table,
    column,
    columns,
  }: {
    readonly table: string;
    /** The one that is asked for, if any is. */
    readonly column?: string;
    readonly columns: readonly string[];
  }) => {
    const ways = columns.map((each) => `${table}.${each}`).join(" or ");
    return {
      message:
        column === undefined
          ? `\`${table}\` has several columns, say which one is wanted: ${ways}`
          : `\`${table}\` has no column \`${column}\`: write ${ways}`,
    };
  },
  "table/use keys": ({
    table,
    keys,
    count,
  }: {
    readonly table: string;
    readonly keys: readonly string[];
    readonly count: number;
  }) => ({
    message: `\`${table}\` is looked up by ${keys.join(" and ")}, ${count === 0 ? "no value is" : count === 1 ? "one value is" : `${count} values are`} given`,
  }),
  "table/use no-key": ({ table }: { readonly table: string }) => ({
    message: `\`${table}\` has no key`,
  }),
  "table/use measure": ({
    table,
    column,
    measure,
    found,
  }: {
    readonly table: string;
    readonly column: string;
    readonly measure: Measure;
    /** What stands there; nothing for a word. */
    readonly found?: Dimension;
  }) => ({
    message: `\`${table}\` takes ${measureInWords(measure)} for \`${column}\`, not ${found === undefined ? "a word" : describeDimension(found)}`,
  }),
  "table/use word": ({ table, column }: { readonly table: string; readonly column: string }) => ({
    message: `\`${table}\` takes a word for \`${column}\``,
  }),
  "table/no-row": ({ path, table, missed }: NoRow & { readonly path?: string }) => ({
    severity: "warning",
    message: `${path === undefined ? "" : `${path}: `}the table “${table}” has no row${whyInWords(missed)}`,
    hint: "give the figure itself, from its maker's data",
  }),
} satisfies Family;

/** A table that is silent about what it is asked for. */
export interface NoRow {
  readonly table: string;
  readonly missed:
    | { readonly is: "values" }
    | { readonly is: "value" }
    | { readonly is: "word"; readonly word: string | boolean }
    /** A plain number; `from`, `to` where it lies outside of what the table tells of. */
    | {
        readonly is: "number";
        readonly number: number;
        readonly from?: number;
        readonly to?: number;
      }
    | { readonly is: "empty"; readonly column: string };
}

// ───────────────────────────── helpers ─────────────────────────────

function whyInWords(missed: NoRow["missed"]): string {
  switch (missed.is) {
    case "values":
      return " for these values";
    case "value":
      return " for this value";
    case "word":
      return ` for “${missed.word}”`;
    case "number": {
      const outside =
        missed.from === undefined ? "" : `: it goes from ${missed.from} to ${missed.to}`;
      return ` for ${Number(missed.number.toPrecision(6))}${outside}`;
    }
    case "empty":
      return ` for this: its place in \`${missed.column}\` is empty`;
  }
}

/** "the word fixed", "a length". */
function spoken(value: Spoken): string {
  if ("dimension" in value) return describeDimension(value.dimension);
  if (typeof value.word === "boolean") return value.word ? "yes" : "no";
  return `the word “${value.word}”`;
}
