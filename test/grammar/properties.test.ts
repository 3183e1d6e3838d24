import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { format } from "../../grammar/format";
import { parseFile } from "../../grammar/source-file";
import type { Item } from "../../grammar/syntax";
import { children, nodeAt, type SyntaxNode, textOf } from "../../grammar/walk";
import { textProblemInWords } from "../../server/findings/worded";
import {
  anyEdit,
  anyText,
  applied,
  damagedText,
  designExample,
  editsOf,
  libraryExample,
  visible,
} from "./helper";

/** More with RUNS=5000 in the environment, for a long look. */
const runs = Number(process.env.RUNS ?? 300);

/** Throws where a node reaches out of its parent, or lies askew. */
function expectNested(node: SyntaxNode, low: number, high: number): void {
  expect(node.span.start).toBeGreaterThanOrEqual(low);
  expect(node.span.end).toBeGreaterThanOrEqual(node.span.start);
  expect(node.span.end).toBeLessThanOrEqual(high);
  for (const part of children(node)) expectNested(part, node.span.start, node.span.end);
}

function expectWithin(item: Item): void {
  expectNested(item.node, 0, item.text.length);
  for (const problem of item.problems) {
    const { span } = problem;
    expect(span.start).toBeGreaterThanOrEqual(0);
    expect(span.end).toBeGreaterThanOrEqual(span.start);
    expect(span.end).toBeLessThanOrEqual(item.text.length);
    for (const { anchor } of editsOf(item, problem)) {
      expect(anchor.span.start).toBeGreaterThanOrEqual(0);
      expect(anchor.span.end).toBeLessThanOrEqual(item.text.length);
    }
  }
  for (const comment of item.comments) expect(textOf(item, comment)).toMatch(/^#/);
}

describe("whatever the text", () => {
  test("items tile the file and hold their trees", () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const file = parseFile(text);
        let offset = 0;
        for (const item of file.items) {
          expect(file.offsetOf(item)).toBe(offset);
          expect(text.startsWith(item.text, offset)).toBe(true);
          offset += item.text.length;
          expectWithin(item);
        }
        // A text without a declaration has no items; any other is covered to its end.
        if (file.items.length > 0) expect(offset).toBe(text.length);
        else expect(text.replace(/#[^\r\n]*|[\s\ufeff\u200b;]/g, "")).toBe("");
      }),
      { numRuns: runs },
    );
  });

  test("messages are in words, and not one twice at one place", () => {
    fc.assert(
      fc.property(anyText, (text) => {
        for (const { problems } of parseFile(text).items) {
          const places = problems.map((each) => `${each.span.start} ${textProblemInWords(each)}`);
          expect(new Set(places).size).toBe(places.length);
          for (const problem of problems) {
            const message = textProblemInWords(problem);
            expect(problem.is).toMatch(/^syntax\/[a-z-]+( [a-z]+)?$/);
            expect(message).toMatch(/^[a-z`]/);
            expect(message).not.toMatch(
              /Token|token|Word\b|Newline|EOF|LeftBrace|undefined|\[object|something else/,
            );
          }
        }
      }),
      { numRuns: runs },
    );
  });

  test("a reading by edits equals a fresh one", () => {
    fc.assert(
      fc.property(
        fc.oneof(damagedText, anyText),
        fc.array(anyEdit, { minLength: 1, maxLength: 6 }),
        (start, edits) => {
          let text = start;
          let file = parseFile(text);
          for (const edit of edits) {
            text = applied(text, edit);
            file = parseFile(text, file);
            expect(file.text).toBe(text);
            expect(visible(file)).toEqual(visible(parseFile(text)));
            expect(new Set(file.items).size).toBe(file.items.length);
          }
        },
      ),
      { numRuns: runs },
    );
  });

  test("the place in the middle of a tree is found from outside in", () => {
    fc.assert(
      fc.property(damagedText, fc.nat(), (text, somewhere) => {
        for (const item of parseFile(text).items) {
          const offset = somewhere % (item.text.length + 1);
          const path = nodeAt(item, offset);
          for (const [index, node] of path.entries()) {
            expect(node.span.start).toBeLessThanOrEqual(offset);
            expect(node.span.end).toBeGreaterThanOrEqual(offset);
            if (index > 0) expect(children(path[index - 1]!)).toContain(node);
          }
        }
      }),
      { numRuns: 100 },
    );
  });
});

describe("the layout", () => {
  const places = new Set(["span", "body"]);
  const meaning = (text: string): string =>
    JSON.stringify(
      parseFile(text).items.map(({ node }) => node),
      (key, value: unknown) => (places.has(key) ? undefined : value),
    );

  test("is settled after one go and says the same, or is refused and leaves the text alone", () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const once = format(text);
        if (once.refused !== undefined) {
          expect(once.text).toBe(text);
          return;
        }
        expect(meaning(once.text)).toBe(meaning(text));
        expect(format(once.text)).toEqual({ text: once.text });
      }),
      { numRuns: runs },
    );
  });

  test("does not mind how blanks and blank lines were typed", () => {
    const blanks = fc.constantFrom(" ", "  ", "\t", "     ");
    fc.assert(
      fc.property(
        fc.constantFrom(designExample, libraryExample),
        fc.array(blanks, { minLength: 400, maxLength: 400 }),
        (text, gaps) => {
          let next = 0;
          // Blanks inside quotes and comments are part of what is said.
          const typed = text.replace(/"[^"]*"|#.*|[ ]+/g, (part) =>
            part.startsWith(" ") ? gaps[next++ % gaps.length]! : part,
          );
          expect(format(typed).refused).toBeUndefined();
          expect(format(typed).text).toBe(format(text).text);
        },
      ),
      { numRuns: 60 },
    );
  });

  test("of one line does not touch its neighbors", () => {
    const settled = format(designExample + libraryExample).text.split("\n");
    fc.assert(
      fc.property(fc.nat({ max: settled.length - 1 }), (index) => {
        const lines = [...settled];
        const line = lines[index]!;
        if (!/^ *[a-z_]+: [^{]*$/.test(line) || /^ *(check|row)/.test(line)) return;
        lines[index] = line.replace(":", "_with_a_much_longer_name   :");
        const result = format(lines.join("\n"));
        if (result.refused !== undefined) return;
        const after = result.text.split("\n");
        expect(after.length).toBe(settled.length);
        after.splice(index, 1);
        expect(after).toEqual(settled.toSpliced(index, 1));
      }),
      { numRuns: 60 },
    );
  });
});
