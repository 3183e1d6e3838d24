/**
 * Mutation testing: changes the sources of one room bit by bit and sees whether its tests notice.
 *
 *     npm run mutation -- solve                        the whole room
 *     npm run mutation -- solve server/solve/plan.ts   a file of it
 */
const room = process.env.MUTATED_ROOM ?? "solve";

/** @type {import("@stryker-mutator/api/core").PartialStrykerOptions} */
export default {
  mutate: [`server/${room}/**/*.ts`],
  testRunner: "vitest",
  vitest: { configFile: ".config/vitest.mutation.config.mts", related: false },
  plugins: ["@stryker-mutator/vitest-runner"],
  coverageAnalysis: "perTest",
  // Texts are held by the golden texts of the tests above this room.
  mutator: { excludedMutations: ["StringLiteral"] },
  ignoreStatic: true,
  ignorePatterns: ["dist", "out", ".vscode-test", "client", "test/workbench", "test/bench"],
  concurrency: 1,
  timeoutMS: 5_000,
  timeoutFactor: 3,
  tempDirName: "out/mutation/tmp",
  cleanTempDir: "always",
  incremental: false,
  reporters: ["clear-text", "json"],
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false, allowEmojis: false },
  jsonReporter: { fileName: `out/mutation/${room}.json` },
  thresholds: { high: 95, low: 85, break: 85 },
  // The compiler in use offers no interface to rewrite its settings, and nothing here needs it.
  tsconfigFile: "out/mutation/none.json",
  checkers: [],
  disableTypeChecks: "{server,test,grammar}/**/*.{ts,mts}",
};
