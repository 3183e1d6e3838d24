import { describe, expect, it } from "vitest";
import { expectDigits, expectNear, failing, holding, si, solved } from "./part-two-solve-text";

const degree = Math.PI / 180;
const rpm = Math.PI / 30;

describe("one cardan joint", () => {
  const joint = (more: string): ReturnType<typeof solved> =>
    solved(`universal_joint joint { ${more} }`);

  // Extremes 1 / cos b and cos b of w2 / w1 = cos b / (1 − sin² b cos² g1): mechanics of machinery.
  it.each([
    { angle: 3, fastest: "1.0013723", slowest: ".9986295" },
    { angle: 5, fastest: "1.0038198", slowest: ".9961947" },
    { angle: 10, fastest: "1.0154266", slowest: ".9848078" },
    { angle: 20, fastest: "1.0641778", slowest: ".9396926" },
    { angle: 30, fastest: "1.1547005", slowest: ".8660254" },
  ])("speeds up to $fastest and down to $slowest at $angle deg", ({ angle, fastest, slowest }) => {
    const analysis = joint(`angle: ${angle} deg  speed: 100 rad/s`);
    expectDigits(si(analysis, "joint.fastest"), fastest);
    expectDigits(si(analysis, "joint.slowest"), slowest);
  });

  it("tan g2 = tan g1 / cos b, and the speed at that turn", () => {
    const one = joint("angle: 30 deg  turn: 45 deg");
    expectDigits(si(one, "joint.turn_out") / degree, "49.1066");
    expectDigits(si(one, "joint.speed_ratio"), ".989743");
    const other = joint("angle: 20 deg  turn: 30 deg");
    expectDigits(si(other, "joint.turn_out") / degree, "31.5667");
    expectDigits(si(other, "joint.speed_ratio"), "1.030064");
  });

  it("a published example: 1200 rpm that may vary by 100 rpm allow 16.42 deg", () => {
    // Textbook example on Hooke's joint: 12 x² + x − 12 = 0 with x = cos b; the page itself prints
    // 16.2 deg, which its own cosine 0.9592 contradicts.
    const analysis = joint("speed: 1200 rpm  ripple: 100 rpm  angle: ?");
    expectDigits(si(analysis, "joint.angle") / degree, "16.42");
    expectDigits(si(analysis, "joint.slowest"), ".959201");
    expectDigits(si(analysis, "joint.fastest_speed") / rpm, "1251.0");
    expectDigits(si(analysis, "joint.slowest_speed") / rpm, "1151.0");
  });

  it("25 deg at 100 rad/s", () => {
    const analysis = joint("angle: 25 deg  speed: 100 rad/s");
    expectDigits(si(analysis, "joint.fastest_speed"), "110.338");
    expectDigits(si(analysis, "joint.slowest_speed"), "90.631");
  });

  // Greatest of w1² cos b sin² b sin 2g / (1 − sin² b cos² g)² over the turn, at 3000 rpm.
  it.each([
    { angle: 3, peak: "270.7" },
    { angle: 5, peak: "752.6" },
    { angle: 10, peak: "3022.7" },
  ])("gains and loses at most $peak rad/s² at $angle deg and 3000 rpm", ({ angle, peak }) => {
    expectDigits(
      si(joint(`angle: ${angle} deg  speed: 3000 rpm`), "joint.peak_acceleration"),
      peak,
    );
  });

  it("finds the greatest acceleration that stepping through the turn finds", () => {
    for (const angle of [0.5, 12, 35]) {
      const [b, w] = [angle * degree, 200 * rpm];
      let greatest = 0;
      for (let g = 0; g < Math.PI; g += 1e-5) {
        const a =
          (w ** 2 * Math.cos(b) * Math.sin(b) ** 2 * Math.sin(2 * g)) /
          (1 - Math.sin(b) ** 2 * Math.cos(g) ** 2) ** 2;
        greatest = Math.max(greatest, a);
      }
      expectNear(
        si(joint(`angle: ${angle} deg  speed: 200 rpm`), "joint.peak_acceleration"),
        greatest,
        1e-8,
      );
    }
    expect(si(joint("angle: 0 deg  speed: 200 rpm"), "joint.peak_acceleration")).toBe(0);
  });

  it("draws its speed over one turn", () => {
    const analysis = joint("angle: 30 deg");
    const points =
      analysis.curves.find((curve) => curve.name === "ripple_over_turn")?.points() ?? [];
    expect(points).toHaveLength(73);
    expectNear(Math.max(...points.map((point) => point.y)), 1 / Math.cos(30 * degree));
    expectNear(Math.min(...points.map((point) => point.y)), Math.cos(30 * degree));
  });
});

describe("angles of a driveshaft", () => {
  it("in side view the joints' angles are the differences of the slopes", () => {
    const analysis = solved(
      "driveshaft shaft { output_slope: 3 deg  shaft_slope: 6 deg  pinion_slope: 4 deg  shaft_plan: 0 deg }",
    );
    expectNear(si(analysis, "shaft.front_angle"), 3 * degree, 1e-9);
    expectNear(si(analysis, "shaft.rear_angle"), 2 * degree, 1e-9);
    // sqrt(|3² − 2²|), SAE AE-7 (from memory).
    expectDigits(si(analysis, "shaft.equivalent_angle") / degree, "2.2361");
  });

  it("equal joints in one plane cancel", () => {
    const analysis = solved(
      "driveshaft shaft { output_slope: 3 deg  shaft_slope: 6 deg  pinion_slope: 3 deg  shaft_plan: 0 deg }",
    );
    expect(si(analysis, "shaft.equivalent_angle") / degree).toBeLessThan(1e-5);
    expect(si(analysis, "shaft.both.peak_acceleration")).toBeLessThan(1e-6);
    expect(holding(analysis)).toContain("driveline/equivalent-angle");
    const turned = solved(
      "driveshaft shaft { output_slope: 3 deg  shaft_slope: 6 deg  pinion_slope: 3 deg  shaft_plan: 0 deg  yoke_turn: 90 deg }",
    );
    expectNear(si(turned, "shaft.equivalent_angle") / degree, Math.SQRT2 * 3, 1e-6);
  });

  it("three joints: sqrt(|b1² − b2² + b3²|) (SAE AE-7, from memory)", () => {
    const analysis = solved(
      `driveshaft front { ends_at: bearing  front_angle: 3 deg }
driveshaft shaft { ahead: front  front_angle: 4 deg  rear_angle: 2 deg  equivalent_angle: ? }`,
    );
    expectNear(si(analysis, "shaft.equivalent_angle") / degree, Math.sqrt(3), 1e-9);
  });

  it("2.0 deg in side view and 1.5 deg in plan are 2.49927 deg (tan b = sqrt(tan² + tan²))", () => {
    const analysis = solved(
      "driveshaft shaft { output_slope: 0 deg  shaft_slope: 2.0 deg  shaft_plan: 1.5 deg  pinion_slope: 0 deg }",
    );
    expectDigits(si(analysis, "shaft.front_angle") / degree, "2.49927");
    expectDigits(si(analysis, "shaft.rear_angle") / degree, "2.49927");
  });

  it("in both planes at once it is the angle between two lines in space", () => {
    const analysis = solved(
      "driveshaft shaft { output_slope: 4 deg  output_plan: 1 deg  shaft_slope: 9 deg  shaft_plan: -6 deg  pinion_slope: 2 deg }",
    );
    const line = (slope: number, plan: number): number[] => [
      1,
      Math.tan(plan * degree),
      Math.tan(slope * degree),
    ];
    const between = (one: number[], other: number[]): number => {
      const dot = (a: number[], b: number[]): number =>
        a.reduce((sum, each, at) => sum + each * (b[at] ?? 0), 0);
      return Math.acos(dot(one, other) / Math.sqrt(dot(one, one) * dot(other, other)));
    };
    expectNear(si(analysis, "shaft.front_angle"), between(line(4, 1), line(9, -6)), 1e-9);
    expectNear(si(analysis, "shaft.rear_angle"), between(line(9, -6), line(2, 0)), 1e-9);
  });

  it("3 deg at 3000 rpm stays below 300 rad/s², 5 deg does not (limit from memory, SAE AE-7)", () => {
    const at = (slope: number): string[] =>
      failing(
        solved(
          `driveshaft shaft { output_slope: 0 deg  shaft_slope: ${slope} deg  pinion_slope: ${slope} deg  shaft_plan: 0 deg  cruise_shaft_speed: 3000 rpm }`,
        ),
      );
    expect(at(3)).not.toContain("driveline/acceleration");
    expect(at(5)).toContain("driveline/acceleration");
  });

  it("says what to set the pinion to, standing", () => {
    expectNear(
      si(
        solved("driveshaft shaft { output_slope: 3 deg  windup: 2 deg  pinion_setting: ? }"),
        "shaft.pinion_setting",
      ),
      degree,
    );
  });
});

describe("length and travel", () => {
  const text = `
driveshaft shaft {
  run: 48 in
  drop: 4 in
  output_slope: 4 deg
  pinion_slope: 3 deg
  bump: 3 in
  droop: 4 in
  slip_engagement: 3 in
  slip_room: 1 in
}`;
  it("takes the length from the joint centers and follows the axle up and down", () => {
    const analysis = solved(text);
    const inch = 0.0254;
    expectNear(si(analysis, "shaft.length"), Math.hypot(48, 4) * inch);
    expectNear(si(analysis, "shaft.bump_length"), Math.hypot(48, 1) * inch);
    expectNear(si(analysis, "shaft.droop_length"), Math.hypot(48, 8) * inch);
    expectNear(si(analysis, "shaft.shaft_slope"), Math.atan2(4, 48));
    expectNear(si(analysis, "shaft.bump_front_angle"), Math.abs(4 * degree - Math.atan2(1, 48)));
    expectNear(si(analysis, "shaft.droop_rear_angle"), Math.abs(Math.atan2(8, 48) - 3 * degree));
    expectNear(
      si(analysis, "shaft.slip_least"),
      (3 - (Math.hypot(48, 8) - Math.hypot(48, 4))) * inch,
    );
    expectNear(
      si(analysis, "shaft.slip_left"),
      (1 - (Math.hypot(48, 4) - Math.hypot(48, 1))) * inch,
    );
    expect(holding(analysis)).toEqual(
      expect.arrayContaining(["driveline/slip-engagement", "driveline/slip-room"]),
    );
  });

  it("objects where the slip yoke comes out too far or bottoms", () => {
    const short = solved(
      text
        .replace("slip_engagement: 3 in", "slip_engagement: 1.6 in")
        .replace("slip_room: 1 in", "slip_room: 0.8 in"),
    );
    expect(failing(short)).toEqual(
      expect.arrayContaining(["driveline/slip-engagement", "driveline/slip-room"]),
    );
  });

  it("turns round: the drop that makes a slope", () => {
    expectNear(
      si(solved("driveshaft shaft { run: 1 m  shaft_slope: 5 deg  drop: ? }"), "shaft.drop"),
      Math.tan(5 * degree),
    );
  });
});

describe("critical speed", () => {
  const tube = (more: string): number =>
    si(solved(`driveshaft shaft { ${more}  critical_speed: ? }`), "shaft.critical_speed");

  it("Shigley 9e, problem on a 25 mm shaft of 600 mm: 883 rad/s", () => {
    // Specific weight 76.5 kN/m³ as the book gives it, turned to mass with 9.81 m/s².
    const found = tube(
      "length: 600 mm  tube_diameter: 25 mm  tube_wall: 12.5 mm  modulus: 207 GPa  density: 7798.165 kg/m^3",
    );
    expectDigits(found, "883");
    expectNear(found, 882.8, 1e-4);
    expectNear(found / rpm, 8430, 1e-4);
  });

  // Shigley 9e, equation 7-22, worked for tubes: E 29 Mpsi, 0.2836 lb/in³.
  it.each([
    { diameter: 3.0, wall: 0.083, length: 48, speed: "8385.8" },
    { diameter: 3.5, wall: 0.083, length: 60, speed: "6286.2" },
    { diameter: 3.0, wall: 0.125, length: 48, speed: "8269.5" },
  ])(
    "steel tube $diameter by $wall, $length in long: $speed rpm",
    ({ diameter, wall, length, speed }) => {
      const found = tube(
        `length: ${length} in  tube_diameter: ${diameter} in  tube_wall: ${wall} in  modulus: 29 Mpsi  density: 0.2836 lb/in^3`,
      );
      expectNear(found / rpm, Number(speed), 1e-5);
    },
  );

  it("the same in SI, steel and aluminum from the table", () => {
    expectDigits(
      tube("length: 1219.2 mm  tube_diameter: 76.2 mm  tube_wall: 2.1 mm") / rpm,
      "8533.3",
    );
    expectDigits(
      tube("length: 1.5 m  tube_diameter: 88.9 mm  tube_wall: 3.175 mm  material: aluminum") / rpm,
      "6534.7",
    );
  });

  it("is held against the highest speed of the shaft", () => {
    const build = (ratio: number): ReturnType<typeof solved> =>
      solved(`
engine motor { redline: 6000 rpm }
gearbox box { engine: motor  ratios: [3, ${ratio}] }
driveshaft shaft { gearbox: box  length: 60 in  tube_diameter: 3 in  tube_wall: 0.083 in  speed_share: ? }`);
    expectNear(si(build(1), "shaft.highest_speed"), 6000 * rpm);
    // An overdrive turns the shaft faster than the engine.
    expectNear(si(build(0.7), "shaft.highest_speed"), (6000 * rpm) / 0.7);
    expect(failing(build(0.7))).toContain("driveline/critical-speed");
    expect(
      holding(
        solved(
          "driveshaft shaft { highest_speed: 3000 rpm  length: 48 in  tube_diameter: 3 in  tube_wall: 0.083 in }",
        ),
      ),
    ).toContain("driveline/critical-speed");
  });

  it("gives the longest shaft for a share of the critical speed", () => {
    const forward = tube("length: 48 in  tube_diameter: 3 in  tube_wall: 0.083 in");
    const back = solved(
      `driveshaft shaft { tube_diameter: 3 in  tube_wall: 0.083 in  critical_speed: ${forward} rad/s  length: ? }`,
    );
    expectNear(si(back, "shaft.length"), 48 * 0.0254);
  });
});

describe("torque", () => {
  it("a hollow shaft of 400 and 300 mm under 300 kN-m: 34.92 MPa (published problem)", () => {
    // tau = 16 T D / (pi (D⁴ − d⁴)), any mechanics text.
    const analysis = solved(
      "driveshaft shaft { tube_diameter: 400 mm  tube_wall: 50 mm  torque: 300 kN-m  torque_factor: 1  shear: ? }",
    );
    expectDigits(si(analysis, "shaft.shear") / 1e6, "34.92");
  });

  it("4/3 in of a hollow 4 in shaft at 8000 psi carries 68 722 in-lb (published problem)", () => {
    const analysis = solved(
      "driveshaft shaft { tube_diameter: 4 in  bore: 3 in  shear: 8000 psi  torque_factor: 1  torque: ? }",
    );
    expectDigits(si(analysis, "shaft.torque") / (0.45359237 * 9.80665 * 0.0254), "68722");
  });

  it("is never more than the driven tires hold", () => {
    const analysis = solved(`
tire road_tire { rolling_circumference: 2.2 m }
carrier center { ratio: 4.1 }
axle rear { tire: road_tire  carrier: center  load: 800 kg }
gearbox box { axle: rear }
driveshaft shaft { gearbox: box  grip: 0.9  traction_torque: ? }`);
    expectNear(
      si(analysis, "shaft.traction_torque"),
      (0.9 * 1.2 * 800 * 9.80665 * 2.2) / (2 * Math.PI) / 4.1,
    );
  });

  it("holds by friction at the flange", () => {
    const analysis = solved(
      "driveshaft shaft { flange_bolts: 4  flange_circle: 100 mm  flange_preload: 25 kN  flange_friction: 0.15  torque: 800 N-m  torque_factor: 1.5 }",
    );
    expectNear(si(analysis, "shaft.flange_torque"), 0.15 * 4 * 25e3 * 0.05);
    expect(failing(analysis)).toContain("driveline/flange-torque");
  });
});
