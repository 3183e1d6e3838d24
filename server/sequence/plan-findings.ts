/**
 * What is wrong with the plan: loops, broken rules, joints nobody tightens, passes that do not
 * climb, neighbors in succession.
 *
 * Must not know: records, how findings are worded.
 */
import type { Found } from "../findings/worded";
import { isWhole } from "./close";
import { passProblem } from "./passes";
import type { Joint, Plan, Step } from "./plan";
import {
  gapsOfOrder,
  groupedOrder,
  neighborsInSuccession,
  rowsOfRectangle,
} from "./tightening-order";
import { jointFields } from "./vocabulary";
import { type BrokenOrder, becauseOf, type LackingStep, type Waiting } from "./waiting";

/** Torques of passes may be rounded to what a wrench shows: the last may miss by this share. */
const lastPassSlack = 0.02;

export function planFindings(plan: Plan, waiting: Waiting): Found[] {
  return [
    ...loopFindings(waiting),
    ...waiting.broken.map(brokenFinding),
    ...waiting.lacking.flatMap(lackingFinding),
    ...plan.live.flatMap(({ path: step, anchor, unfilled }) =>
      unfilled.map((path): Found => ({ is: "step/no-figure", step, path, anchor })),
    ),
    ...plan.joints.flatMap((joint) => [
      ...tighteningFindings(plan, joint),
      ...adapterFindings(joint),
      ...passFindings(joint),
      ...sequenceFindings(joint),
    ]),
  ];
}

// ───────────────────────────── helpers ─────────────────────────────

/** One for each loop; whatever waits for it is told with it. */
function loopFindings({ loops, stuck, graph }: Waiting): Found[] {
  const loopOf = (step: Step): readonly Step[] | undefined => {
    const ancestors = graph.ancestors(step.index);
    return loops.find((each) => each.some(({ index }) => ancestors.has(index)));
  };
  const waiting = [...stuck].map((step) => ({ step, loop: loopOf(step) }));
  return loops.flatMap((steps): Found[] => {
    const [first, ...others] = steps;
    if (first === undefined) return [];
    const behind = waiting.flatMap(({ step, loop }) => (loop === steps ? [step.path] : []));
    const loop = steps.map(({ path }) => path);
    const { anchor } = first;
    return [{ is: "step/loop", loop, behind, others: others.map(placeOf), anchor }];
  });
}

function placeOf({ title, anchor }: Step) {
  return { title, at: anchor };
}

/** One for each step that is missing, however many need it. */
function lackingFinding({ rule, steps, needs }: LackingStep): Found[] {
  const [first, ...others] = steps;
  if (first === undefined) return [];
  return [
    {
      is: "order/missing-step",
      steps: steps.map(({ path }) => path),
      rule: { is: "rule", title: rule.title, because: rule.remarks.because },
      needs,
      on: [...new Set(steps.flatMap((step) => step.on))],
      ruleAt: rule.anchor,
      others: others.map(placeOf),
      anchor: first.anchor,
    },
  ];
}

function brokenFinding({ before, after, why, way }: BrokenOrder): Found {
  const is =
    why.is === "rule" ? "order/broken" : why.is === "final" ? "joint/before-final" : "joint/order";
  return {
    is,
    before: before.path,
    after: after.path,
    why: becauseOf(why),
    way: way.slice(1, -1).map(({ path }) => path),
    onOpen: before.on.length === 0 || after.on.length === 0,
    there: placeOf(before),
    rule: why.is === "rule" ? why.rule.anchor : undefined,
    anchor: after.anchor,
  };
}

/** Only where there is a plan at all: a build without steps says nothing about tightening. */
function tighteningFindings(plan: Plan, joint: Joint): Found[] {
  if (plan.live.length === 0) return [];
  const { path, anchor, adjustable } = joint;
  const findings: Found[] = [];
  const tightening = plan.live.filter((step) => step.tighten.includes(joint));
  const last = [...tightening].sort((one, other) => other.tightenTo - one.tightenTo)[0];
  if (last === undefined) return [{ is: "joint/never-tightened", joint: path, anchor }];
  const share = last.tightenTo;
  if (!isWhole(share))
    findings.push({
      is: "joint/not-full",
      joint: path,
      step: last.path,
      share,
      anchor: last.anchor,
    });
  if (joint.torque === undefined)
    findings.push({ is: "joint/no-torque", joint: path, step: last.path, anchor });
  const wanted = adjustable || joint.recheckAfter !== undefined;
  if (wanted && !plan.live.some((step) => step.recheck.includes(joint)))
    findings.push({ is: "joint/no-recheck", joint: path, adjustable, anchor });
  return findings;
}

/** A torque that no wrench can be set to is no torque, whatever step it belongs to. */
function adapterFindings({ path, anchor, adapter, setting, torque }: Joint): Found[] {
  const open = adapter && setting === undefined && torque !== undefined;
  return open ? [{ is: "joint/adapter", joint: path, anchor }] : [];
}

function passFindings(joint: Joint): Found[] {
  const problem = passProblem(joint.shares, lastPassSlack);
  if (problem === undefined) return [];
  const { passesAnchor } = joint;
  const own = passesAnchor !== undefined && joint.thing.entries.has(jointFields.passes);
  const mended = own ? "[30 %, 70 %, 100 %]" : undefined;
  const anchor = passesAnchor ?? joint.anchor;
  return [{ is: "joint/passes", joint: joint.path, problem, mended, anchor }];
}

function sequenceFindings(joint: Joint): Found[] {
  const { path, count, groups, written } = joint;
  if (groups > 1 && count % groups !== 0)
    return [{ is: "joint/groups", joint: path, count, groups, anchor: joint.anchor }];
  const layout = layoutFinding(joint);
  if (layout !== undefined) return [layout];
  if (written === undefined) return [];
  const { anchor } = written;
  const better = groupedOrder(joint).flat();
  const gaps = gapsOfOrder(written.order, count);
  if (gaps.missing.length + gaps.twice.length + gaps.unknown.length > 0)
    return [{ is: "joint/sequence", joint: path, better, count, ...gaps, anchor }];
  if (joint.pattern === "circle" || joint.pattern === "line") return [];
  const pairs = neighborsInSuccession(written.order, joint);
  // Of four fasteners some are always neighbors: only more of them than need be is worth a word.
  if (pairs.length <= neighborsInSuccession(better, joint).length) return [];
  const across = joint.pattern === "cross";
  return [{ is: "joint/neighbours", joint: path, better, pairs, across, anchor }];
}

/** Where the fasteners stand does not go with how many there are. */
function layoutFinding(joint: Joint): Found | undefined {
  const { path, count, groups, pattern, columns, places, anchor } = joint;
  const each = count / groups;
  if (pattern === "rectangle" && columns !== undefined && !rowsOfRectangle(each, columns))
    return { is: "joint/columns", joint: path, each, columns, anchor };
  const told = places?.length ?? 0;
  if (pattern === "coordinates" && told !== count)
    return { is: "joint/places", joint: path, count, places: told, anchor };
  return undefined;
}
