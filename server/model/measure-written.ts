/**
 * The measure of what is worked out from formulas that tell none: by the units that stand in them.
 *
 *     measureWritten([`62 deg`], dimensionless)   →   angle
 *
 * Must not know: how formulas are compiled.
 */
import type * as syntax from "../../grammar/syntax";
import {
  type Dimension,
  dimensionless,
  type Measure,
  measureNamed,
  measuresOf,
  readUnit,
} from "../units";

/** Of what has no dimension only that is an angle, or a share, which is written in such a unit. */
export function measureWritten(
  nodes: readonly syntax.Expression[],
  dimension: Dimension,
): Measure | undefined {
  if (dimension.key !== dimensionless.key) return measuresOf(dimension)[0];
  return measureOfUnits(nodes) ?? measureNamed("number");
}

/** Of what has no dimension: an angle or a share where one is written; nothing where none is. */
export function measureOfUnits(nodes: readonly syntax.Expression[]): Measure | undefined {
  const units = nodes.flatMap(unitsIn);
  return measuresOf(dimensionless).find(({ name }) =>
    units.some((unit) => readUnit(unit)?.measure === name),
  );
}

// ───────────────────────────── helpers ─────────────────────────────

function unitsIn(node: syntax.Expression): string[] {
  switch (node.type) {
    case "quantity":
      return node.parts.map(({ unit }) => unit.text);
    case "unary":
      return unitsIn(node.operand);
    case "group":
      return unitsIn(node.inner);
    default:
      return [];
  }
}
