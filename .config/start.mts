/**
 * The main job on a fresh clone: builds, solves the sample, objects to what is wrong in it, and says
 * how to get it into the editor.
 *
 *     npm ci && npm start
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { buildWhereNeeded, root } from "./build.mts";

const sample = "samples/harbor-van/build.trammel";

await buildWhereNeeded();
for (const verb of ["show", "check"]) {
  console.log(`\n$ trammel ${verb} ${sample}\n`);
  const { status, error } = spawnSync(
    process.execPath,
    [join(root, "dist", "trammel.js"), verb, sample],
    { cwd: root, stdio: "inherit" },
  );
  if (error) throw error;
  // Findings in the sample are part of the show; not being able to read it is not.
  if (status !== 0 && status !== 1) process.exit(status ?? 2);
}
console.log(`
The same in VS Code:
  npm run package      makes trammel-*.vsix; "Extensions: Install from VSIX…" takes it in
  npm run workbench    serves a VS Code with the extension and the samples to your browser
  F5                   in VS Code with this folder open, starts one from the sources

The command line from here:
  npm run --silent trammel -- show ${sample}
`);
