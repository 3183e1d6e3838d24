/**
 * Runs the language server on the connection its arguments name (`--stdio`, `--node-ipc`,
 * `--pipe=…`, `--socket=…`), in a thread that is watched over.
 */
import { join } from "node:path";
import {
  createServerPipeTransport,
  createServerSocketTransport,
  IPCMessageReader,
  IPCMessageWriter,
  type MessageReader,
  type MessageWriter,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import { supervise, usualLimits } from "./supervisor";

const [reader, writer] = transport(process.argv.slice(2));
supervise(reader, writer, join(__dirname, "service.js"), usualLimits);

function transport(args: readonly string[]): readonly [MessageReader, MessageWriter] {
  const valueOf = (name: string): string | undefined =>
    args.find((each) => each.startsWith(`${name}=`))?.slice(name.length + 1);
  const pipe = valueOf("--pipe");
  if (pipe !== undefined) return createServerPipeTransport(pipe);
  const socket = valueOf("--socket");
  if (socket !== undefined) return createServerSocketTransport(Number(socket));
  if (args.includes("--node-ipc")) {
    process.on("disconnect", () => process.exit(1));
    return [new IPCMessageReader(process), new IPCMessageWriter(process)];
  }
  if (args.includes("--stdio"))
    return [new StreamMessageReader(process.stdin), new StreamMessageWriter(process.stdout)];
  console.error("say how to be talked to: --stdio, --node-ipc, --pipe=NAME or --socket=PORT");
  return process.exit(2);
}
