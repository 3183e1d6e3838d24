/**
 * What is wrong with an entry by itself, whatever came before it: not a yes or no, no such pass, a
 * fastener the joint does not have, a torque that is off, neighbours in succession, an instrument
 * out of its range or past its calibration, nobody's hand, a second reading that says otherwise.
 *
 * Must not know: steps, the order of work.
 */

import { measurementsOf } from "../analysis/records";
import type { OwnCode } from "../findings/codes";
import type { Finding, Severity } from "../model/finding";
import type { Instrument } from "./instruments";
import { instrumentCalled, uncertainty } from "./instruments";
import type { Joint } from "./plan";
import { found } from "./plan-findings";
import type { JointEvent, MeasuredEvent, Unread } from "./read-records";
import type { RecordView } from "./record-findings";
import { gapsOfOrder, neighboursInSuccession } from "./tightening-order";
import { percent, record as words } from "./wording";

/** Common practice, no source: an instrument reads to a tenth of what is allowed. */
const tenth = 1 / 10;
/** Worse than this share of what is allowed, a reading decides nothing. */
const quarter = 1 / 4;
const day = 24 * 3600;

export function entryFindings(view: RecordView): Finding[] {
  const { progress } = view;
  return [
    ...view.unread.map(unreadFinding),
    ...dateFindings(view),
    ...duplicateFindings(view),
    ...progress.events.flatMap((event) => (event.is === "joint" ? jointFindings(view, event) : [])),
    ...view.plan.joints.flatMap((joint) => roundFindings(view, joint)),
    ...instrumentFindings(view),
    ...calibrationFindings(view),
    ...[...progress.measured.values()].flatMap((events) => contradictions(view, events)),
  ];
}

// ───────────────────────────── what cannot be read ─────────────────────────────

function unreadFinding(unread: Unread): Finding {
  const at = { anchor: unread.at };
  switch (unread.is) {
    case "not-yes-no":
      return {
        ...found("record/not-yes-no", "error", words.notYesNo(unread.field, unread.text), at),
        fixes: ["yes", "no"].map((text) => ({
          title: `write ${text}`,
          edits: [{ anchor: unread.at, text }],
          preferred: text === "yes",
        })),
      };
    case "not-a-count":
      return found("record/not-a-count", "error", words.notACount(unread.field, unread.text), at);
    case "not-a-figure":
      return found("record/not-a-figure", "error", words.notAFigure(unread.field, unread.text), at);
    case "blank":
      return found("record/blank", "warning", words.blank(unread.field), at);
    case "no-time":
      return found("record/no-time", "warning", words.noTime(unread.text), at);
    case "spec-field":
      return {
        ...found("record/spec-field", "warning", words.specField(unread.joint), at),
        fixes: [
          {
            title: "write tightened",
            edits: [{ anchor: unread.at, text: `${unread.joint.path}.tightened` }],
          },
        ],
      };
  }
}

function dateFindings({ progress }: RecordView): Finding[] {
  const undated = new Set(
    progress.events.filter(({ date }) => date === undefined).map(({ record }) => record),
  );
  return [...undated].map(({ anchor }) =>
    found("record/no-date", "warning", words.noDate(), { anchor }),
  );
}

/** One entry twice, word for word: a merge or a slip of the hand. It counts once. */
function duplicateFindings({ duplicates }: RecordView): Finding[] {
  return duplicates.map(({ record, of }) => {
    const related = [{ anchor: of.anchor, message: "the same entry is here" }];
    return found("record/duplicate", "note", words.duplicate(), record, related);
  });
}

// ───────────────────────────── joints ─────────────────────────────

function jointFindings(view: RecordView, event: JointEvent): Finding[] {
  const { joint, pass, held, bolts } = event;
  if (pass !== undefined && (joint.passes[pass - 1] === undefined || !Number.isInteger(pass))) {
    return [found("record/no-such-pass", "warning", words.noSuchPass(joint, pass), event)];
  }
  const findings = torqueFindings(view, event);
  const say = (code: OwnCode, severity: Severity, said: Parameters<typeof found>[2]): void => {
    findings.push(found(code, severity, said, event));
  };
  if (held === false) say("record/not-held", "error", words.notHeld(joint));
  if (event.rechecked === false) say("record/moved", "error", words.moved(joint));
  if (bolts !== undefined) {
    const gaps = gapsOfOrder(bolts, joint.count);
    const where = pass === undefined ? "" : ` for pass ${pass}`;
    if (gaps.unknown.length > 0)
      say("record/no-such-bolt", "warning", words.noSuchBolt(joint, gaps.unknown));
    if (gaps.twice.length > 0)
      say("record/bolt-twice", "note", words.boltTwice(joint, gaps.twice, where));
    const circular = pass !== undefined && joint.passes[pass - 1]?.circular === true;
    if (gaps.unknown.length === 0 && !circular) findings.push(...boltOrderFindings(event, bolts));
  }
  return findings;
}

/** Each group by itself, where all of it is told: from one group to the next none has a neighbour. */
function boltOrderFindings(event: JointEvent, bolts: readonly number[]): Finding[] {
  const { joint } = event;
  if (joint.pattern === "circle" || joint.pattern === "line") return [];
  const groups = joint.order.map((group) => {
    const own = new Set(group);
    return { better: group, told: bolts.filter((bolt) => own.has(bolt)) };
  });
  const whole = groups.filter(({ better, told }) => told.length === better.length);
  const worse = whole.filter(
    ({ better, told }) =>
      neighboursInSuccession(told, joint).length > neighboursInSuccession(better, joint).length,
  );
  if (worse.length === 0) return [];
  const pairs = worse.flatMap(({ told }) => neighboursInSuccession(told, joint));
  const better = worse.flatMap((group) => group.better);
  return [found("record/bolt-order", "warning", words.boltOrder(joint, pairs, better), event)];
}

function torqueFindings(view: RecordView, event: JointEvent): Finding[] {
  const { analysis, writer, judge } = view;
  const { joint, pass } = event;
  const { share, verdict, wanted, allowed, turned } = judge(event);
  const torque = event.torque ?? event.reading;
  const findings: Finding[] = [];
  if (turned === false && event.turned !== undefined && joint.turn !== undefined) {
    const said = words.turnOff(
      joint,
      writer.figure(event.turned.value, "angle"),
      writer.figure(joint.turn, "angle"),
    );
    findings.push(found("record/turn-off", "error", said, event));
  }
  if (torque === undefined) return findings;
  if (verdict === "off" && wanted !== undefined && allowed !== undefined) {
    const which = pass === undefined ? "" : ` in pass ${pass} (${percent(share)})`;
    const said = words.torqueOff(
      joint,
      writer.torque(torque.value),
      writer.torque(wanted),
      writer.torque(allowed),
      which,
    );
    findings.push(found("record/torque-off", "error", said, event));
  }
  if (verdict === "setting") {
    const said = words.wrenchReading(joint, writer.torque(torque.value), writer.torque(wanted));
    findings.push(found("record/wrench-reading", "warning", said, event));
  }
  const instrument = event.with === undefined ? undefined : instrumentCalled(event.with, analysis);
  const { least, most } = instrument ?? {};
  const shown = event.reading?.value ?? shownBy(event) ?? torque.value;
  if (least !== undefined && most !== undefined && (shown > most || shown < least)) {
    const range = `${writer.torque(least)} to ${writer.torque(most)}`;
    const said = words.wrenchRange(joint, writer.torque(shown), instrument?.name ?? "", range);
    findings.push(found("record/wrench-range", "warning", said, event));
  }
  return findings;
}

/** What the wrench shows while the nut gets what is on record. */
function shownBy({ joint, torque }: JointEvent): number | undefined {
  const { setting, applied } = joint;
  if (torque === undefined || setting === undefined || applied === undefined || applied <= 0)
    return undefined;
  return (torque.value * setting) / applied;
}

/** Passes left out or going down, fasteners left out, old fasteners put in again. */
function roundFindings({ progress }: RecordView, joint: Joint): Finding[] {
  const history = progress.joint(joint);
  const findings: Finding[] = history.falling.map(({ event, from }) =>
    found("record/falling-pass", "warning", words.fallingPass(joint, event.pass ?? 0, from), event),
  );
  for (const [index, { events, skipped, left }] of history.rounds.entries()) {
    const highest = events.reduce<JointEvent | undefined>(
      (best, event) => ((event.pass ?? 0) > (best?.pass ?? 0) ? event : best),
      undefined,
    );
    if (skipped.length > 0 && highest?.pass !== undefined) {
      const said = words.passSkipped(joint, highest.pass, skipped);
      findings.push(found("record/pass-skipped", "warning", said, highest));
    }
    for (const { event, bolts } of left) {
      const where = event.pass === undefined ? "" : ` for pass ${event.pass}`;
      findings.push(found("record/bolts", "warning", words.bolts(joint, bolts, where), event));
    }
    const [first] = events;
    const before = history.completions.some(
      (each) => first !== undefined && each.place < first.place,
    );
    if (joint.singleUse && index > 0 && before && first !== undefined) {
      const loosened = history.events.find(
        (each) =>
          each.renewed === true && each.place >= (history.rounds[index - 1]?.events[0]?.place ?? 0),
      );
      const renewed = events.some((each) => each.renewed === true) || loosened?.loosened === true;
      if (!renewed)
        findings.push(found("record/not-renewed", "warning", words.notRenewed(joint), first));
    }
  }
  const full = history.completions[history.completions.length - 1];
  if (full !== undefined && !history.events.some((event) => event.held !== undefined)) {
    findings.push(found("record/second-click", "note", words.secondClick(joint), full));
  }
  return findings;
}

// ───────────────────────────── instruments ─────────────────────────────

function instrumentFindings({ analysis, writer }: RecordView): Finding[] {
  const findings: Finding[] = [];
  const unknown = new Set<string>();
  for (const { record, value, si, low, high, anchor } of measurementsOf(analysis)) {
    const name = record.node.clauses.find(({ word }) => word.text === "with")?.value;
    if (name?.type !== "text" || value.measure === undefined) continue;
    const instrument = instrumentCalled(name.value, analysis);
    if (instrument === undefined) {
      if (!unknown.has(name.value)) {
        unknown.add(name.value);
        const at = { anchor: { ...record.anchor, span: name.span } };
        const said = words.unknownInstrument(name.value, analysis.style.system);
        findings.push(found("record/unknown-instrument", "note", said, at));
      }
      continue;
    }
    const measureName = value.measure.name;
    const figure = (each: number): string => writer.figure(each, measureName);
    const { fromLength, toLength } = instrument;
    const outside =
      measureName === "length" &&
      ((fromLength !== undefined && si < fromLength) || (toLength !== undefined && si > toLength));
    if (outside) {
      const range = `${figure(fromLength ?? 0)} to ${toLength === undefined ? "any length" : figure(toLength)}`;
      const said = words.instrumentRange(value.path, figure(si), instrument.name, range);
      findings.push(found("record/instrument-range", "warning", said, { anchor }));
    }
    const reads = uncertainty(instrument, measureName, si);
    const band = low === undefined || high === undefined ? 0 : high - low;
    if (reads === undefined || band <= 0 || reads <= tenth * band * (1 + 1e-9)) continue;
    const said = words.instrument(
      value.path,
      figure(reads),
      instrument.name,
      figure(band),
      figure(tenth * band),
    );
    const severity = reads > quarter * band * (1 + 1e-9) ? "warning" : "note";
    findings.push(found("record/instrument", severity, said, { anchor }));
  }
  return findings;
}

/** Once for an instrument and day: what was measured after its calibration ran out. */
function calibrationFindings({ analysis, progress }: RecordView): Finding[] {
  const findings: Finding[] = [];
  const said = new Set<string>();
  for (const event of progress.events) {
    if (event.with === undefined || event.date === undefined) continue;
    if (event.is !== "joint" && event.is !== "measured") continue;
    if (said.has(event.with)) continue;
    const instrument = instrumentCalled(event.with, analysis);
    const due = dueOf(instrument);
    if (instrument?.calibrated === undefined || due === undefined) continue;
    if (event.date <= due) continue;
    said.add(event.with);
    const sentence = words.calibration(instrument.name, instrument.calibrated, due, event.date);
    findings.push(found("record/calibration", "warning", sentence, event));
  }
  return findings;
}

function dueOf(instrument: Instrument | undefined): string | undefined {
  const { calibrated, calibrationEvery } = instrument ?? {};
  const start = calibrated === undefined ? Number.NaN : Date.parse(calibrated);
  if (calibrationEvery === undefined || !Number.isFinite(start)) return undefined;
  const due = start + Math.floor(calibrationEvery / day) * day * 1000;
  return Number.isFinite(due) && Math.abs(due) < 8e15
    ? new Date(due).toISOString().slice(0, 10)
    : undefined;
}

/** Two readings of one figure on one day that their own ± do not bring together. */
function contradictions({ writer }: RecordView, events: readonly MeasuredEvent[]): Finding[] {
  const findings: Finding[] = [];
  for (const [index, event] of events.entries()) {
    const before = events[index - 1];
    const [one, other] = [before?.reading, event.reading];
    if (one === undefined || other === undefined || before === undefined) continue;
    if (before.date === undefined || before.date !== event.date) continue;
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
