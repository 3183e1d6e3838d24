/**
 * Which items a build takes in: all of its own file, of the logs kept of it and of library files it
 * uses, and of a shop's other files what has to do with these.
 *
 * Must not know: what items mean beyond the names in them.
 */
import { textAt } from "../../grammar/anchor";
import type { Item } from "../../grammar/syntax";
import { walkInAnyOrder } from "../../grammar/walk";
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

/** In file order, root file first. `further` items are laid over the build without a file. */
export function takenIn(build: BuildFiles, further: readonly Item[]): readonly Placed[] {
  const known = takenByBuild.get(build) ?? workOut(build, []);
  takenByBuild.set(build, known);
  if (further.length === 0) return known;
  const more = workOut(build, further);
  return more.length === known.length ? known : more;
}

// ───────────────────────────── helpers ─────────────────────────────

/** Asked once more for every option of a build. */
const takenByBuild = new WeakMap<BuildFiles, readonly Placed[]>();

/** Each item that is taken in names things; what waits for one of these is taken in with it. */
function workOut(build: BuildFiles, further: readonly Item[]): Placed[] {
  const placed = placedItems(build);
  const elsewhere = placed.filter((each) => !isCentral(build, each));
  if (elsewhere.length === 0) return placed;
  const taken = new Set<Item>();
  const named = new Set<ThingId>();
  const { kinds: known } = build.vocabulary;
  let all = false;
  const take = (item: Item, scope: FileScope, declaration?: Declaration): void => {
    taken.add(item);
    if (declaration !== undefined) named.add(declaration.id);
    for (const path of namesIn(item).paths) {
      const target = leadsTo(scope, path);
      if (target !== undefined) named.add(target.id);
    }
    const { each, kinds } = namesIn(item);
    all ||= each || kinds.some((kind) => usesEach(known.get(kind)));
  };
  for (const { item, file, declaration } of placed) {
    if (isCentral(build, { item, file })) take(item, file.scope, declaration);
  }
  for (const item of further) take(item, build.root.scope);
  const waiting = new Map<ThingId, Placed[]>();
  const waitFor = (id: ThingId, each: Placed): void => {
    const others = waiting.get(id);
    if (others === undefined) waiting.set(id, [each]);
    else others.push(each);
  };
  const takeElsewhere = ({ item, file, declaration }: Placed): void => {
    if (!taken.has(item)) take(item, file.scope, declaration);
  };
  const things: Placed[] = [];
  for (const each of elsewhere) {
    const { node } = each.item;
    if (node.type === "thing") {
      things.push(each);
      if (speaksForAll(known.get(node.kind.text))) takeElsewhere(each);
    }
    if (each.declaration !== undefined) waitFor(each.declaration.id, each);
    for (const path of namesIn(each.item).paths) {
      const target = leadsTo(each.file.scope, path);
      if (target !== undefined) waitFor(target.id, each);
    }
  }
  // What is named while this goes on stands behind the rest, and comes to its turn.
  for (const id of named) waiting.get(id)?.forEach(takeElsewhere);
  if (all) {
    things.forEach(takeElsewhere);
    for (const id of named) waiting.get(id)?.forEach(takeElsewhere);
  }
  return placed.filter(({ item }) => taken.has(item));
}

function isCentral({ root, logs }: BuildFiles, { file }: Pick<Placed, "file" | "item">): boolean {
  return file === root || file.library || logs.has(file);
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
