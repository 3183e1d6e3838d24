/**
 * What of the order of work is kept between edits: an entry in the log makes one row, a digit in the
 * build what it touches; and what is kept says what a reading from scratch says.
 */
import { beforeEach, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { orderFindings, sequenceOf, writePlan } from "../../server/sequence";
import { counts } from "../../server/sequence/counts";
import { B, log, plan, rec } from "./axle-log";
import { library } from "./helper";
import { longLog } from "./long-log";

const build = "file:///shop/build.trammel";
const beside = "file:///shop/log.trammel";
const whole = `use "build.trammel"\n${log(() => {})}`;

let texts: Map<string, string>;
let analyzer: Analyzer;

beforeEach(() => {
  texts = new Map([
    [build, plan],
    [beside, whole],
  ]);
  analyzer = new Analyzer(memoryHost(texts), library(), [orderFindings]);
  read();
});

function read(root = build): Analysis {
  const analysis = analyzer.analyze(root);
  if (analysis === undefined) throw new Error("the root file is there");
  expect(analysis.findings.length).toBeGreaterThan(0);
  return analysis;
}

/** What an edit makes anew, and that it says what a reading from scratch says. */
function madeBy(edit: () => void): Omit<typeof counts, "orders"> {
  edit();
  const before = { ...counts };
  const kept = told(read());
  const made = {
    steps: counts.steps - before.steps,
    joints: counts.joints - before.joints,
    records: counts.records - before.records,
    histories: counts.histories - before.histories,
  };
  const fresh = new Analyzer(memoryHost(texts), library(), [orderFindings]).analyze(build);
  if (fresh === undefined) throw new Error("the root file is there");
  expect(kept).toEqual(told(fresh));
  return made;
}

function told(analysis: Analysis): unknown {
  const { steps, left, joints } = sequenceOf(analysis);
  return [
    analysis.findings.map(({ code, message, anchor }) => [
      code,
      message,
      analysis.sourceOf(anchor.uri)?.offsetOf(anchor.item, anchor.span.start),
    ]),
    steps.map(({ path, state, again, blockedBy }) => [path, state, again, blockedBy]),
    joints.map(({ path, tightenedOn, lacks }) => [path, tightenedOn, lacks]),
    left,
    writePlan(sequenceOf(analysis)),
  ];
}

function write(uri: string, change: (text: string) => string): () => void {
  return () => texts.set(uri, change(texts.get(uri) ?? ""));
}

test("an entry makes one row, and the history of the joint it is about", () => {
  const done = rec(19, B, "job.bleed.done: yes");
  expect(madeBy(write(beside, (text) => text + done))).toEqual({
    steps: 0,
    joints: 0,
    records: 1,
    histories: 0,
  });
  const tight = rec(20, B, "nuts { tightened: 92 lb-ft; held: yes }", "big click");
  expect(madeBy(write(beside, (text) => text + tight))).toEqual({
    steps: 0,
    joints: 0,
    records: 1,
    histories: 1,
  });
});

test("a digit in something else makes none", () => {
  expect(madeBy(write(build, (text) => text.replace("mass: 3900", "mass: 3905")))).toEqual({
    steps: 0,
    joints: 0,
    // Those that tell the odometer of that vehicle.
    records: 2,
    histories: 0,
  });
});

test("what nothing in the order of work asks for has it gone through no more, what it asks for has", () => {
  const typed = (change: (text: string) => string): number => {
    write(build, change)();
    const before = counts.orders;
    const kept = read().findings;
    const gone = counts.orders - before;
    const fresh = new Analyzer(memoryHost(texts), library(), [orderFindings]).analyze(build);
    expect(kept.map(({ message }) => message)).toEqual(
      fresh?.findings.map(({ message }) => message),
    );
    return gone;
  };
  expect(typed((text) => `${text}wheel spare { size: 17x9  offset: 18 mm }\n`)).toBe(1);
  expect(typed((text) => text.replace("offset: 18 mm", "offset: 19 mm"))).toBe(0);
  expect(typed((text) => text.replace("offset: 19 mm", "offset: 19 mm  # seen"))).toBe(0);
  expect(typed((text) => text.replace("torque: 33 lb-ft", "torque: 34 lb-ft"))).toBe(1);
  expect(typed((text) => text.replace("offset: 19 mm", "offset: 18 mm"))).toBe(0);
  // It asks for the torque of these nuts, and a check that speaks of that speaks of the wheel, too.
  const beside = 'check "beside": spare.offset / 1 mm < nuts.torque / 1 lb-ft\n';
  expect(typed((text) => text + beside)).toBe(0);
  expect(typed((text) => text.replace("offset: 18 mm", "offset: 17 mm"))).toBe(0);
  // Another name may be one that a step, a joint or a record means.
  expect(typed((text) => text.replace("wheel spare", "wheel other"))).toBe(1);
});

test("a digit in a joint makes it, the steps that tighten it, and what is on record of them", () => {
  const made = madeBy(write(build, (text) => text.replace("torque: 33 lb-ft", "torque: 34 lb-ft")));
  expect(made.joints).toBe(1);
  expect(made.steps).toBe(1);
  expect(made.records).toBe(2);
  expect(made.histories).toBe(1);
});

test("an entry in the middle, a later day and another name are what they are from scratch", () => {
  madeBy(write(beside, (text) => text.replace("job.shims.done: yes", "job.shims.done: no")));
  madeBy(
    write(beside, (text) =>
      text.replace(/^use.*\n/, (line) => line + rec(2, B, "job.cool.done: no")),
    ),
  );
  madeBy(write(build, (text) => text.replace("step shims", "step shimming")));
  madeBy(write(build, (text) => text.replace("step shimming", "step shims")));
  madeBy(write(build, (text) => text.replace("± 1/4 in", "± 1/64 in")));
  madeBy(
    write(build, (text) => text.replace("accuracy", "accuracy").replace("most: 45", "most: 25")),
  );
});

test("the log read by itself keeps rows of its own", () => {
  read(beside);
  const before = { ...counts };
  read(beside);
  read(build);
  expect(counts).toEqual(before);
});

test("in a log of thousands an entry makes one row and the history of its joint, and nothing else", () => {
  texts.set(beside, longLog(4_700));
  read();
  const tight = rec(310, B, "nuts { tightened: 92 lb-ft; held: yes }", "big click");
  expect(madeBy(write(beside, (text) => text + tight))).toEqual({
    steps: 0,
    joints: 0,
    records: 1,
    histories: 1,
  });
  const done = rec(311, B, "job.bleed.done: yes");
  expect(madeBy(write(beside, (text) => text + done))).toEqual({
    steps: 0,
    joints: 0,
    records: 1,
    histories: 0,
  });
});
