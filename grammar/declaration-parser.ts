/**
 * Reads declarations and their members: one rule each, gathered by the first words of a line.
 *
 *     new DeclarationParser(false).read(text, readLines(readTokens(text).tokens))
 *
 * A member that goes wrong ends at its line; the members after it are read as if nothing were.
 *
 * Must not know: where items begin and end (items.ts), what any name means.
 */
import { type IOrAlt, type IToken, isRecognitionException, type ParserMethod } from "chevrotain";
import { ExpressionParser, missingAt, nowhere, quoted } from "./expression-parser";
import { endOf, spanOf } from "./lexer";
import { beginners, opensClause, opensMember } from "./line-structure";
import * as problems from "./problems";
import type {
  Check,
  Clause,
  Curve,
  Designation,
  Display,
  DisplayEntry,
  Expression,
  Field,
  Given,
  ItemNode,
  Kind,
  Member,
  Name,
  Option,
  Order,
  Part,
  Path,
  Record,
  Relation,
  Span,
  SyntaxProblem,
  Table,
  TableColumn,
  Text,
  Thing,
  TypeReference,
  UnitReference,
  Unreadable,
  Use,
} from "./syntax";
import {
  Caret,
  Colon,
  Comma,
  ConflictMarker,
  DateWord,
  Dot,
  End,
  Equals,
  LeftBrace,
  LeftParenthesis,
  Minus,
  NumberWord,
  QuotedText,
  RightBrace,
  RightParenthesis,
  Slash,
  Star,
  Unit,
  Unknown,
  Word,
} from "./tokens";
import {
  clauseWords,
  fieldWords,
  namedWords,
  resemblesClause,
  titledWords,
  topWords,
} from "./words";

/** Levels of braces within one another. */
const deepestBlock = 32;

type Scope = "top" | "thing" | "kind" | "table" | "designation" | "display";
type Mutable<Type> = { -readonly [Key in keyof Type]: Type[Key] };
type KindMember = Kind["members"][number];

const nothing: readonly never[] = [];

export class DeclarationParser extends ExpressionParser {
  private scope: Scope = "top";
  private blocks = 0;
  /** The item has an opening brace without its closing one. */
  private unclosed = false;
  private unclosedReported = false;

  constructor(validate: boolean) {
    super(validate);
    this.performSelfAnalysis();
  }

  read(text: string, tokens: IToken[]): { node: ItemNode; problems: readonly SyntaxProblem[] } {
    this.text = text;
    this.problems = [];
    this.reportedAt = nowhere;
    this.unclosed = lacksClosing(tokens);
    this.unclosedReported = false;
    this.scope = "top";
    this.blocks = 0;
    this.input = tokens;
    this.resetExpressions();
    const node = this.item();
    const found = this.problems;
    this.text = "";
    this.problems = [];
    this.input = [];
    return { node, problems: found.length === 0 ? nothing : found };
  }

  // ───────────────────────────── items ─────────────────────────────

  /** The entry: one declaration, and nothing after it. */
  private readonly item: ParserMethod<[], ItemNode> = this.RULE("item", (): ItemNode => {
    if (this.RECORDING_PHASE) {
      return this.OR([
        { ALT: () => this.SUBRULE(this.use) },
        { ALT: () => this.SUBRULE(this.given), IGNORE_AMBIGUITIES: true },
      ]);
    }
    this.skipEnds();
    const start = Math.max(0, this.LA(1).startOffset);
    let node: ItemNode | undefined;
    while (!this.atEnd()) {
      const next = this.guarded(() => this.topDeclaration(), "a declaration");
      // What is left over after the first declaration was split off by a problem: read for its
      // problems, not for its meaning.
      node = node === undefined || node.type === "unreadable" ? next : node;
      this.skipEnds();
    }
    return node ?? { type: "unreadable", span: { start, end: start } };
  });

  private topDeclaration(): ItemNode | undefined {
    const first = this.LA(1);
    if (first.tokenType === ConflictMarker) return this.marker();
    if (first.tokenType === RightBrace) {
      const brace = this.take();
      this.report(problems.strayBrace(spanOf(brace)));
      return { type: "unreadable", span: spanOf(brace) };
    }
    if (first.tokenType !== Word) return undefined;
    const second = this.LA(2);
    const word = first.image;
    if (second.tokenType !== Colon && second.tokenType !== Dot) {
      const titled = second.tokenType !== LeftBrace && !this.opensThing();
      switch (word) {
        case "use":
          if (titled) return this.SUBRULE(this.use);
          break;
        case "display":
          if (second.tokenType === LeftBrace) return this.SUBRULE(this.display);
          break;
        case "option":
          return this.SUBRULE(this.overlay);
        case "kind":
          return this.SUBRULE(this.kind);
        case "designation":
          return this.SUBRULE(this.designation);
        case "table":
          return this.SUBRULE(this.table);
        case "record":
          if (titled || this.LA(3).tokenType !== LeftBrace) return this.SUBRULE(this.record);
          break;
        case "order":
          if (titled) return this.SUBRULE(this.order);
          break;
      }
    }
    this.scope = "top";
    const member = this.thingMember();
    if (member?.type !== "part") return member;
    // A part has no place here: most likely a thing whose name is still to come.
    const names = member.path.names;
    const [kind, name] = names;
    if (names.length === 1 && kind !== undefined) {
      const at = kind.span.end;
      this.report(
        problems.missingName(quoted(kind.text), "`{`", { start: kind.span.start, end: at }),
      );
      return thingFrom(member, kind, { type: "name", text: "", span: { start: at, end: at } });
    }
    this.report(
      problems.misplaced(
        `a part such as \`${names.map((each) => each.text).join(".")} { … }\``,
        "inside a thing, an option or a record, not at the top of a file",
        member.path.span,
      ),
    );
    return name === undefined ? undefined : { type: "unreadable", span: member.span };
  }

  private readonly use: ParserMethod<[], Use> = this.RULE("use", (): Use => {
    const word = this.CONSUME(Word);
    const path = this.titleAfter(word, "a path in quotes") ?? emptyText(endOf(word));
    const use: Mutable<Use> = { type: "use", path, span: { start: 0, end: 0 } };
    if (this.nextIs("as")) {
      const as = this.take();
      use.alias = this.nameAfter(as);
    }
    use.span = this.spanFrom(word);
    return use;
  });

  private readonly display: ParserMethod<[], Display> = this.RULE("display", (): Display => {
    const word = this.CONSUME(Word);
    const { members } = this.block("display", "display {", word, () => this.displayEntry());
    return { type: "display", entries: members, span: this.spanFrom(word) };
  });

  private displayEntry(): DisplayEntry | undefined {
    if (this.LA(1).tokenType !== Word) return undefined;
    const measure = this.nameFrom(this.take());
    this.colonAfter(quoted(measure.text));
    const unit = this.unitRun();
    const entry: Mutable<DisplayEntry> = { measure, unit, span: measure.span };
    if (this.LA(1).tokenType === NumberWord) entry.increment = this.numberFrom(this.take());
    entry.span = { start: measure.span.start, end: this.endOfLast() };
    return entry;
  }

  private readonly overlay: ParserMethod<[], Option> = this.RULE("overlay", (): Option => {
    const word = this.CONSUME(Word);
    const name = this.nameAfter(word);
    const title = this.optionalTitle();
    const { members, body } = this.thingBlock(word, `option ${name.text}`);
    return withTitle<Option>(
      { type: "option", name, members, body, span: this.spanFrom(word) },
      title,
    );
  });

  private readonly record: ParserMethod<[], Record> = this.RULE("record", (): Record => {
    const word = this.CONSUME(Word);
    const record: Mutable<Record> = {
      type: "record",
      clauses: nothing,
      members: nothing,
      body: noSpan,
      span: noSpan,
    };
    const clauses: Clause[] = [];
    for (;;) {
      const next = this.LA(1);
      if (next.tokenType === QuotedText && record.title === undefined) {
        record.title = this.SUBRULE(this.quotedText);
      } else if (next.tokenType === DateWord && record.date === undefined) {
        record.date = this.SUBRULE(this.date);
      } else if (opensClause(next, this.LA(2))) clauses.push(this.SUBRULE(this.clause));
      else break;
    }
    if (clauses.length > 0) record.clauses = clauses;
    const head = record.title === undefined ? "record" : `record "${record.title.value}"`;
    const { members, body } = this.thingBlock(word, head);
    record.members = members;
    record.body = body;
    record.span = this.spanFrom(word);
    return record;
  });

  private readonly order: ParserMethod<[], Order> = this.RULE("order", (): Order => {
    const word = this.CONSUME(Word);
    const title = this.titleAfter(word, "a title in quotes");
    this.colonAfter("the title");
    const before = this.SUBRULE(this.expression);
    let after: Expression;
    if (this.nextIs("before")) {
      this.take();
      after = this.SUBRULE1(this.expression);
    } else after = this.missingBetween("`before` and what comes later");
    const clauses = this.clauses();
    const span = this.spanFrom(word);
    return withTitle<Order>({ type: "order", before, after, clauses, span }, title);
  });

  // ───────────────────────────── kinds ─────────────────────────────

  private readonly kind: ParserMethod<[], Kind> = this.RULE("kind", (): Kind => {
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

  private kindMember(): KindMember | undefined {
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

  private readonly field: ParserMethod<[], Field> = this.RULE("field", (): Field => {
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
  private fieldPart(field: Mutable<Field>, words: Name[], clauses: Clause[]): boolean {
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
    } else words.push(this.nameFrom(this.take()));
    return true;
  }

  /** A word and a text: a misspelled clause, unless the word is one of a field's own. */
  private looksLikeFieldWord(word: IToken): boolean {
    return fieldWords.has(word.image) || !resemblesClause(word.image);
  }

  private fieldGoesOn(word: IToken, next: IToken): boolean {
    if (word.tokenType === QuotedText || opensClause(word, next)) return true;
    if (word.tokenType !== Word || !fieldWords.has(word.image)) return false;
    return next.tokenType !== Colon && next.tokenType !== LeftBrace && next.tokenType !== Dot;
  }

  private rangeProblem(range: IToken, limits: Expression): void {
    if (limits.type === "missing") return;
    const found = quoted(this.text.slice(limits.span.start, limits.span.end));
    const span = { start: range.startOffset, end: limits.span.end };
    this.report(problems.unexpected("limits `low..high` after `range`", found, span));
  }

  private typeReference(): TypeReference {
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

  private ownedType(word: IToken, form: "part" | "list"): TypeReference {
    const name = this.nameFrom(this.take());
    return { type: "type", form, name, span: this.spanFrom(word) };
  }

  private choices(word: IToken): TypeReference {
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

  private readonly designation: ParserMethod<[], Designation> = this.RULE(
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

  private readonly table: ParserMethod<[], Table> = this.RULE("table", (): Table => {
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

  private readonly column: ParserMethod<[], TableColumn> = this.RULE("column", (): TableColumn => {
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
  });

  private readonly row: ParserMethod<[], Table["rows"][number]> = this.RULE(
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
  private unitRun(): UnitReference {
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

  // ───────────────────────────── members of things ─────────────────────────────

  private thingMember(): Member | undefined {
    const first = this.LA(1);
    if (first.tokenType === ConflictMarker) return this.marker();
    if (first.tokenType !== Word) return undefined;
    const second = this.LA(2);
    switch (second.tokenType) {
      case Colon:
        return this.SUBRULE(this.given);
      case LeftBrace:
        return this.SUBRULE(this.part);
      case Dot:
        return this.pathOpensBlock() ? this.SUBRULE(this.part) : this.SUBRULE1(this.given);
      case QuotedText:
        if (opensClause(first, second)) return this.looseClause();
        if (this.LA(3).tokenType === LeftBrace && !titledWords.has(first.image)) {
          return this.SUBRULE(this.part);
        }
        break;
    }
    if (this.scope !== "top" && this.opensTopDeclaration(first.image)) {
      this.skipMisplaced(
        `a declaration that begins with \`${first.image}\` stands at the top of a file, so nothing of its kind`,
      );
      return undefined;
    }
    const titled = this.titledMember(first.image);
    if (titled !== undefined) return titled;
    if (this.unknownClauseAhead()) return this.looseClause();
    if (second.tokenType === Word && !opensClause(second, this.LA(3))) {
      return this.SUBRULE(this.thing);
    }
    return this.SUBRULE1(this.given);
  }

  /** Checks, relations and curves, which stand in things, in kinds and at the top alike. */
  private titledMember(word: string): Check | Relation | Curve | undefined {
    const second = this.LA(2).tokenType;
    if (this.opensThing() && word !== "curve") return undefined;
    if (second !== QuotedText && second !== Word) return undefined;
    switch (word) {
      case "check":
        return this.SUBRULE(this.check);
      case "relation":
      case "assume":
        return this.SUBRULE(this.relation);
      case "curve":
        return second === Word ? this.SUBRULE(this.curve) : undefined;
      default:
        return undefined;
    }
  }

  private readonly given: ParserMethod<[], Given | Check | Relation> = this.RULE(
    "given",
    (): Given | Check | Relation => {
      const start = this.LA(1);
      const path = this.SUBRULE(this.path);
      if (this.RECORDING_PHASE) {
        this.CONSUME(Colon);
        this.SUBRULE(this.expression);
        return { type: "given", path, value: missingAt(0), clauses: nothing, span: noSpan };
      }
      const value = this.valueAfter(path);
      const word = path.names.length === 1 ? path.names[0]!.text : "";
      if ((word === "relation" || word === "assume") && this.LA(1).tokenType === Equals) {
        this.take();
        const right = this.SUBRULE1(this.expression);
        const clauses = this.clauses();
        const assumed = word === "assume";
        const span = this.spanFrom(start);
        return { type: "relation", assumed, left: value, right, clauses, span };
      }
      const clauses = this.clauses();
      const span = this.spanFrom(start);
      if (word === "check" && value.type === "binary" && !arithmetic.has(value.operator)) {
        return { type: "check", condition: value, clauses, span };
      }
      return { type: "given", path, value, clauses, span };
    },
  );

  /** The value after a path, past a `:` that may be missing or mistaken. */
  private valueAfter(path: Path): Expression {
    const name = this.text.slice(path.span.start, path.span.end);
    const next = this.LA(1);
    if (next.tokenType === Colon) {
      this.take();
      return this.SUBRULE(this.expression);
    }
    if (this.alreadyReported()) return missingAt(this.endOfLast());
    if (next.tokenType === Equals) {
      this.report(problems.equalsForColon(name, spanOf(next)));
      this.take();
      return this.SUBRULE2(this.expression);
    }
    if (beginners.has(next.tokenType) && next.tokenType !== LeftParenthesis) {
      const at = this.endOfLast();
      this.report(problems.missingColon(quoted(name), this.found(), spanOf(next), at));
      this.reportedAt = nowhere;
      return this.SUBRULE3(this.expression);
    }
    if (this.atBreak()) this.report(problems.loneName(name, this.found(), path.span));
    else this.reportUnexpected(`\`:\` after ${quoted(name)}`);
    return missingAt(this.endOfLast());
  }

  private readonly part: ParserMethod<[], Part> = this.RULE("part", (): Part => {
    const start = this.LA(1);
    const path = this.SUBRULE(this.path);
    const title = this.optionalTitle();
    const head = this.text.slice(path.span?.start ?? 0, path.span?.end ?? 0);
    const { members, body } = this.thingBlock(start, head);
    return withTitle<Part>(
      { type: "part", path, members, body, span: this.spanFrom(start) },
      title,
    );
  });

  private readonly thing: ParserMethod<[], Thing> = this.RULE("thing", (): Thing => {
    const word = this.CONSUME(Word);
    const kind = this.nameFrom(word);
    const name = this.nameAfter(word);
    const title = this.optionalTitle();
    const { members, body } = this.thingBlock(word, `${kind.text} ${name.text}`);
    const span = this.spanFrom(word);
    return withTitle<Thing>({ type: "thing", kind, name, members, body, span }, title);
  });

  private readonly check: ParserMethod<[], Check> = this.RULE("check", (): Check => {
    const word = this.CONSUME(Word);
    const title = this.titleAfter(word, "a title in quotes");
    const when = this.condition();
    this.colonAfter(when === undefined ? "the title" : "the condition");
    const condition = this.SUBRULE(this.expression);
    const clauses = this.clauses();
    const span = this.spanFrom(word);
    return withTitle<Check>(
      when === undefined
        ? { type: "check", condition, clauses, span }
        : { type: "check", when, condition, clauses, span },
      title,
    );
  });

  private readonly relation: ParserMethod<[], Relation> = this.RULE("relation", (): Relation => {
    const word = this.CONSUME(Word);
    const title = this.titleAfter(word, "a title in quotes");
    const when = this.condition();
    this.colonAfter(when === undefined ? "the title" : "the condition");
    const left = this.SUBRULE(this.expression);
    let right: Expression;
    if (this.LA(1).tokenType === Equals || this.LA(1).image === "==") {
      this.take();
      right = this.SUBRULE1(this.expression);
    } else right = this.missingBetween("`=` and the other side");
    const clauses = this.clauses();
    const relation: Mutable<Relation> = {
      type: "relation",
      assumed: word.image === "assume",
      left,
      right,
      clauses,
      span: this.spanFrom(word),
    };
    if (title !== undefined) relation.title = title;
    if (when !== undefined) relation.when = when;
    return relation;
  });

  private readonly curve: ParserMethod<[], Curve> = this.RULE("curve", (): Curve => {
    const word = this.CONSUME(Word);
    const name = this.nameAfter(word);
    const title = this.optionalTitle();
    this.colonAfter(title === undefined ? quoted(name.text) : "the title");
    const value = this.SUBRULE(this.expression);
    const parameter = this.nextIs("over")
      ? this.nameAfter(this.take())
      : this.missingWord("`over` and a name");
    const from = this.valueAfterWord("from");
    const to = this.valueAfterWord("to");
    const curve: Mutable<Curve> = {
      type: "curve",
      name,
      value,
      parameter,
      from,
      to,
      clauses: nothing,
      span: noSpan,
    };
    if (title !== undefined) curve.title = title;
    if (this.nextIs("step")) curve.step = this.valueAfterWord("step");
    curve.clauses = this.clauses();
    curve.span = this.spanFrom(word);
    return curve;
  });

  private valueAfterWord(word: string): Expression {
    if (this.RECORDING_PHASE) return missingAt(0);
    if (!this.nextIs(word)) return this.missingBetween(`\`${word}\` and a value`);
    this.take();
    return this.SUBRULE4(this.expression);
  }

  /** `when …` before the `:` of a check or relation. */
  private condition(): Expression | undefined {
    if (this.RECORDING_PHASE || !this.nextIs("when")) return undefined;
    this.take();
    return this.SUBRULE5(this.expression);
  }

  // ───────────────────────────── clauses ─────────────────────────────

  private readonly clause: ParserMethod<[], Clause> = this.RULE("clause", (): Clause => {
    const token = this.CONSUME(Word);
    const word = this.nameFrom(token);
    if (!this.RECORDING_PHASE && !clauseWords.has(word.text)) {
      this.report(problems.unknownClause(word.text, word.span));
    }
    const value = this.OR<IOrAlt<Expression>[]>([
      { ALT: () => this.SUBRULE(this.quotedText) },
      { ALT: () => this.SUBRULE(this.path) },
    ]);
    return { type: "clause", word, value, span: this.spanFrom(token) };
  });

  /** Clauses on this line and, unless `lineOnly`, on the lines after it. */
  private clauses(lineOnly = false): readonly Clause[] {
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
  private unknownClauseAhead(): boolean {
    const word = this.LA(1);
    return (
      word.tokenType === Word &&
      this.LA(2).tokenType === QuotedText &&
      this.LA(3).tokenType !== LeftBrace &&
      !titledWords.has(word.image) &&
      word.image !== "row" &&
      word.image !== "form"
    );
  }

  /** A clause with nothing before it. */
  private looseClause(): Unreadable {
    const word = this.LA(1);
    const known = clauseWords.has(word.image);
    const clause = this.SUBRULE(this.clause);
    if (known) this.report(problems.misplacedClause(word.image, clause.word.span));
    return { type: "unreadable", span: clause.span };
  }

  // ───────────────────────────── blocks ─────────────────────────────

  private thingBlock(start: IToken, head: string): { members: Member[]; body: Span } {
    return this.block("thing", `${head} {`, start, () => this.thingMember());
  }

  /**
   * Members between braces. `read` reads one and gives undefined where it finds none; whatever is
   * wrong inside a member ends with its line.
   */
  private block<Type extends { readonly span: Span }>(
    scope: Scope,
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
    const margin = this.unclosed ? indentAt(this.text, start.startOffset) : 0;
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
        const indent = indentAt(this.text, next.startOffset);
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
    return { members, body: { start: open.startOffset, end: this.endOfLast() } };
  }

  /** True where a `{` is next and may be opened; else the reason why not is reported. */
  private openBlock(head: string): boolean {
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

  private braceAhead(): number | undefined {
    for (let ahead = 0; ; ahead++) {
      const next = this.LA(ahead + 1);
      if (next.tokenType === LeftBrace) return ahead;
      if (next.tokenType === End || next.tokenType === RightBrace || next.startOffset < 0) {
        return undefined;
      }
      if (next.tokenType === Colon || next.image === "") return undefined;
    }
  }

  private unclosedBlock(head: string, start: IToken, open: IToken): void {
    const last = this.endOfLast();
    const sameLine = !/[\n\r]/.test(this.text.slice(open.startOffset, last));
    // On a line of its own, it comes behind the comment that may end the last line.
    const rest = sameLine ? 0 : this.text.slice(last).search(/[\n\r]|$/);
    const at = last + rest;
    const margin = " ".repeat(indentAt(this.text, start.startOffset));
    const closing = sameLine ? " }" : `\n${margin}}`;
    const span = { start: start.startOffset, end: endOf(open) };
    this.report(problems.unclosedBrace(head, span, at, closing));
  }

  /**
   * Reads one member and sees to it that something was read and that the member ends where a member
   * may end.
   */
  private guarded<Type extends { readonly span: Span; readonly type?: string }>(
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
  private skipMember(): void {
    while (!this.atBreak()) {
      if (this.LA(1).tokenType === LeftBrace) this.skipBraces();
      else {
        this.take();
        if (opensMember(this.look)) return;
      }
    }
  }

  /** Skips from `{` to its `}`. */
  private skipBraces(): void {
    let depth = 0;
    while (!this.atEnd()) {
      const type = this.take().tokenType;
      if (type === LeftBrace) depth++;
      else if (type === RightBrace && --depth === 0) return;
    }
  }

  private skipMisplaced(what: string): void {
    const first = this.LA(1);
    this.report(problems.misplaced(what, "here", spanOf(first)));
    this.take();
    while (!this.atBreak() && this.LA(1).tokenType !== LeftBrace) this.take();
    if (this.LA(1).tokenType === LeftBrace) this.skipBraces();
  }

  private marker(): Unreadable {
    const token = this.take();
    this.report(problems.conflictMarker(spanOf(token)));
    return { type: "unreadable", span: spanOf(token) };
  }

  private dropped(_node: Unreadable): undefined {
    return undefined;
  }

  // ───────────────────────────── small helpers ─────────────────────────────

  private atEnd(): boolean {
    const next = this.LA(1);
    return next.startOffset < 0 || next.image === "";
  }

  /** True where a member may end. */
  private atBreak(): boolean {
    const next = this.LA(1);
    return (
      next.tokenType === End ||
      next.tokenType === RightBrace ||
      next.tokenType === ConflictMarker ||
      this.atEnd()
    );
  }

  private skipEnds(): void {
    while (this.LA(1).tokenType === End) this.take();
  }

  /** True where a word of the language is next, and no field of that name. */
  private nextIs(word: string): boolean {
    const next = this.LA(1);
    return next.tokenType === Word && next.image === word && this.LA(2).tokenType !== Colon;
  }

  /** `kind name {` or `kind name "…" {`. */
  private opensThing(): boolean {
    if (this.LA(2).tokenType !== Word) return false;
    const third = this.LA(3).tokenType;
    return third === LeftBrace || (third === QuotedText && this.LA(4).tokenType === LeftBrace);
  }

  private opensTopDeclaration(word: string): boolean {
    if (!topWords.has(word)) return false;
    const second = this.LA(2).tokenType;
    if (namedWords.has(word)) return second === Word;
    return second === QuotedText || (word === "record" && second === DateWord);
  }

  private pathOpensBlock(): boolean {
    let ahead = 2;
    while (this.LA(ahead).tokenType === Dot) ahead += 2;
    const follower = this.LA(ahead).tokenType;
    if (follower === LeftBrace) return true;
    return follower === QuotedText && this.LA(ahead + 1).tokenType === LeftBrace;
  }

  private nameAfter(word: IToken): Name {
    if (this.RECORDING_PHASE) return this.nameFrom(this.consume(21, Word));
    if (this.LA(1).tokenType === Word) return this.nameFrom(this.take());
    const at = endOf(word);
    if (!this.alreadyReported()) {
      this.report(problems.missingName(quoted(word.image), this.found(), this.spanOfNext()));
    }
    return { type: "name", text: "", span: { start: at, end: at } };
  }

  private missingWord(what: string): Name {
    this.missingBetween(what);
    const at = this.endOfLast();
    return { type: "name", text: "", span: { start: at, end: at } };
  }

  /** Reports that something should follow the last words, unless they are a problem already. */
  private missingBetween(what: string): Expression {
    const at = this.endOfLast();
    if (!this.RECORDING_PHASE && !this.alreadyReported()) {
      const span = this.spanOfNext();
      this.report(problems.missingPart(what, this.lastWords(), this.found(), span));
    }
    return missingAt(at);
  }

  private optionalTitle(): Text | undefined {
    if (this.RECORDING_PHASE) {
      this.OPTION(() => this.SUBRULE(this.quotedText));
      return undefined;
    }
    return this.LA(1).tokenType === QuotedText ? this.SUBRULE(this.quotedText) : undefined;
  }

  private titleAfter(word: IToken, what: string): Text | undefined {
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
  private colonAfter(what: string): boolean {
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

const noSpan: Span = { start: 0, end: 0 };

const arithmetic: ReadonlySet<string> = new Set(["+", "-", "*", "/", "^"]);

const unitParts = new Set([Word, Minus, Slash, Star, Caret, NumberWord, Unknown, Unit]);

const memberWords: { readonly [Key in Scope]: string } = {
  top: "a declaration",
  thing: "`field: value`, `part { … }` or `kind name { … }`",
  kind: "`field: type`, a relation or a check",
  table: "`key name: type`, `name: type` or `row …`",
  designation: '`part: type` or `form "…"`',
  display: "`measure: unit`",
};

function withTitle<Type extends { readonly title?: Text }>(
  node: Omit<Type, "title">,
  title: Text | undefined,
): Type {
  return (title === undefined ? node : { ...node, title }) as Type;
}

function emptyText(at: number): Text {
  return { type: "text", value: "", span: { start: at, end: at } };
}

function typeAt(at: number): TypeReference {
  return { type: "type", form: "named", span: { start: at, end: at } };
}

function thingFrom(part: Part, kind: Name, name: Name): Thing {
  const { members, body, span } = part;
  return withTitle<Thing>({ type: "thing", kind, name, members, body, span }, part.title);
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

/** Blanks before the line that holds `offset`; a tab counts as two. */
function indentAt(text: string, offset: number): number {
  let start = offset;
  while (start > 0 && text[start - 1] !== "\n" && text[start - 1] !== "\r") start--;
  let width = 0;
  for (let at = start; at < offset; at++) {
    if (text[at] === " ") width++;
    else if (text[at] === "\t") width += 2;
    else break;
  }
  return width;
}

function isFirstOnLine(text: string, offset: number): boolean {
  let at = offset - 1;
  while (at >= 0 && (text[at] === " " || text[at] === "\t")) at--;
  return at < 0 || text[at] === "\n" || text[at] === "\r";
}
