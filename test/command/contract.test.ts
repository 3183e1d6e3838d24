/** The JSON contract: schemas checked in, and every output held against them by another library. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { isDeepStrictEqual } from "node:util";
import Ajv from "ajv/dist/2020";
import { describe, expect, test } from "vitest";
import { isContract, outputs, schemaOf } from "../../server/command/contract";
import { schemaVerbs } from "../../server/command/verbs";
import { repository, root, smallBuild, workshop } from "./workshop";

const folder = join(root, "server", "command", "schema");
const fileOf = (verb: string) => join(folder, `${verb}.schema.json`);

test.each(Object.keys(outputs) as (keyof typeof outputs)[])(
  "the checked-in schema of %s is what the contract says",
  (verb) => {
    const fresh = schemaOf(verb);
    const stored = existsSync(fileOf(verb)) ? JSON.parse(readFileSync(fileOf(verb), "utf8")) : {};
    if (!isDeepStrictEqual(stored, fresh)) {
      // The file is put right for the next run; this one still says that it was not.
      mkdirSync(folder, { recursive: true });
      writeFileSync(fileOf(verb), `${JSON.stringify(fresh, undefined, 2)}\n`);
    }
    expect(stored).toEqual(fresh);
  },
);

test("every verb with a contract prints its schema", async () => {
  expect(schemaVerbs().sort()).toEqual(Object.keys(outputs).sort());
  for (const verb of schemaVerbs().filter(isContract)) {
    const { code, out } = await repository.trammel("schema", verb);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toEqual(schemaOf(verb));
  }
});

const optioned = `${smallBuild}
option wide "Wider" { rear.mount_width: 65 in }
record "cut" 2026-03-14 { rear.housing.face_to_face: 58 1/16 in ± 1/32 in }
check "wide enough": rear.mount_width >= 64 in
tire open_tire { overall_diameter: ? }
curve pull "Pull": rear.mount_width * z over z from 0 to 1 step 0.5
bill costs { items: [rear_housing]  total: ? }
`;

describe("outputs hold to their schemas", () => {
  const ajv = new Ajv({ strict: false });
  const holds = (verb: keyof typeof outputs, out: string) => {
    const validate = ajv.compile(schemaOf(verb));
    const parsed: unknown = JSON.parse(out);
    validate(parsed);
    expect(validate.errors ?? []).toEqual([]);
    outputs[verb].parse(parsed);
    expect(out).not.toMatch(/NaN|Infinity|undefined/);
  };

  test.each([
    ["show", "build.trammel"],
    ["show", "build.trammel", "--option", "wide"],
    ["show", "build.trammel", "--as-built"],
    ["show", "build.trammel", "rear.housing.face_to_face", "open_tire.overall_diameter", "rear"],
    ["show", "broken.trammel"],
    ["show", "empty.trammel"],
    ["check", "build.trammel", "broken.trammel"],
    ["explain", "build.trammel", "rear.housing.face_to_face"],
    ["explain", "build.trammel", "rear.housing.face_to_face", "--depth", "1"],
    ["explain", "build.trammel", "--fit"],
    ["compare", "build.trammel"],
    ["curve", "build.trammel"],
    ["curve", "build.trammel", "--option", "wide"],
    ["plan", "build.trammel"],
    ["plan", "work.trammel"],
    ["handover", "build.trammel"],
    ["handover", "work.trammel"],
  ] as const)("%s %s %s %s", async (verb, ...args) => {
    const shop = workshop({
      "build.trammel": optioned,
      "broken.trammel": "housing h { standoff: 2.5\n  face_to_face: ?",
      "empty.trammel": "",
      "work.trammel": `joint nuts { count: 5  torque: 60 lb-ft  turn: 90 deg }
procedure job { starts: 2026-04-06  step a { duration: 2 h  sign_off: "the inspector" }  step b { after: a  tighten: nuts } }
record 2026-04-07 { job.b.done: yes  nuts { pass: 1 } }`,
    });
    const { code, out } = await shop.trammel(verb, ...args, "--format", "json");
    expect(code).toBeLessThan(2);
    holds(verb, out);
  });

  test.each([
    "samples/harbor-van/build.trammel",
    "samples/alder-truck/build.trammel",
    "samples/alder-truck/tight.trammel",
  ])("%s", async (file) => {
    holds("show", (await repository.trammel("show", file, "--format", "json")).out);
    holds("curve", (await repository.trammel("curve", file, "--format", "json")).out);
    holds("check", (await repository.trammel("check", file, "--format", "json")).out);
    holds(
      "explain",
      (await repository.trammel("explain", file, "rear.mount_width", "--format", "json")).out,
    );
  });
});
