/**
 * Reads the text of one item into its tree.
 *
 *     parseItem('tire rear_tire { size: 275/50R17 }').node  // a thing of kind `tire`
 *
 * The item it gives depends on the text alone. Whatever the text, there is a node: what makes no
 * sense becomes a problem in words and, where nothing can be saved, an `unreadable` node.
 *
 * Must not know: other items, files, what any name means.
 */
import "./older-runtime";
import { DeclarationParser } from "./declaration-parser";
import { readEntryLine } from "./entry-line";
import { readTokens } from "./lexer";
import { readLines } from "./line-structure";
import { tooLong } from "./problems";
import type { Item } from "./syntax";

/** An item longer than this is not read; a file may be as long as it likes. */
const longestItem = 2_000_000;

const nothing: readonly never[] = [];

let parser: DeclarationParser | undefined;

export function parseItem(text: string): Item {
  if (text.length > longestItem) return unreadableItem(text);
  const entry = readEntryLine(text);
  if (entry !== undefined) return { node: entry, text, problems: nothing, comments: nothing };
  const row = readTokens(text);
  parser ??= new DeclarationParser(false);
  const { node, problems } = parser.read(text, readLines(row.tokens));
  return { node, text, problems, comments: row.comments };
}

/** Throws where the grammar contradicts itself; for tests, since it takes its time. */
export function validateGrammar(): void {
  new DeclarationParser(true);
}

function unreadableItem(text: string): Item {
  const span = { start: 0, end: text.length };
  const place = { start: 0, end: Math.min(1, text.length) };
  return {
    node: { type: "unreadable", span },
    text,
    problems: [tooLong(longestItem, place)],
    comments: [],
  };
}
