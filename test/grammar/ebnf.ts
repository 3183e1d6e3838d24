/**
 * Grammars in Wirth's notation: read, recognized, and sentences drawn from them.
 *
 *     const grammar = readGrammar('path = NAME { "." NAME } .');
 *     accepts(grammar, "path", tokens)
 *     sentence(grammar, "path", draw)
 */
import type { IToken } from "chevrotain";

export type Node =
  | { readonly is: "word"; readonly text: string }
  | { readonly is: "name"; readonly name: string }
  | { readonly is: "row"; readonly parts: readonly Node[] }
  | { readonly is: "choice"; readonly parts: readonly Node[] }
  | { readonly is: "maybe" | "any"; readonly part: Node };

export type Grammar = ReadonlyMap<string, Node>;

export function readGrammar(text: string): Grammar {
  const tokens = text.match(/"[^"]*"|[A-Za-z]+|[[\]{}()|=.]/g) ?? [];
  let at = 0;
  const choice = (): Node => {
    const parts = [row()];
    while (tokens[at] === "|") {
      at++;
      parts.push(row());
    }
    return parts.length === 1 ? (parts[0] as Node) : { is: "choice", parts };
  };
  const row = (): Node => {
    const parts: Node[] = [];
    for (;;) {
      const token = tokens[at];
      if (token === undefined || [")", "]", "}", "|", "."].includes(token)) break;
      at++;
      if (token.startsWith('"')) parts.push({ is: "word", text: token.slice(1, -1) });
      else if (/^\w/.test(token)) parts.push({ is: "name", name: token });
      else {
        const part = choice();
        at++;
        if (token === "(") parts.push(part);
        else parts.push({ is: token === "[" ? "maybe" : "any", part });
      }
    }
    return { is: "row", parts };
  };
  const rules = new Map<string, Node>();
  while (at < tokens.length) {
    const name = tokens[at] ?? "";
    if (tokens[at + 1] !== "=") throw new Error(`a rule begins with its name and "=": ${name}`);
    at += 2;
    rules.set(name, choice());
    if (tokens[at] !== ".") throw new Error(`the rule ${name} ends with a dot`);
    at++;
  }
  return rules;
}

/** Names that are used and not declared, terminals in capitals left out. */
export function undeclared(grammar: Grammar): string[] {
  const found = new Set<string>();
  const visit = (node: Node): void => {
    if (node.is === "name" && !isTerminal(node.name) && !grammar.has(node.name))
      found.add(node.name);
    if (node.is === "row" || node.is === "choice") for (const part of node.parts) visit(part);
    if (node.is === "maybe" || node.is === "any") visit(node.part);
  };
  for (const rule of grammar.values()) visit(rule);
  return [...found];
}

/** Whether the whole row is a sentence; else how far one got. */
export function accepts(
  grammar: Grammar,
  start: string,
  tokens: readonly IToken[],
): { readonly accepted: boolean; readonly reached: number } {
  let reached = 0;
  const known = new Map<string, ReadonlySet<number>>();
  const ends = (node: Node, from: number): ReadonlySet<number> => {
    switch (node.is) {
      case "word":
        return tokens[from]?.image === node.text || sameSign(tokens[from], node.text)
          ? step(from)
          : none;
      case "name": {
        if (isTerminal(node.name))
          return isOf(node.name, tokens[from], tokens[from - 1]) ? step(from) : none;
        const key = `${node.name} ${from}`;
        const before = known.get(key);
        if (before !== undefined) return before;
        known.set(key, none);
        const rule = grammar.get(node.name);
        const found = rule === undefined ? none : ends(rule, from);
        known.set(key, found);
        return found;
      }
      case "row": {
        let at: ReadonlySet<number> = new Set([from]);
        for (const part of node.parts) {
          const next = new Set<number>();
          for (const each of at) for (const end of ends(part, each)) next.add(end);
          at = next;
          if (at.size === 0) break;
        }
        return at;
      }
      case "choice":
        return new Set(node.parts.flatMap((part) => [...ends(part, from)]));
      case "maybe":
        return new Set([from, ...ends(node.part, from)]);
      case "any": {
        const all = new Set([from]);
        for (const at of all) for (const end of ends(node.part, at)) all.add(end);
        return all;
      }
    }
  };
  const step = (from: number): ReadonlySet<number> => {
    reached = Math.max(reached, from + 1);
    return new Set([from + 1]);
  };
  const found = ends({ is: "name", name: start }, 0);
  return { accepted: found.has(tokens.length), reached };
}

/** A sentence drawn at random; `draw(n)` gives one of 0…n-1. */
export function sentence(grammar: Grammar, start: string, draw: (count: number) => number): string {
  const words: string[] = [];
  const write = (node: Node, depth: number): void => {
    switch (node.is) {
      case "word":
        words.push(node.text);
        break;
      case "name": {
        const terminal = samples[node.name];
        const rule = grammar.get(node.name);
        if (terminal !== undefined) words.push(terminal[draw(terminal.length)] ?? "");
        else if (node.name === "expression" && depth > deepest) words.push("2");
        else if (rule !== undefined) {
          const from = words.length;
          write(rule, depth + 1);
          // The one thing that is written without blanks.
          if (node.name === "unit" || node.name === "named")
            words.push(words.splice(from).join(""));
        }
        break;
      }
      case "row":
        for (const part of node.parts) write(part, depth);
        break;
      case "choice": {
        const part = node.parts[draw(node.parts.length)];
        if (part !== undefined) write(part, depth);
        break;
      }
      case "maybe":
        if (depth <= deepest + 8 && draw(2) === 0) write(node.part, depth);
        break;
      case "any":
        for (let more = depth > deepest + 8 ? 0 : draw(3); more > 0; more--)
          write(node.part, depth);
        break;
    }
  };
  write({ is: "name", name: start }, 0);
  return (
    words
      .join(" ")
      .replaceAll(/ ?\n ?/g, "\n")
      .replaceAll(/(?<=[a-z_\d]) \. (?=[a-z])/g, ".")
      .replaceAll(/\) \. /g, ").")
      // These stand last on their line.
      .replaceAll(/\b((?:severity|lookup) \w+) (?=[a-z"±])/g, "$1\n")
      .replaceAll(/(?<=\b(?:width|depth_2|alpha|part_of_it|gap|one_of)) \(/g, "(")
  );
}

// ───────────────────────────── helpers ─────────────────────────────

const deepest = 5;
const none: ReadonlySet<number> = new Set();

function isTerminal(name: string): boolean {
  return name === name.toUpperCase();
}

const samples: Readonly<Record<string, readonly string[]>> = {
  NAME: ["width", "depth_2", "alpha", "part_of_it", "gap"],
  NUMBER: ["3", "0.5", "12"],
  UNIT: ["in", "mm", "lb-ft", "%"],
  TEXT: ['"a text"', '"b"'],
  DATE: ["2026-05-02"],
  DESIGNATION: ["255/60R17", "17x8", "M12x1.5"],
  END: ["\n", " ;"],
  EOL: ["\n"],
};

const kinds: Readonly<Record<string, readonly string[]>> = {
  NAME: ["Word"],
  NUMBER: ["NumberWord"],
  UNIT: ["Unit"],
  TEXT: ["QuotedText"],
  DATE: ["DateWord"],
  DESIGNATION: ["DesignationWord"],
  END: ["End"],
  EOL: ["End"],
};

function isOf(terminal: string, token: IToken | undefined, before: IToken | undefined): boolean {
  if (token === undefined) return false;
  // Behind a dot any word is a name.
  if (terminal === "NAME" && before?.image === ".") return /^[A-Za-z_]/.test(token.image);
  return kinds[terminal]?.includes(token.tokenType.name) === true;
}

function sameSign(token: IToken | undefined, sign: string): boolean {
  return sign === "±" && (token?.image === "+-" || token?.image === "+/-");
}
