/** Which steps an order rule is about, however it names them, and what waits for what by it. */
import { describe, expect, test } from "vitest";
import { memoryHost } from "../../server/analysis/host";
import { photoFindings } from "../../server/sequence";
import { Calendar } from "../../server/sequence/calendar";
import { leveled } from "../../server/sequence/leveling";
import { analyze, findingsOf, sequence } from "./helper";

/** What each step waits for by a rule: "b < a" where b has to be done before a. */
function waits(rule: string, steps: string): string[] {
  const { steps: planned } = sequence(`order "own": ${rule} because "so it is"
procedure job {
${steps}
}`);
  return planned.flatMap(({ path, waitsFor }) =>
    waitsFor
      .filter(({ because }) => because.includes("so it is"))
      .map((each) => `${each.path} < ${path}`.replaceAll("job.", "")),
  );
}

const four = `  step a { work: measure }
  step b { work: lift }
  step c { work: other }
  step d { work: paint }`;

describe("steps that a rule names", () => {
  test.each([
    ["by kind of work", "measure before other", ["a < c"]],
    ["by path", "job.a before job.c", ["a < c"]],
    ["by kind and by path", "job.b before other", ["b < c"]],
    ["one or another", "measure or lift before other", ["a < c", "b < c"]],
    ["one and another", "measure before other and paint", ["a < c", "a < d"]],
    ["in a list", "[measure, lift] before [other, paint]", ["a < c", "b < c", "a < d", "b < d"]],
    ["in brackets", "(measure or job.b) before (other)", ["a < c", "b < c"]],
    ["twice over", "[measure, job.a] before [other, job.c]", ["a < c"]],
    ["that nobody does", "connect before other", []],
    ["of which one is done by nobody", "[connect, measure] before other", ["a < c"]],
    ["by a path that leads nowhere", "[job.z, measure] before other", ["a < c"]],
  ])("%s", (_, rule, wanted) => {
    expect(waits(rule, four).sort()).toEqual([...wanted].sort());
  });

  test("a step that is left out is none of them, by kind and by path", () => {
    const text = `  step a { work: measure  left_out: "came clean" }
  step b { work: lift }
  step c { work: other }`;
    expect(waits("[job.a, lift] before other", text)).toEqual(["b < c"]);
    expect(waits("[measure, lift] before other", text)).toEqual(["b < c"]);
  });

  test("a step and those inside of it do not wait for each other by a rule", () => {
    const text = `  step whole { work: other
    step inner { work: measure }
    step other { work: lift }
  }
  step last { work: other }`;
    expect(waits("measure before other", text)).toEqual(["whole.inner < last"]);
    // Nor the other way round: it would wait for its own end.
    expect(waits("other before measure", text.replace("step last { work: other }", ""))).toEqual(
      [],
    );
    expect(
      findingsOf(`order "own": other before measure because "so it is"
procedure job {
${text.replace("step last { work: other }", "")}
}`),
    ).toEqual([]);
  });

  test("a step is never before itself", () => {
    expect(waits("measure before [measure, other]", four)).toEqual(["a < c"]);
  });

  test("only those that have to do with the same thing", () => {
    const text = `  step a { work: measure  on: left }
  step b { work: measure  on: right }
  step c { work: other  on: left }
  step d { work: other }`;
    expect(waits("measure before other", text).sort()).toEqual(["a < c", "a < d", "b < d"]);
  });
});

describe("what a rule needs", () => {
  const said = (rule: string, steps: string): string[] =>
    findingsOf(`order "own": ${rule} needs "a clean face" because "so it is"
procedure job {
${steps}
}`).map((each) => each.split(": ")[1] ?? "");

  test("is asked of each thing by itself", () => {
    const text = `  step a { work: measure  on: left }
  step c { work: other  on: left }
  step d { work: other  on: right }`;
    expect(said("measure before other", text)).toEqual(["order/missing-step"]);
    expect(said("measure before other", text.replace("on: right", "on: left"))).toEqual([]);
    expect(said("measure before paint", text)).toEqual([]);
  });
});

describe("pictures beside a log", () => {
  /** Pictures that are told as not there, on a disk that has `has`, or all where it has everything. */
  const missing = (names: readonly string[], has?: readonly string[]): string[] => {
    const analysis = analyze(`procedure job { step weld {} }
record 2026-03-01 { job.weld { done: yes  photos: [${names.map((name) => `"${name}"`).join(", ")}] } }`);
    const host = {
      ...memoryHost(new Map()),
      exists: (uri: string) => has === undefined || has.includes(uri),
    };
    return photoFindings(analysis, host).flatMap((found) =>
      found.is === "record/no-photo" ? [found.path] : [],
    );
  };

  test("are looked for beside it and below, and nowhere else", () => {
    expect(missing(["a.jpg", "sub/a.jpg", "sub/../a.jpg"])).toEqual([]);
    const elsewhere = [
      "../a.jpg",
      "/a.jpg",
      "http://shop/a.jpg",
      "file:///shop/a.jpg",
      "c:/a.jpg",
      "C:/a.jpg",
      "x-y+z.1:a.jpg",
      "sub/../../a.jpg",
    ];
    expect(missing(elsewhere)).toEqual(elsewhere);
  });

  test("by a name as it is written, odd signs and all", () => {
    expect(missing(["a b#1?.jpg"], ["file:///shop/a%20b%231%3F.jpg"])).toEqual([]);
    expect(missing(["1:2.jpg"], ["file:///shop/1%3A2.jpg"])).toEqual([]);
    expect(missing(["a.jpg", "b.jpg"], ["file:///shop/a.jpg"])).toEqual(["b.jpg"]);
  });

  test("are not asked for where nobody can tell", () => {
    const analysis = analyze(`procedure job { step weld {} }
record 2026-03-01 { job.weld.photos: "a.jpg" }`);
    const { exists: _, ...host } = memoryHost(new Map());
    expect(photoFindings(analysis, host)).toEqual([]);
  });
});

test("days of more than two thousand steps nobody reads", () => {
  const steps = Array.from({ length: 2001 }, (_, at) => ({
    path: `s${at}`,
    before: [],
    done: false,
    hands: 1,
    machines: [],
  }));
  const calendar = new Calendar(8 * 3600);
  expect(leveled(steps, calendar, 1)).toBeUndefined();
  expect(leveled(steps.slice(1), calendar, 1)?.slots.length).toBe(2000);
});

test("a figure left blank on record is not measured by that", () => {
  const text = (value: string): string[] =>
    findingsOf(`housing tube { face_to_face: 55 in }
procedure job { step width { measure: tube.face_to_face } }
record 2026-03-01 { tube.face_to_face: ${value}  job.width.done: yes }`).map(
      (each) => each.split(": ")[1] ?? "",
    );
  expect(text("55 in")).toEqual([]);
  expect(text("?")).toEqual(["record/blank", "record/not-measured"]);
});
