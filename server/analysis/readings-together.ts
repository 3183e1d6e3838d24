/**
 * What is read of a build and written in it, made to agree: as built what the records say more than
 * once over, then whatever else is written more than once over.
 *
 *     new ReadingsTogether(world, before).made?.cells
 *
 * Kept by cell from one reading of the build to the next. Must not know: how readings are reconciled.
 */
import { anyIn } from "../keep/any-in";
import { inTime } from "../keep/patience";
import type { ModelVariable } from "../model/model";
import type { FigureId, ThingId } from "../names/ids";
import type { Variable } from "../solve/system";
import { agreed, type LooseCells } from "./agreed";
import { type BuildCell, type BuildCells, topsOf } from "./build-cells";
import type { PlacedRow } from "./build-rows";
import { takenAs } from "./on-record";
import {
  type Reconciled,
  type ReconcilingStep,
  type RepeatedCells,
  reconciled,
  repeatedAmong,
  repeatedCells,
  type Taken,
} from "./reconciled";

/** The reading of the build they are of, with everything as it was read. */
interface World {
  /** Whether records stand in for what they measured. */
  readonly isAsBuilt: boolean;
  /** Things at the top that are not what they were in the reading before. */
  readonly changed: ReadonlySet<ThingId>;
  readonly rows: readonly PlacedRow[];
  readonly cells: BuildCells;
  readonly loose: LooseCells;
  /** Figures of the build that a record says something of. */
  onRecord(): Iterable<FigureId>;
  figureOf(id: FigureId): ModelVariable | undefined;
  variableOf(id: FigureId): Variable;
}

export class ReadingsTogether {
  /** Nothing where all is as it was read. */
  readonly made: Reconciled | undefined;
  /** As built: the figures on record, the very same set as long as they are the same. */
  private readings: ReadonlySet<FigureId> = new Set();
  /** As built: cells that say more of these than enough. */
  private repeated: RepeatedCells = new Map();
  /** As built: what the readings in a cell come to. */
  private readonly answers = new Map<BuildCell, Answer>();

  constructor(world: World, before: ReadingsTogether | undefined) {
    const built = inTime(() => this.reconcile(world, before), undefined);
    // Where there is no time to make readings agree they stay what they were read as.
    this.made = inTime(() => this.agree(world, built), built);
  }

  private reconcile(world: World, before: ReadingsTogether | undefined): Reconciled | undefined {
    if (!world.isAsBuilt) return undefined;
    this.readings = sameSet(new Set(world.onRecord()), before?.readings);
    const { readings } = this;
    const { changed, cells, rows } = world;
    const like = before?.readings === readings ? before : undefined;
    const known = like?.answers;
    this.repeated =
      like === undefined
        ? repeatedAmong(rows, cells, readings)
        : repeatedCells(cells, like.repeated, readings);
    // What was made of the readings in a cell stays as long as the cell and all it is about do.
    const kept = (cell: BuildCell): Answer | undefined =>
      known === undefined || anyIn(topsOf(cell), changed) ? undefined : known.get(cell);
    return reconciled({
      repeated: this.repeated,
      read: cells,
      readings,
      figureOf: (id) => world.figureOf(id),
      answerOf: (cell, make) => {
        const answer = kept(cell) ?? { step: make() };
        this.answers.set(cell, answer);
        return answer.step;
      },
      cellsWith: (taken) => cellsWith(world, taken),
    });
  }

  /** What is written more than once over, beside what the records make of it. */
  private agree(world: World, built: Reconciled | undefined): Reconciled | undefined {
    const further = agreed({
      loose: world.loose,
      read: world.cells,
      cells: built?.cells ?? world.cells,
      readings: this.readings,
      figureOf: (id) => world.figureOf(id),
      cellsWith: (taken) => cellsWith(world, new Map([...(built?.taken ?? []), ...taken])),
    });
    if (further === undefined) return built;
    const taken = new Map([...(built?.taken ?? []), ...further.taken]);
    return { cells: further.cells, taken, misclosed: built?.misclosed ?? [] };
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** What the readings in a cell come to; no step where they close as they are. */
interface Answer {
  readonly step: ReconcilingStep | undefined;
}

function cellsWith({ cells, rows, variableOf }: World, taken: Taken): BuildCells {
  return cells.change({
    dropped: [],
    taken: [],
    rows,
    touched: taken.keys(),
    variableOf: (id) => (taken.has(id) ? takenAs(variableOf(id), taken.get(id)) : variableOf(id)),
  });
}

/** The set of before where it is the same. */
function sameSet(
  now: ReadonlySet<FigureId>,
  before: ReadonlySet<FigureId> | undefined,
): ReadonlySet<FigureId> {
  const same = before?.size === now.size && [...now].every((each) => before.has(each));
  return same ? before : now;
}
