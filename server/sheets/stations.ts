/**
 * The stations of a job, in the order a vehicle comes to them: which steps are done there, which
 * figures are looked at, which pictures help, whose findings belong there.
 *
 * The names are those of the library: kinds, fields, words of work, codes of checks. Must not know:
 * how a sheet looks.
 */

export interface Station {
  readonly id: string;
  readonly title: string;
  /** Words of the `work` of its steps. */
  readonly work: readonly string[];
  /** Fields by kind, in the order they are looked at. */
  readonly figures: readonly { readonly kind: string; readonly fields: readonly string[] }[];
  /** Names of pictures, as `rear/saw` has `saw`. */
  readonly pictures: readonly string[];
  /** Beginnings of the codes of its findings. */
  readonly codes: readonly string[];
  /** Figures are measured here: a blank stands beside each. */
  readonly measures?: boolean;
}

export const stations: readonly Station[] = [
  {
    id: "measure",
    title: "Measure",
    work: ["support", "measure_up", "mock_up", "disconnect", "lift"],
    figures: [
      { kind: "vehicle", fields: ["wheelbase"] },
      { kind: "corner", fields: ["inner_limit", "outer_limit", "tube_end", "end_angle"] },
      { kind: "body_fit", fields: ["bump_travel", "droop_travel", "tub_room", "fender_edge"] },
      { kind: "body_limit", fields: ["place", "height"] },
      { kind: "housing", fields: ["standoff", "end_length", "center_half_width"] },
      { kind: "corner", fields: ["inner_gap", "outer_gap"] },
    ],
    pictures: ["limits"],
    codes: ["clearance/", "fit/", "tire/", "wheel/", "vehicle/", "range/"],
    measures: true,
  },
  {
    id: "saw",
    title: "Mark and saw",
    work: ["mark", "cut", "prepare"],
    figures: [
      { kind: "corner", fields: ["tape_reading", "tube_mark", "offcut"] },
      { kind: "housing", fields: ["burn", "kerf", "root_gap", "end_length", "face_to_face"] },
    ],
    pictures: ["saw"],
    codes: ["housing/"],
    measures: true,
  },
  {
    id: "weld",
    title: "Fixture and weld",
    work: [
      "index",
      "fixture",
      "set_bar",
      "tack",
      "weld",
      "cool",
      "draw_bar",
      "straighten",
      "inspect",
      "paint",
    ],
    figures: [
      { kind: "housing", fields: ["face_to_face", "tube_diameter", "tube_wall"] },
      { kind: "corner", fields: ["end_angle", "end_correction"] },
      {
        kind: "weld",
        fields: [
          "process",
          "voltage",
          "current",
          "travel_speed",
          "preheat",
          "passes",
          "bevel",
          "fillet",
          "tacks",
          "tack_pitch",
          "rotation",
          "turn_time",
          "weld_time",
          "heat_input",
        ],
      },
    ],
    pictures: ["housing"],
    codes: ["weld/"],
    measures: true,
  },
  {
    id: "shafts",
    title: "Carrier and shafts",
    work: [
      "fit_setup_carrier",
      "set_gears",
      "fit_carrier",
      "fit_bearings",
      "fit_shafts",
      "tack_perches",
      "set_pinion_angle",
      "weld_perches",
      "fit_axle",
      "fill",
    ],
    figures: [
      { kind: "corner", fields: ["shaft_length", "spline_engagement"] },
      { kind: "shaft", fields: ["cut_off", "spline_length"] },
      {
        kind: "carrier",
        fields: ["backlash", "pinion_preload", "bearing_preload", "oil_needed", "modifier"],
      },
    ],
    pictures: ["section"],
    codes: ["carrier/", "shaft/", "bearing/"],
    measures: true,
  },
  {
    id: "brakes",
    title: "Brakes and shims",
    work: [
      "seat_rotor",
      "fit_bracket",
      "read_gap",
      "shim",
      "torque_bracket",
      "fit_caliper",
      "run_lines",
      "bench_bleed",
      "bleed",
      "check_pedal",
    ],
    figures: [
      {
        kind: "caliper_fit",
        fields: [
          "outer_reading",
          "inner_reading",
          "shim",
          "stack",
          "outward_stack",
          "inward_stack",
          "outer_after",
          "inner_after",
        ],
      },
      { kind: "brake", fields: ["rotor_thickness", "rotor_minimum", "rotor_runout"] },
      { kind: "brake_system", fields: ["line_pressure", "pedal_travel"] },
    ],
    pictures: ["grip"],
    codes: ["caliper/", "brake/", "brakes/", "stroke/"],
    measures: true,
  },
  {
    id: "torque",
    title: "Torque cards",
    work: [],
    figures: [],
    pictures: [],
    codes: ["joint/", "wrench/", "order/", "pass/"],
  },
  {
    id: "driveline",
    title: "Driveline and wheels",
    work: ["fit_driveshaft", "fit_wheels", "lower", "turn_wheels"],
    figures: [
      {
        kind: "driveshaft",
        fields: [
          "run",
          "drop",
          "length",
          "front_angle",
          "rear_angle",
          "pinion_setting",
          "slip_engagement",
          "slip_least",
          "slip_left",
        ],
      },
    ],
    pictures: ["side", "links"],
    codes: ["driveline/", "gearing/", "gearbox/"],
    measures: true,
  },
  {
    id: "road",
    title: "Road test and check again",
    work: ["bed_brakes", "balance_brakes", "road_test", "recheck"],
    figures: [
      { kind: "brake_system", fields: ["knee", "deceleration", "stop_distance", "front_bias"] },
      { kind: "gearbox", fields: ["cruise_speed", "cruise_engine_speed", "speedometer_error"] },
    ],
    pictures: ["speeds"],
    codes: [],
    measures: true,
  },
];

/** The sheet that lists what is still to be measured, wherever. */
export const measuringStation = "measure";

/** Templates to cut out, each at full size. */
export const templates = {
  id: "templates",
  title: "Templates at full size",
  pictures: ["drill", "band", "strip"],
} as const;

/** The last of all: what rests on what, what is bought, who signs. */
export const handOver = { id: "hand-over", title: "Hand over" } as const;

/** What an order list is made of. */
export const orderKinds = { part: "part", joint: "joint" } as const;

/** Where a tube has to be bought: the end of an axle that has none, or whose tube ends too early. */
export const newTube = {
  kind: "corner",
  length: "tube_left",
  offcut: "offcut",
  housing: "housing",
  section: ["tube_diameter", "tube_wall"],
} as const;

/** What is cut, in the order it is cut. */
export const cutFigures = [
  { kind: "housing", fields: ["face_to_face"] },
  { kind: "corner", fields: ["tape_reading", "tube_mark", "shaft_length"] },
] as const;
