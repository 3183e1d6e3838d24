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
import { twinsOf } from "../model/twins";
import { firstStep, type NameStep, type NameWorld, stepInside } from "../names/follow";
import type { Declaration, FileScope } from "../names/scope";
import type { Spot } from "./spot";

/** What names are looked for in. */
export interface Holder {
  readonly kind: KindDefinition;
  /** The thing itself, where it was made. */
  readonly thing?: Thing;
  /** What it is part of, whose names it sees. */
  readonly owner?: Holder;
  /** Where it stands by itself in a file. */
  readonly declaration?: Declaration;
  /** Of what is said of `both`: the other of the two. */
  readonly twin?: Holder;
}

/** Where a name leads. */
export type HolderTarget =
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
export interface FileWords {
  readonly analysis: Analysis;
  readonly vocabulary: Vocabulary;
  /** Nothing for the library's files, which declare no things. */
  readonly scope?: FileScope;
}

export function namesAt(analysis: Analysis, uri: string): FileWords {
  return { analysis, vocabulary: analysis.vocabulary, scope: analysis.files.get(uri)?.scope };
}

/** What the innermost node of a spot stands inside of; nothing at the top of a file. */
export function holderAt(names: FileWords, nodes: Spot["nodes"]): Holder | undefined {
  let holder: Holder | undefined;
  for (const node of nodes.slice(0, -1)) holder = enter(names, holder, node) ?? holder;
  return holder;
}

/** The holder that a node opens. */
export function enter(
  names: FileWords,
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
  names: FileWords,
  holder: Holder | undefined,
  path: readonly string[],
): HolderTarget | undefined {
  const [first, ...rest] = path;
  if (first === undefined) return undefined;
  const world = new Holders(names);
  let at = targetOf(names, firstStep(world, holder, names.scope, first));
  for (const name of rest) at = at === undefined ? undefined : onward(world, at, name);
  return at;
}

/** The same from the top of the file, where a reference looks first. */
export function followFromFile(
  names: FileWords,
  path: readonly string[],
): HolderTarget | undefined {
  return follow(names, undefined, path);
}

/** What a target leads on to, if it has anything inside. */
export function holderOf(target: HolderTarget): Holder | undefined {
  if (target.is === "thing" || target.is === "twins") return target.holder;
  return target.is === "field" ? target.next : undefined;
}

/** The designation whose parts a target has, if it holds one. */
export function designationOf(target: HolderTarget): DesignationDefinition | undefined {
  if (target.is !== "field" || target.part !== undefined) return undefined;
  return target.field.type.form === "designation" ? target.field.type.designation : undefined;
}

/** `rear.left.inner_gap` of a field of a thing that was made. */
export function pathOf(target: HolderTarget): string | undefined {
  if (target.is === "thing") return target.holder.thing?.path;
  if (target.is !== "field" || target.holder.thing === undefined) return undefined;
  const path = `${target.holder.thing.path}.${target.field.name}`;
  return target.part === undefined ? path : `${path}.${target.part.name}`;
}

/** The same of the other of two, where a target is about both. */
export function twinOf(target: HolderTarget): HolderTarget | undefined {
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
export function ofKind(names: FileWords, kind: KindDefinition, depth = 0): Holder {
  const owner = kind.owner === undefined ? undefined : names.vocabulary.kinds.get(kind.owner);
  return owner === undefined || depth > 8
    ? { kind }
    : { kind, owner: ofKind(names, owner, depth + 1) };
}

// ───────────────────────────── helpers ─────────────────────────────

/** Things that were made, and kinds where none were. */
class Holders implements NameWorld<Holder, FieldDefinition, FileScope> {
  constructor(readonly names: FileWords) {}

  ownerOf(holder: Holder): Holder | undefined {
    return holder.owner;
  }

  fieldOf({ kind }: Holder, name: string): FieldDefinition | undefined {
    return kind.fields.get(name);
  }

  childOf(holder: Holder, name: string): Holder | undefined {
    const child = holder.thing?.children.get(name);
    if (child === undefined) return undefined;
    const twin = holder.twin && this.childOf(holder.twin, name);
    return { kind: child.kind, thing: child, owner: holder, twin };
  }

  twinsOf({ kind }: Holder): readonly FieldDefinition[] {
    return twinsOf(kind);
  }

  inFile(scope: FileScope, name: string): HolderStep<"thing" | "file"> | undefined {
    const declaration = scope.declarations.get(name);
    if (declaration !== undefined) {
      const { analysis, vocabulary } = this.names;
      const thing = analysis.thingAtTop(declaration.id);
      const kind = thing?.kind ?? vocabulary.kinds.get(declaration.node.kind.text);
      if (kind === undefined) return undefined;
      return { is: "thing", holder: { kind, thing, declaration } };
    }
    const used = scope.namespaces.get(name);
    return used === undefined ? undefined : { is: "file", names: used, name };
  }
}

type HolderStep<Is extends string = string> = Extract<
  NameStep<Holder, FieldDefinition, FileScope>,
  { is: Is }
>;

function onward(world: Holders, at: HolderTarget, name: string): HolderTarget | undefined {
  if (at.is === "namespace") return targetOf(world.names, world.inFile(at.scope, name));
  const part = designationOf(at)?.parts.get(name);
  if (part !== undefined && at.is === "field") return { ...at, part, next: undefined };
  const holder = holderOf(at);
  return holder && targetOf(world.names, stepInside(world, holder, name));
}

function targetOf(names: FileWords, step: HolderStep | undefined): HolderTarget | undefined {
  switch (step?.is) {
    case undefined:
      return undefined;
    case "thing":
      return { is: "thing", holder: step.holder, declaration: step.holder.declaration };
    case "file":
      return { is: "namespace", scope: step.names, alias: step.name };
    case "both": {
      const [first, second] = step.twins.map((part) => linked(names, step.holder, part));
      if (first === undefined) return undefined;
      return { is: "twins", parts: step.twins, holder: { ...first, twin: second } };
    }
    case "field": {
      const { holder, field } = step;
      const next = linked(names, holder, field);
      const twin = holder.twin && linked(names, holder.twin, field);
      const both = next === undefined || twin === undefined ? next : { ...next, twin };
      return { is: "field", field, holder, next: both };
    }
  }
}

/** What a reference, part or list field stands for, as far as is known. */
function linked(names: FileWords, holder: Holder, field: FieldDefinition): Holder | undefined {
  const { type } = field;
  const inner = type.form === "list" ? type.of : type;
  if (inner.form !== "reference" && inner.form !== "part") return undefined;
  const thing =
    holder.thing === undefined || type.form === "list"
      ? undefined
      : names.analysis.binder.linked(holder.thing, field);
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

function declared(names: FileWords, kindName: string, name: string): Holder | undefined {
  const target = followFromFile(names, [name]);
  if (target?.is === "thing" && target.holder.kind.name === kindName) return target.holder;
  const kind = names.vocabulary.kinds.get(kindName);
  return kind === undefined ? undefined : { kind };
}

function childOf(
  names: FileWords,
  owner: Holder,
  kindName: string,
  name: string,
): Holder | undefined {
  const thing = owner.thing?.children.get(name);
  const twin = owner.twin && childOf(names, owner.twin, kindName, name);
  if (thing !== undefined) return { kind: thing.kind, thing, owner, twin };
  const kind = names.vocabulary.kinds.get(kindName);
  return kind === undefined ? undefined : { kind, owner };
}
