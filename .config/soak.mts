/**
 * Types into a few builds that share their parts for as long as an hour of work has edits, against
 * one server over stdio, and compares what it says with what a fresh one says of the same texts.
 *
 * Where it stands, and with which texts, is told in `out/soak/`.
 *
 *     npm run soak                    3,600 edits, one a second for an hour
 *     npm run soak -- 500 17          five hundred, those of number 17
 */
import { spawnSync } from "node:child_process";
import { mkdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { root } from "./build.mts";

const day = Math.floor(Date.now() / 86_400_000);
const [edits = "3600", seed = String(day)] = process.argv.slice(2);
const folder = join(root, "out", "soak");
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
const { status } = spawnSync(
  process.execPath,
  [
    join(root, "node_modules", "vitest", "vitest.mjs"),
    "run",
    "--config=.config/vitest.config.mts",
    "test/protocol/soak.test.ts",
  ],
  {
    cwd: root,
    stdio: "inherit",
    env: { ...process.env, SOAK_EDITS: edits, SOAK_SEED: seed, SOAK_FOLDER: folder },
  },
);
process.exit(status ?? 2);
