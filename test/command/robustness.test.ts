/** Whatever is typed or read: an exit code, a message for a person, no exception. */
import { spawnSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { root, smallBuild, workshop } from "./workshop";

const unexpected = "this should not have happened";

test("no arguments make it throw", { timeout: 120_000 }, async () => {
  const shop = workshop({ "build.trammel": smallBuild });
  const word = fc.oneof(
    fc.constantFrom(
      "check",
      "show",
      "explain",
      "compare",
      "format",
      "reference",
      "schema",
      "plan",
      "choose",
      "help",
      "build.trammel",
      "rear",
      "rear.housing.face_to_face",
      "--format",
      "json",
      "--all",
      "--fit",
      "--stdin",
      "-",
      "--option",
      "--depth",
      "--for",
      "--by",
      "--help",
      "--version",
      "--check",
      "axle",
      ".",
    ),
    fc.string({ maxLength: 12 }),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(word, { maxLength: 6 }), async (args) => {
      const { code, log } = await shop.trammelWith({ input: smallBuild }, ...args);
      expect([0, 1, 2]).toContain(code);
      expect(log).not.toContain(unexpected);
    }),
    { numRuns: 150 },
  );
});

test("no text makes it throw", { timeout: 120_000 }, async () => {
  const piece = fc.oneof(
    fc.constantFrom(
      "housing h {",
      "}",
      "face_to_face: ?",
      "standoff: 2.5 in",
      "axle rear { housing: h }",
      'use "x"',
      'check "a": ',
      "option o {",
      "record 2026-01-01 {",
      "±",
      "..",
      "1/0",
      "kind k {",
      "relation: a = b",
      "\n",
      "#",
      '"',
      "h.standoff",
      "rear: rear",
    ),
    fc.string({ maxLength: 20 }),
  );
  await fc.assert(
    fc.asyncProperty(
      fc.array(piece, { maxLength: 12 }),
      fc.constantFrom("check", "show", "plan", "format"),
      async (pieces, verb) => {
        const { code, log, out } = await workshop().trammelWith(
          { input: pieces.join(" ") },
          verb,
          "-",
        );
        expect([0, 1, 2]).toContain(code);
        expect(log).not.toContain(unexpected);
        expect(out).not.toMatch(
          /\bNaN\b|\bInfinity\b|\bundefined\b/.test(pieces.join(" "))
            ? /$^/
            : /\bNaN\b|\bInfinity\b|\bundefined\b/,
        );
      },
    ),
    { numRuns: 120 },
  );
});

describe("the built command", () => {
  const program = join(root, "dist", "trammel.js");
  const run = (args: string[], options: { input?: string; cwd?: string } = {}) => {
    const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...args], {
      encoding: "utf8",
      cwd: root,
      ...options,
    });
    return { status, stdout, stderr };
  };

  test("ends with 0, 1 and 2", () => {
    expect(run(["show", "samples/alder-truck/build.trammel"])).toMatchObject({
      status: 0,
      stderr: "",
    });
    expect(run(["check", "samples/alder-truck/tight.trammel"]).status).toBe(1);
    expect(run(["check", "no-such.trammel"])).toMatchObject({ status: 2, stdout: "" });
    expect(run([]).status).toBe(2);
    expect(run(["--help"])).toMatchObject({ status: 0, stderr: "" });
  });

  test("reads standard input and does not wait for a device", () => {
    expect(run(["show", "-", "rear.housing.face_to_face"], { input: smallBuild }).stdout).toContain(
      "58 in",
    );
    const shop = workshop();
    mkdirSync(join(shop.folder, "x.trammel"));
    expect(run(["check", "/dev/zero"], { cwd: shop.folder }).status).toBe(2);
    expect(run(["show", "x.trammel"], { cwd: shop.folder }).status).toBe(2);
  });

  test("does not mind a reader that has seen enough", () => {
    const { status, stderr } = spawnSync(
      "sh",
      ["-c", `"${process.execPath}" "${program}" reference axle | head -c 10`],
      { encoding: "utf8", cwd: root },
    );
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  });
});
