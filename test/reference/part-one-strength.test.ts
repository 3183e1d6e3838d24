/** Splines, shafts, the housing as a beam, bearings, axle loads: screening figures. */
import { describe, expect, test } from "vitest";
import { degree, inch, inchPound, mile, millimeter, poundForce, psi, solved } from "./solve-text";

// ANSI B92.1-1970 (R1993), 24/48 pitch, 30 deg; table to six decimals.
describe("splines", () => {
  test.each([
    [28, 1.166667, 1.010363, 1.208333, 1.125],
    [31, 1.291667, 1.118616, 1.333333, 1.25],
    [33, 1.375, 1.190785, 1.416667, 1.333333],
    [35, 1.458333, 1.262954, 1.5, 1.416667],
  ])("%d teeth", (teeth, pitch, base, major, minor) => {
    const build = solved(`shaft s { spline: ${teeth}-24/48 }`);
    expect(build.figure("s.pitch_diameter") / inch).toBeCloseTo(pitch, 6);
    expect(build.figure("s.base_diameter") / inch).toBeCloseTo(base, 6);
    expect(build.figure("s.spline_major") / inch).toBeCloseTo(major, 6);
    expect(build.figure("s.gear_minor") / inch).toBeCloseTo(minor, 6);
    expect(build.figure("s.spline_minor") / inch).toBeCloseTo((teeth - 1.35) / 24, 9);
    expect(build.figure("s.gear_major") / inch).toBeCloseTo((teeth + 1.35) / 24, 9);
  });

  // Common practice: 24/48 is taken where only the teeth are counted, and said to be taken.
  test("a count of teeth alone takes 24/48 as assumed", () => {
    const build = solved("shaft s { spline: 31 }");
    expect(build.figure("s.spline_major") / inch).toBeCloseTo(1.333333, 6);
    expect(build.standing("s.spline_pitch")).toBe("assumed");
    expect(solved("shaft s { spline: 31-24/48 }").standing("s.spline_pitch")).not.toBe("assumed");
    expect(solved("shaft s { spline: 16-16/32 }").figure("s.pitch_diameter") / inch).toBeCloseTo(
      1,
      9,
    );
  });
});

// Shigley 9e, tables A-20 and A-21 (from memory), printed in both kpsi and MPa.
describe("steels", () => {
  test.each([
    ["1018 cold drawn", 54],
    ["1020 hot rolled", 30],
    ["1020 cold drawn", 57],
    ["1040 hot rolled", 42],
    ["1040 cold drawn", 71],
    ["1045 hot rolled", 45],
    ["1045 cold drawn", 77],
    ["1050 cold drawn", 84],
    ["4140 tempered 425 degC", 165],
    ["4140 tempered 540 degC", 121],
    ["4340 tempered 315 degC", 230],
    ["4340 tempered 425 degC", 198],
    ["4340 tempered 540 degC", 156],
  ])("%s yields at %d kpsi", (material, yields) => {
    const yieldStrength = solved(`shaft s { material: "${material}"  diameter: 1 in }`).figure(
      "s.yield_strength",
    );
    expect(Math.abs(yieldStrength / (1000 * psi) - yields)).toBeLessThan(1);
  });

  test("a steel the table does not know is said to be missing, and its figure can be given", () => {
    const build = solved('shaft s { material: "spring leaf"  diameter: 1 in }');
    expect(build.analysis.findings.map((finding) => finding.code)).toContain("table/no-row");
    const given = solved('shaft s { material: "spring leaf"  yield_strength: 900 MPa }');
    expect(given.figure("s.shear_yield") / 1e6).toBeCloseTo(519.3, 9);
  });
});

describe("torsion", () => {
  // Published textbook problem: hollow 400/300 mm, 300 kN·m, G 80 GPa, 2 m; answers derived.
  test("hollow shaft", () => {
    const build = solved(
      "shaft s { diameter: 400 mm  bore: 300 mm  torque: 300 kN-m  shear_modulus: 80 GPa  length: 2 m }",
    );
    expect(build.figure("s.shear_stress") / 1e6).toBeCloseTo(34.92, 2);
    expect(build.figure("s.twist")).toBeCloseTo(4.365e-3, 6);
  });

  // Published textbook problem: solid 2 in, 20 000 lbf·in, 6 ft, G 12 Mpsi.
  test("solid shaft", () => {
    const build = solved(
      "shaft s { diameter: 2 in  torque: 20000 in-lb  shear_modulus: 12 Mpsi  length: 6 ft }",
    );
    expect(build.figure("s.shear_stress") / psi).toBeCloseTo(12732, 0);
    expect(build.figure("s.twist")).toBeCloseTo(0.07639, 5);
  });

  // Derived: solid 1.30 in, 36 000 lbf·in; 30 in long, G 11.5 Mpsi (Shigley table A-5).
  test("an axle shaft of 1.30 in", () => {
    const build = solved("shaft s { diameter: 1.30 in  torque: 36000 in-lb  length: 30 in }");
    expect(build.figure("s.shear_stress") / psi).toBeCloseTo(83453, 0);
    expect(build.figure("s.twist") / degree).toBeCloseTo(19.19, 2);
    // Distortion energy: shear yield is 0.577 of the yield strength (Shigley 5-4).
    const safe = solved(
      'shaft s { diameter: 1.30 in  torque: 36000 in-lb  material: "4340 tempered 425 degC" }',
    );
    expect(safe.figure("s.shear_yield") / 1e6).toBeCloseTo(0.577 * 1360, 6);
    expect(safe.figure("s.safety")).toBeCloseTo((0.577 * 1360e6) / (83453 * psi), 3);
    expect(safe.check("shaft/torsion").verdict.nominal).toBe("holds");
    const soft = solved(
      'shaft s { diameter: 1.30 in  torque: 36000 in-lb  material: "1040 hot rolled" }',
    );
    expect(soft.check("shaft/torsion").verdict.nominal).toBe("fails");
  });

  test("the spline's root is the waist where it is thinner than the body", () => {
    const build = solved("shaft s { diameter: 1.30 in  spline: 28-24/48  torque: 36000 in-lb }");
    expect(build.figure("s.waist") / inch).toBeCloseTo((28 - 1.35) / 24, 9);
    const thin = solved("shaft s { diameter: 1.05 in  spline: 28-24/48 }");
    expect(thin.figure("s.waist") / inch).toBeCloseTo(1.05, 9);
  });
});

// The tube, 3 in by 1/4 in: common practice, no source.
// Beam table: two equal loads at equal distances from the ends; figures derived (see Shigley A-9).
describe("the housing as a beam", () => {
  const build = solved(`
    housing h { tube_diameter: 3 in  tube_wall: 0.25 in  tube_density: 0.2836 lb/in^3  yield_strength: 57 ksi }
    axle a { housing: h  track: 60 in  load: ${3000} lb  strength { spring_base: 40 in } }`);

  test("section of the tube, 3.0 by 0.25 in", () => {
    expect(build.figure("h.area") / inch ** 2).toBeCloseTo(2.159845, 6);
    expect(build.figure("h.second_moment") / inch ** 4).toBeCloseTo(2.058602, 6);
    expect(build.figure("h.section_modulus") / inch ** 3).toBeCloseTo(1.372402, 5);
    expect(build.figure("h.gyration") / inch).toBeCloseTo(0.976281, 6);
    expect((build.figure("h.tube_mass") / 0.45359237) * 0.3048).toBeCloseTo(7.35, 3);
    const metric = solved("housing h { tube_diameter: 76.2 mm  tube_wall: 6.35 mm }");
    expect(metric.figure("h.second_moment") / millimeter ** 4).toBeCloseTo(856855, 0);
  });

  test("bending between the spring seats, 1500 lbf a side, 10 in from the wheels", () => {
    expect(build.figure("a.strength.seat_force") / poundForce).toBeCloseTo(1500, 6);
    expect(build.figure("a.strength.overhang") / inch).toBeCloseTo(10, 9);
    expect(build.figure("a.strength.moment") / inchPound).toBeCloseTo(15000, 4);
    expect(build.figure("a.strength.bending_stress") / psi).toBeCloseTo(27324, 0);
    expect(build.figure("a.strength.sag_center") / inch).toBeCloseTo(0.10888, 5);
    expect(build.figure("a.strength.sag_seat") / inch).toBeCloseTo(0.05863, 5);
    expect(build.figure("a.strength.bending_safety")).toBeCloseTo(57000 / 27324, 4);
    expect(build.check("strength/bending").verdict.nominal).toBe("holds");
  });

  test("a wall too thin", () => {
    const thin = solved(`
      housing h { tube_diameter: 2 1/2 in  tube_wall: 1/8 in }
      axle a { housing: h  track: 64 in  load: 4500 lb  strength { spring_base: 40 in } }`);
    expect(thin.check("strength/bending").verdict.nominal).toBe("fails");
  });

  test("a wall thicker than the tube is refused", () => {
    expect(
      solved("housing h { tube_diameter: 3 in  tube_wall: 1 3/4 in }").check("housing/tube-wall")
        .verdict.nominal,
    ).toBe("fails");
  });
});

// Friction and gears, worked by hand: the shaft sees whichever is less.
describe("torque at a shaft", () => {
  const text = (torque: string): string => `
    tire t { rolling_circumference: ${2 * Math.PI * 0.33} m }
    carrier c { ratio: 3.55 }
    shaft left_shaft { diameter: 33 mm  material: "1040 cold drawn" }
    shaft right_shaft { diameter: 33 mm }
    axle a { tire: t  carrier: c  load: 900 kg  left { shaft: left_shaft }  right { shaft: right_shaft }  strength { input_torque: ${torque} } }`;
  const skid = (1.0 * 1.2 * 900 * 9.80665 * 0.33) / 2;

  test("the tire slips first", () => {
    const build = solved(text("1400 N-m"));
    expect(build.figure("a.strength.gear_torque")).toBeCloseTo((1400 * 3.55) / 2, 9);
    expect(build.figure("a.strength.skid_torque")).toBeCloseTo(skid, 6);
    expect(build.figure("left_shaft.torque")).toBeCloseTo(skid, 6);
    expect(build.figure("right_shaft.torque")).toBeCloseTo(skid, 6);
  });

  test("the gears run out first", () => {
    expect(solved(text("600 N-m")).figure("left_shaft.torque")).toBeCloseTo((600 * 3.55) / 2, 9);
  });
});

describe("bearings", () => {
  // ISO 281 worked example: C 16 kN, P 2 kN, ball: 512 million turns.
  test("512 million turns", () => {
    expect(solved("bearing b { rating: 16 kN  load: 2 kN }").figure("b.life")).toBeCloseTo(512, 9);
  });

  // Derived: C 30, P 3 kN at 1500 rpm: 1000 million turns, 11 111 h.
  test("11 111 hours", () => {
    const build = solved("bearing b { rating: 30 kN  load: 3 kN  speed: 1500 rpm }");
    expect(build.figure("b.life")).toBeCloseTo(1000, 9);
    expect(build.figure("b.life_time") / 3600).toBeCloseTo(11111, 0);
  });

  // Shigley solution 11-3: 10.279 kN, 1440 million turns, roller: C10 91.1 kN.
  test("rating for a life wanted", () => {
    const build = solved("bearing b { type: roller  load: 10.279 kN  life: 1440  rating: ? }");
    expect(build.figure("b.rating") / 1000).toBeCloseTo(91.1, 1);
  });

  // Mott, problem 14-1: 2350 lb over 1675 lb, ball: 2.76 million turns. (56/14)^(10/3) = 101.59.
  test("2.76 million turns, and a roller's exponent", () => {
    expect(solved("bearing b { rating: 2350 lbf  load: 1675 lbf }").figure("b.life")).toBeCloseTo(
      2.76,
      2,
    );
    expect(
      solved("bearing b { type: roller  rating: 56 kN  load: 14 kN }").figure("b.life"),
    ).toBeCloseTo(101.59, 2);
  });

  test("life on the road, loaded by its axle", () => {
    const build = solved(`
      tire t { size: 255/40R18 }
      bearing b { rating: 40 kN }
      axle a { tire: t  load: 900 kg  left { bearing: b } right { bearing: c } }
      bearing c { type: roller  rating: 40 kN }`);
    expect(build.figure("c.load")).toBeCloseTo(450 * 9.80665, 9);
    expect(build.figure("c.rolling_circumference")).toBeCloseTo(3.05 * 0.661, 9);
    expect(build.figure("b.load")).toBeCloseTo(450 * 9.80665, 9);
    const turns = (40000 / (450 * 9.80665)) ** 3 * 1e6;
    expect(build.figure("b.life_distance") / mile).toBeCloseTo((turns * 3.05 * 0.661) / mile, 3);
    expect(build.check("bearing/life", "b").verdict.nominal).toBe("holds");
    const short = solved("bearing b { rating: 12 kN  load: 5 kN  rolling_circumference: 2 m }");
    expect(short.check("bearing/life").verdict.nominal).toBe("fails");
  });
});

describe("axle loads", () => {
  // UN R13 / Directive 71/320/EEC annex II, derived: 825/675 kg, h 0.55 m, E 2.70 m; the table is
  // in newtons at 9.81 m/s², so masses are multiplied by it.
  test.each([
    [0.3, 899.25, 8992.5, 5722.5],
    [0.5, 1498.75, 9592.0, 5123.0],
    [0.8, 2398.0, 10491.25, 4223.75],
  ])("braking at %d g", (share, shift, front, rear) => {
    const build = solved(
      `vehicle v { front_load: 825 kg  rear_load: 675 kg  cg_height: 0.55 m  wheelbase: 2.70 m  braking: ${share} }`,
    );
    expect(build.figure("v.load_shift") * 9.81).toBeCloseTo(shift, 6);
    expect(build.figure("v.front_load_braking") * 9.81).toBeCloseTo(front, 6);
    expect(build.figure("v.rear_load_braking") * 9.81).toBeCloseTo(rear, 6);
    expect(build.figure("v.front_share")).toBeCloseTo(0.55, 9);
  });

  // University exam: 20 000 N, 2.4 m ahead of the rear axle, wheelbase 3.2 m: 15 000 N in front.
  test("static loads from the center of gravity", () => {
    const build = solved(
      "vehicle v { mass: 2000 kg  cg_to_rear: 2.4 m  wheelbase: 3.2 m  front_load: ? }",
    );
    expect(build.figure("v.front_load")).toBeCloseTo(1500, 6);
  });

  test("a rear axle that would lift", () => {
    const build = solved(
      "vehicle v { front_load: 900 kg  rear_load: 200 kg  cg_height: 0.9 m  wheelbase: 2.0 m  braking: 0.8 }",
    );
    expect(build.check("vehicle/lift").verdict.nominal).toBe("fails");
  });
});
