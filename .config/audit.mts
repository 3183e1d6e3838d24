/**
 * Asks the registry whether faults are known in the packages in use. Ends with 1 where there are
 * some; where the registry does not answer such questions, says so and ends with 0.
 *
 *     npm run audit
 */
import { spawnSync } from "node:child_process";
import { root } from "./build.mts";

const { stdout } = spawnSync("npm", ["audit", "--json"], {
  cwd: root,
  encoding: "utf8",
  timeout: 60_000,
  shell: process.platform === "win32",
});
const found = countsIn(stdout ?? "");
if (found === undefined) {
  console.log("audit: NOT DONE, the registry in use does not answer audits");
} else {
  const all = Object.values(found).reduce((sum, count) => sum + count, 0);
  const words = Object.entries(found).map(([severity, count]) => `${count} ${severity}`);
  console.log(
    all === 0
      ? "audit: no known faults in the packages in use"
      : `audit: ${words.join(", ")}; npm audit tells of them`,
  );
  process.exitCode = all === 0 ? 0 : 1;
}

/** How many faults of each severity; nothing where the answer is none. */
function countsIn(text: string): Record<string, number> | undefined {
  try {
    const { metadata } = JSON.parse(text) as {
      metadata?: { vulnerabilities?: Record<string, number> };
    };
    const counts = metadata?.vulnerabilities;
    if (counts === undefined) return undefined;
    const { total: _, ...bySeverity } = counts;
    return Object.fromEntries(Object.entries(bySeverity).filter(([, count]) => count > 0));
  } catch {
    return undefined;
  }
}
