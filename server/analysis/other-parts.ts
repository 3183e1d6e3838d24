/**
 * Parts that are there already, in the build's files or those they use, which would mend what is
 * wrong in the place of what is fitted: each put into the whole build.
 *
 *     otherParts(source, wrong)   →   [{ path: "rear.wheel", part: "wheels.deep", was: "rear_wheel", … }]
 *
 * Must not know: how changes are offered.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import { fitAnother } from "../findings/checks";
import type { Fix } from "../findings/finding";
import { timeIsUp } from "../keep/patience";
import { Binder } from "../model/binder";
import type { ModelClaim, ModelVariable } from "../model/model";
import { namesOfKind } from "../model/references";
import type { Thing } from "../model/thing";
import { failingLevel, marginOf, sensitivities } from "../solve";
import type { FitLevel } from "../solve/system";
import type { OtherPart } from "./changes-tried";
import type { Reading } from "./reading";
import { SolvedCell } from "./reasons";
import { byEffect, type ChangeAim, type Effect, effectOf, holdsAt } from "./tried";
import { type CheckSource, verdictOfClaim } from "./verdicts";

/** So many parts are tried in the build, and so many are told. */
const mostTried = 24;
const mostTold = 4;

/** What another part is looked for to mend. */
export interface Wrong {
  readonly goal: ChangeAim;
  readonly level: FitLevel;
  /** Figures that bear on it. */
  readonly figures: readonly ModelVariable[];
}

interface PlacedPart extends OtherPart, Effect {
  /** Where the part that is fitted is named, where that may be changed. */
  readonly anchor?: Anchor;
}

/** A check that fails; nothing where it does not. */
export function wrongWith(source: CheckSource, claim: ModelClaim): Wrong | undefined {
  const level = claim.applies ? failingLevel(verdictOfClaim(source, claim)) : undefined;
  if (level === undefined) return undefined;
  const { reading } = source;
  const solved = new SolvedCell(reading, reading.cells.wholeFor(claim.figures));
  const margin = marginOf(solved.local(claim));
  const slopes = margin === undefined ? [] : [...sensitivities(solved.solution, margin)];
  const figures = slopes.flatMap(([variable, slope]) =>
    slope === 0 ? [] : (solved.figureAt(variable) ?? []),
  );
  return { goal: holdsAt(source, claim, level), level, figures };
}

/** Those that break nothing first. */
export function otherParts(source: CheckSource, wrong: Wrong | undefined): PlacedPart[] {
  if (wrong === undefined) return [];
  const { goal, level } = wrong;
  const { reading } = source;
  const { vocabulary, build, workshop } = reading;
  let tried = 0;
  const found = fittedIn(reading, wrong).flatMap(({ owner, field, kind, part }): PlacedPart[] => {
    const entry = owner.entries.get(field);
    const path = `${owner.path}.${field}`;
    return namesOfKind(vocabulary, build.root.scope, kind).flatMap((name): PlacedPart[] => {
      if (name === part.path || name === owner.path || tried >= mostTried) return [];
      if (timeIsUp(workshop.patience)) return [];
      tried++;
      const effect = effectOf(source, goal, { lines: [`${path}: ${name}`] });
      if (effect === undefined) return [];
      const change = entry === undefined || entry.shared || entry.inherited ? undefined : entry;
      return [
        {
          path,
          part: name,
          was: entry === undefined ? part.path : textAt(entry.anchor),
          holds: level,
          ...effect,
          ...(change === undefined ? {} : { anchor: change.anchor }),
        },
      ];
    });
  });
  return byEffect(found, () => []).slice(0, mostTold);
}

/** The same as edits: another name where the part that is fitted is named. */
export function partFixes(source: CheckSource, wrong: Wrong | undefined): Fix[] {
  return otherParts(source, wrong).flatMap(({ path, part, was, moves, breaks, anchor }) => {
    if (anchor === undefined) return [];
    const effect = { moves, breaks: breaks.map(({ title }) => title) };
    return [{ ...fitAnother({ path, part, was }, effect), edits: [{ anchor, text: part }] }];
  });
}

// ───────────────────────────── helpers ─────────────────────────────

interface Fitted {
  readonly owner: Thing;
  readonly field: string;
  readonly kind: string;
  readonly part: Thing;
}

/** Where parts are named whose bought figures bear on what is wrong. */
function fittedIn(reading: Reading, { figures }: Wrong): Fitted[] {
  const bought = new Set<Thing>();
  for (const { variable, part, thing } of figures)
    if (variable.role === "bought" || part !== undefined) bought.add(thing);
  if (bought.size === 0) return [];
  const binder = new Binder(reading, undefined);
  const fitted: Fitted[] = [];
  for (const owner of reading.everything()) {
    for (const name of owner.entries.keys()) {
      const field = owner.field(name);
      if (field?.type.form !== "reference") continue;
      const part = binder.linked(owner, field);
      if (part !== undefined && bought.has(part))
        fitted.push({ owner, field: name, kind: field.type.kind, part });
    }
  }
  return fitted;
}
