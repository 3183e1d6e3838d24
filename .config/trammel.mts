/**
 * Runs the command line from a clone, built first where a source has changed.
 *
 *     npm run --silent trammel -- show samples/harbor-van/build.trammel
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { buildWhereNeeded, root } from "./build.mts";

try {
  await buildWhereNeeded();
} catch (error) {
  // 1 would say that the build was read and found wanting.
  console.error(error instanceof Error ? error.message : error);
  process.exit(2);
}
const result = spawnSync(
  process.execPath,
  [join(root, "dist", "trammel.js"), ...process.argv.slice(2)],
  // npm starts scripts in the package's folder; paths are meant from where the person stands.
  { stdio: "inherit", cwd: process.env.INIT_CWD ?? process.cwd() },
);
if (result.error) throw result.error;
process.exitCode = result.status ?? 2;
