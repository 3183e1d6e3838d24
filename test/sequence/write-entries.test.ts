/** Entries as the log takes them, from a plan: each line by hand. */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import {
  appended,
  blankFor,
  type EntryWishes,
  entriesFor,
  logNameFor,
  logNameOf,
} from "../../server/sequence/write-entry";
import { analyze } from "./helper";

const plan = `display { torque: lb-ft }
wrench click "click wrench" { least: 20 lb-ft  most: 100 lb-ft }
housing tube { face_to_face: 58 in }
joint studs "Studs" { count: 4  torque: 60 lb-ft  passes: [25 %, 100 %]  wrench: click }
joint cap { torque: 30 lb-ft }
joint castle { torque: 80 lb-ft  running_torque: 6 lb-ft }
joint bolts { count: 2  torque: 50 lb-ft  pattern: line  passes: [100 %]  turn: 90 deg }
procedure job {
  step snug { tighten: studs  tighten_to: 25 % }
  step part { tighten: studs  tighten_to: 10 % }
  step tight { measure: tube.face_to_face  tighten: studs }
  step single { tighten: cap }
  step turn { tighten: bolts }
  step again { recheck: studs }
  step locked_snug { tighten: castle  tighten_to: 40 % }
  step locked { tighten: castle }
}
`;
const head = { date: "2026-04-04", by: "R. Calder" };
const begin = 'record 2026-04-04 by "R. Calder"';

function lines(name: string, wishes?: EntryWishes, more: object = {}, log = "") {
  const sequence = sequenceOf(analyze(`${plan}${log}`));
  const step = sequence.steps.find(({ path }) => path === `job.${name}`);
  if (step === undefined) throw new Error(`no step ${name}`);
  return entriesFor(sequence, step, { ...head, ...more }, wishes);
}

describe("entries of a step", () => {
  test("what it measures, tightens pass by pass, and that it is done", () => {
    const { lines: all, blanks } = lines("tight");
    expect(blanks).toEqual(["tube.face_to_face"]);
    // 15 lb-ft are below what the wrench is for: another was taken.
    expect(all).toEqual([
      `${begin} { tube.face_to_face: ? }`,
      `${begin} { studs { tightened: 15 lb-ft; pass: 1 } }`,
      `${begin} with "click wrench" { studs { tightened: 60 lb-ft; pass: 2 } }`,
      `${begin} with "click wrench" { studs { tightened: 60 lb-ft; pass: 3; held: yes } }`,
      `${begin} { job.tight.done: yes }`,
    ]);
  });

  test("how hard a locking nut turns is left to be filled in, once for each round", () => {
    const { lines: all, blanks, readings } = lines("locked");
    expect([blanks, readings]).toEqual([[], ["castle.running"]]);
    expect(all[0]).toBe(`${begin} { castle { tightened: 80 lb-ft; running: ?; held: yes } }`);
    const read = new Map([["castle.running", "5.5 lb-ft"]]);
    expect(lines("locked", { readings: read }).lines[0]).toContain("running: 5.5 lb-ft; held");
    const snugged = (entry: string): string =>
      lines("locked", {}, {}, `record 2026-04-03 { castle { ${entry} } }\n`).lines[0] ?? "";
    expect(snugged("tightened: 32 lb-ft; running: 6 lb-ft")).not.toContain("running");
    expect(snugged("tightened: 80 lb-ft; running: 6 lb-ft; held: yes")).toContain("running: ?");
    const off =
      "tightened: 32 lb-ft; running: 6 lb-ft } }\nrecord 2026-04-03 { castle { loosened: yes";
    expect(snugged(off)).toContain("running: ?");
  });

  test("what was read and what it was brought to", () => {
    const readings = new Map([["tube.face_to_face", "58 1/32 in"]]);
    const { lines: all, blanks } = lines("tight", { readings, torque: "61 lb-ft" });
    expect(blanks).toEqual([]);
    expect(all[0]).toBe(`${begin} { tube.face_to_face: 58 1/32 in }`);
    expect(all[1]).toContain("tightened: 15 lb-ft");
    expect(all[2]).toContain("tightened: 61 lb-ft");
    expect(all[3]).toContain("tightened: 61 lb-ft");
  });

  test("only so far as the step goes", () => {
    expect(lines("snug").lines).toEqual([
      `${begin} { studs { tightened: 15 lb-ft; pass: 1 } }`,
      `${begin} { job.snug.done: yes }`,
    ]);
    expect(lines("part").lines[0]).toBe(
      `${begin} with "click wrench" { studs { tightened: 6 lb-ft } }`,
    );
    expect(lines("part", { torque: "7 lb-ft" }).lines[0]).toContain("{ tightened: 7 lb-ft }");
  });

  test("one pass has no number, a turn no torque", () => {
    expect(lines("single").lines[0]).toBe(`${begin} { cap { tightened: 30 lb-ft; held: yes } }`);
    expect(lines("turn").lines.slice(0, 2)).toEqual([
      `${begin} { bolts { tightened: 50 lb-ft; pass: 1 } }`,
      `${begin} { bolts { turned: 90 deg; pass: 2; held: yes } }`,
    ]);
  });

  test("what is checked again, by the wrench of the plan or by another", () => {
    expect(lines("again").lines).toEqual([
      `${begin} with "click wrench" { studs.rechecked: yes }`,
      `${begin} { job.again.done: yes }`,
    ]);
    expect(lines("again", {}, { with: "beam", at: "14:30" }).lines).toEqual([
      `${begin} at "14:30" with "beam" { studs.rechecked: yes }`,
      `${begin} at "14:30" with "beam" { job.again.done: yes }`,
    ]);
  });

  test("signed and with a remark, or taken back", () => {
    expect(lines("single", { signed: "I. Foreman", remark: 'a "new"\nnut \\' }).lines[1]).toBe(
      `${begin} { job.single { done: yes; signed: "I. Foreman"; remark: "a \\"new\\" nut \\\\" } }`,
    );
    expect(lines("tight", { undo: true })).toEqual({
      lines: [`${begin} { job.tight.done: no }`],
      readings: [],
      blanks: [],
    });
  });

  test("what is accepted as it is, and its end", () => {
    const accept = ["tube.face_to_face"];
    expect(lines("tight", { accept }).lines).toEqual([
      `${begin} { job.tight.accepted: tube.face_to_face }`,
    ]);
    const more = { until: "2027-01-31", because: "it fits", follows: "shim" };
    expect(lines("tight", { accept: [...accept, "job.tight"], ...more })).toEqual({
      lines: [
        `${begin} { job.tight { accepted: [tube.face_to_face, job.tight]; until: 2027-01-31; because: "it fits"; follows: "shim" } }`,
      ],
      readings: [],
      blanks: [],
    });
    expect(lines("tight", { accept, undo: true, ...more }).lines).toEqual([
      `${begin} { job.tight.withdrawn: tube.face_to_face }`,
    ]);
    expect(lines("single", { accept: [] }).lines.length).toBe(2);
  });
});

describe("the log they go into", () => {
  test("has the name of who writes it", () => {
    expect(logNameOf("R. Calder")).toBe("log-r-calder.trammel");
    expect(logNameOf("R. Calder, welder")).toBe("log-r-calder.trammel");
    expect(logNameOf("--- ???")).toBe("log.trammel");
    expect(logNameOf("x".repeat(60))).toBe(`log-${"x".repeat(40)}.trammel`);
    expect(logNameOf("(R) Calder!")).toBe("log-r-calder.trammel");
  });

  test("is called by the build too where it is kept of another one in the folder", () => {
    const named = (log: string | undefined): string =>
      logNameFor("R. Calder", "cart.trammel", () => log);
    for (const own of [
      undefined,
      "",
      "\n",
      'use "cart.trammel"\n',
      'use "a"\n  use "./cart.trammel"',
    ])
      expect(named(own)).toBe("log-r-calder.trammel");
    for (const other of ['use "van.trammel"\n', '# use "cart.trammel"\nuse "my cart.trammel"\n'])
      expect(named(other)).toBe("log-r-calder-cart.trammel");
  });

  test("is begun with the build it belongs to, and goes on at its end", () => {
    expect(appended(undefined, "work.trammel", ["a", "b"])).toBe('use "work.trammel"\n\na\nb\n');
    expect(appended("  \n", "work.trammel", ["a"])).toBe('use "work.trammel"\n\na\n');
    expect(appended("x", "work.trammel", ["a"])).toBe("x\na\n");
    expect(appended("x\n", "work.trammel", ["a"])).toBe("x\na\n");
    expect(appended("x\r\ny", "work.trammel", ["a", "b"])).toBe("x\r\ny\r\na\r\nb\r\n");
  });

  test("has blanks for what is asked", () => {
    expect(blankFor("rear.width", head)).toBe(`${begin} { rear.width: ? }`);
  });
});
