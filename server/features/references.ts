/**
 * Every place that names the same thing, value, kind or table.
 *
 *     references(analysis, uri, offset)   →   the places of `rear_wheel` in the files of the build
 *
 * Must not know: how answers travel, files outside of the analysis.
 */
import {
  type DocumentHighlight,
  DocumentHighlightKind,
  type Location,
} from "vscode-languageserver";
import { textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Item } from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";
import { namesAt, pathOf, twinOf } from "./holder";
import { declarationOf, type Meaning, meaningAt, meaningOf, type NamedPlace } from "./meaning";
import { rangeIn } from "./place";
import { namesOf } from "./spot";

/** A name in a file. */
export interface Reference {
  readonly uri: string;
  readonly item: Item;
  readonly name: syntax.Name;
  readonly declares: boolean;
  /** True where it gives or asks for the value: `offset:` in `offset: 18 mm`. */
  readonly writes: boolean;
}

export function references(
  analysis: Analysis,
  uri: string,
  offset: number,
  includeDeclaration: boolean,
): Location[] {
  const named = meaningAt(analysis, uri, offset);
  if (named === undefined) return [];
  return placesOf(analysis, named.meaning)
    .filter((reference) => includeDeclaration || !reference.declares)
    .flatMap((reference) => {
      const source = analysis.sourceOf(reference.uri);
      if (source === undefined) return [];
      return [{ uri: reference.uri, range: rangeIn(source, reference.item, reference.name.span) }];
    });
}

/** The same within the file alone, told apart into reading and writing. */
export function highlights(analysis: Analysis, uri: string, offset: number): DocumentHighlight[] {
  const named = meaningAt(analysis, uri, offset);
  const source = analysis.sourceOf(uri);
  if (named === undefined || source === undefined) return [];
  return keysOf(analysis, named.meaning)
    .flatMap((key) => placesIn(analysis, uri, key))
    .filter(isFirstThere)
    .map((reference) => ({
      range: rangeIn(source, reference.item, reference.name.span),
      kind:
        reference.declares || reference.writes
          ? DocumentHighlightKind.Write
          : DocumentHighlightKind.Read,
    }));
}

/** All places in the files of the build that mean the same. */
export function placesOf(analysis: Analysis, meaning: Meaning): Reference[] {
  return keysOf(analysis, meaning)
    .flatMap((key) => [...analysis.files.keys()].flatMap((uri) => placesIn(analysis, uri, key)))
    .filter(isFirstThere);
}

/** The places of one file that mean what has this key. */
export function placesIn(analysis: Analysis, uri: string, key: string | undefined): Reference[] {
  const source = analysis.sourceOf(uri);
  if (source === undefined || key === undefined) return [];
  const names = namesAt(analysis, uri);
  const found: Reference[] = [];
  for (const item of source.items) {
    if (!mayHold(item, key)) continue;
    for (const { name, nodes } of namesOf(item.node)) {
      if (!key.includes(name.text)) continue;
      const named = meaningOf(names, uri, { item, nodes });
      if (named === undefined || !keysOf(analysis, named.meaning).includes(key)) continue;
      found.push({ uri, item, name, declares: named.declares, writes: isWritten(nodes, named) });
    }
  }
  return found;
}

/** Equal for names that mean the same, in any analysis of the same texts. */
export function keyOf(analysis: Analysis, meaning: Meaning): string | undefined {
  switch (meaning.is) {
    case "thing": {
      const anchor = declarationOf(meaning);
      const source = anchor === undefined ? undefined : analysis.sourceOf(anchor.uri);
      if (anchor === undefined || source === undefined) return undefined;
      return `thing ${textAt(anchor)} ${anchor.uri} ${source.offsetOf(anchor.item, anchor.span.start)}`;
    }
    case "field": {
      const path = pathOf(meaning);
      const thing = meaning.holder.thing;
      if (path !== undefined && thing !== undefined) {
        return `value ${thing.id.path}${path.slice(thing.path.length)} ${thing.uri}`;
      }
      const field = meaning.part ?? meaning.field;
      return `field ${field.owner}.${field.name}`;
    }
    case "kind":
      return `kind ${meaning.kind.name}`;
    case "designation":
      return `designation ${meaning.designation.name}`;
    case "table":
      return `table ${meaning.table.name}.${meaning.column?.name ?? ""}`;
    case "namespace":
      return `namespace ${meaning.alias} ${meaning.scope.file.uri}`;
    case "option":
      return `option ${meaning.option.name}`;
    case "measure":
      return `measure ${meaning.measure.name}`;
    case "function":
      return `function ${meaning.name}`;
    case "twins":
      return `twins ${meaning.parts.map(({ owner, name }) => `${owner}.${name}`).join(" ")}`;
    case "choice":
      return `choice ${meaning.choice}`;
  }
}

/** Of what is said of both of two, a key for each. */
export function keysOf(analysis: Analysis, meaning: Meaning): readonly string[] {
  const about = [meaning];
  if (meaning.is === "field" || meaning.is === "thing") about.push(twinOf(meaning) ?? meaning);
  return [...new Set(about.flatMap((each) => keyOf(analysis, each) ?? []))];
}

// ───────────────────────────── helpers ─────────────────────────────

/** Before the dearer question what its names mean. */
function mayHold(item: Item, key: string): boolean {
  const name = key.split(" ")[1] ?? "";
  return item.text.includes(name.split(".").at(-1) ?? "");
}

/** What is said of both is found under either name. */
function isFirstThere({ name }: Reference, at: number, all: readonly Reference[]): boolean {
  return all.findIndex((other) => other.name === name) === at;
}

function isWritten(nodes: readonly syntax.AnyNode[], { name }: NamedPlace): boolean {
  const path = nodes[nodes.length - 2];
  const given = nodes[nodes.length - 3];
  return given?.type === "given" && given.path === path && given.path.names.at(-1) === name;
}
