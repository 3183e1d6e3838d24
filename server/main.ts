/**
 * The language server's entry. Small on purpose: it loads everything else kept compiled from one
 * start to the next.
 */
import nodeModule from "node:module";

// Older versions of Node have none.
nodeModule.enableCompileCache?.();

import("./supervising");
