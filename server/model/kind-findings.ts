/**
 * What is wrong in the formulas, defaults and ranges of kinds, for those who write kinds: each is
 * tried out for any thing of the kind, before there is one.
 *
 *     kind jig { width: length  relation "w": width = hight }   →   a jig has no field `hight`
 *
 * Must not know: things, files.
 */

import type { Anchor } from "../../grammar/anchor";
import { textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import { at, Findings } from "../findings/collected";
import type { Found, Problem } from "../findings/worded";
import { measureOfParameter } from "./claims";
import { compileCondition, compileEquation, compileExpression } from "./compile";
import type { CurveDefinition, FieldDefinition, KindDefinition, Vocabulary } from "./definition";
import type { Environment } from "./denotation";
import { formsInWords, readDesignation } from "./designation";
import { kindEnvironment, type Route } from "./kind-environment";
import { problemsOfOff, readFigure, readOff, withOwnSpread } from "./literal";
import { nearest } from "./spelling";

/** Findings of the kinds that are not the library's own. */
export function kindFindings(vocabulary: Vocabulary): readonly Found[] {
  const findings = new Findings();
  for (const kind of vocabulary.kinds.values()) {
    if (!kind.library) new KindReader(kind, vocabulary, (found) => findings.add(found)).read();
  }
  return findings.list;
}

class KindReader {
  private readonly environment: Environment<Route>;

  constructor(
    private readonly kind: KindDefinition,
    vocabulary: Vocabulary,
    private readonly report: (found: Found) => void,
  ) {
    this.environment = kindEnvironment(kind, vocabulary);
  }

  read(): void {
    const { kind, environment } = this;
    for (const { node, anchor } of kind.relations.filter((each) => this.isOwn(each))) {
      this.condition(node.when, anchor);
      this.raise(compileEquation(node.left, node.right, environment).problems, anchor);
    }
    for (const { node, anchor } of kind.checks.filter((each) => this.isOwn(each))) {
      this.condition(node.when, anchor);
      this.condition(node.condition, anchor);
    }
    for (const curve of kind.curves.filter((each) => this.isOwn(each))) this.curve(curve);
    for (const field of kind.fields.values()) {
      if (field.owner !== kind.name) continue;
      this.default(field);
      this.range(field);
      this.tolerance(field);
    }
  }

  /** What was taken over from another kind is looked at there. */
  private isOwn({ anchor }: { readonly anchor: Anchor }): boolean {
    return anchor.item === this.kind.anchor.item;
  }

  private condition(node: syntax.Expression | undefined, anchor: Anchor): void {
    if (node !== undefined) this.raise(compileCondition(node, this.environment).problems, anchor);
  }

  private curve({ node, anchor }: CurveDefinition): void {
    const { environment } = this;
    const written = [node.from, node.to, ...(node.step === undefined ? [] : [node.step])];
    const bounds = written.map((bound) => compileExpression(bound, environment));
    for (const { problems } of bounds) this.raise(problems, anchor);
    const measure = measureOfParameter(node, bounds);
    const parameter =
      measure && ({ hops: [], field: node.parameter.text, key: "", measure } satisfies Route);
    const withParameter: Environment<Route> = {
      vocabulary: environment.vocabulary,
      denote: (path) =>
        path.names.length !== 1 || path.names[0].text !== node.parameter.text
          ? environment.denote(path)
          : measure === undefined || parameter === undefined
            ? { is: "later" }
            : { is: "quantity", reference: parameter, measure },
      keyOf: (route) => (route === parameter ? "" : environment.keyOf(route)),
      isGiven: (path) => environment.isGiven(path),
      each: (kind, rest, span) => environment.each(kind, rest, span),
    };
    this.raise(compileExpression(node.value, withParameter).problems, anchor);
  }

  private default(field: FieldDefinition): void {
    const node = field.default;
    if (node === undefined) return;
    const place: Anchor = { ...field.anchor, span: node.span };
    const { type } = field;
    const raw = textAt(place).trim();
    switch (type.form) {
      case "measure": {
        const reading = readFigure(node, type.measure);
        if (reading.is === "problem") this.raise([reading.problem], place);
        if (reading.is !== "formula") return;
        const { nominal, by } = withOwnSpread(node);
        // A share of what is not known before it is worked out is no ± of its own.
        if (by !== undefined && !((readOff(by, type.measure)?.off ?? 0) > 0))
          this.raise([{ is: "value/tolerance-in-formula", span: by.span }], place);
        const compiled = compileExpression(nominal, this.environment, type.measure.dimension);
        this.raise(compiled.problems, place);
        if (compiled.later || !compiled.applies) return;
        if (compiled.dimension.key === type.measure.dimension.key) return;
        this.report({
          is: "unit/clash default",
          field: field.name,
          measure: type.measure,
          dimension: compiled.dimension,
          anchor: place,
        });
        return;
      }
      case "choice": {
        const word = node.type === "text" ? node.value : raw;
        if (type.choices.includes(word)) return;
        const near = nearest(word, type.choices);
        const told = { field: field.name, text: word, choices: type.choices, near };
        this.report({ is: "value/not-a-choice default", ...told, anchor: place });
        return;
      }
      case "designation": {
        const { designation } = type;
        if (readDesignation(designation, node.type === "text" ? node.value : raw) !== undefined)
          return;
        this.report({
          is: "value/wrong default",
          text: raw,
          designation: designation.name,
          forms: formsInWords(designation),
          anchor: place,
        });
        return;
      }
      case "text":
        if (node.type !== "text")
          this.report({ is: "value/not-a-text", field: field.name, text: raw, anchor: place });
        return;
      case "yes_no":
        if (node.type !== "yes_no")
          this.report({ is: "value/wrong yes-no", field: field.name, text: raw, anchor: place });
        return;
      default:
        return;
    }
  }

  private tolerance({ type, tolerance, anchor }: FieldDefinition): void {
    if (tolerance === undefined || type.form !== "measure") return;
    this.raise(
      problemsOfOff(tolerance, type.measure).filter(({ is }) => is === "value/limits negative"),
      anchor,
    );
  }

  private range({ type, range, anchor }: FieldDefinition): void {
    if (range === undefined || type.form !== "measure") return;
    const reading = readFigure(range, type.measure);
    if (reading.is === "problem") this.raise([reading.problem], anchor);
    else if (reading.is === "formula")
      this.report({ is: "value/limits formula", anchor: { ...anchor, span: range.span } });
  }

  private raise(problems: readonly Problem[], anchor: Anchor): void {
    for (const problem of problems) this.report(at(problem, anchor));
  }
}
