/**
 * What workbench tests share: opening a file of the workspace, waiting for something to come true,
 * and pictures.
 *
 *     const document = await open("harbor-van/build.trammel");
 *     await until(() => vscode.languages.getDiagnostics(document.uri).length > 0);
 *     await screenshot("harbor-van");
 */
import * as vscode from "vscode";

/** Opens a file of the workspace by its path there and shows it. */
export async function open(path: string): Promise<vscode.TextDocument> {
  const [folder] = vscode.workspace.workspaceFolders ?? [];
  if (folder === undefined) throw new Error("no folder is open");
  const document = await vscode.workspace.openTextDocument(vscode.Uri.joinPath(folder.uri, path));
  await vscode.window.showTextDocument(document);
  return document;
}

/** Asks again and again until the answer is neither false nor empty, and gives it; fails in the end. */
export async function until<Answer>(
  ask: () => Answer | PromiseLike<Answer>,
  what = "what was waited for",
  timeout = 30_000,
): Promise<NonNullable<Answer>> {
  const end = Date.now() + timeout;
  for (;;) {
    const answer = await ask();
    const empty = Array.isArray(answer) && answer.length === 0;
    if (answer && !empty) return answer;
    if (Date.now() > end) throw new Error(`${what} did not come in ${timeout / 1000} s`);
    await pause(50);
  }
}

/** The editor keeps a code with its page as a pair. */
export function codeOf({ code }: vscode.Diagnostic): unknown {
  return typeof code === "object" ? code.value : code;
}

export function labelOf(hint: vscode.InlayHint | undefined): string {
  const { label } = hint ?? { label: "" };
  return typeof label === "string" ? label : label.map(({ value }) => value).join("");
}

/** The inline values of a whole document, as the editor gets them from the server. */
export async function hintsOf(document: vscode.TextDocument): Promise<vscode.InlayHint[]> {
  const range = new vscode.Range(0, 0, document.lineCount, 0);
  const hints = await vscode.commands.executeCommand<vscode.InlayHint[]>(
    "vscode.executeInlayHintProvider",
    document.uri,
    range,
  );
  return hints ?? [];
}

/** Leaves nothing on the screen but the text and what stands beside it. */
export async function showTextOnly(): Promise<void> {
  for (const command of [
    "workbench.action.closeSidebar",
    "workbench.action.closeAuxiliaryBar",
    "workbench.action.closePanel",
    "notifications.clearAll",
  ]) {
    await vscode.commands.executeCommand(command);
  }
}

/**
 * Writes a picture of the whole editor to `out/workbench/NAME.png`, or to NAME where that is an
 * absolute path. Pictures come from the served editor; in the desktop one nothing is written.
 */
export async function screenshot(name: string): Promise<void> {
  const address = process.env.TRAMMEL_PICTURES;
  if (address === undefined) return;
  // Inline values and squiggles are drawn a moment after their data has come.
  await pause(2_000);
  const file = name.startsWith("/") ? name : `${__dirname}/../${name}.png`;
  const response = await fetch(`${address}?${encodeURIComponent(file)}`, { method: "POST" });
  if (!response.ok) throw new Error(await response.text());
}

export function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}

/** What a person does and sees in the page of a panel; nothing in the desktop editor. */
export async function inPanel(
  act: "click" | "texts" | "classes" | "key" | "choose" | "tree" | "colors" | "reload",
  selector: string,
  key?: string,
): Promise<string[]> {
  return asked("panel", { act, selector, key });
}

/**
 * What a person does in the editor itself where it has no command for it: a click on what a
 * selector finds, or its texts. Nothing in the desktop editor.
 */
export function inEditor(act: "click" | "texts", selector: string): Promise<string[]> {
  return asked("editor", { act, selector });
}

async function asked(where: "panel" | "editor", what: object): Promise<string[]> {
  const address = process.env.TRAMMEL_PICTURES;
  if (address === undefined) return [];
  const query = encodeURIComponent(JSON.stringify(what));
  const response = await fetch(`${address}${where}?${query}`, { method: "POST" });
  if (!response.ok) throw new Error(await response.text());
  return (await response.json()) as string[];
}

/** Whether the page of a panel, and the editor as it is shown, can be looked into. */
export const panelsAreShown = process.env.TRAMMEL_PICTURES !== undefined;
