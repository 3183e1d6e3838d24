/**
 * The things of a build as they are put together, as text: each with its parts, and each line that is
 * written into it, from wherever.
 *
 *     built("kind pin { long: length }\npin p { long: 3 mm }")   →   p pin | long: 3 mm
 */
import { textAt } from "../../grammar/anchor";
import type { Analysis } from "../../server/analysis/analysis";
import type { Entry, Thing } from "../../server/model/thing";
import { analyzed } from "./build";

/** Every thing of a build with what is written into it, then what is told of the build. */
export function built(text: string, view?: (analysis: Analysis) => Analysis | undefined): string {
  const analysis = analyzed(text);
  return builtIn(view?.(analysis) ?? analysis);
}

export function builtIn(analysis: Analysis): string {
  const { reading } = analysis as unknown as {
    readonly reading: { everything(): Iterable<Thing> };
  };
  const told = analysis.findings.map(
    ({ code, message, hint }) =>
      `told ${code}: ${message}${hint === undefined ? "" : ` | ${hint}`}`,
  );
  return [...[...reading.everything()].map(thingText), ...told].join("\n");
}

function thingText(thing: Thing): string {
  const { path, name, kind, title, entries, asked, implied, spoken, written } = thing;
  const marks = [
    ...(title === undefined ? [] : [`"${title}"`]),
    ...(path.endsWith(name) ? [] : [`called ${name}`]),
    ...(implied ? ["stands in"] : []),
    ...(spoken ? [] : ["unspoken"]),
    ...(spoken && !written ? ["only asked for"] : []),
    ...(thing.relations.length > 0 ? [`${thing.relations.length} relations`] : []),
    ...(thing.checks.length > 0 ? [`${thing.checks.length} checks`] : []),
    ...(thing.curves.length > 0 ? [`${thing.curves.length} curves`] : []),
  ];
  const lines = [
    ...[...entries].map(([key, entry]) => `${key}: ${entryText(entry)}`),
    ...[...asked].map(([key, entry]) => `asked ${key}: ${entryText(entry)}`),
  ];
  return [[path, kind.name, ...marks].join(" "), ...lines].join(" | ");
}

function entryText(entry: Entry): string {
  const { anchor, role, layer, shared, inherited, date, near, step, tolerance } = entry;
  const at = (node: { readonly span: { start: number; end: number } } | undefined) =>
    node === undefined ? "" : textAt({ ...anchor, span: node.span });
  return [
    textAt(anchor),
    ...(role === undefined ? [] : [role]),
    ...(near === undefined ? [] : [`near ${at(near)}`]),
    ...(step === undefined ? [] : [`to ${at(step)}`]),
    ...(tolerance === undefined ? [] : [`± ${at(tolerance)}`]),
    ...(entry.distribution === undefined ? [] : [entry.distribution]),
    ...(entry.together === undefined ? [] : [`together "${entry.together}"`]),
    ...(layer === "spec" ? [] : [`by ${layer}${date === undefined ? "" : ` of ${date}`}`]),
    ...(shared ? ["said of several"] : []),
    ...(inherited ? ["as of what it is like"] : []),
  ].join(" ");
}
