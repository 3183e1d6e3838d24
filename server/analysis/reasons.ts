/**
 * Why a figure is what it is: the relation, formula or default behind it, and what that rests on.
 *
 *     reasonOf(solved, 7)   →   `backspace = overall_width / 2 + offset`, from two other figures
 *
 * Must not know: how anything is shown beside its sentences.
 */
import type { Shown, Writer } from "../findings/writer";
import { Binder } from "../model/binder";
import type { ModelEquation, ModelVariable } from "../model/model";
import type { Thing } from "../model/thing";
import type { FigureId, ThingId } from "../names/ids";
import { speaksOf } from "../solve";
import type { Solution } from "../solve/system";
import type { Reason } from "./analysis";
import type { BuildSolved } from "./build-cells";
import type { Reading } from "./reading";
import { textOf, writtenFormula } from "./written-formula";

/** A solution with what its places stand for in a build. */
export class SolvedCell {
  constructor(
    private readonly reading: Reading,
    private readonly solved: BuildSolved,
  ) {}

  get solution(): Solution {
    return this.solved.solution;
  }

  /** The same with another solution of the same system. */
  with(solution: Solution): SolvedCell {
    const { keys } = this.solved;
    return new SolvedCell(this.reading, {
      solution,
      keys,
      placeOf: (key) => this.solved.placeOf(key),
      equationAt: (place) => this.solved.equationAt(place),
    });
  }

  placeOf(figure: FigureId): number | undefined {
    return this.solved.placeOf(figure);
  }

  figureAt(place: number): ModelVariable | undefined {
    const figure = this.solved.keys[place];
    return figure && this.reading.figure(figure);
  }

  idAt(place: number): FigureId | undefined {
    return this.solved.keys[place];
  }

  equationAt(place: number): ModelEquation | undefined {
    const equation = this.solved.equationAt(place);
    return equation && this.reading.originOf(equation);
  }

  get binder(): Binder {
    return new Binder(this.reading, undefined);
  }

  thing(id: ThingId | undefined): Thing | undefined {
    return id && this.reading.thing(id);
  }

  /** A quantity or claim over figures, as the solution knows it. */
  local<Q extends { readonly figures: readonly FigureId[] }>(
    quantity: Q,
  ): Q & { readonly variables: readonly number[] } {
    return { ...quantity, variables: quantity.figures.map((id) => this.placeOf(id) ?? -1) };
  }
}

/** A figure as findings tell of it; by its own name where a sentence has said whose it is. */
export function shown({ name, measure, figure }: ModelVariable, si?: number): Shown {
  const unit = figure === undefined ? undefined : { unit: figure.unit };
  return { path: name, measure, figure: unit, si };
}

/** The value of a variable in coherent SI, where it is known. */
export function siOf({ solution }: SolvedCell, index: number): number | undefined {
  const si = solution.values[index];
  return si !== undefined && Number.isFinite(si) ? si : undefined;
}

/** What a figure was worked out with; nothing where it is given or open. */
export function reasonOf(solved: SolvedCell, index: number): Reason | undefined {
  const determination = solved.solution.determinations[index];
  if (determination?.how !== "solved" && determination?.how !== "assumed") return undefined;
  const equation = solved.equationAt(determination.equation) ?? wishFor(solved, index);
  if (equation === undefined) return undefined;
  const own = solved.idAt(index);
  const pieces = writtenFormula(
    equation.origin,
    solved.thing(equation.origin.thing),
    solved.binder,
  );
  return {
    ...describe(equation),
    pieces,
    formula: textOf(pieces),
    inputs: equation.equation.figures
      .filter((other) => other !== own && isWanted(solved, determination.equation, other))
      .map((other) => solved.figureAt(solved.placeOf(other) ?? -1)?.name ?? ""),
    get together() {
      return determination.block.map((other) => titleOf(solved, other));
    },
    whatever: determination.whatever,
  };
}

/** Not what is open in a branch that is not taken. */
function isWanted(solved: SolvedCell, equation: number, figure: FigureId): boolean {
  const place = solved.placeOf(figure) ?? -1;
  return siOf(solved, place) !== undefined || speaksOf(solved.solution, equation, place);
}

/** The assumptions a figure rests on, as sentences. */
export function restsOn(solved: SolvedCell, index: number, writer: Writer): string[] {
  const determination = solved.solution.determinations[index];
  if (determination?.how !== "solved" && determination?.how !== "assumed") return [];
  return determination.restsOn.flatMap((equation) => {
    const { origin, equation: over } = solved.equationAt(equation) ?? {};
    if (origin === undefined || origin.is === "wish") return [];
    if (origin?.is === "relation") return origin.relation.title;
    const figure = over?.figures.at(-1);
    const last = (figure && solved.placeOf(figure)) ?? -1;
    const variable = solved.figureAt(last);
    return variable === undefined
      ? (solved.thing(origin?.thing)?.path ?? "")
      : `${variable.name} is ${writer.value(siOf(solved, last), variable.measure)}`;
  });
}

// ───────────────────────────── helpers ─────────────────────────────

/** Twins that cannot be had as wanted miss by the same: what stands behind them is what was wanted. */
function wishFor(solved: SolvedCell, index: number): ModelEquation | undefined {
  const { equations } = solved.solution.system;
  const place = equations.findIndex(
    ({ variables }, at) => variables.includes(index) && solved.equationAt(at)?.origin.is === "wish",
  );
  return place < 0 ? undefined : solved.equationAt(place);
}

function titleOf(solved: SolvedCell, equation: number): string {
  const found = solved.equationAt(equation);
  return found === undefined ? "" : describe(found).title;
}

type Described = Pick<Reason, "title" | "kind" | "remarks" | "anchor">;

function describe({ origin }: ModelEquation): Described {
  switch (origin.is) {
    case "relation": {
      const { relation } = origin;
      return {
        title: relation.title,
        kind: kindOfRelation[relation.word],
        remarks: relation.remarks,
        anchor: relation.anchor,
      };
    }
    case "formula":
      return {
        title: "as written in the build",
        kind: "formula",
        remarks: {},
        anchor: origin.entry.anchor,
      };
    case "default":
      return {
        title: `default of ${origin.field.name}`,
        kind: "default",
        remarks: { source: origin.field.source },
        anchor: origin.field.anchor,
      };
    case "wish":
      return {
        title: `wanted ${origin.entry.field.text}`,
        kind: "wish",
        remarks: {},
        anchor: origin.entry.anchor,
      };
  }
}

const kindOfRelation = {
  relation: "relation",
  assume: "assumed relation",
  wanted: "wish",
} as const;
