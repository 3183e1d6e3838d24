/** What follows from an entry for others, each by a log of its own. */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import { isSame } from "../../server/sequence/same";
import { entriesFor } from "../../server/sequence/write-entry";
import { analyze, findingsOf } from "./helper";

const codes = (text: string): string[] =>
  findingsOf(text).map((each) => each.replace(/^\d+: ([\w/-]+): .*$/s, "$1"));
const states = (text: string): string[] =>
  sequenceOf(analyze(text))
    .steps.filter(({ holdsSteps }) => !holdsSteps)
    .map(({ state }) => state);

describe("how far it was driven", () => {
  const log = (...miles: readonly [day: number, miles: number][]) =>
    codes(`vehicle van { mass: 3640 lb }
joint nuts { count: 5  torque: 85 lb-ft  recheck_after: 50 mi }
${miles.map(([day, far]) => `record 2026-03-0${day} { van.odometer: ${far} mi }\n`).join("")}
record 2026-03-03 { nuts { tightened: 85 lb-ft  held: yes } }`).filter(
      (code) => code === "record/recheck-due",
    );

  test("counts from the last reading before it was tightened, be it of another day", () => {
    expect(log([1, 100], [5, 149])).toEqual([]);
    expect(log([1, 100], [5, 151])).toEqual(["record/recheck-due"]);
    expect(log([1, 100], [2, 120], [5, 151])).toEqual([]);
    // Before the first reading nobody knows.
    expect(log([4, 100], [5, 200])).toEqual([]);
    // The other way round is a slip, and counts for nothing.
    expect(log([1, 100], [4, 90], [5, 151])).toEqual(["record/recheck-due"]);
  });
});

describe("a joint that stands on a step", () => {
  const plan = `joint one "One" { count: 2  torque: 60 lb-ft  pattern: line  passes: [100 %]  after: job.shim }
joint two "Two" { count: 2  torque: 60 lb-ft  pattern: line  passes: [100 %] }
procedure job { step shim {}  step tight { after: shim  tighten: [one, two] } }
record 2026-03-01 { job.shim.done: yes }
record 2026-03-02 { one { tightened: 60 lb-ft  held: yes }  two { tightened: 60 lb-ft  held: yes }  job.tight.done: yes }
`;

  test("is to be tightened again where that was done again, the other one is not", () => {
    expect(states(plan)).toEqual(["done", "done"]);
    const again = `${plan}record 2026-03-03 { job.shim.done: yes }\n`;
    expect(states(again)).toEqual(["done", "again"]);
    const said = findingsOf(again).join("\n");
    expect(said).toContain("the tightening of `one`");
    expect(said).not.toContain("`two`");
    const both = "one { tightened: 60 lb-ft  held: yes }  two { tightened: 60 lb-ft  held: yes }";
    const mended = `${again}record 2026-03-04 { ${both}  job.tight.done: yes }\n`;
    expect(codes(mended)).toEqual([]);
  });

  test("taken back and done anew", () => {
    const back = `${plan}record 2026-03-03 { job.shim.done: no }\n`;
    expect(states(back)).toEqual(["ready", "blocked"]);
    expect(states(`${back}record 2026-03-04 { job.shim.done: yes }\n`)).toEqual(["done", "again"]);
  });
});

describe("passes left out", () => {
  test("are told at the highest that is on record, whatever else was put down after it", () => {
    const said = (inside: string) =>
      findingsOf(`joint j { count: 2  torque: 60 lb-ft  pattern: line  passes: [30 %, 60 %, 100 %] }
record 2026-03-01 by "A" { ${inside} }`);
    const third = "j { tightened: 60 lb-ft  pass: 3 }";
    expect(said(`${third}  j.held: yes`)).toEqual([
      "2: record/pass-skipped: pass 3 of `j` is on record, passes 1 and 2 before it are not",
    ]);
    expect(said(`j { tightened: 36 lb-ft  pass: 2 }  ${third}  j.held: yes`)).toEqual([
      "2: record/pass-skipped: pass 3 of `j` is on record, pass 1 before it is not",
    ]);
  });
});

describe("a figure that a step needs", () => {
  const plan = (log: string) => `housing tube { face_to_face: 58 in }
procedure job { step cut { needs: tube.standoff } }
${log}`;

  test("is there once it is measured", () => {
    expect(states(plan(""))).toEqual(["blocked"]);
    expect(states(plan("record 2026-03-01 { tube.standoff: 2 in }"))).toEqual(["ready"]);
    expect(codes(plan("record 2026-03-01 { job.cut.done: yes }"))).toEqual(["record/open-figure"]);
    expect(codes(plan("record 2026-03-01 { tube.standoff: 2 in  job.cut.done: yes }"))).toEqual([]);
  });
});

describe("a concession", () => {
  test("of a name that is only blanks is nobody's", () => {
    const said = (by: string) =>
      codes(`housing tube { face_to_face: 55 in ± 1/8 in }
procedure job { step look { measure: tube.face_to_face } }
record 2026-03-01 by "A" { tube.face_to_face: 55 1/2 in  job.look.done: yes }
record 2026-03-02 by "${by}" { job.look.accepted: tube.face_to_face }`);
    expect(said("  ")).toContain("concession/nobody");
    expect(said("Ida")).toEqual(["concession/accepted"]);
  });
});

describe("entries of a joint of which little is known", () => {
  test("have no torque where none is known", () => {
    const sequence = sequenceOf(
      analyze(`joint open { count: 4  passes: [50 %, 100 %] }
procedure job { step tight { tighten: open } }`),
    );
    const step = sequence.steps.find(({ path }) => path === "job.tight")!;
    const { lines } = entriesFor(sequence, step, { date: "2026-04-04", by: "A" });
    expect(lines).toEqual([
      'record 2026-04-04 by "A" { open { pass: 1 } }',
      'record 2026-04-04 by "A" { open { pass: 2 } }',
      'record 2026-04-04 by "A" { open { pass: 3; held: yes } }',
      'record 2026-04-04 by "A" { job.tight.done: yes }',
    ]);
  });
});

describe("a step that waits out another", () => {
  test("which was done only afterwards: that is told, and no wait", () => {
    const text = (paint: string, label: string) =>
      codes(`procedure job { step paint { hold: until_cured  hold_time: 7 day }  step label { after: paint } }
record ${paint} by "A" { job.paint.done: yes }
record ${label} by "B" { job.label.done: yes }`);
    expect(text("2026-03-05", "2026-03-01")).toEqual(["record/out-of-order"]);
    expect(text("2026-03-01", "2026-03-05")).toEqual(["record/hold"]);
    expect(text("2026-03-01", "2026-03-09")).toEqual([]);
  });
});

test("rows are the same where all of it is", () => {
  expect(isSame({ a: 1, b: 2 }, { a: 1, b: 3 })).toBe(false);
  expect(isSame({ a: 1, b: 2 }, { a: 2, b: 2 })).toBe(false);
  expect(isSame([1, 2, 3], [1, 9, 3])).toBe(false);
});
