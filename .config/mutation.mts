/**
 * Mutation testing of one room; see `stryker.config.mjs`. Ends with 1 where fewer than 85 of 100
 * changes are noticed.
 *
 *     npm run mutation -- sequence server/sequence/tightening-order.ts
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { root } from "./build.mts";

const rooms = ["units", "model", "solve", "sequence"];
const [room = "", ...files] = process.argv.slice(2);
if (!rooms.includes(room)) {
  console.error(`name a room, and files of it if not all: ${rooms.join(", ")}`);
  process.exit(2);
}
const { status } = spawnSync(
  process.execPath,
  [
    join(root, "node_modules", "@stryker-mutator", "core", "bin", "stryker.js"),
    "run",
    join(root, ".config", "stryker.config.mjs"),
    ...(files.length === 0 ? [] : ["--mutate", files.join(",")]),
  ],
  { cwd: root, stdio: "inherit", env: { ...process.env, MUTATED_ROOM: room } },
);
process.exit(status ?? 2);
