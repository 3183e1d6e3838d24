/**
 * What stands in a figure and would do in another of its thing: the two were taken for each other.
 *
 *     takenFor(source, claim, row.equations)   // { instead: ["backspace: 126 mm"], … } where `offset: 126 mm` stands
 *
 * Must not know: what figures are about, how it is worded.
 */
import { textAt } from "../../grammar/anchor";
import type { Fact } from "../findings/worded";
import type { ModelClaim, ModelEquation, ModelVariable } from "../model/model";
import { placeToChange } from "../model/thing";
import { effectOf, holdsAt } from "./tried";
import type { CheckSource } from "./verdicts";

type Meant = NonNullable<Fact<"check/fails">["meant"]>;

/**
 * For a check of a thing that fails: it holds with a figure read as another one of the thing, or the
 * two as each other, and nothing breaks. `equations`: those that join the thing's figures.
 */
export function takenFor(
  source: CheckSource,
  claim: ModelClaim,
  equations: readonly ModelEquation[],
): Meant | undefined {
  const { reading } = source;
  const { thing } = claim;
  if (!claim.applies || thing === undefined) return undefined;
  for (const id of claim.figures) {
    const about = reading.figure(id);
    const own = about && placed(about);
    if (about?.thing !== thing || own === undefined) continue;
    const joined = equations.flatMap(({ equation: { figures, rank } }) =>
      rank === "relation" && figures.includes(id) ? figures : [],
    );
    for (const each of new Set(joined)) {
      const other = each === id ? undefined : reading.figure(each);
      if (other?.thing !== thing || other.part !== undefined) continue;
      if (other.measure.name !== about.measure.name || other.variable.role !== about.variable.role)
        continue;
      const there = placed(other);
      if (there === undefined && other.entry !== undefined) continue;
      const lines = [`${other.name}: ${own.text}`, `${about.name}: ${there?.text ?? "?"}`];
      const written = new Set([id, each]);
      const effect = effectOf(source, holdsAt(source, claim, "nominal"), { lines, written });
      if (effect === undefined || effect.breaks.length > 0) continue;
      const edits = [{ anchor: own.name, text: other.field.name }];
      if (there !== undefined) edits.push({ anchor: there.name, text: about.field.name });
      const also = there === undefined ? [] : [`${about.field.name}: ${there.text}`];
      return { instead: [`${other.field.name}: ${own.text}`, ...also], edits };
    }
  }
  return undefined;
}

// ───────────────────────────── helpers ─────────────────────────────

/** What is written of a figure, and where its name stands before it. */
function placed({ entry, part }: ModelVariable) {
  const value = entry === undefined || part !== undefined ? undefined : placeToChange(entry);
  if (entry === undefined || value === undefined) return undefined;
  const name = { ...entry.anchor, span: entry.field.span };
  return { text: textAt(value).replaceAll(/\s+/g, " "), name };
}
