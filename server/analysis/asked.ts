/**
 * A figure that is asked for. What would settle it, where it is open, is worked out when somebody
 * reads that, not before: telling what is missing costs nothing of it.
 *
 *     new Asked(result, figure, value, anchor, fellows).needs   →   [[{ path: "rear.wheel.offset" }], …]
 *
 * Must not know: who asks for advice, how it is told.
 */

import type { Anchor } from "../../grammar/anchor";
import { inTime } from "../keep/patience";
import type { FigureId } from "../names/ids";
import type { AskedValue, Need, Value } from "./analysis";
import { isAdvised, needsOf } from "./needs";
import type { Reading } from "./reading";

type Needs = readonly (readonly Need[])[];

const none: ReadonlySet<string> = new Set();

export class Asked implements AskedValue {
  private made: Needs | undefined;

  constructor(
    private readonly source: { readonly reading: Reading },
    private readonly figure: FigureId,
    readonly value: Value,
    readonly anchor: Anchor,
    /** Asked for beside it, and no advice for that. */
    private readonly fellows: ReadonlySet<FigureId>,
    /** Paths of figures that are open themselves: ways over them are no way out. */
    private readonly open: ReadonlySet<string> = none,
    readonly option?: string,
  ) {}

  get advised(): boolean {
    if (this.made !== undefined || !this.isOpen || this.value.isCutShort === true) return true;
    return isAdvised(this.source.reading, this.figure);
  }

  get needs(): Needs {
    if (this.made === undefined) {
      const sets = this.isOpen ? this.sets() : [];
      // Where the time ended nobody knows: that no few figures would do is not said.
      if (sets === undefined) return [];
      this.made = sets.filter((set) => set.every(({ path }) => !this.open.has(path)));
    }
    return this.made;
  }

  private sets(): Needs | undefined {
    const make = () => needsOf(this.source.reading, this.figure, this.fellows);
    return isAdvised(this.source.reading, this.figure) ? make() : inTime(make, undefined);
  }

  /** What it hangs together with; nothing for what stands alone. */
  get cell(): object | undefined {
    return this.source.reading.cells.cellOf(this.figure)?.core;
  }

  without(open: ReadonlySet<string>): Asked {
    const { source, figure, value, anchor, fellows, option } = this;
    return this.isOpen ? new Asked(source, figure, value, anchor, fellows, open, option) : this;
  }

  inside(option: string): Asked {
    const { source, figure, value, anchor, fellows, open } = this;
    return new Asked(source, figure, value, anchor, fellows, open, option);
  }

  private get isOpen(): boolean {
    return this.value.standing === "missing";
  }
}

/** Ways that lead over another figure that is open itself are no way out. */
export function withoutOpen(asked: readonly Asked[], openValues: readonly Asked[]): Asked[] {
  const open = new Set(openValues.map(({ value }) => value.path));
  return open.size === 0 ? [...asked] : asked.map((each) => each.without(open));
}
