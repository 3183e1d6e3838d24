/**
 * What names in a build's formulas stand for: its figures, words, lists and things.
 *
 *     wheel.offset   in a formula of `rear`   →   the figure `rear.wheel.offset`, a length
 *
 * Must not know: how formulas are compiled, what is made of them.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Findings } from "../findings/collected";
import { madeOnce } from "../keep/once";
import { goOn } from "../keep/patience";
import { SmallMap } from "../keep/small-map";
import type { Binder } from "./binder";
import type { Terms } from "./budget";
import type { Denotation, Environment } from "./denotation";
import type { Figures } from "./figures";
import { type Location, pathOf } from "./model";
import { problemOf, type Target, type UnknownTarget } from "./target";
import type { Thing } from "./thing";
import type { Words } from "./words";

/** Where a formula stands: in a thing, or at the top of a file. */
export interface FormulaScope {
  readonly thing?: Thing;
  /** The file whose names it sees. */
  readonly uri: string;
}

/** The environments of formulas. */
export class FormulaNames {
  private readonly environments = new SmallMap<Thing, Environment<Location>>();

  constructor(
    private readonly binder: Binder,
    private readonly words: Words,
    private readonly figures: Figures,
    private readonly findings: Findings,
    private readonly terms: Terms,
  ) {}

  /** For formulas of the thing's kind. */
  environmentOf(thing: Thing): Environment<Location> {
    return madeOnce(this.environments, thing, () =>
      this.environment({ thing, uri: thing.uri }, undefined),
    );
  }

  /** For a formula written at `anchor`; without one, for what the library says of a thing. */
  environment(at: FormulaScope, anchor: Anchor | undefined): Environment<Location> {
    const place = ({ span }: { readonly span: syntax.Span }): Anchor | undefined =>
      anchor === undefined ? at.thing?.anchor : { ...anchor, span };
    return {
      vocabulary: this.binder.vocabulary,
      denote: (path) =>
        this.denoteTarget(this.binder.resolve(at.thing, at.uri, path.names), path, place(path)),
      keyOf: pathOf,
      isGiven: (path) => {
        const target = this.binder.resolve(at.thing, at.uri, path.names);
        if (target.is === "thing") return this.binder.isWritten(target.thing);
        if (target.is === "list") return target.things.length > 0;
        // What is not there where a kind is used is not given; a builder's slip is told.
        if (target.is === "unknown" && anchor !== undefined) return problemOf(target);
        if (target.is !== "field") return false;
        const { thing, field, part } = target;
        const key = part === undefined ? field.name : `${field.name}.${part.name}`;
        return (
          this.binder.hasEntry(thing, key) ||
          (part !== undefined && this.words.partsOf(thing, field)?.has(part.name) === true)
        );
      },
      each: (kind, rest, span) => this.each(kind, rest, place({ span })),
      notInTable: (missed, span) => {
        if (at.thing === undefined && anchor === undefined) return;
        const place = anchor === undefined ? at.thing?.anchor : { ...anchor, span };
        if (place === undefined) return;
        this.findings.add({
          is: "table/no-row",
          path: at.thing?.path,
          ...missed,
          anchor: place,
        });
      },
    };
  }

  /** `place` is told where the path asks for more than there can be. */
  private denoteTarget(
    target: Target,
    path: syntax.Path,
    place: Anchor | undefined,
  ): Denotation<Location> {
    switch (target.is) {
      case "unset":
        return { is: "unset" };
      case "unknown":
        return this.unknownName(target);
      case "thing":
        return { is: "thing", title: path.names.map((name) => name.text).join(".") };
      case "list":
        if (!this.terms.spend(target.things.length, place)) return { is: "unset" };
        return {
          is: "list",
          items: target.things.map((thing) =>
            target.rest.length === 0
              ? ({ is: "word", value: thing.path } as const)
              : this.denoteTarget(this.binder.follow(thing, target.rest), path, place),
          ),
        };
      case "field":
        return this.denoteField(target);
    }
  }

  /** A name that leads nowhere, as a problem of the formula it stands in. */
  unknownName(target: UnknownTarget): Extract<Denotation<Location>, { is: "unknown" }> {
    return {
      is: "unknown",
      // Looked up only where someone reads it: most unknown names turn out to be bare words.
      get problem() {
        return problemOf(target);
      },
    };
  }

  private denoteField({
    thing,
    field,
    part,
  }: Extract<Target, { is: "field" }>): Denotation<Location> {
    const definition = part ?? field;
    if (part !== undefined) {
      const parts = this.words.partsOf(thing, field);
      const value = parts?.get(part.name);
      if (typeof value === "string") return { is: "word", value };
      const key = `${field.name}.${part.name}`;
      const separately = this.binder.hasEntry(thing, key);
      if (parts !== undefined && value === undefined && !separately) return { is: "unset" };
      if (definition.type.form !== "measure") return { is: "unset" };
      return {
        is: "quantity",
        reference: { thing, field, part },
        measure: definition.type.measure,
        known: () => value,
      };
    }
    switch (definition.type.form) {
      case "measure":
        this.figures.figure({ thing, field });
        return {
          is: "quantity",
          reference: { thing, field },
          measure: definition.type.measure,
          known: () => this.figures.known(thing, field),
        };
      case "list":
        return { is: "list", items: this.figures.listItems(thing, field) };
      case "designation":
      case "text":
      case "yes_no":
      case "date":
      case "choice": {
        const value = this.words.word(thing, field);
        return value === undefined ? { is: "unset" } : { is: "word", value };
      }
      default:
        return { is: "unset" };
    }
  }

  private each(
    kind: string,
    rest: syntax.Path | undefined,
    place: Anchor | undefined,
  ): Denotation<Location> {
    const things = this.binder.each(kind);
    if (!this.terms.spend(things.length, place)) return { is: "unset" };
    const items: Denotation<Location>[] = [];
    for (const thing of things) {
      goOn();
      if (rest === undefined) items.push({ is: "word", value: thing.path });
      else items.push(this.denoteTarget(this.binder.follow(thing, rest.names), rest, place));
    }
    return { is: "list", items };
  }
}
