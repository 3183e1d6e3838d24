/** Leaf springs, trailing arms, Watt's link, straps and air, each by integration or by a search. */
import { describe, expect, it } from "vitest";
import { expectNear, failing, holding, si, solved } from "./part-two-solve-text";

describe("leaf springs", () => {
  const analysis = solved(`leaf_path s { front_length: 0.52 m  rear_length: 0.66 m  arch: 70 mm
  bump: 80 mm  droop: 90 mm  shackle: 110 mm  shackle_angle: 5 deg  seat_slope: 1 deg  pinion_slope: 3 deg }`);

  /** How far the clamped end of a leaf bent to an arc stands from its eye, `down` below it. */
  const along = (length: number, down: number): number => {
    let [low, high] = [0, 3];
    const drop = (curve: number): number =>
      curve < 1e-9 ? 0 : (1 - Math.cos(curve * length)) / curve;
    for (let step = 0; step < 80; step += 1) {
      const middle = (low + high) / 2;
      if (drop(middle) < Math.abs(down)) low = middle;
      else high = middle;
    }
    return low < 1e-9 ? length : Math.sin(low * length) / low;
  };

  it("the axle's way: the leaf as an arc of unchanged length", () => {
    expect(si(analysis, "s.bump_shift")).toBeCloseTo(along(0.52, -0.01) - along(0.52, 0.07), 3);
    expect(si(analysis, "s.droop_shift")).toBeCloseTo(along(0.52, 0.16) - along(0.52, 0.07), 2);
    // The eye runs on a circle of three quarters of the length: its curvature, by differences.
    const step = 1e-3;
    const bent = (2 * (0.52 - along(0.52, step))) / step ** 2;
    expectNear(1 / bent, 0.75 * 0.52, 1e-3);
  });

  it("the pinion turns as both halves bend by their length to the third: beams integrated", () => {
    // Cantilever of a width that falls to nothing at its end, unit load: curvature is the same all along.
    const yielding = (length: number): number => {
      let [slope, down] = [0, 0];
      const steps = 20_000;
      for (let step = 0; step < steps; step += 1) {
        const curvature = 1; // moment over second moment, both falling with the distance to the eye
        slope += (curvature * length) / steps;
        down += (slope * length) / steps;
      }
      return down * length; // load times length over root stiffness
    };
    const [a, b] = [0.52, 0.66];
    const [front, rear] = [(yielding(a) * b) / (a + b), (yielding(b) * a) / (a + b)];
    const turn = (front - rear) / (a + b);
    const rise = front - a * turn;
    expectNear(si(analysis, "s.bump_turn"), (0.08 * turn) / rise, 1e-4);
    expectNear(si(analysis, "s.droop_turn"), (-0.09 * turn) / rise, 1e-4);
  });

  it("the shackle swings by what both halves lengthen", () => {
    const longer = (down: number): number =>
      (2 / 3) * (0.07 ** 2 - down ** 2) * (1 / 0.52 + 1 / 0.66);
    expectNear(
      0.11 * (Math.sin(si(analysis, "s.bump_shackle")) - Math.sin((5 * Math.PI) / 180)),
      longer(-0.01),
      1e-9,
    );
    expectNear(si(analysis, "s.perch_angle"), (2 * Math.PI) / 180, 1e-9);
    expect(holding(analysis)).toContain("linkage/shackle");
  });
});

describe("trailing arms", () => {
  it("swing the axle about their bolts: a rigid bar turned until its end has risen", () => {
    const analysis = solved(
      "trailing_arms a { axle_height: 0.34 m  pivot_forward: 1.05 m  pivot_up: 0.3 m  bump: 80 mm  droop: 70 mm }",
    );
    for (const [end, travel] of [
      ["bump", 0.08],
      ["droop", -0.07],
    ] as const) {
      // Nose up by q turns the axle at (0, 0.34) about (1.05, 0.3).
      let [low, high] = [-0.3, 0.3];
      const rise = (q: number): number => -1.05 * Math.sin(q) + 0.04 * Math.cos(q) - 0.04;
      for (let step = 0; step < 80; step += 1) {
        const middle = (low + high) / 2;
        if (rise(middle) > travel) low = middle;
        else high = middle;
      }
      expectNear(si(analysis, `a.${end}_turn`), low, 1e-9);
      expectNear(
        si(analysis, `a.${end}_shift`),
        -(1.05 - 1.05 * Math.cos(low) - 0.04 * Math.sin(low)),
        1e-6,
      );
    }
  });
});

describe("Watt's link", () => {
  const text = (pivot: string): string =>
    `watts_link w { pivot_on: ${pivot}  pivot_up: 0.35 m  half_link: 0.11 m  left_out: 0.5 m  left_up: 0.45 m
  right_out: 0.42 m  right_up: 0.26 m  bump: 80 mm  droop: 90 mm }`;

  /** The pivot's sideways place for a rise: lean swept finely until both bars fit. */
  const side = (rise: number): number => {
    const left = Math.hypot(0.5, 0.45 - 0.46);
    const right = Math.hypot(0.42, 0.26 - 0.24);
    const place = (lean: number): readonly [number, number] => [
      Math.sqrt(left ** 2 - (0.45 - 0.35 - rise - 0.11 * Math.cos(lean)) ** 2) -
        0.5 -
        0.11 * Math.sin(lean),
      0.42 +
        0.11 * Math.sin(lean) -
        Math.sqrt(right ** 2 - (0.26 - 0.35 - rise + 0.11 * Math.cos(lean)) ** 2),
    ];
    let best = { miss: 1, at: 0 };
    for (let lean = -1; lean <= 1; lean += 1e-5) {
      const [a, b] = place(lean);
      if (Math.abs(a - b) < best.miss) best = { miss: Math.abs(a - b), at: (a + b) / 2 };
    }
    return best.at;
  };

  it("on the axle: both bars keep their length", () => {
    const analysis = solved(text("axle"));
    expect(si(analysis, "w.bump_shift")).toBeCloseTo(side(0.08), 5);
    expect(si(analysis, "w.droop_shift")).toBeCloseTo(side(-0.09), 5);
    expectNear(si(analysis, "w.roll_center"), 0.35);
  });

  it("on the body: the axle goes the other way as the pivot falls against it", () => {
    const analysis = solved(text("body"));
    expect(si(analysis, "w.bump_shift")).toBeCloseTo(-side(-0.08), 5);
    expect(si(analysis, "w.droop_shift")).toBeCloseTo(-side(0.09), 5);
  });

  it("a short link that comes near the line of its bars is told", () => {
    const short = text("axle").replace("half_link: 0.11 m", "half_link: 0.08 m");
    expect(
      failing(solved(short.replace("bump: 80 mm", "bump: 200 mm  lean_allowed: 30 deg"))),
    ).toContain("linkage/watts-lean");
  });
});

describe("limit strap", () => {
  it("is taut where it is to be, and tells the droop of one that is there", () => {
    const [along, across, up, droop] = [0.05, 0.03, 0.28, 0.085];
    const taut = Math.hypot(along, across, up + droop);
    const place = `along: ${along} m  across: ${across} m  up: ${up} m  stretch: 12 %`;
    expectNear(
      si(solved(`limit_strap s { ${place}  droop: ${droop} m }`), "s.length"),
      taut / 1.12,
      1e-9,
    );
    expectNear(
      si(solved(`limit_strap s { ${place}  length: ${taut / 1.12} m }`), "s.droop"),
      droop,
      1e-6,
    );
  });
});

describe("air spring", () => {
  it("its rate is the slope of load over travel, the gas pressed step by step", () => {
    const analysis = solved(
      "air_spring b { area: 180 cm^2  area_slope: 0.05 m  volume: 2.4 L  load: 5 kN  exponent: 1.38 }",
    );
    const [ambient, area, volume] = [101325, 0.018, 0.0024];
    const pressed = (travel: number): number => {
      // dV = -A ds, A grows by 0.05 m for each meter.
      let [v, p, a] = [volume, 5000 / area + ambient, area];
      const steps = 2000;
      for (let step = 0; step < steps; step += 1) {
        const ds = travel / steps;
        const next = v - (a + (0.05 * ds) / 2) * ds;
        p *= (v / next) ** 1.38;
        v = next;
        a += 0.05 * ds;
      }
      return (p - ambient) * a;
    };
    const slope = (pressed(1e-5) - pressed(-1e-5)) / 2e-5;
    expectNear(si(analysis, "b.rate"), slope, 1e-5);
    expectNear(si(analysis, "b.pressure"), 5000 / area, 1e-9);
    const mass = 5000 / 9.80665;
    expectNear(si(analysis, "b.frequency"), Math.sqrt(slope / mass) / (2 * Math.PI), 1e-5);
  });
});

describe("the driveshaft follows the axle", () => {
  const shaft =
    "driveshaft s { run: 1.2 m  drop: 0.12 m  output_slope: 2 deg  pinion_slope: 2 deg  bump: 80 mm  droop: 90 mm }";
  const leaves = (whose: string): string =>
    `leaf_path l { ${whose} front_length: 0.5 m  rear_length: 0.62 m  arch: 70 mm  bump: 80 mm  droop: 90 mm }`;

  it("its length over the travel is that from joint to joint where the leaves take the axle", () => {
    const analysis = solved(`${shaft}\n${leaves("driveshaft: s ")}`);
    const [shift, turn] = [si(analysis, "l.bump_shift"), si(analysis, "l.bump_turn")];
    expect(Math.abs(shift)).toBeGreaterThan(0.001);
    expectNear(si(analysis, "s.bump_length"), Math.hypot(1.2 + shift, 0.12 - 0.08), 1e-9);
    expectNear(si(analysis, "s.bump_turn"), turn, 1e-9);
  });

  it("straight up where nothing tells otherwise", () => {
    const analysis = solved(`${shaft}\n${leaves("")}`);
    expectNear(si(analysis, "s.bump_length"), Math.hypot(1.2, 0.12 - 0.08), 1e-9);
  });
});
