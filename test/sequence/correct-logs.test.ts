/**
 * Logs of one axle with work done twice, which draw no word; and mistakes made good by what the
 * finding advises, after which nothing more is said of them. Common practice, no source.
 */
import { describe, expect, test } from "vitest";
import { A, add, B, bad, base, F, log, objections, put, rec, redo, set } from "./axle-log";

const correct: readonly (readonly [string, string])[] = [
  ["a second person of the same family", set("shafts", rec(6, "Bo Ochoa", "job.shafts.done: yes"))],
  [
    "signed in an entry of the same day, written before the other",
    set("width", rec(4, F, `job.width.signed: "${F}"`) + rec(4, A, "job.width.done: yes")),
  ],
  [
    "signed after it was done, by the hour",
    set(
      "width",
      rec(4, A, "job.width.done: yes", "", "9:00") +
        rec(4, F, `job.width.signed: "${F}"`, "", "9:40"),
    ),
  ],
  [
    "measured once more after the step, to be sure",
    add(rec(5, B, "tube.face_to_face: 55 1/32 in", "bench tape")),
  ],
  [
    "a torque with the ± of its wrench",
    set("nj", rec(16, B, "nuts { tightened: 92 lb-ft ± 2 lb-ft  held: yes }", "big click")),
  ],
  ["the whole log", log(() => {})],
  [
    "reading is right",
    set("foot", rec(13, B, "foot { reading: 27 lb-ft  held: yes }", "big click")),
  ],
  ["duplicate", add(rec(3, A, "job.cool.done: yes"))],
  ["coarse instrument", set("width.m", rec(4, A, "tube.face_to_face: 55 1/32 in", "feeler stack"))],
  ["two persons same step same day", add(rec(3, B, "job.cool.done: yes"))],
  ["second bleed", add(rec(18, B, "job.bleed.done: yes"), rec(18, B, "job.pedal.done: yes"))],
  [
    "second bleed and drive",
    add(
      rec(18, B, "job.bleed.done: yes"),
      rec(18, B, "job.pedal.done: yes"),
      rec(19, B, "job.drive.done: yes"),
      rec(19, B, "nuts.rechecked: yes", "big click"),
      rec(19, B, "job.again.done: yes"),
    ),
  ],
  [
    "second drive",
    add(
      rec(18, B, "job.drive.done: yes"),
      rec(18, B, "van.odometer: 1300.0 mi"),
      rec(18, B, "nuts { rechecked: yes }", "big click"),
      rec(18, B, "job.again.done: yes"),
    ),
  ],
  [
    "shims corrected",
    log((m) => {
      const ls: [string, string][] = [
        ["y1", rec(10, A, "bracket.loosened: yes")],
        ["y2", rec(10, A, "job.gaps.done: yes")],
        ["y3", rec(10, A, "job.shims.done: yes")],
        ["y4", rec(10, A, "bracket { tightened: 23 lb-ft  pass: 1 }", "small click")],
        ["y5", rec(10, A, "bracket { tightened: 55 lb-ft  pass: 2 }", "big click")],
        ["y6", rec(10, A, "bracket { tightened: 78 lb-ft  pass: 3 }", "big click")],
        ["y7", rec(10, A, "bracket { tightened: 78 lb-ft  pass: 4  held: yes }", "big click")],
        ["y8", rec(10, A, "job.tight.done: yes")],
      ];
      const all = [...m];
      m.clear();
      for (const [k, v] of all) {
        m.set(k, v);
        if (k === "tight") for (const [a, b] of ls) m.set(a, b);
      }
    }),
  ],
  ["oil changed after running in", add(rec(20, B, "job.fill.done: yes"))],
  [
    "u-bolts renewed",
    add(
      rec(19, B, "ubolts.loosened: yes"),
      rec(19, B, "ubolts { tightened: 21 lb-ft  pass: 1  renewed: yes }", "small click"),
      rec(19, B, "ubolts { tightened: 49 lb-ft  pass: 2 }", "big click"),
      rec(19, B, "ubolts { tightened: 70 lb-ft  pass: 3 }", "big click"),
      rec(19, B, "ubolts { tightened: 70 lb-ft  pass: 4  held: yes }", "big click"),
      rec(19, B, "job.spring.done: yes"),
    ),
  ],
  [
    "measured twice, later day",
    add(
      rec(18, A, "tube.face_to_face: 55 3/64 in", "bench tape"),
      rec(18, A, `job.width { done: yes  signed: "${F}" }`),
    ),
  ],
  [
    "one record a day, blocks",
    `record 2026-01-04 by "${A}" { job { index { done: yes }  tack { done: yes }  weld { done: yes } } }\n` +
      [...base]
        .filter(([k]) => !["index", "tack", "weld"].includes(k))
        .map((x) => x[1])
        .join(""),
  ],
  [
    "wheel off and on later",
    add(
      rec(18, B, "nuts.loosened: yes"),
      rec(18, B, "job.wheels.done: no"),
      rec(19, B, "nuts { tightened: 92 lb-ft  held: yes }", "big click"),
      rec(19, B, "job.wheels.done: yes"),
      rec(20, B, "job.drive.done: yes"),
      rec(20, B, "van.odometer: 1320.0 mi"),
      rec(20, B, "nuts { rechecked: yes }", "big click"),
      rec(20, B, "job.again.done: yes"),
    ),
  ],
  ["done whole at end too", add(rec(20, B, "job.done: yes"))],
  [
    "recheck with own step order",
    log((m) => {
      m.set("nr", rec(17, B, "nuts { rechecked: yes  held: yes }", "big click"));
    }),
  ],
  [
    "held in its own entry",
    log((m) => {
      m.set("nj", rec(16, B, "nuts { tightened: 92 lb-ft }", "big click"));
      const all = [...m];
      m.clear();
      for (const [k, v] of all) {
        m.set(k, v);
        if (k === "nj") m.set("nj2", rec(16, B, "nuts.held: yes"));
      }
    }),
  ],
  [
    "two people joint passes",
    log((m) => {
      m.set("b3", rec(10, B, "bracket { tightened: 78 lb-ft  pass: 3 }", "big click"));
      m.set("b4", rec(10, B, "bracket { tightened: 78 lb-ft  pass: 4  held: yes }", "big click"));
    }),
  ],
  [
    "bolts told in two entries, sockets",
    log((m) => {
      m.set(
        "b3",
        rec(10, A, "bracket { tightened: 78 lb-ft  pass: 3  bolts: [1, 4, 2] }", "big click") +
          rec(10, A, "bracket { tightened: 78 lb-ft  pass: 3  bolts: [5, 3, 6] }", "big click"),
      );
    }),
  ],
  [
    "running measured close",
    set(
      "stake",
      rec(13, B, "stake { tightened: 120 lb-ft  running: 16 lb-ft  held: yes }", "big click"),
    ),
  ],
  [
    "tightened with running on top",
    set(
      "stake",
      rec(13, B, "stake { tightened: 135 lb-ft  running: 15 lb-ft  held: yes }", "big click"),
    ),
  ],
  [
    "tightened with measured running on top",
    set(
      "stake",
      rec(13, B, "stake { tightened: 131 lb-ft  running: 11 lb-ft  held: yes }", "big click"),
    ),
  ],
  ["Nm record", set("nj", rec(16, B, "nuts { tightened: 124.7 N-m  held: yes }", "big click"))],
  [
    "moved, then tightened again",
    log((m) => {
      m.set(
        "nr",
        rec(17, B, "nuts { rechecked: no }", "big click") +
          rec(17, B, "nuts { tightened: 92 lb-ft  held: yes }", "big click") +
          rec(18, B, "job.drive.done: yes") +
          rec(18, B, "van.odometer: 1301.0 mi") +
          rec(18, B, "nuts { rechecked: yes }", "big click"),
      );
      m.set("again", rec(18, B, "job.again.done: yes"));
    }),
  ],
  [
    "mistake made good: rewelded then all again",
    add(
      ...["weld", "cool"].map((s) => rec(20, A, `job.${s}.done: yes`)),
      rec(21, A, "tube.face_to_face: 55 in", "bench tape"),
      rec(21, A, `job.width { done: yes  signed: "${F}" }`),
      rec(21, A, "job.carrier.done: yes"),
      rec(21, A, "job.bearings.done: yes"),
      rec(22, B, "job.shafts.done: yes"),
      rec(22, B, "job.fill.done: yes"),
      rec(22, A, "job.rotors.done: yes"),
      rec(22, A, "bracket.loosened: yes"),
      rec(22, A, "job.gaps.done: yes"),
      rec(22, A, "job.shims.done: yes"),
      rec(22, A, "bracket { tightened: 23 lb-ft  pass: 1 }", "small click"),
      rec(22, A, "bracket { tightened: 55 lb-ft  pass: 2 }", "big click"),
      rec(22, A, "bracket { tightened: 78 lb-ft  pass: 3 }", "big click"),
      rec(22, A, "bracket { tightened: 78 lb-ft  pass: 4  held: yes }", "big click"),
      rec(22, A, "job.tight.done: yes"),
      rec(23, A, "caliper { tightened: 33 lb-ft  held: yes }", "small click"),
      rec(23, A, "job.calipers.done: yes"),
    ),
  ],
];

const mended: readonly (readonly [string, string])[] = [
  [
    "torque off over",
    bad("b3", rec(10, A, "bracket { tightened: 110 lb-ft  pass: 3 }", "big click"), redo(18)),
  ],
  [
    "torque off short",
    bad(
      "nj",
      rec(16, B, "nuts { tightened: 70 lb-ft  held: yes }", "big click") +
        rec(16, B, "nuts { tightened: 92 lb-ft  held: yes }", "big click"),
      [],
    ),
  ],
  [
    "not held",
    bad(
      "nj",
      rec(16, B, "nuts { tightened: 92 lb-ft  held: no }", "big click") +
        rec(16, B, "nuts { tightened: 92 lb-ft  held: yes }", "big click"),
      [],
    ),
  ],
  [
    "pass skipped",
    log((m) => {
      m.delete("b2");
      put(m, redo(18));
    }),
  ],
  [
    "bolt order",
    bad(
      "b3",
      rec(
        10,
        A,
        "bracket { tightened: 78 lb-ft  pass: 3  bolts: [1, 2, 3, 4, 5, 6] }",
        "big click",
      ),
      redo(18),
    ),
  ],
  [
    "bolts left, added",
    bad(
      "b3",
      rec(10, A, "bracket { tightened: 78 lb-ft  pass: 3  bolts: [1, 4, 2, 5, 3] }", "big click") +
        rec(10, A, "bracket { tightened: 78 lb-ft  pass: 3  bolts: [6] }", "big click"),
      [],
    ),
  ],
  [
    "bolts left, told later, then round",
    bad(
      "b4",
      rec(
        10,
        A,
        "bracket { tightened: 78 lb-ft  pass: 4  bolts: [1, 2, 3, 4, 5]  held: yes }",
        "big click",
      ) +
        rec(10, A, "bracket { tightened: 78 lb-ft  bolts: [6] }", "big click") +
        rec(10, A, "bracket { tightened: 78 lb-ft  pass: 4  held: yes }", "big click"),
      [],
    ),
  ],
  [
    "wrench range",
    bad("b3", rec(10, A, "bracket { tightened: 78 lb-ft  pass: 3 }", "small click"), redo(18)),
  ],
  [
    "tolerance, measured again",
    bad("width.m", rec(4, A, "tube.face_to_face: 55 3/4 in", "bench tape"), [
      rec(18, A, "tube.face_to_face: 55 in", "bench tape"),
      rec(18, A, `job.width { done: yes  signed: "${F}" }`),
    ]),
  ],
  [
    "contradiction, times",
    bad(
      "width.m",
      rec(4, A, "tube.face_to_face: 55 3/16 in", "bench tape", "09:00") +
        rec(4, A, "tube.face_to_face: 55 in", "bench tape", "10:00"),
      [],
    ),
  ],
  [
    "contradiction, later",
    bad(
      "width.m",
      rec(4, A, "tube.face_to_face: 55 3/16 in", "bench tape") +
        rec(4, A, "tube.face_to_face: 55 in", "bench tape"),
      [rec(18, A, "tube.face_to_face: 55 in", "bench tape")],
    ),
  ],
  [
    "falling",
    log((m) => {
      const x = m.get("b2")!,
        y = m.get("b3")!;
      m.set("b2", y);
      m.set("b3", x);
      put(m, redo(18));
    }),
  ],
  [
    "turn too far",
    bad("h2", rec(14, B, "head { turned: 120 deg }"), [
      rec(18, B, "head { loosened: yes  renewed: yes }"),
      rec(18, B, "head { tightened: 40 lb-ft }", "big click"),
      rec(18, B, "head { turned: 90 deg }"),
      rec(18, B, "job.heads.done: yes"),
    ]),
  ],
  [
    "moved",
    bad(
      "nr",
      rec(17, B, "nuts { rechecked: no }", "big click") +
        rec(17, B, "nuts { tightened: 92 lb-ft  held: yes }", "big click") +
        rec(18, B, "van.odometer: 1300.0 mi") +
        rec(18, B, "nuts { rechecked: yes }", "big click"),
      [rec(19, B, "job.again.done: yes")],
    ),
  ],
  [
    "second person",
    bad("shafts", rec(6, A, "job.shafts.done: yes"), [rec(6, B, "job.shafts.done: yes")]),
  ],
  [
    "signed later",
    bad("width", rec(4, A, "job.width.done: yes"), [rec(18, F, `job.width.signed: "${F}"`)]),
  ],
  [
    "recheck early then again",
    bad("odo2", rec(17, B, "van.odometer: 1212.0 mi"), [
      rec(19, B, "van.odometer: 1300.0 mi"),
      rec(19, B, "nuts.rechecked: yes", "big click"),
    ]),
  ],
  [
    "hold, done again",
    log((m) => {
      m.set("cool", rec(4, A, "job.cool.done: yes", "", "09:00"));
      m.set("width.m", rec(4, A, "tube.face_to_face: 55 1/32 in", "bench tape", "10:00"));
      m.set("width", rec(4, A, `job.width { done: yes  signed: "${F}" }`, "", "10:05"));
      m.set(
        "z",
        rec(18, A, "tube.face_to_face: 55 1/32 in", "bench tape") +
          rec(18, A, `job.width { done: yes  signed: "${F}" }`),
      );
    }),
  ],
  [
    "cure, done again",
    log((m) => {
      m.set("foot", rec(11, A, "foot { tightened: 30 lb-ft  held: yes }", "big click", "15:00"));
      m.set("lines", rec(11, A, "job.lines.done: yes", "", "16:00"));
      m.set("cj", rec(11, A, "caliper { tightened: 33 lb-ft  held: yes }", "small click", "13:00"));
      m.set("calipers", rec(11, A, "job.calipers.done: yes", "", "13:00"));
      m.set(
        "z",
        rec(14, A, "foot { tightened: 30 lb-ft  held: yes }", "big click") +
          rec(14, A, "job.lines.done: yes"),
      );
    }),
  ],
  [
    "not renewed then renewed",
    add(
      rec(18, B, "ubolts.loosened: yes"),
      rec(18, B, "ubolts { tightened: 70 lb-ft  held: yes }", "big click"),
      rec(19, B, "ubolts { loosened: yes  renewed: yes }"),
      rec(19, B, "ubolts { tightened: 70 lb-ft  held: yes }", "big click"),
      rec(19, B, "job.spring.done: yes"),
    ),
  ],
  [
    "done too soon then again",
    log((m) => {
      m.set(
        "nj",
        rec(24, B, "nuts { tightened: 92 lb-ft  held: yes }", "big click") +
          rec(24, B, "job.wheels.done: yes") +
          rec(25, B, "job.down.done: yes") +
          rec(25, B, "job.drive.done: yes") +
          rec(25, B, "van.odometer: 1300.0 mi") +
          rec(25, B, "nuts { rechecked: yes }", "big click") +
          rec(25, B, "job.again.done: yes"),
      );
    }),
  ],
  [
    "shims anew",
    add(
      rec(18, A, "job.shims.done: yes"),
      rec(19, A, "bracket.loosened: yes"),
      rec(19, A, "job.gaps.done: yes"),
      rec(19, A, "job.shims.done: yes"),
      ...redo(20),
    ),
  ],
];

describe("a correct log draws no word", () => {
  test.each(correct)("%s", (_, text) => {
    expect(objections(text)).toEqual([]);
  });
});

describe("what was made good as advised is no longer said", () => {
  test.each(mended)("%s", (_, text) => {
    expect(objections(text)).toEqual([]);
  });
});
