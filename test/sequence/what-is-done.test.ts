/**
 * When a step counts as done, and by which entry: its own, those of what it lies in and of what lies in
 * it, in the order of their days. Each row by hand.
 */
import { expect, test } from "vitest";
import { sequenceOf, writePlan } from "../../server/sequence";
import { analyze } from "./helper";

const on = (day: number, inside: string) => `record 2026-03-0${day} by "A" { ${inside} }\n`;

/** Each step with its state, and the day it was done. */
function states(text: string): string[] {
  return sequenceOf(analyze(text)).steps.map(({ path, state, doneOn }) =>
    [path, state, doneOn?.slice(-1)].filter((each) => each !== undefined).join(" "),
  );
}

const nested = `procedure whole { procedure part { step a {} } }\n`;
const pair = `procedure job { step a {}  step b {} }\n`;

test("a step two procedures deep is done with the outer one", () => {
  expect(states(nested + on(1, "whole.done: yes"))).toEqual([
    "whole.part.a done 1",
    "whole.part done 1",
    "whole done 1",
  ]);
});

test("a step taken back after all of it was done is not done", () => {
  expect(states(pair + on(1, "job.done: yes") + on(2, "job.a.done: no"))).toEqual([
    "job.a ready",
    "job.b done 1",
    "job blocked",
  ]);
});

test("a procedure is done with the last of its steps, whichever that is", () => {
  const all = ["job.a done", "job.b done", "job done"];
  const days = (a: number, b: number) =>
    states(pair + on(a, "job.a.done: yes") + on(b, "job.b.done: yes"));
  expect(days(3, 2)).toEqual([`${all[0]} 3`, `${all[1]} 2`, `${all[2]} 3`]);
  expect(days(2, 3)).toEqual([`${all[0]} 2`, `${all[1]} 3`, `${all[2]} 3`]);
});

const checked = `joint j "J" { torque: 80 lb-ft }
procedure job {
  step tight { tighten: j }
  step look { after: tight  recheck: j }
}
${on(1, "j { tightened: 80 lb-ft  held: yes }  job.tight.done: yes")}${on(2, "j { rechecked: yes }  job.look.done: yes")}`;

test("a joint that was not tightened again needs no other look, though its step is said once more", () => {
  const done = ["job.tight done", "job.look done 2"];
  expect(states(checked)).toEqual([`${done[0]} 1`, done[1], "job done 2"]);
  // What is said of that day is not on record; the look of the day before stands.
  expect(states(checked + on(3, "job.tight.done: yes"))).toEqual([
    "job.tight again",
    done[1],
    "job blocked",
  ]);
  expect(
    states(checked + on(3, "j { tightened: 80 lb-ft  held: yes }  job.tight.done: yes"))[1],
  ).toBe("job.look again");
});

test("notes are no objections to a plan of which all is done", () => {
  const end = (held: string) =>
    writePlan(
      sequenceOf(
        analyze(`joint j "J" { torque: 80 lb-ft }
procedure job { step tight { tighten: j } }
${on(1, `j { tightened: 80 lb-ft ${held} }  job.tight.done: yes`)}`),
      ),
    );
  const said = sequenceOf(analyze(checked)).findings;
  expect(said).toEqual([]);
  expect(end("held: yes")).toContain("Everything is done.");
  expect(end("")).toContain("Everything is done.");
});
