/**
 * `trammel log`: puts on record that steps are done, that something is accepted out of tolerance or that
 * parts came, in the log of whoever did it. The entries are filled in from the plan, checked against the
 * build before they are written, and only ever added.
 */
import { dirname, join } from "node:path";
import { uriOf } from "../disk/file-uri";
import { gitPerson } from "../disk/git-person";
import { writeFile } from "../disk/write-file";
import { nearest } from "../model/spelling";
import { type PlacedFinding, placedFindings } from "../report/placed-finding";
import {
  appended,
  atHandEntry,
  type EntryHead,
  entriesFor,
  isObjection,
  logNameFor,
  objectionsTo,
  type PlannedStep,
  readingEntry,
  type Sequence,
  sequenceOf,
  stateInWords,
} from "../sequence";
import { stepsElsewhere, wholeBuildsWithSteps } from "./builds-with-steps";
import { findingLines } from "./finding-text";
import type { Palette } from "./palette";
import { print, tell } from "./print";
import { CommandProblem, exit } from "./problem";
import type { OpenBuild, Session } from "./session";
import { todayOf } from "./today";

export interface LogOptions {
  /** How long reading the build may take, in seconds. */
  readonly time: number | undefined;
  readonly in: string | undefined;
  readonly by: string | undefined;
  readonly date: string | undefined;
  readonly at: string | undefined;
  readonly with: string | undefined;
  readonly torque: string | undefined;
  readonly read: readonly string[];
  readonly signed: string | undefined;
  readonly remark: string | undefined;
  readonly accept: readonly string[];
  /** Parts that came, or with `undo` are not here. */
  readonly atHand: readonly string[];
  readonly until: string | undefined;
  readonly because: string | undefined;
  readonly follows: string | undefined;
  readonly undo: boolean;
  readonly anyway: boolean;
  readonly dry: boolean;
}

export function log(
  written: readonly string[],
  options: LogOptions,
  session: Session,
  palette: Palette,
): number {
  const { world } = session;
  const { file, build } = openPlan(options.in, options, session);
  const sequence = sequenceOf(build.analysis);
  if (written.length === 0 && options.atHand.length === 0 && options.read.length === 0) {
    print(world, whatIsNext(sequence));
    return exit.clean;
  }
  const steps = written.map((each) => stepCalled(each, sequence));
  expectAllIsOfUse(steps, options);
  const by = options.by ?? gitPerson(dirname(session.pathOf(file)));
  if (by === undefined)
    throw new CommandProblem(
      'say who did it: --by "name", or tell git: git config user.name "name"',
    );
  const head = headOf(by, options, session);
  const lines = [
    ...options.atHand.map((each) =>
      atHandEntry(partCalled(each, sequence).path, !options.undo, head),
    ),
    ...linesFor(steps, sequence, head, options),
  ];
  const folder = dirname(session.pathOf(file));
  const uses = baseOf(file);
  const name = logNameFor(by, uses, (each) => {
    const found = session.lookAt(join(folder, each));
    const isRead = build.analysis.files.has(uriOf(join(folder, each)));
    return "text" in found && !isRead ? found.text : undefined;
  });
  const path = join(folder, name);
  const before = session.lookAt(path);
  const text = appended("text" in before ? before.text : undefined, uses, lines);
  if (!("text" in before) && before.problem !== "missing")
    throw new CommandProblem(`cannot read ${session.nameOf(uriOf(path))}: ${before.why}`);

  const objections = newObjections(file, path, text, options, session);
  print(world, lines);
  if (objections.length > 0) {
    print(world, ["", ...findingLines(objections, palette)]);
    if (!options.anyway && objections.some(isObjection)) {
      tell(world, "nothing was written: mend it, or write it as it is with --anyway");
      return exit.findings;
    }
  }
  if (options.dry) return exit.clean;
  const problem = writeFile(path, text, "text" in before ? { before } : {});
  if (problem !== undefined)
    throw new CommandProblem(`cannot write ${session.nameOf(uriOf(path))}: ${problem.why}`);
  tell(world, `written to ${session.nameOf(uriOf(path))}`);
  return exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

/** The build named, else the one of this folder that has steps. */
function openPlan(
  named: string | undefined,
  { time }: LogOptions,
  session: Session,
): { readonly file: string; readonly build: OpenBuild } {
  if (named !== undefined) {
    const build = session.open(named, { time });
    if (sequenceOf(build.analysis).steps.length === 0)
      throw new CommandProblem(
        stepsElsewhere(named, session, { time }) ?? `there are no steps in ${named}`,
      );
    return { file: named, build };
  }
  const whole = wholeBuildsWithSteps(session.world.folder, session, { time });
  const [first, ...others] = whole;
  if (first === undefined)
    throw new CommandProblem("no build in this folder has steps: name it with --in build.trammel");
  if (others.length > 0) {
    const files = whole.map(({ file }) => file).join(", ");
    throw new CommandProblem(`several builds here have steps (${files}): name one with --in`);
  }
  return first;
}

/** By its path, by the end of it, or by its number in the plan. */
function stepCalled(written: string, { steps }: Sequence): PlannedStep {
  const own = steps.filter(({ holdsSteps }) => !holdsSteps);
  const numbered = /^\d+$/.test(written) ? own[Number(written) - 1] : undefined;
  if (numbered !== undefined) return numbered;
  const exact = own.find(({ path }) => path === written);
  if (exact !== undefined) return exact;
  const like = own.filter(({ path }) => path.endsWith(`.${written}`));
  const [one, ...others] = like;
  if (one !== undefined && others.length === 0) return one;
  if (one !== undefined) {
    const paths = like.map(({ path }) => path).join(", ");
    throw new CommandProblem(`several steps are called ${written}: ${paths}`);
  }
  if (written.endsWith(".trammel"))
    throw new CommandProblem(`${written} is no step: the build is named with --in ${written}`);
  const near = nearest(
    written,
    own.flatMap(({ path }) => [path, path.split(".").pop() ?? path]),
  );
  const hint =
    near === undefined ? "trammel log lists what can be done now" : `did you mean ${near}?`;
  throw new CommandProblem(`there is no step ${written}: ${hint}`);
}

function headOf(by: string, options: LogOptions, { world }: Session): EntryHead {
  return {
    by,
    date: options.date ?? todayOf(world),
    ...(options.at === undefined ? {} : { at: options.at }),
    ...(options.with === undefined ? {} : { with: options.with }),
  };
}

/** What was typed goes into the log or is refused, never passed over. */
function expectAllIsOfUse(steps: readonly PlannedStep[], options: LogOptions): void {
  const given = (...names: ("torque" | "signed" | "remark" | "until" | "because" | "follows")[]) =>
    names.find((name) => options[name] !== undefined);
  const ofDone = given("torque", "signed", "remark");
  const ofStep = ofDone ?? (options.accept.length > 0 ? "accept" : undefined);
  if (ofStep !== undefined && steps.length === 0)
    throw new CommandProblem(`--${ofStep} is said of a step: name the step too`);
  if (ofDone !== undefined && options.undo)
    throw new CommandProblem(`--${ofDone} is said of what is done, not of what is taken back`);
  const ofConcession = given("until", "because", "follows");
  if (ofConcession !== undefined && options.accept.length === 0)
    throw new CommandProblem(`--${ofConcession} goes with --accept: say what is accepted`);
  if (options.torque !== undefined && steps.every(({ tighten }) => tighten.length === 0))
    throw new CommandProblem("--torque goes with a step that tightens something");
}

/** By its path or the end of it. */
function partCalled(written: string, { steps }: Sequence): PlannedStep["parts"][number] {
  const all = new Map(steps.flatMap(({ parts }) => parts).map((part) => [part.path, part]));
  const part =
    all.get(written) ?? [...all.values()].find(({ path }) => path.endsWith(`.${written}`));
  if (part !== undefined) return part;
  const near = nearest(written, all.keys());
  const hint =
    near !== undefined
      ? `did you mean ${near}?`
      : all.size === 0
        ? "name it in the `parts` of the step that takes it"
        : `there are ${[...all.keys()].slice(0, 8).join(", ")}`;
  throw new CommandProblem(`no step takes a part ${written}: ${hint}`);
}

function linesFor(
  steps: readonly PlannedStep[],
  sequence: Sequence,
  head: EntryHead,
  options: LogOptions,
): string[] {
  const readings = new Map(
    options.read.map((each) => {
      const at = each.indexOf("=");
      if (at <= 0) throw new CommandProblem(`write a reading as path=figure, not ${each}`);
      return [each.slice(0, at).trim(), each.slice(at + 1).trim()] as const;
    }),
  );
  const entries = steps.map((step) => entriesFor(sequence, step, head, { ...options, readings }));
  const asked = new Set(entries.flatMap((each) => each.readings));
  const others = [...readings].filter(([path]) => !asked.has(path));
  const beside = others.map(([path, reading]) => readingEntry(path, reading, head));
  const ofSteps = entries.flatMap(({ lines, blanks }, at) => {
    if (blanks.length > 0) {
      const more = blanks.map((path) => `--read ${path}="…"`).join(" ");
      throw new CommandProblem(`${steps[at]?.path} measures ${blanks.join(", ")}: add ${more}`);
    }
    return lines;
  });
  return [...beside, ...ofSteps];
}

/** What the build with the new entries objects to that it did not object to before. */
function newObjections(
  file: string,
  path: string,
  text: string,
  { time }: LogOptions,
  session: Session,
): PlacedFinding[] {
  const before = session.open(file, { time }).analysis;
  session.standIn(path, text);
  const after = session.open(file, { time }).analysis;
  return placedFindings(after, (uri) => session.nameOf(uri), objectionsTo(before, after));
}

function whatIsNext({ steps }: Sequence): string[] {
  const own = steps.filter(({ holdsSteps }) => !holdsSteps);
  const lines = own.flatMap((step, index) =>
    step.state === "ready" || step.state === "again"
      ? [
          `${String(index + 1).padStart(3)}  ${step.path}  ${step.title}${step.state === "again" ? `, ${stateInWords(step)}` : ""}`,
        ]
      : [],
  );
  const missing = own
    .filter(({ state }) => state !== "done")
    .flatMap(({ title, parts }) =>
      parts.flatMap((part) => (part.atHand ? [] : [`  ${part.path}  ${part.title}, for ${title}`])),
    );
  const waited =
    missing.length === 0
      ? []
      : ["parts that are not here; put them on record with --at-hand once they are:", ...missing];
  return lines.length === 0
    ? ["nothing can be put on record now", ...waited]
    : ["what can be done now; put it on record with its name or number:", ...lines, ...waited];
}

function baseOf(file: string): string {
  return file.slice(Math.max(file.lastIndexOf("/"), file.lastIndexOf("\\")) + 1);
}
