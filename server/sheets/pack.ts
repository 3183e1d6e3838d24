/**
 * A pack of sheets for the bench as plain data, a station each: its pictures, figures, steps,
 * cautions, findings, torque cards; at the end what was assumed, what is to be ordered, who signs.
 *
 *     packOf(analysis, { file: "build.trammel", date: "2026-11-27", … })   →   { title, sheets: [ … ] }
 *
 * Must not know: HTML, paper, the clock, git: what comes from outside is handed in.
 */
import type { Analysis, Value } from "../analysis/analysis";
import type { Drawing } from "../drafting";
import type { Finding } from "../findings/finding";
import type { Thing } from "../model/thing";
import { drawPicture, picturesOf } from "../pictures";
import { Assumptions } from "../report/assumptions";
import { comesOut } from "../report/comes-out";
import { figureOf, isFoundOnly } from "../report/figure";
import {
  acceptedInWords,
  FigureWriter,
  type PlannedJoint,
  type PlannedStep,
  type Sequence,
  sequenceOf,
} from "../sequence";
import { measuringOf, type ToMeasure } from "./measuring";
import { type OrderLine, orderLines } from "./order-list";
import { handOver, measuringStation, type Station, stations, templates } from "./stations";
import { thingsAtWork } from "./things-at-work";

export interface PackOptions {
  /** As the file goes by in output. */
  readonly file: string;
  /** `2026-11-27` */
  readonly date: string;
  /** From git: `1f0c2aa`, with what was not committed said. */
  readonly revision?: string;
  readonly option?: string;
  readonly asBuilt?: boolean;
  readonly paper: "letter" | "a4";
}

export interface Pack extends PackOptions {
  readonly title: string;
  readonly units: string;
  readonly sheets: readonly Sheet[];
  /** Stations this build has nothing for. */
  readonly leftOut: readonly string[];
}

export interface Sheet {
  readonly id: string;
  readonly title: string;
  readonly drawings: readonly Drawing[];
  readonly figures: readonly FigureGroup[];
  /** Still to be measured, on the sheet where measuring begins. */
  readonly readings: readonly ToMeasure[];
  readonly steps: readonly StepRow[];
  readonly cautions: readonly string[];
  readonly findings: readonly { readonly severity: Finding["severity"]; readonly text: string }[];
  readonly joints: readonly JointCard[];
  readonly blanks: boolean;
  /** Of the last sheet. */
  readonly closing?: Closing;
}

export interface FigureGroup {
  readonly path: string;
  readonly title: string;
  readonly rows: readonly FigureRow[];
}

export interface FigureRow {
  readonly name: string;
  readonly path: string;
  readonly figure: string;
  /** What was wanted where it comes out otherwise, what it is rounded from; or empty. */
  readonly beside: string;
  readonly tolerance: string;
  readonly standing: Value["standing"];
  /** How it is measured. */
  readonly how: string;
}

export interface StepRow {
  readonly number: number;
  readonly title: string;
  readonly done: boolean;
  readonly doneNote: string;
  readonly lines: readonly string[];
  readonly hold?: string;
}

export interface JointCard {
  readonly title: string;
  readonly path: string;
  readonly facts: readonly string[];
  readonly passes: readonly {
    readonly number: number;
    readonly share: string;
    readonly torque: string;
    readonly setting: string;
    readonly note: string;
  }[];
  readonly drawing?: Drawing;
}

export interface Closing {
  readonly assumptions: readonly string[];
  readonly order: readonly OrderLine[];
  readonly missing: readonly string[];
  /** Out of tolerance, with who accepts it and until when. */
  readonly accepted: readonly string[];
}

/** Width of what a page shows, mm: the narrower of both papers. */
export const contentWidth = 186;

/** Height of what a page shows below its title block, mm: the lower of both papers. */
export const contentHeight = 220;

export function packOf(analysis: Analysis, options: PackOptions): Pack {
  const sequence = sequenceOf(analysis);
  const numbered = stepRows(sequence);
  const own = ownersOf(sequence, numbered);
  const usable = thingsAtWork(analysis);
  const sheets: Sheet[] = [];
  const leftOut: string[] = [];
  const spoken = new Set<Finding>();
  for (const station of stations) {
    const sheet = sheetOf(station, { analysis, sequence, things: usable, own, spoken });
    if (isEmpty(sheet)) leftOut.push(station.title);
    else sheets.push(sheet);
  }
  const cutOut = templateSheet(analysis, usable);
  if (cutOut.drawings.length > 0) sheets.push(cutOut);
  sheets.push(lastSheet(analysis, usable, sequence, spoken));
  return {
    ...options,
    title: titleOf(analysis, options.file),
    units: analysis.style.system === "inch" ? "inches" : "millimeters",
    sheets,
    leftOut,
  };
}

// ───────────────────────────── helpers ─────────────────────────────

interface Context {
  readonly analysis: Analysis;
  readonly sequence: Sequence;
  readonly things: readonly Thing[];
  readonly own: ReadonlyMap<string, readonly NumberedStep[]>;
  /** Findings told already. */
  readonly spoken: Set<Finding>;
}

interface NumberedStep {
  readonly number: number;
  readonly step: PlannedStep;
}

function stepRows({ steps }: Sequence): NumberedStep[] {
  return steps
    .filter(({ holdsSteps }) => !holdsSteps)
    .map((step, index) => ({ number: index + 1, step }));
}

/** Steps by station: by their work, else as most of the procedure they lie in. */
function ownersOf(
  { steps }: Sequence,
  numbered: readonly NumberedStep[],
): ReadonlyMap<string, readonly NumberedStep[]> {
  const byWork = new Map(stations.flatMap(({ id, work }) => work.map((word) => [word, id])));
  const procedures = new Map<string, Map<string, number>>();
  for (const { work = "", within } of steps) {
    const station = byWork.get(work);
    const [nearest] = within;
    if (station === undefined || nearest === undefined) continue;
    const votes = procedures.get(nearest) ?? new Map<string, number>();
    votes.set(station, (votes.get(station) ?? 0) + 1);
    procedures.set(nearest, votes);
  }
  const found = new Map<string, NumberedStep[]>();
  for (const each of numbered) {
    const { work = "", within } = each.step;
    const votes = [...(procedures.get(within[0] ?? "") ?? [])].sort((a, b) => b[1] - a[1]);
    const station = byWork.get(work) ?? votes[0]?.[0] ?? handOver.id;
    found.set(station, [...(found.get(station) ?? []), each]);
  }
  return found;
}

function sheetOf(station: Station, context: Context): Sheet {
  const { analysis, sequence, own, spoken } = context;
  const steps = own.get(station.id) ?? [];
  const findings = analysis.findings.filter(
    (finding) =>
      !spoken.has(finding) && station.codes.some((code) => finding.code.startsWith(code)),
  );
  for (const finding of findings) spoken.add(finding);
  const cautions = [
    ...steps.flatMap(({ step: { caution, within } }) => [
      ...within.flatMap((path) => sequence.steps.find((each) => each.path === path)?.caution ?? []),
      ...(caution === undefined ? [] : [caution]),
    ]),
    ...findings.flatMap(({ caution }) => caution ?? []),
  ];
  return {
    id: station.id,
    title: station.title,
    drawings: drawingsOf(station, context),
    figures: figuresOf(station, context),
    readings: station.id === measuringStation ? measuringOf(analysis).readings : [],
    steps: steps.map(rowOf(sequence)),
    cautions: [...new Set(cautions)],
    findings: findings.map(worded),
    joints: station.id === "torque" ? jointCards(analysis, sequence) : [],
    blanks: station.measures === true,
  };
}

/** None is made smaller to fit: what is wider than the page is turned, its bars tell whether it holds. */
function templateSheet(analysis: Analysis, things: readonly Thing[]): Sheet {
  const used = new Set(things.map(({ path }) => path));
  const drawings = picturesOf(analysis)
    .filter(({ id, path }) => {
      const owner = analysis.thingAt(path)?.owner?.path ?? path;
      const name = id.slice(path.length + 1);
      return used.has(owner) && templates.pictures.some((each) => each === name);
    })
    .flatMap(({ id }) => drawPicture(analysis, id, { page: [contentWidth, contentHeight] }) ?? [])
    .filter(({ missing }) => missing.length === 0);
  return {
    id: templates.id,
    title: templates.title,
    drawings,
    figures: [],
    readings: [],
    steps: [],
    cautions: [],
    findings: [],
    joints: [],
    blanks: false,
  };
}

function isEmpty({ drawings, figures, readings, steps, joints, findings }: Sheet): boolean {
  return [drawings, figures, readings, steps, joints, findings].every(({ length }) => length === 0);
}

/** Both ends of an axle are made of the same parts: the first stands for both. */
function drawingsOf({ pictures }: Station, { analysis, things }: Context): Drawing[] {
  const used = new Set(things.map(({ path }) => path));
  const owners = new Set<string>();
  return picturesOf(analysis)
    .filter(({ id, path }) => {
      const owner = analysis.thingAt(path)?.owner?.path;
      const wanted = pictures.includes(id.slice(path.length + 1));
      if (!wanted || !used.has(owner ?? path)) return false;
      if (owner === undefined) return true;
      return !owners.has(owner) && owners.add(owner) !== undefined;
    })
    .flatMap(({ id }) => drawPicture(analysis, id, { page: [contentWidth, contentHeight] }) ?? [])
    .filter(({ readings, missing }) => missing.length * 2 <= readings.length);
}

function figuresOf({ figures }: Station, { analysis, things }: Context): FigureGroup[] {
  const inside = (thing: Thing): boolean => {
    for (let at: Thing | undefined = thing; at !== undefined; at = at.owner)
      if (things.includes(at)) return true;
    return false;
  };
  return figures.flatMap(({ kind, fields }) =>
    analysis.things
      .filter((thing) => thing.is(kind) && !thing.implied && inside(thing))
      .flatMap((thing) => {
        const rows = fields.flatMap((field) => rowOfValue(analysis, thing, field));
        if (rows.length === 0) return [];
        return [{ path: thing.path, title: thing.title ?? thing.kind.title, rows }];
      }),
  );
}

function rowOfValue(analysis: Analysis, thing: Thing, field: string): FigureRow[] {
  const value = analysis.values.get(`${thing.path}.${field}`);
  if (value === undefined || (value.si === undefined && value.word === undefined)) return [];
  const out = comesOut(value, analysis);
  const beside = [
    out?.wanted === undefined || out.drawn === undefined ? undefined : `${out.wanted} wanted`,
    out?.decimal,
  ];
  return [
    {
      name: field.replaceAll("_", " "),
      path: value.path,
      figure: out?.text ?? figureOf(value, analysis).text,
      beside: beside.filter((part) => part !== undefined).join(", "),
      tolerance:
        out?.tolerance === undefined
          ? ""
          : `${out.tolerance.worst}${isFoundOnly(value) ? " found" : ""}`,
      standing: value.standing,
      how: value.field.needs ?? value.field.description ?? "",
    },
  ];
}

function rowOf({ style }: Sequence): (each: NumberedStep) => StepRow {
  const writer = new FigureWriter(style);
  return ({ number, step }) => ({
    number,
    title: `${step.title}${step.hands > 1 ? ` (${step.hands} people)` : ""}`,
    done: step.state === "done",
    doneNote:
      step.state !== "done"
        ? ""
        : [step.doneOn, step.doneBy].filter((part) => part !== undefined).join(" "),
    lines: [
      ...(step.note === undefined ? [] : [`${capital(step.note)}.`]),
      ...(step.needs.length === 0 ? [] : [`Needs ${step.needs.join(", ")}.`]),
      ...(step.measure.length === 0
        ? []
        : [`Measure and write down ${step.measure.map(({ path }) => path).join(", ")}.`]),
      ...step.checks.map(({ title }) => `Within limits: ${title}.`),
      ...step.tighten.map(
        (joint) =>
          `Tighten ${joint.title}${step.tightenTo < 1 ? ` to ${Math.round(step.tightenTo * 100)} %` : ""}: ${writer.torque(joint.torque)}, see its torque card.`,
      ),
      ...step.recheck.map(({ title }) => `Check ${title} again.`),
    ],
    ...(step.hold === undefined ? {} : { hold: step.hold }),
  });
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

function jointCards(analysis: Analysis, { joints, style }: Sequence): JointCard[] {
  const writer = new FigureWriter(style);
  return joints.map((joint) => {
    const drawing = drawPicture(analysis, `${joint.path}/order`, { bare: true });
    return {
      title: joint.title,
      path: joint.path,
      facts: factsOf(joint, writer),
      passes: joint.passes.map((pass) => ({
        number: pass.number,
        share: `${Math.round(pass.share * 100)} %`,
        torque:
          pass.turn !== undefined
            ? `${writer.figure(pass.turn, "angle")} further`
            : pass.torque === undefined
              ? "?"
              : writer.torque(pass.torque),
        setting: pass.setting === undefined ? "" : writer.torque(pass.setting),
        note: [
          pass.circular ? "once round in a circle" : "",
          pass.withinWrench ? "" : "outside of the wrench's range",
        ]
          .filter((text) => text !== "")
          .join(", "),
      })),
      ...(drawing === undefined ? {} : { drawing }),
    };
  });
}

function factsOf(joint: PlannedJoint, writer: FigureWriter): string[] {
  const { thread, grade, count, torque, wrench, notes } = joint;
  const size = [thread, grade === undefined ? undefined : `grade ${grade}`];
  return [
    `${count} × ${size.filter((part) => part !== undefined).join(", ") || "fastener"}`,
    `full torque ${torque === undefined ? "?" : writer.torque(torque)}`,
    ...(wrench === undefined ? [] : [`wrench: ${wrench}`]),
    ...notes,
  ];
}

function worded({ severity, message, hint }: Finding): Sheet["findings"][number] {
  return { severity, text: hint === undefined ? message : `${message}: ${hint}` };
}

function lastSheet(
  analysis: Analysis,
  things: readonly Thing[],
  sequence: Sequence,
  spoken: ReadonlySet<Finding>,
): Sheet {
  const rest = analysis.findings.filter((finding) => !spoken.has(finding));
  const assumptions = new Assumptions(analysis);
  for (const value of analysis.values.values())
    if (value.standing !== "missing" && (value.anchor !== undefined || value.field.shown))
      assumptions.marks(value.restsOn);
  return {
    id: handOver.id,
    title: handOver.title,
    drawings: [],
    figures: [],
    readings: [],
    steps: [],
    cautions: [],
    findings: rest.filter(({ code }) => code !== "missing/value").map(worded),
    joints: [],
    blanks: false,
    closing: {
      assumptions: assumptions.entries(),
      order: orderLines(analysis, things, sequence),
      missing: analysis.missing.map(({ message }) => message),
      accepted: sequence.accepted
        .filter(({ standing }) => standing !== "withdrawn")
        .map((each) =>
          [acceptedInWords(each), each.because, each.follows].filter(Boolean).join("; "),
        ),
    },
  };
}

function titleOf(analysis: Analysis, file: string): string {
  const named = analysis.things.find(
    (thing) => thing.is("vehicle") && thing.title !== undefined && !thing.implied,
  );
  return named?.title ?? file;
}
