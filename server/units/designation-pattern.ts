/**
 * Taking the pattern of a designation apart: characters, numbers, words, brackets.
 *
 *     parsePattern("M{diameter mm}[x{pitch mm}]", parts)
 *     // nodes: "M", number, optional ("x", number)
 *
 * Must not know: texts that are read with it, anything of the trade.
 */
import { type Measure, measureNamed } from "./measure";
import { plainUnit, readUnit, type Unit, unitFits } from "./unit";

export interface DesignationPart {
  readonly name: string;
  readonly measure: Measure | "text";
  /** What is possible, in SI: where one unit alone leads into it, that unit may be left out. */
  readonly range?: readonly [low: number, high: number];
}

/** One piece of a pattern. */
export type PatternNode =
  | { readonly type: "literal"; readonly text: string }
  | { readonly type: "blank" }
  | {
      readonly type: "number";
      readonly part: string;
      readonly unit: Unit;
      readonly fraction: boolean;
      /** True where it only reads a number with a decimal point. */
      readonly decimal: boolean;
    }
  | {
      readonly type: "quantity";
      readonly part: string;
      readonly measure: Measure;
      readonly range?: DesignationPart["range"];
    }
  | { readonly type: "text"; readonly part: string }
  | { readonly type: "optional"; readonly nodes: readonly PatternNode[] };

const longestForm = 300;
const deepestNesting = 12;

/** What is wrong with a pattern. */
export type FormProblem =
  | { readonly is: "empty" | "deep" }
  | { readonly is: "long"; readonly most: number }
  /** A bracket without its other one. */
  | { readonly is: "unmatched"; readonly sign: string; readonly other: string }
  /** In braces stands no name of a part with what may follow it. */
  | { readonly is: "not-a-part"; readonly text: string }
  | { readonly is: "unknown-part" | "twice" | "text-with-unit"; readonly part: string }
  | { readonly is: "not-a-text" | "no-unit"; readonly part: string; readonly measure: Measure }
  | {
      readonly is: "wrong-unit" | "unknown-unit";
      readonly part: string;
      readonly measure: Measure;
      readonly unit: string;
    };

/** Takes a pattern apart; the problems are for its author, `nodes` are of use only without any. */
export function parsePattern(
  form: string,
  parts: readonly DesignationPart[],
): { nodes: readonly PatternNode[]; problems: readonly FormProblem[] } {
  const problems: FormProblem[] = [];
  if (form.trim() === "") problems.push({ is: "empty" });
  if (form.length > longestForm) problems.push({ is: "long", most: longestForm });
  if (problems.length > 0) return { nodes: [], problems };

  const known = new Map(parts.map((part) => [part.name, part.measure] as const));
  const ranges = new Map(parts.map((part) => [part.name, part.range] as const));
  const used = new Set<string>();
  let at = 0;

  const readNodes = (depth: number): PatternNode[] => {
    const nodes: PatternNode[] = [];
    while (at < form.length) {
      const character = form[at] ?? "";
      at += 1;
      if (character === "]") {
        if (depth > 0) return nodes;
        problems.push({ is: "unmatched", sign: "]", other: "[" });
      } else if (character === "[") {
        if (depth >= deepestNesting) problems.push({ is: "deep" });
        const inner = readNodes(depth + 1);
        if (form[at - 1] !== "]") problems.push({ is: "unmatched", sign: "[", other: "]" });
        else if (inner.length > 0) nodes.push({ type: "optional", nodes: inner });
      } else if (character === "{") {
        const end = form.indexOf("}", at);
        if (end < 0) {
          problems.push({ is: "unmatched", sign: "{", other: "}" });
          at = form.length;
        } else {
          const node = readPart(form.slice(at, end));
          if (node !== undefined) nodes.push(node);
          at = end + 1;
        }
      } else if (character === "}") {
        problems.push({ is: "unmatched", sign: "}", other: "{" });
      } else if (/\s/.test(character)) {
        nodes.push({ type: "blank" });
      } else {
        nodes.push({ type: "literal", text: character });
      }
    }
    return nodes;
  };

  const readPart = (inside: string): PatternNode | undefined => {
    const [name = "", second, third, ...rest] = inside.trim().split(/\s+/);
    const measure = known.get(name);
    if (
      name === "" ||
      rest.length > 0 ||
      (third !== undefined && third !== "fraction" && third !== "decimal")
    ) {
      problems.push({ is: "not-a-part", text: inside });
      return undefined;
    }
    if (measure === undefined) {
      problems.push({ is: "unknown-part", part: name });
      return undefined;
    }
    if (used.has(name)) {
      problems.push({ is: "twice", part: name });
      return undefined;
    }
    used.add(name);
    if (second === "text" || measure === "text") {
      if (measure === "text" && (second === undefined || second === "text"))
        return { type: "text", part: name };
      problems.push(
        measure === "text"
          ? { is: "text-with-unit", part: name }
          : { is: "not-a-text", part: name, measure },
      );
      return undefined;
    }
    if (second === undefined) {
      if (unitFits(plainUnit, measure))
        return { type: "number", part: name, unit: plainUnit, fraction: false, decimal: false };
      problems.push({ is: "no-unit", part: name, measure });
      return undefined;
    }
    // A unit goes before a measure of the same name: there is none today, but units are the shorter.
    const unit = readUnit(second, measure);
    if (unit !== undefined) {
      if (unitFits(unit, measure))
        return {
          type: "number",
          part: name,
          unit,
          fraction: third === "fraction",
          decimal: third === "decimal",
        };
      problems.push({ is: "wrong-unit", part: name, measure, unit: second });
      return undefined;
    }
    if (measureNamed(second)?.name === measure.name)
      return { type: "quantity", part: name, measure, range: ranges.get(name) };
    problems.push({ is: "unknown-unit", part: name, measure, unit: second });
    return undefined;
  };

  const nodes = readNodes(0);
  const told = new Map(problems.map((problem) => [JSON.stringify(problem), problem]));
  return { nodes, problems: [...told.values()] };
}

/** The names of the parts, in order, those in brackets included. */
export function partNames(nodes: readonly PatternNode[]): string[] {
  return nodes.flatMap((node) => {
    if (node.type === "optional") return partNames(node.nodes);
    return "part" in node ? [node.part] : [];
  });
}
