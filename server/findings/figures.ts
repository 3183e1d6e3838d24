/**
 * What is wrong with what is written into a field: units, words that are no figures, limits.
 *
 * Must not know: how anything is read.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Span } from "../../grammar/syntax";
import {
  type Dimension,
  describeDimension,
  type Measure,
  measureInWords,
  unitsInWords,
} from "../units";
import type { Fix } from "./finding";
import { didYouMean, type Misnamed, nearFix, orList, withArticle, written } from "./phrases";
import type { Family } from "./said";

/** A unit that does not do, in a figure of a measure. */
interface Unit {
  readonly unit: string;
  readonly measure: Measure;
  /** Units it may have been meant as, likeliest first. */
  readonly near: readonly string[];
  /** The unit of the figure it goes with, which then is likeliest. */
  readonly like?: string;
}

export const unitFindings = {
  "unit/missing": (
    facts: { readonly text: string; readonly measure: Measure; readonly like?: string },
    _,
    anchor,
  ) => {
    const { text, measure, like } = facts;
    const texts = measure.units.slice(0, 3).map((unit) => `${text} ${unit}`);
    return {
      message: `${text} needs a unit of ${measure.title}, such as ${unitsInWords(measure)}`,
      fixes: replacing(texts, like, anchor),
    };
  },
  "unit/missing column": ({
    text,
    measure,
    column,
  }: {
    readonly text: string;
    readonly measure: Measure;
    readonly column: string;
  }) => ({
    message: `${text} needs a unit of ${measure.title}, such as ${unitsInWords(measure)}`,
    hint: `write the unit once, after the column: \`${column}: ${measure.name} in ${measure.units[0] ?? ""}\``,
  }),
  "unit/missing designation": (
    { text, units }: { readonly text: string; readonly units: readonly string[] },
    _,
    anchor,
  ) => {
    const texts = units.map((unit) => `${text} ${unit}`);
    return {
      message: `the unit of \`${text}\` is missing: ${orList(texts.map((each) => `\`${each}\``))}`,
      fixes: texts.map((each) => written(each, each, anchor)),
    };
  },
  "unit/unknown": ({ unit, measure, near, like }: Unit, _, anchor) => ({
    message: `unknown unit \`${unit}\``,
    hint:
      meantUnits(near) ??
      (measure.units.length === 0
        ? "a plain number is expected here"
        : `units of ${measure.title} are ${unitsInWords(measure)}`),
    fixes: replacing(near, like, anchor),
  }),
  "unit/unknown in-formula": (
    { unit, near }: { readonly unit: string; readonly near: readonly string[] },
    _,
    anchor,
  ) => ({
    message: `unknown unit \`${unit}\``,
    hint: meantUnits(near),
    fixes: replacing(near, undefined, anchor),
  }),
  "unit/unknown column": (facts: Misnamed & { readonly unit: string }, _, anchor) => ({
    message: `unknown unit \`${facts.unit}\``,
    hint:
      didYouMean(facts) ??
      (facts.known === undefined || facts.known.length === 0
        ? undefined
        : `known here: ${facts.known.join(", ")}`),
    fixes: nearFix(facts, anchor),
  }),
  "unit/wrong plain": ({
    unit,
    dimension,
  }: {
    readonly unit: string;
    readonly dimension: Dimension;
  }) => ({
    message: `a plain number is expected here, not ${describeDimension(dimension)} (\`${unit}\`)`,
  }),
  "unit/wrong": (
    {
      unit,
      at,
      measure,
      dimension,
      near,
      meant,
      like,
    }: Unit & {
      readonly at: Span;
      readonly dimension: Dimension;
      /** The one of `near` it was most likely meant as. */
      readonly meant?: string;
    },
    _,
    anchor,
  ) => ({
    message: `${measureInWords(measure)} is expected here, \`${unit}\` is a unit of ${nameOf(dimension)}`,
    hint:
      meant === undefined
        ? `units of ${measure.title} are ${unitsInWords(measure)}`
        : `is \`${meant}\` meant?`,
    fixes: replacing(near, like, { ...anchor, span: at }),
  }),
  "unit/wrong column": ({
    column,
    unit,
    measure,
    dimension,
  }: {
    readonly column: string;
    readonly unit: string;
    readonly measure: Measure;
    readonly dimension: Dimension;
  }) => ({
    message: `\`${column}\` holds ${measureInWords(measure)}, \`${unit}\` is a unit of ${nameOf(dimension)}`,
    hint: unitsOf(measure),
  }),
  "unit/wrong cell": ({ unit, measure }: { readonly unit: string; readonly measure: Measure }) => ({
    message: `\`${unit}\` is not a unit of ${measure.title}`,
    hint: unitsOf(measure),
  }),
  "unit/wrong shown": ({
    unit,
    measure,
  }: {
    readonly unit: string;
    readonly measure: Measure;
  }) => ({ message: `\`${unit}\` is not a unit of ${measure.title}` }),
  "unit/wrong no-figure": () => ({ message: "only a figure has units to be shown in" }),
  "unit/clash parts": () => ({ message: "the parts of this quantity do not measure the same" }),
  "unit/clash sides": ({
    sign,
    left,
    right,
  }: {
    /** An operator, or the name of a function whose values clash. */
    readonly sign: string;
    readonly left: Dimension;
    readonly right: Dimension;
  }) => {
    const [one, other] = [describeDimension(left), describeDimension(right)];
    const plain = left.key === "" || right.key === "";
    return {
      message: /^\w/.test(sign)
        ? `the values of \`${sign}\` do not measure the same: ${one} and ${other}`
        : `the two sides of \`${sign}\` do not measure the same: ${one} on the left, ${other} on the right`,
      hint: plain ? "if a figure stands there without its unit, write the unit" : undefined,
    };
  },
  "unit/clash exponent": ({ dimension }: { readonly dimension: Dimension }) => ({
    message: `an exponent is a plain number, not ${describeDimension(dimension)}`,
  }),
  "unit/clash power": ({ dimension }: { readonly dimension: Dimension }) => ({
    message: `${describeDimension(dimension)} can only be raised to a power that is written as a number`,
  }),
  "unit/clash argument": ({
    name,
    angle,
    dimension,
  }: {
    readonly name: string;
    readonly angle: boolean;
    readonly dimension: Dimension;
  }) => ({
    message: `\`${name}\` takes ${angle ? "an angle" : "a plain number"}, not ${describeDimension(dimension)}`,
  }),
  "unit/clash": ({
    field,
    measure,
    dimension,
  }: {
    readonly field: string;
    readonly measure: Measure;
    readonly dimension: Dimension;
  }) => ({
    message: `\`${field}\` is ${measureInWords(measure)}, this formula gives ${describeDimension(dimension)}`,
    hint: "check the units of its parts",
  }),
  "unit/clash default": ({
    field,
    measure,
    dimension,
  }: {
    readonly field: string;
    readonly measure: Measure;
    readonly dimension: Dimension;
  }) => ({
    message: `\`${field}\` is ${measureInWords(measure)}, this default gives ${describeDimension(dimension)}`,
  }),
} satisfies Family;

export const valueFindings = {
  "value/not-a-number": ({
    measure,
    found,
  }: {
    readonly measure: Measure;
    /** What stands there, as it is called or as it is written. */
    readonly found: "a text" | "yes or no" | "a date" | "a word" | { readonly written: string };
  }) => ({
    message: `${measureInWords(measure)} is expected here, not ${typeof found === "string" ? found : `\`${found.written}\``}`,
    hint:
      measure.units[0] === undefined
        ? "write a plain number"
        : `write for example \`2.5 ${measure.units[0]}\``,
  }),
  "value/not-a-number result": ({
    measure,
    word,
  }: {
    readonly measure: Measure;
    readonly word: string | boolean;
  }) => ({ message: `${measureInWords(measure)} is expected here, not the word “${word}”` }),
  "value/not-a-number in-list": ({ measure }: { readonly measure: Measure }) => ({
    message: `a list holds written figures: ${measureInWords(measure)} is expected here`,
  }),
  "value/not-a-number near": () => ({
    message:
      "behind `near` stands a written figure, or two limits: `? near 30 deg`, `? near 0..90 deg`",
  }),
  "value/not-whole": ({ text }: { readonly text: string }) => ({
    message: `a whole number is expected here, not ${text}`,
  }),
  "value/list": () => ({ message: "one value is expected here, not a list" }),
  "value/limits order": () => ({
    message: "the lower limit is above the upper one",
    hint: "write the lower limit first, then `..`, then the upper one",
  }),
  "value/limits outside": () => ({
    message: "the value lies outside of its own limits",
    hint: "check the value and its limits against the drawing",
  }),
  "value/limits negative": () => ({
    message: "a ± has no sign of its own: it is how far off on either side",
    hint: "take the minus away, or write both limits: `22 15/16..23 in`",
  }),
  "value/limits formula": () => ({ message: "a range has two written limits, no formulas" }),
  "value/not-a-text": (
    { field, text }: { readonly field: string; readonly text: string },
    _,
    at,
  ) => ({
    message: `\`${field}\` takes a text in double quotes`,
    fixes: [written(`"${text}"`, JSON.stringify(text), at, true)],
  }),
  "value/wrong yes-no": ({ field, text }: { readonly field: string; readonly text: string }) => ({
    message: `\`${field}\` takes yes or no, not \`${text}\``,
  }),
  "value/wrong date": ({ field, text }: { readonly field: string; readonly text: string }) => ({
    message: `\`${field}\` takes a date, not \`${text}\``,
    hint: "write it as year-month-day: 2026-03-14",
  }),
  "value/wrong": ({
    text,
    designation,
    forms,
  }: {
    readonly text: string;
    readonly designation: string;
    readonly forms: string;
  }) => ({
    message: `\`${text}\` is not ${withArticle(designation)}`,
    hint: `it is written ${forms}`,
  }),
  "value/wrong default": ({
    text,
    designation,
    forms,
  }: {
    readonly text: string;
    readonly designation: string;
    readonly forms: string;
  }) => ({
    message: `the default \`${text}\` is not a ${designation.replaceAll("_", " ")}`,
    hint: `it is written ${forms}`,
  }),
  "value/not-a-choice": (
    facts: Misnamed & {
      readonly field: string;
      readonly text: string;
      readonly choices: readonly string[];
    },
    _,
    anchor,
  ) => ({
    message: `\`${facts.field}\` is ${orList(facts.choices)}, not \`${facts.text}\``,
    hint: didYouMean(facts),
    fixes: facts.near === undefined ? [] : [written(facts.near, facts.near, anchor, true)],
  }),
  "value/not-a-choice default": (
    facts: Misnamed & {
      readonly field: string;
      readonly text: string;
      readonly choices: readonly string[];
    },
    _,
    anchor,
  ) => ({
    message: `the default \`${facts.text}\` is not among the choices of \`${facts.field}\``,
    hint: `choices are ${facts.choices.join(", ")}`,
    fixes: facts.near === undefined ? [] : [written(facts.near, facts.near, anchor)],
  }),
} satisfies Family;

// ───────────────────────────── helpers ─────────────────────────────

function meantUnits(near: readonly string[]): string | undefined {
  return near.length === 0
    ? undefined
    : `did you mean ${near.map((symbol) => `\`${symbol}\``).join(" or ")}?`;
}

function unitsOf(measure: Measure): string | undefined {
  return measure.units.length === 0
    ? undefined
    : `units of ${measure.title} are ${unitsInWords(measure)}`;
}

/** "length" of "a length". */
function nameOf(dimension: Dimension): string {
  return describeDimension(dimension).replace(/^(a|an) /, "");
}

/** Of several ways the one in the unit `like`, where it is among them. */
function replacing(texts: readonly string[], like: string | undefined, anchor: Anchor): Fix[] {
  const alike =
    like === undefined || like === ""
      ? []
      : texts.filter((text) => text.endsWith(like)).slice(0, 1);
  const kept = alike.length > 0 ? alike : texts;
  return kept.map((text) => written(text, text, anchor, kept.length === 1));
}
