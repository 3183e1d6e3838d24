/**
 * One reading of a build as everybody reads it: the answers of its groups put together, its options
 * and the as-built view beside the spec.
 *
 * Must not know: how files are read, what is kept between readings.
 */

import type { Anchor } from "../../grammar/anchor";
import type { Item, SourceFile } from "../../grammar/syntax";
import { Findings } from "../findings/collected";
import type { Finding } from "../findings/finding";
import { missingInWords, piecesInWords } from "../findings/outcomes";
import { type Found, ofOption, worded } from "../findings/worded";
import type { Writer } from "../findings/writer";
import { LayeredMap } from "../keep/layered-map";
import { pause, TakenBack } from "../keep/patience";
import { Binder } from "../model/binder";
import { everythingIn } from "../model/elaborate";
import type { Ask, Row } from "../model/model";
import type { Target } from "../model/target";
import type { Thing } from "../model/thing";
import type { FigureId, ThingId } from "../names/ids";
import type { ChoiceControl } from "../solve/choose";
import type { Conflict, FitLevel } from "../solve/system";
import type { DisplayStyle } from "../units";
import { againstDefault } from "./against-default";
import type {
  Analysis,
  CheckResult,
  ChooseAnswer,
  ChooseRequest,
  Contradiction,
  CurveResult,
  MissingValue,
  OptionInfo,
  RecordInfo,
  Value,
} from "./analysis";
import { type Asked, withoutOpen } from "./asked";
import type { BuildCell } from "./build-cells";
import { chooseThings } from "./choose-things";
import { contradicted } from "./contradicted";
import { contradictory, repairsOf } from "./contradictions";
import { FigureValue } from "./figure-value";
import type { BuildFile, BuildFiles } from "./files";
import { currencyFinding, type FindingContext, failureFinding } from "./findings";
import type { Library } from "./library";
import { doubtedInput, outOfRange } from "./looks";
import { outsideConflicts } from "./merge-conflicts";
import { misclosure } from "./misclosure";
import { missingFindings, whyMissing } from "./missing-findings";
import { type OptionView, optionView, viewsKept } from "./option-views";
import { isSpokenOf, type Overlay, trialItem } from "./overlay";
import { Reading } from "./reading";
import { SolvedCell } from "./reasons";
import { misclosedAsWritten } from "./reconciled";
import { measurementsOf } from "./records";
import { type Bench, RowResult } from "./row-result";
import { sortFindings } from "./sorting";
import { type Allotment, allotmentsOf, piecesOf, stackFindings } from "./stacks";
import type { CheckSource } from "./verdicts";

/**
 * Findings of a room above this one, which it makes of a whole analysis: asked for once, when the
 * findings of a build are first read, not for its options nor as built. May read all of the analysis
 * but its findings.
 */
export type FurtherFindings = (analysis: Analysis) => readonly Found[];

/** What an analysis is made of. */
export interface AnalysisParts {
  readonly reading: Reading;
  readonly library: Library;
  readonly further: readonly FurtherFindings[];
  readonly writer: Writer;
  readonly today?: string;
  /** Findings of files and display, outside of all rows. */
  readonly outside: readonly Found[];
}

/** Analyses that this one may have much in common with; none of them is held on to. */
export interface AnalysesBeside {
  /** The analysis before the edit, or the one something is laid over. */
  readonly before?: BuildAnalysis;
  /** The same laid over the build as it was before the edit. */
  readonly earlier?: BuildAnalysis;
}

export class BuildAnalysis implements Analysis {
  readonly rootUri: string;
  readonly files: ReadonlyMap<string, BuildFile>;
  readonly style: DisplayStyle;
  readonly options: readonly OptionInfo[];
  readonly records: readonly RecordInfo[];
  readonly reading: Reading;
  private readonly writer: Writer;
  private readonly bench: Bench;
  readonly units: readonly RowResult[];
  private readonly unitOf = new Map<ThingId, RowResult>();
  private readonly variants = new Map<string, BuildAnalysis>();
  /** What its options say, as far as it was read or is as it was before the edit. */
  private readonly views: Map<string, OptionView | undefined>;
  /** What was laid over the build before its last edit. */
  private readonly earlier: ReadonlyMap<string, BuildAnalysis>;
  /** Of things of which something is known otherwise since the first reading, an object each time. */
  private readonly states: LayeredMap<ThingId, object>;
  /** Of all others. */
  private readonly firstState: object;

  constructor(
    private readonly parts: AnalysisParts,
    { before, earlier }: AnalysesBeside = {},
  ) {
    const { reading, writer } = parts;
    const { build } = reading;
    this.reading = reading;
    this.rootUri = build.root.uri;
    this.files = new Map(build.files.map((file) => [file.uri, file]));
    this.style = writer.style;
    const like = before?.style === this.style;
    this.writer = writer;
    this.bench = like
      ? before.bench
      : { writer, orderOf, piecesOf: (of, figure) => piecesFor(of, figure, writer) };
    const edited = parts.reading.overlays.length === before?.reading.overlays.length;
    this.earlier = edited ? new Map([...before.earlier, ...before.variants]) : new Map();
    const { opened } = reading;
    const sources = [
      earlier?.bench === this.bench ? { from: earlier, edited: true, opened } : undefined,
      // The reading was made from the earlier one, where there is one.
      like
        ? { from: before, edited, opened: earlier === undefined ? opened : undefined }
        : undefined,
    ];
    this.units = unitsOf(
      reading,
      this.bench,
      sources.filter((source) => source !== undefined),
    );
    for (const unit of this.units) {
      const { thing } = unit.of.row;
      if (thing !== undefined) this.unitOf.set(thing.id, unit);
    }
    const edit = like && edited ? differing(before, this) : undefined;
    const moved = edit && movedBy(edit, reading.changedSince(before?.reading));
    this.states =
      before === undefined || moved === undefined
        ? LayeredMap.of(new Map())
        : before.states.with(moved);
    this.firstState = moved === undefined ? this : (before?.firstState ?? this);
    const same = before?.reading.build === build ? before : undefined;
    this.options = same?.options ?? optionsOf(build);
    this.records = same?.records ?? recordsOf(build);
    this.views = like && edited ? viewsKept(before.views, before, this) : new Map();
  }

  sourceOf(uri: string): SourceFile | undefined {
    return this.files.get(uri)?.source ?? this.parts.library.files.get(uri)?.source;
  }

  /** All texts it is made of, those of the library too. */
  get sources(): readonly SourceFile[] {
    return [...this.files.values(), ...this.parts.library.files.values()].map(
      ({ source }) => source,
    );
  }

  get unitOfRow(): ReadonlyMap<Row, RowResult> {
    return this.lazily(
      "units by row",
      () => new Map(this.units.map((unit) => [unit.of.row, unit])),
    );
  }

  get vocabulary() {
    return this.reading.vocabulary;
  }

  get today(): string | undefined {
    return this.parts.today;
  }

  private once = new Map<string, unknown>();

  /** Lists over all rows are put together when they are first read. */
  private lazily<T>(name: string, make: () => T): T {
    if (!this.once.has(name)) this.once.set(name, make());
    return this.once.get(name) as T;
  }

  get things(): readonly Thing[] {
    return this.lazily("things", () => {
      const { named } = this;
      return this.units.flatMap(({ of: { row } }) =>
        row.thing === undefined ? [] : [...namedIn(row.thing, named)],
      );
    });
  }

  get values(): ReadonlyMap<string, Value> {
    return this.lazily("values", () => {
      const words = this.wordsRead;
      const figures = new Map<ThingId, Set<FigureId>>();
      for (const {
        of: { row },
      } of this.units)
        for (const figure of row.figures) add(figures, figure.thing, figure);
      const values = new Map<string, Value>();
      for (const thing of this.things) {
        const own = [
          ...[...(figures.get(thing.id) ?? [])].flatMap((figure) => this.valueOf(figure) ?? []),
          ...[...(words.get(thing.id) ?? [])].flatMap((field) => this.wordOf(thing, field) ?? []),
        ];
        for (const value of inFieldOrder(thing, own)) values.set(value.path, value);
      }
      return values;
    });
  }

  get wanted(): readonly Value[] {
    return this.lazily("wanted", () => this.wantedIn(this.units));
  }

  get asked(): readonly Asked[] {
    return this.lazily("asked", () => {
      const inOptions = this.optionViews.flatMap(({ asked }) => asked);
      return withoutOpen(
        [...this.units.flatMap((unit) => unit.asked), ...inOptions],
        [
          ...this.units.flatMap((unit) => unit.open),
          ...inOptions.filter(({ value }) => value.standing === "missing"),
        ],
      );
    });
  }

  get workedOut(): number {
    return this.lazily("worked out", () => {
      const figures = new Set<FigureId>();
      for (const unit of this.units) for (const figure of unit.workedOut) figures.add(figure);
      return figures.size;
    });
  }

  get checks(): readonly CheckResult[] {
    return this.lazily("checks", () => this.units.flatMap((unit) => unit.checks));
  }

  get contradictions(): readonly Contradiction[] {
    return this.ownFindings.contradictions;
  }

  get curves(): readonly CurveResult[] {
    return this.lazily("curves", () => this.units.flatMap((unit) => unit.curves));
  }

  get missing(): readonly MissingValue[] {
    return this.lazily("missing", () =>
      this.units.flatMap((unit) =>
        unit
          .missing((value) => this.failureBehind(value))
          .map((open) => {
            const { needs, value, anchor } = open.asked;
            const message = missingInWords(whyMissing(open), this.writer);
            return { path: value.path, message, needs, anchor };
          }),
      ),
    );
  }

  get findings(): readonly Finding[] {
    return this.lazily("findings", () => {
      const { patience } = this.reading.workshop;
      for (const _ of this.advising()) {
        pause(patience);
        if (!patience.isUp()) continue;
        for (const { advised, anchor } of this.toAdvise)
          if (!advised) this.reading.leftOut.note("advice", anchor.uri, anchor.item);
        this.once.delete(soFar);
        break;
      }
      return this.findingsSoFar;
    });
  }

  get findingsSoFar(): readonly Finding[] {
    return this.lazily(soFar, () => {
      this.lacking = this.toAdvise.some(({ advised }) => !advised);
      const own = this.inWords([...this.ownFindings.list, ...this.ownFindings.missing()]);
      const said = new Set(own.map(({ code, message }) => `${code} ${message}`));
      const all = [
        ...this.aroundOwn,
        ...own,
        ...this.optionViews.flatMap((view) => this.newIn(view, said)),
      ];
      return sortFindings(
        outsideConflicts([...all, ...this.leftOut], this.reading.build.files),
        this,
      );
    });
  }

  *advising(): Generator<undefined> {
    for (const asked of this.toAdvise) {
      if (asked.advised) continue;
      asked.needs;
      yield;
    }
    // Somebody else may have asked for it before.
    if (!this.lacking) return;
    this.lacking = false;
    this.once.delete(soFar);
    yield;
  }

  get leftOut(): readonly Finding[] {
    const { leftOut, workshop } = this.reading;
    const found = leftOut.finding(workshop.patience.seconds);
    return found === undefined ? [] : this.inWords([found]);
  }

  /** Those there is time for, one by one. */
  private *inTime(units: Iterable<RowResult>): Generator<RowResult> {
    const { patience } = this.reading.workshop;
    for (const unit of units) {
      pause(patience);
      const { file, item } = unit.of.placed;
      if (patience.isUp()) this.reading.leftOut.note("objections", file.uri, item);
      else yield unit;
    }
  }

  /** Whether the findings so far were told without some advice. */
  private lacking = false;

  private get toAdvise(): readonly Asked[] {
    const inOptions = this.optionViews.flatMap(({ open }) => open);
    return [...this.asked, ...this.ownFindings.open, ...inOptions];
  }

  valueAt(path: string): Value | undefined {
    const known = this.lazily("values by path", () => new Map<string, Value | undefined>());
    if (!known.has(path)) known.set(path, this.lookUp(path));
    return known.get(path);
  }

  figureOf(thing: Thing, field: string): Value | undefined {
    return this.valueOf(thing.id.figure(field));
  }

  get binder(): Binder {
    return this.lazily("binder", () => Binder.reading(this.reading));
  }

  get names(): object {
    return this.reading.names;
  }

  stateOf(top: ThingId): object {
    return this.states.get(top) ?? this.firstState;
  }

  has(thing: Thing): boolean {
    return this.unitOf.get(thing.top.id)?.of.row.thing === thing.top;
  }

  each(kind: string): readonly Thing[] {
    return this.reading.each(kind);
  }

  writtenIn(items: ReadonlySet<Item>): readonly Thing[] {
    return this.units.flatMap(({ of: { row } }) =>
      row.thing !== undefined && this.reading.isWrittenBy(row.thing.id, items)
        ? everythingIn(row.thing)
        : [],
    );
  }

  checksOf(thing: ThingId): readonly CheckResult[] {
    const checks = this.unitOf.get(thing.top)?.checks ?? [];
    return checks.filter((check) => check.thing?.id === thing);
  }

  besides(other: Analysis): Pick<Analysis, "checks" | "wanted"> {
    if (!(other instanceof BuildAnalysis)) return this;
    const { come } = differing(other, this);
    return {
      checks: come.flatMap(({ checks }) => checks),
      wanted: this.wantedIn(come),
    };
  }

  private wantedIn(units: readonly RowResult[]): Value[] {
    return units.flatMap((unit) => unit.wanted.flatMap((figure) => this.valueOf(figure) ?? []));
  }

  thingAt(path: string): Thing | undefined {
    const target = this.resolve(path);
    return target.is === "thing" ? target.thing : undefined;
  }

  under(option: string): BuildAnalysis | undefined {
    if (!this.options.some(({ name }) => name === option)) return undefined;
    return this.variant(`option ${option}`, { is: "option", name: option });
  }

  trying(lines: string): Analysis {
    return this.with({ is: "lines", item: trialItem(lines), uri: this.rootUri });
  }

  choose(request: ChooseRequest, control: ChoiceControl = {}): Promise<ChooseAnswer> {
    return chooseThings(this, request, control);
  }

  /** The hardest level at which a check that fails is an error. */
  get hardestLevel(): FitLevel {
    const { worst, rss } = this.writer.levels;
    return worst === "error" ? "worst" : rss === "error" ? "rss" : "nominal";
  }

  asBuilt(): Analysis {
    return this.variant("as built", { is: "as built" });
  }

  write(value: Value): string {
    if (value.word !== undefined)
      return typeof value.word === "boolean" ? (value.word ? "yes" : "no") : value.word;
    return value.written ?? this.writer.value(value.si, value.measure);
  }

  /** The same build with something more laid over it; itself where nothing speaks of that. */
  with(overlay: Overlay, earlier?: BuildAnalysis): BuildAnalysis {
    const { reading } = this;
    if (!isSpokenOf(reading.placed, overlay)) return this;
    const { build, overlays, workshop } = reading;
    const over = [...overlays, overlay];
    // What was laid over the build before its last edit is nearer than the build itself.
    const laid =
      earlier === undefined
        ? Reading.of(build, over, workshop, reading)
        : Reading.of(build, over, workshop, earlier.reading, reading);
    return new BuildAnalysis({ ...this.parts, reading: laid }, { before: this, earlier });
  }

  /** The value of a figure, where anything in the build speaks of it. */
  valueOf(figure: FigureId): Value | undefined {
    const own = this.unitOf.get(figure.thing.top)?.valueOf(figure);
    if (own !== undefined) return own;
    if (!this.reading.cells.has(figure)) return undefined;
    const { reading, writer } = this;
    const pieces = (id: FigureId) => piecesFor(reading, id, writer);
    return new FigureValue({ reading, writer, piecesOf: pieces }, figure);
  }

  // ── helpers ──

  private variant(key: string, overlay: Overlay): BuildAnalysis {
    const made = this.variants.get(key) ?? this.with(overlay, this.earlier.get(key));
    if (made !== this) this.variants.set(key, made);
    return made;
  }

  private wordOf(thing: Thing, field: string): Value | undefined {
    return this.unitOf.get(thing.top.id)?.wordOf(thing, field);
  }

  private resolve(path: string): Target {
    const names = path.split(".").map((text) => ({ type: "name" as const, text, span: nowhere }));
    return this.binder.resolve(undefined, this.rootUri, names);
  }

  /** Most values are called by their own paths; what goes by another name is looked for after that. */
  private lookUp(path: string): Value | undefined {
    const owned = this.owned(path);
    if (owned !== undefined) return owned;
    const target = this.resolve(path);
    if (target.is !== "field") return undefined;
    const { thing, field, part } = target;
    const figure = thing.id.figure(part === undefined ? field.name : `${field.name}.${part.name}`);
    return this.valueOf(figure) ?? this.knownWord(thing, field.name);
  }

  private owned(path: string): Value | undefined {
    const tops = this.lazily("things at the top by path", () => {
      const found = new Map<string, Thing>();
      for (const {
        of: { row },
      } of this.units)
        if (row.thing !== undefined) found.set(row.thing.path, row.thing);
      return found;
    });
    for (let end = path.indexOf("."); end > 0; end = path.indexOf(".", end + 1)) {
      const top = tops.get(path.slice(0, end));
      const value = top && this.within(top, path.slice(end + 1).split("."));
      if (value !== undefined) return value;
    }
    return undefined;
  }

  private within(top: Thing, steps: readonly string[]): Value | undefined {
    let at = top;
    for (let done = 0; done < steps.length; done++) {
      const key = steps.slice(done).join(".");
      const figure = this.valueOf(at.id.figure(key));
      if (figure !== undefined) return figure;
      if (done === steps.length - 1) return this.knownWord(at, key);
      const [name = "", number = ""] = steps.slice(done);
      const item = at.lists.get(name)?.[Number(number) - 1];
      if (item !== undefined) done++;
      const next = item ?? at.parts.get(name) ?? at.standIns.get(name) ?? at.children.get(name);
      if (next === undefined) return undefined;
      at = next;
    }
    return undefined;
  }

  /** A word that something in the build reads. */
  private knownWord(thing: Thing, field: string): Value | undefined {
    if (this.wordsRead.get(thing.id)?.has(field) !== true) return undefined;
    return this.unitOf.get(thing.top.id)?.wordOf(thing, field);
  }

  /** Words that something in the build reads, by the thing they belong to. */
  private get wordsRead(): ReadonlyMap<ThingId, ReadonlySet<string>> {
    return this.lazily("words read", () => {
      const words = new Map<ThingId, Set<string>>();
      for (const {
        of: { row },
      } of this.units)
        for (const [thing, fields] of row.words)
          for (const field of fields) add(words, thing, field);
      return words;
    });
  }

  /** Things that figures or words are spoken of, with their owners: of stand-ins, those that count. */
  private get named(): ReadonlySet<ThingId> {
    return this.lazily("named", () => {
      const named = new Set<ThingId>();
      const name = (id: ThingId): void => {
        for (let at: ThingId | undefined = id; at !== undefined; at = at.owner) {
          if (named.has(at)) return;
          named.add(at);
        }
      };
      for (const {
        of: { row },
      } of this.units) {
        for (const { thing } of row.figures) name(thing);
        for (const thing of row.words.keys()) name(thing);
      }
      return named;
    });
  }

  // ── findings ──

  /** What is wrong with names and values, and for what failed why; options and records aside. */
  private get aroundOwn(): readonly Finding[] {
    return this.lazily("around own findings", () => [
      ...this.syntaxFindings(),
      ...this.inWords(this.parts.outside),
      ...this.inWords(this.misclosures()).map(mildly),
      ...this.inWords(this.unusualReadings()),
      ...this.furtherFindings(),
    ]);
  }

  private get ownFindings(): OwnFindings {
    return this.lazily("own findings", () => this.findingsIn(this.units, this.reading.findings));
  }

  /** The same of some of its units, and of some lines; `prices`: whether other currencies are among them. */
  findingsIn(units: readonly RowResult[], ofLines: readonly Found[], prices = true): OwnFindings {
    const findings = new Findings();
    for (const finding of ofLines) findings.add(finding);
    for (const each of this.reading.misclosed) {
      const apart = misclosure(each, this.contextOf(each.cell));
      if (apart !== undefined) findings.add(apart);
    }
    const contradictions: Contradiction[] = [];
    const contradicts = (each: Contradiction | undefined): void => {
      if (each === undefined) return;
      contradictions.push(each);
      findings.add(each.finding);
    };
    const failures = new Map<FigureId, Found>();
    const places = new Set<Anchor>();
    const bad = badCells(this.inTime(units));
    for (const cell of contradictory(this.reading, bad)) {
      const context = this.contextOf(cell);
      const repairs = repairsOf(context.solved);
      const misclosed = misclosedAsWritten(cell, (figure) => this.reading.figure(figure));
      const between = misclosed && misclosure(misclosed, context);
      if (between !== undefined) findings.add(between);
      for (const conflict of cell.solution.conflicts) {
        if (between !== undefined && isBetween(conflict, misclosed?.readings, cell)) continue;
        const doubted = doubtedInput(conflict, context);
        if (doubted !== undefined) findings.add(doubted);
        else contradicts(contradicted(conflict, repairs, context));
      }
    }
    for (const cell of badCells(this.inTime(this.units))) {
      const context = this.contextOf(cell);
      for (const [number, failure] of cell.solution.failures.entries()) {
        const against = againstDefault(failure, context);
        const finding =
          against?.finding ?? doubtedInput(failure, context) ?? failureFinding(failure, context);
        if (finding === undefined) continue;
        if (bad.has(cell)) {
          if (against === undefined) findings.add(finding);
          else contradicts(against);
        }
        places.add(finding.anchor);
        // What would follow from it fails with it.
        for (const [variable, determination] of cell.solution.determinations.entries()) {
          const figure = cell.keys[variable];
          if (determination.how !== "failed" || determination.failure !== number) continue;
          if (figure !== undefined) failures.set(figure, finding);
        }
      }
    }
    for (const unit of this.inTime(units))
      for (const finding of unit.findings) findings.add(finding);
    // Amounts are compared all over the build, and kits serve all of it.
    const currencies = prices
      ? currencyFinding(this.units.flatMap((unit) => unit.priced))
      : undefined;
    if (currencies !== undefined) findings.add(currencies);
    const kits = allotments(this.reading);
    if (kits.size > 0 && units.some(({ of: { row } }) => row.stacks.length > 0)) {
      const value = (figure: FigureId) => this.valueOf(figure);
      for (const finding of stackFindings(kits, value)) findings.add(finding);
    }
    const own = new Set(units.flatMap((unit) => unit.open.map(({ anchor }) => anchor)));
    if (own.size === 0)
      return { list: findings.list, contradictions, open: [], missing: () => [], failures };
    // What failed says so at this very place; what is wrong with a thing's words is behind its gaps.
    const told = new Set(
      [
        ...findings.list,
        ...this.reading.findings,
        ...this.units.flatMap((unit) => unit.findings),
      ].flatMap((found) => (/^(?:name|unit|value)\//.test(found.is) ? [found.anchor.item] : [])),
    );
    // One cause is told once, whoever else it is behind: groups are made of all there is.
    const advised = new Map(this.askedIn(this.units).map((each) => [each.anchor, each]));
    const open = this.units
      .flatMap((unit) => unit.missing(failureIn(failures)))
      .filter(({ asked }) => !places.has(asked.anchor))
      .map((each) => ({ ...each, asked: advised.get(each.asked.anchor) ?? each.asked }));
    const missing = () => missingFindings(open, told, own);
    return {
      list: findings.list,
      contradictions,
      open: open.map(({ asked }) => asked),
      missing,
      failures,
    };
  }

  /** What is asked for in some of its units, without the ways that lead over what is open itself. */
  askedIn(units: readonly RowResult[]): Asked[] {
    return withoutOpen(
      units.flatMap((unit) => unit.asked),
      this.units.flatMap((unit) => unit.open),
    );
  }

  /** The same words at the same place are told once. */
  inWords(found: readonly Found[]): Finding[] {
    const told = new Map<string, Finding>();
    const items = new Map<object, number>();
    for (const each of found) {
      const finding = worded(each, this.writer);
      if (finding === undefined) continue;
      const { uri, item, span } = finding.anchor;
      const number = items.get(item) ?? items.size;
      items.set(item, number);
      const key = `${number} ${finding.code} ${uri} ${span.start} ${finding.message}`;
      if (!told.has(key)) told.set(key, finding);
    }
    return [...told.values()];
  }

  private contextOf(cell: BuildCell): FindingContext & CheckSource {
    const { reading, writer } = this;
    return {
      reading,
      writer,
      solved: new SolvedCell(reading, cell),
      asks: this.asks,
      orderOf: (anchor) => orderOf(reading, anchor),
      valueIn: () => undefined,
    };
  }

  private get asks(): readonly Ask[] {
    return this.lazily("asks", () => this.units.flatMap(({ of: { row } }) => row.asks));
  }

  /** Why a value that should have come out did not. */
  private failureBehind(value: Value): Found | undefined {
    return failureIn(this.ownFindings.failures)(value);
  }

  /** What goes wrong with an option and not without it. */
  private newIn({ option, findings, missing }: OptionView, said: ReadonlySet<string>): Finding[] {
    return this.inWords([...findings, ...missing()])
      .filter(({ code, message }) => !said.has(`${code} ${message}`))
      .map((finding) => ofOption(finding, option));
  }

  /** Readings on record that do not agree with one another: looked at as built. */
  private misclosures(): Found[] {
    if (this.reading.overlays.length > 0 || this.records.length === 0) return [];
    // Readings of what hangs together in the spec: others contradict nothing but the spec.
    const read = new Map<BuildCell, FigureId>();
    const joined = measurementsOf(this).some(({ value }) => {
      const cell = value instanceof FigureValue ? this.reading.cells.cellOf(value.id) : undefined;
      if (cell === undefined || !(value instanceof FigureValue)) return false;
      const before = read.get(cell);
      read.set(cell, value.id);
      return before !== undefined && before !== value.id;
    });
    const built = joined ? this.asBuilt() : this;
    if (!(built instanceof BuildAnalysis) || built === this) return [];
    return built.reading.misclosed.flatMap(
      (each) => misclosure(each, built.contextOf(each.cell)) ?? [],
    );
  }

  /** What is on record is looked at where it is written, as all that is given. */
  private unusualReadings(): Found[] {
    if (this.reading.overlays.length > 0) return [];
    return measurementsOf(this).flatMap(({ value, entry, figure }) => {
      const own = value instanceof FigureValue ? this.reading.figure(value.id) : undefined;
      return (own && outOfRange({ ...own, entry, figure })) ?? [];
    });
  }

  /** What each option says by itself; nothing while looking at one. */
  private get optionViews(): readonly OptionView[] {
    if (this.reading.overlays.length > 0) return [];
    const { patience } = this.reading.workshop;
    return this.options.flatMap((option) => {
      if (this.views.has(option.name)) return this.views.get(option.name) ?? [];
      pause(patience);
      const view = patience.isUp() ? undefined : optionView(this, option);
      // What there was no time to end says too little.
      if (patience.isUp()) {
        this.reading.leftOut.note("options", option.anchor.uri, option.anchor.item);
        return [];
      }
      this.views.set(option.name, view);
      return view ?? [];
    });
  }

  /** A fault in what looks further is told, and takes nothing else with it. */
  private furtherFindings(): Finding[] {
    const { further, reading } = this.parts;
    const { patience } = reading.workshop;
    if (reading.overlays.length > 0) return [];
    return further.flatMap((look) => {
      pause(patience);
      if (patience.isUp()) {
        const [item] = reading.build.root.source.items;
        if (item !== undefined) this.reading.leftOut.note("order of work", this.rootUri, item);
        return [];
      }
      try {
        return this.inWords(look(this));
      } catch (error) {
        if (error instanceof TakenBack) throw error;
        const [item] = reading.build.root.source.items;
        const why = error instanceof Error ? error.message : String(error);
        const span = { start: 0, end: 0 };
        return item === undefined
          ? []
          : this.inWords([{ is: "build/fault", why, anchor: { uri: this.rootUri, item, span } }]);
      }
    });
  }

  private syntaxFindings(): Finding[] {
    const found: Found[] = [];
    for (const { uri, source } of this.reading.build.files) {
      for (const item of source.items) {
        for (const { span, ...fact } of item.problems)
          found.push({ ...fact, anchor: { uri, item, span } });
      }
    }
    return this.inWords(found);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** Whether nothing but readings take part. */
function isBetween(
  { givens }: Conflict,
  readings: ReadonlySet<FigureId> | undefined,
  { keys }: BuildCell,
): boolean {
  return givens.every(({ variable }) => {
    const figure = keys[variable];
    return figure !== undefined && readings?.has(figure) === true;
  });
}

/** Cells in which something contradicts or fails. */
function badCells(units: Iterable<RowResult>): ReadonlySet<BuildCell> {
  const bad = new Set<BuildCell>();
  for (const unit of units) for (const cell of unit.bad) bad.add(cell);
  return bad;
}

/** A record never makes the spec wrong. */
function mildly(finding: Finding): Finding {
  return { ...finding, severity: finding.severity === "error" ? "warning" : finding.severity };
}

interface UnitSource {
  readonly from: BuildAnalysis;
  readonly edited: boolean;
  /** The cells that are others than there, where that is known. */
  readonly opened: ReadonlySet<BuildCell["core"]> | undefined;
}

/** Units that still hold are those of an analysis that is much the same. */
function unitsOf(reading: Reading, bench: Bench, alike: readonly UnitSource[]): RowResult[] {
  const sources = alike.map(({ from, edited, opened }) => {
    const changed = reading.changedSince(from.reading);
    return { edited, opened, units: from.unitOfRow, changed };
  });
  return reading.rows.map((of) => {
    for (const { units, changed, edited, opened } of sources) {
      const known = units.get(of.row);
      if (known?.holdsIn(reading, changed, opened) !== true) continue;
      // What is kept of an edited build need not hold on to the build before the edit.
      if (edited) known.reading = reading;
      return known;
    }
    return new RowResult(of, reading, bench);
  });
}

/** Units of which one analysis has others than another. */
export function differing(
  before: BuildAnalysis,
  after: BuildAnalysis,
): { readonly gone: readonly RowResult[]; readonly come: readonly RowResult[] } {
  const without = (one: BuildAnalysis, other: BuildAnalysis): RowResult[] =>
    one.units.filter((unit) => other.unitOfRow.get(unit.of.row) !== unit);
  return { gone: without(before, after), come: without(after, before) };
}

/** Things at the top that are others, or that a row speaks of that comes to something else. */
function movedBy(
  { gone, come }: ReturnType<typeof differing>,
  changed: ReadonlySet<ThingId>,
): ReadonlyMap<ThingId, object> {
  const state = {};
  const moved = new Map<ThingId, object>();
  for (const top of changed) moved.set(top, state);
  for (const units of [gone, come])
    for (const {
      named,
      of: {
        row: { figures, words },
      },
    } of units) {
      for (const { thing } of figures) moved.set(thing.top, state);
      for (const { thing } of named) moved.set(thing.top, state);
      for (const thing of words.keys()) moved.set(thing.top, state);
    }
  return moved;
}

/** What is kept until more advice is worked out. */
const soFar = "findings so far";

interface OwnFindings {
  /** All but what is missing. */
  readonly list: readonly Found[];
  readonly contradictions: readonly Contradiction[];
  /** What that is told of. */
  readonly open: readonly Asked[];
  /** What is missing, with the advice there is by now. */
  missing(): readonly Found[];
  readonly failures: ReadonlyMap<FigureId, Found>;
}

const nowhere = { start: 0, end: 0 };

function failureIn(failures: ReadonlyMap<FigureId, Found>) {
  return (value: Value): Found | undefined =>
    value instanceof FigureValue ? failures.get(value.id) : undefined;
}

const allotted = new WeakMap<Reading, ReadonlyMap<FigureId, Allotment>>();

/** What every figure that is put together from a kit gets of it. */
function allotments(reading: Reading): ReadonlyMap<FigureId, Allotment> {
  let found = allotted.get(reading);
  if (found === undefined) {
    const stacks = reading.rows.flatMap(({ row }) => row.stacks);
    found = stacks.length === 0 ? new Map() : allotmentsOf(stacks, reading);
    allotted.set(reading, found);
  }
  return found;
}

/** `0.018 in + 0.007 in` for a figure that is put together from a kit. */
function piecesFor(reading: Reading, figure: FigureId, writer: Writer): string | undefined {
  const allotment = allotments(reading).get(figure);
  return allotment === undefined ? undefined : piecesInWords(piecesOf(allotment), writer);
}

function orderOf({ build }: Reading, { uri, item, span }: Anchor): readonly number[] {
  const number = build.files.findIndex((file) => file.uri === uri);
  const offset = build.files[number]?.source.offsetOf(item) ?? 0;
  return [number === 0 ? 1 : 0, number, offset + span.start];
}

/** A thing and what is in it, stand-ins as far as anything speaks of them. */
function* namedIn(thing: Thing, named: ReadonlySet<ThingId>): Generator<Thing> {
  yield thing;
  for (const part of thing.parts.values()) {
    if (!lends(thing, part) || named.has(part.id)) yield* namedIn(part, named);
  }
  for (const field of thing.standIns.size === 0 ? [] : thing.kind.fields.keys()) {
    const standIn = thing.standIns.get(field);
    if (standIn !== undefined && (standIn.spoken || named.has(standIn.id)))
      yield* namedIn(standIn, named);
  }
  for (const child of thing.children.values()) yield* namedIn(child, named);
  for (const items of thing.lists.values()) for (const item of items) yield* namedIn(item, named);
}

/** What nobody wrote into only lends its names, and so do its parts. */
function lends(owner: Thing, part: Thing): boolean {
  if (part.spoken) return false;
  for (let at: Thing | undefined = owner; at !== undefined; at = at.owner)
    if (at.implied && !at.spoken) return true;
  return false;
}

function inFieldOrder(thing: Thing, values: readonly Value[]): Value[] {
  const order = new Map([...thing.kind.fields.keys()].map((name, index) => [name, index]));
  const placeOf = ({ path }: Value): number =>
    order.get(path.slice(thing.path.length + 1).split(/[.[]/)[0] ?? "") ?? order.size;
  return [...values].sort(
    (one, other) => placeOf(one) - placeOf(other) || (one.path < other.path ? -1 : 1),
  );
}

function add<K, V>(sets: Map<K, Set<V>>, key: K, value: V): void {
  const set = sets.get(key);
  if (set === undefined) sets.set(key, new Set([value]));
  else set.add(value);
}

/** Options are called by their names alone, whichever file they stand in. */
export function repeatedOptions(build: BuildFiles): Found[] {
  const first = new Map<string, OptionInfo["anchor"]>();
  const findings: Found[] = [];
  for (const file of build.files) {
    for (const item of file.source.items) {
      const { node } = item;
      if (node.type !== "option" || node.name.text === "") continue;
      const anchor = { uri: file.uri, item, span: node.name.span };
      const before = first.get(node.name.text);
      if (before === undefined) {
        first.set(node.name.text, anchor);
        continue;
      }
      findings.push({ is: "name/duplicate option", name: node.name.text, before, anchor });
    }
  }
  return findings;
}

function optionsOf(build: BuildFiles): OptionInfo[] {
  const options = new Map<string, OptionInfo>();
  for (const file of build.files) {
    for (const item of file.source.items) {
      const { node } = item;
      if (node.type !== "option" || node.name.text === "" || options.has(node.name.text)) continue;
      options.set(node.name.text, {
        name: node.name.text,
        title: node.title?.value,
        anchor: { uri: file.uri, item, span: node.name.span },
      });
    }
  }
  return [...options.values()];
}

function recordsOf(build: BuildFiles): RecordInfo[] {
  return build.files.flatMap((file) =>
    file.source.items.flatMap((item) =>
      item.node.type === "record"
        ? [
            {
              title: item.node.title?.value,
              date: item.node.date?.text,
              node: item.node,
              anchor: { uri: file.uri, item, span: item.node.span },
            },
          ]
        : [],
    ),
  );
}
