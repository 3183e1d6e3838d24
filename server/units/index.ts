/**
 * The room of units: dimensions, measures, units, numbers, quantities and designations, read from
 * text and written back. It is the bottom room: it imports nothing else of the project.
 */
export * from "./dimension";
export { currencies, currencyDecimals } from "./currency";
export { isUnitSymbol, unitSymbols } from "./unit";
export * from "./measure";
export * from "./number";
export { fromSi, plainUnit, readUnit, toSi, type Unit, unitFits } from "./unit";
export * from "./quantity";
export { confusion, suggestUnits } from "./suggest";
export * from "./designation";
export * from "./style";
export * from "./write";
