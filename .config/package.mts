/**
 * Packages the extension: `trammel-<version>.vsix`, or the file asked for.
 *
 *     npm run package
 */
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { listFiles, PackageManager } from "@vscode/vsce";
import { buildWhereNeeded, root } from "./build.mts";

/** Writes the package and gives its path; tells of the work only where asked to or where it fails. */
export async function packageExtension(
  options: { file?: string; tell?: boolean } = {},
): Promise<string> {
  await buildWhereNeeded();
  const file = options.file ?? join(root, `trammel-${version()}.vsix`);
  const packager = createRequire(import.meta.url).resolve("@vscode/vsce/vsce");
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [
      packager,
      "package",
      `--out=${file}`,
      // All that is needed is in the bundles.
      "--no-dependencies",
      "--allow-missing-repository",
      "--no-rewrite-relative-links",
    ],
    {
      cwd: root,
      encoding: "utf8",
      env: { ...process.env, SOURCE_DATE_EPOCH: oneDate },
      stdio: options.tell === true ? "inherit" : "pipe",
    },
  );
  if (status !== 0) throw new Error(`packaging failed\n${stdout ?? ""}${stderr ?? ""}`);
  return file;
}

/** What the package holds, relative to the repository. */
export async function packagedFiles(): Promise<string[]> {
  await buildWhereNeeded();
  const files = await listFiles({ cwd: root, packageManager: PackageManager.None });
  return files.sort();
}

/** Every file of the package bears it, so that the same sources make the same package. */
const oneDate = String(Date.UTC(2000, 0, 1) / 1000);

function version(): string {
  const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
    version: string;
  };
  return manifest.version;
}

if (import.meta.main) await packageExtension({ tell: true });
