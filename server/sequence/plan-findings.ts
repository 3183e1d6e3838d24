/**
 * What is wrong with the plan: loops, broken rules, joints nobody tightens, passes that do not
 * climb, neighbours in succession.
 *
 * Must not know: records.
 */
import type { OwnCode } from "../findings/codes";
import type { Finding, Fix, Severity } from "../findings/finding";
import { passProblem } from "./passes";
import type { Joint, Plan, Step } from "./plan";
import {
  gapsOfOrder,
  groupedOrder,
  neighboursInSuccession,
  rowsOfRectangle,
} from "./tightening-order";
import { jointFields } from "./vocabulary";
import type { Broken, Lacking, Waiting } from "./waiting";
import { type Said, plan as words } from "./wording";

/** Torques of passes may be rounded to what a wrench shows: the last may miss by this share. */
const lastPassSlack = 0.02;

export function planFindings(plan: Plan, waiting: Waiting): Finding[] {
  return [
    ...loopFindings(waiting),
    ...waiting.broken.map(brokenFinding),
    ...waiting.lacking.flatMap(lackingFinding),
    ...plan.live.flatMap((step) =>
      step.unfilled.map((path) =>
        found("step/no-figure", "warning", words.unfilled(step, path), step),
      ),
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
function loopFindings({ loops, stuck, graph }: Waiting): Finding[] {
  const loopOf = (step: Step): readonly Step[] | undefined => {
    const ancestors = graph.ancestors(step.index);
    return loops.find((each) => each.some(({ index }) => ancestors.has(index)));
  };
  const waiting = [...stuck].map((step) => ({ step, loop: loopOf(step) }));
  return loops.flatMap((loop) => {
    const [first, ...others] = loop;
    if (first === undefined) return [];
    const behind = waiting.flatMap(({ step, loop: own }) => (own === loop ? [step] : []));
    const related = others.map((step) => ({
      anchor: step.anchor,
      message: `${step.title} is here`,
    }));
    return [found("step/loop", "error", words.loop(loop, behind), first, related)];
  });
}

/** One for each step that is missing, however many need it. */
function lackingFinding({ rule, steps, needs }: Lacking): Finding[] {
  const [first, ...others] = steps;
  if (first === undefined) return [];
  return [
    found("order/missing-step", "warning", words.lacking(steps, rule, needs), first, [
      { anchor: rule.anchor, message: "the rule is here" },
      ...others.map(({ anchor, title }) => ({ anchor, message: `${title} needs it too` })),
    ]),
  ];
}

function brokenFinding(broken: Broken): Finding {
  const { before, after, why } = broken;
  const code =
    why.is === "rule" ? "order/broken" : why.is === "final" ? "joint/before-final" : "joint/order";
  const related = [{ anchor: before.anchor, message: `${before.title} is here` }];
  if (why.is === "rule") related.push({ anchor: why.rule.anchor, message: "the rule is here" });
  return found(code, "error", words.broken(broken), after, related);
}

/** Only where there is a plan at all: a build without steps says nothing about tightening. */
function tighteningFindings(plan: Plan, joint: Joint): Finding[] {
  if (plan.live.length === 0) return [];
  const findings: Finding[] = [];
  const tightening = plan.live.filter((step) => step.tighten.includes(joint));
  const last = [...tightening].sort((one, other) => other.tightenTo - one.tightenTo)[0];
  if (last === undefined) {
    findings.push(found("joint/never-tightened", "warning", words.neverTightened(joint), joint));
    return findings;
  }
  if (last.tightenTo < 1 - 1e-6) {
    findings.push(
      found("joint/not-full", "warning", words.notFull(joint, last, last.tightenTo), last),
    );
  }
  if (joint.torque === undefined) {
    findings.push(found("joint/no-torque", "warning", words.noTorque(joint, last), joint));
  }
  const wanted = joint.adjustable || joint.recheckAfter !== undefined;
  if (wanted && !plan.live.some((step) => step.recheck.includes(joint))) {
    findings.push(found("joint/no-recheck", "warning", words.noRecheck(joint), joint));
  }
  return findings;
}

/** A torque that no wrench can be set to is no torque, whatever step it belongs to. */
function adapterFindings(joint: Joint): Finding[] {
  const open = joint.adapter && joint.setting === undefined && joint.torque !== undefined;
  return open ? [found("joint/adapter", "warning", words.adapter(joint), joint)] : [];
}

function passFindings(joint: Joint): Finding[] {
  const problem = passProblem(joint.shares, lastPassSlack);
  if (problem === undefined) return [];
  const fixes: Fix[] = [];
  if (joint.passesAnchor !== undefined && joint.thing.entries.has(jointFields.passes)) {
    fixes.push({
      title: "write [30 %, 70 %, 100 %]",
      edits: [{ anchor: joint.passesAnchor, text: "[30 %, 70 %, 100 %]" }],
    });
  }
  const finding = found("joint/passes", "warning", words.passes(joint, problem), joint);
  return [{ ...finding, anchor: joint.passesAnchor ?? joint.anchor, fixes }];
}

function sequenceFindings(joint: Joint): Finding[] {
  const { count, groups, written } = joint;
  if (groups > 1 && count % groups !== 0) {
    return [found("joint/groups", "warning", words.groups(joint), joint)];
  }
  const layout = layoutFinding(joint);
  if (layout !== undefined) return [layout];
  if (written === undefined) return [];
  const better = groupedOrder(joint).flat();
  const fixes: Fix[] =
    better.length === 0
      ? []
      : [
          {
            title: `write ${better.join(", ")}`,
            edits: [{ anchor: written.anchor, text: `[${better.join(", ")}]` }],
            preferred: true,
          },
        ];
  const gaps = gapsOfOrder(written.order, count);
  if (gaps.missing.length + gaps.twice.length + gaps.unknown.length > 0) {
    const finding = found("joint/sequence", "error", words.sequence(joint, gaps, better), joint);
    return [{ ...finding, anchor: written.anchor, fixes }];
  }
  if (joint.pattern === "circle" || joint.pattern === "line") return [];
  const pairs = neighboursInSuccession(written.order, joint);
  // Of four fasteners some are always neighbours: only more of them than need be is worth a word.
  if (pairs.length <= neighboursInSuccession(better, joint).length) return [];
  const finding = found(
    "joint/neighbours",
    "warning",
    words.neighbours(joint, pairs, better),
    joint,
  );
  return [{ ...finding, anchor: written.anchor, fixes }];
}

/** Where the fasteners stand does not go with how many there are. */
function layoutFinding(joint: Joint): Finding | undefined {
  const { count, groups, pattern, columns, places } = joint;
  const each = count / groups;
  if (pattern === "rectangle" && columns !== undefined && !rowsOfRectangle(each, columns))
    return found("joint/columns", "warning", words.columns(joint, each, columns), joint);
  if (pattern === "coordinates" && (places?.length ?? 0) !== count)
    return found("joint/places", "warning", words.places(joint, places?.length ?? 0), joint);
  return undefined;
}

export function found(
  code: OwnCode,
  severity: Severity,
  { message, hint }: Said,
  at: Pick<Step | Joint, "anchor">,
  related: Finding["related"] = [],
): Finding {
  return { code, severity, message, hint, anchor: at.anchor, related };
}
