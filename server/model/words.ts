/**
 * Values that are no figures: texts, choices, dates, yes or no, and designations with their parts.
 *
 *     size: 31x10.50R15   →   the word “31x10.50R15”, of which each part is a figure or a word
 *
 * Must not know: formulas, equations.
 */

import { textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Findings } from "../findings/collected";
import type { Fact, Found } from "../findings/worded";
import { Few } from "../keep/few";
import { SmallMap } from "../keep/small-map";
import type { ThingId } from "../names/ids";
import type { Binder } from "./binder";
import type { FieldDefinition } from "./definition";
import { type DesignationParts, formsInWords, missingUnits, readDesignation } from "./designation";
import { nearest } from "./spelling";
import type { Entry, Thing } from "./thing";

/** What a field of words holds: as written, or else its default. */
export interface WordReading {
  readonly value?: string | boolean;
  readonly entry?: Entry;
  /** What is wrong with what is written. */
  readonly problem?: Found;
}

export function readWord(thing: Thing, field: FieldDefinition): WordReading {
  const entry = thing.entries.get(field.name);
  if (entry !== undefined) return { ...wordWritten(field, entry), entry };
  return field.default === undefined ? {} : { value: defaultWord(field, field.default) };
}

/** The parts of a designation, `undefined` where none is written (its parts are then unknown). */
export function designationOf(thing: Thing, field: FieldDefinition): DesignationParts | undefined {
  if (field.type.form !== "designation") return undefined;
  const { value } = readWord(thing, field);
  return typeof value === "string" ? readDesignation(field.type.designation, value) : undefined;
}

/** Words as they are read on behalf of one thing or line, each told of once where it is wrong. */
export class Words {
  /** The fields that were read and hold a word. */
  readonly read = new SmallMap<ThingId, Set<string>>();
  private readonly told = new Few<Entry>();

  constructor(
    private readonly binder: Binder,
    private readonly findings: Findings,
  ) {}

  word(thing: Thing, field: FieldDefinition): string | boolean | undefined {
    const { value, entry, problem } = readWord(thing, field);
    if (problem !== undefined && entry !== undefined && thing.top === this.binder.own) {
      if (this.told.add(entry)) this.findings.add(problem);
    }
    const { name } = field;
    this.binder.note(
      thing,
      (other) => {
        const same = other.field(name);
        return same === undefined ? undefined : readWord(other, same).value;
      },
      value,
    );
    if (value === undefined) return undefined;
    const fields = this.read.get(thing.id) ?? new Set<string>();
    this.read.set(thing.id, fields);
    fields.add(name);
    return value;
  }

  partsOf(thing: Thing, field: FieldDefinition): DesignationParts | undefined {
    if (field.type.form !== "designation") return undefined;
    const value = this.word(thing, field);
    return typeof value === "string" ? readDesignation(field.type.designation, value) : undefined;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function defaultWord(
  { type, anchor }: FieldDefinition,
  node: syntax.Expression,
): string | boolean | undefined {
  // `33.7` is a number as it stands, and a designation as it is written.
  if (type.form === "designation" && node.type !== "text")
    return textAt({ ...anchor, span: node.span }).trim();
  switch (node.type) {
    case "text":
      return node.value;
    case "yes_no":
      return node.value;
    case "path":
      return node.names.map((name) => name.text).join(".");
    case "designation":
    case "date":
      return node.text;
    default:
      return undefined;
  }
}

function wordWritten(field: FieldDefinition, entry: Entry): Omit<WordReading, "entry"> {
  const { value, anchor } = entry;
  const raw = textAt(anchor).trim();
  const wrong = (fact: Fact): Omit<WordReading, "entry"> => ({
    problem: { ...fact, anchor },
  });
  const told = { field: field.name, text: raw };
  switch (field.type.form) {
    case "text":
      return value.type === "text"
        ? { value: value.value }
        : wrong({ is: "value/not-a-text", ...told });
    case "yes_no":
      return value.type === "yes_no"
        ? { value: value.value }
        : wrong({ is: "value/wrong yes-no", ...told });
    case "date":
      return value.type === "date"
        ? { value: value.text }
        : wrong({ is: "value/wrong date", ...told });
    case "choice": {
      const name =
        value.type === "path"
          ? value.names.map((each) => each.text).join(".")
          : value.type === "text"
            ? value.value
            : raw;
      const { choices } = field.type;
      if (choices.includes(name)) return { value: name };
      const near = nearest(name, choices);
      return wrong({ is: "value/not-a-choice", field: field.name, text: name, choices, near });
    }
    case "designation": {
      const { designation } = field.type;
      const text = value.type === "text" ? value.value : raw;
      if (readDesignation(designation, text) !== undefined) return { value: text };
      const units = missingUnits(designation, raw);
      if (units.length > 0) return wrong({ is: "unit/missing designation", text: raw, units });
      const forms = formsInWords(designation);
      return wrong({ is: "value/wrong", text: raw, designation: designation.name, forms });
    }
    default:
      return {};
  }
}
