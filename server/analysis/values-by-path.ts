/**
 * The things and values of a build as its root file calls them, in a stable order.
 *
 *     new ValuesByPath(build).valueAt("rear.housing.face_to_face")
 *
 * Must not know: how values come about.
 */

import type { Target } from "../model/target";
import type { Thing } from "../model/thing";
import type { FigureId, ThingId } from "../names/ids";
import type { Value } from "./analysis";
import type { BuildAnalysis } from "./build-analysis";

export class ValuesByPath {
  constructor(private readonly build: BuildAnalysis) {}

  private readonly once = new Map<string, unknown>();

  private lazily<T>(name: string, make: () => T): T {
    if (!this.once.has(name)) this.once.set(name, make());
    return this.once.get(name) as T;
  }

  get things(): readonly Thing[] {
    return this.lazily("things", () => {
      const { named } = this;
      return this.build.results.flatMap(({ of: { row } }) =>
        row.thing === undefined ? [] : [...namedIn(row.thing, named)],
      );
    });
  }

  get values(): ReadonlyMap<string, Value> {
    return this.lazily("values", () => {
      const words = this.wordsRead;
      const figures = new Map<ThingId, Set<FigureId>>();
      for (const {
        of: { row },
      } of this.build.results)
        for (const figure of row.figures) add(figures, figure.thing, figure);
      const values = new Map<string, Value>();
      for (const thing of this.things) {
        const own = [
          ...[...(figures.get(thing.id) ?? [])].flatMap(
            (figure) => this.build.valueOf(figure) ?? [],
          ),
          ...[...(words.get(thing.id) ?? [])].flatMap(
            (field) => this.build.wordOf(thing, field) ?? [],
          ),
        ];
        for (const value of inFieldOrder(thing, own)) values.set(value.path, value);
      }
      return values;
    });
  }

  /** By any path that reaches it. */
  valueAt(path: string): Value | undefined {
    const known = this.lazily("values by path", () => new Map<string, Value | undefined>());
    if (!known.has(path)) known.set(path, this.lookUp(path));
    return known.get(path);
  }

  /** Where a path of the root file leads. */
  resolve(path: string): Target {
    const names = path.split(".").map((text) => ({ type: "name" as const, text, span: nowhere }));
    return this.build.binder.resolve(undefined, this.build.rootUri, names);
  }

  /** Most values are called by their own paths; what goes by another name is looked for after that. */
  private lookUp(path: string): Value | undefined {
    const owned = this.owned(path);
    if (owned !== undefined) return owned;
    const target = this.resolve(path);
    if (target.is !== "field") return undefined;
    const { thing, field, part } = target;
    const figure = thing.id.figure(part === undefined ? field.name : `${field.name}.${part.name}`);
    return this.build.valueOf(figure) ?? this.knownWord(thing, field.name);
  }

  private owned(path: string): Value | undefined {
    for (let end = path.indexOf("."); end > 0; end = path.indexOf(".", end + 1)) {
      const top = this.build.indexes.resultAt(path.slice(0, end))?.of.row.thing;
      const value = top && this.within(top, path.slice(end + 1).split("."));
      if (value !== undefined) return value;
    }
    return undefined;
  }

  private within(top: Thing, steps: readonly string[]): Value | undefined {
    let at = top;
    for (let done = 0; done < steps.length; done++) {
      const key = steps.slice(done).join(".");
      const figure = this.build.valueOf(at.id.figure(key));
      if (figure !== undefined) return figure;
      if (done === steps.length - 1) return this.knownWord(at, key);
      const [name = "", number = ""] = steps.slice(done);
      const item = at.lists.get(name)?.[Number(number) - 1];
      if (item !== undefined) done++;
      const next = item ?? at.parts.get(name) ?? at.standIns.get(name) ?? at.children.get(name);
      if (next === undefined) return undefined;
      at = next;
    }
    return undefined;
  }

  /** A word that something in the build reads. */
  private knownWord(thing: Thing, field: string): Value | undefined {
    return this.build.indexes.readsWord(thing.id, field)
      ? this.build.wordOf(thing, field)
      : undefined;
  }

  /** Words that something in the build reads, by the thing they belong to. */
  private get wordsRead(): ReadonlyMap<ThingId, ReadonlySet<string>> {
    return this.lazily("words read", () => {
      const words = new Map<ThingId, Set<string>>();
      for (const {
        of: { row },
      } of this.build.results)
        for (const [thing, fields] of row.words)
          for (const field of fields) add(words, thing, field);
      return words;
    });
  }

  /** Things that figures or words are spoken of, with their owners: of stand-ins, those that count. */
  private get named(): ReadonlySet<ThingId> {
    return this.lazily("named", () => {
      const named = new Set<ThingId>();
      const name = (id: ThingId): void => {
        for (let at: ThingId | undefined = id; at !== undefined; at = at.owner) {
          if (named.has(at)) return;
          named.add(at);
        }
      };
      for (const {
        of: { row },
      } of this.build.results) {
        for (const { thing } of row.figures) name(thing);
        for (const thing of row.words.keys()) name(thing);
      }
      return named;
    });
  }
}

// ───────────────────────────── helpers ─────────────────────────────

const nowhere = { start: 0, end: 0 };

/** A thing and what is in it, stand-ins as far as anything speaks of them. */
function* namedIn(thing: Thing, named: ReadonlySet<ThingId>): Generator<Thing> {
  yield thing;
  for (const part of thing.parts.values()) {
    if (!lends(thing, part) || named.has(part.id)) yield* namedIn(part, named);
  }
  for (const field of thing.standIns.size === 0 ? [] : thing.kind.fields.keys()) {
    const standIn = thing.standIns.get(field);
    if (standIn !== undefined && (standIn.spoken || named.has(standIn.id)))
      yield* namedIn(standIn, named);
  }
  for (const child of thing.children.values()) yield* namedIn(child, named);
  for (const items of thing.lists.values()) for (const item of items) yield* namedIn(item, named);
}

/** What nobody wrote into only lends its names, and so do its parts. */
function lends(owner: Thing, part: Thing): boolean {
  if (part.spoken) return false;
  for (let at: Thing | undefined = owner; at !== undefined; at = at.owner)
    if (at.implied && !at.spoken) return true;
  return false;
}

function inFieldOrder(thing: Thing, values: readonly Value[]): Value[] {
  if (values.length < 2) return [...values];
  const order = placesOf(thing.kind);
  const placeOf = ({ path }: Value): number =>
    order.get(path.slice(thing.path.length + 1).split(/[.[]/)[0] ?? "") ?? order.size;
  return [...values].sort(
    (one, other) => placeOf(one) - placeOf(other) || (one.path < other.path ? -1 : 1),
  );
}

const fieldPlaces = new WeakMap<Thing["kind"], ReadonlyMap<string, number>>();

function placesOf(kind: Thing["kind"]): ReadonlyMap<string, number> {
  let places = fieldPlaces.get(kind);
  if (places === undefined) {
    places = new Map([...kind.fields.keys()].map((name, index) => [name, index]));
    fieldPlaces.set(kind, places);
  }
  return places;
}

function add<K, V>(sets: Map<K, Set<V>>, key: K, value: V): void {
  const set = sets.get(key);
  if (set === undefined) sets.set(key, new Set([value]));
  else set.add(value);
}
