/**
 * Names followed from a place: the thing (or kind) a piece of text stands inside of, and where its
 * names lead. Works on things that were made as well as on kinds alone, so that it answers in the
 * library, in unfinished text, and in things that nothing refers to.
 *
 *     follow(world, holderAt(world, uri, spot), ["wheel", "offset"])   →   the field `offset`
 *
 * Must not know: values, how answers are shown.
 */
import type * as syntax from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";
import type {
  DesignationDefinition,
  FieldDefinition,
  KindDefinition,
  Vocabulary,
} from "../model/definition";
import type { Thing } from "../model/thing";
import { both, twinsOf } from "../model/twins";
import type { Declaration, FileScope } from "../names/scope";
import type { Spot } from "./spot";

/** What names are looked for in. */
export interface Holder {
  readonly kind: KindDefinition;
  /** The thing itself, where it was made. */
  readonly thing?: Thing;
  /** What it is part of, whose names it sees. */
  readonly owner?: Holder;
  /** Of what is said of `both`: the other of the two. */
  readonly twin?: Holder;
}

/** Where a name leads. */
export type Target =
  | { readonly is: "thing"; readonly holder: Holder; readonly declaration?: Declaration }
  | {
      readonly is: "field";
      readonly field: FieldDefinition;
      /** Where the field belongs to; for a part of a designation, where that belongs to. */
      readonly holder: Holder;
      /** Set where the name is a part of the designation that `field` holds. */
      readonly part?: FieldDefinition;
      /** What a reference or part field leads on to. */
      readonly next?: Holder;
    }
  /** `both`, with the two parts it stands for; `holder` is the first of them. */
  | { readonly is: "twins"; readonly parts: readonly FieldDefinition[]; readonly holder: Holder }
  | { readonly is: "namespace"; readonly scope: FileScope; readonly alias: string };

/** The words and names of one file. */
export interface Names {
  readonly analysis: Analysis;
  readonly vocabulary: Vocabulary;
  /** Nothing for the library's files, which declare no things. */
  readonly scope?: FileScope;
}

export function namesAt(analysis: Analysis, uri: string): Names {
  return { analysis, vocabulary: analysis.vocabulary, scope: analysis.files.get(uri)?.scope };
}

/** What the innermost node of a spot stands inside of; nothing at the top of a file. */
export function holderAt(names: Names, nodes: Spot["nodes"]): Holder | undefined {
  let holder: Holder | undefined;
  for (const node of nodes.slice(0, -1)) holder = enter(names, holder, node) ?? holder;
  return holder;
}

/** The holder that a node opens. */
export function enter(
  names: Names,
  holder: Holder | undefined,
  node: syntax.AnyNode,
): Holder | undefined {
  switch (node.type) {
    case "thing":
      return holder === undefined
        ? declared(names, node.kind.text, node.name.text)
        : childOf(names, holder, node.kind.text, node.name.text);
    case "part": {
      const target = follow(names, holder, textsOf(node.path));
      return target === undefined ? undefined : holderOf(target);
    }
    case "kind": {
      const kind = names.vocabulary.kinds.get(node.name.text);
      return kind === undefined ? undefined : ofKind(names, kind);
    }
    default:
      return undefined;
  }
}

/** Where names lead from inside `holder`: its own names, its owners', then the file's. */
export function follow(
  names: Names,
  holder: Holder | undefined,
  path: readonly string[],
): Target | undefined {
  const [first, ...rest] = path;
  if (first === undefined) return undefined;
  for (let inside = holder; inside !== undefined; inside = inside.owner) {
    const target = step(names, inside, first);
    if (target !== undefined) return onward(names, target, rest);
  }
  return followFromFile(names, path);
}

/** The same from the top of the file, where a reference looks first. */
export function followFromFile(names: Names, path: readonly string[]): Target | undefined {
  const [first, ...rest] = path;
  if (first === undefined || names.scope === undefined) return undefined;
  const target = topLevel(names, names.scope, first);
  return target === undefined ? undefined : onward(names, target, rest);
}

/** What a target leads on to, if it has anything inside. */
export function holderOf(target: Target): Holder | undefined {
  if (target.is === "thing" || target.is === "twins") return target.holder;
  return target.is === "field" ? target.next : undefined;
}

/** The designation whose parts a target has, if it holds one. */
export function designationOf(target: Target): DesignationDefinition | undefined {
  if (target.is !== "field" || target.part !== undefined) return undefined;
  return target.field.type.form === "designation" ? target.field.type.designation : undefined;
}

/** `rear.left.inner_gap` of a field of a thing that was made. */
export function pathOf(target: Target): string | undefined {
  if (target.is === "thing") return target.holder.thing?.path;
  if (target.is !== "field" || target.holder.thing === undefined) return undefined;
  const path = `${target.holder.thing.path}.${target.field.name}`;
  return target.part === undefined ? path : `${path}.${target.part.name}`;
}

/** The same of the other of two, where a target is about both. */
export function twinOf(target: Target): Target | undefined {
  if (target.is === "namespace") return undefined;
  const { twin } = target.holder;
  if (twin === undefined) return undefined;
  if (target.is === "thing") return { is: "thing", holder: twin };
  return target.is === "field"
    ? { ...target, holder: twin, next: target.next?.twin }
    : { ...target, holder: twin };
}

export function textsOf(path: syntax.Path): string[] {
  return path.names.map((name) => name.text);
}

/** A kind as holder; with the kind it is always part of, if there is one. */
export function ofKind(names: Names, kind: KindDefinition, depth = 0): Holder {
  const owner = kind.owner === undefined ? undefined : names.vocabulary.kinds.get(kind.owner);
  return owner === undefined || depth > 8
    ? { kind }
    : { kind, owner: ofKind(names, owner, depth + 1) };
}

// ───────────────────────────── helpers ─────────────────────────────

function onward(names: Names, target: Target, rest: readonly string[]): Target | undefined {
  let at: Target | undefined = target;
  for (const name of rest) {
    if (at === undefined) return undefined;
    if (at.is === "namespace") {
      at = topLevel(names, at.scope, name);
      continue;
    }
    const part = designationOf(at)?.parts.get(name);
    if (part !== undefined && at.is === "field") {
      at = { ...at, part, next: undefined };
      continue;
    }
    const holder = holderOf(at);
    at = holder === undefined ? undefined : step(names, holder, name);
  }
  return at;
}

/** One name inside of a holder itself. */
function step(names: Names, holder: Holder, name: string): Target | undefined {
  const field = holder.kind.fields.get(name);
  if (field === undefined) {
    const child = holder.thing?.children.get(name);
    if (child === undefined) return name === both ? twinsIn(names, holder) : undefined;
    const other = holder.twin && step(names, holder.twin, name);
    const twin = other?.is === "thing" ? other.holder : undefined;
    return { is: "thing", holder: { kind: child.kind, thing: child, owner: holder, twin } };
  }
  const next = linked(names, holder, field);
  const twin = holder.twin && linked(names, holder.twin, field);
  return {
    is: "field",
    field,
    holder,
    next: next === undefined || twin === undefined ? next : { ...next, twin },
  };
}

function twinsIn(names: Names, holder: Holder): Target | undefined {
  const parts = twinsOf(holder.kind);
  const [first, second] = parts.map((part) => linked(names, holder, part));
  return first === undefined
    ? undefined
    : { is: "twins", parts, holder: { ...first, twin: second } };
}

/** What a reference, part or list field stands for, as far as is known. */
function linked(names: Names, holder: Holder, field: FieldDefinition): Holder | undefined {
  const { type } = field;
  const inner = type.form === "list" ? type.of : type;
  if (inner.form !== "reference" && inner.form !== "part") return undefined;
  const thing =
    holder.thing === undefined || type.form === "list"
      ? undefined
      : (holder.thing.parts.get(field.name) ??
        names.analysis.thingAt(`${holder.thing.path}.${field.name}`));
  if (thing !== undefined) {
    return thing.owner === holder.thing
      ? { kind: thing.kind, thing, owner: holder }
      : ownedHolder(thing);
  }
  const kind = names.vocabulary.kinds.get(inner.kind);
  if (kind === undefined) return undefined;
  return inner.form === "part" ? { kind, owner: holder } : ofKind(names, kind);
}

function ownedHolder(thing: Thing): Holder {
  return thing.owner === undefined
    ? { kind: thing.kind, thing }
    : { kind: thing.kind, thing, owner: ownedHolder(thing.owner) };
}

function topLevel(names: Names, scope: FileScope, name: string): Target | undefined {
  const declaration = scope.declarations.get(name);
  if (declaration !== undefined) {
    const { node } = declaration;
    const thing = madeThing(names.analysis, `${declaration.prefix}${node.name.text}`);
    const kind = thing?.kind ?? names.vocabulary.kinds.get(node.kind.text);
    if (kind === undefined) return undefined;
    return { is: "thing", holder: { kind, thing }, declaration };
  }
  const namespace = scope.namespaces.get(name);
  return namespace === undefined ? undefined : { is: "namespace", scope: namespace, alias: name };
}

const made = new WeakMap<Analysis, Map<string, Thing>>();

/** The thing of this very path; asking the analysis would follow names through every group. */
function madeThing(analysis: Analysis, path: string): Thing | undefined {
  const things = made.get(analysis) ?? new Map(analysis.things.map((thing) => [thing.path, thing]));
  made.set(analysis, things);
  return things.get(path);
}

function declared(names: Names, kindName: string, name: string): Holder | undefined {
  const target = names.scope === undefined ? undefined : topLevel(names, names.scope, name);
  if (target?.is === "thing" && target.holder.kind.name === kindName) return target.holder;
  const kind = names.vocabulary.kinds.get(kindName);
  return kind === undefined ? undefined : { kind };
}

function childOf(names: Names, owner: Holder, kindName: string, name: string): Holder | undefined {
  const thing = owner.thing?.children.get(name);
  const twin = owner.twin && childOf(names, owner.twin, kindName, name);
  if (thing !== undefined) return { kind: thing.kind, thing, owner, twin };
  const kind = names.vocabulary.kinds.get(kindName);
  return kind === undefined ? undefined : { kind, owner };
}
