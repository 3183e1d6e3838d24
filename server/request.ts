/**
 * What a request of an editor is: what is promised of it at the beginning, and its answer.
 *
 *     { promise: { hoverProvider: true }, listen: ({ connection, at }) => connection.onHover(…) }
 *
 * Must not know: which requests there are.
 */
import type {
  CancellationToken,
  Connection,
  Position,
  ResponseError,
  ServerCapabilities,
} from "vscode-languageserver";
import type { Abilities } from "./abilities";
import type { Analysis } from "./analysis/analysis";
import type { Answering } from "./answering";
import type { Colors } from "./colors";
import type { News } from "./news";
import type { Workspace } from "./workspace";

/** One request, or a few that only make sense together. */
export interface Request {
  /** What is said of it at the beginning; requests of our own say nothing. */
  readonly promise?: (client: Abilities) => ServerCapabilities;
  listen(desk: Desk): void;
}

/** What answers are made with. */
export interface Desk {
  readonly connection: Connection;
  readonly workspace: Workspace;
  readonly news: News;
  readonly answering: Answering;
  readonly colors: Colors;
}

// ── questions about a file or a place ──

/** A question about one file. */
export function of<R>(
  { answering, workspace }: Desk,
  name: string,
  nothing: R,
  work: (analysis: Analysis, uri: string) => R,
): (
  params: { textDocument: { uri: string } },
  token: CancellationToken,
) => Promise<R | ResponseError<never>> {
  return answering.answer(name, nothing, async ({ textDocument: { uri } }) => {
    const read = await workspace.analysis(uri);
    return read === undefined ? nothing : work(read.analysis, uri);
  });
}

/** A question about one place of a file. */
export function at<R>(
  { answering, workspace }: Desk,
  name: string,
  nothing: R,
  work: (analysis: Analysis, uri: string, offset: number) => R,
): (
  params: { textDocument: { uri: string }; position: Position },
  token: CancellationToken,
) => Promise<R | ResponseError<never>> {
  return answering.answer(name, nothing, async ({ textDocument: { uri }, position }) => {
    const place = await workspace.place(uri, position);
    return place === undefined ? nothing : work(place.analysis, uri, place.offset);
  });
}
