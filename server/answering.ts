/**
 * How every request is answered: newer messages are let in first, before it is begun and while it is
 * worked on; a question that was taken back costs nothing, and what goes wrong is logged and answered
 * with nothing.
 *
 * Must not know: what is asked.
 */
import { type CancellationToken, LSPErrorCodes, ResponseError } from "vscode-languageserver";
import { TakenBack } from "./keep/patience";

type Handler<P, R> = (params: P, token: CancellationToken) => Promise<R | ResponseError<never>>;

/** So many messages of an editor come with one key. */
const atOnce = 4;

export type Log = (what: string, error: unknown) => void;

export class Answering {
  constructor(private readonly log: Log) {}

  /** A handler that never throws; `nothing` is its answer where something went wrong. */
  answer<P, R>(
    name: string,
    nothing: R,
    work: (params: P, token: CancellationToken) => Promise<R>,
  ): Handler<P, R> {
    return async (params, token) => {
      for (;;) {
        await turn();
        if (token.isCancellationRequested) return cancelled();
        try {
          return await work(params, token);
        } catch (error) {
          if (error instanceof ResponseError) return error as ResponseError<never>;
          if (error instanceof TakenBack) {
            // What came in is handled one message at a time.
            for (let messages = 0; messages < atOnce; messages++) await turn();
            continue;
          }
          this.log(name, error);
          return nothing;
        }
      }
    };
  }

  /** The same where the question itself is the answer to fall back on. */
  complete<P>(name: string, work: (params: P) => Promise<P>): Handler<P, P> {
    return (params, token) => this.answer(name, params, work)(params, token);
  }
}

/** Lets messages that have come in meanwhile be read, a request that is taken back among them. */
export function turn(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}

export function cancelled(): ResponseError<never> {
  return new ResponseError(LSPErrorCodes.RequestCancelled, "taken back");
}

/** The answer to what cannot be done, in the builder's words. */
export function refused(why: string): ResponseError<never> {
  return new ResponseError(LSPErrorCodes.RequestFailed, why);
}
