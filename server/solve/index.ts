/** The solver's public functions. */

export { type AdjustedReading, type Adjustment, adjusted } from "./adjust";
export { answerOnceKnown, wishOf } from "./answer-once-known";
export { asMade, isMadeAside, makingOff, sharesStep, toStep } from "./as-made";
export { speaksOf } from "./branch-taken";
export { Cell, Plans } from "./cell";
export {
  bestOf,
  type Candidate,
  type Choice,
  type ChoiceAnswer,
  type ChoiceControl,
  type ChoiceProblem,
  type ChoiceSlot,
  choose,
} from "./choose";
export { atAGlance, seenGiven, seenIn } from "./clear";
export { draw, withWishesGiven } from "./draw";
export { normalShareBelow } from "./draws";
export { explain, type SolvedDerivation } from "./explain";
export * from "./expression";
export { fewestPlaces } from "./fewest-places";
export { fitFor } from "./fit";
export type { Key, KeyedEquation, ReadAs, Solved } from "./keyed";
export { madeFigures, turnedFigures } from "./made-figures";
export { failingLevel, mendsFor } from "./mend";
export { missingFor } from "./missing";
export { passedOver } from "./modes";
export { isGiven } from "./network";
export { answersOf, outcomeOf, truthOf } from "./outcome";
export { type Repair, repairsFor } from "./repair";
export { isSearchedThrough } from "./searched";
export { quantityValue, quantityValue as valueOf, sensitivities } from "./sensitivity";
export { type SystemOverlay, solve, solveOverlay } from "./solve";
export { spreadOf } from "./spread";
export { conditionKey } from "./structures";
export * from "./system";
export { type Tightening, tightenFor } from "./tighten";
export { chanceOf, marginOf, verdictOf } from "./verdict";
export { withGivens } from "./with-givens";
