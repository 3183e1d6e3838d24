/**
 * What the reading of anything needs: the next and the last token in words, places, and problems
 * reported once each.
 *
 *     this.report(problems.missingName(this.lastWords(), this.found(), this.spanOfNext()))
 *
 * Must not know: any rule of the language.
 */

import { EmbeddedActionsParser, type IToken } from "chevrotain";
import { endOf, spanOf } from "./lexer";
import type { Look } from "./line-structure";
import type { SyntaxProblem } from "./problems";
import * as problems from "./problems";
import type { Name, Span, Text } from "./syntax";
import { allTokens, Colon, End, Unknown } from "./tokens";

/** No place at all; -1 is the end of the text. */
export const nowhere = -2;
/** More problems than this in one item help nobody. */
const mostProblems = 100;

export abstract class ReportingParser extends EmbeddedActionsParser {
  protected problems: SyntaxProblem[] = [];
  protected text = "";
  /** Where the last problem was reported; what follows from it is not reported again. */
  protected reportedAt = nowhere;

  protected constructor(validate: boolean) {
    super(allTokens, { recoveryEnabled: false, maxLookahead: 1, skipValidations: !validate });
  }

  // ───────────────────────────── problems ─────────────────────────────

  protected report(problem: SyntaxProblem): void {
    this.reportedAt = this.LA(1).startOffset;
    if (this.problems.length < mostProblems) this.problems.push(problem);
  }

  /** True where nothing was read since the last problem. */
  protected alreadyReported(): boolean {
    return this.reportedAt === this.LA(1).startOffset;
  }

  protected reportUnexpected(expected: string): void {
    const next = this.LA(1);
    const span = this.spanOfNext();
    const sign = next.tokenType === Unknown || next.image === "=" ? this.signAhead() : undefined;
    this.report(sign ?? problems.unexpected(expected, this.found(), span));
  }

  /** For `≥` and its like, and `=>` typed for `>=`. */
  protected signAhead(): SyntaxProblem | undefined {
    const next = this.LA(1);
    const second = this.LA(2);
    if (second.startOffset === endOf(next) && next.image === "=") {
      const span = { start: next.startOffset, end: endOf(second) };
      return problems.signSpelling(next.image + second.image, span);
    }
    return problems.signSpelling(next.image, spanOf(next));
  }

  // ───────────────────────────── small helpers ─────────────────────────────

  protected readonly look: Look = (ahead) => this.LA(ahead + 1);

  /** Reads the next token whatever it is. */
  protected take(): IToken {
    const token = this.LA(1);
    this.SKIP_TOKEN();
    return token;
  }

  /** Where the token read last ends, newlines left out; 0 before the first. */
  protected endOfLast(): number {
    let back = 0;
    while (this.LA(back).tokenType === End) back--;
    const last = this.LA(back);
    return last.startOffset >= 0 && last.image !== "" ? endOf(last) : 0;
  }

  protected spanFrom(first: IToken): Span {
    return { start: first.startOffset, end: this.endOfLast() };
  }

  /** The next token's place, or the place right behind the last one where nothing follows. */
  protected spanOfNext(): Span {
    const next = this.LA(1);
    if (next.startOffset >= 0 && next.tokenType !== End && next.image !== "") return spanOf(next);
    const at = this.endOfLast();
    return { start: at, end: at };
  }

  protected nameFrom(token: IToken): Name {
    return { type: "name", text: token.image, span: spanOf(token) };
  }

  protected textFrom(token: IToken): Text {
    const span = spanOf(token);
    const straight = token.image.startsWith('"');
    const closed = isClosed(token.image);
    const inner = token.image.slice(1, closed ? -1 : undefined);
    if (!straight) this.report(problems.curlyQuotes(span, inner));
    else if (!closed) this.report(problems.unclosedText(span));
    const value = inner.includes("\\") ? inner.replace(/\\(["\\])/g, "$1") : inner;
    return { type: "text", value, span };
  }

  /** The next token in words: `` `left` ``, the end of the line. */
  protected found(): string {
    const next = this.LA(1);
    if (next.tokenType === End && next.image === ";") return "`;`";
    if (next.tokenType === End || next.startOffset < 0 || next.image === "") {
      return "the end of the line";
    }
    return quoted(shortened(next.image));
  }

  /** The last words read, as they are named in "expected … after …". */
  protected lastWords(): string {
    const last = this.LA(0);
    if (last.startOffset < 0 || last.image === "") return "the beginning of the line";
    if (last.tokenType !== Colon) return quoted(shortened(last.image));
    const head = this.text.slice(Math.max(0, last.startOffset - 80), last.startOffset + 1);
    const named = head.match(/[^\s:{};"]+[ \t]*:$/)?.[0];
    return named === undefined ? "the title and `:`" : quoted(named);
  }
}

export function quoted(text: string): string {
  return `\`${text}\``;
}

function isClosed(image: string): boolean {
  if (image.length < 2) return false;
  if (!image.startsWith('"')) return "“”„".includes(image.at(-1)!);
  if (!image.endsWith('"')) return false;
  let backslashes = 0;
  while (image[image.length - 2 - backslashes] === "\\") backslashes++;
  return backslashes % 2 === 0;
}

function shortened(text: string): string {
  return text.length <= 40 ? text : `${text.slice(0, 37)}…`;
}
