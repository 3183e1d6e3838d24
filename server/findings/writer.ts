/**
 * Writes figures as the reader of a build wants them: in which units, to which step, and how strict
 * about tolerances.
 *
 *     new Writer(style).fine(0.0127, length)   →   `1/2 in`
 *
 * Must not know: what is told.
 */
import {
  type Dimension,
  type DisplayStyle,
  differenceOf,
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
import { FigureWriter } from "./figure-writer";
import type { Finding, Severity } from "./finding";

/** A figure's measure, and the unit it is written in where it is. */
export interface WrittenAs {
  readonly measure: Measure;
  readonly figure?: { readonly unit: string };
}

/** A figure as it is named, with what it comes to in SI. */
export interface Shown extends WrittenAs {
  readonly path: string;
  readonly si?: number;
}

export type Level = Severity | "off";

/** How loudly a check speaks: where it fails as drawn, by likely tolerances, in the worst case. */
export interface Levels {
  readonly nominal: Level;
  readonly rss: Level;
  readonly worst: Level;
}

export const defaultLevels: Levels = { nominal: "error", rss: "warning", worst: "note" };

/** Writes SI values in the reader's units. */
export class Writer extends FigureWriter {
  constructor(
    style: DisplayStyle,
    readonly levels: Levels,
    private readonly word: (found: { readonly is: string }, writer: Writer) => string,
  ) {
    super(style);
  }

  private readonly known = new WeakMap<object, Finding | undefined>();

  /** What is found is worded once for as long as it is kept. */
  once(found: object, make: () => Finding | undefined): Finding | undefined {
    if (!this.known.has(found)) this.known.set(found, make());
    return this.known.get(found);
  }

  /** The sentence of another finding, which a sentence speaks of. */
  message(found: { readonly is: string }): string {
    return this.word(found, this);
  }

  /** `54 11/16 in` */
  value(si: number | undefined, measure: Measure | undefined): string {
    if (si === undefined) return "missing";
    if (measure === undefined) return plain(si);
    return writeQuantity(si, measure, this.style)?.text ?? "missing";
  }

  /** Exact enough to compare: `54.679 in` where the fraction would hide the difference. */
  fine(si: number | undefined, measure: Measure | undefined): string {
    if (si === undefined) return "missing";
    return measure === undefined ? plain(si) : this.figure(si, measure);
  }

  /** Each by itself, exact enough to be told from the others. */
  apart(figures: readonly number[], measure: Measure | undefined): readonly string[] {
    const texts = figures.map((si) => this.fine(si, measure));
    if (new Set(texts).size === texts.length) return texts;
    const unit = measure && readUnit(displayOf(measure, this.style).unit, measure);
    const values = unit === undefined ? figures : figures.map((si) => fromSi(si, unit));
    for (let digits = 6; digits <= 15; digits++) {
      const written = values.map((value) => String(Number(value.toPrecision(digits))));
      if (new Set(written).size === written.length)
        return written.map((each) => (unit === undefined ? each : `${each} ${unit.symbol}`.trim()));
    }
    return texts;
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

  /** Figures, and differences of such: those of temperatures have no zero of their own. */
  withApart(
    figures: readonly number[],
    apart: readonly number[],
    measure: Measure | undefined,
    dimension?: Dimension,
  ): { readonly figures: readonly string[]; readonly apart: readonly string[] } {
    const difference = measure === undefined ? undefined : differenceOf(measure);
    if (difference !== measure)
      return {
        figures: this.together(figures, measure, dimension),
        apart: this.together(apart, difference),
      };
    const all = this.together([...figures, ...apart], measure, dimension);
    return { figures: all.slice(0, figures.length), apart: all.slice(figures.length) };
  }

  /** True where the figure there is written in another unit than those of its measure are shown in. */
  inOwnUnit({ figure, measure }: WrittenAs): boolean {
    const display = displayOf(measure, this.style);
    return figure !== undefined && figure.unit !== "" && figure.unit !== display.unit;
  }

  /** As the builder would write it in this place: in the unit the figure there is written in. */
  like(written: WrittenAs, si: number | undefined): string {
    const { figure, measure } = written;
    const text =
      this.inOwnUnit(written) && si !== undefined && figure !== undefined
        ? writeIn(si, measure, { unit: figure.unit })?.text
        : undefined;
    return text ?? this.fine(si, measure);
  }

  /** Such figures in one sentence: those of a measure alike, but for units of the builder's own. */
  alike(figures: readonly { readonly as: WrittenAs; readonly si: number | undefined }[]): string[] {
    const texts = figures.map(({ as, si }) => this.like(as, si));
    const shared = figures.flatMap(({ as, si }, place) =>
      si === undefined || this.inOwnUnit(as) ? [] : [{ place, si, measure: as.measure }],
    );
    // One measure may be shown in two units: an offset in millimeters among lengths in inches.
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
  exactly(written: WrittenAs, si: number): string {
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

// ───────────────────────────── helpers ─────────────────────────────

function plain(si: number): string {
  return String(Number(si.toPrecision(6)));
}
