/** Wheel ends by their form, steered axles, U-bolts, nut seats and weighing, by independent means. */
import { describe, expect, it } from "vitest";
import { expectNear, failing, holding, si, solved } from "./part-two-solve-text";

const degree = Math.PI / 180;
const gravity = 9.80665;

describe("wheel end", () => {
  const build = (form: string, more = ""): ReturnType<typeof solved> =>
    solved(`
tire t { rolling_circumference: ${2 * Math.PI * 0.35} m }
axle rear { form: ${form}  tire: t  track: 1.5 m  load: 900 kg }
wheel_end e {
  axle: rear  seat_diameter: 40 mm  bearing_offset: 60 mm  bearing_span: 700 mm
  center_height: 0.6 m  cornering: 0.7  bump_factor: 1  shaft_torque: 1200 N-m  yield_strength: 1000 MPa ${more}
}`);

  // ISO 286-2, shafts over 30 mm to 50 mm, in thousandths of a millimeter (from memory).
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

describe("the form of the axle decides the chain of widths", () => {
  const chain = (form: string, left: string, housing = ""): ReturnType<typeof solved> =>
    solved(`
carrier c { offset: 1 in  tip_setback: 3/8 in }
housing h { standoff: 2 3/8 in  center: integral ${housing} }
brake b { hat_thickness: 0.3 in }
axle rear { form: ${form}  carrier: c  housing: h  brake: b
  left { cut_half: 27 1/2 in  ${left} }
  right { cut_half: 27 1/2 in }
}`);
  const inch = 0.0254;

  it("a clip holds the tip at the pin: what the shaft is longer, the wheel stands out", () => {
    const drawn = chain("c_clip", "");
    const length = si(drawn, "rear.left.shaft_length");
    expectNear(length, (27.5 + 2.375 + 1 - 0.375) * inch);
    const longer = chain("c_clip", `shaft_length: ${length / inch + 1 / 16} in`);
    expectNear(si(longer, "rear.left.seat_shift"), inch / 16, 1e-9);
    expectNear(
      si(longer, "rear.left.mount_face") - si(drawn, "rear.left.mount_face"),
      inch / 16,
      1e-9,
    );
    expectNear(si(longer, "rear.left.tip_setback"), (3 / 8) * inch);
  });

  it("a plate holds the flange: what the shaft is longer, its tip comes nearer to the pin", () => {
    const length = si(chain("retainer_plate", ""), "rear.left.shaft_length");
    const longer = chain("retainer_plate", `shaft_length: ${length / inch + 1 / 16} in`);
    expect(si(longer, "rear.left.seat_shift")).toBe(0);
    expectNear(si(longer, "rear.left.tip_setback"), (3 / 8 - 1 / 16) * inch, 1e-9);
  });

  it("full floating: the shaft reaches to the hub's outer face, the wheel does not follow it", () => {
    const build = chain("full_floating", "", "drive_face: 4 1/8 in");
    expectNear(si(build, "rear.left.shaft_length"), (27.5 + 4.125 + 1 - 0.375) * inch);
    expectNear(si(build, "rear.right.shaft_length"), (27.5 + 4.125 - 1 - 0.375) * inch);
    expectNear(si(build, "rear.left.mount_face"), (27.5 + 2.375 + 0.3) * inch);
  });

  it("clips behind a third member are asked about", () => {
    expect(failing(solved("housing h { }\naxle rear { form: c_clip  housing: h }"))).toContain(
      "axle/clip-cover",
    );
  });
});

describe("fits (ISO 286-1, clause 4 and annex, formulas from memory)", () => {
  // D is the geometric mean of the step, i the tolerance unit, all in thousandths of a millimeter.
  const steps = [
    { at: 35, from: 30, to: 50 },
    { at: 65, from: 50, to: 80 },
    { at: 100, from: 80, to: 120 },
  ];
  const table = (kind: "hole_fit", fit: string, at: number): [number, number] => {
    const low = solved(
      `wheel_end e { housing_fit: ${fit}  outer_diameter: ${at} mm  outer_low: 0 mm }`,
    );
    expect(kind).toBe("hole_fit");
    return [si(low, "e.least_room") * 1e6, si(low, "e.most_room") * 1e6];
  };

  it.each(steps)("bores at $at mm", ({ at, from, to }) => {
    const mean = Math.sqrt(from * to);
    const unit = 0.45 * Math.cbrt(mean) + 0.001 * mean;
    const [it6, it7] = [10 * unit, 16 * unit];
    const delta = it7 - it6;
    const upper: Record<string, number> = {
      H7: it7,
      K7: -0.6 * Math.cbrt(mean) + delta,
      M7: 0,
      N7: -5 * mean ** 0.34 + delta,
    };
    for (const [fit, high] of Object.entries(upper)) {
      const [low, most] = table("hole_fit", fit, at);
      // The standard rounds each figure; two thousandths is what that comes to.
      expect(Math.abs(most - high), `${fit} ${most} ${high}`).toBeLessThanOrEqual(2);
      expect(Math.abs(most - low - it7), fit).toBeLessThanOrEqual(1.5);
    }
  });

  it("the press distance follows from standoff, bearing and bore", () => {
    const analysis = solved(`
housing h { standoff: 66 mm }
axle rear { housing: h }
wheel_end e { axle: rear  bearing_width: 27 mm  bore_depth: 22 mm }`);
    // Flange at 66 outboard of the end face, shoulder 22 inboard of it, the bearing 27 from there out.
    expectNear(si(analysis, "e.press_distance"), (66 - (27 - 22)) / 1000);
  });

  it("a bore pulled by the weld and a seal's bore that is too large are told", () => {
    const bore = (more: string): ReturnType<typeof solved> => solved(`wheel_end e { ${more} }`);
    expect(failing(bore("outer_diameter: 80 mm  bore_of_housing: 79.99 mm"))).toContain(
      "wheel-end/bore",
    );
    expect(holding(bore("outer_diameter: 80 mm  bore_of_housing: 80.02 mm"))).toContain(
      "wheel-end/bore",
    );
    expect(failing(bore("seal_bore: 72 mm  seal_bore_measured: 72.06 mm"))).toContain(
      "wheel-end/seal-bore",
    );
  });
});

describe("full-floating hub", () => {
  const analysis = solved(`
tire t { rolling_circumference: ${2 * Math.PI * 0.36} m }
axle rear { form: full_floating  tire: t  track: 1.6 m  load: 1500 kg
  left { end: e  bearing: b }
}
bearing b { rating: 40 kN }
wheel_end e { axle: rear  center_height: 0.7 m  cornering: 0.6  bump_factor: 2
  inner_hub_bearing: 45 mm  outer_hub_bearing: 30 mm
  spindle_offset: 95 mm  spindle_diameter: 70 mm  spindle_bore: 42 mm  spindle_yield: 500 MPa }`);
  const weight = 1500 * gravity;
  const across = (0.6 * weight * 0.7) / 1.6;
  // Inboard is x; the wheel pushes at x = 0 upward, at the ground sideways.
  const wheels = [
    { load: weight / 2 + across, side: 0.6 * (weight / 2 + across) },
    { load: weight / 2 - across, side: -0.6 * (weight / 2 - across) },
  ];

  it("its bearings balance load and side force of either wheel: two equations, Cramer's rule", () => {
    const found = wheels.map(({ load, side }) => {
      // r1 + r2 = load; moments about the tire's center: 0.045 r1 - 0.030 r2 = side * radius.
      const determinant = -0.03 - 0.045;
      return {
        inner: (load * -0.03 - side * 0.36) / determinant,
        outer: (side * 0.36 - load * 0.045) / determinant,
      };
    });
    expectNear(
      si(analysis, "e.inner_hub_load"),
      Math.max(...found.map(({ inner }) => Math.abs(inner))),
    );
    expectNear(
      si(analysis, "e.outer_hub_load"),
      Math.max(...found.map(({ outer }) => Math.abs(outer))),
    );
  });

  it("the spindle bends at its root, stress integrated over the section", () => {
    const moment = Math.max(
      ...wheels.map(({ load, side }) => Math.abs(load * 0.095 - side * 0.36)),
    );
    let inertia = 0;
    const strips = 40_000;
    for (let strip = 0; strip < strips; strip += 1) {
      const y = -0.035 + ((strip + 0.5) * 0.07) / strips;
      const width =
        2 * Math.sqrt(0.035 ** 2 - y ** 2) - 2 * Math.sqrt(Math.max(0, 0.021 ** 2 - y ** 2));
      inertia += width * y ** 2 * (0.07 / strips);
    }
    expectNear(si(analysis, "e.spindle_stress"), (2 * moment * 0.035) / inertia, 1e-5);
    expectNear(si(analysis, "e.spindle_safety"), 500e6 / ((2 * moment * 0.035) / inertia), 1e-5);
  });

  it("the bearing's life is reckoned with the load of the one nearer to the tire's plane", () => {
    expectNear(si(analysis, "b.load"), ((weight / 2) * 45) / 75, 1e-9);
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
    // The inner wheel at the origin, the outer one 1.36 m out; the center 2.6 m behind both.
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
