/**
 * What a drawing is made of before it is laid out: lines and areas in millimeters of the part, x to
 * the right and y upward, dimensions with the figure they tell, names with a leader.
 *
 *     const drawing = new Draft("Rear axle from behind");
 *     drawing.rectangle("outline", [0, 0], [50, 20], { part: "block" });
 *     drawing.dimension({ side: "below", from: [0, 0], to: [50, 0], reading: { path: "block.width", text: "50 mm", … } });
 *     layOut(drawing, scale)
 *
 * Line kinds are those of ISO 128-2 (from memory): see `style.ts`. Must not know: scales, paper,
 * where figures come from, what anything is.
 */
import type { Point } from "./shape";

/** Kinds of lines, as in the style. */
export type LineKind =
  /** Wide: what is seen. */
  | "outline"
  /** Narrow: of dimensions, hatching, what is drawn by habit. */
  | "thin"
  /** Narrow dashed: what is hidden. */
  | "hidden"
  /** Narrow long-dashed dotted: axes, planes of symmetry, pitch circles. */
  | "center"
  /** Narrow long-dashed double-dotted: neighboring parts, other positions. */
  | "phantom"
  /** Narrow dashed and gray: stands in for what is not known. */
  | "unknown"
  /** Very wide: the saw line, what must be looked at. */
  | "heavy"
  /** Lines of a plot, told apart by width and dashes. */
  | "series0"
  | "series1"
  | "series2"
  | "series3"
  | "series4"
  | "grid"
  /** A circle that hides what runs behind it. */
  | "bubble"
  | "filled";

/** What a dimension or a name tells of a figure. */
export interface FigureLabel {
  /** Of the value: `rear.left.inner_gap`. Empty for what is no figure of the build. */
  readonly path: string;
  /** What stands in the drawing: `7/8 in ± 1/16`. */
  readonly text: string;
  /** What a pointer or a screen reader is told. */
  readonly told: string;
  readonly known: boolean;
  /** Stands out by weight and hatching. */
  readonly tight?: boolean;
}

export type Side = "above" | "below" | "left" | "right";

export interface DrawnDimension {
  /** Which side of the outlines it stands on; above and below measure along x, the others along y. */
  readonly side: Side;
  readonly from: Point;
  readonly to: Point;
  readonly reading: FigureLabel;
}

/** A name or a figure beside the part, led to it. */
export interface Note {
  readonly at: Point;
  readonly reading: FigureLabel;
}

export interface Mark {
  readonly kind: LineKind | "hatching" | "band";
  /** In millimeters of the part. */
  readonly points: readonly Point[];
  readonly closed: boolean;
  /** Set for circles: `points` is the center alone. */
  readonly radius?: number;
  /** Rounded corners, mm of the part. */
  readonly round?: number;
  /** By what a reader finds it: `rear.left tire`. */
  readonly part?: string;
  /** Path of the figure it stands for, where it stands for one. */
  readonly path?: string;
  /** Lines of hatching so far apart, mm on paper. */
  readonly hatch?: number;
  readonly turned?: boolean;
  /** Left out of what dimensions and leaders keep clear of: long axes. */
  readonly open?: boolean;
}

/** Letters that belong to a place: numbers of bolts, figures on an axis. */
export interface Lettering {
  readonly at: Point;
  readonly text: string;
  /** Of a capital, mm on paper; 2.5 unless said. */
  readonly height?: number;
  /** Which end of the text stands there; its middle unless said. */
  readonly from?: "start" | "end";
  readonly bold?: boolean;
}

export interface MarkOptions {
  readonly part?: string;
  readonly path?: string;
  readonly hatch?: number;
  readonly turned?: boolean;
  readonly round?: number;
  readonly open?: boolean;
}

export class Draft {
  readonly marks: Mark[] = [];
  readonly dimensions: DrawnDimension[] = [];
  readonly notes: Note[] = [];
  readonly letterings: Lettering[] = [];
  /** Figures the drawing would show and the build does not settle yet. */
  readonly missing: FigureLabel[] = [];
  /** Sentences below the drawing. */
  readonly remarks: string[] = [];

  constructor(
    readonly title: string,
    /** What it shows, for those who do not see it. */
    readonly description: string,
  ) {}

  line(kind: LineKind, from: Point, to: Point, options: MarkOptions = {}): void {
    this.add({ kind, points: [from, to], closed: false, ...options });
  }

  polygon(kind: Mark["kind"], points: readonly Point[], options: MarkOptions = {}): void {
    this.add({ kind, points, closed: true, ...options });
  }

  polyline(kind: LineKind, points: readonly Point[], options: MarkOptions = {}): void {
    this.add({ kind, points, closed: false, ...options });
  }

  /** Between two opposite corners. */
  rectangle(kind: Mark["kind"], one: Point, other: Point, options: MarkOptions = {}): void {
    const [x1, y1] = one;
    const [x2, y2] = other;
    const corners: Point[] = [
      [x1, y1],
      [x2, y1],
      [x2, y2],
      [x1, y2],
    ];
    this.add({ kind, points: corners, closed: true, ...options });
  }

  circle(kind: LineKind, center: Point, radius: number, options: MarkOptions = {}): void {
    this.add({ kind, points: [center], closed: true, radius, ...options });
  }

  dimension(dimension: DrawnDimension): void {
    const points = [...dimension.from, ...dimension.to];
    if (!points.every(Number.isFinite)) return;
    this.dimensions.push(dimension);
    this.miss(dimension.reading);
  }

  note(note: Note): void {
    if (!note.at.every(Number.isFinite)) return;
    this.notes.push(note);
    this.miss(note.reading);
  }

  letters(lettering: Lettering): void {
    if (lettering.at.every(Number.isFinite)) this.letterings.push(lettering);
  }

  /** Names a figure as missing, once. */
  miss(reading: FigureLabel): void {
    if (reading.known || reading.path === "") return;
    if (!this.missing.some(({ path }) => path === reading.path)) this.missing.push(reading);
  }

  private add(mark: Mark): void {
    if (mark.points.every((point) => point.every(Number.isFinite))) this.marks.push(mark);
  }
}
