import * as assert from "node:assert/strict";
import * as vscode from "vscode";
import { open, until } from "./helper";

suite("activation", () => {
  test("opening a build starts the extension", async () => {
    const document = await open("empty.trammel");
    assert.equal(document.languageId, "trammel");
    const extension = vscode.extensions.getExtension("trammel-bench.trammel");
    assert.ok(extension, "the extension is there under its name");
    await until(() => extension.isActive, "the extension's start");
  });

  test("its commands are there, and the server restarts", async () => {
    await open("empty.trammel");
    const commands = await until(async () => {
      const all = await vscode.commands.getCommands(true);
      return all.includes("trammel.restartServer") ? all : undefined;
    }, "the command to restart the server");
    assert.ok(commands.includes("trammel.showOutput"));
    await vscode.commands.executeCommand("trammel.restartServer");
  });

  test("its settings have their defaults", () => {
    const settings = vscode.workspace.getConfiguration("trammel");
    assert.equal(settings.get("display.system"), "as written");
    assert.equal(settings.get("display.lengthIncrement"), "1/32");
    assert.equal(settings.get("hints.enabled"), true);
  });
});
