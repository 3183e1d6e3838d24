/**
 * What is wrong with what is on record of one joint: no such pass, a fastener it does not have, a
 * torque that is off, neighbors in succession, passes left out, old fasteners put in again. Once it
 * was gone through again what was wrong with it before is mended, and nothing more is said of it.
 *
 *     jointFindings(history)
 *
 * Must not know: steps, the order of work, how anything is worded.
 */
import type { Found } from "../findings/worded";
import { Alike } from "../keep/alike";
import type { JointEvent } from "./entries";
import { isFiner, isGauge } from "./instruments";
import type { Joint } from "./joint";
import type { JointHistory } from "./joint-history";
import { gapsOfOrder, neighborsInSuccession } from "./tightening-order";
import { atTheNut, nutApart } from "./torque-judgment";

export function jointFindings(history: JointHistory): readonly Found[] {
  return (
    kept.find(history, () => true) ??
    kept.keep(history, [
      ...history.events.flatMap((event) => eventFindings(history, event)),
      ...roundFindings(history),
    ])
  );
}

/** As long as nothing is done to the joint nothing else is said of it. */
const kept = new Alike<JointHistory, readonly Found[]>(1);

function eventFindings(history: JointHistory, event: JointEvent): Found[] {
  const { pass, held, bolts, anchor } = event;
  const { path: joint, passes, count } = event.joint;
  if (pass !== undefined && (passes[pass - 1] === undefined || !Number.isInteger(pass))) {
    return [{ is: "record/no-such-pass", joint, pass, passes: passes.length, anchor }];
  }
  const findings = torqueFindings(history, event);
  if (held === false && !history.isMended(event))
    findings.push({ is: "record/not-held", joint, anchor });
  if (event.rechecked === false && !history.isMended(event))
    findings.push({ is: "record/moved", joint, anchor });
  if (bolts !== undefined) {
    const { unknown, twice } = gapsOfOrder(bolts, count);
    if (unknown.length > 0)
      findings.push({ is: "record/no-such-bolt", joint, count, unknown, anchor });
    if (twice.length > 0) findings.push({ is: "record/bolt-twice", joint, pass, twice, anchor });
    const circular = pass !== undefined && passes[pass - 1]?.circular === true;
    if (unknown.length === 0 && !circular && !history.isRedone(event))
      findings.push(...boltOrderFindings(event, bolts));
  }
  return findings;
}

/** Each group by itself, where all of it is told: from one group to the next none has a neighbor. */
function boltOrderFindings({ joint, anchor }: JointEvent, bolts: readonly number[]): Found[] {
  const { path, pattern } = joint;
  if (pattern === "circle" || pattern === "line") return [];
  const groups = joint.order.map((group) => {
    const own = new Set(group);
    return { better: group, told: bolts.filter((bolt) => own.has(bolt)) };
  });
  const whole = groups.filter(({ better, told }) => told.length === better.length);
  const worse = whole.filter(
    ({ better, told }) =>
      neighborsInSuccession(told, joint).length > neighborsInSuccession(better, joint).length,
  );
  if (worse.length === 0) return [];
  const pairs = worse.flatMap(({ told }) => neighborsInSuccession(told, joint));
  const better = worse.flatMap((group) => group.better);
  const across = pattern === "cross";
  return [{ is: "record/bolt-order", joint: path, pairs, across, better, anchor }];
}

function torqueFindings(history: JointHistory, event: JointEvent): Found[] {
  if (history.isRedone(event)) return [];
  const { pass, reading, anchor } = event;
  const { path: joint, turn } = event.joint;
  const { share, verdict, wanted, allowed, turned, running, unsure, instrument } =
    history.judgment(event);
  const findings: Found[] = [];
  if (turned === false && event.turned !== undefined && turn !== undefined) {
    const found = event.turned.value;
    findings.push({ is: "record/turn-off", joint, found, wanted: turn, anchor });
  }
  if (turn === undefined && event.turned !== undefined && event.turned.value > 0)
    findings.push({ is: "record/turn-off none", joint, found: event.turned.value, anchor });
  if (running !== undefined && event.running !== undefined && allowed !== undefined) {
    const found = event.running.value;
    findings.push({ is: "record/running-off", joint, found, planned: running, allowed, anchor });
  }
  const found = (event.torque ?? atTheNut(event) ?? reading)?.value;
  if (found === undefined) return findings;
  const nut = event.rechecked === undefined ? nutApart(event, instrument) : undefined;
  if (nut !== undefined && reading !== undefined)
    findings.push({ is: "record/reading-apart", joint, shown: reading.value, nut, found, anchor });
  if (verdict === "off" && wanted !== undefined && allowed !== undefined) {
    // Too little is made good by going on; what was pulled too far has to come apart first.
    if (found >= wanted || !history.isMended(event))
      findings.push({
        is: "record/torque-off",
        joint,
        pass,
        share,
        found,
        shown: event.torque === undefined && reading?.value !== found ? reading?.value : undefined,
        wanted,
        allowed,
        anchor,
      });
  }
  if (verdict === "right" && unsure !== undefined) {
    const own = (event.torque ?? reading)?.sureness ?? 0;
    findings.push({ is: "record/torque-unsure", joint, found, own, allowed: unsure, anchor });
  }
  if (verdict === "setting" && wanted !== undefined)
    findings.push({ is: "record/wrench-reading", joint, found, wanted, anchor });
  if (instrument === undefined) return findings;
  const { least, most, scaleStep, name } = instrument;
  if (isGauge(instrument)) {
    findings.push({ is: "record/wrong-instrument gauge", joint, instrument: name, anchor });
    return findings;
  }
  const torque = reading?.value ?? shownBy(event.joint, found);
  if (least !== undefined && most !== undefined && (torque > most || torque < least))
    findings.push({
      is: "record/wrench-range",
      joint,
      instrument: name,
      torque,
      least,
      most,
      anchor,
    });
  if (reading !== undefined && isFiner(reading, scaleStep))
    findings.push({
      is: "record/finer-than-read",
      path: joint,
      instrument: name,
      measure: "torque",
      found: reading.value,
      step: scaleStep!,
      anchor,
    });
  return findings;
}

/** What the wrench shows while the nut gets a torque. */
function shownBy({ setting, applied }: Joint, torque: number): number {
  if (setting === undefined || applied === undefined || applied <= 0) return torque;
  return (torque * setting) / applied;
}

/** Passes left out or going down, fasteners or the running torque left out, old fasteners put in again. */
function roundFindings(history: JointHistory): Found[] {
  const { path: joint, count, singleUse, running: planned } = history.joint;
  const findings: Found[] = [];
  for (const { event, from } of history.falling) {
    if (history.isRedone(event)) continue;
    const { pass = 0, anchor } = event;
    findings.push({ is: "record/falling-pass", joint, pass, from, anchor });
  }
  for (const [index, { events, completed, skipped, left }] of history.rounds.entries()) {
    const [first] = events;
    if (first === undefined || history.isRedone(first)) continue;
    const highest = events.reduce<JointEvent | undefined>(
      (best, event) => ((event.pass ?? 0) > (best?.pass ?? 0) ? event : best),
      undefined,
    );
    if (skipped.length > 0 && highest?.pass !== undefined) {
      const { pass, anchor } = highest;
      findings.push({ is: "record/pass-skipped", joint, pass, skipped, anchor });
    }
    for (const { event, bolts: missing } of left) {
      const { pass, anchor } = event;
      findings.push({ is: "record/bolts", joint, pass, missing, count, anchor });
    }
    if (planned > 0 && completed !== undefined) {
      const isTold = events.some(({ running, isOpen }) => running !== undefined || isOpen);
      const { anchor } = completed;
      if (!isTold) findings.push({ is: "record/running-unread", joint, planned, anchor });
    }
    const before = history.completions.some((each) => each.place < first.place);
    if (singleUse && index > 0 && before) {
      const loosened = history.events.find(
        (each) =>
          each.renewed === true && each.place >= (history.rounds[index - 1]?.events[0]?.place ?? 0),
      );
      const renewed = events.some((each) => each.renewed === true) || loosened?.loosened === true;
      if (!renewed) findings.push({ is: "record/not-renewed", joint, anchor: first.anchor });
    }
  }
  const full = history.completions[history.completions.length - 1];
  if (full !== undefined && !history.events.some((event) => event.held !== undefined))
    findings.push({ is: "record/second-click", joint, anchor: full.anchor });
  return findings;
}
