/**
 * Where a value comes from, as a tree a person can read: the relation in symbols, the same with
 * numbers, its source, and each input in turn.
 *
 *     derivationOf(analysis, value, { depth: 2 })
 *
 * Must not know: where it is written to.
 */
import type { Analysis, Reason, Value } from "../analysis/analysis";
import { plainFigure } from "./figure";
import { formulaWithNumbers } from "./formula-numbers";

export interface Derivation {
  readonly value: Value;
  /** The relation with the figures put in for its names. */
  readonly numbers?: string;
  readonly inputs: readonly Derivation[];
  /** Why inputs it has are not listed: it is opened at another place, or lies deeper than asked. */
  readonly closed?: "elsewhere" | "deeper";
}

/** Each value is opened once, where it first appears; `depth` counts levels of inputs. */
export function derivationOf(
  analysis: Analysis,
  value: Value,
  options: { readonly depth?: number } = {},
): Derivation {
  const top = new Node(value, analysis);
  const opened = new Set([value.path]);
  // Level by level, so that a value is opened where it lies nearest to the one asked for.
  let level = [top];
  for (
    let depth = options.depth ?? Number.POSITIVE_INFINITY;
    depth > 0 && level.length > 0;
    depth--
  ) {
    const next: Node[] = [];
    for (const node of level) {
      node.open();
      for (const input of node.inputs) {
        if (opened.has(input.value.path)) input.close("elsewhere");
        else next.push(input);
        opened.add(input.value.path);
      }
    }
    level = next;
  }
  return top;
}

// ───────────────────────────── helpers ─────────────────────────────

class Node implements Derivation {
  inputs: Node[] = [];
  closed?: "elsewhere" | "deeper";
  readonly numbers?: string;

  constructor(
    readonly value: Value,
    private readonly analysis: Analysis,
  ) {
    const { reason } = value;
    this.close("deeper");
    if (reason !== undefined) {
      this.numbers = formulaWithNumbers(reason, value, analysis, (each) =>
        plainFigure(each, analysis),
      );
    }
  }

  open(): void {
    const inputs = this.value.reason?.inputs ?? [];
    this.inputs = inputs.flatMap((path) => {
      const value = this.analysis.valueAt(path);
      return value === undefined ? [] : [new Node(value, this.analysis)];
    });
    this.closed = undefined;
  }

  close(why: "elsewhere" | "deeper"): void {
    if ((this.value.reason?.inputs.length ?? 0) > 0) this.closed = why;
  }
}

/** What to say of a figure that relations fix while others in them stay open. */
export function whateverElse(known: NonNullable<Reason["whatever"]>): string {
  return known === "proved"
    ? "it is the same whatever the figures are that stay open in these"
    : "it came out the same wherever the figures that stay open in these were tried; nothing more is known";
}
