/**
 * What was done, read from the records: steps finished, joints tightened.
 *
 *     readRecords(analysis, plan)   →   events in the order of the records' days
 *
 * Two events are in a known order when their days differ or when they stand in one record; those
 * of different records of one day are not, so that entries of two people may be merged in either
 * order. Must not know: what should have been done.
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

export interface JointEvent extends Entry {
  readonly is: "joint";
  readonly joint: Joint;
  /** In N·m, with the room its rounding leaves. */
  readonly torque?: { readonly value: number; readonly rounding: number };
  readonly pass?: number;
  readonly bolts?: readonly number[];
  readonly held?: boolean;
  readonly rechecked?: boolean;
}

/** A figure of the build measured; whatever else was written is left to the analysis. */
export interface MeasuredEvent extends Entry {
  readonly is: "measured";
  /** Under the thing that owns it. */
  readonly path: string;
}

export type Event = DoneEvent | JointEvent | MeasuredEvent;

/** Longer than any record, in characters: places in later records are higher. */
const longestRecord = 2 ** 32;

export function readRecords(analysis: Analysis, plan: Plan): Event[] {
  const records = [...analysis.records.entries()].sort(
    ([place, one], [otherPlace, other]) =>
      (one.date ?? "9").localeCompare(other.date ?? "9") || place - otherPlace,
  );
  const events: Event[] = [];
  for (const [order, [, record]] of records.entries()) {
    const scope = analysis.files.get(record.anchor.uri)?.scope;
    if (scope === undefined) continue;
    events.push(...new Reader(record, scope, plan, order * longestRecord).read());
  }
  return events;
}

/** Whether `one` is known to have come before `other`. */
export function isBefore(one: Entry, other: Entry): boolean {
  if (one.record === other.record) return one.place < other.place;
  return one.date !== undefined && other.date !== undefined && one.date < other.date;
}

/** The day of an event, for sentences: "on 2026-03-14". */
export function dayOf(entry: Entry): string {
  return entry.date === undefined ? "without a day" : `on ${entry.date}`;
}

type Found =
  | { readonly is: "thing"; readonly thing: Thing }
  | { readonly is: "field"; readonly thing: Thing; readonly field: string };

class Reader {
  private readonly events: Event[] = [];
  private readonly by: string | undefined;
  private readonly with: string | undefined;

  constructor(
    private readonly record: RecordInfo,
    private readonly scope: FileScope,
    private readonly plan: Plan,
    private readonly start: number,
  ) {
    this.by = this.clause("by");
    this.with = this.clause("with");
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
        const joint = this.plan.jointOf.get(found.thing);
        const step = this.plan.stepOf.get(found.thing);
        if (joint !== undefined && isJointField(found.field)) {
          const givens = about.get(found.thing) ?? [];
          about.set(found.thing, givens);
          givens.push(member);
        } else if (step !== undefined && found.field === recordFields.done) {
          if (member.value.type === "yes_no") {
            this.events.push({
              ...this.entry(member.span),
              is: "done",
              step,
              done: member.value.value,
            });
          }
        } else {
          const path = `${found.thing.path}.${found.field}`;
          this.events.push({ ...this.entry(member.span), is: "measured", path });
        }
      }
    }
    for (const [thing, givens] of about) {
      const joint = this.plan.jointOf.get(thing);
      if (joint !== undefined) this.tightened(joint, givens);
    }
  }

  private tightened(joint: Joint, givens: readonly syntax.Given[]): void {
    const valueOf = (field: string): syntax.Given | undefined =>
      givens.find((given) => given.path.names[given.path.names.length - 1]?.text === field);
    const number = measureNamed("count");
    const figures = (given: syntax.Given | undefined): readonly number[] =>
      given === undefined || number === undefined ? [] : listed(given.value, number);
    const yes = (field: string): boolean | undefined => {
      const value = valueOf(field)?.value;
      return value?.type === "yes_no" ? value.value : undefined;
    };
    const bolts = figures(valueOf(recordFields.bolts));
    const first = valueOf(recordFields.tightened) ?? givens[0];
    if (first === undefined) return;
    this.events.push({
      ...this.entry(first.span),
      is: "joint",
      joint,
      torque: this.torque(valueOf(recordFields.tightened)),
      pass: figures(valueOf(recordFields.pass))[0],
      bolts: bolts.length === 0 ? undefined : bolts,
      held: yes(recordFields.held),
      rechecked: yes(recordFields.rechecked),
    });
  }

  private torque(given: syntax.Given | undefined): JointEvent["torque"] {
    const measure = measureNamed("torque");
    if (given === undefined || measure === undefined) return undefined;
    const anchor = { ...this.record.anchor, span: given.value.span };
    const reading = readFigure(given.value, measure, (span) => textAt({ ...anchor, span }));
    if (reading.is !== "figure") return undefined;
    return { value: reading.figure.value, rounding: reading.figure.rounding };
  }

  /** As the analysis does it: the record's names are those of its file, or of the thing opened. */
  private find(inside: Thing | undefined, names: readonly syntax.Name[]): Found | undefined {
    const reached = this.plan.names.resolve(inside, this.scope, names);
    if (reached === undefined) return undefined;
    const { thing, field } = reached;
    return field === undefined ? { is: "thing", thing } : { is: "field", thing, field: field.name };
  }

  private entry(span: syntax.Span): Entry {
    return {
      record: this.record,
      date: this.record.date,
      place: this.start + span.start,
      anchor: { ...this.record.anchor, span },
      by: this.by,
      with: this.with,
    };
  }

  private clause(word: string): string | undefined {
    const clause = this.record.node.clauses.find((each) => each.word.text === word);
    return clause?.value.type === "text" ? clause.value.value : undefined;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function isJointField(name: string): boolean {
  const { tightened, pass, bolts, held, rechecked } = recordFields;
  return [tightened, pass, bolts, held, rechecked].some((each) => each === name);
}
