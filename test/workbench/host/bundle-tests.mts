/** Bundles the modules that run inside the editor, one file each, into `out/workbench/`. */
import { readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { root } from "../../../.config/build.mts";

export const outputFolder = join(root, "out", "workbench");

/** Bundles `tests/`; the file of a module `x.ts` is `out/workbench/modules/x.js`. */
export async function bundleTests(): Promise<(module: string) => string> {
  const { build } = await import("esbuild");
  const folder = join(root, "test", "workbench", "tests");
  const outdir = join(outputFolder, "modules");
  rmSync(outdir, { recursive: true, force: true });
  await build({
    absWorkingDir: root,
    entryPoints: readdirSync(folder)
      .filter((name) => name.endsWith(".ts"))
      .map((name) => join(folder, name)),
    outdir,
    bundle: true,
    platform: "node",
    format: "cjs",
    target: "node22",
    sourcemap: "inline",
    external: ["vscode", "mocha"],
    logLevel: "error",
  });
  return (module) => join(outdir, `${module}.js`);
}
