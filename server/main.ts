/** Starts the language server on the connection its arguments name (`--stdio`, `--node-ipc`). */
import "../grammar/older-runtime";
import { createConnection, ProposedFeatures } from "vscode-languageserver/node";
import { type Library, loadLibrary } from "./analysis/library";
import { libraryFiles } from "./library-files";
import { serve } from "./service";

let library: Library | undefined;

serve(createConnection(ProposedFeatures.all), () => {
  library ??= loadLibrary(libraryFiles());
  return library;
});
