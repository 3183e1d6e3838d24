/**
 * What is looked up among the results of a build: what a thing comes to, which results speak of it, read
 * its words, ask for its figures. Each index is made when it is first asked, and goes on with the next
 * edit.
 *
 * Must not know: what any of them says.
 */
import type { Item } from "../../grammar/syntax";
import type { Ask, Row } from "../model/model";
import type { FigureId, ThingId } from "../names/ids";
import { ResultIndex, SharedIndex } from "./result-index";
import type { RowResult } from "./row-result";

const tellers = {
  /** The thing at the top that it is of. */
  own: ({ of: { row } }: RowResult): Iterable<ThingId> =>
    row.thing === undefined ? [] : [row.thing.id],
  /** The things whose words it reads. */
  wording: ({ of: { row } }: RowResult): Iterable<ThingId> => row.words.keys(),
  /** By the paths they are called by in this build: the thing at the top. */
  called: ({ of: { row } }: RowResult): Iterable<string> =>
    row.thing === undefined ? [] : [row.thing.path],
  /** The figures it asks for, and the items it asks for them in. */
  asking: ({ of: { row } }: RowResult): Iterable<FigureId> => asksOf(row, ({ figure }) => figure),
  askingIn: ({ of: { row } }: RowResult): Iterable<Item> =>
    asksOf(row, ({ entry }) => entry.anchor.item),
};
type Tellers = typeof tellers;
type Indexes = {
  [Name in keyof Tellers]?: ReturnType<Tellers[Name]> extends Iterable<infer K>
    ? ResultIndex<K, RowResult>
    : never;
};

export class BuildIndexes {
  private readonly made: Indexes = {};
  /** By the things at the top whose figures a result, or one of its cells, speaks of. */
  private speaking: SharedIndex<ThingId, RowResult> | undefined;

  constructor(private readonly results: readonly RowResult[]) {}

  /** The same of other results. */
  of(results: readonly RowResult[]): BuildIndexes {
    const next = new BuildIndexes(results);
    const made = next.made as Record<string, Index>;
    for (const [name, index] of Object.entries(this.made as Record<string, Index>))
      made[name] = index.of(results);
    next.speaking = this.speaking?.of(results);
    return next;
  }

  /** What a thing at the top comes to. */
  resultOf(top: ThingId): RowResult | undefined {
    const places = this.index("own").placesOf(top);
    return this.found(places).find(({ of: { row } }) => row.thing?.id === top);
  }

  /** The same by the path it is called by in this build. */
  resultAt(path: string): RowResult | undefined {
    const places = this.index("called").placesOf(path);
    return this.found(places).find(({ of: { row } }) => row.thing?.path === path);
  }

  /** What some things at the top come to, in their order. */
  resultsOf(tops: Iterable<ThingId>): RowResult[] {
    return this.found(this.index("own").inAny(tops));
  }

  /** The places of those that speak of some things at the top, and maybe of others. */
  speakingOf(tops: Iterable<ThingId>): readonly number[] {
    this.speaking ??= SharedIndex.of(this.results, ({ about }) => about);
    return this.speaking.inAny(tops);
  }

  readsWord(thing: ThingId, field: string): boolean {
    const places = this.index("wording").placesOf(thing);
    return this.found(places).some(({ of: { row } }) => row.words.get(thing)?.has(field) === true);
  }

  isAskedFor(figure: FigureId): boolean {
    const places = this.index("asking").placesOf(figure);
    const asks = ({ of: { row } }: RowResult) => row.asks.some((ask) => ask.figure === figure);
    return this.found(places).some(asks);
  }

  /** Those that ask for something in one of some items, and maybe others. */
  askingIn(items: Iterable<Item>): RowResult[] {
    return this.found(this.index("askingIn").inAny(items));
  }

  private found(places: readonly number[]): RowResult[] {
    return places.flatMap((place) => this.results[place] ?? []);
  }

  private index<Name extends keyof Tellers>(name: Name): Exclude<Indexes[Name], undefined> {
    const made = this.made as Record<Name, Index>;
    made[name] ??= ResultIndex.of<unknown, RowResult>(this.results, tellers[name]);
    return made[name] as Exclude<Indexes[Name], undefined>;
  }
}

// ───────────────────────────── helpers ─────────────────────────────

type Index = ResultIndex<unknown, RowResult>;

const nothing: readonly never[] = [];

/** Most rows ask for nothing. */
function asksOf<T>({ asks }: Row, tell: (ask: Ask) => T): Iterable<T> {
  return asks.length === 0 ? nothing : asks.map(tell);
}
