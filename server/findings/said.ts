/**
 * What a finding says once it is worded, and the shape of the tables that word them.
 *
 * Must not know: any one finding.
 */
import type { Anchor } from "../../grammar/anchor";
import type { OwnCode } from "./codes";
import type { Fix } from "./finding";
import type { Level, Writer } from "./writer";

export interface Said {
  /** An error unless said otherwise; `off` where the reader wants to hear nothing of it. */
  readonly severity?: Level;
  /** What is wrong, expected against found, in the builder's nouns. */
  readonly message: string;
  /** What to do about it. */
  readonly hint?: string;
  readonly caution?: string;
  readonly related?: readonly { readonly anchor: Anchor; readonly message: string }[];
  readonly fixes?: readonly Fix[];
}

/**
 * A family of findings: by its code (`name/unknown`), and where one code has several sentences a
 * word after it (`name/unknown stands-alone`), what is said of its facts.
 */
export type Family = Readonly<
  Partial<
    Record<
      OwnCode | `${OwnCode} ${string}` | OfCheck,
      (facts: never, writer: Writer, anchor: Anchor) => Said
    >
  >
>;

/** Checks bring codes of their own. */
type OfCheck = "check/fails" | "check/strained";

/** The facts a table's sentence is made of. */
export type FactsOf<Say> = Say extends () => Said
  ? unknown
  : Say extends (facts: infer Facts, ...rest: never[]) => Said
    ? Facts
    : never;
