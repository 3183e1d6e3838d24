/**
 * Figures that cannot all be as they are given: who takes part, and what would make them agree, each
 * change put into the whole build as those of checks are.
 *
 *     contradicted(conflict, repairs, context)?.fits()
 *       // [{ offers: [{ path: "p.half", shown: "2 in" }], moves: […], breaks: [{ title: "p: lip" }] }]
 *
 * Must not know: how a contradiction is found, how it is worded.
 */

import type { Fix } from "../findings/finding";
import { inTime, timeIsUp } from "../keep/patience";
import type { ModelVariable } from "../model/model";
import { anchorOfThing } from "../model/thing";
import type { Repair } from "../solve";
import { type Conflict, mayChange } from "../solve/system";
import type { Contradiction } from "./analysis";
import { conflictFinding, type FindingContext, onStep } from "./findings";
import { otherParts, partFixes, type Wrong } from "./other-parts";
import { fixOf, linesOf, type PlacedFit, placedChange } from "./placed-changes";
import { agrees, byEffect, effectOf } from "./tried";
import type { CheckSource } from "./verdicts";

/** More figures than this are not changed together. */
const mostTogether = 2;

/** What is told of a contradiction; nothing where there is no place to tell it at. */
export function contradicted(
  conflict: Conflict,
  repairs: readonly Repair[],
  context: FindingContext & CheckSource,
  /** How it is told, where not as a contradiction. */
  finding = conflictFinding(conflict, repairs, context),
): Contradiction | undefined {
  const { solved } = context;
  if (finding === undefined) return undefined;
  const figures = conflict.givens.flatMap(({ variable }) => solved.figureAt(variable) ?? []);
  const wrong = (): Wrong => ({ goal: agrees(context), level: "nominal", figures });
  const fits = () => inTime(() => fitsOf(conflict, repairs, context), []);
  const furtherFixes = (): Fix[] => [
    ...fits().flatMap((fit) =>
      fixOf(
        context,
        fit,
        figures.map(({ thing }) => anchorOfThing(thing)),
      ),
    ),
    ...inTime(() => partFixes(context, wrong()), []),
  ];
  return {
    finding: { ...finding, furtherFixes },
    get message() {
      return context.writer.message(finding);
    },
    inputs: figures.map(({ name }) => name),
    measured: figures.flatMap(({ name, figure, variable }) =>
      figure !== undefined && variable.role === "measured" ? name : [],
    ),
    fits,
    otherParts: () => inTime(() => otherParts(context, wrong()), []),
  };
}

// ───────────────────────────── helpers ─────────────────────────────

interface Change {
  readonly about: ModelVariable;
  readonly value: number;
}

function fitsOf(
  { givens }: Conflict,
  repairs: readonly Repair[],
  context: FindingContext & CheckSource,
): PlacedFit[] {
  const { solved, reading, writer } = context;
  const changeOf = (variable: number, value: number | undefined): Change[] => {
    const about = solved.figureAt(variable);
    if (about?.figure === undefined || about.part !== undefined) return [];
    if (value === undefined || !Number.isFinite(value) || !mayChange(about.variable.role))
      return [];
    return [{ about, value: onStep(value, about.variable) }];
  };
  const sets = [
    ...givens.map(({ variable, needed }) => changeOf(variable, needed)),
    ...repairs.flatMap(({ changes }) => {
      const set = changes.flatMap(({ variable, value }) => changeOf(variable, value));
      return set.length < changes.length || set.length > mostTogether ? [] : [set];
    }),
  ];
  // Two of one thing may have been taken for each other.
  const own = givens.flatMap(({ variable }) => solved.figureAt(variable) ?? []);
  for (const [at, one] of own.entries())
    for (const other of own.slice(at + 1))
      if (one.thing === other.thing && one.measure.name === other.measure.name)
        sets.push([
          ...changeOf(solved.placeOf(one.id) ?? -1, other.figure?.value),
          ...changeOf(solved.placeOf(other.id) ?? -1, one.figure?.value),
        ]);
  const goal = agrees(context);
  const seen = new Set<string>();
  const fits = sets.flatMap((set): PlacedFit[] => {
    const written = new Set(set.map(({ about }) => about.id));
    // As the builder would write it, where that is near enough to agree; else as exactly as it takes.
    const ways = [
      set.map(({ about, value }) => placedChange(context, about, value, writer.like(about, value))),
      set.map(({ about, value }) => placedChange(context, about, value)),
    ];
    for (const offers of ways) {
      const lines = linesOf(offers);
      if (lines.length === 0 || seen.has(lines.join("\n")) || timeIsUp(reading.workshop.patience))
        continue;
      seen.add(lines.join("\n"));
      const effect = effectOf(context, goal, { lines, written });
      if (effect !== undefined) return [{ offers, holds: "nominal", ...effect }];
    }
    return [];
  });
  return byEffect(fits, ({ offers }) => offers);
}
