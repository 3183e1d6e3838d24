/**
 * The rear of a light hauler put together in three chapters by three people, with its log: chapters that
 * end with a wait, a locking nut, torque and angle, an adapter on the wrench. All of it is invented.
 */

export const plan = `vehicle hauler "Hauler" { mass: 5200 lb }
instrument rule "shop rule" { reads_to: 1/64 in  from_length: 1/8 in  to_length: 24 in  calibrated: 2026-02-02  calibration_every: 365 day }
instrument tape "long tape" { reads_to: 1/32 in  from_length: 2 in  to_length: 25 ft }
wrench mid "mid clicker" { least: 12 lb-ft  most: 80 lb-ft  length: 12 in  scale_step: 1 lb-ft  calibrated: 2026-02-02  calibration_every: 60 day }
wrench long "long clicker" { least: 25 lb-ft  most: 250 lb-ft  length: 24 in  scale_step: 1 lb-ft  calibrated: 2026-02-02 }
part seals "Axle seals" { at_hand: no }
part ring "Bearing rings" { at_hand: yes }
housing tube "Housing" { face_to_face: 56 1/2 in ± 1/16 in }
joint ret "Retainer nuts" { thread: 3/8-24  grade: 8  count: 8  groups: 2  torque: 40 lb-ft  wrench: mid }
joint spr "Spring U-bolts" { thread: 9/16-18  grade: 8  count: 8  groups: 2  torque: 95 lb-ft  single_use: yes  recheck_after: 50 mi  wrench: long }
joint pin "Pinion nut" { thread: 3/4-16  grade: 8  torque: 140 lb-ft  running_torque: 20 lb-ft  wrench: long }
joint cap "Bearing caps" { thread: 1/2-20  grade: 8  count: 4  pattern: line  torque: 60 lb-ft  turn: 60 deg  wrench: mid }
joint hub "Hub nut" { thread: 5/8-18  grade: 8  torque: 100 lb-ft  extension: 4 in  wrench: long }
joint lug "Lug nuts" { thread: 9/16-18  grade: 8  count: 8  torque: 120 lb-ft  recheck_after: 50 mi  wrench: long }
joint brk "Brake bracket" { thread: 7/16-20  grade: 8  count: 4  pattern: line  torque: 62 lb-ft  adjustable: yes  locking: "red lock"  cure: 12 h  wrench: mid  after: fit.shims }
procedure bench "On the bench" {
  step mark "Mark the tubes" { work: mark }
  step cut "Cut" { work: cut  after: mark  hands: 2 }
  step clock "Clock the ends" { work: index  after: cut }
  step spot "Tack" { work: tack }
  step bead "Weld" { work: weld }
  step span "Width" { work: inspect  after: bead  measure: tube.face_to_face  sign_off: "the inspector"  other_than: bead
    check "it goes on the springs": tube.face_to_face <= 56 9/16 in }
  step cool "Let it cool" { after: span  hold: for_time  hold_time: 6 h }
}
procedure fit "Put together" {
  step third "Carrier" { work: fit_carrier  tighten: cap }
  step pinion "Pinion nut" { after: third  tighten: pin }
  step races "Bearings" { work: fit_bearings  parts: [seals, ring] }
  step shafts "Shafts" { work: fit_shafts  tighten: ret }
  step hubs "Hubs" { after: shafts  tighten: hub }
  step hang "Springs" { after: shafts  tighten: spr  hands: 2 }
  step rotors "Rotors" { work: seat_rotor }
  step snug "Brackets snug" { work: fit_bracket  tighten: brk  tighten_to: 30 % }
  step gaps "Read the gaps" { work: read_gap }
  step shims "Shims" { work: shim }
  step tight "Brackets tight" { work: torque_bracket  tighten: brk }
  step dust "Dust shields" { left_out: "the rotors have none" }
}
procedure road "Road" {
  step oil "Fill" { work: fill }
  step air "Bleed" { work: bleed }
  step pedal "Pedal" { work: check_pedal }
  step wheels "Wheels" { work: fit_wheels  tighten: lug }
  step down "Down" { work: lower  after: wheels }
  step out "First drive" { work: road_test }
  step again "Check again" { work: recheck  recheck: [lug, spr, brk] }
}
procedure all "Hauler, rear axle" { chapters: [bench, fit, road]  starts: 2026-03-02 }
`;

export const [D, K, R] = ["Dot Marlow", "Kaz Ferreira", "Ruth Oyelaran"];
export const [M, L] = ["mid clicker", "long clicker"];

export type Entry = readonly [key: string, text: string];
export type Log = readonly Entry[];
export type Change = (log: Log) => Log;

/** One entry, by a key, so many days after the first of March. */
export function e(key: string, day: number, text: string, by = D, tool = "", at = ""): Entry {
  const date = new Date(Date.UTC(2026, 2, 1 + day)).toISOString().slice(0, 10);
  const clauses = [
    by === "" ? "" : ` by "${by}"`,
    at === "" ? "" : ` at "${at}"`,
    tool === "" ? "" : ` with "${tool}"`,
  ];
  return [key, `record ${date}${clauses.join("")} { ${text} }\n`];
}

/** The passes of a joint that stands in a circle or groups, as the plan has them. */
function passes(
  key: string,
  day: number,
  torques: readonly string[],
  by: string,
  tool: string,
): Log {
  return torques.map((torque, at) =>
    e(
      `${key}${at + 1}`,
      day,
      `${key} { tightened: ${torque}; pass: ${at + 1}${at === torques.length - 1 ? "; held: yes" : ""} }`,
      by,
      at === 0 ? "" : tool,
    ),
  );
}

export const base: Log = [
  e("mark", 1, "bench.mark.done: yes"),
  e("cut", 1, "bench.cut.done: yes", `${D} and ${K}`),
  e("clock", 1, "bench.clock.done: yes", K),
  e("spot", 1, "bench.spot.done: yes", K),
  e("bead", 2, "bench.bead.done: yes", K),
  e("span.m", 3, "tube.face_to_face: 56 17/32 in", D, "long tape"),
  e("span", 3, `bench.span { done: yes; signed: "${R}" }`),
  e("cool", 3, "bench.cool.done: yes", D, "", "08:30"),
  e("cap1", 4, "cap { tightened: 18 lb-ft; pass: 1 }", D, M),
  e("cap2", 4, "cap { tightened: 42 lb-ft; pass: 2 }", D, M),
  e("cap3", 4, "cap { tightened: 60 lb-ft; pass: 3 }", D, M),
  e("cap4", 4, "cap { turned: 60 deg; pass: 4; held: yes }"),
  e("third", 4, "fit.third.done: yes"),
  e("pin", 4, "pin { tightened: 140 lb-ft; running: 18 lb-ft; held: yes }", D, L),
  e("pinion", 4, "fit.pinion.done: yes"),
  e("came", 4, "seals.at_hand: yes", K),
  e("races", 5, "fit.races.done: yes", K),
  ...passes("ret", 5, ["12 lb-ft", "28 lb-ft", "40 lb-ft", "40 lb-ft"], K, M),
  e("shafts", 5, "fit.shafts.done: yes", K),
  e("hub", 6, "hub { tightened: 100 lb-ft; reading: 86 lb-ft; held: yes }", K, L),
  e("hubs", 6, "fit.hubs.done: yes", K),
  ...passes("spr", 6, ["28.5 lb-ft", "66.5 lb-ft", "95 lb-ft", "95 lb-ft"], D, L),
  e("hang", 6, "fit.hang.done: yes"),
  e("rotors", 7, "fit.rotors.done: yes", K),
  e("snug.t", 7, "brk { tightened: 18.6 lb-ft; pass: 1 }", K, M),
  e("snug", 7, "fit.snug.done: yes", K),
  e("gaps", 7, "fit.gaps.done: yes", K),
  e("shims", 7, "fit.shims.done: yes", K),
  e("brk1", 8, "brk { tightened: 18.6 lb-ft; pass: 1 }", D, M),
  e("brk2", 8, "brk { tightened: 43.4 lb-ft; pass: 2 }", D, M),
  e("brk3", 8, "brk { tightened: 62 lb-ft; pass: 3; held: yes }", D, M),
  e("tight", 8, "fit.tight.done: yes"),
  e("oil", 9, "road.oil.done: yes"),
  e("air", 9, "road.air.done: yes"),
  e("pedal", 9, "road.pedal.done: yes", K),
  ...passes("lug", 10, ["36 lb-ft", "84 lb-ft", "120 lb-ft", "120 lb-ft"], D, L),
  e("wheels", 10, "road.wheels.done: yes"),
  e("down", 10, "road.down.done: yes"),
  e("o1", 10, "hauler.odometer: 12040 mi"),
  e("out", 11, "road.out.done: yes"),
  e("o2", 12, "hauler.odometer: 12095 mi"),
  e("r1", 12, "lug { rechecked: yes }", D, L),
  e("r2", 12, "spr { rechecked: yes }", D, L),
  e("r3", 12, "brk { rechecked: yes }", D, M),
  e("again", 12, "road.again.done: yes"),
];

// ───────────────────────────── changes ─────────────────────────────

export const set =
  (key: string, ...to: Log): Change =>
  (log) =>
    log.flatMap((each) => (each[0] === key ? to : [each]));
export const drop =
  (...keys: string[]): Change =>
  (log) =>
    log.filter(([key]) => !keys.includes(key));
export const add =
  (...more: Log): Change =>
  (log) => [...log, ...more];
export const put =
  (before: string, ...more: Log): Change =>
  (log) =>
    log.flatMap((each) => (each[0] === before ? [...more, each] : [each]));
export const swap =
  (key: string, from: string, to: string): Change =>
  (log) =>
    log.map((each): Entry => (each[0] === key ? [key, each[1].replace(from, to)] : each));
export const change =
  (...all: readonly Change[]): Change =>
  (log) =>
    all.reduce((changed, each) => each(changed), log);
