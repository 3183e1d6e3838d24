/**
 * What the saw needs, before anything else a reader may like: tape readings, saw marks, shaft lengths,
 * the housing's width, as far as the build settles them.
 *
 *     cutList(analysis)   →   values, side by side in the order they are cut
 *
 * Must not know: where the list is written to.
 */
import type { Analysis, Value } from "../analysis/analysis";
import { cutFigures } from "./stations";
import { thingsAtWork } from "./things-at-work";

/** Figures that are given are not among them: nothing has to be cut to what is there. */
export function cutList(analysis: Analysis): Value[] {
  const used = new Set(thingsAtWork(analysis).map(({ path }) => path));
  return analysis.things
    .filter(
      (thing) => !thing.implied && (used.has(thing.path) || used.has(thing.owner?.path ?? "")),
    )
    .flatMap((thing) =>
      cutFigures
        .filter(({ kind }) => thing.is(kind))
        .flatMap(({ fields }) =>
          fields.flatMap((field) => analysis.values.get(`${thing.path}.${field}`) ?? []),
        ),
    )
    .filter(({ si, standing }) => si !== undefined && standing !== "given");
}
