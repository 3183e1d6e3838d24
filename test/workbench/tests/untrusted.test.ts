import * as assert from "node:assert/strict";
import * as vscode from "vscode";
import { open, until } from "./helper";

suite("a folder that is not trusted", () => {
  test("is read all the same", async () => {
    const document = await open("empty.trammel");
    assert.equal(vscode.workspace.isTrusted, false);
    assert.equal(document.languageId, "trammel");
    const extension = vscode.extensions.getExtension("trammel-bench.trammel");
    await until(() => extension?.isActive, "the extension's start");
  });
});
