/**
 * Which figures a thing or line speaks of, each once.
 *
 *     figures.figure({ thing: rear, field: offset })   →   the id of `rear.offset`
 *
 * Must not know: how formulas are compiled, which relations there are.
 */

import type { Findings } from "../findings/collected";
import { madeOnce } from "../keep/once";
import { SmallMap } from "../keep/small-map";
import type { FigureId } from "../names/ids";
import { type Measure, sameDimension } from "../units";
import type { Binder } from "./binder";
import type { FieldDefinition } from "./definition";
import type { Denotation } from "./denotation";
import type { FormPool, KindRoute, Route } from "./kind-environment";
import { figureOf, knownNumber, listOf, marksOf, readEntry, stands } from "./known-figure";
import type { Location, ModelVariable } from "./model";
import type { Entry, Thing } from "./thing";
import type { Words } from "./words";

/** The figures that one thing or line of a build speaks of, each once. */
export class Figures {
  /** In the order in which they were met. */
  readonly met = new Set<FigureId>();
  private readonly lists = new SmallMap<Thing, Map<string, Denotation<Location>[]>>();

  constructor(
    private readonly binder: Binder,
    private readonly words: Words,
    private readonly pool: FormPool,
    private readonly findings: Findings,
    /** Told of each figure that is not written as one: a formula or a default may give it. */
    private readonly workOut: (variable: ModelVariable, entry: Entry | undefined) => void,
  ) {}

  figure(location: Location): FigureId {
    const { thing, field, part } = location;
    const id = thing.id.figure(part === undefined ? field.name : `${field.name}.${part.name}`);
    if (this.met.has(id)) return id;
    this.met.add(id);
    this.meet(location, id);
    return id;
  }

  /** What gives it is told by its own thing where it is written, else by whoever speaks of it. */
  private meet({ thing, field, part }: Location, { key }: FigureId): void {
    const own = thing.top === this.binder.own;
    this.binder.hasEntry(thing, key);
    const entry = thing.entries.get(key);
    const variable = figureOf(thing, key, this.pool);
    if (variable === undefined) return;
    if (entry !== undefined) {
      if (!own) return;
      const reading = readEntry(entry, variable.measure);
      if (reading.is === "problem") this.findings.raise([reading.problem], entry.anchor);
      const wished = variable.variable.wish !== undefined;
      if (reading.is === "formula" || wished) this.workOut(variable, entry);
      return;
    }
    if (part !== undefined && typeof this.words.partsOf(thing, field)?.get(part.name) === "number")
      return;
    this.workOut(variable, undefined);
  }

  /** Items of a list of figures or words, as written. */
  listItems(thing: Thing, field: FieldDefinition): Denotation<Location>[] {
    const before = this.lists.get(thing)?.get(field.name);
    if (before !== undefined) return before;
    const { items, problems, entry } = listOf(thing, field);
    if (entry !== undefined && thing.top === this.binder.own)
      this.findings.raise(problems, entry.anchor);
    const { name } = field;
    this.binder.note(
      thing,
      (other) => {
        const same = other.field(name);
        return same === undefined ? undefined : marksOf(listOf(other, same).items);
      },
      marksOf(items),
    );
    madeOnce(this.lists, thing, () => new Map<string, Denotation<Location>[]>()).set(
      field.name,
      items,
    );
    for (const item of items) if (item.is === "quantity") this.figure(item.reference);
    return items;
  }

  /** The number written there, or a default that stands: tables and kits can be read by it. */
  known(thing: Thing, field: FieldDefinition): number | undefined {
    const { name } = field;
    const { pool } = this;
    const found = knownNumber(thing, name, pool);
    this.binder.note(thing, (other) => knownNumber(other, name, pool), found);
    return found;
  }

  /** Whether its default holds as firmly as if it were written: it says how things are done. */
  defaultStands(thing: Thing, field: FieldDefinition): boolean {
    return stands(field, this.isAsked(thing, field.name));
  }

  /** Whether the builder wrote `?` there. */
  isAsked(thing: Thing, key: string): boolean {
    const asked = thing.asked.has(key);
    this.binder.note(thing, (other) => other.asked.has(key), asked);
    return asked;
  }

  /** The figures at the ends of routes from a thing; nothing where one leads nowhere. */
  figuresAlong(thing: Thing, routes: readonly KindRoute[]): FigureId[] | undefined {
    const figures: FigureId[] = [];
    for (const route of routes) {
      const end = this.endOf(thing, route);
      if (end === undefined) return undefined;
      figures.push(this.figure(end));
    }
    return figures;
  }

  /**
   * The same for a formula of this very thing: of what designations say it speaks only where all of
   * it is there, of fields in any case.
   */
  figuresOfItsOwn(thing: Thing, routes: readonly KindRoute[]): FigureId[] | undefined {
    const ends = routes.map((route) => this.endOf(thing, route));
    for (const end of ends) if (end !== undefined && end.part === undefined) this.figure(end);
    const found = ends.filter((end) => end !== undefined);
    return found.length < ends.length ? undefined : found.map((end) => this.figure(end));
  }

  /** Where the routes of a thing's kind lead, as far as they were followed. */
  private followed: { readonly from: Thing | undefined; readonly to: (Location | undefined)[] } = {
    from: undefined,
    to: [],
  };

  private endOf(thing: Thing, route: KindRoute): Location | undefined {
    if (this.followed.from !== thing) this.followed = { from: thing, to: [] };
    const { to } = this.followed;
    to[route.place] ??= this.locationAlong(thing, route);
    return to[route.place];
  }

  private locationAlong(thing: Thing, route: Route): Location | undefined {
    let at: Thing | undefined = thing;
    for (const hop of route.hops) {
      if (hop === "^") {
        at = at.owner;
      } else {
        const field = at.field(hop);
        at = field === undefined ? this.binder.childOf(at, hop) : this.binder.linked(at, field);
      }
      if (at === undefined) return undefined;
    }
    const field = at.field(route.field);
    if (field === undefined) return undefined;
    // What holds it may be of another kind than it belongs to, and mean something else by the name.
    if (route.part === undefined)
      return isOf(field, route.measure) ? { thing: at, field } : undefined;
    if (field.type.form !== "designation") return undefined;
    const part = field.type.designation.parts.get(route.part);
    if (part === undefined || !isOf(part, route.measure)) return undefined;
    const location = { thing: at, field, part };
    const { key } = route;
    if (this.met.has(at.id.figure(key))) return location;
    const parts = this.words.partsOf(at, field);
    const separately = this.binder.hasEntry(at, key);
    return parts === undefined || parts.has(route.part) || separately ? location : undefined;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function isOf({ type }: FieldDefinition, measure: Measure): boolean {
  return type.form === "measure" && sameDimension(type.measure.dimension, measure.dimension);
}
