/**
 * The editor side of Trammel: starts the language server, restarts it on demand, and hands its
 * settings on. Knows the server only through its messages, and nothing of the language.
 */
import * as vscode from "vscode";
import {
  LanguageClient,
  type LanguageClientOptions,
  RevealOutputChannelOn,
  type ServerOptions,
  TransportKind,
} from "vscode-languageclient/node";
import { registerPanel } from "./panel/panel";
import { registerSheets } from "./sheets";
import { showStatus } from "./status";
import { registerTasks } from "./tasks";

// The left side of a diff ("git:") is on purpose not among these: it would be objected to twice.
// "library:" are the trade's own files, which the server hands out to be read.
const selector = ["file", "untitled", "vscode-vfs", "library"].map((scheme) => ({
  scheme,
  language: "trammel",
}));

let client: LanguageClient | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const output = vscode.window.createOutputChannel("Trammel", { log: true });
  client = createClient(context, output);
  context.subscriptions.push(
    output,
    client,
    vscode.commands.registerCommand("trammel.showOutput", () => output.show()),
    vscode.commands.registerCommand("trammel.restartServer", () => restart(output)),
    showStatus(client, selector),
    registerTasks(context),
    registerPanel(context, client),
    registerSheets(client),
  );
  await start(output);
}

/** The editor waits for this, so that the server ends with it. */
export async function deactivate(): Promise<void> {
  if (client?.isRunning()) await client.stop();
  client = undefined;
}

function createClient(
  context: vscode.ExtensionContext,
  output: vscode.LogOutputChannel,
): LanguageClient {
  const module = context.asAbsolutePath("dist/server.js");
  const server: ServerOptions = {
    run: { module, transport: TransportKind.ipc },
    debug: {
      module,
      transport: TransportKind.ipc,
      options: {
        execArgv: ["--nolazy", "--inspect=6009", "--enable-source-maps"],
      },
    },
  };
  const options: LanguageClientOptions = {
    documentSelector: selector,
    outputChannel: output,
    revealOutputChannelOn: RevealOutputChannelOn.Never,
    initializationOptions: { settings: settings(), summaries: true },
  };
  return new LanguageClient("trammel", "Trammel", server, options);
}

/** The settings as plain data: `{ display: { system, lengthIncrement }, hints: { … } }`. */
function settings(): unknown {
  return JSON.parse(JSON.stringify(vscode.workspace.getConfiguration("trammel")));
}

async function start(output: vscode.LogOutputChannel): Promise<void> {
  try {
    await client?.start();
  } catch (error) {
    // The client has told the person already; what is kept here is the detail.
    output.error("the server did not start", String(error));
  }
}

async function restart(output: vscode.LogOutputChannel): Promise<void> {
  if (client === undefined) return;
  output.info("restarting the server");
  // A server that failed to start cannot be stopped, only started anew.
  if (client.isRunning()) await client.restart();
  else await start(output);
}
