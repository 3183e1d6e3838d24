/** A joint as the plan shows it, and what a record says of anything, each wholly. */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import type { Event } from "../../server/sequence/entries";
import { analyze, findingsOf } from "./helper";

const footPound = 1.35581794833;
const inch = 0.0254;

describe("a joint wholly", () => {
  const of = (text: string) => {
    const [joint] = sequenceOf(analyze(`display { torque: lb-ft }\n${text}`)).joints;
    const { anchor: _, places, ...rest } = joint!;
    return { ...rest, places: places.length };
  };
  const torque = (poundFeet: number) => expect.closeTo(poundFeet * footPound, 6);

  test("of a few bolts in passes, with a wrench that reaches from the second pass on", () => {
    const passes = [0.5, 1, 1].map((share, at) => ({
      number: at + 1,
      share,
      torque: torque(60 * share),
      setting: torque(60 * share),
      circular: at === 2,
      order: at === 2 ? [[1, 2, 3, 4]] : [[1, 3, 2, 4]],
      withinWrench: at > 0,
    }));
    const nuts = {
      path: "nuts",
      title: "Wheel nuts",
      thread: "1/2-20",
      grade: "8",
      count: 4,
      groups: 1,
      pattern: "cross",
      places: 4,
      torque: torque(60),
      setting: torque(60),
      settingKnown: true,
      running: 0,
      isRunningRead: false,
      wrench: "Click",
      passes,
      order: [[1, 3, 2, 4]],
      notes: ["check again after 50 mi"],
      tightenedOn: undefined,
      recheckedOn: undefined,
      recheckAt: undefined,
    };
    const text = `vehicle van { mass: 3640 lb }
wrench click "Click" { least: 35 lb-ft  most: 100 lb-ft }
joint nuts "Wheel nuts" { thread: 1/2-20  grade: 8  count: 4  torque: 60 lb-ft  passes: [50 %, 100 %]  wrench: click  recheck_after: 50 mi }
`;
    expect(of(text)).toEqual(nuts);
    const begun = 'record 2026-03-02 by "A" { nuts { tightened: 30 lb-ft  pass: 1 } }\n';
    expect(of(text + begun)).toEqual({ ...nuts, lacks: "lacks passes 2 and 3" });
    // Tightened when 100 mi were driven: due at 150.
    const whole = `record 2026-03-01 by "A" { van.odometer: 100 mi }
record 2026-03-03 by "A" { nuts { tightened: 60 lb-ft  held: yes } }
`;
    const tight = {
      ...nuts,
      tightenedOn: "2026-03-03",
      recheckAt: expect.closeTo(150 * 1609.344, 3),
    };
    expect(of(text + begun + whole)).toEqual(tight);
    expect(of(`${text}${begun}${whole}record 2026-03-05 by "A" { nuts.rechecked: yes }`)).toEqual({
      ...tight,
      recheckedOn: "2026-03-05",
    });
  });

  test("of two groups, and of one bolt turned on by an angle", () => {
    expect(of("joint u { count: 8  groups: 2  torque: 70 lb-ft  single_use: yes }")).toMatchObject({
      title: "u",
      count: 8,
      groups: 2,
      order: [
        [1, 3, 2, 4],
        [5, 7, 6, 8],
      ],
      notes: ["new fasteners each time"],
      thread: undefined,
      grade: undefined,
      wrench: undefined,
    });
    const { passes } = of("joint t { torque: 50 lb-ft  turn: 90 deg }");
    expect(passes).toEqual([
      {
        number: 1,
        share: 1,
        torque: torque(50),
        setting: torque(50),
        circular: false,
        order: [[1]],
        withinWrench: true,
      },
      {
        number: 2,
        share: 1,
        torque: torque(50),
        setting: undefined,
        circular: false,
        turn: expect.closeTo(Math.PI / 2, 12),
        order: [[1]],
        withinWrench: true,
      },
    ]);
  });

  test("of locking nuts: what turns them comes on top, and is read once in a round", () => {
    const nuts = `joint n { count: 2  pattern: line  torque: 100 lb-ft  running_torque: 12 lb-ft  passes: [50 %, 100 %] }
`;
    expect(of(nuts)).toMatchObject({
      torque: torque(100),
      setting: torque(112),
      running: torque(12),
      isRunningRead: false,
    });
    const read = (...entries: readonly string[]) =>
      of(
        `${nuts}${entries.map((each, at) => `record 2026-03-0${at + 1} by "A" { n { ${each} } }\n`).join("")}`,
      ).isRunningRead;
    const half = "tightened: 50 lb-ft  pass: 1";
    const whole = "tightened: 100 lb-ft  pass: 2  held: yes";
    expect(read(half)).toBe(false);
    expect(read(`${half}  running: 10 lb-ft`)).toBe(true);
    // Tight, undone or moved: whoever goes on begins a round, in which it is to be read.
    expect(read(`${half}  running: 10 lb-ft`, whole)).toBe(false);
    expect(read(`${half}  running: 10 lb-ft`, "loosened: yes")).toBe(false);
    expect(read(`${half}  running: 10 lb-ft`, "rechecked: no")).toBe(false);
    expect(read(`${half}  running: 10 lb-ft`, "loosened: yes", half)).toBe(false);
  });

  test("of which little is known", () => {
    const open = of("joint j { extension: 2 in }");
    expect(open).toMatchObject({ torque: undefined, setting: undefined, settingKnown: false });
    expect(open.passes.map((pass) => [pass.torque, pass.setting])).toEqual([
      [undefined, undefined],
    ]);
    expect(of("joint j {}").settingKnown).toBe(true);
  });
});

describe("what a record says", () => {
  const build = `vehicle van { mass: 3640 lb }
housing tube { face_to_face: 55 in }
part seal { at_hand: no }
joint j { count: 4  torque: 60 lb-ft }
procedure job { step look {}  step fit {} }
`;
  /** Without the record and the places in the text. */
  const said = (record: string) =>
    sequenceOf(analyze(build + record)).events.map((event: Event) => {
      const { record: _r, anchor: _a, place: _p, ...rest } = event;
      const named = Object.entries(rest).map(([key, value]) => [
        key,
        key === "thing" || key === "step" || key === "joint"
          ? (value as { readonly path: string }).path
          : value,
      ]);
      return Object.fromEntries(named.filter(([, value]) => value !== undefined));
    });
  const head = { date: "2026-03-01", clock: 8 * 60 + 30, by: "A", with: "Tape" };
  const figure = (value: number, rounding: number, sureness = 0) => ({
    value: expect.closeTo(value, 9),
    rounding: expect.closeTo(rounding, 9),
    sureness: expect.closeTo(sureness, 9),
  });

  test("of a joint, all of it in one entry", () => {
    const text = `record 2026-03-01 by "A" at "8:30" with "Tape" { j {
  tightened: 60 lb-ft ± 1 lb-ft  reading: 58 lb-ft  running: 5.0 lb-ft  turned: 90 deg
  pass: 2  bolts: [1, 3]  held: yes  rechecked: no  loosened: yes  renewed: no
} }`;
    const half = footPound / 2;
    expect(said(text)).toEqual([
      {
        ...head,
        is: "joint",
        joint: "j",
        torque: figure(60 * footPound, half, footPound),
        reading: figure(58 * footPound, half),
        running: figure(5 * footPound, half / 10),
        turned: figure(Math.PI / 2, Math.PI / 360),
        pass: 2,
        bolts: [1, 3],
        held: true,
        rechecked: false,
        loosened: true,
        renewed: false,
        isOpen: false,
      },
    ]);
  });

  test("of two joints, steps, figures, parts and pictures, in the order of its lines", () => {
    const text = `record 2026-03-01 by "A" at "8:30" with "Tape" {
  tube.face_to_face: 55 1/4 in
  job.look { done: yes  signed: " Ida "  photos: ["a.jpg", "b.jpg"]  remark: "fine" }
  seal.at_hand: yes
  j.held: no
  job.fit { accepted: [tube.face_to_face, job.look, j, nowhere]  until: 2027-01-31  because: "it goes"  follows: "look again" }
  job.fit.done: no
}`;
    const accepted = {
      ...head,
      is: "accepted",
      step: "job.fit",
      withdrawn: false,
      until: "2027-01-31",
      because: "it goes",
      follows: "look again",
    };
    const events = said(text);
    expect(events.slice(0, 7)).toEqual([
      {
        ...head,
        is: "measured",
        thing: "tube",
        field: "face_to_face",
        path: "tube.face_to_face",
        // A fraction is read off to half of a thirty-second.
        reading: figure(55.25 * inch, inch / 64),
      },
      { ...head, is: "done", step: "job.look", done: true },
      { ...head, is: "signed", step: "job.look", name: "Ida" },
      { ...head, is: "photo", path: "a.jpg" },
      { ...head, is: "photo", path: "b.jpg" },
      { ...head, is: "part", thing: "seal", atHand: true },
      { ...head, is: "joint", joint: "j", held: false, isOpen: false },
    ]);
    expect(events.slice(7, 11).map(({ what: _, ...rest }) => rest)).toEqual(
      ["tube.face_to_face", "job.look", "j", "nowhere"].map((name) => ({
        ...accepted,
        text: name,
      })),
    );
    expect(events.slice(7, 11).map(({ what }) => (what as { is: string }).is)).toEqual([
      "figure",
      "step",
      "other",
      "other",
    ]);
    expect(events.slice(11)).toEqual([{ ...head, is: "done", step: "job.fit", done: false }]);
    expect(said('record 2026-03-02 { job.fit.withdrawn: "tube.face_to_face" }')).toMatchObject([
      { is: "accepted", withdrawn: true, text: "tube.face_to_face", date: "2026-03-02" },
    ]);
  });

  test("of a joint, with a blank in it", () => {
    expect(
      said('record 2026-03-01 by "A" { j { tightened: 60 lb-ft  running: ? } }'),
    ).toMatchObject([{ is: "joint", isOpen: true }]);
  });

  test("that cannot be read as what it stands for is told where it stands, and left out", () => {
    const text = `record 2026-03-01 at "noon" {
  job.look { done: 3 in  signed: 4  photos: 5 }
  seal.at_hand: "no"
  j { tightened: tube.face_to_face  pass: job.look  held: 2 in }
  job.fit { accepted: job.look  until: "soon"  because: 7 }
  j.torque: 50 lb-ft
  tube.face_to_face: ?
}`;
    expect(
      findingsOf(build + text)
        .map((each) => each.split(": ").slice(0, 2).join(" "))
        .filter((each) => each.includes("record/")),
    ).toMatchInlineSnapshot(`
      [
        "6 record/no-time",
        "7 record/not-yes-no",
        "7 record/not-a-text",
        "7 record/not-a-text",
        "8 record/not-yes-no",
        "9 record/not-a-figure",
        "9 record/not-a-count",
        "9 record/not-yes-no",
        "10 record/not-a-day",
        "10 record/not-a-text",
        "11 record/spec-field",
        "12 record/blank",
      ]
    `);
    expect(said(text).map(({ is }) => is)).toMatchInlineSnapshot(`
      [
        "joint",
        "accepted",
      ]
    `);
  });
});
