/**
 * What members begin with: names, titles, colons, what takes after another; and whether a member
 * begins or ends here.
 *
 *     this.nameAfter(word)   →   the name, or an empty one and a problem
 *
 * Must not know: what stands inside of a member.
 */
import type { IToken } from "chevrotain";
import { ExpressionParser, missingAt } from "./expression-parser";
import { endOf } from "./lexer";
import { beginners, opensBlock, opensLikeness } from "./line-structure";
import * as problems from "./problems";
import { nowhere, quoted } from "./reporting-parser";
import type { Expression, Name, Path, Text } from "./syntax";
import { Colon, ConflictMarker, DateWord, Dot, End, QuotedText, RightBrace, Word } from "./tokens";
import { namedWords, topWords } from "./words";

export abstract class HeadParser extends ExpressionParser {
  protected atEnd(): boolean {
    const next = this.LA(1);
    return next.startOffset < 0 || next.image === "";
  }

  /** True where a member may end. */
  protected atBreak(): boolean {
    const next = this.LA(1);
    return (
      next.tokenType === End ||
      next.tokenType === RightBrace ||
      next.tokenType === ConflictMarker ||
      this.atEnd()
    );
  }

  protected skipEnds(): void {
    while (this.LA(1).tokenType === End) this.take();
  }

  /** True where a word of the language is next, and no field of that name. */
  protected nextIs(word: string): boolean {
    const next = this.LA(1);
    return next.tokenType === Word && next.image === word && this.LA(2).tokenType !== Colon;
  }

  /** `kind name {`, `kind name "…" {` or `kind name like other {`. */
  protected opensThing(): boolean {
    return this.LA(2).tokenType === Word && opensBlock(this.look, 2);
  }

  protected opensTopDeclaration(word: string): boolean {
    if (!topWords.has(word)) return false;
    const second = this.LA(2).tokenType;
    if (namedWords.has(word)) return second === Word;
    return second === QuotedText || (word === "record" && second === DateWord);
  }

  protected pathOpensBlock(): boolean {
    let ahead = 2;
    while (this.LA(ahead).tokenType === Dot) ahead += 2;
    return opensBlock(this.look, ahead - 1);
  }

  protected nameAfter(word: IToken): Name {
    if (this.RECORDING_PHASE) return this.nameFrom(this.consume(21, Word));
    if (this.LA(1).tokenType === Word) return this.nameFrom(this.take());
    const at = endOf(word);
    if (!this.alreadyReported()) {
      this.report(problems.missingName(quoted(word.image), this.found(), this.spanOfNext()));
    }
    return { type: "name", text: "", span: { start: at, end: at } };
  }

  protected missingWord(what: string): Name {
    this.missingBetween(what);
    const at = this.endOfLast();
    return { type: "name", text: "", span: { start: at, end: at } };
  }

  /** Reports that something should follow the last words, unless they are a problem already. */
  protected missingBetween(what: string): Expression {
    const at = this.endOfLast();
    if (!this.RECORDING_PHASE && !this.alreadyReported()) {
      const span = this.spanOfNext();
      this.report(problems.missingPart(what, this.lastWords(), this.found(), span));
    }
    return missingAt(at);
  }

  protected optionalTitle(): Text | undefined {
    if (this.RECORDING_PHASE) {
      this.OPTION(() => this.SUBRULE(this.quotedText));
      return undefined;
    }
    return this.LA(1).tokenType === QuotedText ? this.SUBRULE(this.quotedText) : undefined;
  }

  /** `like rear_wheel`: what a thing or part takes over from another. */
  protected likeness(): Path | undefined {
    if (this.RECORDING_PHASE || !opensLikeness(this.look, 0)) return undefined;
    this.take();
    return this.SUBRULE7(this.path);
  }

  protected titleAfter(word: IToken, what: string): Text | undefined {
    if (this.RECORDING_PHASE || this.LA(1).tokenType === QuotedText) {
      return this.SUBRULE6(this.quotedText);
    }
    if (!this.alreadyReported()) {
      this.report(problems.missingTitle(what, quoted(word.image), this.found(), this.spanOfNext()));
    }
    // A word in place of the title: read on behind it, so that the rest still makes sense.
    if (this.LA(1).tokenType === Word && this.LA(2).tokenType === Colon) this.take();
    return undefined;
  }

  /** Reads a `:`; false where none stands there, and nothing that could follow one. */
  protected colonAfter(what: string): boolean {
    if (this.RECORDING_PHASE || this.LA(1).tokenType === Colon) {
      this.consume(22, Colon);
      return true;
    }
    if (this.alreadyReported()) return false;
    const next = this.LA(1);
    const at = this.endOfLast();
    this.report(problems.missingColon(what, this.found(), this.spanOfNext(), at));
    if (!beginners.has(next.tokenType)) return false;
    this.reportedAt = nowhere;
    return true;
  }
}
