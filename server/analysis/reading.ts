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
import { anyIn } from "../keep/any-in";
import { pause, TakenBack } from "../keep/patience";
import { Binder, type Things } from "../model/binder";
import { mostTermsOfAll, Terms } from "../model/budget";
import {
  elaborateOption,
  elaborateStatement,
  elaborateThing,
  everythingIn,
  type Surroundings,
} from "../model/elaborate";
import { type HeldBy, heldBy, madeAs, speaksForAll } from "../model/held-by";
import type { FormPool } from "../model/kind-environment";
import { figureOf } from "../model/known-figure";
import type { FigureEquation, ModelEquation, ModelVariable, Row } from "../model/model";
import { redirects, targetsOf } from "../model/outward";
import type { Questions } from "../model/questions";
import { recordRow } from "../model/record-row";
import type { Thing } from "../model/thing";
import { makeTree, type Tree, type Write, type WrittenLine } from "../model/trees";
import type { FigureId, ThingId } from "../names/ids";
import type { Declaration, FileScope } from "../names/scope";
import { conditionKey } from "../solve";
import type { GivenNumber, Variable } from "../solve/system";
import { AlikeThings } from "./alike-things";
import { type BuildCell, BuildCells, topsOf } from "./build-cells";
import type { BuildFile, BuildFiles } from "./files";
import { LeftOutWork } from "./left-out";
import { type Overlay, writesOf, writesOfRecord, writesOfSpec } from "./overlay";
import { type Misclosed, type Reconciled, type ReconcilingStep, reconciled } from "./reconciled";
import { RowsAsking } from "./rows-asking";
import { type Placed, takenIn } from "./taken-in";
import type { Workshop } from "./workshop";

/** A row in the place where it stands. */
export interface PlacedRow {
  readonly placed: Placed;
  readonly row: Row;
}

/** Lines that write into things from outside of them. */
interface Lines {
  readonly ofSpec: readonly Found[];
  readonly ofOverlays: readonly Found[];
  readonly asked: readonly Questions<Binder>[];
  /** By the thing at the top. */
  readonly written: ReadonlyMap<ThingId, readonly WrittenLine[]>;
}

export class Reading implements Things {
  readonly placed: readonly Placed[];
  /** Of records only those with something wrong in them: all others add nothing. */
  readonly rows: readonly PlacedRow[];
  /** Rows of all records there are. */
  readonly records = new Map<Item, Row>();
  /** Where there are records, with what all readings together make of each. */
  readonly cells: BuildCells;
  /** The same with every reading as it was read. */
  private readonly cellsRead: BuildCells;
  private readonly reconciled: Reconciled | undefined;
  /** What cells came to that were there in the reading before and are not here, where that is known. */
  readonly opened: ReadonlySet<BuildCell["core"]> | undefined;
  /** The very same object as long as the names of all files lead to the same declarations. */
  readonly names: object;
  /** What is wrong with lines that write into other things, or with things of no kind. */
  readonly findings: readonly Found[];
  /** What lines elsewhere write into things, and what is laid over the build. */
  private readonly lines: Lines;
  /** By the place of its item in `placed`. */
  private readonly rowOfPlaced: readonly (Row | undefined)[];
  /** Things at the top whose trees are not those of the reading before. */
  readonly changed: Set<ThingId>;
  private readonly files: ReadonlyMap<string, BuildFile>;
  private readonly declared: ReadonlyMap<ThingId, Declaration>;
  /** Trees that were asked for; those of lists nobody speaks of never are. */
  private readonly trees = new Map<ThingId, Tree | undefined>();
  /** Those that were made while it was found out what is written into them. */
  private readonly onTheWay = new Map<ThingId, readonly Tree[]>();
  /** Of things that others are like: what they are without what was recorded of them. */
  private readonly unrecorded = new Map<ThingId, Tree | undefined>();
  private readonly alike: AlikeThings;
  /** By the other reading, which is not held on to. */
  private readonly changes = new WeakMap<Reading, Set<ThingId>>();
  private readonly renames = new WeakMap<Reading, Set<string>>();
  /** By the first figure of each. */
  private readonly equations: Map<FigureId, FigureEquation[]>;
  private readonly kinds = new Map<string, Thing[]>();
  private readonly finder = new Binder(this, undefined);
  /** What there was no time for. */
  readonly leftOut = new LeftOutWork();
  private rowsByTop: Map<ThingId, Row> | undefined;

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
    this.placed = takenIn(
      build,
      overlays.flatMap((overlay) => (overlay.is === "lines" ? [overlay.item] : [])),
    );
    this.declared = same?.declared ?? declarationsOf(build);
    this.alike = new AlikeThings(
      this.declared.values(),
      (uri) => this.scopeOf(uri),
      (id) => (this.unrecorded.get(id) ?? this.tree(id))?.thing,
      same?.alike,
    );
    this.equations = like?.equations ?? new Map();
    const beside = further?.build.vocabulary === build.vocabulary ? further : undefined;
    this.names = like !== undefined && this.renamedSince(like).size === 0 ? like.names : {};
    this.lines = this.writeAll([like, beside], under?.placed === this.placed ? under : undefined);
    this.findings = [...this.lines.ofSpec, ...this.lines.ofOverlays];
    this.changed = this.changedSince(like);
    this.rowOfPlaced = this.rowsSince(like, beside);
    const rows: PlacedRow[] = [];
    for (const [place, placed] of this.placed.entries()) {
      const row = this.rowOfPlaced[place];
      if (row === undefined) continue;
      const record = placed.item.node.type === "record";
      if (record) this.records.set(placed.item, row);
      if (!record || row.findings.length > 0) rows.push({ placed, row });
    }
    this.rows = rows;
    this.cellsRead = (like?.cellsRead ?? BuildCells.none(workshop.plans)).change({
      dropped: like?.rowsOtherThan(this) ?? [],
      taken: this.rowsOtherThan(like),
      rows: this.rows,
      touched: this.figuresOf(this.changed),
      variableOf: (figure) => this.variableOf(figure),
    });
    this.reconciled = this.reconcile(like);
    this.cells = this.reconciled?.cells ?? this.cellsRead;
    for (const top of this.movedBeside(like)) this.changed.add(top);
    const asRead = this.reconciled === undefined && like?.reconciled === undefined;
    this.opened = asRead ? this.cells.opened : undefined;
  }

  /** What is wrong with the lines alone that are laid over the build. */
  get findingsLaidOver(): readonly Found[] {
    return this.lines.ofOverlays;
  }

  /** What was asked to find out what those write into. */
  get laidOver(): readonly Questions<Binder>[] {
    return this.lines.asked;
  }

  /** Whether some items write into a thing at the top: it is one of them, they do, or what it is like. */
  isWrittenBy(top: ThingId, items: ReadonlySet<Item>, seen?: Set<ThingId>): boolean {
    if (seen?.has(top)) return false;
    const item = this.declared.get(top)?.item;
    if (item !== undefined && items.has(item)) return true;
    if (this.lines.written.get(top)?.some(({ write }) => items.has(write.item))) return true;
    const others = this.tree(top)?.others;
    if (others === undefined || others.size === 0) return false;
    const met = new Set(seen).add(top);
    return [...others.keys()].some((other) => this.isWrittenBy(other, items, met));
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
    return this.tree(top)?.thing;
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
    let found = this.kinds.get(kind);
    if (found === undefined) {
      found = [];
      for (const { declaration } of this.placed) {
        const thing = declaration && this.treeOf(declaration.id);
        if (thing !== undefined) found.push(...ofKind(thing, kind));
      }
      this.kinds.set(kind, found);
    }
    return found;
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

  private reconcile(before: Reading | undefined): Reconciled | undefined {
    if (!this.isAsBuilt) return undefined;
    this.readings = this.onRecord(before);
    const { readings, changed } = this;
    const known = before?.readings === readings ? before.answers : undefined;
    // What was made of the readings in a cell stays as long as the cell and all it is about do.
    const kept = (cell: BuildCell): Answer | undefined =>
      known === undefined || anyIn(topsOf(cell), changed) ? undefined : known.get(cell);
    return reconciled({
      read: this.cellsRead,
      rows: this.rows,
      readings,
      figureOf: (id) => this.figureRead(id),
      answerOf: (cell, make) => {
        const answer = kept(cell) ?? { step: make() };
        this.answers.set(cell, answer);
        return answer.step;
      },
      cellsWith: (taken) =>
        this.cellsRead.change({
          dropped: [],
          taken: [],
          rows: this.rows,
          touched: taken.keys(),
          variableOf: (id) =>
            taken.has(id) ? takenAs(this.variableOf(id), taken.get(id)) : this.variableOf(id),
        }),
    });
  }

  /** As built: the figures on record, the very same set as long as they are the same. */
  private readings: ReadonlySet<FigureId> = new Set();
  /** As built: what the readings in a cell come to. */
  private readonly answers = new Map<BuildCell, Answer>();

  /** Figures of the build that a record says something of. */
  private onRecord(before: Reading | undefined): ReadonlySet<FigureId> {
    const readings = new Set<FigureId>();
    for (const top of this.lines.written.keys())
      for (const figure of onRecordIn(this.tree(top), this.workshop.pool))
        if (this.cellsRead.has(figure)) readings.add(figure);
    const known = before?.readings;
    return known?.size === readings.size && [...readings].every((each) => known.has(each))
      ? known
      : readings;
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
    const holder = own?.variable.making === undefined ? undefined : heldBy(own.field);
    return own === undefined || holder === undefined ? own : this.heldAs(own, holder);
  }

  private readonly heldFigures = new Map<ModelVariable, ModelVariable>();

  /** A figure made as surely as the build says of what makes it. */
  private heldAs(own: ModelVariable, { kind, field }: HeldBy): ModelVariable {
    let figure = this.heldFigures.get(own);
    if (figure === undefined) {
      const [thing] = this.each(kind).filter((each) => speaksForAll(each.kind));
      const holder = thing && figureOf(thing, field, this.workshop.pool);
      figure = holder === undefined ? own : madeAs(own, holder);
      this.heldFigures.set(own, figure);
    }
    return figure;
  }

  /** Why an equation is there. */
  originOf(equation: FigureEquation): ModelEquation | undefined {
    const within = (row: Row): ModelEquation | undefined =>
      row.equations.find((each) => each.equation === equation);
    // Most are of a thing whose own figures stand in them.
    for (const figure of equation.figures) {
      const row = this.rowOfTop.get(figure.thing.top);
      const found = row && within(row);
      if (found !== undefined) return found;
    }
    for (const { row } of this.rows) {
      const found = within(row);
      if (found !== undefined) return found;
    }
    return undefined;
  }

  private get rowOfTop(): ReadonlyMap<ThingId, Row> {
    if (this.rowsByTop === undefined) {
      this.rowsByTop = new Map();
      for (const { row } of this.rows)
        if (row.thing !== undefined) this.rowsByTop.set(row.thing.id, row);
    }
    return this.rowsByTop;
  }

  private variableOf(id: FigureId): Variable {
    return this.figure(id)?.variable ?? { name: id.name, scale: 1, askedFirst: false };
  }

  private *figuresOf(tops: Iterable<ThingId>): Generator<FigureId> {
    for (const top of tops) for (const id of top.all()) yield* id.known;
  }

  // ── trees ──

  private tree(top: ThingId): Tree | undefined {
    if (this.trees.has(top)) return this.trees.get(top);
    const declaration = this.declared.get(top);
    const made = declaration && this.plainTree(declaration);
    this.trees.set(top, made);
    return made;
  }

  /** The tree of a thing that nothing is written into from elsewhere. */
  private plainTree(declaration: Declaration): Tree | undefined {
    const kept = plainTrees.get(declaration);
    if (kept !== undefined && kept.vocabulary === this.vocabulary && this.isAsThen(kept.tree))
      return kept.tree;
    this.workshop.counts.trees++;
    const tree = makeTree(declaration, this.vocabulary, [], this.alike);
    plainTrees.set(declaration, { vocabulary: this.vocabulary, tree });
    return tree;
  }

  /** Whether what something in the tree is like is what it was then. */
  private isAsThen(tree: Tree | undefined): boolean {
    for (const [id, thing] of tree?.others ?? [])
      if ((this.unrecorded.get(id) ?? this.tree(id))?.thing !== thing) return false;
    return true;
  }

  /** Finds out what each line from outside writes into, and makes the trees with it. */
  private writeAll(before: readonly (Reading | undefined)[], under: Reading | undefined): Lines {
    const ofSpec: Found[] = [...(under?.lines.ofSpec ?? [])];
    const ofOverlays: Found[] = [...(under?.lines.ofOverlays ?? [])];
    const asked: Questions<Binder>[] = [...(under?.lines.asked ?? [])];
    const written = new Map<ThingId, readonly WrittenLine[]>(under?.lines.written);
    const lines: { from: Thing | undefined; write: Write }[] = [];
    if (under === undefined) {
      for (const { declaration } of this.placed) {
        const tree = declaration && this.tree(declaration.id);
        if (tree !== undefined) lines.push(...tree.outward);
        else if (declaration !== undefined)
          unknownKind(declaration, this.vocabulary, (finding) => ofSpec.push(finding));
      }
      for (const write of writesOfSpec(this.placed)) lines.push({ from: undefined, write });
    } else {
      for (const [top, tree] of under.trees) this.trees.set(top, tree);
      for (const [top, tree] of under.unrecorded) this.unrecorded.set(top, tree);
    }
    for (const overlay of this.overlays.slice(under?.overlays.length ?? 0))
      for (const write of writesOf(this.placed, overlay)) lines.push({ from: undefined, write });
    const build = (top: ThingId): void => {
      const declaration = this.declared.get(top);
      if (declaration === undefined) return;
      const tree = this.treeWith(declaration, written.get(top) ?? [], before);
      this.trees.set(top, tree);
    };
    const buildWithLikes = (top: ThingId): void => {
      build(top);
      const alike = this.alike.likeThe(top);
      if (alike.length === 0) return;
      this.unrecord(top, written.get(top) ?? [], before);
      for (const other of alike) buildWithLikes(other);
    };
    let binder = new Binder(this, undefined);
    const tops = new Set<ThingId>();
    for (const line of lines) {
      const laidOver = line.write.layer !== "spec";
      if (laidOver && !asked.includes(binder.questions)) {
        binder = new Binder(this, undefined);
        asked.push(binder.questions);
      }
      // What stands alone is told which things of its file it could be about.
      if (laidOver) binder.questions.files.add(line.write.uri);
      const found = laidOver ? ofOverlays : ofSpec;
      const targets = targetsOf(line, binder, (finding) => found.push(finding));
      for (const { thing, designation, write } of targets) {
        const top = thing.top.id;
        tops.add(top);
        written.set(top, [...(written.get(top) ?? []), { id: thing.id, designation, write }]);
        if (!redirects(thing, write)) continue;
        // Names that come after it may lead elsewhere now.
        buildWithLikes(top);
        binder = new Binder(this, undefined);
      }
    }
    for (const top of tops) buildWithLikes(top);
    return { ofSpec, ofOverlays, asked, written };
  }

  /** Keeps what others are like of a thing that something was recorded of. */
  private unrecord(
    top: ThingId,
    written: readonly WrittenLine[],
    before: readonly (Reading | undefined)[],
  ): void {
    const declaration = this.declared.get(top);
    const spec = written.filter(({ write }) => write.layer !== "record");
    if (declaration === undefined || spec.length === written.length) return;
    const plain = spec.length === 0;
    const tree = plain ? this.plainTree(declaration) : this.treeWith(declaration, spec, before);
    this.unrecorded.set(top, tree);
  }

  /** The tree of a thing with what is written into it, one of a reading before where that is the same. */
  private treeWith(
    declaration: Declaration,
    written: readonly WrittenLine[],
    before: readonly (Reading | undefined)[],
  ): Tree | undefined {
    const { id } = declaration;
    const holds = (known: Tree | undefined): boolean =>
      known?.declaration === declaration &&
      sameLines(known.written, written) &&
      this.isAsThen(known);
    let tree = before
      .flatMap((reading) => [reading?.trees.get(id), ...(reading?.onTheWay.get(id) ?? [])])
      .find(holds);
    if (tree === undefined) {
      this.workshop.counts.trees++;
      tree = makeTree(declaration, this.vocabulary, written, this.alike);
    }
    if (tree !== undefined) this.onTheWay.set(id, [...(this.onTheWay.get(id) ?? []), tree]);
    return tree;
  }

  /** Things at the top whose trees are not those of another reading. */
  changedSince(before: Reading | undefined): Set<ThingId> {
    const known = before && this.changes.get(before);
    if (known !== undefined) return known;
    const changed = new Set<ThingId>();
    if (before !== undefined) this.changes.set(before, changed);
    for (const [top, tree] of this.trees)
      if (before === undefined || before.trees.get(top) !== tree) changed.add(top);
    for (const top of before?.trees.keys() ?? [])
      if (this.tree(top) !== before?.trees.get(top)) changed.add(top);
    // What says how surely things are made changes all that is made.
    const forAll = (top: ThingId): boolean =>
      [this.tree(top), before?.trees.get(top)].some((tree) => speaksForAll(tree?.thing.kind));
    if ([...changed].some(forAll)) for (const top of this.trees.keys()) changed.add(top);
    for (const top of this.movedBeside(before)) changed.add(top);
    return changed;
  }

  // ── rows ──

  private rowsByItem: ReadonlyMap<Item, Row | undefined> | undefined;

  /** Of the item at a place of another reading, or of this one. */
  private rowAt({ item }: Placed, place: number, { placed }: Reading): Row | undefined {
    if (placed === this.placed) return this.rowOfPlaced[place];
    this.rowsByItem ??= new Map(
      this.placed.map((each, at) => [each.item, this.rowOfPlaced[at]] as const),
    );
    return this.rowsByItem.get(item);
  }

  /** Its rows that are not those of another reading. */
  private rowsOtherThan(other: Reading | undefined): PlacedRow[] {
    const rows: PlacedRow[] = [];
    for (let place = 0; place < this.placed.length; place++) {
      const row = this.rowOfPlaced[place];
      const placed = this.placed[place] as Placed;
      if (row !== undefined && other?.rowAt(placed, place, this) !== row)
        rows.push({ placed, row });
    }
    return rows;
  }

  private rowsSince(before: Reading | undefined, beside: Reading | undefined): (Row | undefined)[] {
    const renamed = this.renamedSince(before);
    const { patience, leftOver, pool } = this.workshop;
    const around = { names: this, pool, termsLeft: mostTermsOfAll };
    const asBuilt = this.overlays.some(({ is }) => is === "as built");
    const over = before && this.rowsOver(before, { ...around }, asBuilt);
    if (over !== undefined) return over;
    const rows: (Row | undefined)[] = [];
    for (const [place, placed] of this.placed.entries()) {
      if (patience.isTakenBack()) {
        if (this.overlays.length === 0)
          for (const [at, row] of rows.entries())
            if (row !== undefined) leftOver.set(this.placed[at]?.item as Item, row);
        throw new TakenBack();
      }
      const known = before?.rowAt(placed, place, this);
      const further = () => beside?.rowAt(placed, place, this) ?? leftOver.get(placed.item);
      const made = this.rowOf(placed, known, further, renamed, around, asBuilt);
      if (made !== undefined) around.termsLeft -= made.terms.spent;
      rows.push(made);
    }
    return rows;
  }

  /**
   * What is laid over the spec costs the rows that have to do with it. Nothing where there may not be
   * enough terms of sums for all: who has how many left hangs on every row before it.
   */
  private rowsOver(
    spec: Reading,
    around: Surroundings & { termsLeft: number },
    asBuilt: boolean,
  ): (Row | undefined)[] | undefined {
    if (this.overlays.length === 0 || spec.overlays.length > 0 || spec.placed !== this.placed)
      return undefined;
    spec.asking ??= new RowsAsking(spec.placed, spec.rowOfPlaced);
    around.termsLeft -= spec.asking.spent;
    const rows = spec.rowOfPlaced.slice();
    for (const place of spec.asking.touchedBy(this.changed)) {
      if (around.termsLeft < mostTermsOfAll / 2) return undefined;
      pause(this.workshop.patience);
      const placed = this.placed[place] as Placed;
      const made = this.rowOf(placed, rows[place], () => undefined, new Set(), around, asBuilt);
      around.termsLeft -= made?.terms.spent ?? 0;
      rows[place] = made;
    }
    return rows;
  }

  private asking: RowsAsking | undefined;

  private rowOf(
    placed: Placed,
    before: Row | undefined,
    further: () => Row | undefined,
    renamed: ReadonlySet<string>,
    around: Surroundings,
    asBuilt: boolean,
  ): Row | undefined {
    const { item, declaration, file } = placed;
    const { node } = item;
    if (node.type === "given") return undefined;
    // An option's own checks and relations count where it is laid over the build.
    if (node.type === "option" && !this.isLaidOver(item, node.name.text)) return undefined;
    if (node.type === "record" && asBuilt) return undefined;
    const tree = declaration && this.tree(declaration.id);
    if (node.type === "thing" && tree === undefined) return undefined;
    if (
      before !== undefined &&
      before.thing === tree?.thing &&
      Terms.same(before.terms, around.termsLeft ?? 0) &&
      this.holds(before, renamed)
    )
      return before;
    const beside = further();
    const mayHold =
      beside?.thing === tree?.thing &&
      beside?.findings.length === 0 &&
      Terms.same(beside.terms, around.termsLeft ?? 0);
    if (beside !== undefined && mayHold && beside.questions.hold(this.finder)) return beside;
    // What is laid over a build is read whole or not at all.
    if (this.overlays.length === 0 && this.workshop.patience.isUp()) {
      this.leftOut.note("things", file.uri, item);
      return undefined;
    }
    this.workshop.counts.rows++;
    switch (node.type) {
      case "thing":
        return tree && this.interned(elaborateThing(tree, around));
      case "check":
      case "relation":
      case "curve": {
        const anchor = { uri: file.uri, item, span: node.span };
        return this.interned(elaborateStatement(node, anchor, around));
      }
      case "option": {
        const anchor = { uri: file.uri, item, span: node.span };
        const row = elaborateOption(node, anchor, around);
        return row && this.interned(row);
      }
      case "record":
        return recordRow(writesOfRecord(placed), this);
      default:
        return undefined;
    }
  }

  private isLaidOver(item: Item, option: string): boolean {
    return this.overlays.some(
      (overlay) =>
        (overlay.is === "lines" && overlay.item === item) ||
        (overlay.is === "option" && overlay.name === option),
    );
  }

  /** Whether what a row took from others is still so. */
  private holds({ questions, findings }: Row, renamed: ReadonlySet<string>): boolean {
    // What is said of a wrong name lists those that would do.
    if (renamed.size > 0 && findings.length > 0) return false;
    const asks =
      (questions.overall && this.changed.size > 0) ||
      questions.asked.meets(this.changed) ||
      questions.files.meets(renamed);
    return !asks || questions.hold(this.finder);
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

  /** The same equation is the same object in one reading and the next. */
  private interned(row: Row): Row {
    const equations = row.equations.map((each) => {
      const { equation } = each;
      const [first] = equation.figures;
      if (first === undefined) return each;
      const alike = this.equations.get(first);
      const same = alike?.find((other) => sameEquation(other, equation));
      if (same !== undefined) return same === equation ? each : { ...each, equation: same };
      this.workshop.counts.equations++;
      if (alike === undefined) this.equations.set(first, [equation]);
      else if (alike.push(equation) > mostAlike) alike.shift();
      return each;
    });
    return { ...row, equations };
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** What the readings in a cell come to; no step where they close as they are. */
interface Answer {
  readonly step: ReconcilingStep | undefined;
}

const recorded = new WeakMap<
  Tree,
  { readonly spoken: number; readonly figures: readonly FigureId[] }
>();

/** Figures of a thing at the top, and of all in it, that a record says something of. */
function onRecordIn(tree: Tree | undefined, pool: FormPool): readonly FigureId[] {
  if (tree === undefined) return [];
  const ids = new Set(
    tree.written.flatMap(({ id, write }) => (write.layer === "record" ? id : [])),
  );
  if (ids.size === 0) return [];
  let spoken = 0;
  for (const id of ids) spoken += id.spoken;
  const known = recorded.get(tree);
  // Further figures may have been spoken of since.
  if (known?.spoken === spoken) return known.figures;
  const things = new Map(everythingIn(tree.thing).map((thing) => [thing.id, thing]));
  const figures = [...ids].flatMap((id) => {
    const thing = things.get(id);
    if (thing === undefined) return [];
    return [...id.known].filter(
      (figure) => figureOf(thing, figure.key, pool)?.entry?.layer === "record",
    );
  });
  recorded.set(tree, { spoken, figures });
  return figures;
}

/** A figure of which readings say more than what is written of it; what is made is not made again. */
function takenAs(variable: Variable, given: GivenNumber | undefined): Variable {
  return { ...variable, given, making: given && variable.making };
}

/** So many equations that begin with one figure are told apart at a time. */
const mostAlike = 64;

const plainTrees = new WeakMap<
  Declaration,
  { readonly vocabulary: object; readonly tree: Tree | undefined }
>();

const kindLists = new WeakMap<Thing, Map<string, readonly Thing[]>>();

function ofKind(top: Thing, kind: string): readonly Thing[] {
  let lists = kindLists.get(top);
  if (lists === undefined) {
    lists = new Map();
    kindLists.set(top, lists);
  }
  let found = lists.get(kind);
  if (found === undefined) {
    found = everythingIn(top).filter((thing) => thing.is(kind));
    lists.set(kind, found);
  }
  return found;
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

function unknownKind(
  declaration: Declaration,
  vocabulary: BuildFiles["vocabulary"],
  report: (found: Found) => void,
): void {
  makeTree(declaration, vocabulary, [], undefined, report);
}

function sameLines(one: readonly WrittenLine[], other: readonly WrittenLine[]): boolean {
  return (
    one.length === other.length &&
    one.every(({ id, designation, write }, at) => {
      const match = other[at];
      return (
        id === match?.id &&
        designation === match.designation &&
        write.node === match.write.node &&
        write.layer === match.write.layer
      );
    })
  );
}

function sameNames(one: FileScope, other: FileScope): boolean {
  if (one === other) return true;
  if (one.prefix !== other.prefix || one.declarations.size !== other.declarations.size)
    return false;
  for (const [name, { id, node }] of other.declarations) {
    const match = one.declarations.get(name);
    if (match?.id !== id || match.node.kind.text !== node.kind.text) return false;
  }
  if (one.namespaces.size !== other.namespaces.size) return false;
  for (const [name, scope] of other.namespaces)
    if (one.namespaces.get(name)?.file.uri !== scope.file.uri) return false;
  return true;
}

function sameEquation(one: FigureEquation, other: FigureEquation): boolean {
  return (
    one.slack === other.slack &&
    one.form === other.form &&
    one.rank === other.rank &&
    (one.assumption ?? false) === (other.assumption ?? false) &&
    conditionKey(one.when) === conditionKey(other.when) &&
    one.figures.length === other.figures.length &&
    one.figures.every((figure, at) => figure === other.figures[at]) &&
    one.name === other.name
  );
}
