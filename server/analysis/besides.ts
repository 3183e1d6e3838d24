/**
 * What one analysis of a build says otherwise than another, part by part.
 *
 *     besidesOf(spec, underOption)   →   [{ here: the axle's result, there: the one of the spec, … }]
 *
 * Must not know: what is laid over what.
 */
import type { Besides, Value } from "./analysis";
import type { BuildAnalysis } from "./build-analysis";
import { differing } from "./results-kept";

export function besidesOf(other: BuildAnalysis, build: BuildAnalysis): readonly Besides[] {
  const { gone, come } = differing(other, build);
  const there = new Map(gone.map((result) => [result.of.placed.item, result]));
  return come.map((here): Besides => {
    const match = there.get(here.of.placed.item);
    const wanted = (): readonly Value[] => build.wantedIn([here]);
    return {
      here,
      there: match,
      get checks() {
        return here.checks;
      },
      get wanted() {
        return wanted();
      },
      get before() {
        return match?.checks ?? [];
      },
    };
  });
}
