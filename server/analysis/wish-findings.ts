/**
 * Wishes that do not come out: what was wanted, what comes out, and what stands against it.
 *
 *     left.inner_gap was wanted 7/8 in and comes out 0.854 in, 0.021 in under
 *
 * A wish that misses by no more than what it is made to is met; one with a ± of its own is met within.
 *
 * Must not know: how anything was solved.
 */
import type { Finding } from "../model/finding";
import type { ModelVariable } from "../model/model";
import { sensitivities } from "../solve";
import type { Wanted } from "./analysis";
import { outcomeOfFigure, wantedOf } from "./outcome";
import type { Reading } from "./reading";
import { Solved } from "./reasons";
import type { Writer } from "./wording";

export function wishFindings(
  reading: Reading,
  figures: readonly ModelVariable[],
  writer: Writer,
): Finding[] {
  return figures.flatMap((variable): Finding[] => {
    const wanted = wantedOf(reading, variable);
    if (wanted === undefined || variable.entry === undefined) return [];
    if (isMet(reading, variable, wanted)) return [];
    const comes = outcomeOfFigure(reading, variable);
    if (comes === undefined) return [];
    const { measure, name } = variable;
    const short = comes.si < wanted.si;
    const by = Math.abs(comes.si - wanted.si);
    const [asked, found, off, ...around] = writer.together(
      [wanted.si, comes.si, by, ...(wanted.toleranced ? [wanted.low, wanted.high] : [])],
      measure,
    );
    const allowed = wanted.toleranced ? `, ${around.join(" to ")} is accepted` : "";
    return [
      {
        code: "wanted/missed",
        severity: "warning",
        message: `${name} was wanted ${asked} and comes out ${found}, ${off} ${short ? "under" : "over"}${allowed}${againstIt(reading, variable, wanted.si, writer)}`,
        hint: `change what stands against it, or accept ${writer.like(variable, comes.si)}`,
        anchor: variable.entry.anchor,
      },
    ];
  });
}

// ───────────────────────────── helpers ─────────────────────────────

function isMet({ cells }: Reading, { id, figure }: ModelVariable, wanted: Wanted): boolean {
  const cell = cells.cellOf(id);
  const place = cell?.placeOf(id) ?? -1;
  const comes = cell?.core.outcome.values[place] ?? Number.NaN;
  if (cell === undefined || !Number.isFinite(comes)) return true;
  const nothing = 1e-9 * Math.abs(wanted.si);
  if (wanted.toleranced) {
    return comes >= wanted.low - nothing && comes <= wanted.high + nothing;
  }
  const slack = (figure?.rounding ?? 0) + nothing;
  if (wanted.met) return true;
  const drawn = cell.solution.values[place] ?? Number.NaN;
  return !(Math.abs(drawn - wanted.si) > slack);
}

/** `: face_to_face is 58 1/8 in (made); 7/8 in asks for 58 5/32 in` */
function againstIt(
  reading: Reading,
  variable: ModelVariable,
  wanted: number,
  writer: Writer,
): string {
  const cell = reading.cells.cellOf(variable.id);
  const place = cell?.placeOf(variable.id);
  if (cell === undefined || place === undefined) return "";
  const { solution } = cell;
  const solved = new Solved(reading, cell);
  const quantity = { expression: { op: "slot", index: 0 }, variables: [place] } as const;
  const order = ["made", undefined, "bought", "measured"];
  const [against] = [...sensitivities(solution, quantity)]
    .flatMap(([other, slope]) => {
      const found = solved.figureAt(other);
      if (found?.figure === undefined || found.part !== undefined || slope === 0) return [];
      const rank = order.indexOf(found.variable.role);
      return rank < 0 ? [] : [{ found, slope, rank }];
    })
    .sort(
      (one, other) =>
        one.rank - other.rank ||
        Math.abs(other.slope) - Math.abs(one.slope) ||
        (one.found.name < other.found.name ? -1 : 1),
    );
  if (against === undefined) return "";
  const { found, slope } = against;
  const { role, given } = found.variable;
  const now = given?.value ?? 0;
  const is = `: ${found.name} is ${writer.like(found, now)}${role === undefined ? "" : ` (${role})`}`;
  if (role === "measured") return is;
  const needed = now + (wanted - (solution.values[place] ?? wanted)) / slope;
  return `${is}; ${writer.like(variable, wanted)} asks for ${writer.like(found, needed)}`;
}
