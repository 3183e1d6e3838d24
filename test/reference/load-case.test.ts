/** Load cases, oil, speed rings, alignment, rigid lines and brackets, by sampling and free bodies. */
import { describe, expect, it } from "vitest";
import { expectNear, failing, holding, si, solved } from "./part-two-solve-text";

const gravity = 9.80665;
const degree = Math.PI / 180;

describe("load cases", () => {
  const analysis = solved(`
tire t { rolling_circumference: ${2 * Math.PI * 0.35} m }
wheel w { size: 16x7  offset: 0 mm  stud_circle: 6x139.7 mm }
housing h { tube_diameter: 80 mm  tube_wall: 6 mm  yield_strength: 400 MPa }
carrier c { ratio: 4.1  differential: locker }
axle rear { tire: t  wheel: w  housing: h  carrier: c  track: 1.5 m  load: 1000 kg
  strength { spring_base: 1.04 m  input_torque: 700 N-m  launch_factor: 1.3  weld_share: 60 %  grip: 0.95 } }
load_cases k { axle: rear  center_height: 0.65 m  brake_grip: 0.9  cornering: 0.8  bump_push: 0.5
  stud_clamp: 30 kN  bracket_arm: 120 mm  weld_leg: 6 mm  weld_length: 240 mm }`);
  const rest = (1000 * gravity) / 2;
  const radius = 0.35;
  const overhang = (1.5 - 1.04) / 2;

  /** Worst von Mises stress round the tube, point by point: bending from both planes, and torsion. */
  const worst = (vertical: number, forward: number, side: number, twist: number): number => {
    const second = (Math.PI / 64) * (0.08 ** 4 - 0.068 ** 4);
    // Forces at the contact, taken about the spring seat: r x F.
    const upright = vertical * overhang + side * radius;
    const level = forward * overhang;
    let most = 0;
    for (let at = 0; at < 3600; at += 1) {
      const [y, z] = [0.04 * Math.cos((at / 10) * degree), 0.04 * Math.sin((at / 10) * degree)];
      const bend = (upright * z + level * y) / second;
      const shear = (twist * 0.04) / (2 * second);
      most = Math.max(most, Math.sqrt(bend ** 2 + 3 * shear ** 2));
    }
    return most;
  };
  const across = (2 * 0.8 * 0.65) / 1.5;
  // A locker: one shaft may get all of the torque, its wheel all of the load.
  const launch = Math.min(700 * 4.1, 0.95 * 1.3 * 2 * rest * radius) / radius;
  const alone = Math.min(0.95 * 2 * rest, (700 * 4.1) / radius);
  it.each([
    ["launch", rest * 1.3, launch, 0, launch * radius],
    ["braking", rest, 0.9 * rest, 0, 0.9 * rest * radius],
    ["turn_outer", rest * (1 + across), 0, -0.8 * rest * (1 + across), 0],
    ["turn_inner", rest * (1 - across), 0, 0.8 * rest * (1 - across), 0],
    ["bump", rest * 2.5, 0.5 * rest * 1.5, 0, 0],
    ["one_wheel", rest * 2, alone, 0, alone * radius],
    // The brake stops the wheel's own mass beside what the road holds against it.
    ["wheel_locked", rest, 0.9 * rest, 0, 1.5 * 0.9 * rest * radius],
  ])("%s: the worst point round the tube", (name, vertical, forward, side, twist) => {
    const stress = worst(vertical, forward, side, twist);
    expectNear(si(analysis, `k.${name}.stress`), stress, 1e-5);
    expectNear(si(analysis, `k.${name}.safety`), (0.6 * 400e6) / stress, 1e-5);
  });

  it("in a turn the loads are those of a free body of the axle", () => {
    const sides = ["turn_outer", "turn_inner"].map((name) => si(analysis, `k.${name}.vertical`));
    expectNear((sides[0] ?? 0) + (sides[1] ?? 0), 2 * rest);
    expectNear((((sides[0] ?? 0) - (sides[1] ?? 0)) * 1.5) / 2, 0.8 * 1000 * gravity * 0.65, 1e-9);
  });

  it("studs: friction at their circle, and the pull of a flange that tips, stud by stud", () => {
    const circle = 0.1397;
    const force = Math.hypot((0.9 * rest * radius) / (circle / 2), rest, 0.9 * rest);
    expectNear(si(analysis, "k.braking.slip_share"), force / (0.15 * 6 * 30e3), 1e-9);
    // A moment about the middle: pulls go with the distance, and sum to it.
    const moment = 0.8 * rest * (1 + across) * radius;
    const heights = [0, 1, 2, 3, 4, 5].map(
      (stud) => (circle / 2) * Math.sin((30 + stud * 60) * degree),
    );
    const square = heights.reduce((sum, height) => sum + height ** 2, 0);
    const pull = (moment * (circle / 2)) / square;
    expectNear(si(analysis, "k.turn_outer.lift_share"), pull / 30e3, 1e-9);
  });

  it("one wheel locked: the seats hold the axle from turning, found by halving on its moments", () => {
    const [base, force] = [1.04, 0.9 * rest];
    // Seats at half the base to each side, the locked wheel at half the track: nothing may turn or go.
    let [low, high] = [0, 3 * force];
    for (let step = 0; step < 80; step += 1) {
      const near = (low + high) / 2;
      const far = force - near;
      const turn = (force * 1.5) / 2 - (near * base) / 2 + (far * base) / 2;
      if (turn > 0) low = near;
      else high = near;
    }
    expectNear(si(analysis, "k.wheel_locked.along"), low, 1e-9);
    expect(low).toBeGreaterThan(force);
    const bracket = Math.hypot(low, (1.5 * force * radius) / 0.12);
    expectNear(si(analysis, "k.wheel_locked.bracket_force"), bracket, 1e-9);
    const face = Math.hypot((1.5 * force * radius) / (0.1397 / 2), rest, force);
    expectNear(si(analysis, "k.wheel_locked.slip_share"), face / (0.15 * 6 * 30e3), 1e-9);
    // Both wheels braking alike: each seat holds its own.
    expectNear(si(analysis, "k.braking.along"), force);
  });

  it("a weak tube: the locked wheel alone makes the check fail", () => {
    const of = (shock: number) =>
      solved(`
tire t { rolling_circumference: ${2 * Math.PI * 0.35} m }
wheel w { size: 16x7  offset: 0 mm  stud_circle: 6x139.7 mm }
housing h { tube_diameter: 80 mm  tube_wall: 6 mm  yield_strength: 400 MPa }
carrier c { ratio: 3.5  differential: open }
axle rear { tire: t  wheel: w  housing: h  carrier: c  track: 1.5 m  load: 1000 kg
  strength { spring_base: 1.04 m  input_torque: 200 N-m  launch_factor: 1  weld_share: 60 %  dynamic_factor: 1 } }
load_cases k { axle: rear  center_height: 0.3 m  cornering: 0.1  lock_shock: ${shock}  safety_wanted: 2 }`);
    expect(holding(of(1))).toContain("strength/load-case");
    expect(failing(of(5))).toContain("strength/load-case");
    expectNear(si(of(5), "k.least_safety"), si(of(5), "k.wheel_locked.safety"));
  });

  it("a bracket's weld by its throat, and a wheel that slips is told", () => {
    const force = Math.hypot(0.9 * rest, (0.9 * rest * radius) / 0.12);
    expectNear(si(analysis, "k.braking.weld_stress"), force / (0.006 * Math.SQRT1_2 * 0.24), 1e-9);
    expect(failing(analysis)).toContain("strength/studs-slip");
    expect(holding(analysis)).toContain("strength/studs-lift");
  });
});

describe("oil at another pinion angle", () => {
  const analysis =
    solved(`oil_level o { old_slope: 2 deg  new_slope: 8 deg  fill_forward: 120 mm  fill_up: -40 mm
  ring_radius: 105 mm  shaft_bottom: -18 mm  vent_forward: -20 mm  vent_up: 60 mm  drain_forward: -30 mm  drain_up: -118 mm  sump: 125 mm }`);

  it("holes go round with the housing: complex numbers", () => {
    // A nose that rises turns forward into up.
    const risen = (forward: number, up: number): number =>
      Math.hypot(forward, up) * Math.sin(Math.atan2(up, forward) + 6 * degree);
    const level = risen(0.12, -0.04);
    expectNear(si(analysis, "o.level"), level, 1e-9);
    expectNear(si(analysis, "o.dip"), 0.105 + level, 1e-9);
    expectNear(si(analysis, "o.vent_room"), risen(-0.02, 0.06) - level, 1e-9);
    expectNear(si(analysis, "o.left_in"), 0.125 + risen(-0.03, -0.118), 1e-9);
  });

  it("too low, too high, and a vent in the oil are told", () => {
    const of = (more: string): string[] =>
      failing(
        solved(`oil_level o { old_slope: 0 deg  fill_forward: 130 mm  fill_up: -45 mm  ring_radius: 105 mm
  shaft_bottom: -18 mm  vent_up: 50 mm  ${more} }`),
      );
    expect(of("new_slope: 12 deg")).toContain("carrier/oil-high");
    expect(of("new_slope: -20 deg")).toContain("carrier/oil-low");
    expect(of("new_slope: 20 deg")).toContain("carrier/vent");
  });
});

describe("speed rings", () => {
  it("pulses counted while both wheels roll a mile", () => {
    const analysis = solved(`
tire a { rolling_circumference: 2.1 m }
tire b { rolling_circumference: 2.3 m }
axle front { tire: a }
axle rear { tire: b }
speed_ring f { axle: front  teeth: 44 }
speed_ring r { axle: rear  teeth: 44  other: f  speed: 30 m/s }`);
    const pulses = (circumference: number): number => (1609.344 / circumference) * 44;
    expectNear(1 + si(analysis, "r.difference"), pulses(2.3) / pulses(2.1), 1e-9);
    expectNear(si(analysis, "r.pulse_rate"), (30 / 2.3) * 44, 1e-9);
    expectNear(si(analysis, "r.wanted_teeth"), (2.3 / 2.1) * 44, 1e-9);
    expect(failing(analysis)).toContain("speed-ring/teeth");
  });

  it("a sensor that touches, and one that is too far at the ring's far side", () => {
    expect(failing(solved("speed_ring r { gap: 0.2 mm }"))).toContain("speed-ring/near");
    expect(failing(solved("speed_ring r { gap: 1.3 mm  runout: 0.3 mm }"))).toContain(
      "speed-ring/far",
    );
    expect(holding(solved("speed_ring r { gap: 0.9 mm  runout: 0.3 mm }"))).toEqual(
      expect.arrayContaining(["speed-ring/near", "speed-ring/far"]),
    );
  });
});

describe("alignment", () => {
  it("the bar's sag: its deflection curve integrated twice", () => {
    const analysis = solved(
      "alignment_bar b { diameter: 50 mm  bore: 30 mm  span: 1.4 m  modulus: 200 GPa  density: 7850 kg/m^3  ring_span: 180 mm  reach: 0.7 m  ring_clearance: 0.05 mm }",
    );
    const area = (Math.PI / 4) * (0.05 ** 2 - 0.03 ** 2);
    const second = (Math.PI / 64) * (0.05 ** 4 - 0.03 ** 4);
    const load = area * 7850 * gravity;
    const steps = 40_000;
    // From the middle, where it lies level, to the end.
    let [slope, rise] = [0, 0];
    for (let step = 0; step < steps; step += 1) {
      const dx = 0.7 / steps;
      const x = (step + 0.5) * dx;
      slope += (((load / 2) * (0.7 ** 2 - x ** 2)) / (200e9 * second)) * dx;
      rise += slope * dx;
    }
    expectNear(si(analysis, "b.sag"), rise, 1e-4);
    // Two rings 180 mm apart let the line pass by their clearance over that length.
    expectNear(si(analysis, "b.end_error"), (0.05e-3 * 0.7) / 0.18, 1e-9);
  });

  it("an indicator swung round a bore that stands off: every tenth of a degree", () => {
    const [up, forward, bore] = [0.31e-3, -0.22e-3, 0.04];
    // Distance from the bar to a round bore whose middle stands off, less the bore's radius.
    const reading = (turn: number): number => {
      const [y, z] = [Math.cos(turn), Math.sin(turn)];
      const along = forward * y + up * z;
      const aside = forward * z - up * y;
      return along + Math.sqrt(bore ** 2 - aside ** 2) - bore;
    };
    const analysis =
      solved(`end_reading e { top: ${reading(Math.PI / 2)} m  bottom: ${reading(-Math.PI / 2)} m
  front: ${reading(0)} m  rear: ${reading(Math.PI)} m  reach: 0.68 m }`);
    expect(si(analysis, "e.up")).toBeCloseTo(up, 9);
    expect(si(analysis, "e.forward")).toBeCloseTo(forward, 9);
    let [most, least] = [-1, 1];
    for (let turn = 0; turn < 3600; turn += 1) {
      most = Math.max(most, reading((turn / 10) * degree));
      least = Math.min(least, reading((turn / 10) * degree));
    }
    expect(2 * si(analysis, "e.off")).toBeCloseTo(most - least, 6);
    // Four places see no more than all of them.
    expect(si(analysis, "e.total_reading")).toBeLessThanOrEqual(most - least);
    // An end bent upward leans the top of its wheel in: negative camber.
    expectNear(si(analysis, "e.camber"), -si(analysis, "e.up") / 0.68, 1e-9);
    expectNear(si(analysis, "e.toe"), si(analysis, "e.forward") / 0.68, 1e-9);
  });

  it("a record of the readings replaces them, and the verdict follows", () => {
    const analysis =
      solved(`end_reading e { top: 0.1 mm  bottom: -0.1 mm  front: 0 mm  rear: 0 mm  reach: 0.7 m }
record "cold" 2026-05-11 { e.top: 1.4 mm; e.bottom: -1.4 mm }`);
    expect(holding(analysis)).toContain("weld/straightness");
    expect(failing(analysis.asBuilt())).toContain("weld/straightness");
  });
});

describe("rigid lines and welded brackets", () => {
  it("length to cut: the middle of the tube walked in small steps", () => {
    const analysis = solved(
      "brake_tube l { diameter: 4.75 mm  straights: [80 mm, 350 mm, 120 mm]  bends: 2  bend_angle: 70 deg  bend_radius: 20 mm  flare: 1.5 mm  pressure: 10 MPa  wall: 0.7 mm }",
    );
    let walked = 0.08 + 0.35 + 0.12 + 2 * 0.0015;
    for (let bend = 0; bend < 2; bend += 1)
      for (let step = 0; step < 7000; step += 1) walked += 2 * 0.02 * Math.sin((0.01 * degree) / 2);
    expectNear(si(analysis, "l.length"), walked, 1e-6);
    expectNear(si(analysis, "l.hoop_stress"), (10e6 * 4.75) / 1.4, 1e-9);
    expect(
      failing(
        solved(
          "brake_tube l { straights: [90 mm]  diameter: 4.75 mm  bend_radius: 12 mm  free: 400 mm }",
        ),
      ),
    ).toEqual(expect.arrayContaining(["brake-line/bend", "brake-line/clips"]));
  });

  it("two fillets of a bracket, bent about their middle: summed strip by strip", () => {
    const analysis = solved(
      "caliper_mounting c { torque: 1 kN-m  effective_radius: 125 mm  factor: 1  bolt_spread: 90 mm  stand_off: 20 mm  weld_leg: 5 mm  weld_length: 60 mm }",
    );
    const throat = 0.005 * Math.SQRT1_2;
    let second = 0;
    for (let strip = 0; strip < 6000; strip += 1) {
      const at = -0.03 + (strip + 0.5) * 1e-5;
      second += 2 * throat * 1e-5 * at ** 2;
    }
    const force = 8000;
    const stress = Math.hypot(force / (2 * throat * 0.06), (force * 0.02 * 0.03) / second);
    expectNear(si(analysis, "c.weld_stress"), stress, 1e-6);
  });
});

describe("steered tire over lock and travel", () => {
  const build = (forward: number, out: number, up: number) =>
    solved(`
tire t { size: 235/75R15 }
wheel w { size: 15x7  offset: 10 mm }
vehicle v { wheelbase: 2.6 m }
axle front { tire: t  wheel: w  mount_width: 1.54 m }
steered_axle s { vehicle: v  axle: front  kingpin_out: 0.66 m  lock: 34 deg  outer_lock: 30 deg
  lock_point p { forward: ${forward} m  out: ${out} m  up: ${up} m  bump: 70 mm  droop: 80 mm } }`);

  // The tire as a disc with thickness, its surface and every angle between the locks sampled.
  it.each([
    [0.3, 0.42, 0.5],
    [-0.28, 0.4, 0.36],
    [-0.1, 0.45, 0.62],
    [0.05, 0.5, 0.9],
  ])("point %s m ahead, %s m out, %s m up: no angle comes nearer", (forward, out, up) => {
    const analysis = build(forward, out, up);
    const service = si(analysis, "t.service_diameter") / 2;
    const half = (si(analysis, "front.left.mounted_width") * 1.04) / 2;
    const center = si(analysis, "front.left.tire_center");
    const rest = si(analysis, "t.overall_diameter") / 2;
    let least = Number.POSITIVE_INFINITY;
    for (const travel of [0, 0.07, -0.08])
      for (let steer = -30; steer <= 34; steer += 0.05) {
        // Turn the tire about the kingpin: the front goes outboard; measure in the tire's own frame.
        const q = steer * degree;
        const away: readonly [number, number] = [forward, out - 0.66];
        const along = away[0] * Math.cos(q) + away[1] * Math.sin(q);
        const aside = -away[0] * Math.sin(q) + away[1] * Math.cos(q) - (center - 0.66);
        const round = Math.hypot(along, up - rest - travel) - service;
        const flat = Math.abs(aside) - half;
        const gap =
          round > 0 || flat > 0
            ? Math.hypot(Math.max(0, round), Math.max(0, flat))
            : Math.max(round, flat);
        least = Math.min(least, gap);
      }
    expect(Math.abs(si(analysis, "s.p.least_gap") - least)).toBeLessThan(0.0005);
  });
});

describe("fillet at a housing end", () => {
  it("its throat is the distance of the root from the face: points along the face", () => {
    const analysis = solved("weld w { fillet: 8 mm  thickness: 6 mm }");
    let nearest = Number.POSITIVE_INFINITY;
    for (let step = 0; step <= 10_000; step += 1) {
      const along = (8 * step) / 10_000;
      nearest = Math.min(nearest, Math.hypot(along, 8 - along));
    }
    expectNear(si(analysis, "w.throat"), nearest / 1000, 1e-6);
  });
});
