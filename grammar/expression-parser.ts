/**
 * Reads expressions into their tree. The operators of one expression are gathered in a row and
 * folded by how tightly they bind, loosest first: `or`, `and`, `not`, comparisons, `± .. within`,
 * `+ -`, `* /`, the sign, `^`.
 *
 * Where a value is missing the tree gets a `missing` node and the reading goes on.
 *
 * Must not know: declarations.
 */
import { EOF, type IToken, type ParserMethod, type TokenType } from "chevrotain";
import { readNumber } from "../server/units";
import { foldOperators, type Piece } from "./fold-operators";
import { endOf, singleBlanks, spanOf } from "./lexer";
import { beginners, touches } from "./line-structure";
import { isDay } from "./literals";
import * as problems from "./problems";
import { quoted, ReportingParser } from "./reporting-parser";
import type {
  DateLiteral,
  Expression,
  MissingExpression,
  Name,
  Names,
  NumberLiteral,
  Path,
  QuantityLiteral,
  Text,
  UnitReference,
} from "./syntax";
import {
  Ask,
  BinaryOperatorToken,
  Colon,
  Comma,
  DateWord,
  DesignationWord,
  Dot,
  Else,
  End,
  If,
  InchMark,
  LeftBrace,
  LeftBracket,
  LeftParenthesis,
  Minus,
  Not,
  NumberWord,
  Plus,
  QuotedText,
  RightBrace,
  RightBracket,
  RightParenthesis,
  Then,
  Unit,
  Unknown,
  Word,
  YesNo,
} from "./tokens";

/** Levels of parentheses, brackets and `if` within one another. */
const deepestNesting = 48;
/** How many tokens are looked through for a closing mark. */
export const farthest = 100;

export abstract class ExpressionParser extends ReportingParser {
  private nesting = 0;
  /** How many levels the expression read last has. */
  private height = 1;

  readonly expression: ParserMethod<[], Expression> = this.RULE("expression", (): Expression => {
    if (!this.RECORDING_PHASE && this.nesting >= deepestNesting) return this.skipTooDeep();
    this.nesting++;
    let pieces: Piece[] | undefined;
    this.MANY(() => {
      const sign = this.SUBRULE(this.sign);
      pieces ??= [];
      pieces.push({ sign });
    });
    const first = this.SUBRULE(this.operand);
    pieces?.push({ node: first, height: this.height });
    this.MANY1(() => {
      const operator = this.CONSUME(BinaryOperatorToken);
      pieces ??= [{ node: first, height: this.height }];
      pieces.push({ operator });
      this.MANY2(() => {
        const sign = this.SUBRULE1(this.sign);
        pieces?.push({ sign });
      });
      const node = this.SUBRULE1(this.operand);
      pieces.push({ node, height: this.height });
    });
    this.nesting--;
    if (pieces === undefined) return first;
    return this.ACTION(() => {
      const folded = foldOperators(pieces ?? [], this.text, (problem) => this.report(problem));
      this.height = folded.height;
      return folded.node;
    });
  });

  private readonly sign: ParserMethod<[], IToken> = this.RULE(
    "sign",
    (): IToken =>
      this.OR([
        { ALT: () => this.CONSUME(Minus) },
        { ALT: () => this.CONSUME(Plus) },
        { ALT: () => this.CONSUME(Not) },
      ]),
  );

  private operandChoices?: { ALT: () => Expression }[];

  private readonly operand: ParserMethod<[], Expression> = this.RULE("operand", (): Expression => {
    if (!this.RECORDING_PHASE && !beginners.has(this.LA(1).tokenType)) {
      return this.missing();
    }
    this.height = 1;
    this.operandChoices ??= [
      { ALT: () => this.SUBRULE(this.quantity) },
      { ALT: () => this.SUBRULE(this.reference) },
      { ALT: () => this.SUBRULE(this.quotedText) },
      {
        ALT: () => {
          const token = this.CONSUME(Ask);
          return { type: "ask", span: spanOf(token) } as const;
        },
      },
      {
        ALT: () => {
          const token = this.CONSUME(DesignationWord);
          return {
            type: "designation",
            text: singleBlanks(token.image),
            span: spanOf(token),
          } as const;
        },
      },
      {
        ALT: () => {
          const token = this.CONSUME(YesNo);
          return { type: "yes_no", value: token.image === "yes", span: spanOf(token) } as const;
        },
      },
      { ALT: () => this.SUBRULE(this.date) },
      { ALT: () => this.SUBRULE(this.group) },
      { ALT: () => this.SUBRULE(this.list) },
      { ALT: () => this.SUBRULE(this.conditional) },
    ];
    return this.OR(this.operandChoices);
  });

  private readonly quantity: ParserMethod<[], Expression> = this.RULE(
    "quantity",
    (): Expression => {
      const number = this.numberFrom(this.CONSUME(NumberWord));
      if (!this.RECORDING_PHASE) {
        const next = this.LA(1);
        if (next.tokenType === InchMark) return this.markedInches(number);
        if (next.tokenType !== Unit) {
          if (next.tokenType === Unknown && next.image === "'") this.reportFeet(number, next);
          return number;
        }
      }
      const unit = unitFrom(this.CONSUME(Unit));
      const parts = [{ number, unit }];
      this.MANY(() => {
        const nextNumber = this.numberFrom(this.CONSUME1(NumberWord));
        const nextUnit = this.compoundUnit(nextNumber);
        parts.push({ number: nextNumber, unit: nextUnit });
      });
      return this.ACTION(
        (): QuantityLiteral => ({
          type: "quantity",
          parts,
          span: { start: number.span.start, end: parts[parts.length - 1]!.unit.span.end },
        }),
      );
    },
  );

  /** `5 ft 1` wants a unit for its 1. */
  private compoundUnit(number: NumberLiteral): UnitReference {
    if (this.RECORDING_PHASE || this.LA(1).tokenType === Unit) {
      return unitFrom(this.CONSUME1(Unit));
    }
    if (this.LA(1).tokenType === InchMark) return this.inchesFromMark(number);
    const at = this.endOfLast();
    this.report(
      problems.missingPart("a unit", quoted(number.text), this.found(), { start: at, end: at }),
    );
    return { type: "unit", text: "", span: { start: at, end: at } };
  }

  private markedInches(number: NumberLiteral): QuantityLiteral {
    const unit = this.inchesFromMark(number);
    return {
      type: "quantity",
      parts: [{ number, unit }],
      span: { start: number.span.start, end: unit.span.end },
    };
  }

  private inchesFromMark(number: NumberLiteral): UnitReference {
    const mark = spanOf(this.take());
    this.report(problems.inchMark(number.text, mark));
    return { type: "unit", text: "in", span: mark };
  }

  private reportFeet(number: NumberLiteral, mark: IToken): void {
    this.report(problems.footMark(number.text, spanOf(mark)));
  }

  protected numberFrom(token: IToken): NumberLiteral {
    const span = spanOf(token);
    const reading = this.RECORDING_PHASE ? undefined : readNumber(token.image);
    if (reading === undefined && !this.RECORDING_PHASE) {
      this.report(problems.unreadableNumber(token.image, span));
    }
    return {
      type: "number",
      value: reading?.value ?? 0,
      form: reading?.form ?? "decimal",
      text: singleBlanks(token.image),
      span,
    };
  }

  readonly path: ParserMethod<[], Path> = this.RULE("path", (): Path => {
    const first = this.nameFrom(this.CONSUME(Word));
    if (!this.RECORDING_PHASE && this.LA(1).tokenType !== Dot) {
      return { type: "path", names: [first], span: first.span };
    }
    const names = [first];
    this.MANY(() => {
      const dot = this.CONSUME(Dot);
      names.push(this.nameAfterDot(dot));
    });
    return this.ACTION(() => pathFrom(names));
  });

  private nameAfterDot(dot: IToken): Name {
    const next = this.LA(1);
    if (!this.RECORDING_PHASE && touches(dot, next)) return this.nameFrom(this.take());
    const at = endOf(dot);
    const before = this.text.slice(Math.max(0, at - 80), at).match(/[\w.]+\.$/)?.[0] ?? ".";
    this.report(problems.missingName(quoted(before), this.found(), { start: at, end: at }));
    return { type: "name", text: "", span: { start: at, end: at } };
  }

  /** A path, or a call where parentheses follow. */
  private readonly reference: ParserMethod<[], Expression> = this.RULE(
    "reference",
    (): Expression => {
      const callee = this.SUBRULE(this.path);
      if (!this.RECORDING_PHASE && this.LA(1).tokenType !== LeftParenthesis) return callee;
      const open = this.CONSUME(LeftParenthesis);
      const values = this.elements(RightParenthesis);
      this.closing(open, RightParenthesis, ")");
      const height = this.height + 1;
      const rest = this.OPTION(() => this.SUBRULE(this.rest));
      this.height = height;
      return this.ACTION((): Expression => {
        const span = { start: callee.span.start, end: this.endOfLast() };
        return rest === undefined
          ? { type: "call", callee, arguments: values, span }
          : { type: "call", callee, arguments: values, rest, span };
      });
    },
  );

  /** `.price` after a call. */
  private readonly rest: ParserMethod<[], Path> = this.RULE("rest", (): Path => {
    const names: Name[] = [];
    this.AT_LEAST_ONE(() => {
      const dot = this.CONSUME(Dot);
      names.push(this.nameAfterDot(dot));
    });
    return this.ACTION(() => pathFrom(names));
  });

  private readonly group: ParserMethod<[], Expression> = this.RULE("group", (): Expression => {
    const open = this.CONSUME(LeftParenthesis);
    const inner = this.SUBRULE(this.expression);
    this.closing(open, RightParenthesis, ")");
    this.height++;
    return this.ACTION(() => ({ type: "group", inner, span: this.spanFrom(open) }) as const);
  });

  private readonly list: ParserMethod<[], Expression> = this.RULE("list", (): Expression => {
    const open = this.CONSUME(LeftBracket);
    const items = this.elements(RightBracket);
    this.closing(open, RightBracket, "]");
    this.height++;
    return this.ACTION(() => ({ type: "list", items, span: this.spanFrom(open) }) as const);
  });

  private readonly conditional: ParserMethod<[], Expression> = this.RULE(
    "conditional",
    (): Expression => {
      const word = this.CONSUME(If);
      const condition = this.SUBRULE(this.expression);
      let height = this.height;
      const then = this.branch(Then, "then");
      height = Math.max(height, this.height);
      const otherwise = this.branch(Else, "else");
      this.height = Math.max(height, this.height) + 1;
      return this.ACTION(
        () =>
          ({ type: "if", condition, then, else: otherwise, span: this.spanFrom(word) }) as const,
      );
    },
  );

  /** `then …` or `else …`. */
  private branch(type: TokenType, word: string): Expression {
    const next = this.LA(1);
    if (this.RECORDING_PHASE || next.tokenType === type) {
      this.consume(type === Then ? 0 : 1, type);
      return this.subrule(type === Then ? 2 : 3, this.expression);
    }
    const at = this.endOfLast();
    // A bare `then` at the end of a line was not given its token, for lack of a value behind it.
    if (next.tokenType === Word && next.image === word) {
      this.take();
      return this.missing();
    }
    if (!this.alreadyReported()) {
      this.report(
        problems.missingPart(`\`${word}\` and a value`, this.lastWords(), this.found(), {
          start: at,
          end: at,
        }),
      );
    }
    return missingAt(at);
  }

  protected readonly quotedText: ParserMethod<[], Text> = this.RULE("quotedText", (): Text => {
    const token = this.CONSUME(QuotedText);
    return this.ACTION(() => this.textFrom(token));
  });

  protected readonly date: ParserMethod<[], DateLiteral> = this.RULE("date", (): DateLiteral => {
    const token = this.CONSUME(DateWord);
    return this.ACTION(() => {
      const span = spanOf(token);
      if (!isDay(token.image)) this.report(problems.noSuchDay(token.image, span));
      return { type: "date", text: token.image, span };
    });
  });

  // ───────────────────────────── rows of values ─────────────────────────────

  /** Values separated by commas, up to the closing mark; one comma more at the end is fine. */
  private elements(close: TokenType): Expression[] {
    const values: Expression[] = [];
    let height = 0;
    while (this.LA(1).tokenType !== close) {
      values.push(this.subrule(1, this.expression));
      height = Math.max(height, this.height);
      if (this.LA(1).tokenType !== Comma) break;
      this.take();
    }
    this.height = height;
    return values;
  }

  /** The mark that closes `open`, or a problem; what stands in its way is skipped. */
  private closing(open: IToken, close: TokenType, mark: string): void {
    if (this.RECORDING_PHASE || this.LA(1).tokenType === close) {
      this.consume(9, close);
      return;
    }
    const next = this.LA(1);
    const ahead = this.distanceTo(close);
    if (ahead === undefined) {
      if (!this.alreadyReported()) {
        this.report(problems.unclosedBracket(open.image, mark, spanOf(open), this.endOfLast()));
      }
      this.reportedAt = next.startOffset;
      return;
    }
    if (!this.alreadyReported()) this.reportUnexpected(`\`,\` or \`${mark}\``);
    for (let count = 0; count <= ahead; count++) this.take();
  }

  /** How many tokens stand before the closing mark on this level and line; undefined for none. */
  private distanceTo(close: TokenType): number | undefined {
    let depth = 0;
    for (let ahead = 0; ahead < farthest; ahead++) {
      const type = this.LA(ahead + 1).tokenType;
      if (type === close && depth === 0) return ahead;
      if (type === LeftParenthesis || type === LeftBracket) depth++;
      else if (type === RightParenthesis || type === RightBracket) depth--;
      else if (stops.has(type)) return undefined;
      if (depth < 0) return undefined;
    }
    return undefined;
  }

  private skipTooDeep(): MissingExpression {
    const start = Math.max(0, this.LA(1).startOffset);
    this.report(
      problems.tooDeep("parentheses, lists and conditions", deepestNesting, {
        start,
        end: start + 1,
      }),
    );
    let depth = 0;
    for (;;) {
      const type = this.LA(1).tokenType;
      if (stops.has(type)) break;
      if (type === LeftParenthesis || type === LeftBracket) depth++;
      else if (type === RightParenthesis || type === RightBracket) {
        if (depth === 0) break;
        depth--;
      }
      this.take();
    }
    this.reportedAt = this.LA(1).startOffset;
    return missingAt(this.endOfLast());
  }

  private missing(): MissingExpression {
    const at = this.endOfLast();
    if (!this.alreadyReported()) {
      const next = this.LA(1);
      const sign = next.tokenType === Unknown ? this.signAhead() : undefined;
      const span = { start: at, end: at };
      const whole = this.LA(0).tokenType === Colon;
      const describe = whole ? problems.missingValue : problems.missingOperand;
      this.report(sign ?? describe(this.lastWords(), this.found(), span));
    }
    return missingAt(at);
  }

  protected resetExpressions(): void {
    this.nesting = 0;
    this.height = 1;
  }
}

export function missingAt(at: number): MissingExpression {
  return { type: "missing", span: { start: at, end: at } };
}

const stops: ReadonlySet<TokenType> = new Set([End, LeftBrace, RightBrace, EOF]);

function unitFrom(token: IToken): UnitReference {
  return { type: "unit", text: token.image, span: spanOf(token) };
}

function pathFrom(names: readonly Name[]): Path {
  return {
    type: "path",
    names: names as Names,
    span: { start: names[0]!.span.start, end: names[names.length - 1]!.span.end },
  };
}
