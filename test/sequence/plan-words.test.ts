/** How the plan and its steps are told in every state, each sentence by hand. */
import { describe, expect, test } from "vitest";
import { sequenceOf, writePlan } from "../../server/sequence";
import { acceptedInWords, stateInWords } from "../../server/sequence/plan-words";
import { analyze } from "./helper";

const text = (build: string, settings = {}): string =>
  writePlan(sequenceOf(analyze(build)), settings);

describe("a state in a few words", () => {
  const blockedBy = (
    ...all: (readonly ["step" | "figure" | "check" | "loop" | "part", string])[]
  ) => all.map(([is, said]) => ({ is, text: said }));

  test.each([
    [{ state: "ready", blockedBy: [] }, "ready"],
    [{ state: "done", blockedBy: [] }, "done"],
    [{ state: "done", doneOn: "2026-04-04", blockedBy: [] }, "done on 2026-04-04"],
    [{ state: "done", doneBy: "A", blockedBy: [] }, "done by A"],
    [
      { state: "done", doneOn: "2026-04-04", doneBy: "A", blockedBy: [] },
      "done on 2026-04-04 by A",
    ],
    [{ state: "again", again: ["a", "b"], blockedBy: [] }, "to be done again: a; b"],
    [{ state: "again", blockedBy: [] }, "to be done again: "],
    [{ state: "blocked", blockedBy: blockedBy(["step", "x"]) }, "waits for x"],
    [
      {
        state: "blocked",
        blockedBy: blockedBy(["figure", "f"], ["step", "x"], ["loop", "y"], ["part", "p"]),
      },
      "waits for x and y; f; p",
    ],
    [{ state: "blocked", blockedBy: blockedBy(["check", "c"]) }, "c"],
  ] as const)("%j", (step, said) => {
    expect(stateInWords(step)).toBe(said);
  });

  test("of what was accepted", () => {
    const each = { what: "w", step: "s", by: "Ida", breaks: () => [] } as const;
    const said = (more: object) => acceptedInWords({ ...each, standing: "in force", ...more });
    expect(said({})).toBe("w, accepted by Ida for good");
    expect(said({ found: "56 in", spec: "55 in", on: "2026-04-04", until: "2027-01-31" })).toBe(
      "w 56 in in place of 55 in, accepted by Ida on 2026-04-04 until 2027-01-31",
    );
    expect(said({ found: "56 in" })).toBe("w 56 in, accepted by Ida for good");
    expect(said({ spec: "55 in" })).toBe("w, accepted by Ida for good");
    expect(said({ standing: "ran out", until: "2026-01-01", found: "56 in", spec: "55 in" })).toBe(
      "w 56 in in place of 55 in, was accepted by Ida until 2026-01-01: to be mended or accepted anew",
    );
    expect(said({ standing: "withdrawn", found: "56 in" })).toBe("w 56 in, no longer accepted");
    expect(said({ standing: "nobody", found: "56 in" })).toBe("w 56 in, accepted by nobody yet");
    expect(said({ standing: "nothing", found: "56 in" })).toBe("w, nothing that can be accepted");
  });
});

describe("how a joint is tightened", () => {
  const job = (joint: string, step = "tighten: j") =>
    text(
      `display { torque: lb-ft }
wrench long { least: 10 lb-ft  most: 100 lb-ft  length: 10 in }
joint j "J" { ${joint} }
procedure job { step s { ${step} } }`,
      { width: 200 },
    )
      .split("\n")
      .map((line) => line.trim());

  test("only so far as the step goes, where no pass goes as far", () => {
    const said = job(
      "count: 4  torque: 60 lb-ft  passes: [50 %, 100 %]",
      "tighten: j  tighten_to: 25 %",
    );
    expect(said).toContain("to 25 %, 15 lb-ft");
    expect(said.some((line) => line.startsWith("pass"))).toBe(false);
    expect(said).not.toContain(
      "then pull once more on each: the wrench clicks again without turning",
    );
    const open = job("count: 4  passes: [50 %, 100 %]", "tighten: j  tighten_to: 25 %");
    expect(open.find((line) => line.startsWith("to 25 %"))).not.toContain("15 lb-ft");
  });

  test("to a pass and not to the round after the last", () => {
    const joint = "count: 4  torque: 60 lb-ft  passes: [50 %, 100 %]";
    const passes = (step: string) => job(joint, step).filter((line) => line.startsWith("pass"));
    expect(passes("tighten: j")).toEqual([
      "pass 1: 50 %, 30 lb-ft, order 1 3 2 4",
      "pass 2: 100 %, 60 lb-ft, order 1 3 2 4",
      "pass 3: 100 %, 60 lb-ft, once round",
    ]);
    expect(passes("tighten: j  tighten_to: 50 %")).toEqual([
      "pass 1: 50 %, 30 lb-ft, order 1 3 2 4",
    ]);
  });

  test("with an adapter: what to set the wrench to, or that it is open", () => {
    // An adapter of 2 in straight on 10 in: 60 lb-ft at the nut are 50 on the scale.
    expect(job("torque: 60 lb-ft  wrench: long  extension: 2 in")).toContain(
      "pass 1: 100 %, 60 lb-ft, wrench set to 50 lb-ft",
    );
    expect(job("torque: 60 lb-ft  extension: 2 in")).toContain(
      "pass 1: 100 %, 60 lb-ft at the nut; what to set the wrench to is open: with an adapter it takes the wrench's length",
    );
    expect(job("torque: 120 lb-ft  wrench: long")).toContain(
      "pass 1: 100 %, 120 lb-ft (outside the range of this wrench: take another for this pass)",
    );
  });

  test("what to mind, each in its own line", () => {
    const said = job(
      `count: 2  torque: 60 lb-ft  pattern: line  locking: "blue lock"  surface: oiled  turn: 90 deg`,
    );
    expect(said).toContain("locked with blue lock");
    expect(said).toContain("threads and faces: oiled, as the torque was worked out for");
    expect(said.find((line) => line.startsWith("pass") && line.includes("turn"))).toContain(
      "turn each on by 90 deg, order 1 2, marked before and after",
    );
    expect(job("torque: 60 lb-ft").some((line) => line.startsWith("threads and faces"))).toBe(
      false,
    );
  });
});

describe("what is left, in words", () => {
  const build = `joint nuts "Nuts" { count: 5  torque: 85 lb-ft }
housing tube "Tube" { face_to_face: 58 in ± 1/8 in }
`;

  test("every step done, and what is still objected to", () => {
    const plan = `${build}procedure job { step a "A" { tighten: nuts }  step b "B" {} }\n`;
    const whole = "nuts { tightened: 85 lb-ft  held: yes }  job.a.done: yes  job.b.done: yes";
    const left = (log: string) =>
      text(plan + log)
        .split("\n")
        .filter((line) => /done|objection/.test(line))
        .at(-1);
    expect(left(`record 2026-03-01 { ${whole} }`)).toBe("Everything is done.");
    const off = `record 2026-03-01 { ${whole}  tube.face_to_face: 59 in }`;
    expect(left(off)).toBe("Every step is on record as done; one objection remains.");
    expect(left(`${off}\nrecord { tube.standoff: 2 in }`)).toMatch(
      /^Every step is on record as done; [2-9] objections remain\.$/,
    );
  });

  test("one left, none ready, several ready", () => {
    const said = (steps: string, log = "") =>
      text(`${build}procedure job { ${steps} }\n${log}`).split("\n").at(-2);
    expect(said(`step a "A" {}`)).toBe("1 left. Next: A.");
    expect(said(`step a "A" {}  step b "B" {}  step c "C" { after: b }`)).toBe(
      "3 left. Next: A and B.",
    );
    expect(said(`step a "A" { after: b }  step b "B" { after: a }`)).toBe(
      "2 left, none of them ready.",
    );
    const half = `record 2026-03-01 { job.a.done: yes }`;
    expect(said(`step a "A" {}  step b "B" { after: a }`, half)).toBe("1 left. Next: B.");
  });

  test("what is left out, and why a step waits", () => {
    const plan = `${build}procedure job {
  step a "A" { left_out: "there is none" }
  step b "B" { after: a  needs: nuts.recheck_after }
  step c "C" { check "wide": tube.face_to_face >= 59 in }
}
`;
    const said = text(plan);
    expect(said).toContain("Left out\n  A: there is none.");
    expect(said).toContain("`nuts.recheck_after` is open");
    expect(said).toContain("Not within its limits: wide.");
    expect(said).not.toContain("Waits for A");
  });
});

describe("how long it takes, in words", () => {
  const plan = (settings: string, steps: string): string[] =>
    text(`procedure job { ${settings}  ${steps} }`).split("\n");
  const two = `step a "A" { duration: 4 h }  step b "B" { duration: 8 h }`;

  test("one person, several, more than there are", () => {
    // Twelve hours by one person of eight a day: begun on a Monday, done on Tuesday.
    const one = plan("starts: 2026-04-06  hours: 8 h  people: 1", two);
    expect(one).toContain("At least 8 h of work, done by 2026-04-06 at the earliest.");
    expect(one).toContain(
      "With one person it takes longer, done by 2026-04-07: a good order, not proved the shortest.",
    );
    expect(one).toContain("  A waits for hands: B goes first.");
    const both = plan("starts: 2026-04-06  hours: 8 h  people: 2", two);
    expect(both).toContain("2 people can keep to that.");
    expect(both.some((line) => line.includes("waits for"))).toBe(false);
    const many = plan(
      "people: 2",
      `step a "A" { duration: 4 h  hands: 3 }  step b "B" { duration: 1 h  hands: 4  after: a }`,
    );
    expect(many).toContain("A and B take more than 2 people.");
    expect(plan("people: 2", `step a "A" { duration: 4 h  hands: 3 }`)).toContain(
      "A takes more than 2 people.",
    );
    expect(plan("people: 1", `step a "A" { duration: 4 h }`)).toContain(
      "One person can keep to that.",
    );
  });

  test("the machines there are, and who says nothing", () => {
    const lathe = plan(
      "",
      `step a "A" { duration: 4 h  machines: ["lathe"] }  step b "B" { duration: 8 h  machines: ["lathe"] }  step c "C" {}`,
    );
    expect(
      lathe.some((line) => line.startsWith("With the machines there are it takes longer")),
    ).toBe(true);
    expect(lathe).toContain("  A waits for the lathe: B goes first.");
    expect(lathe).toContain("Nobody says how long C takes.");
    expect(lathe).toContain("The longest way: B.");
    const quiet = plan("", `step a "A" { duration: 4 h }  step b "B" {}  step c "C" {}`);
    expect(quiet).toContain("Nobody says how long 2 steps take.");
    expect(plan("", `step a "A" {}`).some((line) => line.startsWith("At least"))).toBe(false);
  });
});
