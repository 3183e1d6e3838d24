/**
 * What holds for every plan and every record: the printed order is valid, a record never changes a
 * solved value, every finding says what to do, and the order of record blocks does not matter.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Sequence, sequenceOf, writePlan } from "../../server/sequence";
import { analyze } from "./helper";

const works = [
  "index",
  "tack",
  "weld",
  "cool",
  "shim",
  "torque_bracket",
  "fill",
  "bleed",
  "road_test",
  "recheck",
  "fit_carrier",
];
const steps = 7;

interface Drawn {
  readonly steps: readonly {
    readonly after: readonly number[];
    readonly work: number;
    readonly on: number;
    readonly tighten: readonly number[];
    readonly share: number;
    readonly recheck: readonly number[];
  }[];
  readonly joints: readonly {
    readonly count: number;
    readonly torque: number;
    readonly more: string;
  }[];
  readonly records: readonly { readonly day: number; readonly lines: readonly string[] }[];
}

const joint = fc.record({
  count: fc.integer({ min: 1, max: 12 }),
  torque: fc.integer({ min: 5, max: 200 }),
  more: fc.constantFrom(
    "",
    "adjustable: yes",
    "recheck_after: 50 mi",
    "passes: [50 %, 100 %]",
    "passes: [70 %, 30 %]",
    "sequence: [1, 2, 3, 4]",
    "groups: 3",
    "pattern: line",
    "after: job.s2",
  ),
});

const line = fc.oneof(
  fc.nat(steps - 1).map((step) => `job.s${step}.done: yes`),
  fc.nat(steps - 1).map((step) => `job.s${step}.done: no`),
  fc
    .tuple(fc.nat(1), fc.integer({ min: 5, max: 200 }), fc.integer({ min: 1, max: 5 }))
    .map(([which, torque, pass]) => `j${which} { tightened: ${torque} lb-ft  pass: ${pass} }`),
  fc
    .tuple(fc.nat(1), fc.integer({ min: 5, max: 200 }))
    .map(
      ([which, torque]) => `j${which} { tightened: ${torque} lb-ft  held: no  bolts: [1, 2, 3] }`,
    ),
  fc.nat(1).map((which) => `j${which}.rechecked: yes`),
  fc.constant("rear_housing.face_to_face: 58 1/8 in"),
);

const drawn: fc.Arbitrary<Drawn> = fc.record({
  steps: fc.array(
    fc.record({
      after: fc.array(fc.nat(steps - 1), { maxLength: 2 }),
      work: fc.nat(works.length - 1),
      on: fc.nat(2),
      tighten: fc.array(fc.nat(1), { maxLength: 1 }),
      share: fc.constantFrom(30, 100),
      recheck: fc.array(fc.nat(1), { maxLength: 1 }),
    }),
    { minLength: steps, maxLength: steps },
  ),
  joints: fc.array(joint, { minLength: 2, maxLength: 2 }),
  records: fc.array(
    fc.record({ day: fc.integer({ min: 1, max: 5 }), lines: fc.array(line, { maxLength: 4 }) }),
    { maxLength: 4 },
  ),
});

function planText({ steps, joints }: Drawn, forward: boolean): string {
  const lines = joints.map(
    ({ count, torque, more }, index) =>
      `joint j${index} { thread: 1/2-20  grade: 8  count: ${count}  torque: ${torque} lb-ft  ${more} }`,
  );
  lines.push("housing rear_housing { face_to_face: 58 in ± 1/8 in }", "procedure job {");
  for (const [index, step] of steps.entries()) {
    const after = step.after.filter((each) => !forward || each < index).map((each) => `s${each}`);
    const parts = [
      after.length > 0 ? `after: [${after.join(", ")}]` : "",
      `work: ${works[step.work] ?? "other"}`,
      step.on > 0 ? `on: part_${step.on}` : "",
      step.tighten.length > 0 ? `tighten: j${step.tighten[0]}  tighten_to: ${step.share} %` : "",
      step.recheck.length > 0 ? `recheck: j${step.recheck[0]}` : "",
    ];
    lines.push(`  step s${index} { ${parts.filter((part) => part !== "").join("  ")} }`);
  }
  lines.push("}");
  return `${lines.join("\n")}\n`;
}

function recordTexts({ records }: Drawn): string[] {
  return records.map(
    ({ day, lines }, index) =>
      `record "r${index}" 2026-03-0${day} by "someone" with "steel tape" {\n${lines.map((each) => `  ${each}\n`).join("")}}\n`,
  );
}

function said({ findings }: Sequence): string[] {
  return findings.map(({ code, message }) => `${code}: ${message}`).sort();
}

describe("any plan", () => {
  test("the printed order is a valid order of every step that can start", () => {
    fc.assert(
      fc.property(drawn, fc.boolean(), (build, forward) => {
        const sequence = sequenceOf(analyze(planText(build, forward)));
        const place = new Map(sequence.steps.map(({ path }, index) => [path, index]));
        expect(place.size).toBe(steps + 1);
        const stuck = new Set(
          sequence.steps
            .filter(({ blockedBy }) => blockedBy.some(({ is }) => is === "loop"))
            .map(({ path }) => path),
        );
        // A re-check of what is tightened behind it may close a loop with a rule.
        const rechecks = build.steps.some(({ recheck }) => recheck.length > 0);
        if (forward && !rechecks) expect(stuck.size).toBe(0);
        for (const [index, step] of build.steps.entries()) {
          if (stuck.has(`job.s${index}`)) continue;
          const written = step.after.filter((each) => !forward || each < index);
          for (const before of written) {
            expect(place.get(`job.s${before}`)).toBeLessThan(place.get(`job.s${index}`) ?? -1);
          }
        }
        // What is said to be waited for comes first too, rules and joints included.
        for (const step of sequence.steps) {
          if (stuck.has(step.path)) continue;
          for (const before of step.waitsFor) {
            expect(place.get(before.path)).toBeLessThan(place.get(step.path) ?? -1);
          }
        }
        for (const group of sequence.groups) {
          const paths = new Set(group.map(({ path }) => path));
          for (const step of group)
            expect(step.waitsFor.some(({ path }) => paths.has(path))).toBe(false);
        }
      }),
      { numRuns: 60 },
    );
  });

  test("every finding has a fix or says what to do, and the plan can be written", () => {
    fc.assert(
      fc.property(drawn, fc.boolean(), (build, forward) => {
        const sequence = sequenceOf(
          analyze(planText(build, forward) + recordTexts(build).join("")),
        );
        for (const finding of sequence.findings) {
          const told = (finding.hint ?? "").length > 0 || (finding.fixes ?? []).length > 0;
          expect(told, `${finding.code}: ${finding.message}`).toBe(true);
          expect(finding.message).not.toMatch(/undefined|NaN|\[object/);
        }
        const text = writePlan(sequence);
        expect(text).not.toMatch(/undefined|NaN|\[object/);
        for (const step of sequence.steps) {
          expect(step.state === "blocked").toBe(step.blockedBy.length > 0);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe("any record", () => {
  test("never changes a solved value", () => {
    fc.assert(
      fc.property(drawn, (build) => {
        const before = analyze(planText(build, true));
        const after = analyze(planText(build, true) + recordTexts(build).join(""));
        // Where things belong together the list may be in another order; what it says may not change.
        const values = (analysis: typeof before) =>
          new Map(
            [...analysis.values].map(([path, { si, word, standing }]) => [
              path,
              [si ?? word, standing],
            ]),
          );
        expect(values(after)).toEqual(values(before));
      }),
      { numRuns: 40 },
    );
  });

  test("may stand in any order in the file: days tell the order, not lines", () => {
    fc.assert(
      fc.property(drawn, fc.infiniteStream(fc.nat()), (build, picks) => {
        const records = recordTexts(build);
        const shuffled = [...records].sort(() => 0);
        for (let at = shuffled.length - 1; at > 0; at--) {
          const other = (picks.next().value ?? 0) % (at + 1);
          [shuffled[at], shuffled[other]] = [shuffled[other] ?? "", shuffled[at] ?? ""];
        }
        const plan = planText(build, true);
        const one = sequenceOf(analyze(plan + records.join("")));
        const other = sequenceOf(analyze(plan + shuffled.join("")));
        const distinct = new Set(build.records.map(({ day }) => day)).size === build.records.length;
        if (distinct) {
          expect(said(other)).toEqual(said(one));
          expect(other.steps.map(({ state }) => state)).toEqual(
            one.steps.map(({ state }) => state),
          );
        }
      }),
      { numRuns: 40 },
    );
  });
});
