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
    // First read after it was tightened: it has gone as far as from there at least.
    expect(log([4, 100], [5, 200])).toEqual(["record/recheck-due"]);
    expect(log([4, 100], [5, 149])).toEqual([]);
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

describe("joints that are turned on after their torque", () => {
  const read = (log: string) => {
    const text = `joint j { count: 2  torque: 50 lb-ft  pattern: line  passes: [50 %, 100 %]  turn: 90 deg }
procedure job { step tight { tighten: j } }
${log}`;
    const { left } = sequenceOf(analyze(text));
    return { full: !left.some(({ is }) => is === "tighten"), said: codes(text) };
  };
  const log = (...inside: readonly string[]): string =>
    inside.map((each, at) => `record 2026-03-0${at + 1} by "A" { j { ${each} } }\n`).join("");

  test("are at their torque with all passes and the turn, which needs no number", () => {
    const passes = ["tightened: 25 lb-ft  pass: 1", "tightened: 50 lb-ft  pass: 2  held: yes"];
    expect(read(log(...passes)).full).toBe(false);
    expect(read(log(...passes, "turned: 90 deg"))).toEqual({ full: true, said: [] });
    expect(read(log(...passes, "turned: 90 deg  pass: 3"))).toEqual({ full: true, said: [] });
    expect(read(log(...passes, "turned: 45 deg"))).toEqual({
      full: false,
      said: ["record/turn-off"],
    });
    expect(read(log("tightened: 50 lb-ft  held: yes", "turned: 90 deg"))).toEqual({
      full: true,
      said: [],
    });
  });
});

describe("one cause, one finding", () => {
  test("a re-check that is due by the odometer is not missed once more", () => {
    const text = (miles: number) => `vehicle van { mass: 3640 lb }
joint nuts { count: 5  torque: 85 lb-ft  recheck_after: 50 mi }
procedure job { step tight { tighten: nuts }  step drive { after: tight }  step again { after: drive  recheck: nuts }  step sign { after: drive } }
record 2026-03-01 by "A" { van.odometer: 100 mi  nuts { tightened: 85 lb-ft  held: yes }  job.tight.done: yes }
record 2026-03-02 by "A" { job.drive.done: yes }
record 2026-03-05 by "A" { van.odometer: ${miles} mi  job.sign.done: yes }`;
    expect(codes(text(200))).toEqual(["record/recheck-due"]);
    expect(codes(text(120))).toEqual(["record/recheck-missing"]);
  });

  test("of what is to be done again the step is told where no joint is", () => {
    const text = `joint j { torque: 60 lb-ft }
procedure job { step a {}  step b { after: a  tighten: j } }
record 2026-03-01 by "A" { job.b.done: yes }`;
    const [said = ""] = findingsOf(text).filter((each) => each.includes("not-tight"));
    expect(said).toContain("`j` is not tightened");
    const open = findingsOf(text.replace("torque: 60 lb-ft", "count: 1"));
    expect(open.join("\n")).not.toContain("NaN");
  });
});

describe("the way round", () => {
  const said = (pattern: string, bolts: string) =>
    codes(`joint j { count: 6  torque: 60 lb-ft  pattern: ${pattern}  passes: [100 %]  circular_pass: no }
record 2026-03-01 { j { tightened: 60 lb-ft  held: yes  bolts: [${bolts}] } }`);

  test("matters across a circle, and not along a line or round it", () => {
    expect(said("cross", "1, 2, 3, 4, 5, 6")).toEqual(["record/bolt-order"]);
    expect(said("line", "1, 2, 3, 4, 5, 6")).toEqual([]);
    expect(said("circle", "1, 2, 3, 4, 5, 6")).toEqual([]);
    expect(said("cross", "1, 4, 2, 5, 3, 6")).toEqual([]);
  });

  test("as the plan has it, too, with what would be better in its pattern's words", () => {
    const hints = (text: string, code: string) =>
      sequenceOf(analyze(text)).findings.flatMap((each) =>
        each.code === code ? [each.hint ?? ""] : [],
      );
    for (const [pattern, words] of [
      ["cross", "go across the circle"],
      ["two_rows", "go from the middle outwards"],
    ] as const) {
      const joint = `joint j { count: 6  torque: 60 lb-ft  pattern: ${pattern}  passes: [100 %]  circular_pass: no`;
      const planned = hints(`${joint}  sequence: [1, 2, 3, 4, 5, 6] }`, "joint/neighbours");
      expect(planned, pattern).toEqual([expect.stringContaining(words)]);
      const done = `${joint} }
record 2026-03-01 { j { tightened: 60 lb-ft  held: yes  bolts: [1, 2, 3, 4, 5, 6] } }`;
      expect(hints(done, "record/bolt-order"), pattern).toEqual([expect.stringContaining(words)]);
    }
    expect(
      hints(
        "joint j { count: 6  torque: 60 lb-ft  pattern: line  sequence: [1, 2, 3, 4, 5, 6] }",
        "joint/neighbours",
      ),
    ).toEqual([]);
  });
});

describe("what a concession breaks", () => {
  test("is what rests on that figure, not what fails beside it", () => {
    const { accepted } = sequenceOf(
      analyze(`housing tube { face_to_face: 55 in ± 1/8 in; standoff: 2 in ± 1/8 in }
check "narrow": tube.face_to_face <= 55 1/4 in
check "short": tube.standoff <= 2 1/4 in
procedure job { step look { measure: [tube.face_to_face, tube.standoff] } }
record 2026-03-01 by "A" { tube.face_to_face: 55 1/2 in  tube.standoff: 2 1/2 in  job.look.done: yes }
record 2026-03-02 by "Ida" { job.look.accepted: tube.face_to_face }`),
    );
    expect(accepted.map((each) => each.breaks())).toEqual([["narrow"]]);
  });
});
