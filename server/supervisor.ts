/**
 * Keeps the language server answering whatever is in a file: it works in a thread of its own, and
 * where that thread hangs or has used up its memory a fresh one takes its place. The fresh one is
 * told all that the editor has said, and which build was being read, so that this build is left
 * alone until it is edited.
 *
 *     supervise(reader, writer, "dist/service.js", usualLimits)
 *
 * Must not know: the language, what is asked and answered.
 */
import { url as inspected } from "node:inspector";
import { Worker } from "node:worker_threads";
import {
  LSPErrorCodes,
  Message,
  type MessageReader,
  type MessageWriter,
  type ResponseMessage,
} from "vscode-languageserver/node";
import { EditorMemory } from "./editor-memory";
import type { LeftAlone, ServiceData, ToService, ToSupervisor } from "./service-messages";

export interface Limits {
  /** How long the thread may leave a question unanswered, in seconds. */
  readonly silence: number;
  /** In megabytes: what the thread's heap may grow to. */
  readonly heap: number;
}

export const usualLimits: Limits = { silence: 15, heap: 1_536 };

/** How often the thread is asked whether it listens, in milliseconds. */
const beat = 500;
/** How long the thread has to end when the editor says so, in milliseconds. */
const farewell = 1_000;
/** So many threads in a row that die before they read anything: the fault lies elsewhere. */
const mostUnexplained = 3;

export function supervise(
  reader: MessageReader,
  writer: MessageWriter,
  service: string,
  limits: Limits,
): void {
  new Supervisor(reader, writer, service, limits).begin();
}

class Supervisor {
  private readonly memory = new EditorMemory();
  /** Requests of the editor that are not answered yet. */
  private readonly open = new Set<number | string>();
  /** What the threads before this one have announced to the editor, which it still holds to. */
  private readonly registered = new Set<string>();
  private readonly leftAlone = new Map<string, LeftAlone>();
  private worker: Worker | undefined;
  /** Counts threads, so that an answer meant for an earlier one is told from others. */
  private generation = 0;
  private silentBeats = 0;
  /** Shared with the thread; see `ServiceData`. */
  private told = sharedNumber();
  private reading: string | undefined;
  private unexplained = 0;
  private shutDown = false;

  constructor(
    private readonly reader: MessageReader,
    private readonly writer: MessageWriter,
    private readonly service: string,
    private readonly limits: Limits,
  ) {}

  begin(): void {
    this.start();
    this.reader.listen((message) => this.fromEditor(message));
    this.reader.onClose(() => process.exit(this.shutDown ? 0 : 1));
    setInterval(() => this.watch(), beat).unref();
  }

  // ── the thread ──

  private start(): void {
    this.told = sharedNumber();
    const data: ServiceData = {
      told: this.told,
      leftAlone: [...this.leftAlone.values()],
      isReplacement: this.generation > 0,
    };
    const worker = new Worker(this.service, {
      workerData: data,
      resourceLimits: { maxOldGenerationSizeMb: this.limits.heap },
      // Standard output belongs to the protocol.
      stdout: true,
    });
    worker.stdout.on("data", (text) => process.stderr.write(text));
    worker.on("message", (message: ToSupervisor) => {
      if (worker === this.worker) this.fromService(message);
    });
    worker.on("error", (error) => {
      if (worker !== this.worker) return;
      const outOfMemory = "code" in error && error.code === "ERR_WORKER_OUT_OF_MEMORY";
      this.replace(outOfMemory ? "memory" : "fault", error.stack ?? error.message);
    });
    worker.on("exit", (code) => {
      if (worker === this.worker) process.exit(code);
    });
    this.worker = worker;
    this.silentBeats = 0;
    this.reading = undefined;
  }

  private tell(message: ToService): void {
    if (message.is === "message" && Message.isNotification(message.message))
      Atomics.add(this.told, 0, 1);
    this.worker?.postMessage(message);
  }

  /** Counted in beats of our own, so that a machine that slept is no thread that hangs. */
  private watch(): void {
    // Whoever stands at a breakpoint answers nothing.
    if (inspected() !== undefined) return;
    if (this.silentBeats * beat >= this.limits.silence * 1_000) {
      this.replace("time", `no answer for ${this.limits.silence} s`);
      return;
    }
    if (this.silentBeats === 0) this.tell({ is: "listening?" });
    this.silentBeats++;
  }

  private replace(why: LeftAlone["why"], detail: string): void {
    const worker = this.worker;
    const uri = this.reading;
    this.worker = undefined;
    worker?.terminate().catch(() => undefined);
    if (uri === undefined && ++this.unexplained > mostUnexplained) process.exit(1);
    if (uri !== undefined) {
      this.unexplained = 0;
      this.leftAlone.set(uri, { uri, version: this.memory.versionOf(uri), why });
    }
    const what = uri === undefined ? "" : ` while ${uri} was read`;
    this.send({
      jsonrpc: "2.0",
      method: "window/logMessage",
      params: { type: 1, message: `the server was begun again${what}: ${detail}` },
    });
    const first = this.memory.initialize;
    const waiting = first !== undefined && this.open.has(first.id ?? "");
    for (const id of this.open) {
      if (waiting && id === first?.id) continue;
      this.open.delete(id);
      const error = { code: LSPErrorCodes.ContentModified, message: "the server was begun again" };
      this.send({ jsonrpc: "2.0", id, error });
    }
    this.generation++;
    this.start();
    for (const message of this.memory.replay(waiting ? first?.id : this.own("initialize")))
      this.tell({ is: "message", message });
  }

  // ── messages ──

  private fromEditor(message: Message): void {
    this.memory.note(message);
    for (const [uri, { version }] of this.leftAlone)
      if (this.memory.versionOf(uri) !== version) this.leftAlone.delete(uri);
    if (Message.isRequest(message) && message.id !== null) {
      if (message.method === "shutdown") this.shutDown = true;
      this.open.add(message.id);
    }
    if (!Message.isResponse(message)) {
      this.tell({ is: "message", message });
      // A thread that hangs does not end by itself.
      if (Message.isNotification(message) && message.method === "exit")
        setTimeout(() => process.exit(this.shutDown ? 0 : 1), farewell);
      return;
    }
    // An answer to a question of this thread, or of one that is gone.
    const [generation, kind, id = ""] = String(message.id).split("/");
    if (Number(generation) === this.generation)
      this.tell({ is: "message", message: answerTo(kind === "n" ? Number(id) : id, message) });
  }

  private fromService(message: ToSupervisor): void {
    switch (message.is) {
      case "listening":
        this.silentBeats = 0;
        return;
      case "reading":
        this.reading = message.uri;
        return;
      case "message":
        this.answerOrAsk(message.message);
    }
  }

  private answerOrAsk(message: Message): void {
    if (Message.isResponse(message)) {
      if (message.id === this.own("initialize")) return;
      if (message.id !== null) this.open.delete(message.id);
      this.send(message);
    } else if (Message.isRequest(message)) {
      const id = this.own(message.id);
      if (this.isRegistered(message))
        this.fromEditor({ jsonrpc: "2.0", id, result: null } as Message);
      else this.send({ ...message, id });
    } else {
      this.send(message);
    }
  }

  /** A registration the editor already has from a thread before. */
  private isRegistered(message: Message): boolean {
    if (!Message.isRequest(message) || message.method !== "client/registerCapability") return false;
    const { registrations = [] } = (message.params ?? {}) as {
      registrations?: readonly { readonly method: string }[];
    };
    const isKnown = registrations.every(({ method }) => this.registered.has(method));
    for (const { method } of registrations) this.registered.add(method);
    return isKnown;
  }

  private own(id: number | string | null): string {
    return `${this.generation}/${typeof id === "number" ? "n" : "s"}/${id}`;
  }

  private send(message: object): void {
    this.writer.write(message as Message).catch(() => process.exit(1));
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function sharedNumber(): Int32Array {
  return new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
}

function answerTo(id: number | string, message: Message): Message {
  const answer: ResponseMessage = { ...(message as ResponseMessage), id };
  return answer;
}
