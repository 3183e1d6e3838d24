/**
 * Tries texts nobody would write: a million of them, others each day, each read, solved and laid out.
 *
 *     npm run fuzz                    a million
 *     npm run fuzz -- 5000 17         five thousand, from number 17 on
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { root } from "./build.mts";

const day = Math.floor(Date.now() / 86_400_000);
const [count = "1000000", first = String((day % 2_000) * 1_000_000)] = process.argv.slice(2);
const { status } = spawnSync(
  process.execPath,
  [
    join(root, "node_modules", "vitest", "vitest.mjs"),
    "run",
    "--config=.config/vitest.config.mts",
    "test/fuzz",
  ],
  {
    cwd: root,
    stdio: "inherit",
    env: { ...process.env, FUZZ_COUNT: count, FUZZ_SEED: first, FUZZ_WHOLE_EACH: "1" },
  },
);
process.exit(status ?? 2);
