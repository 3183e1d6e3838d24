/**
 * What all declarations are made of: blocks of members between braces, clauses, titles, names, and
 * the way back to firm ground after a mistake.
 *
 *     this.block("thing", "wheel w {", start, () => this.thingMember())
 *
 * Whatever is wrong inside a member ends with its line; a brace that is never closed is laid to the
 * block whose indents say so.
 *
 * Must not know: which declarations there are.
 */
import { type IOrAlt, type IToken, isRecognitionException, type ParserMethod } from "chevrotain";
import { farthest } from "./expression-parser";
import { HeadParser } from "./head-parser";
import { endOf, spanOf } from "./lexer";
import { opensBlock, opensClause, opensMember } from "./line-structure";
import * as problems from "./problems";
import { quoted } from "./reporting-parser";
import type { Clause, Expression, Path, Span, Text, Unreadable } from "./syntax";
import { Colon, Dot, End, LeftBrace, QuotedText, RightBrace, Word } from "./tokens";
import { clauseWords, severities, titledWords } from "./words";

/** Levels of braces within one another. */
const deepestBlock = 32;
/** Blanks at the beginning of a line that are told apart. */
const widestMargin = 200;

export type BlockScope = "top" | "thing" | "kind" | "table" | "designation" | "display";
export type Mutable<Type> = { -readonly [Key in keyof Type]: Type[Key] };

export const nothing: readonly never[] = [];

export abstract class BlockParser extends HeadParser {
  protected scope: BlockScope = "top";
  private blocks = 0;
  /** The item has an opening brace without its closing one. */
  private unclosed = false;
  private unclosedReported = false;
  /** Where the lines of an unclosed item begin; others are not looked at by lines. */
  private lineStarts: readonly number[] = nothing;

  protected resetBlocks(tokens: readonly IToken[]): void {
    this.scope = "top";
    this.blocks = 0;
    this.unclosed = lacksClosing(tokens);
    this.unclosedReported = false;
    this.lineStarts = this.unclosed ? lineStartsOf(this.text) : nothing;
  }

  // ───────────────────────────── clauses ─────────────────────────────

  protected readonly clause: ParserMethod<[], Clause> = this.RULE("clause", (): Clause => {
    const token = this.CONSUME(Word);
    const word = this.nameFrom(token);
    if (!this.RECORDING_PHASE && !clauseWords.has(word.text)) {
      this.report(problems.unknownClause(word.text, word.span));
    }
    const value = this.OR<IOrAlt<Expression>[]>([
      { ALT: () => this.SUBRULE(this.quotedText) },
      { ALT: () => this.SUBRULE(this.path) },
    ]);
    return this.ACTION(() => {
      if (word.text === "severity") this.lookAtSeverity(value);
      return { type: "clause", word, value, span: this.spanFrom(token) };
    });
  });

  private lookAtSeverity(value: Expression): void {
    const text =
      value.type === "path"
        ? value.names.map((name) => name.text).join(".")
        : value.type === "text"
          ? value.value
          : undefined;
    if (text === undefined || text === "" || severities.includes(text)) return;
    this.report(problems.unknownSeverity(text, value.span));
  }

  /** Clauses on this line and, unless `lineOnly`, on the lines after it. */
  protected clauses(lineOnly = false): readonly Clause[] {
    let clauses: Clause[] | undefined;
    for (;;) {
      if (this.LA(1).tokenType === End && !lineOnly && opensClause(this.LA(2), this.LA(3)))
        this.take();
      else if (opensClause(this.LA(1), this.LA(2)) || this.unknownClauseAhead()) {
        clauses ??= [];
        clauses.push(this.SUBRULE(this.clause));
      } else return clauses ?? nothing;
    }
  }

  /** A word and a text that are no declaration: most likely a misspelled clause word. */
  protected unknownClauseAhead(): boolean {
    const word = this.LA(1);
    return (
      word.tokenType === Word &&
      this.LA(2).tokenType === QuotedText &&
      !opensBlock(this.look, 1) &&
      !titledWords.has(word.image) &&
      word.image !== "row" &&
      word.image !== "form"
    );
  }

  /** A clause with nothing before it. */
  protected looseClause(): Unreadable {
    const word = this.LA(1);
    const known = clauseWords.has(word.image);
    const clause = this.SUBRULE(this.clause);
    if (known) this.report(problems.misplacedClause(word.image, clause.word.span));
    return { type: "unreadable", span: clause.span };
  }

  // ───────────────────────────── blocks ─────────────────────────────

  /**
   * Members between braces. `read` reads one and gives undefined where it finds none; whatever is
   * wrong inside a member ends with its line.
   */
  protected block<Type extends { readonly span: Span }>(
    scope: BlockScope,
    head: string,
    start: IToken,
    read: () => Type | undefined,
  ): { members: Type[]; body: Span } {
    const members: Type[] = [];
    if (this.RECORDING_PHASE) {
      this.consume(20, LeftBrace);
      this.consume(20, RightBrace);
      return { members, body: noSpan };
    }
    if (!this.openBlock(head)) {
      const at = this.endOfLast();
      return { members, body: { start: at, end: at } };
    }
    const open = this.take();
    const outerScope = this.scope;
    this.scope = scope;
    this.blocks++;
    const margin = this.unclosed ? this.indentAt(start.startOffset) : 0;
    let indented = false;
    while (true) {
      const next = this.LA(1);
      if (next.tokenType === End) {
        this.take();
        continue;
      }
      if (next.startOffset < 0 || next.image === "") {
        // One missing brace leaves every block around it open: the innermost is named.
        if (!this.unclosedReported) this.unclosedBlock(head, start, open);
        this.unclosedReported = true;
        break;
      }
      if (this.unclosed) {
        const first = isFirstOnLine(this.text, next.startOffset);
        const indent = first ? this.indentAt(next.startOffset) : 0;
        const closing = next.tokenType === RightBrace;
        indented ||= first ? indent > margin : true;
        const leftOf = closing ? indent < margin : indented && indent <= margin;
        if (first && leftOf) {
          this.unclosedBlock(head, start, open);
          break;
        }
      }
      if (next.tokenType === RightBrace) {
        this.take();
        break;
      }
      const member = this.guarded(read, memberWords[scope]);
      if (member !== undefined && member.type !== "unreadable") members.push(member as Type);
      else if (member !== undefined && scope === "thing") members.push(member as Type);
    }
    this.blocks--;
    this.scope = outerScope;
    // A copy has no room for more: texts are kept by the thousand.
    return { members: members.slice(), body: { start: open.startOffset, end: this.endOfLast() } };
  }

  /** True where a `{` is next and may be opened; else the reason why not is reported. */
  protected openBlock(head: string): boolean {
    const after = quoted(head.replace(/ *\{$/, ""));
    if (this.LA(1).tokenType !== LeftBrace) {
      if (!this.alreadyReported()) {
        const at = this.endOfLast();
        this.report(problems.missingBrace(after, this.found(), this.spanOfNext(), at));
      }
      // Something strange before the brace: what is in the braces still counts.
      const ahead = this.braceAhead();
      if (ahead === undefined) return false;
      for (let count = 0; count < ahead; count++) this.take();
    }
    if (this.blocks < deepestBlock) return true;
    this.report(problems.tooDeep("braces", deepestBlock, spanOf(this.LA(1))));
    this.skipBraces();
    return false;
  }

  protected braceAhead(): number | undefined {
    for (let ahead = 0; ahead < farthest; ahead++) {
      const next = this.LA(ahead + 1);
      if (next.tokenType === LeftBrace) return ahead;
      if (next.tokenType === End || next.tokenType === RightBrace || next.startOffset < 0) {
        return undefined;
      }
      if (next.tokenType === Colon || next.image === "") return undefined;
    }
    return undefined;
  }

  protected unclosedBlock(head: string, start: IToken, open: IToken): void {
    const last = this.endOfLast();
    const sameLine = !/[\n\r]/.test(this.text.slice(open.startOffset, last));
    // On a line of its own, it comes behind the comment that may end the last line.
    const rest = sameLine ? 0 : this.text.slice(last).search(/[\n\r]|$/);
    const at = last + rest;
    const margin = " ".repeat(this.indentAt(start.startOffset));
    const closing = sameLine ? " }" : `\n${margin}}`;
    const span = { start: start.startOffset, end: endOf(open) };
    this.report(problems.unclosedBrace(head, span, at, closing));
  }

  /** Blanks at the beginning of the line that holds `offset`; a tab counts as two. */
  private indentAt(offset: number): number {
    let low = 0;
    let high = this.lineStarts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.lineStarts[middle]! <= offset) low = middle + 1;
      else high = middle;
    }
    let width = 0;
    for (let at = this.lineStarts[low - 1] ?? 0; at < offset && width < widestMargin; at++) {
      if (this.text[at] === " ") width++;
      else if (this.text[at] === "\t") width += 2;
      else break;
    }
    return width;
  }

  /**
   * Reads one member and sees to it that something was read and that the member ends where a member
   * may end.
   */
  protected guarded<Type extends { readonly span: Span; readonly type?: string }>(
    read: () => Type | undefined,
    expected: string,
  ): (Type & { readonly type?: string }) | (Unreadable & Type) | undefined {
    const first = this.LA(1);
    this.resetExpressions();
    let node: Type | undefined;
    try {
      node = read();
    } catch (error) {
      // The rules report what they miss; this is for what they did not foresee.
      if (!(error instanceof Error) || !isRecognitionException(error)) throw error;
      if (!this.alreadyReported()) this.reportUnexpected("something else");
      this.skipMember();
    }
    const stuck = this.LA(1) === first;
    if (stuck) {
      if (!this.alreadyReported()) this.reportUnexpected(expected);
      this.skipMember();
      if (this.LA(1) === first && !this.atEnd()) this.take();
    } else if (!this.atBreak() && !opensMember(this.look) && !opensClause(this.LA(1), this.LA(2))) {
      if (!this.alreadyReported()) this.reportUnexpected("the end of the line");
      this.skipMember();
    }
    if (node !== undefined) return node;
    const span = { start: first.startOffset, end: Math.max(this.endOfLast(), first.startOffset) };
    return { type: "unreadable", span } as Unreadable & Type;
  }

  /** Skips to the end of the member: its line, with whatever braces open on it. */
  protected skipMember(): void {
    while (!this.atBreak()) {
      if (this.LA(1).tokenType === LeftBrace) this.skipBraces();
      else {
        const taken = this.take();
        if (taken.tokenType !== Dot && opensMember(this.look)) return;
      }
    }
  }

  /** Skips from `{` to its `}`. */
  protected skipBraces(): void {
    let depth = 0;
    while (!this.atEnd()) {
      const type = this.take().tokenType;
      if (type === LeftBrace) depth++;
      else if (type === RightBrace && --depth === 0) return;
    }
  }

  protected skipMisplaced(what: string): void {
    const first = this.LA(1);
    this.report(problems.misplaced(what, "here", spanOf(first)));
    this.take();
    while (!this.atBreak() && this.LA(1).tokenType !== LeftBrace) this.take();
    if (this.LA(1).tokenType === LeftBrace) this.skipBraces();
  }

  protected marker(): Unreadable {
    const token = this.take();
    this.report(problems.conflictMarker(spanOf(token)));
    return { type: "unreadable", span: spanOf(token) };
  }

  protected dropped(_node: Unreadable): undefined {
    return undefined;
  }
}

export const noSpan: Span = { start: 0, end: 0 };

const memberWords: { readonly [Key in BlockScope]: string } = {
  top: "a declaration",
  thing: "`field: value`, `part { … }` or `kind name { … }`",
  kind: "`field: type`, a relation or a check",
  table: "`key name: type`, `name: type` or `row …`",
  designation: '`part: type` or `form "…"`',
  display: "`measure: unit`",
};

export function withLikeness<Type extends { readonly like?: Path }>(
  node: Omit<Type, "like">,
  like: Path | undefined,
): Type {
  return (like === undefined ? node : { ...node, like }) as Type;
}

export function withTitle<Type extends { readonly title?: Text }>(
  node: Omit<Type, "title">,
  title: Text | undefined,
): Type {
  return (title === undefined ? node : { ...node, title }) as Type;
}

/** True where an opening brace has no closing one. */
function lacksClosing(tokens: readonly IToken[]): boolean {
  let depth = 0;
  for (const token of tokens) {
    if (token.tokenType === LeftBrace) depth++;
    else if (token.tokenType === RightBrace && depth > 0) depth--;
  }
  return depth > 0;
}

function lineStartsOf(text: string): number[] {
  const starts = [0];
  for (const end of text.matchAll(/\r\n|\n|\r/g)) starts.push(end.index + end[0].length);
  return starts;
}

function isFirstOnLine(text: string, offset: number): boolean {
  let at = offset - 1;
  while (at >= 0 && (text[at] === " " || text[at] === "\t")) at--;
  return at < 0 || text[at] === "\n" || text[at] === "\r";
}
