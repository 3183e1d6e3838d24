/** Small rules of the order of work, each by hand. */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import { isAbove, isWhole } from "../../server/sequence/close";
import { isBefore, type LogEntry, timeOf } from "../../server/sequence/entries";
import { Graph } from "../../server/sequence/graph";
import {
  instrumentCalled,
  isFiner,
  isGauge,
  knownInstruments,
  uncertainty,
} from "../../server/sequence/instruments";
import { passesOf, passProblem } from "../../server/sequence/passes";
import type { Step } from "../../server/sequence/plan";
import { isSame } from "../../server/sequence/same";
import { sameSubject } from "../../server/sequence/waiting";
import { analyze, findingsOf } from "./helper";

describe("which of two entries came first", () => {
  const record = (uri: string) => ({ anchor: { uri } }) as LogEntry["record"];
  const [one, other] = [record("file:///a"), record("file:///b")];
  const entry = (of: LogEntry["record"], place: number, more: Partial<LogEntry> = {}): LogEntry =>
    ({ record: of, place, ...more }) as LogEntry;
  const day = "2026-03-01";

  test("in one record by its lines, whatever day", () => {
    expect(isBefore(entry(one, 1), entry(one, 2))).toBe(true);
    expect(isBefore(entry(one, 2), entry(one, 1))).toBe(false);
    expect(isBefore(entry(one, 1), entry(one, 1))).toBe(false);
  });

  test("by the day, then by the time where both tell it", () => {
    const at = (date: string | undefined, clock?: number, place = 1) =>
      entry(record("file:///x"), place, {
        ...(date === undefined ? {} : { date }),
        ...(clock === undefined ? {} : { clock }),
      });
    expect(isBefore(at(day), at("2026-03-02"))).toBe(true);
    expect(isBefore(at("2026-03-02"), at(day))).toBe(false);
    expect(isBefore(at(day, 60), at(day, 61))).toBe(true);
    expect(isBefore(at(day, 61), at(day, 60))).toBe(false);
    expect(isBefore(at(day, 60), at(day))).toBe(false);
    expect(isBefore(at(day), at(day))).toBe(false);
    expect(isBefore(at(undefined), at(day))).toBe(false);
    expect(isBefore(at(day), at(undefined))).toBe(false);
    // Neither tells a day: nothing is known of them.
    expect(isBefore(at(undefined, 1, 1), at(undefined, 2, 2))).toBe(false);
  });

  test("of one day and one pen in one file as they are written", () => {
    const of = (uri: string, by: string | undefined, place: number, clock?: number) =>
      entry(record(uri), place, {
        date: day,
        ...(by === undefined ? {} : { by }),
        ...(clock === undefined ? {} : { clock }),
      });
    expect(isBefore(of("a", "A", 1), of("a", "A", 2))).toBe(true);
    expect(isBefore(of("a", "A", 2), of("a", "A", 1))).toBe(false);
    expect(isBefore(of("a", "A", 1), of("a", "B", 2))).toBe(false);
    expect(isBefore(of("a", "A", 1), of("b", "A", 2))).toBe(false);
    expect(isBefore(of("a", undefined, 1), of("a", undefined, 2))).toBe(false);
    // At the same minute, too.
    expect(isBefore(of("a", "A", 1, 60), of("a", "A", 2, 60))).toBe(true);
    expect(other).not.toBe(one);
  });

  test.each([
    ["14:30", 870],
    ["14.30", 870],
    [" 8:05 ", 485],
    ["0:00", 0],
    ["23:59", 1439],
    ["12:00 am", 0],
    ["12:30 pm", 750],
    ["1:15PM", 795],
    ["11:59 am", 719],
    ["24:00", undefined],
    ["13:00 pm", undefined],
    ["8:60", undefined],
    ["8", undefined],
    ["8:5", undefined],
    ["noon", undefined],
  ])("%j is %s minutes after midnight", (text, minutes) => {
    expect(timeOf(text)).toBe(minutes);
  });

  test("records count by their day, wherever they stand in the file", () => {
    const steps = (log: string) =>
      sequenceOf(analyze(`procedure job { step a {} }\n${log}`)).steps[0]?.state;
    const done = (date: string, yes: string) => `record ${date} by "A" { job.a.done: ${yes} }\n`;
    expect(steps(done("2026-03-02", "no") + done("2026-03-01", "yes"))).toBe("ready");
    expect(steps(done("2026-03-02", "yes") + done("2026-03-01", "no"))).toBe("done");
  });

  test("within a day of two pens the passes tell the order", () => {
    const studs = 'joint studs "Studs" { count: 4  torque: 60 lb-ft  passes: [30 %, 100 %] }\n';
    const by = (who: string, pass: number, torque: number) =>
      `record 2026-03-01 by "${who}" { studs { tightened: ${torque} lb-ft  pass: ${pass}  held: yes } }\n`;
    expect(findingsOf(studs + by("A", 2, 60) + by("B", 1, 18) + by("C", 3, 60))).toEqual([]);
    const apart = studs + by("A", 2, 60) + by("B", 1, 18).replace("03-01", "03-02");
    expect(findingsOf(apart).length).toBeGreaterThan(0);
  });

  test("the same entry twice is one, on another day it is another", () => {
    const text = (second: string) =>
      findingsOf(`procedure job { step a {} }
record 2026-03-01 by "A" { job.a.done: yes }
record ${second} by "A" { job.a.done: yes }`);
    expect(text("2026-03-01").map((each) => each.split(": ")[1])).toEqual(["record/duplicate"]);
    expect(text("2026-03-02")).toEqual([]);
  });
});

describe("steps that have to do with each other", () => {
  const on = (...names: string[]) => ({ on: names }) as unknown as Step;

  test("have one thing in common, or one of them names none", () => {
    expect(sameSubject(on("left", "right"), on("left"))).toBe(true);
    expect(sameSubject(on("left"), on("left", "right"))).toBe(true);
    expect(sameSubject(on("left"), on("right"))).toBe(false);
    expect(sameSubject(on(), on("right"))).toBe(true);
    expect(sameSubject(on("left"), on())).toBe(true);
  });

  test("what hangs on a loop is told in the order of writing", () => {
    const graph = new Graph(6);
    for (const [before, after] of [
      [3, 4],
      [4, 3],
      [4, 5],
      [3, 0],
      [0, 2],
    ] as const)
      graph.add(before, after);
    expect([...graph.stuck()]).toEqual([0, 2, 3, 4, 5]);
    expect(graph.order()).toEqual([1]);
  });
});

test("what can go on side by side is told in the order of writing", () => {
  const graph = new Graph(5);
  for (const [before, after] of [
    [0, 4],
    [0, 1],
    [2, 3],
    [1, 3],
  ] as const)
    graph.add(before, after);
  expect(graph.waves()).toEqual([[0, 2], [1, 4], [3]]);
});

test("a hold is not waited out on the very day, whenever on it that was", () => {
  const found = (head: string) =>
    findingsOf(`procedure job {
  step glue { hold: until_cured  hold_time: 24 h }
  step load { after: glue }
}
record 2026-03-01 at "0:00" by "A" { job.glue.done: yes }
record ${head} by "A" { job.load.done: yes }`).map((each) => each.split(": ")[1]);
  expect(found("2026-03-01")).toEqual(["record/hold"]);
  expect(found('2026-03-01 at "23:59"')).toEqual(["record/hold"]);
  expect(found('2026-03-02 at "0:00"')).toEqual([]);
  expect(found("2026-03-02")).toEqual([]);
});

describe("steps that bring a joint only so far", () => {
  const plan = `joint studs "Studs" { count: 4  torque: 60 lb-ft  passes: [30 %, 100 %] }
procedure job {
  step snug { tighten: studs  tighten_to: 30 % }
  step tight { after: snug  tighten: studs }
}
`;
  const states = (log: string) =>
    sequenceOf(analyze(plan + log))
      .steps.filter(({ holdsSteps }) => !holdsSteps)
      .map(({ state }) => state);

  test("are done with that, and not with less", () => {
    const log = (torque: number, pass: number) =>
      `record 2026-03-01 by "A" { studs { tightened: ${torque} lb-ft  pass: ${pass} }  job.snug.done: yes }\n`;
    expect(states("")).toEqual(["ready", "blocked"]);
    expect(states(log(18, 1))).toEqual(["done", "ready"]);
    expect(states(`record 2026-03-01 by "A" { job.snug.done: yes }\n`)[0]).toBe("again");
    expect(states(log(50, 1))[0]).toBe("again");
  });

  test("a reason is that of the joint it is about", () => {
    const text = `joint one "One" { count: 2  torque: 60 lb-ft  pattern: line  after: job.shim }
joint two "Two" { count: 2  torque: 60 lb-ft  pattern: line  after: job.shim }
procedure job {
  step shim {}
  step tight { tighten: [one, two] }
}
record 2026-03-01 by "A" { two { tightened: 60 lb-ft  held: yes } }`;
    const [found = ""] = findingsOf(text).filter((each) => each.includes("before-prerequisite"));
    expect(found).toContain("`two`");
    expect(found).not.toContain("`one`");
  });
});

describe("passes", () => {
  test("without a torque have none, with a turn one more", () => {
    expect(passesOf([0.5, 1], undefined, false).map(({ torque }) => torque)).toEqual([
      undefined,
      undefined,
    ]);
    expect(passesOf([0.5, 1], 80, true, 1.5)).toEqual([
      { number: 1, share: 0.5, torque: 40, circular: false },
      { number: 2, share: 1, torque: 80, circular: false },
      { number: 3, share: 1, torque: 80, circular: true },
      { number: 4, share: 1, torque: 80, circular: false, turn: 1.5 },
    ]);
    expect(passesOf([], 80, true, 1.5)).toEqual([]);
  });

  test("climb, each beyond the one before", () => {
    expect(passProblem([0.3, 0.3, 1])).toEqual({ is: "falls", pass: 2 });
    expect(passProblem([0, 1])).toEqual({ is: "falls", pass: 1 });
    expect(passProblem([-0.1, 1])).toEqual({ is: "falls", pass: 1 });
    expect(passProblem([0.5, 1 - 1e-9])).toBeUndefined();
    expect(passProblem([0.5, 1 + 1e-9])).toBeUndefined();
    expect(passProblem([0.5, 0.98], 0.05)).toBeUndefined();
    expect(passProblem([0.5, 1.02], 0.05)).toBeUndefined();
    expect(passProblem([0.5, 0.94], 0.05)).toEqual({ is: "not-full", share: 0.94 });
  });
});

describe("instruments", () => {
  const build = `wrench click "Click wrench" { least: 20 lb-ft  most: 100 lb-ft }
instrument rod "Inside rod" { reads_to: 0.001 in }
`;

  test("are found by name or title, in any case, with or without underlines", () => {
    const analysis = analyze(build);
    for (const name of ["click", "Click wrench", " CLICK WRENCH ", "click_wrench"])
      expect(instrumentCalled(name, analysis)?.name, name).toBe("Click wrench");
    expect(instrumentCalled("click wrenc", analysis)).toBeUndefined();
    expect(instrumentCalled("click", analysis)?.isWrench).toBe(true);
    // Of the shop's table.
    expect(instrumentCalled("Steel tape", analysis)?.readsTo).toBeCloseTo(0.0254 / 32, 9);
    expect(instrumentCalled("steel tape", analysis)?.isWrench).toBe(false);
  });

  test("the build's own stand before those of the shop's table, each name once", () => {
    const names = knownInstruments(
      analyze(`${build}instrument tape "Steel tape" { reads_to: 1/16 in }`),
    ).map(({ name }) => name);
    expect(names.slice(0, 3)).toEqual(["Click wrench", "Inside rod", "Steel tape"]);
    expect(names.length).toBeGreaterThan(4);
    const plain = names.map((name) => name.toLowerCase());
    expect(new Set(plain).size).toBe(plain.length);
  });

  test("that only measure are none to tighten with", () => {
    expect(isGauge({ name: "a", isWrench: false, readsTo: 1 })).toBe(true);
    expect(isGauge({ name: "a", isWrench: false, angleTo: 1 })).toBe(true);
    expect(isGauge({ name: "a", isWrench: true, readsTo: 1 })).toBe(false);
    expect(isGauge({ name: "a", isWrench: false })).toBe(false);
  });

  test("are finer than they read only from half their step on", () => {
    // Rounding is half of the last written step.
    expect(isFiner({ value: 2.0003, rounding: 0.0005 }, 0.001)).toBe(false);
    expect(isFiner({ value: 2.0003, rounding: 0.00025 }, 0.001)).toBe(false);
    expect(isFiner({ value: 2.0003, rounding: 0.0002 }, 0.001)).toBe(true);
    expect(isFiner({ value: 2.0003, rounding: 0 }, 0.001)).toBe(false);
    // What stands on a half step may have been seen there, however it is written.
    expect(isFiner({ value: 2.0005, rounding: 0.00005 }, 0.001)).toBe(false);
  });

  test("are as good as they read, or as a share of what they read", () => {
    const tape = { name: "a", isWrench: false, readsTo: 0.001, angleTo: 0.02, accuracy: 0.03 };
    expect(uncertainty(tape, "length", 5)).toBe(0.001);
    expect(uncertainty(tape, "angle", 5)).toBe(0.02);
    expect(uncertainty(tape, "torque", -5)).toBeCloseTo(0.15, 12);
    expect(uncertainty({ name: "a", isWrench: false }, "length", 5)).toBeUndefined();
  });

  test("what is shorter or longer than it can measure is told", () => {
    const found = (length: string) =>
      findingsOf(`instrument rod "Rod" { reads_to: 0.001 in  from_length: 2 in  to_length: 6 in }
kind bush "Bush" { wide: length }
bush s { wide: ${length} }
record 2026-03-01 with "rod" { s.wide: ${length} }`).map((each) => each.split(": ")[1]);
    expect(found("3.000 in")).not.toContain("record/instrument-range");
    expect(found("1.999 in")).toContain("record/instrument-range");
    expect(found("6.001 in")).toContain("record/instrument-range");
  });

  test("a wrench is for its range, ends included", () => {
    const joint = (torque: string) =>
      sequenceOf(
        analyze(`${build}joint j { count: 2  torque: ${torque}  wrench: click  passes: [100 %] }`),
      ).joints[0]?.passes[0]?.withinWrench;
    expect(joint("20 lb-ft")).toBe(true);
    expect(joint("100 lb-ft")).toBe(true);
    expect(joint("19.9 lb-ft")).toBe(false);
    expect(joint("100.1 lb-ft")).toBe(false);
  });

  test("what the wrench showed counts, not what the nut got", () => {
    // An adapter of 2 in on 10 in: 60 lb-ft at the nut are 50 on the wrench.
    const found = (least: number) =>
      findingsOf(`wrench long { least: ${least} lb-ft  most: 100 lb-ft  length: 10 in }
joint nut { torque: 60 lb-ft  wrench: long  extension: 2 in }
record 2026-03-01 with "long" { nut { tightened: 60 lb-ft  held: yes } }`).map(
        (each) => each.split(": ")[1],
      );
    expect(found(49)).toEqual([]);
    expect(found(55)).toContain("record/wrench-range");
  });

  test("too coarse for what is allowed: a note over a tenth of it, a warning over a quarter", () => {
    // ± 1/8 in is a band of 1/4 in; the reading lies where the instrument cannot decide.
    const severity = (reads: string) =>
      sequenceOf(
        analyze(`housing tube { face_to_face: 58 in ± 1/8 in }
instrument g { reads_to: ${reads} }
record 2026-03-01 with "g" { tube.face_to_face: 58.124 in }`),
      )
        .findings.filter(({ code }) => code === "record/instrument")
        .map((each) => each.severity);
    expect(severity("0.02 in")).toEqual([]);
    expect(severity("0.04 in")).toEqual(["note"]);
    expect(severity("0.1 in")).toEqual(["warning"]);
  });
});

describe("rows that say the same", () => {
  test("figures, words and lists by what they hold", () => {
    expect(isSame({ a: [1, "b", [2]] }, { a: [1, "b", [2]] })).toBe(true);
    expect(isSame([1, 2], [1, 3])).toBe(false);
    expect(isSame([1, 2], [1])).toBe(false);
    expect(isSame([1], [1, 2])).toBe(false);
    expect(isSame({ a: 1 }, { a: 1, b: undefined })).toBe(false);
    expect(isSame({ a: 1 }, { b: 1 })).toBe(false);
    expect(isSame({ a: 1 }, undefined)).toBe(false);
    expect(isSame(null, {})).toBe(false);
    expect(isSame(null, null)).toBe(true);
    expect(isSame(Number.NaN, Number.NaN)).toBe(true);
    expect(isSame([], {})).toBe(false);
    expect(isSame({}, [])).toBe(false);
  });

  test("things by being the very same, and classes, too", () => {
    const thing = { name: "a" };
    expect(isSame({ thing }, { thing })).toBe(true);
    expect(isSame({ thing }, { thing: { name: "a" } })).toBe(false);
    expect(isSame({ other: thing }, { other: { name: "a" } })).toBe(true);
    expect(isSame(new Map(), new Map())).toBe(false);
    // Deeper than any row is, nothing is compared.
    expect(isSame([[[[[[1]]]]]], [[[[[[1]]]]]])).toBe(false);
    expect(isSame([[[[1]]]], [[[[1]]]])).toBe(true);
  });
});

describe("a part and the step that takes it", () => {
  const found = (said: string, ...entries: readonly string[]): string[] => {
    const records = entries.map((entry) => `record 2026-03-${entry.replace(": ", " { ")} }\n`);
    const plan = `part seal "Pinion seal" { ${said} }
procedure job { step fit { parts: [seal] } }
`;
    return findingsOf(plan + records.join("")).filter((each) => each.includes("part-not-here"));
  };
  const done = "05: job.fit.done: yes";

  test("said not to be here, or come only later: told at the word that says it is done", () => {
    const [no] = found("at_hand: no", done);
    expect(no).toMatch(/^3: record\/part-not-here: .*is not at hand: Pinion seal/);
    expect(found("at_hand: yes", "04: seal.at_hand: no", done)).toHaveLength(1);
    const [late] = found("", done, "07: seal.at_hand: yes");
    expect(late).toMatch(/^3: .*as at hand only on 2026-03-07: Pinion seal/);
    expect(
      found("at_hand: no", "04: seal.at_hand: yes", '04 by "A": seal.at_hand: no', done),
    ).toEqual([]);
  });

  test("nothing said, used up since, come on the same day or before, put right later", () => {
    expect(found("", done)).toEqual([]);
    expect(found("at_hand: yes", done, "06: seal.at_hand: no")).toEqual([]);
    expect(found("at_hand: no", done, "05: seal.at_hand: yes")).toEqual([]);
    expect(found("at_hand: no", "04: seal.at_hand: yes", done)).toEqual([]);
    expect(found("at_hand: no", "05: job.fit.done: yes; seal.at_hand: yes")).toEqual([]);
    const again = ["06: job.fit.done: no", "07: seal.at_hand: yes", "08: job.fit.done: yes"];
    expect(found("at_hand: no", done, ...again)).toEqual([]);
    expect(found("at_hand: yes", done, "06: seal.at_hand: no", "08: job.fit.done: yes")).toEqual(
      [],
    );
  });
});

describe("brought to a share of its torque that is none of its passes", () => {
  const codes = (...entries: readonly string[]): string[] => {
    const records = entries.map((entry) => `record 2026-03-${entry.replace(": ", " { ")} }\n`);
    const plan = `joint ub { thread: 1/2-20  grade: 8  count: 4  torque: 72 lb-ft }
procedure job {
  step snug { tighten: ub  tighten_to: 50 % }
  step bolt { after: snug  tighten: ub }
}
`;
    return findingsOf(plan + records.join("")).map((each) => each.split(": ")[1] ?? "");
  };
  const snug = ["07: ub.tightened: 36 lb-ft", "07: job.snug.done: yes"];
  const tight = ["09: ub { tightened: 72 lb-ft  held: yes }", "09: job.bolt.done: yes"];

  test("it is not tight by that, be it on the way or afterwards", () => {
    expect(codes(...snug, ...tight)).toEqual([]);
    expect(codes(...snug, "09: job.bolt.done: yes")).toContain("record/not-tight");
    const loose = ["10: ub.loosened: yes", "10: ub.tightened: 36 lb-ft"];
    expect(codes(...snug, ...tight, ...loose)).toContain("record/not-tight");
  });

  test("some of them once more are no round of their own", () => {
    const some = "07: ub { tightened: 36 lb-ft  bolts: [1, 2] }";
    expect(codes(snug[0] ?? "", some, snug[1] ?? "", ...tight)).toEqual([]);
  });
});

test("a name in one record alone, a letter from one that is in several", () => {
  const found = (...names: readonly string[]): string[] => {
    const entries = names.map(
      (name, at) => `record 2026-03-0${at + 1} by "${name}" { job.s${at}.done: yes }\n`,
    );
    const steps = names.map((_, at) => `  step s${at} { }\n`).join("");
    return findingsOf(`procedure job {\n${steps}}\n${entries.join("")}`);
  };
  expect(found("Tom Asher", "Tom Asher", "Tom Ahser", "Lee Park")).toEqual([
    '9: record/person: "Tom Ahser" is on record only here: is "Tom Asher" meant?',
  ]);
  expect(found("Tom Asher", "Tom Asher", "Ann Asher")).toEqual([]);
  expect(found("Tom Asher", "Tim Asher")).toEqual([]);
  expect(found("tom asher, welder", "Tom Asher", "Tom Asher and Lee Park")).toEqual([]);
  expect(found("Ana", "Ana", "Ane")).toEqual([]);
});

test("figures that differ by no more than arithmetic does are equal", () => {
  // 0.1 + 0.2 is 0.30000000000000004 in binary (IEEE 754).
  for (const [one, limit, above] of [
    [0.1 + 0.2, 0.3, false],
    [0.3, 0.1 + 0.2, false],
    [1000.0000005, 1000, false],
    [1000.000005, 1000, true],
    [-999.9999995, -1000, false],
    [-999.999995, -1000, true],
    [999, 1000, false],
    [1e-12, 0, true],
    [0, 0, false],
  ] as const)
    expect(isAbove(one, limit), `${one} above ${limit}`).toBe(above);
  expect([1, 1 - 1e-10, 1.02, 0.999, 0].map(isWhole)).toEqual([true, true, true, false, false]);
});
