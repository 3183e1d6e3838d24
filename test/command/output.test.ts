/** Output that cannot be written ends with 2 and a word, in every verb; a reader that left does not. */
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { verbs } from "../../server/command/verbs";
import { root } from "./workshop";

const program = join(root, "dist", "trammel.js");

/** Arguments with which a verb has something to write. */
const written: Readonly<Record<string, string>> = {
  check: "samples --exit-zero",
  show: "samples/alder-truck/build.trammel",
  explain: "samples/alder-truck/build.trammel rear.housing.face_to_face",
  compare: "samples/harbor-van/build.trammel",
  curve: "samples/harbor-van/running-gear.trammel",
  format: "samples/alder-truck/build.trammel",
  plan: "samples/harbor-van/work.trammel",
  reference: "axle",
  schema: "show",
};

function run(command: string) {
  const { status, stdout, stderr } = spawnSync("bash", ["-c", command], {
    encoding: "utf8",
    cwd: root,
    env: { ...process.env, NODE: process.execPath, PROGRAM: program },
  });
  return { status, stdout, stderr };
}

const full = existsSync("/dev/full");

describe.skipIf(!full)("on a full disk", () => {
  // Verbs that are not in the table are tried with what they say when nothing is named.
  const commands = [
    ...verbs.map(({ name }) =>
      written[name] === undefined ? `help ${name}` : `${name} ${written[name]}`,
    ),
    "check samples --format json",
    "check samples --format sarif",
    "check samples --format github",
    "show samples/alder-truck/build.trammel --format json",
    "--version",
    "--help",
  ];

  test.each(commands)("%s", (args) => {
    expect(run(`"$NODE" "$PROGRAM" ${args} >/dev/full`)).toEqual({
      status: 2,
      stdout: "",
      stderr: "trammel: the output could not be written: there is no room left on the disk\n",
    });
  });

  test("nobody to tell it to", () => {
    expect(run(`"$NODE" "$PROGRAM" reference axle >/dev/full 2>/dev/full`).status).toBe(2);
  });
});

test("a reader that has seen enough is no reason to fail", () => {
  expect(
    run(`"$NODE" "$PROGRAM" reference axle | head -c 10 >/dev/null; exit \${PIPESTATUS[0]}`).status,
  ).toBe(0);
});
