/**
 * What may be asked to choose among things, and what is answered.
 *
 * Must not know: how anything is chosen.
 */
import type { Measure } from "../units";
import type { Analysis } from "./analysis";

/** Which fields to fill from the things in scope, and what to be sparing with. */
export interface ChooseRequest {
  /** Reference fields: `rear.wheel`, `rear.tire`. */
  readonly fields: readonly string[];
  /** Figures to be least: paths (`rear.left.outer_gap`), or fields of the things (`price`), added up. */
  readonly least?: readonly string[];
  /** Figures of which there is to be most. */
  readonly most?: readonly string[];
  /**
   * How many combinations are wanted, best first; 5 unless said. Of several aims all combinations are
   * given that no other one beats.
   */
  readonly keep?: number;
  /** How many of its thing each field takes, in their order; 1 unless said. */
  readonly counts?: readonly number[];
  /** A field of the things that says how many of each there are: no more are taken. */
  readonly stock?: string;
  /** A field of the things that says how many pieces there are in one: as many are bought as that takes. */
  readonly pack?: string;
  /** A thing for each field: why are these not among the choices? */
  readonly why?: readonly string[];
}

export interface ChosenThings {
  readonly picks: readonly {
    readonly field: string;
    readonly thing: string;
    readonly title?: string;
  }[];
  /** What it comes to by each aim, in SI; undefined where what was picked says too little. */
  readonly aims: readonly (number | undefined)[];
  /** Titles of checks that could not be judged, for want of a figure of what was picked. */
  readonly unjudged: readonly string[];
  /** What is missing for the aims, in words. */
  readonly gaps: readonly string[];
  /** The build with these things in it, solved as a whole: no check fails. */
  readonly analysis: Analysis;
}

/** Things that are not among the choices, put into the build. */
export interface ThingsPassedOver {
  readonly picks: ChosenThings["picks"];
  /** What is wrong with the build then, in words; nothing where they fit and others go before. */
  readonly problems: readonly string[];
  readonly aims: readonly (number | undefined)[];
  readonly gaps: readonly string[];
}

export interface ChooseAnswer {
  readonly choices: readonly ChosenThings[];
  readonly aims: readonly {
    readonly path: string;
    readonly most: boolean;
    readonly measure?: Measure;
    /** Of amounts of money: what is in another currency is not compared. */
    readonly currency?: string;
  }[];
  readonly combinations: number;
  /** For each field the things that were looked at. */
  readonly candidates: readonly { readonly field: string; readonly things: readonly string[] }[];
  /** Where nothing fits: the check that rules out most. */
  readonly blocking?: string;
  /** Where nothing fits: what there were too few of for some combination. */
  readonly short?: readonly string[];
  /** Where nothing fits: those that come nearest. */
  readonly nearest: readonly ThingsPassedOver[];
  /** What was asked about by `why`. */
  readonly passedOver?: ThingsPassedOver;
  /** False where the search was cancelled, or ended before all was looked at. */
  readonly complete: boolean;
  /** Why the request could not be carried out, in words. */
  readonly problem?: string;
}
