/**
 * A trailer's axle with mistakes planted into its log, one at a time, and logs that are right: work done
 * again, shared, told in other ways. The trailer, its people and its figures are invented.
 */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import { analyze } from "./helper";

const plan = `vehicle trailer "Car trailer" { mass: 2600 lb }
instrument caliper6 "6 in caliper" { reads_to: 0.001 in  to_length: 6 in  calibrated: 2026-01-05 }
instrument tape "tape" { reads_to: 1/32 in  to_length: 25 ft }
wrench little "little wrench" { least: 10 lb-ft  most: 75 lb-ft  length: 11 in  scale_step: 1 lb-ft  calibrated: 2026-01-05 }
wrench big "big wrench" { least: 40 lb-ft  most: 250 lb-ft  length: 22 in  scale_step: 2 lb-ft  calibrated: 2026-01-05 }
part bearings "Hub bearings" { at_hand: no }
housing beam "Beam" { face_to_face: 72 in ± 1/8 in }
joint hanger "Hanger bolts" { thread: 9/16-18  grade: 8  count: 4  torque: 120 lb-ft  pattern: rectangle  columns: 2  wrench: big  single_use: yes }
joint ub "U-bolts" { thread: 1/2-20  grade: 8  count: 8  groups: 2  torque: 72 lb-ft  wrench: little  recheck_after: 25 mi }
joint spindle "Spindle nut" { thread: 3/4-16  grade: 8  torque: 100 lb-ft  running_torque: 12 lb-ft  wrench: big }
joint lugs "Lug nuts" { thread: 1/2-20  grade: 8  count: 5  torque: 85 lb-ft  recheck_after: 25 mi  wrench: big }
joint coupler "Coupler bolts" { thread: 5/8-18  grade: 8  count: 2  pattern: line  torque: 150 lb-ft  locking: "blue lock"  cure: 12 h  wrench: big }
procedure frame "Frame" {
  step lay "Lay it out" { measure: beam.face_to_face }
  step tackup "Tack" { after: lay }
  step weldup "Weld it" { after: tackup  hold: for_time  hold_time: 4 h }
  step inspectw "Look at the welds" { after: weldup  other_than: weldup  sign_off: "an inspector" }
}
procedure axle "Axle" {
  step hang "Hang it" { after: frame  tighten: hanger }
  step snug "Snug the U-bolts" { after: hang  tighten: ub  tighten_to: 50 % }
  step level "Level it" { after: snug }
  step bolt "U-bolts tight" { after: level  tighten: ub }
  step pack "Pack the bearings" { after: bolt  parts: [bearings] }
  step nut "Spindle nut" { after: pack  tighten: spindle }
  step wheel "Wheels on" { after: nut  tighten: lugs }
}
procedure road "Road" {
  step hitch "Bolt the coupler" { after: axle  tighten: coupler }
  step pull "First pull" { after: hitch }
  step check2 "Check again" { after: pull  recheck: [lugs, ub] }
}
`;

type Entry = readonly [key: string, text: string];
type Log = readonly Entry[];
const [A, B, I] = ["Tom Ash", "Lee Park", "Ina Weld"];
const e = (key: string, day: number, text: string, tool = "", by = A, at = ""): Entry => {
  const date = `2026-04-${String(day).padStart(2, "0")}`;
  const clock = at === "" ? "" : ` at "${at}"`;
  const using = tool === "" ? "" : ` with "${tool}"`;
  return [key, `record ${date} by "${by}"${clock}${using} { ${text} }\n`];
};
const base: Log = [
  e("lay.m", 1, "beam.face_to_face: 72 1/32 in", "tape"),
  e("lay", 1, "frame.lay.done: yes"),
  e("tack", 2, "frame.tackup.done: yes"),
  e("weld", 3, "frame.weldup.done: yes"),
  e("insp", 4, `frame.inspectw { done: yes  signed: "${I}" }`, "", B),
  e("h1", 6, "hanger { tightened: 36 lb-ft  pass: 1 }", "little"),
  e("h2", 6, "hanger { tightened: 84 lb-ft  pass: 2 }", "big"),
  e("h3", 6, "hanger { tightened: 120 lb-ft  pass: 3 }", "big"),
  e("h4", 6, "hanger { tightened: 120 lb-ft  pass: 4  held: yes }", "big"),
  e("hang", 6, "axle.hang.done: yes"),
  e("s1", 7, "ub { tightened: 36 lb-ft }", "little"),
  e("snug", 7, "axle.snug.done: yes"),
  e("level", 8, "axle.level.done: yes"),
  e("u1", 9, "ub { tightened: 22 lb-ft  pass: 1 }", "little"),
  e("u2", 9, "ub { tightened: 50 lb-ft  pass: 2 }", "little"),
  e("u3", 9, "ub { tightened: 72 lb-ft  pass: 3 }", "little"),
  e("u4", 9, "ub { tightened: 72 lb-ft  pass: 4  held: yes }", "little"),
  e("bolt", 9, "axle.bolt.done: yes"),
  e("came", 9, "bearings.at_hand: yes"),
  e("pack", 10, "axle.pack.done: yes"),
  e("sp", 10, "spindle { tightened: 100 lb-ft  running: 12 lb-ft  held: yes }", "big"),
  e("nut", 10, "axle.nut.done: yes"),
  e("lg", 11, "lugs { tightened: 85 lb-ft  held: yes }", "big"),
  e("wheel", 11, "axle.wheel.done: yes"),
  e("cp", 12, "coupler { tightened: 150 lb-ft  held: yes }", "big"),
  e("hitch", 12, "road.hitch.done: yes"),
  e("o1", 12, "trailer.odometer: 10.0 mi"),
  e("pull", 14, "road.pull.done: yes"),
  e("o2", 14, "trailer.odometer: 40.0 mi"),
  e("r1", 14, "lugs { rechecked: yes  tightened: 85 lb-ft }", "big"),
  e("r2", 14, "ub { rechecked: yes  tightened: 72 lb-ft }", "little"),
  e("check", 14, "road.check2.done: yes"),
];

const set =
  (key: string, ...to: Log) =>
  (log: Log): Log =>
    log.flatMap((each) => (each[0] === key ? to : [each]));
const swap =
  (key: string, from: string, to: string) =>
  (log: Log): Log =>
    log.map((each): Entry => (each[0] === key ? [each[0], each[1].replace(from, to)] : each));
const drop =
  (...keys: string[]) =>
  (log: Log): Log =>
    log.filter(([key]) => !keys.includes(key));
const add =
  (...more: Log) =>
  (log: Log): Log => [...log, ...more];
const both =
  (...changes: ((log: Log) => Log)[]) =>
  (log: Log): Log =>
    changes.reduce((changed, change) => change(changed), log);
const swapped = (log: Log, one: string, other: string): Log => {
  const at = (key: string) => log.find((each) => each[0] === key) ?? ["", ""];
  return log.map((each) => (each[0] === one ? at(other) : each[0] === other ? at(one) : each));
};

const planted: [string, string, (log: Log) => Log][] = [
  ["bearings not here", "record/part-not-here", drop("came")],
  ["bearings came after", "record/part-not-here", swap("came", "04-09", "04-12")],
  ["unknown instrument", "record/unknown-instrument", swap("lay.m", "tape", "tpae")],
  ["wrench too small", "record/wrench-range", swap("cp", "big", "little")],
  ["wrench below its least", "record/wrench-range", swap("u1", '"little"', '"big"')],
  [
    "weld hold too short",
    "record/hold",
    both(
      swap("weld", 'Ash"', 'Ash" at "10:00"'),
      set("insp", e("insp", 3, `frame.inspectw { done: yes  signed: "${I}" }`, "", B, "12:30")),
    ),
  ],
  ["second person same", "record/second-person", swap("insp", B, A)],
  ["signed by doer", "record/not-signed", swap("insp", I, B)],
  ["not signed", "record/not-signed", swap("insp", `  signed: "${I}"`, "")],
  ["no name at second", "record/second-person", swap("insp", ` by "${B}"`, "")],
  ["measured nothing", "record/not-measured", drop("lay.m")],
  ["measured out", "record/out-of-tolerance", swap("lay.m", "72 1/32", "72 9/16")],
  ["measured finer than tape", "record/finer-than-read", swap("lay.m", "72 1/32 in", "72.0123 in")],
  [
    "measured by caliper too short",
    "record/instrument-range",
    swap("lay.m", '"tape"', '"6 in caliper"'),
  ],
  ["pass 3 left out", "record/not-tight record/pass-skipped", drop("h3")],
  ["pass torque wrong", "record/not-tight record/torque-off", swap("h2", "84", "110")],
  [
    "final torque low",
    "record/not-tight record/torque-off",
    both(swap("h3", "120", "105"), swap("h4", "120", "105")),
  ],
  ["not held", "record/not-held record/not-tight", swap("h4", "held: yes", "held: no")],
  ["snug later than tight", "record/not-tight", swap("s1", "04-07", "04-10")],
  ["level after tight", "record/out-of-order", swap("level", "04-08", "04-11")],
  [
    "hung before frame",
    "record/out-of-order",
    both(
      swap("hang", "04-06", "04-02"),
      ...["h1", "h2", "h3", "h4"].map((k) => swap(k, "04-06", "04-02")),
    ),
  ],
  ["undone and left", "record/again", add(e("x", 13, "axle.level.done: no"))],
  ["loosened and left", "record/not-tight", add(e("x", 13, "lugs.loosened: yes"))],
  [
    "hanger taken off, same bolts",
    "record/not-renewed",
    add(
      e("x1", 15, "hanger.loosened: yes"),
      e("x2", 15, "hanger { tightened: 36 lb-ft  pass: 1 }", "little"),
      e("x3", 15, "hanger { tightened: 84 lb-ft  pass: 2 }", "big"),
      e("x4", 15, "hanger { tightened: 120 lb-ft  pass: 3 }", "big"),
      e("x5", 15, "hanger { tightened: 120 lb-ft  pass: 4  held: yes  renewed: no }", "big"),
      e("x6", 15, "axle.hang.done: yes"),
    ),
  ],
  ["running torque way off", "record/running-off", swap("sp", "12 lb-ft", "30 lb-ft")],
  [
    "lug bolts six of five",
    "record/no-such-bolt",
    swap("lg", "held", "bolts: [1, 2, 3, 4, 5, 6]  held"),
  ],
  [
    "lug bolts four of five",
    "record/bolts record/not-tight",
    swap("lg", "held", "bolts: [1, 3, 5, 2]  held"),
  ],
  [
    "coupler driven before cure",
    "record/cure",
    both(
      swap("cp", 'Ash"', 'Ash" at "16:00"'),
      set("pull", e("pull", 12, "road.pull.done: yes", "", A, "18:00")),
      set("hitch", e("hitch", 12, "road.hitch.done: yes", "", A, "16:10")),
    ),
  ],
  ["recheck not done", "record/not-rechecked", drop("r1")],
  [
    "recheck moved",
    "record/moved record/not-rechecked record/not-tight",
    swap("r1", "rechecked: yes", "rechecked: no"),
  ],
  ["odometer back", "record/odometer", swap("o2", "40.0", "4.0")],
  ["31 April", "record/out-of-order syntax/date", swap("nut", "04-10", "04-31")],
  [
    "done: maybe",
    "record/before-prerequisite record/not-yes-no",
    swap("nut", "done: yes", 'done: "ok"'),
  ],
  [
    "typo step",
    "name/unknown-field record/before-prerequisite",
    swap("nut", "axle.nut", "axle.nutt"),
  ],
  [
    "contradictory readings",
    "record/contradiction record/out-of-tolerance",
    add(e("c", 1, "beam.face_to_face: 71 1/2 in", "tape")),
  ],
  [
    "wheel before nut, one day later",
    "record/done-too-soon record/out-of-order",
    swap("wheel", "04-11", "04-09"),
  ],
  [
    "torque unit wrong",
    "record/not-tight syntax/unexpected unit/wrong",
    swap("lg", "85 lb-ft", "85 N m"),
  ],
  [
    "torque in inch pounds by slip",
    "record/not-tight record/torque-off record/wrench-range",
    swap("lg", "85 lb-ft", "85 in-lb"),
  ],
  [
    "pass beyond",
    "record/no-such-pass record/not-tight record/pass-skipped",
    swap("h4", "pass: 4", "pass: 6"),
  ],
  ["falling pass", "record/falling-pass", (log) => swapped(log, "h2", "h3")],
  [
    "torque of spec changed in the log",
    "record/spec-field",
    add(e("t", 14, "lugs.torque: 95 lb-ft")),
  ],
  ["remark to nothing", "name/unknown-field", add(e("t", 14, 'axle.remrk: "fine"'))],
  ["by name misspelt for second", "record/person", swap("insp", B, "Tom Ahs")],
];

const correct: [string, (log: Log) => Log][] = [
  ["as it is", (log) => log],
  [
    "wheels off and on again",
    add(
      e("x", 16, "lugs.loosened: yes"),
      e("x", 16, "lugs { tightened: 85 lb-ft  held: yes }", "big"),
      e("x", 16, "axle.wheel.done: yes"),
      e("x", 17, "road.pull.done: yes"),
      e("x", 17, "trailer.odometer: 80.0 mi"),
      e("x", 17, "lugs { rechecked: yes  tightened: 85 lb-ft }", "big"),
      e("x", 17, "ub { rechecked: yes }", "little"),
      e("x", 17, "road.check2.done: yes"),
    ),
  ],
  ["measured twice", add(e("m", 1, "beam.face_to_face: 72 1/16 in", "tape", B))],
  ["two people share the passes", swap("h2", A, B)],
  [
    "weld at clock",
    both(
      swap("weld", 'Ash"', 'Ash" at "08:00"'),
      set("insp", e("insp", 3, `frame.inspectw { done: yes  signed: "${I}" }`, "", B, "14:00")),
    ),
  ],
  ["odometer left out", drop("o1", "o2")],
  [
    "more recheck at 80",
    add(e("o", 20, "trailer.odometer: 90.0 mi"), e("x", 20, "lugs { rechecked: yes }", "big")),
  ],
  ["whole procedure said done", add(e("x", 14, "axle.done: yes"), e("x", 14, "frame.done: yes"))],
  ["remarks, photos none", add(e("x", 14, 'axle.wheel.remark: "stiff"'))],
  [
    "snug twice",
    set(
      "s1",
      e("s1", 7, "ub { tightened: 36 lb-ft }", "little"),
      e("s1b", 7, "ub { tightened: 36 lb-ft  bolts: [1, 2] }", "little"),
    ),
  ],
  [
    "hanger redone with new bolts",
    add(
      e("x1", 15, "hanger { loosened: yes }"),
      e("x2", 15, "hanger { tightened: 36 lb-ft  pass: 1  renewed: yes }", "little"),
      e("x3", 15, "hanger { tightened: 84 lb-ft  pass: 2 }", "big"),
      e("x4", 15, "hanger { tightened: 120 lb-ft  pass: 3 }", "big"),
      e("x5", 15, "hanger { tightened: 120 lb-ft  pass: 4  held: yes }", "big"),
      e("x6", 15, "axle.hang.done: yes"),
    ),
  ],
  ["part used up later", add(e("x", 14, "bearings.at_hand: no"))],
  ["lugs bolt by bolt", swap("lg", "held", "bolts: [1, 3, 5, 2, 4]  held")],
  ["metric torque", swap("lg", "85 lb-ft", "115 N*m")],
];

/** What is said beside what is said of the plan alone: "code" of each, none twice. */
function said(change: (log: Log) => Log): string[] {
  const text =
    plan +
    change(base)
      .map(([, entry]) => entry)
      .join("");
  const analysis = analyze(text);
  return [
    ...new Set([...analysis.findings, ...sequenceOf(analysis).findings].map(({ code }) => code)),
  ]
    .filter((code) => code !== "joint/under-tight")
    .sort();
}

describe("a mistake in the log of a trailer", () => {
  test.each(planted)("%s: %s", (_, codes, change) => {
    expect(said(change).join(" ")).toBe(codes);
  });
});

describe("a log of a trailer that is right", () => {
  test.each(correct)("%s", (_, change) => {
    expect(said(change)).toEqual([]);
  });
});
