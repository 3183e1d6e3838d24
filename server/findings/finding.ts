/**
 * What Trammel has to say about a place, in words: what is wrong and what to do about it.
 *
 * Must not know: how findings are shown (editor, terminal, JSON).
 */

import type { Anchor } from "../../grammar/anchor";
import type { Code } from "./codes";

export type Severity = "error" | "warning" | "note";

/** A change of the text that would mend the finding. */
export interface Fix {
  /** Short enough for a menu. */
  readonly title: string;
  /** What there is to know before it is done: `now 12 mm; breaks rear: the track is legal`. */
  readonly detail?: string;
  /** It breaks something, or changes what others may use: the builder is asked first. */
  readonly ask?: boolean;
  readonly edits: readonly { readonly anchor: Anchor; readonly text: string }[];
  /** The one to take when there is no reason for another. */
  readonly preferred?: boolean;
}

export interface Finding {
  /** Stable: `room/what`; what it means in general stands in `codes.ts`. */
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
