/**
 * Which items a build takes in: all of its own file, of the logs kept of it and of library files it
 * uses, and of a shop's other files what has to do with these.
 *
 * Must not know: what items mean beyond the names in them.
 */
import { textAt } from "../../grammar/anchor";
import type { Item } from "../../grammar/syntax";
import { walkInAnyOrder } from "../../grammar/walk";
import { Few } from "../keep/few";
import type { KindDefinition } from "../model/definition";
import { speaksForAll } from "../model/held-by";
import type { ThingId } from "../names/ids";
import { leadsTo, namesIn } from "../names/mentioned";
import type { Declaration, FileScope } from "../names/scope";
import type { BuildFile, BuildFiles } from "./files";

/** One item that counts, in the file it stands in. */
export interface Placed {
  readonly item: Item;
  readonly file: BuildFile;
  /** Set for a thing that goes by its name. */
  readonly declaration?: Declaration;
}

/**
 * In file order, root file first. `further` items are laid over the build without a file. `before`: the
 * build before an edit after which all names lead to the same declarations.
 */
export function takenIn(
  build: BuildFiles,
  further: readonly Item[],
  before?: BuildFiles,
): readonly Placed[] {
  let known = takenByBuild.get(build);
  if (known === undefined) {
    const all = placedItems(build);
    known = takenAsBefore(build, all, before) ?? among(all, workOut(build, all, []));
    takenByBuild.set(build, known);
  }
  if (further.length === 0) return known.taken;
  const more = among(known.all, workOut(build, known.all, further));
  return more.taken.length === known.taken.length ? known.taken : more.taken;
}

/** What is taken in of a build that says the same as another one. */
export function takenInAs(build: BuildFiles, before: BuildFiles): void {
  const known = takenByBuild.get(before);
  if (known !== undefined) takenByBuild.set(build, known);
}

// ───────────────────────────── helpers ─────────────────────────────

interface TakenIn {
  /** All items of all files that may count. */
  readonly all: readonly Placed[];
  /** 1 by the place of each that does. */
  readonly counts: Uint8Array | "all";
  readonly taken: readonly Placed[];
}

/** Asked once more for every option of a build. */
const takenByBuild = new WeakMap<BuildFiles, TakenIn>();

function among(all: readonly Placed[], counts: Uint8Array | "all"): TakenIn {
  return { all, counts, taken: counts === "all" ? all : all.filter((_, at) => counts[at] === 1) };
}

/** Where each item names what the one in its place did before, those count that did. */
function takenAsBefore(
  build: BuildFiles,
  all: readonly Placed[],
  before: BuildFiles | undefined,
): TakenIn | undefined {
  const known = before && takenByBuild.get(before);
  if (before === undefined || known?.all.length !== all.length) return undefined;
  for (let at = 0; at < all.length; at++) {
    const [now, then] = [all[at] as Placed, known.all[at] as Placed];
    if (now.item === then.item && now.file === then.file) continue;
    const alike =
      now.file.uri === then.file.uri &&
      isCentral(build, now) === isCentral(before, then) &&
      (now.item === then.item || speakAlike(now, then));
    if (!alike) return undefined;
  }
  return among(all, known.counts);
}

function speakAlike(one: Placed, other: Placed): boolean {
  const [now, then] = [namesIn(one.item), namesIn(other.item)];
  return (
    one.item.node.type === other.item.node.type &&
    one.declaration?.id === other.declaration?.id &&
    now.each === then.each &&
    now.kinds.join() === then.kinds.join() &&
    now.paths.length === then.paths.length &&
    now.paths.every((path, at) => {
      const match = then.paths[at];
      return (
        path.length === match?.length && path.every(({ text }, part) => text === match[part]?.text)
      );
    })
  );
}

/** Each item that is taken in names things; what waits for one of these is taken in with it. */
function workOut(
  build: BuildFiles,
  placed: readonly Placed[],
  further: readonly Item[],
): Uint8Array | "all" {
  const elsewhere: number[] = [];
  for (const [at, each] of placed.entries()) if (!isCentral(build, each)) elsewhere.push(at);
  if (elsewhere.length === 0) return "all";
  const counts = new Uint8Array(placed.length).fill(1);
  for (const at of elsewhere) counts[at] = 0;
  const named = new Set<ThingId>();
  const { kinds: known } = build.vocabulary;
  let all = false;
  const take = (item: Item, scope: FileScope, declaration?: Declaration): void => {
    if (declaration !== undefined) named.add(declaration.id);
    const { paths, each, kinds } = namesIn(item);
    for (const path of paths) {
      const target = leadsTo(scope, path);
      if (target !== undefined) named.add(target.id);
    }
    all ||= each || kinds.some((kind) => usesEach(known.get(kind)));
  };
  for (const [at, { item, file, declaration }] of placed.entries())
    if (counts[at] === 1) take(item, file.scope, declaration);
  for (const item of further) take(item, build.root.scope);
  const takeElsewhere = (at: number): void => {
    if (counts[at] === 1) return;
    counts[at] = 1;
    const { item, file, declaration } = placed[at] as Placed;
    take(item, file.scope, declaration);
  };
  const waiting = new Map<ThingId, Few<number>>();
  const waitFor = (id: ThingId, at: number): void => {
    const others = waiting.get(id) ?? new Few<number>();
    waiting.set(id, others);
    others.add(at);
  };
  for (const at of elsewhere) {
    const { item, file, declaration } = placed[at] as Placed;
    const { node } = item;
    if (node.type === "thing" && speaksForAll(known.get(node.kind.text))) takeElsewhere(at);
    if (declaration !== undefined) waitFor(declaration.id, at);
    for (const path of namesIn(item).paths) {
      const target = leadsTo(file.scope, path);
      if (target !== undefined) waitFor(target.id, at);
    }
  }
  // What is named while this goes on stands behind the rest, and comes to its turn.
  for (const id of named) waiting.get(id)?.visit(takeElsewhere);
  if (all) {
    for (const at of elsewhere) if (placed[at]?.item.node.type === "thing") takeElsewhere(at);
    for (const id of named) waiting.get(id)?.visit(takeElsewhere);
  }
  return counts;
}

/** By what files are called: one whose remarks alone are others is another file of the same name. */
function isCentral({ root, logs }: BuildFiles, { file }: Pick<Placed, "file" | "item">): boolean {
  if (file.uri === root.uri || file.library || logs.has(file)) return true;
  for (const { uri } of logs) if (uri === file.uri) return true;
  return false;
}

function placedItems(build: BuildFiles): Placed[] {
  const placed: Placed[] = [];
  for (const file of build.files) {
    for (const item of file.source.items) {
      switch (item.node.type) {
        case "thing": {
          const declaration = file.scope.declarations.get(item.node.name.text);
          if (declaration?.item === item) placed.push({ item, file, declaration });
          break;
        }
        case "check":
        case "relation":
        case "curve":
        case "given":
        case "option":
        case "record":
          placed.push({ item, file });
          break;
        default:
          break;
      }
    }
  }
  return placed;
}

const eachKnown = new WeakMap<KindDefinition, boolean>();

/** Whether a kind's own formulas speak of each thing of a kind. */
function usesEach(kind: KindDefinition | undefined): boolean {
  if (kind === undefined) return false;
  let uses = eachKnown.get(kind);
  if (uses === undefined) {
    uses = false;
    for (const { node, anchor } of [...kind.relations, ...kind.checks]) {
      // Most texts have no such word, and their trees need not be looked at.
      if (!textAt(anchor).includes("each")) continue;
      walkInAnyOrder(node, (inner) => {
        if ("type" in inner && inner.type === "call" && inner.callee.names[0]?.text === "each")
          uses = true;
      });
    }
    eachKnown.set(kind, uses);
  }
  return uses;
}
