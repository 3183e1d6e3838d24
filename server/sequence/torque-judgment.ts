/**
 * Whether what a record says of a joint brings it where it has to go: which share of its torque the
 * entry is about, and whether it is near enough.
 *
 *     judgmentOf(build, plan)(event)   →   { share: 1, is: "right" }
 *
 * A record's torque is what the nut was brought to. Where a locking nut turns hard the figure with
 * its running torque on top is as good; a figure that is what the wrench is set to, and not what the
 * nut gets, is told apart. Must not know: passes done before, how anything is worded.
 */
import { Alike } from "../keep/alike";
import { isAbove, isWhole } from "./close";
import type { JointEvent } from "./entries";
import { type Instrument, instrumentIn } from "./instruments";
import type { NotedBuild } from "./noted-build";
import type { Joint, Plan } from "./plan";
import { isSame } from "./same";
import { jointFields } from "./vocabulary";

/** ISO 6789-1: what a torque wrench may be off above 10 N·m; where no instrument says otherwise. */
const usualDeviation = 0.04;
/** Common practice, no source: an angle is turned to within this, in rad (5 degrees). */
const angleSlack = (5 * Math.PI) / 180;

export interface Judgment {
  /** Of the joint's torque; 1 for the whole. */
  readonly share: number;
  readonly verdict: "right" | "off" | "setting" | "unknown";
  /** In N·m: what is wanted at that share, and how far from it is allowed. */
  readonly wanted?: number;
  readonly allowed?: number;
  /** In N·m: what the running torque is planned to be, where what was measured is another. */
  readonly running?: number;
  /** In N·m: what may be off at most, where the record's own ± is wider. */
  readonly unsure?: number;
  /** What it was done with, where the build knows that. */
  readonly instrument?: Instrument;
  /** False where it was not turned on by the angle that is wanted; open where nothing is said. */
  readonly turned?: boolean;
}

export type Judge = (event: JointEvent) => Judgment;

export function judgmentOf(build: NotedBuild, plan: Plan): Judge {
  const { judged, tools } =
    judgments.find(plan.key, () => true) ??
    judgments.keep(plan.key, { judged: new Map(), tools: new Map() });
  const known = new Map<Joint, Omit<Known, "accuracy">>();
  const instruments = new Map<string, Instrument | undefined>();
  return (event) => {
    const { joint, with: tool } = event;
    if (tool !== undefined && !instruments.has(tool)) {
      const found = instrumentIn(build, tool);
      const same = isSame(found, tools.get(tool)) ? tools.get(tool) : found;
      instruments.set(tool, same);
      tools.set(tool, same);
    }
    const instrument = tool === undefined ? undefined : instruments.get(tool);
    const about = known.get(joint) ?? {
      stated: statedTolerance(build, joint),
      lower: lowerShares(plan, joint),
    };
    known.set(joint, about);
    const before = judged.get(event);
    if (
      before !== undefined &&
      before.stated === about.stated &&
      before.judgment.instrument === instrument
    )
      return before.judgment;
    const made = judge(event, { ...about, accuracy: instrument?.accuracy });
    const judgment = instrument === undefined ? made : { ...made, instrument };
    judged.set(event, { judgment, stated: about.stated });
    return judgment;
  };
}

interface Judged {
  readonly judgment: Judgment;
  /** The ± of the joint's torque by which it was judged. */
  readonly stated: number | undefined;
}

interface Judgments {
  readonly judged: Map<JointEvent, Judged>;
  /** What each instrument was then: as long as it is that, it is the very object. */
  readonly tools: Map<string, Instrument | undefined>;
}

/** As long as nothing of the plan changed an entry is judged once. */
const judgments = new Alike<object, Judgments>(1);

interface Known {
  readonly accuracy: number | undefined;
  readonly stated: number | undefined;
  readonly lower: readonly number[];
}

function judge(event: JointEvent, { accuracy, stated, lower }: Known): Judgment {
  const { joint, pass } = event;
  const full = joint.torque;
  const planned = pass === undefined ? undefined : joint.passes[pass - 1];
  const turned =
    joint.turn === undefined || event.turned === undefined
      ? undefined
      : Math.abs(event.turned.value - joint.turn) <= angleSlack + event.turned.rounding;
  const torque = event.torque ?? atTheNut(event);
  if (torque === undefined || full === undefined) {
    return { share: planned?.share ?? 1, verdict: "unknown", turned };
  }
  const room = torque.rounding + torque.sureness;
  const allowedAt = (target: number): number =>
    (stated ?? (accuracy ?? usualDeviation) * target) + room;
  const isAt = (target: number): boolean =>
    !isAbove(Math.abs(torque.value - target), allowedAt(target));
  // Without a pass number the torque tells which pass it was.
  const share = planned?.share ?? (isAt(full) ? 1 : (lower.find((each) => isAt(each * full)) ?? 1));
  const wanted = share * full;
  if (!isWhole(share)) {
    // Lower passes only bring the joint together; what counts is that none is another's.
    const allowed = roomOfPass(joint, share) * full + room;
    const isOff = isAbove(Math.abs(torque.value - wanted), allowed);
    return { share, wanted, allowed, turned, verdict: isOff ? "off" : "right" };
  }
  const allowed = allowedAt(wanted);
  const most = allowed - room;
  const unsure = isAbove(torque.sureness, most) ? most : undefined;
  const answer = { share, wanted, allowed, turned, unsure, running: runningOff(event, allowed) };
  const onTop = event.running === undefined ? [] : [full + event.running.value];
  if ([wanted, joint.applied ?? full, ...onTop].some(isAt)) return { ...answer, verdict: "right" };
  const setting = joint.setting ?? full;
  return { ...answer, verdict: isAt(setting) ? "setting" : "off" };
}

/** As a share of the torque: halfway to the pass before it or the next one, whichever is nearer. */
function roomOfPass({ shares }: Joint, share: number): number {
  const others = [0, ...shares, 1]
    .map((each) => Math.abs(each - share))
    .filter((gap) => gap > 1e-6);
  return Math.min(...others) / 2;
}

/** What the wrench is set to has the planned running torque in it: off by more, the torque is off. */
function runningOff({ joint, running }: JointEvent, allowed: number): number | undefined {
  if (running === undefined) return undefined;
  const isOff = isAbove(Math.abs(running.value - joint.running), allowed + running.rounding);
  return isOff ? joint.running : undefined;
}

/** What the nut got by what the wrench showed. */
export function atTheNut({ joint, reading }: JointEvent): JointEvent["torque"] {
  const { setting, applied } = joint;
  if (reading === undefined || setting === undefined || applied === undefined || setting <= 0)
    return undefined;
  const ratio = applied / setting;
  return {
    value: reading.value * ratio,
    rounding: reading.rounding * ratio,
    sureness: reading.sureness * ratio,
  };
}

/** What the nut got by the wrench, where another figure is on record beside it, in N·m. */
export function nutApart(
  event: JointEvent,
  instrument: Instrument | undefined,
): number | undefined {
  const { joint, torque, running } = event;
  const nut = atTheNut(event);
  if (torque === undefined || nut === undefined) return undefined;
  const off = (instrument?.accuracy ?? usualDeviation) * nut.value;
  const room = off + nut.rounding + nut.sureness + torque.rounding + torque.sureness;
  const onTop = [0, joint.running, running?.value ?? 0];
  const fits = onTop.some((more) => !isAbove(Math.abs(torque.value + more - nut.value), room));
  return fits ? undefined : nut.value;
}

/** Shares below the whole torque that the joint is brought to on the way. */
function lowerShares(plan: Plan, joint: Joint): number[] {
  const steps = plan.live.filter((step) => step.tighten.includes(joint));
  const shares = [
    ...joint.passes.map(({ share }) => share),
    ...steps.map((step) => step.tightenTo),
  ];
  return [...new Set(shares)].filter((share) => !isWhole(share));
}

/** The ± written with the joint's torque, if any, in N·m. */
function statedTolerance(build: NotedBuild, joint: Joint): number | undefined {
  const spread = build.figureOf(joint.thing, jointFields.torque)?.spread();
  if (spread === undefined) return undefined;
  const half = Math.max(spread.worstBelow, spread.worstAbove);
  return half > 0 ? half : undefined;
}
