/**
 * Runs the workbench tests: every `tests/*.test.ts`, inside a real VS Code that has a copy of
 * `samples/` and of `workspace/` open.
 *
 *     npm run workbench:test
 */
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "../../.config/build.mts";
import { outputFolder } from "./host/bundle-tests.mts";
import { chooseHost, type EditorHost, runInEditor } from "./host/launch.mts";
import { copyWorkspace } from "./host/workspace.mts";

const report = join(outputFolder, "report.txt");
const results = join(outputFolder, "results.json");
const total = { passed: 0, failed: 0 };

mkdirSync(outputFolder, { recursive: true });
rmSync(results, { force: true });
const host = await chooseHost();
await run(host, {});
// The desktop editor is always told by its runner that trust is not asked for.
if (host === "served") await run(host, { TRAMMEL_ASK_FOR_TRUST: "yes" });
if (host === "served") await run(host, {}, "reload");
writeFileSync(results, JSON.stringify(total));
process.exitCode = total.failed === 0 ? 0 : 1;

async function run(host: EditorHost, env: Record<string, string>, module = "index"): Promise<void> {
  const own = join(outputFolder, "results-of-one-run.json");
  for (const file of [report, own]) rmSync(file, { force: true });
  const succeeded = await runInEditor({
    module,
    workspace: copyWorkspace(),
    host,
    env: {
      ...env,
      TRAMMEL_REPORT: report,
      TRAMMEL_RESULTS: own,
      TRAMMEL_EDITOR_PICTURE: join(root, "test", "pictures", "golden", "editor.png"),
    },
  });
  if (existsSync(report)) process.stdout.write(readFileSync(report, "utf8"));
  if (!existsSync(own)) throw new Error("the run broke off before there were results");
  const { passed, failed } = JSON.parse(readFileSync(own, "utf8")) as typeof total;
  total.passed += passed;
  // A run that ends badly although its tests passed is a failure as well.
  total.failed += succeeded ? failed : Math.max(failed, 1);
}
