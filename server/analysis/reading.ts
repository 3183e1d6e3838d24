/**
 * One reading of a build, with or without something laid over it: its trees, the rows its things
 * and lines add, and the cells these fall into. Made from another reading by what differs; an edit
 * and an option come about in the same way.
 *
 *     const after = Reading.of(build, [], workshop, before); after.cells.cellOf(figure)
 *
 * Never written to. Must not know: how values are shown, findings about values.
 */

import type { Item } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import { inTime } from "../keep/patience";
import { Binder, type Things } from "../model/binder";
import { everythingIn } from "../model/elaborate";
import { figureOf } from "../model/known-figure";
import type { FigureEquation, ModelEquation, ModelVariable, Row } from "../model/model";
import type { Questions } from "../model/questions";
import type { Thing } from "../model/thing";
import type { FigureId, ThingId } from "../names/ids";
import type { Declaration, FileScope } from "../names/scope";
import type { Variable } from "../solve/system";
import { type LooseCells, looseCells } from "./agreed";
import { BuildCells, type Opened } from "./build-cells";
import { BuildRows, type PlacedRow } from "./build-rows";
import { BuildTrees } from "./build-trees";
import { EquationOrigins } from "./equation-origins";
import type { BuildFile, BuildFiles } from "./files";
import { HeldFigures } from "./held-figures";
import { LeftOutWork } from "./left-out";
import { onRecordIn, takenAs } from "./on-record";
import type { Overlay } from "./overlay";
import { ReadingsTogether } from "./readings-together";
import type { Misclosed, Reconciled } from "./reconciled";
import { ResultIndex } from "./result-index";
import { sameNames } from "./same-names";
import { type Placed, takenIn, takenInAs } from "./taken-in";
import { ThingsOfKind } from "./things-of-kind";
import { claimTops, type Turns, turnsIn, withTurned } from "./turned";
import type { Workshop } from "./workshop";

export class Reading implements Things {
  readonly placed: readonly Placed[];
  /** Of records only those with something wrong in them: all others add nothing. */
  readonly rows: readonly PlacedRow[];
  /** Rows of all records there are. */
  readonly records = new Map<Item, Row>();
  /**
   * With what all readings together make of each, where they say more than enough, and with what goes
   * to its farther step.
   */
  readonly cells: BuildCells;
  private readonly turns: Turns;
  /** The same with every reading as it was read. */
  readonly cellsRead: BuildCells;
  private readonly loose: LooseCells;
  private readonly together: ReadingsTogether;
  private readonly reconciled: Reconciled | undefined;
  /** What cells came to that were there in the reading before, if there was one, and are not here. */
  readonly opened: Opened | undefined;
  /** The very same object as long as the names of all files lead to the same declarations. */
  readonly names: object;
  /** What is wrong with lines that write into other things, or with things of no kind. */
  readonly findings: readonly Found[];
  private readonly made: BuildRows;
  /** Things at the top whose trees are not those of the reading before. */
  readonly changed: Set<ThingId>;
  private readonly files: ReadonlyMap<string, BuildFile>;
  readonly declared: ReadonlyMap<ThingId, Declaration>;
  readonly trees: BuildTrees;
  /** By the other reading, which is not held on to. */
  private readonly changes = new WeakMap<Reading, Set<ThingId>>();
  private readonly renames = new WeakMap<Reading, Set<string>>();
  private readonly kinds = new ThingsOfKind(this);
  private readonly finder = new Binder(this, undefined);
  private readonly held = new HeldFigures(this);
  /** What there was no time for. */
  readonly leftOut = new LeftOutWork();

  static of(
    build: BuildFiles,
    overlays: readonly Overlay[],
    workshop: Workshop,
    before?: Reading,
    /** Another reading that has much in common: what was made there is not made again. */
    beside?: Reading,
  ): Reading {
    return new Reading(build, overlays, workshop, before, beside);
  }

  /** The same where the texts of the build say the same: nothing but places in them is another. */
  movedTo(build: BuildFiles): Reading {
    takenInAs(build, this.build);
    const files = new Map(build.files.map((file) => [file.uri, file]));
    const nothing = { opened: new Map(), changed: new Set() };
    return Object.assign(Object.create(Reading.prototype), this, { build, files, ...nothing });
  }

  private constructor(
    readonly build: BuildFiles,
    readonly overlays: readonly Overlay[],
    readonly workshop: Workshop,
    before: Reading | undefined,
    further: Reading | undefined,
  ) {
    const like = before?.build.vocabulary === build.vocabulary ? before : undefined;
    const same = [before, further].find((reading) => reading?.build === build);
    const under = [before, further].find((reading) => reading?.liesUnder(build, overlays));
    this.files = same?.files ?? new Map(build.files.map((file) => [file.uri, file]));
    this.names = like !== undefined && this.renamedSince(like).size === 0 ? like.names : {};
    this.placed = takenIn(
      build,
      overlays.flatMap((overlay) => (overlay.is === "lines" ? [overlay.item] : [])),
      this.names === like?.names ? like.build : undefined,
    );
    this.declared = same?.declared ?? declarationsOf(build);
    this.trees = new BuildTrees(this, same?.trees);
    const beside = further?.build.vocabulary === build.vocabulary ? further : undefined;
    this.trees.writeAll(
      [like?.trees, beside?.trees],
      under?.placed === this.placed ? under.trees : undefined,
    );
    this.findings = [...this.trees.lines.ofSpec, ...this.trees.lines.ofOverlays];
    this.changed = this.changedSince(like);
    if (like !== undefined) this.kinds.takeOver(like.kinds, this.changed);
    this.made = new BuildRows(this, like?.made, beside?.made, this.renamedSince(like));
    const rows: PlacedRow[] = [];
    for (const [place, placed] of this.placed.entries()) {
      const row = this.made.ofPlaced[place];
      if (row === undefined) continue;
      const record = placed.item.node.type === "record";
      if (record) this.records.set(placed.item, row);
      if (!record || row.findings.length > 0) rows.push({ placed, row });
    }
    this.rows = rows;
    if (like?.claims !== undefined || like?.own !== undefined) {
      const made = rows.map(({ row }) => row);
      this.claims = like.claims?.of(made);
      this.own = like.own?.of(made);
    }
    const dropped = like?.made.otherThan(this.made) ?? [];
    const taken = like === undefined ? this.adding : this.made.otherThan(like.made);
    this.cellsRead = (like?.cellsRead ?? BuildCells.none(workshop.plans)).change({
      dropped,
      taken,
      rows: this.rows,
      touched: this.figuresOf(this.changed),
      variableOf: (figure) => this.variableOf(figure),
    });
    this.loose = looseCells(this.cellsRead, like?.loose);
    this.together = new ReadingsTogether(
      {
        isAsBuilt: this.isAsBuilt,
        changed: this.changed,
        rows,
        cells: this.cellsRead,
        loose: this.loose,
        onRecord: () => this.onRecord(),
        figureOf: (id) => this.figureRead(id),
        variableOf: (id) => this.variableOf(id),
      },
      like?.together,
    );
    this.reconciled = this.together.made;
    const { nearest } = this;
    const asNear = nearest === this.cellsRead;
    this.turns = inTime(
      () =>
        turnsIn({
          cells: nearest,
          claiming: (tops) => this.claiming(tops),
          before: like?.turns,
          fresh: asNear ? nearest.fresh : [...this.cellsRead.fresh, ...nearest.fresh],
          other: [...dropped, ...taken],
        }),
      new Map(),
    );
    this.cells = withTurned(nearest, this.turns, this.rows);
    for (const top of this.movedBeside(like)) this.changed.add(top);
    this.opened = like && this.openedSince(like);
  }

  /** By the things at the top that their checks speak of. */
  private claims: ResultIndex<ThingId, Row> | undefined;
  /** By the thing at the top that they are of. */
  private own: ResultIndex<ThingId, Row> | undefined;

  private claiming(tops: ReadonlySet<ThingId>): Row[] {
    this.claims ??= ResultIndex.of(
      this.rows.map(({ row }) => row),
      claimTops,
    );
    return this.claims.inAny(tops).flatMap((place) => this.rows[place]?.row ?? []);
  }

  private openedSince(like: Reading): Opened {
    const { cells, cellsRead } = this;
    const steps = [this.nearest, cells].filter((step) => step !== cellsRead);
    if (steps.length === 0 && like.cells === like.cellsRead) return cellsRead.opened;
    const opened = new Map(cellsRead.opened);
    // What is made otherwise than read may be so in one of the two only.
    for (const step of [like.nearest, like.cells])
      if (step !== like.cellsRead) for (const { core, keys } of step.fresh) opened.set(core, keys);
    for (const step of steps) for (const [core, keys] of step.opened) opened.set(core, keys);
    for (const [core, keys] of opened)
      if (keys.some((key) => cells.cellOf(key)?.core === core)) opened.delete(core);
    return opened;
  }

  /** With what all readings together make of each, and everything made on its nearest step. */
  private get nearest(): BuildCells {
    return this.reconciled?.cells ?? this.cellsRead;
  }

  /** Of records there is nothing that could be solved. */
  private get adding(): readonly PlacedRow[] {
    return this.records.size === 0
      ? this.rows
      : this.rows.filter(({ placed }) => placed.item.node.type !== "record");
  }

  /** What is wrong with the lines alone that are laid over the build. */
  get findingsLaidOver(): readonly Found[] {
    return this.trees.lines.ofOverlays;
  }

  /** What was asked to find out what those write into. */
  get laidOver(): readonly Questions<Binder>[] {
    return this.trees.lines.asked;
  }

  /** Whether it is the same build with all but the last of some overlays. */
  private liesUnder(build: BuildFiles, overlays: readonly Overlay[]): boolean {
    return (
      this.build === build &&
      this.overlays.length === overlays.length - 1 &&
      this.overlays.every((overlay, at) => overlay === overlays[at])
    );
  }

  // ── names ──

  get vocabulary() {
    return this.build.vocabulary;
  }

  scopeOf(uri: string): FileScope | undefined {
    return this.files.get(uri)?.scope;
  }

  treeOf(top: ThingId): Thing | undefined {
    return this.trees.tree(top)?.thing;
  }

  thing(id: ThingId): Thing | undefined {
    return this.finder.thing(id);
  }

  *everything(): Generator<Thing> {
    for (const { declaration } of this.placed) {
      const thing = declaration && this.treeOf(declaration.id);
      if (thing !== undefined) yield* everythingIn(thing);
    }
  }

  each(kind: string): readonly Thing[] {
    return this.kinds.each(kind);
  }

  // ── figures ──

  /** What is known of a figure: from its thing alone, but where readings on record say more. */
  figure(id: FigureId): ModelVariable | undefined {
    const own = this.figureRead(id);
    const taken = this.reconciled?.taken;
    if (own === undefined || taken?.has(id) !== true) return own;
    let figure = this.takenFigures.get(own);
    if (figure === undefined) {
      figure = { ...own, variable: takenAs(own.variable, taken.get(id)) };
      this.takenFigures.set(own, figure);
    }
    return figure;
  }

  private readonly takenFigures = new Map<ModelVariable, ModelVariable>();

  /** Whether records stand in for what they measured. */
  get isAsBuilt(): boolean {
    return this.overlays.some(({ is }) => is === "as built");
  }

  /** Whether the readings together make another figure of it than what is written. */
  isTaken(id: FigureId): boolean {
    return this.reconciled?.taken.has(id) === true;
  }

  /** Readings that do not agree with one another. */
  get misclosed(): readonly Misclosed[] {
    return this.reconciled?.misclosed ?? [];
  }

  /** Figures of the build that a record says something of. */
  private *onRecord(): Generator<FigureId> {
    for (const top of this.trees.lines.written.keys())
      for (const figure of onRecordIn(this.trees.tree(top), this.workshop.pool))
        if (this.cellsRead.has(figure)) yield figure;
  }

  /** Things of which a figure is taken otherwise, here or in another reading. */
  private movedBeside(other: Reading | undefined): Set<ThingId> {
    const tops = new Set<ThingId>();
    for (const taken of [this.reconciled?.taken, other?.reconciled?.taken])
      for (const id of taken?.keys() ?? []) tops.add(id.thing.top);
    return tops;
  }

  private figureRead(id: FigureId): ModelVariable | undefined {
    const thing = this.thing(id.thing);
    const own = thing && figureOf(thing, id.key, this.workshop.pool);
    return own && this.held.of(own);
  }

  /** Why an equation is there. */
  originOf(equation: FigureEquation): ModelEquation | undefined {
    this.origins ??= new EquationOrigins(this.rows, (top) => this.rowOf(top));
    return this.origins.of(equation);
  }

  private origins: EquationOrigins | undefined;

  private rowOf(top: ThingId): Row | undefined {
    this.own ??= ResultIndex.of(
      this.rows.map(({ row }) => row),
      ownTop,
    );
    for (const place of this.own.placesOf(top)) {
      const row = this.rows[place]?.row;
      if (row?.thing?.id === top) return row;
    }
    return undefined;
  }

  private variableOf(id: FigureId): Variable {
    return this.figure(id)?.variable ?? { name: id.name, scale: 1, askedFirst: false };
  }

  private *figuresOf(tops: Iterable<ThingId>): Generator<FigureId> {
    for (const top of tops) for (const id of top.all()) yield* id.known;
  }

  /** Terms of sums that all its rows took. */
  get spent(): number {
    this.spentMade ??= this.rows.reduce((spent, { row }) => spent + row.terms.spent, 0);
    return this.spentMade;
  }

  private spentMade: number | undefined;

  /** Things at the top that are not what they are in another reading. */
  changedSince(before: Reading | undefined): Set<ThingId> {
    const known = before && this.changes.get(before);
    if (known !== undefined) return known;
    const changed = this.trees.changedSince(before?.trees);
    if (before !== undefined) this.changes.set(before, changed);
    for (const top of this.movedBeside(before)) changed.add(top);
    return changed;
  }

  /** Files in which other names can be used than before. */
  renamedSince(before: Reading | undefined): ReadonlySet<string> {
    const known = before && this.renames.get(before);
    if (known !== undefined) return known;
    const renamed = new Set<string>();
    if (before !== undefined) this.renames.set(before, renamed);
    for (const [uri, file] of this.files) {
      const old = before?.files.get(uri);
      if (old === undefined || !sameNames(old.scope, file.scope)) renamed.add(uri);
    }
    for (const uri of before?.files.keys() ?? []) if (!this.files.has(uri)) renamed.add(uri);
    return renamed;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function ownTop({ thing }: Row): readonly ThingId[] {
  return thing === undefined ? [] : [thing.id];
}

function declarationsOf(build: BuildFiles): Map<ThingId, Declaration> {
  const declared = new Map<ThingId, Declaration>();
  for (const { scope, source } of build.files) {
    for (const item of source.items) {
      if (item.node.type !== "thing") continue;
      const declaration = scope.declarations.get(item.node.name.text);
      if (declaration?.item === item) declared.set(declaration.id, declaration);
    }
  }
  return declared;
}
