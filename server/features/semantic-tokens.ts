/**
 * Colors that follow the meaning of a name: kind, thing, field, choice, function. All else is left
 * to the editor's own grammar, which looks nearly the same.
 *
 * Must not know: how answers travel.
 */
import type { Range, SemanticTokensBuilder } from "vscode-languageserver";
import type * as syntax from "../../grammar/syntax";
import type { Analysis } from "../analysis/analysis";
import { functionNames } from "../model/calls";
import { measureNamed } from "../units";
import { type FileWords, namesAt } from "./holder";
import { namesOf } from "./spot";

export const tokenTypes = [
  "namespace",
  "type",
  "class",
  "enumMember",
  "variable",
  "property",
  "function",
  "keyword",
] as const;
export const tokenModifiers = ["declaration", "defaultLibrary"] as const;

type TokenType = (typeof tokenTypes)[number];

interface Token {
  readonly type: TokenType;
  readonly declares?: boolean;
  readonly library?: boolean;
}

/** Tokens of the lines of `range`, or of the whole file, into `builder`. */
export function semanticTokens(
  analysis: Analysis,
  uri: string,
  builder: SemanticTokensBuilder,
  range?: Range,
): void {
  const source = analysis.sourceOf(uri);
  if (source === undefined) return;
  const names = namesAt(analysis, uri);
  for (const item of source.items) {
    const offset = source.offsetOf(item);
    if (range !== undefined) {
      if (source.positionAt(offset).line > range.end.line) break;
      if (source.positionAt(offset + source.standing(item).text.length).line < range.start.line)
        continue;
    }
    const found = [...namesOf(item.node)].sort(
      (one, other) => one.name.span.start - other.name.span.start,
    );
    for (const { name, nodes } of found) {
      const token = tokenOf(names, nodes, name);
      if (token === undefined) continue;
      const { line, character } = source.positionAt(source.offsetOf(item, name.span.start));
      if (range !== undefined && (line < range.start.line || line > range.end.line)) continue;
      builder.push(
        line,
        character,
        name.span.end - name.span.start,
        tokenTypes.indexOf(token.type),
        modifiersOf(token),
      );
    }
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function modifiersOf(token: Token): number {
  return (token.declares === true ? 1 : 0) + (token.library === true ? 2 : 0);
}

function tokenOf(
  names: FileWords,
  nodes: readonly syntax.AnyNode[],
  name: syntax.Name,
): Token | undefined {
  const parent = nodes[nodes.length - 2];
  switch (parent?.type) {
    case "thing":
      if (parent.kind === name) return kindToken(names, name.text);
      return { type: "variable", declares: true };
    case "kind":
      return parent.name === name ? { type: "class", declares: true } : kindToken(names, name.text);
    case "field":
      return parent.name === name ? { type: "property", declares: true } : { type: "keyword" };
    case "type":
      if (parent.form === "choice") return { type: "enumMember", declares: true };
      if (measureNamed(name.text) !== undefined || ["text", "yes_no", "date"].includes(name.text))
        return { type: "type", library: true };
      if (names.vocabulary.designations.has(name.text)) return { type: "type" };
      return kindToken(names, name.text);
    case "option":
      return { type: "variable", declares: true };
    case "table":
    case "curve":
      return { type: "function", declares: true };
    case "designation_declaration":
      return { type: "type", declares: true };
    case "use":
      return { type: "namespace", declares: true };
    case "display":
      return { type: "property" };
    case "path":
      return pathToken(names, nodes, parent, name);
    default:
      return undefined;
  }
}

function pathToken(
  names: FileWords,
  nodes: readonly syntax.AnyNode[],
  path: syntax.Path,
  name: syntax.Name,
): Token | undefined {
  const above = nodes[nodes.length - 3];
  const index = path.names.indexOf(name);
  if ((above?.type === "thing" || above?.type === "part") && above.like === path)
    return (index === 0 ? firstToken(names, name.text) : undefined) ?? { type: "variable" };
  if (above?.type === "call" && above.callee === path) {
    if (index > 0) return { type: "property" };
    return { type: "function", library: functionNames.includes(name.text) };
  }
  if (above?.type === "call" && above.callee.names[0]?.text === "each" && above.rest !== path) {
    return kindToken(names, name.text);
  }
  if ((above?.type === "given" || above?.type === "part") && above.path === path) {
    if (path.names.length > 1 && index === 0)
      return firstToken(names, name.text) ?? { type: "property" };
    return { type: "property" };
  }
  if (index === 0) return firstToken(names, name.text) ?? { type: "property" };
  const prefixed = index === 1 && names.scope?.namespaces.has(path.names[0]?.text ?? "") === true;
  return { type: prefixed ? "variable" : "property" };
}

function firstToken(names: FileWords, name: string): Token | undefined {
  if (names.scope?.declarations.has(name) === true) return { type: "variable" };
  return names.scope?.namespaces.has(name) === true ? { type: "namespace" } : undefined;
}

function kindToken(names: FileWords, name: string): Token {
  return { type: "class", library: names.vocabulary.kinds.get(name)?.library === true };
}
