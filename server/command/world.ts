/**
 * All that a command touches outside of itself: arguments apart, it reads, writes and knows nothing
 * else, so that tests run it with another world.
 *
 * Must not know: verbs, builds.
 */
import { fstatSync, writeSync } from "node:fs";

export interface World {
  /** Absolute path that relative paths on the command line start from. */
  readonly folder: string;
  /** File of this program, where its threads can run it too. */
  readonly program?: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** True where a person reads the output, not a file or another program. */
  readonly isTerminal: boolean;
  /** All of standard input. */
  readInput(): Promise<Uint8Array>;
  /** Results and findings. */
  out(text: string): void;
  /** What went wrong and what is being done. */
  log(text: string): void;
  /**
   * Calls `stop` when the person wants a long search to end (Ctrl+C), until the answer is called:
   * after that the program ends as usual. Worlds without a person leave it out.
   */
  onInterrupt?(stop: () => void): () => void;
  /** Once everything is written: why results could not be, for the person who ran it. */
  written?(): Promise<string | undefined>;
  /** Once all that was logged has arrived, or cannot. */
  told?(): Promise<void>;
}

/** `program` is the file this process runs. */
export function processWorld(program?: string): World {
  let failure: string | undefined;
  process.stdout.on("error", (error) => {
    failure ??= reasonOf(error);
  });
  // A file takes what there is room for, and Node's own stream does not ask for the rest.
  const write = isFile(process.stdout.fd)
    ? (text: string) => {
        try {
          writeWhole(process.stdout.fd, text);
        } catch (error) {
          failure ??= reasonOf(error as Error);
        }
      }
    : (text: string) => void process.stdout.write(text);
  // Where nobody can be told, there is nobody to tell.
  process.stderr.on("error", () => undefined);
  return {
    folder: process.cwd(),
    program,
    environment: process.env,
    isTerminal: process.stdout.isTTY === true,
    async readInput() {
      const chunks: Uint8Array[] = [];
      for await (const chunk of process.stdin) {
        chunks.push(typeof chunk === "string" ? new TextEncoder().encode(chunk) : chunk);
      }
      return Buffer.concat(chunks);
    },
    out: write,
    log: (text) => void process.stderr.write(text),
    written: async () => {
      // What was written before has arrived, or has failed, when this has.
      await passed(process.stdout);
      // Failures are told after the write that failed.
      await new Promise(setImmediate);
      return failure;
    },
    told: () => passed(process.stderr),
    onInterrupt(stop) {
      process.once("SIGINT", stop);
      return () => void process.off("SIGINT", stop);
    },
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/** Once everything written to it has gone on, or has failed. */
function passed(stream: NodeJS.WriteStream): Promise<void> {
  return new Promise((done) => {
    stream.write("", () => done());
  });
}

function isFile(descriptor: number): boolean {
  try {
    return fstatSync(descriptor).isFile();
  } catch {
    return false;
  }
}

function writeWhole(descriptor: number, text: string): void {
  let rest = Buffer.from(text);
  while (rest.length > 0) rest = rest.subarray(writeSync(descriptor, rest));
}

/** A reader that has seen enough (`| head`) is no reason to fail. */
function reasonOf(error: Error): string | undefined {
  const code = "code" in error ? error.code : undefined;
  switch (code) {
    case "EPIPE":
      return undefined;
    case "ENOSPC":
    case "EDQUOT":
      return "there is no room left on the disk";
    case "EFBIG":
      return "the disk takes no file so large";
    default:
      return `the system says ${String(code ?? error.message)}`;
  }
}
