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
import { inTime } from "../keep/patience";
import type { CheckDefinition, Remarks } from "../model/definition";
import type { ModelClaim, ModelVariable } from "../model/model";
import { anchorOfThing, type Thing } from "../model/thing";
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
import { type CheckSource, notJudged, verdictOfClaim } from "./verdicts";

/** What the findings of a check are called: as it says itself, else by the kind it stands in. */
export function codeOfCheck(
  { remarks }: Pick<CheckDefinition, "remarks">,
  kind = "build",
): CheckCode {
  return (remarks.code ?? `check/${kind}`) as CheckCode;
}

/** A check as it is read: judged when its verdict is first asked for. */
export function checkResult(source: CheckSource, claim: ModelClaim): CheckResult {
  return new ReadCheck(source, claim);
}

/** Of most checks of an option or as built nobody asks anything. */
class ReadCheck implements CheckResult {
  private judged: Verdict | undefined;
  private placed: Anchor | undefined;

  constructor(
    private readonly source: CheckSource,
    private readonly claim: ModelClaim,
  ) {}

  get title(): string {
    return this.claim.check.title;
  }

  get code(): CheckResult["code"] {
    const { check, own, thing } = this.claim;
    return own && check.remarks.code === undefined
      ? "check/own"
      : codeOfCheck(check, thing?.kind.name);
  }

  get thing(): Thing | undefined {
    return this.claim.thing;
  }

  get own(): boolean {
    return this.claim.own;
  }

  get remarks(): Remarks {
    return this.claim.check.remarks;
  }

  get anchor(): Anchor {
    return this.claim.check.anchor;
  }

  get verdict(): Verdict {
    this.judged ??= inTime(() => verdictOfClaim(this.source, this.claim), notJudged);
    return this.judged;
  }

  get condition(): string {
    const { anchor, node } = this.claim.check;
    return textAt({ ...anchor, span: node.condition.span }).replaceAll(/\s+/g, " ");
  }

  get place(): Anchor {
    this.placed ??= placeOf(this.source, this.claim);
    return this.placed;
  }

  get inputs(): readonly string[] {
    return this.claim.figures.map((figure) => this.source.reading.figure(figure)?.name ?? "");
  }

  contributors(): readonly Contributor[] {
    return inTime(() => contributors(this.source, this.claim), []);
  }

  settledBy(): readonly (readonly (readonly Need[])[])[] {
    return inTime(() => settledBy(this.source, this.claim), []);
  }

  unsaid(): ReturnType<CheckResult["unsaid"]> {
    if (!this.claim.applies) return undefined;
    return inTime(() => new UnsaidReadings(this.source, this.claim), undefined);
  }

  fits(): ReturnType<CheckResult["fits"]> {
    return inTime(() => fitsOf(this.source, this.claim), []);
  }

  otherParts(): ReturnType<CheckResult["otherParts"]> {
    return inTime(() => otherParts(this.source, wrongWith(this.source, this.claim)), []);
  }

  tighter(): ReturnType<CheckResult["tighter"]> {
    return inTime(() => tighterOf(this.source, this.claim), []);
  }

  chance(): Chance | undefined {
    return inTime(() => chance(this.source, this.claim), undefined);
  }
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
