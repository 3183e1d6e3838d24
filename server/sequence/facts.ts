/**
 * What the analysis knows of the figures and limits that steps name: which are open, which hold as
 * built, and whether a torque on record is near enough.
 *
 * Must not know: what follows from it for a step.
 */
import type { Analysis, CheckResult } from "../analysis/analysis";
import type { Event } from "./entries";
import { type Plan, valueOf } from "./plan";
import type { Facts } from "./step-state";
import { judgmentOf } from "./torque-judgment";

export function factsOf(analysis: Analysis, plan: Plan, events: readonly Event[]): Facts {
  const measured = new Set<string>();
  for (const event of events) if (event.is === "measured") measured.add(event.path);
  const asked = plan.steps.some((step) => step.checks.length > 0);
  const checks = asked ? builtChecks(analysis) : new Map<string, readonly CheckResult[]>();
  return {
    judge: judgmentOf(analysis, plan),
    isOpen: (named) => {
      const { reached } = named;
      if (reached?.field?.type.form !== "measure") return false;
      if (measured.has(`${reached.thing.path}.${reached.field.name}`)) return false;
      return valueOf(analysis, named)?.si === undefined;
    },
    specOf: (path) => {
      const value = analysis.valueAt(path);
      return value?.outcome()?.si ?? value?.si;
    },
    today: analysis.today,
    checksOf: (step) => checks.get(step.path) ?? step.checks,
    failing: (step) =>
      (checks.get(step.path) ?? step.checks).filter(({ verdict }) => verdict.nominal === "fails"),
  };
}

/** What was measured goes before what is planned where a step asks for a value within limits. */
function builtChecks(analysis: Analysis): Map<string, CheckResult[]> {
  const checks = new Map<string, CheckResult[]>();
  const built = analysis.records.length === 0 ? analysis : analysis.asBuilt();
  for (const check of built.checks) {
    if (check.thing === undefined || !check.own) continue;
    const list = checks.get(check.thing.path) ?? [];
    checks.set(check.thing.path, list);
    list.push(check);
  }
  return checks;
}
