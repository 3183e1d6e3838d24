/** What stands beside the lines while a text is half-typed: shown as what it was, and let go in time. */
import { expect, test } from "vitest";
import { readHintData } from "../../server/features/hint-fitting";
import { hintTooltip, inlayHints } from "../../server/features/inlay-hints";
import { LastWhole } from "../../server/features/last-whole";
import { cursor } from "./world";

const settings = { enabled: true, asked: true, headlines: true, records: true, steps: true };
const everything = { start: { line: 0, character: 0 }, end: { line: 1_000, character: 0 } };

const tire = "tire t { size: 255/60R17 }\n";
const wheel = "wheel w {\n  size: 17x9\n  offset: 18 mm\n  backspace: ?\n}\n";

/** The hints of one text after the other, as an editor that types them would ask for them. */
function typed(...texts: readonly string[]): string[][] {
  const last = new LastWhole();
  return texts.map((text) => {
    const { analysis, uri } = cursor(text);
    return inlayHints(analysis, uri, everything, settings, last).map(({ label }) => String(label));
  });
}

test("an asked figure says what it was, and what it is once the text can be read again", () => {
  expect(typed(wheel, wheel.replace("18 mm", "18 mm +"), wheel.replace("18 mm", "20 mm"))).toEqual([
    ["= 145 mm, flange assumed"],
    ["was 145 mm, flange assumed"],
    ["= 147 mm, flange assumed"],
  ]);
});

test("a figure that is still known is told as it is, whatever else is broken", () => {
  const other = "wheel v { offset: 3 mm + }\n";
  expect(typed(wheel, wheel + other)[1]).toEqual(["= 145 mm, flange assumed"]);
});

test("headline figures say what they were", () => {
  const [before, after] = typed(tire, "tire t { size: 255/60R17 +\n");
  expect(before?.join()).toMatch(/^overall diameter /);
  expect(after).toEqual(before?.map((label) => `was ${label}`));
});

test("the tooltip tells that it is from before", () => {
  const last = new LastWhole();
  const whole = cursor(wheel);
  inlayHints(whole.analysis, whole.uri, everything, settings, last);
  const { analysis, uri } = cursor(wheel.replace("18 mm", "18 mm +"));
  const [hint] = inlayHints(analysis, uri, everything, settings, last);
  const data = readHintData(hint?.data);
  if (data === undefined) throw new Error("a hint carries what it is about");
  const tooltip = hintTooltip(analysis, data, last)?.value;
  expect(tooltip).toContain("145 mm");
  expect(tooltip).toContain("before the text could no longer be read");
});

test("it is let go where what it rests on is gone", () => {
  const gap = `${tire}${wheel}axle a {\n  tire: t\n  wheel: w\n  left { inner_gap: 1 in; inner_limit: 20 in }\n  track: ?\n}\n`;
  const broken = 'check "half typed": 1 in >\n';
  const [, kept, gone] = typed(
    gap,
    gap.replace("inner_limit: 20 in", "inner_limit: 20 in *"),
    gap.replace("; inner_limit: 20 in", "") + broken,
  );
  expect(kept?.some((each) => each.startsWith("was "))).toBe(true);
  expect(gone?.filter((each) => each.startsWith("was "))).toEqual([]);
});

test("it is let go once the text has stayed broken for long", () => {
  const broken = Array.from({ length: 102 }, (_, index) => wheel.replace("18 mm", `${index} mm +`));
  const hints = typed(wheel, ...broken);
  expect(hints[100]).toEqual(["was 145 mm, flange assumed"]);
  expect(hints[101]?.join()).toMatch(/^missing/);
});
