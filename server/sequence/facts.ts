/**
 * What the analysis knows of the figures and limits that steps name: which are open, which hold as
 * built, and whether a torque on record is near enough.
 *
 * Must not know: what follows from it for a step.
 */

import type { Analysis, CheckResult } from "../analysis/analysis";
import { madeOnce } from "../keep/once";
import type { ThingId } from "../names/ids";
import type { Event } from "./entries";
import { type NotedBuild, sameItems } from "./noted-build";
import { type Plan, type Step, valueOf } from "./plan";
import type { Facts } from "./step-state";
import { judgmentOf } from "./torque-judgment";

export function factsOf(build: NotedBuild, plan: Plan, events: readonly Event[]): Facts {
  const measured = new Set<string>();
  for (const event of events) if (event.is === "measured") measured.add(event.path);
  const known = new Map<Step, readonly CheckResult[]>();
  const checksOf = (step: Step): readonly CheckResult[] =>
    madeOnce(known, step, () => checksIn(build, step));
  return {
    judge: judgmentOf(build, plan),
    isOpen: (named) => {
      const { reached } = named;
      if (reached?.field?.type.form !== "measure") return false;
      if (measured.has(`${reached.thing.path}.${reached.field.name}`)) return false;
      return valueOf(build, named)?.si === undefined;
    },
    specOf: ({ thing, field }) => {
      const value = build.figureOf(thing, field);
      return value?.outcome()?.si ?? value?.si;
    },
    today: build.analysis.today,
    checksOf,
    failing: (step) => checksOf(step).filter(({ verdict }) => verdict.nominal === "fails"),
  };
}

/**
 * Claims written inside the step: values that have to lie within limits. What was measured goes before
 * what is planned.
 */
function checksIn(build: NotedBuild, { thing }: Step): readonly CheckResult[] {
  const checks = build.ask(checksAsDrawn, thing.id, sameItems);
  if (checks.length === 0 || build.analysis.records.length === 0) return checks;
  const built = build.ask(checksAsBuilt, thing.id, sameItems);
  return built.length === 0 ? checks : built;
}

function checksAsDrawn(analysis: Analysis, thing: ThingId): readonly CheckResult[] {
  return analysis.checksOf(thing);
}

function checksAsBuilt(analysis: Analysis, thing: ThingId): readonly CheckResult[] {
  const all = analysis.asBuilt().checksOf(thing);
  return all.filter(({ own }) => own);
}
