/** `trammel handover`: what was built, tightened, measured and left open, in one document, as CSV or JSON. */

import { measurementsOf } from "../analysis/records";
import { type PlacedFinding, placedFindings } from "../report/placed-finding";
import { FigureWriter, sequenceOf } from "../sequence";
import type { HandoverOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import { acceptedOutput } from "./plan";
import { print, printJson } from "./print";
import { exit } from "./problem";
import type { OpenBuild, Session, View } from "./session";

export interface HandoverOptions extends View {
  readonly format: "markdown" | "csv" | "json";
}

export function handover(file: string, options: HandoverOptions, session: Session): number {
  const build = session.open(file, options);
  const findings = placedFindings(build.analysis, (uri) => session.nameOf(uri));
  const report = reportOf(build, findings);
  switch (options.format) {
    case "json":
      printJson(session.world, report);
      break;
    case "csv":
      print(session.world, csvOf(report));
      break;
    case "markdown":
      print(session.world, markdownOf(report));
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
  for (const { record, value, si, within, acceptance } of measurementsOf(analysis)) {
    const measure = value.measure?.name ?? "";
    const by = clauseOf(record.node.clauses, "by");
    const instrument = clauseOf(record.node.clauses, "with");
    const before = measured.get(value.path);
    // The newest reading is how it was built.
    if (before?.on !== undefined && record.date !== undefined && before.on > record.date) continue;
    measured.set(value.path, {
      path: value.path,
      spec: value.si === undefined ? undefined : analysis.write(value),
      built: writer.figure(si, measure),
      si,
      within,
      acceptance,
      on: record.date,
      by,
      with: instrument,
    });
  }
  return {
    schemaVersion,
    file: name,
    asBuilt: [...measured.values()].sort((one, other) => (one.path < other.path ? -1 : 1)),
    joints: sequence.joints.map((joint) => {
      const events = sequence.events.flatMap((event) =>
        event.is === "joint" && event.joint.path === joint.path ? [event] : [],
      );
      const last = events.filter(({ torque }) => torque !== undefined).pop();
      return {
        path: joint.path,
        title: joint.title,
        count: joint.count,
        wanted: joint.torque === undefined ? undefined : writer.torque(joint.torque),
        recorded: last?.torque === undefined ? undefined : writer.torque(last.torque.value),
        tightenedOn: joint.tightenedOn,
        by: joint.tightenedOn === undefined ? undefined : last?.by,
        with: joint.tightenedOn === undefined ? undefined : last?.with,
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
          doneOn: joint.recheckedOn,
        },
      ];
    }),
  };
}

function markdownOf(report: HandoverOutput): string[] {
  const { asBuilt, joints, inspections, accepted, open, objections, recheck } = report;
  return [
    `# Handover: ${report.file}`,
    "",
    "What the records say was built, tightened and inspected. Strength, brake and weld figures are",
    "screening figures: local codes, the makers' instructions and licensed practice come first.",
    ...section(
      "As built",
      ["figure", "spec", "built", "within", "on", "by", "with"],
      asBuilt.map((each) => [
        each.path,
        each.spec,
        each.built,
        inWords(each.acceptance),
        each.on,
        each.by,
        each.with,
      ]),
    ),
    ...section(
      "Torque",
      [
        "joint",
        "bolts",
        "wanted",
        "recorded",
        "tight since",
        "by",
        "with",
        "checked again",
        "lacks",
      ],
      joints.map((each) => [
        each.title,
        String(each.count),
        each.wanted,
        each.recorded,
        each.tightenedOn,
        each.by,
        each.with,
        each.recheckedOn,
        each.lacks,
      ]),
    ),
    ...section(
      "Inspections",
      ["step", "signed", "on"],
      inspections.map((each) => [each.title, each.signed, each.on]),
    ),
    ...section(
      "Accepted out of tolerance",
      [
        "what",
        "spec",
        "found",
        "by",
        "on",
        "until",
        "because",
        "to be done",
        "does not hold",
        "stands",
      ],
      accepted.map((each) => [
        each.what,
        each.spec,
        each.found,
        each.by,
        each.on,
        each.until ?? "for good",
        each.because,
        each.follows,
        each.breaks.join("; "),
        each.standing,
      ]),
    ),
    ...section(
      "Objections that stand",
      ["where", "what"],
      objections.map((each) => [each.place, each.message]),
    ),
    ...section(
      "Still to be done",
      ["what"],
      open.map((each) => [each]),
    ),
    ...section(
      "Re-check card",
      ["joint", "when", "at", "done"],
      recheck.map((each) => [each.title, each.when, each.torque, each.doneOn ?? "[ ]"]),
    ),
  ];
}

function section(
  title: string,
  head: readonly string[],
  rows: readonly (readonly (string | undefined)[])[],
): string[] {
  if (rows.length === 0) return ["", `## ${title}`, "", "None."];
  const line = (cells: readonly (string | undefined)[]): string =>
    `| ${cells.map((cell) => (cell ?? "").replaceAll("|", "\\|")).join(" | ")} |`;
  return ["", `## ${title}`, "", line(head), line(head.map(() => "---")), ...rows.map(line)];
}

/** One table of all: what a spreadsheet sorts and filters. */
function csvOf({
  asBuilt,
  joints,
  inspections,
  accepted,
  open,
  objections,
  recheck,
}: HandoverOutput): string[] {
  const rows: (string | undefined)[][] = [
    ["section", "what", "wanted", "found", "verdict", "on", "by", "with"],
    ...asBuilt.map((each) => [
      "as built",
      each.path,
      each.spec,
      each.built,
      inWords(each.acceptance),
      each.on,
      each.by,
      each.with,
    ]),
    ...joints.map((each) => [
      "torque",
      each.path,
      each.wanted,
      each.recorded,
      each.lacks ?? (each.tightenedOn === undefined ? "open" : "tight"),
      each.tightenedOn,
      each.by,
      each.with,
    ]),
    ...inspections.map((each) => [
      "inspection",
      each.step,
      undefined,
      undefined,
      "signed",
      each.on,
      each.signed,
      undefined,
    ]),
    ...accepted.map((each) => [
      "accepted",
      each.what,
      each.spec,
      each.found,
      `${each.standing}${each.until === undefined ? "" : ` until ${each.until}`}`,
      each.on,
      each.by,
      undefined,
    ]),
    ...objections.map((each) => [
      "objection",
      each.place,
      undefined,
      each.message,
      each.severity,
      undefined,
      undefined,
      undefined,
    ]),
    ...open.map((each) => [
      "open",
      each,
      undefined,
      undefined,
      undefined,
      undefined,
      undefined,
      undefined,
    ]),
    ...recheck.map((each) => [
      "re-check",
      each.path,
      each.torque,
      each.when,
      each.doneOn === undefined ? "due" : "done",
      each.doneOn,
      undefined,
      undefined,
    ]),
  ];
  return rows.map((cells) => cells.map(cell).join(","));
}

/** RFC 4180; what a spreadsheet would take for a formula is written as text. */
function cell(text: string | undefined): string {
  const plain = (text ?? "").replaceAll(/[\r\n]+/g, " ");
  const safe = /^[=+\-@\t]/.test(plain) ? `'${plain}` : plain;
  return /[",]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** No verdict is surer than its reading. */
function inWords(acceptance: HandoverOutput["asBuilt"][number]["acceptance"]): string | undefined {
  if (acceptance === undefined) return undefined;
  return { inside: "within", outside: "outside", unclear: "too close to call" }[acceptance];
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
