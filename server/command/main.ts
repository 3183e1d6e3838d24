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
  finish(async () => {
    world.out(`${version}\n`);
    return 0;
  });
else
  finish(async () => {
    const { run } = await import("./program");
    return run(args, world);
  });

/** Half an output is no output: what could not be written ends with 2, whatever was found. */
async function finish(work: () => Promise<number>): Promise<void> {
  const code = await work();
  const failure = await world.written?.();
  if (failure !== undefined) world.log(`trammel: the output could not be written: ${failure}\n`);
  await world.told?.();
  // All of it has arrived. What the engine still means to tidy up goes with the process.
  process.exit(failure === undefined ? code : 2);
}
