/**
 * Not a test: opens the file named by `TRAMMEL_PICTURE_OF`, waits until the server has answered, and
 * writes the picture named by `TRAMMEL_PICTURE`.
 */
import * as vscode from "vscode";
import { hintsOf, screenshot, showTextOnly, until } from "./helper";

export async function run(): Promise<void> {
  const { TRAMMEL_PICTURE_OF: file, TRAMMEL_PICTURE: picture, TRAMMEL_LINE: line } = process.env;
  if (!file || !picture) throw new Error("the file to open or the picture to write is not named");
  const document = await vscode.workspace.openTextDocument(vscode.Uri.file(file));
  const editor = await vscode.window.showTextDocument(document, { preview: false });
  await showTextOnly();
  const top = Math.max(0, Number(line ?? 1) - 1);
  editor.revealRange(new vscode.Range(top, 0, top, 0), vscode.TextEditorRevealType.AtTop);
  try {
    await until(() => answers(document), "an answer of the server", 15_000);
  } catch {
    // A build may be without findings and without values; it is shown all the same.
    console.log("neither inline values nor findings came");
  }
  await showTextOnly();
  await screenshot(picture);
}

async function answers(document: vscode.TextDocument): Promise<boolean> {
  if (vscode.languages.getDiagnostics(document.uri).length > 0) return true;
  return (await hintsOf(document)).length > 0;
}
