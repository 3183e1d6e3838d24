/** Details of a plan, each by a plan of its own: who waits for whom, which days, what a wrench is set to. */
import { describe, expect, test } from "vitest";
import { sequenceOf, writePlan } from "../../server/sequence";
import { Calendar } from "../../server/sequence/calendar";
import { scheduleOf, type Timed } from "../../server/sequence/schedule";
import { analyze, findingsOf, sequence } from "./helper";

const hour = 3600;

describe("a step that comes after several", () => {
  const waits = (steps: string, path = "job.last") =>
    sequence(`procedure job {\n${steps}\n}`)
      .steps.find((each) => each.path === path)
      ?.waitsFor.map((each) => each.path);

  test("of which one is left out waits for the others and for what that one came after", () => {
    expect(
      waits(`  step first {}
  step gone { after: first  left_out: "not on this axle" }
  step other {}
  step last { after: [gone, other] }`),
    ).toEqual(["job.first", "job.other"]);
  });

  test("of which all that lead to it are left out waits for what comes before them", () => {
    expect(
      waits(`  step first {}
  step one { after: first  left_out: "no" }
  step two { after: one  left_out: "no" }
  step last { after: two }`),
    ).toEqual(["job.first"]);
  });

  test("a chapter comes after the one named before it, however often it is named", () => {
    const { steps, findings } = sequence(`procedure cut { step saw {} }
procedure weld { step tack {}  step run { after: tack } }
procedure whole { chapters: [cut, weld] }
`);
    expect(findings.filter(({ severity }) => severity !== "note")).toEqual([]);
    const waitsFor = Object.fromEntries(
      steps.map((each) => [each.path, each.waitsFor.map(({ path }) => path)]),
    );
    expect(waitsFor["weld.tack"]).toEqual(["cut"]);
    expect(waitsFor["weld.run"]).toEqual(["cut", "weld.tack"]);
    expect(Object.fromEntries(steps.map(({ path, within }) => [path, within]))).toEqual({
      "cut.saw": ["cut", "whole"],
      cut: ["whole"],
      "weld.tack": ["weld", "whole"],
      "weld.run": ["weld", "whole"],
      weld: ["whole"],
      whole: [],
    });
  });
});

describe("a rule that the plan turns round", () => {
  const hint = (first: string, second: string) =>
    sequenceOf(
      analyze(`order "own": measure before paint because "so it is"
procedure job {
  step paint { work: paint  ${second} }
  step look { work: measure  after: paint  ${first} }
}`),
    ).findings.find(({ code }) => code === "order/broken")?.hint;

  test("asks for what the steps are done to where one of them does not say", () => {
    const asks =
      "let `job.paint` come after `job.look`; if the two are done to different things, say so with `on`";
    expect(hint("", "")).toBe(asks);
    expect(hint("on: left", "")).toBe(asks);
    expect(hint("", "on: left")).toBe(asks);
    expect(hint("on: left", "on: left")).toBe("let `job.paint` come after `job.look`");
  });
});

describe("days", () => {
  const step = (path: string, hours: number, more: Partial<Timed> = {}): Timed => ({
    path,
    before: [],
    done: false,
    duration: hours * hour,
    hands: 1,
    machines: [],
    ...more,
  });

  test("one who is free while others take turns can go on beside both", () => {
    // a then b by one; c seven hours by the other, from the beginning.
    const { days } =
      scheduleOf(
        [
          step("a", 4),
          step("b", 4, { before: ["a"] }),
          step("d", 10, { before: ["b"] }),
          step("c", 7),
        ],
        { hours: 24 * hour, people: 2, starts: "2026-04-06" },
      ) ?? {};
    expect(days?.isLonger).toBe(false);
    expect(days?.length).toBe(18 * hour);
    expect(days?.steps.map(({ path, waits }) => [path, waits])).toEqual([
      ["a", undefined],
      ["c", undefined],
      ["b", undefined],
      ["d", undefined],
    ]);
  });

  test("beyond any year work is added to the time, without a look at days", () => {
    const calendar = new Calendar(8 * hour, "2026-04-03");
    expect(calendar.after(0, 1e14)).toBe(1e14);
    expect(calendar.after(1e14, hour)).toBe(1e14 + hour);
    expect(calendar.dateOf(1e14)).toBeUndefined();
  });

  test("begin where a procedure says so, be it the second; what is left out takes none", () => {
    const { schedule } = sequence(`procedure one { step a { duration: 2 h } }
procedure two { starts: 2026-04-06  hours: 4 h  people: 1  step b { duration: 6 h } }
procedure three { starts: 2027-01-01  step c { duration: 1 h  left_out: "not here" } }
`);
    expect(schedule).toMatchObject({ work: 6 * hour, path: ["two.b"], unknown: [] });
    // Six hours by one who works four a day.
    expect(schedule?.doneBy).toBe("2026-04-07");
    expect(schedule?.days).toMatchObject({ people: 1, doneBy: "2026-04-07" });
    const none = sequence("procedure one { step a { duration: 12 h } }").schedule;
    expect(none).toMatchObject({ work: 12 * hour, doneBy: undefined });
    expect(none?.days?.people).toBeUndefined();
  });

  test("that were to begin in the past go on today once there is a record", () => {
    const text = "procedure job { starts: 2026-04-06  step a { duration: 2 h }  step b {} }\n";
    expect(sequence(text).schedule?.doneBy).toBe("2026-04-06");
    const begun = sequence(`${text}record 2026-04-06 { job.b.done: yes }`);
    expect(begun.schedule?.doneBy).toBe("2026-04-06");
  });
});

describe("what a wrench is set to", () => {
  const set = (torque: string, wrench: string, more = "extension: 2 in") => {
    const { joints } = sequenceOf(
      analyze(`display { torque: lb-ft }
wrench w { length: 10 in  ${wrench} }
joint j { torque: ${torque}  wrench: w  ${more} }`),
    );
    const [joint] = joints;
    return joint?.setting === undefined ? undefined : joint.setting / 1.35581794833;
  };

  test("goes in the steps of its scale, and never below the first", () => {
    // 2 in straight on 10 in: ten twelfths of what the nut gets.
    expect(set("61 lb-ft", "")).toBeCloseTo(61 / 1.2, 6);
    expect(set("61 lb-ft", "scale_step: 1 lb-ft")).toBeCloseTo(51, 6);
    expect(set("61 lb-ft", "scale_step: 5 lb-ft")).toBeCloseTo(50, 6);
    expect(set("64 lb-ft", "scale_step: 5 lb-ft")).toBeCloseTo(55, 6);
    expect(set("2 lb-ft", "scale_step: 5 lb-ft")).toBeCloseTo(5, 6);
    expect(set("61 lb-ft", "scale_step: 5 lb-ft", "running_torque: 7 lb-ft")).toBeCloseTo(70, 6);
  });
});

describe("the way round", () => {
  const order = (more: string, count = 6) =>
    sequenceOf(analyze(`joint j { count: ${count}  torque: 60 lb-ft  ${more} }`)).joints[0]?.order;

  test("is that of the pattern where none is written, and what is written else", () => {
    const own = [[1, 4, 2, 5, 3, 6]];
    expect(order("")).toEqual(own);
    expect(order("sequence: []")).toEqual(own);
    expect(order("sequence: [6, 3, 5, 2, 4, 1]")).toEqual([[6, 3, 5, 2, 4, 1]]);
    expect(order("", 3)).toEqual([[1, 2, 3]]);
    expect(order("", 2)).toEqual([[1, 2]]);
    expect(order("", 1)).toEqual([[1]]);
  });

  test("of a rectangle goes by columns that fit its count, and says where they do not", () => {
    const said = (columns?: number) =>
      findingsOf(
        `joint j { count: 10  torque: 60 lb-ft  pattern: rectangle  ${columns === undefined ? "" : `columns: ${columns}`} }`,
      )
        .map((each) => each.split(": ")[1])
        .filter((code) => code !== "joint/never-tightened");
    expect(said(4)).toEqual([]);
    expect(said(5)).toEqual([]);
    expect(said(6)).toEqual(["joint/columns"]);
    expect(said(1)).toEqual(["joint/columns"]);
    // Who says nothing of columns is asked for none.
    expect(said()).toEqual([]);
  });
});

test("what was accepted stands at the step it was accepted at, and at no other", () => {
  const shown = writePlan(
    sequenceOf(
      analyze(`housing tube { face_to_face: 55 in ± 1/8 in }
procedure job {
  step look "Look" { measure: tube.face_to_face }
  step wipe "Wipe" {}
  step lift "Lift" {}
}
record 2026-03-01 by "A" { tube.face_to_face: 55 1/2 in  tube.standoff: 2 in  job.look.done: yes }
record 2026-03-02 by "Ida" { job.look.accepted: tube.face_to_face }
record 2026-03-02 by "Ida" { job.wipe.accepted: tube.standoff }
record 2026-03-03 by "Ida" { job.wipe.withdrawn: tube.standoff }`),
    ),
    { width: 200 },
  ).split("\n");
  const accepted = shown.flatMap((line, at) =>
    /^ +Accepted: /.test(line) ? [shown.slice(0, at).findLast((each) => /^ {2}\[/.test(each))] : [],
  );
  expect(accepted).toEqual([expect.stringContaining("Look")]);
});
