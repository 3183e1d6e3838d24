/** A drawn function under the pointer: some of its points as a table. */
import { expect, test } from "vitest";
import type { MarkupContent } from "vscode-languageserver";
import { hover } from "../../server/features/hover";
import { cursor } from "./world";

function hoverOf(snippet: string): string {
  const { analysis, uri, offset } = cursor(snippet);
  const found = hover(analysis, uri, offset);
  return (found?.contents as MarkupContent | undefined)?.value ?? "";
}

const rod = (weight: string): string => `
  display { length: in 1/32; force: lbf }
  kind rod "Rod" {
    length: length "How long it is"
    weight: force "What it weighs"
    curve pu$0ll "Pull at the end": weight * x / length over x from 0 in to length step 1/2 in
      source "lever"
  }
  rod long { length: 12 in   ${weight} }
  rod short { length: 6 in; weight: 10 lbf }
`;

test("a curve shows some of its points, of the first thing that has it", () => {
  const text = hoverOf(rod("weight: 100 lbf"));
  expect(text).toMatch(
    /^\*\*Pull at the end\*\*, `long\.pull`\n\n\| x \(in\) \| pull \(lbf\) \|\n/,
  );
  // A hundred pounds over twelve inches, by the rule of three: 25 lbf at 3 in.
  expect(text).toContain("\n| 0.0 | 0.0 |\n");
  expect(text).toContain("\n| 3.0 | 25.0 |\n");
  expect(text).toContain("\n| 12.0 | 100.0 |\n");
  expect(text).toContain("9 of 25 points; so too for short.pull");
  expect(text).toMatch(/source: lever$/);
});

test("a curve that is made of what is open says so, and names in it keep their meaning", () => {
  expect(hoverOf(rod(""))).toContain("no points: what it is made of is open");
  const formula = rod("weight: 100 lbf")
    .replace("pu$0ll", "pull")
    .replace("weight * x", "wei$0ght * x");
  expect(hoverOf(formula)).toContain("What it weighs");
});

test("a curve of a kind that no thing is of says so", () => {
  const kind = rod("").replace(/\n {2}rod [^\n]*/g, "");
  expect(hoverOf(kind)).toBe(
    "**Pull at the end**: no thing of this build has it, or what it is made of is not there",
  );
});
