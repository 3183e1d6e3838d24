/**
 * The requests for colors: whole, only the lines in sight, or only what changed since.
 *
 * Must not know: which name has which color.
 */
import { type Connection, SemanticTokensBuilder } from "vscode-languageserver";
import type { Answering } from "./answering";
import { semanticTokens } from "./features/semantic-tokens";
import type { Workspace } from "./workspace";

export class Colors {
  /** What was sent last, by open document. */
  private readonly builders = new Map<string, SemanticTokensBuilder>();

  constructor(private readonly workspace: Workspace) {}

  answerOn(connection: Connection, answering: Answering): void {
    const { semanticTokens: requests } = connection.languages;
    requests.on(
      answering.answer("colors", { data: [] }, async ({ textDocument: { uri } }) => {
        const read = await this.workspace.analysis(uri);
        const builder = this.builderOf(uri);
        builder.previousResult("");
        if (read !== undefined) semanticTokens(read.analysis, uri, builder);
        return builder.build();
      }),
    );
    requests.onDelta(
      answering.answer(
        "colors",
        { data: [] },
        async ({ textDocument: { uri }, previousResultId }) => {
          const read = await this.workspace.analysis(uri);
          const builder = this.builderOf(uri);
          builder.previousResult(previousResultId);
          if (read !== undefined) semanticTokens(read.analysis, uri, builder);
          return builder.buildEdits();
        },
      ),
    );
    requests.onRange(
      answering.answer("colors", { data: [] }, async ({ textDocument: { uri }, range }) => {
        const read = await this.workspace.analysis(uri);
        const builder = new SemanticTokensBuilder();
        if (read !== undefined) semanticTokens(read.analysis, uri, builder, range);
        return builder.build();
      }),
    );
  }

  forget(uri: string): void {
    this.builders.delete(uri);
  }

  private builderOf(uri: string): SemanticTokensBuilder {
    const builder = this.builders.get(uri) ?? new SemanticTokensBuilder();
    if (this.workspace.files.isOpen(uri)) this.builders.set(uri, builder);
    return builder;
  }
}
