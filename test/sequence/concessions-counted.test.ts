/**
 * Which concession counts, and which readings it covers: a concession (ISO 9000:2015, 3.12.5) is limited
 * to what was accepted, by somebody, until a day. Readings and days by hand.
 */
import { describe, expect, test } from "vitest";
import { Lists } from "../../server/keep/lists";
import { Concessions } from "../../server/sequence/concessions";
import type { AcceptedEvent, MeasuredEvent } from "../../server/sequence/entries";
import type { Step } from "../../server/sequence/plan";

const record = { anchor: { uri: "file:///log" } } as MeasuredEvent["record"];
/** Each entry is a record of its own, at its day. */
const head = (date: string | undefined, place: number) => ({
  record: { ...record },
  anchor: record.anchor,
  place,
  ...(date === undefined ? {} : { date: `2026-03-${date}` }),
});

function measured(date: string | undefined, value?: number, rounding = 0): MeasuredEvent {
  const reading = value === undefined ? {} : { reading: { value, rounding, sureness: 0 } };
  const about = { thing: {} as MeasuredEvent["thing"], field: "width", path: "tube.width" };
  return { ...head(date, Number(date ?? 0)), is: "measured", ...about, ...reading };
}

interface Said {
  readonly date?: string;
  readonly by?: string;
  readonly withdrawn?: boolean;
  readonly until?: string;
  readonly what?: AcceptedEvent["what"];
  readonly text?: string;
}

const width = { is: "figure", thing: {}, field: "width", path: "tube.width" } as Extract<
  AcceptedEvent["what"],
  { is: "figure" }
>;

function accepted({ date, by = "Ida", withdrawn = false, until, what = width, text = "" }: Said) {
  return {
    ...head(date, Number(date ?? 0) + 0.5),
    is: "accepted",
    step: {} as Step,
    by,
    text,
    what,
    withdrawn,
    until,
  } as AcceptedEvent;
}

/** The width is to be 100. */
const counted = (
  events: readonly AcceptedEvent[],
  readings: readonly MeasuredEvent[],
  { spec, today }: { readonly spec?: number | undefined; readonly today?: string } = { spec: 100 },
) => {
  const measured = new Lists<string, MeasuredEvent>();
  for (const reading of readings) measured.add("tube.width", reading);
  return new Concessions(events, measured, () => spec, today);
};

const standing = (...all: Parameters<typeof counted>) =>
  counted(...all).list.map((each) => each.standing);

describe("whether it stands", () => {
  const readings = [measured("01", 102)];

  test("by a name and a day, until its last day is over", () => {
    const until = accepted({ date: "02", until: "2026-06-30" });
    const on = (today?: string) =>
      standing([until], readings, { spec: 100, ...(today === undefined ? {} : { today }) });
    expect([on("2026-06-30"), on("2026-07-01"), on()]).toEqual([
      ["in force"],
      ["ran out"],
      ["in force"],
    ]);
    expect(standing([accepted({ date: "02" })], readings)).toEqual(["in force"]);
    expect(standing([accepted({ date: "02", by: " " })], readings)).toEqual(["nobody"]);
    expect(standing([accepted({})], readings)).toEqual(["nobody"]);
  });

  test("as long as it is not withdrawn; what is withdrawn and was never accepted is nothing new", () => {
    const [given, ended] = [
      accepted({ date: "02", until: "2026-06-30" }),
      accepted({ date: "04", withdrawn: true }),
    ];
    const both = counted([given, ended], readings).list;
    expect(both.map((each) => each.standing)).toEqual(["withdrawn"]);
    // What ended it keeps what it was about.
    expect(both[0]?.entry).toMatchObject({ until: "2026-06-30", date: "2026-03-02" });
    expect(standing([ended], readings)).toEqual(["withdrawn"]);
    expect(standing([given, ended, accepted({ date: "06" })], readings)).toEqual(["in force"]);
  });

  test("of a figure nobody measured by then there is nothing to accept", () => {
    expect(standing([accepted({ date: "02" })], [])).toEqual(["nothing"]);
    expect(standing([accepted({ date: "02" })], [measured("03", 102)])).toEqual(["nothing"]);
    expect(standing([accepted({ date: "02" })], [measured("01")])).toEqual(["nothing"]);
    expect(standing([accepted({ date: "02", what: { is: "other" } })], readings)).toEqual([
      "nothing",
    ]);
  });

  test("of a step it stands without a reading", () => {
    const step = {} as Step;
    const found = counted([accepted({ date: "02", what: { is: "step", step } })], []);
    expect(found.ofStep(step)?.standing).toBe("in force");
    expect(found.ofStep({} as Step)).toBeUndefined();
    expect(found.ofFigure("tube.width")).toBeUndefined();
  });

  test("of several the last one about each thing, in the order they were made", () => {
    const other = { is: "other" } as const;
    const step = {} as Step;
    const events = [
      accepted({ date: "02", what: { is: "step", step } }),
      accepted({ date: "03", what: other, text: "paint" }),
      accepted({ date: "04" }),
      accepted({ date: "05", what: other, text: "dent" }),
      accepted({ date: "06", what: other, text: "paint" }),
      accepted({ date: "07", what: { is: "step", step } }),
    ];
    const found = counted(events, readings);
    expect(found.list.map(({ entry }) => entry.date)).toEqual(
      ["04", "05", "06", "07"].map((date) => `2026-03-${date}`),
    );
    expect(found.ofStep(step)?.entry).toBe(events[5]);
    expect(found.ofFigure("tube.width")?.entry).toBe(events[2]);
  });
});

describe("what it covers", () => {
  test("the farthest of the readings known by then, to either side", () => {
    const reading = (values: readonly number[], spec?: number) =>
      counted(
        [accepted({ date: "09" })],
        values.map((value, at) => measured(`0${at + 1}`, value)),
        { spec },
      ).list[0]?.reading?.reading?.value;
    expect(reading([101, 103, 102], 100)).toBe(103);
    expect(reading([101, 96, 103], 100)).toBe(96);
    expect(reading([103, 97], 100)).toBe(97);
    // Without a spec all are equally far: the last.
    expect(reading([101, 103, 102])).toBe(102);
  });

  test("a reading no farther out on the same side, and what both are rounded by", () => {
    const found = counted([accepted({ date: "02" })], [measured("01", 102, 0.05)]);
    const covers = (value: number, rounding = 0) =>
      found.covers(measured("03", value, rounding), 100);
    expect([102, 101, 100, 102.05].map((value) => covers(value))).toEqual([true, true, true, true]);
    expect([102.06, 103, 99.9, 98].map((value) => covers(value))).toEqual([
      false,
      false,
      false,
      false,
    ]);
    expect([covers(102.14, 0.1), covers(102.16, 0.1)]).toEqual([true, false]);
    // Below the spec likewise.
    const low = counted([accepted({ date: "02" })], [measured("01", 98)]);
    const below = [98, 99, 97.9, 101].map((value) => low.covers(measured("03", value), 100));
    expect(below).toEqual([true, true, false, false]);
  });

  test("nothing once it ran out, and nothing that was not read", () => {
    const readings = [measured("01", 102)];
    const given = [accepted({ date: "02", until: "2026-06-30" })];
    const over = counted(given, readings, { spec: 100, today: "2026-07-01" });
    expect(over.covers(measured("03", 101), 100)).toBe(false);
    const stands = counted(given, readings);
    expect(stands.covers(measured("03", 101), 100)).toBe(true);
    expect(stands.covers(measured("03"), 100)).toBe(false);
    expect(stands.covers({ ...measured("03", 101), path: "tube.length" }, 100)).toBe(false);
  });
});
