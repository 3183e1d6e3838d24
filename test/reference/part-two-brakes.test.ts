import { describe, expect, it } from "vitest";
import { expectDigits, expectNear, failing, holding, si, solved } from "./part-two-solve-text";

/** The vehicle of the check set: 825 kg and 675 kg, center of gravity 0.55 m, wheelbase 2.70 m. */
const vehicle = `
vehicle car {
  wheelbase: 2.70 m
  mass: 1500 kg
  front_share: 55 %
  cg_height: 0.55 m
}
`;

function withShare(share: number, z: number): ReturnType<typeof solved> {
  return solved(`${vehicle}
brake_system brakes {
  vehicle: car
  gravity: 9.81 m/s^2
  plain_bias: ${share} %
  deceleration: ${z} * 9.81 m/s^2
}`);
}

describe("loads and adhesion while braking", () => {
  // Formulas of Directive 71/320/EEC, annex II, appendix (text of 2007), and of UN R13-H annex 5,
  // worked for 825 kg and 675 kg with g = 9.81 m/s².
  const rows = [
    { z: 0.3, shift: "899.25", front: "8992.5", rear: "5722.5", ideal: "0.61111" },
    { z: 0.5, shift: "1498.75", front: "9592.0", rear: "5123.0", ideal: "0.65185" },
    { z: 0.8, shift: "2398.0", front: "10491.25", rear: "4223.75", ideal: "0.71296" },
  ];
  it.each(rows)("loads at a braking rate of $z", ({ z, shift, front, rear, ideal }) => {
    const analysis = withShare(70, z);
    expectDigits(si(analysis, "brakes.load_shift"), shift);
    expectDigits(si(analysis, "brakes.front_load"), front);
    expectDigits(si(analysis, "brakes.rear_load"), rear);
    expectDigits(si(analysis, "brakes.ideal_bias"), ideal);
  });

  it.each([
    { z: 0.3, share: 70, front: "0.34364", rear: "0.23143" },
    { z: 0.5, share: 70, front: "0.53693", rear: "0.43085" },
    { z: 0.8, share: 70, front: "0.78545", rear: "0.83613" },
    { z: 0.3, share: 75, front: "0.36818", rear: "0.19286" },
    { z: 0.5, share: 75, front: "0.57528", rear: "0.35904" },
    { z: 0.8, share: 75, front: "0.84156", rear: "0.69677" },
  ])("adhesion of both axles at $z with $share % in front", ({ z, share, front, rear }) => {
    const analysis = withShare(share, z);
    expectDigits(si(analysis, "brakes.front_adhesion"), front);
    expectDigits(si(analysis, "brakes.rear_adhesion"), rear);
  });

  it("the fixed share meets the ideal one where the directive's formula says", () => {
    expectDigits(si(withShare(70, 0.5), "brakes.plain_crossing"), "0.73636");
    expectDigits(si(withShare(70, 0.5), "brakes.rear_first_rate"), "0.73636");
    expectDigits(si(withShare(75, 0.5), "brakes.rear_first_rate"), "0.98182");
  });

  it("70 % in front fails at 0.80, 75 % passes", () => {
    expect(failing(withShare(70, 0.5))).toContain("brake/locking-order");
    expect(holding(withShare(75, 0.5))).toContain("brake/locking-order");
  });

  it("a university examination: 20 000 N, 2.4 m ahead of the rear axle, 3.2 m, 1.0 m, 2 m/s²", () => {
    const analysis = solved(`
vehicle car { wheelbase: 3.2 m  mass: 20000 N / 9.81 m/s^2  front_share: 2.4 m / 3.2 m  cg_height: 1.0 m }
brake_system brakes { vehicle: car  gravity: 9.81 m/s^2  deceleration: 2 m/s^2  plain_bias: 70 % }`);
    expectNear(si(analysis, "brakes.front_load") - si(analysis, "brakes.load_shift"), 15_000);
    expectDigits(si(analysis, "brakes.front_force") + si(analysis, "brakes.rear_force"), "4077.5");
    expectDigits(si(analysis, "brakes.front_load"), "16274");
  });
});

describe("a finding about the order of locking", () => {
  const analysis = withShare(70, 0.5);
  const finding = analysis.findings.find((each) => each.code === "brake/locking-order");

  it("says which axle, at what rate, and which change would mend it", () => {
    expect(finding?.message).toMatch(/rear axle locks before the front/);
    expect(finding?.message).toMatch(/0\.73|0\.74|73\.6|74/);
    expect(finding?.hint).toMatch(/knee_start/);
    expect(finding?.hint).toMatch(/pistons/);
  });

  it("carries the caution that brakes are proven by a qualified person", () => {
    expect(finding?.caution).toMatch(/proven on the road or test bed by a qualified person/);
  });

  it("looks at the adhesion of the road in question too", () => {
    const slippery = solved(`${vehicle}
brake_system brakes { vehicle: car  plain_bias: 70 %  road_adhesion: 0.3 }`);
    expect(holding(slippery)).toContain("brake/locks-first");
    const grippy = solved(`${vehicle}
brake_system brakes { vehicle: car  plain_bias: 70 %  road_adhesion: 0.9 }`);
    expect(failing(grippy)).toContain("brake/locks-first");
    expectNear(si(grippy, "brakes.lock_rate"), si(grippy, "brakes.rear_lock_rate"));
  });
});

describe("pedal to pressure to torque", () => {
  it("a community college's worked example: 360 N, 8 to 1, 3 cm and 3.2 cm", () => {
    // The example rounds a quarter of pi to 0.785: held to 0.1 %.
    const analysis = solved(`
brake_system brakes { pedal_force: 360 N  pedal_ratio: 8  boost: 1  bore: 3 cm }
brake disc { caliper: sliding  piston_count: 1  piston_diameter: 3.2 cm  pressure: brakes.line_pressure }`);
    expectNear(si(analysis, "brakes.push_force"), 2880);
    expectNear(si(analysis, "brakes.line_pressure"), 407.6e4, 1e-3);
    expectNear(si(analysis, "disc.clamp"), 3277, 1e-3);
  });

  it("350 N on 6 to 1, one inch bore, two 38.1 mm pistons a side", () => {
    // Worked from p = F i / A, N = p A, T = 2 mu N r (disc brake torque), r of the tire 0.33 m.
    const analysis = solved(`
brake_system brakes { pedal_force: 350 N  pedal_ratio: 6  bore: 25.4 mm }
brake disc {
  caliper: fixed
  piston_count: 4
  piston_diameter: 38.1 mm
  pad_friction: 0.40
  effective_radius: 0.130 m
  pressure: brakes.line_pressure
}`);
    expectDigits(si(analysis, "brakes.line_pressure") / 1e6, "4.14440");
    expectDigits(si(analysis, "disc.clamp"), "9450.0");
    expectDigits(si(analysis, "disc.torque"), "982.8");
    expectDigits(si(analysis, "disc.torque") / 0.33, "2978.2");
  });

  it("turns round: the bore that gives a pressure, the pedal force a clamp asks for", () => {
    const bore = solved(
      `brake_system brakes { pedal_force: 350 N  pedal_ratio: 6  line_pressure: 4.144402 MPa  bore: ? }`,
    );
    expectNear(si(bore, "brakes.bore"), 0.0254, 1e-6);
    const pedal = solved(
      `brake_system brakes { pedal_ratio: 6  bore: 25.4 mm  line_pressure: 4.144402 MPa  pedal_force: ? }`,
    );
    expectNear(si(pedal, "brakes.pedal_force"), 350, 1e-6);
  });

  it("counts all pistons of a sliding caliper, those of one side of a fixed one", () => {
    const area = (form: string): number =>
      si(
        solved(
          `brake disc { caliper: ${form}  piston_count: 2  piston_diameter: 50 mm  piston_area: ? }`,
        ),
        "disc.piston_area",
      );
    expectNear(area("sliding"), 2 * Math.PI * 0.025 ** 2);
    expectNear(area("fixed"), Math.PI * 0.025 ** 2);
  });

  it("adds pistons of a second diameter", () => {
    const analysis = solved(`
brake disc {
  caliper: fixed
  piston_count: 2
  piston_diameter: 44 mm
  second_piston_count: 2
  second_piston_diameter: 38 mm
}`);
    expectNear(si(analysis, "disc.piston_area"), (Math.PI / 4) * (0.044 ** 2 + 0.038 ** 2));
  });
});

/** Four-piston calipers on 13 in front and 12 in rear rotors: common practice, no source. */
const wholeCar = `
vehicle van {
  wheelbase: 114 in
  mass: 3640 lb
  front_share: 54 %
  cg_height: 24 in
  front: front_axle
  rear: rear_axle
}
tire tires { rolling_circumference: 2.1 m }
brake front_disc {
  rotor_diameter: 13 in
  pad_height: 2 in
  caliper: fixed
  piston_count: 4
  piston_diameter: 1.75 in
  pad_friction: 0.42
  pad_clearance: 0.25 mm
  rotor_mass: 22 lb
}
brake rear_disc {
  rotor_diameter: 12 in
  pad_height: 1.75 in
  caliper: fixed
  piston_count: 4
  piston_diameter: 1.38 in
  pad_friction: 0.42
  pad_clearance: 0.25 mm
  rotor_mass: 15 lb
}
axle front_axle { brake: front_disc  tire: tires }
axle rear_axle { brake: rear_disc  tire: tires }
`;

function system(more: string): string {
  return `${wholeCar}
brake_system brakes {
  vehicle: van
  pedal_force: 350 N
  pedal_ratio: 5
  boost: 2
  bore: 1 in
${more}
}`;
}

/** Both axles' adhesion at a braking rate, by counting up the pressure: nothing of the library. */
function locking(
  knee: number | undefined,
  slope: number,
  circuits = 1,
): {
  first: number | undefined;
  at: (z: number) => readonly [number, number];
  lockedAt: (adhesion: number) => number;
} {
  const [mass, g, share, height] = [3640 * 0.45359237, 9.80665, 0.54, 24 / 114];
  const gain = (diameter: number, rotor: number, pad: number): number =>
    (4 * 0.42 * 2 * (Math.PI / 4) * (diameter * 0.0254) ** 2 * ((rotor - pad) / 2) * 0.0254) /
    (2.1 / (2 * Math.PI));
  const [front, rear] = [gain(1.75, 13, 2), gain(1.38, 12, 1.75)];
  const used = (pressure: number): readonly [z: number, front: number, rear: number] => {
    const before = circuits * pressure;
    const behind = knee === undefined || before <= knee ? before : knee + slope * (before - knee);
    const [f1, f2] = [front * pressure, rear * behind];
    const z = (f1 + f2) / (mass * g);
    return [z, f1 / (mass * g * (share + z * height)), f2 / (mass * g * (1 - share - z * height))];
  };
  const pressureAt = (z: number): number => {
    let [low, high] = [0, 1e8];
    for (let i = 0; i < 200; i++) {
      const middle = (low + high) / 2;
      if (used(middle)[0] < z) low = middle;
      else high = middle;
    }
    return low;
  };
  let first: number | undefined;
  for (let z = 0.01; z < 2 && first === undefined; z += 1e-4) {
    const [, f1, f2] = used(pressureAt(z));
    if (f2 > f1) first = z;
  }
  return {
    first,
    at: (z) => {
      const [, f1, f2] = used(pressureAt(z));
      return [f1, f2];
    },
    lockedAt: (adhesion) => {
      let [low, high] = [0, 1e8];
      for (let i = 0; i < 200; i++) {
        const middle = (low + high) / 2;
        const [, f1, f2] = used(middle);
        if (Math.max(f1, f2) < adhesion) low = middle;
        else high = middle;
      }
      return used(low)[0];
    },
  };
}

describe("the whole system", () => {
  it("finds the braking rate above which the rear locks first, as counting up the pressure does", () => {
    for (const knee of [undefined, 2, 4, 5.5]) {
      const line = knee === undefined ? "" : `  knee: ${knee} MPa\n  slope: 40 %`;
      const found = si(solved(system(line)), "brakes.rear_first_rate");
      const counted = locking(knee === undefined ? undefined : knee * 1e6, 0.4).first;
      expect(counted).toBeDefined();
      expect(Math.abs(found - (counted ?? Number.NaN)), `knee ${knee}`).toBeLessThan(2e-4);
    }
  });

  it("finds it for two cylinders on a balance bar too", () => {
    const circuits = ((0.45 / 0.55) * 0.75 ** 2) / 0.875 ** 2;
    for (const knee of [undefined, 2.5]) {
      const line = knee === undefined ? "" : `  knee: ${knee} MPa\n  slope: 40 %`;
      const analysis = solved(
        system(
          `  master: twin\n  front_bore: 0.75 in\n  rear_bore: 0.875 in\n  balance: 55 %\n${line}`,
        ).replace("bore: 1 in", ""),
      );
      const counted = locking(knee === undefined ? undefined : knee * 1e6, 0.4, circuits);
      const found = si(analysis, "brakes.rear_first_rate");
      expect(Math.abs(found - (counted.first ?? Number.NaN)), `knee ${knee}`).toBeLessThan(2e-4);
    }
  });

  it("finds the braking rate at which the first axle locks on any road", () => {
    for (const knee of [undefined, 3]) {
      const line = knee === undefined ? "" : `  knee: ${knee} MPa\n  slope: 40 %`;
      const { lockedAt } = locking(knee === undefined ? undefined : knee * 1e6, 0.4);
      const analysis = solved(system(`${line}\n  road_adhesion: 0.6`));
      expectNear(si(analysis, "brakes.lock_rate"), lockedAt(0.6), 1e-6);
      expectNear(si(analysis, "brakes.low_rate"), lockedAt(0.2), 1e-6);
      expectNear(si(analysis, "brakes.high_rate"), lockedAt(0.8), 1e-6);
      const curve = analysis.curves.find((each) => each.name === "rate_reached");
      const points = curve?.points() ?? [];
      expect(points).toHaveLength(13);
      for (const { x, y } of points) expectNear(y, lockedAt(x), 1e-6);
    }
  });

  it.each([30, 43, 65])(
    "gives the knee that just keeps the front first up to 0.80, slope %d %%",
    (slope) => {
      const plain = solved(system(`  slope: ${slope} %`));
      expect(failing(plain)).toContain("brake/locking-order");
      const limit = si(plain, "brakes.knee_limit");
      const withKnee = (knee: number): ReturnType<typeof solved> =>
        solved(system(`  slope: ${slope} %\n  knee: ${knee} Pa`));
      expect(holding(withKnee(limit * (1 - 1e-6)))).toContain("brake/locking-order");
      expect(failing(withKnee(limit * 1.01))).toContain("brake/locking-order");
      expectNear(si(plain, "brakes.knee_start"), 0.95 * limit);
      expect(holding(withKnee(si(plain, "brakes.knee_start")))).toContain("brake/locking-order");
      // Counting up the pressure says the same.
      expect(locking(0.95 * limit, slope / 100).first).toBeGreaterThan(0.8);
      expect(locking(1.01 * limit, slope / 100).first).toBeLessThan(0.8);
    },
  );

  it("names the knee that would mend the order, and offers it", () => {
    const high = solved(system("  slope: 43 %\n  knee: 4 MPa"));
    expect(failing(high)).toEqual(expect.arrayContaining(["brake/knee", "brake/locking-order"]));
    const check = high.checks.find((each) => each.code === "brake/knee");
    const offered = check
      ?.fits()
      .flatMap(({ offers }) => offers)
      .find(({ path }) => path === "brakes.knee");
    expect(offered).toBeDefined();
    const mended = solved(system(`  slope: 43 %\n  knee: ${offered?.si} Pa`));
    expect(holding(mended)).toEqual(expect.arrayContaining(["brake/knee", "brake/locking-order"]));
  });

  it("says where no knee would do", () => {
    const steep = solved(system("  slope: 90 %"));
    expect(failing(steep)).toContain("brake/slope");
    expect(holding(solved(system("  slope: 40 %")))).toContain("brake/slope");
  });

  it("draws the adhesion of both axles over the deceleration", () => {
    const analysis = solved(system("  knee: 3 MPa\n  slope: 40 %"));
    const points = (name: string): ReadonlyMap<string, number> => {
      const curve = analysis.curves.find(
        (each) => each.thing?.path === "brakes" && each.name === name,
      );
      return new Map(curve?.points().map(({ x, y }) => [x.toFixed(2), y]));
    };
    const [front, rear] = [points("front_used"), points("rear_used")];
    expect(front.size).toBe(19);
    const { at } = locking(3e6, 0.4);
    for (const z of [0.1, 0.3, 0.5, 0.8, 1]) {
      expectNear(front.get(z.toFixed(2)) ?? Number.NaN, at(z)[0], 1e-6);
      expectNear(rear.get(z.toFixed(2)) ?? Number.NaN, at(z)[1], 1e-6);
    }
  });

  it("finds the pedal force a deceleration asks for", () => {
    const forward = solved(system("  knee: 3 MPa\n  slope: 40 %"));
    const back = solved(
      system(
        `  knee: 3 MPa\n  slope: 40 %\n  deceleration: ${si(forward, "brakes.deceleration")} m/s^2`,
      ).replace("pedal_force: 350 N", "pedal_force: ?"),
    );
    expectNear(si(back, "brakes.pedal_force"), 350, 1e-6);
  });

  it("counts the fluid of four calipers against the cylinder's stroke", () => {
    const analysis = solved(system("  stroke_available: 1.25 in"));
    const area = (inch: number): number => 2 * (Math.PI / 4) * (inch * 0.0254) ** 2;
    const fluid = 2 * 2 * 0.25e-3 * (area(1.75) + area(1.38));
    expectNear(si(analysis, "brakes.stroke"), fluid / ((Math.PI / 4) * 0.0254 ** 2));
    expectNear(si(analysis, "brakes.pedal_travel"), 5 * si(analysis, "brakes.stroke"));
    expect(holding(analysis)).toContain("brake/stroke");
    expect(failing(solved(system("  stroke_available: 0.5 in")))).toContain("brake/stroke");
  });

  it("shares the push rod's force between two cylinders by the balance bar", () => {
    const analysis = solved(
      system(
        "  master: twin\n  front_bore: 0.75 in\n  rear_bore: 0.875 in\n  balance: 55 %",
      ).replace("bore: 1 in", ""),
    );
    const area = (inch: number): number => (Math.PI / 4) * (inch * 0.0254) ** 2;
    expectNear(si(analysis, "brakes.line_pressure"), (350 * 10 * 0.55) / area(0.75));
    expectNear(si(analysis, "brakes.rear_pressure"), (350 * 10 * 0.45) / area(0.875));
  });

  it("gives the power and the heat of a stop as screening figures", () => {
    const analysis = solved(system("  stop_speed: 100 km/h"));
    const [mass, speed] = [3640 * 0.45359237, 100 / 3.6];
    expectNear(si(analysis, "brakes.stop_energy"), (mass * speed ** 2) / 2);
    expectNear(
      si(analysis, "brakes.stop_power"),
      mass * si(analysis, "brakes.deceleration") * speed,
    );
    expectNear(
      si(analysis, "brakes.front_rise"),
      (si(analysis, "brakes.front_bias") * mass * speed ** 2) / 4 / (22 * 0.45359237 * 460),
    );
  });

  it("starts an adjustable valve where the order is kept, as an assumption", () => {
    const analysis = solved(system("  valve: adjustable\n  slope: 43 %\n  knee: ?"));
    expectNear(si(analysis, "brakes.knee"), si(analysis, "brakes.knee_start"));
    expect(analysis.valueAt("brakes.knee")?.standing).toBe("assumed");
    expect(holding(analysis)).toContain("brake/locking-order");
    // A pressure measured behind the valve says where it really stands.
    const measured = solved(
      system("  valve: adjustable\n  slope: 43 %\n  rear_pressure: 4 MPa\n  knee: ?"),
    );
    const before = (350 * 10) / ((Math.PI / 4) * 0.0254 ** 2);
    expectNear(si(measured, "brakes.knee"), (4e6 - 0.43 * before) / 0.57, 1e-6);
  });

  it("says that an adjustable valve is only set after the first drive", () => {
    const analysis = solved(system("  valve: adjustable\n  knee: 3 MPa"));
    const note = analysis.findings.find((finding) => finding.code === "brake/set-the-valve");
    expect(note?.severity).toBe("note");
    expect(note?.message).toMatch(/where to start, no more/);
    expect(note?.hint).toMatch(/after the first drive/);
    const after = solved(system("  valve: adjustable\n  knee: 3 MPa\n  set_on_road: yes"));
    expect(after.findings.map((finding) => finding.code)).not.toContain("brake/set-the-valve");
  });

  it("holds the parking brake against the slope", () => {
    const analysis = solved(system("  park_torque: 900 N-m"));
    const [weight, slope] = [3640 * 0.45359237 * 9.80665, Math.atan(0.2)];
    expectNear(
      si(analysis, "brakes.park_needed"),
      (weight * Math.sin(slope) * 2.1) / (2 * Math.PI),
    );
    const normal = weight * (0.46 * Math.cos(slope) - (24 / 114) * Math.sin(slope));
    expectNear(si(analysis, "brakes.park_adhesion"), (weight * Math.sin(slope)) / normal);
    expect(failing(analysis)).toContain("brake/parking");
    expect(holding(solved(system("  park_torque: 1200 N-m")))).toContain("brake/parking");
  });
});

describe("figures of the regulations", () => {
  it("stopping distances: 0.10 V + 0.0060 V² (UN R13-H annex 3; 70 m from 100 km/h is 49 CFR 571.135 S7.5)", () => {
    for (const [speed, allowed] of [
      [100, "70.0"],
      [80, "46.4"],
      [60, "27.6"],
    ] as const) {
      expectDigits(
        si(
          solved(`brake_system brakes { stop_speed: ${speed} km/h  stop_allowed: ? }`),
          "brakes.stop_allowed",
        ),
        allowed,
      );
    }
    expectDigits(
      si(
        solved("brake_system brakes { stop_speed: 100 km/h  failed_allowed: ? }"),
        "brakes.failed_allowed",
      ),
      "168.0",
    );
  });

  it("least braking rate: 0.1 + 0.7 (k − 0.2), or with 0.85 (UN R13-H, 71/320/EEC)", () => {
    const needed = (k: number, factor: number): number =>
      si(
        solved(
          `brake_system brakes { high_adhesion: ${k}  rate_factor: ${factor}  high_rate_needed: ? }`,
        ),
        "brakes.high_rate_needed",
      );
    expectDigits(needed(0.5, 0.7), "0.31");
    expectDigits(needed(0.8, 0.7), "0.52");
    expectDigits(needed(0.5, 0.85), "0.355");
    expectDigits(needed(0.8, 0.85), "0.61");
  });

  it("mean fully developed deceleration: 80 and 10 km/h over 37.80 m is 6.43 m/s² (UN R13 annex 4)", () => {
    const analysis = solved(
      "brake_test stop { speed: 100 km/h  upper_distance: 0 m  lower_distance: 37.80 m  mean_deceleration: ? }",
    );
    expectDigits(si(analysis, "stop.mean_deceleration"), "6.43");
  });
});

describe("the rotor", () => {
  it("is not run under its minimum, out of true or unevenly thick", () => {
    const worn = solved(
      "brake disc { rotor_thickness: 0.98 in  rotor_minimum: 1.00 in  rotor_runout: 0.006 in  rotor_variation: 0.001 in }",
    );
    expect(failing(worn)).toEqual([
      "brake/rotor-minimum",
      "brake/runout",
      "brake/thickness-variation",
    ]);
    const good = solved(
      "brake disc { rotor_thickness: 1.05 in  rotor_minimum: 1.00 in  rotor_runout: 0.002 in  rotor_variation: 0.0002 in }",
    );
    expect(failing(good)).toEqual([]);
    expect(holding(good)).toHaveLength(3);
  });

  it("has pads with enough on them", () => {
    expect(failing(solved("brake disc { pad_thickness: 2.5 mm }"))).toEqual(["brake/pads"]);
    expect(holding(solved("brake disc { pad_thickness: 6 mm }"))).toEqual(["brake/pads"]);
  });

  it("reckons a drum by its brake factor", () => {
    const analysis = solved(
      "brake drum_brake { form: drum  brake_factor: 2.0  piston_area: 300 mm^2  effective_radius: 127 mm  pressure: 5 MPa }",
    );
    expectNear(si(analysis, "drum_brake.torque"), 2.0 * 300 * 5 * 0.127);
  });

  it("puts the friction in the middle of the pad", () => {
    expectNear(
      si(
        solved("brake disc { rotor_diameter: 12.4 in  pad_height: 2 in  effective_radius: ? }"),
        "disc.effective_radius",
      ),
      5.2 * 0.0254,
    );
  });
});
