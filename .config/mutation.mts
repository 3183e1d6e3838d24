/**
 * Mutation testing of one room; see `stryker.config.mjs`. Ends with 1 where fewer than 85 of 100
 * changes are noticed, with 2 where a change is told as unnoticed though no test ran against it:
 * such a score measures nothing.
 *
 *     npm run mutation -- sequence server/sequence/tightening-order.ts
 */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { root } from "./build.mts";

const rooms = ["units", "model", "solve", "sequence"];
const [room = "", ...files] = process.argv.slice(2);
if (!rooms.includes(room)) {
  console.error(`name a room, and files of it if not all: ${rooms.join(", ")}`);
  process.exit(2);
}
const told = join(root, "out", "mutation", `${room}.json`);
rmSync(told, { force: true });
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

interface Told {
  readonly files: Record<
    string,
    { readonly mutants: readonly { readonly status: string; readonly testsCompleted?: number }[] }
  >;
}

if (!existsSync(told)) process.exit(status || 2);
const { files: changed } = JSON.parse(readFileSync(told, "utf8")) as Told;
const untried = Object.values(changed)
  .flatMap(({ mutants }) => mutants)
  .filter((mutant) => mutant.status === "Survived" && (mutant.testsCompleted ?? 0) === 0);
if (untried.length > 0) {
  console.error(`no test ran against ${untried.length} of the changes: the score measures nothing`);
  process.exit(2);
}
process.exit(status ?? 2);
