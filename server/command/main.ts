/** The command line's entry: runs it in the world of this process. */
import { run } from "./program";
import { processWorld } from "./world";

run(process.argv.slice(2), processWorld()).then((code) => {
  // Ending by itself lets output that is still on its way arrive.
  process.exitCode = code;
});
