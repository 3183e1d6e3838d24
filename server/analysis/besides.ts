/**
 * What one analysis of a build says otherwise than another, part by part; each part is the very same object
 * as long as both say the same of it.
 *
 *     besidesOf(spec, underOption)   →   [{ here: the axle's result, there: the one of the spec, … }]
 *
 * Must not know: what is laid over what.
 */
import type { Besides, CheckResult, Value } from "./analysis";
import type { BuildAnalysis } from "./build-analysis";
import { differencesIn } from "./results-kept";
import type { RowResult } from "./row-result";

export function besidesOf(other: BuildAnalysis, build: BuildAnalysis): readonly Besides[] {
  return differencesIn(build, other).map(({ here, there }) => {
    const before = kept.get(here);
    if (before !== undefined && before.there === there) return before;
    const made = new Part(here, there);
    kept.set(here, made);
    return made;
  });
}

// ───────────────────────────── helpers ─────────────────────────────

const kept = new WeakMap<RowResult, Part>();

class Part implements Besides {
  constructor(
    readonly here: RowResult,
    readonly there: RowResult | undefined,
  ) {}

  get checks(): readonly CheckResult[] {
    return this.here.checks;
  }

  get wanted(): readonly Value[] {
    return this.here.wanted.flatMap((figure) => this.here.valueOf(figure) ?? []);
  }

  get before(): readonly CheckResult[] {
    return this.there?.checks ?? [];
  }
}
