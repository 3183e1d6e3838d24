/**
 * All records of a build as entries in the order of their days. What a record says is kept as long
 * as its text and what it speaks of are the same.
 *
 *     readRecords(build, plan).events
 *
 * Must not know: what should have been done.
 */

import { textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Analysis, RecordInfo } from "../analysis/analysis";
import type { Found } from "../findings/worded";
import { Alike } from "../keep/alike";
import type { Few } from "../keep/few";
import { madeOnce } from "../keep/once";
import type { Thing } from "../model/thing";
import { counts } from "./counts";
import { type Event, type Head, headOf } from "./entries";
import type { NotedBuild } from "./noted-build";
import type { Plan } from "./plan";
import { RecordReader } from "./record-reader";

export interface Records {
  /** In the order of days, of one day as they stand. */
  readonly events: readonly Event[];
  /** What cannot be read as what it stands for. */
  readonly unread: readonly Found[];
  /** Entries that say word for word what another one says: they count once. */
  readonly duplicates: readonly { readonly record: RecordInfo; readonly of: RecordInfo }[];
}

const endOfDay = 24 * 60;

/** Longer than any record, in characters: places in later records are higher. */
const longestRecord = 2 ** 32;

export function readRecords(build: NotedBuild, plan: Plan): Records {
  const records = inOrder(build.ask(recordsOf, undefined, areWritten));
  const events: Event[] = [];
  const unread: Found[] = [];
  const duplicates: { record: RecordInfo; of: RecordInfo }[] = [];
  const told = new Map<string, Headed>();
  let last: Headed | undefined;
  for (const [order, each] of records.entries()) {
    const { record } = each;
    const text = textOf(record);
    const before = record.date === undefined ? undefined : told.get(text);
    // With something else of one hand's day in between it was done twice.
    const again = last !== undefined && last !== before && isOneHand(last, each);
    last = each;
    if (before !== undefined && !(again && isOneHand(before, each))) {
      duplicates.push({ record, of: before.record });
      continue;
    }
    told.set(text, each);
    const row = rowOf(plan, record, order * longestRecord);
    row.tops.visit((top) => build.note(top));
    for (const event of row.events) events.push(event);
    for (const what of row.unread) unread.push(what);
  }
  return { events, unread, duplicates };
}

interface Headed {
  readonly record: RecordInfo;
  readonly head: Head;
  /** Minutes since midnight; behind all of its day where nothing tells it. */
  readonly clock: number;
}

/** By day, then by time, then as they stand; without a time behind those that have one. */
function inOrder(records: readonly RecordInfo[]): readonly Headed[] {
  const headed = records.map(
    (record): Headed => ({ record, head: headOf(record.node), clock: endOfDay }),
  );
  return clocked(headed).sort(compare);
}

/** Who tells the time of some entries of a day wrote the others around them, as they stand. */
function clocked(headed: readonly Headed[]): Headed[] {
  if (headed.every(({ head }) => head.clock === undefined)) return [...headed];
  const latest = new Map<string, number>();
  const told = ({ record, head }: Headed): number | undefined => {
    const pen = [record.date, head.by, record.anchor.uri].join("\n");
    if (head.clock !== undefined) latest.set(pen, head.clock);
    return head.clock ?? (head.by === undefined ? undefined : latest.get(pen));
  };
  const before = headed.map(told);
  latest.clear();
  const after = headed.map((_, at) => told(headed[headed.length - 1 - at] as Headed)).reverse();
  return headed.map((each, at) => ({ ...each, clock: before[at] ?? after[at] ?? endOfDay }));
}

// ───────────────────────────── rows ─────────────────────────────

/** What one record says, and all that this rests on beside its text. */
interface RecordRow {
  readonly record: RecordInfo;
  readonly events: readonly Event[];
  readonly unread: readonly Found[];
  readonly tops: Few<Thing>;
  readonly start: number;
  readonly names: object;
}

/** A log is read with its build, and by itself where it is open: some readings are kept of each. */
const rows = new Alike<syntax.Record, RecordRow>(3);

function rowOf(plan: Plan, record: RecordInfo, start: number): RecordRow {
  const known = rows.find(record.node, (row) => holds(row, record, plan));
  if (known?.start === start) return known;
  if (known !== undefined) {
    const move = (event: Event): Event => ({ ...event, place: event.place - known.start + start });
    const events = known.events.map(move);
    return rows.keep(record.node, { ...known, events, start });
  }
  const reader = new RecordReader(record, plan, start);
  const events = reader.read();
  const { unread, tops, leadsNowhere } = reader;
  const made: RecordRow = { record, events, unread, tops, start, names: plan.names.key };
  counts.records++;
  // What leads nowhere may lead somewhere once more of the build is taken in.
  return leadsNowhere ? made : rows.keep(record.node, made);
}

function recordsOf({ records }: Analysis): readonly RecordInfo[] {
  return records;
}

/** Whether they are what is written at the same places. */
function areWritten(one: readonly RecordInfo[], other: readonly RecordInfo[]): boolean {
  return (
    one.length === other.length &&
    one.every(({ node, anchor: { item, uri } }, at) => {
      const match = other[at];
      return node === match?.node && item === match.anchor.item && uri === match.anchor.uri;
    })
  );
}

function holds(row: RecordRow, { anchor }: RecordInfo, { names, stepOf, jointOf }: Plan): boolean {
  if (row.names !== names.key || row.record.anchor.uri !== anchor.uri) return false;
  if (!row.tops.every((top) => names.has(top))) return false;
  return row.events.every((event) => {
    if (event.is === "joint") return jointOf.get(event.joint.thing) === event.joint;
    if (event.is === "done" || event.is === "signed" || event.is === "accepted")
      return stepOf.get(event.step.thing) === event.step;
    return true;
  });
}

// ───────────────────────────── helpers ─────────────────────────────

const texts = new WeakMap<syntax.Record, string>();

/** All it says, however it is laid out. */
function textOf({ node, anchor }: RecordInfo): string {
  return madeOnce(texts, node, () => inOneLayout(textAt(anchor)));
}

/** Most entries are laid out as they are written for a log, but for `;` and the blanks between two lines. */
function inOneLayout(text: string): string {
  if (!otherLayout.test(text)) return text.replaceAll(";", "").replaceAll("  ", " ");
  const spaced = text.replaceAll(/\s*([{}:,;[\]])\s*/g, (_, sign: string) => roomFor[sign] ?? sign);
  return spaced.replaceAll(/\s+/g, " ").trim();
}

const otherLayout = /[^\S ]| {3}|[^ ][{}]|[{}][^ ]|[:;,][^ ]|\[ | [;\]]/;
const roomFor: Readonly<Record<string, string>> = {
  "{": " { ",
  "}": " } ",
  ":": ": ",
  ",": ", ",
  ";": " ",
  "]": "] ",
};

/** Written on one day by one person into one file, one after the other. */
function isOneHand(one: Headed, other: Headed): boolean {
  return (
    one.head.by !== undefined &&
    one.head.by === other.head.by &&
    one.record.date === other.record.date &&
    one.record.anchor.uri === other.record.anchor.uri
  );
}

function compare(one: Headed, other: Headed): number {
  const day = one.record.date ?? "9";
  const otherDay = other.record.date ?? "9";
  return day < otherDay ? -1 : day > otherDay ? 1 : one.clock - other.clock;
}
