/**
 * The outline of a file, each thing with its headline figures, and the names of many files.
 *
 *     documentSymbols(analysis, uri)   →   [{ name: "rear", detail: "track 58 1/2 in", children: … }]
 *
 * Must not know: how answers travel.
 */
import {
  type DocumentSymbol,
  type Position,
  type SymbolInformation,
  SymbolKind,
} from "vscode-languageserver";
import { codeIn } from "../../grammar/layout";
import type * as syntax from "../../grammar/syntax";
import type { Item, SourceFile } from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";
import type { ThingId } from "../names/ids";
import { told } from "../report/comes-out";
import { headlines, inWords } from "./figures";
import { enter, type FileWords, type Holder, namesAt } from "./holder";
import { rangeIn } from "./place";

const mostSymbols = 5_000;
const mostMatches = 200;

export function documentSymbols(analysis: Analysis, uri: string): DocumentSymbol[] {
  const source = analysis.sourceOf(uri);
  if (source === undefined) return [];
  const outline = new Outline(analysis, namesAt(analysis, uri), source);
  return source.items.flatMap((item) => outline.ofItem(item) ?? []);
}

/** Things and declarations of a file whose names hold the letters of the query in their order. */
export function matchingSymbols(
  source: SourceFile,
  uri: string,
  query: string,
): SymbolInformation[] {
  const found: SymbolInformation[] = [];
  for (const item of source.items) {
    const { node } = item;
    const name = nameOf(node);
    if (name === undefined || !matches(name.text, query)) continue;
    found.push({
      name: name.text,
      kind: symbolKind(node),
      location: { uri, range: rangeIn(source, item, name.span) },
      ...(node.type === "thing" ? { containerName: inWords(node.kind.text) } : {}),
    });
    if (found.length >= mostMatches) break;
  }
  return found;
}

/** Letters of `query` in their order, case aside: `rh` finds `rear_housing`. */
export function matches(name: string, query: string): boolean {
  const wanted = query.toLowerCase();
  let at = 0;
  for (const letter of name.toLowerCase()) if (letter === wanted[at]) at++;
  return at >= wanted.length;
}

// ───────────────────────────── helpers ─────────────────────────────

/** The symbol of a thing at the top of a file, as it was told last. */
interface ToldSymbol {
  readonly top: ThingId;
  /** What was known of the thing then. */
  readonly state: object;
  /** Where it began, and how it was laid out. */
  readonly at: Position;
  readonly standing: object;
  /** How many symbols it is, with all in it. */
  readonly count: number;
  readonly symbol: DocumentSymbol;
}

const toldSymbols = new WeakMap<Item, ToldSymbol>();

class Outline {
  private count = 0;

  constructor(
    private readonly analysis: Analysis,
    private readonly names: FileWords,
    private readonly source: SourceFile,
  ) {}

  /** A thing of which nothing is known otherwise is told as before. */
  ofItem(item: Item): DocumentSymbol | undefined {
    const { analysis, source } = this;
    if (item.node.type !== "thing") return this.symbol(item, item.node, undefined);
    const at = source.positionAt(source.offsetOf(item));
    const before = toldSymbols.get(item);
    if (
      before !== undefined &&
      before.state === analysis.stateOf(before.top) &&
      before.at.line === at.line &&
      before.at.character === at.character &&
      before.standing === source.standing(item) &&
      this.count + before.count <= mostSymbols
    ) {
      this.count += before.count;
      return before.symbol;
    }
    const first = this.count;
    const symbol = this.symbol(item, item.node, undefined);
    const top = enter(this.names, undefined, item.node)?.thing?.id;
    if (symbol === undefined || top === undefined || this.count >= mostSymbols) return symbol;
    const count = this.count - first;
    const standing = source.standing(item);
    toldSymbols.set(item, { top, state: analysis.stateOf(top), at, standing, count, symbol });
    return symbol;
  }

  private symbol(
    item: Item,
    node: syntax.ItemNode | syntax.Member,
    holder: Holder | undefined,
  ): DocumentSymbol | undefined {
    if (this.count >= mostSymbols) return undefined;
    const label = this.label(item, node);
    if (label === undefined) return undefined;
    this.count++;
    const inside = enter(this.names, holder, node) ?? holder;
    const members = "members" in node ? node.members : [];
    const children = members.flatMap((member) =>
      member.type === "part" || member.type === "thing" || member.type === "check"
        ? (this.symbol(item, member, inside) ?? [])
        : [],
    );
    const selection = within(label.span, node.span);
    const thing = node.type === "thing" || node.type === "part" ? inside?.thing : undefined;
    const detail = thing === undefined ? label.detail : this.figures(thing, label.detail);
    return {
      name: label.text === "" ? "(unnamed)" : label.text,
      detail,
      kind: symbolKind(node),
      range: rangeIn(this.source, item, node.span),
      selectionRange: rangeIn(this.source, item, selection),
      children,
    };
  }

  private figures(thing: NonNullable<Holder["thing"]>, title: string): string {
    const figures = headlines(thing, (path) => this.analysis.valueAt(path))
      .slice(0, 3)
      .map((value) => `${inWords(value.field.name)} ${told(value, this.analysis).text}`);
    return figures.length === 0 ? title : figures.join(", ");
  }

  private label(
    item: Item,
    node: syntax.ItemNode | syntax.Member,
  ): { text: string; span: syntax.Span; detail: string } | undefined {
    const title = "title" in node ? (node.title?.value ?? "") : "";
    switch (node.type) {
      case "thing":
        return {
          text: node.name.text,
          span: node.name.span,
          detail: title === "" ? node.kind.text : title,
        };
      case "part":
        return { text: pathText(node.path), span: node.path.span, detail: title };
      case "option":
      case "kind":
      case "designation_declaration":
      case "table":
      case "curve":
        return { text: node.name.text, span: node.name.span, detail: title };
      case "record":
        return {
          text: title === "" ? "record" : title,
          span: node.title?.span ?? head(node.span),
          detail: node.date?.text ?? "",
        };
      case "check": {
        const { span } = node.condition;
        const text = codeIn(item, span).replace(/\s+/g, " ");
        return {
          text: title === "" ? text : title,
          span: node.title?.span ?? span,
          detail: title === "" ? "" : text,
        };
      }
      case "relation":
      case "order":
        return title === ""
          ? undefined
          : { text: title, span: node.title?.span ?? head(node.span), detail: node.type };
      default:
        return undefined;
    }
  }
}

function nameOf(node: syntax.ItemNode): syntax.Name | undefined {
  switch (node.type) {
    case "thing":
    case "option":
    case "kind":
    case "designation_declaration":
    case "table":
    case "curve":
      return node.name.text === "" ? undefined : node.name;
    default:
      return undefined;
  }
}

function symbolKind(node: syntax.ItemNode | syntax.Member): SymbolKind {
  switch (node.type) {
    case "thing":
      return SymbolKind.Object;
    case "part":
      return SymbolKind.Field;
    case "kind":
      return SymbolKind.Class;
    case "designation_declaration":
      return SymbolKind.Struct;
    case "table":
      return SymbolKind.Array;
    case "option":
      return SymbolKind.Module;
    case "record":
      return SymbolKind.Event;
    case "check":
      return SymbolKind.Boolean;
    default:
      return SymbolKind.Function;
  }
}

function pathText(path: syntax.Path): string {
  return path.names.map((name) => name.text).join(".");
}

function head({ start, end }: syntax.Span): syntax.Span {
  return { start, end: Math.min(end, start + 1) };
}

/** An editor drops the whole outline where a selection sticks out of its range. */
function within(inner: syntax.Span, outer: syntax.Span): syntax.Span {
  const start = Math.min(Math.max(inner.start, outer.start), outer.end);
  return { start, end: Math.min(Math.max(inner.end, start), outer.end) };
}
