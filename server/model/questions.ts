/**
 * What was asked of a build while something was made of a part of it, and what the answers were.
 * What was made holds as long as every answer is the same, whichever reading of whichever build
 * gives it: before an edit or after, of the spec or with an option laid over it.
 *
 * Must not know: what the questions are about.
 */
import { Few } from "../keep/few";
import type { ThingId } from "../names/ids";
import { Thing } from "./thing";

export type Answer = Thing | string | number | boolean | undefined | readonly Answer[];

type Question<F> =
  | { readonly ask: (facts: F) => Answer; readonly answer: Answer }
  | {
      readonly of: ThingId;
      readonly askIt: (thing: Thing, facts: F) => Answer;
      readonly answer: Answer;
    };

export class Questions<F> {
  private list: Question<F>[] = [];
  /** The things at the top of files whose trees gave the answers. */
  readonly asked = new Few<ThingId>();
  /** Names that were looked for in files, by the file. */
  readonly files = new Few<string>();
  /** Whether all things of a kind were asked for. */
  overall = false;

  /** `thingOf`: a thing as it is there when it is asked again. */
  constructor(private readonly thingOf: (facts: F, id: ThingId) => Thing | undefined) {}

  /** `of`: the thing, or the file, that gives the answer; neither where the whole build does. */
  note(of: Thing | string | undefined, ask: (facts: F) => Answer, answer: Answer): void {
    if (of === undefined) this.overall = true;
    else if (typeof of === "string") this.files.add(of);
    else this.asked.add(of.id.top);
    this.list.push({ ask, answer });
  }

  /** What a thing is asked that is there; where it is there no longer, the answer is another. */
  noteOf(thing: Thing, askIt: (thing: Thing, facts: F) => Answer, answer: Answer): void {
    this.asked.add(thing.id.top);
    this.list.push({ of: thing.id, askIt, answer });
  }

  /** With no room for more: they are kept by the thousand. */
  done(): this {
    this.list = this.list.slice();
    return this;
  }

  hold(facts: F): boolean {
    return this.list.every((question) => {
      if ("ask" in question) return same(question.ask(facts), question.answer);
      const thing = this.thingOf(facts, question.of);
      return thing !== undefined && same(question.askIt(thing, facts), question.answer);
    });
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function same(one: Answer, other: Answer): boolean {
  if (one === other || (Number.isNaN(one) && Number.isNaN(other))) return true;
  if (one instanceof Thing)
    return other instanceof Thing && one.id === other.id && one.kind === other.kind;
  if (!Array.isArray(one) || !Array.isArray(other)) return false;
  return one.length === other.length && one.every((each, at) => same(each, other[at]));
}
