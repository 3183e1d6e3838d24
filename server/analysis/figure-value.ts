/**
 * One figure of a solved group, put together as far as it is read.
 *
 *     new FigureValue(group, 7).standing   →   "solved"
 *
 * Must not know: how groups are made, how anything is shown beside its sentences.
 */
import { type Anchor, textAt } from "../model/anchor";
import type { FieldDefinition } from "../model/definition";
import type { ModelVariable } from "../model/model";
import { nominalAnchor, type Thing } from "../model/thing";
import type { Spread } from "../solve/system";
import type { Reason, Standing, Value } from "./analysis";
import { reasonOf, restsOn, type Solved, siOf } from "./reasons";
import type { Writer } from "./wording";

/** The group that holds the figure. */
export interface FigureSource extends Solved {
  readonly writer: Writer;
  piecesOf(index: number): string | undefined;
  spreadOf(index: number): Spread | undefined;
}

/** One figure, put together as far as it is read. */
export class FigureValue implements Value {
  private reasonMade: { readonly reason: Reason | undefined } | undefined;

  constructor(
    private readonly group: FigureSource,
    private readonly index: number,
  ) {}

  private get variable(): ModelVariable {
    return this.group.model.variables[this.index] as ModelVariable;
  }

  get path(): string {
    return this.variable.name;
  }

  get thing(): Thing {
    return this.variable.thing;
  }

  get field(): FieldDefinition {
    return this.variable.part ?? this.variable.field;
  }

  get measure() {
    return this.variable.measure;
  }

  get si(): number | undefined {
    return siOf(this.group, this.index);
  }

  get standing(): Standing {
    const determination = this.group.solution.determinations[this.index];
    switch (determination?.how) {
      case "given":
        return this.variable.entry?.layer === "record" ? "measured" : "given";
      case "solved":
      case "assumed":
        return determination.how;
      default:
        return "missing";
    }
  }

  get anchor(): Anchor | undefined {
    return this.variable.entry?.anchor ?? askAnchor(this.group, this.index);
  }

  get currency(): string | undefined {
    return this.variable.figure?.currency;
  }

  get written(): string | undefined {
    const { entry, figure, part } = this.variable;
    if (entry === undefined || figure === undefined || part !== undefined) return undefined;
    const anchor = nominalAnchor(entry);
    return anchor === undefined ? undefined : textAt(anchor).replaceAll(/\s+/g, " ");
  }

  get pieces(): string | undefined {
    return this.group.piecesOf(this.index);
  }

  get reason(): Reason | undefined {
    this.reasonMade ??= { reason: reasonOf(this.group, this.index) };
    return this.reasonMade.reason;
  }

  get restsOn(): readonly string[] {
    return restsOn(this.group, this.index, this.group.writer);
  }

  spread(): Spread | undefined {
    return this.group.spreadOf(this.index);
  }

  contributors() {
    const { model } = this.group;
    return (this.spread()?.contributors ?? []).map(({ variable, below, above, share }) => ({
      path: model.variables[variable]?.name ?? "",
      below,
      above,
      share,
    }));
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** Where it is asked for. */
function askAnchor({ model }: Solved, index: number): Anchor | undefined {
  return model.asks.find((ask) => ask.variable === index)?.entry.anchor;
}
