/**
 * The trees of a build's things in one reading: each with what lines elsewhere write into it, and what
 * is laid over the build; those of readings before where they are the same.
 *
 *     trees.writeAll([before], undefined); trees.tree(id)?.thing
 *
 * Must not know: rows, cells, values.
 */

import type { Item } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import { Binder, type Things } from "../model/binder";
import { speaksForAll } from "../model/held-by";
import { redirects, targetsOf } from "../model/outward";
import type { Questions } from "../model/questions";
import type { Thing } from "../model/thing";
import { makeTree, type Tree, type WrittenLine } from "../model/trees";
import type { Write } from "../model/write-field";
import type { ThingId } from "../names/ids";
import type { Declaration } from "../names/scope";
import { AlikeThings } from "./alike-things";
import type { BuildFiles } from "./files";
import { type Overlay, writesOf, writesOfSpec } from "./overlay";
import type { Placed } from "./taken-in";
import type { Workshop } from "./workshop";

export /** Lines that write into things from outside of them. */
interface Lines {
  readonly ofSpec: readonly Found[];
  readonly ofOverlays: readonly Found[];
  readonly asked: readonly Questions<Binder>[];
  /** By the thing at the top. */
  readonly written: ReadonlyMap<ThingId, readonly WrittenLine[]>;
}

/** The reading they are the trees of. */
interface World extends Things {
  readonly placed: readonly Placed[];
  readonly overlays: readonly Overlay[];
  readonly workshop: Workshop;
  readonly declared: ReadonlyMap<ThingId, Declaration>;
}

export class BuildTrees {
  /** Trees that were asked for; those of lists nobody speaks of never are. */
  private readonly trees = new Map<ThingId, Tree | undefined>();
  /** Those that were made while it was found out what is written into them. */
  private readonly onTheWay = new Map<ThingId, readonly Tree[]>();
  /** Of things that others are like: what they are without what was recorded of them. */
  private readonly unrecorded = new Map<ThingId, Tree | undefined>();
  private readonly alike: AlikeThings;
  /** What lines elsewhere write into things, and what is laid over the build. */
  lines: Lines = { ofSpec: [], ofOverlays: [], asked: [], written: new Map() };

  constructor(
    private readonly world: World,
    /** Of another reading of the same declarations. */
    same: BuildTrees | undefined,
  ) {
    this.alike = new AlikeThings(
      world.declared.values(),
      (uri) => world.scopeOf(uri),
      (id) => (this.unrecorded.get(id) ?? this.tree(id))?.thing,
      same?.alike,
    );
  }

  /** Of a thing at the top of a file. */
  tree(top: ThingId): Tree | undefined {
    const before = this.trees.get(top);
    if (before !== undefined || this.trees.has(top)) return before;
    const declaration = this.world.declared.get(top);
    const made = declaration && this.plainTree(declaration);
    this.trees.set(top, made);
    return made;
  }

  /** The tree of a thing that nothing is written into from elsewhere. */
  private plainTree(declaration: Declaration): Tree | undefined {
    const kept = plainTrees.get(declaration);
    if (kept !== undefined && kept.vocabulary === this.world.vocabulary && this.isAsThen(kept.tree))
      return kept.tree;
    this.world.workshop.counts.trees++;
    const tree = makeTree(declaration, this.world.vocabulary, [], this.alike);
    plainTrees.set(declaration, { vocabulary: this.world.vocabulary, tree });
    return tree;
  }

  /** Whether what something in the tree is like is what it was then. */
  private isAsThen(tree: Tree | undefined): boolean {
    for (const [id, thing] of tree?.others ?? [])
      if ((this.unrecorded.get(id) ?? this.tree(id))?.thing !== thing) return false;
    return true;
  }

  /** Finds out what each line from outside writes into, and makes the trees with it. */
  writeAll(before: readonly (BuildTrees | undefined)[], under: BuildTrees | undefined): void {
    const ofSpec: Found[] = [...(under?.lines.ofSpec ?? [])];
    const ofOverlays: Found[] = [...(under?.lines.ofOverlays ?? [])];
    const asked: Questions<Binder>[] = [...(under?.lines.asked ?? [])];
    const written = new Map<ThingId, readonly WrittenLine[]>(under?.lines.written);
    const lines: { from: Thing | undefined; write: Write }[] = [];
    if (under === undefined) {
      for (const { declaration } of this.world.placed) {
        const tree = declaration && this.tree(declaration.id);
        if (tree !== undefined) lines.push(...tree.outward);
        else if (declaration !== undefined)
          unknownKind(declaration, this.world.vocabulary, (finding) => ofSpec.push(finding));
      }
      for (const write of writesOfSpec(this.world.placed)) lines.push({ from: undefined, write });
    } else {
      for (const [top, tree] of under.trees) this.trees.set(top, tree);
      for (const [top, tree] of under.unrecorded) this.unrecorded.set(top, tree);
    }
    for (const overlay of this.world.overlays.slice(under?.world.overlays.length ?? 0))
      for (const write of writesOf(this.world.placed, overlay))
        lines.push({ from: undefined, write });
    const build = (top: ThingId): void => {
      const declaration = this.world.declared.get(top);
      if (declaration === undefined) return;
      const tree = this.treeWith(declaration, written.get(top) ?? [], before);
      this.trees.set(top, tree);
    };
    const buildWithLikes = (top: ThingId): void => {
      build(top);
      const alike = this.alike.likeThe(top);
      if (alike.length === 0) return;
      this.unrecord(top, written.get(top) ?? [], before);
      for (const other of alike) buildWithLikes(other);
    };
    let binder = new Binder(this.world, undefined);
    const tops = new Set<ThingId>();
    for (const line of lines) {
      const laidOver = line.write.layer !== "spec";
      if (laidOver && !asked.includes(binder.questions)) {
        binder = new Binder(this.world, undefined);
        asked.push(binder.questions);
      }
      // What stands alone is told which things of its file it could be about.
      if (laidOver) binder.questions.files.add(line.write.uri);
      const found = laidOver ? ofOverlays : ofSpec;
      const targets = targetsOf(line, binder, (finding) => found.push(finding));
      for (const { thing, designation, write } of targets) {
        const top = thing.top.id;
        tops.add(top);
        written.set(top, [...(written.get(top) ?? []), { id: thing.id, designation, write }]);
        if (!redirects(thing, write)) continue;
        // Names that come after it may lead elsewhere now.
        buildWithLikes(top);
        binder = new Binder(this.world, undefined);
      }
    }
    for (const top of tops) buildWithLikes(top);
    this.lines = { ofSpec, ofOverlays, asked, written };
  }

  /** Keeps what others are like of a thing that something was recorded of. */
  private unrecord(
    top: ThingId,
    written: readonly WrittenLine[],
    before: readonly (BuildTrees | undefined)[],
  ): void {
    const declaration = this.world.declared.get(top);
    const spec = written.filter(({ write }) => write.layer !== "record");
    if (declaration === undefined || spec.length === written.length) return;
    const plain = spec.length === 0;
    const tree = plain ? this.plainTree(declaration) : this.treeWith(declaration, spec, before);
    this.unrecorded.set(top, tree);
  }

  /** The tree of a thing with what is written into it, one of a reading before where that is the same. */
  private treeWith(
    declaration: Declaration,
    written: readonly WrittenLine[],
    before: readonly (BuildTrees | undefined)[],
  ): Tree | undefined {
    const { id } = declaration;
    const holds = (known: Tree | undefined): boolean =>
      known?.declaration === declaration &&
      sameLines(known.written, written) &&
      this.isAsThen(known);
    let tree = before
      .flatMap((other) => [other?.trees.get(id), ...(other?.onTheWay.get(id) ?? [])])
      .find(holds);
    if (tree === undefined) {
      this.world.workshop.counts.trees++;
      tree = makeTree(declaration, this.world.vocabulary, written, this.alike);
    }
    if (tree !== undefined) this.onTheWay.set(id, [...(this.onTheWay.get(id) ?? []), tree]);
    return tree;
  }

  /** Things at the top that some items write into: they are one of them, they do, or what they are like. */
  writtenBy(items: ReadonlySet<Item>): Set<ThingId> {
    const found = new Set<ThingId>();
    for (const { item, declaration } of this.world.placed)
      if (declaration !== undefined && items.has(item)) found.add(declaration.id);
    for (const [top, lines] of this.lines.written)
      if (lines.some(({ write }) => items.has(write.item))) found.add(top);
    // What is written into a thing is so in whatever is like it, and like that.
    for (let before = -1; before < found.size; ) {
      before = found.size;
      for (const [top, others] of this.likes)
        if (!found.has(top) && [...others.keys()].some((other) => found.has(other))) found.add(top);
    }
    return found;
  }

  /** Things at the top that have something in them that is like others, with what these are in. */
  private get likes(): readonly (readonly [ThingId, Tree["others"]])[] {
    this.likesFound ??= [...this.trees].flatMap(([top, tree]) =>
      tree === undefined || tree.others.size === 0 ? [] : [[top, tree.others] as const],
    );
    return this.likesFound;
  }

  private likesFound: readonly (readonly [ThingId, Tree["others"]])[] | undefined;

  /** Things at the top whose trees are not those of others. */
  changedSince(before: BuildTrees | undefined): Set<ThingId> {
    const changed = new Set<ThingId>();
    const there = before?.trees;
    let alike = 0;
    for (const [top, tree] of this.trees) {
      const other = there?.get(top);
      if (other !== tree || there === undefined) changed.add(top);
      if (other !== undefined) alike++;
    }
    // What is there and was not asked for here is looked for.
    if (there !== undefined && alike < there.size)
      for (const [top, tree] of there) if (this.tree(top) !== tree) changed.add(top);
    // What says how surely things are made changes all that is made.
    const forAll = (top: ThingId): boolean =>
      [this.tree(top), before?.trees.get(top)].some((tree) => speaksForAll(tree?.thing.kind));
    if ([...changed].some(forAll)) for (const top of this.trees.keys()) changed.add(top);
    return changed;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const plainTrees = new WeakMap<
  Declaration,
  { readonly vocabulary: object; readonly tree: Tree | undefined }
>();

function unknownKind(
  declaration: Declaration,
  vocabulary: BuildFiles["vocabulary"],
  report: (found: Found) => void,
): void {
  makeTree(declaration, vocabulary, [], undefined, report);
}

function sameLines(one: readonly WrittenLine[], other: readonly WrittenLine[]): boolean {
  return (
    one.length === other.length &&
    one.every(({ id, designation, write }, at) => {
      const match = other[at];
      return (
        id === match?.id &&
        designation === match.designation &&
        write.node === match.write.node &&
        write.layer === match.write.layer
      );
    })
  );
}
