/** One truck of the generated shop, as lines of a build. */

import type { PartNames } from "./generated-parts";
import { pick, type Roll, rollsOf, text, twoDigits } from "./rolls";

/** In millimeters; the width between the mounting faces is known and the housing follows. */
export function truckLines(number: number, parts: PartNames, long: boolean): string[] {
  const roll = rollsOf(number);
  const t = `truck${number}`;
  return text(`
# ── truck ${number}: a wider live axle under a small four-wheel-drive ──

vehicle ${t}_vehicle "Field truck ${number}" {
  wheelbase: ${2480 + 10 * roll(9)} mm
  mass: ${1420 + 10 * roll(12)} kg
  front_share: ${54 + roll(3)} %
  cg_height: ${680 + 5 * roll(5)} mm
  braking: 0.7
  rear: ${t}_rear
  rear_load_braking: ?
}

carrier ${t}_carrier "Carrier, pinion to the left" {
  ring_and_pinion: ${pick(["41:10", "43:11", "37:9"], roll)}
  offset: -38 mm
  tip_setback: 14 mm
  gear_inner: 20 mm
  gear_outer: 62 mm
  spline: 28-24/48
  backlash: 0.15..0.25 mm
  pinion_preload: 1.6..2.2 N-m
  fill: 1.9 L
  price: ${450 + 5 * roll(12)} usd
  mass: 24 kg
}

housing ${t}_housing "Rear housing" {
  tube_diameter: 80 mm
  tube_wall: 6 mm
  standoff: 63.5 mm ± 0.2 mm
  end_length: 52 mm
  center_half_width: 210 mm
  root_gap: 1.5 mm
  kerf: 1.6 mm
  face_to_face: ?
  price: ${290 + 5 * roll(8)} usd
  mass: 27 kg
}

brake ${t}_rear_drum "Rear drum" {
  form: drum
  hat_thickness: 6.4 mm ± 0.1 mm
  brake_factor: 2.0
  effective_radius: 127 mm
  piston_area: 285 mm^2  # wheel cylinder, 19 mm
  pad_clearance: 0.6 mm
  quantity: 2
  price: ${78 + roll(15)} usd
  mass: 8.2 kg
}

axle ${t}_rear "Rear axle" {
  wheel: ${parts.wheel}
  tire: ${parts.tire}
  brake: ${t}_rear_drum
  housing: ${t}_housing
  carrier: ${t}_carrier
  hub: ${parts.hub}
  mount_width: ${1505 + roll(12)} mm ± 1 mm

  left {
    inner_limit: ${598 + roll(4)} mm ± 1.5 mm
    outer_limit: 905 mm ± 1.5 mm
    inner_gap: ?
    outer_gap: ?
    shaft_length: ?
    tube_mark: ?
    tube_end: 720 mm
    offcut: ?
    shaft: ${parts.left_shaft}
    bearing: ${parts.bearing}
    end_angle: -0.4 deg
  }
  right {
    inner_limit: ${600 + roll(4)} mm ± 1.5 mm
    outer_limit: 905 mm ± 1.5 mm
    inner_gap: ?
    outer_gap: ?
    shaft_length: ?
    tube_mark: ?
    tube_end: 720 mm
    offcut: ?
    shaft: ${parts.right_shaft}
    bearing: ${parts.bearing}
    end_angle: -0.2 deg
  }
  fit {
    original: ${parts.spare_tire}
    indicated_speed: 80 km/h
    top_speed: 130 km/h
    true_speed: ?
  }
  track: ?
}

axle ${t}_front "Front axle" {
  wheel: ${parts.wheel}
  tire: ${parts.tire}
  brake: ${t}_front_disc
}

brake ${t}_front_disc "Front disc, sliding caliper" {
  rotor_diameter: 278 mm
  rotor_thickness: 21.4 mm
  rotor_minimum: 20 mm
  caliper: sliding
  piston_count: 1
  piston_diameter: 57 mm
  pad_friction: 0.38
  pad_height: 46 mm
  quantity: 2
  price: ${110 + roll(20)} usd
  mass: 10.4 kg
}

${t}_vehicle.front: ${t}_front

brake_system ${t}_braking "Balance bar, no valve" {
  vehicle: ${t}_vehicle
  pedal_force: ${480 + 5 * roll(5)} N
  pedal_ratio: 6
  boost: 1
  master: twin
  front_bore: 17.46 mm
  rear_bore: 17.46 mm
  balance: ${53 + roll(4)} %
  line_pressure: ?
  rear_pressure: ?
  deceleration: ?
  front_bias: ?
  stroke: ?
}

weld ${t}_end_weld "Housing ends to the tube, two passes" {
  process: mig
  voltage: 20 V
  current: ${165 + 5 * roll(3)} A
  travel_speed: 5 mm/s
  diameter: ${t}_housing.tube_diameter
  thickness: ${t}_housing.tube_wall
  overlap: 15 mm
  passes: 2
  bevel: 30 deg
  fillet: 6 mm
  base_metal: ${parts.steel}
  machine: ${parts.welder}
  heat_input: ?
  rotation: ?
}

bill ${t}_costs "Rear axle" {
  items: [${parts.wheel}, ${parts.tire}, ${t}_rear_drum, ${t}_housing, ${t}_carrier, ${parts.left_shaft}, ${parts.right_shaft}, ${parts.bearing}]
  total: ?
  mass: ?
}

check "truck ${number}: shafts can be cut from one pair of blanks": ${t}_rear.right.shaft_length - ${t}_rear.left.shaft_length <= 80 mm
  advise "order the longer blank for the right side"

option ${t}_empty "Without its load" {
  ${t}_vehicle.mass: 1180 kg
  ${t}_braking.pedal_force: 390 N
}

joint ${t}_wheel_nuts "Wheel nuts" {
  thread: M12x1.5
  grade: 10.9
  count: 12
  groups: 2
  torque: ${108 + roll(10)} N-m
  preload: ?
}

procedure ${t}_work "Put the axle under it" {
  step hang "Axle onto the springs" {
    work: fit_axle
    hands: 3
  }
  step wheels "Wheels on" {
    after: hang
    tighten: ${t}_wheel_nuts
  }
}

record "truck ${number}: mock-up on the stand" 2026-04-${twoDigits(1 + roll(27))} by "Ines" {
  ${t}_rear.mount_width: ${1505 + roll(12)} mm ± 1 mm
}

record "truck ${number}: axle hung" 2026-05-${twoDigits(1 + roll(27))} by "Ines" {
  ${t}_work.hang.done: yes
  ${t}_wheel_nuts { tightened: ${108 + roll(10)} N-m  held: yes }
}
${long ? truckRunningGear(number, roll) : ""}`);
}

function truckRunningGear(number: number, roll: Roll): string {
  const t = `truck${number}`;
  return `
engine ${t}_engine "Four cylinders" {
  redline: 5200 rpm
  torque: ${195 + 5 * roll(5)} N-m
}

gearbox ${t}_gearbox "Five gears, high range" {
  engine: ${t}_engine
  axle: ${t}_rear
  ratios: [3.83, 2.06, 1.33, 1.00, 0.83]
  transfer_ratio: 1.09
  gear: 4
  engine_speed: 3000 rpm
  speed: ?
}

spring ${t}_coil "Rear coil" {
  rate: ${30 + roll(5)} N/mm
  motion_ratio: 0.9
  tire_rate: 210 N/mm
  sprung_mass: 265 kg
  unsprung_mass: 62 kg
  ride_length: 262 mm
  bump: 80 mm
  droop: 60 mm
  bind_length: 150 mm
  free_length: ?
  frequency: ?
}
`;
}
