/** Reads builds: the language server, on the port to the thread that watches this one. */
import "../grammar/older-runtime";
import { type MessagePort, parentPort, workerData } from "node:worker_threads";
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  createConnection,
  type DataCallback,
  type Disposable,
  type Message,
  type MessageReader,
  type MessageWriter,
  ProposedFeatures,
} from "vscode-languageserver/node";
import { serve } from "./service";
import type { ServiceData, ToService, ToSupervisor } from "./service-messages";
import { tradeLibrary } from "./trade";

class PortReader extends AbstractMessageReader implements MessageReader {
  constructor(private readonly port: MessagePort) {
    super();
  }

  listen(callback: DataCallback): Disposable {
    const take = (message: ToService): void => {
      if (message.is === "message") callback(message.message);
      else tell(this.port, { is: "listening" });
    };
    this.port.on("message", take);
    return { dispose: () => this.port.off("message", take) };
  }
}

class PortWriter extends AbstractMessageWriter implements MessageWriter {
  constructor(private readonly port: MessagePort) {
    super();
  }

  async write(message: Message): Promise<void> {
    tell(this.port, { is: "message", message });
  }

  end(): void {}
}

function tell(port: MessagePort, message: ToSupervisor): void {
  port.postMessage(message);
}

if (parentPort !== null) {
  const port = parentPort;
  const connection = createConnection(
    ProposedFeatures.all,
    new PortReader(port),
    new PortWriter(port),
  );
  serve(connection, tradeLibrary, workerData as ServiceData, (uri) =>
    tell(port, { is: "reading", uri }),
  );
}
