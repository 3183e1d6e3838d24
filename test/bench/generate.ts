/**
 * Builds of an invented shop for measuring with: vans in inches and trucks in millimeters, each
 * about 200 lines of vehicle, axle, wheels, brakes, welds, joints, checks, options, records and a
 * procedure, laid out the way the samples are. The same number gives the same text, always.
 *
 *     buildOf(7).text            // one build of 200 lines that uses parts/wheels.trammel and others
 *     longBuild(10_000, "own").text    // one file of 10,000 lines
 *
 * Must not know: how any of it is analyzed.
 */

export interface GeneratedFile {
  /** Relative to the shop's folder, with forward slashes. */
  readonly path: string;
  readonly text: string;
}

export interface GeneratedBuild {
  readonly root: GeneratedFile;
  /** Lists of parts that the root file uses, below `parts/`. */
  readonly parts: readonly GeneratedFile[];
}

/** Who uses what: every vehicle parts of its own, or all of them the shop's few. */
export type Sharing = "own" | "shared";

/** One build of exactly 200 lines. */
export function buildOf(number: number): GeneratedFile {
  const parts = partsFor(number, "shared", "shared");
  const lines = [...usesOf(["wheels", "tires", "shafts", "steel"]), "", displayOf(number), ""];
  lines.push(...vehicleLines(number, parts, false));
  return { path: `builds/build-${padded(number)}.trammel`, text: exactly(lines, 200, number) };
}

/** The lists of parts that the builds of `buildOf` and shared long builds use. */
export function shopParts(): GeneratedFile[] {
  const shop = { owner: "shop", numbers: range(sharedParts) };
  return partFiles(shop, shop);
}

/** One file of exactly `length` lines: vehicle after vehicle, each with its brakes and procedure. */
export function longBuild(length: number, sharing: Sharing): GeneratedBuild {
  const lines = [...usesOf(["wheels", "tires", "shafts", "steel"], ""), "", displayOf(0), ""];
  let count = 0;
  for (;;) {
    // Two axles never share a shaft: it has one length.
    const next = vehicleLines(count, partsFor(count, sharing, "own"), true);
    if (lines.length + next.length > length) break;
    lines.push(...next);
    count++;
  }
  const vehicles = { owner: "own", numbers: range(count) };
  const shop = { owner: "shop", numbers: range(sharedParts) };
  const parts = partFiles(sharing === "shared" ? shop : vehicles, vehicles);
  return { root: { path: "fleet.trammel", text: exactly(lines, length, 1) }, parts };
}

// ───────────────────────────── one vehicle ─────────────────────────────

const sharedParts = 12;

interface PartNames {
  readonly wheel: string;
  readonly tire: string;
  readonly spare_tire: string;
  readonly hub: string;
  readonly left_shaft: string;
  readonly right_shaft: string;
  readonly bearing: string;
  readonly steel: string;
  readonly welder: string;
}

function partsFor(number: number, sharing: Sharing, shafts: Sharing): PartNames {
  // Vans take even parts and trucks odd ones: stud circles and sizes belong together.
  const part = (number * 7 + (number >> 3) * 2) % sharedParts;
  const shopPart = `shop${part - (part % 2) + (number % 2)}`;
  const owner = sharing === "own" ? `own${number}` : shopPart;
  const shaftOwner = shafts === "own" ? `own${number}` : shopPart;
  return {
    wheel: `${owner}_wheel`,
    tire: `${owner}_tire`,
    spare_tire: `${owner}_spare_tire`,
    hub: `${owner}_hub`,
    left_shaft: `${shaftOwner}_left_shaft`,
    right_shaft: `${shaftOwner}_right_shaft`,
    bearing: `${shaftOwner}_bearing`,
    steel: sharing === "own" ? `${owner}_steel` : "shop0_steel",
    welder: sharing === "own" ? `${owner}_welder` : "shop0_welder",
  };
}

function vehicleLines(number: number, parts: PartNames, long: boolean): string[] {
  return number % 2 === 0 ? vanLines(number, parts, long) : truckLines(number, parts, long);
}

/** In inches; the gap beside the springs is chosen and the housing follows. */
function vanLines(number: number, parts: PartNames, long: boolean): string[] {
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

/** In millimeters; the width between the mounting faces is known and the housing follows. */
function truckLines(number: number, parts: PartNames, long: boolean): string[] {
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

// ───────────────────────────── parts ─────────────────────────────

interface Owners {
  readonly owner: string;
  readonly numbers: readonly number[];
}

function partFiles(lists: Owners, shafts: Owners): GeneratedFile[] {
  const file = (
    name: string,
    { owner, numbers }: Owners,
    each: (name: string, van: boolean, roll: Roll) => string,
  ): GeneratedFile => {
    const lines = numbers.flatMap((number) =>
      text(each(`${owner}${number}`, number % 2 === 0, rollsOf(number + 7919))),
    );
    return { path: `parts/${name}.trammel`, text: lines.join("\n") };
  };
  return [
    file("wheels", lists, wheelOf),
    file("tires", lists, tiresOf),
    file("shafts", shafts, shaftsOf),
    file("steel", lists, steelOf),
  ];
}

function wheelOf(name: string, van: boolean, roll: Roll): string {
  const hub = `
hub ${name}_hub "Shaft flange" {
  stud_circle: ${van ? "5x5 in" : "5x130 mm"}
  pilot: ${van ? "70.5 mm" : "108 mm"}
  stud_thread: ${van ? "1/2-20" : "M12x1.5"}
  stud_length: ${van ? "1 5/8 in" : "38 mm"}
}
`;
  const wheel = van
    ? `
wheel ${name}_wheel "Rear wheel" {
  size: 17x9
  offset: ${15 + roll(6)} mm
  stud_circle: 5x5 in
  center_bore: 70.7 mm
  pad_thickness: 7/16 in
  brake_room: 7 5/8 in  # half of the barrel's inside diameter, at the caliper
  load_rating: 1650 lb
  quantity: 2
  price: ${230 + roll(30)} usd
  mass: 27 lb
}
`
    : `
wheel ${name}_wheel "Steel field wheel" {
  size: 15x7
  offset: ${-8 + roll(5)} mm
  stud_circle: 6x139.7 mm
  center_bore: 108.2 mm
  pad_thickness: 9 mm
  load_rating: 950 kg
  quantity: 2
  price: ${85 + roll(15)} usd
  mass: 11.5 kg
}
`;
  return `${wheel}${hub}`;
}

function tiresOf(name: string, van: boolean, roll: Roll): string {
  return `
tire ${name}_tire "Rear tire" {
  size: ${van ? "275/50R17 101W" : "235/75R15 105S"}
  quantity: 2
  price: ${van ? 180 + roll(20) : 120 + roll(15)} usd
  mass: ${van ? "29 lb" : "14.5 kg"}
}

tire ${name}_spare_tire "Tire the vehicle came with" {
  size: ${van ? "225/70R16" : "205/80R16"}
}
`;
}

function shaftsOf(name: string, van: boolean, roll: Roll): string {
  const price = 180 + roll(100);
  const side = (which: string, length: string): string => `
shaft ${name}_${which}_shaft "${which === "left" ? "Left" : "Right"} shaft" {
  spline: ${van ? "31-24/48" : "28-24/48"}
  diameter: ${van ? "1.300 in" : "30 mm"}
  material: "${van ? "4340" : "4140"} tempered 425 degC"
  blank_length: ${length}
  blank_spline: ${van ? "4 in" : "100 mm"}
  price: ${price} usd
  mass: ${van ? "17 lb" : "6.1 kg"}
}
`;
  return `${side("left", van ? "33 1/2 in" : "740 mm")}${side("right", van ? "32 1/4 in" : "800 mm")}
bearing ${name}_bearing "Wheel bearing" {
  type: ${van ? "ball" : "roller"}
  rating: ${van ? "7200 lbf" : "38 kN"}
  quantity: 2
  price: ${36 + roll(15)} usd
  mass: 2 lb
}
`;
}

function steelOf(name: string, _van: boolean, roll: Roll): string {
  return `
steel_grade ${name}_steel "Axle tube" {
  carbon: 0.${18 + roll(4)} %
  manganese: 0.${45 + roll(15)} %
}

welder ${name}_welder "Shop MIG machine" {
  capacity: 1/4 in
}
`;
}

// ───────────────────────────── helpers ─────────────────────────────

type Roll = (below: number) => number;

/** Whole numbers from 0, below the one asked for; the same row for the same number (mulberry32). */
function rollsOf(seed: number): Roll {
  let state = (seed + 1) * 0x9e3779b9;
  return (below) => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((((mixed ^ (mixed >>> 14)) >>> 0) * below) / 4294967296) | 0;
  };
}

function pick(choices: readonly string[], roll: Roll): string {
  return choices[roll(choices.length)] ?? "";
}

/** The lines of a text without blank ones at its beginning and with one at its end. */
function text(written: string): string[] {
  return [...written.trim().split("\n"), ""];
}

function usesOf(names: readonly string[], up = "../"): string[] {
  return names.map((name) => `use "${up}parts/${name}.trammel"`);
}

function displayOf(number: number): string {
  return number % 2 === 0
    ? "display { length: in 1/32; torque: lb-ft; volume: qt }"
    : "display { length: mm 0.5; torque: N-m }";
}

/** Remarks fill what is short of the length; a build that is longer is a mistake made here. */
function exactly(lines: readonly string[], length: number, number: number): string {
  const short = length - lines.length;
  if (short < 0) throw new Error(`build ${number} has ${lines.length} lines, over ${length}`);
  const remarks = range(short).map(
    (each) => `# remark ${each + 1}: looked at on the stand, nothing to add`,
  );
  return `${[...lines, ...remarks].join("\n")}\n`;
}

function range(count: number): number[] {
  return Array.from({ length: count }, (_, index) => index);
}

function padded(number: number): string {
  return String(number).padStart(4, "0");
}

function twoDigits(number: number): string {
  return String(number).padStart(2, "0");
}
