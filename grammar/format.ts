/**
 * The canonical layout of a file.
 *
 *     format("wheel w {\n offset :18 mm\n}").text  // "wheel w {\n  offset: 18 mm\n}\n"
 *
 * Two spaces for each level, two more for a line that goes on; one space after `:` and round
 * operators; nothing is lined up in columns; at most one blank line. A block written on one line stays on
 * one line, `;` between its members, as long as it fits; a block written on several lines
 * has one member a line. A record written on one line stays on it however long it is, so that logs
 * of several people can be merged line by line. Where lines are broken is otherwise left to the builder, so a change to
 * one line never touches another.
 *
 * The layout never changes what is said: the result is read again and compared, and a file with a
 * syntax problem is handed back as it is.
 *
 * Must not know: what any name means.
 */

import type { IToken, TokenType } from "chevrotain";
import { itemMarks, type LayoutMarks } from "./layout-marks";
import { endOf, readTokens, singleBlanks } from "./lexer";
import type { SyntaxProblem } from "./problems";
import { parseFile } from "./source-file";
import type { Item, SourceFile } from "./syntax";
import {
  Colon,
  Comma,
  DesignationWord,
  Dot,
  DotDot,
  LeftBrace,
  LeftBracket,
  LeftParenthesis,
  Minus,
  Newline,
  NumberWord,
  RightBrace,
  RightBracket,
  RightParenthesis,
  Semicolon,
  Unit,
} from "./tokens";

export interface Formatted {
  readonly text: string;
  /** Set where the text was left as it is. */
  readonly refused?: Refused;
}

/** Why a text is not laid out: what is wrong in it, on which line, counted from 1. */
export type Refused =
  | { readonly is: "problem"; readonly line: number; readonly problem: SyntaxProblem }
  /** Laid out it would say something else. */
  | { readonly is: "meaning" };

/** A block on one line may reach this far. */
const widest = 100;

export function format(text: string): Formatted {
  const file = parseFile(text);
  const refused = whyNot(file);
  if (refused !== undefined) return { text, refused };
  const mark = text.startsWith("\ufeff") ? "\ufeff" : "";
  const newline = /\r\n|\n|\r/.exec(text)?.[0] === "\r\n" ? "\r\n" : "\n";
  const lines: string[] = [];
  if (file.items.length === 0) printItem(text, noMarks, false, lines);
  let ended = true;
  for (const item of file.items) {
    printItem(item.text, itemMarks(item), ended, lines, isOneLineEntry(item));
    ended = /[\n\r]$/.test(item.text);
  }
  const result = lines.length === 0 ? mark : `${mark}${lines.join(newline)}${newline}`;
  if (!saysTheSame(file, parseFile(result))) {
    return { text, refused: { is: "meaning" } };
  }
  return { text: result };
}

function whyNot(file: SourceFile): Refused | undefined {
  for (const item of file.items) {
    const [problem] = item.problems;
    if (problem === undefined) continue;
    const { line } = file.positionAt(file.offsetOf(item) + problem.span.start);
    return { is: "problem", line: line + 1, problem };
  }
  return undefined;
}

// ───────────────────────────── one item ─────────────────────────────

interface Lexeme {
  /** Undefined for a comment. */
  readonly type?: TokenType;
  readonly image: string;
  readonly start: number;
  readonly end: number;
  /** Newlines between this and the one before. */
  readonly breaks: number;
}

const noMarks: LayoutMarks = {
  members: new Set(),
  rows: new Set(),
  calls: new Set(),
  signs: new Set(),
  blocks: new Map(),
  verbatim: [],
};

/** A record whose block begins and ends on one line. */
function isOneLineEntry({ node, text }: Item): boolean {
  return node.type === "record" && !/[\n\r]/.test(text.slice(node.body.start, node.body.end));
}

function printItem(
  text: string,
  marks: LayoutMarks,
  ended: boolean,
  lines: string[],
  unbroken = false,
): void {
  const lexemes = lexemesOf(text, ended ? 1 : 0);
  const broken = new Set<number>();
  for (;;) {
    const printer = new Printer(text, lexemes, marks, broken);
    const printed = printer.print();
    if (printer.tooWide.size === 0 || unbroken) {
      const blank = (lexemes[0]?.breaks ?? 0) > 1 && lines.length > 0;
      if (blank) lines.push("");
      for (const line of printed) lines.push(line);
      return;
    }
    for (const brace of printer.tooWide) broken.add(brace);
  }
}

function lexemesOf(text: string, breaksBefore: number): Lexeme[] {
  const { tokens, comments } = readTokens(text);
  const lexemes: Lexeme[] = [];
  let breaks = breaksBefore;
  let comment = 0;
  const add = (image: string, start: number, end: number, type?: TokenType): void => {
    lexemes.push({ image, start, end, breaks, ...(type === undefined ? {} : { type }) });
    breaks = 0;
  };
  const addCommentsBefore = (offset: number): void => {
    for (; comment < comments.length && comments[comment]!.start < offset; comment++) {
      const { start, end } = comments[comment]!;
      add(text.slice(start, end).trimEnd(), start, end);
    }
  };
  for (const token of tokens) {
    addCommentsBefore(token.startOffset);
    if (token.tokenType === Newline) breaks++;
    else if (token.tokenType !== Semicolon)
      add(settled(token), token.startOffset, endOf(token), token.tokenType);
  }
  addCommentsBefore(Number.POSITIVE_INFINITY);
  return lexemes;
}

/** Literals of several words have one blank between them; texts stay as typed. */
function settled(token: IToken): string {
  const ofWords = token.tokenType === NumberWord || token.tokenType === DesignationWord;
  return ofWords ? singleBlanks(token.image) : token.image;
}

class Printer {
  /** The outermost one-line blocks that reach too far. */
  readonly tooWide = new Set<number>();
  private readonly lines: string[] = [];
  private line = "";
  /** The blocks that are open, outermost first. */
  private readonly open: { readonly start: number; readonly onOneLine: boolean }[] = [];

  private readonly tokenBehind: Int32Array;
  /** The first place in `marks.verbatim` that may still matter. */
  private verbatim = 0;

  constructor(
    private readonly text: string,
    private readonly lexemes: readonly Lexeme[],
    private readonly marks: LayoutMarks,
    private readonly broken: ReadonlySet<number>,
  ) {
    this.tokenBehind = tokensBehind(lexemes);
  }

  print(): string[] {
    let before: Lexeme | undefined;
    for (let index = 0; index < this.lexemes.length; index++) {
      const lexeme = this.lexemes[index]!;
      if (before !== undefined) this.separate(before, lexeme, index);
      this.line += lexeme.image;
      if (lexeme.type === LeftBrace) {
        this.open.push({ start: lexeme.start, onOneLine: this.fitsOneLine(lexeme.start) });
      } else if (lexeme.type === RightBrace) this.close();
      before = lexeme;
    }
    if (this.line !== "") this.lines.push(this.line);
    return this.lines;
  }

  private close(): void {
    const block = this.open.pop();
    if (block?.onOneLine !== true || this.line.length <= widest) return;
    const outermost = this.open.find((each) => each.onOneLine) ?? block;
    if (!this.isEmpty(outermost.start)) this.tooWide.add(outermost.start);
  }

  /** Puts what belongs between two neighbors. */
  private separate(before: Lexeme, next: Lexeme, index: number): void {
    const inside = this.open.at(-1);
    if (next.type === undefined) {
      if (next.breaks === 0) this.line += "  ";
      else this.breakLine(before, next, this.depth() + (this.goesOnBehind(index) ? 1 : 0));
      return;
    }
    const member = this.marks.members.has(next.start);
    if (before.type === undefined) {
      const plain = member || next.type === RightBrace;
      this.breakLine(
        before,
        next,
        this.depth() - (next.type === RightBrace ? 1 : 0) + (plain ? 0 : 1),
      );
    } else if (next.type === RightBrace) {
      if (inside?.onOneLine === true) this.line += " ";
      else this.breakLine(before, next, this.depth() - 1);
    } else if (member) {
      const row = this.marks.rows.has(next.start) && next.breaks === 0;
      if (before.type === LeftBrace && inside?.onOneLine === true) this.line += " ";
      else if (inside?.onOneLine === true || (row && before.type !== LeftBrace)) this.line += "; ";
      else this.breakLine(before, next, this.depth());
    } else if (next.breaks > 0 && next.type !== LeftBrace) {
      this.breakLine(before, next, this.depth() + 1);
    } else this.line += this.gap(before, next);
  }

  private breakLine(before: Lexeme, next: Lexeme, depth: number): void {
    this.lines.push(this.line);
    if (next.breaks > 1 && before.type !== LeftBrace && next.type !== RightBrace) {
      this.lines.push("");
    }
    this.line = "  ".repeat(Math.max(0, depth));
  }

  /** True where a comment's own line lies inside a member that goes on after it. */
  private goesOnBehind(index: number): boolean {
    const next = this.lexemes[this.tokenBehind[index]!];
    if (next === undefined || next.type === RightBrace || index < this.tokenBehind[0]!)
      return false;
    return !this.marks.members.has(next.start);
  }

  private depth(): number {
    let depth = 0;
    for (const block of this.open) if (!block.onOneLine) depth++;
    return depth;
  }

  private fitsOneLine(brace: number): boolean {
    if (this.isEmpty(brace)) return true;
    const end = this.marks.blocks.get(brace);
    if (end === undefined || this.broken.has(brace)) return false;
    return !/[\n\r]/.test(this.text.slice(brace, end));
  }

  private isEmpty(brace: number): boolean {
    const end = this.marks.blocks.get(brace);
    return end !== undefined && /^\{[\s;]*\}$/.test(this.text.slice(brace, end));
  }

  private gap(before: Lexeme, next: Lexeme): string {
    const written = next.start === before.end ? "" : " ";
    if (this.isVerbatim(before, next) || next.type === Unit) return written;
    const last = before.type;
    const first = next.type;
    if (first === Comma || first === Colon || first === Dot || first === DotDot) return "";
    if (first === RightParenthesis || first === RightBracket) return "";
    if (last === LeftParenthesis || last === LeftBracket || last === Dot || last === DotDot)
      return "";
    if (first === LeftParenthesis && this.marks.calls.has(next.start)) return "";
    if (last === Minus && this.marks.signs.has(before.start)) return "";
    return " ";
  }

  /** Asked of neighbors in their order. */
  private isVerbatim(before: Lexeme, next: Lexeme): boolean {
    const { verbatim } = this.marks;
    while (this.verbatim < verbatim.length && verbatim[this.verbatim]!.end < next.end)
      this.verbatim++;
    const span = verbatim[this.verbatim];
    return span !== undefined && span.start <= before.start;
  }
}

/** For each lexeme, the index of the first token from it on. */
function tokensBehind(lexemes: readonly Lexeme[]): Int32Array {
  const behind = new Int32Array(lexemes.length + 1).fill(lexemes.length);
  for (let index = lexemes.length - 1; index >= 0; index--) {
    behind[index] = lexemes[index]!.type === undefined ? behind[index + 1]! : index;
  }
  return behind;
}

// ───────────────────────────── the check at the end ─────────────────────────────

function saysTheSame(one: SourceFile, other: SourceFile): boolean {
  if (one.items.length !== other.items.length) return false;
  return one.items.every((item, index) => meaning(item) === meaning(other.items[index]!));
}

function meaning(item: Item): string {
  const comments = item.comments.map(({ start, end }) => item.text.slice(start, end).trimEnd());
  const places = new Set(["span", "body"]);
  return JSON.stringify([item.node, comments, item.problems.length], (key, value: unknown) =>
    places.has(key) ? undefined : value,
  );
}
