/**
 * A disk that is really full: a small one in memory, where the machine lets us mount one (as root,
 * on Linux). Elsewhere these are skipped and say so; `writing.test.ts` has the limit on file sizes.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { root } from "../command/workshop";

const program = join(root, "dist", "trammel.js");
const disk = mkdtempSync(join(tmpdir(), "trammel-full-"));
const isMounted =
  spawnSync("mount", ["-t", "tmpfs", "-o", "size=256k", "trammel", disk]).status === 0;

afterAll(() => {
  if (isMounted) spawnSync("umount", [disk]);
  rmSync(disk, { recursive: true, force: true });
});

const untidy = `# ${"a remark that takes room, ".repeat(3_000)}end\nwheel w {\nsize:   17x9\n}\n`;
const tidy = untidy.replace("size:   17x9", "  size: 17x9");

function fill(): void {
  try {
    for (let at = 0; at < 1_000; at++) writeFileSync(join(disk, `fill${at}`), "x".repeat(4_000));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOSPC") throw error;
  }
}

function empty(): void {
  for (const name of readdirSync(disk)) rmSync(join(disk, name));
}

const run = (command: string) => {
  const { status, stdout, stderr } = spawnSync(
    "bash",
    ["-c", `"$0" "$1" ${command}`, process.execPath, program],
    { encoding: "utf8", cwd: disk },
  );
  return { status, said: stdout + stderr };
};

describe.skipIf(!isMounted)("a full disk (skipped where none can be mounted)", () => {
  test("a build is laid out once there is room, and is as it was as long as there is none", () => {
    empty();
    writeFileSync(join(disk, "build.trammel"), untidy);
    fill();
    const names = readdirSync(disk);
    expect(run("format --write build.trammel")).toEqual({
      status: 2,
      said: "trammel: cannot write build.trammel: there is no room left on the disk; the file is as it was\n",
    });
    expect(readFileSync(join(disk, "build.trammel"), "utf8")).toBe(untidy);
    expect(readdirSync(disk)).toEqual(names);
    for (const name of names.filter((each) => each.startsWith("fill"))) rmSync(join(disk, name));
    expect(run("format --write build.trammel")).toEqual({ status: 0, said: "build.trammel\n" });
    expect(readFileSync(join(disk, "build.trammel"), "utf8")).toBe(tidy);
  });

  test("output into a file ends with 2 and a word", () => {
    empty();
    fill();
    rmSync(join(disk, "fill0"));
    // The page of a subject is longer than the room that is left.
    const { status, said } = run("reference axle > page.md");
    expect(said).toBe(
      "trammel: the output could not be written: there is no room left on the disk\n",
    );
    expect(status).toBe(2);
  });

  test("sheets are not left half-written", () => {
    empty();
    fill();
    rmSync(join(disk, "fill0"));
    const build = join(root, "samples", "harbor-van", "work.trammel");
    const names = readdirSync(disk);
    const { status, said } = run(`sheet "${build}" --to sheets.html`);
    expect(said).toMatch(/cannot write sheets\.html: there is no room left on the disk/);
    expect(status).toBe(2);
    expect(readdirSync(disk)).toEqual(names);
  });
});
