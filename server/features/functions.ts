/**
 * The built-in functions of formulas: what they take and give, for hovers, completion and
 * signature help.
 *
 *     functions.get("atan2")   →   { takes: ["y", "x"], says: "…" }
 *
 * Must not know: how functions are worked out.
 */
import { functionNames } from "../model/calls";

export interface FunctionHelp {
  readonly takes: readonly { readonly name: string; readonly says: string }[];
  /** The last parameter may be repeated. */
  readonly repeats?: boolean;
  /** Parameters from this one on may be left out. */
  readonly optionalFrom?: number;
  readonly says: string;
}

export const functions: ReadonlyMap<string, FunctionHelp> = new Map(
  Object.entries({
    abs: one("value", "a figure of any measure", "its size without the sign"),
    sqrt: one("value", "a figure, not negative", "the square root"),
    min: many("value", "figures of one measure, or a list", "the least of them"),
    max: many("value", "figures of one measure, or a list", "the greatest of them"),
    sum: many("values", "a list, such as a field of every part", "all of them together"),
    mean: many("values", "a list of figures", "their average"),
    count: many("values", "a list", "how many there are"),
    exp: one("value", "a plain number", "e to that power"),
    log: one("value", "a plain number above 0", "its natural logarithm"),
    sin: one("angle", "an angle", "its sine"),
    cos: one("angle", "an angle", "its cosine"),
    tan: one("angle", "an angle", "its tangent"),
    asin: one("value", "a plain number from -1 to 1", "the angle that has it as sine"),
    acos: one("value", "a plain number from -1 to 1", "the angle that has it as cosine"),
    atan: one("value", "a plain number", "the angle that has it as tangent"),
    atan2: {
      takes: [
        { name: "y", says: "the rise" },
        { name: "x", says: "the run, in the same measure" },
      ],
      says: "the angle of the slope",
    },
    round: stepped("the nearest step"),
    floor: stepped("the next step below"),
    ceil: stepped("the next step above"),
    each: one(
      "kind",
      "the name of a kind",
      "every thing of that kind; `each(part).price` is the price of each",
    ),
    given: one("field", "a field", "yes where the builder wrote a value for it"),
    item: {
      takes: [
        { name: "list", says: "a list" },
        { name: "number", says: "which one, counted from 1" },
      ],
      says: "one of a list",
    },
    stack: kit("what the fewest pieces of the kit add up to, as near as is allowed"),
    stack_count: kit("how many pieces that takes"),
  } satisfies Record<string, FunctionHelp>),
);

/** `abs(value)`: its size without the sign. */
export function functionHelp(name: string): string {
  const help = functions.get(name);
  if (help === undefined) return functionNames.includes(name) ? `function \`${name}\`` : "";
  const takes = help.takes.map((parameter) => `- ${parameter.name}: ${parameter.says}`);
  return [`\`${signature(name, help)}\`: ${help.says}`, "", ...takes].join("\n");
}

/** `round(value, [step])` */
export function signature(name: string, help: FunctionHelp): string {
  const names = help.takes.map((parameter, index) =>
    help.optionalFrom !== undefined && index >= help.optionalFrom
      ? `[${parameter.name}]`
      : parameter.name,
  );
  return `${name}(${[...names, ...(help.repeats === true ? ["…"] : [])].join(", ")})`;
}

// ───────────────────────────── helpers ─────────────────────────────

function one(name: string, takes: string, says: string): FunctionHelp {
  return { takes: [{ name, says: takes }], says };
}

function many(name: string, takes: string, says: string): FunctionHelp {
  return { takes: [{ name, says: takes }], repeats: true, says };
}

function kit(says: string): FunctionHelp {
  return {
    takes: [
      { name: "sizes", says: "a list of sizes" },
      { name: "wanted", says: "the size to meet" },
      { name: "allowed", says: "what may be left over" },
      { name: "quantities", says: "how many there are of each size" },
    ],
    optionalFrom: 3,
    says,
  };
}

function stepped(says: string): FunctionHelp {
  return {
    takes: [
      { name: "value", says: "a figure" },
      { name: "step", says: "the step, 1 where it is left out" },
    ],
    optionalFrom: 1,
    says,
  };
}
