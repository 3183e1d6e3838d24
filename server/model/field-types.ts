/**
 * Fields as their declarations describe them: what each holds, and how it is shown.
 *
 *     offset: length in mm bought "…"   →   a length, shown in mm, that a maker states
 *
 * Must not know: what belongs to which kind, things, values.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import { roleWords } from "../../grammar/words";
import type { Found } from "../findings/worded";
import type { Role } from "../solve/system";
import { measureNamed, measures, readUnit, unitFits } from "../units";
import type { DesignationDefinition, FieldDefinition, FieldType } from "./definition";
import { remarksOf } from "./remarks";
import { misnamed, nearest } from "./spelling";

/** The words that are known while declarations are read. */
export interface KnownWords {
  readonly designations: ReadonlyMap<string, DesignationDefinition>;
  hasKind(name: string): boolean;
  kindNames(): Iterable<string>;
}

/** Reads fields and their types. */
export class FieldReader {
  constructor(
    private readonly words: KnownWords,
    private readonly report: (found: Found) => void,
  ) {}

  /** One field of a kind or one part of a designation; `owner` is the name of either. */
  field(
    node: syntax.Field,
    owner: string,
    place: number,
    at: (span: syntax.Span) => Anchor,
  ): FieldDefinition {
    const words = new Set(node.words.map((word) => word.text));
    for (const word of node.words) {
      if (wordsOfFields.includes(word.text)) continue;
      const { text: name, span } = word;
      const meant = misnamed(name, wordsOfFields);
      this.report({ is: "name/unknown-word", name, ...meant, anchor: at(span) });
    }
    const remarks = remarksOf(node.clauses);
    return {
      name: node.name.text,
      type: this.shownIn(shownAsWritten(this.type(node.fieldType, at), node), node, at),
      default: node.default,
      range: node.range,
      shown: words.has("shown"),
      role: this.role(node, at),
      step: node.step,
      tolerance: node.tolerance,
      optional: words.has("optional"),
      place,
      foundOut: words.has("found out"),
      description: node.description?.value,
      needs: remarks.needs,
      source: remarks.source,
      with: remarks.with,
      owner,
      anchor: at(node.name.span),
    };
  }

  /** The one word that says what a figure is. */
  private role(node: syntax.Field, at: (span: syntax.Span) => Anchor): Role | undefined {
    const [first, second] = node.words.filter(({ text }) => roleWords.has(text));
    if (first !== undefined && second !== undefined) {
      this.report({
        is: "field/two-roles",
        first: first.text,
        second: second.text,
        anchor: at(second.span),
      });
    }
    return first?.text as Role | undefined;
  }

  /** `length in mm`, or `length in ft or m`: units of its own, for inch and for metric builds. */
  private shownIn(
    type: FieldType,
    { units }: syntax.Field,
    at: (span: syntax.Span) => Anchor,
  ): FieldType {
    if (units === undefined || units.length === 0 || type.form === "unknown") return type;
    if (type.form !== "measure") {
      const [first] = units;
      if (first !== undefined) {
        this.report({ is: "unit/wrong no-figure", anchor: at(first.span) });
      }
      return type;
    }
    const { measure } = type;
    for (const unit of units) {
      const read = readUnit(unit.text, measure);
      if (read !== undefined && unitFits(read, measure)) continue;
      this.report({ is: "unit/wrong shown", unit: unit.text, measure, anchor: at(unit.span) });
      return type;
    }
    const [inch = "", metric = inch] = units.map((unit) => unit.text);
    return {
      form: "measure",
      measure: { ...measure, own: true, inch: { unit: inch }, metric: { unit: metric } },
    };
  }

  /** What a field or a column holds. */
  type(node: syntax.TypeReference, at: (span: syntax.Span) => Anchor): FieldType {
    const name = node.name?.text ?? "";
    switch (node.form) {
      case "choice":
        return { form: "choice", choices: (node.choices ?? []).map((choice) => choice.text) };
      case "part":
        if (this.words.hasKind(name)) return { form: "part", kind: name };
        break;
      case "list":
        return { form: "list", of: this.named(node, name, at) };
      case "named":
        return this.named(node, name, at);
    }
    this.unknownType(node, name, at);
    return { form: "unknown" };
  }

  private named(
    node: syntax.TypeReference,
    name: string,
    at: (span: syntax.Span) => Anchor,
  ): FieldType {
    if (name === "text" || name === "yes_no" || name === "date") return { form: name };
    // A kind may share its name with a measure (`mass`): then the measure is meant.
    const measure = measureNamed(name);
    if (measure !== undefined) return { form: "measure", measure };
    const designation = this.words.designations.get(name);
    if (designation !== undefined) return { form: "designation", designation };
    if (this.words.hasKind(name)) return { form: "reference", kind: name };
    this.unknownType(node, name, at);
    return { form: "unknown" };
  }

  private unknownType(
    node: syntax.TypeReference,
    name: string,
    at: (span: syntax.Span) => Anchor,
  ): void {
    const known = [
      ...measures.map((measure) => measure.name),
      ...plainTypes,
      ...this.words.designations.keys(),
      ...this.words.kindNames(),
    ];
    if (name === "") return;
    const anchor = at(node.name?.span ?? node.span);
    this.report({ is: "name/unknown-type", name, near: nearest(name, known), anchor });
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const wordsOfFields = ["shown", "optional", "found out", ...roleWords];
const plainTypes = ["text", "yes_no", "date"];

/** A share whose default or range is written in % is shown in %. */
function shownAsWritten(type: FieldType, node: syntax.Field): FieldType {
  if (type.form !== "measure" || type.measure.name !== "ratio") return type;
  const written = [node.default, node.range?.low, node.range?.high];
  const inPercent = written.some(
    (value) => value?.type === "quantity" && value.parts.at(-1)?.unit.text === "%",
  );
  if (!inPercent) return type;
  const unit = { unit: "%" };
  return { form: "measure", measure: { ...type.measure, own: true, inch: unit, metric: unit } };
}
