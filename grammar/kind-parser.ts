/**
 * Reads the declarations that define a trade: kinds with their fields, designations, tables.
 *
 *     kind wheel is part "Road wheel" { offset: length default 0 mm "…" source "…" }
 *
 * Must not know: what a measure or a kind means.
 */
import type { IToken, ParserMethod } from "chevrotain";
import { type Mutable, noSpan, nothing, withTitle } from "./block-parser";
import { spanOf } from "./lexer";
import { opensClause, opensMember } from "./line-structure";
import * as problems from "./problems";
import { quoted } from "./reporting-parser";
import type {
  Clause,
  Designation,
  Expression,
  Field,
  Kind,
  Name,
  Table,
  TableColumn,
  TypeReference,
  UnitReference,
} from "./syntax";
import { ThingParser } from "./thing-parser";
import {
  Caret,
  Colon,
  Comma,
  ConflictMarker,
  Dot,
  End,
  LeftBrace,
  LeftParenthesis,
  Minus,
  NumberWord,
  Or,
  PlusMinus,
  QuotedText,
  RightParenthesis,
  Slash,
  Star,
  Unit,
  Unknown,
  Word,
} from "./tokens";
import { fieldWords, resemblesClause, topWords } from "./words";

type KindMember = Kind["members"][number];

export abstract class KindParser extends ThingParser {
  protected readonly kind: ParserMethod<[], Kind> = this.RULE("kind", (): Kind => {
    const word = this.CONSUME(Word);
    const name = this.nameAfter(word);
    const kind: Mutable<Kind> = {
      type: "kind",
      name,
      members: nothing,
      body: noSpan,
      span: noSpan,
    };
    for (;;) {
      if (this.nextIs("is") && kind.base === undefined) kind.base = this.nameAfter(this.take());
      else if (this.nextIs("of") && kind.owner === undefined) {
        kind.owner = this.nameAfter(this.take());
      } else if (this.LA(1).tokenType === QuotedText && kind.title === undefined) {
        kind.title = this.SUBRULE(this.quotedText);
      } else break;
    }
    const head = `kind ${name.text} {`;
    const { members, body } = this.block("kind", head, word, () => this.kindMember());
    kind.members = members;
    kind.body = body;
    kind.span = this.spanFrom(word);
    return kind;
  });

  protected kindMember(): KindMember | undefined {
    const first = this.LA(1);
    if (first.tokenType === ConflictMarker) return this.dropped(this.marker());
    if (first.tokenType !== Word) return undefined;
    const second = this.LA(2);
    if (second.tokenType === Colon) return this.SUBRULE(this.field);
    if (opensClause(first, second)) return this.SUBRULE(this.clause);
    const titled = this.titledMember(first.image);
    if (titled !== undefined) return titled;
    if (second.tokenType === LeftBrace || this.opensThing() || topWords.has(first.image)) {
      this.skipMisplaced("a kind lists its fields as `name: type`, so nothing with braces");
      return undefined;
    }
    if (this.unknownClauseAhead()) return this.SUBRULE1(this.clause);
    return this.SUBRULE1(this.field);
  }

  protected readonly field: ParserMethod<[], Field> = this.RULE("field", (): Field => {
    const word = this.CONSUME(Word);
    const name = this.nameFrom(word);
    const field: Mutable<Field> = {
      type: "field",
      name,
      fieldType: { type: "type", form: "named", span: noSpan },
      words: nothing,
      clauses: nothing,
      span: noSpan,
    };
    const written = this.colonAfter(quoted(name.text));
    field.fieldType = written ? this.typeReference() : typeAt(this.endOfLast());
    if (written && this.nextIs("in")) {
      this.take();
      const units = [this.unitRun()];
      if (this.LA(1).tokenType === Or) {
        this.take();
        units.push(this.unitRun());
      }
      field.units = units;
    }
    const words: Name[] = [];
    const clauses: Clause[] = [];
    while (this.fieldPart(field, words, clauses)) {
      // Each turn reads one part.
    }
    if (words.length > 0) field.words = words;
    if (clauses.length > 0) field.clauses = clauses;
    field.span = this.spanFrom(word);
    return field;
  });

  /** Reads one of the parts that may follow a field's type in any order; false where none does. */
  protected fieldPart(field: Mutable<Field>, words: Name[], clauses: Clause[]): boolean {
    if (this.LA(1).tokenType === End) {
      if (!this.fieldGoesOn(this.LA(2), this.LA(3))) return false;
      this.take();
    }
    const next = this.LA(1);
    if (next.tokenType === QuotedText) {
      const description = this.SUBRULE(this.quotedText);
      if (field.description === undefined) field.description = description;
      else this.report(problems.repeatedPart("the description", description.span));
      return true;
    }
    if (next.tokenType === PlusMinus && words.length > 0 && field.tolerance === undefined) {
      this.take();
      field.tolerance = this.SUBRULE4(this.expression);
      return true;
    }
    if (next.tokenType !== Word) return false;
    if (opensClause(next, this.LA(2))) {
      clauses.push(this.SUBRULE(this.clause));
      return true;
    }
    if (opensMember(this.look)) return false;
    if (next.image === "default" && field.default === undefined) {
      this.take();
      field.default = this.SUBRULE(this.expression);
    } else if (next.image === "range" && field.range === undefined) {
      const range = this.take();
      const limits = this.SUBRULE1(this.expression);
      if (limits.type === "limits") field.range = limits;
      else this.rangeProblem(range, limits);
    } else if (next.image === "default" || next.image === "range") {
      this.report(problems.repeatedPart(quoted(next.image), spanOf(next)));
      this.take();
      this.SUBRULE2(this.expression);
    } else if (this.unknownClauseAhead() && !this.looksLikeFieldWord(next)) {
      clauses.push(this.SUBRULE1(this.clause));
    } else if (next.image === "to" && field.step === undefined) {
      this.take();
      const step = this.SUBRULE3(this.expression);
      field.step = step.type === "tolerance" ? step.nominal : step;
      if (step.type === "tolerance") field.tolerance = step.by;
    } else if (next.image === "found" && this.LA(2).image === "out") {
      const { span } = this.nameFrom(this.take());
      const out = this.nameFrom(this.take());
      words.push({
        type: "name",
        text: "found out",
        span: { start: span.start, end: out.span.end },
      });
    } else words.push(this.nameFrom(this.take()));
    return true;
  }

  /** A word and a text: a misspelled clause, unless the word is one of a field's own. */
  protected looksLikeFieldWord(word: IToken): boolean {
    return fieldWords.has(word.image) || !resemblesClause(word.image);
  }

  protected fieldGoesOn(word: IToken, next: IToken): boolean {
    if (word.tokenType === QuotedText || opensClause(word, next)) return true;
    if (word.tokenType !== Word || !fieldWords.has(word.image)) return false;
    return next.tokenType !== Colon && next.tokenType !== LeftBrace && next.tokenType !== Dot;
  }

  protected rangeProblem(range: IToken, limits: Expression): void {
    if (limits.type === "missing") return;
    const found = quoted(this.text.slice(limits.span.start, limits.span.end));
    const span = { start: range.startOffset, end: limits.span.end };
    this.report(problems.unexpected("limits `low..high` after `range`", found, span));
  }

  protected typeReference(): TypeReference {
    const word = this.LA(1);
    if (word.tokenType !== Word || opensMember(this.look)) {
      const at = this.endOfLast();
      if (!this.alreadyReported()) {
        this.report(
          problems.missingPart(
            "a measure, a kind or another type",
            this.lastWords(),
            this.found(),
            {
              start: at,
              end: at,
            },
          ),
        );
      }
      return typeAt(at);
    }
    this.take();
    if (word.image === "one_of" && this.LA(1).tokenType === LeftParenthesis)
      return this.choices(word);
    if (word.image === "list" && this.nextIs("of") && this.LA(2).tokenType === Word) {
      this.take();
      return this.ownedType(word, "list");
    }
    const next = this.LA(1);
    const owned =
      word.image === "part" &&
      next.tokenType === Word &&
      !opensMember(this.look) &&
      !opensClause(next, this.LA(2)) &&
      !fieldWords.has(next.image);
    if (owned) return this.ownedType(word, "part");
    return { type: "type", form: "named", name: this.nameFrom(word), span: spanOf(word) };
  }

  protected ownedType(word: IToken, form: "part" | "list"): TypeReference {
    const name = this.nameFrom(this.take());
    return { type: "type", form, name, span: this.spanFrom(word) };
  }

  protected choices(word: IToken): TypeReference {
    const open = this.take();
    const choices: Name[] = [];
    while (this.LA(1).tokenType === Word) {
      choices.push(this.nameFrom(this.take()));
      if (this.LA(1).tokenType !== Comma) break;
      this.take();
    }
    if (this.LA(1).tokenType === RightParenthesis) this.take();
    else if (this.atBreak()) {
      this.report(problems.unclosedBracket("(", ")", spanOf(open), this.endOfLast()));
    } else this.reportUnexpected("`,` or `)`");
    return { type: "type", form: "choice", choices, span: this.spanFrom(word) };
  }

  // ───────────────────────────── tables and designations ─────────────────────────────

  protected readonly designation: ParserMethod<[], Designation> = this.RULE(
    "designation",
    (): Designation => {
      const word = this.CONSUME(Word);
      const name = this.nameAfter(word);
      const title = this.optionalTitle();
      const fields: Field[] = [];
      const forms: Designation["forms"][number][] = [];
      const clauses: Clause[] = [];
      const head = `designation ${name.text} {`;
      const { body } = this.block("designation", head, word, () => {
        const first = this.LA(1);
        if (first.tokenType === ConflictMarker) return this.marker();
        if (first.tokenType !== Word) return undefined;
        const second = this.LA(2);
        if (first.image === "form" && second.tokenType === QuotedText) {
          this.take();
          const pattern = this.SUBRULE(this.quotedText);
          forms.push({ pattern, clauses: this.clauses(true) });
          return pattern;
        }
        if (opensClause(first, second)) {
          const clause = this.SUBRULE(this.clause);
          clauses.push(clause);
          return clause;
        }
        if (second.tokenType !== Colon) return undefined;
        const field = this.SUBRULE(this.field);
        fields.push(field);
        return field;
      });
      const span = this.spanFrom(word);
      return withTitle<Designation>(
        { type: "designation_declaration", name, fields, forms, clauses, body, span },
        title,
      );
    },
  );

  protected readonly table: ParserMethod<[], Table> = this.RULE("table", (): Table => {
    const word = this.CONSUME(Word);
    const name = this.nameAfter(word);
    const title = this.optionalTitle();
    const columns: TableColumn[] = [];
    const rows: Table["rows"][number][] = [];
    const clauses: Clause[] = [];
    const { body } = this.block("table", `table ${name.text} {`, word, () => {
      const first = this.LA(1);
      if (first.tokenType === ConflictMarker) return this.marker();
      if (first.tokenType !== Word) return undefined;
      const second = this.LA(2);
      if (opensClause(first, second)) {
        const clause = this.SUBRULE(this.clause);
        clauses.push(clause);
        return clause;
      }
      const keyed = first.image === "key" && second.tokenType === Word;
      if (keyed || second.tokenType === Colon) {
        const column = this.SUBRULE(this.column);
        columns.push(column);
        return column;
      }
      if (first.image !== "row") return undefined;
      const row = this.SUBRULE(this.row);
      rows.push(row);
      return row;
    });
    const span = this.spanFrom(word);
    return withTitle<Table>({ type: "table", name, columns, rows, clauses, body, span }, title);
  });

  protected readonly column: ParserMethod<[], TableColumn> = this.RULE(
    "column",
    (): TableColumn => {
      const start = this.LA(1);
      const key = this.LA(2).tokenType === Word;
      if (key) this.take();
      const name = this.nameFrom(this.CONSUME(Word));
      const column: Mutable<TableColumn> = { name, key, fieldType: typeAt(0), span: noSpan };
      const written = this.colonAfter(quoted(name.text));
      column.fieldType = written ? this.typeReference() : typeAt(this.endOfLast());
      if (this.nextIs("in")) {
        this.take();
        column.unit = this.unitRun();
      }
      if (this.LA(1).tokenType === End && this.LA(2).tokenType === QuotedText) this.take();
      if (this.LA(1).tokenType === QuotedText) column.description = this.SUBRULE(this.quotedText);
      column.span = this.spanFrom(start);
      return column;
    },
  );

  protected readonly row: ParserMethod<[], Table["rows"][number]> = this.RULE(
    "row",
    (): Table["rows"][number] => {
      const word = this.CONSUME(Word);
      const cells: Expression[] = [];
      for (;;) {
        cells.push(this.SUBRULE(this.expression));
        if (this.LA(1).tokenType !== Comma) break;
        this.take();
      }
      return { cells, span: this.spanFrom(word) };
    },
  );

  /** A unit standing without a number: the tokens up to the next blank. */
  protected unitRun(): UnitReference {
    const first = this.LA(1);
    if (!unitParts.has(first.tokenType) || opensMember(this.look)) {
      const at = this.endOfLast();
      if (!this.alreadyReported()) {
        this.report(
          problems.missingPart("a unit", this.lastWords(), this.found(), { start: at, end: at }),
        );
      }
      return { type: "unit", text: "", span: { start: at, end: at } };
    }
    this.take();
    while (unitParts.has(this.LA(1).tokenType) && this.LA(1).startOffset === this.endOfLast()) {
      this.take();
    }
    const span = this.spanFrom(first);
    return { type: "unit", text: this.text.slice(span.start, span.end), span };
  }
}

const unitParts = new Set([Word, Minus, Slash, Star, Caret, NumberWord, Unknown, Unit]);

function typeAt(at: number): TypeReference {
  return { type: "type", form: "named", span: { start: at, end: at } };
}
