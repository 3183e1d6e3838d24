/**
 * The texts of steps: what they are called, the figures that stand in them.
 *
 * Must not know: order rules, records.
 */
import type { Anchor } from "../../grammar/anchor";
import type { Analysis } from "../analysis/analysis";
import type { Thing } from "../model/thing";

export function titleOf(thing: Thing): string {
  return thing.title ?? thing.name.replaceAll("_", " ");
}

/** Where a thing is written, or what it lies in. */
export function placeOfThing(thing: Thing): Anchor | undefined {
  for (let at: Thing | undefined = thing; at !== undefined; at = at.owner) {
    if (at.anchor !== undefined) return at.anchor;
  }
  return undefined;
}

/**
 * `burn at {rear.left.tape_reading}`: figures stand for the paths in braces, as the build writes them.
 * `{each corner.tape_reading}` stands for that of each thing of a kind, so that the library can speak of
 * what it does not know the names of; where nothing is known of it what stands between two `;` is left out.
 */
export function filledIn(
  analysis: Analysis,
  thing: Thing,
  text: string,
  missing: string[],
): string {
  if (!text.includes("{")) return text;
  const clauses = text.split("; ").flatMap((clause) => {
    let isOpen = false;
    const filled = clause.replaceAll(inBraces, (whole, each: string | undefined, path: string) => {
      if (each === undefined) {
        const value = analysis.valueAt(path) ?? analysis.valueAt(`${thing.path}.${path}`);
        if (value === undefined) missing.push(path);
        return value === undefined ? whole : analysis.write(value);
      }
      const figures = ofEach(analysis, path);
      if (figures === undefined) missing.push(path);
      isOpen ||= figures?.length === 0;
      return figures?.join(", ") ?? whole;
    });
    return isOpen ? [] : [filled];
  });
  return clauses.join("; ");
}

const inBraces = /\{(each )?([A-Za-z_]\w*(?:\.\w+)*)\}/g;

/** The known figures of all things of a kind, with their names where there are several; `undefined` for no such field. */
function ofEach(analysis: Analysis, path: string): string[] | undefined {
  const [kindName = "", fieldName = ""] = path.split(".");
  const field = analysis.vocabulary.kinds.get(kindName)?.fields.get(fieldName);
  if (field === undefined || path.split(".").length !== 2) return undefined;
  const known = analysis.things.flatMap((each) => {
    const value = each.is(kindName) ? analysis.valueAt(`${each.path}.${fieldName}`) : undefined;
    return value?.si === undefined ? [] : [{ path: each.path, text: analysis.write(value) }];
  });
  return known.map((each) => (known.length === 1 ? each.text : `${each.path} ${each.text}`));
}
