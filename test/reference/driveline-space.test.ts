/**
 * Joints of a driveshaft in any planes and in any number, held against a kinematic chain in space:
 * each joint's cross keeps its two arms square to each other and to their shafts, nothing else is
 * assumed. What is left at the pinion is the second harmonic of its angle over one turn, and a joint
 * of angle b alone has tan²(b / 2) of it (Fourier series of the cardan joint).
 */
import { describe, expect, it } from "vitest";
import { expectNear, failing, holding, si, solved } from "./part-two-solve-text";

type Vector = readonly [number, number, number];
const degree = Math.PI / 180;

/** Axes: rearward, to the right, down. */
const line = (slope: number, plan: number): Vector =>
  unit([1, Math.tan(plan * degree), Math.tan(slope * degree)]);
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
function unit(a: Vector): Vector {
  const size = Math.sqrt(dot(a, a));
  return [a[0] / size, a[1] / size, a[2] / size];
}
/** Turns `a` about its shaft `u`, counterclockwise seen from behind: from down to the right. */
function turned(a: Vector, u: Vector, angle: number): Vector {
  const side = cross(a, u);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [a[0] * c + side[0] * s, a[1] * c + side[1] * s, a[2] * c + side[2] * s];
}

interface Member {
  readonly slope: number;
  readonly plan: number;
  /** How far its rear yoke is turned from its front one. */
  readonly yokes?: number;
}

/** The single joint that would leave as much at the end of the chain, in degrees. */
function equivalent(members: readonly Member[]): number {
  const axes = members.map(({ slope, plan }) => line(slope, plan));
  const [first, last] = [axes[0] as Vector, axes.at(-1) as Vector];
  const down = unit(cross(first, cross([0, 0, 1], first)));
  const steps = 720;
  let [real, imaginary, before, whole] = [0, 0, 0, 0];
  const start = unit(cross(last, cross([0, 0, 1], last)));
  for (let step = 0; step < steps; step += 1) {
    const turn = (2 * Math.PI * step) / steps;
    let yoke = turned(down, first, turn);
    for (const [index, axis] of axes.entries()) {
      if (index === 0) continue;
      yoke = unit(cross(axis, yoke));
      yoke = turned(yoke, axis, (members[index]?.yokes ?? 0) * degree);
    }
    const side = cross(start, last);
    const angle = Math.atan2(dot(yoke, side), dot(yoke, start));
    if (step > 0)
      whole += angle - before - 2 * Math.PI * Math.round((angle - before) / (2 * Math.PI));
    before = angle;
    const error = whole - turn;
    real += (error * Math.cos(2 * turn) * 2) / steps;
    imaginary += (error * Math.sin(2 * turn) * 2) / steps;
  }
  return (2 * Math.atan(Math.sqrt(Math.hypot(real, imaginary)))) / degree;
}

describe("the chain in space itself", () => {
  it("has tan²(b / 2) of second harmonic for one joint", () => {
    expectNear(
      equivalent([
        { slope: 0, plan: 0 },
        { slope: 9, plan: 0 },
      ]),
      9,
      1e-6,
    );
  });
});

describe("two joints", () => {
  const shaft = (more: string): ReturnType<typeof solved> => solved(`driveshaft shaft { ${more} }`);

  it("3 deg in side view against 3 deg in plan is over 4 deg, not nearly nothing", () => {
    const found =
      si(
        shaft(
          "output_slope: 3 deg  shaft_slope: 0 deg  shaft_plan: 0 deg  pinion_slope: 0 deg  pinion_plan: 3 deg",
        ),
        "shaft.equivalent_angle",
      ) / degree;
    expectNear(found, Math.sqrt(18), 1e-6);
    expectNear(
      found,
      equivalent([
        { slope: 3, plan: 0 },
        { slope: 0, plan: 0 },
        { slope: 0, plan: 3 },
      ]),
      0.005,
    );
  });

  it.each([
    { output: [3, 0], shaft: [6, 2], pinion: [1, 0], yokes: 0 },
    { output: [2, 1], shaft: [7, -3], pinion: [4, 2], yokes: 0 },
    { output: [-2, 0], shaft: [4, 5], pinion: [-2, 0], yokes: 20 },
    { output: [5, 0], shaft: [1, -4], pinion: [-3, -2], yokes: -35 },
    { output: [3, 0], shaft: [6, 0], pinion: [3, 0], yokes: 90 },
  ])(
    "$output, $shaft, $pinion with yokes $yokes deg apart",
    ({ output, shaft: own, pinion, yokes }) => {
      const analysis = shaft(`output_slope: ${output[0]} deg  output_plan: ${output[1]} deg
  shaft_slope: ${own[0]} deg  shaft_plan: ${own[1]} deg
  pinion_slope: ${pinion[0]} deg  pinion_plan: ${pinion[1]} deg  yoke_turn: ${yokes} deg`);
      const member = ([slope = 0, plan = 0]: number[], turn = 0): Member => ({
        slope,
        plan,
        yokes: turn,
      });
      const exact = equivalent([member(output), member(own, yokes), member(pinion)]);
      expect(Math.abs(si(analysis, "shaft.equivalent_angle") / degree - exact)).toBeLessThan(0.06);
    },
  );

  it.each([
    { output: [3, 0], own: [6, 2], pinion: 1 },
    { output: [2, 1], own: [7, -3], pinion: 2 },
    { output: [4, 0], own: [1, 3], pinion: -1.5 },
    { output: [3, 0], own: [5, 4], pinion: 0 },
  ])(
    "sets the pinion where the chain in space leaves least: $output, $own, plan $pinion",
    ({ output, own, pinion }) => {
      const analysis = shaft(`output_slope: ${output[0]} deg  output_plan: ${output[1]} deg
  shaft_slope: ${own[0]} deg  shaft_plan: ${own[1]} deg  pinion_plan: ${pinion} deg  pinion_setting: ?`);
      const setting = si(analysis, "shaft.pinion_setting") / degree;
      const left = (slope: number): number =>
        equivalent([
          { slope: output[0] ?? 0, plan: output[1] ?? 0 },
          { slope: own[0] ?? 0, plan: own[1] ?? 0 },
          { slope, plan: pinion },
        ]);
      let least = Number.POSITIVE_INFINITY;
      for (let slope = -15; slope <= 20; slope += 0.25) least = Math.min(least, left(slope));
      expect(left(setting)).toBeLessThan(least + 0.3);
    },
  );

  it("a shaft turned in plan between parallel ends still cancels", () => {
    const analysis = shaft(
      "output_slope: 3 deg  shaft_slope: 5 deg  shaft_plan: 4 deg  pinion_slope: 3 deg  windup: 0 deg",
    );
    expect(si(analysis, "shaft.equivalent_angle") / degree).toBeLessThan(1e-5);
  });
});

describe("a shaft in pieces", () => {
  const text = (pinion: number, turn = 0): string => `
driveshaft one { ends_at: bearing  output_slope: 3 deg  shaft_slope: 1 deg  shaft_plan: 1 deg }
driveshaft two { ahead: one  shaft_slope: 5 deg  shaft_plan: -2 deg  yoke_turn: ${turn} deg  pinion_slope: ${pinion} deg }`;
  const chain = (pinion: number, turn = 0): Member[] => [
    { slope: 3, plan: 0 },
    { slope: 1, plan: 1 },
    { slope: 5, plan: -2, yokes: turn },
    { slope: pinion, plan: 0 },
  ];

  it.each([
    [2, 0],
    [-1, 0],
    [4, 30],
  ])("pinion at %s deg, yokes %s deg apart", (pinion, turn) => {
    const analysis = solved(text(pinion, turn));
    const exact = equivalent(chain(pinion, turn));
    expect(Math.abs(si(analysis, "two.equivalent_angle") / degree - exact)).toBeLessThan(0.05);
    expectNear(si(analysis, "one.equivalent_angle"), si(analysis, "two.equivalent_angle"));
  });

  it("disturbs each piece by the joints ahead of it under drive, behind it on coast", () => {
    const analysis = solved(text(2));
    const ahead = equivalent(chain(2).slice(0, 3));
    expect(Math.abs(si(analysis, "two.drive_angle") / degree - ahead)).toBeLessThan(0.05);
    const behind = equivalent(chain(2).slice(1).reverse());
    expect(Math.abs(si(analysis, "one.coast_angle") / degree - behind)).toBeLessThan(0.05);
  });

  it("four joints: a third piece goes on from the second", () => {
    const analysis = solved(`
driveshaft one { ends_at: bearing  output_slope: 2 deg  shaft_slope: 4 deg  shaft_plan: 0 deg }
driveshaft two { ahead: one  ends_at: bearing  shaft_slope: 1 deg  shaft_plan: 2 deg }
driveshaft three { ahead: two  shaft_slope: 5 deg  shaft_plan: 0 deg  pinion_slope: 3 deg }`);
    const exact = equivalent([
      { slope: 2, plan: 0 },
      { slope: 4, plan: 0 },
      { slope: 1, plan: 2 },
      { slope: 5, plan: 0 },
      { slope: 3, plan: 0 },
    ]);
    expect(Math.abs(si(analysis, "three.equivalent_angle") / degree - exact)).toBeLessThan(0.05);
  });

  it("each piece has a critical speed of its own: half the length, four times the speed", () => {
    const analysis = solved(`
driveshaft whole { length: 60 in  tube_diameter: 3 in  tube_wall: 0.083 in }
driveshaft half { length: 30 in  tube_diameter: 3 in  tube_wall: 0.083 in }`);
    expectNear(si(analysis, "half.critical_speed"), 4 * si(analysis, "whole.critical_speed"));
  });

  it("a double joint passes nothing on: the pinion is pointed along the shaft", () => {
    const analysis = solved(`
driveshaft shaft { output_slope: 3 deg  shaft_slope: 14 deg  shaft_plan: 0 deg  pinion_slope: 13 deg
  windup: 1 deg
  front_joint { form: double_cardan }
  pinion_setting: ?
}`);
    expectNear(si(analysis, "shaft.pinion_setting") / degree, 13, 1e-4);
    expect(si(analysis, "shaft.equivalent_angle") / degree).toBeLessThan(0.01);
    expect(holding(analysis)).toContain("driveline/equivalent-angle");
    expect(failing(analysis)).not.toContain("driveline/joints-differ");
  });
});

describe("torque that reaches the shafts", () => {
  const build = (differential: string, more = ""): ReturnType<typeof solved> =>
    solved(`
vehicle truck { wheelbase: 3 m  mass: 2000 kg  front_share: 55 %  cg_height: 0.6 m  rear: rear ${more} }
tire road_tire { rolling_circumference: ${2 * Math.PI * 0.36} m }
carrier center { ratio: 4.1  differential: ${differential} }
axle rear { tire: road_tire  carrier: center }
engine motor { torque: 400 N-m  redline: 5000 rpm }
gearbox box { engine: motor  axle: rear  ratios: [3, 1]  transfer_low: 2.5  converter: 1.8 }
driveshaft shaft { gearbox: box }`);

  it("engine, converter, first gear and the low range; then the axle's ratio", () => {
    const analysis = build("open");
    expectNear(si(analysis, "shaft.torque"), 400 * 1.8 * 3 * 2.5);
    expectNear(si(analysis, "rear.strength.input_torque"), 400 * 1.8 * 3 * 2.5);
    expectNear(si(analysis, "rear.strength.gear_torque"), 400 * 1.8 * 3 * 2.5 * 4.1 * 0.5);
  });

  it("the rear axle gains what the launch takes off the front, up to the limit of grip", () => {
    // N2 = 0.45 m g + m a h / E with m a = N2 at a grip of 1: solved by going round.
    let load = 0.45 * 2000 * 9.80665;
    for (let step = 0; step < 200; step += 1) load = 0.45 * 2000 * 9.80665 + (load * 0.6) / 3;
    const skid = (load / 2) * 0.36;
    expectNear(si(build("open"), "rear.strength.skid_torque"), skid, 1e-9);
    const all = 0.45 * 2000 * 9.80665 + (2000 * 9.80665 * 0.6) / 3;
    expectNear(
      si(build("open", "driven: all"), "rear.strength.skid_torque"),
      (all / 2) * 0.36,
      1e-9,
    );
  });

  it("a spool may put all of it on one shaft, the other wheel off the ground", () => {
    const [open, spool] = [build("open"), build("spool")];
    expectNear(si(spool, "rear.strength.gear_torque"), 2 * si(open, "rear.strength.gear_torque"));
    expectNear(si(spool, "rear.strength.skid_torque"), 2 * si(open, "rear.strength.skid_torque"));
    expectNear(si(spool, "rear.strength.shaft_torque"), 2 * si(open, "rear.strength.shaft_torque"));
  });
});
