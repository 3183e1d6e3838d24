/** `trammel handover`: what was built, tightened, measured and left open, in one document, as CSV or JSON. */

import { FigureValue } from "../analysis/figure-value";
import { measurementsOf } from "../analysis/records";
import { type PlacedFinding, placedFindings } from "../report/placed-finding";
import { FigureWriter, instrumentCalled, recordFields, sequenceOf } from "../sequence";
import { stepsElsewhere } from "./builds-with-steps";
import type { HandoverOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import { handoverPage, handoverTable } from "./handover-text";
import { acceptedOutput } from "./plan";
import { print, printJson, tell } from "./print";
import { exit } from "./problem";
import type { OpenBuild, Session, View } from "./session";

export interface HandoverOptions extends View {
  readonly format: "markdown" | "csv" | "json";
}

export function handover(file: string, options: HandoverOptions, session: Session): number {
  const build = session.open(file, options);
  const findings = placedFindings(build.analysis, (uri) => session.nameOf(uri));
  const report = reportOf(build, findings);
  session.askWhole();
  const elsewhere = report.steps === 0 ? stepsElsewhere(file, session, options) : undefined;
  if (elsewhere !== undefined) tell(session.world, `trammel: ${elsewhere}: hand that over`);
  switch (options.format) {
    case "json":
      printJson(session.world, report);
      break;
    case "csv":
      print(session.world, handoverTable(report));
      break;
    case "markdown":
      print(session.world, handoverPage(report));
      break;
  }
  return exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

function reportOf(
  { name, analysis }: OpenBuild,
  findings: readonly PlacedFinding[],
): HandoverOutput {
  const sequence = sequenceOf(analysis);
  const writer = new FigureWriter(sequence.style);
  const measured = new Map<string, HandoverOutput["asBuilt"][number]>();
  // A record names an instrument by its name or its title: a reader knows the title.
  const titled = (tool: string | undefined): string | undefined =>
    (tool === undefined ? undefined : instrumentCalled(tool, analysis)?.thing?.title) ?? tool;
  const ofJoints = new Set(
    sequence.joints.flatMap(({ path }) =>
      Object.values(recordFields).map((field) => `${path}.${field}`),
    ),
  );
  for (const { record, value, si, within, acceptance } of measurementsOf(analysis)) {
    // How a joint was tightened stands with the joints.
    if (ofJoints.has(value.path)) continue;
    const by = clauseOf(record.node.clauses, "by");
    const instrument = titled(clauseOf(record.node.clauses, "with"));
    const before = measured.get(value.path);
    // The newest reading is how it was built.
    if (before?.on !== undefined && record.date !== undefined && before.on > record.date) continue;
    measured.set(value.path, {
      path: value.path,
      what: value instanceof FigureValue ? value.field.description : undefined,
      spec: value.si === undefined ? undefined : analysis.write(value),
      built: writer.figure(si, value.measure),
      si,
      within,
      acceptance,
      on: record.date,
      by,
      with: instrument,
    });
  }
  const days = analysis.records.flatMap(({ date }) => date ?? []).sort();
  const steps = sequence.steps.filter(({ holdsSteps }) => !holdsSteps);
  return {
    schemaVersion,
    file: name,
    vehicles: analysis.things.flatMap((thing) =>
      thing.is("vehicle") && !thing.implied && thing.title !== undefined ? [thing.title] : [],
    ),
    from: days[0],
    to: days[days.length - 1],
    steps: steps.length,
    done: steps.filter(({ state }) => state === "done").length,
    asBuilt: [...measured.values()].sort((one, other) => (one.path < other.path ? -1 : 1)),
    joints: sequence.joints.map((joint) => {
      const events = sequence.events.flatMap((event) =>
        event.is === "joint" && event.joint.path === joint.path ? [event] : [],
      );
      const last = events.filter(({ torque }) => torque !== undefined).pop();
      const { running } = events.findLast((event) => event.running !== undefined) ?? {};
      return {
        path: joint.path,
        title: joint.title,
        count: joint.count,
        wanted: joint.torque === undefined ? undefined : writer.torque(joint.torque),
        recorded: last?.torque === undefined ? undefined : writer.torque(last.torque.value),
        running: running === undefined ? undefined : writer.torque(running.value),
        tightenedOn: joint.tightenedOn,
        by: joint.tightenedOn === undefined ? undefined : last?.by,
        with: joint.tightenedOn === undefined ? undefined : titled(last?.with),
        recheckedOn: joint.recheckedOn,
        lacks: joint.lacks,
        notes: [...joint.notes],
      };
    }),
    inspections: sequence.events.flatMap((event) =>
      event.is === "signed"
        ? [{ step: event.step.path, title: event.step.title, signed: event.name, on: event.date }]
        : [],
    ),
    accepted: sequence.accepted.map(acceptedOutput),
    open: [
      ...sequence.left.map(({ text }) => text),
      ...sequence.steps.flatMap(({ title, again, holdsSteps }) =>
        holdsSteps ? [] : again.map((why) => `${title}, again: ${why}`),
      ),
    ],
    objections: findings
      .filter(({ severity }) => severity !== "note")
      .map(({ code, severity, message, file, place }) => ({
        code,
        severity,
        message,
        place: `${file}:${place.start.line + 1}`,
      })),
    recheck: sequence.joints.flatMap((joint) => {
      const again = joint.notes.filter((note) => note.startsWith("check again"));
      const isAsked = sequence.steps.some((step) =>
        step.recheck.some(({ path }) => path === joint.path),
      );
      if (again.length === 0 && !isAsked) return [];
      const torque = joint.setting ?? joint.torque;
      return [
        {
          path: joint.path,
          title: joint.title,
          when: again[0] ?? "check again",
          torque: torque === undefined ? undefined : writer.torque(torque),
          due: joint.recheckAt === undefined ? undefined : writer.distance(joint.recheckAt),
          doneOn: joint.recheckedOn,
        },
      ];
    }),
  };
}

function clauseOf(
  clauses: readonly {
    readonly word: { readonly text: string };
    readonly value: { readonly type: string; readonly value?: unknown };
  }[],
  word: string,
): string | undefined {
  const value = clauses.find((each) => each.word.text === word)?.value;
  return value?.type === "text" && typeof value.value === "string" ? value.value : undefined;
}
