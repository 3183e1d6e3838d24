/**
 * Reads an entry of a log that stands on one line, the way it is written by `trammel log` and laid out by
 * the formatter. A log holds thousands of these and little else: they are read without a parser, into
 * the very node that the parser makes of them.
 *
 *     readEntryLine('record 2026-04-04 by "R. Calder" { braking.shims.done: yes }\n')   →   its node
 *
 * Undefined for all that is laid out otherwise, or that may be wrong: that is the parser's.
 * Must not know: what any name means.
 */
import { isUnitSymbol, readNumber } from "../server/units";
import { isDay } from "./literals";
import { ownCopy } from "./own-copy";
import type {
  Clause,
  Expression,
  Given,
  Member,
  Name,
  Names,
  NumberLiteral,
  Part,
  Record,
  Span,
} from "./syntax";
import { notUnits } from "./words";

export function readEntryLine(text: string): Record | undefined {
  if (!text.startsWith(opener)) return undefined;
  return new EntryLine(text).record();
}

// ───────────────────────────── helpers ─────────────────────────────

const day = /\d{4}-\d\d-\d\d(?= )/y;
const clause = / (by|with|at) "([^"\\\n\r]*)"/y;
/** What stands for itself, up to where the next member begins or the braces close. */
const literal =
  /(?:(yes|no)|(\d+(?:\.\d+)?(?: \d+\/\d+)?|\d+\/\d+)(?: ([A-Za-z]+(?:-[A-Za-z]+)?|%))?|"([^"\\\n\r]*)"|\[(\d+(?:, \d+)*)\])(?=;? +[A-Za-z_}])/y;
const ending = /\}\r?\n?$/y;

const nothing: readonly never[] = [];

/** Deeper than entries are nested. */
const deepest = 8;

/** Where the head of an entry begins, behind its day. */
const headStart = "record 2026-04-04".length;
/** One hand writes under the same head for a while: the last few are known by their text. */
const heads: { readonly text: string; readonly clauses: readonly Clause[] }[] = [];
const mostHeads = 8;
let latestDay = "none";

class EntryLine {
  private at = 0;
  private match: RegExpExecArray | undefined;

  constructor(private readonly text: string) {}

  record(): Record | undefined {
    const day = this.day();
    if (day === undefined) return undefined;
    const span = { start: opener.length, end: headStart };
    const date = { type: "date" as const, text: day, span };
    const clauses = this.head();
    if (clauses === undefined) return undefined;
    const start = this.at - 2;
    const members = this.members(0);
    if (members === undefined) return undefined;
    const end = this.at + 1;
    if (!this.takes(ending)) return undefined;
    return {
      type: "record",
      clauses,
      members,
      body: { start, end },
      span: { start: 0, end },
      date,
    };
  }

  /** Most entries are of the day of the one before. */
  private day(): string | undefined {
    this.at = headStart;
    if (this.text.startsWith(latestDay, opener.length)) return latestDay;
    day.lastIndex = opener.length;
    const found = day.exec(this.text)?.[0];
    if (found === undefined || !isDay(found)) return undefined;
    latestDay = found;
    return found;
  }

  /** Who, when and with what, up to where its lines begin. */
  private head(): readonly Clause[] | undefined {
    const { text } = this;
    const known = heads.find((each) => text.startsWith(each.text, headStart));
    if (known !== undefined) {
      this.at = headStart + known.text.length;
      return known.clauses;
    }
    const clauses: Clause[] = [];
    while (text.charCodeAt(this.at + 1) !== leftBrace) {
      if (!this.takes(clause)) return undefined;
      clauses.push(this.clause());
    }
    if (!this.takesSigns(" { ")) return undefined;
    heads.unshift({ text: ownCopy(text.slice(headStart, this.at)), clauses });
    heads.length = Math.min(heads.length, mostHeads);
    return clauses;
  }

  private clause(): Clause {
    const [all = "", word = "", value = ""] = this.match ?? [];
    const start = this.at - all.length + 1;
    const open = start + word.length + 1;
    return {
      type: "clause",
      word: { type: "name", text: word, span: { start, end: start + word.length } },
      value: { type: "text", value: ownCopy(value), span: { start: open, end: this.at } },
      span: { start, end: this.at },
    };
  }

  /** Up to the brace that closes them. */
  private members(depth: number): Member[] | undefined {
    const members: Member[] = [];
    let afterUnit = false;
    while (this.text.charCodeAt(this.at) !== rightBrace) {
      const start = this.at;
      const names = this.names();
      // Any of the language's own words may mean something else there.
      if (names === undefined || (afterUnit && isUnitSymbol(names[0]?.text ?? "")))
        return undefined;
      const span = { start, end: this.at };
      const member = this.takesSigns(": ")
        ? this.given(names, span)
        : this.takesSigns(" { ")
          ? this.part(names, span, depth + 1)
          : undefined;
      if (member === undefined) return undefined;
      members.push(member);
      afterUnit = member.type === "given" && member.value.type === "quantity";
      if (!this.takesSeparator()) return undefined;
    }
    return members.length === 0 ? undefined : members;
  }

  private part(names: Names, span: Span, depth: number): Part | undefined {
    const open = this.at - 2;
    const members = depth > deepest ? undefined : this.members(depth);
    if (members === undefined) return undefined;
    this.at++;
    return {
      type: "part",
      path: { type: "path", names, span },
      members,
      body: { start: open, end: this.at },
      span: { start: span.start, end: this.at },
    };
  }

  private given(names: Names, span: Span): Given | undefined {
    if (!this.takes(literal)) return undefined;
    const value = this.value();
    if (value === undefined) return undefined;
    return {
      type: "given",
      path: { type: "path", names, span },
      value,
      clauses: nothing,
      span: { start: span.start, end: value.span.end },
    };
  }

  private value(): Expression | undefined {
    const [all = "", yesNo, number, unit, text, list] = this.match ?? [];
    const start = this.at - all.length;
    const span = { start, end: this.at };
    if (yesNo !== undefined) return { type: "yes_no", value: yesNo === "yes", span };
    if (text !== undefined) return { type: "text", value: text, span };
    if (list !== undefined) {
      const items: NumberLiteral[] = [];
      let place = start + 1;
      for (const each of list.split(", ")) {
        const item = numberAt(each, place);
        if (item === undefined) return undefined;
        items.push(item);
        place += each.length + 2;
      }
      return { type: "list", items, span };
    }
    const read = numberAt(number ?? "", start);
    if (read === undefined || unit === undefined) return read;
    if (!isUnitSymbol(unit) || notUnits.has(unit)) return undefined;
    const symbol = {
      type: "unit" as const,
      text: unit,
      span: { start: this.at - unit.length, end: this.at },
    };
    return { type: "quantity", parts: [{ number: read, unit: symbol }], span };
  }

  private takes(pattern: RegExp): boolean {
    pattern.lastIndex = this.at;
    const match = pattern.exec(this.text);
    if (match === null) return false;
    this.match = match;
    this.at = pattern.lastIndex;
    return true;
  }

  private takesSigns(signs: string): boolean {
    if (!this.text.startsWith(signs, this.at)) return false;
    this.at += signs.length;
    return true;
  }

  /** Blanks, with a `;` before them or not. */
  private takesSeparator(): boolean {
    const { text } = this;
    if (text.charCodeAt(this.at) === semicolon) this.at++;
    const start = this.at;
    while (text.charCodeAt(this.at) === blank) this.at++;
    return this.at > start;
  }

  /** `job.tight.done`, up to what is no sign of a name. */
  private names(): Names | undefined {
    const { text } = this;
    const names: Name[] = [];
    for (;;) {
      const start = this.at;
      if (!isNameSign(text.charCodeAt(start)) || isDigit(text.charCodeAt(start))) return undefined;
      while (isNameSign(text.charCodeAt(this.at))) this.at++;
      const name = text.slice(start, this.at);
      if (notUnits.has(name)) return undefined;
      names.push({ type: "name", text: name, span: { start, end: this.at } });
      if (text.charCodeAt(this.at) !== dot) return names as [Name, ...Name[]];
      this.at++;
    }
  }
}

const opener = "record ";
const blank = 0x20;
const dot = 0x2e;
const semicolon = 0x3b;
const leftBrace = 0x7b;
const rightBrace = 0x7d;

function isDigit(code: number): boolean {
  return code >= 0x30 && code <= 0x39;
}

function isNameSign(code: number): boolean {
  const lower = code | 0x20;
  return (lower >= 0x61 && lower <= 0x7a) || isDigit(code) || code === 0x5f;
}

function numberAt(text: string, start: number): NumberLiteral | undefined {
  const reading = readNumber(text);
  if (reading === undefined) return undefined;
  const { value, form } = reading;
  return { type: "number", value, form, text, span: { start, end: start + text.length } };
}
