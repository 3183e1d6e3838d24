/**
 * Reads one top-level declaration, whichever it is.
 *
 *     new DeclarationParser(false).read(text, readLines(readTokens(text).tokens))
 *
 * What stands in it is read by the classes it builds on: expressions, blocks, things, kinds.
 *
 * Must not know: where items begin and end (items.ts), what any name means.
 */

import type { IToken, ParserMethod } from "chevrotain";
import { type Mutable, noSpan, nothing, withTitle } from "./block-parser";
import { KindParser } from "./kind-parser";
import { endOf, spanOf } from "./lexer";
import { opensClause } from "./line-structure";
import type { SyntaxProblem } from "./problems";
import * as problems from "./problems";
import { nowhere, quoted } from "./reporting-parser";
import type {
  Clause,
  Display,
  DisplayEntry,
  Expression,
  ItemNode,
  Name,
  Option,
  Order,
  Part,
  Record,
  Text,
  Thing,
  Use,
} from "./syntax";
import {
  Colon,
  ConflictMarker,
  DateWord,
  Dot,
  LeftBrace,
  LeftBracket,
  NumberWord,
  QuotedText,
  RightBrace,
  Word,
} from "./tokens";
import { repetitionWords } from "./words";

export class DeclarationParser extends KindParser {
  constructor(validate: boolean) {
    super(validate);
    this.performSelfAnalysis();
  }

  read(text: string, tokens: IToken[]): { node: ItemNode; problems: readonly SyntaxProblem[] } {
    this.text = text;
    this.problems = [];
    this.reportedAt = nowhere;
    this.resetBlocks(tokens);
    this.input = tokens;
    this.resetExpressions();
    const node = this.item();
    const found = this.problems;
    this.text = "";
    this.problems = [];
    this.input = [];
    return { node, problems: found.length === 0 ? nothing : found };
  }

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
    const repetition = this.repetition();
    const before = this.SUBRULE(this.expression);
    let after: Expression;
    if (this.nextIs("before")) {
      this.take();
      after = this.SUBRULE1(this.expression);
    } else after = this.missingBetween("`before` and what comes later");
    const clauses = this.clauses();
    const span = this.spanFrom(word);
    const order: Order = { type: "order", before, after, clauses, span };
    return withTitle<Order>(repetition === undefined ? order : { ...order, repetition }, title);
  });

  /** `first`, `last` or `every` where a name or list follows: any of them may itself be a name. */
  private repetition(): Order["repetition"] {
    if (this.RECORDING_PHASE) return undefined;
    const next = this.LA(2);
    const goesOn =
      next.tokenType === LeftBracket || (next.tokenType === Word && next.image !== "before");
    const word = repetitionWords.find((each) => goesOn && this.nextIs(each));
    if (word !== undefined) this.take();
    return word;
  }
}

function emptyText(at: number): Text {
  return { type: "text", value: "", span: { start: at, end: at } };
}

function thingFrom(part: Part, kind: Name, name: Name): Thing {
  const { members, body, span } = part;
  return withTitle<Thing>({ type: "thing", kind, name, members, body, span }, part.title);
}
