/** Builds to draw: an ordinary one, and such as a drawing could trip over. */

import type { Analysis } from "../../server/analysis/analysis";
import { memoryHost } from "../../server/analysis/host";
import { analyzerFor, tradeLibrary } from "../../server/trade";

export function analysisOf(text: string): Analysis {
  const uri = "file:///build.trammel";
  const analysis = analyzerFor(memoryHost(new Map([[uri, text]])), tradeLibrary()).analyze(uri);
  if (analysis === undefined) throw new Error("the build is not read");
  return analysis;
}

const side = (limit: string, outer: string, more = "") =>
  `{ inner_limit: ${limit} ± 1/16 in  outer_limit: ${outer} ± 1/16 in  ${more} }`;

function inches(values: {
  readonly left: string;
  readonly right: string;
  readonly tire?: string;
  readonly wheel?: string;
  readonly title?: string;
  readonly width?: string;
}): string {
  const { tire = "235/65R16", wheel = "size: 16x7  offset: 20 mm", width = "" } = values;
  return `
display { length: in 1/32 }
tire shoe { size: ${tire} }
wheel rim { ${wheel} }
brake disc { hat_thickness: 0.280 in ± 0.005 in  rotor_diameter: 11 in  caliper_radius: 6 1/2 in }
hub flange { stud_circle: 5x5 in  stud_thread: 1/2-20  stud_length: 1 3/4 in }
carrier middle { offset: 7/8 in  tip_setback: 1/2 in }
housing tube {
  standoff: 2.450 in ± 0.010 in
  end_length: 2 1/4 in
  center_half_width: 8 3/4 in
  tube_diameter: 3 1/8 in
  tube_wall: 0.25 in
  root_gap: 1/16 in
  burn: 1 in
}
axle rear "${values.title ?? "Rear axle"}" {
  tire: shoe
  wheel: rim
  brake: disc
  hub: flange
  carrier: middle
  housing: tube
  ${width}
  left ${values.left}
  right ${values.right}
}
`;
}

export const builds: Readonly<Record<string, string>> = {
  ordinary: inches({
    left: side("22 1/2 in", "34 in", "inner_gap: 1 1/8 in  tube_end: 29 in"),
    right: side("22 5/8 in", "34 1/8 in", "inner_gap: 1 1/8 in  tube_end: 29 in"),
  }),
  wide: inches({
    left: side("46 in", "60 in", "inner_gap: 1 in"),
    right: side("46 in", "60 in", "inner_gap: 1 in"),
    tire: "LT315/70R17",
    wheel: "size: 17x9  offset: -12 mm",
  }),
  narrow: inches({
    left: side("13 in", "21 in", "inner_gap: 5/8 in"),
    right: side("13 in", "21 in", "inner_gap: 5/8 in"),
    tire: "145/80R12",
    wheel: "size: 12x4  offset: 35 mm",
  }),
  lopsided: inches({
    left: side("18 in", "31 in", "inner_gap: 3/8 in"),
    right: side("24 in", "36 in", "inner_gap: 1 3/8 in"),
  }),
  touching: inches({
    left: side("24 in", "33 in"),
    right: side("22 in", "34 in"),
    width: "mount_width: 58 in",
  }),
  "long titles": inches({
    left: side("22 1/2 in", "34 in", "inner_gap: 1 1/8 in"),
    right: side("22 5/8 in", "34 1/8 in", "inner_gap: 1 1/8 in"),
    title:
      "Rear axle of the long delivery van with the high roof, second try after the mock-up was measured again, springs moved inboard",
  }),
  metric: `
display { length: mm 0.5 }
tire shoe { size: 245/70R16 }
wheel rim { size: 16x7.5  offset: 10 mm }
brake drum { hat_thickness: 7 mm ± 0.1 mm }
housing tube { standoff: 64 mm ± 0.2 mm  end_length: 54 mm  center_half_width: 220 mm  tube_diameter: 82 mm  tube_wall: 6 mm }
carrier middle { offset: -24 mm  tip_setback: 13 mm }
axle rear "Hinterachse" {
  tire: shoe
  wheel: rim
  brake: drum
  housing: tube
  carrier: middle
  mount_width: 1502 mm ± 1 mm
  left { inner_limit: 575 mm ± 2 mm  outer_limit: 892 mm ± 2 mm }
  right { inner_limit: 577 mm ± 2 mm  outer_limit: 890 mm ± 2 mm }
}
`,
  "half missing": `
display { length: in 1/32 }
tire shoe { overall_diameter: 28 1/2 in }
wheel rim { offset: 15 mm }
housing tube { end_length: 2 in }
axle rear { tire: shoe  wheel: rim  housing: tube  left { inner_limit: 22 in } }
`,
  links: `
display { length: in 1/16 }
vehicle wagon { wheelbase: 112 in  cg_height: 24 in }
linkage arms "Rear links" {
  vehicle: wagon
  axle_height: 13 1/2 in
  upper_front_forward: 20 in  upper_front_out: 16 in  upper_front_up: 16 1/2 in
  upper_rear_forward: 1 in  upper_rear_out: 6 in  upper_rear_up: 19 in
  lower_front_forward: 26 in  lower_front_out: 17 in  lower_front_up: 10 in
  lower_rear_forward: 1 in  lower_rear_out: 19 in  lower_rear_up: 8 1/2 in
}
axle rear { left { half: 26 in } }
`,
  "whole wheel end": `${inches({
    left: side("22 1/2 in", "34 in", "inner_gap: 1 1/8 in"),
    right: side("22 5/8 in", "34 1/8 in", "inner_gap: 1 1/8 in"),
  })}
disc.rotor_thickness: 0.9 in
disc.rotor_inset: 1 3/8 in
wheel_end end { axle: rear  seat_diameter: 40 mm  press_distance: 62 mm }
`,
  "two pieces": `
display { length: in 1/16 }
gearbox box { }
driveshaft front_piece "Front piece" {
  gearbox: box  ends_at: bearing
  run: 31 in  drop: 1 1/2 in  side: 1/2 in  output_slope: 2.5 deg  output_plan: 1 deg  tube_diameter: 3 in  tube_wall: 0.083 in
}
driveshaft rear_piece "Rear piece" {
  gearbox: box  ahead: front_piece
  run: 38 in  drop: 5 in  side: -1 1/4 in  pinion_slope: 3 deg  pinion_plan: 1.5 deg
  bump: 3 in  droop: 3 1/2 in  tube_diameter: 3 in  tube_wall: 0.083 in
}
axle rear { left { half: 26 in } }
`,
  empty: "axle rear { left { half: 26 in } }\n",
};
