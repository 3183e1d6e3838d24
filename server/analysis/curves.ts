/**
 * Points of drawn functions: a formula evaluated along its parameter, all else as it was solved.
 *
 * Must not know: how curves are drawn.
 */
import { inTime } from "../keep/patience";
import type { FigureQuantity, ModelCurve } from "../model/model";
import { valueOf } from "../solve";
import type { Condition, Expression } from "../solve/expression";
import type { CurveResult } from "./analysis";
import type { Reading } from "./reading";

const mostPoints = 1000;
const usualPoints = 50;

export function curveResult(source: { readonly reading: Reading }, curve: ModelCurve): CurveResult {
  return {
    name: curve.curve.name,
    title: curve.curve.title,
    thing: curve.thing,
    parameter: curve.curve.node.parameter.text,
    parameterMeasure: curve.parameterMeasure,
    measure: curve.measure,
    remarks: curve.curve.remarks,
    anchor: curve.curve.anchor,
    points: () => inTime(() => pointsOf(curve, source.reading), []),
  };
}

function pointsOf(curve: ModelCurve, { cells }: Reading): { x: number; y: number }[] {
  const number = (quantity: FigureQuantity): number | undefined => {
    const solved = cells.solvedFor(quantity.figures);
    const variables = quantity.figures.map((figure) => solved.placeOf(figure) ?? -1);
    return valueOf(solved.solution, { expression: quantity.expression, variables });
  };
  const from = number(curve.from);
  const to = number(curve.to);
  if (from === undefined || to === undefined || !(to > from)) return [];
  if (!Number.isFinite(to - from)) return [];
  const wanted = curve.step === undefined ? undefined : number(curve.step);
  // The whole range is drawn, in fewer steps where there would be too many.
  const finest = (to - from) / (mostPoints - 1);
  const asked = wanted !== undefined && wanted > 0 ? wanted : (to - from) / usualPoints;
  const step = Math.max(asked, finest);
  const count = Math.floor((to - from) / step + 1e-9) + 1;
  const { figures } = curve.value;
  const solved = cells.solvedFor(figures.flatMap((figure) => figure ?? []));
  const { solution } = solved;
  const variables = figures.map((figure) => (figure && solved.placeOf(figure)) ?? -1);
  const points: { x: number; y: number }[] = [];
  for (let index = 0; index < count; index++) {
    const x = from + index * step;
    const expression =
      curve.parameterSlot === undefined
        ? curve.value.expression
        : at(curve.value.expression, curve.parameterSlot, x);
    const y = valueOf(solution, { expression, variables });
    if (y !== undefined && Number.isFinite(y)) points.push({ x, y });
  }
  return points;
}

/** The expression with a number in place of one slot. */
function at(expression: Expression, slot: number, value: number): Expression {
  const inside = (each: Expression): Expression => at(each, slot, value);
  switch (expression.op) {
    case "number":
      return expression;
    case "slot":
      return expression.index === slot ? { op: "number", value } : expression;
    case "negate":
      return { ...expression, of: inside(expression.of) };
    case "lookup":
      return { ...expression, of: inside(expression.of) };
    case "call":
      return { ...expression, of: expression.of.map(inside) };
    case "if":
      return {
        ...expression,
        condition: conditionAt(expression.condition, inside),
        then: inside(expression.then),
        else: inside(expression.else),
      };
    default:
      return { ...expression, left: inside(expression.left), right: inside(expression.right) };
  }
}

function conditionAt(
  condition: Condition,
  inside: (expression: Expression) => Expression,
): Condition {
  switch (condition.op) {
    case "always":
      return condition;
    case "compare":
      return { ...condition, left: inside(condition.left), right: inside(condition.right) };
    case "not":
      return { ...condition, of: conditionAt(condition.of, inside) };
    default:
      return {
        ...condition,
        left: conditionAt(condition.left, inside),
        right: conditionAt(condition.right, inside),
      };
  }
}
