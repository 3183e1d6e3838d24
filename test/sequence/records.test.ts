/**
 * Findings about records: one tiny build for each, and the whole of what is said.
 */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import { analyze, findingsOf, sequence } from "./helper";

const job = `joint studs "Studs" { thread: 1/2-20  grade: 8  count: 5  torque: 85 lb-ft }
procedure job {
  step shim { work: shim }
  step torque { work: torque_bracket  tighten: studs }
  step drive { work: road_test  after: torque }
  step fill { work: fill }
  step bleed { work: bleed }
}
`;
const full = "studs { tightened: 85 lb-ft  held: yes }";

describe("order of what was done", () => {
  test("a clean record", () => {
    expect(
      findingsOf(
        `${job}record "a" 2026-03-01 { job.shim.done: yes  ${full}  job.torque.done: yes }`,
      ),
    ).toEqual([]);
  });

  test("tightened before what comes first was done", () => {
    expect(
      findingsOf(`${job}record "a" 2026-03-01 { ${full}  job.torque.done: yes }
record "b" 2026-03-02 { job.shim.done: yes }`),
    ).toEqual([
      "9: record/out-of-order: the tightening of `studs` is recorded on 2026-03-01, before `job.shim` (on 2026-03-02): shim before the bracket's last torque, because the shims are what the bolts clamp: tightened first, the bolts come out again",
    ]);
  });

  test("in one record the lines tell the order, whatever is written first about a joint", () => {
    const text = (inside: string): string => `${job}record "a" 2026-03-01 { ${inside} }`;
    expect(
      findingsOf(text("studs.tightened: 85 lb-ft  job.shim.done: yes  studs.held: yes")).length,
    ).toBe(1);
    expect(
      findingsOf(text("job.shim.done: yes  studs.tightened: 85 lb-ft  studs.held: yes")),
    ).toEqual([]);
  });

  test("done again afterwards is done", () => {
    expect(
      findingsOf(`${job}record "a" 2026-03-01 { ${full}  job.torque.done: yes }
record "b" 2026-03-02 { job.shim.done: yes }
record "c" 2026-03-03 { ${full}  job.torque.done: yes }`),
    ).toEqual([]);
  });

  test("lines of one record are in order, records of one day are in none", () => {
    const shim = "job.shim.done: yes";
    const torque = `${full}  job.torque.done: yes`;
    expect(findingsOf(`${job}record "a" 2026-03-01 { ${torque}  ${shim} }`).length).toBe(1);
    const one = `record "a" 2026-03-01 by "A" { ${torque} }`;
    const other = `record "b" 2026-03-01 by "B" { ${shim} }`;
    expect(findingsOf(`${job}${one}\n${other}`)).toEqual([]);
    expect(findingsOf(`${job}${other}\n${one}`)).toEqual([]);
  });

  test("done before its prerequisites", () => {
    expect(findingsOf(`${job}record "a" 2026-03-01 { ${full}  job.torque.done: yes }`)).toEqual([
      "9: record/before-prerequisite: the tightening of `studs` is recorded on 2026-03-01, `job.shim` is not: shim before the bracket's last torque, because the shims are what the bolts clamp: tightened first, the bolts come out again",
    ]);
  });

  test("a hold of some days that was not waited out", () => {
    const text = (day: string): string => `procedure job {
  step paint { hold: until_cured  hold_time: 7 day }
  step label { after: paint }
}
record "a" 2026-03-01 { job.paint.done: yes }
record "b" ${day} { job.label.done: yes }`;
    expect(findingsOf(text("2026-03-03"))).toEqual([
      "6: record/hold: `job.label` is recorded too soon after `job.paint`, which has to wait until it has cured, 7 day",
    ]);
    expect(findingsOf(text("2026-03-09"))).toEqual([]);
  });

  test("a record without a day", () => {
    expect(findingsOf(`procedure job { step a {} }\nrecord "a" { job.a.done: yes }`)).toEqual([
      "2: record/no-date: this record has no date, so nothing can be said about its order",
    ]);
  });

  test("whoever puts a whole procedure on record has done its steps", () => {
    const { steps } = sequence(
      `procedure job { step a {}  step b {} }\nrecord 2026-03-01 { job.done: yes }`,
    );
    expect(steps.map(({ state }) => state)).toEqual(["done", "done", "done"]);
  });

  test("what is written about a step that is not there is not about its procedure", () => {
    const { steps } = sequenceOf(
      analyze(`procedure job { step a {} }\nrecord 2026-03-01 { job { b { done: yes } } }`),
    );
    expect(steps.map(({ state }) => state)).toEqual(["ready", "blocked"]);
  });

  test("a step taken back is no longer done", () => {
    const { steps } = sequence(`procedure job { step a {} }
record "a" 2026-03-01 { job.a.done: yes }
record "b" 2026-03-02 { job.a.done: no }`);
    expect(steps[0]?.state).toBe("ready");
  });
});

describe("joints on record", () => {
  const studs = (more: string, inside: string): string =>
    `joint studs "Studs" { thread: 1/2-20  grade: 8  count: 5  torque: 85 lb-ft  ${more} }
record "a" 2026-03-01 { ${inside} }`;

  test("pass by pass, each in its order", () => {
    expect(
      findingsOf(
        studs(
          "",
          `studs { tightened: 25 lb-ft  pass: 1  bolts: [1, 3, 5, 2, 4] }
  studs { tightened: 60 lb-ft  pass: 2  bolts: [1, 3, 5, 2, 4] }
  studs { tightened: 85 lb-ft  pass: 3  bolts: [1, 3, 5, 2, 4] }
  studs { tightened: 85 lb-ft  pass: 4  bolts: [1, 2, 3, 4, 5]  held: yes }`,
        ),
      ),
    ).toEqual([]);
  });

  test("not to its torque", () => {
    expect(findingsOf(studs("", "studs { tightened: 76 lb-ft  held: yes }"))).toEqual([
      "2: record/torque-off: `studs` was tightened to 76 lb-ft, 85 lb-ft ± 3.9 lb-ft is wanted",
    ]);
    expect(findingsOf(studs("", "studs { tightened: 83 lb-ft  held: yes }"))).toEqual([]);
  });

  test("the builder's own tolerance goes before the wrench's", () => {
    const text = `joint studs { count: 5  torque: 85 lb-ft ± 1 lb-ft }
record "a" 2026-03-01 { studs { tightened: 83.0 lb-ft  held: yes } }`;
    expect(findingsOf(text).map((each) => each.slice(0, 20))).toEqual(["2: record/torque-off"]);
  });

  test("a lower pass beyond the whole torque", () => {
    const findings = findingsOf(studs("", "studs { tightened: 100 lb-ft  pass: 1  held: yes }"));
    expect(findings[0]).toContain(
      "record/torque-off: `studs` was tightened to 100 lb-ft in pass 1 (30 %)",
    );
  });

  test("passes left out, and passes it has not", () => {
    expect(findingsOf(studs("", "studs { tightened: 85 lb-ft  pass: 3  held: yes }"))).toEqual([
      "2: record/pass-skipped: pass 3 of `studs` is on record, passes 1 and 2 before it are not",
    ]);
    expect(findingsOf(studs("", "studs { tightened: 85 lb-ft  pass: 7  held: yes }"))[0]).toBe(
      "2: record/no-such-pass: `studs` has 4 passes, pass 7 is on record",
    );
  });

  test("fasteners left out, and neighbors one after the other", () => {
    expect(
      findingsOf(studs("", "studs { tightened: 85 lb-ft  bolts: [1, 3, 5, 2]  held: yes }")),
    ).toEqual(["2: record/bolts: `studs`: fastener 4 of 5 is not on record"]);
    expect(
      findingsOf(
        studs(
          "",
          "studs { tightened: 85 lb-ft  bolts: [1, 3]  held: yes }  studs { tightened: 85 lb-ft  bolts: [2, 4, 5] }",
        ),
      ),
    ).toEqual([]);
    expect(
      findingsOf(studs("", "studs { tightened: 85 lb-ft  bolts: [1, 2, 3, 4, 5]  held: yes }")),
    ).toEqual([
      "2: record/bolt-order: `studs` was tightened with neighbors one after the other: 1 and 2, 2 and 3, 3 and 4 and 4 and 5",
    ]);
  });

  // Common practice, no source: a wrench that clicks and then turns again has not held its torque.
  test("the second click is part of it", () => {
    expect(findingsOf(studs("", "studs { tightened: 85 lb-ft }"))).toEqual([
      "2: record/second-click: nobody put on record that `studs` held at the second click",
    ]);
    expect(findingsOf(studs("", "studs { tightened: 85 lb-ft  held: no }"))).toEqual([
      "2: record/not-held: `studs` turned again at the second click: it has not held its torque",
    ]);
  });

  test("outside of the wrench's range", () => {
    const text = `wrench large "large wrench" { most: 250 lb-ft }
joint bolts { torque: 20 lb-ft }
record "a" 2026-03-01 with "large wrench" { bolts { tightened: 20 lb-ft  held: yes } }`;
    expect(findingsOf(text)).toEqual([
      "3: record/wrench-range: `bolts` was tightened to 20 lb-ft with large wrench, which is to be used from 50 lb-ft to 250 lb-ft",
    ]);
  });

  test("how hard a locking nut turns belongs on record with the entry that tightens it", () => {
    const told = (more: string, inside: string): readonly string[] =>
      findingsOf(`joint nut { torque: 40 lb-ft  ${more} }
record 2026-03-02 { nut { tightened: 40 lb-ft  held: yes  ${inside} } }
`).map((each) => each.split(": ")[1] ?? "");
    const locking = "running_torque: 8 lb-ft";
    expect(told("", "")).toEqual([]);
    expect(told("running_torque: 0 lb-ft", "")).toEqual([]);
    expect(told(locking, "")).toEqual(["record/running-unread"]);
    expect(told(locking, "running: 7 lb-ft")).toEqual([]);
    expect(told(locking, "running: ?")).toEqual(["record/blank"]);
  });

  test("with a running torque on top, either figure is right", () => {
    const text = (
      torque: string,
    ): string => `joint nut { torque: 40 lb-ft  running_torque: 8 lb-ft }
record "a" 2026-03-01 { nut { tightened: ${torque}  running: 8 lb-ft  held: yes } }`;
    expect(findingsOf(text("48 lb-ft"))).toEqual([]);
    expect(findingsOf(text("40 lb-ft"))).toEqual([]);
    expect(findingsOf(text("44 lb-ft")).length).toBe(1);
  });
});

describe("measurements on record", () => {
  const housing = `housing tube { face_to_face: 58 in ± 1/8 in }\n`;

  test("out of tolerance, widened by how surely it was measured", () => {
    const text = (spec: string, measured: string): string[] =>
      findingsOf(
        `housing h { face_to_face: ${spec} }\nrecord "after welding" 2026-03-14 { h.face_to_face: ${measured} }`,
      );
    expect(text("58 in ± 1/32 in", "58 1/8 in")).toEqual([
      "2: record/out-of-tolerance: `h.face_to_face` was measured 58 1/8 in on 2026-03-14, the spec has 58 in: 1/8 in over, 57 31/32 in to 58 1/32 in is allowed",
    ]);
    expect(text("58 in ± 1/32 in", "58 1/32 in")).toEqual([]);
    expect(text("58 in ± 1/32 in", "58 1/16 in ± 1/16 in")).toEqual([
      "2: record/instrument: `h.face_to_face` was measured 58 1/16 in ± 1/16 in, which is more than a tenth of the 1/16 in allowed",
    ]);
    expect(text("58 in ± 1/32 in", "58 in ± 1/64 in")).toEqual([]);
    expect(text("58 in", "57.99 in")).toEqual([
      "2: record/out-of-tolerance: `h.face_to_face` was measured 57.990 in on 2026-03-14, the spec has 58 in: 0.010 in under",
    ]);
  });

  test("the two sides taken for each other", () => {
    const kinds = `kind end { reach: length measured }\nkind beam { left: part end  right: part end }\n`;
    const swapped = (readings: string): boolean[] =>
      sequenceOf(
        analyze(
          `${kinds}beam b { left.reach: 23 1/2 in ± 1/16 in; right.reach: 24 3/8 in ± 1/16 in }\nrecord 2026-03-14 { ${readings} }`,
        ),
      ).findings.map(({ hint = "" }) =>
        hint.startsWith("were the two sides taken for each other? it would do for"),
      );
    expect(swapped("b.left.reach: 24 3/8 in; b.right.reach: 23 1/2 in")).toEqual([true, true]);
    expect(swapped("b.left.reach: 24 3/8 in")).toEqual([true]);
    // The other side was measured, and is as it is to be.
    expect(swapped("b.left.reach: 24 3/8 in; b.right.reach: 24 3/8 in")).toEqual([false]);
    expect(swapped("b.left.reach: 24 in; b.right.reach: 23 1/2 in")).toEqual([false, true]);
  });

  test("the newest reading counts", () => {
    const reading = (day: number, figure: string): string =>
      `record 2026-03-0${day} { tube.face_to_face: ${figure} }\n`;
    expect(findingsOf(housing + reading(1, "59 in") + reading(2, "58 in"))).toEqual([]);
    expect(findingsOf(housing + reading(1, "58 in") + reading(2, "59 in")).length).toBe(1);
  });

  // Common practice, no source: an instrument reads to a tenth of what is allowed. In the middle
  // nothing hangs on it; near a limit it decides.
  test("an instrument that is not good enough for the tolerance", () => {
    const text = (instrument: string, read = "58 7/64 in"): string =>
      `${housing}record "a" 2026-03-01 with "${instrument}" { tube.face_to_face: ${read} }`;
    expect(findingsOf(text("steel tape", "58 in"))).toEqual([]);
    expect(findingsOf(text("steel tape"))).toEqual([
      "2: record/instrument: steel tape reads to 1/32 in, which is more than a tenth of the 1/4 in allowed for `tube.face_to_face`",
    ]);
    expect(findingsOf(text("steel rule"))).toEqual([]);
  });

  test("an instrument of the build's own goes before the shop's, an unknown one is asked about", () => {
    const own = `instrument tape "steel tape" { reads_to: 1/64 in }\n`;
    const record = `record "a" 2026-03-01 with "steel tape" { tube.face_to_face: 58 in }`;
    expect(findingsOf(own + housing + record)).toEqual([]);
    expect(
      findingsOf(`${housing}record "a" 2026-03-01 with "eye" { tube.face_to_face: 58 in }`),
    ).toEqual([`2: record/unknown-instrument: nobody says how well "eye" measures`]);
  });

  test("a step that was to measure and did not", () => {
    const text = (
      more: string,
    ): string => `${housing}procedure job { step look { measure: tube.face_to_face } }
record "a" 2026-03-01 { job.look.done: yes  ${more} }`;
    expect(findingsOf(text(""))).toEqual([
      "3: record/not-measured: `job.look` is on record as done on 2026-03-01, what it was to measure is not: `tube.face_to_face`",
    ]);
    expect(findingsOf(text("tube.face_to_face: 58 in"))).toEqual([]);
  });
});

describe("checking again", () => {
  const text = (
    records: string,
  ): string => `joint studs "Studs" { count: 5  torque: 85 lb-ft  recheck_after: 50 mi }
procedure job {
  step torque { tighten: studs }
  step drive { after: torque  work: road_test }
  step again { after: drive  work: recheck  recheck: studs }
  step sign { after: drive }
  step fill { work: fill }
  step bleed { work: bleed }
}
record "a" 2026-03-01 { job.fill.done: yes  job.bleed.done: yes  studs { tightened: 85 lb-ft  held: yes }  job.torque.done: yes }
${records}`;

  test("due as soon as something later is on record", () => {
    expect(findingsOf(text(`record "b" 2026-03-02 { job.drive.done: yes }`))).toEqual([]);
    expect(
      findingsOf(
        text(
          `record "b" 2026-03-02 { job.drive.done: yes }\nrecord "c" 2026-03-09 { job.sign.done: yes }`,
        ),
      ),
    ).toEqual([
      "12: record/recheck-missing: `studs` has not been checked again since 2026-03-02: `job.again` is due",
    ]);
  });

  test("checked again", () => {
    const checked = `record "b" 2026-03-02 { job.drive.done: yes }
record "c" 2026-03-08 { studs.rechecked: yes }
record "d" 2026-03-09 { job.sign.done: yes }`;
    expect(findingsOf(text(checked))).toEqual([]);
  });

  test("what is left to do, in order", () => {
    const { left } = sequence(text(`record "b" 2026-03-02 { job.drive.done: yes }`));
    expect(left.map((each) => each.text)).toEqual([
      "do again (job.again)",
      "check Studs (studs) again",
      "do sign (job.sign)",
    ]);
  });
});

describe("entries are looked at", () => {
  const plan = `wrench click "click wrench" { most: 100 lb-ft  calibrated: 2025-01-10 }
joint studs "Studs" { thread: 1/2-20  grade: 8  count: 5  torque: 85 lb-ft  single_use: yes  cure: 24 h }
joint nut { torque: 60 lb-ft  wrench: long  extension: 2 in }
wrench long { most: 100 lb-ft  length: 10 in }
housing tube { face_to_face: 58 in }
procedure job {
  step tight { tighten: studs }
  step glue { hold: until_cured  hold_time: 4 h }
  step load { after: [glue, tight] }
}
`;
  const said = (log: string): string[] =>
    findingsOf(plan + log)
      .map((each) => each.replace(/^\d+: ([\w/-]+): .*$/, "$1"))
      .filter((code) => code !== "joint/never-tightened");
  const whole = "studs { tightened: 85 lb-ft  held: yes }";

  test("a yes that is none, a pass in words, a figure in words, a blank", () => {
    expect(said("record 2026-03-01 { job.glue.done: ok }")).toEqual(["record/not-yes-no"]);
    expect(said("record 2026-03-01 { studs { pass: first  held: yes } }")).toContain(
      "record/not-a-count",
    );
    expect(said("record 2026-03-01 { tube.face_to_face: ? }")).toEqual(["record/blank"]);
    expect(said(`record 2026-03-01 at "half past" { job.glue.done: yes }`)).toEqual([
      "record/no-time",
    ]);
    expect(said("record 2026-03-01 { studs.torque: 85 lb-ft }")).toEqual(["record/spec-field"]);
  });

  test("fasteners it has not, passes that fall, old fasteners put in again", () => {
    expect(
      said(
        "record 2026-03-01 { studs { tightened: 85 lb-ft  bolts: [1, 3, 5, 2, 9]  held: yes } }",
      ),
    ).toContain("record/no-such-bolt");
    const falls = [2, 1].map((pass) => `studs { pass: ${pass}  held: yes }`).join("  ");
    expect(said(`record 2026-03-01 { studs { pass: 3  held: yes }  ${falls} }`)).toContain(
      "record/falling-pass",
    );
    const again = `record 2026-03-01 { ${whole} }\nrecord 2026-03-02 { ${whole} }`;
    expect(said(again)).toEqual(["record/not-renewed"]);
    expect(said(again.replace(/held: yes \} \}$/, "held: yes  renewed: yes } }"))).toEqual([]);
  });

  test("nut torque and wrench reading are told apart", () => {
    const nut = (inside: string): string[] =>
      said(`record 2026-03-01 { nut { ${inside}  held: yes } }`);
    expect(nut("tightened: 60 lb-ft")).toEqual([]);
    expect(nut("reading: 50 lb-ft")).toEqual([]);
    expect(nut("tightened: 50 lb-ft")).toEqual(["record/wrench-reading"]);
    expect(nut("reading: 60 lb-ft")).toEqual(["record/torque-off"]);
    expect(nut("tightened: 55 lb-ft")).toEqual(["record/torque-off"]);
    // The reading's own ± says that it may have been enough.
    expect(nut("tightened: 57 lb-ft ± 1 lb-ft")).toEqual([]);
  });

  test("holds and thread lock by the clock", () => {
    const text = (glue: string, load: string): string[] =>
      said(`record 2026-03-01 at "8:00" { job.glue.done: yes }
record 2026-03-01 at "${glue}" { ${whole}  job.tight.done: yes }
record ${load} { job.load.done: yes }`);
    expect(text("8:00", `2026-03-01 at "11:00"`)).toEqual(["record/cure", "record/hold"]);
    expect(text("8:00", `2026-03-02 at "7:00"`)).toEqual(["record/cure"]);
    expect(text("8:00", `2026-03-02 at "8:30"`)).toEqual([]);
  });

  test("calibration, readings that contradict each other, the same entry twice", () => {
    expect(said(`record 2026-03-01 with "click wrench" { ${whole} }`)).toEqual([
      "record/calibration",
    ]);
    expect(said(`record 2025-12-01 with "click wrench" { ${whole} }`)).toEqual([]);
    const two = (one: string, other: string): string[] =>
      said(`record 2026-03-01 by "A" { tube.face_to_face: ${one} }
record 2026-03-01 by "B" { tube.face_to_face: ${other} }`);
    expect(two("58 in", "58 1/8 in")).toEqual(["record/out-of-tolerance", "record/contradiction"]);
    expect(two("58 in ± 1/16 in", "58 1/8 in ± 1/16 in")).not.toContain("record/contradiction");
    const once = `record 2026-03-01 by "A" { job.glue.done: yes }\n`;
    expect(said(once + once)).toEqual(["record/duplicate"]);
  });

  test("the same entry laid out otherwise is the same", () => {
    const laidOut = [
      `record 2026-03-01 by "A" at "9:30" { studs { tightened: 60 lb-ft; pass: 1; bolts: [1, 3, 5, 2, 4] } }`,
      `record 2026-03-01 by "A" at "9:30" { studs { tightened: 60 lb-ft  pass: 1  bolts: [1, 3, 5, 2, 4] } }`,
      `record 2026-03-01 by "A" at "9:30" {studs{tightened:60 lb-ft;pass:1;bolts:[1,3,5,2,4]}}`,
      `record 2026-03-01  by "A"   at "9:30" {\n  studs {\n    tightened: 60 lb-ft\n    pass: 1\n    bolts: [ 1, 3 , 5, 2, 4 ]\n  }\n}`,
    ];
    const other = `record 2026-03-01 by "A" at "9:30" { studs { tightened: 60 lb-ft; pass: 1; bolts: [1, 3, 5, 2] } }`;
    for (const each of laidOut)
      for (const [at, again] of [...laidOut, other].entries())
        expect(said(`${each}\n${again}\n`).filter((code) => code === "record/duplicate")).toEqual(
          at === laidOut.length ? [] : ["record/duplicate"],
        );
  });
});
