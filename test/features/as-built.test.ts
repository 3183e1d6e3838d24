/** What the records make of a figure, beside how it was to come out: hints and hovers. */
import { describe, expect, test } from "vitest";
import { hover } from "../../server/features/hover";
import { inlayHints } from "../../server/features/inlay-hints";
import { cursor } from "./world";

const settings = { enabled: true, asked: true, headlines: false, records: true, steps: false };

const build = (record: string, at = "") => `
  display { length: in 1/32 }
  kind cut "Cut" {
    rest: length measured
    plate: length bought
    saw: length made to 1/16 in ± 1/32 in
    gap: length wanted
    over: length
    relation "gap": gap = saw - rest - plate
    relation "over": over = saw + plate
  }
  cut c {
    rest: 10 1/16 in
    plate: 1/4 in
    saw: ?
    ${at}gap: 1/2 in
    over: ?
  }
  ${record}
`;

test("what is open in the spec and on record says what was built", () => {
  const open = (at = "") => `
  kind cut "Cut" { rest: length measured; saw: length made; gap: length; relation "gap": gap = saw - rest }
  cut c { rest: ?; ${at}gap: ? }
  record 2026-05-02 { c.rest: 10 1/16 in ± 1/32 in; c.saw: 12 in }
`;
  expect(labels(open())).toEqual(
    expect.arrayContaining(["missing, built 10 1/16 in", "built 1 15/16 in"]),
  );
  // 12 in less 10 1/16 in, as sure as what was read.
  expect(hovered(open("$0"))).toContain("as built 1 15/16 in ± 1/32 in");
});

function labels(text: string): string[] {
  const { analysis, uri } = cursor(text);
  const range = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
  return inlayHints(analysis, uri, range, settings).map(({ label }) => String(label));
}

function hovered(text: string): string {
  const { analysis, uri, offset } = cursor(text);
  const found = hover(analysis, uri, offset)?.contents;
  return found !== undefined && typeof found === "object" && "value" in found ? found.value : "";
}

describe("where a record makes another figure of it", () => {
  const record = 'record "cut" 2026-04-02 { c.saw: 10 5/8 in ± 1/64 in }';

  test("hints say what was built beside what is wanted and asked for", () => {
    // 10 5/8 less 10 1/16 and 1/4 is 5/16; and 1/4 more is 10 7/8.
    const shown = labels(build(record));
    expect(shown).toContainEqual(expect.stringMatching(/^= 10 13\/16 in.*, built 10 5\/8 in$/));
    expect(shown).toContainEqual(
      expect.stringMatching(/^→ 1\/2 in.*, built 0\.312 in$|^→ 1\/2 in.*, built 5\/16 in$/),
    );
    expect(shown).toContainEqual(expect.stringMatching(/^= 11 1\/16 in.*, built 10 7\/8 in$/));
  });

  test("the hover tells by how much, and whether what was made is accepted", () => {
    expect(hovered(build(record, "ga$0p: 1/2 in\n    # "))).toMatch(
      /as built 5\/16 in ± 1\/64 in, 3\/16 in under what was wanted/,
    );
    const made = build(record).replace("saw: ?", "sa$0w: ?");
    expect(hovered(made)).toMatch(
      /as built 10 5\/8 in ± 1\/64 in, 3\/16 in under, outside of 10 25\/32 in to 10 27\/32 in/,
    );
  });
});

test("without a record, and where one changes nothing, nothing is said of it", () => {
  for (const record of ["", 'record "other" 2026-04-02 { c.plate: 1/4 in }']) {
    expect(labels(build(record)).join()).not.toContain("built");
    expect(hovered(build(record, "ga$0p: 1/2 in\n    # "))).not.toContain("as built");
  }
});
