/**
 * Days of the work with few people and machines. The bound is Graham's for list scheduling
 * (R. L. Graham, 1966 and 1969, from memory): no longer than all the work over the people, and as much
 * again as the longest way leaves to them.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Calendar } from "../../server/sequence/calendar";
import { leveled } from "../../server/sequence/leveling";
import { scheduleOf, type Timed } from "../../server/sequence/schedule";
import { gapsOfOrder } from "../../server/sequence/tightening-order";

const hour = 3600;
const day = 24 * hour;

describe("working time over days", () => {
  const calendar = new Calendar(8 * hour, "2026-04-03");

  test("Saturday and Sunday are free, and nights", () => {
    // A Friday: eight hours that day, the ninth on Monday.
    expect(calendar.dateOf(calendar.after(0, 8 * hour))).toBe("2026-04-03");
    expect(calendar.after(0, 9 * hour)).toBeCloseTo(3 * day + hour, 0);
    expect(calendar.begin(10 * hour)).toBe(3 * day);
    expect(calendar.after(0, 48 * hour)).toBeCloseTo(7 * day + 8 * hour, 0);
  });

  test("years of work are laid out at once: as many days as working hours ask for", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5000 }),
        fc.integer({ min: 1, max: 24 }),
        (work, hours) => {
          const start = Date.UTC(2026, 3, 6);
          const end = new Calendar(hours * hour, "2026-04-06").after(0, work * hour);
          let worked = 0;
          let date = start;
          for (let at = start; worked < work; at += day * 1000) {
            if ([0, 6].includes(new Date(at).getUTCDay())) continue;
            worked += hours;
            date = at;
          }
          expect(new Date(start + Math.floor((end - 60) / day) * day * 1000)).toEqual(
            new Date(date),
          );
        },
      ),
      { numRuns: 60, examples: [[2160, 24]] },
    );
  });
});

const step = (path: string, more: Partial<Timed> = {}): Timed => ({
  path,
  before: [],
  done: false,
  duration: 2 * hour,
  hands: 1,
  machines: [],
  ...more,
});

describe("where people and machines are few", () => {
  test("what keeps the lathe busy goes on after the other, the one with more behind it first", () => {
    const steps = [
      step("short", { machines: ["lathe"] }),
      step("long", { machines: ["lathe"] }),
      step("after long", { before: ["long"], duration: 5 * hour }),
    ];
    const { days } = scheduleOf(steps, { hours: 8 * hour, starts: "2026-04-06" }) ?? {};
    expect(days?.steps.find(({ path }) => path === "short")?.waits).toEqual({
      for: "lathe",
      behind: "long",
    });
    expect(days?.isLonger).toBe(false);
    expect(days?.doneBy).toBe("2026-04-06");
  });

  test("one person does one thing at a time; two halve it", () => {
    const steps = ["a", "b", "c", "d"].map((path) => step(path, { duration: 8 * hour }));
    const with_ = (people: number | undefined) =>
      scheduleOf(steps, { hours: 8 * hour, starts: "2026-04-06", ...(people && { people }) });
    expect(with_(undefined)?.days?.doneBy).toBe("2026-04-06");
    expect(with_(2)?.days?.doneBy).toBe("2026-04-07");
    expect(with_(1)?.days?.doneBy).toBe("2026-04-09");
    expect(with_(1)?.doneBy).toBe("2026-04-06");
    expect(with_(1)?.days?.isLonger).toBe(true);
  });

  test("a hold takes no hands: others go on meanwhile", () => {
    const steps = [
      step("paint", { holdTime: day }),
      step("fit", { before: ["paint"] }),
      step("other", { duration: 4 * hour }),
    ];
    const { days } = scheduleOf(steps, { hours: 8 * hour, starts: "2026-04-06", people: 1 }) ?? {};
    expect(days?.steps.map(({ path, starts }) => [path, starts])).toEqual([
      ["paint", "2026-04-06"],
      ["other", "2026-04-06"],
      ["fit", "2026-04-07"],
    ]);
    expect(days?.isLonger).toBe(false);
  });

  test("a step that takes more people than there are is told, and takes all of them", () => {
    const steps = [step("lift", { hands: 3 }), step("wipe")];
    const { days } = scheduleOf(steps, { hours: 8 * hour, people: 2 }) ?? {};
    expect(days?.short).toEqual(["lift"]);
    expect(days?.length).toBe(4 * hour);
  });

  test("of two lifts one is free while the other is taken; a step may take both", () => {
    const on = (path: string, count = 1): Timed =>
      step(path, { machines: Array.from({ length: count }, () => "lift") });
    const machines = new Map([["lift", 2]]);
    const length = (steps: readonly Timed[], given = machines): number | undefined =>
      scheduleOf(steps, { hours: day, machines: given })?.days?.length;
    const three = [on("a"), on("b"), on("c")];
    expect(length(three)).toBe(4 * hour);
    expect(length(three, new Map())).toBe(6 * hour);
    expect(length([on("a"), on("both", 2), on("c")])).toBe(4 * hour);
    expect(length([on("too many", 3)])).toBe(2 * hour);
  });

  const work = fc.record({
    people: fc.integer({ min: 1, max: 4 }),
    lathes: fc.integer({ min: 1, max: 3 }),
    steps: fc.array(
      fc.record({
        duration: fc.integer({ min: 1, max: 9 }),
        hands: fc.integer({ min: 1, max: 3 }),
        lathe: fc.boolean(),
        holds: fc.constantFrom(0, 0, 5),
        before: fc.array(fc.nat(20), { maxLength: 3 }),
      }),
      { minLength: 1, maxLength: 14 },
    ),
  });
  type Work = typeof work extends fc.Arbitrary<infer T> ? T : never;
  const stepsOf = ({ steps }: Work): Timed[] =>
    steps.map(({ duration, hands, lathe, holds, before }, index) => ({
      path: `s${index}`,
      before: index === 0 ? [] : [...new Set(before.map((each) => `s${each % index}`))],
      done: false,
      duration: duration * hour,
      holdTime: holds * hour,
      hands,
      machines: lathe ? ["lathe"] : [],
    }));

  test("nobody does two things at a time, nothing begins before what it waits for", () => {
    fc.assert(
      fc.property(work, fc.constantFrom(undefined, "2026-04-08"), (given, starts) => {
        const steps = stepsOf(given);
        const calendar = new Calendar(8 * hour, starts);
        const machines = new Map([["lathe", given.lathes]]);
        const slots = leveled(steps, calendar, given.people, machines)?.slots ?? [];
        expect(slots.length).toBe(steps.length);
        const all = slots.flatMap((slot) =>
          steps.flatMap((each) => (each.path === slot.path ? [{ ...slot, ...each }] : [])),
        );
        for (const each of all) {
          for (const other of all)
            if (each.before.includes(other.path))
              expect(each.starts).toBeGreaterThanOrEqual(other.ends + (other.holdTime ?? 0) - 1);
          const there = all.filter((o) => o.starts <= each.starts && o.ends > each.starts + 1);
          const taken = there.reduce((sum, { hands }) => sum + Math.min(hands, given.people), 0);
          expect(taken).toBeLessThanOrEqual(given.people);
          const busy = there.filter((other) => other.machines.length > 0).length;
          expect(busy).toBeLessThanOrEqual(given.lathes);
        }
      }),
      { numRuns: 150 },
    );
  });

  test("it takes no longer than Graham's bound for one hand each", () => {
    fc.assert(
      fc.property(work, (given) => {
        const steps = stepsOf(given).map((each) => ({
          ...each,
          hands: 1,
          machines: [],
          holdTime: 0,
        }));
        const plan = scheduleOf(steps, { hours: day, people: given.people });
        const all = steps.reduce((sum, { duration = 0 }) => sum + duration, 0);
        const m = given.people;
        const bound = all / m + (1 - 1 / m) * (plan?.work ?? 0);
        expect(plan?.days?.length ?? 0).toBeLessThanOrEqual(bound + 60);
        expect(plan?.days?.length ?? 0).toBeGreaterThanOrEqual((plan?.work ?? 0) - 1);
      }),
      { numRuns: 150 },
    );
  });

  test("a thousand steps are laid out in a breath", () => {
    const steps = Array.from({ length: 1000 }, (_, index) =>
      step(`s${index}`, {
        before: index < 10 ? [] : [`s${index - 10}`],
        machines: index % 3 === 0 ? ["lathe"] : [],
        hands: 1 + (index % 2),
      }),
    );
    const start = process.cpuUsage();
    expect(scheduleOf(steps, { hours: 8 * hour, people: 3 })?.days?.steps.length).toBe(1000);
    expect(process.cpuUsage(start).user / 1e6).toBeLessThan(3);
  });
});

test("work without end, or without hours to do it in, ends in no loop", () => {
  for (const hours of [1e-300, 8 * 3600, 1e300]) {
    const calendar = new Calendar(hours, "2026-04-03");
    for (const time of [0, 1e12, 9e15, 1e300, Number.POSITIVE_INFINITY]) {
      expect(calendar.begin(time)).toBeGreaterThanOrEqual(time);
      for (const work of [0, 1, 1e9, 1e18, 1e300])
        expect(calendar.after(time, work)).toBeGreaterThanOrEqual(time);
    }
    expect(calendar.dateOf(1e300)).toBeUndefined();
  }
});

test("a joint of more fasteners than any has is no way round them, and takes no time", () => {
  const started = performance.now();
  const { missing, unknown } = gapsOfOrder([1, 2, 3], 100_000_000);
  expect([missing.length, unknown.length]).toEqual([398, 0]);
  expect(performance.now() - started).toBeLessThan(1_000);
});
