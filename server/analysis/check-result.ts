/**
 * Checks of a solved group: their verdicts, and what would make a failing one hold.
 *
 *     checkResult(group, claim).verdict   →   { nominal: "holds", … }
 *
 * Must not know: how findings are worded.
 */
import type { CheckCode } from "../findings/codes";
import { type Anchor, textAt } from "../model/anchor";
import type { CheckDefinition } from "../model/definition";
import type { Fix } from "../model/finding";
import type { FigureId } from "../model/ids";
import type { ModelClaim, ModelVariable } from "../model/model";
import { anchorOfThing, nominalAnchor } from "../model/thing";
import { chanceOf, mendsFor, verdictOf } from "../solve";
import type { Chance } from "../solve/likely";
import type { Claim, Fit, Solution, Verdict } from "../solve/system";
import { displayOf, readUnit } from "../units";
import type { CheckResult } from "./analysis";
import type { Reading } from "./reading";
import { Solved } from "./reasons";
import type { Writer } from "./wording";

/** What a check is asked of. */
export interface CheckSource {
  readonly writer: Writer;
  readonly reading: Reading;
}

/** What the findings of a check are called: as it says itself, else by the kind it stands in. */
export function codeOfCheck(
  { remarks }: Pick<CheckDefinition, "remarks">,
  kind = "build",
): CheckCode {
  return (remarks.code ?? `check/${kind}`) as CheckCode;
}

/** A check as it is read: judged when its verdict is first asked for. */
export function checkResult(source: CheckSource, claim: ModelClaim): CheckResult {
  const { check, thing } = claim;
  let judged: Verdict | undefined;
  let placed: Anchor | undefined;
  return {
    title: check.title,
    code:
      claim.own && check.remarks.code === undefined
        ? "check/own"
        : codeOfCheck(check, thing?.kind.name),
    thing,
    own: claim.own,
    // Of most checks of an option or as built nobody asks.
    get verdict() {
      judged ??= judge(source, claim);
      return judged;
    },
    get condition() {
      const text = textAt({ ...check.anchor, span: check.node.condition.span });
      return text.replaceAll(/\s+/g, " ");
    },
    remarks: check.remarks,
    anchor: check.anchor,
    get place() {
      placed ??= placeOf(source, claim);
      return placed;
    },
    get limit() {
      return limitOf(source, claim);
    },
    get inputs() {
      return claim.figures.map((figure) => source.reading.figure(figure)?.name ?? "");
    },
    fits: () => fits(source, claim),
    chance: () => chance(source, claim),
  };
}

function judge({ reading }: CheckSource, claim: ModelClaim): Verdict {
  if (!claim.applies) return notJudged;
  const solved = new Solved(reading, reading.cells.solvedFor(claim.figures, "outcome"));
  const { solution } = solved;
  const { condition, when, variables } = solved.local(claim);
  const known = verdicts.get(solution) ?? [];
  verdicts.set(solution, known);
  const same = known.find(
    (each) =>
      each.condition === condition &&
      each.when === when &&
      each.variables.every((variable, at) => variable === variables[at]),
  );
  if (same !== undefined) return same.verdict;
  const verdict = verdictOf(solution, { condition, when, variables });
  known.push({ condition, when, variables, verdict });
  return verdict;
}

/** What was judged of a solution already: a line that only moved asks nothing new of it. */
const verdicts = new WeakMap<Solution, (Claim & { readonly verdict: Verdict })[]>();

function chance({ reading }: CheckSource, claim: ModelClaim): Chance | undefined {
  if (!claim.applies) return undefined;
  const solved = new Solved(reading, reading.cells.solvedFor(claim.figures, "outcome"));
  return chanceOf(solved.solution, solved.local(claim));
}

interface PlacedChange {
  readonly figure: FigureId;
  readonly path: string;
  readonly shown: string;
}

type PlacedFit = Fit & PlacedChange & { readonly beside?: PlacedChange };

function fits({ reading, writer }: CheckSource, claim: ModelClaim): PlacedFit[] {
  if (!claim.applies) return [];
  const cell = reading.cells.wholeFor(claim.figures);
  const solved = new Solved(reading, cell);
  const increment = (index: number) => incrementOf(solved.figureAt(index), writer);
  const { outcome } = cell.core;
  return mendsFor(solved.solution, outcome, solved.local(claim), increment).flatMap((fit) => {
    const variable = solved.figureAt(fit.variable);
    if (variable === undefined) return [];
    const shown = writer.exactly(variable, fit.value);
    const second = fit.also === undefined ? undefined : solved.figureAt(fit.also.variable);
    if (fit.also !== undefined && second === undefined) return [];
    const also =
      fit.also === undefined || second === undefined
        ? {}
        : {
            beside: {
              figure: second.id,
              path: second.name,
              shown: writer.exactly(second, fit.also.value),
            },
          };
    return { ...fit, figure: variable.id, path: variable.name, shown, ...also };
  });
}

/** Changes of one figure each that would make a failing check hold. */
export function fitFixes(source: CheckSource, claim: ModelClaim): Fix[] {
  const edited = ({ figure, path, shown }: PlacedChange) => {
    const entry = source.reading.figure(figure)?.entry;
    const anchor = entry === undefined ? undefined : nominalAnchor(entry);
    if (anchor === undefined) return undefined;
    const was = textAt(anchor).replaceAll(/\s+/g, " ");
    return { words: `${path} to ${shown} (now ${was})`, edit: { anchor, text: shown } };
  };
  return fits(source, claim).flatMap((fit) => {
    const changes = [fit, ...(fit.beside === undefined ? [] : [fit.beside])].map(edited);
    if (changes.some((change) => change === undefined)) return [];
    const whole = changes.flatMap((change) => change ?? []);
    const title = `make it fit: set ${whole.map(({ words }) => words).join(" and ")}`;
    return [{ title, edits: whole.map(({ edit }) => edit) }];
  });
}

/** The step a builder can work to, in the unit they wrote; none for what is not theirs to change. */
function incrementOf(variable: ModelVariable | undefined, writer: Writer): number | undefined {
  const { figure, entry, part, measure } = variable ?? {};
  if (figure === undefined || measure === undefined) return undefined;
  if (entry === undefined || part !== undefined) return undefined;
  if (measure.whole) return 1;
  const display = displayOf(measure, writer.style);
  const step = display.increment?.step;
  if (step !== undefined && figure.unit === display.unit) {
    return step * (readUnit(display.unit, measure)?.factor ?? 1);
  }
  // Another unit than the build is shown in: as finely as it was written.
  if (figure.rounding > 0) return 2 * figure.rounding;
  const size = Math.abs(figure.value);
  return size === 0 ? measure.scale : 10 ** (Math.floor(Math.log10(size)) - 2);
}

// ───────────────────────────── helpers ─────────────────────────────

/** A check of the library stands under the figure it speaks of where its thing has that written. */
function placeOf(source: CheckSource, claim: ModelClaim): Anchor {
  const { check, thing } = claim;
  if (claim.own) return headOfCheck(check);
  const head = anchorOfThing(thing);
  const figure = sideOf(source, claim, "left");
  // What is only asked for is written too.
  const written = (figure?.entry ?? figure?.thing.asked.get(figure.field.name))?.anchor;
  const beside = written !== undefined && written.uri === head?.uri && written.item === head.item;
  return beside ? written : (head ?? check.anchor);
}

/** What the figure is held against, where it is one figure: as written, else as the library has it. */
function limitOf(
  source: CheckSource,
  claim: ModelClaim,
): { readonly anchor: Anchor; readonly message: string } | undefined {
  const variable = sideOf(source, claim, "right");
  if (variable === undefined) return undefined;
  const { entry, field, name } = variable;
  return entry === undefined
    ? { anchor: field.anchor, message: `${name} is the library's, as nothing else is written` }
    : { anchor: entry.anchor, message: `${name} is given here` };
}

/** The one figure a side of the comparison is. */
function sideOf(
  { reading }: CheckSource,
  { compared, figures }: ModelClaim,
  side: "left" | "right",
): ModelVariable | undefined {
  const expression = compared?.[side];
  const figure = expression?.op === "slot" ? figures[expression.index] : undefined;
  return figure && reading.figure(figure);
}

const notJudged: Verdict = { nominal: "unknown", rss: "unknown", worst: "unknown", open: [] };

/** A check without the clauses that follow it. */
function headOfCheck({ anchor, node }: CheckDefinition): Anchor {
  return { ...anchor, span: { start: anchor.span.start, end: node.condition.span.end } };
}
