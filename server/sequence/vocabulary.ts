/**
 * The names of the few kinds and fields of the library that this room reads. Everything else it
 * knows about joints, steps and instruments it is told by the build.
 */

export const kinds = {
  joint: "joint",
  step: "step",
  procedure: "procedure",
  instrument: "instrument",
} as const;

export const jointFields = {
  count: "count",
  groups: "groups",
  pattern: "pattern",
  sequence: "sequence",
  passes: "passes",
  passTorques: "pass_torques",
  circularPass: "circular_pass",
  torque: "torque",
  appliedTorque: "applied_torque",
  wrench: "wrench",
  wrenchSetting: "wrench_setting",
  surface: "surface",
  locking: "locking",
  singleUse: "single_use",
  runningTorque: "running_torque",
  adjustable: "adjustable",
  recheckAfter: "recheck_after",
  after: "after",
  thread: "thread",
  grade: "grade",
} as const;

export const stepFields = {
  work: "work",
  on: "on",
  after: "after",
  tighten: "tighten",
  tightenTo: "tighten_to",
  recheck: "recheck",
  measure: "measure",
  needs: "needs",
  hold: "hold",
  holdTime: "hold_time",
  hands: "hands",
  caution: "caution",
  note: "note",
  chapters: "chapters",
  leftOut: "left_out",
} as const;

/** Fields that only records write. */
export const recordFields = {
  tightened: "tightened",
  pass: "pass",
  bolts: "bolts",
  held: "held",
  rechecked: "rechecked",
  done: "done",
} as const;

export const instrumentFields = {
  readsTo: "reads_to",
  angleTo: "angle_to",
  accuracy: "accuracy",
  least: "least",
  most: "most",
} as const;

/** Instruments of the shop that nobody declared, by name. */
export const instrumentTable = {
  name: "shop_instruments",
  key: "name",
  length: "reads_to",
} as const;

/** Words of the choice fields. */
export const words = {
  hold: { none: "none", untilCool: "until_cool", untilCured: "until_cured", forTime: "for_time" },
  pattern: { cross: "cross", circle: "circle", line: "line" },
} as const;
