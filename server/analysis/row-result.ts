/**
 * What one row of a build comes to: its values, checks, asks and findings. Kept between readings as
 * long as the row, the cells it speaks of and the places these are written at are the same.
 *
 * Must not know: other rows, files as a whole, how anything is shown.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Name } from "../../grammar/syntax";
import { Findings } from "../findings/collected";
import type { Found } from "../findings/worded";
import type { Writer } from "../findings/writer";
import { anyIn } from "../keep/any-in";
import { inTime } from "../keep/patience";
import { SmallMap } from "../keep/small-map";
import { Binder } from "../model/binder";
import type { Ask, ModelClaim, ModelVariable } from "../model/model";
import { anchorOfThing, type Thing } from "../model/thing";
import { readWord } from "../model/words";
import type { FigureId, ThingId } from "../names/ids";
import type { ReadAs } from "../solve";
import { displacedDefault, mayBeDisplaced } from "./against-default";
import type { CheckResult, CurveResult, Value } from "./analysis";
import { Asked } from "./asked";
import { type BuildCell, type Opened, topsOf } from "./build-cells";
import type { PlacedRow } from "./build-rows";
import { checkFinding, unjudgedFindings } from "./check-findings";
import { checkResult, limitOf } from "./check-result";
import { curveResult } from "./curves";
import { FigureValue } from "./figure-value";
import { type FindingContext, notWholeFinding, othersFinding } from "./findings";
import { fitFixes } from "./fits";
import { outOfRange, unlikeTwins } from "./looks";
import type { OpenValue } from "./missing-findings";
import { casesAgainst, followsFrom } from "./needs";
import { partFixes, wrongWith } from "./other-parts";
import type { Reading } from "./reading";
import { SolvedCell } from "./reasons";
import { takenFor } from "./taken-for";
import { wishFindings } from "./wish-findings";

/** What all results of one analysis have in common. */
export interface Bench {
  /** Writes figures; how strict its reader is counts for nothing here. */
  readonly writer: Writer;
  /** What to take from a kit for a figure; the kit may have to serve several. */
  piecesOf(reading: Reading, figure: FigureId): string | undefined;
  orderOf(reading: Reading, anchor: Anchor): readonly number[];
}

const none: ReadonlySet<FigureId> = new Set();
/** Most rows have none of most things, and are kept by the thousand. */
const nothing: readonly never[] = [];
const nobody: ReadonlySet<string> = new Set();

export class RowResult {
  /** The cells of all figures it speaks of, each with one of its unknowns. */
  readonly cells: ReadonlyMap<BuildCell, FigureId>;
  private readonly figures = new SmallMap<FigureId, Value>();
  private readonly once: Record<string, unknown> = {};
  private namedBeside: Set<FigureId> | undefined;

  constructor(
    readonly of: PlacedRow,
    /** The latest reading it holds in. */
    public reading: Reading,
    private readonly bench: Bench,
  ) {
    const cells = new SmallMap<BuildCell, FigureId>();
    for (const figure of of.row.figures) {
      const cell = reading.cells.cellOf(figure);
      if (cell !== undefined && !cells.has(cell)) cells.set(cell, figure);
    }
    this.cells = cells;
  }

  /** Figures that its messages name beside those of its row. */
  get named(): ReadonlySet<FigureId> {
    return this.namedBeside ?? none;
  }

  get writer(): Writer {
    return this.bench.writer;
  }

  /**
   * Whether it is the same in a reading that has the same row. `changed`, `opened`: things at the top
   * and cells that are others than where it held last; of cells nothing where that is not known.
   */
  holdsIn({ cells }: Reading, changed: ReadonlySet<ThingId>, opened: Opened | undefined): boolean {
    for (const tops of this.about) if (anyIn(changed, tops)) return false;
    for (const figure of this.named) if (changed.has(figure.thing.top)) return false;
    if (opened === undefined) {
      for (const [cell, figure] of this.cells)
        if (cells.cellOf(figure)?.core !== cell.core) return false;
    } else if (opened.size > 0) {
      for (const { core } of this.cells.keys()) if (opened.has(core)) return false;
    }
    for (const figure of this.named)
      if (cells.cellOf(figure)?.core !== this.reading.cells.cellOf(figure)?.core) return false;
    return true;
  }

  /** The things at the top whose figures it speaks of, and those whose figures stand in its cells. */
  get about(): readonly ReadonlySet<ThingId>[] {
    return this.lazily("about", () => [
      new Set(Array.from(this.of.row.figures, (figure) => figure.thing.top)),
      ...Array.from(this.cells.keys(), topsOf),
    ]);
  }

  // ── values ──

  valueOf(figure: FigureId): Value | undefined {
    if (!this.of.row.figures.has(figure)) return undefined;
    let value = this.figures.get(figure);
    if (value === undefined) {
      value = new FigureValue(this, figure);
      this.figures.set(figure, value);
    }
    return value;
  }

  piecesOf(figure: FigureId): string | undefined {
    return this.bench.piecesOf(this.reading, figure);
  }

  /** Cells of its figures in which something contradicts or fails. */
  get bad(): readonly BuildCell[] {
    return this.lazily("bad", () => {
      const bad: BuildCell[] = [];
      for (const cell of this.cells.keys()) if (isBad(cell)) bad.push(cell);
      // Equations between givens alone are cells of their own.
      for (const { equation } of this.of.row.equations) {
        const cell = this.reading.cells.cellOfEquation(equation);
        if (cell !== undefined && !this.cells.has(cell) && isBad(cell)) bad.push(cell);
      }
      return bad.length === 0 ? nothing : bad;
    });
  }

  // ── asks, checks, curves ──

  get asked(): readonly Asked[] {
    return this.lazily("asked", () => {
      if (this.of.row.asks.length === 0) return nothing;
      const fellows = new Set(this.of.row.asks.map(({ figure }) => figure));
      return this.of.row.asks.flatMap((ask) => this.askedValue(ask, fellows));
    });
  }

  get checks(): readonly CheckResult[] {
    return this.lazily("checks", () => made(this.of.row.claims, (each) => checkResult(this, each)));
  }

  get curves(): readonly CurveResult[] {
    return this.lazily("curves", () => made(this.of.row.curves, (each) => curveResult(this, each)));
  }

  private askedValue({ figure, entry }: Ask, fellows: ReadonlySet<FigureId>): Asked[] {
    const value = this.valueOf(figure);
    return value === undefined ? [] : [new Asked(this, figure, value, entry.anchor, fellows)];
  }

  /** What is asked for and open. */
  get open(): readonly Asked[] {
    if (this.asked.length === 0) return nothing;
    return this.lazily("open", () =>
      this.asked.filter(({ value }) => value.standing === "missing" && !value.isCutShort),
    );
  }

  /** What is asked for and cannot be worked out; what failed is told of its cell. */
  missing(failureOf: (value: Value) => Found | undefined): OpenValue[] {
    return this.open.map((asked) => ({
      asked,
      failed: failureOf(asked.value),
      isSpokenOf: () => this.isSpokenOf(asked.value),
      passedOver: () =>
        asked.value instanceof FigureValue ? casesAgainst(this.reading, asked.value.id) : [],
      followsFrom: () => {
        const { value } = asked;
        if (!(value instanceof FigureValue)) return undefined;
        return inTime(() => followsFrom(this.reading, value.id), undefined);
      },
    }));
  }

  /** Whether some equation of its cell speaks of a figure. */
  private isSpokenOf({ path }: Value): boolean {
    const ask = this.of.row.asks.find(({ figure }) => this.reading.figure(figure)?.name === path);
    const cell = ask === undefined ? undefined : this.reading.cells.cellOf(ask.figure);
    const index = ask === undefined ? undefined : cell?.placeOf(ask.figure);
    if (cell === undefined || index === undefined) return false;
    return cell.solution.system.equations.some(({ variables }) => variables.includes(index));
  }

  // ── words ──

  /** Words of its own things that it reads, by path. */
  wordOf(thing: Thing, fieldName: string): Value | undefined {
    const field = thing.field(fieldName);
    const reading = field && readWord(thing, field);
    if (field === undefined || reading?.value === undefined) return undefined;
    const { entry, value: word } = reading;
    return {
      path: `${thing.path}.${fieldName}`,
      thing,
      field,
      word,
      standing: entry === undefined ? "assumed" : entry.layer === "record" ? "measured" : "given",
      anchor: entry?.anchor,
      restsOn: [],
      outcome: () => undefined,
      spread: () => undefined,
      contributors: () => [],
    };
  }

  /** Figures of its own that are wanted to come to something. */
  get wanted(): readonly FigureId[] {
    return this.lazily("wanted", () =>
      this.own.flatMap(({ id, variable }) => (variable.wish === undefined ? [] : [id])),
    );
  }

  /** Figures it speaks of that are worked out or assumed. */
  get workedOut(): readonly FigureId[] {
    return this.lazily("worked out", () =>
      [...this.of.row.figures].filter((id) => {
        const standing = this.valueOf(id)?.standing;
        return standing === "solved" || standing === "assumed";
      }),
    );
  }

  // ── findings ──

  get findings(): readonly Found[] {
    return this.lazily("findings", () => this.collectFindings());
  }

  /** Figures of its own. */
  private get own(): readonly ModelVariable[] {
    return this.lazily("own", () => {
      const own: ModelVariable[] = [];
      const top = this.of.row.thing?.id;
      for (const id of this.of.row.figures) {
        const variable = id.thing.top === top ? this.reading.figure(id) : undefined;
        if (variable !== undefined) own.push(variable);
      }
      return own.length === 0 ? nothing : own.slice();
    });
  }

  /** Amounts of money written in it. */
  get priced(): readonly ModelVariable[] {
    return this.lazily("priced", () => {
      const priced = this.own.filter(({ figure }) => figure?.currency !== undefined);
      return priced.length === 0 ? nothing : priced;
    });
  }

  context(claim: ModelClaim): FindingContext {
    return this.contextOf(claim.figures, "outcome");
  }

  private contextOf(figures: readonly FigureId[], as: ReadAs): FindingContext {
    const { reading } = this;
    let solved: SolvedCell | undefined;
    return {
      get solved() {
        solved ??= new SolvedCell(reading, reading.cells.solvedFor(figures, as));
        return solved;
      },
      asks: [],
      orderOf: (anchor) => this.bench.orderOf(this.reading, anchor),
      valueIn: (thing, names) => this.valueIn(thing, names),
    };
  }

  private valueIn(thing: Thing, names: readonly Name[]): Value | undefined {
    const target = new Binder(this.reading, undefined).resolve(thing, thing.uri, names);
    if (target.is !== "field") return undefined;
    const { field, part } = target;
    if (part === undefined && field.type.form !== "measure")
      return this.wordOf(target.thing, field.name);
    const key = part === undefined ? field.name : `${field.name}.${part.name}`;
    const figure = target.thing.id.figure(key);
    this.namedBeside ??= new Set();
    this.namedBeside.add(figure);
    return this.reading.cells.has(figure) ? new FigureValue(this, figure) : undefined;
  }

  private collectFindings(): readonly Found[] {
    const { own } = this;
    const { row } = this.of;
    const findings = new Findings();
    for (const finding of row.findings) findings.add(finding);
    for (const finding of wishFindings(this.reading, own)) findings.add(finding);
    const unlike = unlikeTwins(own);
    for (const { finding } of unlike) findings.add(finding);
    const doubted = unlike.length === 0 ? nobody : new Set(unlike.flatMap(({ about }) => about));
    for (const [index, check] of this.checks.entries()) {
      const claim = row.claims[index] as ModelClaim;
      const { nominal, worst } = check.verdict;
      // What holds at worst is likely to hold.
      if (nominal === "holds" && worst === "holds") continue;
      // Of the library's own those that must be judged are told together below.
      if (nominal === "unknown" && !check.own) continue;
      // A remark on figures that are doubted already says nothing more.
      const { remarks, inputs } = check;
      const told = inputs.length > 0 && inputs.every((path) => doubted.has(path));
      if (told && remarks.severity === "note") continue;
      const about = {
        limit: limitOf(this, claim),
        meant: () => takenFor(this, claim, row.equations),
      };
      const finding = checkFinding(check, claim, about, this.context(claim));
      if (finding === undefined) continue;
      findings.add({
        ...finding,
        furtherFixes: () => [...fitFixes(this, claim), ...partFixes(this, wrongWith(this, claim))],
      });
    }
    for (const variable of own) {
      const unusual = outOfRange(variable);
      if (unusual !== undefined) findings.add(unusual);
      if (!this.mayBeDisplaced(variable)) continue;
      const displaced = displacedDefault(variable, this.contextOf([variable.id], "solution"));
      if (displaced !== undefined) findings.add(displaced);
    }
    for (const { id, measure } of own) {
      const value = measure.whole ? this.valueOf(id) : undefined;
      const place = value === undefined ? undefined : anchorOfThing(value.thing);
      const finding = value === undefined ? undefined : notWholeFinding(value, place);
      if (finding !== undefined) findings.add(finding);
    }
    for (const { value } of this.asked) {
      const finding = othersFinding(value);
      if (finding !== undefined) findings.add(finding);
    }
    if (this.checks.length > 0)
      for (const finding of unjudgedFindings(this.checks, (check) => this.openIn(check)))
        findings.add(finding);
    return findings.without(undefined);
  }

  /** Names of what a check lacks. */
  private openIn(check: CheckResult): string[] {
    const claim = this.of.row.claims[this.checks.indexOf(check)];
    const solved = claim && this.context(claim).solved;
    return check.verdict.open.flatMap((place) => solved?.figureAt(place)?.name ?? []);
  }

  /** A default that is as usual, or that nothing works out otherwise, is not looked at any closer. */
  private mayBeDisplaced(variable: ModelVariable): boolean {
    if (!mayBeDisplaced(variable)) return false;
    const cell = this.reading.cells.cellOf(variable.id);
    const place = cell?.placeOf(variable.id) ?? -1;
    return cell?.solution.determinations[place]?.how === "solved";
  }

  /** Whether it was asked for this before: then it takes no time. */
  knows(name: "bad" | "findings" | "open"): boolean {
    return name in this.once;
  }

  private lazily<T>(name: string, make: () => T): T {
    this.once[name] ??= make();
    return this.once[name] as T;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function isBad({ solution: { conflicts, failures } }: BuildCell): boolean {
  return conflicts.length > 0 || failures.length > 0;
}

function made<S, T>(some: readonly S[], make: (each: S) => T): readonly T[] {
  return some.length === 0 ? nothing : some.map(make);
}
