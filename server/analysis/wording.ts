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
  writeAlike,
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

  /** Figures that stand in one sentence; by their dimension alone where no field tells the measure. */
  together(
    figures: readonly number[],
    measure: Measure | undefined,
    dimension?: Dimension,
  ): readonly string[] {
    // Angles have no dimension either: nothing says that a plain number is one.
    const meant =
      measure ??
      (dimension === undefined || dimension.key === ""
        ? measureNamed("number")
        : measuresOf(dimension)[0]);
    return meant === undefined ? figures.map(plain) : writeAlike(figures, meant, this.style);
  }

  /** True where the figure there is written in another unit than those of its measure are shown in. */
  inOwnUnit({ figure, measure }: Written): boolean {
    const display = displayOf(measure, this.style);
    return figure !== undefined && figure.unit !== "" && figure.unit !== display.unit;
  }

  /** As the builder would write it in this place: in the unit the figure there is written in. */
  like(written: Written, si: number | undefined): string {
    const { figure, measure } = written;
    const text =
      this.inOwnUnit(written) && si !== undefined && figure !== undefined
        ? writeIn(si, measure, { unit: figure.unit })?.text
        : undefined;
    return text ?? this.fine(si, measure);
  }

  /** Such figures in one sentence: those of a measure alike, but for units of the builder's own. */
  alike(figures: readonly { readonly as: Written; readonly si: number | undefined }[]): string[] {
    const texts = figures.map(({ as, si }) => this.like(as, si));
    const shared = figures.flatMap(({ as, si }, place) =>
      si === undefined || this.inOwnUnit(as) ? [] : [{ place, si, measure: as.measure }],
    );
    // One measure may be shown in two units: an offset in millimetres among lengths in inches.
    const shownAs = (measure: Measure) => `${measure.name} ${displayOf(measure, this.style).unit}`;
    for (const sort of new Set(shared.map(({ measure }) => shownAs(measure)))) {
      const group = shared.filter(({ measure }) => shownAs(measure) === sort);
      const together = this.together(
        group.map(({ si }) => si),
        group[0]?.measure,
      );
      for (const [index, { place }] of group.entries()) texts[place] = together[index] ?? "";
    }
    return texts;
  }

  /** The same for what is to be written into a build: with as many digits as it takes, never rounded. */
  exactly(written: Written, si: number): string {
    const { figure, measure } = written;
    const display = displayOf(measure, this.style);
    const own = figure !== undefined && this.inOwnUnit(written);
    const shown = writeIn(si, measure, own ? { unit: figure.unit } : display);
    if (shown?.rounded === false) return shown.text;
    // What comes in whole millimeters is not told in ten digits of an inch.
    for (const other of [measure.inch, measure.metric]) {
      const plain = writeIn(si, measure, { unit: other.unit });
      if (plain?.rounded === false) return plain.text;
    }
    const unit = readUnit(own ? figure.unit : display.unit, measure);
    return unit === undefined
      ? this.like(written, si)
      : `${Number(fromSi(si, unit).toPrecision(10))} ${unit.symbol}`.trim();
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
