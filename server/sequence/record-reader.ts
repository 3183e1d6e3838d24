/**
 * Reads one record as entries: steps finished and signed, joints tightened, figures measured, and
 * what in it cannot be read as such.
 *
 *     new RecordReader(record, plan, start).read()   →   its entries, in the order of its lines
 *
 * Must not know: other records, what should have been done.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { RecordInfo } from "../analysis/analysis";
import type { Found } from "../findings/worded";
import { Few } from "../keep/few";
import { readFigure } from "../model/literal";
import type { Thing } from "../model/thing";
import { measureNamed } from "../units";
import { type Acceptable, type Event, headOf, type LogEntry, type RecordedFigure } from "./entries";
import { listed } from "./fields";
import type { Reached } from "./names";
import type { Joint, Plan, Step } from "./plan";
import { atHandField, recordFields } from "./vocabulary";

/** Reads one record; `start`: the place of what stands at its beginning. */
export class RecordReader {
  /** What cannot be read as what it stands for. */
  readonly unread: Found[] = [];
  /** The things at the top of their files that it speaks of. */
  readonly tops = new Few<Thing>();
  /** Some name in it leads nowhere, as yet. */
  leadsNowhere = false;
  private readonly events: Event[] = [];
  private readonly head: Omit<LogEntry, "place" | "anchor">;

  constructor(
    private readonly record: RecordInfo,
    private readonly plan: Plan,
    private readonly start: number,
  ) {
    const { by, with: tool, at, clock } = headOf(record.node);
    if (at !== undefined && clock === undefined)
      this.unread.push({ is: "record/no-time", text: at.value, anchor: this.anchored(at.span) });
    this.head = { record, date: record.date, clock, by, with: tool };
  }

  /** In the order of the lines. */
  read(): Event[] {
    this.members(undefined, this.record.node.members);
    const { events } = this;
    return events.length < 2 ? events : events.sort((one, other) => one.place - other.place);
  }

  /** What stands in one block about one joint is one event; nested blocks are events of their own. */
  private members(inside: Thing | undefined, members: readonly syntax.Member[]): void {
    let about: Map<Thing, syntax.Given[]> | undefined;
    for (const member of members) {
      if (member.type === "part") {
        // A name that leads nowhere is the analysis' to complain of; what is inside is about nothing.
        const opened = this.find(inside, member.path.names);
        if (opened !== undefined && opened.field === undefined)
          this.members(opened.thing, member.members);
      } else if (member.type === "given") {
        const found = this.find(inside, member.path.names);
        if (found?.field === undefined) continue;
        const { thing } = found;
        const field = found.field.name;
        const joint = this.plan.jointOf.get(thing);
        const step = this.plan.stepOf.get(thing);
        if (field === recordFields.photos) this.photos(member);
        else if (field === atHandField) {
          const atHand = this.yes(member);
          if (atHand !== undefined)
            this.events.push({ ...this.entry(member.span), is: "part", thing, atHand });
        } else if (field === recordFields.remark) this.text(member);
        else if (
          (joint !== undefined && jointFields.has(field)) ||
          (step !== undefined && concessionFields.has(field))
        ) {
          about ??= new Map();
          const before = about.get(thing);
          if (before === undefined) about.set(thing, [member]);
          else before.push(member);
        } else if (step !== undefined && field === recordFields.done) {
          const done = this.yes(member);
          if (done !== undefined)
            this.events.push({ ...this.entry(member.span), is: "done", step, done });
        } else if (step !== undefined && field === recordFields.signed) this.signed(step, member);
        else if (joint !== undefined && field === "torque") {
          const anchor = this.anchored(member.path.span);
          this.unread.push({ is: "record/spec-field", joint: joint.path, anchor });
        } else this.measured(thing, field, member);
      }
    }
    for (const [thing, givens] of about ?? nothing) {
      const joint = this.plan.jointOf.get(thing);
      const step = this.plan.stepOf.get(thing);
      if (joint !== undefined) this.tightened(joint, givens);
      else if (step !== undefined) this.accepted(step, givens);
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

  private accepted(step: Step, givens: readonly syntax.Given[]): void {
    const given = (field: string): syntax.Given | undefined => named(givens, field);
    const text = (field: string): string | undefined => {
      const found = given(field);
      return found === undefined ? undefined : this.text(found);
    };
    const until = given(recordFields.until);
    const day = until?.value.type === "date" ? until.value.text : undefined;
    if (until !== undefined && day === undefined && until.value.type !== "missing")
      this.misses("record/not-a-day", until);
    const because = text(recordFields.because);
    const follows = text(recordFields.follows);
    for (const [field, withdrawn] of [
      [recordFields.accepted, false],
      [recordFields.withdrawn, true],
    ] as const) {
      const list = given(field);
      if (list === undefined) continue;
      for (const item of list.value.type === "list" ? list.value.items : [list.value]) {
        if (item.type !== "path" && item.type !== "text") continue;
        const written = textOf(item);
        this.events.push({
          ...this.entry(item.span),
          is: "accepted",
          step,
          text: written,
          what: this.acceptable(step, written, item.span),
          withdrawn,
          until: day,
          because,
          follows,
        });
      }
    }
  }

  private acceptable(step: Step, written: string, span: syntax.Span): Acceptable {
    const names = written.split(".").map((text) => ({ type: "name" as const, text, span }));
    const found = this.find(undefined, names) ?? this.find(step.thing, names);
    if (found?.field !== undefined) {
      const { thing, field } = found;
      return field.type.form === "measure"
        ? { is: "figure", thing, field: field.name, path: `${thing.path}.${field.name}` }
        : { is: "other" };
    }
    const named = found && this.plan.stepOf.get(found.thing);
    const joint = found && this.plan.jointOf.get(found.thing);
    return named === undefined ? { is: "other", joint } : { is: "step", step: named };
  }

  private measured(thing: Thing, field: string, given: syntax.Given): void {
    const type = thing.field(field)?.type;
    if (given.value.type === "ask") {
      this.unread.push({ is: "record/blank", field, anchor: this.anchored(given.value.span) });
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
      reading,
    });
  }

  private tightened(joint: Joint, givens: readonly syntax.Given[]): void {
    const given = (field: string): syntax.Given | undefined => named(givens, field);
    const figure = (field: string, measure = "torque"): RecordedFigure | undefined => {
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
      isOpen: givens.some(({ value }) => value.type === "ask"),
    });
  }

  // ── values ──

  private yes(given: syntax.Given): boolean | undefined {
    const { value } = given;
    if (value.type === "yes_no") return value.value;
    if (value.type !== "missing") this.misses("record/not-yes-no", given);
    return undefined;
  }

  private text(given: syntax.Given): string | undefined {
    const { value } = given;
    if (value.type === "text") return value.value;
    if (value.type !== "missing") this.misses("record/not-a-text", given);
    return undefined;
  }

  private counts(given: syntax.Given | undefined): readonly number[] {
    const measure = measureNamed("count");
    if (given === undefined || measure === undefined) return [];
    const { value } = given;
    const numbers = listed(value, measure);
    const written = value.type === "list" ? value.items.length : 1;
    // A figure that is no count is the model's to complain of.
    const isTold = value.type !== "list" && readFigure(value, measure).is === "problem";
    if (numbers.length < written && !isTold) this.misses("record/not-a-count", given);
    return numbers;
  }

  private reading(given: syntax.Given, measureName: string): RecordedFigure | undefined {
    const measure = measureNamed(measureName);
    if (measure === undefined) return undefined;
    const anchor = this.anchored(given.value.span);
    const reading = readFigure(given.value, measure);
    if (reading.is === "figure") {
      const { value, rounding, low, high, toleranced } = reading.figure;
      return { value, rounding, sureness: toleranced ? (high - low) / 2 : 0 };
    }
    // A wrong unit is the model's to complain of; a name or formula is nothing that was read off.
    if (given.value.type === "ask")
      this.unread.push({ is: "record/blank", field: lastName(given), anchor });
    else if (reading.is === "formula" && given.value.type !== "missing")
      this.misses("record/not-a-figure", given);
    return undefined;
  }

  private misses(
    is: `record/not-${"yes-no" | "a-count" | "a-figure" | "a-day" | "a-text"}`,
    given: syntax.Given,
  ): void {
    const anchor = this.anchored(given.value.span);
    const field = lastName(given);
    if (given.value.type === "ask") this.unread.push({ is: "record/blank", field, anchor });
    else this.unread.push({ is, field, text: textAt(anchor), anchor });
  }

  // ── names and places ──

  /** As the analysis does it: the record's names are those of its file, or of the thing opened. */
  private find(inside: Thing | undefined, names: readonly syntax.Name[]): Reached | undefined {
    const reached = this.plan.names.resolve(inside, this.record.anchor.uri, names);
    if (reached === undefined) this.leadsNowhere = true;
    else this.tops.add(reached.thing.top);
    return reached;
  }

  private entry(span: syntax.Span): LogEntry {
    const { record, date, clock, by, with: tool } = this.head;
    const place = this.start + span.start;
    return { record, date, clock, place, anchor: this.anchored(span), by, with: tool };
  }

  private anchored(span: syntax.Span): Anchor {
    const { uri, item } = this.record.anchor;
    return { uri, item, span };
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const nothing: readonly never[] = [];

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

const concessionFields: ReadonlySet<string> = new Set([
  recordFields.accepted,
  recordFields.until,
  recordFields.because,
  recordFields.follows,
  recordFields.withdrawn,
]);

function named(givens: readonly syntax.Given[], field: string): syntax.Given | undefined {
  for (const given of givens) if (lastName(given) === field) return given;
  return undefined;
}

function textOf(item: syntax.Path | syntax.Text): string {
  return item.type === "text" ? item.value : item.names.map(({ text }) => text).join(".");
}

function lastName(given: syntax.Given): string {
  return given.path.names.at(-1)!.text;
}
