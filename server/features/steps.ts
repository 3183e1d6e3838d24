/**
 * Steps and joints of the order of work in words: how a step stands, beside the line that opens it;
 * what it waits for and what waits for it, what it tightens and in which order, under the pointer.
 *
 *     stepLabel(step, sequence, 43)   →   "waits for Fit the shims and 1 more"
 *
 * Must not know: where the words are shown, how the order comes about.
 */
import type { Analysis } from "../analysis/analysis";
import type { Thing } from "../model/thing";
import {
  type Blocker,
  FigureWriter,
  type PlannedJoint,
  type PlannedPass,
  type PlannedStep,
  passInWords,
  type Sequence,
  sequenceOf,
  stateInWords,
} from "../sequence";
import { codeForMarkdown, forMarkdown } from "../text/untrusted-text";

const mostListed = 8;
const leastRoom = 12;

/** Labels of the steps this build has, by the path of the step; none where there are no steps. */
export function stepLabels(analysis: Analysis, room: number): ReadonlyMap<string, string> {
  const sequence = sequenceOf(analysis);
  const before = lastLabels.get(sequence.steps);
  if (before?.room === room) return before.labels;
  const titles = new Map(sequence.steps.map((step) => [step.path, step.title]));
  const labels = new Map<string, string>();
  lastLabels.set(sequence.steps, { room, labels });
  for (const step of sequence.steps) labels.set(step.path, labelOf(step, sequence, titles, room));
  for (const { path, because } of sequence.leftOut)
    labels.set(path, clipped(`left out: ${because}`, room));
  return labels;
}

const lastLabels = new WeakMap<
  Sequence["steps"],
  { readonly room: number; readonly labels: ReadonlyMap<string, string> }
>();

export interface WorkInWords {
  readonly lines: readonly string[];
  /** True where nothing that is written in the thing is left to tell. */
  readonly whole: boolean;
}

/** What there is to say of a thing that is a step or a joint; nothing of others. */
export function workInWords(analysis: Analysis, thing: Thing): WorkInWords | undefined {
  const sequence = sequenceOf(analysis);
  const step = sequence.steps.find(({ path }) => path === thing.path);
  if (step !== undefined) return { lines: stepLines(sequence, step), whole: true };
  const left = sequence.leftOut.find(({ path }) => path === thing.path);
  if (left !== undefined)
    return { lines: [`left out: ${forMarkdown(left.because)}`], whole: false };
  const joint = sequence.joints.find(({ path }) => path === thing.path);
  return joint === undefined ? undefined : { lines: jointLines(sequence, joint), whole: false };
}

// ───────────────────────────── helpers ─────────────────────────────

function labelOf(
  step: PlannedStep,
  sequence: Sequence,
  titles: ReadonlyMap<string, string>,
  room: number,
): string {
  if (step.state === "done") return step.doneOn === undefined ? "done" : `done ${step.doneOn}`;
  if (step.holdsSteps) {
    const inside = stepsInside(step, sequence);
    const done = inside.filter(({ state }) => state === "done").length;
    if (done > 0) return `${done} of ${inside.length} done`;
    if (inside.some(({ state }) => state === "ready")) return `ready, ${inside.length} steps`;
    // The first of its steps waits for what the procedure as a whole waits for.
    return waitingLabel(inside[0] ?? step, titles, room);
  }
  return step.state === "ready" ? "ready" : waitingLabel(step, titles, room);
}

function waitingLabel(
  { blockedBy }: PlannedStep,
  titles: ReadonlyMap<string, string>,
  room: number,
): string {
  const [first, ...others] = blockedBy;
  if (first === undefined) return "waits for its steps";
  const more = others.length === 0 ? "" : ` and ${others.length} more`;
  return `${clipped(blockerLabel(first, titles), room - more.length)}${more}`;
}

/** The steps to be done in a procedure, those of its chapters too. */
function stepsInside({ path, holdsSteps }: PlannedStep, { steps }: Sequence): PlannedStep[] {
  if (!holdsSteps) return [];
  return steps.filter((step) => !step.holdsSteps && step.within.includes(path));
}

function blockerLabel(blocker: Blocker, titles: ReadonlyMap<string, string>): string {
  switch (blocker.is) {
    case "step":
      return `waits for ${titles.get(blocker.path ?? "") ?? blocker.text}`;
    case "figure":
      return `waits for ${blocker.path ?? blocker.text}`;
    case "check":
    case "part":
      return blocker.text;
    case "loop":
      return "never: steps wait for each other";
  }
}

/** Cut between words where there is no room for all of it. */
function clipped(text: string, room: number): string {
  if (text.length <= room) return text;
  const most = Math.max(leastRoom, room);
  const space = text.slice(0, most).lastIndexOf(" ");
  return `${text.slice(0, space >= leastRoom ? space : most - 1).trimEnd()}…`;
}

// ── steps ──

function stepLines(sequence: Sequence, step: PlannedStep): string[] {
  const inside = stepsInside(step, sequence);
  const open = inside.filter(({ state }) => state !== "done");
  const measured = step.measure.map(
    ({ path, measured: done }) => `\`${path}\`${done ? " (measured)" : ""}`,
  );
  return [
    `*${forMarkdown(stateWords(step))}*  `,
    ...(inside.length === 0
      ? []
      : [`${inside.length - open.length} of ${inside.length} steps done  `]),
    ...(step.caution === undefined ? [] : [`**caution:** ${forMarkdown(step.caution)}  `]),
    ...(step.hands > 1 ? [`takes ${step.hands} people  `] : []),
    ...(step.note === undefined ? [] : [`${forMarkdown(step.note)}  `]),
    ...(step.needs.length === 0 ? [] : [`needs ${step.needs.map(codeForMarkdown).join(", ")}  `]),
    ...(measured.length === 0 ? [] : [`measures ${measured.join(", ")}  `]),
    ...step.checks.map(({ title }) => `within limits: ${forMarkdown(title)}  `),
    ...(step.hold === undefined ? [] : [`then hold ${step.hold}  `]),
    ...step.tighten.flatMap((joint) => ["", ...tightenLines(sequence, step, joint)]),
    ...(step.recheck.length === 0
      ? []
      : ["", "checks again", ...step.recheck.map((joint) => recheckLine(sequence, joint))]),
    ...section("waits for", beforeLines(sequence, step)),
    ...section("after it", afterLines(sequence, step)),
  ];
}

/** What the build says only by the way, because a nearer step waits for it too, is left out. */
function beforeLines(sequence: Sequence, { waitsFor }: PlannedStep): string[] {
  const steps = new Map(sequence.steps.map((step) => [step.path, step]));
  const near = waitsFor.filter(
    ({ path, written }) =>
      !written ||
      !waitsFor.some((other) => steps.get(other.path)?.waitsFor.some((at) => at.path === path)),
  );
  const lines = near.map(({ path, title, because, written, hold }) => {
    const done = steps.get(path)?.state === "done";
    const wait = hold === undefined || done ? "" : `; hold ${hold}`;
    return `- ${done ? "done: " : ""}${forMarkdown(title)}, \`${path}\`${written ? "" : `: ${forMarkdown(because)}`}${wait}`;
  });
  return lines.sort(
    (one, other) => Number(one.startsWith("- done")) - Number(other.startsWith("- done")),
  );
}

/** Those right after it; what comes after them waits for this one anyway. */
function afterLines({ steps }: Sequence, { path: own, holdsSteps }: PlannedStep): string[] {
  const after = steps.filter(
    (step) => (holdsSteps || !step.holdsSteps) && step.waitsFor.some(({ path }) => path === own),
  );
  const paths = new Set(after.map(({ path }) => path));
  return after
    .filter(({ waitsFor }) => !waitsFor.some(({ path }) => paths.has(path)))
    .map(({ path, title }) => `- ${forMarkdown(title)}, \`${path}\``);
}

function stateWords(step: PlannedStep): string {
  return step.holdsSteps && step.state !== "done" ? "not done yet" : stateInWords(step);
}

function tightenLines(sequence: Sequence, step: PlannedStep, joint: PlannedJoint): string[] {
  const writer = new FigureWriter(sequence.style);
  const full = step.tightenTo >= 1 - 1e-9;
  const passes = joint.passes.filter(
    ({ share, circular }) => share <= step.tightenTo + 1e-9 && (full || !circular),
  );
  const part = joint.torque === undefined ? undefined : joint.torque * step.tightenTo;
  return [
    `tightens ${forMarkdown(joint.title)}, \`${joint.path}\`${full ? "" : ` to ${writer.torque(part)}`}`,
    ...passes.map((pass) => passLine(writer, pass, joint)),
  ];
}

function recheckLine({ style }: Sequence, joint: PlannedJoint): string {
  const torque = new FigureWriter(style).torque(joint.setting ?? joint.torque);
  const when = joint.recheckedOn === undefined ? "" : `, done on ${joint.recheckedOn}`;
  return `- ${forMarkdown(joint.title)}, \`${joint.path}\` at ${torque}${when}`;
}

// ── joints ──

function jointLines(sequence: Sequence, joint: PlannedJoint): string[] {
  const writer = new FigureWriter(sequence.style);
  const tightening = sequence.steps.filter(({ tighten }) => tighten.some(isIt));
  const rechecking = sequence.steps.filter(({ recheck }) => recheck.some(isIt));
  function isIt({ path }: PlannedJoint): boolean {
    return path === joint.path;
  }
  const state =
    joint.tightenedOn === undefined
      ? "not tightened yet"
      : `tightened on ${joint.tightenedOn}${joint.recheckedOn === undefined ? "" : `, checked again on ${joint.recheckedOn}`}`;
  const order = joint.order.map((group) => group.join(" ")).join(" then ");
  const wrench = joint.wrench === undefined ? "" : ` with ${forMarkdown(joint.wrench)}`;
  return [
    `*${state}*  `,
    ...(joint.count > 1 ? [`order **${order}**  `] : []),
    "",
    `${joint.passes.length === 1 ? "one pass" : `${joint.passes.length} passes`}${wrench}`,
    ...joint.passes.map((pass) => passLine(writer, pass, joint)),
    ...section(
      "to mind",
      joint.notes.map((note) => `- ${forMarkdown(note)}`),
    ),
    ...section(
      "tightened in",
      tightening.map(
        ({ path, title, tightenTo }) =>
          `- ${forMarkdown(title)}, \`${path}\`${tightenTo >= 1 - 1e-9 ? "" : `, to ${writer.torque(joint.torque === undefined ? undefined : joint.torque * tightenTo)}`}`,
      ),
    ),
    ...section(
      "checked again in",
      rechecking.map(({ path, title }) => `- ${forMarkdown(title)}, \`${path}\``),
    ),
  ];
}

function passLine(writer: FigureWriter, pass: PlannedPass, joint: PlannedJoint): string {
  return `- ${passInWords(writer, pass, joint)}`;
}

function section(title: string, lines: readonly string[]): string[] {
  if (lines.length === 0) return [];
  const more = lines.length - mostListed;
  return ["", title, ...lines.slice(0, mostListed), ...(more > 0 ? [`- and ${more} more`] : [])];
}
