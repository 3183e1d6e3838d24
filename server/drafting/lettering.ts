/**
 * How wide text comes out, and texts with fractions as a shop reads them: over a bar.
 *
 *     const label = labelOf("58 1/8 in ± 1/32");
 *     label.width, label.height      // mm on paper
 *     letter(label, [10, 20])        // its shapes, begun at that baseline
 *
 * Widths are those of the sans-serif that every system has a metric twin of; each text is told its
 * length, so that another font is fitted into the same box and what was kept apart stays apart.
 * ISO 3098-1 (from memory): heights 1.8, 2.5, 3.5, 5 mm, the height being that of a capital.
 *
 * Must not know: what is written.
 */
import type { Box, Point, Shape } from "./shape";

/** A text laid out: pieces side by side from its left end at the baseline. */
export interface Label {
  readonly text: string;
  readonly width: number;
  /** Above the baseline. */
  readonly ascent: number;
  /** Below the baseline. */
  readonly descent: number;
  readonly pieces: readonly Piece[];
}

interface Piece {
  readonly text: string;
  readonly x: number;
  /** Of the baseline, downward. */
  readonly y: number;
  readonly width: number;
  readonly size: number;
  /** A bar of that width from here instead of a text. */
  readonly bar?: boolean;
}

/** Height of a capital, mm: one for all dimensions of a drawing. */
export const letterHeight = 2.5;

const capital = 0.716;
const tail = 0.212;
const fractionSize = 0.68;

/** `height`: of a capital. Numbers such as `1/8` become fractions over a bar. */
export function labelOf(text: string, height = letterHeight): Label {
  const size = height / capital;
  const small = size * fractionSize;
  const pieces: Piece[] = [];
  let x = 0;
  let stacked = false;
  for (const part of text.split(splitting)) {
    const fraction = fractionOf(part);
    if (fraction === undefined) {
      if (part === "") continue;
      const width = widthOf(part, size);
      pieces.push({ text: part, x, y: 0, width, size });
      x += width;
      continue;
    }
    stacked = true;
    const [top, bottom] = fraction;
    const wide = Math.max(widthOf(top, small), widthOf(bottom, small));
    const middle = -height / 2;
    const over = small * capital;
    pieces.push(
      centerd(top, x, wide, middle - height * 0.16, small),
      { text: "", x, y: middle, width: wide, size: 0, bar: true },
      centerd(bottom, x, wide, middle + height * 0.16 + over, small),
    );
    x += wide;
  }
  const reach = height / 2 + height * 0.16 + small * capital;
  return {
    text,
    width: x,
    ascent: stacked ? reach : height,
    descent: stacked ? Math.max(reach - height, size * tail) : size * tail,
    pieces,
  };
}

/** Its box where its left end stands at that baseline. */
export function boxOf({ width, ascent, descent }: Label, [x, y]: Point): Box {
  return [x, y - ascent, x + width, y + descent];
}

export function letter(label: Label, [x, y]: Point, kind = "letters"): Shape[] {
  return label.pieces.map(
    (piece): Shape =>
      piece.bar === true
        ? {
            tag: "line",
            attributes: {
              class: "bar",
              x1: x + piece.x,
              y1: y + piece.y,
              x2: x + piece.x + piece.width,
              y2: y + piece.y,
            },
            children: [],
          }
        : {
            tag: "text",
            attributes: {
              class: kind,
              x: x + piece.x,
              y: y + piece.y,
              "font-size": piece.size,
              textLength: piece.width,
              lengthAdjust: "spacingAndGlyphs",
            },
            children: [piece.text.replaceAll(/^ | $/g, hardSpace)],
          },
  );
}

/** Words on lines no wider than that. A word that is wider by itself is cut. */
export function wrappedLabels(text: string, width: number, height = letterHeight): Label[] {
  const size = height / capital;
  const lines: string[] = [];
  let current = "";
  for (const word of text.split(/\s+/)) {
    const fitting = cutTo(word, width, size);
    const longer = current === "" ? fitting : `${current} ${fitting}`;
    if (current === "" || widthOf(longer, size) <= width) current = longer;
    else {
      lines.push(current);
      current = fitting;
    }
  }
  return [...lines, current].map((each) => labelOf(each, height));
}

/** Cut with an ellipsis where it is wider than that. */
export function cutTo(text: string, width: number, size = letterHeight / capital): string {
  if (widthOf(text, size) <= width) return text;
  const letters = [...text];
  while (letters.length > 0 && widthOf(`${letters.join("")}…`, size) > width) letters.pop();
  return `${letters.join("")}…`;
}

// ───────────────────────────── helpers ─────────────────────────────

const splitting = /((?<![\w./])\d{1,3}\/\d{1,4}(?![\w./]))/;

/** A fraction of an inch, proper and by halves; `255/60` and `43/11` are none. */
function fractionOf(part: string): readonly [string, string] | undefined {
  const [top = "", bottom = "", more] = part.split("/");
  if (more !== undefined || !/^\d+$/.test(top) || !/^\d+$/.test(bottom)) return undefined;
  const below = Number(bottom);
  return Number(top) < below && Number.isInteger(Math.log2(below)) ? [top, bottom] : undefined;
}

/** A blank at either end of a text is dropped by those who draw it, a hard one is not. */
const hardSpace = "\u00a0";

function centerd(text: string, x: number, wide: number, y: number, size: number): Piece {
  const width = widthOf(text, size);
  return { text, x: x + (wide - width) / 2, y, width, size };
}

function widthOf(text: string, size: number): number {
  let thousandths = 0;
  for (const letter of text) thousandths += widths.get(letter) ?? otherWidth(letter);
  return (thousandths / 1000) * size;
}

function otherWidth(letter: string): number {
  const code = letter.codePointAt(0) ?? 0;
  if (/\p{Mark}/u.test(letter)) return 0;
  return code >= 0x1100 ? 1000 : /\p{Lu}/u.test(letter) ? 722 : 600;
}

/** Advance widths of the Helvetica core font in thousandths of its size (from memory). */
const widths: ReadonlyMap<string, number> = new Map(
  Object.entries({
    222: "ijl",
    260: "|",
    278: " .,:;/\\!ftI[]",
    191: "'",
    333: "-()r`",
    334: "{}",
    350: "•",
    355: '"',
    389: "*",
    400: "°",
    469: "^",
    500: "cksvxyzJ",
    556: "0123456789abdeghnopqu?_#$Lß–",
    584: "+±=<>×÷~−",
    611: "FTZ",
    667: "&ABEKPSVXY",
    722: "wCDHNRU",
    778: "GOQØ",
    833: "mM",
    889: "%",
    944: "W",
    1000: "…—→",
    1015: "@",
  }).flatMap(([width, letters]) => [...letters].map((letter) => [letter, Number(width)] as const)),
);
