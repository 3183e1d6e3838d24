/**
 * Reads what may stand inside a thing, a part, an option or a record: givens, parts, things, checks,
 * relations and curves.
 *
 *     offset: 18 mm          left { … }          step weld "…" { … }          check "…": …
 *
 * Must not know: declarations that stand only at the top of a file.
 */
import type { IToken, ParserMethod } from "chevrotain";
import {
  BlockParser,
  type Mutable,
  noSpan,
  nothing,
  withLikeness,
  withTitle,
} from "./block-parser";
import { missingAt } from "./expression-parser";
import { spanOf } from "./lexer";
import { beginners, opensBlock, opensClause, opensLikeness } from "./line-structure";
import * as problems from "./problems";
import { nowhere, quoted } from "./reporting-parser";
import type {
  Check,
  Curve,
  Expression,
  Given,
  Member,
  Part,
  Path,
  Relation,
  RelationWord,
  Span,
  Thing,
} from "./syntax";
import {
  Colon,
  ConflictMarker,
  Dot,
  Equals,
  LeftBrace,
  LeftParenthesis,
  PlusMinus,
  QuotedText,
  Word,
} from "./tokens";
import { distributionWords, roleWords, titledWords } from "./words";

type WhatItIs = Pick<
  Given,
  "value" | "role" | "tolerance" | "step" | "near" | "distribution" | "together"
>;

export abstract class ThingParser extends BlockParser {
  protected thingMember(): Member | undefined {
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
        if (opensBlock(this.look, 1) && !titledWords.has(first.image)) {
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
    if (opensLikeness(this.look, 1) && !this.opensThing()) return this.SUBRULE1(this.part);
    const titled = this.titledMember(first.image);
    if (titled !== undefined) return titled;
    if (this.unknownClauseAhead()) return this.looseClause();
    if (second.tokenType === Word && !opensClause(second, this.LA(3))) {
      return this.SUBRULE(this.thing);
    }
    return this.SUBRULE1(this.given);
  }

  protected thingBlock(start: IToken, head: string): { members: Member[]; body: Span } {
    return this.block("thing", `${head} {`, start, () => this.thingMember());
  }

  /** Checks, relations and curves, which stand in things, in kinds and at the top alike. */
  protected titledMember(word: string): Check | Relation | Curve | undefined {
    const second = this.LA(2).tokenType;
    if (this.opensThing() && word !== "curve") return undefined;
    if (second !== QuotedText && second !== Word) return undefined;
    switch (word) {
      case "check":
        return this.SUBRULE(this.check);
      case "wanted":
        return second === QuotedText ? this.SUBRULE2(this.relation) : undefined;
      case "relation":
      case "assume":
        return this.SUBRULE(this.relation);
      case "curve":
        return second === Word ? this.SUBRULE(this.curve) : undefined;
      default:
        return undefined;
    }
  }

  protected readonly given: ParserMethod<[], Given | Check | Relation> = this.RULE(
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
      if (isRelationWord(word) && this.LA(1).tokenType === Equals) {
        this.take();
        const sides = { left: value, ...withoutTolerance(this.SUBRULE1(this.expression)) };
        const clauses = this.clauses();
        return { type: "relation", word, ...sides, clauses, span: this.spanFrom(start) };
      }
      const said = this.whatItIs(value);
      const clauses = this.clauses();
      const span = this.spanFrom(start);
      if (word === "check" && value.type === "binary" && !arithmetic.has(value.operator)) {
        return { type: "check", condition: value, clauses, span };
      }
      return { type: "given", path, ...said, clauses, span };
    },
  );

  /**
   * Behind a value, in any order: its role, the step it is made to, ± and which answer is meant where it
   * is asked for, how it lies within its ± and what it moves together with.
   */
  private whatItIs(written: Expression): WhatItIs {
    const said: Mutable<WhatItIs> = { value: written };
    if (written.type === "tolerance" && written.nominal.type === "ask") {
      said.value = written.nominal;
      said.tolerance = written.by;
    }
    for (;;) {
      const next = this.LA(1);
      if (next.tokenType === PlusMinus && said.role !== undefined) {
        this.take();
        const by = this.SUBRULE6(this.expression);
        if (said.value.type === "ask") said.tolerance = by;
        else said.value = toleranced(said.value, by);
      } else if (next.tokenType === Word && roleWords.has(next.image) && !this.nextOpensMember()) {
        const role = this.nameFrom(this.take());
        if (said.role === undefined) said.role = role;
        else this.report(problems.repeatedPart("what it is", role.span));
      } else if (this.nextIs("to") && !this.nextOpensMember()) {
        this.take();
        const step = this.SUBRULE7(this.expression);
        said.step = step;
        if (step.type !== "tolerance") continue;
        said.step = step.nominal;
        if (said.value.type === "ask") said.tolerance = step.by;
        else said.value = toleranced(said.value, step.by);
      } else if (said.value.type === "ask" && this.nextIs("near") && !this.nextOpensMember()) {
        this.take();
        said.near = this.SUBRULE8(this.expression);
      } else if (
        hasLimits(said) &&
        next.tokenType === Word &&
        distributionWords.has(next.image) &&
        !this.nextOpensMember()
      ) {
        said.distribution = this.nameFrom(this.take());
      } else if (
        hasLimits(said) &&
        this.nextIs("together") &&
        this.LA(2).tokenType === QuotedText
      ) {
        this.take();
        said.together = this.SUBRULE9(this.quotedText);
      } else return said;
    }
  }

  /** A word behind a value that is the name of the next member all the same. */
  private nextOpensMember(): boolean {
    const second = this.LA(2).tokenType;
    return [Colon, Dot, LeftBrace, QuotedText, Equals].includes(second);
  }

  /** The value after a path, past a `:` that may be missing or mistaken. */
  protected valueAfter(path: Path): Expression {
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

  protected readonly part: ParserMethod<[], Part> = this.RULE("part", (): Part => {
    const start = this.LA(1);
    const path = this.SUBRULE(this.path);
    const title = this.optionalTitle();
    const like = this.likeness();
    const head = this.text.slice(path.span?.start ?? 0, path.span?.end ?? 0);
    const { members, body } = this.thingBlock(start, head);
    const part: Part = { type: "part", path, members, body, span: this.spanFrom(start) };
    return withLikeness<Part>(withTitle<Part>(part, title), like);
  });

  protected readonly thing: ParserMethod<[], Thing> = this.RULE("thing", (): Thing => {
    const word = this.CONSUME(Word);
    const kind = this.nameFrom(word);
    const name = this.nameAfter(word);
    const title = this.optionalTitle();
    const like = this.likeness();
    const { members, body } = this.thingBlock(word, `${kind.text} ${name.text}`);
    const thing: Thing = { type: "thing", kind, name, members, body, span: this.spanFrom(word) };
    return withLikeness<Thing>(withTitle<Thing>(thing, title), like);
  });

  protected readonly check: ParserMethod<[], Check> = this.RULE("check", (): Check => {
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

  protected readonly relation: ParserMethod<[], Relation> = this.RULE("relation", (): Relation => {
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
      word: isRelationWord(word.image) ? word.image : "relation",
      left,
      ...withoutTolerance(right),
      clauses,
      span: this.spanFrom(word),
    };
    if (title !== undefined) relation.title = title;
    if (when !== undefined) relation.when = when;
    return relation;
  });

  protected readonly curve: ParserMethod<[], Curve> = this.RULE("curve", (): Curve => {
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

  protected valueAfterWord(word: string): Expression {
    if (this.RECORDING_PHASE) return missingAt(0);
    if (!this.nextIs(word)) return this.missingBetween(`\`${word}\` and a value`);
    this.take();
    return this.SUBRULE4(this.expression);
  }

  /** `when …` before the `:` of a check or relation. */
  protected condition(): Expression | undefined {
    if (this.RECORDING_PHASE || !this.nextIs("when")) return undefined;
    this.take();
    return this.SUBRULE5(this.expression);
  }
}

function isRelationWord(word: string): word is RelationWord {
  return word === "relation" || word === "assume" || word === "wanted";
}

/** `b ± 1/32 in` on the right of `=` says how far the two sides may be apart. */
function withoutTolerance(right: Expression): Pick<Relation, "right" | "tolerance"> {
  return right.type === "tolerance" ? { right: right.nominal, tolerance: right.by } : { right };
}

function toleranced(nominal: Expression, by: Expression): Expression {
  return {
    type: "tolerance",
    nominal,
    by,
    span: { start: nominal.span.start, end: by.span.end },
  };
}

const arithmetic: ReadonlySet<string> = new Set(["+", "-", "*", "/", "^"]);

/** It has a ± or limits of its own. */
function hasLimits({ value, tolerance }: Pick<Given, "value" | "tolerance">): boolean {
  return tolerance !== undefined || value.type === "tolerance" || value.type === "limits";
}
