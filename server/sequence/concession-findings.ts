/**
 * What is wrong with concessions: nobody made them, they are about nothing that can be accepted, or
 * about nothing that is out of tolerance.
 *
 * Must not know: the findings that they answer.
 */
import type { Finding } from "../findings/finding";
import { concession as words } from "./concession-wording";
import type { Concession } from "./concessions";
import { found } from "./plan-findings";
import type { RecordView } from "./record-findings";

export function concessionFindings({ progress, facts }: RecordView): Finding[] {
  return progress.concessions.list.flatMap((each) => {
    const { entry, standing } = each;
    if (standing === "nobody")
      return [found("concession/nobody", "warning", words.nobody(entry), entry)];
    if (standing === "nothing")
      return [found("concession/of-nothing", "warning", words.ofNothing(entry), entry)];
    if (standing !== "in force") return [];
    return limitsAccepted(each, facts.failing);
  });
}

/** What a step's concession lets pass is told where it is accepted. */
function limitsAccepted({ entry }: Concession, failing: RecordView["facts"]["failing"]): Finding[] {
  if (entry.what.is !== "step") return [];
  const titles = failing(entry.what.step).map(({ title }) => title);
  const said =
    titles.length === 0 ? words.notNeeded(entry) : words.limits(entry.what.step, titles, entry);
  const code = titles.length === 0 ? "concession/not-needed" : "concession/accepted";
  return [found(code, "note", said, entry)];
}
