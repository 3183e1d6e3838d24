/** Starts the language server on the connection its arguments name (`--stdio`, `--node-ipc`). */
import "../grammar/older-runtime";
import { createConnection, ProposedFeatures } from "vscode-languageserver/node";
import { loadLibrary } from "./analysis/library";
import { libraryFiles } from "./library-files";
import { serve } from "./session/service";

serve(createConnection(ProposedFeatures.all), loadLibrary(libraryFiles()));
