/** Details of a log, each by a log of its own: what is told, at which line, and what is told once. */
import { describe, expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { sequenceOf } from "../../server/sequence";
import { instrumentCalled } from "../../server/sequence/instruments";
import { analyze, findingsOf, library } from "./helper";

/** "line: code" of each. */
const codes = (text: string): string[] =>
  findingsOf(text).map((each) => each.split(": ").slice(0, 2).join(": "));

describe("a step before what it comes after", () => {
  const plan = `procedure job {
  step a {}
  step b { after: a }
  step c { after: [a, b] }
}
`;

  test("of which one came later and one never did: both are told", () => {
    expect(
      findingsOf(`${plan}record 2026-03-01 by "A" { job.c.done: yes }
record 2026-03-02 by "A" { job.a.done: yes }`),
    ).toEqual([
      "6: record/out-of-order: `job.c` is recorded on 2026-03-01, before `job.a` (on 2026-03-02): `job.c` comes after it",
      "6: record/before-prerequisite: `job.c` is recorded on 2026-03-01, `job.b` is not: `job.c` comes after it",
    ]);
  });

  test("of which both came later, or neither: the nearest says it all", () => {
    expect(codes(`${plan}record 2026-03-01 by "A" { job.c.done: yes }`)).toEqual([
      "6: record/before-prerequisite",
    ]);
    expect(
      codes(`${plan}record 2026-03-01 by "A" { job.c.done: yes }
record 2026-03-02 by "A" { job.a.done: yes }
record 2026-03-03 by "A" { job.b.done: yes }`),
    ).toEqual(["6: record/out-of-order"]);
  });

  test("that holds others is told by those that are missing", () => {
    expect(
      findingsOf(`procedure job {
  step first { step one {}  step two {}  step three { left_out: "no" } }
  step next { after: first }
}
record 2026-03-01 by "A" { job.first.one.done: yes }
record 2026-03-02 by "A" { job.next.done: yes }`),
    ).toEqual([
      "6: record/before-prerequisite: `job.next` is recorded on 2026-03-02, `job.first.two` is not: `job.next` comes after it",
    ]);
  });
});

describe("what is done again under a joint", () => {
  const plan = `joint j "J" { torque: 60 lb-ft  after: [job.a, job.b] }
procedure job { step a {}  step b {}  step tight { after: [a, b]  tighten: j } }
record 2026-03-01 by "A" { job.a.done: yes  job.b.done: yes }
record 2026-03-02 by "A" { j { tightened: 60 lb-ft  held: yes }  job.tight.done: yes }
`;

  test.each([
    ["a", "b"],
    ["b", "a"],
  ])("%s and then %s: the tightening is asked for once, by the last of them", (first, last) => {
    const said = findingsOf(`${plan}record 2026-03-03 by "A" { job.${first}.done: yes }
record 2026-03-04 by "A" { job.${last}.done: yes }`);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/^6: record\/again: /);
    expect(said[0]).toContain(`\`job.${last}\``);
  });
});

describe("what was wrong before", () => {
  const plan = 'joint j "J" { count: 4  torque: 80 lb-ft  passes: [30 %, 70 %, 100 %] }\n';
  const log = (...entries: readonly string[]) =>
    codes(
      `${plan}${entries.map((entry, at) => `record 2026-03-0${at + 1} by "A" { j { ${entry} } }\n`).join("")}`,
    );
  const passes = [
    "tightened: 24 lb-ft  pass: 1",
    "tightened: 56 lb-ft  pass: 2",
    "tightened: 80 lb-ft  pass: 3",
    "tightened: 80 lb-ft  pass: 4  held: yes",
  ] as const;

  test("is over once the joint was gone through again from the first pass, and not before", () => {
    const weak = "tightened: 30 lb-ft  pass: 2";
    expect(log(passes[0], weak)).toEqual(["3: record/torque-off"]);
    expect(log(passes[0], weak, "loosened: yes", passes[0])).toEqual(["3: record/torque-off"]);
    expect(log(passes[0], weak, "loosened: yes", ...passes)).toEqual([]);
  });

  test("a pass left out, a pass that falls and a fastener that is none, too", () => {
    const skipped = [passes[2], "loosened: yes"];
    expect(log(...skipped)).toEqual(["2: record/pass-skipped"]);
    expect(log(...skipped, ...passes)).toEqual([]);
    const falling = [passes[0], passes[2], passes[1]];
    expect(log(...falling)).toEqual(["4: record/falling-pass"]);
    expect(log(...falling, "loosened: yes", ...passes)).toEqual([]);
    const none = `${passes[0]}  bolts: [1, 2, 3, 5]`;
    expect(log(none)).toEqual(["2: record/no-such-bolt", "2: record/bolts"]);
  });
});

describe("the head of a record", () => {
  test("says who, when and with what once", () => {
    const said = (head: string) =>
      findingsOf(`procedure job { step a {} }\nrecord 2026-03-01 ${head} { job.a.done: yes }`);
    expect(said('by "A" at "8:00"')).toEqual([]);
    for (const head of ['by "A" by "B"', 'by "A" at "8:00" by "B"', 'at "8:00" by "A" at "9:00"']) {
      expect(said(head), head).toHaveLength(1);
      expect(said(head)[0], head).toMatch(/^2: given\/twice: /);
    }
  });
});

describe("calibration", () => {
  const used = (...days: readonly string[]) =>
    findingsOf(`wrench click "Click" { most: 100 lb-ft  calibrated: 2025-01-10  calibration_every: 365 day }
joint j "J" { torque: 60 lb-ft }
${days.map((day) => `record ${day} by "A" with "click" { j { tightened: 60 lb-ft  held: yes } }\n`).join("")}`).filter(
      (each) => !each.includes("record/no-date"),
    );

  test("is good to its last day, and told at the first use after it, once", () => {
    expect(used("2025-02-01", "2026-01-10")).toEqual([]);
    const [said, ...more] = used("2026-01-10", "2026-01-11", "2026-02-01");
    expect(said).toMatch(/^4: record\/calibration: .*Click.*2026-01-10/);
    expect(more).toEqual([]);
    // The log stands in whatever order.
    expect(used("2026-02-01", "2026-01-11")[0]).toMatch(/^4: /);
    expect(used("")).toEqual([]);
  });
});

describe("readings out of all that is usual", () => {
  const said = (reading: string) =>
    codes(`kind bush "Bush" { wide: length measured range 1 in..3 in }
bush b { wide: 2 in ± 0.1 in }
record 2026-03-01 by "A" { b.wide: ${reading} }`);

  test("decide nothing; at the end of it they do", () => {
    expect(said("2.05 in")).toEqual([]);
    for (const off of ["1 in", "3 in", "1.00 in", "3.00 in"])
      expect(said(off), off).toEqual(["3: record/out-of-tolerance"]);
    for (const slip of ["0.9 in", "3.1 in", "0.2 in", "20 in"])
      expect(said(slip), slip).toEqual([]);
  });
});

test("figures of things of one's own are measured, whatever they are called", () => {
  const { events } = sequenceOf(
    analyze(`kind can "Can" { until: length  because: length  signed: length }
can c { until: 3 in  because: 4 in  signed: 5 in }
record 2026-03-01 { c { until: 3 in  because: 4 in  signed: 5 in } }`),
  );
  expect(events.map((event) => (event.is === "measured" ? event.path : event.is))).toEqual([
    "c.until",
    "c.because",
    "c.signed",
  ]);
});

describe("an instrument declared in a file of which nothing else is taken in", () => {
  const shop = `housing spare "Steel rule" {}
instrument tape "Bench tape" { reads_to: 1/64 in  sort: "tape"  calibrated: 2025-11-03 }
instrument rule { reads_to: 1/32 in }
wrench click "Big click" { least: 25 lb-ft  most: 160 lb-ft }
`;
  const files = new Map([
    ["file:///shop/shop.trammel", shop],
    [
      "file:///shop/log.trammel",
      'use "shop.trammel"\nkind bush "Bush" { wide: length }\nbush b { wide: 2 in }\nrecord 2026-03-01 by "A" with "bench tape" { b.wide: 2 in }\n',
    ],
  ]);
  const analysis = () =>
    new Analyzer(memoryHost(files), library()).analyze("file:///shop/log.trammel")!;

  test("is known by its name or title, as it is written or by default", () => {
    const inch = 0.0254;
    const tape = instrumentCalled("bench tape", analysis());
    expect(tape).toMatchObject({ name: "Bench tape", isWrench: false, calibrated: "2025-11-03" });
    expect(tape?.sort).toBe("tape");
    expect(tape?.readsTo).toBeCloseTo(inch / 64, 12);
    expect(tape?.most).toBeUndefined();
    expect(tape?.calibrationEvery).toBe(instrumentCalled("tape", analysis())?.calibrationEvery);
    expect(instrumentCalled("rule", analysis())?.readsTo).toBeCloseTo(inch / 32, 12);
    expect(instrumentCalled("rule", analysis())?.name).toBe("rule");
    const click = instrumentCalled("BIG_CLICK", analysis());
    expect(click?.isWrench).toBe(true);
    expect(click?.least).toBeCloseTo(25 * 1.35581794833, 6);
    expect(click?.most).toBeCloseTo(160 * 1.35581794833, 6);
    expect(click?.thing).toBeUndefined();
  });

  test("is none where something else bears the name, or nothing does", () => {
    // Of the shop's table, not the housing.
    expect(instrumentCalled("steel rule", analysis())?.thing).toBeUndefined();
    expect(instrumentCalled("spare", analysis())).toBeUndefined();
    expect(instrumentCalled("bench", analysis())).toBeUndefined();
  });
});
