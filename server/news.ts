/**
 * What is told without being asked: findings to editors that do not ask for them, that others have
 * to be asked for again, and how a build stands. Each waits until nothing has changed for a while.
 *
 * Must not know: what was asked.
 */
import type { Connection, Diagnostic } from "vscode-languageserver";
import type { Analysis } from "./analysis/analysis";
import { libraryScheme } from "./analysis/library";
import { type Log, turn } from "./answering";
import { diagnostics, leftAloneFinding } from "./features/findings";
import { TakenBack } from "./keep/patience";
import { type Summary, summaryMethod } from "./messages";
import type { Workspace } from "./workspace";

const pushDelay = 60;
const refreshDelay = 150;
const summaryDelay = 300;
const adviceDelay = 150;

export class News {
  private readonly timers = new Map<string, NodeJS.Timeout>();

  constructor(
    private readonly connection: Connection,
    private readonly workspace: Workspace,
    private readonly log: Log,
  ) {}

  /** The findings of a build, or why it was not read; how it stands is told a little later. */
  diagnosticsOf(analysis: Analysis | undefined, uri: string): Diagnostic[] {
    if (uri.startsWith(libraryScheme)) return [];
    if (analysis === undefined) {
      const leftAlone = this.workspace.leftAlone(uri);
      return leftAlone === undefined
        ? []
        : [leftAloneFinding(leftAlone.why, this.workspace.library().vocabulary)];
    }
    this.summarize(uri);
    this.adviseLater(uri);
    return diagnostics(analysis, uri);
  }

  /**
   * Works out what would settle the figures that are missing, one after the other, until the build
   * is edited or `isTakenBack`. Gives whether there is anything new to tell.
   */
  async advise(analysis: Analysis, uri: string, isTakenBack = () => false): Promise<boolean> {
    const { builds } = this.workspace;
    let made = false;
    for (const _ of analysis.advising()) {
      made = true;
      await turn();
      if (isTakenBack() || !builds.isLatest(uri, analysis)) return false;
    }
    if (made) builds.saysMore(uri);
    return made;
  }

  /** A text changed, for editors that do not ask for findings. */
  push(uri: string): void {
    const { client, documents } = this.workspace;
    if (client.pull) return;
    this.after(`push ${uri}`, pushDelay, async () => {
      const read = await this.workspace.analysis(uri);
      const version = documents.get(uri)?.version;
      if (version === undefined) return;
      const found = this.diagnosticsOf(read?.analysis, uri);
      await this.connection.sendDiagnostics({ uri, version, diagnostics: found });
    });
  }

  /** Something else changed what these builds say. */
  refresh(uris: readonly string[]): void {
    for (const uri of uris) this.push(uri);
    const { client } = this.workspace;
    const { languages } = this.connection;
    this.after("refresh", refreshDelay, async () => {
      if (client.pull && client.refreshDiagnostics) await languages.diagnostics.refresh();
      if (client.refreshHints) await languages.inlayHint.refresh();
    });
  }

  /** A document was closed: what was pushed stays in the editor until it is taken back. */
  takeBack(uri: string): void {
    this.stop(`push ${uri}`);
    this.stop(`summary ${uri}`);
    this.stop(`advice ${uri}`);
    if (this.workspace.client.pull) return;
    this.connection
      .sendDiagnostics({ uri, diagnostics: [] })
      .catch((error: unknown) => this.log("findings were not taken back", error));
  }

  end(): void {
    for (const name of [...this.timers.keys()]) this.stop(name);
  }

  // ── helpers ──

  /** Nobody who types waits for advice: it follows once they rest. */
  private adviseLater(uri: string): void {
    this.after(`advice ${uri}`, adviceDelay, async () => {
      const read = await this.workspace.analysis(uri);
      if (read !== undefined && (await this.advise(read.analysis, uri))) this.refresh([uri]);
    });
  }

  private summarize(uri: string): void {
    const { client, files } = this.workspace;
    if (!client.summaries) return;
    this.after(`summary ${uri}`, summaryDelay, async () => {
      const read = await this.workspace.analysis(uri);
      if (read === undefined || !files.isOpen(uri)) return;
      await this.connection.sendNotification(summaryMethod, summaryOf(read.analysis, uri));
    });
  }

  /** Once, after a while in which nobody asked for it again. */
  private after(name: string, delay: number, work: () => Promise<void>): void {
    this.stop(name);
    const timer = setTimeout(() => {
      this.timers.delete(name);
      work().catch((error: unknown) => {
        if (!(error instanceof TakenBack)) this.log(name, error);
        else if (!this.timers.has(name)) this.after(name, delay, work);
      });
    }, delay);
    this.timers.set(name, timer);
  }

  private stop(name: string): void {
    clearTimeout(this.timers.get(name));
    this.timers.delete(name);
  }
}

function summaryOf(analysis: Analysis, uri: string): Summary {
  const count = (severity: string): number =>
    analysis.findingsSoFar.filter((finding) => finding.severity === severity).length;
  return {
    uri,
    solved: analysis.workedOut,
    missing: analysis.asked.filter(
      ({ value, option }) => value.standing === "missing" && option === undefined,
    ).length,
    errors: count("error"),
    warnings: count("warning"),
  };
}
