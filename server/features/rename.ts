/**
 * Renaming what the builder named: things, options, and the prefixes files are used by. What the
 * library names stays as it is.
 *
 *     renameAt(analysis, uri, offset)   →   { range, placeholder: "rear_wheel" } or a refusal
 *
 * Must not know: how answers travel, which files there are besides those of the analysis.
 */
import type { Range, TextEdit } from "vscode-languageserver";
import type { Anchor } from "../../grammar/anchor";
import type { Analysis } from "../analysis/analysis";
import { owner } from "../names/follow";
import { inWords } from "./figures";
import { namesAt } from "./holder";
import { declarationOf, type Meaning, meaningOf, type NamedPlace } from "./meaning";
import { fileName, rangeIn } from "./place";
import { placesOf } from "./references";
import { spotAt } from "./spot";

export interface RenamePlace {
  readonly range: Range;
  readonly placeholder: string;
  readonly named: NamedPlace;
}

export interface Refusal {
  /** Why it cannot be done, for the builder. */
  readonly refusal: string;
}

export function isRefusal(value: object): value is Refusal {
  return "refusal" in value;
}

export function renameAt(analysis: Analysis, uri: string, offset: number): RenamePlace | Refusal {
  const source = analysis.sourceOf(uri);
  const spot = source === undefined ? undefined : spotAt(source, offset);
  const named = spot === undefined ? undefined : meaningOf(namesAt(analysis, uri), uri, spot);
  if (source === undefined || named === undefined) {
    return { refusal: "there is no name here that could be changed" };
  }
  const isWord = named.name.text === owner && named.meaning.is === "thing" && !named.declares;
  const refusal = isWord ? wordOfLanguage : refusalOf(analysis, named.meaning);
  if (refusal !== undefined) return { refusal };
  return {
    range: rangeIn(source, named.item, named.name.span),
    placeholder: named.name.text,
    named,
  };
}

/** The edits by file that give a thing another name, or why it cannot be had. */
export function rename(
  analysis: Analysis,
  named: NamedPlace,
  newName: string,
): ReadonlyMap<string, TextEdit[]> | Refusal {
  if (!/^[\p{L}_][\p{L}\p{N}_]*$/u.test(newName) || newName.length > 100) {
    return {
      refusal: `"${newName}" cannot be a name: use letters, digits and _, beginning with a letter`,
    };
  }
  const taken = takenBy(analysis, named, newName);
  if (taken !== undefined) return { refusal: taken };
  const edits = new Map<string, TextEdit[]>();
  for (const { uri, item, name } of placesOf(analysis, named.meaning)) {
    const source = analysis.sourceOf(uri);
    if (source === undefined || name.text !== named.name.text) continue;
    const list = edits.get(uri) ?? [];
    edits.set(uri, [...list, { range: rangeIn(source, item, name.span), newText: newName }]);
  }
  return edits;
}

/**
 * The file in which a thing that stands at `at` would meet another of its new name: the files that
 * bring it in plainly read both names as one. Nothing where the name is free in all of them.
 */
export function takenWhere(
  analysis: Analysis,
  at: Anchor,
  oldName: string,
  newName: string,
): string | undefined {
  const place = placeKey(analysis, at);
  for (const [uri, { library, scope }] of analysis.files) {
    const here = library ? undefined : scope.declarations.get(oldName);
    if (here === undefined) continue;
    const anchor = { uri: here.uri, item: here.item, span: here.node.name.span };
    if (placeKey(analysis, anchor) !== place) continue;
    if (scope.declarations.has(newName) || scope.namespaces.has(newName)) return uri;
  }
  return undefined;
}

/** Why a name cannot be had, for the person who wants it. */
export function takenIn(uri: string, newName: string): string {
  return `there is something called ${newName} already in ${fileName(uri)}, which uses this file: choose another name`;
}

// ───────────────────────────── helpers ─────────────────────────────

/** Equal for the same place of a file in any analysis of the same texts. */
function placeKey(analysis: Analysis, { uri, item, span }: Anchor): string {
  return `${uri} ${analysis.sourceOf(uri)?.offsetOf(item, span.start) ?? span.start}`;
}

const wordOfLanguage = "this is a word of the language";

function refusalOf(analysis: Analysis, meaning: Meaning): string | undefined {
  switch (meaning.is) {
    case "thing": {
      const anchor = declarationOf(meaning);
      return anchor !== undefined && analysis.files.get(anchor.uri)?.library === false
        ? undefined
        : "this has no name of its own to change";
    }
    case "option":
    case "namespace":
      return undefined;
    case "field":
      return `${inWords(meaning.field.name)} is a word of the ${inWords(meaning.field.owner)}, it cannot be called otherwise in one build`;
    case "kind":
    case "designation":
    case "table":
      return "kinds, designations and tables are renamed where they are declared, by hand";
    case "measure":
    case "function":
    case "twins":
    case "choice":
      return wordOfLanguage;
  }
}

function takenBy(analysis: Analysis, named: NamedPlace, newName: string): string | undefined {
  const { meaning } = named;
  const scope = analysis.files.get(named.uri)?.scope;
  if (meaning.is === "option") {
    const taken = analysis.options.some((option) => option.name === newName);
    return taken ? `there is an option ${newName} already` : undefined;
  }
  if (meaning.is === "thing" && meaning.declaration === undefined) {
    const owner = meaning.holder.owner;
    const inside = owner?.kind.fields.has(newName) || owner?.thing?.children.has(newName);
    return inside === true ? `there is something called ${newName} already` : undefined;
  }
  const declared = meaning.is === "thing" ? meaning.declaration?.uri : undefined;
  const scopes = [scope, declared === undefined ? undefined : analysis.files.get(declared)?.scope];
  const anchor = meaning.is === "thing" ? declarationOf(meaning) : undefined;
  const elsewhere =
    anchor === undefined ? undefined : takenWhere(analysis, anchor, named.name.text, newName);
  const taken = scopes.some(
    (each) => each?.declarations.has(newName) || each?.namespaces.has(newName),
  );
  if (!taken && elsewhere !== undefined) return takenIn(elsewhere, newName);
  return taken ? `there is something called ${newName} already` : undefined;
}
