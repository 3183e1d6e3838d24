/**
 * What is wrong with an entry by itself, whatever came before it: no day or one to come, the same
 * words twice, what was read off and with what.
 *
 * Must not know: steps, the order of work, how anything is worded.
 */
import type { Found } from "../findings/worded";
import { jointFindings } from "./joint-findings";
import { measurementFindings } from "./measurement-findings";
import type { RecordView } from "./record-findings";

const day = 24 * 3600;

export function entryFindings(view: RecordView): Found[] {
  const { progress } = view;
  return [
    ...view.unread,
    ...dateFindings(view),
    ...view.duplicates.map(
      ({ record: { anchor }, of }): Found => ({ is: "record/duplicate", same: of.anchor, anchor }),
    ),
    ...view.plan.joints.flatMap((joint) => jointFindings(progress.joint(joint))),
    ...measurementFindings(view),
  ];
}

/** Whoever keeps a log on the other side of the world may be a day ahead. */
function dateFindings({ build }: RecordView): Found[] {
  const { records, today } = build.analysis;
  const latest = today === undefined ? Number.NaN : Date.parse(today) + day * 1000;
  const last = Number.isFinite(latest) ? new Date(latest).toISOString().slice(0, 10) : undefined;
  return records.flatMap(({ date, anchor }): Found[] => {
    if (date === undefined) return [{ is: "record/no-date", anchor }];
    if (last === undefined || today === undefined || date <= last) return [];
    return [{ is: "record/future", date, today, anchor }];
  });
}
