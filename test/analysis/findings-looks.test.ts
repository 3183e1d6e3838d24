/** Golden texts: numbers that are looked at before they are believed, and defaults that give way. */
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { analyzed } from "../model/build";
import { golden } from "../model/golden";

const plate = `kind plate "Plate" {
  width: length measured range 20 mm..2 m
  rim: length bought default 3/4 in source "common practice"
  shim: length made found out default 0 in source "common practice"
  total: length
  gravity: number constant default 9.81
  weight: number
  relation "total": total = width + rim + shim
  relation "weight": weight = 3 * gravity
}
`;

describe("a figure outside of what is usual for its field", () => {
  test("another unit is asked for, in the unit that is written", () => {
    expect(golden("vehicle van { wheelbase: 118 mm }")).toMatchInlineSnapshot(`
      "1:26 warning value/out-of-range \`118 mm\`
        van.wheelbase is 118 mm: at least 1000 mm is usual
        hint is \`118 in\` meant?
        fix write 118 in: vehicle van { wheelbase: 118 in }"
    `);
  });

  test("the point one place over", () => {
    expect(golden("housing h { standoff: 24.60 in ± 0.01 in }")).toMatchInlineSnapshot(`
      "1:23 warning value/out-of-range \`24.60 in ± 0.01 in\`
        h.standoff is 24.60 in: at most 9.843 in is usual
        hint is \`2.460 in\` meant?
        fix write 2.460 in: housing h { standoff: 2.460 in ± 0.01 in }"
    `);
  });

  test("what is neither is measured again", () => {
    expect(golden(`${plate}plate p { width: 1/64 in }`)).toMatchInlineSnapshot(`
      "11:18 warning value/out-of-range \`1/64 in\`
        p.width is 1/64 in: at least 0.787 in is usual
        hint measure again, or look at the figure as it was read"
    `);
  });

  test("within its range by rounding nothing is said", () => {
    expect(golden(`${plate}plate p { width: 2.000 m }`)).toBe("");
    expect(golden(`${plate}plate p { width: 20 mm }`)).toBe("");
  });

  test("what follows from it is no finding of its own", () => {
    const codes = analyzed(
      "housing h { standoff: 25.10 in }  brake d { hat_thickness: 0.3 in }  axle a { housing: h  brake: d }",
    ).findings.map(({ code, severity }) => `${severity} ${code}`);
    expect(codes).toEqual(["error value/out-of-range"]);
  });
});

describe("two of one thing taken for each other", () => {
  const hint = (wheel: string): readonly string[] =>
    analyzed(`wheel w { size: 17x8; ${wheel} }`).findings.flatMap(
      ({ hint: told = "", fixes = [] }) =>
        told.includes("meant?")
          ? [told.split(";")[0] ?? "", ...fixes.map(({ title }) => title)]
          : [],
    );

  test("what would do in the other one is asked for there, and is an edit of its name", () => {
    expect(hint("offset: 126 mm")).toEqual([
      "is `backspace: 126 mm` meant? then it holds",
      "write backspace: 126 mm",
    ]);
    expect(hint("backspace: 12 mm")).toEqual([
      "is `offset: 12 mm` meant? then it holds",
      "write offset: 12 mm",
    ]);
  });

  test("where both are written each is asked for in the other's place", () => {
    expect(hint("backspace: 12 mm; offset: 126.3 mm")).toEqual([
      "are `offset: 12 mm` and `backspace: 126.3 mm` meant? then it holds",
      "write offset: 12 mm, backspace: 126.3 mm",
    ]);
  });

  test("not of what would do in neither, and nothing where all is as usual", () => {
    expect(hint("offset: -126 mm")).toEqual([]);
    for (let offset = -60; offset <= 80; offset += 5) {
      const codes = analyzed(`wheel w { size: 17x8; offset: ${offset} mm }`).findings;
      expect(codes, `${offset}`).toEqual([]);
    }
  });
});

test.each([
  ["behind a `?`", "housing h { face_to_face: ? ± -1/32 in }"],
  ["behind a step", "housing h { face_to_face: ? made to 1/16 in ± -1/32 in }"],
  ["of a field", 'kind rod "Rod" { long: length made to 1 mm ± -0.5 mm }'],
])("a ± with a sign is told %s", (_, text) => {
  const told = analyzed(text).findings.filter(({ code }) => code === "value/limits");
  expect(told).toHaveLength(1);
  const right = analyzed(text.replace("± -", "± ")).findings.map(({ code }) => code);
  expect(right).not.toContain("value/limits");
});

describe("left against right", () => {
  test("digits that changed places", () => {
    expect(
      golden("axle a { left { inner_limit: 23 5/8 in }  right { inner_limit: 32 1/2 in } }"),
    ).toMatchInlineSnapshot(`
      "1:64 warning value/unlike-twin \`32 1/2 in\`
        a.left.inner_limit is 23 5/8 in and a.right.inner_limit is 32 1/2 in: they are usually alike
        hint is \`32 5/8 in\` meant for a.left.inner_limit, or \`23 1/2 in\` for a.right.inner_limit? measure both again
        fix write 32 5/8 in: axle a { left { inner_limit: 32 5/8 in }  right { inner_limit: 32 1/2 in } }
        fix write 23 1/2 in: axle a { left { inner_limit: 23 5/8 in }  right { inner_limit: 23 1/2 in } }"
    `);
  });

  test("no slip explains it: the trade remarks on it", () => {
    expect(
      golden("axle a { left { inner_limit: 23 in }  right { inner_limit: 28 in } }"),
    ).toMatchInlineSnapshot(`
      "1:1 note look/inner-limits \`axle a \`
        a: left and right inner limit are further apart than is usual: 23 in and 28 in (abs(left.inner_limit - right.inner_limit) is 5 in, at most 3 in is wanted: 2 in over)
        hint measure both again from the centerline"
    `);
    expect(golden("axle a { left { inner_limit: 23 in }  right { inner_limit: 24 in } }")).toBe("");
  });
});

describe("a default the givens push aside", () => {
  test("is told at the givens, whichever way it goes", () => {
    expect(golden(`${plate}plate p { width: 3 in  total: 4 in }`)).toMatchInlineSnapshot(`
      "11:31 warning given/against-default \`4 in\`
        p.rim would have to be 1 in: 3/4 in is usual
        hint check p.total and p.width; where it is so, write rim: 1 in
        see 11:18 p.width is given here"
    `);
    expect(golden(`${plate}plate p { total: 3 in  width: 2 1/2 in }`)).toMatchInlineSnapshot(`
      "11:31 warning given/against-default \`2 1/2 in\`
        p.rim would have to be 1/2 in: 3/4 in is usual
        hint check p.total and p.width; where it is so, write rim: 1/2 in
        see 11:18 p.total is given here"
    `);
  });

  const sleeve = `kind sleeve "Sleeve" {
  bore: length measured
  wall: length bought default bore / 10 source "common practice"
  outside: length
  relation "outside": outside = bore + 2 * wall
}
`;

  test("one that is a formula is told by what it comes to", () => {
    expect(golden(`${sleeve}sleeve s { bore: 100 mm  outside: 150 mm }`)).toMatchInlineSnapshot(`
      "7:35 warning given/against-default \`150 mm\`
        s.wall would have to be 25 mm: 10 mm is usual
        hint check s.bore and s.outside; where it is so, write wall: 25 mm
        see 7:18 s.bore is given here"
    `);
    expect(golden(`${sleeve}sleeve s { bore: 100 mm  outside: 120 mm }`)).toBe("");
    expect(golden(`${sleeve}sleeve s { bore: 100 mm  outside: 150 mm  wall: ? }`)).toBe("");
  });

  test("asked for, written, found out or explained by rounding it is silent", () => {
    expect(golden(`${plate}plate p { width: 3 in  total: 4 in  rim: ? }`)).toBe("");
    expect(golden(`${plate}plate p { width: 3 in  total: 4 in  shim: ?  rim: 3/4 in }`)).toBe("");
    expect(golden(`${plate}plate p { width: 76.2 mm  total: 3.750 in }`)).toBe("");
    expect(golden(`${plate}plate p { width: 3 in ± 1/4 in  total: 4 in }`)).toBe("");
  });

  test("a constant is none: what contradicts it is a conflict, and nobody asks for it", () => {
    expect(golden(`${plate}plate p { weight: 30 }`)).toMatchInlineSnapshot(`
      "11:19 error conflict/givens \`30\`
        these cannot all hold by “weight”: p.weight 30 and p.gravity 9.81 (a constant); they miss by 0.57
        hint to agree, p.weight would have to be 29.43
        fix set p.weight to 29.43: plate p { weight: 29.43 }"
    `);
  });
});

test("what is on record is looked at as it is read, as built or not", () => {
  const text = `vehicle van {}
record "measured" 2026-03-14 { van.wheelbase: 116 mm }
`;
  for (const view of [undefined, (analysis: Analysis) => analysis.asBuilt()])
    expect(golden(text, view === undefined ? {} : { view })).toContain("is `116 in` meant?");
});

describe("a reading on record that is hardly meant", () => {
  const spec = `housing h { standoff: 2.510 in; face_to_face: 53 1/8 in made }
record 2026-05-02 { h.face_to_face: 53.1 mm }`;

  test("is asked about once, by what it was to be", () => {
    // 531 mm is as usual as 53.1 in, and nowhere near 53 1/8 in.
    const found = analyzed(spec).findings.filter(({ severity }) => severity !== "note");
    expect(found.map(({ code, hint }) => [code, hint])).toEqual([
      ["value/out-of-range", "is `53.1 in` meant?"],
    ]);
  });

  test("of twins, what is outside of its range is told of itself alone", () => {
    const codes = analyzed(
      "axle a { left { inner_limit: 581 in }; right { inner_limit: 22 3/4 in } }",
    )
      .findings.map(({ code }) => code)
      .filter((code) => code.startsWith("value/"));
    expect(codes).toEqual(["value/out-of-range"]);
  });
});
