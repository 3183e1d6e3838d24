/**
 * How exactly what is open will have to be read, before it is read: the build is tried with figures
 * in its place. Where a check keeps its margin whatever the reading comes to (what is made is drawn to
 * it), that margin says how far the reading may be off. Where the reading itself decides it, the place
 * is told at which it turns; near that place only a surer reading decides. Where further open figures
 * have a say, these are named.
 *
 *     onceRead(analysis, [limit]).get("rear.left.inner_limit")
 *       // [{ check: "rear.left: the inner sidewall clears", within: 0.0063 }]
 *
 * Must not know: what it is read with, how it is shown.
 */
import type { Analysis, CheckResult, Value } from "../analysis/analysis";
import { readRange } from "../model/kind-environment";

/** What a check asks of a reading that is still open: one of the three. */
export interface Hanging {
  readonly check: string;
  /** One side, SI: its margin is the same whatever the reading comes to. */
  readonly within?: number;
  /** It turns at this reading, SI: it holds from there up, or up to there. */
  readonly turn?: { readonly holds: "from" | "up to"; readonly at: number };
  /** Open figures that have to be known before it says more, by path. */
  readonly once?: readonly string[];
}

export interface ToRead {
  readonly value: Value;
  /** What it is read with may be off by so much, where that is known. */
  readonly off: number | undefined;
}

/** By path; nothing of figures on which no check hangs, and nothing at all of more than can be tried. */
export function onceRead(
  analysis: Analysis,
  open: readonly ToRead[],
): ReadonlyMap<string, readonly Hanging[]> {
  const told = new Map<string, Hanging[]>();
  const read = open
    .filter(({ value: { measure } }) => measure !== undefined && measure.si !== "money")
    .map((each) => guessed(each, analysis));
  if (read.length === 0 || read.length > mostTried) return told;
  const first = new Trial(analysis, read, () => 0);
  if (!first.isPossible) return told;
  const byPath = new Map(read.map((each) => [each.path, each]));
  const trials = new Map<string, Trial>();
  const moved = (each: Guess, times: number): Trial => {
    const key = `${times} ${each.path}`;
    let trial = trials.get(key);
    if (trial === undefined) {
      trial = new Trial(analysis, read, (other) => (other === each ? times * each.step : 0));
      trials.set(key, trial);
    }
    return trial;
  };
  const before = new Map(analysis.checks.map((check) => [titleOf(check), check]));
  /** What an undecided check could be settled by. */
  const waitsFor = (check: CheckResult | undefined): readonly Guess[] =>
    check?.verdict.nominal === "unknown"
      ? check
          .settledBy()
          .flat(2)
          .flatMap(({ path }) => byPath.get(path) ?? [])
      : [];
  for (const [title, check] of first.checks) {
    const { margin } = check.verdict;
    // A remark decides nothing.
    if (margin === undefined || !Number.isFinite(margin) || check.remarks.severity === "note")
      continue;
    const by = contributions(check, byPath);
    const near = new Set([...by.read.map(({ guess }) => guess), ...waitsFor(before.get(title))]);
    if (near.size === 0) continue;
    const tell = ({ path }: Guess, hanging: Omit<Hanging, "check">): void => {
      told.set(path, [...(told.get(path) ?? []), { check: title, ...hanging }]);
    };
    const marginAt = (each: Guess, times: number) => moved(each, times).marginOf(title);
    // What is made is drawn to one reading and held against another: both count.
    const deciding = [...near].filter((each) =>
      decides((times) => marginAt(each, times), margin, by.read),
    );
    const [only, ...more] = deciding;
    if (only === undefined) {
      const all = by.read.reduce((sum, { moves }) => sum + moves, 0);
      const room = margin - by.rest;
      if (!(room > 0) || !Number.isFinite(room)) continue;
      for (const { guess } of by.read) tell(guess, { within: (guess.off * room) / all });
    } else if (more.length === 0) {
      const at = turnOf(margin, only, marginAt(only, 1), (si) =>
        new Trial(analysis, read, (other) => (other === only ? si - only.si : 0)).marginOf(title),
      );
      if (at !== undefined) tell(only, { turn: at });
    } else
      for (const guess of deciding) {
        const once = deciding.filter((other) => other !== guess).map(({ path }) => path);
        tell(guess, { once });
      }
  }
  return told;
}

/** A check as the list of readings names it. */
export function titleOf({ thing, title }: Pick<CheckResult, "thing" | "title">): string {
  return thing === undefined ? title : `${thing.path}: ${title}`;
}

// ───────────────────────────── helpers ─────────────────────────────

/** A figure that could be read, and how far it is moved to see what hangs on it. */
interface Guess {
  readonly path: string;
  readonly si: number;
  readonly step: number;
  readonly off: number;
  readonly unit: string;
}

interface Contribution {
  readonly guess: Guess;
  /** How far its ± moves the margin. */
  readonly moves: number;
}

/** Each is read once more by itself. */
const mostTried = 40;
/** How far one is moved to see what hangs on it, as a share of its size. */
const share = 0.05;
/** A margin that moves by less than this share of what the reading moved by is drawn to it. */
const drawnTo = 0.25;
/** A margin that moves by less than this share of itself does not move. */
const nothing = 1e-6;
/** A turning place is believed where the margin there is so small a share of what it was. */
const onTurn = 0.02;
const mostSteps = 4;
/** Where nothing says what it is read with: a thousandth of the step it is moved by. */
const fine = 1e-3;

function guessed({ value, off }: ToRead, analysis: Analysis): Guess {
  const { path, measure, field } = value;
  const [low, high] = readRange(field) ?? [0, 100 * (measure?.scale ?? 1)];
  const si = twinOf(value, analysis) ?? (low > 0 ? Math.sqrt(low * high) : (low + high) / 2);
  const size = Math.min(Math.abs(si) > 0 ? Math.abs(si) : Infinity, (high - low) / 4);
  const step = (si + share * size <= high ? 1 : -1) * share * size;
  const unit = measure?.si === "1" ? "" : (measure?.si ?? "");
  return { path, si, step, off: off ?? Math.abs(step) * fine, unit };
}

/** What the other of two parts of one kind has there, such as left and right. */
function twinOf({ thing, field }: Value, analysis: Analysis): number | undefined {
  for (const other of thing.owner?.parts.values() ?? []) {
    if (other === thing || other.kind !== thing.kind) continue;
    const si = analysis.valueAt(`${other.path}.${field.name}`)?.si;
    if (si !== undefined) return si;
  }
  return undefined;
}

/** The build with all that is to be read in it. */
class Trial {
  readonly checks: ReadonlyMap<string, CheckResult>;
  readonly isPossible: boolean;

  constructor(analysis: Analysis, read: readonly Guess[], by: (guess: Guess) => number) {
    const lines = read.map((guess) => {
      const { path, si, off, unit } = guess;
      return `${path}: ${plain(si + by(guess))} ${unit} ± ${plain(off)} ${unit}`;
    });
    const tried = analysis.trying(lines.join("\n"));
    this.isPossible = tried.contradictions.length <= analysis.contradictions.length;
    this.checks = new Map(tried.checks.map((check) => [titleOf(check), check]));
  }

  marginOf(title: string): number | undefined {
    return this.checks.get(title)?.verdict.margin;
  }
}

/** A number as the language reads it. */
function plain(value: number): string {
  return value.toPrecision(12);
}

/** How far readings move the margin of a check, and all else together. */
function contributions(
  check: CheckResult,
  byPath: ReadonlyMap<string, Guess>,
): { readonly read: readonly Contribution[]; readonly rest: number } {
  const read: Contribution[] = [];
  let rest = 0;
  for (const { path, below, above } of check.contributors()) {
    const moves = Math.max(below, above);
    const guess = byPath.get(path);
    if (guess === undefined) rest += moves;
    else if (moves > 0 && Number.isFinite(moves)) read.push({ guess, moves });
  }
  return { read, rest };
}

/**
 * Whether a margin goes with what is moved, further than steps of what is made explain: by a good part
 * of what the readings' own ± would do, where they do anything; else twice as far with twice the move.
 */
function decides(
  marginAt: (times: number) => number | undefined,
  before: number,
  read: readonly Contribution[],
): boolean {
  const after = marginAt(1);
  if (after === undefined) return true;
  const moved = Math.abs(after - before);
  const expected = read.map(({ guess, moves }) => (moves / guess.off) * Math.abs(guess.step));
  if (expected.length > 0) return moved > drawnTo * Math.min(...expected);
  if (moved <= nothing * Math.abs(before)) return false;
  const further = Math.abs((marginAt(2) ?? Number.NaN) - before);
  return further > 1.5 * moved && further < 3 * moved;
}

function turnOf(
  margin: number,
  guess: Guess,
  after: number | undefined,
  marginAt: (si: number) => number | undefined,
): Hanging["turn"] {
  if (after === undefined || after === margin) return undefined;
  const rises = after > margin === guess.step > 0;
  let [at, there]: [number, number | undefined] = [guess.si + guess.step, after];
  // Straight there; of a bend, and of steps, in a few.
  for (let round = 0; round < mostSteps && there !== undefined; round++) {
    if (Math.abs(there) <= onTurn * onTurn * Math.abs(margin) || there === margin) break;
    at = guess.si - (margin * (at - guess.si)) / (there - margin);
    there = marginAt(at);
  }
  const hits = there !== undefined && Math.abs(there) <= onTurn * Math.max(Math.abs(margin), 1e-12);
  return hits && Number.isFinite(at) ? { holds: rises ? "from" : "up to", at } : undefined;
}
