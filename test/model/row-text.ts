/**
 * What a thing or a line adds to a build, as text: each equation, check, curve and question with the
 * figures it is about, as one would write it by hand.
 *
 *     added("kind bar { a: length  b: length  relation \"twice\": b = 2 * a }\nbar x { a: 1 in }")
 *     // x.b = 2 * x.a  [relation "twice"]
 */
import type { Analysis } from "../../server/analysis/analysis";
import type { FigureQuantity, ModelClaim, ModelEquation, Row } from "../../server/model/model";
import type { FigureId } from "../../server/names/ids";
import type { Condition, Expression } from "../../server/solve/expression";
import { analyzed } from "./build";

type Figures = readonly (FigureId | undefined)[];

/** What every row of a build adds, in the order of its text; an empty line between two rows. */
export function added(text: string): string {
  return rowsOf(analyzed(text)).map(rowText).join("\n\n");
}

/** The rows of a build, of records only those with something wrong. */
export function rowsOf(analysis: Analysis): Row[] {
  const { reading } = analysis as unknown as {
    readonly reading: { readonly rows: readonly { readonly row: Row }[] };
  };
  return reading.rows.map(({ row }) => row);
}

export function rowText(row: Row): string {
  const about = [...row.figures].map((figure) => figure.name);
  return [
    `${row.thing?.path ?? "a line"}: ${about.join(" ")}`,
    ...row.equations.map((each) => `  ${equationText(each)}`),
    ...row.claims.map((each) => `  ${claimText(each)}`),
    ...row.curves.map(
      ({ curve, value, parameterSlot, measure, parameterMeasure, from, to, step }) =>
        `  curve ${curve.name} "${curve.title}" = ${expressionText(value.expression, value.figures)} (${measure?.name}) over ${parameterMeasure?.name} in slot ${parameterSlot} from ${quantityText(from)} to ${quantityText(to)}${step === undefined ? "" : ` step ${quantityText(step)}`}`,
    ),
    ...row.stacks.map(
      ({ use, figure, wanted }) =>
        `  stack ${figure.name} of ${use.kit} [${use.sizes.map(short).join(" ")}]${use.quantities === undefined ? "" : ` times [${use.quantities.join(" ")}]`} to ${quantityText(wanted)} within ${short(use.allowed)} (${use.measure?.name})`,
    ),
    ...row.asks.map(({ figure }) => `  ${figure.name} = ?`),
    ...[...row.words].map(([thing, fields]) => `  reads ${thing.path}: ${[...fields].join(" ")}`),
    ...row.findings.map(({ is }) => `  told ${is}`),
    ...(row.terms.spent === 0 ? [] : [`  ${row.terms.spent} terms`]),
  ].join("\n");
}

function equationText({ equation, origin, measure }: ModelEquation): string {
  const { form, figures, rank, assumption, slack, when } = equation;
  const left = expressionText(form.left, figures);
  const right = expressionText(form.right, figures);
  const title = origin.is === "relation" ? ` "${origin.relation.title}"` : "";
  return [
    `${left} = ${right}`,
    ...(slack === undefined ? [] : [`± ${short(slack)}`]),
    ...(when === undefined ? [] : [`when ${conditionText(when, figures)}`]),
    `[${rank} by ${origin.is}${title}${assumption ? ", assumed" : ""}, ${measure?.name}]`,
  ].join(" ");
}

function claimText({
  condition,
  when,
  figures,
  check,
  own,
  compared,
  applies,
}: ModelClaim): string {
  return [
    `check "${check.title}": ${conditionText(condition, figures)}`,
    ...(when === undefined ? [] : [`when ${conditionText(when, figures)}`]),
    ...(compared === undefined ? [] : [`(${compared.relation} ${compared.measure?.name})`]),
    ...(own ? ["[own]"] : []),
    ...(applies ? [] : ["[not there]"]),
  ].join(" ");
}

function quantityText({ expression, figures }: FigureQuantity): string {
  return expressionText(expression, figures);
}

const signs = { add: "+", subtract: "-", multiply: "*", divide: "/", power: "^" } as const;

export function expressionText(expression: Expression, figures: Figures): string {
  const inner = (each: Expression): string =>
    "left" in each ? `(${expressionText(each, figures)})` : expressionText(each, figures);
  switch (expression.op) {
    case "number":
      return short(expression.value);
    case "slot":
      return figures[expression.index]?.name ?? `slot ${expression.index}`;
    case "negate":
      return `-${inner(expression.of)}`;
    case "call":
      return `${expression.name}(${expression.of.map((each) => expressionText(each, figures)).join(", ")})`;
    case "lookup": {
      const { name, method, keys, values } = expression.curve;
      const points = keys.map((key, at) => `${short(key)}:${short(values[at] ?? Number.NaN)}`);
      const shown = points.length > 6 ? `${points.length} points` : points.join(" ");
      return `${name} ${method} {${shown}}(${expressionText(expression.of, figures)})`;
    }
    case "if":
      return `if ${conditionText(expression.condition, figures)} then ${inner(expression.then)} else ${inner(expression.else)}`;
    default:
      return `${inner(expression.left)} ${signs[expression.op]} ${inner(expression.right)}`;
  }
}

export function conditionText(condition: Condition, figures: Figures): string {
  switch (condition.op) {
    case "always":
      return String(condition.value);
    case "compare":
      return `${expressionText(condition.left, figures)} ${condition.relation} ${expressionText(condition.right, figures)}`;
    case "not":
      return `not (${conditionText(condition.of, figures)})`;
    default:
      return `(${conditionText(condition.left, figures)} ${condition.op} ${conditionText(condition.right, figures)})`;
  }
}

/** Without the last digits of a sum of binary fractions. */
function short(value: number): string {
  return String(Number(value.toPrecision(12)));
}
