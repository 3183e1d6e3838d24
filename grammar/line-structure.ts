/**
 * Reads the lines out of a row of tokens: which newlines end a member, which words open one, and
 * which words act as operators.
 *
 *     a: (1 in +      →  Word Colon ( Number Unit + Number Unit ) End Word …
 *         2 in)
 *     b: ?
 *
 * A newline ends a member unless the line is plainly unfinished (inside parentheses or brackets,
 * after an operator, `:`, `=` or `,`) or the next line plainly goes on (it begins with an operator).
 * Where the next line opens a member of its own, the newline ends the member whatever stands before
 * it, so that one unfinished line spoils no other.
 *
 * Must not know: declarations, beyond what their first words look like.
 */
import type { IToken, TokenType } from "chevrotain";
import { endOf } from "./lexer";
import {
  And,
  Ask,
  allTokens,
  BinaryOperatorToken,
  Colon,
  Comma,
  DateWord,
  DesignationWord,
  Dot,
  Else,
  End,
  Equals,
  If,
  LeftBrace,
  LeftBracket,
  LeftParenthesis,
  Minus,
  Newline,
  Not,
  NumberWord,
  Or,
  QuotedText,
  RightBrace,
  RightBracket,
  RightParenthesis,
  Semicolon,
  Then,
  Unit,
  Within,
  Word,
  YesNo,
} from "./tokens";
import { clauseWords, namedClauseWords, namedWords, titledWords } from "./words";

/** The tokens the parser reads: no newline but those that end a member (as `End`). */
export function readLines(tokens: readonly IToken[]): IToken[] {
  const lines: IToken[] = [];
  let depth = 0;
  let inCondition = false;
  let before: IToken | undefined;
  let place = 0;
  const look: Look = (ahead) => tokens[place + ahead];
  for (let index = 0; index < tokens.length; index++) {
    const token = tokens[index]!;
    const type = token.tokenType;
    if (type === Newline) {
      const next = nextOnLaterLine(tokens, index);
      const following = tokens[next];
      if (following !== undefined && before !== undefined && before.tokenType !== End) {
        place = next;
        const opens =
          following.tokenType === RightBrace ||
          opensMember(look, inCondition) ||
          opensClause(following, tokens[next + 1]);
        if (opens) {
          depth = 0;
          inCondition = false;
        }
        if (opens || (depth === 0 && !goesOn(before, following, tokens[next + 1]))) {
          retype(token, End);
          lines.push(token);
          before = token;
        }
      }
      index = next - 1;
      continue;
    }
    if (type === Word) {
      act(tokens, index, before, inCondition);
      if (token.image === "when" && tokens[index + 1]?.tokenType !== Colon) inCondition = true;
    } else if (type === LeftParenthesis || type === LeftBracket) depth++;
    else if (type === RightParenthesis || type === RightBracket) depth = Math.max(0, depth - 1);
    else if (type === LeftBrace || type === RightBrace || type === Semicolon) {
      depth = 0;
      inCondition = false;
      if (type === Semicolon) retype(token, End);
    } else if (type === Colon) inCondition = false;
    lines.push(token);
    before = token;
  }
  return lines;
}

/** The n-th token from some place on; 0 is the token at that place. */
export type Look = (ahead: number) => IToken | undefined;

/**
 * True where the word looked at opens a member or a declaration: `name:`, `a.b {`, `kind name {`,
 * `check "…"`.
 */
export function opensMember(look: Look, inCondition = false): boolean {
  const first = look(0);
  if (first?.tokenType !== Word) return false;
  const word = first.image;
  let next = 1;
  while (look(next)?.tokenType === Dot && touches(look(next)!, look(next + 1))) next += 2;
  const follower = look(next)?.tokenType;
  if (follower === Colon) return !inCondition;
  if (follower === LeftBrace) return true;
  if (opensLikeness(look, next) && opensBlock(look, next)) return true;
  if (next > 1) return false;
  if (word === "row" && follower !== undefined && beginners.has(follower)) {
    return follower !== Word || look(2)?.tokenType === Comma;
  }
  if (follower === QuotedText) {
    if (word === "form") return true;
    if (clauseWords.has(word)) return false;
    // `length wanted "Room left"` is a role and a description, `wanted "alike": a = b` a wish.
    if (word === "wanted") return look(2)?.tokenType === Colon || look(2)?.image === "when";
    return titledWords.has(word) || opensBlock(look, 1);
  }
  if (follower === DateWord) return word === "record";
  if (follower !== Word) return false;
  if (namedWords.has(word)) return true;
  return opensBlock(look, 2);
}

/** True where a block opens at that place, a title and what it is like perhaps before it. */
export function opensBlock(look: Look, at: number): boolean {
  let next = look(at)?.tokenType === QuotedText ? at + 1 : at;
  if (opensLikeness(look, next)) {
    next += 2;
    while (look(next)?.tokenType === Dot && touches(look(next)!, look(next + 1))) next += 2;
  }
  return look(next)?.tokenType === LeftBrace;
}

/** `like rear_wheel`, behind the head of a thing or part. */
export function opensLikeness(look: Look, at: number): boolean {
  const word = look(at);
  return word?.tokenType === Word && word.image === "like" && look(at + 1)?.tokenType === Word;
}

/** True where a name stands right behind a dot. */
export function touches(dot: IToken, name: IToken | undefined): boolean {
  return isWordLike(name) && name!.startOffset === endOf(dot);
}

/** True where two tokens begin a clause: `source "…"`, `severity warning`. */
export function opensClause(word: IToken | undefined, next: IToken | undefined): boolean {
  if (word?.tokenType !== Word || !clauseWords.has(word.image)) return false;
  if (next?.tokenType === QuotedText) return true;
  return next?.tokenType === Word && namedClauseWords.has(word.image);
}

/** A word, or a word acting as an operator: after a dot it is a name all the same. */
export function isWordLike(token: IToken | undefined): boolean {
  return token !== undefined && (token.tokenType === Word || actors.has(token.tokenType));
}

// ───────────────────────────── helpers ─────────────────────────────

function nextOnLaterLine(tokens: readonly IToken[], index: number): number {
  let next = index + 1;
  while (tokens[next]?.tokenType === Newline) next++;
  return next;
}

/** The words after which a line is unfinished. */
const unfinishedWords: ReadonlySet<string> = new Set(["when", "before", "over", "from", "to"]);

function goesOn(before: IToken, following: IToken, afterwards: IToken | undefined): boolean {
  const last = before.tokenType;
  if (last === Colon || last === Comma || last === Equals || isOperator(last)) return true;
  if (last === Not || last === If || last === Then || last === Else) return true;
  if (last === LeftBrace) return false;
  const first = following.tokenType;
  if (first === LeftBrace || first === Comma || first === Equals || isOperator(first)) return true;
  if (first === RightParenthesis || first === RightBracket) return true;
  if (first !== Word) return false;
  if (last === Word && unfinishedWords.has(before.image)) return true;
  return continuingWords.has(following.image) && canBeginValue(afterwards);
}

const continuingWords: ReadonlySet<string> = new Set(["then", "else", "and", "or", "within"]);

const operators: ReadonlySet<TokenType> = new Set(
  allTokens.filter((type) => type.CATEGORIES?.includes(BinaryOperatorToken)),
);

function isOperator(type: TokenType): boolean {
  return operators.has(type);
}

/** Gives a word of expressions its token where it can act as one. */
function act(
  tokens: readonly IToken[],
  index: number,
  before: IToken | undefined,
  inCondition: boolean,
): void {
  const token = tokens[index]!;
  const acting = actingWords.get(token.image);
  if (acting === undefined) return;
  const next = tokens[index + 1];
  if (before?.tokenType === Dot) return;
  if (next?.tokenType === Dot || next?.tokenType === LeftBrace) return;
  if (next?.tokenType === Colon && !inCondition) return;
  if (acting === YesNo) {
    if (!namedBefore(before) && next?.tokenType !== LeftParenthesis) retype(token, YesNo);
    return;
  }
  // What follows may stand on the next line.
  const follower = next?.tokenType === Newline ? tokens[nextOnLaterLine(tokens, index + 1)] : next;
  if (!canBeginValue(follower)) return;
  const opening = acting === Not || acting === If;
  if (opening !== canEndValue(before)) retype(token, acting);
}

const actingWords: ReadonlyMap<string, TokenType> = new Map([
  ["and", And],
  ["or", Or],
  ["within", Within],
  ["not", Not],
  ["if", If],
  ["then", Then],
  ["else", Else],
  ["yes", YesNo],
  ["no", YesNo],
]);
const actors: ReadonlySet<TokenType> = new Set(actingWords.values());

const valueOpeners: ReadonlySet<string> = new Set([
  "when",
  "default",
  "range",
  "before",
  "over",
  "from",
  "to",
  "step",
  "row",
]);

/** True where the word before asks for a name rather than a value: `kind no`, `table yes`. */
function namedBefore(before: IToken | undefined): boolean {
  return before?.tokenType === Word && !valueOpeners.has(before.image);
}

function canEndValue(token: IToken | undefined): boolean {
  if (token === undefined) return false;
  if (token.tokenType === Word) return !valueOpeners.has(token.image);
  return enders.has(token.tokenType);
}

function canBeginValue(token: IToken | undefined): boolean {
  return token !== undefined && beginners.has(token.tokenType);
}

const enders: ReadonlySet<TokenType> = new Set([
  NumberWord,
  Unit,
  QuotedText,
  DesignationWord,
  DateWord,
  YesNo,
  Ask,
  RightParenthesis,
  RightBracket,
]);

/** Tokens a value can begin with. */
export const beginners: ReadonlySet<TokenType> = new Set([
  Word,
  NumberWord,
  QuotedText,
  DesignationWord,
  DateWord,
  YesNo,
  Ask,
  LeftParenthesis,
  LeftBracket,
  Minus,
  Not,
  If,
]);

function retype(token: IToken, type: TokenType): void {
  token.tokenType = type;
  token.tokenTypeIdx = type.tokenTypeIdx!;
}
