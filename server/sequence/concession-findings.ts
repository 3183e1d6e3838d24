/**
 * What is wrong with concessions: nobody made them, they are about nothing that can be accepted, or
 * about nothing that is out of tolerance.
 *
 * Must not know: the findings that they answer.
 */
import { heldAgainst } from "../analysis/records";
import type { Found } from "../findings/worded";
import { type AcceptedEvent, offOf, type RecordedFigure } from "./entries";
import type { RecordView } from "./record-findings";

export function concessionFindings(view: RecordView): Found[] {
  const { progress, facts } = view;
  return progress.concessions.list.flatMap(({ entry, standing, reading }): Found[] => {
    const { text, by = "", anchor } = entry;
    if (standing === "nobody") return [{ is: "concession/nobody", text, by: by.trim(), anchor }];
    if (standing === "nothing") return [ofNothing(entry)];
    if (standing !== "in force") return [];
    return isWithin(view, entry, reading?.reading)
      ? [{ is: "concession/not-needed", text, anchor }]
      : limitsAccepted(entry, facts.failing);
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function ofNothing({ text, what, anchor }: AcceptedEvent): Found {
  if (what.is === "figure") return { is: "concession/of-nothing unmeasured", text, anchor };
  return what.is === "other" && what.joint !== undefined
    ? { is: "concession/of-nothing joint", joint: what.joint.path, anchor }
    : { is: "concession/of-nothing", text, anchor };
}

/** Whether the reading that was accepted is within its tolerance all the same. */
function isWithin(
  { build }: RecordView,
  { what }: AcceptedEvent,
  reading: RecordedFigure | undefined,
): boolean {
  const value = what.is === "figure" ? build.figureOf(what.thing, what.field) : undefined;
  if (value === undefined || reading === undefined) return false;
  return heldAgainst(value, reading.value, offOf(reading)).acceptance === "inside";
}

/** What a step's concession lets pass is told where it is accepted. */
function limitsAccepted(entry: AcceptedEvent, failing: RecordView["facts"]["failing"]): Found[] {
  const { what, text, by, until, because, follows, anchor } = entry;
  if (what.is !== "step") return [];
  const titles = failing(what.step).map(({ title }) => title);
  if (titles.length === 0) return [{ is: "concession/not-needed", text, anchor }];
  const accepted = { by, until, because, follows };
  const step = what.step.path;
  return [{ is: "concession/accepted limits", ...accepted, step, titles, anchor }];
}
