/**
 * The tokens of the language: what the lexer cuts a text into and the parser consumes.
 *
 *     offset: 18 mm   →   Word Colon Number Unit
 *
 * Words of the language (`check`, `source`, …) are plain `Word`s, told apart by the parser where
 * they stand; only the words of expressions (`and`, `if`, …) get tokens of their own, and only where
 * they can act as such (see line-structure.ts).
 *
 * Must not know: which row of tokens makes sense.
 */
import { createToken, Lexer, type TokenType } from "chevrotain";
import {
  matchComment,
  matchConflictMarker,
  matchDate,
  matchDesignation,
  matchInchMark,
  matchNumber,
  matchText,
  matchUnit,
  matchUnknown,
} from "./literals";

const digits = [..."0123456789"];
const capitals = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZ"];

export const Newline = createToken({ name: "Newline", pattern: /\r\n|\n|\r/, line_breaks: true });
export const Blank = createToken({
  name: "Blank",
  pattern: /[ \t\f\v\u00a0\ufeff\u2000-\u200b\u202f\u3000]+/,
  group: Lexer.SKIPPED,
});
export const Comment = createToken({
  name: "Comment",
  pattern: matchComment,
  group: "comments",
  start_chars_hint: ["#"],
  line_breaks: false,
});

/** `<<<<<<< ours` and its like, to the end of the line. */
export const ConflictMarker = createToken({
  name: "ConflictMarker",
  pattern: matchConflictMarker,
  start_chars_hint: ["<", "=", ">", "|"],
  line_breaks: false,
});

/** `24"`: inches as a tape is read, not as the language writes them. */
export const InchMark = createToken({
  name: "InchMark",
  pattern: matchInchMark,
  start_chars_hint: ['"'],
  line_breaks: false,
});
/** A quoted text; one that is not closed ends with its line. */
export const QuotedText = createToken({
  name: "QuotedText",
  pattern: matchText,
  start_chars_hint: ['"', "“", "”", "„"],
  line_breaks: false,
});

export const DateWord = createToken({
  name: "DateWord",
  pattern: matchDate,
  start_chars_hint: digits,
  line_breaks: false,
});
export const DesignationWord = createToken({
  name: "DesignationWord",
  pattern: matchDesignation,
  start_chars_hint: [...digits, ...capitals, "#"],
  line_breaks: false,
});
export const NumberWord = createToken({
  name: "NumberWord",
  pattern: matchNumber,
  start_chars_hint: [...digits, "."],
  line_breaks: false,
});

const letter =
  "A-Za-z_\\u00aa\\u00b5\\u00ba\\u00c0-\\u00d6\\u00d8-\\u00f6\\u00f8-\\u02ff\\u0370-\\u1fff\\u2c00-\\u2fff\\u3005-\\ud7ff";
export const wordPattern = `[${letter}][${letter}0-9]*`;

export const Word = createToken({ name: "Word", pattern: new RegExp(wordPattern) });
/** Letters, `%` or `°` right after a number. */
export const Unit = createToken({
  name: "Unit",
  pattern: matchUnit,
  start_chars_hint: [
    "%",
    "°",
    ..."_ªµº",
    ...capitals,
    ...capitals.map((each) => each.toLowerCase()),
    ...everyCharacterFrom(0xc0),
  ],
  line_breaks: false,
});

/** Any two-sided operator; `-` may also stand before a value. */
export const BinaryOperatorToken = createToken({ name: "BinaryOperator", pattern: Lexer.NA });

export const And = operatorWord("And");
export const Or = operatorWord("Or");
export const Within = operatorWord("Within");
export const Not = createToken({ name: "Not", pattern: Lexer.NA });
export const If = createToken({ name: "If", pattern: Lexer.NA });
export const Then = createToken({ name: "Then", pattern: Lexer.NA });
export const Else = createToken({ name: "Else", pattern: Lexer.NA });
export const YesNo = createToken({ name: "YesNo", pattern: Lexer.NA });
/** A newline or `;` that ends a member. */
export const End = createToken({ name: "End", pattern: Lexer.NA });

export const LeftBrace = createToken({ name: "LeftBrace", pattern: "{" });
export const RightBrace = createToken({ name: "RightBrace", pattern: "}" });
export const LeftParenthesis = createToken({ name: "LeftParenthesis", pattern: "(" });
export const RightParenthesis = createToken({ name: "RightParenthesis", pattern: ")" });
export const LeftBracket = createToken({ name: "LeftBracket", pattern: "[" });
export const RightBracket = createToken({ name: "RightBracket", pattern: "]" });
export const Colon = createToken({ name: "Colon", pattern: ":" });
export const Semicolon = createToken({ name: "Semicolon", pattern: ";" });
export const Comma = createToken({ name: "Comma", pattern: "," });
export const Ask = createToken({ name: "Ask", pattern: "?" });
export const Dot = createToken({ name: "Dot", pattern: "." });
export const Equals = createToken({ name: "Equals", pattern: "=" });

export const DotDot = operator("DotDot", "..");
export const PlusMinus = operator("PlusMinus", /±|\+\/?-/);
export const Plus = operator("Plus", "+");
export const Minus = operator("Minus", "-");
export const Star = operator("Star", "*");
export const Slash = operator("Slash", "/");
export const Caret = operator("Caret", "^");
export const GreaterEqual = operator("GreaterEqual", ">=");
export const LessEqual = operator("LessEqual", "<=");
export const DoubleEquals = operator("DoubleEquals", "==");
export const NotEquals = operator("NotEquals", "!=");
export const Greater = operator("Greater", ">");
export const Less = operator("Less", "<");

/** Anything else, a run at a time. */
export const Unknown = createToken({
  name: "Unknown",
  pattern: matchUnknown,
  start_chars_hint: everyCharacterFrom(0),
  line_breaks: false,
});

/** Every token, in the order the lexer tries them. */
export const allTokens: TokenType[] = [
  Newline,
  Blank,
  Comment,
  ConflictMarker,
  InchMark,
  QuotedText,
  DateWord,
  DesignationWord,
  DotDot,
  NumberWord,
  Unit,
  Word,
  BinaryOperatorToken,
  And,
  Or,
  Within,
  Not,
  If,
  Then,
  Else,
  YesNo,
  End,
  LeftBrace,
  RightBrace,
  LeftParenthesis,
  RightParenthesis,
  LeftBracket,
  RightBracket,
  Colon,
  Semicolon,
  Comma,
  Ask,
  PlusMinus,
  Plus,
  Minus,
  Star,
  Slash,
  Caret,
  GreaterEqual,
  LessEqual,
  DoubleEquals,
  NotEquals,
  Greater,
  Less,
  Equals,
  Dot,
  Unknown,
];

/** The lexer files its characters in blocks of fewer than 256, so a few of each block stand for all. */
function everyCharacterFrom(first: number): string[] {
  const codes = Array.from({ length: Math.max(0, 256 - first) }, (_, index) => first + index);
  for (let code = 256; code <= 0xffff; code += 50) codes.push(code);
  codes.push(0xffff);
  return codes.map((code) => String.fromCharCode(code));
}

function operator(name: string, pattern: string | RegExp): TokenType {
  return createToken({ name, pattern, categories: BinaryOperatorToken });
}

function operatorWord(name: string): TokenType {
  return createToken({ name, pattern: Lexer.NA, categories: BinaryOperatorToken });
}
