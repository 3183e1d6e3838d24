/**
 * What each figure that is put together from a kit gets of it, all considered that the kit has to serve.
 *
 *     piecesFor(reading, figure, writer)   →   "0.018 in + 0.007 in"
 *
 * Must not know: how pieces are shared out.
 */

import { piecesInWords } from "../findings/outcomes";
import type { Writer } from "../findings/writer";
import type { FigureId } from "../names/ids";
import type { Reading } from "./reading";
import { type Allotment, allotmentsOf, piecesOf } from "./stacks";

const allotted = new WeakMap<Reading, ReadonlyMap<FigureId, Allotment>>();

/** What every figure that is put together from a kit gets of it. */
export function allotments(reading: Reading): ReadonlyMap<FigureId, Allotment> {
  let found = allotted.get(reading);
  if (found === undefined) {
    const stacks = reading.rows.flatMap(({ row }) => row.stacks);
    found = stacks.length === 0 ? new Map() : allotmentsOf(stacks, reading);
    allotted.set(reading, found);
  }
  return found;
}

/** `0.018 in + 0.007 in` for a figure that is put together from a kit. */
export function piecesFor(reading: Reading, figure: FigureId, writer: Writer): string | undefined {
  const allotment = allotments(reading).get(figure);
  return allotment === undefined ? undefined : piecesInWords(piecesOf(allotment), writer);
}
