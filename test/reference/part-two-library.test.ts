/** The second half of the library: every formula makes sense, every word is explained and sourced. */

import { describe, expect, it } from "vitest";
import type { Problem } from "../../server/findings/worded";
import { compileCondition, compileEquation } from "../../server/model/compile";
import { kindEnvironment } from "../../server/model/kind-environment";
import { sentence } from "../findings/sentence";
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
  it("every formula makes sense", () => {
    const environment = kindEnvironment(kind, library.vocabulary);
    const problems: string[] = [];
    const say = (title: string, found: readonly Problem[]): void => {
      problems.push(...found.map((problem) => `${title}: ${sentence(problem)}`));
    };
    for (const { title, node } of kind.relations) {
      say(title, compileEquation(node.left, node.right, environment).problems);
      if (node.when !== undefined) say(title, compileCondition(node.when, environment).problems);
    }
    for (const { title, node } of kind.checks) {
      say(title, compileCondition(node.condition, environment).problems);
      if (node.when !== undefined) say(title, compileCondition(node.when, environment).problems);
    }
    expect(problems).toEqual([]);
  });

  it("every relation, check, curve and default names its source", () => {
    const without = [...kind.relations, ...kind.checks, ...kind.curves]
      .filter(({ remarks }) => !remarks.source)
      .map(({ title }) => title);
    for (const field of kind.fields.values()) {
      if (field.default !== undefined && !field.source) without.push(field.name);
    }
    expect(without).toEqual([]);
  });

  it("every check says what is wrong and what to do, under a code of its own", () => {
    const own = kind.checks.filter(({ anchor }) => files.test(anchor.uri));
    for (const { title, remarks } of own) {
      expect(remarks.advise, title).toBeTruthy();
      expect(remarks.message, title).toBeTruthy();
      expect(remarks.message, title).toMatch(/^[a-z]/);
      expect(remarks.code, title).toMatch(/^[a-z0-9-]+\/[a-z0-9-]+$/);
    }
    expect(new Set(own.map(({ remarks }) => remarks.code)).size).toBe(own.length);
  });

  it("every check on brakes carries the caution", () => {
    for (const { title, remarks } of kind.checks) {
      if (remarks.code?.startsWith("brake/") !== true) continue;
      expect(remarks.caution, title).toMatch(/qualified person/);
    }
  });

  it("every field says what it means, and few are headlines", () => {
    const fields = [...kind.fields.values()];
    expect(fields.filter((field) => !field.description).map((field) => field.name)).toEqual([]);
    expect(fields.filter((field) => field.shown).length).toBeLessThanOrEqual(4);
  });
});
