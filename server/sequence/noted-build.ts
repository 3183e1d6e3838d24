/**
 * A build as the order of work asks it: what is asked, and of which things, is noted, so that what was
 * made of the answers is kept until one of them changes.
 *
 *     const build = new NotedBuild(analysis); … build.figureOf(nuts, "torque") …
 *     build.holdsIn(afterAnEdit)   →   true where the edit has to do with none of that
 *
 * Must not know: what is asked for.
 */
import type { Analysis, Value } from "../analysis/analysis";
import { Binder } from "../model/binder";
import type { Thing } from "../model/thing";
import type { FigureId, ThingId } from "../names/ids";
import { isSame } from "./same";

type Ask<T, A> = (analysis: Analysis, about: A) => T;

interface Question<T = unknown, A = unknown> {
  readonly ask: Ask<T, A>;
  readonly about: A;
  readonly answer: T;
  readonly same: (one: T, other: T) => boolean;
}

export class NotedBuild {
  /** Follows names and notes of which things. */
  binder: Binder;
  /** The things at the top that were asked about, as they are written. */
  private readonly trees = new Map<ThingId, Thing | undefined>();
  /** The figures that were asked for, with what was known of them once that was compared. */
  private readonly figures = new Map<FigureId, readonly unknown[] | undefined>();
  private readonly questions = new Map<unknown, Map<unknown, Question>>();
  private readonly around: readonly unknown[];

  constructor(
    /** The latest it holds in. */
    public analysis: Analysis,
  ) {
    this.binder = Binder.notingThings(analysis.binder.names);
    this.around = aroundOf(analysis);
  }

  /** Whether every answer is the same there; then it goes on with that one, and lets go of the one before. */
  holdsIn(analysis: Analysis): boolean {
    if (analysis.core === this.analysis.core) return true;
    for (const top of this.binder.questions.asked) this.noteTop(top);
    if (!sameItems(aroundOf(analysis), this.around)) return false;
    for (const [top, tree] of this.trees) if (analysis.thingAtTop(top) !== tree) return false;
    for (const [figure, compared] of this.figures) {
      const known = compared ?? this.analysis.knownOf(figure);
      if (compared === undefined) this.figures.set(figure, known);
      if (!sameItems(analysis.knownOf(figure), known)) return false;
    }
    for (const asked of this.questions.values())
      for (const { ask, about, answer, same } of asked.values())
        if (!same(ask(analysis, about), answer)) return false;
    this.analysis = analysis;
    this.binder = Binder.notingThings(analysis.binder.names);
    return true;
  }

  /** Something is made of what is written in a thing, or in all it lies in. */
  note({ id }: Thing): void {
    this.noteTop(id.top);
  }

  private noteTop(top: ThingId): void {
    if (!this.trees.has(top)) this.trees.set(top, this.analysis.thingAtTop(top));
  }

  private noteFigure(figure: FigureId): void {
    this.noteTop(figure.thing.top);
    if (!this.figures.has(figure)) this.figures.set(figure, undefined);
  }

  figureOf(thing: Thing, field: string): Value | undefined {
    this.noteFigure(thing.id.figure(field));
    return this.analysis.figureOf(thing, field);
  }

  /** By a path as somebody wrote it. */
  valueAt(path: string): Value | undefined {
    const figure = this.ask(figureAt, path, Object.is);
    if (figure === undefined) return undefined;
    this.noteFigure(figure);
    return this.analysis.valueAt(path);
  }

  each(kind: string): readonly Thing[] {
    return this.ask(everyOne, kind, sameItems);
  }

  has(thing: Thing): boolean {
    this.note(thing);
    return this.analysis.has(thing);
  }

  /**
   * Anything else, by a function that needs nothing but `about`: it is asked again of each reading
   * what was made is to be kept in.
   */
  ask<T, A>(ask: Ask<T, A>, about: A, same: (one: T, other: T) => boolean = isSame): T {
    const asked = this.questions.get(ask) ?? new Map<unknown, Question>();
    this.questions.set(ask, asked);
    let question = asked.get(about) as Question<T, A> | undefined;
    if (question === undefined) {
      question = { ask, about, answer: ask(this.analysis, about), same };
      asked.set(about, question as Question);
    }
    return question.answer;
  }
}

/** Whether two lists hold the very same objects. */
export function sameItems(one: readonly unknown[], other: readonly unknown[]): boolean {
  return one.length === other.length && one.every((each, at) => each === other[at]);
}

function figureAt(analysis: Analysis, path: string): FigureId | undefined {
  const value = analysis.valueAt(path);
  return value?.thing.id.figure(value.path.slice(value.thing.path.length + 1));
}

function everyOne(analysis: Analysis, kind: string): readonly Thing[] {
  return analysis.each(kind);
}

function aroundOf({ names, vocabulary, style, today }: Analysis): readonly unknown[] {
  return [names, vocabulary, style, today];
}
