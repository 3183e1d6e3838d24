/**
 * Measures the speed figures this project holds itself to, each beside a general-purpose
 * alternative on the same work. Ends with 1 where a figure is more than three times its target.
 *
 *     npm run bench                        # all figures
 *     npm run bench -- --only edit,check   # some of them
 *     npm run bench -- --json              # for a program
 *     npm run bench -- --profile           # writes processor profiles to out/bench/ as well
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { build } from "esbuild";
import { buildWhereNeeded, root } from "./build.mts";
import { embedLibrary } from "./embed-library.mts";

const folder = join(root, "out", "bench");

await buildWhereNeeded();
await build({
  absWorkingDir: root,
  entryPoints: ["main", "first-analysis", "check-yaml"].map((name) => `test/bench/${name}.ts`),
  outdir: folder,
  outExtension: { ".js": ".mjs" },
  bundle: true,
  splitting: true,
  platform: "node",
  format: "esm",
  target: "node22",
  // As in what ships, without taking the names of functions away from profiles.
  packages: "external",
  sourcemap: "linked",
  plugins: [embedLibrary],
  logLevel: "error",
});
const profile = process.argv.includes("--profile");
const { status, error } = spawnSync(
  process.execPath,
  [
    ...(profile ? ["--cpu-prof", `--cpu-prof-dir=${folder}`] : []),
    join(folder, "main.mjs"),
    ...process.argv.slice(2).filter((each) => each !== "--profile"),
  ],
  { cwd: root, stdio: "inherit" },
);
if (error) throw error;
process.exitCode = status ?? 2;
