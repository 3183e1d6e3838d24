/**
 * Makes the things of a group of declarations, and puts what was written into their fields.
 *
 *     const world = new World(declarations, report); world.follow(rear, ["wheel", "offset"])
 *
 * Must not know: formulas, measures' values, the solver.
 */
import type * as syntax from "../../grammar/syntax";
import type { Item, Span } from "../../grammar/syntax";
import type { Role } from "../solve/system";
import type { Anchor } from "./anchor";
import type { KindDefinition } from "./definition";
import type { Finding } from "./finding";
import { Names, replacement } from "./follow-names";
import type { Declaration, FileScope } from "./scope";
import { knownHere, nearest, withArticle } from "./spelling";
import { notOneThing, type Target, unknownField } from "./target";
import { type Entry, type Layer, Thing } from "./thing";

/** One line as it is to be written into a field. */
export interface Write {
  readonly node: syntax.Given | syntax.Part;
  readonly item: Item;
  readonly scope: FileScope;
  readonly layer: Layer;
  readonly date?: string;
}

/** The things of a group, from the first line to the last record. */
export class World extends Names {
  /** Top-level things, by the path the root file calls them. */
  readonly things = new Map<string, Thing>();
  /** Written through references or from outside; done when all things are there. */
  private readonly deferred: { thing: Thing | undefined; write: Write }[] = [];
  readonly asks: { readonly thing: Thing; readonly key: string; readonly entry: Entry }[] = [];

  constructor(declarations: readonly Declaration[], report: (finding: Finding) => void) {
    super(report);
    for (const declaration of declarations) this.make(declaration);
  }

  /** All things and parts that exist now, owners before their parts. */
  *everything(): Generator<Thing> {
    const stack = [...this.things.values()].reverse();
    for (let thing = stack.pop(); thing !== undefined; thing = stack.pop()) {
      yield thing;
      const inside = [
        ...thing.parts.values(),
        ...thing.children.values(),
        ...[...thing.lists.values()].flat(),
      ];
      stack.push(...inside.reverse());
    }
  }

  /** Applies what was held back, then `writes` from outside of the things, in their order. */
  write(writes: readonly Write[]): void {
    this.ready = true;
    for (const { thing, write } of this.deferred.splice(0)) this.applyWrite(thing, write);
    for (const write of writes) this.applyWrite(undefined, write);
  }

  // ── making ──

  private make(declaration: Declaration): void {
    const { node, item, scope } = declaration;
    const anchor = { uri: scope.file.uri, item, span: headSpan(node) };
    const kind = this.kindOf(node.kind, scope, { ...anchor, span: node.kind.span });
    if (kind === undefined) return;
    const path = `${scope.prefix}${node.name.text}`;
    const thing = new Thing(
      path,
      node.name.text,
      kind,
      scope,
      undefined,
      anchor,
      false,
      node.title?.value,
    );
    this.things.set(path, thing);
    this.byDeclaration.set(declaration, thing);
    this.fill(thing, node.members, { item, scope, layer: "spec" });
  }

  private kindOf(name: syntax.Name, scope: FileScope, anchor: Anchor): KindDefinition | undefined {
    const kind = scope.vocabulary.kinds.get(name.text);
    if (kind !== undefined) return kind;
    const near = nearest(name.text, scope.vocabulary.kinds.keys());
    // Kinds that are always part of a thing are opened by their field, never declared.
    const named = [...scope.vocabulary.kinds.values()].filter((each) => each.owner === undefined);
    this.report({
      code: "name/unknown-kind",
      severity: "error",
      message: `there is no kind of thing called \`${name.text}\``,
      hint:
        near === undefined
          ? knownHere(named.map((each) => each.name).sort())
          : `did you mean \`${near}\`?`,
      anchor,
      fixes: near === undefined ? [] : [replacement(`write \`${near}\``, anchor, near)],
    });
    return undefined;
  }

  private fill(thing: Thing, members: readonly syntax.Member[], from: Omit<Write, "node">): void {
    const { item, scope } = from;
    for (const member of members) {
      const anchor: Anchor = { uri: scope.file.uri, item, span: member.span };
      switch (member.type) {
        case "given":
        case "part":
          this.applyWrite(thing, { ...from, node: member });
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
  }

  private addChild(owner: Thing, node: syntax.Thing, from: Omit<Write, "node">): void {
    const { item, scope } = from;
    const anchor: Anchor = { uri: scope.file.uri, item, span: headSpan(node) };
    const kind = this.kindOf(node.kind, scope, { ...anchor, span: node.kind.span });
    if (kind === undefined) return;
    const name = node.name.text;
    const existing = owner.children.get(name);
    if (existing !== undefined || owner.field(name) !== undefined) {
      this.report({
        code: "name/duplicate",
        severity: "error",
        message:
          existing === undefined
            ? `\`${name}\` is a field of ${withArticle(owner.kind.name)} already`
            : `\`${owner.path}\` has something called \`${name}\` already`,
        hint: "give this one another name",
        anchor: { ...anchor, span: node.name.span },
        related:
          existing?.anchor === undefined
            ? []
            : [{ anchor: existing.anchor, message: "it is declared here" }],
      });
      return;
    }
    const child = new Thing(
      `${owner.path}.${name}`,
      name,
      kind,
      scope,
      owner,
      anchor,
      false,
      node.title?.value,
    );
    owner.children.set(name, child);
    this.fill(child, node.members, from);
  }

  // ── writing into fields ──

  private applyWrite(inside: Thing | undefined, write: Write): void {
    const { node, scope, item } = write;
    const names = node.path.names;
    const [first] = names;
    if (first === undefined || first.text === "") return;
    if (inside !== undefined && names.length === 1) {
      if (node.type === "given") this.setField(inside, first, node, write);
      else this.openPart(inside, first, node, write);
      return;
    }
    if (inside !== undefined && !this.ready) {
      const field = inside.field(first.text);
      if (field !== undefined && field.type.form === "reference") {
        this.deferred.push({ thing: inside, write });
        return;
      }
    }
    const anchorOf = (span: Span): Anchor => ({ uri: scope.file.uri, item, span });
    const until = node.type === "given" ? names.slice(0, -1) : names;
    const owner = until.length === 0 ? undefined : this.resolve(inside, scope, until);
    const last = names[names.length - 1];
    if (last === undefined) return;
    if (owner === undefined) {
      const owners = this.thingsWithField(scope, last.text);
      this.unknownTarget(
        {
          is: "unknown",
          code: "name/unknown",
          name: last,
          message: `\`${last.text}\` stands alone: it does not say of which thing`,
          hint:
            owners.length === 0
              ? `write it inside of a thing, or after its name: \`name.${last.text}\``
              : `write it inside of a thing, or after its name: ${owners.map((name) => `\`${name}.${last.text}\``).join(" or ")}`,
          candidates: [],
        },
        anchorOf,
      );
      return;
    }
    if (owner.is === "field" && owner.part === undefined && node.type === "given") {
      this.setPartOfDesignation(owner, last, node, write, anchorOf);
      return;
    }
    if (owner.is !== "thing") {
      if (owner.is === "unknown") this.unknownTarget(owner, anchorOf);
      else this.unknownTarget(notOneThing(owner, until), anchorOf);
      return;
    }
    if (node.type === "given") this.setField(owner.thing, last, node, write);
    else this.fill(owner.thing, node.members, write);
  }

  /** From the first `write` on, all things are there and references can be followed while writing. */
  private ready = false;

  private setPartOfDesignation(
    owner: Extract<Target, { is: "field" }>,
    name: syntax.Name,
    node: syntax.Given,
    write: Write,
    anchorOf: (span: Span) => Anchor,
  ): void {
    const { type } = owner.field;
    if (type.form !== "designation" || !type.designation.parts.has(name.text)) {
      this.unknownTarget(
        {
          is: "unknown",
          code: "name/unknown",
          name,
          message:
            type.form === "designation"
              ? `\`${owner.field.name}\` has no part \`${name.text}\``
              : `\`${owner.field.name}\` is a single value and has nothing inside`,
          candidates: type.form === "designation" ? [...type.designation.parts.keys()] : [],
        },
        anchorOf,
      );
      return;
    }
    this.store(owner.thing, `${owner.field.name}.${name.text}`, name, node, write);
  }

  private setField(thing: Thing, name: syntax.Name, node: syntax.Given, write: Write): void {
    const { scope, item } = write;
    const anchor: Anchor = { uri: scope.file.uri, item, span: name.span };
    if (thing.field(name.text) === undefined) {
      const target = unknownField(thing, name);
      if (target.is === "unknown") this.unknownTarget(target, (span) => ({ ...anchor, span }));
      return;
    }
    if (thing.parts.has(name.text) && write.layer === "spec") {
      this.report({
        code: "given/twice",
        severity: "error",
        message: `\`${thing.path}.${name.text}\` is both opened with braces and named`,
        hint: "keep one of the two",
        anchor,
      });
      return;
    }
    this.store(thing, name.text, name, node, write);
  }

  private store(
    thing: Thing,
    key: string,
    name: syntax.Name,
    node: syntax.Given,
    write: Write,
  ): void {
    const { scope, item, layer, date } = write;
    if (node.value.type === "missing") return;
    const entry: Entry = {
      field: name,
      value: node.value,
      anchor: { uri: scope.file.uri, item, span: node.value.span },
      role: node.role?.text as Role | undefined,
      tolerance: node.tolerance,
      step: node.step,
      scope,
      layer,
      date,
    };
    if (node.value.type === "ask") {
      this.asks.push({ thing, key, entry });
      if (layer !== "spec") {
        thing.entries.delete(key);
        this.forgetLink(thing, key);
      }
      return;
    }
    const before = thing.entries.get(key);
    // What a chapter of the library says is there to be changed.
    const replaces = before?.scope.file.library === true && !scope.file.library;
    if (before !== undefined && before.layer === layer && layer !== "record" && !replaces) {
      this.report({
        code: "given/twice",
        severity: "error",
        message: `\`${thing.path}.${key}\` is given twice`,
        hint: "keep one of the two values",
        anchor: { uri: scope.file.uri, item, span: node.span },
        related: [{ anchor: before.anchor, message: "it is given here already" }],
      });
      return;
    }
    thing.entries.set(key, entry);
    this.forgetLink(thing, key);
  }

  private openPart(thing: Thing, name: syntax.Name, node: syntax.Part, write: Write): void {
    const { scope, item } = write;
    const anchor: Anchor = {
      uri: scope.file.uri,
      item,
      span: { start: node.span.start, end: node.body.start },
    };
    const child = thing.children.get(name.text);
    if (child !== undefined) {
      this.fill(child, node.members, write);
      return;
    }
    const field = thing.field(name.text);
    if (field === undefined) {
      const target = unknownField(thing, name);
      if (target.is === "unknown") this.unknownTarget(target, (span) => ({ ...anchor, span }));
      return;
    }
    const { type } = field;
    if (type.form === "list" && (type.of.form === "part" || type.of.form === "reference")) {
      const kind = scope.vocabulary.kinds.get(type.of.kind);
      if (kind === undefined) return;
      const list = thing.lists.get(field.name) ?? [];
      thing.lists.set(field.name, list);
      const item = new Thing(
        `${thing.path}.${field.name}.${list.length + 1}`,
        `${field.name} ${list.length + 1}`,
        kind,
        scope,
        thing,
        anchor,
        false,
        node.title?.value,
      );
      list.push(item);
      this.fill(item, node.members, write);
      return;
    }
    // What the kind's own declaration got wrong is told there.
    if (type.form === "unknown") return;
    if (type.form !== "part" && type.form !== "reference") {
      this.report({
        code: "given/not-a-part",
        severity: "error",
        message: `\`${thing.path}.${name.text}\` is a single value, it cannot be opened with braces`,
        hint: `write \`${name.text}: …\``,
        anchor: { ...anchor, span: name.span },
      });
      return;
    }
    const entry = thing.entries.get(name.text);
    if (entry !== undefined) {
      this.report({
        code: "given/twice",
        severity: "error",
        message: `\`${thing.path}.${name.text}\` is both named and opened with braces`,
        hint: "keep one of the two",
        anchor: { ...anchor, span: name.span },
        related: [{ anchor: entry.anchor, message: "it is named here" }],
      });
      return;
    }
    const kind = scope.vocabulary.kinds.get(type.kind);
    if (kind === undefined) return;
    const before = thing.parts.get(name.text);
    const part =
      before ??
      new Thing(
        `${thing.path}.${name.text}`,
        name.text,
        kind,
        scope,
        thing,
        anchor,
        false,
        node.title?.value,
      );
    thing.parts.set(name.text, part);
    this.fill(part, node.members, write);
  }

  /** The first few things that have such a field. */
  private thingsWithField(scope: FileScope, field: string): readonly string[] {
    return [...scope.declarations]
      .filter(([, { node }]) => scope.vocabulary.kinds.get(node.kind.text)?.fields.has(field))
      .map(([name]) => name)
      .slice(0, 3);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function headSpan(node: syntax.Thing): Span {
  return { start: node.span.start, end: node.body.start };
}
