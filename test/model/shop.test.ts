/** What a figure is made to: as its own line says, else as the shop's tools hold, else the library. */
import { describe, expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { analyzed, folder, library } from "./build";

const inch = 0.0254;
const kinds = `kind tools "Tools" {
  with "every build"
  saw: length setting
}
kind bar "Bar" {
  rest: length measured
  cut: length made to 1/8 in ± 1/16 in with "tools.saw"
  gap: length wanted
  relation "gap": gap = cut - rest
}
`;
const bar = (more = "") => `bar b { rest: 10.05 in; gap: 1 in${more} }\n`;

/** Drawn 11.05 in: the step it is cut to and what the cut may miss by, in inches. */
function cut(text: string, path = "b.cut") {
  const outcome = analyzed(kinds + text)
    .valueAt(path)
    ?.outcome();
  return [(outcome?.si ?? 0) / inch, (outcome?.worst ?? 0) / inch].map((each) =>
    Number(each.toFixed(6)),
  );
}

describe("made to", () => {
  test("the library's stated default, where nobody says otherwise", () => {
    expect(cut(bar())).toEqual([11, 0.0625]);
  });

  test("what the shop's saw holds", () => {
    expect(cut(`tools ours { saw: 1/16 in ± 1/64 in }\n${bar()}`)).toEqual([11.0625, 0.015625]);
    expect(cut(`tools ours { saw: 1/16 in }\n${bar()}`)).toEqual([11.0625, 0.0625]);
  });

  test("what the figure's own line says, step and ± each", () => {
    const shop = "tools ours { saw: 1/16 in ± 1/64 in }\n";
    expect(cut(shop + bar("; cut: ? to 1/4 in"))).toEqual([11, 0.015625]);
    expect(cut(shop + bar("; cut: ? ± 1/32 in"))).toEqual([11.0625, 0.03125]);
  });

  test("a shop in a file of its own counts, and an option may have another saw", () => {
    const analysis = analyzed(`use "ours.trammel"
${kinds}${bar()}option better "A better saw" { ours.saw: 1/100 in ± 0.001 in }
//- ours.trammel
tools ours { saw: 1/16 in ± 1/64 in }
`);
    const at = (view = analysis) => (view.valueAt("b.cut")?.outcome()?.si ?? 0) / inch;
    expect(at()).toBeCloseTo(11.0625, 9);
    expect(at(analysis.under("better"))).toBeCloseTo(11.05, 9);
  });

  test("an edit of the shop is told in everything that is made", () => {
    const text = (saw: string) => `${kinds}tools ours { saw: ${saw} }\n${bar()}`;
    const files = new Map([[`${folder}build.trammel`, text("1/16 in ± 1/64 in")]]);
    const analyzer = new Analyzer(memoryHost(files, [folder]), library());
    const read = () =>
      analyzer.analyze(`${folder}build.trammel`)?.valueAt("b.gap")?.outcome()?.si ?? 0;
    expect(read() / inch).toBeCloseTo(1.0125, 9);
    files.set(`${folder}build.trammel`, text("1/100 in ± 1/64 in"));
    expect(read() / inch).toBeCloseTo(1, 9);
  });
});

test("what earlier housings were drawn in by goes into the saw line", () => {
  const text = (
    more: string,
  ) => `weld_history one { fitted_width: 57 3/16 in; welded_width: 57 1/8 in }
weld_history two { fitted_width: 60 1/4 in; welded_width: 60 5/32 in }
housing tube { end_length: 2 in; face_to_face: 58 1/4 in; ${more} }
axle rear { housing: tube }
`;
  const mark = (more: string) =>
    (analyzed(text(more)).valueAt("rear.left.tube_mark")?.si ?? 0) / inch;
  // Half of 1/16 and of 3/32, the mean of both: 5/128 in.
  expect(mark("earlier_welds: [one, two]") - mark("")).toBeCloseTo(5 / 128, 9);
  expect(mark("earlier_welds: [one, two]; weld_shrinkage: 1/8 in") - mark("")).toBeCloseTo(
    1 / 8,
    9,
  );
});
