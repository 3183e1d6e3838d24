/**
 * Entries for a log, filled in from the plan: what a step tightens with its passes and torques, what
 * it checks again and measures, and that it is done. Each is a record on one line of its own.
 *
 *     entriesFor(sequence, step, { date: "2026-04-04", by: "R. Calder" }).lines
 *       →   ['record 2026-04-04 by "R. Calder" { braking.shims.done: yes }']
 *
 * Must not know: files, terminals, editors.
 */
import { FigureWriter } from "../findings/figure-writer";
import { isAbove, isWhole } from "./close";
import type { PlannedJoint, PlannedStep, Sequence } from "./sequence";
import { atHandField, recordFields } from "./vocabulary";

export interface EntryHead {
  /** `2026-04-04` */
  readonly date: string;
  readonly by: string;
  /** `14:30` */
  readonly at?: string;
  /** The instrument or wrench, where it is not the one the plan names. */
  readonly with?: string;
}

export interface EntryWishes {
  /** Takes the step back. */
  readonly undo?: boolean;
  /** Readings by path as the step names it: `rear_housing.face_to_face` → `58 1/8 in`. */
  readonly readings?: ReadonlyMap<string, string>;
  /** What each joint was brought to, where it is not the torque of the plan. */
  readonly torque?: string;
  /** Who looked at it and signed. */
  readonly signed?: string;
  readonly remark?: string;
  /** What is accepted out of tolerance, by path: a concession and nothing else, or with `undo` its end. */
  readonly accept?: readonly string[];
  /** `2027-01-31` */
  readonly until?: string;
  readonly because?: string;
  readonly follows?: string;
}

export interface Entries {
  /** One record a line, in the order they are written. */
  readonly lines: readonly string[];
  /** Figures that stand in them and are read off, by path. */
  readonly readings: readonly string[];
  /** Figures the step measures that nobody gave: they stand as `?`, as all readings nobody gave. */
  readonly blanks: readonly string[];
}

export function entriesFor(
  sequence: Sequence,
  step: PlannedStep,
  head: EntryHead,
  wishes: EntryWishes = {},
): Entries {
  if (wishes.accept !== undefined && wishes.accept.length > 0) {
    const text = membersOf(concessionOf(wishes, wishes.accept));
    const about = text.includes("; ") ? `${step.path} { ${text} }` : `${step.path}.${text}`;
    return { lines: [line(head, about)], readings: [], blanks: [] };
  }
  if (wishes.undo === true) {
    return { lines: [line(head, `${step.path}.done: no`)], readings: [], blanks: [] };
  }
  const writer = new FigureWriter(sequence.style);
  const measures = step.measure.map(({ path }) => path);
  const readings = [...measures, ...step.tighten.filter(asksRunning).map(runningOf)];
  const blanks = measures.filter((path) => wishes.readings?.has(path) !== true);
  const measured = measures.map((path) => readingEntry(path, readingAt(path, wishes), head));
  const tightened = step.tighten.flatMap((joint) =>
    tightenings(writer, step, joint, wishes).map(({ text, wrench }) =>
      line({ ...head, with: head.with ?? wrench }, text),
    ),
  );
  const rechecked = step.recheck.map((joint) =>
    line({ ...head, with: head.with ?? joint.wrench }, `${joint.path}.rechecked: yes`),
  );
  const more: readonly Member[] = [
    ["signed", quotedOr(wishes.signed)],
    ["remark", quotedOr(wishes.remark)],
  ];
  const own = membersOf([["done", "yes"], ...more]);
  const done = own === "done: yes" ? `${step.path}.${own}` : `${step.path} { ${own} }`;
  return { lines: [...measured, ...tightened, ...rechecked, line(head, done)], readings, blanks };
}

/** One figure, by itself: `record … { van.odometer: 41230 mi }`. */
export function readingEntry(path: string, reading: string, head: EntryHead): string {
  return line(head, `${path}: ${reading}`);
}

/** A blank for one figure that is asked for: `record … { rear.left.inner_limit: ? }`. */
export function blankFor(path: string, head: EntryHead): string {
  return readingEntry(path, "?", head);
}

/** That a part came, or is no longer here. */
export function atHandEntry(path: string, atHand: boolean, head: EntryHead): string {
  return line(head, `${path}.${atHandField}: ${atHand ? "yes" : "no"}`);
}

/** A concession with a blank for its reason: whoever accepts something says why. */
export function concessionFor(step: string, path: string, head: EntryHead): string {
  const text = membersOf([
    [recordFields.accepted, path],
    [recordFields.because, "?"],
  ]);
  return line(head, `${step} { ${text} }`);
}

/** `log-r-calder.trammel`: the log of one person. */
export function logNameOf(by: string): string {
  const plain = by
    .normalize("NFKD")
    .replace(/,.*$/, "")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .replaceAll(/^-+|-+$/g, "")
    .slice(0, 40);
  return plain === "" ? "log.trammel" : `log-${plain}.trammel`;
}

/**
 * The log of one person that is kept of a build: theirs, or where that is kept of another build in the
 * folder, one by the name of this build as well, `log-r-calder-cart.trammel`. `textOf`: of a log by its
 * name, nothing where there is none or where it is read with the build anyway.
 */
export function logNameFor(
  by: string,
  uses: string,
  textOf: (name: string) => string | undefined,
): string {
  const own = logNameOf(by);
  const text = textOf(own);
  if (text === undefined || text.trim() === "" || usesFile(text, uses)) return own;
  return own.replace(/\.trammel$/, logNameOf(uses.replace(/\.trammel$/, "")).replace(/^log/, ""));
}

function usesFile(text: string, file: string): boolean {
  const uses = text.matchAll(/^[ \t]*use[ \t]+"(?:\.\/)?([^"\r\n]*)"/gm);
  return [...uses].some(([, path]) => path === file);
}

/** A log with entries put at its end; begun where there is none yet. */
export function appended(log: string | undefined, uses: string, lines: readonly string[]): string {
  const before = log === undefined || log.trim() === "" ? `use ${quoted(uses)}\n\n` : log;
  const newline = before.includes("\r\n") ? "\r\n" : "\n";
  const ended = /[\n\r]$/.test(before) ? before : `${before}${newline}`;
  return `${ended}${lines.map((each) => `${each}${newline}`).join("")}`;
}

// ───────────────────────────── helpers ─────────────────────────────

function readingAt(path: string, { readings }: EntryWishes): string {
  return readings?.get(path) ?? "?";
}

/** A locking nut: how hard it turns is read before it seats. */
function asksRunning({ running, isRunningRead }: PlannedJoint): boolean {
  return running > 0 && !isRunningRead;
}

function runningOf({ path }: PlannedJoint): string {
  return `${path}.${recordFields.running}`;
}

function tightenings(
  writer: FigureWriter,
  { tightenTo }: PlannedStep,
  joint: PlannedJoint,
  wishes: EntryWishes,
): { readonly text: string; readonly wrench: string | undefined }[] {
  const whole = isWhole(tightenTo);
  const told = wishes.torque;
  const running = asksRunning(joint)
    ? `running: ${readingAt(runningOf(joint), wishes)}`
    : undefined;
  const passes = joint.passes.filter(
    ({ share, circular, turn }) =>
      !isAbove(share, tightenTo) && (whole || (!circular && turn === undefined)),
  );
  if (passes.length === 0) {
    const part = joint.torque === undefined ? undefined : joint.torque * tightenTo;
    const members = [`tightened: ${told ?? writer.torque(part)}`, running];
    const text = `${joint.path} { ${members.filter((each) => each !== undefined).join("; ")} }`;
    return [{ text, wrench: joint.wrench }];
  }
  return passes.map((pass, index) => {
    const isLast = index === passes.length - 1;
    const parts = [
      pass.turn !== undefined
        ? `turned: ${writer.figure(pass.turn, "angle")}`
        : pass.torque === undefined
          ? undefined
          : `tightened: ${isWhole(pass.share) ? (told ?? writer.torque(pass.torque)) : writer.torque(pass.torque)}`,
      index === 0 ? running : undefined,
      joint.passes.length > 1 ? `pass: ${pass.number}` : undefined,
      isLast && whole ? "held: yes" : undefined,
    ];
    const text = `${joint.path} { ${parts.filter((part) => part !== undefined).join("; ")} }`;
    // A pass below the range of the wrench of the plan was done with another.
    return { text, wrench: pass.withinWrench ? joint.wrench : undefined };
  });
}

type Member = readonly [field: string, value: string | undefined];

function concessionOf(
  { undo, until, because, follows }: EntryWishes,
  paths: readonly string[],
): Member[] {
  const list = paths.length === 1 ? paths[0] : `[${paths.join(", ")}]`;
  if (undo === true) return [["withdrawn", list]];
  return [
    ["accepted", list],
    ["until", until],
    ["because", quotedOr(because)],
    ["follows", quotedOr(follows)],
  ];
}

/** `done: yes; signed: "I. Foreman"` */
function membersOf(members: readonly Member[]): string {
  return members
    .flatMap(([field, value]) => (value === undefined ? [] : [`${field}: ${value}`]))
    .join("; ");
}

function quotedOr(text: string | undefined): string | undefined {
  return text === undefined ? undefined : quoted(text);
}

function line({ date, by, at, with: instrument }: EntryHead, members: string): string {
  const clauses = [
    date,
    `by ${quoted(by)}`,
    ...(at === undefined ? [] : [`at ${quoted(at)}`]),
    ...(instrument === undefined ? [] : [`with ${quoted(instrument)}`]),
  ];
  return `record ${clauses.join(" ")} { ${members} }`;
}

function quoted(text: string): string {
  const plain = text.replaceAll(/[\r\n\t]+/g, " ");
  return `"${plain.replaceAll("\\", "\\\\").replaceAll('"', '\\"')}"`;
}
