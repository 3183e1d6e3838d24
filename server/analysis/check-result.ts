/**
 * Checks of a solved group: their verdicts, and what would make a failing one hold.
 *
 *     checkResult(group, claim).verdict   →   { nominal: "holds", … }
 *
 * Must not know: how findings are worded.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type { CheckCode } from "../findings/codes";
import type { Fact } from "../findings/worded";
import type { CheckDefinition } from "../model/definition";
import type { ModelClaim, ModelVariable } from "../model/model";
import { anchorOfThing } from "../model/thing";
import { chanceOf } from "../solve";
import type { Chance } from "../solve/likely";
import type { Verdict } from "../solve/system";
import type { CheckResult, Contributor, Need } from "./analysis";
import { fitsOf } from "./fits";
import { needsOf } from "./needs";
import { otherParts, wrongWith } from "./other-parts";
import { contributorsOf } from "./outcome";
import { SolvedCell } from "./reasons";
import { tighterOf } from "./tighter";
import { UnsaidReadings } from "./unsaid-readings";
import { type CheckSource, verdictOfClaim } from "./verdicts";

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
      judged ??= verdictOfClaim(source, claim);
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
    get inputs() {
      return claim.figures.map((figure) => source.reading.figure(figure)?.name ?? "");
    },
    contributors: () => contributors(source, claim),
    settledBy: () => settledBy(source, claim),
    unsaid: () => (claim.applies ? new UnsaidReadings(source, claim) : undefined),
    fits: () => fitsOf(source, claim),
    otherParts: () => otherParts(source, wrongWith(source, claim)),
    tighter: () => tighterOf(source, claim),
    chance: () => chance(source, claim),
  };
}

function contributors(source: CheckSource, claim: ModelClaim): Contributor[] {
  const { cells } = source.reading;
  const solved = new SolvedCell(source.reading, cells.solvedFor(claim.figures, "outcome"));
  return contributorsOf(verdictOfClaim(source, claim).spread, solved);
}

/** A figure that is read off something is settled by reading it. */
function settledBy(source: CheckSource, claim: ModelClaim): (readonly (readonly Need[])[])[] {
  const { reading } = source;
  const { open } = verdictOfClaim(source, claim);
  const solved = new SolvedCell(reading, reading.cells.solvedFor(claim.figures, "outcome"));
  return open.flatMap((place) => {
    const variable = solved.figureAt(place);
    if (variable === undefined) return [];
    const { name: path, field } = variable;
    const others = needsOf(reading, variable.id);
    const itself = [[{ path, advice: field.needs }]];
    return [field.role === "measured" ? [...itself, ...others] : others];
  });
}

function chance({ reading }: CheckSource, claim: ModelClaim): Chance | undefined {
  if (!claim.applies) return undefined;
  const solved = new SolvedCell(reading, reading.cells.solvedFor(claim.figures, "outcome"));
  return chanceOf(solved.solution, solved.local(claim));
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
export function limitOf(source: CheckSource, claim: ModelClaim): Fact<"check/fails">["limit"] {
  const variable = sideOf(source, claim, "right");
  if (variable === undefined) return undefined;
  const { entry, field, name: path } = variable;
  return { path, given: entry !== undefined, at: entry?.anchor ?? field.anchor };
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

/** A check without the clauses that follow it. */
function headOfCheck({ anchor, node }: CheckDefinition): Anchor {
  return { ...anchor, span: { start: anchor.span.start, end: node.condition.span.end } };
}
