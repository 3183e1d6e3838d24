/**
 * A file that was read already, as plain data for what ships: its items need not be parsed again, and
 * the long lists in them (fields of a kind, rows of a table) not be looked at before someone does.
 *
 *     const file = unpacked(text, packed(parseFile(text), []))   // the same items, none of them parsed
 *
 * A node is packed as the number of its shape, its place counted from where the node around it
 * begins, and its values; what is the very text at its place is not written again.
 *
 * Must not know: what any name means, where the data is kept.
 */
import { restoredFile } from "./source-file";
import type { Item, ItemNode, SourceFile, Span } from "./syntax";

export interface PackedFile {
  /** The shapes of its nodes; many files can share them. */
  readonly shapes: readonly PackedShape[];
  /** Absolute offset of each item. */
  readonly starts: readonly number[];
  readonly items: readonly PackedItem[];
}

interface PackedItem {
  /** Its node, with nothing where something is kept for later. */
  readonly node: Packed;
  /** What is long, as JSON by its name in the node. */
  readonly later: Readonly<Record<string, string>>;
  readonly comments: readonly Span[];
}

/**
 * The names of what a node holds, in their order: `type:kind` says what it is, `text=` that this is the
 * text at its place, `text~` the same without its quotation marks.
 */
export type PackedShape = readonly string[];

/** 0 and the members of a list; or the number of a shape from 1 on, and what it holds. */
type Packed = string | number | boolean | null | readonly Packed[];

/**
 * Adds to `shapes` what it meets. Undefined for a file in which something is wrong: that is read when
 * it is needed.
 */
export function packed(file: SourceFile, shapes: PackedShape[]): PackedFile | undefined {
  const { items } = file;
  if (items.some(({ problems }) => problems.length > 0)) return undefined;
  const packing = new Packing(shapes);
  return {
    shapes,
    starts: items.map((item) => file.offsetOf(item)),
    items: items.map((item) => packing.item(item)),
  };
}

export function unpacked(text: string, { shapes, starts, items }: PackedFile): SourceFile {
  const restored = items.map(({ node, later, comments }, at): Item => {
    const own = text.slice(starts[at], starts[at + 1]);
    const unpacking = new Unpacking(shapes, own);
    return { node: unpacking.node(node, later), text: own, problems: [], comments };
  });
  return restoredFile(text, restored, starts);
}

// ───────────────────────────── helpers ─────────────────────────────

/** A list shorter than this, as JSON, is not worth putting off. */
const short = 200;

class Packing {
  private readonly numbers: Map<string, number>;
  private text = "";

  constructor(private readonly shapes: PackedShape[]) {
    this.numbers = new Map(shapes.map((shape, at) => [shape.join(), at + 1]));
  }

  item({ node, text, comments }: Item): PackedItem {
    this.text = text;
    const later: Record<string, string> = {};
    const light: Record<string, unknown> = {};
    for (const [key, value] of Object.entries(node)) {
      const list = Array.isArray(value) ? JSON.stringify(this.value(value, node.span.start)) : "";
      if (list.length >= short) later[key] = list;
      light[key] = list.length >= short ? null : value;
    }
    return { node: this.value(light, 0), later, comments };
  }

  private value(value: unknown, base: number): Packed {
    if (Array.isArray(value)) return [0, ...value.map((each) => this.value(each, base))];
    if (typeof value === "object" && value !== null) return this.object(value, base);
    if (typeof value === "string" || typeof value === "boolean") return value;
    if (value === null || (typeof value === "number" && Number.isFinite(value))) return value;
    throw new Error(`there is no packing ${String(value)}`);
  }

  private object(value: object, base: number): Packed {
    const span = "span" in value ? (value.span as Span) : undefined;
    const shape: string[] = [];
    const data: Packed[] = span === undefined ? [] : [span.start - base, span.end - span.start];
    for (const [key, each] of Object.entries(value)) {
      if (each === undefined) continue;
      const mark = key === "type" ? `:${each}` : key === "span" ? "" : this.markOf(each, span);
      shape.push(key + mark);
      if (mark === "" && key !== "span") data.push(this.value(each, span?.start ?? base));
    }
    return [this.numberOf(shape), ...data];
  }

  private markOf(value: unknown, span: Span | undefined): string {
    if (span === undefined || typeof value !== "string") return "";
    if (value === this.text.slice(span.start, span.end)) return "=";
    return value === this.text.slice(span.start + 1, span.end - 1) ? "~" : "";
  }

  private numberOf(shape: readonly string[]): number {
    const key = shape.join();
    let number = this.numbers.get(key);
    if (number === undefined) {
      number = this.shapes.push(shape);
      this.numbers.set(key, number);
    }
    return number;
  }
}

class Unpacking {
  constructor(
    private readonly shapes: readonly PackedShape[],
    private readonly text: string,
  ) {}

  /** Reads what was kept for later when it is first asked for; keys keep their order. */
  node(data: Packed, later: Readonly<Record<string, string>>): ItemNode {
    const node = this.value(data, 0) as ItemNode;
    for (const [key, text] of Object.entries(later)) {
      const put = { enumerable: true, configurable: true } as const;
      Object.defineProperty(node, key, {
        ...put,
        get: () => {
          const value = this.value(JSON.parse(text) as Packed, node.span.start);
          Object.defineProperty(node, key, { ...put, value });
          return value;
        },
      });
    }
    return node;
  }

  private value(data: Packed, base: number): unknown {
    if (!Array.isArray(data)) return data;
    const list = data as readonly Packed[];
    const number = list[0] as number;
    return number === 0
      ? list.slice(1).map((each) => this.value(each, base))
      : this.object(this.shapes[number - 1] ?? [], list, base);
  }

  private object(shape: PackedShape, data: readonly Packed[], base: number): object {
    const { hasSpan, entries } = takenApart(shape);
    const object: Record<string, unknown> = {};
    let at = 1;
    let span: Span | undefined;
    if (hasSpan) {
      const start = base + (data[at++] as number);
      span = { start, end: start + (data[at++] as number) };
    }
    const inside = span?.start ?? base;
    for (const { key, mark, word } of entries) {
      if (mark === ":") object[key] = word;
      else if (mark === "=") object[key] = this.text.slice(span?.start, span?.end);
      else if (mark === "~") object[key] = this.text.slice(inside + 1, (span?.end ?? 0) - 1);
      else if (key === "span") object.span = span;
      else object[key] = this.value(data[at++] as Packed, inside);
    }
    return object;
  }
}

interface ShapeTakenApart {
  readonly hasSpan: boolean;
  readonly entries: readonly {
    readonly key: string;
    readonly mark: string;
    readonly word: string;
  }[];
}

/** Some hundred shapes serve many thousands of nodes: each is looked at once. */
const apart = new WeakMap<PackedShape, ShapeTakenApart>();

function takenApart(shape: PackedShape): ShapeTakenApart {
  let known = apart.get(shape);
  if (known === undefined) {
    const entries = shape.map((entry) => {
      const at = entry.search(/[:=~]/);
      if (at < 0) return { key: entry, mark: "", word: "" };
      return { key: entry.slice(0, at), mark: entry.charAt(at), word: entry.slice(at + 1) };
    });
    known = { hasSpan: shape.includes("span"), entries };
    apart.set(shape, known);
  }
  return known;
}
