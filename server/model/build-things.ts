/**
 * Makes the things of a group of declarations, puts what was written into their fields, and
 * follows names from one to another.
 *
 *     const world = new World(declarations, report); world.follow(rear, ["wheel", "offset"])
 *
 * Must not know: formulas, measures' values, the solver.
 */
import type * as syntax from "../../grammar/syntax";
import type { Item, Span } from "../../grammar/syntax";
import type { Anchor } from "./anchor";
import type { FieldDefinition, KindDefinition } from "./definition";
import type { Finding, Fix } from "./finding";
import type { Declaration, FileScope } from "./scope";
import { knownHere, nameHint, nearest, withArticle } from "./spelling";
import { type Entry, type Layer, Thing } from "./thing";

/** Deep enough for every real build; deeper chains of implied things go in circles. */
const mostImplied = 4;

/** Where a dotted name led. */
export type Target =
  | {
      readonly is: "field";
      readonly thing: Thing;
      readonly field: FieldDefinition;
      readonly part?: FieldDefinition;
    }
  | { readonly is: "thing"; readonly thing: Thing }
  | {
      readonly is: "list";
      readonly things: readonly Thing[];
      readonly rest: readonly syntax.Name[];
    }
  /** An optional reference that nobody set. */
  | { readonly is: "unset" }
  | {
      readonly is: "unknown";
      readonly code: "name/unknown" | "name/unknown-field";
      readonly name: syntax.Name;
      readonly message: string;
      /** What to do, where a near name is not all there is to say. */
      readonly hint?: string;
      readonly candidates: readonly string[];
    };

export interface Write {
  readonly node: syntax.Given | syntax.Part;
  readonly item: Item;
  readonly scope: FileScope;
  readonly layer: Layer;
  readonly date?: string;
}

export class World {
  /** Top-level things, by the path the root file calls them. */
  readonly things = new Map<string, Thing>();
  private readonly byDeclaration = new Map<Declaration, Thing>();
  private readonly links = new Map<Thing, Map<string, Thing | undefined>>();
  /** Written through references or from outside; done when all things are there. */
  private readonly deferred: { thing: Thing | undefined; write: Write }[] = [];
  readonly asks: { readonly thing: Thing; readonly key: string; readonly entry: Entry }[] = [];

  constructor(
    declarations: readonly Declaration[],
    private readonly report: (finding: Finding) => void,
  ) {
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

  // ── following names ──

  /** Where `names` lead from inside `thing` (its own names, its owners', then the file's). */
  resolve(thing: Thing | undefined, scope: FileScope, names: readonly syntax.Name[]): Target {
    const [first, ...rest] = names;
    if (first === undefined)
      return unknownName(
        { type: "name", text: "", span: { start: 0, end: 0 } },
        "a name is missing here",
        [],
      );
    if (
      first.text === "owner" &&
      thing?.owner !== undefined &&
      thing.field("owner") === undefined
    ) {
      return this.follow(thing.owner, rest);
    }
    for (let inside = thing; inside !== undefined; inside = inside.owner) {
      if (inside.field(first.text) !== undefined || inside.children.has(first.text))
        return this.follow(inside, names);
    }
    const outside = this.topLevel(scope, first.text);
    if (outside instanceof Thing)
      return rest.length === 0 ? { is: "thing", thing: outside } : this.follow(outside, rest);
    if (outside !== undefined && rest[0] !== undefined)
      return this.resolve(undefined, outside, rest);
    return {
      is: "unknown",
      code: "name/unknown",
      name: first,
      message: `there is nothing called \`${first.text}\` here`,
      get candidates() {
        return [
          ...(thing === undefined ? [] : visibleNames(thing)),
          ...scope.declarations.keys(),
          ...scope.namespaces.keys(),
        ];
      },
    };
  }

  /** Where `names` lead from `thing` itself. */
  follow(thing: Thing, names: readonly syntax.Name[]): Target {
    let at = thing;
    for (let index = 0; index < names.length; index++) {
      const name = names[index];
      if (name === undefined) break;
      const last = index === names.length - 1;
      const child = at.children.get(name.text);
      const field = at.field(name.text);
      if (field === undefined) {
        if (child === undefined) return unknownField(at, name);
        at = child;
        continue;
      }
      const { type } = field;
      if (type.form === "reference" || type.form === "part") {
        const linked = this.linked(at, field);
        if (linked === undefined) return { is: "unset" };
        if (last) return { is: "thing", thing: linked };
        at = linked;
        continue;
      }
      if (type.form === "list" && (type.of.form === "reference" || type.of.form === "part")) {
        return { is: "list", things: this.listed(at, field), rest: names.slice(index + 1) };
      }
      if (last) return { is: "field", thing: at, field };
      const partName = names[index + 1];
      if (type.form === "designation" && partName !== undefined && index === names.length - 2) {
        const part = type.designation.parts.get(partName.text);
        if (part !== undefined) return { is: "field", thing: at, field, part };
        return unknownName(partName, `\`${name.text}\` has no part \`${partName.text}\``, [
          ...type.designation.parts.keys(),
        ]);
      }
      return unknownName(
        partName ?? name,
        `\`${name.text}\` is a single value and has nothing inside`,
        [],
      );
    }
    return { is: "thing", thing: at };
  }

  /** The thing a reference or part field stands for; implied where nothing was written. */
  linked(thing: Thing, field: FieldDefinition): Thing | undefined {
    const part = thing.parts.get(field.name);
    if (part !== undefined) return part;
    const before = this.links.get(thing);
    if (before?.has(field.name)) return before.get(field.name);
    const links = before ?? new Map<string, Thing | undefined>();
    if (before === undefined) this.links.set(thing, links);
    const found = this.findLink(thing, field);
    links.set(field.name, found);
    return found;
  }

  /** The things of a list field: those written, or else the things of that kind inside. */
  listed(thing: Thing, field: FieldDefinition): readonly Thing[] {
    const { type } = field;
    if (type.form !== "list" || (type.of.form !== "reference" && type.of.form !== "part"))
      return [];
    const { kind } = type.of;
    const before = thing.lists.get(field.name);
    const entry = thing.entries.get(field.name);
    if (entry === undefined)
      return before ?? [...thing.children.values()].filter((child) => child.is(kind));
    const items = entry.value.type === "list" ? entry.value.items : [entry.value];
    const links = this.links.get(thing) ?? new Map<string, Thing | undefined>();
    this.links.set(thing, links);
    const things: Thing[] = [];
    for (const [index, item] of items.entries()) {
      const key = `${field.name}[${index}]`;
      if (!links.has(key))
        links.set(
          key,
          this.reference(
            thing,
            { ...entry, value: item, anchor: { ...entry.anchor, span: item.span } },
            kind,
          ),
        );
      const linked = links.get(key);
      if (linked !== undefined) things.push(linked);
    }
    return things;
  }

  topLevel(scope: FileScope, name: string): Thing | FileScope | undefined {
    const declaration = scope.declarations.get(name);
    if (declaration !== undefined) return this.byDeclaration.get(declaration);
    return scope.namespaces.get(name);
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
      scope,
      layer,
      date,
    };
    if (node.value.type === "ask") {
      this.asks.push({ thing, key, entry });
      if (layer !== "spec") {
        thing.entries.delete(key);
        this.links.get(thing)?.delete(key);
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
    this.links.get(thing)?.delete(key);
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

  // ── links ──

  private findLink(thing: Thing, field: FieldDefinition): Thing | undefined {
    const { type } = field;
    if (type.form !== "reference" && type.form !== "part") return undefined;
    const entry = thing.entries.get(field.name);
    if (entry !== undefined) return this.reference(thing, entry, type.kind);
    if (type.form === "reference" && field.optional) return undefined;
    const kind = thing.scope.vocabulary.kinds.get(type.kind);
    if (kind === undefined) return undefined;
    if (type.form === "reference" && impliedDepth(thing, kind) > mostImplied) return undefined;
    const implied = new Thing(
      `${thing.path}.${field.name}`,
      field.name,
      kind,
      thing.scope,
      thing,
      undefined,
      type.form === "reference",
    );
    thing.parts.set(field.name, implied);
    return implied;
  }

  private reference(thing: Thing, entry: Entry, wanted: string): Thing | undefined {
    const { value, scope, anchor } = entry;
    if (value.type !== "path") {
      if (value.type === "missing") return undefined;
      this.report({
        code: "name/not-a-thing",
        severity: "error",
        message: `the name of ${withArticle(wanted)} is expected here`,
        hint: listed(this.namesOfKind(scope, wanted), wanted),
        anchor,
      });
      return undefined;
    }
    // A file's names come before fields here: `wheel: wheel` means the thing called wheel.
    const [first, ...rest] = value.names;
    const outside = first === undefined ? undefined : this.topLevel(scope, first.text);
    const target: Target =
      outside instanceof Thing
        ? rest.length === 0
          ? { is: "thing", thing: outside }
          : this.follow(outside, rest)
        : this.resolveReference(thing, entry, value.names);
    if (target.is === "unset") return undefined;
    if (target.is !== "thing") {
      if (target.is === "unknown")
        this.unknownTarget(target, (span) => ({ ...anchor, span }), {
          kind: wanted,
          names: this.namesOfKind(scope, wanted),
        });
      else
        this.report({
          code: "name/not-a-thing",
          severity: "error",
          message: `the name of ${withArticle(wanted)} is expected here, this is a single value`,
          hint: listed(this.namesOfKind(scope, wanted), wanted),
          anchor,
        });
      return undefined;
    }
    const found = target.thing;
    for (let owner: Thing | undefined = thing; owner !== undefined; owner = owner.owner) {
      if (owner !== found) continue;
      this.report({
        code: "reference/itself",
        severity: "error",
        message: `\`${thing.path}\` refers to ${owner === thing ? "itself" : "what it is a part of"} as its \`${entry.field.text}\``,
        hint: `name another ${wanted.replaceAll("_", " ")}`,
        anchor,
      });
      return undefined;
    }
    if (!found.is(wanted)) {
      this.report({
        code: "name/wrong-kind",
        severity: "error",
        message: `${withArticle(wanted)} is expected here, \`${found.path}\` is ${withArticle(found.kind.name)}`,
        hint: listed(this.namesOfKind(scope, wanted), wanted),
        anchor,
        related:
          found.anchor === undefined
            ? []
            : [{ anchor: found.anchor, message: `${found.path} is declared here` }],
      });
      return undefined;
    }
    return found;
  }

  /** The field itself must not answer for its own name. */
  private resolveReference(thing: Thing, entry: Entry, names: readonly syntax.Name[]): Target {
    const [first] = names;
    if (first !== undefined && first.text === entry.field.text && names.length === 1) {
      return unknownName(first, `there is nothing called \`${first.text}\` here`, [
        ...entry.scope.declarations.keys(),
      ]);
    }
    return this.resolve(thing, entry.scope, names);
  }

  /** The first few things that have such a field. */
  private thingsWithField(scope: FileScope, field: string): readonly string[] {
    return [...scope.declarations]
      .filter(([, { node }]) => scope.vocabulary.kinds.get(node.kind.text)?.fields.has(field))
      .map(([name]) => name)
      .slice(0, 3);
  }

  private namesOfKind(scope: FileScope, kind: string): readonly string[] {
    const names: string[] = [];
    for (const [name, declaration] of scope.declarations) {
      const found = scope.vocabulary.kinds.get(declaration.node.kind.text);
      if (found?.lineage.includes(kind)) names.push(name);
    }
    for (const [prefix, inside] of scope.namespaces) {
      names.push(...this.namesOfKind(inside, kind).map((name) => `${prefix}.${name}`));
    }
    return names;
  }

  private unknownTarget(
    target: Extract<Target, { is: "unknown" }>,
    anchorOf: (span: Span) => Anchor,
    /** Where only things of one kind will do. */
    wanted?: { readonly kind: string; readonly names: readonly string[] },
  ): void {
    const anchor = anchorOf(target.name.span);
    const candidates = wanted?.names ?? target.candidates;
    const near = nearest(target.name.text, candidates);
    this.report({
      code: target.code,
      severity: "error",
      message: target.message,
      hint:
        target.hint ??
        (wanted !== undefined && near === undefined
          ? listed(wanted.names, wanted.kind)
          : nameHint(target.name.text, candidates)),
      anchor,
      fixes: near === undefined ? [] : [replacement(`write \`${near}\``, anchor, near)],
    });
  }
}

/** A finding for a name that leads nowhere. */
export function unknownField(thing: Thing, name: syntax.Name): Target {
  const { kind } = thing;
  // What the kind declares itself comes before what it takes over.
  const fields = [...kind.fields.values()];
  const own = fields.filter((field) => field.owner === kind.name);
  const others = fields.filter((field) => field.owner !== kind.name);
  return {
    ...unknownName(name, `${withArticle(kind.name)} has no field \`${name.text}\``, [
      ...[...own, ...others].map((field) => field.name),
      ...thing.children.keys(),
    ]),
    code: "name/unknown-field",
  };
}

// ───────────────────────────── helpers ─────────────────────────────

type UnknownName = Extract<Target, { is: "unknown" }>;

function unknownName(
  name: syntax.Name,
  message: string,
  candidates: readonly string[],
): UnknownName {
  return { is: "unknown", code: "name/unknown", name, message, candidates };
}

/** Nothing can be written into what is not there, or into several things at once. */
function notOneThing(
  owner: Exclude<Target, UnknownName | { is: "thing" }>,
  names: readonly syntax.Name[],
): UnknownName {
  const last = names[names.length - 1] as syntax.Name;
  const path = names.map((name) => name.text).join(".");
  switch (owner.is) {
    case "unset":
      return {
        ...unknownName(last, `\`${path}\` is not there yet`, []),
        hint: `say first which one it is, \`${last.text}: …\`, or open it there with braces`,
      };
    case "list":
      return {
        ...unknownName(last, `\`${path}\` stands for several things`, []),
        hint: "write it into the one that is meant, by its own name",
      };
    case "field":
      return unknownName(last, `\`${path}\` is a single value and has nothing inside`, []);
  }
}

function visibleNames(thing: Thing): string[] {
  const names: string[] = [];
  for (let inside: Thing | undefined = thing; inside !== undefined; inside = inside.owner) {
    names.push(...inside.kind.fields.keys(), ...inside.children.keys());
  }
  return names;
}

function impliedDepth(thing: Thing, kind: KindDefinition): number {
  let depth = 0;
  for (let inside: Thing | undefined = thing; inside?.implied; inside = inside.owner) {
    if (inside.kind === kind) return Number.POSITIVE_INFINITY;
    depth++;
  }
  return depth;
}

function headSpan(node: syntax.Thing): Span {
  return { start: node.span.start, end: node.body.start };
}

function listed(names: readonly string[], kind: string): string {
  return names.length === 0
    ? `there is no ${kind.replaceAll("_", " ")} in this file or those it uses`
    : (knownHere(names) ?? "");
}

function replacement(title: string, anchor: Anchor, text: string): Fix {
  return { title, edits: [{ anchor, text }], preferred: true };
}
