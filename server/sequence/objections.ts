/**
 * What a build objects to once entries are written that it did not object to before.
 *
 *     objectionsTo(before, after)   →   findings at or about the new entries
 *
 * Must not know: how entries come about, who writes them.
 */
import type { Analysis } from "../analysis/analysis";
import type { Finding } from "../findings/finding";

/** They say what has to follow an entry, not that it is wrong. */
const follows: ReadonlySet<string> = new Set([
  "record/again",
  "record/blank",
  "record/recheck-due",
  "record/recheck-missing",
]);

export function objectionsTo(before: Analysis, after: Analysis): Finding[] {
  const known = new Set(before.findings.map(({ code, message }) => `${code} ${message}`));
  return after.findings.filter(
    ({ severity, code, message }) => severity !== "note" && !known.has(`${code} ${message}`),
  );
}

/** Whether it says what is wrong, and not only what has to follow. */
export function isObjection({ code }: Pick<Finding, "code">): boolean {
  return !follows.has(code);
}
