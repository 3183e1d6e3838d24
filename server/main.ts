/** Starts the language server on the connection its arguments name (`--stdio`, `--node-ipc`). */
import "../grammar/older-runtime";
import { createConnection, ProposedFeatures } from "vscode-languageserver/node";
import { serve } from "./service";
import { tradeLibrary } from "./trade";

serve(createConnection(ProposedFeatures.all), tradeLibrary);
