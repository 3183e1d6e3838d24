/**
 * The command line's entry: runs it in the world of this process, or a share of it in a thread.
 *
 * Small on purpose: it answers `--version` by itself, and loads everything else, kept compiled from
 * one run to the next, only where it is needed.
 */
import nodeModule from "node:module";
import { isMainThread } from "node:worker_threads";
import { version } from "./version";
import { processWorld } from "./world";

// Older versions of Node have none.
nodeModule.enableCompileCache?.();

const world = processWorld(__filename);
const args = process.argv.slice(2);

if (!isMainThread) import("./shares").then(({ answerShare }) => answerShare(world));
else if (args.length === 1 && (args[0] === "--version" || args[0] === "-V"))
  world.out(`${version}\n`);
else
  import("./program")
    .then(({ run }) => run(args, world))
    .then((code) => {
      // Ending by itself lets output that is still on its way arrive.
      process.exitCode = code;
    });
