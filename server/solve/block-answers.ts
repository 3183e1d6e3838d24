/**
 * Answers of blocks, kept by all that goes into them: the same equations with the same numbers are
 * searched through once, in whichever view of a build they stand, before and after however many edits.
 *
 *     keptAnswer(block, values, () => searched(work)).answer
 *
 * Where one number is another the search is made anew: that an answer was the only one says nothing of
 * the next, and to prove it again takes what finding it takes. So nothing hangs on what was asked before.
 *
 * Must not know: how a block is searched.
 */
import type { Block } from "./block";
import type { FormFacts } from "./form";
import type { BlockAnswer } from "./newton";

export interface SearchedBlock {
  readonly answer: BlockAnswer;
  /** Where it is solved: the unknowns, in the block's order. */
  readonly at?: Float64Array | undefined;
  /** Whether all there are in the ranges are known. */
  readonly complete?: boolean;
}

interface Known {
  readonly facts: readonly FormFacts[];
  readonly numbers: readonly number[];
  readonly searched: SearchedBlock;
}

/** By the facts of the first equation; what was asked for last at the end. */
const known = new WeakMap<FormFacts, Known[]>();

/** As many vehicles of a fleet have the same block with other numbers in it. */
const MOST = 32;

export function keptAnswer(
  block: Block,
  values: Float64Array,
  search: () => SearchedBlock,
): SearchedBlock {
  const [first] = block.facts;
  if (first === undefined) return search();
  const numbers = numbersOf(block, values);
  const row = known.get(first) ?? [];
  known.set(first, row);
  const at = row.findLastIndex((each) => isSame(each, block.facts, numbers));
  const found = at < 0 ? undefined : row.splice(at, 1)[0];
  const searched = found?.searched ?? search();
  row.push(found ?? { facts: block.facts, numbers, searched });
  if (row.length > MOST) row.shift();
  return searched;
}

/** What is known of it already. */
export function answerBefore(block: Block, values: Float64Array): SearchedBlock | undefined {
  const [first] = block.facts;
  const row = first && known.get(first);
  if (row === undefined) return undefined;
  const numbers = numbersOf(block, values);
  return row.findLast((each) => isSame(each, block.facts, numbers))?.searched;
}

/** Which figure stands where, what is known of it, and where it is looked for. */
function numbersOf(block: Block, values: Float64Array): number[] {
  const { unknowns, slots, preference, lows, highs, scales, guesses } = block;
  const places = new Map<number, number>();
  for (const [at, unknown] of unknowns.entries()) places.set(unknown, at);
  const numbers: number[] = [];
  for (const own of slots) {
    numbers.push(own.length);
    for (const variable of own) {
      const place = places.get(variable);
      numbers.push(place ?? places.size);
      if (place !== undefined) continue;
      places.set(variable, places.size);
      numbers.push(values[variable]!);
    }
  }
  for (const list of [preference, lows, highs, scales, guesses])
    for (const each of list) numbers.push(each);
  return numbers;
}

function isSame(one: Known, facts: readonly FormFacts[], numbers: readonly number[]): boolean {
  return (
    one.facts.length === facts.length &&
    one.numbers.length === numbers.length &&
    one.numbers.every((each, at) => Object.is(each, numbers[at])) &&
    one.facts.every((each, at) => each === facts[at])
  );
}
