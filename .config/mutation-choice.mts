/**
 * Has Stryker try the chosen changes alone: `mutate` can only name ranges of the text, and these hold
 * the changes inside of them, too. `MUTATED_CHOICE` names the file with the choice.
 */
import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import type { Mutant } from "@stryker-mutator/api/core";
import {
  commonTokens,
  declareFactoryPlugin,
  type Injector,
  type PluginContext,
  PluginKind,
  tokens,
} from "@stryker-mutator/api/plugin";
import { DryRunStatus, MutantRunStatus, type TestRunner } from "@stryker-mutator/api/test-runner";
import { strykerPlugins as vitestPlugins } from "@stryker-mutator/vitest-runner";

export interface Chosen {
  /** What tells a change from all others. */
  readonly key: string;
  /** As `mutate` wants it: lines from 1, columns from 0. */
  readonly range: string;
}

/**
 * A change that acts while a file is loaded is tried against tests alone that load the file late, though
 * others would notice: of such a trial nothing is told.
 */
export const actsAtLoading = "acts while a file is loaded";

const root = join(import.meta.dirname, "..");

/** A change by file, place (lines and columns from 0), kind and what it puts there. */
export function keyOf(change: Omit<Mutant, "id">): string {
  const { start, end } = change.location;
  const place = [start.line, start.column, end.line, end.column].join(":");
  return `${relative(root, change.fileName)}:${place} ${change.mutatorName} ${change.replacement}`;
}

function chosenAlone(injector: Injector<PluginContext>): TestRunner {
  const [vitest] = vitestPlugins;
  if (vitest === undefined) throw new Error("the test runner is there");
  const runner: TestRunner = injector.injectFunction(vitest.factory);
  const choice = readFileSync(process.env.MUTATED_CHOICE ?? "", "utf8");
  const keys = new Set((JSON.parse(choice) as Chosen[]).map(({ key }) => key));
  const atLoading = new Set<string>();
  const first = runner.dryRun.bind(runner);
  runner.dryRun = async (options) => {
    const result = await first(options);
    const isComplete = result.status === DryRunStatus.Complete;
    if (isComplete && process.env.MUTATED_AT_LOADING !== "yes")
      for (const id of Object.keys(result.mutantCoverage?.static ?? {})) atLoading.add(id);
    return result;
  };
  const run = runner.mutantRun.bind(runner);
  runner.mutantRun = async (options) => {
    const errorMessage = !keys.has(keyOf(options.activeMutant))
      ? "not chosen"
      : atLoading.has(options.activeMutant.id)
        ? actsAtLoading
        : undefined;
    return errorMessage === undefined
      ? run(options)
      : { status: MutantRunStatus.Error, errorMessage };
  };
  return runner;
}
chosenAlone.inject = tokens(commonTokens.injector);

export const strykerPlugins = [declareFactoryPlugin(PluginKind.TestRunner, "chosen", chosenAlone)];
