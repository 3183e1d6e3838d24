/**
 * Runs programs as processes of their own and measures them from outside: how long, how much
 * processor time, how much memory at the peak.
 *
 *     run(["dist/trammel.js", "check", "shop"], root)   // { wall, cpu, memory, status, output }
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Sample } from "./measure";

export interface Run extends Sample {
  /** Megabytes at the peak. */
  readonly memory: number;
  readonly status: number | null;
  readonly output: string;
}

/** `process.cwd()` is the repository. */
export const inRepository = (path: string): string => join(process.cwd(), path);

export function run(args: readonly string[], folder: string): Run {
  const notes = mkdtempSync(join(tmpdir(), "trammel-usage-"));
  const usageFile = join(notes, "usage.json");
  try {
    const start = performance.now();
    const { status, stdout, stderr, error } = spawnSync(
      process.execPath,
      ["--require", inRepository("test/bench/usage.cjs"), ...args],
      {
        cwd: folder,
        encoding: "utf8",
        maxBuffer: 512 * 1024 * 1024,
        env: { ...process.env, NO_COLOR: "1", TRAMMEL_BENCH_USAGE: usageFile },
      },
    );
    const wall = performance.now() - start;
    if (error !== undefined) throw error;
    if (status !== 0 && status !== 1)
      throw new Error(`${args.join(" ")} ended with ${status}\n${stderr}`);
    const { cpu, memory } = JSON.parse(readFileSync(usageFile, "utf8")) as Run;
    return { wall, cpu, memory, status, output: stdout };
  } finally {
    rmSync(notes, { recursive: true, force: true });
  }
}
