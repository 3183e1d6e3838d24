/** Wheel ends by their form, steered axles, U-bolts, nut seats and weighing, by independent means. */
import { describe, expect, it } from "vitest";
import { expectNear, failing, holding, si, solved } from "./part-two-solve-text";

const degree = Math.PI / 180;
const gravity = 9.80665;

describe("wheel end", () => {
  const build = (form: string, more = ""): ReturnType<typeof solved> =>
    solved(`
tire t { rolling_circumference: ${2 * Math.PI * 0.35} m }
axle rear { tire: t  track: 1.5 m  load: 900 kg }
wheel_end e {
  axle: rear  form: ${form}  seat_diameter: 40 mm  bearing_offset: 60 mm  bearing_span: 700 mm
  center_height: 0.6 m  cornering: 0.7  bump_factor: 1  shaft_torque: 1200 N-m  yield_strength: 1000 MPa ${more}
}`);

  // ISO 286-2, shafts over 30 mm to 50 mm, in thousandths of a millimetre (from memory).
  it.each([
    ["k6", 2, 18],
    ["m6", 9, 25],
    ["n6", 17, 33],
    ["p6", 26, 42],
  ])(
    "a 40 mm %s seat is %s to %s over; the bore is 12 under at most (ISO 492, from memory)",
    (fit, low, high) => {
      const analysis = build("retainer_plate", `fit: ${fit}`);
      expectNear(si(analysis, "e.least_interference"), low * 1e-6, 1e-9);
      expectNear(si(analysis, "e.most_interference"), (high + 12) * 1e-6, 1e-9);
    },
  );

  it("in a turn: wheel loads and moments from a free body of the axle", () => {
    const analysis = build("retainer_plate");
    const weight = 900 * gravity;
    // Moments about the inner contact: m a h = (N_o - N_i) t / 2.
    const across = (0.7 * weight * 0.6) / 1.5;
    const [outer, inner] = [weight / 2 + across, weight / 2 - across];
    expectNear(si(analysis, "e.outer_load"), outer);
    expectNear(si(analysis, "e.inner_load"), inner);
    // About the bearing: the contact lies 60 mm outboard and 0.35 m below; the side force on the
    // outer wheel points to the middle of the vehicle, on the inner one away from it.
    const cross = (side: number, load: number): number =>
      0.06 * load - -0.35 * (-side * 0.7 * load);
    expectNear(si(analysis, "e.outer_moment"), cross(1, outer));
    expectNear(si(analysis, "e.inner_moment"), cross(-1, inner));
    const bending =
      (32 * Math.max(Math.abs(cross(1, outer)), Math.abs(cross(-1, inner)))) /
      (Math.PI * 0.04 ** 3);
    const shear = (16 * 1200) / (Math.PI * 0.04 ** 3);
    expectNear(si(analysis, "e.combined_stress"), Math.sqrt(bending ** 2 + 3 * shear ** 2));
    expectNear(si(analysis, "e.safety"), 1e9 / Math.sqrt(bending ** 2 + 3 * shear ** 2));
  });

  it("a full-floating shaft only turns", () => {
    const analysis = build("full_floating");
    expect(si(analysis, "e.bending_stress")).toBe(0);
    expectNear(
      si(analysis, "e.combined_stress"),
      (Math.sqrt(3) * 16 * 1200) / (Math.PI * 0.04 ** 3),
    );
  });

  it("end play by the form: a clip may have 0.025 in, a plate may not (common practice, no source)", () => {
    expect(holding(build("c_clip", "end_play: 0.025 in"))).toContain("wheel-end/end-play");
    expect(failing(build("retainer_plate", "end_play: 0.025 in"))).toContain("wheel-end/end-play");
    expect(failing(build("full_floating", "end_play: 0 in"))).toContain("wheel-end/end-play");
  });
});

describe("steered axle", () => {
  const analysis = solved(`
tire t { size: 235/75R15  rolling_circumference: 2.2 m }
wheel w { size: 15x7  offset: 10 mm }
vehicle v { wheelbase: 2.6 m }
axle front { tire: t  wheel: w  mount_width: 1.54 m }
steered_axle s { vehicle: v  axle: front  kingpin_track: 1.36 m  kingpin_out: 0.66 m  inclination: 8 deg
  caster: 4 deg  lock: 34 deg  outer_lock: 30 deg  lock_limit: 0.35 m  arm_length: 0.15 m
  drag_link: 0.9 m  drag_rise: 60 mm  bump: 80 mm  toe: 2 mm }`);
  const at = (path: string): number => si(analysis, path);

  it("Ackermann: both kingpins' wheels look at one point on the rear axle's line", () => {
    // The inner wheel at the origin, the outer one 1.36 m out; the centre 2.6 m behind both.
    const aside = 2.6 / Math.tan(34 * degree);
    const outer = Math.atan2(2.6, aside + 1.36);
    expectNear(at("s.ackermann_lock"), outer);
    expectNear(at("s.ackermann"), (34 - 30) / (34 - outer / degree), 1e-9);
  });

  it("scrub radius and trail: the kingpin's axis drawn down to the ground", () => {
    const radius = 2.2 / (2 * Math.PI);
    const ground = 0.66 + radius * Math.tan(8 * degree);
    expectNear(at("s.scrub_radius"), 0.77 - 0.01 - ground, 1e-9);
    expectNear(at("s.trail"), radius * Math.tan(4 * degree));
  });

  it("room at lock: the tire's corners turned about the kingpin, the nearest one counts", () => {
    const scrub = at("s.scrub_radius");
    const [half, width] = [0.733 / 2, at("front.left.mounted_width") / 2];
    let least = Number.POSITIVE_INFINITY;
    for (const along of [-half, half])
      for (const out of [scrub - width, scrub + width])
        least = Math.min(least, out * Math.cos(34 * degree) + along * Math.sin(34 * degree));
    expectNear(at("s.lock_gap"), 0.76 - scrub + least - 0.35, 1e-9);
  });

  it("bump steer: the drag link keeps its length as its end rises", () => {
    const run = Math.sqrt(0.9 ** 2 - 0.06 ** 2);
    const along = 0.15 * Math.sin(at("s.bump_steer"));
    expectNear(Math.hypot(run - along, 0.06 - 0.08), 0.9, 1e-9);
  });
});

describe("U-bolts and nut seats", () => {
  it("a rod bent round a tube: length along its middle, step by step", () => {
    const analysis = solved(
      `u_bolt u { thread: M14x1.5  grade: 8.8  torque: 110 N-m  tube: 76 mm  stack: 150 mm  nut_height: 14 mm  showing: 6 mm }`,
    );
    let bend = 0;
    for (let step = 0; step < 10000; step += 1) bend += ((76 + 14) / 2) * (Math.PI / 10000);
    expectNear(si(analysis, "u.leg"), 0.17);
    expectNear(si(analysis, "u.developed"), (2 * (170 - 38) + bend) / 1000, 1e-9);
    expect(failing(analysis)).toContain("u-bolt/single-use");
  });

  it("a ball nut on a cone is told", () => {
    expect(failing(solved("nut_seat s { wheel_seat: cone_60  nut_seat: ball }"))).toContain(
      "nut-seat/form",
    );
    expect(
      failing(solved("nut_seat s { wheel_seat: ball  nut_seat: ball  nut_ball: 12 mm }")),
    ).toContain("nut-seat/ball");
    expect(failing(solved("nut_seat s { hub_register: 66.1 mm  ring_inside: 66.6 mm }"))).toContain(
      "nut-seat/ring-inside",
    );
  });
});

describe("weighing", () => {
  it("finds the height again from what scales under a tilted vehicle would show", () => {
    const [mass, base, radius, height, behind] = [1600, 2.8, 0.33, 0.62, 1.25];
    // Level: moments about the front contact. Tilted about the front hub, springs blocked.
    const front = mass * (1 - behind / base);
    const tilt = Math.asin(0.6 / base);
    const along = behind * Math.cos(tilt) - (height - radius) * Math.sin(tilt);
    const tilted = mass * (1 - along / (base * Math.cos(tilt)));
    const analysis = solved(`
vehicle v { wheelbase: ${base} m }
weighing s { vehicle: v  front_left: ${front / 2} kg  front_right: ${front / 2} kg
  rear_left: ${(mass - front) / 2} kg  rear_right: ${(mass - front) / 2} kg
  lift: 0.6 m  tilted_front: ${tilted} kg  wheel_radius: ${radius} m }`);
    expectNear(si(analysis, "s.height"), height, 1e-9);
    expectNear(si(analysis, "v.cg_height"), height, 1e-9);
    expectNear(si(analysis, "v.front_load"), front, 1e-9);
    expectNear(si(analysis, "s.cross_share"), 0.5);
  });
});
