/**
 * What a check owes to readings that say no ±: which of them bear on it, and whether it is as decided
 * as it is where they are off by so much. The same bounds judge it as with a ± that is written.
 *
 *     new UnsaidReadings(source, claim).standsWith(new Map([["rear.left.inner_limit", 0.0008]]))
 *
 * Must not know: how far a reading is usually off, with what it is read.
 */
import type { ModelClaim } from "../model/model";
import { marginOf, sensitivities, solveOverlay, verdictOf } from "../solve";
import type { GivenNumber, Verdict } from "../solve/system";
import { SolvedCell } from "./reasons";
import { type CheckSource, verdictOfClaim } from "./verdicts";

export class UnsaidReadings {
  private readonly solved: SolvedCell;
  private readonly variables: ReadonlyMap<string, number>;

  constructor(
    private readonly source: CheckSource,
    private readonly claim: ModelClaim,
  ) {
    const { reading } = source;
    this.solved = new SolvedCell(reading, reading.cells.solvedFor(claim.figures, "outcome"));
    this.variables = new Map(this.bearing().map((place) => [this.nameOf(place), place]));
  }

  /** Their paths. */
  get paths(): readonly string[] {
    return [...this.variables.keys()];
  }

  /** Whether the verdict stays what it is, and sure, where each is off by so much, SI, either way. */
  standsWith(off: ReadonlyMap<string, number>): boolean {
    const { solution } = this.solved;
    const givens = new Map<number, GivenNumber>();
    for (const [path, by] of off) {
      const place = this.variables.get(path);
      const given = place === undefined ? undefined : solution.system.variables[place]?.given;
      if (place === undefined || given === undefined) continue;
      givens.set(place, { ...given, low: given.value - by, high: given.value + by });
    }
    const verdict = verdictOf(solveOverlay(solution, { givens }), this.solved.local(this.claim));
    return verdict.nominal === verdictOfClaim(this.source, this.claim).nominal && isSure(verdict);
  }

  private bearing(): number[] {
    const margin = marginOf(this.solved.local(this.claim));
    if (margin === undefined) return [];
    const { solution } = this.solved;
    return [...sensitivities(solution, margin)].flatMap(([place, slope]) => {
      const about = this.solved.figureAt(place);
      const given = solution.system.variables[place]?.given;
      if (slope === 0 || given === undefined || about?.variable.role !== "measured") return [];
      return given.high > given.low ? [] : [place];
    });
  }

  private nameOf(place: number): string {
    return this.solved.figureAt(place)?.name ?? "";
  }
}

/** It holds in the worst case, or fails in the best. */
export function isSure({ nominal, worst, margin, spread }: Verdict): boolean {
  if (nominal === "holds") return worst === "holds";
  return (
    nominal === "fails" && margin !== undefined && Math.abs(margin) >= (spread?.worstAbove ?? 0)
  );
}
