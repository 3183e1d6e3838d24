/** Leaf springs, roll, twin wheels, brake plumbing and groove welds, by integration and statics. */
import { describe, expect, it } from "vitest";
import { expectNear, failing, holding, si, solved } from "./part-two-solve-text";

describe("leaf spring", () => {
  it("is a beam whose width falls to nothing at its ends: curvature integrated twice", () => {
    const [length, width, thick, leaves, modulus, load] = [1.2, 0.06, 0.007, 6, 200e9, 4000];
    const half = length / 2;
    const steps = 100_000;
    let [slope, down] = [0, 0];
    // Cantilever from the middle: moment P/2 (l - x), section n b (1 - x / l) t^3 / 12.
    for (let step = 0; step < steps; step += 1) {
      const x = ((step + 0.5) * half) / steps;
      const inertia = (leaves * width * (1 - x / half) * thick ** 3) / 12;
      slope += (((load / 2) * (half - x)) / (modulus * inertia)) * (half / steps);
      down += slope * (half / steps);
    }
    const analysis =
      solved(`leaf_spring s { leaves: 6  full_leaves: 0  width: 60 mm  thickness: 7 mm
  length: 1.2 m  modulus: 200 GPa  load: 4 kN }`);
    expectNear(si(analysis, "s.deflection"), down, 1e-4);
    expectNear(
      si(analysis, "s.stress"),
      ((load / 2) * half) / ((leaves * width * thick ** 2) / 6),
      1e-9,
    );
  });

  it("all leaves full: a beam of one section, half as stiff again", () => {
    const analysis =
      solved(`leaf_spring s { leaves: 4  full_leaves: 4  width: 60 mm  thickness: 7 mm
  length: 1.2 m  modulus: 200 GPa }`);
    expectNear(si(analysis, "s.rate"), (48 * 200e9 * ((4 * 0.06 * 0.007 ** 3) / 12)) / 1.2 ** 3);
  });
});

describe("roll", () => {
  it("is where springs, bar and weight balance, found by halving", () => {
    const analysis =
      solved(`roll_stiffness r { spring_rate: 32 N/mm  spring_base: 1 m  bar_diameter: 20 mm
  bar_length: 0.9 m  bar_arm: 0.25 m  bar_base: 1 m  side_force: 4 kN  arm: 0.35 m  weight: 7 kN }`);
    const bar = (angle: number): number => {
      // Each end of the bar moves half of the base times the angle; its arms turn by that over the arm.
      const twist = (2 * 0.5 * angle) / 0.25;
      const torque = (79.3e9 * (Math.PI / 32) * 0.02 ** 4 * twist) / 0.9;
      return (torque / 0.25) * 1;
    };
    const springs = (angle: number): number => 2 * (32000 * 0.5 * angle) * 0.5;
    let [low, high] = [0, 0.5];
    for (let step = 0; step < 60; step += 1) {
      const middle = (low + high) / 2;
      const over = 4000 * 0.35 + 7000 * 0.35 * middle - springs(middle) - bar(middle);
      if (over > 0) low = middle;
      else high = middle;
    }
    expectNear(si(analysis, "r.roll"), low, 1e-9);
  });
});

describe("twin wheels", () => {
  it("stand twice their offset apart and carry twice the twin index", () => {
    const analysis = solved(`
tire t { size: LT215/85R16 115/112Q LRE }
wheel w { size: 16x6  offset: 125 mm  twin: yes }
twinned_wheels d { wheel: w  tire: t }`);
    expectNear(si(analysis, "d.spacing"), 0.25);
    expectNear(si(analysis, "d.gap"), 0.25 - 0.215, 1e-9);
    expectNear(si(analysis, "d.load_capacity"), 2 * 1120);
    expect(failing(analysis)).toEqual([]);
  });
});

describe("brake plumbing", () => {
  it("a hose is pulled most at one end of the travel: every place of it looked at", () => {
    const analysis = solved(
      `brake_hose h { length: 300 mm  along: 40 mm  across: 90 mm  up: 120 mm  bump: 80 mm  droop: 100 mm }`,
    );
    let most = 0;
    for (let travel = -100; travel <= 80; travel += 0.5)
      most = Math.max(most, Math.hypot(0.04, 0.09, (120 - travel) / 1000));
    expectNear(si(analysis, "h.longest"), most, 1e-9);
  });

  it("what the parking brake wins in force it pays in travel", () => {
    const analysis = solved(`
brake b { form: drum  brake_factor: 2.2  effective_radius: 127 mm }
parking_cable p { hand_force: 300 N  lever_ratio: 6  wheel_ratio: 4  cable_efficiency: 100 %  clearance: 0.5 mm  hand_travel: 200 mm  brake: b }`);
    // Work of the hand is work on four shoes' worth of two wheels: F s = 2 S c.
    expectNear(300 * si(analysis, "p.travel_needed"), 2 * si(analysis, "p.shoe_force") * 0.0005);
    expectNear(si(analysis, "p.torque"), 2 * 300 * 3 * 4 * 2.2 * 0.127);
  });

  it("a parking brake's cable over the travel: every place of it looked at", () => {
    const cable = `form: bare  along: 380 mm  across: 60 mm  up: 110 mm  bump: 75 mm  droop: 105 mm`;
    let most = 0;
    for (let travel = -105; travel <= 75; travel += 0.5)
      most = Math.max(most, Math.hypot(0.38, 0.06, (110 - travel) / 1000));
    const short = solved(`cable_run c { ${cable}  length: 415 mm }`);
    expectNear(si(short, "c.longest"), most, 1e-9);
    expectNear(si(short, "c.at_ride"), Math.hypot(0.38, 0.06, 0.11), 1e-9);
    expectNear(si(short, "c.drawn_in"), most - 0.415, 1e-9);
    expect(failing(short)).toContain("brake-line/cable");
    const long = solved(`cable_run c { ${cable}  length: ${most + 0.05} m }`);
    expectNear(si(long, "c.slack"), 0.05, 1e-9);
    expect(si(long, "c.drawn_in")).toBe(0);
    expect(holding(long)).toContain("brake-line/cable");
  });

  it("a lead that rises past level in bump is longest there: every place of it looked at", () => {
    const lead = solved(
      "frame_to_axle l { length: 500 mm  along: 150 mm  up: 20 mm  bump: 130 mm  droop: 60 mm }",
    );
    let most = 0;
    for (let travel = -60; travel <= 130; travel += 0.5)
      most = Math.max(most, Math.hypot(0.15, (20 - travel) / 1000));
    expectNear(si(lead, "l.longest"), most, 1e-9);
    expectNear(si(lead, "l.slack"), 0.5 - most, 1e-9);
  });

  it("travel of the cable against what shoes or caliper need: a lever turned in small steps", () => {
    // A caliper's maker states its cable's travel; the hand's way until then, step by step.
    const of = (needed: number) =>
      solved(
        `parking_cable p { lever_ratio: 6.5  hand_travel: 190 mm  cable_needed: ${needed} mm }`,
      );
    const [grip, hook] = [0.325, 0.05];
    let [hand, cable] = [0, 0];
    for (let turned = 0; cable < 0.012; turned += 1e-6)
      [hand, cable] = [grip * turned, hook * turned];
    expectNear(si(of(12), "p.travel_needed"), hand, 1e-4);
    expectNear(si(of(12), "p.cable_travel"), 0.19 / (grip / hook), 1e-9);
    expect(holding(of(12))).toContain("brake-line/parking-travel");
    expect(failing(of(25))).toContain("brake-line/parking-travel");
  });

  it("residual valves: 10 psi on a disc drags, a low master cylinder wants one", () => {
    expect(failing(solved("line_valve v { form: disc  pressure: 10 psi }"))).toContain(
      "brake-line/residual-disc",
    );
    expect(failing(solved("line_valve v { form: disc  below: yes }"))).toContain(
      "brake-line/residual-low",
    );
    expect(holding(solved("line_valve v { form: disc  below: yes  pressure: 2 psi }"))).toContain(
      "brake-line/residual-low",
    );
  });

  it("a bracket's bolts: forces and moments of a free body", () => {
    const analysis = solved(
      `caliper_mounting c { torque: 1 kN-m  effective_radius: 125 mm  factor: 1  bolts: 2  bolt_spread: 90 mm  stand_off: 20 mm  friction: 0.15 }`,
    );
    expectNear(si(analysis, "c.bolt_shear"), 4000);
    expectNear(si(analysis, "c.bolt_pull") * 0.09, 8000 * 0.02);
    expectNear(si(analysis, "c.slip_clamp"), 4000 / 0.15 + (8000 * 0.02) / 0.09);
  });
});

describe("groove weld", () => {
  it("section, slice by slice, and shrinkage by Spraragen and Ettinger (from memory)", () => {
    const analysis = solved(
      `groove g { diameter: 90 mm  thickness: 6 mm  root_gap: 2.5 mm  root_face: 1 mm  groove_angle: 60 deg  cap: 1.5 mm }`,
    );
    const steps = 20_000;
    const slope = Math.tan(Math.PI / 6);
    let area = 0;
    for (let step = 0; step < steps; step += 1) {
      const z = ((step + 0.5) * 6) / steps;
      area += (2.5 + 2 * Math.max(0, z - 1) * slope) * (6 / steps);
    }
    const wide = 2.5 + 2 * 5 * slope;
    for (let step = 0; step < steps; step += 1) {
      const x = -1 + (2 * (step + 0.5)) / steps;
      area += 1.5 * (1 - x * x) * (wide / steps);
    }
    expectNear(si(analysis, "g.area") * 1e6, area, 1e-6);
    expectNear(si(analysis, "g.shrinkage") * 1e3, (0.2 * area) / 6 + 0.05 * 2.5, 1e-6);
  });
});
