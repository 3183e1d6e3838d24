/**
 * The plan as plain text, for a terminal or a bench.
 *
 *     writePlan(sequence)   →   "Fixture, tack and weld\n  1  [done] Tack each end …"
 *
 * Must not know: the analysis, terminals.
 */
import { FigureWriter } from "../findings/figure-writer";
import { andList, type Run, runsOf } from "../findings/phrases";
import { percent } from "../findings/work-phrases";
import { isAbove } from "./close";
import { acceptedInWords, stateInWords } from "./plan-words";
import type { Days } from "./schedule";
import type { PlannedJoint, PlannedPass, PlannedStep, Sequence } from "./sequence";

export interface PlanSettings {
  /** Columns a line may take; longer ones are broken between words. */
  readonly width?: number;
  /** Leaves finished steps out. */
  readonly onlyLeft?: boolean;
  /** Only what can be done now, done again included. */
  readonly now?: boolean;
  /** Only what so many people can do. */
  readonly people?: number;
  /** Only this step, by its path: a card for the bench. */
  readonly step?: string;
}

const marks: Readonly<Record<PlannedStep["state"], string>> = {
  done: "[x]",
  ready: "[ ]",
  blocked: "[.]",
  again: "[!]",
};

export function writePlan(sequence: Sequence, settings: PlanSettings = {}): string {
  const { width = 100 } = settings;
  const lines = new Lines(width);
  const writer = new FigureWriter(sequence.style);
  const steps = sequence.steps.filter((step) => !step.holdsSteps);
  if (steps.length === 0) {
    lines.add(
      0,
      "there are no steps in this build: write a procedure, or take a chapter in from the library",
    );
    return lines.text();
  }
  const again = steps.some(({ state }) => state === "again");
  lines.add(0, `[x] done   [ ] ready   [.] waits${again ? "   [!] to be done again" : ""}`);
  const titles = new Map(sequence.steps.map((step) => [step.path, step.title]));
  const cautions = new Map(sequence.steps.map((step) => [step.path, step.caution]));
  const numbers = new Map(steps.map((step, index) => [step.path, index + 1]));
  const beside = besideOf(sequence, numbers);
  const planned = sequence.schedule?.days?.steps ?? [];
  const days = new Map(planned.flatMap(({ path, starts }) => (starts ? [[path, starts]] : [])));
  let chapter: string | undefined;
  for (const step of steps) {
    if (!isWanted(step, settings)) continue;
    const [within] = step.within;
    if (within !== chapter) {
      chapter = within;
      lines.gap();
      lines.add(0, within === undefined ? "Steps" : (titles.get(within) ?? within));
      const caution = within === undefined ? undefined : cautions.get(within);
      if (caution !== undefined) lines.add(2, `Caution: ${caution}.`);
    }
    writeStep(lines, { writer, numbers, beside, accepted: sequence.accepted, days }, step);
  }
  if (settings.step !== undefined) return lines.text();
  if (sequence.leftOut.length > 0) {
    lines.gap();
    lines.add(0, "Left out");
    for (const { title, because } of sequence.leftOut) lines.add(2, `${title}: ${because}.`);
  }
  writeAccepted(lines, sequence);
  writeLeft(lines, sequence);
  return lines.text();
}

function isWanted(step: PlannedStep, settings: PlanSettings): boolean {
  const { onlyLeft = false, now = false, people, step: path } = settings;
  if (path !== undefined) return step.path === path;
  if (onlyLeft && step.state === "done") return false;
  if (now && step.state !== "ready" && step.state !== "again") return false;
  return people === undefined || step.hands <= people;
}

interface Around {
  readonly writer: FigureWriter;
  readonly numbers: ReadonlyMap<string, number>;
  /** What is left among the steps that wait for the same, by number. */
  readonly beside: ReadonlyMap<PlannedStep, readonly Run[]>;
  readonly accepted: Sequence["accepted"];
  /** The day on which each step that is left begins. */
  readonly days: ReadonlyMap<string, string>;
}

function writeStep(
  lines: Lines,
  { writer, numbers, beside, accepted, days }: Around,
  step: PlannedStep,
): void {
  const number = numbers.get(step.path)!;
  const takes = [
    ...(step.hands > 1 ? [`${step.hands} people`] : []),
    ...(step.duration === undefined ? [] : [writer.duration(step.duration)]),
  ];
  const hands = takes.length === 0 ? "" : ` (${takes.join(", ")})`;
  const done =
    step.doneOn === undefined
      ? ""
      : `, ${step.doneOn}${step.doneBy === undefined ? "" : ` by ${step.doneBy}`}`;
  const day = step.duration === undefined || done !== "" ? undefined : days.get(step.path);
  const planned = day === undefined ? "" : `, planned for ${day}`;
  lines.add(2, `${marks[step.state]} ${number}. ${step.title}${hands}${done}${planned}`);
  if (step.caution !== undefined) lines.add(6, `Caution: ${step.caution}.`);
  if (step.note !== undefined) lines.add(6, `${capital(step.note)}.`);
  if (step.needs.length > 0) lines.add(6, `Needs ${andList(step.needsInWords)}.`);
  if (step.parts.length > 0) {
    const parts = step.parts.map(({ title, atHand }) =>
      atHand ? title : `${title} (not at hand)`,
    );
    lines.add(6, `Parts: ${andList(parts)}.`);
  }
  if (step.machines.length > 0) lines.add(6, `Keeps busy: ${andList(step.machines)}.`);
  if (step.otherThan.length > 0) {
    lines.add(6, `By a second person: not whoever did ${andList(step.otherThan)}.`);
  }
  if (step.measure.length > 0) {
    lines.add(6, `Measure and write down ${andList(step.measure.map(({ path }) => path))}.`);
  }
  for (const check of step.checks) lines.add(6, `Within limits: ${check.title}.`);
  for (const joint of step.tighten) writeJoint(lines, writer, step, joint);
  for (const joint of step.recheck) {
    lines.add(6, `Check ${joint.title} again at ${writer.torque(joint.setting ?? joint.torque)}.`);
  }
  for (const each of accepted)
    if (each.step === step.path && each.standing !== "withdrawn")
      lines.add(6, `Accepted: ${acceptedInWords(each)}.`);
  if (step.signOff !== undefined) {
    lines.add(6, `Hold point: ${step.signOff} looks at it and signs before anything goes on.`);
  }
  if (step.hold !== undefined) lines.add(6, `Hold ${step.hold} before what comes next.`);
  if (step.state === "again") {
    for (const why of step.again) lines.add(6, `Again: ${why}.`);
  }
  if (step.state === "blocked") {
    lines.add(6, `${capital(stateInWords(step))}.`);
  }
  const others = without(beside.get(step) ?? [], number);
  if (step.state !== "done" && others.length > 0)
    lines.add(6, `Can go on beside ${inRuns(others)}.`);
}

function writeJoint(
  lines: Lines,
  writer: FigureWriter,
  step: PlannedStep,
  joint: PlannedJoint,
): void {
  const what = [joint.count > 1 ? `${joint.count} off` : undefined, joint.thread, gradeOf(joint)];
  const parts = what.filter((part) => part !== undefined).join(", ");
  const wrench = joint.wrench === undefined ? "" : ` with ${joint.wrench}`;
  lines.add(6, `Tighten ${joint.title}${parts === "" ? "" : ` (${parts})`}${wrench}:`);
  const passes = joint.passes.filter((pass) => !isAbove(pass.share, step.tightenTo));
  const shown = passes.filter((pass) => !pass.circular || step.tightenTo >= 1);
  for (const pass of shown) lines.add(8, passInWords(writer, pass, joint));
  if (shown.length === 0) {
    lines.add(
      8,
      `to ${percent(step.tightenTo)}, ${writer.torque(shareOf(joint.torque, step.tightenTo))}`,
    );
  }
  if (step.tightenTo >= 1) {
    lines.add(8, "then pull once more on each: the wrench clicks again without turning");
  }
  for (const note of joint.notes) lines.add(8, note);
}

/** `pass 2: 70 %, 59.5 lb-ft, order 1 3 5 2 4` */
export function passInWords(writer: FigureWriter, pass: PlannedPass, joint: PlannedJoint): string {
  const way = joint.count === 1 ? "" : wayInWords(pass);
  if (pass.turn !== undefined) {
    const turn = writer.figure(pass.turn, "angle");
    return `pass ${pass.number}: turn each on by ${turn}${way}, marked before and after`;
  }
  const torque = writer.torque(pass.torque);
  if (!joint.settingKnown) {
    return `pass ${pass.number}: ${percent(pass.share)}, ${torque} at the nut${way}; what to set the wrench to is open: with an adapter it takes the wrench's length`;
  }
  const set =
    pass.setting === undefined ||
    pass.torque === undefined ||
    Math.abs(pass.setting - pass.torque) < 1e-9
      ? ""
      : `, wrench set to ${writer.torque(pass.setting)}`;
  const range = pass.withinWrench
    ? ""
    : " (outside the range of this wrench: take another for this pass)";
  return `pass ${pass.number}: ${percent(pass.share)}, ${torque}${set}${way}${range}`;
}

/** Places, group by group, in the order they are tightened. */
function wayInWords({ circular, order }: PlannedPass): string {
  return circular
    ? ", once round"
    : `, order ${order.map((group) => group.join(" ")).join(" then ")}`;
}

function writeAccepted(lines: Lines, { accepted }: Sequence): void {
  if (accepted.length === 0) return;
  lines.gap();
  lines.add(0, "Accepted out of tolerance");
  for (const each of accepted) {
    lines.add(2, `${acceptedInWords(each)}.`);
    if (each.because !== undefined) lines.add(6, `Because: ${ended(each.because)}`);
    if (each.follows !== undefined) lines.add(6, `To be done: ${ended(each.follows)}`);
    const breaks = each.standing === "withdrawn" ? [] : each.breaks();
    if (breaks.length > 0) lines.add(6, `Does not hold as built: ${andList(breaks)}.`);
  }
}

function writeLeft(lines: Lines, sequence: Sequence): void {
  const ready = sequence.steps.filter(
    (step) => !step.holdsSteps && ["ready", "again"].includes(step.state),
  );
  const open = sequence.steps.filter((step) => !step.holdsSteps && step.state !== "done");
  const again = open.filter((step) => step.again.length > 0);
  lines.gap();
  if (again.length > 0) {
    lines.add(0, "To be done again");
    for (const { title, again: why } of again) lines.add(2, `${title}: ${why.join("; ")}.`);
    lines.gap();
  }
  const objections = sequence.findings.filter(({ severity }) => severity !== "note").length;
  if (open.length === 0 && objections > 0) {
    const what = objections === 1 ? "one objection remains" : `${objections} objections remain`;
    lines.add(0, `Every step is on record as done; ${what}.`);
  } else if (open.length === 0) lines.add(0, "Everything is done.");
  else if (ready.length === 0) lines.add(0, `${open.length} left, none of them ready.`);
  else lines.add(0, `${open.length} left. Next: ${andList(ready.map(({ title }) => title))}.`);
  writeSchedule(lines, sequence);
}

function writeSchedule(lines: Lines, { schedule, steps, style }: Sequence): void {
  if (schedule === undefined || schedule.path.length === 0) return;
  const writer = new FigureWriter(style);
  const titles = new Map(steps.map(({ path, title }) => [path, title]));
  const whole = new Set(steps.filter(({ holdsSteps }) => holdsSteps).map(({ path }) => path));
  const way = schedule.path.filter((path) => !whole.has(path));
  const holds = schedule.holds > 0 ? ` and ${writer.duration(schedule.holds)} of waiting` : "";
  const by = schedule.doneBy === undefined ? "" : `, done by ${schedule.doneBy} at the earliest`;
  lines.add(0, `At least ${writer.duration(schedule.work)} of work${holds}${by}.`);
  lines.add(0, `The longest way: ${way.map((path) => titles.get(path) ?? path).join("; ")}.`);
  if (schedule.days !== undefined)
    writeDays(lines, schedule.days, (path) => titles.get(path) ?? path);
  if (schedule.unknown.length > 0) {
    const [one] = schedule.unknown;
    const count = schedule.unknown.length;
    const what = count === 1 ? titles.get(one!)! : `${count} steps`;
    lines.add(0, `Nobody says how long ${what} ${count === 1 ? "takes" : "take"}.`);
  }
}

/** What people and machines make of it, where they are few. */
function writeDays(lines: Lines, days: Days, titleOf: (path: string) => string): void {
  const { people, doneBy, isLonger, steps, short } = days;
  const who =
    people === undefined
      ? "the machines there are"
      : people === 1
        ? "one person"
        : `${people} people`;
  const by = doneBy === undefined ? "" : `, done by ${doneBy}`;
  if (isLonger)
    lines.add(0, `With ${who} it takes longer${by}: a good order, not proved the shortest.`);
  else if (people !== undefined) lines.add(0, `${capital(who)} can keep to that.`);
  const late = isLonger ? steps.filter(({ waits }) => waits !== undefined) : [];
  for (const { path, waits } of late.slice(0, mostWaits)) {
    const what = waits?.for === "people" ? "hands" : `the ${waits?.for}`;
    lines.add(2, `${titleOf(path)} waits for ${what}: ${titleOf(waits?.behind ?? "")} goes first.`);
  }
  if (short.length > 0 && people !== undefined) {
    const takes = short.length === 1 ? "takes" : "take";
    lines.add(0, `${capital(andList(short.map(titleOf)))} ${takes} more than ${who}.`);
  }
}

const mostWaits = 4;

// ───────────────────────────── helpers ─────────────────────────────

/** Held once for all steps of a group: thousands that wait for nothing have all the others beside them. */
function besideOf(
  { groups }: Sequence,
  numbers: ReadonlyMap<string, number>,
): Map<PlannedStep, readonly Run[]> {
  const beside = new Map<PlannedStep, readonly Run[]>();
  for (const group of groups) {
    const left = group.filter(({ state }) => state !== "done");
    const runs = runsOf(left.map(({ path }) => numbers.get(path)!).sort((a, b) => a - b));
    for (const step of group) beside.set(step, runs);
  }
  return beside;
}

/** One more than is told: that there are more is to be seen. */
function without(runs: readonly Run[], number: number): Run[] {
  return runs.slice(0, mostRuns + 2).flatMap(({ first, last }) => {
    if (number < first || number > last) return [{ first, last }];
    const parts = [
      { first, last: number - 1 },
      { first: number + 1, last },
    ];
    return parts.filter((each) => each.first <= each.last);
  });
}

/** "2, 3, 5 to 9 and more" */
function inRuns(runs: readonly Run[]): string {
  const told = runs.slice(0, mostRuns).flatMap(({ first, last }) => {
    if (last > first + 1) return [`${first} to ${last}`];
    return first === last ? [`${first}`] : [`${first}`, `${last}`];
  });
  return andList(runs.length > mostRuns ? [...told, "more"] : told);
}

/** Who looks for what can be done meanwhile wants some, not all. */
const mostRuns = 12;

function ended(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

function gradeOf({ grade }: PlannedJoint): string | undefined {
  return grade === undefined ? undefined : `grade ${grade}`;
}

function shareOf(torque: number | undefined, share: number): number | undefined {
  return torque === undefined ? undefined : torque * share;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1).replace(/\.$/, "");
}

/** Lines of text, indented and broken between words. */
class Lines {
  private readonly lines: string[] = [];

  constructor(private readonly width: number) {}

  add(indent: number, text: string): void {
    const margin = " ".repeat(indent);
    const room = Math.max(20, this.width - indent);
    let line = "";
    let first = true;
    for (const word of text.split(/\s+/)) {
      if (line !== "" && line.length + 1 + word.length > room - (first ? 0 : 2)) {
        this.lines.push(`${margin}${first ? "" : "  "}${line}`);
        line = word;
        first = false;
      } else {
        line = line === "" ? word : `${line} ${word}`;
      }
    }
    this.lines.push(`${margin}${first ? "" : "  "}${line}`);
  }

  gap(): void {
    this.lines.push("");
  }

  text(): string {
    return `${this.lines.join("\n")}\n`;
  }
}
