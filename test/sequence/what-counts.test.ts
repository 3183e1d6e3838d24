/**
 * What counts of what was done to a joint, log by log: each is a row of entries, one a day, with what
 * stands at its end and what is said of it.
 */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import { objectionsOf } from "./axle-log";
import { analyze, findingsOf } from "./helper";

const entries: Readonly<Record<string, string>> = {
  first: "j { tightened: 30 lb-ft  pass: 1 }",
  low: "j { tightened: 10 lb-ft  pass: 1 }",
  second: "j { tightened: 60 lb-ft  pass: 2 }",
  held: "j { tightened: 60 lb-ft  pass: 2  held: yes }",
  slipped: "j { tightened: 60 lb-ft  pass: 2  held: no }",
  weak: "j { tightened: 50 lb-ft  pass: 2  held: yes }",
  whole: "j { tightened: 60 lb-ft  held: yes }",
  half: "j { tightened: 60 lb-ft  held: yes  bolts: [1] }",
  other: "j { tightened: 60 lb-ft  held: yes  bolts: [2] }",
  clicked: "j.held: yes",
  gave: "j.held: no",
  loosened: "j.loosened: yes",
  renewed: "j { loosened: yes  renewed: yes }",
  fresh: "j { tightened: 60 lb-ft  held: yes  renewed: yes }",
  checked: "j.rechecked: yes",
  moved: "j.rechecked: no",
  done: "job.tight.done: yes",
  again: "job.again.done: yes",
};

function read(row: string, more = "") {
  const names = row.split(" ").filter((each) => each !== "");
  const log = names
    .map(
      (each, at) =>
        `record 2026-03-${String(at + 1).padStart(2, "0")} by "A" { ${entries[each]} }\n`,
    )
    .join("");
  const text = `joint j "J" { count: 2  torque: 60 lb-ft  pattern: line  passes: [50 %, 100 %]  ${more} }
procedure job { step tight { tighten: j }  step again { after: tight  recheck: j } }
${log}`;
  const { steps, left } = sequenceOf(analyze(text));
  return {
    /** Nothing is left to do to it. */
    full: !left.some(({ is }) => is === "tighten"),
    tight: steps.find(({ path }) => path === "job.tight")?.state,
    again: steps.find(({ path }) => path === "job.again")?.state,
    said: findingsOf(text)
      .map((each) => each.replace(/^\d+: ([\w/-]+): .*$/s, "$1"))
      .filter((code) => code !== "joint/never-tightened"),
  };
}

describe("whether it is at its torque", () => {
  test.each([
    ["", false, []],
    ["first", false, []],
    ["first held", true, []],
    ["first second", true, ["record/second-click"]],
    ["first second clicked", true, []],
    ["first second gave", false, ["record/not-held"]],
    ["first second gave clicked", true, []],
    ["held", false, ["record/pass-skipped"]],
    ["held first", true, ["record/falling-pass"]],
    ["low held", false, ["record/torque-off"]],
    ["low first held", true, []],
    ["first slipped", false, ["record/not-held"]],
    ["first slipped held", true, []],
    ["first weak", false, ["record/torque-off"]],
    ["first weak held", true, []],
    ["whole", true, []],
    ["whole whole", true, []],
    ["half", false, ["record/bolts"]],
    ["half other", true, []],
    ["whole loosened", false, []],
    ["whole loosened whole", true, []],
    ["whole loosened first", false, []],
    ["whole loosened first held", true, []],
    ["first held loosened held", false, ["record/pass-skipped"]],
    ["whole checked", true, []],
    ["whole moved", false, ["record/moved"]],
    ["whole moved whole", true, []],
    ["first held first", false, []],
    ["first held held", true, []],
    ["first first held", true, []],
  ] as const)("%s", (row, full, said) => {
    const found = read(row);
    expect([found.full, found.said]).toEqual([full, said]);
  });

  test.each([
    ["whole whole", ["record/not-renewed"]],
    ["whole loosened whole", ["record/not-renewed"]],
    ["whole renewed whole", []],
    ["whole fresh", []],
    ["whole loosened fresh", []],
    ["fresh whole", ["record/not-renewed"]],
    ["first first held", []],
    ["half other", []],
    // Once more undone with new ones, the old mistake is over.
    ["whole whole renewed whole", []],
  ] as const)("fasteners that are used once: %s", (row, said) => {
    expect(read(row, "single_use: yes").said).toEqual(said);
  });
});

describe("whether its step and its check are done", () => {
  test.each([
    ["whole done", "done", "ready"],
    ["done whole", "done", "ready"],
    ["whole", "ready", "blocked"],
    ["first done", "again", "blocked"],
    ["whole done checked again", "done", "done"],
    ["whole done again", "done", "again"],
    ["whole done again checked", "done", "done"],
    // What is to be tightened first is told; its check is to be done again once it is.
    ["whole done checked again loosened", "again", "done"],
    ["whole done checked again whole", "done", "again"],
    ["whole done checked again whole checked", "done", "done"],
    ["whole done checked again whole checked again", "done", "done"],
    ["whole done checked moved", "again", "blocked"],
  ] as const)("%s", (row, tight, again) => {
    const found = read(row);
    expect([found.tight, found.again]).toEqual([tight, again]);
  });
});

describe("the day of an entry", () => {
  // Read on 2026-11-27; whoever is on the other side of the world may be a day ahead.
  test.each([
    ["", ["record/no-date"]],
    ["2026-11-27", []],
    ["2026-11-28", []],
    ["2026-11-29", ["record/future"]],
    ["2027-01-01", ["record/future"]],
  ])("%j", (day, said) => {
    const text = `procedure job { step a {} }\nrecord ${day} { job.a.done: yes }\n`;
    expect(objectionsOf(text).map((each) => each.split(": ")[0])).toEqual(said);
  });
});
