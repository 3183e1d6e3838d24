/**
 * What the names in a formula stand for, as whoever compiles the formula answers it.
 *
 *     denote(`overall_width`)   →   a quantity, its measure, what is known of it already
 *
 * A kind answers with routes from any thing of the kind, a build with its own quantities. Must not
 * know: how formulas are compiled, how things are made.
 */
import type * as syntax from "../../grammar/syntax";
import type { NoRow } from "../findings/formulas";
import type { Problem } from "../findings/worded";
import type { Measure } from "../units";
import type { Vocabulary } from "./definition";

/** What a path stands for. */
export type Denotation<R> =
  | {
      readonly is: "quantity";
      readonly reference: R;
      readonly measure: Measure;
      /** The number, where it is known already; asked only where a table or a kit is read by it. */
      readonly known?: () => number | undefined;
      readonly settled?: boolean;
    }
  /** A text, choice, yes/no or date that was given. */
  | { readonly is: "word"; readonly value: string | boolean }
  | { readonly is: "list"; readonly items: readonly Denotation<R>[] }
  | { readonly is: "thing"; readonly title: string }
  /** Only a particular thing can tell. */
  | { readonly is: "later" }
  /** Nothing stands there: what uses it does not apply. */
  | { readonly is: "unset" }
  | { readonly is: "unknown"; readonly problem: Problem };

export interface Environment<R> {
  readonly vocabulary: Vocabulary;
  denote(path: syntax.Path): Denotation<R>;
  /** Equal keys mean the same quantity. */
  keyOf(reference: R): string;
  /** Whether the builder wrote it, or why none can; `undefined` where only a particular thing can tell. */
  isGiven(path: syntax.Path): boolean | Problem | undefined;
  /** All things of a kind, each followed along `rest`; `span` is where that is asked. */
  each(kind: string, rest: syntax.Path | undefined, span: syntax.Span): Denotation<R>;
  /** Told of tables that have no row for the keys. */
  readonly notInTable?: (missed: NoRow, span: syntax.Span) => void;
}
