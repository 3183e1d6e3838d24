/**
 * The room of the order of work: joints, passes, procedures, records. It reads an analysis and
 * answers with a sequence; it knows steps and joints only by the names in `vocabulary.ts`.
 */

export { FigureWriter } from "../findings/figure-writer";
export type { Accepted } from "./accepted";
export { type Instrument, instrumentCalled, knownInstruments, uncertainty } from "./instruments";
export { isObjection, objectionsTo } from "./objections";
export { passesOf } from "./passes";
export { photoFindings } from "./photo-findings";
export { isStep } from "./plan";
export { acceptedInWords, stateInWords } from "./plan-words";
export type { Days } from "./schedule";
export type {
  Blocker,
  Left,
  PlannedJoint,
  PlannedPass,
  PlannedStep,
  Sequence,
  State,
} from "./sequence";
export { orderFindings, sequenceOf } from "./sequence";
export { groupedOrder, type Pattern, tighteningOrder } from "./tightening-order";
export { recordFields } from "./vocabulary";
export {
  appended,
  atHandEntry,
  blankFor,
  concessionFor,
  type EntryHead,
  entriesFor,
  logNameFor,
  readingEntry,
} from "./write-entry";
export { type PlanSettings, passInWords, writePlan } from "./write-plan";
