/**
 * The texts of steps: what they are called, the figures that stand in them.
 *
 * Must not know: order rules, records.
 */
import type { Anchor } from "../../grammar/anchor";
import type { Thing } from "../model/thing";
import type { NotedBuild } from "./noted-build";

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
export function filledIn(build: NotedBuild, thing: Thing, text: string, missing: string[]): string {
  if (!text.includes("{")) return text;
  const clauses = text.split("; ").flatMap((clause) => {
    let isOpen = false;
    const filled = clause.replaceAll(inBraces, (whole, each: string | undefined, path: string) => {
      if (each === undefined) {
        const value = build.valueAt(path) ?? build.valueAt(`${thing.path}.${path}`);
        if (value === undefined) missing.push(path);
        return value === undefined ? whole : build.analysis.write(value);
      }
      const figures = ofEach(build, path);
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
function ofEach(build: NotedBuild, path: string): string[] | undefined {
  const [kindName = "", fieldName = ""] = path.split(".");
  const { vocabulary } = build.analysis;
  const field = vocabulary.kinds.get(kindName)?.fields.get(fieldName);
  if (field === undefined || path.split(".").length !== 2) return undefined;
  const known = build.each(kindName).flatMap((each) => {
    const value = build.figureOf(each, fieldName);
    return value?.si === undefined ? [] : [{ path: each.path, text: build.analysis.write(value) }];
  });
  return known.map((each) => (known.length === 1 ? each.text : `${each.path} ${each.text}`));
}
