/** What an editor answers where something is said of both, or is like another. */
import { expect, test } from "vitest";
import { completions } from "../../server/features/completion";
import { definition } from "../../server/features/definition";
import { foldingRanges } from "../../server/features/folding";
import { hover } from "../../server/features/hover";
import { inlayHints } from "../../server/features/inlay-hints";
import { references } from "../../server/features/references";
import { isRefusal, rename, renameAt } from "../../server/features/rename";
import { documentSymbols } from "../../server/features/symbols";
import { defaultSettings } from "../../server/settings";
import { cursor, dedent, edited } from "./world";

const axle = (body: string): string => `
  tire t { size: 255/60R17 }
  wheel w { size: 17x8; offset: 12 mm }
  brake b { hat_thickness: 0.310 in }
  housing h { standoff: 2.380 in; end_length: 2 in }
  axle rear {
    wheel: w; tire: t; brake: b; housing: h
    ${body}
    left { inner_limit: 23 1/2 in }
    right { inner_limit: 23 3/8 in }
  }
`;

function hovered(text: string): string {
  const { analysis, uri, offset } = cursor(dedent(text));
  const contents = hover(analysis, uri, offset)?.contents;
  return typeof contents === "object" && "value" in contents ? contents.value : "";
}

function offered(text: string): string[] {
  const { analysis, uri, offset } = cursor(dedent(text));
  return completions(analysis, uri, offset, { snippets: false }).map(({ label }) => label);
}

test("a figure asked for on both sides says which is which", () => {
  const { analysis, uri } = cursor(axle("both { inner_gap: 1 in; cut_half: ? }"));
  const everything = { start: { line: 0, character: 0 }, end: { line: 100, character: 0 } };
  const hints = inlayHints(analysis, uri, everything, defaultSettings.hints);
  const labels = hints.map(({ label }) => label);
  expect(labels).toEqual(expect.arrayContaining(["left = 27 13/32 in", "right = 27 9/32 in"]));
});

function shownFor(text: string): string[] {
  const { analysis, uri } = cursor(text);
  const everything = { start: { line: 0, character: 0 }, end: { line: 100, character: 0 } };
  const hints = inlayHints(analysis, uri, everything, defaultSettings.hints);
  return hints.map(({ label }) => String(label)).filter((label) => /^(left|right) /.test(label));
}

test("where there is no room for the ± of both, neither looks the surer", () => {
  const text = axle("both { inner_gap: ? }")
    .replace("end_length: 2 in", "face_to_face: 54 11/16 in")
    .replace("23 1/2 in", "23 1/2 in ± 1/16 in")
    .replace("23 3/8 in", "23 3/8 in ± 1/16 in");
  const asked = shownFor(text).filter((label) => label.includes(" = "));
  expect(asked).toHaveLength(2);
  expect(new Set(asked.map((label) => label.includes("±"))).size).toBe(1);
});

test("where there is room for one figure of each, what was built goes before what was to be", () => {
  const labels = shownFor(`${axle("both { inner_gap: 1 in }")}
  record "cut" 2026-05-11 {
    rear.left.cut_half: 27 9/32 in
    rear.right.cut_half: 27 9/32 in
  }
`);
  // Geometry: the left end was drawn at 27.402 in; the right one is what it was to come out as.
  expect(labels).toEqual(["left built 0.879 in", "right → 1.004 in"]);
});

test("the hover tells both, of the word and of what is said in it", () => {
  const figure = hovered(axle("both { inner_g$0ap: 1 in }"));
  expect(figure).toContain("`rear.left.inner_gap`");
  expect(figure).toContain("`rear.right.inner_gap`");
  const word = hovered(axle("bo$0th { inner_gap: 1 in }"));
  expect(word).toContain("`rear.left`");
  expect(word).toContain("`rear.right`");
  expect(hovered(axle("wheel.off$0set: 3 mm"))).not.toContain("`rear");
});

test("a name said of both is found from either side, and is renamed once", () => {
  const text = dedent(`${axle("both { body { body_limit lip { at: bump; place: 20 in } } }")}
  check "left": rear.left.body.li$0p.place > 1 in
  check "right": rear.right.body.lip.place > 1 in
`);
  const { analysis, uri, offset, texts } = cursor(text);
  expect(references(analysis, uri, offset, true)).toHaveLength(3);
  const place = renameAt(analysis, uri, offset);
  if (isRefusal(place)) throw new Error(place.refusal);
  const edits = rename(analysis, place.named, "rolled");
  if (isRefusal(edits)) throw new Error(edits.refusal);
  expect(edited(texts.get(uri) ?? "", edits.get(uri) ?? [])).toContain("body_limit rolled {");
});

test("both is a word, it cannot be called otherwise", () => {
  const { analysis, uri, offset } = cursor(axle("bo$0th { inner_gap: 1 in }"));
  const place = renameAt(analysis, uri, offset);
  expect(isRefusal(place) && place.refusal).toBe("this is a word of the language");
});

test("what is like another leads to it, and goes by its new name", () => {
  const text = dedent(`
    wheel w { size: 17x8; offset: 12 mm }
    wheel winter "Winter" like w$0 { offset: 5 mm }
  `);
  const { analysis, uri, offset, texts } = cursor(text);
  expect(
    definition(analysis, uri, offset).map(({ targetRange }) => targetRange.start.line),
  ).toEqual([0]);
  const place = renameAt(analysis, uri, offset);
  if (isRefusal(place)) throw new Error(place.refusal);
  const edits = rename(analysis, place.named, "summer");
  if (isRefusal(edits)) throw new Error(edits.refusal);
  expect(edited(texts.get(uri) ?? "", edits.get(uri) ?? [])).toBe(
    'wheel summer { size: 17x8; offset: 12 mm }\nwheel winter "Winter" like summer { offset: 5 mm }\n',
  );
});

test("a part is like its neighbor", () => {
  const { analysis, uri, offset } = cursor(axle("right like le$0ft { }"));
  expect(hover(analysis, uri, offset)).toBeDefined();
});

test("both and what something may be like are offered", () => {
  expect(offered("axle rear {\n  $0\n}\n")).toContain("both");
  expect(offered("wheel w {\n  $0\n}\n")).not.toContain("both");
  expect(offered(axle("both { inner$0 }"))).toContain("inner_gap");
  expect(offered('wheel w { }\ntire t { }\nwheel x "X" like $0')).toEqual(
    expect.arrayContaining(["w"]),
  );
  expect(offered('wheel w { }\ntire t { }\nwheel x "X" like $0')).not.toContain("t");
  expect(offered("axle rear {\n  left { }\n  right like $0\n}\n")).toContain("left");
  expect(offered("wheel w { }\nwheel x like w {\n  off$0\n}\n")).toContain("offset");
  expect(offered(`${axle("")}rear.both.$0\n`)).toContain("inner_gap");
});

test("blocks fold and stand in the outline by their words", () => {
  const { analysis, uri } = cursor(axle("both {\n  inner_gap: 1 in\n}\n"));
  const source = analysis.sourceOf(uri);
  if (source === undefined) throw new Error("no source");
  expect(foldingRanges(source).length).toBeGreaterThan(1);
  const rear = documentSymbols(analysis, uri).find(({ name }) => name === "rear");
  expect(rear?.children?.map(({ name }) => name)).toContain("both");
});
