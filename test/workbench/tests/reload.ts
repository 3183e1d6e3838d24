/**
 * Not among the other tests, since a reload ends them: opens the picture, has the window loaded anew,
 * which begins this module again, and looks whether the picture came back by itself.
 */
import { existsSync, writeFileSync } from "node:fs";
import * as vscode from "vscode";
import { inPanel, open, panelsAreShown, pause, until } from "./helper";

export async function run(): Promise<void> {
  const { TRAMMEL_RESULTS: results, TRAMMEL_REPORT: report } = process.env;
  const folder = vscode.workspace.workspaceFolders?.[0]?.uri.fsPath;
  if (!results || !report || folder === undefined) throw new Error("the files are not named");
  const marker = `${folder}/.reloaded`;
  if (panelsAreShown && !existsSync(marker)) {
    await open("harbor-van/build.trammel");
    await vscode.commands.executeCommand("trammel.showPicture");
    await until(() => inPanel("texts", "svg.drawing > title"), "the drawing");
    // In a browser the editor writes what it keeps of its windows every five seconds, when idle.
    await pause(8_000);
    writeFileSync(marker, "");
    await inPanel("reload", "");
    await pause(60_000);
    throw new Error("the window was not loaded anew");
  }
  let failed = 0;
  try {
    if (panelsAreShown)
      await until(() => inPanel("texts", "svg.drawing > title"), "the drawing after the reload");
  } catch (error) {
    failed = 1;
    const told = (await inPanel("texts", ".banner")).join(" ");
    writeFileSync(
      report,
      `the picture does not come back after a reload: ${String(error)}; the panel says "${told}"\n`,
    );
  }
  if (failed === 0) writeFileSync(report, "  the picture comes back after a reload\n");
  writeFileSync(results, JSON.stringify({ passed: 1 - failed, failed }));
  if (failed > 0) throw new Error("the picture did not come back");
}
