/**
 * Measurements held against the spec: what was recorded, what was wanted, how far apart they are.
 *
 * A record never changes the spec. What was made is accepted by its making tolerance, what was bought
 * by its maker's, a wish by what it accepts; what follows from others by what these leave it. How
 * surely it was measured decides nothing but how sure that verdict is.
 *
 * Must not know: steps, joints, the order of work.
 */

import type { Anchor } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import { type LiteralFigure, readFigure } from "../model/literal";
import type { Entry } from "../model/thing";
import { normalShareBelow } from "../solve";
import type { Measure } from "../units";
import type { Analysis, RecordInfo, Value } from "./analysis";

/** A figure written in a record beside the value it is held against. */
export interface Measurement {
  readonly record: RecordInfo;
  readonly value: Value;
  /** As measured, SI. */
  readonly si: number;
  /** How surely it was measured, one side, SI: its tolerance, or half of its last written step. */
  readonly sureness: number;
  /** Spec's limits, SI, where the spec has a value. */
  readonly low: number | undefined;
  readonly high: number | undefined;
  /** False where it is proved to lie outside. */
  readonly within: boolean | undefined;
  readonly acceptance: Acceptance | undefined;
  /** How likely it lies between the limits, for all that the reading says; 0 to 1. */
  readonly conformity: number | undefined;
  readonly anchor: Anchor;
  /** What is written there, and as it is read. */
  readonly entry: Entry;
  readonly figure: LiteralFigure;
}

/**
 * By the rule of ISO 14253-1: inside or outside only where the reading's own uncertainty leaves no
 * doubt of it, else it cannot be told.
 */
export type Acceptance = "inside" | "outside" | "unclear";

export function acceptanceOf(
  si: number,
  sureness: number,
  { low, high }: { readonly low: number; readonly high: number },
): Acceptance {
  const nothing = 1e-9 * Math.max(Math.abs(si), Math.abs(low), Math.abs(high));
  const off = Math.max(low - si, si - high);
  if (off > sureness + nothing) return "outside";
  // Without a tolerance, agreeing is all there is.
  return off <= nothing - sureness || high - low <= nothing ? "inside" : "unclear";
}

/**
 * The probability that what was read as `si` lies between the limits: JCGM 106:2012, 7.3, for a
 * normal spread about the reading and nothing known beforehand. `sureness` is three of its standard
 * deviations; with none the reading is what it says.
 */
export function conformityOf(
  si: number,
  sureness: number,
  { low, high }: { readonly low: number; readonly high: number },
): number {
  if (!(sureness > 0)) return si >= low && si <= high ? 1 : 0;
  const below = (limit: number): number => normalShareBelow((limit - si) / sureness);
  return below(high) - below(low);
}

/** A line of a record that names a figure of the build, whatever it says of it. */
export interface FigureOnRecord {
  readonly record: RecordInfo;
  readonly given: syntax.Given;
  /** As the spec has it; the very same object for all lines that call it alike. */
  readonly value: Value;
  readonly measure: Measure;
}

const named = new WeakMap<Analysis["core"], readonly FigureOnRecord[]>();

/** Every such line, whether anything else in the build speaks of its figure or not, in file order. */
export function figuresOnRecord(analysis: Analysis): readonly FigureOnRecord[] {
  const before = named.get(analysis.core);
  if (before !== undefined) return before;
  const found: FigureOnRecord[] = [];
  const valueAt = valuesWithMeasures(analysis);
  for (const record of analysis.records) addNamed(record, record.node.members, "", valueAt, found);
  named.set(analysis.core, found);
  return found;
}

const known = new WeakMap<Analysis["core"], readonly Measurement[]>();

/** All that is measured there, read. */
export function measurementsOf(analysis: Analysis): readonly Measurement[] {
  const before = known.get(analysis.core);
  if (before !== undefined) return before;
  const found = figuresOnRecord(analysis).flatMap((each) => measurementOf(each) ?? []);
  known.set(analysis.core, found);
  return found;
}

/** Nothing where no figure is written there. */
export function measurementOf({
  record,
  given,
  value,
  measure,
}: FigureOnRecord): Measurement | undefined {
  const anchor = { ...record.anchor, span: given.value.span };
  const reading = readOnce(given.value, measure);
  const field = given.path.names[given.path.names.length - 1];
  if (reading.is !== "figure" || field === undefined) return undefined;
  const entry: Entry = {
    field,
    value: given.value,
    anchor,
    library: false,
    layer: "record",
    shared: false,
    inherited: false,
    date: record.date,
  };
  return new MeasuredFigure(record, value, entry, reading.figure);
}

const latestKnown = new WeakMap<Analysis["core"], ReadonlyMap<string, Measurement>>();

/** The newest reading of each figure, by path. */
export function latestReadings(spec: Analysis): ReadonlyMap<string, Measurement> {
  const before = latestKnown.get(spec.core);
  if (before !== undefined) return before;
  const latest = new Map<string, Measurement>();
  for (const each of measurementsOf(spec)) {
    const date = latest.get(each.value.path)?.record.date;
    if (date === undefined || (each.record.date ?? "") >= date) latest.set(each.value.path, each);
  }
  latestKnown.set(spec.core, latest);
  return latest;
}

/** A figure as measured against the spec's limits; `sureness`: one side, SI. */
export function heldAgainst(
  value: Value,
  si: number,
  sureness: number,
): Partial<Pick<Measurement, "low" | "high" | "within" | "acceptance" | "conformity">> {
  const limits = limitsOf(value);
  if (limits === undefined) return {};
  const acceptance = acceptanceOf(si, sureness, limits);
  const { low, high } = limits;
  const within = acceptance !== "outside";
  // Without a tolerance there is nothing to lie between.
  if (!(high > low)) return { low, high, acceptance, within };
  return { low, high, acceptance, conformity: conformityOf(si, sureness, limits), within };
}

// ───────────────────────────── helpers ─────────────────────────────

/** Most lines of a log are about what was done, not about what was measured. */
const noFigures: ReadonlySet<syntax.Expression["type"]> = new Set([
  "yes_no",
  "text",
  "list",
  "path",
  "ask",
  "date",
  "missing",
]);

type Reading = ReturnType<typeof readFigure>;

const readings = new WeakMap<syntax.Expression, { measure: Measure; reading: Reading }>();

/** A line is read once for as long as it stands. */
function readOnce(written: syntax.Expression, measure: Measure): Reading {
  const before = readings.get(written);
  if (before?.measure === measure) return before.reading;
  const reading = readFigure(written, measure);
  readings.set(written, { measure, reading });
  return reading;
}

type Known = Pick<FigureOnRecord, "value" | "measure">;

/** A log tells of the same figure again and again: each is looked up once. */
function valuesWithMeasures(analysis: Analysis): (path: string) => Known | undefined {
  const known = new Map<string, Known | undefined>();
  return (path) => {
    if (known.has(path)) return known.get(path);
    const value = analysis.valueAt(path) ?? analysis.unspokenAt(path);
    const measure = value?.measure;
    const found = value === undefined || measure === undefined ? undefined : { value, measure };
    known.set(path, found);
    return found;
  };
}

function addNamed(
  record: RecordInfo,
  members: readonly syntax.Member[],
  prefix: string,
  valueAt: (path: string) => Known | undefined,
  found: FigureOnRecord[],
): void {
  for (const member of members) {
    if (member.type === "part") {
      const path = `${prefix}${textOf(member.path)}.`;
      addNamed(record, member.members, path, valueAt, found);
    } else if (member.type === "given" && !noFigures.has(member.value.type)) {
      const known = valueAt(`${prefix}${textOf(member.path)}`);
      if (known !== undefined)
        found.push({ record, given: member, value: known.value, measure: known.measure });
    }
  }
}

function textOf({ names }: syntax.Path): string {
  const [first] = names;
  return names.length === 1 && first !== undefined
    ? first.text
    : names.map(({ text }) => text).join(".");
}

/** Held against the spec when that is first asked for: most of a long log is never told. */
class MeasuredFigure implements Measurement {
  private known: ReturnType<typeof heldAgainst> | undefined;

  constructor(
    readonly record: RecordInfo,
    readonly value: Value,
    readonly entry: Entry,
    readonly figure: LiteralFigure,
  ) {}

  get anchor(): Anchor {
    return this.entry.anchor;
  }

  get si(): number {
    return this.figure.value;
  }

  get sureness(): number {
    const { toleranced, low, high, rounding } = this.figure;
    return toleranced ? (high - low) / 2 : rounding;
  }

  get low(): number | undefined {
    return this.held.low;
  }

  get high(): number | undefined {
    return this.held.high;
  }

  get within(): boolean | undefined {
    return this.held.within;
  }

  get acceptance(): Acceptance | undefined {
    return this.held.acceptance;
  }

  get conformity(): number | undefined {
    return this.held.conformity;
  }

  private get held(): ReturnType<typeof heldAgainst> {
    this.known ??= heldAgainst(this.value, this.si, this.sureness);
    return this.known;
  }
}

/** As it comes out, or what a wish accepts. */
function limitsOf(value: Value): { low: number; high: number } | undefined {
  const { wanted } = value;
  return wanted?.toleranced === true ? wanted : value.outcome();
}
