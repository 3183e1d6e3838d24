/** Names that others use, and what checks of this half of the library say. */

import { describe, expect, it } from "vitest";
import { library } from "./part-two-solve-text";

const { kinds } = library.vocabulary;
/** All but the first half's files (part-one-library) and those on the order of work. */
const files =
  /\/(?!(?:axle|bearing|bill|body|carrier|corner|housing|hub|part|shaft|steel|strength|vehicle|weld|wheel|wheel-fit|tire|thread|joint|wrench|procedure|order)\.)[a-z0-9-]+\.trammel$/;
const ours = [...kinds.values()].filter((kind) => files.test(kind.anchor.uri));

/** Names that checks outside of this repository use. */
const settled: Readonly<Record<string, readonly string[]>> = {
  brake: [
    "hat_thickness",
    "rotor_diameter",
    "rotor_thickness",
    "rotor_minimum",
    "caliper_radius",
    "piston_area",
    "pad_friction",
    "effective_radius",
  ],
  brake_system: [
    "pedal_force",
    "pedal_ratio",
    "bore",
    "boost",
    "knee",
    "slope",
    "line_pressure",
    "front_torque",
    "rear_torque",
    "deceleration",
    "front_bias",
  ],
  shim_kit: ["sizes"],
  caliper_fit: ["outer_reading", "inner_reading", "shim", "stack", "residual"],
  gearbox: ["ratios", "speed", "engine_speed"],
  engine: ["redline"],
  driveshaft: [
    "length",
    "tube_diameter",
    "tube_wall",
    "front_angle",
    "rear_angle",
    "critical_speed",
  ],
};

it("has the settled names", () => {
  for (const [kind, fields] of Object.entries(settled)) {
    expect([...(kinds.get(kind)?.fields.keys() ?? [])], kind).toEqual(
      expect.arrayContaining([...fields]),
    );
  }
});

it("covers its subjects", () => {
  expect(ours.map((kind) => kind.name)).toEqual(
    expect.arrayContaining([
      "brake",
      "brake_system",
      "brake_test",
      "shim_kit",
      "caliper_fit",
      "caliper_mount",
      "gearbox",
      "gear",
      "engine",
      "universal_joint",
      "driveshaft",
      "spring",
    ]),
  );
});

describe.each(ours.map((kind) => [kind.name, kind] as const))("%s", (_name, kind) => {
  it("every check says what is wrong and what to do, under a code of its own", () => {
    const own = kind.checks.filter(({ anchor }) => files.test(anchor.uri));
    for (const { title, remarks } of own) {
      expect(remarks.message, title).toBeTruthy();
      expect(remarks.message, title).toMatch(/^[a-z]/);
    }
    expect(new Set(own.map(({ remarks }) => remarks.code)).size).toBe(own.length);
  });

  it("every check on brakes carries the caution", () => {
    for (const { title, remarks } of kind.checks) {
      if (remarks.code?.startsWith("brake/") !== true) continue;
      expect(remarks.caution, title).toMatch(/qualified person/);
    }
  });
});
