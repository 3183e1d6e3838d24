/**
 * The tests of one room for mutation testing, `MUTATED_ROOM=solve`: those of its own folder and those
 * above it that hold it to something outside, without the few that take longer than all others
 * together; or those that `MUTATED_TESTS` names. Nothing is built.
 */
import { join } from "node:path";
import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

const tests: Record<string, { readonly run: string[]; readonly leftOut: string[] }> = {
  units: { run: ["test/units/**"], leftOut: [] },
  model: {
    run: ["test/model/**", "test/analysis/**"],
    // Properties over many builds, minutes each, what counts memory or work, and what is about solving.
    leftOut: [
      "test/model/{order-of-lines,bad-input,edits,meaning-properties,budget}.test.ts",
      "test/model/{directions,other-shapes}.test.ts",
      "test/analysis/{choose,memory,work,slips-drawn}.test.ts",
      "test/analysis/{steps-of-newton,outcome,findings-answers,findings-conflicts}.test.ts",
    ],
  },
  solve: {
    run: [
      "test/solve/**",
      "test/reference/engine-cases*.test.ts",
      "test/model/{which-answer,curve-points,shop}.test.ts",
      "test/analysis/{outcome,fits,missing-beside}.test.ts",
      "test/analysis/findings-{answers,as-built,checks,conflicts,views}.test.ts",
    ],
    // Properties over many systems.
    leftOut: ["test/solve/{hostile,ranges-drawn}.test.ts"],
  },
  sequence: {
    run: [
      "test/sequence/**",
      "test/reference/order-of-work-*.test.ts",
      "test/command/log.test.ts",
      "test/features/record-step.test.ts",
    ],
    // Odd, large and drawn builds, logs as planted as another, and what uses git.
    leftOut: [
      "test/sequence/{robustness,merge,property,sample}.test.ts",
      "test/sequence/truck-{planted,correct}.test.ts",
    ],
  },
};
const named = process.env.MUTATED_TESTS?.split(",").filter(Boolean) ?? [];
const ofRoom = tests[process.env.MUTATED_ROOM ?? "solve"] ?? { run: [], leftOut: [] };
const { run, leftOut } = named.length > 0 ? { run: named, leftOut: [] } : ofRoom;

const holdsWholly = /\/what-[^/]*\.test\.ts$/;

/**
 * Which test reaches a change is found out with each file of tests on its own, since what is made
 * once and kept is reached by the first only. The changes are then tried with all files in one
 * process that is new for each change: those first that hold a subject wholly and are quick
 * (`what-…`), then the others, the quickest first.
 */
class QuickestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const provided = this.ctx.getProvidedContext() as { readonly mode?: string };
    for (const { project } of files) project.config.isolate = provided.mode !== "mutant";
    const quickest = (await super.sort(files)).reverse();
    const first = quickest.filter(({ moduleId }) => holdsWholly.test(moduleId));
    return [...first, ...quickest.filter((file) => !first.includes(file))];
  }
}

export default defineConfig({
  root: join(import.meta.dirname, ".."),
  test: {
    include: run.map((path) => (path.endsWith(".ts") ? path : `${path}/*.test.ts`)),
    exclude: [...leftOut, "**/node_modules/**"],
    setupFiles: [join(import.meta.dirname, "vitest.mutation.setup.mts")],
    testTimeout: 300_000,
    sequence: { sequencer: QuickestFirst },
  },
});
