/**
 * One file as read: its items in order, each with its tree and problems.
 *
 *     const first = parseFile("wheel a { }\nwheel b { }\n");
 *     const second = parseFile("wheel a { }\nwheel b { offset: ? }\n", first);
 *     second.items[0] === first.items[0]  // true: its text is the same
 *
 * With the file before the edit at hand, only the text between the first and the last difference is
 * split and parsed again; the result says the same as that of a fresh parse, and an item of which only
 * remarks and empty lines differ stays the item it was.
 *
 * Must not know: what any name means, other files.
 */
import { itemEnd, significantFrom, splitItems, unclosed } from "./items";
import { type Layout, laidOut } from "./layout";
import { ownCopy } from "./own-copy";
import { parseItem } from "./parser";
import { notText } from "./problems";
import type { Item, SourceFile } from "./syntax";

export function parseFile(text: string, previous?: SourceFile): SourceFile {
  if (text.includes("\0")) return binaryFile(text);
  if (previous instanceof ParsedFile) {
    if (previous.text === text) return previous;
    return reparsed(text, previous);
  }
  return fresh(text);
}

/** A file whose items are there already; see `packed-file.ts`. */
export function restoredFile(
  text: string,
  items: readonly Item[],
  starts: readonly number[],
): SourceFile {
  return new ParsedFile(text, items, starts, Number.POSITIVE_INFINITY);
}

class ParsedFile implements SourceFile {
  private indexes?: Map<Item, number>;
  private lines?: Int32Array;

  constructor(
    readonly text: string,
    readonly items: readonly Item[],
    /** Absolute offset of each item. */
    readonly starts: readonly number[],
    /** Items from here on may depend on text far behind them: a brace is left open there. */
    readonly openFrom: number,
    /** Of items that are laid out otherwise than the text they were read from. */
    readonly layouts: ReadonlyMap<Item, Layout> = none,
  ) {}

  offsetOf(item: Item, inside?: number): number {
    const start = this.startOf(item);
    if (inside === undefined || start < 0) return start + (inside ?? 0);
    return start + (this.layouts.get(item)?.now(inside) ?? inside);
  }

  insideOf(item: Item, offset: number): number {
    const inside = offset - this.startOf(item);
    return this.layouts.get(item)?.then(inside) ?? inside;
  }

  standing(item: Item): Pick<Item, "text" | "comments"> {
    return this.layouts.get(item) ?? item;
  }

  private startOf(item: Item): number {
    if (this.indexes === undefined) {
      this.indexes = new Map();
      for (let index = 0; index < this.items.length; index++) {
        this.indexes.set(this.items[index]!, index);
      }
    }
    const index = this.indexes.get(item);
    return index === undefined ? -1 : this.starts[index]!;
  }

  itemAt(offset: number): Item | undefined {
    return this.items[lastNotAbove(this.starts, offset)];
  }

  positionAt(offset: number): { line: number; character: number } {
    const lines = this.lineStarts();
    const place = clamp(offset, 0, this.text.length);
    const line = Math.max(0, lastNotAbove(lines, place));
    return { line, character: place - lines[line]! };
  }

  offsetAt(position: { line: number; character: number }): number {
    const lines = this.lineStarts();
    if (!(position.line >= 0)) return 0;
    const line = Math.floor(position.line);
    if (line >= lines.length) return this.text.length;
    const start = lines[line]!;
    let end = line + 1 < lines.length ? lines[line + 1]! : this.text.length;
    // A place past the last character is the end of the line, before its newline.
    if (line + 1 < lines.length) {
      end--;
      if (end > start && this.text[end] === "\n" && this.text[end - 1] === "\r") end--;
    }
    return clamp(
      start + (Number.isFinite(position.character) ? position.character : 0),
      start,
      end,
    );
  }

  private lineStarts(): Int32Array {
    this.lines ??= lineStartsOf(this.text);
    return this.lines;
  }

  /** Takes over where lines begin from the text before an edit that left `prefix` and `suffix` as they were. */
  linesFrom(before: ParsedFile, prefix: number, suffix: number): this {
    if (before.lines === undefined) return this;
    // A line end of two characters may have come about or been parted where the difference begins.
    const first = Math.max(0, lastNotAbove(before.lines, prefix - 1));
    const from = before.lines[first] as number;
    const same = before.text.length - suffix + 1;
    const next = lastNotAbove(before.lines, same) + 1;
    const shift = this.text.length - before.text.length;
    const end =
      next < before.lines.length ? (before.lines[next] as number) + shift : this.text.length;
    const between = lineStartsOf(this.text.slice(from, end));
    const last = next < before.lines.length ? between.length - 1 : between.length;
    const lines = new Int32Array(first + last + before.lines.length - next);
    lines.set(before.lines.subarray(0, first));
    for (let at = 0; at < last; at++) lines[first + at] = from + (between[at] as number);
    for (let at = next; at < before.lines.length; at++)
      lines[first + last + at - next] = (before.lines[at] as number) + shift;
    this.lines = lines;
    return this;
  }
}

// ───────────────────────────── reading again ─────────────────────────────

function reparsed(text: string, previous: ParsedFile): ParsedFile {
  const { starts, items } = previous;
  const shorter = Math.min(text.length, previous.text.length);
  const prefix = commonPrefix(text, previous.text, shorter);
  // An item's end is decided by the first words of the next one, so items before the two that
  // precede the difference are safe, as far as their braces are closed.
  const safe = Math.min(lastNotAbove(starts, prefix) - 2, lastNotAbove(starts, previous.openFrom));
  const first = Math.max(0, safe);
  if (previous.openFrom === Number.POSITIVE_INFINITY) {
    const spliced = spliceItems(text, previous, first, prefix);
    if (spliced !== undefined) return spliced;
  }
  const split = splitItems(text, starts[first] ?? 0);
  // Where only blanks are left behind it, the last item of the beginning has grown.
  if (first > 0 && split.starts.length === 0) return fresh(text, previous);
  const rest = itemsOf(text, split.starts, text.length, previous, items.slice(first), true);
  return new ParsedFile(
    text,
    items.slice(0, first).concat(rest.items),
    starts.slice(0, first).concat(split.starts),
    split.openFrom,
    rest.layouts,
  );
}

/**
 * Splits again only around the difference. Undefined where a brace is left open: then items far
 * behind the difference may change too.
 */
function spliceItems(
  text: string,
  previous: ParsedFile,
  first: number,
  prefix: number,
): ParsedFile | undefined {
  const { starts, items, text: old } = previous;
  const suffix = commonSuffix(text, old, Math.min(text.length, old.length) - prefix);
  const shift = text.length - old.length;
  const between: number[] = [];
  let start = starts[first] ?? 0;
  let next = first;
  for (;;) {
    while (next < starts.length && starts[next]! + shift < start) next++;
    const met = next < starts.length && starts[next]! + shift === start;
    if (met && starts[next]! >= old.length - suffix) break;
    if (significantFrom(text, start) >= text.length) {
      next = starts.length;
      break;
    }
    between.push(start);
    start = itemEnd(text, start);
    if (start === unclosed) return undefined;
  }
  const reachesEnd = next >= starts.length;
  if (reachesEnd && between.length === 0 && first > 0) return fresh(text, previous);
  const end = reachesEnd ? text.length : start;
  const middle = itemsOf(text, between, end, previous, items.slice(first, next), true);
  const tail = starts.slice(next);
  if (shift !== 0) for (let index = 0; index < tail.length; index++) tail[index]! += shift;
  return new ParsedFile(
    text,
    items.slice(0, first).concat(middle.items, items.slice(next)),
    starts.slice(0, first).concat(between, tail),
    Number.POSITIVE_INFINITY,
    middle.layouts,
  ).linesFrom(previous, prefix, suffix);
}

function fresh(text: string, previous?: ParsedFile): ParsedFile {
  const split = splitItems(text);
  const { items, layouts } = itemsOf(text, split.starts, text.length, previous, previous?.items);
  return new ParsedFile(text, items, split.starts, split.openFrom, layouts);
}

interface ItemsRead {
  readonly items: Item[];
  readonly layouts: ReadonlyMap<Item, Layout>;
}

/**
 * The items of a row of places, taken from `old` of the file before where first or last ones have the
 * same text, or where as many are left and one says the same. With `copied`, new items do not hold on
 * to the whole text of the file.
 */
function itemsOf(
  text: string,
  starts: readonly number[],
  end: number,
  previous?: ParsedFile,
  old: readonly Item[] = [],
  copied = false,
): ItemsRead {
  const items: Item[] = new Array(starts.length);
  const endOf = (index: number): number => starts[index + 1] ?? end;
  const same = (index: number, item: Item | undefined): item is Item => {
    const start = starts[index]!;
    if (item === undefined) return false;
    const before = previous?.standing(item).text ?? item.text;
    return before.length === endOf(index) - start && text.startsWith(before, start);
  };
  let head = 0;
  while (head < starts.length && same(head, old[head])) {
    items[head] = old[head]!;
    head++;
  }
  let tail = starts.length;
  let oldTail = old.length;
  while (tail > head && oldTail > head && same(tail - 1, old[oldTail - 1])) {
    items[--tail] = old[--oldTail]!;
  }
  const layouts = new Map(previous?.layouts);
  for (let at = head; at < oldTail; at++) layouts.delete(old[at]!);
  for (let index = head; index < tail; index++) {
    const sliced = text.slice(starts[index]!, endOf(index));
    const part = copied ? ownCopy(sliced) : sliced;
    const before = tail === oldTail ? old[index] : undefined;
    if (before !== undefined && before.text === part) {
      items[index] = before;
      continue;
    }
    const layout = before && laidOut(before, part);
    items[index] = layout === undefined ? parseItem(part) : before!;
    if (layout !== undefined) layouts.set(before!, layout);
  }
  return { items, layouts: layouts.size === 0 ? none : layouts };
}

/** Length of the longest common beginning, at most `most`. */
function commonPrefix(one: string, other: string, most: number): number {
  let same = 0;
  while (same < most) {
    const end = Math.min(same + chunk, most);
    if (one.slice(same, end) !== other.slice(same, end)) break;
    same = end;
  }
  while (same < most && one.charCodeAt(same) === other.charCodeAt(same)) same++;
  return same;
}

/** Length of the longest common end, at most `most`. */
function commonSuffix(one: string, other: string, most: number): number {
  let same = 0;
  while (same < most) {
    const end = Math.min(same + chunk, most);
    const left = one.slice(one.length - end, one.length - same);
    if (left !== other.slice(other.length - end, other.length - same)) break;
    same = end;
  }
  while (
    same < most &&
    one.charCodeAt(one.length - 1 - same) === other.charCodeAt(other.length - 1 - same)
  ) {
    same++;
  }
  return same;
}

const chunk = 4096;
const none: ReadonlyMap<Item, Layout> = new Map();

// ───────────────────────────── helpers ─────────────────────────────

function binaryFile(text: string): ParsedFile {
  const end = Math.min(1, text.length);
  const item: Item = {
    node: { type: "unreadable", span: { start: 0, end: text.length } },
    text,
    problems: [notText({ start: 0, end })],
    comments: [],
  };
  // Open from the very start: the next text is split afresh.
  return new ParsedFile(text, [item], [0], 0);
}

/** Index of the last entry that is not above `value`; -1 where all are. */
function lastNotAbove(ascending: readonly number[] | Int32Array, value: number): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ascending[middle]! <= value) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

function lineStartsOf(text: string): Int32Array {
  const starts = [0];
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) starts.push(at + 1);
  // A carriage return alone ends a line too, but it is rare enough to be looked for once.
  if (/\r(?!\n)/.test(text)) {
    for (const lone of text.matchAll(/\r(?!\n)/g)) starts.push(lone.index + 1);
    starts.sort((one, other) => one - other);
  }
  return Int32Array.from(starts);
}

function clamp(value: number, low: number, high: number): number {
  return value >= low ? Math.min(value, high) : low;
}
