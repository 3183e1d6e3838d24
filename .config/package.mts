/**
 * Packages the extension: `trammel-<version>.vsix`, or the file asked for.
 *
 *     npm run package
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { createVSIX, listFiles, PackageManager } from "@vscode/vsce";
import { buildWhereNeeded, root } from "./build.mts";

/** Writes the package and gives its path. */
export async function packageExtension(file?: string): Promise<string> {
  await buildWhereNeeded();
  const packagePath = file ?? join(root, `trammel-${version()}.vsix`);
  await createVSIX({
    cwd: root,
    packagePath,
    // All that is needed is in the bundles.
    dependencies: false,
    allowMissingRepository: true,
    rewriteRelativeLinks: false,
  });
  return packagePath;
}

/** What the package holds, relative to the repository. */
export async function packagedFiles(): Promise<string[]> {
  await buildWhereNeeded();
  const files = await listFiles({ cwd: root, packageManager: PackageManager.None });
  return files.sort();
}

function version(): string {
  const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
    version: string;
  };
  return manifest.version;
}

if (import.meta.main) await packageExtension();
