/**
 * Drawn builds of shapes of their own: contradictions in a net of heights, judged by the shortest paths
 * of difference constraints; choices of parts, by trying every combination; changes that mend a check,
 * by trying every step of one figure and of two. Figures mean nothing.
 */
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { analyzed } from "../model/build";
import { randoms } from "../solve/random-systems";

const draws = Array.from({ length: 20 }, (_, at) => at + 1);

// ───────────────────────────── heights ─────────────────────────────

interface Reading {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly read: number;
}

const POINTS = 5;
const BY = 0.3;
/** Read to a tenth: that is half of one more on either side. */
const ROOM = BY + 0.05;

/** Whether heights exist that are apart as read within some room: no way round comes to less than nothing. */
function agree(readings: readonly Reading[], room: number): boolean {
  const least = new Array<number>(POINTS).fill(0);
  for (let round = 0; round <= POINTS; round++) {
    let settled = true;
    for (const { from, to, read } of readings) {
      const limits = [
        [from, to, read + room],
        [to, from, room - read],
      ] as const;
      for (const [a, b, far] of limits) {
        if (least[b]! <= least[a]! + far + 1e-9) continue;
        least[b] = least[a]! + far;
        settled = false;
      }
    }
    if (settled) return true;
  }
  return false;
}

function net(seed: number): Reading[] {
  const random = randoms(900 + seed);
  const heights = Array.from({ length: POINTS }, () => Math.round(random() * 400) / 10);
  const readings: Reading[] = [];
  for (let from = 0; from < POINTS; from++) {
    for (let to = from + 1; to < POINTS; to++) {
      // A row through all of them, and some that cross it.
      if (to > from + 1 && random() < 0.45) continue;
      const off = (random() - 0.5) * BY;
      const slip = random() < 0.2 ? 2 + 3 * random() : 0;
      const read = Math.round((heights[to]! - heights[from]! + off + slip) * 10) / 10;
      readings.push({ name: `d${from}${to}`, from, to, read });
    }
  }
  return readings;
}

function netText(readings: readonly Reading[]): string {
  return `kind net { ${draws
    .slice(0, POINTS)
    .map((_, at) => `h${at}: length`)
    .join("\n")}
${readings.map(({ name }) => `${name}: length made`).join("\n")}
${readings.map(({ name, from, to }) => `relation "${name}": ${name} = h${to} - h${from}`).join("\n")} }
net n { ${readings.map(({ name, read }) => `${name}: ${read.toFixed(1)} mm ± ${BY} mm`).join("\n")} }`;
}

describe("a net of heights contradicts itself just where no heights agree with it", () => {
  test.each(draws)("net %d", (seed) => {
    const readings = net(seed);
    const analysis = analyzed(netText(readings));
    const named = (paths: readonly string[]): Reading[] =>
      readings.filter(({ name }) => paths.includes(`n.${name}`));
    const whole = agree(readings, ROOM);
    expect(analysis.contradictions.length > 0).toBe(!whole);
    for (const { inputs } of analysis.contradictions) {
      const set = named(inputs);
      expect(agree(set, ROOM), inputs.join()).toBe(false);
      for (const each of set)
        expect(
          agree(
            set.filter((other) => other !== each),
            ROOM,
          ),
          `${inputs} ${each.name}`,
        ).toBe(true);
    }
    if (whole) return;
    // One reading that is behind all of it is offered, and each offer mends what it is offered for.
    const alone = readings.filter((each) =>
      agree(
        readings.filter((other) => other !== each),
        ROOM,
      ),
    );
    const fits = analysis.contradictions.flatMap((each) => each.fits());
    for (const { offers } of fits) {
      const changed = readings.map((each) => {
        const offer = offers.find(({ path }) => path === `n.${each.name}`);
        return offer === undefined ? each : { ...each, read: offer.si * 1000 };
      });
      const touched = analysis.contradictions.filter(({ inputs }) =>
        offers.some(({ path }) => inputs.includes(path)),
      );
      expect(
        touched.some(({ inputs }) => {
          const names = new Set(named(inputs).map(({ name }) => name));
          return agree(
            changed.filter(({ name }) => names.has(name)),
            ROOM,
          );
        }),
      ).toBe(true);
    }
    if (alone.length > 0 && analysis.contradictions.length === 1) {
      const offered = new Set(
        fits.flatMap(({ offers }) => offers.map(({ path }) => path.slice(2))),
      );
      expect(alone.some(({ name }) => offered.has(name))).toBe(true);
    }
  });
});

// ───────────────────────────── choices ─────────────────────────────

interface Bar {
  readonly name: string;
  readonly wide: number;
  readonly high: number;
  readonly price: number;
  readonly kit: number;
  readonly stock: number;
}

describe("what to choose for three places, several of each, by trying all", () => {
  test.each(draws)("shelf %d", async (seed) => {
    const random = randoms(1300 + seed);
    const whole = (from: number, to: number): number =>
      from + Math.floor(random() * (to - from + 1));
    const bars = Array.from(
      { length: 5 },
      (_, at): Bar => ({
        name: `b${at}`,
        wide: whole(20, 60),
        high: whole(10, 30),
        price: whole(3, 40),
        kit: whole(1, 4),
        stock: whole(0, 5),
      }),
    );
    const counts = [whole(1, 3), whole(1, 4), whole(1, 2)];
    const [least, most, sway] = [whole(80, 130), whole(120, 170), whole(200, 700)];
    const text = `kind bar { wide: length bought\nhigh: length bought\nprice: money bought\nin_kit: count bought\nthere: count bought }
kind shelf { foot: bar\nside: bar\ntop: bar\nbulk: number
relation "bulk": bulk = (side.wide - top.wide) * (side.high - foot.high) / 1 mm ^ 2
check "wide enough": foot.wide + side.wide + top.wide >= ${least} mm
check "not too wide": foot.wide + side.wide + top.wide <= ${most} mm
check "stands": abs(bulk) <= ${sway}
check "on top": top.high <= max(foot.high, side.high) }
shelf s { }
${bars.map((each) => `bar ${each.name} { wide: ${each.wide} mm; high: ${each.high} mm; price: ${each.price} usd; in_kit: ${each.kit}; there: ${each.stock} }`).join("\n")}`;
    const fitting = bars.flatMap((foot) =>
      bars.flatMap((side) =>
        bars.flatMap((top) => {
          const picks = [foot, side, top];
          const across = foot.wide + side.wide + top.wide;
          const holds =
            across >= least &&
            across <= most &&
            Math.abs((side.wide - top.wide) * (side.high - foot.high)) <= sway &&
            top.high <= Math.max(foot.high, side.high);
          const enough = bars.every(
            (bar) =>
              picks.reduce((sum, each, at) => sum + (each === bar ? counts[at]! : 0), 0) <=
              bar.stock * bar.kit,
          );
          const price = picks.reduce(
            (sum, each, at) => sum + Math.ceil(counts[at]! / each.kit) * each.price,
            0,
          );
          return holds && enough ? [`${picks.map(({ name }) => name).join(" ")}: ${price}`] : [];
        }),
      ),
    );
    const answer = await analyzed(text).choose({
      fields: ["s.foot", "s.side", "s.top"],
      least: ["price"],
      stock: "there",
      pack: "in_kit",
      counts,
      keep: 200,
    });
    expect(answer.complete).toBe(true);
    const found = answer.choices.map(
      ({ picks, aims: [price] }) => `${picks.map(({ thing }) => thing).join(" ")}: ${price}`,
    );
    expect([...found].sort()).toEqual([...fitting].sort());
    const prices = answer.choices.map(({ aims: [price] }) => price ?? 0);
    expect(prices).toEqual([...prices].sort((one, other) => one - other));
  });
});

// ───────────────────────────── changes ─────────────────────────────

describe("what would make a check hold, by trying every step of one figure and of two", () => {
  const names = ["a", "b", "c"] as const;
  /** Steps of each, in millimeters. */
  const steps = [0.5, 1, 2];
  const shapes: readonly [string, (a: number, b: number, c: number) => number][] = [
    ["a * b / 1 mm - c ^ 2 / 1 mm", (a, b, c) => a * b - c * c],
    ["max(a, b) + min(b, c)", (a, b, c) => Math.max(a, b) + Math.min(b, c)],
    ["abs(a - b) * c / 1 mm", (a, b, c) => Math.abs(a - b) * c],
    ["sqrt(a * b) - abs(c - 20 mm)", (a, b, c) => Math.sqrt(a * b) - Math.abs(c - 20)],
    ["(a - 15 mm) ^ 2 / 1 mm + b - c", (a, b, c) => (a - 15) ** 2 + b - c],
  ];
  test.each(draws)("part %d", (seed) => {
    const random = randoms(1700 + seed);
    const [text, formula] = shapes[seed % shapes.length]!;
    const start = steps.map(
      (step) => step * (Math.round(5 / step) + Math.floor((random() * 20) / step)),
    );
    const range: readonly [number, number] = [2, 34];
    const now = formula(start[0]!, start[1]!, start[2]!);
    const limit = Number((now + 1.25 + random() * (seed % 3 === 0 ? 60 : 15)).toFixed(2));
    const analysis = analyzed(`kind piece {
${names.map((name, at) => `${name}: length made to ${steps[at]} mm range ${range[0]} mm..${range[1]} mm`).join("\n")}
out: length
relation "out": out = ${text} }
piece p { ${names.map((name, at) => `${name}: ${start[at]} mm`).join("\n")} }
check "enough": p.out >= ${limit} mm`);
    const grid = (at: number): number[] =>
      Array.from(
        { length: Math.floor((range[1] - range[0]) / steps[at]!) + 1 },
        (_, k) => Math.ceil(range[0] / steps[at]!) * steps[at]! + k * steps[at]!,
      ).filter((each) => each <= range[1]);
    const holds = (places: readonly number[]): boolean =>
      formula(places[0]!, places[1]!, places[2]!) >= limit - 1e-9;
    const put = (at: number, value: number, from: readonly number[] = start): number[] =>
      from.map((each, k) => (k === at ? value : each));
    const [check] = (analysis as Analysis).checks;
    expect(check?.verdict.nominal).toBe("fails");
    const fits = check!.fits();
    // Each offer holds.
    for (const { offers } of fits) {
      const places = start.map((each, at) => {
        const offer = offers.find(({ path }) => path === `p.${names[at]}`);
        return offer === undefined ? each : offer.si * 1000;
      });
      expect(holds(places), offers.map(({ path, shown }) => `${path} ${shown}`).join()).toBe(true);
    }
    const single = names.flatMap((name, at) => {
      const does = grid(at).filter((each) => holds(put(at, each)));
      const nearest = does.sort(
        (one, other) => Math.abs(one - start[at]!) - Math.abs(other - start[at]!),
      )[0];
      return nearest === undefined ? [] : [{ name, by: Math.abs(nearest - start[at]!) }];
    });
    const alone = fits.filter(({ offers }) => offers.length === 1);
    // Of every figure that does by itself, the nearest step that does.
    expect(alone.map(({ offers: [offer] }) => offer!.path.slice(2)).sort()).toEqual(
      single.map(({ name }) => name).sort(),
    );
    for (const { offers } of alone) {
      const at = names.findIndex((name) => offers[0]!.path === `p.${name}`);
      expect(Math.abs(offers[0]!.si * 1000 - start[at]!)).toBeCloseTo(
        single.find(({ name }) => name === names[at])!.by,
        6,
      );
    }
    if (single.length > 0) return;
    // Where none does, two together, if any two do.
    const pairs = names.some((_, at) =>
      names.some(
        (_other, to) =>
          to > at &&
          grid(at).some((one) => grid(to).some((two) => holds(put(to, two, put(at, one))))),
      ),
    );
    expect(fits.some(({ offers }) => offers.length === 2)).toBe(pairs);
  });
});
