/** The tests of one room for mutation testing: `MUTATED_ROOM=solve`; nothing is built, nothing else runs. */
import { join } from "node:path";
import { defineConfig } from "vitest/config";

const room = process.env.MUTATED_ROOM ?? "solve";

export default defineConfig({
  root: join(import.meta.dirname, ".."),
  test: {
    include: [`test/${room}/**/*.test.ts`],
    pool: "forks",
    testTimeout: 60_000,
  },
});
