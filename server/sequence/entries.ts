/**
 * What records say, entry by entry, and which of two is known to have come first.
 *
 * Two entries are in a known order when their days differ, when both tell the time of day, when they
 * stand in one record, or when one person wrote them into one file. Others of one day are in none,
 * so that entries of two people may be merged in either order. Must not know: how they are read.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { RecordInfo } from "../analysis/analysis";
import type { Day } from "../findings/work-phrases";
import { madeOnce } from "../keep/once";
import type { Thing } from "../model/thing";
import type { Joint, Step } from "./plan";

export interface LogEntry {
  readonly record: RecordInfo;
  readonly date?: string;
  /** Minutes since midnight, where the record tells the time: `at "14:30"`. */
  readonly clock?: number;
  /** Place among all events, for events whose order is known. */
  readonly place: number;
  readonly anchor: Anchor;
  readonly by?: string;
  readonly with?: string;
}

export interface DoneEvent extends LogEntry {
  readonly is: "done";
  readonly step: Step;
  readonly done: boolean;
}

/** Somebody looked at a step and signed. */
export interface SignedEvent extends LogEntry {
  readonly is: "signed";
  readonly step: Step;
  readonly name: string;
}

/** A figure as recorded, in coherent SI, with the room its rounding and its own ± leave. */
export interface RecordedFigure {
  readonly value: number;
  readonly rounding: number;
  /** Half of its own ±, 0 where none is written. */
  readonly sureness: number;
}

/** How far the figure itself may be off, one side: by its own ±, else by what it was rounded from. */
export function offOf({ sureness, rounding }: RecordedFigure): number {
  return sureness === 0 ? rounding : sureness;
}

export interface JointEvent extends LogEntry {
  readonly is: "joint";
  readonly joint: Joint;
  /** What the nut was brought to, in N·m. */
  readonly torque?: RecordedFigure;
  /** What the wrench showed, in N·m. */
  readonly reading?: RecordedFigure;
  /** Torque to turn a locking nut, in N·m. */
  readonly running?: RecordedFigure;
  /** How far each was turned on, in rad. */
  readonly turned?: RecordedFigure;
  readonly pass?: number;
  readonly bolts?: readonly number[];
  readonly held?: boolean;
  readonly rechecked?: boolean;
  readonly loosened?: boolean;
  readonly renewed?: boolean;
  /** A `?` stands in it: what is not there is still to be filled in. */
  readonly isOpen: boolean;
}

/** A figure of the build measured; how far it is from the spec is left to the analysis. */
export interface MeasuredEvent extends LogEntry {
  readonly is: "measured";
  readonly thing: Thing;
  readonly field: string;
  /** Under the thing that owns it. */
  readonly path: string;
  /** Open where no figure is written. */
  readonly reading?: RecordedFigure;
}

/** A picture belongs to the record; `at` is its own place. */
export interface PhotoEvent extends LogEntry {
  readonly is: "photo";
  /** As written, from the folder of the log. */
  readonly path: string;
}

/** What somebody accepts out of tolerance. */
export type Acceptable =
  | { readonly is: "figure"; readonly thing: Thing; readonly field: string; readonly path: string }
  | { readonly is: "step"; readonly step: Step }
  /** Leads elsewhere or nowhere: nothing that can be accepted as it is. */
  | { readonly is: "other"; readonly joint?: Joint };

/** A concession (ISO 9000:2015, 3.12.5), or the end of one: one event for each thing it is about. */
export interface AcceptedEvent extends LogEntry {
  readonly is: "accepted";
  readonly step: Step;
  /** As written. */
  readonly text: string;
  readonly what: Acceptable;
  readonly withdrawn: boolean;
  readonly until?: string;
  readonly because?: string;
  readonly follows?: string;
}

/** A part came, or is no longer here. */
export interface PartEvent extends LogEntry {
  readonly is: "part";
  readonly thing: Thing;
  readonly atHand: boolean;
}

export type Event =
  | DoneEvent
  | SignedEvent
  | JointEvent
  | MeasuredEvent
  | PhotoEvent
  | AcceptedEvent
  | PartEvent;

/** Whether `one` is known to have come before `other`. */
export function isBefore(one: LogEntry, other: LogEntry): boolean {
  if (one.record === other.record) return one.place < other.place;
  if (one.date === undefined || other.date === undefined) return false;
  if (one.date !== other.date) return one.date < other.date;
  if (one.clock !== undefined && other.clock !== undefined && one.clock !== other.clock)
    return one.clock < other.clock;
  // One person's entries in one file are written one after the other.
  const samePen = one.by !== undefined && one.by === other.by;
  return samePen && one.record.anchor.uri === other.record.anchor.uri && one.place < other.place;
}

/** The day of an entry, as findings tell it. */
export function dayOf({ date, clock }: LogEntry): Day {
  return { date, clock };
}

/** The text of a clause at the head of a record: `by "R. Calder"`. */
export function clauseOf(
  node: syntax.Record,
  word: string,
): { readonly value: string; readonly span: syntax.Span } | undefined {
  const clause = node.clauses.find((each) => each.word.text === word);
  return clause?.value.type === "text"
    ? { value: clause.value.value, span: clause.value.span }
    : undefined;
}

/** Who wrote a record, with what tool and when. */
export interface Head {
  readonly by?: string;
  readonly with?: string;
  readonly at?: { readonly value: string; readonly span: syntax.Span };
  /** Minutes since midnight, where it tells them. */
  readonly clock?: number;
}

/** Entries of one hand may share the very clauses. */
const heads = new WeakMap<syntax.Record["clauses"], Head>();

export function headOf(node: syntax.Record): Head {
  return madeOnce(heads, node.clauses, () => {
    const at = clauseOf(node, "at");
    return {
      by: clauseOf(node, "by")?.value,
      with: clauseOf(node, "with")?.value,
      at,
      clock: at && timeOf(at.value),
    };
  });
}

/** Minutes since midnight; `undefined` for what is no time of day. */
export function timeOf(text: string): number | undefined {
  const match = /^\s*(\d{1,2})[:.](\d{2})\s*(am|pm)?\s*$/i.exec(text);
  if (match === null) return undefined;
  const [, hour = "", minute = "", half] = match;
  const twelve =
    half === undefined ? Number(hour) : (Number(hour) % 12) + (/p/i.test(half) ? 12 : 0);
  const valid = twelve < 24 && Number(minute) < 60 && (half === undefined || Number(hour) <= 12);
  return valid ? twelve * 60 + Number(minute) : undefined;
}
