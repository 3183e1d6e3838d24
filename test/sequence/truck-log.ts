/**
 * The rear of a metric truck in three chapters with its log: other joints, people and figures than
 * `axle-log.ts`, for mistakes of other shapes. All of it is invented.
 */
import { type Log, objectionsOf, recordOf } from "./axle-log";

export const plan = `vehicle rig "Rig" { mass: 2600 kg }
instrument rule "two-meter rule" { reads_to: 0.5 mm  from_length: 10 mm  to_length: 2 m  calibrated: 2026-02-02  calibration_every: 180 day }
instrument bore "bore gauge" { reads_to: 0.005 mm  from_length: 20 mm  to_length: 100 mm }
wrench half "half-inch wrench" { least: 40 N-m  most: 220 N-m  length: 450 mm  scale_step: 1 N-m  calibrated: 2026-01-15 }
wrench small "small wrench" { least: 5 N-m  most: 60 N-m  length: 250 mm  scale_step: 1 N-m }
housing beam "Beam" { face_to_face: 1400 mm ± 2 mm }
part seals "Pinion seal" { at_hand: yes }
joint cover "Cover bolts" { thread: M8x1.25  grade: 8.8  count: 10  torque: 24 N-m  pattern: rectangle  columns: 3  wrench: small }
joint flange "Flange nuts" { thread: M12x1.5  grade: 10.9  count: 16  groups: 2  torque: 105 N-m  wrench: half }
joint studs "Wheel nuts" { thread: M14x1.5  grade: 10.9  count: 6  torque: 170 N-m  recheck_after: 80 km  wrench: half }
joint link "Link bolt" { thread: M16x1.5  grade: 10.9  torque: 200 N-m  adjustable: yes  wrench: half }
joint slide "Slide bolts" { thread: M12x1.5  grade: 10.9  count: 4  pattern: line  torque: 100 N-m  single_use: yes  wrench: half  after: ends.trim }
joint drain "Drain plug" { thread: M18x1.5  grade: 8.8  torque: 45 N-m  wrench: half }
procedure house "House" {
  step clean { work: prepare }
  step clock { work: index  after: clean }
  step spots { work: tack }
  step bead { work: weld  duration: 3 h  hands: 2 }
  step rest { work: cool  hold: until_cool  hold_time: 4 h }
  step span { work: inspect  measure: beam.face_to_face  sign_off: "the inspector"
    check "beam is straight": beam.face_to_face <= 1403 mm }
}
procedure ends "Ends" {
  step pig { work: fit_carrier  parts: seals }
  step races { work: fit_bearings }
  step halves { work: fit_shafts  tighten: flange  other_than: races }
  step lid { work: fit_cover  after: pig  tighten: cover }
  step discs { work: seat_rotor }
  step mount { work: fit_bracket  tighten: slide  tighten_to: 30 % }
  step gap { work: read_gap }
  step trim { work: shim }
  step final { work: torque_bracket  tighten: slide }
  step arms { work: other  tighten: link }
  step look { work: other  after: arms  recheck: link }
  step oil { work: fill  tighten: drain }
}
procedure road "Road" {
  step pots { work: fit_caliper  on: rig  after: ends.final }
  step pipes { work: run_lines }
  step air { work: bleed }
  step foot { work: check_pedal }
  step rims { work: fit_wheels  tighten: studs }
  step floor { work: lower  after: rims }
  step trip { work: road_test }
  step again { work: recheck  recheck: studs }
}
procedure whole "Rear" { chapters: [house, ends, road]  starts: 2026-03-02 }
`;
export const P = "Vera Lindt";
export const Q = "Tom Abara";
export const I = "Ines Falk";
export const H = "half-inch wrench";
export const S = "small wrench";
/** One entry, so many days after the second of March. */
export function rec(after: number, by: string, text: string, tool = "", at = ""): string {
  return recordOf(Date.UTC(2026, 2, 2 + after), by, text, tool, at);
}

/** The whole log, each entry by a name. */
export const base: [string, string][] = [
  ["clean", rec(0, P, "house.clean.done: yes")],
  ["clock", rec(0, P, "house.clock.done: yes")],
  ["spots", rec(1, P, "house.spots.done: yes")],
  ["bead", rec(1, P, "house.bead.done: yes")],
  ["rest", rec(2, P, "house.rest.done: yes")],
  ["span.m", rec(3, P, "beam.face_to_face: 1400.5 mm", "two-meter rule")],
  ["span", rec(3, P, `house.span { done: yes; signed: "${I}" }`)],
  ["pig", rec(4, Q, "ends.pig.done: yes")],
  ["races", rec(4, Q, "ends.races.done: yes")],
  ["f1", rec(5, P, "flange { tightened: 31.5 N-m; pass: 1 }", S)],
  ["f2", rec(5, P, "flange { tightened: 73.5 N-m; pass: 2 }", H)],
  ["f3", rec(5, P, "flange { tightened: 105 N-m; pass: 3 }", H)],
  ["f4", rec(5, P, "flange { tightened: 105 N-m; pass: 4; held: yes }", H)],
  ["halves", rec(5, P, "ends.halves.done: yes")],
  ["c1", rec(5, P, "cover { tightened: 7.2 N-m; pass: 1 }", S)],
  ["c2", rec(5, P, "cover { tightened: 16.8 N-m; pass: 2 }", S)],
  ["c3", rec(5, P, "cover { tightened: 24 N-m; pass: 3 }", S)],
  ["c4", rec(5, P, "cover { tightened: 24 N-m; pass: 4; held: yes }", S)],
  ["lid", rec(5, P, "ends.lid.done: yes")],
  ["discs", rec(6, P, "ends.discs.done: yes")],
  ["sl0", rec(6, P, "slide { tightened: 30 N-m; pass: 1 }", S)],
  ["mount", rec(6, P, "ends.mount.done: yes")],
  ["gap", rec(6, P, "ends.gap.done: yes")],
  ["trim", rec(6, P, "ends.trim.done: yes")],
  ["sl2", rec(7, P, "slide { tightened: 70 N-m; pass: 2 }", H)],
  ["sl3", rec(7, P, "slide { tightened: 100 N-m; pass: 3; held: yes }", H)],
  ["final", rec(7, P, "ends.final.done: yes")],
  ["lk", rec(7, Q, "link { tightened: 200 N-m; held: yes }", H)],
  ["arms", rec(7, Q, "ends.arms.done: yes")],
  ["lk2", rec(8, Q, "link.rechecked: yes", H)],
  ["look", rec(8, Q, "ends.look.done: yes")],
  ["dr", rec(8, Q, "drain { tightened: 45 N-m; held: yes }", H)],
  ["oil", rec(8, Q, "ends.oil.done: yes")],
  ["pots", rec(9, Q, "road.pots.done: yes")],
  ["pipes", rec(9, Q, "road.pipes.done: yes")],
  ["air", rec(10, Q, "road.air.done: yes")],
  ["foot", rec(10, Q, "road.foot.done: yes")],
  ["st1", rec(11, Q, "studs { tightened: 51 N-m; pass: 1 }", H)],
  ["st2", rec(11, Q, "studs { tightened: 119 N-m; pass: 2 }", H)],
  ["st3", rec(11, Q, "studs { tightened: 170 N-m; pass: 3 }", H)],
  ["st4", rec(11, Q, "studs { tightened: 170 N-m; pass: 4; held: yes }", H)],
  ["rims", rec(11, Q, "road.rims.done: yes")],
  ["floor", rec(11, Q, "road.floor.done: yes")],
  ["odo1", rec(11, Q, "rig.odometer: 40210 km")],
  ["trip", rec(12, Q, "road.trip.done: yes")],
  ["odo2", rec(12, Q, "rig.odometer: 40300 km")],
  ["rc", rec(12, Q, "studs { rechecked: yes; tightened: 170 N-m }", H)],
  ["again", rec(12, Q, "road.again.done: yes")],
];

export function log(edit: (entries: Log) => void): string {
  const entries: Log = new Map(base);
  edit(entries);
  return [...entries.values()].join("");
}
export const set = (name: string, text: string): string =>
  log((entries) => entries.set(name, text));
export const del = (...names: string[]): string =>
  log((entries) => {
    for (const name of names) entries.delete(name);
  });
export const add = (...more: string[]): string => log(() => {}) + more.join("");
/** With more of them behind one. */
export const insert = (name: string, ...more: string[]): string =>
  log((entries) => entries.set(name, (entries.get(name) ?? "") + more.join("")));

/** All that is said of the log, as "code: message"; of the plan alone nothing is said. */
export function objections(text: string, notes = false): string[] {
  return objectionsOf(plan + text, notes);
}
