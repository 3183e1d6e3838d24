/**
 * Checks of a solved group: their verdicts, and what would make a failing one hold.
 *
 *     checkResult(group, claim).verdict   →   { nominal: "holds", … }
 *
 * Must not know: how findings are worded.
 */
import { type Anchor, textAt } from "../model/anchor";
import type { CheckDefinition } from "../model/definition";
import type { Fix } from "../model/finding";
import type { ModelClaim } from "../model/model";
import { anchorOfThing, nominalAnchor } from "../model/thing";
import { fitFor, verdictOf } from "../solve";
import type { Fit, Verdict } from "../solve/system";
import { displayOf, readUnit } from "../units";
import type { CheckResult, Value } from "./analysis";
import type { Solved } from "./reasons";
import type { Writer } from "./wording";

/** The group whose checks they are. */
export interface CheckedGroup extends Solved {
  readonly writer: Writer;
  valueAt(path: string): Value | undefined;
}

/** A check as it is read: judged when its verdict is first asked for. */
export function checkResult(group: CheckedGroup, claim: ModelClaim): CheckResult {
  const { check, thing } = claim;
  const { model, solution } = group;
  let judged: Verdict | undefined;
  return {
    title: check.title,
    code: check.remarks.code ?? (claim.own ? "check/own" : `check/${thing?.kind.name ?? "build"}`),
    thing,
    own: claim.own,
    // Of most checks of an option or as built nobody asks.
    get verdict() {
      judged ??= claim.applies ? verdictOf(solution, claim) : notJudged;
      return judged;
    },
    get condition() {
      const text = textAt({ ...check.anchor, span: check.node.condition.span });
      return text.replaceAll(/\s+/g, " ");
    },
    remarks: check.remarks,
    anchor: check.anchor,
    place: claim.own ? headOfCheck(check) : (anchorOfThing(thing) ?? check.anchor),
    get inputs() {
      return claim.variables.map((index) => model.variables[index]?.name ?? "");
    },
    fits: () => fits(group, claim),
  };
}

function fits(group: CheckedGroup, claim: ModelClaim): (Fit & { path: string; shown: string })[] {
  if (!claim.applies) return [];
  return fitFor(group.solution, claim, (index) => incrementOf(group, index)).map((fit) => {
    const variable = group.model.variables[fit.variable];
    const shown = variable === undefined ? "" : group.writer.like(variable, fit.value);
    return { ...fit, path: variable?.name ?? "", shown };
  });
}

/** Changes of one figure each that would make a failing check hold. */
export function fitFixes(group: CheckedGroup, check: CheckResult): Fix[] {
  return check.fits().flatMap(({ variable, path, shown }) => {
    const entry = group.model.variables[variable]?.entry;
    const anchor = entry === undefined ? undefined : nominalAnchor(entry);
    if (anchor === undefined) return [];
    const now = group.valueAt(path);
    const was = now?.written ?? group.writer.value(now?.si, now?.measure);
    const title = `make it fit: set ${path} to ${shown} (now ${was})`;
    return [{ title, edits: [{ anchor, text: shown }] }];
  });
}

/** The step a builder can work to, in the unit they wrote; none for what is not theirs to change. */
function incrementOf(group: CheckedGroup, index: number): number | undefined {
  const variable = group.model.variables[index];
  const { figure, entry, part, measure } = variable ?? {};
  if (figure === undefined || measure === undefined) return undefined;
  if (entry === undefined || part !== undefined) return undefined;
  if (measure.whole) return 1;
  const display = displayOf(measure, group.writer.style);
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

const notJudged: Verdict = { nominal: "unknown", rss: "unknown", worst: "unknown", open: [] };

/** A check without the clauses that follow it. */
function headOfCheck({ anchor, node }: CheckDefinition): Anchor {
  return { ...anchor, span: { start: anchor.span.start, end: node.condition.span.end } };
}
