/**
 * What is wrong with an entry by itself, whatever came before it: not a yes or no, no day or one to
 * come, the same words twice, what was read off and with what.
 *
 * Must not know: steps, the order of work.
 */
import type { Finding } from "../findings/finding";
import type { Unread } from "./entries";
import { jointFindings } from "./joint-findings";
import { measurementFindings } from "./measurement-findings";
import { found } from "./plan-findings";
import type { RecordView } from "./record-findings";
import { record as words } from "./wording";

const day = 24 * 3600;

export function entryFindings(view: RecordView): Finding[] {
  const { progress } = view;
  return [
    ...view.unread.map(unreadFinding),
    ...dateFindings(view),
    ...duplicateFindings(view),
    ...view.plan.joints.flatMap((joint) => jointFindings(progress.joint(joint), view.writer)),
    ...measurementFindings(view),
  ];
}

// ───────────────────────────── what cannot be read ─────────────────────────────

function unreadFinding(unread: Unread): Finding {
  const at = { anchor: unread.at };
  switch (unread.is) {
    case "not-yes-no":
      return {
        ...found("record/not-yes-no", "error", words.notYesNo(unread.field, unread.text), at),
        fixes: ["yes", "no"].map((text) => ({
          title: `write ${text}`,
          edits: [{ anchor: unread.at, text }],
          preferred: text === "yes",
        })),
      };
    case "not-a-count":
      return found("record/not-a-count", "error", words.notACount(unread.field, unread.text), at);
    case "not-a-figure":
      return found("record/not-a-figure", "error", words.notAFigure(unread.field, unread.text), at);
    case "not-a-day":
      return found("record/not-a-day", "error", words.notADay(unread.field, unread.text), at);
    case "not-a-text":
      return found("record/not-a-text", "error", words.notAText(unread.field, unread.text), at);
    case "blank":
      return found("record/blank", "warning", words.blank(unread.field), at);
    case "no-time":
      return found("record/no-time", "warning", words.noTime(unread.text), at);
    case "spec-field":
      return {
        ...found("record/spec-field", "warning", words.specField(unread.joint), at),
        fixes: [
          {
            title: "write tightened",
            edits: [{ anchor: unread.at, text: `${unread.joint.path}.tightened` }],
          },
        ],
      };
  }
}

/** Whoever keeps a log on the other side of the world may be a day ahead. */
function dateFindings({ analysis }: RecordView): Finding[] {
  const { records, today } = analysis;
  const latest = today === undefined ? Number.NaN : Date.parse(today) + day * 1000;
  const last = Number.isFinite(latest) ? new Date(latest).toISOString().slice(0, 10) : undefined;
  return records.flatMap(({ date, anchor }) => {
    if (date === undefined) return [found("record/no-date", "warning", words.noDate(), { anchor })];
    if (last === undefined || today === undefined || date <= last) return [];
    return [found("record/future", "warning", words.future(date, today), { anchor })];
  });
}

/** One entry twice, word for word: a merge or a slip of the hand. It counts once. */
function duplicateFindings({ duplicates }: RecordView): Finding[] {
  return duplicates.map(({ record, of }) => {
    const related = [{ anchor: of.anchor, message: "the same entry is here" }];
    return found("record/duplicate", "note", words.duplicate(), record, related);
  });
}
