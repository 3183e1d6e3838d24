/**
 * What the name at a place stands for: a thing, a field, a kind, a table, a measure, …
 *
 *     meaningAt(analysis, uri, offset)   →   { meaning: { is: "field", field: offset, … }, name }
 *
 * Must not know: how the answer is shown.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Item } from "../../grammar/syntax";
import type { Analysis, OptionInfo } from "../analysis/analysis";
import { functionNames } from "../model/calls";
import type {
  DesignationDefinition,
  KindDefinition,
  TableColumnDefinition,
  TableDefinition,
} from "../model/definition";
import { type Measure, measureNamed } from "../units";
import {
  type FileWords,
  follow,
  followFromFile,
  type Holder,
  type HolderTarget,
  holderAt,
  namesAt,
  textsOf,
} from "./holder";
import { type Spot, spotAt } from "./spot";

export type Meaning =
  | HolderTarget
  | { readonly is: "kind"; readonly kind: KindDefinition }
  | { readonly is: "designation"; readonly designation: DesignationDefinition }
  | {
      readonly is: "table";
      readonly table: TableDefinition;
      readonly column?: TableColumnDefinition;
    }
  | { readonly is: "function"; readonly name: string }
  | { readonly is: "measure"; readonly measure: Measure }
  | { readonly is: "option"; readonly option: OptionInfo }
  | { readonly is: "choice"; readonly choice: string; readonly target: HolderTarget };

export interface NamedPlace {
  readonly meaning: Meaning;
  readonly name: syntax.Name;
  readonly uri: string;
  readonly item: Item;
  /** True where the name is where it comes from: `rear` in `axle rear {`. */
  readonly declares: boolean;
}

export function meaningAt(analysis: Analysis, uri: string, offset: number): NamedPlace | undefined {
  const source = analysis.sourceOf(uri);
  const spot = source === undefined ? undefined : spotAt(source, offset);
  return spot === undefined ? undefined : meaningOf(namesAt(analysis, uri), uri, spot);
}

/** The meaning of the innermost name of a spot. */
export function meaningOf(
  names: FileWords,
  uri: string,
  spot: Pick<Spot, "item" | "nodes">,
): NamedPlace | undefined {
  const { nodes, item } = spot;
  const name = nodes[nodes.length - 1];
  if (name?.type !== "name") return undefined;
  const found = meaningIn(names, nodes, name);
  return found === undefined ? undefined : { ...found, name, uri, item };
}

/** The given a spot stands in, with the field it sets. */
export function givenAt(
  names: FileWords,
  nodes: Spot["nodes"],
): { readonly node: syntax.Given; readonly target: HolderTarget } | undefined {
  const index = nodes.findLastIndex((node) => node.type === "given");
  const node = nodes[index];
  if (node?.type !== "given") return undefined;
  const holder = holderAt(names, nodes.slice(0, index + 1));
  const target = follow(names, holder, textsOf(node.path));
  return target === undefined ? undefined : { node, target };
}

/** The place a meaning comes from. */
export function declarationOf(meaning: Meaning): Anchor | undefined {
  switch (meaning.is) {
    case "thing": {
      const { declaration, holder } = meaning;
      if (declaration !== undefined) {
        const { uri, item, node } = declaration;
        return { uri, item, span: node.name.span };
      }
      return nameAnchor(holder);
    }
    case "field":
      return (meaning.part ?? meaning.field).anchor;
    case "kind":
      return meaning.kind.anchor;
    case "designation":
      return meaning.designation.anchor;
    case "table":
      return meaning.table.anchor;
    case "option":
      return meaning.option.anchor;
    case "twins":
      return meaning.parts[0]?.anchor;
    case "choice":
      return meaning.target.is === "field" ? meaning.target.field.anchor : undefined;
    case "namespace":
    case "function":
    case "measure":
      return undefined;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

type Found = Pick<NamedPlace, "meaning" | "declares"> | undefined;

function meaningIn(names: FileWords, nodes: Spot["nodes"], name: syntax.Name): Found {
  const parent = nodes[nodes.length - 2];
  const { vocabulary } = names;
  switch (parent?.type) {
    case "thing": {
      if (parent.kind === name) return kindNamed(names, name.text);
      const holder = holderAt(names, [...nodes.slice(0, -1), name]);
      if (holder === undefined) return undefined;
      const top = nodes.length === 2 ? followFromFile(names, [name.text]) : undefined;
      const meaning: Meaning = top?.is === "thing" ? top : { is: "thing", holder };
      return { meaning, declares: true };
    }
    case "kind":
      return kindNamed(names, name.text, parent.name === name);
    case "field":
      return fieldOfKind(names, nodes, name, parent);
    case "type":
      return typeNamed(names, name.text);
    case "display":
      return measureCalled(name.text);
    case "use": {
      const scope = names.scope?.namespaces.get(name.text);
      if (scope === undefined) return undefined;
      return { meaning: { is: "namespace", scope, alias: name.text }, declares: true };
    }
    case "option": {
      const option = names.analysis.options.find((each) => each.name === name.text);
      return option === undefined
        ? undefined
        : { meaning: { is: "option", option }, declares: true };
    }
    case "designation_declaration": {
      const designation = vocabulary.designations.get(name.text);
      if (designation === undefined) return undefined;
      return { meaning: { is: "designation", designation }, declares: true };
    }
    case "table": {
      const table = vocabulary.tables.get(parent.name.text);
      const column = table?.columns.find((each) => each.name === name.text);
      if (table === undefined || (name !== parent.name && column === undefined)) return undefined;
      return {
        meaning: { is: "table", table, column: name === parent.name ? undefined : column },
        declares: true,
      };
    }
    case "path":
      return inPath(names, nodes, name, parent);
    default:
      return undefined;
  }
}

function inPath(
  names: FileWords,
  nodes: Spot["nodes"],
  name: syntax.Name,
  path: syntax.Path,
): Found {
  const texts = textsOf(path).slice(0, path.names.indexOf(name) + 1);
  const above = nodes.slice(0, -2);
  const parent = above[above.length - 1];
  if ((parent?.type === "given" || parent?.type === "part") && parent.path === path) {
    const target = follow(names, holderAt(names, above), texts);
    return target === undefined ? undefined : { meaning: target, declares: false };
  }
  if (parent?.type === "call") {
    const called = parent.callee === path ? calledName(names, texts) : undefined;
    if (called !== undefined) return called;
    if (parent.callee.names[0]?.text === "each") return inEach(names, parent, path, texts);
  }
  if ((parent?.type === "thing" || parent?.type === "part") && parent.like === path) {
    // Looked for around the thing that takes after it, then in the file.
    const around = holderAt(names, above);
    const target = around === undefined ? undefined : follow(names, around, texts);
    const found = target ?? followFromFile(names, texts);
    return found === undefined ? undefined : { meaning: found, declares: false };
  }
  const holder = holderAt(names, nodes);
  const given = givenAt(names, nodes);
  if (given?.target.is === "field" && given.node.value === path) {
    const { type } = given.target.field;
    if (type.form === "choice" && texts.length === 1 && type.choices.includes(name.text)) {
      return {
        meaning: { is: "choice", choice: name.text, target: given.target },
        declares: false,
      };
    }
    if (type.form === "reference" || type.form === "list") {
      const outside = followFromFile(names, texts);
      if (outside !== undefined) return { meaning: outside, declares: false };
    }
  }
  const target = follow(names, holder, texts);
  return target === undefined ? undefined : { meaning: target, declares: false };
}

function calledName(names: FileWords, texts: readonly string[]): Found {
  const [first = "", column] = texts;
  const table = names.vocabulary.tables.get(first);
  if (table !== undefined) {
    const found = table.columns.find((each) => each.name === column);
    return { meaning: { is: "table", table, column: found }, declares: false };
  }
  if (texts.length > 1 || !functionNames.includes(first)) return undefined;
  return { meaning: { is: "function", name: first }, declares: false };
}

/** `each(part).price`: a kind in the parentheses, then fields of it. */
function inEach(
  names: FileWords,
  call: syntax.CallExpression,
  path: syntax.Path,
  texts: readonly string[],
): Found {
  const [argument] = call.arguments;
  const kindName = argument?.type === "path" ? (argument.names[0]?.text ?? "") : "";
  if (argument === path && texts.length === 1) return kindNamed(names, kindName);
  const kind = names.vocabulary.kinds.get(kindName);
  if (kind === undefined || call.rest !== path) return undefined;
  const target = follow({ ...names, scope: undefined }, { kind }, texts);
  return target === undefined ? undefined : { meaning: target, declares: false };
}

function fieldOfKind(
  names: FileWords,
  nodes: Spot["nodes"],
  name: syntax.Name,
  node: syntax.Field,
): Found {
  if (node.name !== name) return undefined;
  const owner = nodes[nodes.length - 3];
  if (owner?.type === "kind") {
    const holder = holderAt(names, nodes);
    const field = holder?.kind.fields.get(name.text);
    if (holder === undefined || field === undefined) return undefined;
    return { meaning: { is: "field", field, holder }, declares: true };
  }
  return undefined;
}

function kindNamed(names: FileWords, name: string, declares = false): Found {
  const kind = names.vocabulary.kinds.get(name);
  return kind === undefined ? undefined : { meaning: { is: "kind", kind }, declares };
}

function measureCalled(name: string): Found {
  const measure = measureNamed(name);
  return measure === undefined
    ? undefined
    : { meaning: { is: "measure", measure }, declares: false };
}

function typeNamed(names: FileWords, name: string): Found {
  const measure = measureCalled(name);
  if (measure !== undefined) return measure;
  const designation = names.vocabulary.designations.get(name);
  if (designation !== undefined)
    return { meaning: { is: "designation", designation }, declares: false };
  return kindNamed(names, name);
}

function nameAnchor(holder: Holder): Anchor | undefined {
  const { thing } = holder;
  if (thing?.anchor === undefined) return undefined;
  const { item, span, uri } = thing.anchor;
  // The head of a thing or part, from its first word to the brace: its own name is in there.
  const head = item.text.slice(span.start, span.end);
  const found = new RegExp(
    `(?<![\\p{L}\\p{N}_])${escaped(thing.name)}(?![\\p{L}\\p{N}_])`,
    "u",
  ).exec(head.replace(/"[^"\n]*"/g, (text) => " ".repeat(text.length)));
  if (found === null) return thing.anchor;
  const start = span.start + found.index;
  return { uri, item, span: { start, end: start + thing.name.length } };
}

function escaped(text: string): string {
  return text.replace(/[\\^$.*+?()[\]{}|]/g, "\\$&");
}
