/**
 * A VS Code served over HTTP on this machine alone, installed from npm: for places where the desktop
 * editor cannot be downloaded or has no display.
 *
 *     const server = await startEditorServer({ folder });
 *     // … open http://127.0.0.1:${server.port}/
 *     await server.stop();
 */
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { cached } from "./cache.mts";

const version = "4.139.1";
const startTimeout = 120_000;

export interface EditorServer {
  readonly port: number;
  /** What it has written so far, for a failing run. */
  log(): string;
  stop(): Promise<void>;
}

export interface EditorServerOptions {
  /** Where settings, state and extensions are kept; removed by whoever made it. */
  readonly dataFolder: string;
  /** 0 takes a free one. */
  readonly port?: number;
  /** Ask before trusting a folder, as the editor does for a person. */
  readonly workspaceTrust?: boolean;
  readonly env?: NodeJS.ProcessEnv;
}

export async function startEditorServer(options: EditorServerOptions): Promise<EditorServer> {
  const program = await editorServerProgram();
  writeSettings(options.dataFolder);
  const child = spawn(process.execPath, [program, ...argumentsFor(options)], {
    stdio: ["ignore", "pipe", "pipe"],
    // No gallery of extensions: a test talks to nobody outside this machine.
    env: { ...process.env, EXTENSIONS_GALLERY: "{}", ...options.env },
    // A group of its own, so that the extension hosts it starts end with it.
    detached: process.platform !== "win32",
  });
  let log = "";
  const note = (data: Buffer) => {
    log = (log + data.toString()).slice(-200_000);
  };
  child.stdout?.on("data", note);
  child.stderr?.on("data", note);
  const stop = () => stopChild(child);
  try {
    const port = await portOf(child, () => log);
    return { port, log: () => log, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** Installs an extension's package file into the data folder's extensions. */
export async function installExtension(packageFile: string, dataFolder: string): Promise<void> {
  const program = await editorServerProgram();
  await run(process.execPath, [
    program,
    "--accept-server-license-terms",
    ...foldersIn(dataFolder),
    "--install-extension",
    packageFile,
    "--force",
  ]);
}

/** What keeps the view to the text and what the tests look at. */
function writeSettings(dataFolder: string): void {
  const folder = join(dataFolder, "user", "Machine");
  mkdirSync(folder, { recursive: true });
  const settings = {
    "workbench.startupEditor": "none",
    "workbench.tips.enabled": false,
    "workbench.secondarySideBar.defaultVisibility": "hidden",
    "chat.disableAIFeatures": true,
    "extensions.ignoreRecommendations": true,
    "files.autoSave": "off",
    "editor.minimap.enabled": false,
    "editor.occurrencesHighlight": "off",
  };
  writeFileSync(join(folder, "settings.json"), JSON.stringify(settings, undefined, 2));
}

function argumentsFor(options: EditorServerOptions): string[] {
  return [
    "--host=127.0.0.1",
    `--port=${options.port ?? 0}`,
    "--without-connection-token",
    "--accept-server-license-terms",
    // Without it a built workbench ignores the test payload in its address.
    "--enable-smoke-test-driver",
    "--telemetry-level=off",
    ...(options.workspaceTrust === true ? [] : ["--disable-workspace-trust"]),
    ...foldersIn(options.dataFolder),
  ];
}

function foldersIn(dataFolder: string): string[] {
  return [
    `--server-data-dir=${join(dataFolder, "server")}`,
    `--user-data-dir=${join(dataFolder, "user")}`,
    `--extensions-dir=${join(dataFolder, "extensions")}`,
  ];
}

async function editorServerProgram(): Promise<string> {
  const folder = await cached(`code-server-${version}`, async (target) => {
    console.log(`installing the editor's server (code-server ${version}), once`);
    writeFileSync(join(target, "package.json"), '{ "private": true }\n');
    await npm(target, ["install", `code-server@${version}`]);
    await npm(join(target, editorFolder), ["install", "--omit=dev", "--omit=optional"]);
    await addFileWatcher(target);
  });
  return join(folder, editorFolder, "out", "server-main.js");
}

const editorFolder = join("node_modules", "code-server", "lib", "vscode");

/** The compiled half of the file watcher is optional to npm; without it no change on disk is noticed. */
async function addFileWatcher(target: string): Promise<void> {
  const manifest = join(target, editorFolder, "node_modules", "@parcel", "watcher", "package.json");
  const { optionalDependencies } = JSON.parse(readFileSync(manifest, "utf8")) as {
    optionalDependencies: Record<string, string>;
  };
  const name = `@parcel/watcher-${process.platform}-${process.arch}`;
  const found = [`${name}-glibc`, name].find((candidate) => candidate in optionalDependencies);
  if (found !== undefined)
    await npm(target, ["install", `${found}@${optionalDependencies[found]}`]);
}

async function npm(cwd: string, args: string[]): Promise<void> {
  const quiet = ["--ignore-scripts", "--no-audit", "--no-fund", "--no-package-lock"];
  const windows = process.platform === "win32";
  await run(windows ? "npm.cmd" : "npm", [...args, ...quiet, "--loglevel=error"], {
    cwd,
    shell: windows,
  });
}

async function run(
  program: string,
  args: string[],
  options: { cwd?: string; shell?: boolean } = {},
): Promise<void> {
  const child = spawn(program, args, { ...options, stdio: ["ignore", "pipe", "pipe"] });
  let text = "";
  child.stdout.on("data", (data) => (text += data));
  child.stderr.on("data", (data) => (text += data));
  const [code] = await once(child, "close");
  if (code !== 0) throw new Error(`${program} ${args.join(" ")} ended with ${code}\n${text}`);
}

/** Waits until the server says where it listens. */
function portOf(child: ChildProcess, log: () => string): Promise<number> {
  return new Promise((resolve, reject) => {
    const settle = (act: () => void) => {
      clearTimeout(timer);
      child.stdout?.off("data", look);
      act();
    };
    const fail = (what: string) =>
      settle(() => reject(new Error(`the editor's server ${what}\n${log()}`)));
    const timer = setTimeout(() => fail("did not start in time"), startTimeout);
    const look = () => {
      const match = /listening on (\d+)/.exec(log());
      if (match !== null) settle(() => resolve(Number(match[1])));
    };
    child.stdout?.on("data", look);
    child.once("error", (error) => fail(`did not start: ${error.message}`));
    child.once("exit", (code) => fail(`ended with ${code}`));
  });
}

async function stopChild(child: ChildProcess): Promise<void> {
  if (child.pid === undefined) return;
  const ended = child.exitCode !== null || child.signalCode !== null;
  const exit = ended ? Promise.resolve() : once(child, "exit");
  // The group is asked even when its leader has gone: its extension hosts may be there still.
  signal(child, "SIGTERM");
  const timer = setTimeout(() => signal(child, "SIGKILL"), 5_000);
  await exit;
  clearTimeout(timer);
  signal(child, "SIGKILL");
}

function signal(child: ChildProcess, name: NodeJS.Signals): void {
  try {
    if (process.platform === "win32") child.kill(name);
    else if (child.pid !== undefined) process.kill(-child.pid, name);
  } catch {
    // It has ended already.
  }
}
