/** Steps as the plan shows them, each wholly: what they wait for, need, take and measure, in every state. */
import { describe, expect, test } from "vitest";
import type { PlannedStep } from "../../server/sequence";
import { sequenceOf } from "../../server/sequence";
import { analyze } from "./helper";

const plan = `housing tube "Tube" { face_to_face: 55 in ± 1/4 in }
part seal "Pinion seal" { at_hand: yes }
part gasket { at_hand: no }
joint j "J" { torque: 60 lb-ft }
machine lathe "Old lathe" { count: 2 }
order "own": measure before paint because "paint hides it"
procedure job "The job" {
  step look "Look" { work: measure  measure: [tube.face_to_face, tube.standoff]  hands: 2 }
  step cut "Cut" {
    after: look
    needs: [tube.face_to_face, tube.standoff, j]
    parts: [seal, gasket]
    machines: [lathe, "saw"]
    duration: 3 h
    note: "slowly"
    caution: "hot"
    sign_off: "the foreman"
    hold: until_cured
    hold_time: 2 h
    check "wide": tube.face_to_face >= 56 in
    check "set": tube.standoff <= 3 in
    check "fair": tube.face_to_face <= 56 in
  }
  step paint { work: paint  on: tube  other_than: cut }
  step last { after: [cut, paint]  tighten: j }
}
`;

/** A step without the places in the text, which are held elsewhere, and joints by their path. */
function shown(log: string, path: string) {
  const step = sequenceOf(analyze(plan + log)).steps.find((each) => each.path === path);
  const { anchor: _, tighten, recheck, checks, ...rest } = step as PlannedStep;
  const paths = (joints: PlannedStep["tighten"]) => joints.map((joint) => joint.path);
  return {
    ...rest,
    tighten: paths(tighten),
    recheck: paths(recheck),
    checks: checks.map(({ title }) => title),
  };
}

const plain = {
  holdsSteps: false,
  within: ["job"],
  work: undefined,
  on: [],
  doneOn: undefined,
  doneBy: undefined,
  again: [],
  blockedBy: [],
  waitsFor: [],
  tighten: [],
  tightenTo: 1,
  recheck: [],
  measure: [],
  needs: [],
  needsInWords: [],
  checks: [],
  hold: undefined,
  hands: 1,
  duration: undefined,
  machines: [],
  parts: [],
  signOff: undefined,
  otherThan: [],
  caution: undefined,
  note: undefined,
};
const cutting = {
  ...plain,
  path: "job.cut",
  title: "Cut",
  waitsFor: [
    {
      path: "job.look",
      title: "Look",
      because: "`job.cut` comes after it",
      written: true,
      hold: undefined,
    },
  ],
  needs: ["tube.face_to_face", "tube.standoff", "j"],
  checks: ["wide", "set", "fair"],
  hold: "until it has cured, 2 h",
  duration: 3 * 3600,
  machines: ["Old lathe", "saw"],
  signOff: "the foreman",
  caution: "hot",
  note: "slowly",
};

describe("a step wholly", () => {
  test("that can be done, and that was", () => {
    const look = {
      ...plain,
      path: "job.look",
      title: "Look",
      work: "measure",
      hands: 2,
    };
    expect(shown("", "job.look")).toEqual({
      ...look,
      state: "ready",
      measure: [
        { path: "tube.face_to_face", measured: false },
        { path: "tube.standoff", measured: false },
      ],
    });
    const log =
      'record 2026-03-01 by "A" { tube.face_to_face: 55 in  tube.standoff: 2 in  job.look.done: yes }';
    expect(shown(log, "job.look")).toEqual({
      ...look,
      state: "done",
      doneOn: "2026-03-01",
      doneBy: "A",
      measure: [
        { path: "tube.face_to_face", measured: true },
        { path: "tube.standoff", measured: true },
      ],
    });
  });

  test("that waits for a step, a figure, a part, a limit that does not hold and one not known", () => {
    expect(shown("", "job.cut")).toEqual({
      ...cutting,
      state: "blocked",
      blockedBy: [
        { is: "step", path: "job.look", text: "Look" },
        {
          is: "figure",
          path: "tube.standoff",
          text: expect.stringMatching(/^`tube\.standoff` is open: ./),
        },
        { is: "part", path: "gasket", text: "gasket is not at hand" },
        { is: "check", text: "not within its limits: wide" },
        { is: "check", text: "not known yet: set" },
      ],
      needsInWords: ["tube.face_to_face 55 in", "tube.standoff", "j"],
      parts: [
        { path: "seal", title: "Pinion seal", atHand: true },
        { path: "gasket", title: "gasket", atHand: false },
      ],
    });
  });

  test("for which all is there but what was done without it", () => {
    const log = `record 2026-03-01 by "A" { tube.face_to_face: 56 in  tube.standoff: 2 in  job.look.done: yes }
record 2026-03-02 by "B" { gasket.at_hand: yes }`;
    const ready = {
      ...cutting,
      state: "ready",
      needsInWords: ["tube.face_to_face 55 in", "tube.standoff", "j"],
      parts: [
        { path: "seal", title: "Pinion seal", atHand: true },
        { path: "gasket", title: "gasket", atHand: true },
      ],
    };
    expect(shown(log, "job.cut")).toEqual(ready);
    const done = `${log}\nrecord 2026-03-03 by "C" { job.cut.done: yes }`;
    expect(shown(done, "job.cut")).toEqual({
      ...ready,
      state: "again",
      again: [expect.stringContaining("the foreman")],
    });
  });

  test("that waits by a rule and is done by somebody else, on one thing", () => {
    expect(shown("", "job.paint")).toEqual({
      ...plain,
      path: "job.paint",
      title: "paint",
      work: "paint",
      on: ["tube"],
      state: "blocked",
      blockedBy: [{ is: "step", path: "job.look", text: "Look (paint hides it)" }],
      waitsFor: [
        {
          path: "job.look",
          title: "Look",
          because: "own, because paint hides it",
          written: false,
          hold: undefined,
        },
      ],
      otherThan: ["Cut"],
    });
  });

  test("that comes after a hold and tightens, and what holds them all", () => {
    const because = "`job.last` comes after it";
    expect(shown("", "job.last")).toEqual({
      ...plain,
      path: "job.last",
      title: "last",
      state: "blocked",
      tighten: ["j"],
      blockedBy: [
        { is: "step", path: "job.cut", text: "Cut" },
        { is: "step", path: "job.paint", text: "paint" },
      ],
      waitsFor: [
        { path: "job.cut", title: "Cut", because, written: true, hold: "until it has cured, 2 h" },
        { path: "job.paint", title: "paint", because, written: true, hold: undefined },
      ],
    });
    expect(shown("", "job")).toMatchObject({
      title: "The job",
      holdsSteps: true,
      within: [],
      waitsFor: [],
    });
  });
});

test("a chapter of two procedures that lie in one is within each of them once, nearest first", () => {
  const { steps } = sequenceOf(
    analyze(`procedure deep { step saw {} }
procedure one { chapters: [deep] }
procedure two { chapters: [deep] }
procedure whole { chapters: [one, two] }`),
  );
  expect(steps.find(({ path }) => path === "deep.saw")?.within).toEqual([
    "deep",
    "one",
    "two",
    "whole",
  ]);
});

test("what is taken back stands under a joint that was tightened, though its step is not said to be done", () => {
  const { steps } = sequenceOf(
    analyze(`joint j "J" { torque: 60 lb-ft  after: job.shim }
procedure job { step shim "Shim" {}  step tight "Tight" { after: shim  tighten: j } }
record 2026-03-01 by "A" { job.shim.done: yes }
record 2026-03-02 by "A" { j { tightened: 60 lb-ft  held: yes } }
record 2026-03-03 by "A" { job.shim.done: yes }`),
  );
  const tight = steps.find(({ path }) => path === "job.tight");
  expect(tight?.again).toEqual([
    "Shim was done again on 2026-03-03: `j` clamps what that step makes final",
  ]);
  expect(tight?.state).toBe("again");
});
