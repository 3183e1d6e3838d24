/**
 * How the open build stands, beside the language's name in the status bar: how many figures came
 * out, how many asked for are missing, what is wrong. Knows nothing but what the server tells.
 */
import * as vscode from "vscode";
import type { LanguageClient } from "vscode-languageclient/node";
import { readSummary, type Summary, summaryMethod } from "../server/messages";

const mostKept = 200;

/** Follows the server's summaries; the item itself and its listeners are to be disposed of. */
export function showStatus(
  client: LanguageClient,
  selector: vscode.DocumentSelector,
): vscode.Disposable {
  const item = vscode.languages.createLanguageStatusItem("trammel.build", selector);
  item.name = "Trammel";
  item.command = { command: "trammel.showOutput", title: "Output" };
  const summaries = new Map<string, Summary>();
  const update = () => {
    const uri = vscode.window.activeTextEditor?.document.uri.toString();
    show(item, uri === undefined ? undefined : summaries.get(uri));
  };
  update();
  return vscode.Disposable.from(
    item,
    client.onNotification(summaryMethod, (sent: unknown) => {
      const summary = readSummary(sent);
      if (summary === undefined) return;
      if (summaries.size >= mostKept) summaries.clear();
      summaries.set(vscode.Uri.parse(summary.uri).toString(), summary);
      update();
    }),
    vscode.window.onDidChangeActiveTextEditor(update),
    vscode.workspace.onDidCloseTextDocument(({ uri }) => summaries.delete(uri.toString())),
  );
}

function show(item: vscode.LanguageStatusItem, summary: Summary | undefined): void {
  if (summary === undefined) {
    item.text = "Trammel";
    item.detail = undefined;
    item.severity = vscode.LanguageStatusSeverity.Information;
    return;
  }
  const { solved, missing, errors, warnings } = summary;
  item.text = missing === 0 ? `${solved} figures solved` : `${solved} solved, ${missing} missing`;
  item.detail =
    errors + warnings === 0
      ? "nothing to object to"
      : [counted(errors, "error"), counted(warnings, "warning")].filter((text) => text).join(", ");
  item.severity =
    errors > 0
      ? vscode.LanguageStatusSeverity.Error
      : warnings + missing > 0
        ? vscode.LanguageStatusSeverity.Warning
        : vscode.LanguageStatusSeverity.Information;
}

function counted(count: number, word: string): string {
  if (count === 0) return "";
  return count === 1 ? `1 ${word}` : `${count} ${word}s`;
}
