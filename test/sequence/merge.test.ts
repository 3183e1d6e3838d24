/**
 * Two people write on the same day, and git puts their entries together.
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { findingsOf, sequence } from "./helper";

const plan = `procedure job {
  step clean {}
  step shim { after: clean }
  step torque { after: shim }
}
`;
const first = `record "a" 2026-03-01 by "A" { job.clean.done: yes }\n`;
const one = `record "b" 2026-03-02 by "B" { job.shim.done: yes }\n`;
const other = `record "c" 2026-03-02 by "C" { job.torque.done: yes }\n`;

/** Merges as git does it for files with `merge=union`. */
function merged(base: string, ours: string, theirs: string): string {
  const folder = mkdtempSync(join(tmpdir(), "trammel-merge-"));
  try {
    const path = (name: string): string => join(folder, name);
    writeFileSync(path("base"), base);
    writeFileSync(path("ours"), ours);
    writeFileSync(path("theirs"), theirs);
    execFileSync("git", ["merge-file", "--union", path("ours"), path("base"), path("theirs")]);
    return readFileSync(path("ours"), "utf8");
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

describe("entries of two people", () => {
  test("of one line each merge into both, whichever comes first", () => {
    const both = merged(first, first + one, first + other);
    expect(both).toBe(first + one + other);
    for (const log of [both, first + other + one]) {
      expect(findingsOf(plan + log)).toEqual([]);
      const { steps } = sequence(plan + log);
      expect(steps.map(({ state }) => state)).toEqual(["done", "done", "done", "done"]);
    }
  });
});
