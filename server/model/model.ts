/**
 * What elaboration yields: the things, and the system of equations they stand for.
 */
import type * as syntax from "../../grammar/syntax";
import type { Claim, Equation, Quantity, Variable } from "../solve/system";
import type { Measure } from "../units";
import type { Compared, StackUse } from "./compiled";
import type {
  CheckDefinition,
  CurveDefinition,
  FieldDefinition,
  RelationDefinition,
} from "./definition";
import type { Finding } from "./finding";
import type { Figure } from "./literal";
import type { FileScope } from "./scope";
import type { Target } from "./target";
import type { Entry, Thing } from "./thing";

/** One figure: a field of a thing, or a part of its designation. */
export interface Location {
  readonly thing: Thing;
  readonly field: FieldDefinition;
  readonly part?: FieldDefinition;
}

export interface ModelVariable extends Variable, Location {
  readonly measure: Measure;
  /** Where it, or the designation it is part of, is written. */
  readonly entry?: Entry;
  /** The figure written, where it is a literal. */
  readonly figure?: Figure;
}

/** Why an equation is there. */
export type Origin =
  | { readonly is: "relation"; readonly relation: RelationDefinition; readonly thing?: Thing }
  | { readonly is: "formula"; readonly entry: Entry; readonly thing: Thing }
  | { readonly is: "default"; readonly field: FieldDefinition; readonly thing: Thing };

export interface ModelEquation extends Equation {
  readonly origin: Origin;
  readonly measure?: Measure;
}

export interface ModelClaim extends Claim {
  readonly check: CheckDefinition;
  readonly thing?: Thing;
  /** Written by the builder rather than by the library. */
  readonly own: boolean;
  /** Its two sides, where it is one comparison of figures. */
  readonly compared?: Compared;
  /** False where something it names is not there. */
  readonly applies: boolean;
}

/** A drawn function of one parameter, with the thing's other fields as they are solved. */
export interface ModelCurve {
  readonly curve: CurveDefinition;
  readonly thing?: Thing;
  readonly value: Quantity;
  /** The slot of `value` that is the parameter; `undefined` where the value does not depend on it. */
  readonly parameterSlot?: number;
  readonly measure?: Measure;
  readonly parameterMeasure?: Measure;
  readonly from: Quantity;
  readonly to: Quantity;
  readonly step?: Quantity;
}

/** A figure that is put together from the pieces of a kit. */
export interface ModelStack {
  readonly use: StackUse;
  /** The variable that holds the sum. */
  readonly variable: number;
  readonly wanted: Quantity;
  readonly thing?: Thing;
}

/** `field: ?` */
export interface Ask {
  readonly thing: Thing;
  readonly field: FieldDefinition;
  readonly entry: Entry;
  readonly variable: number;
}

/** A value that is no figure: a text, choice, date, yes/no or designation. */
export interface Word {
  readonly thing: Thing;
  readonly field: FieldDefinition;
  readonly value: string | boolean;
  readonly entry?: Entry;
  /** True where the library's default stands. */
  readonly assumed: boolean;
}

export interface Model {
  readonly things: readonly Thing[];
  readonly variables: readonly ModelVariable[];
  readonly equations: readonly ModelEquation[];
  readonly claims: readonly ModelClaim[];
  readonly curves: readonly ModelCurve[];
  readonly asks: readonly Ask[];
  readonly stacks: readonly ModelStack[];
  readonly words: ReadonlyMap<string, Word>;
  readonly findings: readonly Finding[];
  /** Index of the variable with this owning path. */
  variableAt(path: string): number | undefined;
  /** Where names lead; answers after elaboration too. */
  resolve(thing: Thing | undefined, scope: FileScope, names: readonly syntax.Name[]): Target;
}
