/**
 * What is still to be measured, in the order a person walks round the vehicle: what is open, what
 * was read too coarsely for a check to be decided, what the steps of the work ask for. With each how
 * exactly it is needed, and what it can be read with.
 *
 *     measuringOf(analysis).readings
 *       // [{ path: "rear.left.inner_limit", why: "open", checks: ["the inner sidewall clears"], … }]
 *
 * How exactly: of the margin of a check, what is left beside that which no reading changes is shared
 * among what was read, each in proportion to its ± now; then the worst case is decided. Where no ± is
 * written, what it is read with is taken to be off by as much as it shows, and where that would leave a
 * check undecided the reading is on the list, with the share of it that would not. Must not know: how
 * it is shown.
 */
import type { Analysis, CheckResult, Value } from "../analysis/analysis";
import { isSure } from "../analysis/unsaid-readings";
import { heldBy } from "../model/held-by";
import { readRange } from "../model/kind-environment";
import type { Thing } from "../model/thing";
import { figureOf, toleranceOf } from "../report/figure";
import {
  type Instrument,
  instrumentCalled,
  knownInstruments,
  sequenceOf,
  uncertainty,
} from "../sequence";
import { displayOf, type Measure, readUnit, writeTolerance } from "../units";
import { stations } from "./stations";

/** Why a figure is on the list. */
export type WhyMeasured = "open" | "too coarse" | "no ± is written" | "a step asks for it";

export interface ToMeasure {
  readonly path: string;
  /** `inner limit` */
  readonly name: string;
  readonly place: { readonly path: string; readonly title: string };
  readonly station: string;
  readonly why: WhyMeasured;
  /** How it is measured, in the trade's words. */
  readonly how: string;
  /** Titles of checks that wait for it. */
  readonly checks: readonly string[];
  /** The step that asks for it. */
  readonly step?: string;
  /** As it is written now, with its ±. */
  readonly now?: string;
  /** One side, SI, with words that never say more than it: `± 1/32 in`. */
  readonly within?: { readonly si: number; readonly text: string };
  /** The plainest instrument that is fine enough. */
  readonly instrument?: string;
}

export interface Measuring {
  readonly readings: readonly ToMeasure[];
  /** Checks that no reading decides, since what is made or bought takes up their margin. */
  readonly undecidable: readonly string[];
}

export function measuringOf(analysis: Analysis): Measuring {
  const before = known.get(analysis);
  if (before !== undefined) return before;
  const list = new List(analysis);
  const undecidable: string[] = [];
  for (const { value, needs } of analysis.asked) {
    if (value.standing !== "missing") continue;
    if (isReadOff(value)) list.open(value.path, undefined);
    else for (const path of list.measuredSet(needs, isReadOff) ?? []) list.open(path, undefined);
  }
  for (const check of analysis.checks) {
    const { nominal, worst, idle } = check.verdict;
    if (idle === true || (nominal === "holds" && worst === "holds")) continue;
    if (nominal === "unknown") list.openOf(check);
    else if (!list.coarseOf(check)) undecidable.push(titleOf(check));
  }
  for (const check of analysis.checks) list.unsaidOf(check);
  for (const step of sequenceOf(analysis).steps) {
    if (step.state === "done") continue;
    for (const { path, measured } of step.measure) if (!measured) list.step(path, step.title);
  }
  list.untilUndecided();
  const made = { readings: list.inOrder(), undecidable };
  known.set(analysis, made);
  return made;
}

// ───────────────────────────── helpers ─────────────────────────────

const known = new WeakMap<Analysis, Measuring>();

interface Draft {
  readonly value: Value;
  why: WhyMeasured;
  readonly checks: string[];
  step?: string;
  within?: number;
}

/** Of a tolerance to be held, what the instrument may take: common practice, no source. */
const shareOfTolerance = 1 / 4;

class List {
  private readonly drafts = new Map<string, Draft>();
  private readonly instruments: readonly Instrument[];
  /** Checks that readings without a ± bear on, by the path of the reading. */
  private readonly judgedBy = new Map<string, readonly CheckResult[]>();

  constructor(private readonly analysis: Analysis) {
    this.instruments = knownInstruments(analysis);
  }

  open(path: string, check: CheckResult | undefined): void {
    const draft = this.draft(path, "open");
    if (draft !== undefined && check !== undefined) draft.checks.push(titleOf(check));
  }

  /** The first set that readings alone make up. */
  measuredSet(
    sets: readonly (readonly { readonly path: string }[])[],
    counts: (value: Value | undefined) => boolean = isMeasured,
  ): readonly string[] | undefined {
    const isRead = (path: string): boolean => counts(this.analysis.valueAt(path));
    return sets.find((set) => set.every(({ path }) => isRead(path)))?.map(({ path }) => path);
  }

  /** Readings that would let a check be judged, where readings alone would. */
  openOf(check: CheckResult): void {
    const sets = check.settledBy().map((each) => this.measuredSet(each));
    if (sets.length === 0 || sets.some((set) => set === undefined)) return;
    for (const set of sets) for (const path of set ?? []) this.open(path, check);
  }

  /** Readings whose ± leaves a check undecided; false where the rest alone does. */
  coarseOf(check: CheckResult): boolean {
    const { nominal, worst, margin } = check.verdict;
    if (margin === undefined) return true;
    const read: { readonly path: string; readonly moves: number }[] = [];
    let rest = 0;
    for (const { path, below, above } of check.contributors()) {
      const moves = Math.max(below, above);
      const value = this.analysis.valueAt(path);
      if (value?.role === "measured" && value.standing === "given") read.push({ path, moves });
      else rest += moves;
    }
    const all = read.reduce((sum, { moves }) => sum + moves, 0);
    const room = Math.abs(margin) - rest;
    // Decided as it is: it fails whatever the tolerances, or more than they allow.
    if (nominal === "fails" && Math.abs(margin) >= all + rest) return true;
    if (worst === "holds" || all === 0) return worst === "holds" || rest <= Math.abs(margin);
    if (!(room > 0) || !Number.isFinite(rest)) return false;
    for (const { path, moves } of read) {
      const draft = this.draft(path, "too coarse");
      const off = draft === undefined ? undefined : spreadOf(draft.value);
      if (draft === undefined || off === undefined || moves === 0) continue;
      draft.checks.push(titleOf(check));
      draft.within = Math.min(draft.within ?? Infinity, (off * room) / all);
    }
    return true;
  }

  /** Readings without a ± whose instrument could leave undecided what is decided now. */
  unsaidOf(check: CheckResult): void {
    if (check.verdict.idle === true || !isSure(check.verdict)) return;
    const unsaid = check.unsaid();
    const off = new Map(
      (unsaid?.paths ?? []).flatMap((path) => {
        const value = this.analysis.valueAt(path);
        const by = value === undefined ? undefined : (usualOf(value) ?? this.shownBy(value));
        return by === undefined ? [] : [[path, by] as const];
      }),
    );
    if (unsaid === undefined || off.size === 0) return;
    for (const path of off.keys())
      this.judgedBy.set(path, [...(this.judgedBy.get(path) ?? []), check]);
    if (unsaid.standsWith(off)) return;
    for (const [path, by] of neededFor(off, (each) => unsaid.standsWith(each))) {
      const draft = this.draft(path, "no ± is written");
      if (draft === undefined) continue;
      draft.checks.push(titleOf(check));
      draft.within = Math.min(draft.within ?? Infinity, by);
    }
  }

  /** How far what is on the list and says no ± may be off before a check it bears on is undecided. */
  untilUndecided(): void {
    for (const [path, draft] of this.drafts) {
      const by = usualOf(draft.value) ?? this.shownBy(draft.value);
      if (draft.within !== undefined || by === undefined) continue;
      for (const check of this.judgedBy.get(path) ?? []) {
        const unsaid = check.unsaid();
        const stands = (share: number) =>
          unsaid?.standsWith(new Map([[path, share * by]])) === true;
        const share = largest(stands, mostTimes);
        if (share === undefined || share >= mostTimes) continue;
        draft.checks.push(titleOf(check));
        draft.within = Math.min(draft.within ?? Infinity, share * by);
      }
    }
  }

  /** How far the instrument it is usually read with may be off. */
  private shownBy(value: Value): number | undefined {
    const { measure, si } = value;
    const tool = this.toolOf(value);
    const instrument = tool === undefined ? undefined : instrumentCalled(tool, this.analysis);
    const off = instrument && uncertainty(instrument, measure?.name ?? "", si ?? 0);
    return off !== undefined && off > 0 ? off : undefined;
  }

  step(path: string, title: string): void {
    const draft = this.draft(path, "a step asks for it");
    if (draft === undefined) return;
    draft.step ??= title;
    const { value } = draft;
    const off = value.role === "made" ? value.outcome()?.worst : undefined;
    if (off !== undefined && off > 0) draft.within ??= off * shareOfTolerance;
  }

  /** The sides of a vehicle one after the other, station by station. */
  inOrder(): ToMeasure[] {
    const things = new Map(this.analysis.things.map((thing, index) => [thing, index]));
    const keyed = [...this.drafts.values()].map((draft) => {
      const { thing, field } = draft.value;
      const station = stationOf(thing, field.name);
      const key = [station.index, things.get(thing) ?? 0, station.place, field.place] as const;
      return { draft, station: station.id, key };
    });
    keyed.sort((one, other) => {
      const at = one.key.findIndex((each, index) => each !== other.key[index]);
      return at < 0 ? 0 : (one.key[at] ?? 0) - (other.key[at] ?? 0);
    });
    return keyed.map(({ draft, station }) => this.reading(draft, station));
  }

  private draft(path: string, why: WhyMeasured): Draft | undefined {
    const value = this.analysis.valueAt(path);
    if (value?.measure === undefined) return undefined;
    const before = this.drafts.get(value.path);
    if (before !== undefined) return before;
    const made: Draft = { value, why, checks: [] };
    this.drafts.set(value.path, made);
    return made;
  }

  private reading({ value, why, checks, step, within }: Draft, station: string): ToMeasure {
    const { thing, field, measure, path } = value;
    const usual = within ?? usualOf(value);
    const most =
      usual === undefined || measure === undefined ? undefined : this.noMore(usual, measure);
    const instrument = this.instrumentFor(value, most?.si);
    // What is open decides nothing yet: it is read as exactly as its tool shows it.
    const needed = most ?? (why === "open" ? this.asItsToolShows(value) : undefined);
    const tolerance = value.si === undefined ? undefined : toleranceOf(value, this.analysis);
    const said = value.standing === "missing" ? undefined : figureOf(value, this.analysis).text;
    return {
      path,
      name: field.name.replaceAll("_", " "),
      place: { path: thing.path, title: thing.title ?? thing.kind.title },
      station,
      why,
      how: field.needs ?? field.description ?? "",
      checks: [...new Set(checks)],
      ...(step === undefined ? {} : { step }),
      ...(said === undefined
        ? {}
        : { now: tolerance === undefined ? said : `${said} ${tolerance.worst}` }),
      ...(needed === undefined ? {} : { within: needed }),
      ...(instrument === undefined ? {} : { instrument }),
    };
  }

  /** In one digit, where it is no fraction, never less than it is. */
  private asItsToolShows(value: Value): { si: number; text: string } | undefined {
    const { measure } = value;
    const si = this.shownBy(value);
    if (si === undefined || measure === undefined) return undefined;
    const { style } = this.analysis;
    const written = (off: number) => writeTolerance(off, measure, style)?.text;
    const factor = readUnit(displayOf(measure, style).unit, measure)?.factor ?? 1;
    const ten = 10 ** Math.floor(Math.log10(si / factor) + 1e-9);
    const inDigit = Math.ceil(si / factor / ten - 1e-6) * ten * factor;
    const text = written(si)?.includes("/") === true ? written(si) : written(inDigit);
    return text === undefined ? undefined : { si, text };
  }

  /** A tolerance as one reads it off a tape or a scale, never more than was worked out. */
  private noMore(si: number, measure: Measure): { si: number; text: string } | undefined {
    const { style } = this.analysis;
    const { unit, increment } = displayOf(measure, style);
    const factor = readUnit(unit === "ft" ? "in" : unit, measure)?.factor ?? 1;
    const value = (si / factor) * (1 + 1e-9);
    const halved = 2 ** Math.floor(Math.log2(value));
    const finest = 1 / (2 * (increment?.denominator ?? 1));
    const tens = 10 ** Math.floor(Math.log10(value));
    const plain = [5, 2, 1].map((step) => step * tens).find((step) => step <= value) ?? tens;
    const taken = increment?.denominator !== undefined && halved >= finest ? halved : plain;
    const text = writeTolerance(taken * factor, measure, style)?.text;
    return text === undefined || !(taken > 0) ? undefined : { si: taken * factor, text };
  }

  /**
   * What it is usually read with, where that is fine enough; else the coarsest of the same sort that
   * is: nobody takes a micrometer where a caliper will do, and a bore gauge reads no movement.
   */
  private instrumentFor(value: Value, within: number | undefined): string | undefined {
    const { measure } = value;
    const usual = this.toolOf(value);
    const shown = this.shownBy(value);
    const read = isReadOff(value) ? usual : undefined;
    if (read !== undefined && !(shown !== undefined && within !== undefined && shown > within))
      return read;
    const sort = usual === undefined ? undefined : instrumentCalled(usual, this.analysis)?.sort;
    if (within === undefined || sort === undefined) return undefined;
    const size = Math.abs(value.si ?? readRange(value.field)?.[1] ?? 0);
    let best: { readonly instrument: Instrument; readonly off: number } | undefined;
    for (const instrument of this.instruments) {
      if (instrument.sort !== sort) continue;
      const off = uncertainty(instrument, measure?.name ?? "", value.si ?? 0);
      const { fromLength = 0, toLength = Number.POSITIVE_INFINITY } = instrument;
      if (off === undefined || !(off > 0) || off > within * (1 + 1e-9)) continue;
      if (measure?.name === "length" && (size < fromLength || size > toLength)) continue;
      if (best === undefined || off > best.off) best = { instrument, off };
    }
    return best?.instrument.name;
  }

  /** What a figure is read with; what is made, with what the build says that its maker goes by. */
  private toolOf({ field }: Value): string | undefined {
    const holder = heldBy(field);
    if (holder === undefined) return field.with;
    return this.analysis.vocabulary.kinds.get(holder.kind)?.fields.get(holder.field)?.with;
  }
}

/**
 * Which readings have to be surer than what they are read with, and how sure: where one alone is
 * enough, that which has to be so least, and those that would have to be as much so; all others as
 * they are read. Else all by the same share.
 */
function neededFor(
  off: ReadonlyMap<string, number>,
  stands: (off: ReadonlyMap<string, number>) => boolean,
): ReadonlyMap<string, number> {
  const shareOf = (paths: readonly string[]): number | undefined => {
    const surer = (share: number) =>
      new Map([...off].map(([path, by]) => [path, paths.includes(path) ? share * by : by]));
    return stands(surer(0)) ? largest((share) => stands(surer(share)), 1) : undefined;
  };
  const all = [...off.keys()];
  const alone = all.length > mostTriedAlone ? [] : all.map((path) => shareOf([path]) ?? 0);
  const most = Math.max(0, ...alone);
  // Of those that mirror each other none is singled out.
  const chosen = most > 0 ? all.filter((_, at) => (alone[at] ?? 0) > 0.99 * most) : all;
  const share = shareOf(chosen);
  return new Map(
    share === undefined ? [] : chosen.map((path) => [path, share * (off.get(path) ?? 0)]),
  );
}

/** Of more readings none is looked at by itself. */
const mostTriedAlone = 8;

/** The largest share up to `most` with which something is so; it is so for all that are smaller. */
function largest(isSo: (share: number) => boolean, most: number): number | undefined {
  if (isSo(most)) return most;
  let [inside, outside] = [0, most];
  for (let round = 0; round < halvings; round++) {
    const middle = (inside + outside) / 2;
    if (isSo(middle)) inside = middle;
    else outside = middle;
  }
  return inside > 0 ? inside : undefined;
}

/** Until a round figure that is enough is not missed by a hair. */
const halvings = 40;
/** What a reading may be off by is not looked for beyond so many times what its instrument may be. */
const mostTimes = 64;

function isMeasured(value: Value | undefined): boolean {
  return value?.role === "measured";
}

/** A part is read, too, where it is asked for: it lies there, whatever its maker states. */
function isReadOff(value: Value | undefined): boolean {
  return isMeasured(value) || (value?.role === "bought" && value.field.with !== undefined);
}

function titleOf({ thing, title }: CheckResult): string {
  return thing === undefined ? title : `${thing.path}: ${title}`;
}

function spreadOf(value: Value): number | undefined {
  const spread = value.spread();
  const off = Math.max(spread?.worstBelow ?? 0, spread?.worstAbove ?? 0);
  return off > 0 && Number.isFinite(off) ? off : undefined;
}

/** What the library takes a reading of it to be good for. */
function usualOf({ field, measure }: Value): number | undefined {
  if (field.tolerance === undefined || measure === undefined) return undefined;
  const text = field.tolerance.type === "quantity" ? field.tolerance : undefined;
  const [part] = text?.parts ?? [];
  const unit = part === undefined ? undefined : readUnit(part.unit.text, measure);
  return part === undefined || unit === undefined ? undefined : part.number.value * unit.factor;
}

function stationOf(thing: Thing, field: string): { id: string; index: number; place: number } {
  for (const [index, { id, figures }] of stations.entries()) {
    const place = figures.findIndex(({ kind, fields }) => thing.is(kind) && fields.includes(field));
    if (place < 0) continue;
    return { id, index, place: figures[place]?.fields.indexOf(field) ?? 0 };
  }
  return { id: stations[0]?.id ?? "", index: 0, place: Number.POSITIVE_INFINITY };
}
