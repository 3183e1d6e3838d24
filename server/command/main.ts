/** The command line's entry: runs it in the world of this process, or a share of it in a thread. */
import { isMainThread } from "node:worker_threads";
import { run } from "./program";
import { answerShare } from "./shares";
import { processWorld } from "./world";

const world = processWorld(__filename);

if (isMainThread) {
  run(process.argv.slice(2), world).then((code) => {
    // Ending by itself lets output that is still on its way arrive.
    process.exitCode = code;
  });
} else answerShare(world);
