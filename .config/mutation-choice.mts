/**
 * Has Stryker try the chosen changes alone: `mutate` can only name ranges of the text, and these hold
 * the changes inside of them, too. `MUTATED_CHOICE` names the file with the choice.
 */
import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { type Checker, type CheckResult, CheckStatus } from "@stryker-mutator/api/check";
import type { Mutant } from "@stryker-mutator/api/core";
import { declareClassPlugin, PluginKind } from "@stryker-mutator/api/plugin";

export interface Chosen {
  /** What tells a change from all others. */
  readonly key: string;
  /** As `mutate` wants it: lines from 1, columns from 0. */
  readonly range: string;
}

const root = join(import.meta.dirname, "..");

/** A change by file, place (lines and columns from 0), kind and what it puts there. */
export function keyOf(change: Mutant): string {
  const { start, end } = change.location;
  const place = [start.line, start.column, end.line, end.column].join(":");
  return `${relative(root, change.fileName)}:${place} ${change.mutatorName} ${change.replacement}`;
}

class ChosenAlone implements Checker {
  private readonly keys = new Set<string>();

  async init(): Promise<void> {
    const path = process.env.MUTATED_CHOICE;
    if (path === undefined) return;
    for (const { key } of JSON.parse(readFileSync(path, "utf8")) as Chosen[]) this.keys.add(key);
  }

  async group(changes: Mutant[]): Promise<string[][]> {
    return [changes.map(({ id }) => id)];
  }

  async check(changes: Mutant[]): Promise<Record<string, CheckResult>> {
    return Object.fromEntries(
      changes.map((change): [string, CheckResult] => [
        change.id,
        this.keys.has(keyOf(change))
          ? { status: CheckStatus.Passed }
          : { status: CheckStatus.CompileError, reason: "not chosen" },
      ]),
    );
  }
}

export const strykerPlugins = [declareClassPlugin(PluginKind.Checker, "chosen", ChosenAlone)];
