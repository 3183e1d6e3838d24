/**
 * What the clauses after a declaration say: `source "…"`, `because "…"`, `lookup linear`.
 *
 * Must not know: what is declared.
 */
import type * as syntax from "../../grammar/syntax";
import type { Remarks } from "./definition";

/** What the clauses after a declaration say, by word. */
export function remarksOf(clauses: readonly syntax.Clause[]): Remarks {
  const remarks: Record<string, string> = {};
  for (const clause of clauses) {
    const { value } = clause;
    if (value.type === "text") remarks[clause.word.text] ??= value.value;
    else if (value.type === "path")
      remarks[clause.word.text] ??= value.names.map((name) => name.text).join(".");
  }
  return remarks;
}
