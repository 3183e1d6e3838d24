/**
 * One reading of a build as everybody reads it: what its rows come to put together, its options
 * and the as-built view beside the spec.
 *
 * Must not know: how files are read, what is kept between readings.
 */

import type { Item, SourceFile } from "../../grammar/syntax";
import type { Finding } from "../findings/finding";
import type { Found } from "../findings/worded";
import type { Writer } from "../findings/writer";
import { LayeredMap } from "../keep/layered-map";
import { Binder } from "../model/binder";
import { everythingIn } from "../model/elaborate";
import type { Ask } from "../model/model";
import type { Thing } from "../model/thing";
import type { FigureId, ThingId } from "../names/ids";
import type { ChoiceControl } from "../solve/choose";
import type { FitLevel } from "../solve/system";
import type { DisplayStyle } from "../units";
import type {
  Analysis,
  Besides,
  CheckResult,
  Contradiction,
  CurveResult,
  MissingValue,
  OptionInfo,
  RecordInfo,
  Value,
} from "./analysis";
import type { AnalysesBeside, AnalysisParts } from "./analysis-parts";
import { type Asked, withoutOpen } from "./asked";
import { besidesOf } from "./besides";
import { BuildFindings } from "./build-findings";
import { BuildIndexes } from "./build-indexes";
import type { ChooseAnswer, ChooseRequest } from "./choose-request";
import { chooseThings } from "./choose-things";
import { FigureValue } from "./figure-value";
import type { BuildFile, BuildFiles } from "./files";
import { piecesFor } from "./kits";
import { LaidOver } from "./laid-over";
import type { OptionView } from "./option-views";
import { optionsOf, recordsOf } from "./options-and-records";
import { isSpokenOf, type Overlay, trialItem } from "./overlay";
import { Reading } from "./reading";
import { differing, movedBy, resultsOf } from "./results-kept";
import { orderOf } from "./row-findings";
import type { Bench, RowResult } from "./row-result";
import { toldOnce } from "./told-once";
import { ValuesByPath } from "./values-by-path";

export class BuildAnalysis implements Analysis {
  readonly core: object = {};
  readonly rootUri: string;
  readonly files: ReadonlyMap<string, BuildFile>;
  readonly style: DisplayStyle;
  readonly options: readonly OptionInfo[];
  readonly records: readonly RecordInfo[];
  readonly reading: Reading;
  readonly writer: Writer;
  private readonly bench: Bench;
  /** What each row comes to, in the order of rows. */
  readonly results: readonly RowResult[];
  readonly indexes: BuildIndexes;
  private readonly byPath = new ValuesByPath(this);
  private readonly told: BuildFindings;
  private readonly laidOver: LaidOver;
  /** Of things of which something is known otherwise since the first reading, an object each time. */
  private readonly states: LayeredMap<ThingId, object>;
  /** Of all others. */
  private readonly firstState: object;

  constructor(
    readonly parts: AnalysisParts,
    { before, earlier }: AnalysesBeside = {},
  ) {
    const { reading, writer } = parts;
    const { build } = reading;
    this.reading = reading;
    this.rootUri = build.root.uri;
    this.files = new Map(build.files.map((file) => [file.uri, file]));
    this.style = writer.style;
    const styled = before?.style === this.style;
    this.writer = writer;
    this.told = new BuildFindings(this, parts);
    this.bench = styled
      ? before.bench
      : { writer, orderOf, piecesOf: (of, figure) => piecesFor(of, figure, writer) };
    const edited = parts.reading.overlays.length === before?.reading.overlays.length;
    const same = before?.reading.build === build ? before : undefined;
    this.options = same?.options ?? optionsOf(build);
    this.records = same?.records ?? recordsOf(build);
    const { opened } = reading;
    const sources = [
      earlier?.bench === this.bench ? { from: earlier, edited: true, opened } : undefined,
      // The reading was made from the earlier one, where there is one.
      styled
        ? { from: before, edited, opened: earlier === undefined ? opened : undefined }
        : undefined,
    ];
    const alike = sources.filter((source) => source !== undefined);
    this.results = resultsOf(reading, this.bench, alike);
    this.indexes = alike[0]?.from.indexes.of(this.results) ?? new BuildIndexes(this.results);
    const edit = styled && edited ? differing(before, this) : undefined;
    const moved = edit && movedBy(edit, reading.changedSince(before?.reading));
    this.states =
      before === undefined || moved === undefined
        ? LayeredMap.of(new Map())
        : before.states.with(moved);
    this.firstState = moved === undefined ? this : (before?.firstState ?? this);
    const kept = edit === undefined ? undefined : before?.laidOver.viewsKept(edit, this);
    this.laidOver = new LaidOver(this, edited ? before.laidOver : undefined, kept);
  }

  /**
   * The same of texts that say the same: nothing but places in them is another, and nobody looks at
   * anything again.
   */
  movedTo(build: BuildFiles): BuildAnalysis {
    const reading = this.reading.movedTo(build);
    const files = new Map(build.files.map((file) => [file.uri, file]));
    const parts = { ...this.parts, reading };
    const moved: BuildAnalysis = Object.create(BuildAnalysis.prototype);
    Object.assign(moved, this, { parts, reading, files });
    return Object.assign(moved, {
      told: this.told.movedTo(moved),
      laidOver: this.laidOver.movedTo(moved),
    });
  }

  /** What a thing at the top comes to. */
  private resultOf(top: ThingId): RowResult | undefined {
    return this.indexes.resultOf(top);
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
    return this.byPath.things;
  }

  get values(): ReadonlyMap<string, Value> {
    return this.byPath.values;
  }

  get wanted(): readonly Value[] {
    return this.lazily("wanted", () => this.wantedIn(this.results));
  }

  get asked(): readonly Asked[] {
    return this.lazily("asked", () =>
      withoutOpen(
        [...this.results.flatMap((result) => result.asked), ...this.inOptions],
        this.open,
      ),
    );
  }

  askedIn(items: ReadonlySet<Item>): readonly Asked[] {
    const own = this.indexes.askingIn(items).flatMap(({ asked }) => asked);
    const here = [...own, ...this.inOptions].filter(({ anchor }) => items.has(anchor.item));
    return withoutOpen(here, this.open);
  }

  isAskedFor(value: Value): boolean {
    if (value instanceof FigureValue && this.indexes.isAskedFor(value.id)) return true;
    return this.inOptions.some((each) => each.value.path === value.path);
  }

  /** What is asked for and open. */
  get open(): readonly Asked[] {
    return this.lazily("open", () => {
      const inOptions = this.inOptions.filter(({ value }) => value.standing === "missing");
      return [...this.ownOpen, ...inOptions];
    });
  }

  private get ownOpen(): readonly Asked[] {
    return this.lazily("own open", () => {
      const open: Asked[] = [];
      for (const result of this.results) for (const each of result.open) open.push(each);
      return open;
    });
  }

  private get inOptions(): readonly Asked[] {
    return this.lazily("asked in options", () => this.optionViews.flatMap(({ asked }) => asked));
  }

  get workedOut(): number {
    return this.lazily("worked out", () => {
      const figures = new Set<FigureId>();
      for (const result of this.results) for (const figure of result.workedOut) figures.add(figure);
      return figures.size;
    });
  }

  get checks(): readonly CheckResult[] {
    return this.lazily("checks", () => this.results.flatMap((result) => result.checks));
  }

  get curves(): readonly CurveResult[] {
    return this.lazily("curves", () => this.results.flatMap((result) => result.curves));
  }

  get contradictions(): readonly Contradiction[] {
    return this.told.contradictions;
  }

  get missing(): readonly MissingValue[] {
    return this.told.missing;
  }

  get findings(): readonly Finding[] {
    return this.told.findings;
  }

  get findingsSoFar(): readonly Finding[] {
    return this.told.findingsSoFar;
  }

  advising(): Iterable<undefined> {
    return this.told.advising();
  }

  get leftOut(): readonly Finding[] {
    return this.told.leftOut;
  }

  valueAt(path: string): Value | undefined {
    return this.byPath.valueAt(path);
  }

  unspokenAt(path: string): Value | undefined {
    const target = this.byPath.resolve(path);
    if (target.is !== "field") return undefined;
    const { thing, field, part } = target;
    const id = thing.id.figure(part === undefined ? field.name : `${field.name}.${part.name}`);
    const isFigure = !this.reading.cells.has(id) && this.reading.figure(id) !== undefined;
    return isFigure ? this.figureValue(id) : undefined;
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

  knownOf(figure: FigureId): readonly unknown[] {
    const { cells } = this.reading;
    const cell = cells.cellOf(figure);
    return [cells.variable(figure), cell?.core, cell?.placeOf(figure)];
  }

  has(thing: Thing): boolean {
    return this.resultOf(thing.top.id)?.of.row.thing === thing.top;
  }

  each(kind: string): readonly Thing[] {
    return this.reading.each(kind);
  }

  writtenIn(items: ReadonlySet<Item>): readonly Thing[] {
    return this.indexes
      .resultsOf(this.reading.trees.writtenBy(items))
      .flatMap(({ of: { row } }) => (row.thing === undefined ? [] : [...everythingIn(row.thing)]));
  }

  checksOf(thing: ThingId): readonly CheckResult[] {
    const checks = this.resultOf(thing.top)?.checks ?? [];
    return checks.filter((check) => check.thing?.id === thing);
  }

  besides(other: Analysis): readonly Besides[] {
    return other instanceof BuildAnalysis ? besidesOf(other, this) : [];
  }

  private wantedIn(results: readonly RowResult[]): Value[] {
    return results.flatMap((result) =>
      result.wanted.flatMap((figure) => this.valueOf(figure) ?? []),
    );
  }

  thingAt(path: string): Thing | undefined {
    const target = this.byPath.resolve(path);
    return target.is === "thing" ? target.thing : undefined;
  }

  under(option: string): BuildAnalysis | undefined {
    return this.laidOver.under(option);
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

  asBuilt(): BuildAnalysis {
    return this.laidOver.asBuilt();
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
    const own = this.resultOf(figure.thing.top)?.valueOf(figure);
    if (own !== undefined) return own;
    return this.reading.cells.has(figure) ? this.figureValue(figure) : undefined;
  }

  // ── helpers ──

  private figureValue(figure: FigureId): Value {
    const { reading, writer } = this;
    const pieces = (id: FigureId) => piecesFor(reading, id, writer);
    return new FigureValue({ reading, writer, piecesOf: pieces }, figure);
  }

  thingAtTop(id: ThingId): Thing | undefined {
    return this.resultOf(id)?.of.row.thing;
  }

  /** A word of a thing. */
  wordOf(thing: Thing, field: string): Value | undefined {
    return this.resultOf(thing.top.id)?.wordOf(thing, field);
  }

  /** What is asked for in some of its results, without the ways that lead over what is open itself. */
  askedOf(results: readonly RowResult[]): Asked[] {
    return withoutOpen(
      results.flatMap((result) => result.asked),
      this.ownOpen,
    );
  }

  inWords(found: readonly Found[]): Finding[] {
    return toldOnce(found, this.writer);
  }

  /** What each option says by itself; nothing while looking at one. */
  get optionViews(): readonly OptionView[] {
    return this.reading.overlays.length > 0 ? [] : this.laidOver.optionViews;
  }

  /** What is asked for anywhere. */
  get asks(): readonly Ask[] {
    return this.lazily("asks", () => this.results.flatMap(({ of: { row } }) => row.asks));
  }
}
