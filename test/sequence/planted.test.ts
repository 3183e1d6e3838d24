/**
 * Mistakes planted in the log of one axle: each has to be found. What is a mistake is common
 * practice, no source.
 */
import { describe, expect, test } from "vitest";
import { A, add, B, del, F, log, objections, rec, set } from "./axle-log";

const planted: readonly (readonly [string, string, RegExp])[] = [
  ["done: ok", set("cool", rec(3, A, "job.cool.done: ok")), /not-yes-no|done/],
  [
    "pass: first",
    set("b1", rec(10, A, "bracket { tightened: 23.4 lb-ft  pass: first }", "small click")),
    /not-a-count/,
  ],
  [
    "bolt beyond",
    set(
      "b2",
      rec(
        10,
        A,
        "bracket { tightened: 54.6 lb-ft  pass: 2  bolts: [1, 4, 2, 5, 3, 7] }",
        "big click",
      ),
    ),
    /no-such-bolt/,
  ],
  [
    "bolt doubled and one missing",
    set(
      "b2",
      rec(
        10,
        A,
        "bracket { tightened: 54.6 lb-ft  pass: 2  bolts: [1, 4, 2, 5, 3, 3] }",
        "big click",
      ),
    ),
    /record\/bolts.*6/,
  ],
  [
    "falling passes",
    log((m) => {
      const x = m.get("b2")!,
        y = m.get("b3")!;
      m.set("b2", y);
      m.set("b3", x);
    }),
    /falling-pass|pass/,
  ],
  [
    "torque instead of tightened",
    set("b3", rec(10, A, "bracket { torque: 78 lb-ft  pass: 3 }", "big click")),
    /spec-field/,
  ],
  [
    "wrench setting written as nut torque",
    set("foot", rec(13, B, "foot { tightened: 27 lb-ft  held: yes }", "big click")),
    /wrench-reading/,
  ],
  [
    "running torque far from plan",
    set(
      "stake",
      rec(13, B, "stake { tightened: 120 lb-ft  running: 40 lb-ft  held: yes }", "big click"),
    ),
    /running/,
  ],
  [
    "no running torque left",
    set(
      "stake",
      rec(13, B, "stake { tightened: 120 lb-ft  running: 2 lb-ft  held: yes }", "big click"),
    ),
    /running/,
  ],
  [
    "contradiction of a day",
    add(rec(4, A, "tube.face_to_face: 55 3/16 in", "bench tape")),
    /contradiction/,
  ],
  ["left out done", add(rec(18, B, "job.signoff.done: yes")), /left-out/],
  ["second person is the first", set("shafts", rec(6, A, "job.shafts.done: yes")), /second-person/],
  [
    "sign by same hand",
    set("width", rec(4, A, `job.width { done: yes  signed: "${A}" }`)),
    /not-signed/,
  ],
  ["sign missing", set("width", rec(4, A, `job.width { done: yes }`)), /not-signed/],
  [
    "by missing where second",
    set("shafts", `record 2026-01-10 { job.shafts.done: yes }\n`),
    /second-person/,
  ],
  [
    "calibration due",
    set("nr", rec(290, B, "nuts { rechecked: yes  tightened: 92 lb-ft }", "big click")),
    /calibration/,
  ],
  [
    "wrench out of range",
    set("u3", rec(7, B, "ubolts { tightened: 70 lb-ft  pass: 3 }", "small click")),
    /wrench-range/,
  ],
  [
    "single use not renewed",
    add(
      rec(19, B, "ubolts.loosened: yes"),
      rec(19, B, "ubolts { tightened: 70 lb-ft  held: yes }", "big click"),
      rec(19, B, "job.spring.done: yes"),
    ),
    /not-renewed/,
  ],
  [
    "cure too short",
    log((m) => {
      m.set("foot", rec(11, A, "foot { tightened: 30 lb-ft  held: yes }", "big click", "15:00"));
      m.set("lines", rec(11, A, "job.lines.done: yes", "", "16:00"));
      m.set("cj", rec(11, A, "caliper { tightened: 33 lb-ft  held: yes }", "small click", "13:00"));
      m.set("calipers", rec(11, A, "job.calipers.done: yes", "", "13:00"));
    }),
    /cure/,
  ],
  [
    "hold by clock",
    log((m) => {
      m.set("cool", rec(4, A, "job.cool.done: yes", "", "09:00"));
      m.set("width.m", rec(4, A, "tube.face_to_face: 55 1/32 in", "bench tape", "10:00"));
      m.set("width", rec(4, A, `job.width { done: yes  signed: "${F}" }`, "", "10:05"));
    }),
    /record\/hold/,
  ],
  [
    "recheck too early by odometer",
    set("odo2", rec(17, B, "van.odometer: 1212.0 mi")),
    /recheck-early/,
  ],
  ["odometer backwards", set("odo2", rec(17, B, "van.odometer: 1125.0 mi")), /odometer/],
  [
    "recheck missing",
    log((m) => {
      m.delete("nr");
      m.delete("again");
    }),
    /recheck-due|recheck-missing/,
  ],
  [
    "shims changed after torque",
    add(rec(18, A, "job.gaps.done: yes"), rec(18, A, "job.shims.done: yes")),
    /record\/again/,
  ],
  ["perches/weld again after bearings", add(rec(18, A, "job.weld.done: yes")), /record\/again/],
  ["rotors off", add(rec(18, A, "job.rotors.done: no")), /record\/again/],
  [
    "nuts retorqued after recheck",
    add(rec(18, B, "nuts { tightened: 92 lb-ft  held: yes }", "big click")),
    /again|recheck/,
  ],
  [
    "second shim w/o second reading",
    add(
      rec(18, A, "job.shims.done: yes"),
      rec(18, A, "bracket.loosened: yes"),
      rec(18, A, "bracket { tightened: 78 lb-ft  held: yes }", "big click"),
      rec(18, A, "job.tight.done: yes"),
    ),
    /not-anew|anew/,
  ],
  ["photo not there", add(rec(18, A, 'job.tight.photos: "pics/no.jpg"')), /no-photo/],
  ["future date", add(rec(2000, A, 'job.index.remark: "hm"')), /future|date/],
  ["future measured", add(rec(2000, A, "tube.face_to_face: 55 in", "bench tape")), /future|date/],
  [
    "date impossible",
    add(`record 2026-02-31 by "${A}" { job.index.remark: "hm" }\n`),
    /date|day|calendar/,
  ],
  [
    "tightened in wrong unit",
    set("b3", rec(10, A, "bracket { tightened: 78 in  pass: 3 }", "big click")),
    /unit|length|torque/,
  ],
  [
    "tightened bare number",
    set("b3", rec(10, A, "bracket { tightened: 78  pass: 3 }", "big click")),
    /unit/,
  ],
  ["turn missing", del("h2"), /not-tight/],
  ["turn too far", set("h2", rec(14, B, "head { turned: 120 deg }")), /turn-off/],
  ["measured blank", set("width.m", rec(4, A, "tube.face_to_face: ?", "bench tape")), /blank/],
  [
    "done before joint",
    log((m) => {
      const nuts = m.get("nj");
      m.delete("nj");
      m.set("nj", (nuts ?? "").replace("2026-01-20", "2026-01-24"));
    }),
    /done-too-soon|not-tight|out-of-order/,
  ],
  [
    "held: no then done",
    set("nj", rec(16, B, "nuts { tightened: 92 lb-ft  held: no }", "big click")),
    /not-held/,
  ],
  ["pass left out", del("b2"), /pass-skipped|not-tight/],
  ["closing pass left out", del("b4"), /not-tight/],
  [
    "weld before tack",
    log((m) => {
      m.set("tack", rec(3, A, "job.tack.done: yes"));
    }),
    /out-of-order/,
  ],
  [
    "out of tolerance",
    set("width.m", rec(4, A, "tube.face_to_face: 55 3/4 in", "bench tape")),
    /out-of-tolerance/,
  ],
  [
    "no bolts of second group",
    set(
      "u4",
      rec(
        7,
        B,
        "ubolts { tightened: 70 lb-ft  pass: 4  bolts: [1, 2, 3, 4]  held: yes }",
        "big click",
      ),
    ),
    /record\/bolts/,
  ],
  [
    "neighbors",
    set(
      "b3",
      rec(
        10,
        A,
        "bracket { tightened: 78 lb-ft  pass: 3  bolts: [1, 2, 3, 4, 5, 6] }",
        "big click",
      ),
    ),
    /bolt-order/,
  ],
  [
    "no such pass",
    set("b4", rec(10, A, "bracket { tightened: 78 lb-ft  pass: 5  held: yes }", "big click")),
    /no-such-pass/,
  ],
  ["unknown step", set("cool", rec(3, A, "job.coool.done: yes")), /coool/],
  ["no date", add(`record by "${A}" { job.index.remark: "hm" }\n`), /no-date/],
  ["no date measured", add(`record by "${A}" { tube.face_to_face: 55 in }\n`), /no-date/],
  ["time nonsense", add(rec(18, A, 'job.index.remark: "x"', "", "25:10")), /no-time/],
  ["rechecked moved", set("nr", rec(17, B, "nuts { rechecked: no }", "big click")), /moved/],
  [
    "recheck at wrong torque",
    set("nr", rec(17, B, "nuts { rechecked: yes  tightened: 60 lb-ft }", "big click")),
    /torque-off/,
  ],
  [
    "pass 2 torque too low",
    set("b2", rec(10, A, "bracket { tightened: 20 lb-ft  pass: 2 }", "small click")),
    /torque|pass/,
  ],
  [
    "pass 2 fraction",
    set("b2", rec(10, A, "bracket { tightened: 54.6 lb-ft  pass: 1.5 }", "big click")),
    /no-such-pass|not-whole/,
  ],
  ["signed: yes", set("width", rec(4, A, `job.width { done: yes  signed: yes }`)), /signed|text/],
  ["photos: number", add(rec(18, A, "job.tight.photos: 5")), /photo|text/],
  ["remark: number", add(rec(18, A, "job.tight.remark: 5 mm")), /remark|text/],
  [
    "held: maybe",
    set("nj", rec(16, B, "nuts { tightened: 92 lb-ft  held: maybe }", "big click")),
    /not-yes-no/,
  ],
  [
    "running negative",
    set(
      "stake",
      rec(13, B, "stake { tightened: 120 lb-ft  running: -4 lb-ft  held: yes }", "big click"),
    ),
    /running|range/,
  ],
  [
    "tightened absurd",
    set("foot", rec(13, B, "foot { tightened: -30 lb-ft  held: yes }", "big click")),
    /torque-off|range/,
  ],
  [
    "by empty",
    set("shafts", `record 2026-01-10 by "" { job.shafts.done: yes }\n`),
    /second-person|by/,
  ],
  [
    "torque with a tape",
    set("nj", rec(16, B, "nuts { tightened: 92 lb-ft  held: yes }", "bench tape")),
    /instrument|wrench/,
  ],
  [
    "length with a wrench",
    set("width.m", rec(4, A, "tube.face_to_face: 55 1/32 in", "big click")),
    /instrument/,
  ],
  [
    "used before instrument calibrated",
    set("nj", rec(-400, B, "nuts { tightened: 92 lb-ft  held: yes }", "big click")),
    /calibr|out-of|before/,
  ],
  ["spec by measured word", add(rec(18, A, "van.mass: heavy")), /heavy/],
  ["record into field not there", add(rec(18, A, "van.height: 3 ft")), /height/],
  ["done on a joint", add(rec(18, A, "nuts.done: yes")), /done/],
  [
    "rechecked before tightened",
    log((m) => {
      m.set("nr", rec(15, B, "nuts { rechecked: yes }", "big click"));
    }),
    /rechecked|recheck|not-/,
  ],
  ["loosened after all", add(rec(18, B, "nuts.loosened: yes")), /not-tight|loosened|again/],
  ["work on days before starts", add(rec(18, B, "bracket.loosened: yes")), /not-tight|again/],
  ["whole proc done only", `record 2026-02-01 by "${A}" { job.done: yes }\n`, /not-tight/],
  [
    "done: yes later undone & drive",
    log((m) => m.set("pedal", rec(15, B, "job.pedal.done: no"))),
    /before-prereq|out-of-order|again/,
  ],
  [
    "contradiction with closer times",
    add(rec(4, B, "tube.face_to_face: 55 3/16 in", "bench tape")),
    /contradiction/,
  ],
  [
    "merge conflict",
    log((m) =>
      m.set(
        "x",
        "<<<<<<< ours\n" +
          rec(18, A, 'job.index.remark: "a"') +
          "=======\n" +
          rec(18, B, 'job.index.remark: "b"') +
          ">>>>>>> theirs\n",
      ),
    ),
    /keep both/,
  ],
  [
    "signed the day before it was done",
    set("width", rec(3, F, `job.width.signed: "${F}"`) + rec(4, A, "job.width.done: yes")),
    /not-signed.*before it was done/,
  ],
  [
    "signed hours before it was done",
    log((m) => {
      m.set("width", rec(4, F, `job.width.signed: "${F}"`, "", "08:10"));
      m.set("width.done", rec(4, A, "job.width.done: yes", "", "14:00"));
    }),
    /not-signed.*before it was done/,
  ],
  [
    "signed by whoever did it, by a first name",
    set("width", rec(4, A, 'job.width { done: yes  signed: "Nell" }')),
    /not-signed.*who may be the Nell Ochoa/,
  ],
  [
    "a second person who is the first by initial",
    set("shafts", rec(6, "N. Ochoa", "job.shafts.done: yes")),
    /second-person.*by N\. Ochoa, who may be the Nell Ochoa/,
  ],
  [
    "a torque whose own ± is wider than what is allowed",
    set("nj", rec(16, B, "nuts { tightened: 92 lb-ft ± 25 lb-ft  held: yes }", "big click")),
    /torque-unsure/,
  ],
  [
    "a torque from here to there",
    set("nj", rec(16, B, "nuts { tightened: 85..99 lb-ft  held: yes }", "big click")),
    /torque-unsure/,
  ],
  [
    "measured after the step that measures it",
    set("width.m", rec(6, A, "tube.face_to_face: 55 1/32 in", "bench tape")),
    /done-too-soon.*was measured/,
  ],
  [
    "measured more widely than is allowed",
    set("width.m", rec(4, A, "tube.face_to_face: 55 1/32 in ± 3/8 in", "bench tape")),
    /record\/instrument.*was measured/,
  ],
  [
    "two people in two words at the head",
    set("fill", `record 2026-01-19 by "${A}" by "${B}" { job.fill.done: yes }\n`),
    /given\/twice/,
  ],
];

describe("a planted mistake is found", () => {
  test.each(planted)("%s", (_, text, wanted) => {
    expect(
      objections(text).some((each) => wanted.test(each)),
      objections(text).join("\n"),
    ).toBe(true);
  });
});
