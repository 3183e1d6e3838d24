/**
 * Runs the workbench tests: every `tests/*.test.ts`, inside a real VS Code that has a copy of
 * `samples/` and of `workspace/` open.
 *
 *     npm run workbench:test
 */
import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { outputFolder } from "./host/bundle-tests.mts";
import { runInEditor } from "./host/launch.mts";
import { copyWorkspace } from "./host/workspace.mts";

const report = join(outputFolder, "report.txt");
const results = join(outputFolder, "results.json");
mkdirSync(outputFolder, { recursive: true });
for (const file of [report, results]) rmSync(file, { force: true });

const succeeded = await runInEditor({
  module: "index",
  workspace: copyWorkspace(),
  env: { TRAMMEL_REPORT: report, TRAMMEL_RESULTS: results },
});
if (existsSync(report)) process.stdout.write(readFileSync(report, "utf8"));
process.exitCode = succeeded && existsSync(results) ? 0 : 1;
