/** "Write the Sheets for the Bench": asks the server for the page and puts it where the person says. */
import * as vscode from "vscode";
import type { LanguageClient } from "vscode-languageclient/node";
import { readSheetsAnswer, sheetsMethod } from "../server/messages";

export function registerSheets(client: LanguageClient): vscode.Disposable {
  return vscode.commands.registerCommand("trammel.writeSheets", async () => {
    const document = vscode.window.activeTextEditor?.document;
    if (document?.languageId !== "trammel") {
      await vscode.window.showInformationMessage("Open a build to write its sheets.");
      return;
    }
    const now = new Date();
    const two = (part: number): string => String(part).padStart(2, "0");
    const sent: unknown = await client.sendRequest(sheetsMethod, {
      uri: document.uri.toString(),
      file: vscode.workspace.asRelativePath(document.uri),
      date: `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`,
    });
    const answer = readSheetsAnswer(sent);
    if (answer === undefined) {
      await vscode.window.showWarningMessage(
        "This build cannot be read to its end just now: Problems says why.",
      );
      return;
    }
    const target = await vscode.window.showSaveDialog({
      defaultUri: document.uri.with({
        path: document.uri.path.replace(/\.trammel$/, "-sheets.html"),
      }),
      filters: { "Web page": ["html"] },
      title: "Write the sheets for the bench",
    });
    if (target === undefined) return;
    await vscode.workspace.fs.writeFile(target, new TextEncoder().encode(answer.html));
    const open = "Open to Print";
    const chosen = await vscode.window.showInformationMessage("The sheets are written.", open);
    if (chosen === open) await vscode.env.openExternal(target);
  });
}
