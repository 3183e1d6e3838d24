/**
 * What records say fastener by fastener and pass by pass, counted by hand: what is missing in one
 * place is not made good by what is there twice.
 */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import { analyze } from "./helper";

const plan = `joint studs "Studs" { thread: 1/2-20  grade: 8  count: 5  torque: 80 lb-ft }
procedure job { step tight { tighten: studs } }
`;

/** Entries of one day, one after the other. */
function log(...entries: string[]): string {
  return `${plan}record 2026-03-01 { ${entries.map((each) => `studs { ${each} }`).join("  ")} }`;
}

function found(text: string): string[] {
  return sequenceOf(analyze(text)).findings.map(({ code, message }) =>
    `${code}: ${message}`.replaceAll("`", ""),
  );
}

/** What keeps the studs from being tight, and whether they are. */
function standing(text: string): { tight: boolean; lacks: string } {
  const [joint] = sequenceOf(analyze(text)).joints;
  return { tight: joint?.tightenedOn !== undefined, lacks: joint?.lacks ?? "" };
}

describe("a missing and a doubled fastener", () => {
  test("in one entry: as many as there are, and still one is left", () => {
    const text = log("tightened: 80 lb-ft  bolts: [1, 3, 5, 2, 2]  held: yes");
    expect(found(text)).toContain("record/bolts: studs: fastener 4 of 5 is not on record");
    expect(found(text).some((each) => each.startsWith("record/bolt-twice"))).toBe(true);
    expect(standing(text).tight).toBe(false);
    expect(standing(text).lacks).toContain("4");
  });

  test("over two entries: the one that was done twice is not the one that was left", () => {
    const text = log(
      "tightened: 80 lb-ft  bolts: [1, 3, 5]  held: yes",
      "tightened: 80 lb-ft  bolts: [3, 2]",
    );
    expect(found(text)).toContain("record/bolts: studs: fastener 4 of 5 is not on record");
    expect(standing(text).tight).toBe(false);
    const whole = log(
      "tightened: 80 lb-ft  bolts: [1, 3, 5]  held: yes",
      "tightened: 80 lb-ft  bolts: [4, 2]",
    );
    expect(found(whole)).toEqual([]);
    expect(standing(whole)).toEqual({ tight: true, lacks: "" });
  });

  test("from pass to pass: one more in a pass does not stand for one less in another", () => {
    const passes = (second: string, third: string) =>
      log(
        "tightened: 24 lb-ft  pass: 1  bolts: [1, 3, 5, 2, 4]",
        `tightened: 56 lb-ft  pass: 2  bolts: [${second}]`,
        `tightened: 80 lb-ft  pass: 3  bolts: [${third}]`,
        "tightened: 80 lb-ft  pass: 4  bolts: [1, 2, 3, 4, 5]  held: yes",
      );
    const all = "1, 3, 5, 2, 4";
    expect(found(passes(all, all))).toEqual([]);
    expect(standing(passes(all, all)).tight).toBe(true);
    for (const [second, third, pass] of [
      ["1, 3, 5, 2", "1, 3, 5, 2, 4, 4", 2],
      ["1, 3, 5, 2, 4, 4", "1, 3, 5, 2", 3],
    ] as const) {
      const text = passes(second, third);
      expect(found(text)).toContain(
        `record/bolts: studs: fastener 4 of 5 is not on record for pass ${pass}`,
      );
      expect(standing(text).tight).toBe(false);
    }
  });

  test("a fastener it has not is not the one that was left", () => {
    const text = log("tightened: 80 lb-ft  bolts: [1, 3, 5, 2, 6]  held: yes");
    expect(found(text).some((each) => /no-such-bolt.*6/.test(each))).toBe(true);
    expect(standing(text).tight).toBe(false);
  });

  test("a pass left out is not made good by another done twice", () => {
    const text = log(
      "tightened: 24 lb-ft  pass: 1",
      "tightened: 80 lb-ft  pass: 3",
      "tightened: 80 lb-ft  pass: 3",
      "tightened: 80 lb-ft  pass: 4  held: yes",
    );
    expect(found(text)).toEqual([
      "record/pass-skipped: pass 4 of studs is on record, pass 2 before it is not",
    ]);
    expect(standing(text).tight).toBe(false);
    expect(standing(text).lacks).toContain("2");
  });
});

describe("rounds", () => {
  test("loosened is loose, whatever was on record before", () => {
    const full = "tightened: 80 lb-ft  held: yes";
    expect(standing(log(full))).toEqual({ tight: true, lacks: "" });
    expect(standing(log(full, "loosened: yes")).tight).toBe(false);
    expect(standing(log(full, "loosened: yes", full)).tight).toBe(true);
    expect(standing(log(full, "rechecked: no")).tight).toBe(false);
    expect(standing(log(full, "rechecked: yes")).tight).toBe(true);
    expect(standing(log(full, "rechecked: yes  held: no")).tight).toBe(false);
  });

  test("held back, it is not tight until it holds", () => {
    const off = "tightened: 80 lb-ft  held: no";
    expect(standing(log(off)).tight).toBe(false);
    expect(standing(log(off, "tightened: 80 lb-ft  held: yes")).tight).toBe(true);
  });

  test("a lower pass off its torque brings nothing together, one near enough does", () => {
    // Passes at 24, 56 and 80: halfway to the next is where a pass is another's.
    const passes = (first: string) =>
      log(
        `tightened: ${first} lb-ft  pass: 1`,
        "tightened: 56 lb-ft  pass: 2",
        "tightened: 80 lb-ft  pass: 3",
        "tightened: 80 lb-ft  pass: 4  held: yes",
      );
    expect(found(passes("30"))).toEqual([]);
    expect(found(passes("18"))).toEqual([]);
    expect(found(passes("45")).map((each) => each.split(":")[0])).toContain("record/torque-off");
    expect(standing(passes("45")).tight).toBe(false);
  });

  test("passes done again from the first are a round of their own", () => {
    const round = [
      "tightened: 24 lb-ft  pass: 1",
      "tightened: 56 lb-ft  pass: 2",
      "tightened: 80 lb-ft  pass: 3",
      "tightened: 80 lb-ft  pass: 4  held: yes",
    ];
    expect(found(log(...round, ...round))).toEqual([]);
    // Broken off after the second pass of the second round, it is not tight any more.
    const broken = standing(log(...round, ...round.slice(0, 2)));
    expect(broken.tight).toBe(false);
    expect(broken.lacks).toContain("3");
    // A lower pass after the last is a beginning from the middle.
    expect(standing(log(...round, "tightened: 56 lb-ft  pass: 2")).tight).toBe(false);
    // Once more round at full torque belongs to the round that was done.
    const twice = log(...round, "tightened: 80 lb-ft  pass: 4");
    expect(found(twice)).toEqual([]);
    expect(standing(twice).tight).toBe(true);
  });

  test("without numbers the torque tells the pass", () => {
    const text = log(
      "tightened: 24 lb-ft",
      "tightened: 56 lb-ft",
      "tightened: 80 lb-ft  held: yes",
    );
    expect(found(text)).toEqual([]);
    expect(standing(text).tight).toBe(true);
    const short = standing(log("tightened: 24 lb-ft", "tightened: 56 lb-ft  held: yes"));
    expect(short.tight).toBe(false);
    expect(short.lacks).toContain("3");
  });
});

describe("turned on by an angle", () => {
  const turned = (...entries: string[]): string =>
    `joint bolts { count: 4  torque: 50 lb-ft  turn: 90 deg }
record 2026-03-01 { ${entries.map((each) => `bolts { ${each} }`).join("  ")} }`;

  test("is wanted, within five degrees", () => {
    const full = "tightened: 50 lb-ft  held: yes";
    expect(standing(turned(full)).tight).toBe(false);
    expect(standing(turned(full, "turned: 90 deg")).tight).toBe(true);
    expect(standing(turned(`${full}  turned: 90 deg`)).tight).toBe(true);
    expect(standing(turned(full, "turned: 95 deg")).tight).toBe(true);
    expect(standing(turned(full, "turned: 97 deg")).tight).toBe(false);
    expect(found(turned(full, "turned: 97 deg")).map((each) => each.split(":")[0])).toEqual([
      "record/turn-off",
    ]);
    expect(standing(turned(full, "turned: 80 deg")).tight).toBe(false);
  });
});
