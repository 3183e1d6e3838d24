/**
 * Follows names from one thing to another, implying the references nobody wrote.
 *
 *     binder.follow(rear, ["wheel", "offset"])   →   the field `offset` of what `rear` calls its wheel
 *
 * A binder follows names on behalf of one thing (or line) of a build: what it takes from other
 * things it notes, so that what is made of it can be kept until one of these answers changes.
 *
 * Must not know: how things are made and filled, formulas, measures' values, the solver.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Span } from "../../grammar/syntax";
import type { Found } from "../findings/worded";
import { madeOnce } from "../keep/once";
import { SmallMap } from "../keep/small-map";
import { firstStep, type NameStep, type NameWorld, stepInside } from "../names/follow";
import type { ThingId } from "../names/ids";
import type { FileScope } from "../names/scope";
import { roomForPart } from "./budget";
import type { FieldDefinition, Vocabulary } from "./definition";
import { impliedDepth, impliedThing } from "./implied";
import { type Answer, Questions } from "./questions";
import { References } from "./references";
import { misnamed } from "./spelling";
import { notAPart, type Target, type UnknownTarget, unknownField, unknownName } from "./target";
import { type Entry, Thing } from "./thing";
import { twinsOf } from "./twins";

/** Deep enough for every real build; deeper chains of implied things go in circles. */
const mostImplied = 4;

/** Names in a row, of which each may stand for several things. */
const mostNames = 100;

/** One reading of a build, as far as names are concerned. */
export interface Things {
  readonly vocabulary: Vocabulary;
  scopeOf(uri: string): FileScope | undefined;
  /** The tree of a thing at the top of a file. */
  treeOf(top: ThingId): Thing | undefined;
  /** Every thing of a kind, owners before their parts. */
  each(kind: string): readonly Thing[];
}

export class Binder implements NameWorld<Thing, FieldDefinition, string> {
  readonly questions = new Questions<Binder>(thingOf);
  private written: References | undefined;
  /** What reference fields lead to, once looked for; the items of lists as `field[0]`. */
  private links: SmallMap<Thing, SmallMap<string, Thing | undefined>> | undefined;

  constructor(
    readonly names: Things,
    /** The top of the tree on whose behalf names are followed: what it says needs no noting. */
    readonly own: Thing | undefined,
    private readonly report: (found: Found) => void = () => undefined,
    /** What is noted of what is asked: all, the things that answer alone, or nothing. */
    private readonly noted: "all" | "things" | "nothing" = "all",
  ) {}

  /** One that only reads: nothing is made of what it answers. */
  static reading(names: Things): Binder {
    return new Binder(names, undefined, undefined, "nothing");
  }

  /** One that notes of which things it was asked, for what is made anew where any of them changes. */
  static notingThings(names: Things): Binder {
    return new Binder(names, undefined, undefined, "things");
  }

  get vocabulary(): Vocabulary {
    return this.names.vocabulary;
  }

  /** The thing of an id, as far as it is there in this reading. */
  thing(id: ThingId): Thing | undefined {
    if (id.owner === undefined) return this.names.treeOf(id);
    const owner = this.thing(id.owner);
    if (owner === undefined) return undefined;
    const { step } = id;
    const found = owner.children.get(step) ?? owner.parts.get(step) ?? owner.standIns.get(step);
    if (found !== undefined) return found;
    const field = owner.field(step);
    if (field !== undefined) return this.standIn(owner, field);
    const dot = step.lastIndexOf(".");
    return dot < 0
      ? undefined
      : owner.lists.get(step.slice(0, dot))?.[Number(step.slice(dot + 1)) - 1];
  }

  /**
   * Notes what was learned of a thing that is not one's own. `ask` is kept for as long as what is
   * made: it has to be written where nothing else that is made along the way is in sight.
   */
  note(thing: Thing, ask: (thing: Thing, binder: Binder) => Answer, answer: Answer): void {
    if (this.noted === "nothing" || thing.top === this.own) return;
    if (this.noted === "things") this.questions.asked.add(thing.id.top);
    else this.questions.noteOf(thing, ask, answer);
  }

  /** Whether something is written there, by field or part. */
  hasEntry(thing: Thing, key: string): boolean {
    const found = thing.entries.has(key);
    this.note(thing, (other) => other.entries.has(key), found);
    return found;
  }

  /** Whether the builder wrote anything into it or its parts. */
  isWritten(thing: Thing): boolean {
    const { written } = thing;
    this.note(thing, (other) => other.written, written);
    return written;
  }

  /** Where `names` lead from inside `thing` (its own names, its owners', then the file's). */
  resolve(thing: Thing | undefined, uri: string, names: readonly syntax.Name[]): Target {
    const first = names[0]!;
    const last = names[mostNames];
    if (last !== undefined)
      return unknownName(last, [], {
        is: "name/unknown too-far",
        name: last.text,
        most: mostNames,
      });
    const step = firstStep(this, thing, uri, first.text);
    return this.onward(step, names, 1) ?? this.nowhere(uri, first, thing);
  }

  /** Where `names` lead from the top of a file. */
  fromFile(uri: string, names: readonly syntax.Name[]): Target {
    return this.resolve(undefined, uri, names);
  }

  /** Where `names` lead from `thing` itself. */
  follow(thing: Thing, names: readonly syntax.Name[]): Target {
    return this.onward({ is: "thing", holder: thing }, names, 0)!;
  }

  /** Where the names from `next` on lead from a step; nothing from none, or from a file alone. */
  private onward(
    from: NameStep<Thing, FieldDefinition, string> | undefined,
    names: readonly syntax.Name[],
    next: number,
  ): Target | undefined {
    let step = from;
    /** The last thing a name was looked for in, and that name. */
    let looked: { readonly inside: Thing; readonly name: syntax.Name } | undefined;
    for (let at = next; ; ) {
      const name = names[at];
      if (step === undefined || (step.is === "file" && name === undefined))
        return looked && unknownField(looked.inside, looked.name);
      switch (step.is) {
        case "file":
          return this.fromFile(step.names, names.slice(at));
        case "thing":
          if (name === undefined) return { is: "thing", thing: step.holder };
          looked = { inside: step.holder, name };
          step = stepInside(this, step.holder, name.text);
          at++;
          break;
        case "both": {
          const { holder, twins } = step;
          const things = twins.flatMap((twin) => this.linked(holder, twin) ?? []);
          return { is: "list", things, rest: names.slice(at) };
        }
        case "field": {
          const { type } = step.field;
          if (type.form !== "reference" && type.form !== "part")
            return this.ended(step.holder, step.field, names, at);
          const linked = this.linked(step.holder, step.field);
          if (linked === undefined) return { is: "unset" };
          step = { is: "thing", holder: linked };
        }
      }
    }
  }

  /** Where names lead that have come to a field that is no single thing. */
  private ended(
    thing: Thing,
    field: FieldDefinition,
    names: readonly syntax.Name[],
    next: number,
  ): Target {
    const { type } = field;
    if (type.form === "list" && (type.of.form === "reference" || type.of.form === "part"))
      return { is: "list", things: this.listed(thing, field), rest: names.slice(next) };
    const name = names[next];
    if (name === undefined) return { is: "field", thing, field };
    if (type.form === "designation" && next === names.length - 1) {
      const part = type.designation.parts.get(name.text);
      return part === undefined ? notAPart(field, name) : { is: "field", thing, field, part };
    }
    const fact = { is: "name/unknown single", name: name.text, path: field.name } as const;
    return unknownName(name, [], fact);
  }

  /** A name that leads nowhere from a thing and its file. */
  private nowhere(uri: string, name: syntax.Name, thing: Thing | undefined): UnknownTarget {
    const scope = this.names.scopeOf(uri);
    return {
      ...unknownName(name, []),
      get candidates() {
        return [
          ...(thing === undefined ? [] : visibleNames(thing)),
          ...(scope?.declarations.keys() ?? []),
          ...(scope?.namespaces.keys() ?? []),
        ];
      },
    };
  }

  // ── what names are followed in ──

  ownerOf(thing: Thing): Thing | undefined {
    return thing.owner;
  }

  fieldOf(thing: Thing, name: string): FieldDefinition | undefined {
    return thing.field(name);
  }

  twinsOf(thing: Thing): readonly FieldDefinition[] {
    return twinsOf(thing.kind);
  }

  inFile(
    uri: string,
    name: string,
  ): Extract<NameStep<Thing, FieldDefinition, string>, { is: "thing" | "file" }> | undefined {
    const found = this.topLevel(uri, name);
    if (found === undefined) return undefined;
    return found instanceof Thing
      ? { is: "thing", holder: found }
      : { is: "file", names: found.file.uri, name };
  }

  /** Where names written as a value lead: things of the file come first, `wheel: wheel`. */
  named(thing: Thing, { field, anchor }: Entry, names: syntax.Names): Target {
    const [first, ...rest] = names;
    const { uri } = anchor;
    const outside = this.topLevel(uri, first.text);
    if (outside instanceof Thing) return this.follow(outside, rest);
    // The field itself must not answer for its own name.
    if (first.text === field.text && names.length === 1)
      return unknownName(first, [...(this.names.scopeOf(uri)?.declarations.keys() ?? [])]);
    return this.resolve(thing, uri, names);
  }

  childOf(thing: Thing, name: string): Thing | undefined {
    const found = thing.children.get(name);
    this.note(thing, (other) => other.children.get(name), found);
    return found;
  }

  /** The thing a reference or part field stands for; implied where nothing was written. */
  linked(thing: Thing, field: FieldDefinition): Thing | undefined {
    const links = this.linksOf(thing);
    if (links.has(field.name)) return links.get(field.name);
    const found = this.findLink(thing, field);
    links.set(field.name, found);
    const { name } = field;
    this.note(
      thing,
      (other, binder) => {
        const same = other.field(name);
        return same === undefined ? undefined : binder.linked(other, same);
      },
      found,
    );
    return found;
  }

  /** The things of a list field: those written, or else the things of that kind inside. */
  listed(thing: Thing, field: FieldDefinition): readonly Thing[] {
    const found = this.findListed(thing, field);
    const { name } = field;
    this.note(
      thing,
      (other, binder) => {
        const same = other.field(name);
        return same === undefined ? undefined : binder.findListed(other, same);
      },
      found,
    );
    return found;
  }

  topLevel(uri: string, name: string): Thing | FileScope | undefined {
    const found = this.findTopLevel(uri, name);
    if (this.noted !== "all") return found;
    this.questions.note(
      uri,
      (facts) => {
        const other = facts.findTopLevel(uri, name);
        return other === undefined || other instanceof Thing ? other : other.file.uri;
      },
      found === undefined || found instanceof Thing ? found : found.file.uri,
    );
    return found;
  }

  /** Every thing of a kind that stands for itself. */
  each(kind: string): readonly Thing[] {
    const found = this.names.each(kind);
    if (this.noted === "all")
      this.questions.note(undefined, (facts) => facts.names.each(kind), found);
    return found;
  }

  private get references(): References {
    this.written ??= new References(this, this.report);
    return this.written;
  }

  /** What stands in for a reference or part that nobody wrote. */
  private standIn(thing: Thing, field: FieldDefinition): Thing | undefined {
    const { type } = field;
    if (type.form !== "reference") return undefined;
    const before = thing.standIns.get(field.name);
    if (before !== undefined) return before;
    const kind = this.vocabulary.kinds.get(type.kind);
    if (kind === undefined || impliedDepth(thing, kind) > mostImplied) return undefined;
    if (!roomForPart(thing)) return undefined;
    const implied = impliedThing(thing, field.name, kind, true, this.vocabulary);
    thing.standIns.set(field.name, implied);
    return implied;
  }

  // ── answers, without notes ──

  private findTopLevel(uri: string, name: string): Thing | FileScope | undefined {
    const scope = this.names.scopeOf(uri);
    const declaration = scope?.declarations.get(name);
    if (declaration !== undefined) return this.names.treeOf(declaration.id);
    return scope?.namespaces.get(name);
  }

  private linksOf(thing: Thing): SmallMap<string, Thing | undefined> {
    this.links ??= new SmallMap();
    return madeOnce(this.links, thing, () => new SmallMap());
  }

  private findLink(thing: Thing, field: FieldDefinition): Thing | undefined {
    const { type } = field;
    if (type.form !== "reference" && type.form !== "part") return undefined;
    const part = thing.parts.get(field.name);
    if (part !== undefined) return part;
    const entry = thing.entries.get(field.name);
    if (entry !== undefined) return this.references.follow(thing, entry, type.kind);
    if (type.form === "reference" && field.optional && !thing.standIns.has(field.name))
      return undefined;
    return this.standIn(thing, field);
  }

  private findListed(thing: Thing, field: FieldDefinition): readonly Thing[] {
    const { type } = field;
    if (type.form !== "list" || (type.of.form !== "reference" && type.of.form !== "part"))
      return [];
    const { kind } = type.of;
    const before = thing.lists.get(field.name);
    const entry = thing.entries.get(field.name);
    if (entry === undefined)
      return before ?? [...thing.children.values()].filter((child) => child.is(kind));
    const items = entry.value.type === "list" ? entry.value.items : [entry.value];
    const links = this.linksOf(thing);
    const things: Thing[] = [];
    for (const [index, item] of items.entries()) {
      const key = `${field.name}[${index}]`;
      if (!links.has(key)) {
        const anchor = { ...entry.anchor, span: item.span };
        links.set(key, this.references.follow(thing, { ...entry, value: item, anchor }, kind));
      }
      const linked = links.get(key);
      if (linked !== undefined) things.push(linked);
    }
    return things;
  }

  /** A finding for a name that leads nowhere. */
  unknownTarget(
    target: UnknownTarget,
    anchorOf: (span: Span) => Anchor,
    /** Where only things of one kind will do. */
    wanted?: { readonly kind: string; readonly names: readonly string[] },
  ): void {
    this.report({
      ...target.fact,
      ...misnamed(target.name.text, wanted?.names ?? target.candidates),
      wanted: wanted?.kind,
      anchor: anchorOf(target.name.span),
    });
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function thingOf(binder: Binder, id: ThingId): Thing | undefined {
  return binder.thing(id);
}

function visibleNames(thing: Thing): string[] {
  const names: string[] = [];
  for (let inside: Thing | undefined = thing; inside !== undefined; inside = inside.owner) {
    names.push(...inside.kind.fields.keys(), ...inside.children.keys());
  }
  return names;
}
