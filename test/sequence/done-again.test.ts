/** Findings about what counts as done, and about what is done again: one tiny build for each. */
import { describe, expect, test } from "vitest";
import { writePlan } from "../../server/sequence";
import { findingsOf, sequence } from "./helper";

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

describe("done means done", () => {
  const nuts = `joint nuts "Nuts" { thread: 1/2-20  grade: 8  count: 5  torque: 85 lb-ft  recheck_after: 50 mi }\n`;
  const plan = `${nuts}vehicle van { mass: 3640 lb }
procedure job {
  step tight { tighten: nuts }
  step drive { after: tight }
  step again { after: drive  recheck: nuts }
}
`;
  const whole = "nuts { tightened: 85 lb-ft  held: yes }";
  const codes = (log: string): string[] =>
    findingsOf(plan + log).map((each) => each.replace(/^(\d+: [\w/-]+): .*$/, "$1"));

  test("not without the joint it tightens", () => {
    expect(findingsOf(`${plan}record 2026-03-01 { job.tight.done: yes }`)).toEqual([
      "8: record/not-tight: `job.tight` is on record as done on 2026-03-01, `nuts` is not tightened",
    ]);
    const passes = [1, 2, 3].map((pass) => `nuts { pass: ${pass}  held: yes }`).join("  ");
    expect(findingsOf(`${plan}record 2026-03-01 { ${passes}  job.tight.done: yes }`)).toEqual([
      "8: record/not-tight: `job.tight` is on record as done on 2026-03-01, `nuts` lacks pass 4",
    ]);
    expect(
      codes(
        `record 2026-03-01 { nuts { tightened: 60 lb-ft  pass: 4  held: yes }  job.tight.done: yes }`,
      ),
    ).toContain("8: record/not-tight");
    expect(
      codes(`record 2026-03-01 { nuts { tightened: 85 lb-ft  held: no }  job.tight.done: yes }`),
    ).toContain("8: record/not-tight");
  });

  test("nor before it was tightened, nor without checking again", () => {
    expect(
      codes(`record 2026-03-01 { job.tight.done: yes }\nrecord 2026-03-02 { ${whole} }`),
    ).toEqual(["8: record/done-too-soon"]);
    expect(
      codes(`record 2026-03-01 { ${whole}  job.tight.done: yes }
record 2026-03-02 { job.drive.done: yes }
record 2026-03-03 { job.again.done: yes }`),
    ).toEqual(["10: record/not-rechecked"]);
  });

  test("the plan says that everything is done only where it is", () => {
    const all = `record 2026-03-01 { ${whole}  job.tight.done: yes }
record 2026-03-02 { job.drive.done: yes }
record 2026-03-03 { nuts.rechecked: yes  job.again.done: yes }
`;
    expect(writePlan(sequence(plan + all))).toContain("Everything is done.");
    expect(writePlan(sequence(`${plan}record 2026-03-03 { job.done: yes }`))).not.toContain(
      "Everything",
    );
    const more = `${all}record 2026-03-05 { nuts { tightened: 85 lb-ft  held: yes } }\n`;
    const text = writePlan(sequence(plan + more));
    expect(text).toContain("To be done again\n  again: Nuts was tightened again on 2026-03-05.");
  });

  test("joints checked too early, too late or after they moved, by the odometer", () => {
    const start = `record 2026-03-01 { van.odometer: 12000 mi  ${whole}  job.tight.done: yes }
record 2026-03-02 { job.drive.done: yes  van.odometer: ${"$"} mi }
`;
    const text = (miles: number, rest = ""): string[] =>
      codes(start.replace("$", String(miles)) + rest);
    expect(text(12040)).toEqual([]);
    expect(text(12060)).toEqual(["9: record/recheck-due"]);
    expect(text(11000)).toEqual(["9: record/odometer"]);
    const checked = "record 2026-03-02 { nuts.rechecked: yes  job.again.done: yes }";
    expect(text(12040, checked)).toEqual(["10: record/recheck-early"]);
    expect(text(12060, checked)).toEqual([]);
    expect(text(12060, checked.replace("yes ", "no "))).toContain("10: record/moved");
  });

  test("an odometer first read after a joint was tightened tells the least it was driven", () => {
    const from = (first: number, checked?: number): string[] =>
      codes(`record 2026-03-01 { ${whole}  job.tight.done: yes }
record 2026-03-02 { van.odometer: ${first} mi }
record 2026-03-03 { job.drive.done: yes${checked === undefined ? "" : `  van.odometer: ${checked} mi`} }
record 2026-03-03 { nuts.rechecked: yes  job.again.done: yes }`);
    expect(from(12000)).toEqual([]);
    expect(from(12000, 12010)).toEqual(["11: record/recheck-early"]);
    expect(from(12000, 12060)).toEqual([]);
    const due = `record 2026-03-01 { ${whole}  job.tight.done: yes }
record 2026-03-02 { van.odometer: 12000 mi }
record 2026-03-03 { van.odometer: 12060 mi  job.drive.done: yes }`;
    expect(codes(due)).toEqual(["10: record/recheck-due"]);
  });

  test("figures it needs, limits it names, a second person, a signature", () => {
    const text = (step: string, record: string): string[] =>
      findingsOf(`housing tube { face_to_face: 58 in }
joint bolts { count: 2 }
procedure job {
  step mark {}
  step look { ${step} }
}
record 2026-03-01 by "A. Smith" { job.mark.done: yes }
${record}`)
        .map((each) => each.replace(/^(\d+: [\w/-]+): .*$/, "$1"))
        .filter((each) => !each.startsWith("2:"));
    const done = `record 2026-03-02 by "A. Smith" { job.look.done: yes }`;
    expect(text("needs: bolts.torque", done)).toEqual(["8: record/open-figure"]);
    expect(text(`check "wide enough": tube.face_to_face >= 59 in severity note`, done)).toEqual([
      "8: record/out-of-limits",
    ]);
    expect(text("other_than: mark", done)).toEqual(["8: record/second-person"]);
    expect(text("other_than: mark", done.replace("A. Smith", "B. Jones"))).toEqual([]);
    expect(text("other_than: mark", done.replace("A. Smith", "A. Smith and B. Jones"))).toEqual([]);
    expect(text(`sign_off: "the inspector"`, done)).toEqual(["8: record/not-signed"]);
    const signed = `${done}\nrecord 2026-03-02 { job.look.signed: "C. Stone" }`;
    expect(text(`sign_off: "the inspector"`, signed)).toEqual([]);
    expect(text(`sign_off: "the inspector"`, signed.replace("C. Stone", "A. Smith"))).toEqual([
      "8: record/not-signed",
    ]);
    expect(text(`left_out: "not on this one"`, done)).toEqual(["8: record/left-out"]);
  });
});

describe("done again", () => {
  const codes = (log: string): string[] =>
    findingsOf(job + log).map((each) => each.replace(/^(\d+: [\w/-]+): .*$/, "$1"));
  const first = `record 2026-03-01 { job.shim.done: yes  ${full}  job.torque.done: yes }
record 2026-03-02 { job.fill.done: yes  job.bleed.done: yes }
record 2026-03-03 { job.drive.done: yes }
`;

  test("what stands on it is to be done again, at the entry that began it", () => {
    expect(findingsOf(`${job}${first}record 2026-03-04 { job.shim.done: yes }`)).toEqual([
      "12: record/again: `job.shim` was done again on 2026-03-04, after the tightening of `studs` (on 2026-03-01): shim before the bracket's last torque, because the shims are what the bolts clamp: tightened first, the bolts come out again",
    ]);
    const { steps } = sequence(`${job}${first}record 2026-03-04 { job.shim.done: yes }`);
    expect(steps.find(({ path }) => path === "job.torque")?.state).toBe("again");
    expect(
      codes(`${first}record 2026-03-04 { job.shim.done: yes  ${full}  job.torque.done: yes }`),
    ).toEqual([]);
  });

  test("a second fill, bleed or drive is no mistake", () => {
    for (const step of ["fill", "bleed", "drive"])
      expect(codes(`${first}record 2026-03-04 { job.${step}.done: yes }`), step).toEqual([]);
  });

  test("what was taken back opens what comes right after it", () => {
    expect(codes(`${first}record 2026-03-04 { job.torque.done: no }`)).toEqual([
      "12: record/again",
    ]);
  });

  test("readings are taken anew each time the shims are changed", () => {
    const plan = `procedure job { step gaps { work: read_gap }  step shims { work: shim }  step rotor { work: seat_rotor } }\n`;
    const once = `record 2026-03-01 { job.rotor.done: yes  job.gaps.done: yes  job.shims.done: yes }\n`;
    const said = (log: string): string[] =>
      findingsOf(plan + once + log).map((each) => each.replace(/^(\d+: [\w/-]+): .*$/, "$1"));
    expect(said("record 2026-03-02 { job.shims.done: yes }")).toEqual(["3: record/not-anew"]);
    expect(said("record 2026-03-02 { job.gaps.done: yes  job.shims.done: yes }")).toEqual([]);
  });
});
