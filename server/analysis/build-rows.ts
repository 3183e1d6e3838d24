/**
 * The rows of a reading: those of the reading before, or of another one that has much in common, where
 * what they took from others is still so; all others are made.
 *
 * Must not know: cells, values.
 */

import type { Item } from "../../grammar/syntax";
import { aligned } from "../keep/aligned";
import { pause, TakenBack, TimeUp, timeIsUp } from "../keep/patience";
import { Binder, type Things } from "../model/binder";
import { mostTermsOfAll, Terms } from "../model/budget";
import {
  elaborateOption,
  elaborateStatement,
  elaborateThing,
  type Surroundings,
} from "../model/elaborate";
import type { FigureEquation, ModelEquation, Row } from "../model/model";
import { RecordRows } from "../model/record-row";
import type { Tree } from "../model/trees";
import type { FigureId, ThingId } from "../names/ids";
import { conditionKey } from "../solve";
import type { BuildTrees } from "./build-trees";
import type { LeftOutWork } from "./left-out";
import type { Overlay } from "./overlay";
import { RowsAsking } from "./rows-asking";
import type { Placed } from "./taken-in";
import type { Workshop } from "./workshop";

/** A row in the place where it stands. */
export interface PlacedRow {
  readonly placed: Placed;
  readonly row: Row;
}

/** The reading they are the rows of. */
interface World extends Things {
  readonly placed: readonly Placed[];
  readonly overlays: readonly Overlay[];
  readonly workshop: Workshop;
  readonly trees: BuildTrees;
  readonly leftOut: LeftOutWork;
  /** Things at the top whose trees are not those of the reading before. */
  readonly changed: ReadonlySet<ThingId>;
}

export class BuildRows {
  /** By the place of its item in what is placed. */
  readonly ofPlaced: readonly (Row | undefined)[];
  /** By the first figure of each. */
  private readonly equations: Map<FigureId, FigureEquation[]>;
  private readonly finder: Binder;
  private readonly records: RecordRows;

  /** `renamed`: files in which other names can be used than before. */
  constructor(
    private readonly world: World,
    before: BuildRows | undefined,
    beside: BuildRows | undefined,
    renamed: ReadonlySet<string>,
  ) {
    this.equations = before?.equations ?? new Map();
    this.finder = new Binder(world, undefined);
    this.records = new RecordRows(world);
    this.ofPlaced = this.make(before, beside, renamed);
  }

  /** The rows of another reading, by the places of their items here. */
  private rowsOf(other: BuildRows | undefined): (place: number) => Row | undefined {
    if (other === undefined) return () => undefined;
    const placeIn = placesIn(this.world.placed, other.world.placed);
    return (place) => {
      const at = placeIn(place);
      return at === undefined ? undefined : other.ofPlaced[at];
    };
  }

  /** Its rows that are not those of another reading, but for those of records, which add nothing. */
  otherThan(other: BuildRows): PlacedRow[] {
    const rows: PlacedRow[] = [];
    const rowThere = this.rowsOf(other);
    for (let place = 0; place < this.world.placed.length; place++) {
      const row = this.ofPlaced[place];
      const placed = this.world.placed[place] as Placed;
      if (row === undefined || placed.item.node.type === "record") continue;
      if (rowThere(place) !== row) rows.push({ placed, row });
    }
    return rows;
  }

  private make(
    before: BuildRows | undefined,
    beside: BuildRows | undefined,
    renamed: ReadonlySet<string>,
  ): (Row | undefined)[] {
    const { patience, leftOver, pool } = this.world.workshop;
    const around = { names: this.world, pool, termsLeft: mostTermsOfAll };
    const asBuilt = this.world.overlays.some(({ is }) => is === "as built");
    const over = before && this.rowsOver(before, { ...around }, asBuilt);
    if (over !== undefined) return over;
    const rows: (Row | undefined)[] = [];
    const [rowBefore, rowBeside] = [this.rowsOf(before), this.rowsOf(beside)];
    try {
      for (const [place, placed] of this.world.placed.entries()) {
        pause(patience);
        const known = rowBefore(place);
        const further = () => rowBeside(place) ?? leftOver.get(placed.item);
        const made = this.rowOf(placed, known, further, renamed, around, asBuilt);
        if (made !== undefined) around.termsLeft -= made.terms.spent;
        rows.push(made);
      }
    } catch (error) {
      if (error instanceof TakenBack && this.world.overlays.length === 0)
        for (const [at, row] of rows.entries())
          if (row !== undefined) leftOver.set(this.world.placed[at]?.item as Item, row);
      throw error;
    }
    return rows;
  }

  /**
   * What is laid over the spec costs the rows that have to do with it. Nothing where there may not be
   * enough terms of sums for all: who has how many left hangs on every row before it.
   */
  private rowsOver(
    spec: BuildRows,
    around: Surroundings & { termsLeft: number },
    asBuilt: boolean,
  ): (Row | undefined)[] | undefined {
    if (
      this.world.overlays.length === 0 ||
      spec.world.overlays.length > 0 ||
      spec.world.placed !== this.world.placed
    )
      return undefined;
    spec.asking ??= new RowsAsking(spec.world.placed, spec.ofPlaced);
    around.termsLeft -= spec.asking.spent;
    const rows = spec.ofPlaced.slice();
    for (const place of spec.asking.touchedBy(this.world.changed)) {
      if (around.termsLeft < mostTermsOfAll / 2) return undefined;
      pause(this.world.workshop.patience);
      const placed = this.world.placed[place] as Placed;
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
    const tree = declaration && this.world.trees.tree(declaration.id);
    if (node.type === "thing" && tree === undefined) return undefined;
    const leaveOut = (): undefined => {
      this.world.leftOut.note("things", file.uri, item);
    };
    // What is laid over a build asks again only what it may have changed.
    if (this.world.overlays.length > 0 && timeIsUp(this.world.workshop.patience)) return leaveOut();
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
    // One of thousands of entries takes no time.
    const isLong = node.type !== "record" || this.world.workshop.counts.rows % entriesAtATime === 0;
    if (isLong && timeIsUp(this.world.workshop.patience)) return leaveOut();
    this.world.workshop.counts.rows++;
    try {
      return this.made(placed, tree, around);
    } catch (error) {
      if (!(error instanceof TimeUp)) throw error;
      return leaveOut();
    }
  }

  private made(placed: Placed, tree: Tree | undefined, around: Surroundings): Row | undefined {
    const { item, file } = placed;
    const { node } = item;
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
        return this.records.of(node, { uri: file.uri, item, span: node.span });
      default:
        return undefined;
    }
  }

  private isLaidOver(item: Item, option: string): boolean {
    return this.world.overlays.some(
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
      (questions.overall && this.world.changed.size > 0) ||
      questions.asked.meets(this.world.changed) ||
      questions.files.meets(renamed);
    return !asks || questions.hold(this.finder);
  }

  /** The same equation is the same object in one reading and the next. */
  private interned(row: Row): Row {
    let equations: ModelEquation[] | undefined;
    for (const [at, each] of row.equations.entries()) {
      const { equation } = each;
      const first = equation.figures[0];
      if (first === undefined) continue;
      const alike = this.equations.get(first);
      const same = alike?.find((other) => sameEquation(other, equation));
      if (same !== undefined) {
        equations ??= row.equations.slice();
        equations[at] = { ...each, equation: same };
        continue;
      }
      this.world.workshop.counts.equations++;
      if (alike === undefined) this.equations.set(first, [equation]);
      else if (alike.push(equation) > mostAlike) alike.shift();
    }
    return equations === undefined ? row : { ...row, equations };
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const placesKnown = new WeakMap<readonly Placed[], WeakMap<readonly Placed[], PlaceIn>>();

type PlaceIn = ReturnType<typeof aligned>;

/** Where the items of one reading stand in another. */
function placesIn(one: readonly Placed[], other: readonly Placed[]): PlaceIn {
  if (one === other) return (place) => place;
  const known = placesKnown.get(one) ?? new WeakMap<readonly Placed[], PlaceIn>();
  placesKnown.set(one, known);
  const before = known.get(other);
  if (before !== undefined) return before;
  const places = aligned(one, other, itemOf);
  known.set(other, places);
  return places;
}

function itemOf({ item }: Placed): Item {
  return item;
}

/** Between them the clock is not looked at. */
const entriesAtATime = 32;

/** So many equations that begin with one figure are told apart at a time. */
const mostAlike = 64;

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
