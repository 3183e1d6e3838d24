/**
 * Runs a module inside a real VS Code: in one downloaded by `@vscode/test-electron` where there is
 * internet and a display, in the served one otherwise. `TRAMMEL_WORKBENCH` set to `desktop` or
 * `served` decides it.
 *
 *     await runInEditor({ module: "index", workspace: copyWorkspace(), host: await chooseHost() });
 */
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, dirname, join } from "node:path";
import { downloadAndUnzipVSCode, runTests, TestRunFailedError } from "@vscode/test-electron";
import { buildWhereNeeded, root } from "../../../.config/build.mts";
import { bundleTests } from "./bundle-tests.mts";
import { cacheFolder } from "./cache.mts";

export type EditorHost = "desktop" | "served";

export interface EditorRun {
  /** A module of `test/workbench/tests/`, without its ending. */
  readonly module: string;
  readonly workspace: string;
  readonly env?: Record<string, string>;
  readonly host: EditorHost;
}

/** Whether the module's `run()` succeeded. */
export async function runInEditor(run: EditorRun): Promise<boolean> {
  await buildWhereNeeded();
  const fileOf = await bundleTests();
  const dataFolder = mkdtempSync(join(tmpdir(), "trammel-workbench-"));
  try {
    await runTests({
      vscodeExecutablePath:
        run.host === "desktop"
          ? await downloadAndUnzipVSCode({ cachePath: cacheFolder })
          : join(root, "test", "workbench", "launcher.mts"),
      extensionDevelopmentPath: root,
      extensionTestsPath: fileOf(run.module),
      // The launcher is started by name of its interpreter, which has to be the one running now.
      extensionTestsEnv: {
        ...run.env,
        PATH: [dirname(process.execPath), process.env.PATH].join(delimiter),
      },
      launchArgs: [run.workspace, `--user-data-dir=${dataFolder}`, "--disable-extensions"],
    });
    return true;
  } catch (error) {
    if (error instanceof TestRunFailedError) return false;
    throw error;
  } finally {
    rmSync(dataFolder, { recursive: true, force: true, maxRetries: 5 });
  }
}

/** The host for tests that do with either. */
export async function chooseHost(): Promise<EditorHost> {
  const asked = process.env.TRAMMEL_WORKBENCH;
  if (asked === "desktop" || asked === "served") return asked;
  const hasDisplay =
    process.platform !== "linux" || Boolean(process.env.DISPLAY ?? process.env.WAYLAND_DISPLAY);
  return hasDisplay && (hasDownloaded() || (await canDownload())) ? "desktop" : "served";
}

function hasDownloaded(): boolean {
  try {
    return readdirSync(cacheFolder).some((name) => name.startsWith("vscode-"));
  } catch {
    return false;
  }
}

async function canDownload(): Promise<boolean> {
  try {
    const response = await fetch("https://update.code.visualstudio.com/api/releases/stable", {
      signal: AbortSignal.timeout(5_000),
    });
    return response.ok;
  } catch {
    return false;
  }
}
