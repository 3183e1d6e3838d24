/**
 * Runs every test: those of vitest, then those inside a real VS Code, and sums them in a last line
 * `N passed, N failed`. Ends with 1 where a test failed or a runner broke off.
 *
 *     npm test
 */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { buildWhereNeeded, root } from "./build.mts";

interface Count {
  readonly passed: number;
  readonly failed: number;
}

const vitestResults = join(root, "out", "vitest.json");
const workbenchResults = join(root, "out", "workbench", "results.json");

await buildWhereNeeded();
const counts = [
  run(
    "vitest",
    [
      join(root, "node_modules", "vitest", "vitest.mjs"),
      "run",
      "--config=.config/vitest.config.mts",
      "--reporter=default",
      "--reporter=json",
      `--outputFile.json=${vitestResults}`,
    ],
    vitestResults,
    (results) => ({
      passed: numberIn(results, "numPassedTests"),
      failed: numberIn(results, "numFailedTests"),
    }),
  ),
  run(
    "workbench tests",
    [join(root, "test", "workbench", "run.mts")],
    workbenchResults,
    (results) => ({ passed: numberIn(results, "passed"), failed: numberIn(results, "failed") }),
  ),
];
const sum = (of: keyof Count) => counts.reduce((total, count) => total + count[of], 0);
console.log(`${sum("passed")} passed, ${sum("failed")} failed`);
process.exitCode = sum("failed") === 0 ? 0 : 1;

/** Runs one runner and reads its results; a runner that broke off counts as a failure at least. */
function run(
  name: string,
  args: string[],
  resultsFile: string,
  countIn: (results: unknown) => Count,
): Count {
  rmSync(resultsFile, { force: true });
  const { status } = spawnSync(process.execPath, args, { cwd: root, stdio: "inherit" });
  if (!existsSync(resultsFile)) {
    console.error(`${name}: broke off before there were results`);
    return { passed: 0, failed: 1 };
  }
  const count = countIn(JSON.parse(readFileSync(resultsFile, "utf8")));
  if (status === 0 || count.failed > 0) return count;
  console.error(`${name}: ended with ${status} although no test failed`);
  return { ...count, failed: 1 };
}

function numberIn(results: unknown, name: string): number {
  const value = (results as Record<string, unknown>)[name];
  if (typeof value !== "number") throw new Error(`the results have no number "${name}"`);
  return value;
}
