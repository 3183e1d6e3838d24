#!/usr/bin/env node
/**
 * Stands in for the desktop editor's program: takes the arguments `@vscode/test-electron` gives it,
 * and runs the same tests in the served editor.
 */
import { parseArgs } from "node:util";
import { runInServedWorkbench } from "./host/served-workbench.mts";

const { values, positionals } = parseArgs({
  strict: false,
  allowPositionals: true,
  options: {
    extensionDevelopmentPath: { type: "string" },
    extensionTestsPath: { type: "string" },
    "user-data-dir": { type: "string" },
  },
});

function required(name: string): string {
  const value = values[name];
  if (typeof value !== "string") throw new Error(`--${name}=… is missing`);
  return value;
}

/** `TRAMMEL_VIEW=1280x600`: the size of the window, in place of the usual one. */
function view(): { view?: { width: number; height: number } } {
  const [width, height] = (process.env.TRAMMEL_VIEW ?? "").split("x").map(Number);
  return width && height ? { view: { width, height } } : {};
}

const [workspace] = positionals;
if (workspace === undefined) throw new Error("the folder to open is missing");
process.exitCode = await runInServedWorkbench({
  extension: required("extensionDevelopmentPath"),
  tests: required("extensionTestsPath"),
  dataFolder: required("user-data-dir"),
  workspace,
  ...view(),
  // The arguments always say that trust is not asked for; a test of that says otherwise here.
  workspaceTrust: process.env.TRAMMEL_ASK_FOR_TRUST === "yes",
});
