/**
 * One vitest project for each folder of `test/` but the workbench, whose tests run inside the
 * editor. A new folder of tests needs no entry here.
 */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { defineConfig } from "vitest/config";

const root = join(import.meta.dirname, "..");
const folders = readdirSync(join(root, "test"), { withFileTypes: true })
  .filter((entry) => entry.isDirectory() && entry.name !== "workbench")
  .map((entry) => entry.name);

export default defineConfig({
  root,
  test: {
    // Bundles are built once, before any test that runs them.
    globalSetup: [join(root, ".config", "vitest.setup.mts")],
    projects: folders.map((name) => ({
      root,
      test: {
        name,
        include: [`test/${name}/**/*.test.ts`],
        pool: "forks" as const,
        // Generous, since a loaded machine is not a failing test; nothing waits for its full length.
        testTimeout: 60_000,
        hookTimeout: 120_000,
      },
    })),
  },
});
