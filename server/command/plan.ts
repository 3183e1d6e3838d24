/** `trammel plan`: the order of work, joint by joint, with what is done and what is left. */

import { nearest } from "../model/spelling";
import { countsOf, placedFindings } from "../report/placed-finding";
import {
  type Accepted,
  type Days,
  type PlannedStep,
  type Sequence,
  sequenceOf,
  writePlan,
} from "../sequence";
import { stepsElsewhere } from "./builds-with-steps";
import type { PlanOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import { findingLines } from "./finding-text";
import type { Palette } from "./palette";
import { print, printJson } from "./print";
import { CommandProblem, exit } from "./problem";
import type { Session, View } from "./session";

export interface PlanOptions extends View {
  readonly format: "text" | "json";
  /** Leaves out what is done. */
  readonly left: boolean;
  /** Only what can be done now. */
  readonly now: boolean;
  /** Only what so many people can do. */
  readonly people: number | undefined;
  /** One step as a card, by its path or the end of it. */
  readonly step: string | undefined;
}

export function plan(
  file: string,
  options: PlanOptions,
  session: Session,
  palette: Palette,
): number {
  const build = session.open(file, options);
  const sequence = sequenceOf(build.analysis);
  const step = options.step === undefined ? undefined : pathOf(options.step, sequence);
  const nameOf = (uri: string): string => session.nameOf(uri);
  const findings = placedFindings(build.analysis, nameOf);
  const code = countsOf(findings).errors > 0 ? exit.findings : exit.clean;
  if (sequence.steps.length === 0) session.askWhole();
  if (options.format === "json") {
    printJson(session.world, outputOf(build.name, sequence, options));
    return code;
  }
  const elsewhere =
    sequence.steps.length === 0 ? stepsElsewhere(file, session, options) : undefined;
  if (elsewhere !== undefined) {
    print(session.world, [elsewhere]);
    return code;
  }
  const { left, now, people } = options;
  print(session.world, linesOf(writePlan(sequence, { onlyLeft: left, now, people, step })));
  const own = placedFindings(build.analysis, nameOf, sequence.findings);
  if (own.length > 0 && step === undefined)
    print(session.world, ["", ...findingLines(own, palette)]);
  return code;
}

// ───────────────────────────── helpers ─────────────────────────────

function pathOf(written: string, { steps }: Sequence): string {
  const paths = steps.filter(({ holdsSteps }) => !holdsSteps).map(({ path }) => path);
  const like = paths.filter((path) => path === written || path.endsWith(`.${written}`));
  const [one, ...others] = like;
  if (one !== undefined && others.length === 0) return one;
  if (others.length > 0)
    throw new CommandProblem(`several steps are called ${written}: ${like.join(", ")}`);
  const near = nearest(
    written,
    paths.flatMap((path) => [path, path.split(".").pop() ?? path]),
  );
  throw new CommandProblem(
    `there is no step ${written}${near === undefined ? "" : `, did you mean ${near}?`}`,
  );
}

function outputOf(file: string, sequence: Sequence, { option, asBuilt }: View): PlanOutput {
  const { schedule } = sequence;
  return {
    schemaVersion,
    file,
    ...(option === undefined ? {} : { option }),
    ...(asBuilt === true ? { asBuilt: true as const } : {}),
    steps: sequence.steps.filter(({ holdsSteps }) => !holdsSteps).map(stepOutput),
    joints: sequence.joints.map((joint) => ({
      path: joint.path,
      title: joint.title,
      count: joint.count,
      pattern: joint.pattern,
      torque: joint.torque,
      passes: joint.passes.map(({ number, share, torque, setting, turn, order }) => ({
        number,
        share,
        torque,
        setting,
        turn,
        order: order.map((group) => [...group]),
      })),
      tightenedOn: joint.tightenedOn,
      recheckedOn: joint.recheckedOn,
      lacks: joint.lacks,
    })),
    accepted: sequence.accepted.map(acceptedOutput),
    ...(schedule === undefined
      ? {}
      : {
          schedule: {
            work: schedule.work,
            holds: schedule.holds,
            path: [...schedule.path],
            unknown: [...schedule.unknown],
            doneBy: schedule.doneBy,
            ...(schedule.days === undefined ? {} : { days: daysOutput(schedule.days) }),
          },
        }),
  };
}

function daysOutput({ steps, short, ...days }: Days): NonNullable<PlanOutput["schedule"]>["days"] {
  return { ...days, steps: [...steps], short: [...short] };
}

export function acceptedOutput({ breaks, ...each }: Accepted): PlanOutput["accepted"][number] {
  return { ...each, breaks: [...breaks()] };
}

function stepOutput(step: PlannedStep): PlanOutput["steps"][number] {
  return {
    path: step.path,
    title: step.title,
    within: [...step.within],
    state: step.state,
    doneOn: step.doneOn,
    doneBy: step.doneBy,
    again: [...step.again],
    waitsFor: step.waitsFor.map(({ path, because }) => ({ path, because })),
    blockedBy: step.blockedBy.map(({ is, path, text }) => ({ is, path, text })),
    tightens: step.tighten.map(({ path }) => path),
    tightenTo: step.tightenTo,
    rechecks: step.recheck.map(({ path }) => path),
    measures: step.measure.map(({ path, measured }) => ({ path, measured })),
    needs: [...step.needs],
    people: step.hands,
    duration: step.duration,
    machines: [...step.machines],
    parts: step.parts.map((part) => ({ ...part })),
    hold: step.hold,
    signOff: step.signOff,
    caution: step.caution,
    note: step.note,
  };
}

function linesOf(text: string): string[] {
  return text.replace(/\n$/, "").split("\n");
}
