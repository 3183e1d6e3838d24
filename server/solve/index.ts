/** The solver's public functions. */
export * from "./expression";
export { solve, solveOverlay, withGivens } from "./solve";
export * from "./system";
