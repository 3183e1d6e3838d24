/**
 * What is wrong with what is on record of one joint: no such pass, a fastener it does not have, a
 * torque that is off, neighbours in succession, passes left out, old fasteners put in again. Once it
 * was gone through again what was wrong with it before is mended, and nothing more is said of it.
 *
 *     jointFindings(history, writer)
 *
 * Must not know: steps, the order of work.
 */
import type { OwnCode } from "../findings/codes";
import type { Finding, Severity } from "../findings/finding";
import { percent } from "../findings/work-plan";
import { Alike } from "../keep/alike";
import type { DisplayStyle } from "../units";
import type { JointEvent } from "./entries";
import { isFiner, isGauge } from "./instruments";
import type { JointHistory } from "./joint-history";
import { found } from "./plan-findings";
import { gapsOfOrder, neighboursInSuccession } from "./tightening-order";
import { type FigureWriter, named, record as words } from "./wording";

export function jointFindings(history: JointHistory, writer: FigureWriter): readonly Finding[] {
  const known = kept.find(history, ({ style }) => style === writer.style);
  if (known !== undefined) return known.findings;
  const findings = [
    ...history.events.flatMap((event) => eventFindings(history, event, writer)),
    ...roundFindings(history),
  ];
  return kept.keep(history, { style: writer.style, findings }).findings;
}

/** As long as nothing is done to the joint nothing else is said of it. */
const kept = new Alike<JointHistory, { style: DisplayStyle; findings: readonly Finding[] }>(2);

function eventFindings(history: JointHistory, event: JointEvent, writer: FigureWriter): Finding[] {
  const { joint, pass, held, bolts } = event;
  if (pass !== undefined && (joint.passes[pass - 1] === undefined || !Number.isInteger(pass))) {
    return [found("record/no-such-pass", "warning", words.noSuchPass(joint, pass), event)];
  }
  const findings = torqueFindings(history, event, writer);
  const say = (code: OwnCode, severity: Severity, said: Parameters<typeof found>[2]): void => {
    findings.push(found(code, severity, said, event));
  };
  if (held === false && !history.isMended(event))
    say("record/not-held", "error", words.notHeld(joint));
  if (event.rechecked === false && !history.isMended(event))
    say("record/moved", "error", words.moved(joint));
  if (bolts !== undefined) {
    const gaps = gapsOfOrder(bolts, joint.count);
    const where = pass === undefined ? "" : ` for pass ${pass}`;
    if (gaps.unknown.length > 0)
      say("record/no-such-bolt", "warning", words.noSuchBolt(joint, gaps.unknown));
    if (gaps.twice.length > 0)
      say("record/bolt-twice", "note", words.boltTwice(joint, gaps.twice, where));
    const circular = pass !== undefined && joint.passes[pass - 1]?.circular === true;
    if (gaps.unknown.length === 0 && !circular && !history.isRedone(event))
      findings.push(...boltOrderFindings(event, bolts));
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

function torqueFindings(history: JointHistory, event: JointEvent, writer: FigureWriter): Finding[] {
  const { joint, pass } = event;
  const judgement = history.judgement(event);
  const { share, verdict, wanted, allowed, turned, running, instrument } = judgement;
  const torque = event.torque ?? event.reading;
  const findings: Finding[] = [];
  const say = (code: OwnCode, severity: Severity, said: Parameters<typeof found>[2]): void => {
    findings.push(found(code, severity, said, event));
  };
  if (history.isRedone(event)) return findings;
  if (turned === false && event.turned !== undefined && joint.turn !== undefined) {
    const turn = writer.figure(event.turned.value, "angle");
    say("record/turn-off", "error", words.turnOff(joint, turn, writer.figure(joint.turn, "angle")));
  }
  if (running !== undefined && event.running !== undefined && allowed !== undefined) {
    const measured = writer.torque(event.running.value);
    const said = words.runningOff(joint, measured, writer.torque(running), writer.torque(allowed));
    say("record/running-off", "warning", said);
  }
  if (torque === undefined) return findings;
  if (verdict === "off" && wanted !== undefined && allowed !== undefined) {
    // Too little is made good by going on; what was pulled too far has to come apart first.
    const isShort = torque.value < wanted;
    const which = pass === undefined ? "" : ` in pass ${pass} (${percent(share)})`;
    const figures = [torque.value, wanted, allowed].map((each) => writer.torque(each));
    const [brought = "", asked = "", room = ""] = figures;
    if (!isShort || !history.isMended(event))
      say("record/torque-off", "error", words.torqueOff(joint, brought, asked, room, which));
  }
  if (verdict === "setting")
    say(
      "record/wrench-reading",
      "warning",
      words.wrenchReading(joint, writer.torque(torque.value), writer.torque(wanted)),
    );
  if (instrument === undefined) return findings;
  const { least, most, scaleStep, name } = instrument;
  if (isGauge(instrument)) {
    const said = words.wrongInstrument(`${named(joint)} was tightened`, name, "no torque wrench");
    say("record/wrong-instrument", "warning", said);
    return findings;
  }
  const shown = event.reading?.value ?? shownBy(event) ?? torque.value;
  if (least !== undefined && most !== undefined && (shown > most || shown < least)) {
    const range = `${writer.torque(least)} to ${writer.torque(most)}`;
    say(
      "record/wrench-range",
      "warning",
      words.wrenchRange(joint, writer.torque(shown), name, range),
    );
  }
  const { reading } = event;
  if (reading !== undefined && scaleStep !== undefined && isFiner(reading, scaleStep)) {
    const said = words.finerThanRead(
      named(joint),
      writer.torque(reading.value),
      name,
      writer.torque(scaleStep),
    );
    say("record/finer-than-read", "note", said);
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
function roundFindings(history: JointHistory): Finding[] {
  const { joint } = history;
  const findings: Finding[] = history.falling.flatMap(({ event, from }) =>
    history.isRedone(event)
      ? []
      : [
          found(
            "record/falling-pass",
            "warning",
            words.fallingPass(joint, event.pass ?? 0, from),
            event,
          ),
        ],
  );
  for (const [index, { events, skipped, left }] of history.rounds.entries()) {
    const [first] = events;
    if (first !== undefined && !history.isRedone(first)) {
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
    }
    const before = history.completions.some(
      (each) => first !== undefined && each.place < first.place,
    );
    if (joint.singleUse && index > 0 && before && first !== undefined && !history.isRedone(first)) {
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
