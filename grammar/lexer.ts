/**
 * Cuts the text of one item into tokens; comments are set apart, blanks are dropped.
 *
 *     readTokens("a: 1 in # note").comments  // [{ start: 8, end: 14 }]
 *
 * Every character ends up in a token, a comment or a blank: no text makes it fail.
 *
 * Must not know: which newlines end a member (line-structure.ts does).
 */
import { type IToken, Lexer } from "chevrotain";
import "./older-runtime";
import type { Span } from "./syntax";
import { allTokens } from "./tokens";

export interface TokenRow {
  readonly tokens: IToken[];
  readonly comments: readonly Span[];
}

export function readTokens(text: string): TokenRow {
  lexer ??= new Lexer(allTokens, {
    positionTracking: "onlyOffset",
    ensureOptimizations: true,
    skipValidations: true,
  });
  const row = lexer.tokenize(text);
  const comments = row.groups.comments;
  return {
    tokens: row.tokens,
    comments: comments === undefined || comments.length === 0 ? noComments : comments.map(spanOf),
  };
}

export function endOf(token: IToken): number {
  return token.startOffset + token.image.length;
}

export function spanOf(token: IToken): Span {
  return { start: token.startOffset, end: token.startOffset + token.image.length };
}

/** A literal of several words as it is kept: `61  5/16` as `61 5/16`. */
export function singleBlanks(image: string): string {
  return severalBlanks.test(image) ? image.replace(/[ \t]+/g, " ") : image;
}

const severalBlanks = /\t|[ \t]{2}/;

let lexer: Lexer | undefined;
const noComments: readonly Span[] = [];
