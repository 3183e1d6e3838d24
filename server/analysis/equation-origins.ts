/**
 * Why the equations of some rows are there.
 *
 *     new EquationOrigins(rows, rowOf).of(equation)?.origin   →   the relation of the wheel's kind
 *
 * Must not know: cells, what equations are about.
 */
import type { FigureEquation, ModelEquation, Row } from "../model/model";
import type { ThingId } from "../names/ids";
import type { PlacedRow } from "./build-rows";

export class EquationOrigins {
  private ofStatements: ReadonlyMap<FigureEquation, ModelEquation> | undefined;

  constructor(
    private readonly rows: readonly PlacedRow[],
    /** Of a thing at the top. */
    private readonly rowOf: (top: ThingId) => Row | undefined,
  ) {}

  of(equation: FigureEquation): ModelEquation | undefined {
    // Most are of a thing whose own figures stand in them, or written by themselves.
    for (const figure of equation.figures) {
      const row = this.rowOf(figure.thing.top);
      const found = row && equationIn(row, equation);
      if (found !== undefined) return found;
    }
    this.ofStatements ??= new Map(
      this.rows.flatMap(({ row }) =>
        row.thing === undefined ? row.equations.map((each) => [each.equation, each] as const) : [],
      ),
    );
    const written = this.ofStatements.get(equation);
    if (written !== undefined) return written;
    for (const { row } of this.rows) {
      const found = equationIn(row, equation);
      if (found !== undefined) return found;
    }
    return undefined;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function equationIn(row: Row, equation: FigureEquation): ModelEquation | undefined {
  const { equations } = row;
  if (equations.length <= fewEquations) return equations.find((each) => each.equation === equation);
  let places = equationsIn.get(row);
  if (places === undefined) {
    places = new Map(equations.map((each) => [each.equation, each]));
    equationsIn.set(row, places);
  }
  return places.get(equation);
}

/** So many are looked through as quickly as they are found. */
const fewEquations = 50;
const equationsIn = new WeakMap<Row, ReadonlyMap<FigureEquation, ModelEquation>>();
