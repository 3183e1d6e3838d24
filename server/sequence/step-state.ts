/**
 * What may be said of a step and of what was done for it; worked out in `progress.ts`.
 *
 * Must not know: how it is found, how it is worded.
 */
import type { CheckResult } from "../analysis/analysis";
import type { Lacking } from "../findings/work-phrases";
import type { Thing } from "../model/thing";
import type { LogEntry } from "./entries";
import type { NamedItem } from "./names";
import type { Joint, Step } from "./plan";
import type { Judge } from "./torque-judgment";
import type { Why } from "./waiting";

/** Something that was done for a step: the step as a whole, or the last tightening of a joint. */
export interface Act {
  readonly step: Step;
  readonly entry: LogEntry;
  readonly joint?: Joint;
}

/** What was done after an act that stands on it. */
export interface Again {
  readonly act: Act;
  readonly before: Step;
  readonly why: Why;
  readonly because: "redone" | "undone" | "stands" | "early";
  /** The entry that did or undid it again; open where that is still to be done. */
  readonly since?: LogEntry;
}

/** A step that had to come first came later, or is not on record at all. */
export interface Early {
  readonly act: Act;
  readonly before: Step;
  readonly first?: LogEntry;
}

export interface StepState {
  /** The entry that says it is done and was not taken back. */
  readonly recorded?: LogEntry;
  readonly done: boolean;
  readonly missing: readonly Lacking[];
  readonly again: readonly Again[];
  readonly early: readonly Early[];
  /** Joints that were tightened, figures that were measured only after it was said to be done. */
  readonly late: readonly {
    readonly is: "tightened" | "measured";
    readonly path: string;
    readonly entry: LogEntry;
  }[];
}

/** What the analysis knows of figures and limits. */
export interface Facts {
  readonly judge: Judge;
  /** Whether a figure that a step needs has no value. */
  isOpen(named: NamedItem): boolean;
  checksOf(step: Step): readonly CheckResult[];
  /** Those of its limits that do not hold. */
  failing(step: Step): readonly CheckResult[];
  /** What a figure is to be, in SI. */
  specOf(figure: { readonly thing: Thing; readonly field: string }): number | undefined;
  readonly today: string | undefined;
}
