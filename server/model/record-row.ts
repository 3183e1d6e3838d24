/**
 * What a record adds to a build: nothing but what is wrong with the names and values in it.
 *
 *     new RecordRows(names).of(record, anchor)   →   a row without figures or equations, with its findings
 *
 * A log has thousands of them, which name the same things over and over: what the names of one lead to
 * is asked once for all records of a file that name the same, and all in which nothing is wrong are one
 * row. Must not know: what is made of a record, the order of work.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Found, Problem } from "../findings/worded";
import { both } from "../names/follow";
import type { Measure } from "../units";
import { Binder, type Things } from "./binder";
import { mostTermsOfAll } from "./budget";
import { isReadable, readFigure } from "./literal";
import type { Row } from "./model";
import { problemOf } from "./target";
import type { Thing } from "./thing";
import { eachOfBoth } from "./twins";

export class RecordRows {
  /** By file and by what they name. */
  private readonly alike = new Map<string, Map<string, Alike>>();

  constructor(private readonly names: Things) {}

  /** Says which names and values of a record make no sense. */
  of(record: syntax.Record, at: Anchor): Row {
    const names = namesIn(record.members);
    const known = this.alike.get(at.uri);
    const alike = known?.get(names);
    if (alike?.fits(record.members)) return alike.row;
    const made = new RecordRow(this.names, at);
    const row = made.read(record.members);
    if (made.isPlain && row.findings.length === 0) {
      const of = known ?? new Map<string, Alike>();
      this.alike.set(at.uri, of.set(names, new Alike(row, made.measures)));
    }
    return row;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** A row that stands for all records of a file that name the same. */
class Alike {
  private at = 0;

  constructor(
    readonly row: Row,
    /** Of each line in turn: the measure of what it names, where that has one. */
    private readonly measures: readonly (Measure | undefined)[],
  ) {}

  /** Whether a record that names the same has a value in each line that makes sense there. */
  fits(members: readonly syntax.Member[]): boolean {
    this.at = 0;
    return this.fit(members);
  }

  private fit(members: readonly syntax.Member[]): boolean {
    for (const member of members) {
      if (member.type === "part") {
        if (!this.fit(member.members)) return false;
      } else if (member.type === "given") {
        const measure = this.measures[this.at++];
        if (measure === undefined) continue;
        if (!isReadable(member.value, measure)) return false;
      }
    }
    return true;
  }
}

const nothing: readonly never[] = [];

const addsNothing: Omit<Row, "questions"> = {
  thing: undefined,
  figures: new Set(),
  equations: nothing,
  claims: nothing,
  curves: nothing,
  asks: nothing,
  stacks: nothing,
  words: new Map(),
  findings: nothing,
  terms: { limit: mostTermsOfAll, spent: 0 },
};

/** All its lines name, in their order and as deep as they stand: `bracket{tightened;pass;}` */
function namesIn(members: readonly syntax.Member[]): string {
  let names = "";
  for (const member of members) {
    if (member.type !== "given" && member.type !== "part") continue;
    for (const { text } of member.path.names) names += `.${text}`;
    names += member.type === "given" ? ";" : `{${namesIn(member.members)}}`;
  }
  return names;
}

/** One record, name by name. */
class RecordRow {
  readonly measures: (Measure | undefined)[] = [];
  /** Whether each of its lines names one thing or field that is there. */
  isPlain = true;
  private readonly found: Found[] = [];
  private readonly binder: Binder;

  constructor(
    names: Things,
    private readonly at: Anchor,
  ) {
    this.binder = new Binder(names, undefined, (each) => this.found.push(each));
  }

  read(members: readonly syntax.Member[]): Row {
    this.members(undefined, members);
    const { found, binder } = this;
    return { ...addsNothing, findings: found, questions: binder.questions };
  }

  private members(inside: Thing | undefined, members: readonly syntax.Member[]): void {
    for (const member of members)
      if (member.type === "given" || member.type === "part") this.line(inside, member);
  }

  private line(inside: Thing | undefined, node: syntax.Given | syntax.Part): void {
    const { binder, at } = this;
    const { names } = node.path;
    if (names.some(({ text }) => text === both)) {
      this.isPlain = false;
      const each = eachOfBoth(node, (some) => binder.resolve(inside, at.uri, some));
      for (const line of each) this.line(inside, line);
      if (each.length > 0) return;
    }
    const target = binder.resolve(inside, at.uri, names);
    if (target.is === "unknown") {
      this.raise(problemOf(target));
    } else if (node.type === "part") {
      if (target.is === "thing") this.members(target.thing, node.members);
      else this.isPlain = false;
    } else {
      const type = target.is === "field" ? (target.part ?? target.field).type : undefined;
      const measure = type?.form === "measure" ? type.measure : undefined;
      this.measures.push(measure);
      const reading = measure && readFigure(node.value, measure);
      if (reading?.is === "problem") this.raise(reading.problem);
    }
  }

  private raise({ span, ...fact }: Problem): void {
    this.found.push({ ...fact, anchor: { ...this.at, span } });
  }
}
