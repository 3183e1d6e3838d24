/**
 * Mutation testing: changes the sources of one room bit by bit and sees whether its tests notice.
 * Which room, and which changes of it, `mutation.mts` says, which runs this.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";

const room = process.env.MUTATED_ROOM ?? "solve";
const chosen = JSON.parse(readFileSync(process.env.MUTATED_CHOICE ?? "", "utf8"));

/** @type {import("@stryker-mutator/api/core").PartialStrykerOptions} */
export default {
  mutate: chosen.map((change) => change.range),
  testRunner: "chosen",
  vitest: { configFile: ".config/vitest.mutation.config.mts", related: false, pool: "forks" },
  plugins: [join(import.meta.dirname, "mutation-choice.mts")],
  coverageAnalysis: "perTest",
  // Texts are held by the golden texts of the tests above this room.
  mutator: { excludedMutations: ["StringLiteral"] },
  // Changes that act while a file is loaded want all tests of the room each.
  ignoreStatic: process.env.MUTATED_AT_LOADING !== "yes",
  ignorePatterns: ["dist", "out", ".vscode-test", "client", "test/workbench", "test/bench"],
  // On a busy machine the first run of all tests takes its time, too.
  dryRunTimeoutMinutes: 60,
  concurrency: 1,
  // A loop without end is told by how often a change is reached; a busy machine is none.
  timeoutMS: 40_000,
  timeoutFactor: 10,
  tempDirName: `out/mutation/tmp-${room}`,
  cleanTempDir: "always",
  incremental: false,
  reporters: ["json", "progress-append-only"],
  jsonReporter: { fileName: `out/mutation/${room}.json` },
  // The compiler in use offers no interface to rewrite its settings, and nothing here needs it.
  tsconfigFile: "out/mutation/none.json",
  disableTypeChecks: "{server,test,grammar}/**/*.{ts,mts}",
};
