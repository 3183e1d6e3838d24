/**
 * Values that are no figures: texts, choices, dates, yes or no, and designations with their parts.
 *
 *     size: 31x10.50R15   →   the word “31x10.50R15”, of which each part is a figure or a word
 *
 * Must not know: formulas, equations.
 */
import type * as syntax from "../../grammar/syntax";
import { textAt } from "./anchor";
import type { Binder } from "./binder";
import type { FieldDefinition } from "./definition";
import { type DesignationParts, formsInWords, missingUnits, readDesignation } from "./designation";
import type { Finding, Findings } from "./finding";
import type { ThingId } from "./ids";
import { didYouMean, nearest, withArticle } from "./spelling";
import type { Entry, Thing } from "./thing";

/** What a field of words holds: as written, or else its default. */
export interface WordReading {
  readonly value?: string | boolean;
  readonly entry?: Entry;
  /** What is wrong with what is written. */
  readonly problem?: Finding;
}

export function readWord(thing: Thing, field: FieldDefinition): WordReading {
  const entry = thing.entries.get(field.name);
  if (entry !== undefined) return { ...wordWritten(field, entry), entry };
  return field.default === undefined ? {} : { value: defaultWord(field.default) };
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
  readonly read = new Map<ThingId, Set<string>>();
  private readonly told = new Set<Entry>();

  constructor(
    private readonly binder: Binder,
    private readonly findings: Findings,
  ) {}

  word(thing: Thing, field: FieldDefinition): string | boolean | undefined {
    const { value, entry, problem } = readWord(thing, field);
    if (problem !== undefined && entry !== undefined && thing.top === this.binder.own) {
      if (!this.told.has(entry)) this.findings.add(problem);
      this.told.add(entry);
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

/** "fixed, sliding or floating" */
export function orList(words: readonly string[]): string {
  return words.length < 2
    ? words.join("")
    : `${words.slice(0, -1).join(", ")} or ${words[words.length - 1]}`;
}

// ───────────────────────────── helpers ─────────────────────────────

function defaultWord(node: syntax.Expression): string | boolean | undefined {
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
  const wrong = (message: string, hint?: string): Omit<WordReading, "entry"> => ({
    problem: { code: "value/wrong", severity: "error", message, hint, anchor },
  });
  switch (field.type.form) {
    case "text":
      if (value.type === "text") return { value: value.value };
      return {
        problem: {
          code: "value/not-a-text",
          severity: "error",
          message: `\`${field.name}\` takes a text in double quotes`,
          anchor,
          fixes: [
            {
              title: `write "${raw}"`,
              edits: [{ anchor, text: JSON.stringify(raw) }],
              preferred: true,
            },
          ],
        },
      };
    case "yes_no":
      return value.type === "yes_no"
        ? { value: value.value }
        : wrong(`\`${field.name}\` takes yes or no, not \`${raw}\``);
    case "date":
      return value.type === "date"
        ? { value: value.text }
        : wrong(
            `\`${field.name}\` takes a date, not \`${raw}\``,
            "write it as year-month-day: 2026-03-14",
          );
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
      return {
        problem: {
          code: "value/not-a-choice",
          severity: "error",
          message: `\`${field.name}\` is ${orList(choices)}, not \`${name}\``,
          hint: didYouMean(name, choices),
          anchor,
          fixes:
            near === undefined
              ? []
              : [{ title: `write ${near}`, edits: [{ anchor, text: near }], preferred: true }],
        },
      };
    }
    case "designation": {
      const parts = readDesignation(
        field.type.designation,
        value.type === "text" ? value.value : raw,
      );
      if (parts !== undefined) return { value: value.type === "text" ? value.value : raw };
      const units = missingUnits(field.type.designation, raw);
      if (units.length > 0) {
        return {
          problem: {
            code: "unit/missing",
            severity: "error",
            message: `the unit of \`${raw}\` is missing: ${orList(units.map((unit) => `\`${raw} ${unit}\``))}`,
            anchor,
            fixes: units.map((unit) => ({
              title: `write ${raw} ${unit}`,
              edits: [{ anchor, text: `${raw} ${unit}` }],
            })),
          },
        };
      }
      return wrong(
        `\`${raw}\` is not ${withArticle(field.type.designation.name)}`,
        `it is written ${formsInWords(field.type.designation)}`,
      );
    }
    default:
      return {};
  }
}
