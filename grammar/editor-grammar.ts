/**
 * Makes the two files an editor colors and edits the language by, from the words, signs and units
 * the parser itself knows, so that they cannot drift apart.
 *
 *     editorFiles().get("trammel.tmLanguage.json")  // the text of that file
 *
 * Must not know: the editor beyond these two formats.
 */
import { spelledUnits, unitSymbols } from "../server/units";
import {
  clauseWords,
  fieldWords,
  joiningWords,
  namedClauseWords,
  namedWords,
  repetitionWords,
  titledWords,
} from "./words";

/** File name in this folder, and its text. */
export function editorFiles(): ReadonlyMap<string, string> {
  return new Map([
    ["trammel.tmLanguage.json", asFile(textMateGrammar())],
    ["language-configuration.json", asFile(languageConfiguration())],
  ]);
}

interface Rule {
  readonly name?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly captures?: { readonly [group: string]: { readonly name: string } };
  readonly patterns?: readonly Rule[];
}

function textMateGrammar(): object {
  return {
    name: "Trammel",
    scopeName: "source.trammel",
    fileTypes: ["trammel"],
    patterns: rules(),
  };
}

const name = "[A-Za-z_\\u00c0-\\u024f][\\w\\u00c0-\\u024f]*";
const path = `${name}(?:\\.${name})*`;
const title = '(?:"(?:[^"\\\\]|\\\\.)*"[ \\t]*)?';
/** What may stand between the name of a thing or part and its brace. */
const head = `${title}(?:like[ \\t]+${path}[ \\t]*)?`;

const figure = "\\d+(?:\\.\\d+)?";
const twoWords = "(?:deg[ \\t]+[FC]|fl[ \\t]+oz|(?:sq|cu)[ \\t]+(?:in|ft))";
const symbols = [...unitSymbols, ...spelledUnits].toSorted(longestFirst).map(literally);
const symbol = `(?:${twoWords}|${symbols.join("|")})`;
const unit = `${symbol}(?:[-/*]${symbol}|\\^-?\\d+)*(?![\\w°%]|[ \\t]*[:{])`;
const number = `(?:\\d+(?:[ \\t]+|-))?\\d+/\\d+(?![\\d/.])|(?:${figure}|\\.\\d+)(?:[eE][+-]?\\d+)?`;

function rules(): Rule[] {
  return [
    // Right behind a colon a numbered size, not a comment (number-sign.ts).
    {
      name: "constant.other.designation.trammel",
      match: "(?<=:|: )#\\d+-\\d+(?:[ \\t]+UN[A-Z]{1,2})?(?![\\w.])",
    },
    { name: "comment.line.number-sign.trammel", match: "#.*$" },
    {
      name: "invalid.illegal.conflict-marker.trammel",
      match: "^(?:<{7}|={7}|>{7}|\\|{7})(?=\\s|$).*$",
    },
    {
      name: "string.quoted.double.trammel",
      begin: '(?<!\\d)"',
      end: '"|$',
      patterns: [{ name: "constant.character.escape.trammel", match: '\\\\["\\\\]' }],
    },
    ...headRules(),
    ...literalRules(),
    ...wordRules(),
    {
      name: "keyword.operator.trammel",
      match: "\\.\\.|±|\\+/?-|>=|<=|==|!=|[-+*/^=<>]",
    },
    { name: "constant.language.ask.trammel", match: "\\?" },
    { name: "punctuation.separator.trammel", match: "[:;,.]" },
    { name: "punctuation.section.trammel", match: "[{}()\\[\\]]" },
  ];
}

/** What each word declares, in the scopes that colors by meaning fall back to. */
const declaredAs: ReadonlyMap<string, string> = new Map([
  ["kind", "entity.name.type.class.trammel"],
  ["option", "entity.name.variable.trammel"],
  ["table", "entity.name.function.trammel"],
  ["curve", "entity.name.function.trammel"],
]);

/** The first words of a declaration or member. */
function headRules(): Rule[] {
  const declaration = { "1": { name: "keyword.declaration.trammel" } };
  return [
    {
      match: `\\b(${anyOf(new Set([...titledWords].filter((word) => word !== "wanted")))})(?=[ \\t]*["\\d])`,
      captures: declaration,
    },
    {
      match: '\\b(wanted)(?=[ \\t]*"(?:[^"\\\\]|\\\\.)*"[ \\t]*(?::|when\\b))',
      captures: declaration,
    },
    {
      begin: "\\b(display)(?=[ \\t]*\\{)",
      end: "\\}",
      captures: declaration,
      patterns: [
        { name: "comment.line.number-sign.trammel", match: "#.*$" },
        { name: "variable.other.property.trammel", match: `${name}(?=[ \\t]*:)` },
        { name: "keyword.other.unit.trammel", match: unit },
        { name: "constant.numeric.trammel", match: number },
        { name: "punctuation.separator.trammel", match: "[:;]" },
        { name: "punctuation.section.trammel", match: "\\{" },
      ],
    },
    ...[...namedWords].map((word) => ({
      match: `\\b(${word})[ \\t]+(${name})`,
      captures: {
        ...declaration,
        "2": { name: declaredAs.get(word) ?? "entity.name.type.trammel" },
      },
    })),
    {
      match: `\\b(${anyOf(clauseWords)})(?=[ \\t]*")`,
      captures: { "1": { name: "keyword.other.clause.trammel" } },
    },
    {
      match: `\\b(${anyOf(namedClauseWords)})[ \\t]+(${name})(?![\\w.]|[ \\t]*[:{])`,
      captures: {
        "1": { name: "keyword.other.clause.trammel" },
        "2": { name: "constant.other.choice.trammel" },
      },
    },
    {
      match: `(?<![\\w.])(is|of)[ \\t]+(${name})(?=[ \\t]*(?:is\\b|of\\b|"|\\{|$))`,
      captures: {
        "1": { name: "keyword.other.trammel" },
        "2": { name: "entity.name.type.class.trammel" },
      },
    },
    {
      match: `(?<![\\w.])(as)[ \\t]+(${name})(?=[ \\t]*(?:#|$))`,
      captures: {
        "1": { name: "keyword.other.trammel" },
        "2": { name: "entity.name.namespace.trammel" },
      },
    },
    {
      match: `(?<![\\w.])(like)[ \\t]+(${path})(?=[ \\t]*\\{)`,
      captures: {
        "1": { name: "keyword.other.trammel" },
        "2": { name: "variable.other.trammel" },
      },
    },
    {
      match: `(?<![\\w.])(${name})[ \\t]+(${name})(?=[ \\t]*${head}\\{)`,
      captures: {
        "1": { name: "entity.name.type.class.trammel" },
        "2": { name: "entity.name.variable.trammel" },
      },
    },
    {
      match: `(?<![\\w.])(${path})(?=[ \\t]*${head}\\{)`,
      captures: { "1": { name: "variable.other.property.trammel" } },
    },
    {
      match: `(?<![\\w.])(?:(key)[ \\t]+)?(${path})(?=[ \\t]*:)`,
      captures: {
        "1": { name: "keyword.other.trammel" },
        "2": { name: "variable.other.property.trammel" },
      },
    },
  ];
}

function literalRules(): Rule[] {
  const rated = "\\d+(?:/\\d+)?[A-Z]{1,2}(?!\\w)";
  return [
    { name: "constant.other.date.trammel", match: "\\b\\d{4}-\\d{2}-\\d{2}(?![\\w-])" },
    {
      captures: {
        "1": { name: "constant.other.designation.trammel" },
        "2": { name: "keyword.other.unit.trammel" },
      },
      match: `(${[
        `\\b[A-Z]{0,3}${figure}(?:[xX]${figure})+(?:(?:[A-Z]{1,3}|-)${figure})?[A-Z]{0,2}(?:[ \\t]+${rated})?(?!\\w)`,
        `\\b[A-Z]{0,3}${figure}/${figure}[A-Z]{1,3}${figure}[A-Z]{0,2}(?:[ \\t]+${rated})?(?!\\w)`,
        "\\b\\d+/\\d+-\\d+(?![\\d/.\\w])",
        "\\b\\d+:\\d+(?![\\d:.\\w])",
      ].join("|")})(?:[ \\t]+(${unit}))?`,
    },
    {
      match: `(?:(?<=\\.\\.)|(?<![\\w.]))(${number})[ \\t]*(${unit})`,
      captures: {
        "1": { name: "constant.numeric.trammel" },
        "2": { name: "keyword.other.unit.trammel" },
      },
    },
    { name: "constant.numeric.trammel", match: `(?<!\\w)(?:${number})` },
    { name: "constant.language.boolean.trammel", match: "(?<![\\w.])(?:yes|no)\\b(?![.:])" },
  ];
}

/** Words inside a line. */
function wordRules(): Rule[] {
  const joints = [...joiningWords].filter((word) => !["is", "of", "as"].includes(word));
  return [
    {
      name: "keyword.control.conditional.trammel",
      match: "(?<![\\w.])(?:if|then|else|when)\\b(?![.:])",
    },
    {
      name: "storage.modifier.trammel",
      match: `\\b(?:${repetitionWords.join("|")})\\b(?=[ \\t]+(?:\\[|(?!before\\b)\\w)[^:"]*\\bbefore\\b)`,
    },
    {
      name: "keyword.operator.word.trammel",
      match: "(?<![\\w.])(?:and|or|not|within)\\b(?![.:])",
    },
    {
      name: "storage.modifier.trammel",
      match: `(?<![\\w.])(?:${anyOf(fieldWords)})\\b(?=[ \\t]|$)`,
    },
    {
      name: "keyword.other.trammel",
      match: `(?<![\\w.])(?:${anyOf(joints)}|part|list[ \\t]+of)\\b(?=[ \\t]+[\\w"(\\-.])`,
    },
    { name: "entity.name.function.trammel", match: `${path}(?=\\()` },
    { name: "variable.other.trammel", match: path },
  ];
}

function languageConfiguration(): object {
  return {
    comments: { lineComment: "#" },
    brackets: [
      ["{", "}"],
      ["(", ")"],
      ["[", "]"],
    ],
    autoClosingPairs: [
      { open: "{", close: "}", notIn: ["string", "comment"] },
      { open: "(", close: ")", notIn: ["string", "comment"] },
      { open: "[", close: "]", notIn: ["string", "comment"] },
      { open: '"', close: '"', notIn: ["string", "comment"] },
    ],
    surroundingPairs: [
      ["{", "}"],
      ["(", ")"],
      ["[", "]"],
      ['"', '"'],
    ],
    wordPattern: `${name}|\\d[\\w./:-]*\\w|\\d`,
    indentationRules: {
      increaseIndentPattern: '^[^#"]*(?:"[^"]*"[^#"]*)*\\{[^}"]*(?:#.*)?$',
      decreaseIndentPattern: "^\\s*\\}",
    },
    folding: {
      markers: { start: "^\\s*#\\s*region\\b", end: "^\\s*#\\s*endregion\\b" },
    },
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/** JSON with rows of texts on one line, as the house's own layout has them. */
function asFile(content: object): string {
  const text = '"(?:[^"\\\\]|\\\\.)*"';
  const rowOf = (entry: string): RegExp =>
    new RegExp(`\\[\\s+((?:${entry})(?:,\\s+(?:${entry}))*)\\s+\\]`, "g");
  const onOneLine = (_row: string, entries: string): string =>
    `[${entries.replace(/\s*\n\s*/g, " ")}]`;
  const laidOut = JSON.stringify(content, undefined, 2)
    .replace(rowOf(text), onOneLine)
    .replace(rowOf(`\\[${text}, ${text}\\]`), onOneLine);
  return `${laidOut}\n`;
}

function anyOf(words: Iterable<string>): string {
  return [...words].toSorted().join("|");
}

function longestFirst(one: string, other: string): number {
  return other.length - one.length || (one < other ? -1 : 1);
}

function literally(text: string): string {
  return text.replace(/[\\^$.*+?()[\]{}|/]/g, "\\$&");
}
