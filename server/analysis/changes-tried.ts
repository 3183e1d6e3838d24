/**
 * Changes that would mend what is wrong, as they are told: what becomes of the build with each.
 *
 * Must not know: how they are found.
 */
import type { FitLevel, Role } from "../solve/system";

/** A change that was put into the whole build, with what it does there. */
export interface Tried {
  /** The hardest level at which the check holds with it. */
  readonly holds: FitLevel;
  /** Asked and headline figures that come out otherwise. */
  readonly moves: readonly Moved[];
  /** Checks that fail with it and do not without. */
  readonly breaks: readonly Broken[];
}

/** A part of the build's files, or of those they use, in the place of another. */
export interface OtherPart extends Tried {
  /** The field that names the part: `rear.wheel`. */
  readonly path: string;
  /** As the build's file calls it: `wheels.deep`. */
  readonly part: string;
  /** What is written there now. */
  readonly was: string;
}

export interface TighterTolerance {
  readonly figures: readonly {
    readonly path: string;
    /** The ± it may keep and that it has, as shown. */
    readonly to: string;
    readonly from: string;
  }[];
  /** How much of its tolerance each keeps, below 1. */
  readonly share: number;
}

/** One figure of a change. */
export interface Offer {
  readonly path: string;
  /** In coherent SI, and as it would be written. */
  readonly si: number;
  readonly shown: string;
  readonly role?: Role;
  /** Where it is written, where that is another file than the build's own: `parts/wheels.trammel`. */
  readonly file?: string;
}

/** One figure changed, or two together. */
export interface FittingChange extends Tried {
  readonly offers: readonly Offer[];
}

/** A figure that comes out otherwise, as shown. */
export interface Moved {
  readonly path: string;
  readonly from: string;
  readonly to: string;
}

export interface Broken {
  readonly title: string;
  readonly level: FitLevel;
}
