/**
 * An axle on links, held against the axle as a rigid body in space on four rods: Newton's method on
 * all six motions for the travel, the null space of the rods' velocities for the roll center, and the
 * balance of forces on the axle for anti-squat.
 */
import { describe, expect, it } from "vitest";
import { failing, si, solved } from "./part-two-solve-text";

type Point = readonly [number, number, number];

/** Forward, right, up, in meters. */
interface Links {
  readonly height: number;
  readonly upper: readonly [Point, Point];
  readonly lower: readonly [Point, Point];
}

const splayed: Links = {
  height: 0.33,
  upper: [
    [0.48, 0.43, 0.44],
    [0.02, 0.12, 0.5],
  ],
  lower: [
    [0.62, 0.4, 0.27],
    [0.03, 0.49, 0.21],
  ],
};
const straight: Links = {
  height: 0.33,
  upper: [
    [0.55, 0.3, 0.45],
    [0, 0.12, 0.48],
  ],
  lower: [
    [0.6, 0.45, 0.22],
    [0, 0.45, 0.2],
  ],
};

function text({ height, upper, lower }: Links, travel: number): string {
  const end = (name: string, [forward, out, up]: Point): string =>
    `${name}_forward: ${forward} m  ${name}_out: ${out} m  ${name}_up: ${up} m`;
  return `
vehicle car { wheelbase: 2.8 m  cg_height: 0.6 m }
linkage links {
  vehicle: car
  axle_height: ${height} m
  ${end("upper_front", upper[0])}
  ${end("upper_rear", upper[1])}
  ${end("lower_front", lower[0])}
  ${end("lower_rear", lower[1])}
  bump: ${travel} m
  droop: ${travel} m
}`;
}

const mirrored = ([x, y, z]: Point): Point => [x, -y, z];
const rods = ({ upper, lower }: Links): readonly (readonly [Point, Point])[] => [
  upper,
  [mirrored(upper[0]), mirrored(upper[1])],
  lower,
  [mirrored(lower[0]), mirrored(lower[1])],
];

/** The axle moved: forward, right, up, rolled, nose up, yawed (small turns one after the other). */
function moved([x, y, z]: Point, height: number, q: readonly number[]): Point {
  const [dx = 0, dy = 0, dz = 0, roll = 0, nose = 0, yaw = 0] = q;
  let [a, b, c] = [x, y, z - height];
  [b, c] = [b * Math.cos(roll) - c * Math.sin(roll), c * Math.cos(roll) + b * Math.sin(roll)];
  [a, c] = [a * Math.cos(nose) - c * Math.sin(nose), c * Math.cos(nose) + a * Math.sin(nose)];
  [a, b] = [a * Math.cos(yaw) - b * Math.sin(yaw), b * Math.cos(yaw) + a * Math.sin(yaw)];
  return [a + dx, b + dy, c + height + dz];
}
const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** The motion that keeps all four rods, two of the six held: up and roll. */
function settled(links: Links, up: number, roll: number): number[] {
  const q = [0, 0, up, roll, 0, 0];
  const free = [0, 1, 4, 5];
  const misses = (at: readonly number[]): number[] =>
    rods(links).map(
      ([front, rear]) => distance(front, moved(rear, links.height, at)) - distance(front, rear),
    );
  for (let step = 0; step < 60; step += 1) {
    const miss = misses(q);
    const matrix = miss.map((value, row) => [
      ...free.map((index) => {
        const nudged = [...q];
        nudged[index] = (nudged[index] ?? 0) + 1e-7;
        return ((misses(nudged)[row] ?? 0) - value) / 1e-7;
      }),
      -value,
    ]);
    const change = gauss(matrix);
    for (const [place, index] of free.entries()) q[index] = (q[index] ?? 0) + (change[place] ?? 0);
  }
  return q;
}

function gauss(rows: number[][]): number[] {
  const size = rows.length;
  for (let column = 0; column < size; column += 1) {
    const pivot = rows
      .slice(column)
      .reduce((best, row) =>
        Math.abs(row[column] ?? 0) > Math.abs(best[column] ?? 0) ? row : best,
      );
    rows.splice(rows.indexOf(pivot), 1);
    rows.splice(column, 0, pivot);
    for (const row of rows) {
      if (row === pivot) continue;
      const share = (row[column] ?? 0) / (pivot[column] ?? 1);
      for (let at = column; at <= size; at += 1)
        row[at] = (row[at] ?? 0) - share * (pivot[at] ?? 0);
    }
  }
  return rows.map((row, at) => (row[size] ?? 0) / (row[at] ?? 1));
}

describe.each([
  ["upper links splayed, lower ones splayed the other way", splayed],
  ["upper links splayed, lower ones straight", straight],
])("%s", (_name, links) => {
  const travel = 0.09;
  const analysis = solved(text(links, travel));

  it.each([
    ["at_bump", travel],
    ["at_droop", -travel],
  ])("%s: shift and turn are those of the body in space", (place, up) => {
    const q = settled(links, up, 0);
    expect(si(analysis, `links.${place}.shift`)).toBeCloseTo(-(q[0] ?? 0), 6);
    expect(si(analysis, `links.${place}.turn`)).toBeCloseTo(q[4] ?? 0, 6);
  });

  it("turns at ride height as fast as in space", () => {
    const small = 1e-4;
    const rate =
      ((settled(links, small, 0)[4] ?? 0) - (settled(links, -small, 0)[4] ?? 0)) / (2 * small);
    expect(si(analysis, "links.turn_rate")).toBeCloseTo(rate, 5);
  });

  it("rolls about the roll center: the point of the centerline that does not move sideways", () => {
    const roll = 1e-4;
    // Sideways motion of a point at height z under the axle's middle: dy - roll (z - height).
    const q = settled(links, 0, roll);
    const height = links.height + (q[1] ?? 0) / roll;
    expect(si(analysis, "links.roll_center")).toBeCloseTo(height, 3);
  });

  it("anti-squat is the share the links carry in a balance of forces", () => {
    // In side view, drive force 1 at the contact; both pairs of links push along themselves.
    const force = ([front, rear]: readonly [Point, Point]) => {
      const long = Math.hypot(front[0] - rear[0], front[2] - rear[2]);
      const along: [number, number] = [(front[0] - rear[0]) / long, (front[2] - rear[2]) / long];
      // Moment about the contact point (0, 0): x fz - z fx.
      return { along, moment: rear[0] * along[1] - rear[2] * along[0] };
    };
    const [upper, lower] = [force(links.upper), force(links.lower)];
    // Sum of forward forces and of moments about the contact vanish: links against the drive force.
    const [tu, tl] = gauss([
      [upper.along[0], lower.along[0], -1],
      [upper.moment, lower.moment, 0],
    ]);
    const down = -((tu ?? 0) * upper.along[1] + (tl ?? 0) * lower.along[1]);
    const shifted = 0.6 / 2.8;
    expect(si(analysis, "links.anti_squat")).toBeCloseTo(down / shifted, 6);
  });
});

describe("clearance over the travel", () => {
  const room = 0.025;
  const analysis = solved(
    `${text(splayed, 0.09)}
axle_path way { links: links  axle_height: ${splayed.height} m  stop_base: 1 m  bump: 90 mm  droop: 90 mm
  path_clearance pipe { point_forward: 0.1 m  point_right: 0.36 m  point_up: 0.45 m
    body_forward: 0.12 m  body_right: 0.39 m  body_up: 0.6 m  room: ${room} m }
  path_clearance tunnel { point_forward: 0.3 m  point_right: 0 m  point_up: 0.36 m  body_up: 0.5 m  share: 50 % }
}`,
  );
  const gap = (up: number, roll: number): number =>
    distance(
      moved([0.1, 0.36, 0.45], splayed.height, settled(splayed, up, roll)),
      [0.12, 0.39, 0.6],
    ) - room;

  it("at both ends of the travel is the distance between the points as the body in space carries them", () => {
    expect(si(analysis, "way.pipe.at_bump.gap")).toBeCloseTo(gap(0.09, 0), 5);
    expect(si(analysis, "way.pipe.at_droop.gap")).toBeCloseTo(gap(-0.09, 0), 5);
  });

  // In space the right side rises with a positive roll. The axle also yaws there, the roll center
  // moves, and its way is no parabola: some millimeters, which is what a gap wanted is for.
  it.each([
    ["left_up", 0.045, -Math.asin(0.09)],
    ["right_up", 0.045, Math.asin(0.09)],
    ["left_roll", 0, -Math.asin(0.18)],
    ["right_roll", 0, Math.asin(0.18)],
  ])("%s: within 8 mm of the axle on its rods in space", (place, up, roll) => {
    expect(Math.abs(si(analysis, `way.pipe.${place}.gap`) - gap(up, roll))).toBeLessThan(0.008);
  });

  it("no place between the seven has a gap much less than the least of them", () => {
    let least = Number.POSITIVE_INFINITY;
    for (let left = -90; left <= 90; left += 15)
      for (let right = -90; right <= 90; right += 15)
        least = Math.min(least, gap((left + right) / 2000, Math.asin((right - left) / 1000)));
    expect(si(analysis, "way.pipe.least_gap")).toBeLessThan(least + 0.008);
  });

  it("a point halfway along the driveshaft goes half as far", () => {
    const [x, , z] = moved([0.3, 0, 0.36], splayed.height, settled(splayed, 0.09, 0));
    const halfway = Math.hypot((x - 0.3) / 2, (z - 0.36) / 2 - 0.14);
    expect(si(analysis, "way.tunnel.at_bump.gap")).toBeCloseTo(halfway, 5);
  });
});

describe("load of the links", () => {
  it("balances forces and moments in space, one pair of links carrying half of it", () => {
    const analysis = solved(
      text(straight, 0.09).replace(
        /\}\s*$/,
        `linkage_load stop { force: -8 kN  share: 50 %  factor: 1  tube_diameter: 40 mm  tube_wall: 4 mm  yield_strength: 390 MPa }
}`,
      ),
    );
    // Forces on the axle: road, and along both links of one side; moments about the contact line.
    const along = ([front, rear]: readonly [Point, Point]): Point => {
      const long = distance(front, rear);
      return [
        (front[0] - rear[0]) / long,
        (front[1] - rear[1]) / long,
        (front[2] - rear[2]) / long,
      ];
    };
    const pitch = (at: Point, f: Point): number => at[0] * f[2] - at[2] * f[0];
    const [u, l] = [along(straight.upper), along(straight.lower)];
    const [upper, lower] = gauss([
      [u[0], l[0], 4000],
      [pitch(straight.upper[1], u), pitch(straight.lower[1], l), 0],
    ]);
    expect(si(analysis, "links.stop.upper_load")).toBeCloseTo(upper ?? 0, 4);
    expect(si(analysis, "links.stop.lower_load")).toBeCloseTo(lower ?? 0, 4);
    // Pinned tube: the first half wave of E I y'' + P y = 0.
    const second = (Math.PI / 64) * (0.04 ** 4 - 0.032 ** 4);
    const long = distance(...straight.lower);
    expect(
      si(analysis, "links.stop.buckling_load") /
        ((Math.PI ** 2 * 29e6 * 6894.757293168361 * second) / long ** 2),
    ).toBeCloseTo(1, 9);
  });
});

describe("bar across the vehicle", () => {
  it("swings about its frame end, whichever side that is on", () => {
    for (const side of [1, -1]) {
      const analysis = solved(`panhard bar {
  frame_right: ${side * 0.42} m  frame_up: 0.36 m  axle_right: ${side * -0.45} m  axle_up: 0.28 m  bump: 90 mm  droop: 80 mm }`);
      const length = Math.hypot(0.87, 0.08);
      const end = (up: number): number =>
        0.42 - Math.sqrt(length ** 2 - (0.36 - 0.28 - up) ** 2) + 0.45;
      expect(si(analysis, "bar.bump_shift")).toBeCloseTo(side * end(0.09), 9);
      expect(si(analysis, "bar.droop_shift")).toBeCloseTo(side * end(-0.08), 9);
      expect(si(analysis, "bar.roll_center")).toBeCloseTo(0.28 + (0.08 * 0.45) / 0.87, 9);
    }
  });

  it("objects to a short one that is not level", () => {
    const analysis = solved(`panhard bar {
  frame_right: 14 in  frame_up: 15 in  axle_right: -6 in  axle_up: 10 in  bump: 3 in  droop: 4 in }`);
    expect(failing(analysis)).toContain("linkage/panhard");
  });
});
