/**
 * The room of units: dimensions, measures, units, numbers, quantities and designations, read from
 * text and written back. It is the bottom room: it imports nothing else of the project.
 */

export { currencies, currencyDecimals } from "./currency";
export * from "./designation";
export * from "./dimension";
export * from "./measure";
export * from "./number";
export * from "./quantity";
export { spelledUnits, symbolOf, unitOfTwoWords } from "./spelling";
export * from "./style";
export { confusion, suggestUnits } from "./suggest";
export {
  fromSi,
  isUnitSymbol,
  plainUnit,
  readUnit,
  toSi,
  type Unit,
  unitFits,
  unitSymbols,
} from "./unit";
export * from "./write";
export { writeAlike } from "./write-alike";
