/**
 * The names of the few kinds and fields of the library that this room reads. Everything else it
 * knows about joints, steps and instruments it is told by the build.
 */

export const kinds = {
  joint: "joint",
  step: "step",
  procedure: "procedure",
  instrument: "instrument",
  wrench: "wrench",
  vehicle: "vehicle",
  machine: "machine",
} as const;

export const machineFields = { count: "count" } as const;

/** Of the vehicle: how far it has been driven. */
export const odometerField = "odometer";

export const jointFields = {
  count: "count",
  groups: "groups",
  pattern: "pattern",
  columns: "columns",
  placesX: "places_x",
  placesY: "places_y",
  sequence: "sequence",
  passes: "passes",
  passTorques: "pass_torques",
  turn: "turn",
  circularPass: "circular_pass",
  torque: "torque",
  appliedTorque: "applied_torque",
  wrench: "wrench",
  wrenchSetting: "wrench_setting",
  extension: "extension",
  surface: "surface",
  locking: "locking",
  singleUse: "single_use",
  runningTorque: "running_torque",
  adjustable: "adjustable",
  cure: "cure",
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
  otherThan: "other_than",
  signOff: "sign_off",
  duration: "duration",
  machines: "machines",
  parts: "parts",
} as const;

/** Of a part: whether it is here. */
export const atHandField = "at_hand";

export const procedureFields = { starts: "starts", hours: "hours", people: "people" } as const;

/** Fields that only records write. */
export const recordFields = {
  tightened: "tightened",
  reading: "reading",
  running: "running",
  turned: "turned",
  pass: "pass",
  bolts: "bolts",
  held: "held",
  rechecked: "rechecked",
  loosened: "loosened",
  renewed: "renewed",
  done: "done",
  signed: "signed",
  accepted: "accepted",
  until: "until",
  because: "because",
  follows: "follows",
  withdrawn: "withdrawn",
  photos: "photos",
  remark: "remark",
} as const;

export const instrumentFields = {
  readsTo: "reads_to",
  angleTo: "angle_to",
  accuracy: "accuracy",
  least: "least",
  most: "most",
  scaleStep: "scale_step",
  calibrated: "calibrated",
  calibrationEvery: "calibration_every",
  fromLength: "from_length",
  toLength: "to_length",
  sort: "sort",
} as const;

/** Instruments of the shop that nobody declared, by name; its columns are called like their fields. */
export const instrumentTable = { name: "shop_instruments", key: "name" } as const;

/** Words of the choice fields. */
export const words = {
  hold: { none: "none", untilCool: "until_cool", untilCured: "until_cured", forTime: "for_time" },
  pattern: {
    cross: "cross",
    circle: "circle",
    line: "line",
    rectangle: "rectangle",
    twoRows: "two_rows",
    coordinates: "coordinates",
  },
} as const;
