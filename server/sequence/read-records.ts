/**
 * What was done, read from the records: steps finished and signed, joints tightened, figures
 * measured; and what in them cannot be read as such.
 *
 *     readRecords(analysis, plan)   →   events in the order of the records' days
 *
 * Two events are in a known order when their days differ, when both tell the time of day, when they
 * stand in one record, or when one person wrote them into one file. Others of one day are in none,
 * so that entries of two people may be merged in either order. Must not know: what should have been
 * done.
 */
import type * as syntax from "../../grammar/syntax";
import type { Analysis, RecordInfo } from "../analysis/analysis";
import { type Anchor, textAt } from "../model/anchor";
import { readFigure } from "../model/literal";
import type { FileScope } from "../model/scope";
import type { Thing } from "../model/thing";
import { measureNamed } from "../units";
import { listed } from "./fields";
import type { Joint, Plan, Step } from "./plan";
import { recordFields } from "./vocabulary";

export interface Entry {
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

export interface DoneEvent extends Entry {
  readonly is: "done";
  readonly step: Step;
  readonly done: boolean;
}

/** Somebody looked at a step and signed. */
export interface SignedEvent extends Entry {
  readonly is: "signed";
  readonly step: Step;
  readonly name: string;
}

/** A figure as recorded, in coherent SI, with the room its rounding and its own ± leave. */
export interface Reading {
  readonly value: number;
  readonly rounding: number;
  /** Half of its own ±, 0 where none is written. */
  readonly sureness: number;
}

export interface JointEvent extends Entry {
  readonly is: "joint";
  readonly joint: Joint;
  /** What the nut was brought to, in N·m. */
  readonly torque?: Reading;
  /** What the wrench showed, in N·m. */
  readonly reading?: Reading;
  /** Torque to turn a locking nut, in N·m. */
  readonly running?: Reading;
  /** How far each was turned on, in rad. */
  readonly turned?: Reading;
  readonly pass?: number;
  readonly bolts?: readonly number[];
  readonly held?: boolean;
  readonly rechecked?: boolean;
  readonly loosened?: boolean;
  readonly renewed?: boolean;
}

/** A figure of the build measured; how far it is from the spec is left to the analysis. */
export interface MeasuredEvent extends Entry {
  readonly is: "measured";
  readonly thing: Thing;
  readonly field: string;
  /** Under the thing that owns it. */
  readonly path: string;
  /** Open where no figure is written. */
  readonly reading?: Reading;
}

/** A picture belongs to the record; `at` is its own place. */
export interface PhotoEvent extends Entry {
  readonly is: "photo";
  /** As written, from the folder of the log. */
  readonly path: string;
}

export type Event = DoneEvent | SignedEvent | JointEvent | MeasuredEvent | PhotoEvent;

/** What cannot be read as what it stands for. */
export type Unread =
  | {
      readonly is: "not-yes-no";
      readonly field: string;
      readonly text: string;
      readonly at: Anchor;
    }
  | {
      readonly is: "not-a-count";
      readonly field: string;
      readonly text: string;
      readonly at: Anchor;
    }
  | {
      readonly is: "not-a-figure" | "not-a-text";
      readonly field: string;
      readonly text: string;
      readonly at: Anchor;
    }
  | { readonly is: "blank"; readonly field: string; readonly at: Anchor }
  | { readonly is: "no-time"; readonly text: string; readonly at: Anchor }
  | { readonly is: "spec-field"; readonly joint: Joint; readonly at: Anchor };

export interface Records {
  /** In the order of days, of one day as they stand. */
  readonly events: readonly Event[];
  readonly unread: readonly Unread[];
  /** Entries that say word for word what another one says: they count once. */
  readonly duplicates: readonly { readonly record: RecordInfo; readonly of: RecordInfo }[];
}

/** Longer than any record, in characters: places in later records are higher. */
const longestRecord = 2 ** 32;

export function readRecords(analysis: Analysis, plan: Plan): Records {
  const records = [...analysis.records.entries()].sort(
    ([place, one], [otherPlace, other]) =>
      (one.date ?? "9").localeCompare(other.date ?? "9") ||
      clockOf(one.node) - clockOf(other.node) ||
      place - otherPlace,
  );
  const events: Event[] = [];
  const unread: Unread[] = [];
  const duplicates: { record: RecordInfo; of: RecordInfo }[] = [];
  const told = new Map<string, RecordInfo>();
  let last: RecordInfo | undefined;
  for (const [order, [, record]] of records.entries()) {
    const text = wordsOf(record);
    const before = record.date === undefined ? undefined : told.get(text);
    // With something else of one hand's day in between it was done twice.
    const again = last !== undefined && last !== before && isOneHand(last, record);
    last = record;
    if (before !== undefined && !(again && isOneHand(before, record))) {
      duplicates.push({ record, of: before });
      continue;
    }
    told.set(text, record);
    const scope = analysis.files.get(record.anchor.uri)?.scope;
    if (scope === undefined) continue;
    const reader = new Reader(record, scope, plan, order * longestRecord);
    for (const event of reader.read()) events.push(event);
    unread.push(...reader.unread);
  }
  return { events, unread, duplicates };
}

/** Whether `one` is known to have come before `other`. */
export function isBefore(one: Entry, other: Entry): boolean {
  if (one.record === other.record) return one.place < other.place;
  if (one.date === undefined || other.date === undefined) return false;
  if (one.date !== other.date) return one.date < other.date;
  if (one.clock !== undefined && other.clock !== undefined && one.clock !== other.clock)
    return one.clock < other.clock;
  // One person's entries in one file are written one after the other.
  const samePen = one.by !== undefined && one.by === other.by;
  return samePen && one.record.anchor.uri === other.record.anchor.uri && one.place < other.place;
}

/** The day of an event, for sentences: "on 2026-03-14". */
export function dayOf(entry: Entry): string {
  if (entry.date === undefined) return "without a day";
  return entry.clock === undefined
    ? `on ${entry.date}`
    : `on ${entry.date} at ${timeInWords(entry.clock)}`;
}

/** `14:30` */
export function timeInWords(clock: number): string {
  const [hours, minutes] = [Math.floor(clock / 60), clock % 60];
  return `${String(hours).padStart(2, "0")}:${String(minutes).padStart(2, "0")}`;
}

type Found =
  | { readonly is: "thing"; readonly thing: Thing }
  | { readonly is: "field"; readonly thing: Thing; readonly field: string };

class Reader {
  readonly unread: Unread[] = [];
  private readonly events: Event[] = [];
  private readonly head: Omit<Entry, "place" | "anchor">;

  constructor(
    private readonly record: RecordInfo,
    private readonly scope: FileScope,
    private readonly plan: Plan,
    private readonly start: number,
  ) {
    const { node } = record;
    const at = clauseOf(node, "at");
    const clock = at === undefined ? undefined : timeOf(at.value);
    if (at !== undefined && clock === undefined)
      this.unread.push({ is: "no-time", text: at.value, at: this.anchored(at.span) });
    this.head = {
      record,
      date: record.date,
      clock,
      by: clauseOf(node, "by")?.value,
      with: clauseOf(node, "with")?.value,
    };
  }

  /** In the order of the lines. */
  read(): Event[] {
    this.members(undefined, this.record.node.members);
    return this.events.sort((one, other) => one.place - other.place);
  }

  /** What stands in one block about one joint is one event; nested blocks are events of their own. */
  private members(inside: Thing | undefined, members: readonly syntax.Member[]): void {
    const about = new Map<Thing, syntax.Given[]>();
    for (const member of members) {
      if (member.type === "part") {
        // A name that leads nowhere is the analysis' to complain of; what is inside is about nothing.
        const opened = this.find(inside, member.path.names);
        if (opened?.is === "thing") this.members(opened.thing, member.members);
      } else if (member.type === "given") {
        const found = this.find(inside, member.path.names);
        if (found?.is !== "field") continue;
        const { thing, field } = found;
        const joint = this.plan.jointOf.get(thing);
        const step = this.plan.stepOf.get(thing);
        if (field === recordFields.photos) this.photos(member);
        else if (field === recordFields.remark) this.text(member);
        else if (joint !== undefined && isJointField(field)) {
          const givens = about.get(thing) ?? [];
          about.set(thing, givens);
          givens.push(member);
        } else if (step !== undefined && field === recordFields.done) {
          const done = this.yes(member);
          if (done !== undefined)
            this.events.push({ ...this.entry(member.span), is: "done", step, done });
        } else if (step !== undefined && field === recordFields.signed) this.signed(step, member);
        else if (joint !== undefined && field === "torque") {
          this.unread.push({ is: "spec-field", joint, at: this.anchored(member.path.span) });
        } else this.measured(thing, field, member);
      }
    }
    for (const [thing, givens] of about) {
      const joint = this.plan.jointOf.get(thing);
      if (joint !== undefined) this.tightened(joint, givens);
    }
  }

  private signed(step: Step, given: syntax.Given): void {
    const name = this.text(given)?.trim() ?? "";
    if (name !== "") this.events.push({ ...this.entry(given.span), is: "signed", step, name });
  }

  private photos(given: syntax.Given): void {
    const { value } = given;
    for (const item of value.type === "list" ? value.items : [value]) {
      const path = this.text({ ...given, value: item });
      if (path === undefined) continue;
      this.events.push({ ...this.entry(item.span), is: "photo", path });
    }
  }

  private measured(thing: Thing, field: string, given: syntax.Given): void {
    const type = thing.field(field)?.type;
    if (given.value.type === "ask") {
      this.unread.push({ is: "blank", field, at: this.anchored(given.value.span) });
      return;
    }
    const path = `${thing.path}.${field}`;
    const reading = type?.form === "measure" ? this.reading(given, type.measure.name) : undefined;
    this.events.push({
      ...this.entry(given.span),
      is: "measured",
      thing,
      field,
      path,
      ...(reading === undefined ? {} : { reading }),
    });
  }

  private tightened(joint: Joint, givens: readonly syntax.Given[]): void {
    const given = (field: string): syntax.Given | undefined =>
      givens.find((each) => each.path.names[each.path.names.length - 1]?.text === field);
    const figure = (field: string, measure = "torque"): Reading | undefined => {
      const found = given(field);
      return found === undefined ? undefined : this.reading(found, measure);
    };
    const yes = (field: string): boolean | undefined => {
      const found = given(field);
      return found === undefined ? undefined : this.yes(found);
    };
    const bolts = this.counts(given(recordFields.bolts));
    const first = given(recordFields.tightened) ?? givens[0];
    if (first === undefined) return;
    this.events.push({
      ...this.entry(first.span),
      is: "joint",
      joint,
      torque: figure(recordFields.tightened),
      reading: figure(recordFields.reading),
      running: figure(recordFields.running),
      turned: figure(recordFields.turned, "angle"),
      pass: this.counts(given(recordFields.pass))[0],
      bolts: bolts.length === 0 ? undefined : bolts,
      held: yes(recordFields.held),
      rechecked: yes(recordFields.rechecked),
      loosened: yes(recordFields.loosened),
      renewed: yes(recordFields.renewed),
    });
  }

  // ── values ──

  private yes(given: syntax.Given): boolean | undefined {
    const { value } = given;
    if (value.type === "yes_no") return value.value;
    if (value.type !== "missing") this.misses("not-yes-no", given);
    return undefined;
  }

  private text(given: syntax.Given): string | undefined {
    const { value } = given;
    if (value.type === "text") return value.value;
    if (value.type !== "missing") this.misses("not-a-text", given);
    return undefined;
  }

  private counts(given: syntax.Given | undefined): readonly number[] {
    const measure = measureNamed("count");
    if (given === undefined || measure === undefined) return [];
    const numbers = listed(given.value, measure);
    const written = given.value.type === "list" ? given.value.items.length : 1;
    if (numbers.length < written) this.misses("not-a-count", given);
    return numbers;
  }

  private reading(given: syntax.Given, measureName: string): Reading | undefined {
    const measure = measureNamed(measureName);
    if (measure === undefined) return undefined;
    const anchor = this.anchored(given.value.span);
    const reading = readFigure(given.value, measure, (span) => textAt({ ...anchor, span }));
    if (reading.is === "figure") {
      const { value, rounding, low, high, toleranced } = reading.figure;
      return { value, rounding, sureness: toleranced ? (high - low) / 2 : 0 };
    }
    // A wrong unit is the model's to complain of; a name or formula is nothing that was read off.
    if (given.value.type === "ask")
      this.unread.push({ is: "blank", field: lastName(given), at: anchor });
    else if (reading.is === "formula" && given.value.type !== "missing")
      this.misses("not-a-figure", given);
    return undefined;
  }

  private misses(
    is: "not-yes-no" | "not-a-count" | "not-a-figure" | "not-a-text",
    given: syntax.Given,
  ): void {
    const at = this.anchored(given.value.span);
    if (given.value.type === "ask") this.unread.push({ is: "blank", field: lastName(given), at });
    else this.unread.push({ is, field: lastName(given), text: textAt(at), at });
  }

  // ── names and places ──

  /** As the analysis does it: the record's names are those of its file, or of the thing opened. */
  private find(inside: Thing | undefined, names: readonly syntax.Name[]): Found | undefined {
    const reached = this.plan.names.resolve(inside, this.scope, names);
    if (reached === undefined) return undefined;
    const { thing, field } = reached;
    return field === undefined ? { is: "thing", thing } : { is: "field", thing, field: field.name };
  }

  private entry(span: syntax.Span): Entry {
    return { ...this.head, place: this.start + span.start, anchor: this.anchored(span) };
  }

  private anchored(span: syntax.Span): Anchor {
    return { ...this.record.anchor, span };
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const jointFields: ReadonlySet<string> = new Set([
  recordFields.tightened,
  recordFields.reading,
  recordFields.running,
  recordFields.turned,
  recordFields.pass,
  recordFields.bolts,
  recordFields.held,
  recordFields.rechecked,
  recordFields.loosened,
  recordFields.renewed,
]);

function isJointField(name: string): boolean {
  return jointFields.has(name);
}

function lastName(given: syntax.Given): string {
  return given.path.names[given.path.names.length - 1]?.text ?? "";
}

function clauseOf(
  node: syntax.Record,
  word: string,
): { readonly value: string; readonly span: syntax.Span } | undefined {
  const clause = node.clauses.find((each) => each.word.text === word);
  return clause?.value.type === "text"
    ? { value: clause.value.value, span: clause.value.span }
    : undefined;
}

/** Without a time of its own a record stands behind those of its day that have one. */
function clockOf(node: syntax.Record): number {
  const at = clauseOf(node, "at");
  return (at === undefined ? undefined : timeOf(at.value)) ?? 24 * 60;
}

const kept = new WeakMap<syntax.Record, string>();

/** What a record says, however it is laid out. */
function wordsOf({ node, anchor }: RecordInfo): string {
  let text = kept.get(node);
  if (text === undefined) {
    text = textAt(anchor).replaceAll(/\s+/g, " ");
    kept.set(node, text);
  }
  return text;
}

/** Written on one day by one person into one file, one after the other. */
function isOneHand(one: RecordInfo, other: RecordInfo): boolean {
  const by = clauseOf(one.node, "by")?.value;
  return (
    one.date === other.date &&
    one.anchor.uri === other.anchor.uri &&
    by !== undefined &&
    by === clauseOf(other.node, "by")?.value
  );
}

/** Minutes since midnight; `undefined` for what is no time of day. */
function timeOf(text: string): number | undefined {
  const match = /^\s*(\d{1,2})[:.](\d{2})\s*(am|pm)?\s*$/i.exec(text);
  if (match === null) return undefined;
  const [, hour = "", minute = "", half] = match;
  const twelve =
    half === undefined ? Number(hour) : (Number(hour) % 12) + (/p/i.test(half) ? 12 : 0);
  const valid = twelve < 24 && Number(minute) < 60 && (half === undefined || Number(hour) <= 12);
  return valid ? twelve * 60 + Number(minute) : undefined;
}
