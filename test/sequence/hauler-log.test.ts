/**
 * Mistakes planted into the log of a hauler, one at a time, and logs of it that are right: three people,
 * months, redone jobs, entries in any order. What is said is said in full, and nothing beside it.
 */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import {
  add,
  base,
  type Change,
  change,
  D,
  drop,
  e,
  K,
  L,
  type Log,
  M,
  plan,
  put,
  R,
  set,
  swap,
} from "./hauler-log";
import { analyze } from "./helper";

const swapped =
  (one: string, other: string): Change =>
  (log) => {
    const at = (key: string) => log.find((each) => each[0] === key) ?? ["", ""];
    return log.map((each) => (each[0] === one ? at(other) : each[0] === other ? at(one) : each));
  };
/** The keys of which the days are others. */
const on =
  (day: string, ...keys: string[]): Change =>
  (log) =>
    log.map(([key, text]) => [
      key,
      keys.includes(key) ? text.replace(/^record [\d-]+/, `record ${day}`) : text,
    ]);
const from =
  (key: string, to: (log: Log) => Log): Change =>
  (log) => {
    const at = log.findIndex((each) => each[0] === key);
    return [...log.slice(0, at), ...to(log.slice(at))];
  };
const springs = (renewed: string): Log => [
  e("x1", 20, "spr { loosened: yes }"),
  e("x2", 20, `spr { tightened: 28.5 lb-ft; pass: 1${renewed} }`),
  e("x3", 20, "spr { tightened: 66.5 lb-ft; pass: 2 }", D, L),
  e("x4", 20, "spr { tightened: 95 lb-ft; pass: 3 }", D, L),
  e("x5", 20, "spr { tightened: 95 lb-ft; pass: 4; held: yes }", D, L),
  e("x6", 20, "fit.hang.done: yes"),
];

const planted: [string, string, Change][] = [
  [
    "a chapter begun before the last wait of the one before is over",
    "record/hold",
    change(
      set("cap1", e("cap1", 3, "cap { tightened: 18 lb-ft; pass: 1 }", D, M, "10:00")),
      set("cap2", e("cap2", 3, "cap { tightened: 42 lb-ft; pass: 2 }", D, M, "10:05")),
      set("cap3", e("cap3", 3, "cap { tightened: 60 lb-ft; pass: 3 }", D, M, "10:10")),
      set("cap4", e("cap4", 3, "cap { turned: 60 deg; pass: 4; held: yes }", D, "", "10:20")),
      set("third", e("third", 3, "fit.third.done: yes", D, "", "10:30")),
    ),
  ],
  [
    "taken back on the day of the torque, in no known order",
    "record/before-prerequisite",
    add(e("x", 8, "fit.shims.done: no", K)),
  ],
  [
    "one group alone",
    "record/bolts record/not-tight",
    swap("ret3", "pass: 3", "pass: 3; bolts: [1, 3, 2, 4]"),
  ],
  [
    "the torque of another joint",
    "record/not-tight record/torque-off record/wrench-range",
    swap("ret3", "40 lb-ft", "140 lb-ft"),
  ],
  ["signed by the doer, in short", "record/not-signed", swap("span", R, "D. Marlow")],
  ["inspected by the welder", "record/second-person", swap("span", `by "${D}"`, `by "${K}"`)],
  ["inspected by nobody", "record/second-person", swap("span", ` by "${D}"`, "")],
  ["passes the other way round", "record/falling-pass", swapped("spr2", "spr3")],
  ["old U-bolts again", "record/again record/not-renewed", add(...springs(""))],
  ["measured with a wrench", "record/wrong-instrument", swap("span.m", "long tape", L)],
  ["tightened with a rule", "record/wrong-instrument", swap("lug3", L, "shop rule")],
  ["miles read as kilometers", "record/odometer", swap("o2", "12095 mi", "12095 km")],
  ["no running torque", "record/running-unread", swap("pin", " running: 18 lb-ft;", "")],
  [
    "running torque and torque exchanged",
    "record/not-tight record/running-off record/torque-off record/wrench-range",
    swap("pin", "tightened: 140 lb-ft; running: 18", "tightened: 18 lb-ft; running: 140"),
  ],
  ["never turned on", "record/not-tight", drop("cap4")],
  ["turned on by half", "record/not-tight record/turn-off", swap("cap4", "60 deg", "30 deg")],
  ["turned before the last torque", "record/falling-pass", swapped("cap3", "cap4")],
  [
    "the adapter forgotten",
    "record/not-tight record/torque-off",
    swap("hub", "tightened: 100 lb-ft; reading: 86", "reading: 100"),
  ],
  [
    "wrench and nut that do not go together",
    "record/reading-apart",
    swap("hub", "reading: 86", "reading: 70"),
  ],
  [
    "rotors off again",
    "record/again record/before-prerequisite",
    put("shims", e("x", 7, "fit.rotors.done: no", K)),
  ],
  ["seals that came later", "record/part-not-here", on("2026-03-20", "came")],
  ["no time of day", "record/no-time", swap("cool", "08:30", "25:10")],
  ["taken back what is left out", "record/nothing-undone", add(e("x", 13, "fit.dust.done: no"))],
  [
    "taken back before it was done",
    "record/nothing-undone",
    put("cut", e("x", 0, "bench.cut.done: no")),
  ],
  ["width in the wrong unit", "value/out-of-range", swap("span.m", "56 17/32 in", "56.5 mm")],
  [
    "width without a unit",
    "record/out-of-limits unit/missing",
    swap("span.m", "56 17/32 in", "56.5"),
  ],
  [
    "a wrench whose calibration ran out",
    "record/calibration",
    from("brk1", (log) => log.map(([key, text]) => [key, text.replace("2026-03", "2026-05")])),
  ],
  ["a year too late", "record/out-of-order", swap("hang", "2026", "2062")],
  ["a year too early", "record/done-too-soon record/out-of-order", swap("hang", "2026", "2025")],
  [
    "day and month exchanged",
    "record/again record/done-too-soon record/falling-pass",
    on("2026-11-03", "lug1"),
  ],
  [
    "round the circle",
    "record/bolt-order",
    swap("lug3", "pass: 3", "pass: 3; bolts: [1, 2, 3, 4, 5, 6, 7, 8]"),
  ],
  [
    "a ninth of eight",
    "record/bolts record/no-such-bolt record/not-tight",
    swap("lug3", "pass: 3", "pass: 3; bolts: [1, 5, 3, 7, 2, 6, 4, 9]"),
  ],
  ["checked again before the drive", "record/recheck-early", on("2026-03-11", "r1")],
  ["checked again too soon", "record/recheck-early", swap("o2", "12095", "12050")],
  ["one joint not checked again", "record/not-rechecked", drop("r3")],
  ["what is left out done", "record/left-out", add(e("x", 9, "fit.dust.done: yes"))],
  [
    "signed before the work",
    "record/not-signed",
    change(
      swap("span", `; signed: "${R}"`, ""),
      put("bead", e("s", 1, `bench.span.signed: "${R}"`)),
    ),
  ],
  ["one of two names misspelt", "record/person", swap("hubs", K, "Kaz Fereira")],
  ["pass 0", "record/no-such-pass", swap("brk1", "pass: 1", "pass: 0")],
  ["pass one and a half", "value/not-whole", swap("brk1", "pass: 1", "pass: 1.5")],
  ["welded again behind the bearings", "record/again", add(e("x", 15, "bench.bead.done: yes", K))],
  ["bled again, the pedal not tried", "record/again", add(e("x", 15, "road.air.done: yes"))],
  [
    "wheels on again, not checked again",
    "record/again",
    add(
      e("x", 15, "lug.loosened: yes"),
      e("x", 15, "lug { tightened: 120 lb-ft; held: yes }", D, L),
      e("x", 15, "road.wheels.done: yes"),
    ),
  ],
  ["undone and left so", "record/not-tight", add(e("x", 15, "hub.loosened: yes"))],
];

const bracket = (day: number, by: string): Log => [
  e("b1", day, "brk { tightened: 18.6 lb-ft; pass: 1 }", by, M),
  e("b2", day, "brk { tightened: 43.4 lb-ft; pass: 2 }", by, M),
  e("b3", day, "brk { tightened: 62 lb-ft; pass: 3; held: yes }", by, M),
];
const clocked = (key: string, at: string): Change => swap(key, `by "${D}"`, `by "${D}" at "${at}"`);

const right: [string, Change][] = [
  ["as it is", (log) => log],
  ["both look at the welds", swap("span", `by "${D}"`, `by "${D} and ${K}"`)],
  ["passes shared by three", change(swap("ret2", K, R), swap("ret3", K, D))],
  [
    "not finished",
    (log) =>
      log.slice(
        0,
        log.findIndex(([key]) => key === "rotors"),
      ),
  ],
  [
    "taken back and done on one day",
    put("clock", e("x", 1, "bench.cut.done: no"), e("y", 1, "bench.cut.done: yes")),
  ],
  [
    "put on record too early, taken back, done",
    put("brk1", e("x", 7, "fit.shims.done: no", K), e("y", 7, "fit.shims.done: yes", K)),
  ],
  [
    "shims once more by new gaps",
    put("brk1", e("x", 8, "fit.gaps.done: yes"), e("y", 8, "fit.shims.done: yes")),
  ],
  [
    "thread lock that cures after the last torque, by the clock",
    change(clocked("brk1", "15:00"), clocked("brk3", "15:10"), clocked("tight", "15:12")),
  ],
  [
    "all passes in one record",
    change(
      drop("spr2", "spr3", "spr4"),
      set(
        "spr1",
        e(
          "spr",
          6,
          "spr { tightened: 28.5 lb-ft; pass: 1 } spr { tightened: 66.5 lb-ft; pass: 2 } spr { tightened: 95 lb-ft; pass: 3 } spr { tightened: 95 lb-ft; pass: 4; held: yes }",
          D,
          L,
        ),
      ),
    ),
  ],
  [
    "half of the bolts by each",
    set(
      "lug3",
      e("a", 10, "lug { tightened: 120 lb-ft; pass: 3; bolts: [1, 5, 3, 7] }", D, L),
      e("b", 10, "lug { tightened: 120 lb-ft; pass: 3; bolts: [2, 6, 4, 8] }", K, L),
    ),
  ],
  [
    "brakes off and on again",
    add(
      e("x", 20, "lug.loosened: yes"),
      e("x", 20, "brk.loosened: yes"),
      e("x", 21, "fit.rotors.done: yes", K),
      e("x", 21, "brk { tightened: 18.6 lb-ft; pass: 1 }", K, M),
      e("x", 21, "fit.snug.done: yes", K),
      e("x", 21, "fit.gaps.done: yes", K),
      e("x", 21, "fit.shims.done: yes", K),
      ...bracket(22, K),
      e("x", 22, "fit.tight.done: yes", K),
      e("x", 23, "lug { tightened: 120 lb-ft; held: yes }", K, L),
      e("x", 23, "road.wheels.done: yes", K),
      e("x", 23, "road.down.done: yes", K),
      e("x", 24, "road.out.done: yes", K),
      e("x", 24, "hauler.odometer: 12160 mi", K),
      e("x", 24, "lug { rechecked: yes }", K, L),
      e("x", 24, "spr { rechecked: yes }", K, L),
      e("x", 24, "brk { rechecked: yes }", K, M),
      e("x", 24, "road.again.done: yes", K),
    ),
  ],
  ["the wrench's reading alone", swap("hub", "tightened: 100 lb-ft; ", "")],
  ["a reading with what was felt in it", swap("pin", "running", "reading: 158 lb-ft; running")],
  ["a reading as planned", swap("pin", "running", "reading: 160 lb-ft; running")],
  ["torques in newton meters", swap("lug3", "120 lb-ft", "163 N*m")],
  ["a chapter said to be done", put("cap1", e("x", 4, "bench.done: yes"))],
  ["the odometer read once", drop("o1")],
  [
    "sorted by person",
    (log) => [
      ...log.filter(([, text]) => text.includes(`by "${K}"`)),
      ...log.filter(([, text]) => !text.includes(`by "${K}"`)),
    ],
  ],
  [
    "the last day first",
    (log) => {
      const day = ([, text]: readonly [string, string]): string => text.slice(7, 17);
      return [...log].sort(
        (one, other) => (day(one) < day(other) ? 1 : -1) * Number(day(one) !== day(other)),
      );
    },
  ],
  [
    "moved, tightened anew, driven and checked on one day",
    change(
      swap("r2", "rechecked: yes", "rechecked: no"),
      put(
        "r3",
        e("x", 12, "spr { tightened: 95 lb-ft; held: yes; renewed: yes }", D, L),
        e("y", 12, "hauler.odometer: 12150 mi"),
        e("z", 12, "spr { rechecked: yes }", D, L),
      ),
    ),
  ],
  ["the last step taken back", add(e("x", 20, "road.again.done: no"))],
  ["the oil changed", add(e("x", 30, "road.oil.done: yes"))],
];

/** What is said: the code of each, none twice. */
function said(log: Log): string[] {
  const analysis = analyze(plan + log.map(([, entry]) => entry).join(""));
  const all = [...analysis.findings, ...sequenceOf(analysis).findings];
  return [...new Set(all.map(({ code }) => code))].sort();
}

describe("a mistake in the log of a hauler", () => {
  test.each(planted)("%s: %s", (_, codes, planting) => {
    expect(said(planting(base)).join(" ")).toBe(codes);
  });
});

describe("a log of a hauler that is right", () => {
  test.each(right)("%s", (_, other) => {
    expect(said(other(base))).toEqual([]);
  });
});

test("the figures that are told are those of the nut, with what the wrench showed", () => {
  const log = swap("hub", "tightened: 100 lb-ft; reading: 86", "reading: 100")(base);
  const { findings } = sequenceOf(analyze(plan + log.map(([, entry]) => entry).join("")));
  expect(findings.find(({ code }) => code === "record/torque-off")?.message).toBe(
    "`hub` was tightened to 116.7 lb-ft by a wrench that showed 100 lb-ft, 100 lb-ft ± 4.583 lb-ft is wanted",
  );
});

test("of several names the one that is meant is told", () => {
  const log = swap("hubs", K, "Kaz Fereira")(base);
  const { findings } = sequenceOf(analyze(plan + log.map(([, entry]) => entry).join("")));
  expect(findings.map(({ message }) => message)).toEqual([
    '"Kaz Fereira" is on record only here: is "Kaz Ferreira" meant?',
  ]);
});
