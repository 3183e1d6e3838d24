/**
 * What is told of the order of work after each edit: what is wrong in the plan and in the records. Kept
 * as long as an edit has nothing to do with any step, joint or record.
 *
 *     overviewOf(analysis).found
 *
 * Must not know: how a plan is shown.
 */
import type { Analysis } from "../analysis/analysis";
import type { Found } from "../findings/worded";
import { Alike } from "../keep/alike";
import { counts } from "./counts";
import type { Event } from "./entries";
import { factsOf } from "./facts";
import { NotedBuild } from "./noted-build";
import { type Plan, readPlan } from "./plan";
import { planFindings } from "./plan-findings";
import { Progress } from "./progress";
import { readRecords } from "./read-records";
import { recordFindings } from "./record-findings";
import { type Waiting, waitingOf } from "./waiting";

export interface Overview {
  readonly plan: Plan;
  readonly waiting: Waiting;
  readonly events: readonly Event[];
  readonly progress: Progress;
  readonly found: readonly Found[];
  /** What it was made of. */
  readonly build: NotedBuild;
}

/** By what the names of a build lead to, which an edit leaves alone for the most part. */
const kept = new Alike<object, Overview>(2);

export function overviewOf(analysis: Analysis): Overview {
  const planned = plannedIn(analysis);
  return (
    kept.find(
      analysis.names,
      ({ plan, build }) => plan === planned.plan && build.holdsIn(analysis),
    ) ?? kept.keep(analysis.names, makeOverview(new NotedBuild(analysis), planned))
  );
}

/** What is to be done, and what of it waits for what: most edits change neither, whatever they change. */
type Planned = Pick<Overview, "plan" | "waiting" | "build">;

const keptPlans = new Alike<object, Planned>(2);

function plannedIn(analysis: Analysis): Planned {
  const before = keptPlans.find(analysis.names, ({ build }) => build.holdsIn(analysis));
  if (before !== undefined) return before;
  const build = new NotedBuild(analysis);
  const plan = readPlan(build);
  const waiting = waitingOf(plan, analysis.vocabulary.orders);
  return keptPlans.keep(analysis.names, { plan, waiting, build });
}

function makeOverview(build: NotedBuild, { plan, waiting }: Planned): Overview {
  counts.orders++;
  const { events, unread, duplicates } = readRecords(build, plan);
  const facts = factsOf(build, plan, events);
  // All that will be asked of it is asked now.
  for (const step of plan.live) facts.checksOf(step);
  const progress = new Progress(plan, waiting, events, facts);
  const found = [
    ...planFindings(plan, waiting),
    ...recordFindings({ build, plan, waiting, progress, facts, unread, duplicates }),
  ];
  return { plan, waiting, events, progress, found, build };
}
