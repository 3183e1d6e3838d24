/**
 * The sentences of findings about values: one place, so that they read alike.
 *
 * Must not know: how findings are found.
 */
import {
  type Dimension,
  type DisplayStyle,
  displayOf,
  fromSi,
  type Measure,
  measureNamed,
  measuresOf,
  readUnit,
  writeIn,
  writeQuantity,
} from "../units";

/** Writes SI values in the reader's units. */
interface Written {
  readonly measure: Measure;
  readonly figure?: { readonly unit: string };
}

export class Writer {
  constructor(readonly style: DisplayStyle) {}

  /** `54 11/16 in` */
  value(si: number | undefined, measure: Measure | undefined): string {
    if (si === undefined) return "missing";
    if (measure === undefined) return plain(si);
    return writeQuantity(si, measure, this.style)?.text ?? "missing";
  }

  /** Exact enough to compare: `54.679 in` where the fraction would hide the difference. */
  fine(si: number | undefined, measure: Measure | undefined): string {
    if (si === undefined) return "missing";
    if (measure === undefined) return plain(si);
    const written = writeQuantity(si, measure, this.style);
    if (written === undefined) return "missing";
    return written.rounded ? (written.decimal ?? written.text) : written.text;
  }

  /** As the builder would write it in this place: in the unit the figure there is written in. */
  like({ figure, measure }: Written, si: number | undefined): string {
    const display = displayOf(measure, this.style);
    const own = figure === undefined || figure.unit === "" || figure.unit === display.unit;
    const text =
      own || si === undefined ? undefined : writeIn(si, measure, { unit: figure.unit })?.text;
    return text ?? this.fine(si, measure);
  }

  /** The same for what is to be written into a build: with as many digits as it takes, never rounded. */
  exactly(written: Written, si: number): string {
    const { figure, measure } = written;
    const display = displayOf(measure, this.style);
    const own = figure === undefined || figure.unit === "" || figure.unit === display.unit;
    const shown = writeIn(si, measure, own ? display : { unit: figure.unit });
    if (shown?.rounded === false) return shown.text;
    // What comes in whole millimeters is not told in ten digits of an inch.
    for (const other of [measure.inch, measure.metric]) {
      const plain = writeIn(si, measure, { unit: other.unit });
      if (plain?.rounded === false) return plain.text;
    }
    const unit = readUnit(own ? display.unit : figure.unit, measure);
    return unit === undefined
      ? this.like(written, si)
      : `${Number(fromSi(si, unit).toPrecision(10))} ${unit.symbol}`.trim();
  }

  /** A value by its dimension alone, where no field tells its measure. */
  ofDimension(si: number | undefined, dimension: Dimension, measure: Measure | undefined): string {
    if (measure !== undefined) return this.fine(si, measure);
    // Angles have no dimension either: nothing says that a plain number is one.
    return this.fine(si, dimension.key === "" ? measureNamed("number") : measuresOf(dimension)[0]);
  }
}

/** "a, b or c" */
export function orList(items: readonly string[]): string {
  return joined(items, "or");
}

/** "a, b and c" */
export function andList(items: readonly string[]): string {
  return joined(items, "and");
}

export function comparisonInWords(relation: ">=" | "<=" | ">" | "<" | "==" | "!="): string {
  switch (relation) {
    case ">=":
      return "at least";
    case "<=":
      return "at most";
    case ">":
      return "more than";
    case "<":
      return "less than";
    case "==":
      return "exactly";
    case "!=":
      return "anything but";
  }
}

function joined(items: readonly string[], word: string): string {
  const last = items[items.length - 1];
  if (items.length <= 1) return last ?? "";
  return `${items.slice(0, -1).join(", ")} ${word} ${last}`;
}

function plain(si: number): string {
  return String(Number(si.toPrecision(6)));
}
