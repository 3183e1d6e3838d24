/**
 * Follows names from one thing to another, implying the parts and references nobody wrote.
 *
 *     names.follow(rear, ["wheel", "offset"])   →   the field `offset` of what `rear` calls its wheel
 *
 * Must not know: how things are made and filled, formulas, measures' values, the solver.
 */
import type * as syntax from "../../grammar/syntax";
import type { Span } from "../../grammar/syntax";
import type { Anchor } from "./anchor";
import type { FieldDefinition, KindDefinition } from "./definition";
import type { Finding, Fix } from "./finding";
import type { Declaration, FileScope } from "./scope";
import { knownHere, nameHint, nearest, withArticle } from "./spelling";
import { type Target, type UnknownName, unknownField, unknownName } from "./target";
import { type Entry, Thing } from "./thing";

/** Deep enough for every real build; deeper chains of implied things go in circles. */
const mostImplied = 4;

/** Names of things and fields, and what they lead to. */
export class Names {
  protected readonly byDeclaration = new Map<Declaration, Thing>();
  /** What reference fields lead to, once looked for; the items of lists as `field[0]`. */
  private readonly links = new Map<Thing, Map<string, Thing | undefined>>();

  constructor(protected readonly report: (finding: Finding) => void) {}

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

  /** What a field refers to has to be found anew: something else was written into it. */
  protected forgetLink(thing: Thing, key: string): void {
    this.links.get(thing)?.delete(key);
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

  /** A finding for a name that leads nowhere. */
  protected unknownTarget(
    target: UnknownName,
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

/** A fix that puts another text in place of what is there. */
export function replacement(title: string, anchor: Anchor, text: string): Fix {
  return { title, edits: [{ anchor, text }], preferred: true };
}

// ───────────────────────────── helpers ─────────────────────────────

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

function listed(names: readonly string[], kind: string): string {
  return names.length === 0
    ? `there is no ${kind.replaceAll("_", " ")} in this file or those it uses`
    : (knownHere(names) ?? "");
}
