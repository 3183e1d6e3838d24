/**
 * Figures that are made, each as surely as the build says of what makes it: the tape that marks are
 * held to, the saw that cuts are made with.
 *
 *     new HeldFigures(reading).of(figure)
 *
 * Must not know: what makes what.
 */
import { heldBy, madeAs, speaksForAll } from "../model/held-by";
import { figureOf } from "../model/known-figure";
import type { ModelVariable } from "../model/model";
import type { Thing } from "../model/thing";
import type { Workshop } from "./workshop";

/** The reading they are figures of. */
interface World {
  readonly workshop: Workshop;
  each(kind: string): readonly Thing[];
}

export class HeldFigures {
  private readonly known = new Map<ModelVariable, ModelVariable>();
  /** By kind: its thing that speaks for the whole build. */
  private readonly holders = new Map<string, Thing | undefined>();

  constructor(private readonly world: World) {}

  of(own: ModelVariable): ModelVariable {
    const holder = own.variable.making === undefined ? undefined : heldBy(own.field);
    const thing = holder && this.holderOf(holder.kind);
    if (holder === undefined || thing === undefined) return own;
    let figure = this.known.get(own);
    if (figure === undefined) {
      const said = figureOf(thing, holder.field, this.world.workshop.pool);
      figure = said === undefined ? own : madeAs(own, said);
      this.known.set(own, figure);
    }
    return figure;
  }

  private holderOf(kind: string): Thing | undefined {
    if (!this.holders.has(kind)) {
      const [thing] = this.world.each(kind).filter((each) => speaksForAll(each.kind));
      this.holders.set(kind, thing);
    }
    return this.holders.get(kind);
  }
}
