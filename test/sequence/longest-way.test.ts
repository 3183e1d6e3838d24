/** How long work takes: the longest way by enumeration, days by the calendar, by hand. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { scheduleOf, type Timed } from "../../server/sequence/schedule";

const hour = 3600;
const day = 24 * hour;
const calendar = { hours: 8 * hour };
const step = (
  path: string,
  before: string[] = [],
  duration?: number,
  holdTime?: number,
  done = false,
): Timed => ({
  path,
  before,
  done,
  ...(duration === undefined ? {} : { duration }),
  ...(holdTime === undefined ? {} : { holdTime }),
});

describe("the longest way", () => {
  test("is the one that takes most, holds counted by the clock and work by the working day", () => {
    const found = scheduleOf(
      [
        step("a", [], 2 * hour),
        step("b", ["a"], 3 * hour),
        step("c", ["a"], hour, day),
        step("d", ["b", "c"], hour),
      ],
      calendar,
    );
    // By c: four hours of work, half a day, and a day of waiting; by b six hours.
    expect(found).toEqual({ work: 4 * hour, holds: day, path: ["a", "c", "d"], unknown: [] });
  });

  test("a hold at the very end holds nothing up", () => {
    expect(scheduleOf([step("a", [], hour, 5 * day)], calendar)).toEqual({
      work: hour,
      holds: 0,
      path: ["a"],
      unknown: [],
    });
  });

  test("what is done takes no time, and what nobody tells is named", () => {
    const found = scheduleOf(
      [step("a", [], 9 * hour, day, true), step("b", ["a"]), step("c", ["b"], hour)],
      calendar,
    );
    expect(found).toEqual({ work: hour, holds: 0, path: ["c"], unknown: ["b"] });
    expect(scheduleOf([step("a", [], 9 * hour, 0, true), step("b")], calendar)).toBeUndefined();
    expect(scheduleOf([], calendar)).toBeUndefined();
  });

  test("is no shorter than any way there is", () => {
    const graph = fc.array(
      fc.record({
        duration: fc.integer({ min: 1, max: 20 }),
        holdTime: fc.integer({ min: 0, max: 3 }),
        before: fc.array(fc.nat(7), { maxLength: 3 }),
      }),
      { minLength: 1, maxLength: 8 },
    );
    fc.assert(
      fc.property(graph, (nodes) => {
        const steps = nodes.map(({ duration, holdTime, before }, at) =>
          step(
            `s${at}`,
            before.filter((other) => other < at).map((other) => `s${other}`),
            duration * hour,
            holdTime * day,
          ),
        );
        const byPath = new Map(steps.map((each) => [each.path, each]));
        const waysTo = (each: Timed): Timed[][] => [
          [each],
          ...each.before.flatMap((name) => waysTo(byPath.get(name)!).map((way) => [...way, each])),
        ];
        const daysOf = (way: readonly Timed[]): number =>
          way.reduce((sum, each) => sum + each.duration! / (8 * hour), 0) +
          way.slice(0, -1).reduce((sum, each) => sum + each.holdTime! / day, 0);
        const longest = Math.max(...steps.flatMap(waysTo).map(daysOf));
        const found = scheduleOf(steps, calendar)!;
        expect(found.work / (8 * hour) + found.holds / day).toBeCloseTo(longest, 9);
        expect(daysOf(found.path.map((path) => byPath.get(path)!))).toBeCloseTo(longest, 9);
      }),
      { numRuns: 200 },
    );
  });
});

describe("the day it is done by", () => {
  // 2026-04-06 is a Monday.
  const by = (starts: string, work: number, holds = 0) =>
    scheduleOf([step("a", [], work * 8 * hour, holds * day), step("b", ["a"], 1)], {
      ...calendar,
      starts,
    })?.doneBy;

  test.each([
    ["2026-04-06", 0.5, 0, "2026-04-06"],
    ["2026-04-06", 0.99, 0, "2026-04-06"],
    ["2026-04-06", 1.5, 0, "2026-04-07"],
    ["2026-04-06", 4.5, 0, "2026-04-10"],
    // Over the weekend.
    ["2026-04-06", 5.5, 0, "2026-04-13"],
    ["2026-04-10", 1.5, 0, "2026-04-13"],
    ["2026-04-04", 0.5, 0, "2026-04-06"],
    ["2026-04-05", 0.5, 0, "2026-04-06"],
    // A hold runs on, but nobody works where it ends on a free day.
    ["2026-04-06", 0.5, 2, "2026-04-08"],
    ["2026-04-06", 0.5, 5, "2026-04-13"],
    ["2026-04-06", 0.5, 0.2, "2026-04-07"],
  ] as const)("begun on %s, %d days of work and %d of waiting", (starts, work, holds, wanted) => {
    expect(by(starts, work, holds)).toBe(wanted);
  });

  test("is open where the beginning is no day, or the end beyond all calendars", () => {
    expect(by("soon", 1)).toBeUndefined();
    expect(by("2026-04-06", 20_000)).toBeUndefined();
    expect(by("2026-04-06", 1, 20_000)).toBeUndefined();
    expect(scheduleOf([step("a", [], hour)], calendar)).not.toHaveProperty("doneBy");
  });
});
