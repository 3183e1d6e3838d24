/**
 * The names of the kinds and fields of the library that this room draws. Nothing else of the
 * project's code but the rooms above knows them; what they mean stands in `server/library/`.
 */

export const kinds = {
  axle: "axle",
  corner: "corner",
  bodyLimit: "body_limit",
  driveshaft: "driveshaft",
  linkage: "linkage",
  brakeSystem: "brake_system",
  gearbox: "gearbox",
  gear: "gear",
  joint: "joint",
  hub: "hub",
  wheel: "wheel",
  housing: "housing",
  wheelEnd: "wheel_end",
} as const;

/** Parts of an axle, and what its fields lead to. */
export const axleParts = {
  axle: "axle",
  left: "left",
  right: "right",
  wheel: "wheel",
  tire: "tire",
  brake: "brake",
  housing: "housing",
  carrier: "carrier",
  hub: "hub",
} as const;

/** How a driveshaft in several pieces hangs together. */
export const pieces = { ahead: "ahead", endsAt: "ends_at", bearing: "bearing" } as const;

/** What a gap's check is called by: its findings make a gap stand out. */
export const clearanceCodes = "clearance/";

export const firstWhole = {
  axle: ["mount_width", "track", "overall_width"],
  housing: ["face_to_face"],
} as const;

/** Curves by the name of the library, each with what its plot says. */
export const brakeCurves = {
  front: "front_used",
  rear: "rear_used",
  shared: "shared_adhesion",
  reached: "rate_reached",
  wanted: "rate_wanted",
} as const;

/** Beginning of the names of a rule's limits over the braking rate, and the field that leads it to the brakes. */
export const corridorCurve = "corridor_";
export const systemField = "system";

export const speedCurve = "speed";

export const wantedGap = "wanted_gap";
