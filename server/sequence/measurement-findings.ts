/**
 * What is wrong with what was measured, and with what it was measured with: out of tolerance, a
 * second reading of the day that says otherwise, an instrument nobody knows, of the wrong kind or
 * size, too coarse, past its calibration. The newest reading of a figure is the one that counts.
 *
 * Must not know: steps, joints, the order of work.
 */
import type { Analysis, Value } from "../analysis/analysis";
import { consequencesOf } from "../analysis/consequences";
import { acceptanceOf, heldAgainst } from "../analysis/records";
import type { Finding } from "../findings/finding";
import { concession as accepted } from "./concession-wording";
import { isBefore, type MeasuredEvent } from "./entries";
import { type Instrument, instrumentCalled, isFiner, uncertainty } from "./instruments";
import { found } from "./plan-findings";
import type { RecordView } from "./record-findings";
import { type Said, record as words } from "./wording";

/** Common practice, no source: an instrument reads to a tenth of what is allowed. */
const tenth = 1 / 10;
/** Worse than this share of what is allowed, a reading decides nothing. */
const quarter = 1 / 4;
const day = 24 * 3600;

export function measurementFindings(view: RecordView): Finding[] {
  const asked = new Set<string>();
  return [
    ...[...view.progress.measured.values()].flatMap((events) => [
      ...events.flatMap((event) =>
        isLast(event, events) ? readingFindings(view, event, asked) : [],
      ),
      ...contradictions(view, events),
    ]),
    ...calibrationFindings(view),
  ];
}

/** Whether no other reading of the figure is known to come after it. */
function isLast(event: MeasuredEvent, events: readonly MeasuredEvent[]): boolean {
  return !events.some((other) => isBefore(event, other));
}

// ───────────────────────────── one reading ─────────────────────────────

/** `asked`: instruments that were asked about already. */
function readingFindings(view: RecordView, event: MeasuredEvent, asked: Set<string>): Finding[] {
  const { analysis, writer } = view;
  const value = analysis.valueAt(event.path);
  if (event.reading === undefined || value?.measure === undefined) return [];
  const { value: si, rounding, sureness } = event.reading;
  const { measure } = value;
  const measureName = measure.name;
  const figure = (each: number): string => writer.figure(each, measure);
  const findings: Finding[] = [];
  const { low, high, acceptance } = heldAgainst(value, si, sureness === 0 ? rounding : sureness);
  const spec = value.outcome()?.si ?? value.si;
  const { anchor } = value;
  const related = anchor === undefined ? [] : [{ anchor, message: "the spec is here" }];
  if (acceptance === "outside" && spec !== undefined && low !== undefined && high !== undefined) {
    const limits = high > low ? [low, high] : [];
    const figures = [si, spec, Math.abs(si - spec), ...limits];
    const [is = "", wanted = "", far = "", lowest, highest] = writer.alike(figures, measure);
    const said = words.outOfTolerance(
      { path: value.path, date: event.date, isOver: si > spec, how: howItStands(value) },
      { found: is, spec: wanted, far },
      lowest === undefined || highest === undefined ? undefined : { low: lowest, high: highest },
      consequencesInWords(view),
    );
    findings.push(asAccepted(view, event, { value, spec, said, related }));
  }
  const off = low === undefined || high === undefined ? 0 : Math.max(low - si, si - high);
  const hangs = acceptance === "unclear" && off > 0 && hangsOn(analysis);
  if (hangs && low !== undefined && high !== undefined) {
    const figures = [si, sureness === 0 ? rounding : sureness, low, high];
    const [read = "", sure = "", lowest = "", highest = ""] = writer.alike(figures, measure);
    const said = words.tooClose(
      { path: value.path, found: read, sure },
      { low: lowest, high: highest },
    );
    findings.push(found("record/too-close", "note", said, event, related));
  }
  const instrument = event.with === undefined ? undefined : instrumentCalled(event.with, analysis);
  if (instrument === undefined) {
    if (event.with === undefined || asked.has(event.with)) return findings;
    asked.add(event.with);
    const said = words.unknownInstrument(event.with, analysis.style.system);
    return [...findings, found("record/unknown-instrument", "note", said, namedIn(event))];
  }
  const { name } = instrument;
  if (instrument.isWrench && measureName !== "torque") {
    const said = words.wrongInstrument(`\`${value.path}\` was measured`, name, "a torque wrench");
    return [...findings, found("record/wrong-instrument", "warning", said, namedIn(event))];
  }
  const range = measureName === "length" ? outOfRange(instrument, si) : undefined;
  if (range !== undefined) {
    const most = range.most === undefined ? "any length" : figure(range.most);
    const all = `${figure(range.least)} to ${most}`;
    const said = words.instrumentRange(value.path, figure(si), name, all);
    findings.push(found("record/instrument-range", "warning", said, event));
  }
  const reads = uncertainty(instrument, measureName, si);
  if (reads === undefined) return findings;
  const band = low === undefined || high === undefined ? 0 : high - low;
  // Where the reading is inside or outside all the same, nothing hangs on a finer instrument.
  const told =
    low === undefined || high === undefined ? undefined : acceptanceOf(si, reads, { low, high });
  if (band > 0 && told === "unclear" && reads > tenth * band * (1 + 1e-9)) {
    const [shows, allowed, wanted] = [figure(reads), figure(band), figure(tenth * band)];
    const said = words.instrument(value.path, shows, name, allowed, wanted);
    const severity = reads > quarter * band * (1 + 1e-9) ? "warning" : "note";
    findings.push(found("record/instrument", severity, said, event));
  }
  if (isFiner(event.reading, reads)) {
    const said = words.finerThanRead(`\`${value.path}\``, figure(si), name, figure(reads));
    findings.push(found("record/finer-than-read", "note", said, event));
  }
  return findings;
}

/** A warning, or a note where somebody accepts it as it is. */
function asAccepted(
  { writer, progress: { concessions } }: RecordView,
  event: MeasuredEvent,
  { value, spec, said, related }: { value: Value; spec: number; said: Said; related: Related },
): Finding {
  const concession = concessions.ofFigure(value.path);
  if (concession === undefined)
    return found("record/out-of-tolerance", "warning", said, event, related);
  const { entry, standing, reading } = concession;
  const more = [...related, { anchor: entry.anchor, message: "it was accepted here" }];
  if (concessions.covers(event, spec))
    return found("concession/accepted", "note", accepted.figure(said, entry), event, more);
  const accepts = writer.figure(reading?.reading?.value, value.measure ?? "length");
  const why = accepted.notCovered(said, entry, standing, accepts);
  return found("record/out-of-tolerance", "warning", why, event, more);
}

type Related = NonNullable<Finding["related"]>;

/** `it was to come out` what follows or is made; what is written the spec has. */
function howItStands({ standing, wanted }: Value): string {
  if (wanted !== undefined) return "it was to come out";
  return standing === "given" ? "the spec has" : "it was to come out";
}

/** Whether a check is left open or failing as built: where none is, nobody needs to know better. */
function hangsOn(analysis: Analysis): boolean {
  const { fails, unsure } = consequencesOf(analysis);
  return fails.length + unsure.length > 0;
}

/** `as built rear.left.inner_gap is 1.144 in, 0.207 in over what was wanted; every check holds` */
function consequencesInWords({ analysis, writer }: RecordView): string {
  const { wishes, fails } = consequencesOf(analysis);
  const told = wishes.slice(0, 2).flatMap(({ value: { path, measure }, si, miss }) => {
    if (measure === undefined || Math.abs(miss) <= 1e-6 * measure.scale) return [];
    const [is, by] = writer.alike([si, Math.abs(miss)], measure);
    return `${path} is ${is}, ${by} ${miss > 0 ? "over" : "under"} what was wanted`;
  });
  const checks =
    fails.length === 0
      ? "every check holds"
      : `no longer holds: ${fails
          .slice(0, 3)
          .map(({ thing, title }) => `${thing === undefined ? "" : `${thing.path}: `}${title}`)
          .join("; ")}`;
  return [...told, checks].join("; ");
}

function outOfRange(
  { fromLength, toLength }: Instrument,
  si: number,
): { readonly least: number; readonly most: number | undefined } | undefined {
  const isUnder = fromLength !== undefined && si < fromLength;
  const isOver = toLength !== undefined && si > toLength;
  return isUnder || isOver ? { least: fromLength ?? 0, most: toLength } : undefined;
}

/** Where a record names what it was measured with. */
function namedIn({ record: { anchor, node } }: MeasuredEvent): Pick<MeasuredEvent, "anchor"> {
  const clause = node.clauses.find(({ word }) => word.text === "with");
  return { anchor: clause === undefined ? anchor : { ...anchor, span: clause.value.span } };
}

// ───────────────────────────── several readings ─────────────────────────────

/** Two readings of one figure on one day that their own ± do not bring together. */
function contradictions({ writer }: RecordView, events: readonly MeasuredEvent[]): Finding[] {
  const findings: Finding[] = [];
  for (const [index, event] of events.entries()) {
    const before = events[index - 1];
    const [one, other] = [before?.reading, event.reading];
    if (one === undefined || other === undefined || before === undefined) continue;
    if (before.date === undefined || before.date !== event.date) continue;
    // With a time of day each, something was changed in between; a later day decides.
    if (before.clock !== event.clock && before.clock !== undefined && event.clock !== undefined)
      continue;
    if (events.slice(index + 1).some((later) => later.date !== event.date)) continue;
    const room = one.sureness + other.sureness + one.rounding + other.rounding;
    if (Math.abs(one.value - other.value) <= room * (1 + 1e-9)) continue;
    const type = event.thing.field(event.field)?.type;
    const measure = type?.form === "measure" ? type.measure.name : "";
    const said = words.contradiction(
      event.path,
      writer.figure(one.value, measure),
      writer.figure(other.value, measure),
      event.date ?? "",
    );
    const related = [{ anchor: before.anchor, message: "the other reading is here" }];
    findings.push(found("record/contradiction", "warning", said, event, related));
  }
  return findings;
}

// ───────────────────────────── calibration ─────────────────────────────

/** Once for an instrument: what was measured after its calibration ran out. */
function calibrationFindings({ analysis, plan, progress }: RecordView): Finding[] {
  const findings: Finding[] = [];
  const dueBy = new Map<string, string | undefined>();
  const used = [
    ...plan.joints.flatMap((joint) => progress.joint(joint).events),
    ...[...progress.measured.values()].flat(),
  ].sort((one, other) => one.place - other.place);
  for (const event of used) {
    if (event.with === undefined || event.date === undefined) continue;
    const instrument = instrumentCalled(event.with, analysis);
    if (instrument?.calibrated === undefined) continue;
    if (!dueBy.has(event.with)) dueBy.set(event.with, dueOf(instrument));
    const due = dueBy.get(event.with);
    if (due === undefined || event.date <= due) continue;
    dueBy.set(event.with, undefined);
    const said = words.calibration(instrument.name, instrument.calibrated, due, event.date);
    findings.push(found("record/calibration", "warning", said, event));
  }
  return findings;
}

function dueOf({ calibrated, calibrationEvery }: Instrument): string | undefined {
  const start = calibrated === undefined ? Number.NaN : Date.parse(calibrated);
  if (calibrationEvery === undefined || !Number.isFinite(start)) return undefined;
  const due = start + Math.floor(calibrationEvery / day) * day * 1000;
  return Number.isFinite(due) && Math.abs(due) < 8e15
    ? new Date(due).toISOString().slice(0, 10)
    : undefined;
}
