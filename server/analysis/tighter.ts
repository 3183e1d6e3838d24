/**
 * Which tolerance to tighten so that a check holds with its tolerances too.
 *
 *     tighterOf(source, claim)   →   [{ figures: [{ path: "p.width", to: "± 0.012 in", … }], share }]
 *
 * Must not know: what a tolerance costs.
 */
import type { ModelClaim, ModelVariable } from "../model/model";
import { tightenFor } from "../solve";
import type { GivenNumber } from "../solve/system";
import { type DisplayStyle, displayOf, readUnit } from "../units";
import type { TighterTolerance } from "./changes-tried";
import { SolvedCell } from "./reasons";
import type { CheckSource } from "./verdicts";

export function tighterOf(
  { reading, writer }: CheckSource,
  claim: ModelClaim,
): readonly TighterTolerance[] {
  if (!claim.applies) return [];
  const solved = new SolvedCell(reading, reading.cells.solvedFor(claim.figures, "outcome"));
  const { solution } = solved;
  const isOurs = (index: number): boolean => {
    const role = solved.figureAt(index)?.variable.role;
    const known = solved.figureAt(index) !== undefined;
    return known && role !== "constant" && role !== "case" && role !== "limit";
  };
  const rounded = (index: number, share: number): number => {
    const about = solved.figureAt(index);
    const given = solution.system.variables[index]?.given;
    if (about === undefined || given === undefined) return share;
    const whole = (given.high - given.low) / 2 / unitOf(about, writer.style).size;
    const step = stepOf(share * whole);
    return (Math.round((share * whole) / step) * step) / whole;
  };
  return tightenFor(solution, solved.local(claim), isOurs, rounded).map(({ variables, share }) => ({
    share,
    figures: variables.flatMap((index) => {
      const about = solved.figureAt(index);
      const given = solution.system.variables[index]?.given;
      if (about === undefined || given === undefined) return [];
      const written = (part: number): string => toleranceOf(about, given, part, writer.style);
      return [{ path: about.name, to: written(share), from: written(1) }];
    }),
  }));
}

/** A share of a tolerance in two digits, never wider: `± 0.012 in`, `+ 0.02 - 0.01 in` where lopsided. */
function toleranceOf(
  { measure }: ModelVariable,
  { value, low, high }: GivenNumber,
  share: number,
  style: DisplayStyle,
): string {
  const { size, symbol } = unitOf({ measure }, style);
  const inDigits = (by: number): string => {
    if (!(by > 0)) return "0";
    const step = stepOf(by);
    return String(Number((Math.floor(by / step + 1e-6) * step).toPrecision(2)));
  };
  const below = inDigits((share * (value - low)) / size);
  const above = inDigits((share * (high - value)) / size);
  const by = below === above ? `± ${below}` : `+ ${above} - ${below}`;
  return symbol === "" ? by : `${by} ${symbol}`;
}

/** The second digit of a number. */
function stepOf(by: number): number {
  return 10 ** (Math.floor(Math.log10(by)) - 1);
}

function unitOf(
  { measure }: Pick<ModelVariable, "measure">,
  style: DisplayStyle,
): { readonly size: number; readonly symbol: string } {
  const { unit: shown } = displayOf(measure, style);
  // Feet are no unit for a tolerance.
  const unit = readUnit(shown === "ft" ? "in" : shown, measure);
  return { size: unit?.factor ?? 1, symbol: unit?.symbol ?? "" };
}
