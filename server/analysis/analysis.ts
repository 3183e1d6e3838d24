/**
 * One immutable answer to one reading of a build: every value with its standing and reason, every
 * finding, every check. Editor features, reports and commands read this and nothing lower.
 *
 * Values are found by the path the root file calls them, `rear_housing.face_to_face`.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { SourceFile } from "../../grammar/syntax";
import type { Code } from "../findings/codes";
import type { Finding } from "../findings/finding";
import type { Found } from "../findings/worded";
import type { Levels } from "../findings/writer";
import type { Binder } from "../model/binder";
import type { FieldDefinition, Remarks, Vocabulary } from "../model/definition";
import type { Thing } from "../model/thing";
import type { FigureId, ThingId } from "../names/ids";
import type { ChoiceControl } from "../solve/choose";
import type { Chance } from "../solve/likely";
import type { Role, Spread, Verdict } from "../solve/system";
import type { DisplayStyle, Measure } from "../units";
import type { FittingChange, OtherPart, TighterTolerance } from "./changes-tried";
import type { ChooseAnswer, ChooseRequest } from "./choose-request";
import type { BuildFile } from "./files";
import type { UnsaidReadings } from "./unsaid-readings";
import type { FormulaPiece } from "./written-formula";

/** What the reader may choose; a build's own display block goes before `system` and `lengthIncrement`. */
export interface AnalysisSettings {
  /** Undefined: as the build is written. */
  readonly system?: "inch" | "metric";
  /** For lengths in inches: "1/32", or "decimal". */
  readonly lengthIncrement?: string;
  readonly levels?: Partial<Levels>;
  /** The day the build is read on, `2026-04-04`: what lies after it has not happened yet. */
  readonly today?: string;
}

/** How sure a value is and where it comes from. */
export type Standing = "given" | "assumed" | "solved" | "measured" | "missing";

/** How a figure comes out, all that is made made to its steps. In SI. */
export interface Outcome {
  readonly si: number;
  readonly spread?: Spread;
  /** The larger side at worst, and root sum square. */
  readonly worst: number;
  readonly rss: number;
  /** How far the middle of what is likely lies from `si`. */
  readonly shift: number;
  readonly low: number;
  readonly high: number;
  /** It is made to its step, whatever else is drawn. */
  readonly made: boolean;
  /** It went to the farther of its two steps: on the nearer one a check would fail. */
  readonly turned: boolean;
  /** Its twin takes half of its step, so that both add up; or it is read straight off such a one. */
  readonly shared: boolean;
  /** In which step and how surely, where neither its own line nor the shop says so. In SI. */
  readonly usually?: { readonly step?: number; readonly off: number };
  /** Figures that are wanted and that this one is made to answer, by path. */
  readonly answers: readonly string[];
  /** What its ± comes from, the largest share first. */
  contributors(): readonly Contributor[];
}

/** What moves a figure by its own ±, and how far. */
export interface Contributor {
  readonly path: string;
  readonly below: number;
  readonly above: number;
  /** Of the likely variance; all together make 1. */
  readonly share: number;
}

/** A figure that is written and wanted: it gives way to what is made. In SI. */
export interface Wanted {
  readonly si: number;
  /** What is still accepted; both `si` where nothing is said. */
  readonly low: number;
  readonly high: number;
  readonly toleranced: boolean;
  readonly written?: string;
  /** The drawing holds it. */
  readonly met: boolean;
  /** It comes out to the last digit: nothing that is made answers it. */
  readonly held: boolean;
  /** Where it is held: the figure that would be made to answer it, and what is still to be known for that. */
  readonly awaits?: { readonly made: string; readonly open: readonly string[] };
}

/** A figure or word of the build. */
export interface Value {
  /** Under the thing that owns it. */
  readonly path: string;
  readonly thing: Thing;
  readonly field: FieldDefinition;
  /** Set for figures. */
  readonly measure?: Measure;
  /** Coherent SI; `undefined` for words and for what is missing. Always finite. */
  readonly si?: number;
  /** Texts, choices, dates, yes/no and designations. */
  readonly word?: string | boolean;
  readonly standing: Standing;
  /** What the figure is, as the build says or its field. */
  readonly role?: Role;
  readonly wanted?: Wanted;
  /** How it comes out; `si` and `spread()` are as drawn. Worked out when called. */
  outcome(): Outcome | undefined;
  /** Where it is written or asked for, if it is. */
  readonly anchor?: Anchor;
  /** A given figure as the builder wrote it, without its tolerance: `18 mm`. */
  readonly written?: string;
  /** What is written of it, SI, where the readings together make another figure of it. */
  readonly asRead?: number;
  /** What `si` would be with each reading as it is written, where together they make more of it. */
  readonly siAsWritten?: number;
  /** ISO 4217 code for an amount of money. */
  readonly currency?: string;
  /** What to take from a kit for it, all that the kit has to serve considered: `0.018 in + 0.007 in`. */
  readonly pieces?: string;
  /** The relation, formula or default that yields it. */
  readonly reason?: Reason;
  /** It was found by steps from a few places: that there is another answer is not excluded. */
  readonly othersNotExcluded?: boolean;
  /** It is missing for no other reason than that there was no time to work it out. */
  readonly isCutShort?: boolean;
  /** What it rests on that was only assumed: titles of defaults and assumed relations. */
  readonly restsOn: readonly string[];
  /** ± from the givens' tolerances; worked out when first read. */
  spread(): Spread | undefined;
  /** Names of the spread's contributors, in its order. */
  contributors(): readonly Contributor[];
}

/** Why a value is what it is. */
export interface Reason {
  /** "rim halves", "assumed: …" */
  readonly title: string;
  readonly kind: "relation" | "assumed relation" | "wish" | "formula" | "default";
  /** As written in its declaration: `backspace = overall_width / 2 + offset`. */
  readonly formula: string;
  /** The same, each name of a figure with the path of that figure. */
  readonly pieces: readonly FormulaPiece[];
  readonly remarks: Remarks;
  /** Where the relation or default is declared. */
  readonly anchor: Anchor;
  /** Paths of the other quantities in it. */
  readonly inputs: readonly string[];
  /** Titles of relations solved together with it, itself included; one where it stood alone. */
  readonly together: readonly string[];
  /**
   * Figures in these relations stay open, and it is the same whatever they are: proved, or found at the
   * places that were tried, where the relations are curved.
   */
  readonly whatever?: "proved" | "found";
}

/** `field: ?` in a file. */
export interface AskedValue {
  readonly value: Value;
  readonly anchor: Anchor;
  /** Set where it is asked inside an option, whose value it then is. */
  readonly option?: string;
  /** Smallest sets of further givens that would settle it, where it is missing; worked out when read. */
  readonly needs: readonly (readonly Need[])[];
  /** Whether that is worked out already. */
  readonly advised: boolean;
}

export interface Need {
  readonly path: string;
  /** What to measure or choose, in the trade's words. */
  readonly advice?: string;
}

/** What is wrong by what is written: a check that fails, figures that contradict each other. */
export interface Mendable {
  /**
   * Changes of one figure, else of two, that would mend it, those that break nothing first, then the
   * gentlest; each tried in the whole build. Worked out when called.
   */
  fits(): readonly FittingChange[];
  /**
   * Parts that are there already and would mend it in the place of what is fitted, those that break
   * nothing first; each tried in the whole build. Worked out when called.
   */
  otherParts(): readonly OtherPart[];
}

/** Figures that cannot all be as they are given. */
export interface Contradiction extends Mendable {
  readonly finding: Found;
  /** What is said of it. */
  readonly message: string;
  /** Paths of the figures that take part, those that no change is offered of among them. */
  readonly inputs: readonly string[];
  /** Of these what was read off something: to be measured again. */
  readonly measured: readonly string[];
}

export interface CheckResult extends Mendable {
  readonly title: string;
  /** `clearance/inner-gap`. */
  readonly code: Code;
  readonly thing?: Thing;
  readonly own: boolean;
  readonly verdict: Verdict;
  /** Its condition as written. */
  readonly condition: string;
  readonly remarks: Remarks;
  readonly anchor: Anchor;
  /** Where a finding about it belongs: the check itself, or the givens it is about. */
  readonly place: Anchor;
  /** Paths of the quantities it compares. */
  readonly inputs: readonly string[];
  /** How likely it holds as the build comes out; nothing where that cannot be said. Worked out when called. */
  chance(): Chance | undefined;
  /** What its ± is made of, as the build comes out, largest first, in SI. Worked out when called. */
  contributors(): readonly Contributor[];
  /** Readings that bear on it and say no ±. Worked out when called. */
  unsaid(): UnsaidReadings | undefined;
  /** Sets of further givens any of which would settle a figure of it that is open; a list for each such figure. */
  settledBy(): readonly (readonly (readonly Need[])[])[];
  /**
   * Where it holds as drawn and not by tolerances: which of these to tighten, the one that is to be
   * tightened least first; where no single one does, all together. Worked out when called.
   */
  tighter(): readonly TighterTolerance[];
}

/** A function of one parameter over its range, for drawings and tables. */
export interface CurveResult {
  readonly name: string;
  readonly title: string;
  readonly thing?: Thing;
  readonly parameter: string;
  readonly parameterMeasure?: Measure;
  readonly measure?: Measure;
  readonly remarks: Remarks;
  readonly anchor: Anchor;
  /** In SI, ascending; at most 1,000; points at which it has no value are left out. */
  points(): readonly { readonly x: number; readonly y: number }[];
}

export interface MissingValue {
  readonly path: string;
  readonly message: string;
  readonly needs: readonly (readonly Need[])[];
  readonly anchor: Anchor;
  /** True where something that failed is behind it, as its message says. */
  readonly failed?: boolean;
}

/** An option as declared, or `undefined` for the spec itself. */
export interface OptionInfo {
  readonly name: string;
  readonly title?: string;
  readonly anchor: Anchor;
}

export interface RecordInfo {
  readonly title?: string;
  readonly date?: string;
  readonly node: syntax.Record;
  readonly anchor: Anchor;
}

/** A part of a build of which one reading says something else than another. */
export interface Besides {
  /** The very same objects as long as each reading says the same of it; nothing where it is not there. */
  readonly here: object;
  readonly there: object | undefined;
  readonly checks: readonly CheckResult[];
  readonly wanted: readonly Value[];
  /** What the other reading judges. */
  readonly before: readonly CheckResult[];
}

export interface Analysis {
  /** The very same object as long as all is known as before, and nothing but places in texts is another. */
  readonly core: object;
  readonly rootUri: string;
  readonly files: ReadonlyMap<string, BuildFile>;
  /** Source of a file by URI, library files included, for turning anchors into places. */
  sourceOf(uri: string): SourceFile | undefined;
  readonly vocabulary: Vocabulary;
  /** How values are written, by the file's display block and the reader's settings. */
  readonly style: DisplayStyle;
  /** The day it is read on, where the reader says so. */
  readonly today?: string;
  /** All things in file order, parts after their owners. */
  readonly things: readonly Thing[];
  /** All values in a stable order, those of one thing together. */
  readonly values: ReadonlyMap<string, Value>;
  /** Those that are wanted to come to something. */
  readonly wanted: readonly Value[];
  readonly asked: readonly AskedValue[];
  /** What is asked for in some declarations or lines. */
  askedIn(items: ReadonlySet<syntax.Item>): readonly AskedValue[];
  /** Whether somebody asks for it, anywhere. */
  isAskedFor(value: Value): boolean;
  /** How many figures are solved or assumed. */
  readonly workedOut: number;
  readonly checks: readonly CheckResult[];
  /** Givens that cannot all hold. */
  readonly contradictions: readonly Contradiction[];
  readonly curves: readonly CurveResult[];
  /** Sorted by file, place and code. */
  readonly findings: readonly Finding[];
  /** The same as far as it can be told at once: what is missing without advice nobody worked out yet. */
  readonly findingsSoFar: readonly Finding[];
  /** The one that tells what there was no time for. */
  readonly leftOut: readonly Finding[];
  /** Works that advice out, a piece at each step; may be left at any of them. */
  advising(): Iterable<unknown>;
  readonly missing: readonly MissingValue[];
  readonly options: readonly OptionInfo[];
  readonly records: readonly RecordInfo[];
  /** Follows names in this reading: the one way to ask what a name means. */
  readonly binder: Binder;
  /** The very same object as long as the names of all files lead to the same declarations. */
  readonly names: object;
  /**
   * The very same object as long as nothing is known otherwise of a thing at the top of a file and of
   * all in it: not what is written there, not what comes out, not who speaks of it.
   */
  stateOf(top: ThingId): object;
  /** What a figure comes from: the same in each place as long as it stands and comes out as it did. */
  knownOf(figure: FigureId): readonly unknown[];
  /** A thing at the top of a file, where this reading has it: the same as long as it is written so. */
  thingAtTop(id: ThingId): Thing | undefined;
  /** Whether it is a thing of this reading, and not of one before an edit. */
  has(thing: Thing): boolean;
  /** Every thing of a kind, owners before their parts. */
  each(kind: string): readonly Thing[];
  /** Things in which something is written by some declarations or lines, with all they hold. */
  writtenIn(items: ReadonlySet<syntax.Item>): readonly Thing[];
  /** Checks of one thing. */
  checksOf(thing: ThingId): readonly CheckResult[];
  /** What it says otherwise than another reading of much the same build, part by part. */
  besides(other: Analysis): readonly Besides[];
  /** The value that any path reaches: `rear.housing.face_to_face` finds `rear_housing.face_to_face`. */
  valueAt(path: string): Value | undefined;
  /** The open figure that a path reaches though no line of the build speaks of it: it may be on record. */
  unspokenAt(path: string): Value | undefined;
  /** The value of a figure of this very thing, where anything in the build speaks of it. */
  figureOf(thing: Thing, field: string): Value | undefined;
  /** The things a path from the root file reaches. */
  thingAt(path: string): Thing | undefined;
  /**
   * The same build under one of its options; work that the option does not touch is shared. Nothing
   * where there is no such option, and where there is no time to read it, which is told.
   */
  under(option: string): Analysis | undefined;
  /** The same build with recorded measurements in place of the spec. */
  asBuilt(): Analysis;
  /**
   * The same build with further lines laid over it, written as in an option:
   * `rear.wheel: wheels.deep`. Lines that make no sense are findings of the answer.
   */
  trying(lines: string): Analysis;
  /** Finds the things of a shop's lists that fit together best; see `choose-things.ts`. */
  choose(request: ChooseRequest, control?: ChoiceControl): Promise<ChooseAnswer>;
  /** Words what is found, as its reader wants it; the same words at the same place once. */
  inWords(found: readonly Found[]): readonly Finding[];
  /** `54 11/16 in`, or `missing`. */
  write(value: Value): string;
}
