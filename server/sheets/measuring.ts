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
 * check undecided the reading is on the list, with the share of it that would not. What is open is tried
 * (`once-read.ts`); where no check asks for more it is read as exactly as its tool shows. Must not know:
 * how it is shown.
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
import { readUnit, writeQuantity } from "../units";
import { type Figure, insteadOf, noLess, noMore } from "./how-exact";
import { type Hanging, onceRead, titleOf } from "./once-read";
import { stations } from "./stations";
import { largest, neededFor } from "./surer";

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
  /** Who says how exactly: what hangs on it, or no more than its tool. */
  readonly withinBy?: "what hangs on it" | "its tool";
  /** The plainest instrument that is fine enough. */
  readonly instrument?: string;
  /** No tool of the shop is: figures it follows from that can be read instead, by path. */
  readonly instead?: readonly string[];
  /** Of what is open: what each check asks of it, as far as that can be told. */
  readonly decides?: readonly Deciding[];
}

/** A check that hangs on what is open: how exactly it is to be read, where it turns, or what lacks. */
export interface Deciding {
  readonly check: string;
  readonly within?: Figure;
  readonly from?: Figure;
  readonly upTo?: Figure;
  readonly once?: readonly string[];
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
  list.onceRead();
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
  hanging?: readonly Hanging[];
}

/** What a reading may be off by is not looked for beyond so many times what its instrument may be. */
const mostTimes = 64;
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

  /** What the checks say of that which is open, once it is read. */
  onceRead(): void {
    const open = [...this.drafts.values()].filter(({ why }) => why === "open");
    const read = open.map(({ value }) => ({ value, off: usualOf(value) ?? this.shownBy(value) }));
    const told = onceRead(this.analysis, read);
    for (const draft of open) {
      const hanging = told.get(draft.value.path) ?? [];
      draft.hanging = hanging;
      draft.checks.push(...hanging.map(({ check }) => check));
      // What some check asks is all there is to say only where every one says it.
      const shown = usualOf(draft.value) ?? this.shownBy(draft.value) ?? Infinity;
      const least = Math.min(...hanging.map(({ within = shown }) => within));
      if (hanging.length > 0 && Number.isFinite(least) && least !== shown)
        draft.within = Math.min(draft.within ?? Infinity, least);
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

  private reading(draft: Draft, station: string): ToMeasure {
    const { value, why, checks, step, within, hanging = [] } = draft;
    const { thing, field, measure, path } = value;
    const { style } = this.analysis;
    const usual = within ?? usualOf(value);
    const most =
      usual === undefined || measure === undefined ? undefined : noMore(usual, measure, style);
    const instrument = this.instrumentFor(value, most?.si);
    // What is open decides nothing yet: it is read as exactly as its tool shows it.
    const needed = most ?? (why === "open" ? this.asItsToolShows(value) : undefined);
    const tolerance = value.si === undefined ? undefined : toleranceOf(value, this.analysis);
    const by = most === undefined || within === undefined ? "its tool" : "what hangs on it";
    const none = within !== undefined && most !== undefined && instrument === undefined;
    const decides = hanging.map((each) => this.deciding(each, value));
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
      ...(needed === undefined ? {} : { within: needed, withinBy: by }),
      ...(instrument === undefined ? {} : { instrument }),
      ...(none
        ? { instead: insteadOf(value, (each) => this.analysis.valueAt(each), isReadOff) }
        : {}),
      ...(decides.length === 0 ? {} : { decides }),
    };
  }

  private deciding({ check, within, turn, once }: Hanging, { measure }: Value): Deciding {
    if (measure === undefined) return { check };
    const off = within === undefined ? undefined : noMore(within, measure, this.analysis.style);
    const text = turn && writeQuantity(turn.at, measure, this.analysis.style)?.text;
    const at = turn === undefined || text === undefined ? undefined : { si: turn.at, text };
    return {
      check,
      ...(off === undefined ? {} : { within: off }),
      ...(at === undefined ? {} : turn?.holds === "from" ? { from: at } : { upTo: at }),
      ...(once === undefined ? {} : { once }),
    };
  }

  private asItsToolShows(value: Value): Figure | undefined {
    const si = this.shownBy(value);
    const { measure } = value;
    return si === undefined || measure === undefined
      ? undefined
      : noLess(si, measure, this.analysis.style);
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

function isMeasured(value: Value | undefined): boolean {
  return value?.role === "measured";
}

/** A part is read, too, where it is asked for: it lies there, whatever its maker states. */
function isReadOff(value: Value | undefined): boolean {
  return isMeasured(value) || (value?.role === "bought" && value.field.with !== undefined);
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
