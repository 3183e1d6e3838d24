/**
 * What a build claims and draws: a condition for every check that applies, a function of one
 * parameter for every curve.
 *
 *     claims.kindCheck(rear, check)   →   `list` has its condition over rear's own figures
 *
 * Must not know: whether a check holds, how a curve is drawn.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Findings } from "../findings/collected";
import { goOn } from "../keep/patience";
import type { Condition } from "../solve/expression";
import { dimensionless, type Measure } from "../units";
import { compileCondition, compileExpression } from "./compile";
import type { CompiledCondition, CompiledExpression } from "./compiled";
import type { CheckDefinition, CurveDefinition, Vocabulary } from "./definition";
import type { Environment } from "./denotation";
import type { Figures } from "./figures";
import type { FormulaNames, FormulaScope } from "./formula-names";
import { type CheckTemplate, type FormPool, whenSays } from "./kind-environment";
import { measureWritten } from "./measure-written";
import {
  type FigureQuantity,
  type Location,
  type ModelClaim,
  type ModelCurve,
  pathOf,
} from "./model";
import { remarksOf } from "./remarks";
import type { Thing } from "./thing";

/** Collects claims and curves while things are gone through. */
export class Claims {
  readonly list: ModelClaim[] = [];
  readonly curves: ModelCurve[] = [];

  constructor(
    private readonly figures: Figures,
    private readonly names: FormulaNames,
    private readonly vocabulary: Vocabulary,
    private readonly pool: FormPool,
    private readonly findings: Findings,
  ) {}

  /** The checks of the thing's kind. */
  kindChecks(thing: Thing): void {
    const templates = this.pool.checks(thing.kind, this.vocabulary);
    for (const [at, check] of thing.kind.checks.entries()) {
      goOn(200);
      const template = templates[at];
      if (template !== undefined) this.kindCheck(thing, check, template);
    }
  }

  /** From the shared form of it where that will do. */
  private kindCheck(
    thing: Thing,
    check: CheckDefinition,
    template: NonNullable<CheckTemplate>,
  ): void {
    if (template !== "later" && !template.waits) {
      this.fromTemplate(thing, check, template);
      return;
    }
    const environment = this.names.environmentOf(thing);
    const { when, condition } = check.node;
    const says = whenOf(when, environment);
    if (says === false) return;
    if (says === "open") {
      this.unjudged(thing, check);
      return;
    }
    if (template !== "later" && says === true) {
      this.fromTemplate(thing, check, template);
      return;
    }
    const compiled = compileCondition(condition, environment, says === true ? undefined : when);
    if (!compiled.applies || compiled.later) this.unjudged(thing, check);
    else this.addClaim(compiled, check, thing, false);
  }

  private fromTemplate(
    thing: Thing,
    check: CheckDefinition,
    { references, condition, compared, when, waits }: Exclude<CheckTemplate, "later" | undefined>,
  ): void {
    if (isSettled(condition)) return;
    const figures = waits
      ? this.figures.figuresOfItsOwn(thing, references)
      : this.figures.figuresAlong(thing, references);
    if (figures === undefined) {
      this.unjudged(thing, check);
      return;
    }
    const own = { check, thing, own: false, applies: true };
    this.list.push({ condition, compared, when, figures, ...own });
  }

  /** A check that says what it `needs` is not passed over where that is not there. */
  private unjudged(thing: Thing, check: CheckDefinition): void {
    if (check.remarks.needs === undefined) return;
    const condition = { op: "always", value: true } as const;
    this.list.push({ condition, figures: [], check, thing, own: false, applies: false });
  }

  /** A check the builder wrote: what is wrong with it is told. */
  ownCheck(at: FormulaScope, node: syntax.Check, anchor: Anchor): void {
    const environment = this.names.environment(at, anchor);
    if (node.when !== undefined) {
      this.findings.raise(compileCondition(node.when, environment).problems, anchor);
    }
    const applies = whenSays(node.when, environment);
    if (applies === false || applies === "later") return;
    const when = applies === "figures" ? node.when : undefined;
    const compiled = compileCondition(node.condition, environment, when);
    this.findings.raise(compiled.problems, anchor);
    if (compiled.problems.length > 0) return;
    const title = node.title?.value ?? textAt({ ...anchor, span: node.condition.span });
    const definition: CheckDefinition = { title, node, remarks: remarksOf(node.clauses), anchor };
    this.addClaim(compiled, definition, at.thing, true);
  }

  private addClaim(
    compiled: CompiledCondition<Location>,
    check: CheckDefinition,
    thing: Thing | undefined,
    own: boolean,
  ): void {
    // The builder's own checks are listed even where words alone settle them.
    if (!own && isSettled(compiled.condition)) return;
    this.list.push({
      condition: compiled.condition,
      compared: compiled.compared,
      when: compiled.when,
      figures: compiled.references.map((reference) => this.figures.figure(reference)),
      check,
      thing,
      own,
      applies: compiled.applies && !compiled.later,
    });
  }

  /** `anchor`: where the builder wrote it; without one nothing is told of a curve that fails. */
  addCurve(at: FormulaScope, curve: CurveDefinition, anchor: Anchor | undefined): void {
    const { node } = curve;
    const environment = this.names.environment(at, anchor);
    const from = compileExpression(node.from, environment);
    const to = compileExpression(node.to, environment);
    const step = node.step && compileExpression(node.step, environment);
    const bounds = step === undefined ? [from, to] : [from, to, step];
    const parameterMeasure = measureOfParameter(node, bounds);
    if (parameterMeasure === undefined) return;
    const compiled = compileExpression(node.value, {
      ...environment,
      denote: (path) =>
        path.names.length === 1 && path.names[0].text === node.parameter.text
          ? { is: "quantity", reference: "parameter", measure: parameterMeasure }
          : environment.denote(path),
      keyOf: (reference) => (reference === "parameter" ? "" : pathOf(reference)),
      each: (kind, rest, span) => environment.each(kind, rest, span),
    } as Environment<Location | "parameter">);
    const all = [compiled, ...bounds];
    if (anchor !== undefined) {
      for (const each of all) this.findings.raise(each.problems, anchor);
      for (const [at, written] of [node.value, node.from, node.to, node.step].entries())
        if (written !== undefined && all[at]?.word !== undefined)
          this.findings.raise([{ is: "value/not-a-number word", span: written.span }], anchor);
    }
    if (all.some((each) => !each.applies || each.later || each.word !== undefined)) return;
    const quantity = (each: CompiledExpression<Location>): FigureQuantity => ({
      expression: each.expression,
      figures: each.references.map((reference) => this.figures.figure(reference)),
    });
    const slot = compiled.references.indexOf("parameter");
    this.curves.push({
      curve,
      thing: at.thing,
      value: {
        expression: compiled.expression,
        figures: compiled.references.map((reference) =>
          reference === "parameter" ? undefined : this.figures.figure(reference),
        ),
      },
      parameterSlot: slot < 0 ? undefined : slot,
      measure: compiled.measure ?? measureWritten([], compiled.dimension),
      parameterMeasure,
      from: quantity(from),
      to: quantity(to),
      step: step && quantity(step),
    });
  }

  ownCurve(at: FormulaScope, node: syntax.Curve, anchor: Anchor): void {
    this.addCurve(
      at,
      {
        name: node.name.text,
        title: node.title?.value ?? node.name.text,
        node,
        remarks: remarksOf(node.clauses),
        anchor,
      },
      anchor,
    );
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** A check that holds by its words alone says nothing. */
function isSettled(condition: Condition): boolean {
  return condition.op === "always" && condition.value;
}

/** Whether a `when` holds by its words alone; `open` where it cannot be told. */
function whenOf<R>(
  node: syntax.Expression | undefined,
  environment: Environment<R>,
): boolean | "figures" | "open" {
  if (node === undefined) return true;
  const { applies, later, condition } = compileCondition(node, environment);
  if (!applies || later) return "open";
  return condition.op === "always" ? condition.value : "figures";
}

/** What a curve goes over, by its bounds. */
export function measureOfParameter(
  { from, to }: syntax.Curve,
  bounds: readonly CompiledExpression<unknown>[],
): Measure | undefined {
  return (
    bounds.find((bound) => bound.measure !== undefined)?.measure ??
    measureWritten([from, to], bounds[0]?.dimension ?? dimensionless)
  );
}
