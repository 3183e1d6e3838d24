import { describe, expect, test } from "vitest";
import { parseFile } from "../../grammar/source-file";
import { children, nodeAt, type SyntaxNode, textOf, walk } from "../../grammar/walk";
import { designExample, libraryExample, onlyItem } from "./helper";

const typeOf = (node: SyntaxNode): string => ("type" in node ? node.type : "part");

/** The types of the nodes at `$0`, from outside in. */
function at(marked: string): string[] {
  const item = onlyItem(marked.replace("$0", ""));
  return nodeAt(item, marked.indexOf("$0")).map(typeOf);
}

describe("the nodes at a place", () => {
  test.each([
    ["wheel w { off$0set: 18 mm }", ["thing", "given", "path", "name"]],
    ["wheel w { offset: 1$08 mm }", ["thing", "given", "quantity", "number"]],
    ["wheel w { offset: 18 mm$0 }", ["thing", "given", "quantity", "unit"]],
    ["wheel w { offset: 18 mm $0}", ["thing"]],
    ["axle a { left { half: b.c$0 } }", ["thing", "part", "given", "path", "name"]],
    ["axle a { gap: left.$0 }", ["thing", "given", "path", "name"]],
    ["axle a { gap:$0 }", ["thing", "given", "missing"]],
    ["x: 1$0..2 in", ["given", "limits", "quantity", "number"]],
    ["x: f(a, b$0 + 1)", ["given", "call", "binary", "path", "name"]],
    ["$0\n\nwheel w { }", []],
    ["kind k { a: len$0gth shown }", ["kind", "field", "type", "name"]],
    ["table t { key a: number; row 1, 2$0 }", ["table", "part", "number"]],
    ["display { length: i$0n 1/32 }", ["display", "part", "unit"]],
    ['designation d { form "{a$0}" }', ["designation_declaration", "text"]],
  ])("%s", (marked, wanted) => expect(at(marked)).toEqual(wanted));
});

test("every part is reached, in the order it is written", () => {
  for (const item of parseFile(designExample + libraryExample).items) {
    const starts: number[] = [];
    walk(item.node, (node) => starts.push(node.span.start));
    expect(starts.length).toBeGreaterThan(1);
    walk(item.node, (node) => {
      const places = children(node).map(({ span }) => span.start);
      expect(places).toEqual(places.toSorted((one, other) => one - other));
    });
    // Every word of the item that is a name is a name in its tree.
    const names = new Set<string>();
    walk(item.node, (node) => {
      if (typeOf(node) === "name") names.add(textOf(item, node.span));
    });
    for (const [word] of item.text
      .replace(/"[^"]*"|#.*/g, '""')
      .matchAll(/(?<=^[ \t]*)[a-z_]+(?=[ \t]*:)/gm)) {
      expect([...names], item.text).toContain(word);
    }
  }
});
