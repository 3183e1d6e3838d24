/**
 * Reading units as builders write them: one symbol (`in`, `lb-ft`) or a formula of symbols.
 *
 *     isUnitSymbol("lb-ft")  // true
 */
import { unitTable } from "./unit-table";

/** True for one known symbol, spelled exactly, joined ones such as `lb-ft` and `km/h` included. */
export function isUnitSymbol(text: string): boolean {
  return unitTable.has(text);
}

/** Every known symbol. */
export const unitSymbols: readonly string[] = [...unitTable.keys()];
