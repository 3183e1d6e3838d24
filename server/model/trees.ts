/**
 * Makes the tree of a thing at the top of a file: itself, its parts, the things inside, and what is
 * written into their fields, by its own text and by lines elsewhere.
 *
 *     makeTree(declaration, vocabulary).thing.parts.get("left")
 *
 * Must not know: formulas, measures' values, the solver.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Span } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import { both } from "../names/follow";
import type { ThingId } from "../names/ids";
import type { Declaration } from "../names/scope";
import { Binder, type Things } from "./binder";
import { roomForPart } from "./budget";
import type { FieldDefinition, KindDefinition, Vocabulary } from "./definition";
import { addParts, impliedThing } from "./implied";
import { type Like, noOthers, type OtherThings, takeLikenesses } from "./likenesses";
import { misnamed } from "./spelling";
import { unknownField } from "./target";
import { Thing } from "./thing";
import { isWrittenForEach, lineOfEach, twinsOf } from "./twins";
import { FieldWriter, type Write } from "./write-field";

/** A line inside of a thing that writes into another, through a reference or by its name. */
export interface Outward {
  readonly from: Thing;
  readonly write: Write;
}

export interface Tree {
  readonly thing: Thing;
  readonly declaration: Declaration;
  readonly findings: readonly Found[];
  /** What its own text writes into other things; done when all are there. */
  readonly outward: readonly Outward[];
  /** What is written into it from elsewhere, in order. */
  readonly written: readonly WrittenLine[];
  /** Things at the top of files that something in it is like, as they were taken over. */
  readonly others: ReadonlyMap<ThingId, Thing | undefined>;
}

/** A line that was found to write into a thing. */
export interface WrittenLine {
  readonly id: ThingId;
  /** Set where it writes a part of the designation in that field. */
  readonly designation?: string;
  readonly write: Write;
}

/** Undefined where there is no such kind; `report` is told why. */
export function makeTree(
  declaration: Declaration,
  vocabulary: Vocabulary,
  written: readonly WrittenLine[],
  others: OtherThings = noOthers,
  reportUnknown: (found: Found) => void = () => undefined,
): Tree | undefined {
  const { node, item, uri, library, id } = declaration;
  const findings: Found[] = [];
  const maker = new Maker(declaration, vocabulary, (finding) => findings.push(finding));
  const thing = maker.make();
  if (thing === undefined) {
    for (const finding of findings) reportUnknown(finding);
    return undefined;
  }
  maker.fill(thing, node.members, { item, uri, library, layer: "spec" });
  maker.complete(thing);
  const writeIn = (each: WrittenLine): void => {
    const target = maker.find(thing, each.id, id);
    if (target !== undefined) maker.write(target, each);
  };
  const isRecord = ({ write }: WrittenLine): boolean => write.layer === "record";
  for (const each of written) if (!isRecord(each)) writeIn(each);
  const likes = takeLikenesses(maker.likes, vocabulary, others, (finding) =>
    findings.push(finding),
  );
  // What was measured of one thing says nothing of what is like it.
  for (const each of written) if (isRecord(each)) writeIn(each);
  return { thing, declaration, findings, outward: maker.outward, written, others: likes };
}

class Maker {
  readonly outward: Outward[] = [];
  readonly likes: Like[] = [];

  private readonly fields: FieldWriter;

  constructor(
    private readonly declaration: Declaration,
    private readonly vocabulary: Vocabulary,
    private readonly report: (found: Found) => void,
  ) {
    this.fields = new FieldWriter(vocabulary, report);
  }

  make(): Thing | undefined {
    const { node, item, uri, library, id, prefix } = this.declaration;
    const anchor = { uri, item, span: headSpan(node) };
    const kind = this.kindOf(node.kind, { ...anchor, span: node.kind.span });
    if (kind === undefined) return undefined;
    const path = `${prefix}${node.name.text}`;
    const made = new Thing({
      id,
      path,
      name: node.name.text,
      kind,
      library,
      owner: undefined,
      anchor,
      implied: false,
      title: node.title?.value,
    });
    this.noteLikeness(made, node, { item, uri });
    return made;
  }

  private noteLikeness(
    thing: Thing,
    { like }: syntax.Thing | syntax.Part,
    { item, uri }: Pick<Write, "item" | "uri">,
  ): void {
    if (like !== undefined) this.likes.push({ thing, path: like, item, uri });
  }

  private kindOf(name: syntax.Name, anchor: Anchor): KindDefinition | undefined {
    const { kinds } = this.vocabulary;
    const kind = kinds.get(name.text);
    if (kind !== undefined) return kind;
    // Kinds that are always part of a thing are opened by their field, never declared.
    const named = [...kinds.values()].filter((each) => each.owner === undefined);
    const meant = misnamed(name.text, named.map((each) => each.name).sort());
    this.report({ is: "name/unknown-kind", name: name.text, ...meant, anchor });
    return undefined;
  }

  fill(thing: Thing, members: readonly syntax.Member[], from: Omit<Write, "node">): void {
    const { item, uri } = from;
    const aboutBoth: (syntax.Given | syntax.Part)[] = [];
    for (const member of members) {
      const anchor: Anchor = { uri, item, span: member.span };
      switch (member.type) {
        case "given":
        case "part":
          if (member.path.names[0].text === both) aboutBoth.push(member);
          else this.member(thing, { ...from, node: member });
          break;
        case "thing":
          this.addChild(thing, member, from);
          break;
        case "relation":
          thing.relations.push({ node: member, anchor });
          break;
        case "check":
          thing.checks.push({ node: member, anchor });
          break;
        case "curve":
          thing.curves.push({ node: member, anchor });
          break;
        default:
          break;
      }
    }
    // A part that has a block of its own is found there, wherever it stands.
    for (const member of aboutBoth) this.member(thing, { ...from, node: member });
  }

  /** Parts nobody opened are there all the same. */
  complete(thing: Thing): void {
    addParts(thing, this.vocabulary);
    for (const part of thing.parts.values()) this.complete(part);
    for (const child of thing.children.values()) this.complete(child);
    for (const items of thing.lists.values()) for (const item of items) this.complete(item);
  }

  /** A thing of the tree by its id, stand-ins made where the id leads through them. */
  find(top: Thing, id: ThingId, topId: ThingId): Thing | undefined {
    const names: Things = {
      vocabulary: this.vocabulary,
      scopeOf: () => undefined,
      treeOf: (wanted) => (wanted === topId ? top : undefined),
      each: () => [],
    };
    return new Binder(names, top).thing(id);
  }

  /** One line written into a thing from elsewhere: its last name is a field of the thing. */
  write(thing: Thing, { write, designation }: WrittenLine): void {
    const { node } = write;
    const last = node.path.names.at(-1)!;
    if (node.type === "part") {
      this.noteLikeness(thing, node, write);
      this.fill(thing, node.members, within(node, write));
      this.complete(thing);
      return;
    }
    const field = designation === undefined ? undefined : thing.field(designation);
    if (field === undefined) this.fields.setField(thing, last, node, write);
    else this.fields.setPartOfDesignation(thing, field, last, node, write);
  }

  private addChild(owner: Thing, node: syntax.Thing, from: Omit<Write, "node">): void {
    const { item, uri, library } = from;
    const anchor: Anchor = { uri, item, span: headSpan(node) };
    const kind = this.kindOf(node.kind, { ...anchor, span: node.kind.span });
    if (kind === undefined) return;
    const name = node.name.text;
    const existing = owner.children.get(name);
    if (existing !== undefined || owner.field(name) !== undefined) {
      const place = { ...anchor, span: node.name.span };
      this.report(
        existing === undefined
          ? { is: "name/duplicate field", name, kind: owner.kind.name, anchor: place }
          : {
              is: "name/duplicate inside",
              name,
              path: owner.path,
              before: existing.anchor,
              anchor: place,
            },
      );
      return;
    }
    const child = new Thing({
      id: owner.id.inside(name),
      path: `${owner.path}.${name}`,
      name,
      kind,
      library,
      owner,
      anchor,
      implied: false,
      title: node.title?.value,
    });
    owner.children.set(name, child);
    this.noteLikeness(child, node, from);
    this.fill(child, node.members, from);
  }

  // ── writing into fields ──

  /** A line of the thing's own text. */
  private member(inside: Thing, write: Write): void {
    const { node } = write;
    const names = node.path.names;
    const [first] = names;
    if (first.text === "") return;
    if (this.eachOfBoth(inside, inside, 0, write)) return;
    if (names.length === 1) {
      if (node.type === "given") this.fields.setField(inside, first, node, write);
      else this.openPart(inside, first, node, write);
      return;
    }
    const until = node.type === "given" ? names.slice(0, -1) : names;
    const last = names.at(-1)!;
    let at = inside;
    for (const [index, name] of until.entries()) {
      const field = at.field(name.text);
      const next =
        field === undefined
          ? at.children.get(name.text)
          : field.type.form === "part"
            ? this.partOf(at, field)
            : undefined;
      if (next === undefined) {
        if (this.eachOfBoth(inside, at, index, write)) return;
        const isLast = index === until.length - 1;
        if (isLast && node.type === "given" && field?.type.form === "designation")
          this.fields.setPartOfDesignation(at, field, last, node, write);
        else this.outward.push({ from: inside, write });
        return;
      }
      at = next;
    }
    if (node.type === "given") this.fields.setField(at, last, node, write);
    else {
      this.noteLikeness(at, node, write);
      this.fill(at, node.members, within(node, write));
    }
  }

  /** A line about `both`, at that name of its path inside of `at`, as a line about each of the two. */
  private eachOfBoth(inside: Thing, at: Thing, index: number, write: Write): boolean {
    const { node } = write;
    if (node.path.names[index]?.text !== both) return false;
    if (node.type === "given" && index === node.path.names.length - 1) return false;
    const twins = twinsOf(at.kind);
    for (const line of lineOfEach(node, index, twins))
      this.member(inside, { ...write, node: line });
    return twins.length > 0;
  }

  private partOf(thing: Thing, field: FieldDefinition): Thing | undefined {
    if (field.type.form !== "part" || thing.entries.has(field.name)) return undefined;
    const before = thing.parts.get(field.name);
    if (before !== undefined) return before;
    const kind = this.vocabulary.kinds.get(field.type.kind);
    if (kind === undefined || !roomForPart(thing)) return undefined;
    const part = impliedThing(thing, field.name, kind, false, this.vocabulary);
    thing.parts.set(field.name, part);
    return part;
  }

  private openPart(thing: Thing, name: syntax.Name, node: syntax.Part, write: Write): void {
    const { uri, item } = write;
    const anchor: Anchor = {
      uri,
      item,
      span: { start: node.span.start, end: node.body.start },
    };
    const child = thing.children.get(name.text);
    if (child !== undefined) {
      this.noteLikeness(child, node, write);
      this.fill(child, node.members, within(node, write));
      return;
    }
    const field = thing.field(name.text);
    if (field === undefined) {
      this.fields.unknownTarget(unknownField(thing, name), write);
      return;
    }
    const { type } = field;
    if (type.form === "list" && (type.of.form === "part" || type.of.form === "reference")) {
      const kind = this.vocabulary.kinds.get(type.of.kind);
      if (kind === undefined) return;
      const list = thing.lists.get(field.name) ?? [];
      thing.lists.set(field.name, list);
      const step = `${field.name}.${list.length + 1}`;
      const opened = this.opened(
        thing,
        step,
        `${field.name} ${list.length + 1}`,
        kind,
        anchor,
        node,
      );
      list.push(opened);
      this.noteLikeness(opened, node, write);
      this.fill(opened, node.members, within(node, write));
      return;
    }
    // What the kind's own declaration got wrong is told there.
    if (type.form === "unknown") return;
    if (type.form !== "part" && type.form !== "reference") {
      this.report({
        is: "given/not-a-part",
        path: `${thing.path}.${name.text}`,
        name: name.text,
        anchor: { ...anchor, span: name.span },
      });
      return;
    }
    const entry = thing.entries.get(name.text);
    if (entry !== undefined) {
      this.report({
        is: "given/twice named",
        path: `${thing.path}.${name.text}`,
        before: entry.anchor,
        anchor: { ...anchor, span: name.span },
      });
      return;
    }
    const kind = this.vocabulary.kinds.get(type.kind);
    if (kind === undefined) return;
    const before = thing.parts.get(name.text);
    // Where a line before it wrote into the part by its path, it is there already.
    const part =
      before?.spoken === true
        ? before
        : this.opened(thing, name.text, name.text, kind, anchor, node);
    thing.parts.set(name.text, part);
    this.noteLikeness(part, node, write);
    this.fill(part, node.members, within(node, write));
  }

  private opened(
    owner: Thing,
    step: string,
    name: string,
    kind: KindDefinition,
    anchor: Anchor,
    node: syntax.Part,
  ): Thing {
    return new Thing({
      id: owner.id.inside(step),
      path: `${owner.path}.${step}`,
      name,
      kind,
      library: owner.library,
      owner,
      anchor,
      implied: false,
      title: node.title?.value,
    });
  }
}

// ───────────────────────────── helpers ─────────────────────────────

/** What stands in a block about several parts is said of each of them. */
function within(node: syntax.Part, write: Write): Write {
  return isWrittenForEach(node) ? { ...write, forEach: true } : write;
}

function headSpan(node: syntax.Thing): Span {
  return { start: node.span.start, end: node.body.start };
}
