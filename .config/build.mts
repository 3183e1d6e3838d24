/**
 * Builds what ships, small entries apart from what they load, which Node keeps compiled: `dist/client.js`;
 * `dist/server.js` of `dist/supervising.js`; the thread that watches over, `dist/service.js` of
 * `dist/serving.js`; `dist/trammel.js`, whose verbs lie together in `dist/command/` and are loaded when
 * one runs. Knows nothing of what the sources mean.
 *
 *     node .config/build.mts              # builds where a source has changed
 *     node .config/build.mts --force      # builds always
 */
import { createHash, randomUUID } from "node:crypto";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { dirname, join, relative } from "node:path";
import type { BuildOptions, Metafile, Plugin } from "esbuild";
import { embedLibrary } from "./embed-library.mts";

export const root = join(import.meta.dirname, "..");
const outputFolder = join(root, "dist");
const chunkFolder = join(outputFolder, "command");
const fingerprintFile = join(outputFolder, ".fingerprint");

const sourceFolders = ["client", "grammar", "server", ".config"];
const sourceFiles = ["package.json", "package-lock.json", "tsconfig.json"];
const outputs = [
  "third-party-notices.txt",
  "bom.cdx.json",
  "client.js",
  "panel.js",
  "server.js",
  "supervising.js",
  "service.js",
  "serving.js",
  "trammel.js",
  "command/program.mjs",
];

/** Builds where a source differs from what was last built; tells whether it did. */
export async function buildWhereNeeded(options: { force?: boolean } = {}): Promise<boolean> {
  const fingerprint = fingerprintOfSources();
  if (options.force !== true && fingerprint === fingerprintOfOutputs()) return false;
  // The bundler is loaded here so that a run that finds everything fresh does not pay for it.
  const { build } = await import("esbuild");
  const { billOf, noticesOf, shippedPackages } = await import("./shipped-packages.mts");
  mkdirSync(outputFolder, { recursive: true });
  const written = new Set<string>();
  const metafiles: Metafile[] = [];
  for (const bundle of bundles()) {
    const result = await build({ ...bundle, write: false, metafile: true, logLevel: "error" });
    metafiles.push(result.metafile);
    for (const file of result.outputFiles ?? []) {
      mkdirSync(dirname(file.path), { recursive: true });
      put(file.path, file.contents);
      written.add(file.path);
    }
  }
  const packages = shippedPackages(metafiles, root);
  put(join(outputFolder, "third-party-notices.txt"), noticesOf(packages));
  put(join(outputFolder, "bom.cdx.json"), billOf(packages, ownManifest()));
  // Chunks carry what they hold in their names: those of an earlier build are of no use.
  for (const file of filesIn(chunkFolder)) if (!written.has(file)) rmSync(file);
  chmodSync(join(outputFolder, "trammel.js"), 0o755);
  put(fingerprintFile, fingerprint);
  return true;
}

function bundles(): BuildOptions[] {
  const common: BuildOptions = {
    absWorkingDir: root,
    bundle: true,
    platform: "node",
    format: "cjs",
    target: "node20",
    // Some libraries name an older module format first, which does not bundle as well.
    mainFields: ["module", "main"],
    minify: true,
    sourcemap: "linked",
    legalComments: "none",
    plugins: [embedLibrary],
  };
  const entry: BuildOptions = {
    ...common,
    plugins: [loadedLate(/^\.\/(supervising|serving)$/, (name) => `./${name}.js`)],
    // What `import()` loads is first read through twice, for which of the two module formats it is.
    supported: { "dynamic-import": false },
  };
  return [
    {
      ...common,
      entryPoints: ["client/extension.ts"],
      outfile: "dist/client.js",
      external: ["vscode"],
    },
    {
      ...common,
      entryPoints: ["client/panel/page/page.ts"],
      outfile: "dist/panel.js",
      platform: "browser",
      format: "iife",
      target: "es2022",
      sourcemap: false,
    },
    { ...entry, entryPoints: ["server/main.ts"], outfile: "dist/server.js" },
    { ...common, entryPoints: ["server/supervising.ts"], outfile: "dist/supervising.js" },
    { ...entry, entryPoints: ["server/thread.ts"], outfile: "dist/service.js" },
    { ...common, entryPoints: ["server/serving.ts"], outfile: "dist/serving.js" },
    {
      ...common,
      entryPoints: ["server/command/main.ts"],
      outfile: "dist/trammel.js",
      banner: { js: "#!/usr/bin/env node" },
      plugins: [loadedLate(/^\.\/(program|shares)$/, (name) => `./command/${name}.mjs`)],
    },
    {
      ...common,
      entryPoints: ["server/command/program.ts", "server/command/shares.ts"],
      outdir: "dist/command",
      format: "esm",
      splitting: true,
      outExtension: { ".js": ".mjs" },
      chunkNames: "[name]-[hash]",
      plugins: [loadedTogether(join(root, "server/command"), verbs), embedLibrary],
    },
  ];
}

function ownManifest(): { name: string; version: string } {
  return JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
}

/** What a small entry loads late stays outside of it, and is kept compiled by Node. */
function loadedLate(filter: RegExp, pathOf: (name: string) => string): Plugin {
  return {
    name: "loaded-late",
    setup(build) {
      build.onResolve({ filter }, ({ path, kind }) =>
        kind === "dynamic-import" ? { path: pathOf(path.slice(2)), external: true } : undefined,
      );
    },
  };
}

/** What verbs do but for the JSON contract: finding and opening a file costs more than what is in most. */
const verbs = [
  "session",
  "check",
  "show",
  "explain",
  "compare",
  "curve",
  "choose",
  "format",
  "plan",
  "log",
  "measure",
  "draw",
  "sheet",
  "handover",
];

/** Modules of a folder that are loaded late lie in one file, which is loaded with the first of them. */
function loadedTogether(folder: string, names: readonly string[]): Plugin {
  const namespace = "together";
  return {
    name: "loaded-together",
    setup(build) {
      build.onResolve({ filter: new RegExp(`^\\./(${names.join("|")})$`) }, ({ kind }) =>
        kind === "dynamic-import" ? { path: "verbs", namespace } : undefined,
      );
      build.onLoad({ filter: /^verbs$/, namespace }, () => ({
        contents: names.map((name) => `export * from "./${name}";`).join("\n"),
        resolveDir: folder,
      }));
    },
  };
}

/** Path, size and time of change of every source: a deleted file changes it as well. */
function fingerprintOfSources(): string {
  const hash = createHash("sha256");
  const note = (path: string) => {
    const { size, mtimeMs } = statSync(path);
    hash.update(`${relative(root, path)}\0${size}\0${mtimeMs}\n`);
  };
  for (const folder of sourceFolders) for (const path of filesIn(join(root, folder))) note(path);
  for (const file of sourceFiles) note(join(root, file));
  return hash.digest("hex");
}

/** What the present outputs were built from; empty where one of them is missing. */
function fingerprintOfOutputs(): string {
  if (!outputs.every((name) => existsSync(join(outputFolder, name)))) return "";
  return existsSync(fingerprintFile) ? readFileSync(fingerprintFile, "utf8") : "";
}

export function filesIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}

/** Writes beside the target and renames, so that nobody ever runs half a bundle. */
function put(path: string, contents: string | Uint8Array): void {
  const temporary = join(dirname(path), `.${randomUUID()}.tmp`);
  try {
    writeFileSync(temporary, contents);
    renameSync(temporary, path);
  } finally {
    rmSync(temporary, { force: true });
  }
}

if (import.meta.main) {
  await buildWhereNeeded({ force: process.argv.includes("--force") });
}
