/**
 * No text makes the order of work throw, hang or speak nonsense.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { sequenceOf, writePlan } from "../../server/sequence";
import { analyze, sequence } from "./helper";

const work = readFileSync(
  join(import.meta.dirname, "../../samples/harbor-van/work.trammel"),
  "utf8",
);
const log = readFileSync(join(import.meta.dirname, "../../samples/harbor-van/log.trammel"), "utf8");
const build = `${work}\n${log}`.replaceAll(/^use "(?!library:).*$/gm, "");

function survives(text: string): void {
  const found = sequenceOf(analyze(text));
  const plan = writePlan(found);
  expect(plan).not.toMatch(/undefined|NaN|\[object|Infinity/);
  for (const { message, hint } of found.findings)
    expect(`${message} ${hint}`).not.toMatch(/undefined|NaN|\[object/);
}

describe("odd builds", () => {
  test.each([
    "",
    "procedure job {}",
    "procedure job { step a { after: 3  tighten: yes  measure: 4 in  needs: -  on: [1, 2]  work: 5 } }",
    "procedure job { step a { after: [a, b, , ]  hold: for_time  hold_time: none  hands: 0 } }",
    "joint j { count: 0  passes: []  sequence: []  groups: 0 }",
    "joint j { count: 1e9  torque: 5 lb-ft  groups: 3 }",
    "joint j { count: -4  torque: -5 lb-ft  pass_torques: [1 in, 2]  sequence: [a, 1.5, 1e9] }",
    "joint j { count: 2.5  torque: 0 lb-ft  pass_torques: [1 lb-ft] }\nrecord 2026-02-30 { j { tightened: 5 in  pass: 0  bolts: 7 } }",
    "joint j { torque: j.torque  wrench: j  after: [j, job.a] }\nprocedure job { step a { tighten: [j, j]  recheck: job } }",
    "procedure a { chapters: [b] }\nprocedure b { chapters: [a] }\nrecord { a.done: yes  b.done: 3  c.done: yes }",
    "record 2026-13-77 by 5 with yes { job { step { } } }",
    'order "x": before because "y"\norder a before a\norder [a, (b or 3)] before job.s because "z"\nprocedure job { step s { work: cut } }',
  ])("%#", (text) => {
    survives(text);
  });

  test("a piece cut out of the harbor van's work and log", () => {
    fc.assert(
      fc.property(
        fc.nat(build.length),
        fc.nat(400),
        fc.constantFrom("", "}", "{", '"', "[", "yes", "1/2", "?", "\n"),
        (at, length, put) => {
          survives(build.slice(0, at) + put + build.slice(at + length));
        },
      ),
      { numRuns: 30 },
    );
  });

  test("two lines of it swapped", () => {
    const lines = build.split("\n");
    fc.assert(
      fc.property(fc.nat(lines.length - 1), fc.nat(lines.length - 1), (one, other) => {
        const swapped = [...lines];
        [swapped[one], swapped[other]] = [swapped[other] ?? "", swapped[one] ?? ""];
        survives(swapped.join("\n"));
      }),
      { numRuns: 20 },
    );
  });
});

describe("large builds", () => {
  test("a thousand steps that rules put in order take no longer than a breath", () => {
    const works = ["index", "tack", "weld", "cool", "inspect", "fit_carrier"];
    const steps = Array.from(
      { length: 1000 },
      (_, index) =>
        `  step s${index} { work: ${works[index % works.length]}  on: part_${Math.floor(index / works.length)} }`,
    );
    const started = performance.now();
    const found = sequence(`procedure job {\n${steps.join("\n")}\n}`);
    expect(found.steps.length).toBe(1001);
    expect(found.findings).toEqual([]);
    expect(performance.now() - started).toBeLessThan(10_000);
  });

  test("a thousand steps in a row, none of which says what it is done on", () => {
    const works = ["index", "tack", "weld"];
    const steps = Array.from(
      { length: 1000 },
      (_, index) => `  step s${index} { work: ${works[Math.floor(index / 334)]} }`,
    );
    const started = performance.now();
    expect(sequence(`procedure job {\n${steps.join("\n")}\n}`).findings).toEqual([]);
    expect(performance.now() - started).toBeLessThan(10_000);
  });
});
