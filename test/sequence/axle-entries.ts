/**
 * The work on one axle and its log, entry by entry. The axle, its people and its figures are invented.
 *
 *     base.map(([, text]) => text).join("")   →   the whole log
 */

export const plan = `vehicle van "Van" { mass: 3900 lb }
instrument tape "bench tape" { reads_to: 1/64 in  from_length: 1 in  to_length: 12 ft  calibrated: 2025-11-03 }
instrument feeler "feeler stack" { reads_to: 0.002 in }
wrench click "big click" { least: 25 lb-ft  most: 160 lb-ft  length: 18 in  scale_step: 1 lb-ft  calibrated: 2025-10-10 }
wrench small "small click" { least: 8 lb-ft  most: 45 lb-ft  length: 10 in  calibrated: 2025-10-10 }
housing tube "Tube" { face_to_face: 55 in ± 1/4 in }
joint bracket "Bracket bolts" { thread: 1/2-20  grade: 8  count: 6  torque: 78 lb-ft  after: job.shims  wrench: click }
joint caliper "Caliper bolts" { thread: 3/8-24  grade: 8  count: 2  torque: 33 lb-ft  pattern: line  locking: "red lock"  cure: 24 h  wrench: small }
joint nuts "Wheel nuts" { thread: 1/2-20  grade: 8  count: 5  torque: 92 lb-ft  recheck_after: 45 mi  wrench: click }
joint ubolts "U-bolts" { thread: 1/2-20  grade: 8  count: 8  groups: 2  torque: 70 lb-ft  single_use: yes  wrench: click }
joint stake "Stake nut" { thread: 3/4-16  grade: 8  torque: 120 lb-ft  running_torque: 15 lb-ft  wrench: click }
joint head "Head bolts" { thread: 7/16-20  grade: 8  count: 10  torque: 40 lb-ft  turn: 90 deg  wrench: click }
joint foot "Line nut" { torque: 30 lb-ft  extension: 2 in  wrench: click }
procedure job {
  step tack { work: tack  after: index }
  step index { work: index }
  step weld { work: weld  after: tack }
  step cool { work: cool  hold: until_cool  hold_time: 3 h }
  step width { work: inspect  measure: tube.face_to_face  sign_off: "the foreman" }
  step carrier { work: fit_carrier }
  step bearings { work: fit_bearings  }
  step shafts { work: fit_shafts  other_than: bearings }
  step spring { after: shafts  tighten: ubolts }
  step rotors { work: seat_rotor }
  step snug { work: fit_bracket  after: rotors  tighten: bracket  tighten_to: 30 % }
  step gaps { work: read_gap }
  step shims { work: shim }
  step tight { work: torque_bracket  tighten: bracket }
  step calipers { work: fit_caliper  tighten: caliper }
  step lines { work: run_lines  tighten: foot }
  step pinion { after: carrier  tighten: stake }
  step heads { tighten: head }
  step fill { work: fill }
  step master { work: bench_bleed }
  step bleed { work: bleed }
  step pedal { work: check_pedal }
  step wheels { work: fit_wheels  after: pedal  tighten: nuts }
  step down { work: lower }
  step drive { work: road_test }
  step again { work: recheck  recheck: nuts }
  step signoff { after: [again, width, down, lines, fill]  left_out: "no second axle" }
}
`;

/** One entry, so many days after the first Sunday of the year. */
export function rec(after: number, by: string, text: string, tool = "", at = ""): string {
  return recordOf(Date.UTC(2026, 0, 4 + after), by, text, tool, at);
}

export function recordOf(time: number, by: string, text: string, tool: string, at: string): string {
  const day = new Date(time).toISOString().slice(0, 10);
  const head = `${day}${by && ` by "${by}"`}${at && ` at "${at}"`}${tool && ` with "${tool}"`}`;
  return `record ${head} { ${text} }\n`;
}

export const A = "Nell Ochoa",
  B = "Sam Rudd",
  F = "Ida Foreman";
// base log: array of [key, day, line]
/** The whole log, each entry by a name. */
export const base: [string, string][] = [
  ["index", rec(0, A, "job.index.done: yes")],
  ["tack", rec(1, A, "job.tack.done: yes")],
  ["weld", rec(2, A, "job.weld.done: yes")],
  ["cool", rec(3, A, "job.cool.done: yes")],
  ["width.m", rec(4, A, "tube.face_to_face: 55 1/32 in", "bench tape")],
  ["width", rec(4, A, `job.width { done: yes  signed: "${F}" }`)],
  ["carrier", rec(5, A, "job.carrier.done: yes")],
  ["bearings", rec(5, A, "job.bearings.done: yes")],
  ["shafts", rec(6, B, "job.shafts.done: yes")],
  ["u1", rec(7, B, "ubolts { tightened: 21 lb-ft  pass: 1 }", "small click")],
  ["u2", rec(7, B, "ubolts { tightened: 49 lb-ft  pass: 2 }", "big click")],
  ["u3", rec(7, B, "ubolts { tightened: 70 lb-ft  pass: 3 }", "big click")],
  ["u4", rec(7, B, "ubolts { tightened: 70 lb-ft  pass: 4  held: yes }", "big click")],
  ["spring", rec(7, B, "job.spring.done: yes")],
  ["rotors", rec(8, A, "job.rotors.done: yes")],
  ["snugj", rec(8, A, "bracket { tightened: 23.4 lb-ft  pass: 1 }", "small click")],
  ["snug", rec(8, A, "job.snug.done: yes")],
  ["gaps", rec(9, A, "job.gaps.done: yes")],
  ["shims", rec(9, A, "job.shims.done: yes")],
  [
    "b1",
    rec(
      10,
      A,
      "bracket { tightened: 23.4 lb-ft  pass: 1  bolts: [1, 4, 2, 5, 3, 6] }",
      "small click",
    ),
  ],
  [
    "b2",
    rec(
      10,
      A,
      "bracket { tightened: 54.6 lb-ft  pass: 2  bolts: [1, 4, 2, 5, 3, 6] }",
      "big click",
    ),
  ],
  [
    "b3",
    rec(10, A, "bracket { tightened: 78 lb-ft  pass: 3  bolts: [1, 4, 2, 5, 3, 6] }", "big click"),
  ],
  [
    "b4",
    rec(
      10,
      A,
      "bracket { tightened: 78 lb-ft  pass: 4  bolts: [1, 2, 3, 4, 5, 6]  held: yes }",
      "big click",
    ),
  ],
  ["tight", rec(10, A, "job.tight.done: yes")],
  ["cj", rec(11, A, "caliper { tightened: 33 lb-ft  held: yes }", "small click")],
  ["calipers", rec(11, A, "job.calipers.done: yes")],
  ["foot", rec(13, B, "foot { tightened: 30 lb-ft  held: yes }", "big click")],
  ["lines", rec(13, B, "job.lines.done: yes")],
  [
    "stake",
    rec(13, B, "stake { tightened: 120 lb-ft  running: 14 lb-ft  held: yes }", "big click"),
  ],
  ["pinion", rec(13, B, "job.pinion.done: yes")],
  ["h1", rec(14, B, "head { tightened: 40 lb-ft  held: yes }", "big click")],
  ["h2", rec(14, B, "head { turned: 90 deg }")],
  ["heads", rec(14, B, "job.heads.done: yes")],
  ["fill", rec(15, B, "job.fill.done: yes")],
  ["master", rec(15, B, "job.master.done: yes")],
  ["bleed", rec(15, B, "job.bleed.done: yes")],
  ["pedal", rec(15, B, "job.pedal.done: yes")],
  ["nj", rec(16, B, "nuts { tightened: 92 lb-ft  held: yes }", "big click")],
  ["wheels", rec(16, B, "job.wheels.done: yes")],
  ["down", rec(16, B, "job.down.done: yes")],
  ["odo1", rec(16, B, "van.odometer: 1200.0 mi")],
  ["drive", rec(17, B, "job.drive.done: yes")],
  ["odo2", rec(17, B, "van.odometer: 1250.0 mi")],
  ["nr", rec(17, B, "nuts { rechecked: yes  tightened: 92 lb-ft }", "big click")],
  ["again", rec(17, B, "job.again.done: yes")],
];

export const redo = (d: number) => [
  rec(d, A, "bracket.loosened: yes"),
  rec(d, A, "bracket { tightened: 23.4 lb-ft  pass: 1 }", "small click"),
  rec(d, A, "bracket { tightened: 54.6 lb-ft  pass: 2 }", "big click"),
  rec(d, A, "bracket { tightened: 78 lb-ft  pass: 3 }", "big click"),
  rec(d, A, "bracket { tightened: 78 lb-ft  pass: 4  held: yes }", "big click"),
  rec(d, A, "job.tight.done: yes"),
  rec(d, A, "caliper { tightened: 33 lb-ft  held: yes }", "small click"),
  rec(d, A, "job.calipers.done: yes"),
];
