/**
 * What is near enough on record, and what is not: torques, turns, passes, readings, each at both sides
 * of its limit, worked out beside it.
 */
import { describe, expect, test } from "vitest";
import { timeOf } from "../../server/sequence/entries";
import { findingsOf } from "./helper";

const codes = (text: string): string[] =>
  findingsOf(text).map((each) => each.replace(/^\d+: ([\w/-]+): .*$/s, "$1"));

describe("a torque", () => {
  const nut = (joint: string, inside: string, more = "", head = "") =>
    codes(`${more}joint nut { ${joint} }
record 2026-03-01 ${head} { nut { ${inside}  held: yes } }`);

  test("by ISO 6789-1's 4 % where nobody says otherwise, and the step it is written to", () => {
    // 100 lb-ft: 4 and half a lb-ft of the last digit.
    expect(nut("torque: 100 lb-ft", "tightened: 104 lb-ft")).toEqual([]);
    expect(nut("torque: 100 lb-ft", "tightened: 96 lb-ft")).toEqual([]);
    expect(nut("torque: 100 lb-ft", "tightened: 104.6 lb-ft")).toEqual(["record/torque-off"]);
    expect(nut("torque: 100 lb-ft", "tightened: 95.4 lb-ft")).toEqual(["record/torque-off"]);
    // Written to hundredths there is half of one more.
    expect(nut("torque: 100 lb-ft", "tightened: 104.00 lb-ft")).toEqual([]);
    expect(nut("torque: 100 lb-ft", "tightened: 104.02 lb-ft")).toEqual(["record/torque-off"]);
  });

  test("by the wrench's own accuracy, by the joint's own ±", () => {
    const wrench = `wrench fine "fine wrench" { accuracy: 1 %  most: 400 lb-ft }\n`;
    const by = (torque: string) =>
      nut("torque: 200 lb-ft", `tightened: ${torque}`, wrench, 'with "fine wrench"');
    expect(by("202.0 lb-ft")).toEqual([]);
    expect(by("202.1 lb-ft")).toEqual(["record/torque-off"]);
    const own = (torque: string) =>
      nut("torque: 200 lb-ft ± 10 lb-ft", `tightened: ${torque}`, wrench, 'with "fine wrench"');
    expect(own("210.0 lb-ft")).toEqual([]);
    expect(own("190.0 lb-ft")).toEqual([]);
    expect(own("211.0 lb-ft")).toEqual(["record/torque-off"]);
    // A ± of more than that shows nothing.
    expect(own("200 lb-ft ± 10 lb-ft")).toEqual([]);
    expect(own("200 lb-ft ± 11 lb-ft")).toEqual(["record/torque-unsure"]);
  });

  test("as the wrench showed it, with its ± in the same share", () => {
    // 2 in on 10 in: what shows 50 brings 60. 4 % of 60 is 2.4, half a lb-ft shown is 0.6 at the nut.
    const wrench = "wrench long { most: 100 lb-ft  length: 10 in }\n";
    const shown = (reading: string) =>
      nut("torque: 60 lb-ft  wrench: long  extension: 2 in", `reading: ${reading}`, wrench);
    expect(shown("52.4 lb-ft")).toEqual(["record/torque-off"]);
    expect(shown("51.9 lb-ft")).toEqual([]);
    expect(shown("52 lb-ft")).toEqual([]);
    // 53.5 shown are 64.2 at the nut, 4.2 off: 2.4 are allowed and 1.2 for a ± of 1, 1.8 for one of 1.5.
    expect(shown("53.5 lb-ft ± 1 lb-ft")).toEqual(["record/torque-off"]);
    expect(shown("53.5 lb-ft ± 1.5 lb-ft")).toEqual([]);
    // 51 shown are 61.2 at the nut, 3.1 off 64.3: 2.57 are allowed and 0.6 for half a lb-ft shown.
    expect(
      nut("torque: 64.3 lb-ft  wrench: long  extension: 2 in", "reading: 51 lb-ft", wrench),
    ).toEqual([]);
  });

  test("of a lower pass: nearer to it than halfway to another", () => {
    // 30, 70, 100 % of 100: halfway from 30 to nothing is 15, from 70 to 100 is 85.
    const pass = (number: number, torque: string) =>
      codes(`joint studs { count: 5  torque: 100 lb-ft  passes: [30 %, 70 %, 100 %] }
record 2026-03-01 { studs { tightened: ${torque}  pass: ${number} } }`).filter(
        (code) => code === "record/torque-off",
      );
    const off = ["record/torque-off"];
    expect(pass(1, "16.0 lb-ft")).toEqual([]);
    expect(pass(1, "14.0 lb-ft")).toEqual(off);
    expect(pass(1, "44.0 lb-ft")).toEqual([]);
    expect(pass(1, "46.0 lb-ft")).toEqual(off);
    expect(pass(2, "84.0 lb-ft")).toEqual([]);
    expect(pass(2, "86.0 lb-ft")).toEqual(off);
    expect(pass(2, "56.0 lb-ft")).toEqual([]);
    expect(pass(2, "54.0 lb-ft")).toEqual(off);
  });

  test("turned on by the angle that is wanted, to 5 degrees and as it is written", () => {
    const turned = (angle: string) =>
      codes(`joint studs { count: 2  torque: 50 lb-ft  pattern: line  passes: [100 %]  turn: 90 deg }
record 2026-03-01 { studs { tightened: 50 lb-ft  pass: 1 }  studs { turned: ${angle}  pass: 2  held: yes } }`);
    expect(turned("90 deg")).toEqual([]);
    expect(turned("95 deg")).toEqual([]);
    expect(turned("85 deg")).toEqual([]);
    expect(turned("95.0 deg")).toEqual([]);
    expect(turned("95.1 deg").length).toBeGreaterThan(0);
    expect(turned("84 deg").length).toBeGreaterThan(0);
  });

  test("with its running torque on top, as planned or as it was felt", () => {
    const nutted = (inside: string) => nut("torque: 100 lb-ft  running_torque: 12 lb-ft", inside);
    expect(nutted("tightened: 112 lb-ft  running: 12 lb-ft")).toEqual([]);
    expect(nutted("tightened: 100 lb-ft  running: 12 lb-ft")).toEqual([]);
    expect(nutted("tightened: 106 lb-ft  running: 12 lb-ft")).toEqual(["record/torque-off"]);
    // Felt 6 and tightened to 106: the wrench was set to what it took.
    expect(nutted("tightened: 106 lb-ft  running: 6 lb-ft")).not.toContain("record/torque-off");
  });
});

describe("how long ago", () => {
  test("a re-check by the odometer, at the mile it is due", () => {
    const said = (miles: string, checked = "") =>
      codes(`vehicle van { mass: 3640 lb }
joint nuts { count: 5  torque: 85 lb-ft  recheck_after: 50 mi }
record 2026-03-01 { van.odometer: 100 mi  nuts { tightened: 85 lb-ft  held: yes } }
record 2026-03-02 { van.odometer: ${miles} }
${checked}`).filter((code) => code.startsWith("record/recheck"));
    expect(said("149 mi")).toEqual([]);
    expect(said("150 mi")).toEqual(["record/recheck-due"]);
    const on = (day: number) => `record 2026-03-0${day} { nuts.rechecked: yes }`;
    expect(said("149 mi", on(2))).toEqual(["record/recheck-early"]);
    expect(said("150 mi", on(2))).toEqual([]);
    // On a day without a reading nobody knows how far it was.
    expect(said("149 mi", on(3))).toEqual([]);
    expect(said("170 mi", on(3))).toEqual([]);
  });

  test("a hold: whole days, and hours where both tell the time", () => {
    const said = (first: string, next: string, time = "24 h") =>
      codes(`procedure job { step a { hold: until_cured  hold_time: ${time} }  step b { after: a } }
record ${first} by "A" { job.a.done: yes }
record ${next} by "B" { job.b.done: yes }`);
    const soon = ["record/hold"];
    expect(said('2026-03-01 at "8:00"', '2026-03-02 at "7:59"')).toEqual(soon);
    expect(said('2026-03-01 at "8:00"', '2026-03-02 at "8:00"')).toEqual([]);
    expect(said("2026-03-01", "2026-03-02")).toEqual([]);
    expect(said("2026-03-01", "2026-03-01")).toEqual(soon);
    expect(said("2026-03-01", "2026-03-02", "49 h")).toEqual(soon);
    expect(said("2026-03-01", "2026-03-03", "49 h")).toEqual([]);
    expect(said('2026-03-01 at "23:00"', "2026-03-02", "26 h")).toEqual(soon);
    expect(said('2026-03-01 at "23:00"', "2026-03-02", "24 h")).toEqual([]);
    // What is done inside of a procedure is held up by the step that holds; what comes after all of it
    // is held up by what is last in it.
    const inside = (last: string) =>
      codes(`procedure whole { procedure part { step a { hold: until_cured  hold_time: 24 h }  step b { after: a } } }
procedure next { step c { after: whole } }
record 2026-03-01 at "8:00" by "A" { whole.part.a.done: yes }
record 2026-03-01 at "9:00" by "A" { whole.part.b.done: yes }
record 2026-03-01 at "9:30" by "A" { ${last} }`);
    expect(inside("next.c.done: yes")).toEqual(soon);
    // One record is one sitting.
    expect(
      codes(`procedure job { step a { hold: until_cured  hold_time: 1 h }  step b { after: a } }
record 2026-03-01 at "8:00" by "A" { job.a.done: yes  job.b.done: yes }`),
    ).toEqual([]);
  });
});

describe("a measured figure", () => {
  const measured = (
    reading: string,
    more = "",
    head = "",
    field = "face_to_face: 58 in ± 1/8 in",
  ) =>
    codes(`${more}housing tube { ${field} }
record 2026-03-01 ${head} { tube.face_to_face: ${reading} }`);

  test("by an instrument of another kind, or a size it cannot be measured with", () => {
    const wrench = `wrench click "click wrench" { most: 100 lb-ft }\n`;
    expect(measured("58 in", wrench, 'with "click wrench"')).toEqual(["record/wrong-instrument"]);
    const tape = (from: string, to: string) =>
      measured(
        "58.000 in",
        `instrument rod "Rod" { reads_to: 0.001 in  from_length: ${from}  to_length: ${to} }\n`,
        'with "rod"',
      );
    expect(tape("58 in", "60 in")).toEqual([]);
    expect(tape("40 in", "58 in")).toEqual([]);
    expect(tape("58.1 in", "60 in")).toEqual(["record/instrument-range"]);
    expect(tape("40 in", "57.9 in")).toEqual(["record/instrument-range"]);
  });

  test("what is no reading contradicts none", () => {
    const two = (one: string, other: string) =>
      codes(`housing tube { face_to_face: 58 in ± 1 in }
record 2026-03-01 by "A" { tube.face_to_face: ${one} }
record 2026-03-01 by "B" { tube.face_to_face: ${other} }`);
    expect(two("58 in", "?")).toEqual(["record/blank"]);
    expect(two("wide", "58 in")).toEqual(["record/not-a-figure"]);
    expect(two("58 in", "wide")).toEqual(["record/not-a-figure"]);
  });

  test("a shop that keeps account of what it measures with is asked for it", () => {
    const gauge = (sort: string) => `instrument own "Own" { ${sort} }\n`;
    const asked = ["record/no-instrument"];
    expect(measured("58 in", gauge("reads_to: 1/32 in"))).toEqual(asked);
    // One that reads angles says nothing of lengths.
    expect(measured("58 in", gauge("angle_to: 0.1 deg"))).toEqual([]);
    expect(measured("58 in")).toEqual([]);
  });

  test("two of one day that their ± do not bring together, one after the other", () => {
    const two = (one: string, other: string, heads: readonly [string, string]) =>
      codes(`housing tube { face_to_face: 58 in ± 1 in }
record ${heads[0]} by "A" { tube.face_to_face: ${one} }
record ${heads[1]} by "B" { tube.face_to_face: ${other} }`).filter(
        (code) => code === "record/contradiction",
      );
    const day = ["2026-03-01", "2026-03-01"] as const;
    // Each written to hundredths: five thousandths each way, and its own ±.
    expect(two("58.00 in", "58.01 in", day)).toEqual([]);
    expect(two("58.00 in", "58.02 in", day)).toEqual(["record/contradiction"]);
    expect(two("58.02 in", "58.00 in", day)).toEqual(["record/contradiction"]);
    expect(two("58.00 in ± 0.05 in", "58.06 in", day)).toEqual([]);
    expect(two("58.00 in ± 0.05 in", "58.08 in", day)).toEqual(["record/contradiction"]);
    expect(two("58.00 in", "58.50 in", ["2026-03-01", "2026-03-02"])).toEqual([]);
    expect(two("58.00 in", "58.50 in", ['2026-03-01 at "8:00"', '2026-03-01 at "9:00"'])).toEqual(
      [],
    );
    expect(two("58.00 in", "58.50 in", ['2026-03-01 at "8:00"', '2026-03-01 at "8:00"'])).toEqual([
      "record/contradiction",
    ]);
    expect(two("58.00 in", "58.50 in", ['2026-03-01 at "8:00"', "2026-03-01"])).toEqual([
      "record/contradiction",
    ]);
  });

  test("outside of all that is usual is a slip, and decides nothing", () => {
    const said = measured("580 in");
    expect(said).toEqual([]);
    expect(
      codes(`housing tube { face_to_face: 58 in ± 1/8 in }
record 2026-03-01 { tube.face_to_face: 58 in }
record 2026-03-02 { tube.face_to_face: 580 in }`),
    ).toEqual([]);
  });
});

test.each([
  ["14:30 or so", undefined],
  ["at 14:30", undefined],
  ["14:300", undefined],
  ["114:30", undefined],
  ["2:05 p", undefined],
  ["12:59 PM", 779],
  ["1:00am", 60],
])("%j is %s minutes after midnight", (text, minutes) => {
  expect(timeOf(text)).toBe(minutes);
});
