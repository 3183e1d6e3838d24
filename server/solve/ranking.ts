/**
 * The best combinations found so far: by one aim the least, by several all that no other one beats, by
 * none those that stand first. What could be judged only in part ranks behind what was judged whole.
 *
 * Must not know: how combinations are come by.
 */
import { CLOSE } from "./evaluate";

export interface Choice {
  /** For each slot the number of its candidate. */
  readonly picks: readonly number[];
  /** What each aim comes to; undefined where some candidate says too little for it. */
  readonly aims: readonly (number | undefined)[];
  /** Numbers of the claims that could not be judged with it. */
  readonly unjudged: readonly number[];
}

/** Of several aims so many combinations are kept that no other one beats. */
const WIDEST_FRONT = 400;

export class Ranking {
  private readonly list: Choice[] = [];
  /** There were more that no other one beats than are kept. */
  cut = false;

  constructor(
    private readonly aims: number,
    private readonly keep: number,
  ) {}

  get found(): readonly Choice[] {
    return this.list;
  }

  /**
   * Whether a combination may be among the best: its aims come to these at least, NaN for unknown, and
   * its picks stand no earlier than those.
   */
  admits(least: ArrayLike<number>, leastPick: (slot: number) => number): boolean {
    if (this.aims > 1) {
      if (hasGap(least)) return this.list.length < this.keep;
      return !this.list.some((other) => isWhole(other) && beats(other, least));
    }
    const last = this.list[this.keep - 1];
    if (last === undefined || !isWhole(last)) return true;
    if (this.aims === 0)
      return comparePicks({ picks: last.picks.map((_, slot) => leastPick(slot)) }, last) < 0;
    if (hasGap(least)) return false;
    const worst = last.aims[0]!;
    return least[0]! <= worst + CLOSE * Math.abs(worst);
  }

  add(choice: Choice): void {
    const { list } = this;
    if (this.aims > 1 && isWhole(choice)) {
      const own = choice.aims as readonly number[];
      if (list.some((other) => isWhole(other) && (beats(other, own) || isSame(other, choice)))) {
        return;
      }
      for (let at = list.length - 1; at >= 0; at--) {
        const other = list[at]!;
        if (isWhole(other) && beats(choice, other.aims as readonly number[])) list.splice(at, 1);
      }
    }
    list.push(choice);
    list.sort(byRank);
    const most = this.aims > 1 ? Math.max(this.keep, this.front) : this.keep;
    if (this.aims > 1 && this.front > WIDEST_FRONT) this.cut = true;
    if (list.length > Math.min(most, WIDEST_FRONT)) list.length = Math.min(most, WIDEST_FRONT);
  }

  private get front(): number {
    return this.list.filter(isWhole).length;
  }
}

/** Judged whole before judged in part, then by each aim in turn, then by the order of the candidates. */
export function byRank(one: Choice, other: Choice): number {
  const gaps = ({ aims, unjudged }: Choice): number =>
    unjudged.length + aims.filter((aim) => aim === undefined).length;
  const apart = gaps(one) - gaps(other);
  if (apart !== 0) return apart;
  for (const [at, aim] of one.aims.entries()) {
    const [left, right] = [aim ?? 0, other.aims[at] ?? 0];
    if (Math.abs(left - right) > CLOSE * Math.max(Math.abs(left), Math.abs(right))) {
      return left - right;
    }
  }
  return comparePicks(one, other);
}

export function comparePicks(one: Pick<Choice, "picks">, other: Pick<Choice, "picks">): number {
  const at = one.picks.findIndex((pick, slot) => pick !== other.picks[slot]);
  return at < 0 ? 0 : one.picks[at]! - other.picks[at]!;
}

// ───────────────────────────── helpers ─────────────────────────────

function isWhole({ aims, unjudged }: Choice): boolean {
  return unjudged.length === 0 && aims.every((aim) => aim !== undefined);
}

function hasGap(least: ArrayLike<number>): boolean {
  for (let at = 0; at < least.length; at++) if (Number.isNaN(least[at])) return true;
  return false;
}

/** No worse in any aim, and better in one. */
function beats({ aims }: Choice, other: ArrayLike<number>): boolean {
  let better = false;
  for (const [at, aim] of aims.entries()) {
    const slack = CLOSE * Math.max(Math.abs(aim!), Math.abs(other[at]!));
    if (aim! > other[at]! + slack) return false;
    if (aim! < other[at]! - slack) better = true;
  }
  return better;
}

/** Comes to the same in all aims, of candidates that stand earlier. */
function isSame(other: Choice, choice: Choice): boolean {
  const alike = other.aims.every((aim, at) => {
    const own = choice.aims[at]!;
    return Math.abs(aim! - own) <= CLOSE * Math.max(Math.abs(aim!), Math.abs(own));
  });
  return alike && comparePicks(other, choice) < 0;
}
