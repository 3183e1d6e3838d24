/**
 * One sort of combinations of things, searched by the solver: those that leave the same equations.
 *
 *     await new SortSearch(analysis, shelves, slots, aims, counts, sort).run(…)
 *
 * Must not know: what becomes of the build in earnest, how anything is told.
 */
import { choose } from "../solve";
import type { Choice, ChoiceControl, NearMiss } from "../solve/choose";
import type { BuildAnalysis } from "./build-analysis";
import { type Aim, AimPlaces } from "./choose-aims";
import type { Quantities } from "./choose-quantities";
import {
  candidateOf,
  type FieldToFill,
  freedBy,
  judgeable,
  type PlacedClaim,
  type Sort,
  surroundings,
} from "./choose-slots";

export interface FoundChoice extends Choice {
  /** Titles of claims that could not be judged. */
  readonly open: readonly string[];
}

/** One sort of combinations: they leave the same equations. */
export class SortSearch {
  ruledOut: readonly number[] = [];
  claims: readonly PlacedClaim[] = [];
  nearest: readonly NearMiss[] = [];
  short: readonly string[] = [];

  constructor(
    private readonly analysis: BuildAnalysis,
    private readonly shelves: BuildAnalysis,
    private readonly slots: readonly FieldToFill[],
    private readonly aims: readonly Aim[],
    private readonly counts: Quantities,
    private readonly sort: Sort,
  ) {}

  private known: ReturnType<SortSearch["make"]> | undefined;

  private get made() {
    this.known ??= this.make();
    return this.known;
  }

  /** Titles of claims that some of its candidates lets be judged. */
  get judged(): readonly string[] {
    return this.made.claims.map(({ title }) => title);
  }

  private make() {
    const { slots, aims, sort, shelves } = this;
    const around = surroundings(
      freedBy(this.analysis, sort.lines),
      sort.places,
      aims.flatMap(({ figure }) => figure ?? []),
    );
    const places = new AimPlaces(aims, around, slots);
    const candidates = slots.map((slot, number) =>
      (sort.members[number] ?? []).map((member) => {
        const name = slot.names[member] ?? "";
        const place = sort.places[number] ?? slot.path;
        const candidate = candidateOf(shelves, name, around, place, slot);
        const count = this.counts.pieces(name);
        const takes = this.counts.takes(number);
        const there = count === undefined ? {} : { stock: { of: name, count, takes } };
        const bought = this.counts.bought(number, name);
        return { ...places.with(candidate, number, name, bought, shelves), ...there };
      }),
    );
    const claims = judgeable(around.claims, places.system, candidates);
    const open = around.claims.filter((claim) => !claims.includes(claim));
    return { places, candidates, claims, open };
  }

  /** `judged`: titles of claims that can be judged of some combination, of whichever sort. */
  async run(
    keep: number,
    judged: ReadonlySet<string>,
    accepts: (picks: readonly number[]) => boolean,
    control: ChoiceControl,
  ): Promise<{ readonly found: readonly FoundChoice[]; readonly complete: boolean }> {
    const { places, candidates, claims, open } = this.made;
    const never = open.flatMap(({ title }) => (judged.has(title) ? [title] : []));
    const members = (picks: readonly number[]) =>
      picks.map((pick, slot) => this.sort.members[slot]?.[pick] ?? 0);
    const answer = await choose(
      {
        system: places.system,
        slots: candidates.map((each) => ({ candidates: each })),
        claims,
        aims: places.quantities,
        level: this.analysis.hardestLevel,
        keep,
        accepts: (picks) => accepts(members(picks)),
      },
      control,
    );
    this.ruledOut = answer.ruledOut;
    this.short = answer.short;
    this.claims = claims;
    this.nearest = answer.nearest.map((miss) => ({ ...miss, picks: members(miss.picks) }));
    const found = answer.choices.map((choice) => ({
      ...choice,
      picks: members(choice.picks),
      unjudged: [...choice.unjudged, ...never.keys()],
      open: [...choice.unjudged.flatMap((claim) => claims[claim]?.title ?? []), ...never],
    }));
    return { found, complete: answer.complete };
  }
}
