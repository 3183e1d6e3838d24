/**
 * What Trammel has to say about a place: typed, worded once, with what to do about it.
 *
 * Must not know: how findings are shown (editor, terminal, JSON).
 */
import type { Code } from "../findings/codes";
import type { Anchor } from "./anchor";
import type { Problem } from "./denotation";

export type Severity = "error" | "warning" | "note";

/** A change of the text that would mend the finding. */
export interface Fix {
  readonly title: string;
  readonly edits: readonly { readonly anchor: Anchor; readonly text: string }[];
  /** The one to take when there is no reason for another. */
  readonly preferred?: boolean;
}

export interface Finding {
  /** Stable: `room/what`; what it means in general stands in `server/findings`. */
  readonly code: Code;
  readonly severity: Severity;
  /** What is wrong, expected against found, in the builder's nouns. */
  readonly message: string;
  /** What to do about it. */
  readonly hint?: string;
  /** A caution where someone could get hurt. */
  readonly caution?: string;
  readonly anchor: Anchor;
  readonly related?: readonly { readonly anchor: Anchor; readonly message: string }[];
  readonly fixes?: readonly Fix[];
  /** Changes that take some solving to find: what would make a failing check hold. */
  readonly furtherFixes?: () => readonly Fix[];
}

/** Collects findings; the same words at the same place are kept once. */
export class Findings {
  readonly list: Finding[] = [];
  private readonly seen = new Set<string>();

  add(finding: Finding): void {
    const { anchor } = finding;
    const key = `${finding.code} ${anchor.uri} ${anchor.span.start} ${finding.message}`;
    const inItem = this.itemKeys.get(anchor.item) ?? this.nextItemKey(anchor.item);
    const full = `${inItem} ${key}`;
    if (this.seen.has(full)) return;
    this.seen.add(full);
    this.list.push(finding);
  }

  /** Adds what is wrong in a formula that stands at `anchor`. */
  raise(problems: readonly Problem[], anchor: Anchor): void {
    for (const problem of problems) {
      const place: Anchor = { ...anchor, span: problem.span };
      const finding: Finding = {
        code: problem.code,
        severity: "error",
        message: problem.message,
        hint: problem.hint,
        anchor: place,
        fixes: problem.fixes?.map((fix) => ({
          title: fix.title,
          edits: [{ anchor: { ...anchor, span: fix.span }, text: fix.text }],
          preferred: problem.fixes?.length === 1,
        })),
      };
      this.add(finding);
    }
  }

  private readonly itemKeys = new Map<object, number>();

  private nextItemKey(item: object): number {
    const key = this.itemKeys.size;
    this.itemKeys.set(item, key);
    return key;
  }
}
