/** One van of the generated shop, as lines of a build. */

import type { PartNames } from "./generated-parts";
import { pick, type Roll, rollsOf, text, twoDigits } from "./rolls";

/** In inches; the gap beside the springs is chosen and the housing follows. */
export function vanLines(number: number, parts: PartNames, long: boolean): string[] {
  const roll = rollsOf(number);
  const v = `van${number}`;
  const tubeEnd = `${31 + roll(2)} ${pick(["1/4", "3/8", "1/2"], roll)} in`;
  return text(`
# ── van ${number}: a cut-to-width housing under a van made for a narrower axle ──

vehicle ${v}_vehicle "Delivery van ${number}" {
  wheelbase: ${110 + roll(9)} in
  mass: ${3500 + 20 * roll(20)} lb
  front_share: ${50 + roll(4)} %
  cg_height: ${25 + roll(3)} in
  braking: 0.8
  rear: ${v}_rear
  rear_load_braking: ?
}

carrier ${v}_carrier "Nine-bolt carrier, pinion to the right" {
  ring_and_pinion: ${pick(["43:12", "41:11", "39:11"], roll)}
  offset: 1 in
  tip_setback: 5/8 in
  gear_inner: 0.90 in
  gear_outer: 2.50 in
  spline: 31-24/48
  backlash: 0.006..0.010 in
  pinion_preload: 14..19 in-lb
  fill: 2 1/4 qt
  price: ${600 + 5 * roll(20)} usd
  mass: 62 lb
}

housing ${v}_housing "Housing, cut to width" {
  tube_diameter: 3 1/4 in
  tube_wall: 0.188 in
  standoff: 2.500 in ± 0.010 in  # housing end face to shaft flange face, bearing seated
  end_length: 2.0 in
  root_gap: 1/16 in
  burn: 1 in  # the tape is held at its one inch line
  center_half_width: 8 1/2 in
  face_to_face: ?
  price: ${400 + 5 * roll(10)} usd
  mass: 61 lb
}

brake ${v}_rear_disc "Rear disc, drum in hat" {
  hat_thickness: 0.310 in ± 0.006 in
  caliper_radius: 7 1/4 in
  rotor_diameter: 11 1/4 in
  rotor_thickness: 0.90 in
  rotor_minimum: 0.76 in
  rotor_runout: 0.003 in
  piston_count: 2
  piston_diameter: 1.32 in
  pad_friction: 0.40
  pad_height: 1.6 in
  effective_radius: ?
  quantity: 2
  price: ${190 + roll(40)} usd
  mass: 34 lb
}

axle ${v}_rear "Rear axle" {
  wheel: ${parts.wheel}
  tire: ${parts.tire}
  brake: ${v}_rear_disc
  housing: ${v}_housing
  carrier: ${v}_carrier
  hub: ${parts.hub}

  left {
    inner_limit: 24 ${pick(["5/8", "11/16", "3/4"], roll)} in ± 1/16 in  # leaf spring, outermost clip
    outer_limit: 37 7/8 in ± 1/16 in  # inside of the fender lip
    inner_gap: 7/8 in
    outer_gap: ?
    tube_end: ${tubeEnd}
    tape_reading: ?
    offcut: ?
    shaft_length: ?
    shaft: ${parts.left_shaft}
    bearing: ${parts.bearing}
    end_angle: 2.1 deg ± 0.1 deg
  }
  right {
    inner_limit: 24 ${pick(["9/16", "5/8", "11/16"], roll)} in ± 1/16 in
    outer_limit: 37 5/8 in ± 1/16 in
    inner_gap: 7/8 in
    outer_gap: ?
    tube_end: ${tubeEnd}
    tape_reading: ?
    offcut: ?
    shaft_length: ?
    shaft: ${parts.right_shaft}
    bearing: ${parts.bearing}
    end_angle: 1.9 deg ± 0.1 deg
  }
  mount_width: ?
  track: ?
}

weld ${v}_end_weld "Housing ends to the tube, one turn on the rotator" {
  process: mig
  voltage: ${20 + roll(3)} V
  current: ${175 + 5 * roll(4)} A
  travel_speed: 13 in/min
  diameter: ${v}_housing.tube_diameter
  thickness: ${v}_housing.tube_wall
  overlap: 5/8 in
  bevel: 35 deg
  fillet: 1/4 in
  base_metal: ${parts.steel}
  machine: ${parts.welder}
  heat_input: ?
  rotation: ?
  weld_time: ?
}

bill ${v}_costs "Rear axle, complete" {
  items: [${parts.tire}, ${parts.wheel}, ${v}_rear_disc, ${v}_housing, ${v}_carrier, ${parts.left_shaft}, ${parts.right_shaft}]
  hours: ${14 + roll(5)} h
  rate: 85 usd/h
  total: ?
}

check "van ${number}: leaf spring clears the sidewall": ${v}_rear.left.inner_gap >= 5/8 in
  advise "move the wheel outboard or take the spring clip off"

option ${v}_bolt_in "Bolt-in axle, other wheels" {
  ${v}_housing.face_to_face: 58 1/2 in ± 1/16 in
  ${v}_rear.left.inner_gap: ?
}

joint ${v}_carrier_nuts "Carrier nuts" {
  thread: 3/8-24
  grade: 8
  count: 9
  torque: 35 lb-ft
  passes: [50 %, 100 %]
  preload: ?
}

joint ${v}_bracket "Caliper bracket" {
  thread: 1/2-20
  grade: 8
  count: 2
  pattern: line
  torque: ${110 + roll(15)} lb-ft
}

procedure ${v}_work "Put the axle together" {
  step look "Look the housing over" {
    work: inspect
  }
  step carrier_in "Carrier into the housing" {
    after: look
    tighten: ${v}_carrier_nuts
  }
  step brackets "Caliper brackets" {
    after: carrier_in
    tighten: ${v}_bracket
    check "van ${number}: the sidewall is clear of the spring": ${v}_rear.right.inner_gap >= 5/8 in
  }
}

record "van ${number}: mock-up, wheels on the string" 2026-02-${twoDigits(1 + roll(27))} {
  ${v}_rear.left.inner_limit: 24 ${pick(["5/8", "11/16", "3/4"], roll)} in ± 1/32 in
}

record "van ${number}: carrier in" 2026-03-${twoDigits(1 + roll(27))} by "M. Ito" {
  ${v}_work.look.done: yes
  ${v}_carrier_nuts { tightened: 17.5 lb-ft  pass: 1 }
  ${v}_carrier_nuts { tightened: 35 lb-ft  pass: 2  held: yes }
  ${v}_work.carrier_in.done: yes
}
${long ? vanRunningGear(number, roll) : ""}`);
}

function vanRunningGear(number: number, roll: Roll): string {
  const v = `van${number}`;
  return `
engine ${v}_engine "Straight six" {
  redline: 5200 rpm
  torque: ${290 + 5 * roll(8)} lb-ft
}

gearbox ${v}_gearbox "Four-speed with overdrive" {
  engine: ${v}_engine
  axle: ${v}_rear
  ratios: [3.06, 1.63, 1.00, 0.70]
  speed: 65 mph
  engine_speed: ?
  spread: ?
}

driveshaft ${v}_driveshaft "One piece, slip yoke at the gearbox" {
  gearbox: ${v}_gearbox
  run: ${54 + roll(5)} in
  drop: 5 1/2 in
  output_slope: 3.0 deg
  pinion_slope: 1.0 deg
  tube_diameter: 3 1/2 in
  tube_wall: 0.083 in
  length: ?
  front_angle: ?
  rear_angle: ?
  critical_speed: ?
}

spring ${v}_leaf "Rear leaf spring" {
  rate: ${180 + 5 * roll(6)} lb/in
  tire_rate: 1250 lb/in
  sprung_mass: 720 lb
  unsprung_mass: 150 lb
  frequency: ?
  deflection: ?
}
`;
}
