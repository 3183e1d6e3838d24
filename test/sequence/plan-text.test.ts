/** The plan as text, whole, for a plan in which everything that can be told is told. */
import { describe, expect, test } from "vitest";
import { sequenceOf, writePlan } from "../../server/sequence";
import { analyze } from "./helper";

const plan = `display { torque: lb-ft }
wrench click "click wrench" { least: 20 lb-ft  most: 100 lb-ft }
housing tube { face_to_face: 58 in }
joint studs "Studs" { thread: 1/2-20  grade: 8  count: 4  torque: 60 lb-ft  passes: [25 %, 100 %]  wrench: click  recheck_after: 50 mi  single_use: yes  adjustable: yes }
joint cap "Cap" { torque: 30 lb-ft  running_torque: 5 lb-ft }
procedure job "The job" {
  caution: "keep clear of the lathe"
  starts: 2026-04-06
  step look "Look it over" { measure: tube.face_to_face  duration: 2 h  note: "measure twice." }
  step snug "Snug it" { after: look  tighten: studs  tighten_to: 25 %  hands: 2 }
  step tight "Tighten it" { after: snug  tighten: studs  duration: 1 h  sign_off: "the foreman"  hold: until_cured  hold_time: 24 h }
  step lid "Fit the lid" { after: look  tighten: cap  machines: ["lathe"]  caution: "hot" }
  step last "Check the studs" { after: [tight, lid]  recheck: studs  other_than: tight }
}
`;

const text = (log = "", settings = {}) => writePlan(sequenceOf(analyze(plan + log)), settings);
const steps = (shown: string) =>
  [...shown.matchAll(/^ {2}\[(.)\] (\d+)\. (.*)$/gm)].map(([, mark, number, title]) => [
    mark,
    number,
    title,
  ]);

describe("the plan as text", () => {
  test("whole", () => {
    expect(text()).toMatchInlineSnapshot(`
      "[x] done [ ] ready [.] waits

      The job
        Caution: keep clear of the lathe.
        [ ] 1. Look it over (2 h), planned for 2026-04-06
            Measure twice.
            Measure and write down tube.face_to_face.
        [.] 2. Snug it (2 people)
            Tighten Studs (4 off, 1/2-20, grade 8) with click wrench:
              pass 1: 25 %, 15 lb-ft, order 1 3 2 4 (outside the range of this wrench: take another for
                this pass)
              new fasteners each time
              it clamps something set by moving it: check the setting after tightening
              check again after 50 mi
            Waits for Look it over.
            Can go on beside 4.
        [.] 3. Tighten it (1 h), planned for 2026-04-06
            Tighten Studs (4 off, 1/2-20, grade 8) with click wrench:
              pass 1: 25 %, 15 lb-ft, order 1 3 2 4 (outside the range of this wrench: take another for
                this pass)
              pass 2: 100 %, 60 lb-ft, order 1 3 2 4
              pass 3: 100 %, 60 lb-ft, once round
              then pull once more on each: the wrench clicks again without turning
              new fasteners each time
              it clamps something set by moving it: check the setting after tightening
              check again after 50 mi
            Hold point: the foreman looks at it and signs before anything goes on.
            Hold until it has cured, 24 h before what comes next.
            Waits for Snug it (\`studs\` goes from the lower torque to the higher).
        [.] 4. Fit the lid
            Caution: hot.
            Keeps busy: lathe.
            Tighten Cap:
              pass 1: 100 %, 30 lb-ft, wrench set to 35 lb-ft
              then pull once more on each: the wrench clicks again without turning
              a locking nut: its running torque comes on top and is in the setting
            Waits for Look it over.
            Can go on beside 2.
        [.] 5. Check the studs
            By a second person: not whoever did Tighten it.
            Check Studs again at 60 lb-ft.
            Waits for Tighten it (\`studs\` is checked again after it is tightened) and Fit the lid.

      5 left. Next: Look it over.
      At least 3 h of work and 24 h of waiting, done by 2026-04-07 at the earliest.
      The longest way: Look it over; Snug it; Tighten it; Check the studs.
      Nobody says how long 3 steps take.
      "
    `);
  });

  test("what is left, what can be done now, by whom, and one step alone", () => {
    const look = `record 2026-04-06 by "A" { tube.face_to_face: 58 in  job.look.done: yes }\n`;
    const titles = (settings: object) => steps(text(look, settings)).map(([, , title]) => title);
    expect(steps(text(look))[0]).toEqual(["x", "1", "Look it over (2 h), 2026-04-06 by A"]);
    expect(titles({}).length).toBe(5);
    expect(titles({ onlyLeft: true })[0]).toContain("Snug it (2 people)");
    expect(titles({ onlyLeft: true }).length).toBe(4);
    expect(titles({ now: true })).toEqual(["Snug it (2 people)", "Fit the lid"]);
    expect(titles({ now: true, people: 1 })).toEqual(["Fit the lid"]);
    expect(titles({ people: 2 }).length).toBe(5);
    const card = text(look, { step: "job.lid" });
    expect(steps(card)).toEqual([[" ", "4", "Fit the lid"]]);
    expect(card).not.toContain("left. Next");
    // Numbers are those of the whole plan, whatever is shown of it.
    expect(steps(text(look, { now: true }))[1]?.[1]).toBe("4");
  });

  test("lines break between words, and what goes on stands further in", () => {
    const lines = text("", { width: 40 }).split("\n");
    expect(lines.every((line) => line.length <= 40)).toBe(true);
    expect(text("", { width: 40 }).split(/\s+/)).toEqual(text().split(/\s+/));
    expect(lines.some((line) => /^ {8}then pull once more/.test(line))).toBe(true);
    expect(lines.some((line) => /^ {10}\S/.test(line))).toBe(true);
  });

  test("what was taken back is to be done again, and says why", () => {
    const log = `record 2026-04-06 by "A" { tube.face_to_face: 58 in  job.look.done: yes }
record 2026-04-07 by "A" { cap { tightened: 30 lb-ft  held: yes }  job.lid.done: yes }
record 2026-04-08 by "A" { job.look.done: no }
`;
    const back = text(log);
    expect(back).toContain("To be done again\n  Fit the lid: Look it over was taken back");
    expect(
      steps(back)
        .map(([mark]) => mark)
        .join(""),
    ).toBe(" ....");
    const redone = `${log}record 2026-04-09 by "A" { tube.face_to_face: 58 in  job.look.done: yes }\n`;
    const shown = text(redone);
    expect(shown).toContain("[!] to be done again");
    expect(steps(shown).find(([mark]) => mark === "!")?.[2]).toContain("Fit the lid");
    expect(shown).toContain("Again: Look it over was taken back on 2026-04-08");
    expect(text()).not.toContain("to be done again");
  });

  test("thousands of steps that wait for nothing take a line each, not all the others", () => {
    const loose = (count: number): string => {
      const many = Array.from({ length: count }, (_, at) => `step s${at} { duration: 1 h }`);
      return writePlan(sequenceOf(analyze(many.join("\n"))));
    };
    expect(loose(5)).toContain("3. s2 (1 h)\n      Can go on beside 1, 2, 4 and 5.");
    expect(loose(9)).toContain("4. s3 (1 h)\n      Can go on beside 1 to 3 and 5 to 9.");
    expect(loose(800).length).toBeLessThan(2.1 * loose(400).length);
  });

  test("where those beside it stand all over the plan, it names some", () => {
    const mixed = Array.from({ length: 60 }, (_, at) =>
      at % 2 === 0 ? `step s${at} {}` : `step s${at} { after: s${at - 1} }`,
    );
    const shown = writePlan(sequenceOf(analyze(mixed.join("\n"))), { width: 400 });
    const beside = shown.match(/Can go on beside (.*)\./)?.[1] ?? "";
    expect(beside).toBe("3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23, 25 and more");
  });

  test("without steps it says how to come by some", () => {
    expect(writePlan(sequenceOf(analyze("housing tube { face_to_face: 58 in }")))).toBe(
      "there are no steps in this build: write a procedure, or take a chapter in from the library\n",
    );
  });
});

describe("what is left", () => {
  const left = (log: string) =>
    sequenceOf(analyze(plan + log)).left.map(({ is, text: said }) => [is, said]);

  test("steps with what they measure, tighten and check again, in order", () => {
    expect(left("")).toEqual([
      ["step", "do Look it over (job.look)"],
      ["measure", "measure `tube.face_to_face`"],
      ["step", "do Snug it (job.snug)"],
      ["tighten", "tighten Studs (studs) to 15 lb-ft"],
      ["step", "do Tighten it (job.tight)"],
      ["tighten", "tighten Studs (studs) to 60 lb-ft"],
      ["step", "do Fit the lid (job.lid)"],
      ["tighten", "tighten Cap (cap) to 30 lb-ft"],
      ["step", "do Check the studs (job.last)"],
      ["recheck", "check Studs (studs) again"],
    ]);
  });

  test("what is on record is left no more", () => {
    const log = `record 2026-04-06 by "A" { tube.face_to_face: 58 in }
record 2026-04-07 by "A" { cap { tightened: 30 lb-ft  held: yes } }
`;
    const said = left(log).map(([, told]) => told);
    expect(said).not.toContain("measure `tube.face_to_face`");
    expect(said).not.toContain("tighten Cap (cap) to 30 lb-ft");
    expect(said).toContain("do Fit the lid (job.lid)");
    expect(said.length).toBe(8);
  });

  test("how long it takes is told where steps say so", () => {
    const { schedule } = sequenceOf(analyze(plan));
    expect(schedule).toMatchObject({ work: 3 * 3600, holds: 24 * 3600, doneBy: "2026-04-07" });
  });
});
