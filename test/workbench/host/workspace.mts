/** The folder the tests have open: a copy, so that no test changes what is in the repository. */
import { cpSync, mkdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { root } from "../../../.config/build.mts";
import { outputFolder } from "./bundle-tests.mts";

/** Copies `samples/` and `test/workbench/workspace/` into one folder, and gives its path. */
export function copyWorkspace(): string {
  const folder = join(outputFolder, "workspace");
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  cpSync(join(root, "samples"), folder, { recursive: true });
  cpSync(join(root, "test", "workbench", "workspace"), folder, { recursive: true });
  return folder;
}
