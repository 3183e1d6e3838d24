/**
 * Figures of things that records say something of, and what is taken of them in place of what is written.
 *
 * Must not know: what the readings come to together.
 */

import { everythingIn } from "../model/elaborate";
import type { FormPool } from "../model/kind-environment";
import { figureOf } from "../model/known-figure";
import type { Tree } from "../model/trees";
import type { FigureId } from "../names/ids";
import type { GivenNumber, Variable } from "../solve/system";

const recorded = new WeakMap<
  Tree,
  { readonly spoken: number; readonly figures: readonly FigureId[] }
>();

/** Figures of a thing at the top, and of all in it, that a record says something of. */
export function onRecordIn(tree: Tree | undefined, pool: FormPool): readonly FigureId[] {
  if (tree === undefined) return [];
  const ids = new Set(
    tree.written.flatMap(({ id, write }) => (write.layer === "record" ? id : [])),
  );
  if (ids.size === 0) return [];
  let spoken = 0;
  for (const id of ids) spoken += id.spoken;
  const known = recorded.get(tree);
  // Further figures may have been spoken of since.
  if (known?.spoken === spoken) return known.figures;
  const things = new Map(everythingIn(tree.thing).map((thing) => [thing.id, thing]));
  const figures = [...ids].flatMap((id) => {
    const thing = things.get(id);
    if (thing === undefined) return [];
    return [...id.known].filter(
      (figure) => figureOf(thing, figure.key, pool)?.entry?.layer === "record",
    );
  });
  recorded.set(tree, { spoken, figures });
  return figures;
}

/** A figure of which readings say more than what is written of it; what is made is not made again. */
export function takenAs(variable: Variable, given: GivenNumber | undefined): Variable {
  return { ...variable, given, making: given && variable.making };
}
