/**
 * Values that are no figures: texts, choices, dates, yes or no, and designations with their parts.
 *
 *     size: 31x10.50R15   →   the word “31x10.50R15”, of which each part is a figure or a word
 *
 * Must not know: formulas, equations.
 */
import type * as syntax from "../../grammar/syntax";
import { textAt } from "./anchor";
import type { FieldDefinition } from "./definition";
import { type DesignationParts, formsInWords, missingUnits, readDesignation } from "./designation";
import type { Findings } from "./finding";
import type { Word } from "./model";
import { didYouMean, nearest, withArticle } from "./spelling";
import type { Entry, Thing } from "./thing";

/** Words of a build, each read once. */
export class Words {
  /** By path, as far as they have been asked for. */
  readonly known = new Map<string, Word>();
  private readonly designations = new Map<string, DesignationParts | undefined>();

  constructor(private readonly findings: Findings) {}

  /** What a field of words holds: as written, or else its default. */
  word(thing: Thing, field: FieldDefinition): string | boolean | undefined {
    const path = `${thing.path}.${field.name}`;
    const before = this.known.get(path);
    if (before !== undefined) return before.value;
    const entry = thing.entries.get(field.name);
    const node = entry?.value ?? field.default;
    if (node === undefined) return undefined;
    const value = entry === undefined ? defaultWord(node) : this.readWord(field, entry);
    if (value === undefined) return undefined;
    this.known.set(path, { thing, field, value, entry, assumed: entry === undefined });
    return value;
  }

  private readWord(field: FieldDefinition, entry: Entry): string | boolean | undefined {
    const { value, anchor } = entry;
    const raw = textAt(anchor).trim();
    const wrong = (message: string, hint?: string): undefined => {
      this.findings.add({ code: "value/wrong", severity: "error", message, hint, anchor });
      return undefined;
    };
    switch (field.type.form) {
      case "text":
        if (value.type === "text") return value.value;
        this.findings.add({
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
        });
        return undefined;
      case "yes_no":
        return value.type === "yes_no"
          ? value.value
          : wrong(`\`${field.name}\` takes yes or no, not \`${raw}\``);
      case "date":
        return value.type === "date"
          ? value.text
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
        if (choices.includes(name)) return name;
        const near = nearest(name, choices);
        this.findings.add({
          code: "value/not-a-choice",
          severity: "error",
          message: `\`${field.name}\` is ${orList(choices)}, not \`${name}\``,
          hint: didYouMean(name, choices),
          anchor,
          fixes:
            near === undefined
              ? []
              : [{ title: `write ${near}`, edits: [{ anchor, text: near }], preferred: true }],
        });
        return undefined;
      }
      case "designation": {
        const parts = readDesignation(
          field.type.designation,
          value.type === "text" ? value.value : raw,
        );
        this.designations.set(`${anchor.uri} ${raw} ${field.type.designation.name}`, parts);
        if (parts !== undefined) return value.type === "text" ? value.value : raw;
        const units = missingUnits(field.type.designation, raw);
        if (units.length > 0) {
          this.findings.add({
            code: "unit/missing",
            severity: "error",
            message: `the unit of \`${raw}\` is missing: ${orList(units.map((unit) => `\`${raw} ${unit}\``))}`,
            anchor,
            fixes: units.map((unit) => ({
              title: `write ${raw} ${unit}`,
              edits: [{ anchor, text: `${raw} ${unit}` }],
            })),
          });
          return undefined;
        }
        return wrong(
          `\`${raw}\` is not ${withArticle(field.type.designation.name)}`,
          `it is written ${formsInWords(field.type.designation)}`,
        );
      }
      default:
        return undefined;
    }
  }

  /** The parts of a designation, `undefined` where none is written (its parts are then unknown). */
  partsOf(thing: Thing, field: FieldDefinition): DesignationParts | undefined {
    if (field.type.form !== "designation") return undefined;
    const path = `${thing.path}.${field.name}`;
    if (this.designations.has(path)) return this.designations.get(path);
    const value = this.word(thing, field);
    const parts =
      typeof value === "string" ? readDesignation(field.type.designation, value) : undefined;
    this.designations.set(path, parts);
    return parts;
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
