/**
 * Which numbers a slot can be where a table read by it has rows for these alone.
 *
 *     listedFor(tapeOf(drill(slot(1))), 1)   →   [1, 2, 3, 4]
 *
 * Must not know: which of them is meant.
 */
import { LOOKUP, type Tape } from "./tape";

/** The keys that all `exact` tables read by the very slot have, ascending; undefined where none is. */
export function listedFor(tape: Tape, slot: number): readonly number[] | undefined {
  const at = tape.slotPositions[tape.slotIndices.indexOf(slot)];
  let listed: readonly number[] | undefined;
  for (let i = tape.start; i < tape.codes.length; i++) {
    const curve = tape.codes[i] === LOOKUP && tape.first[i] === at ? tape.curves[i] : undefined;
    if (curve?.method !== "exact") continue;
    listed = listed?.filter((key) => curve.keys.includes(key)) ?? curve.keys;
  }
  return listed;
}
