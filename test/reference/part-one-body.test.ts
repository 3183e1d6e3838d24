/** Room for the tire in the body. */
import { describe, expect, test } from "vitest";
import { inch, millimeter, solved } from "./solve-text";

const parts = `
  tire t { size: 275/50R17 }
  wheel w { size: 17x9  offset: 18 mm }`;

/** 275 mm on a 9 in rim: 275 + 0.4 * 12.7 = 280.08 mm (UN R30 6.1.1.1). */
const width = 280.08 * millimeter;
/** Overall diameter and section height to the millimeter (ISO 4000-1). */
const diameter = 708 * millimeter;
const height = 138 * millimeter;

// Common practice, no source: a gap of 3/4 in, limits measured to 1/16, the tire at its service
// maximum; the growth of 4 % is ETRTO's, from memory.
describe("a gap of 3/4 in at its worst", () => {
  const build = solved(`${parts}
    axle a { tire: t  wheel: w
      left { tire_center: 31 in  inner_limit: ${31 - width / 2 / inch - 0.75} in ± 1/16 in } }`);

  test("nominal gap", () => {
    expect(build.figure("a.left.inner_gap") / inch).toBeCloseTo(0.75, 9);
    expect(build.worst("a.left.inner_gap") / inch).toBeCloseTo(1 / 16, 9);
  });

  test("what is left of it with the tire grown", () => {
    const left = 0.75 * inch - (0.04 * width) / 2;
    expect(build.figure("a.left.body.inner_service_gap")).toBeCloseTo(left, 9);
    expect(build.worst("a.left.body.inner_service_gap") / inch).toBeCloseTo(1 / 16, 9);
    // 3/4 in less 0.2205 in of growth less 1/16 in of measuring: a little under 15/32 in.
    expect((left - inch / 16) / inch).toBeCloseTo(0.467, 3);
    expect(build.check("clearance/inner-service", "a.left.body").verdict.worst).toBe("holds");
  });

  test("a gap that only the growth closes", () => {
    const tight = solved(`${parts}
      axle a { tire: t  wheel: w  left { tire_center: 31 in  outer_gap: 3/16 in  wanted_gap: 1/8 in } }`);
    expect(tight.check("clearance/outer-gap", "a.left").verdict.nominal).toBe("holds");
    expect(tight.check("clearance/outer-service", "a.left.body").verdict.nominal).toBe("fails");
    const open = solved(`${parts}
      axle a { tire: t  wheel: w  left { tire_center: 31 in  outer_gap: 13/16 in } }`);
    expect(open.check("clearance/outer-service", "a.left.body").verdict.nominal).toBe("holds");
  });

  test("a gap that only the measuring can close holds nominally and not at worst", () => {
    const tight = solved(`${parts}
      axle a { tire: t  wheel: w
        left { tire_center: 31 in  inner_limit: ${31 - width / 2 / inch - 0.55} in ± 1/16 in } }`);
    expect(tight.check("clearance/inner-gap", "a.left").verdict.nominal).toBe("holds");
    expect(tight.check("clearance/inner-gap", "a.left").verdict.worst).toBe("fails");
  });
});

// Geometry, worked by hand.
describe("tub and fender", () => {
  const build = solved(`${parts}
    axle a { tire: t  wheel: w
      left {
        tire_center: 31 in
        body { tub_room: 19 in  bump_travel: 3 1/2 in  fender_edge: 36 in  cover: 1/8 in }
      } }`);

  test("radial room at ride height and on the bump stop", () => {
    expect(build.figure("a.left.body.tub_gap")).toBeCloseTo(19 * inch - diameter / 2, 9);
    const grown = diameter / 2 + 0.04 * height;
    expect(build.figure("a.left.body.tub_bump_gap")).toBeCloseTo(15.5 * inch - grown, 9);
    expect(build.check("clearance/tub", "a.left.body").verdict.nominal).toBe("holds");
  });

  test("a tub too low", () => {
    const low = solved(
      `${parts} axle a { tire: t  left { body { tub_room: 17 in  bump_travel: 3 in } } }`,
    );
    expect(low.check("clearance/tub", "a.left.body").verdict.nominal).toBe("fails");
  });

  test("poke, and how far the fender must move", () => {
    const poke = 31 * inch + width / 2 - 36 * inch;
    expect(build.figure("a.left.body.poke")).toBeCloseTo(poke, 9);
    expect(build.figure("a.left.body.fender_move")).toBeCloseTo(poke + inch / 8, 9);
    expect(build.check("clearance/fender", "a.left.body").verdict.nominal).toBe("fails");
    const covered = solved(`${parts}
      axle a { tire: t  wheel: w  left { tire_center: 31 in  body { fender_edge: 37 in } } }`);
    expect(covered.check("clearance/fender", "a.left.body").verdict.nominal).toBe("holds");
  });
});

// Geometry, worked by hand: several limits, at several heights, at ride height, in bump, in droop.
describe("limits at several heights", () => {
  const build = solved(`${parts}
    axle a { tire: t  wheel: w  track: 62 in
      left {
        body {
          bump_travel: 3 in
          droop_travel: 4 in
          body_limit spring { side: inner  place: 24 in }
          body_limit frame { side: inner  at: bump  place: 24 in  height: 24 in }
          body_limit high_lip { side: outer  at: bump  place: 37 in  height: 24 in }
          body_limit low_rail { side: inner  at: bump  place: 24 in  height: 10 in }
          body_limit lip { side: outer  at: droop  place: 37 in  height: 20 in }
          body_limit floor { side: inner  place: 30 in  height: 40 in }
        }
      } }`);
  const center = 31 * inch;
  const hub = diameter / 2;

  test("at ride height, level with the wheel", () => {
    expect(build.figure("a.left.body.spring.gap")).toBeCloseTo(center - width / 2 - 24 * inch, 9);
    expect(build.figure("a.left.body.spring.service_gap")).toBeCloseTo(
      center - (width * 1.04) / 2 - 24 * inch,
      9,
    );
  });

  // Every place of the other wheel, in small steps: the tightest gap is the one that is told.
  const tightest = (side: number, height: number, travel: number, place: number): number => {
    let least = Number.POSITIVE_INFINITY;
    for (let step = 0; step <= 700; step += 1) {
      const other = -4 + (7 * step) / 700;
      const lean = ((height * inch - (hub + travel * inch)) * (travel - other)) / 62;
      const gap = side * (center - lean - place * inch) - width / 2;
      least = Math.min(least, gap);
    }
    return least;
  };

  test("in bump the worst of both wheels up, one wheel up and full roll", () => {
    expect(build.figure("a.left.body.frame.wheel_height")).toBeCloseTo(hub + 3 * inch, 9);
    expect(build.figure("a.left.body.frame.gap")).toBeCloseTo(tightest(1, 24, 3, 24), 9);
    expect(build.figure("a.left.body.high_lip.gap")).toBeCloseTo(tightest(-1, 24, 3, 37), 9);
    expect(build.figure("a.left.body.low_rail.gap")).toBeCloseTo(tightest(1, 10, 3, 24), 9);
  });

  test("both wheels up lean nothing: a fender lip above the wheel's center is nearest then", () => {
    expect(build.figure("a.left.body.high_lip.gap")).toBeCloseTo(37 * inch - center - width / 2, 9);
  });

  test("in droop too", () => {
    expect(build.figure("a.left.body.lip.gap")).toBeCloseTo(tightest(-1, 20, -4, 37), 9);
  });

  test("a point above the tire is no limit beside it", () => {
    expect(build.figure("a.left.body.floor.gap")).toBeLessThan(0);
    expect(build.check("clearance/limit", "a.left.body.floor").verdict.nominal).toBe("holds");
  });

  test("a point beside the tire that is too near is one", () => {
    const near = solved(`${parts}
      axle a { tire: t  wheel: w  track: 62 in  left { body { body_limit rail { place: 25 1/4 in } } } }`);
    expect(near.check("clearance/limit", "a.left.body.rail").verdict.nominal).toBe("fails");
    expect(near.check("clearance/limit-service", "a.left.body.rail").verdict.nominal).toBe("holds");
  });
});
