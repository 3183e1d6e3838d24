/**
 * Why a figure is what it is: the relation, formula or default behind it, and what that rests on.
 *
 *     reasonOf(solved, 7)   →   `backspace = overall_width / 2 + offset`, from two other figures
 *
 * Must not know: how anything is shown beside its sentences.
 */
import { textAt } from "../model/anchor";
import type { FieldDefinition } from "../model/definition";
import type { Model, ModelEquation } from "../model/model";
import type { Solution } from "../solve/system";
import type { Reason } from "./analysis";
import type { Writer } from "./wording";

/** A group of a build with its solution. */
export interface Solved {
  readonly model: Model;
  readonly solution: Solution;
}

/** The value of a variable in coherent SI, where it is known. */
export function siOf({ solution }: Solved, index: number): number | undefined {
  const si = solution.values[index];
  return si !== undefined && Number.isFinite(si) ? si : undefined;
}

/** What a figure was worked out with; nothing where it is given or open. */
export function reasonOf(solved: Solved, index: number): Reason | undefined {
  const determination = solved.solution.determinations[index];
  if (determination?.how !== "solved" && determination?.how !== "assumed") return undefined;
  const equation = solved.model.equations[determination.equation];
  if (equation === undefined) return undefined;
  return {
    ...describe(equation),
    inputs: equation.variables
      .filter((other) => other !== index)
      .map((other) => solved.model.variables[other]?.name ?? ""),
    together: determination.block.map((other) => titleOf(solved, other)),
  };
}

/** The assumptions a figure rests on, as sentences. */
export function restsOn(solved: Solved, index: number, writer: Writer): string[] {
  const determination = solved.solution.determinations[index];
  if (determination?.how !== "solved" && determination?.how !== "assumed") return [];
  return determination.restsOn.map((equation) => {
    const { origin } = solved.model.equations[equation] as ModelEquation;
    if (origin.is === "relation") return origin.relation.title;
    const last = solved.model.equations[equation]?.variables.at(-1) ?? -1;
    const variable = solved.model.variables[last];
    return variable === undefined
      ? origin.thing.path
      : `${variable.name} is ${writer.value(siOf(solved, last), variable.measure)}`;
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function titleOf(solved: Solved, equation: number): string {
  const found = solved.model.equations[equation];
  return found === undefined ? "" : describe(found).title;
}

function describe({ origin }: ModelEquation): Omit<Reason, "inputs" | "together"> {
  switch (origin.is) {
    case "relation": {
      const { relation } = origin;
      const { left, right } = relation.node;
      return {
        title: relation.title,
        kind: kindOfRelation[relation.word],
        formula: textAt({
          ...relation.anchor,
          span: { start: left.span.start, end: right.span.end },
        }).replaceAll(/\s+/g, " "),
        remarks: relation.remarks,
        anchor: relation.anchor,
      };
    }
    case "formula":
      return {
        title: "as written in the build",
        kind: "formula",
        formula: `${origin.entry.field.text} = ${textAt(origin.entry.anchor)}`,
        remarks: {},
        anchor: origin.entry.anchor,
      };
    case "default":
      return {
        title: `default of ${origin.field.name}`,
        kind: "default",
        formula: `${origin.field.name} = ${defaultText(origin.field)}`,
        remarks: { source: origin.field.source },
        anchor: origin.field.anchor,
      };
  }
}

const kindOfRelation = {
  relation: "relation",
  assume: "assumed relation",
  wanted: "wish",
} as const;

function defaultText(field: FieldDefinition): string {
  const node = field.default;
  return node === undefined ? "" : textAt({ ...field.anchor, span: node.span });
}
