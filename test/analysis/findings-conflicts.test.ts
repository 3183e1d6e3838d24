/** Golden texts: what contradicts. */
import { describe, expect, test } from "vitest";
import { analyzed } from "../model/build";
import { golden } from "../model/golden";
import { withPlate } from "./plate";

test("two givens that disagree", () => {
  expect(golden(withPlate("plate p { width: 4 in half: 3 in }"))).toMatchInlineSnapshot(`
    "2:29 error conflict/givens \`3 in\`
      these cannot all hold by “half”: p.half 3 in and p.width 4 in; they miss by 1 in
      hint change one: p.half would have to be 2 in or p.width would have to be 6 in (another part)
      see 2:18 p.width is given here
      fix set p.half to 2 in: plate p { width: 4 in half: 2 in }
      fix set p.width to 6 in: plate p { width: 6 in half: 3 in }"
  `);
});

test("three givens that disagree", () => {
  expect(
    golden(withPlate("plate p { width: 4 in height: 5 in surface: 22 in^2 }")),
  ).toMatchInlineSnapshot(`
    "2:45 error conflict/givens \`22 in^2\`
      these cannot all hold by “surface”: p.height 5 in, p.surface 22 in^2 and p.width 4 in; they miss by 2 in^2
      hint change one: p.surface would have to be 20 in^2, p.height would have to be 5 1/2 in (another part) or p.width would have to be 4.400 in (another part)
      see 2:31 p.height is given here
      see 2:18 p.width is given here
      fix set p.surface to 20 in^2: plate p { width: 4 in height: 5 in surface: 20 in^2 }
      fix set p.height to 5 1/2 in: plate p { width: 4 in height: 5 1/2 in surface: 22 in^2 }
      fix set p.width to 4.400 in: plate p { width: 4.400 in height: 5 in surface: 22 in^2 }"
  `);
});

test("a fact of the vehicle is not offered as a thing to change", () => {
  expect(
    golden(withPlate("plate p { width: 4 in depth: 1 in height: 5 in root: 2 in }")),
  ).toMatchInlineSnapshot(`
    "2:54 error conflict/givens \`2 in\`
      these cannot all hold by “root”: p.depth 1 in, p.height 5 in, p.root 2 in and p.width 4 in; they miss by 1 in
      hint change one: p.root would have to be 1 in, p.height would have to be 8 in (another part), p.width would have to be 1 in (another part) or measure p.depth again
      see 2:30 p.depth is given here
      see 2:43 p.height is given here
      see 2:18 p.width is given here
      fix set p.root to 1 in: plate p { width: 4 in depth: 1 in height: 5 in root: 1 in }
      fix set p.height to 8 in: plate p { width: 4 in depth: 1 in height: 8 in root: 2 in }
      fix set p.width to 1 in: plate p { width: 1 in depth: 1 in height: 5 in root: 2 in }"
  `);
});

test("givens that agree as far as they are written", () => {
  expect(golden(withPlate("plate p { width: 4.13 in half: 2.063 in }"))).toMatchInlineSnapshot(
    `""`,
  );
});

test("givens that agree within their tolerances", () => {
  expect(golden(withPlate("plate p { width: 4 in ± 0.1 in half: 2.04 in }"))).toMatchInlineSnapshot(
    `""`,
  );
  expect(golden(withPlate("plate p { width: 4 in ± 0.1 in half: 2.06 in }"))).toMatchInlineSnapshot(
    `""`,
  );
});

test("the builder's own relation against givens", () => {
  expect(
    golden(
      'wheel a { offset: 1 in }\nwheel b { offset: 2 in }\nrelation "wheels alike": a.offset = b.offset',
    ),
  ).toMatchInlineSnapshot(`
    "2:19 error conflict/givens \`2 in\`
      these cannot all hold by “wheels alike”: a.offset 1 in and b.offset 2 in; they miss by 1 in
      hint change one: a.offset would have to be 2 in (another part) or b.offset would have to be 1 in (another part)
      see 1:19 a.offset is given here
      fix set a.offset to 2 in: wheel a { offset: 2 in }
      fix set b.offset to 1 in: wheel b { offset: 1 in }"
  `);
  expect(
    golden("wheel a { offset: 1 in }\nwheel b { offset: 2 in }\nrelation: a.offset = b.offset"),
  ).toMatchInlineSnapshot(`
    "2:19 error conflict/givens \`2 in\`
      these cannot all hold by “a.offset = b.offset”: a.offset 1 in and b.offset 2 in; they miss by 1 in
      hint change one: a.offset would have to be 2 in (another part) or b.offset would have to be 1 in (another part)
      see 1:19 a.offset is given here
      fix set a.offset to 2 in: wheel a { offset: 2 in }
      fix set b.offset to 1 in: wheel b { offset: 1 in }"
  `);
});

test("a formula that is not met", () => {
  expect(golden(withPlate("plate p { width: 4 in half: width / 4 }"))).toMatchInlineSnapshot(`
    "2:18 error conflict/givens \`4 in\`
      these cannot all hold by “half”: p.width 4 in and p.half: width / 4; they miss by 1 in
      hint leave one of them out, and it is solved from the others"
  `);
});

test("a relation between one figure and a number", () => {
  expect(
    golden('wheel a { offset: 1 in }\nrelation "as drawn": a.offset = 3 in'),
  ).toMatchInlineSnapshot(`
    "1:19 error conflict/givens \`1 in\`
      this cannot hold by “as drawn”: a.offset 1 in, it misses by 2 in
      hint to agree, a.offset would have to be 3 in (another part)
      fix set a.offset to 3 in: wheel a { offset: 3 in }"
  `);
});

test("missing because of a contradiction elsewhere is said once", () => {
  expect(golden(withPlate("plate p { width: 4 in half: 3 in surface: ? }"))).toMatchInlineSnapshot(`
    "2:29 error conflict/givens \`3 in\`
      these cannot all hold by “half”: p.half 3 in and p.width 4 in; they miss by 1 in
      hint change one: p.half would have to be 2 in or p.width would have to be 6 in (another part)
      see 2:18 p.width is given here
      fix set p.half to 2 in: plate p { width: 4 in half: 2 in surface: ? }
      fix set p.width to 6 in: plate p { width: 6 in half: 3 in surface: ? }
    2:43 warning missing/value \`?\`
      p.surface cannot be worked out yet
      hint give p.height"
  `);
});

test("several contradictions that share a figure: what mends all of them at once", () => {
  const kinds = `kind box {
  a: length made; b: length made; c: length made; d: length made; e: length made; ab: length made
  relation "ab": ab = a + b
  relation "ac": c = a + d
  relation "ae": e = 2 * a
}
`;
  const hints = (fields: string): (string | undefined)[] =>
    analyzed(`${kinds}box k { ${fields} }`).findings.map(({ hint }) => hint);
  // By hand: 4 in for a makes 8 = 4 + 4, 5 = 4 + 1 and 8 = 2 × 4.
  const three = hints("a: 3 in; b: 4 in; ab: 8 in; d: 1 in; c: 5 in; e: 8 in");
  expect(three).toHaveLength(3);
  for (const hint of three) {
    expect(hint).toContain("; one change mends all 3 contradictions: k.a 4 in");
  }
  // No one figure does: 8 = a + 4 wants 4 in, 6 = a + 1 wants 5 in.
  const [both] = hints("a: 3 in; b: 4 in; ab: 8 in; d: 1 in; c: 6 in");
  expect(both).toMatch(/; together these mend both contradictions: k\.a 5 in and k\.ab 9 in, or /);
});

describe("what would make givens agree is tried in the whole build", () => {
  const kinds = `kind hoop "Hoop" { offset: length bought; weight: mass bought }
kind seat "Seat" {
  rim: hoop
  face: length made to 1 mm ± 0.5 mm
  limit: length measured
  gap: length shown
  reach: length made to 1 mm ± 0.5 mm
  relation "reach": reach = face - rim.offset
  relation "gap": gap = limit - face
  check "clears": gap >= 10 mm
  check "light": rim.weight <= 9 kg
}
`;
  const files = `//- build.trammel
use "rims.trammel" as rims
${kinds}
seat h { rim: rims.flat; face: 100 mm; limit: 120 mm; reach: 85 mm }
//- rims.trammel
hoop flat { offset: 5 mm; weight: 8 kg }
hoop deep { offset: 15 mm; weight: 10 kg }
hoop deeper { offset: 25 mm; weight: 8 kg }
hoop light { offset: 15 mm; weight: 8 kg }
`;

  test("by role: what is made on its step, parts that are there, nothing in a list of parts", () => {
    const analysis = analyzed(files);
    const [wrong, ...more] = analysis.contradictions;
    expect(more).toEqual([]);
    expect(wrong?.inputs.toSorted()).toEqual(["h.face", "h.reach", "rims.flat.offset"]);
    // By hand: 85 = 100 - 15 wants 15 mm of offset, 90 mm of face (30 mm of gap), or a reach of 95 mm.
    const offered = wrong
      ?.fits()
      .map(({ offers, moves, breaks }) => [
        offers.map(({ path, shown, role, file }) => [path, shown, role, file]),
        moves.map(({ path, from, to }) => `${path} ${from} ${to}`),
        breaks.length,
      ]);
    expect(offered).toEqual([
      [[["h.face", "90 mm", "made", undefined]], ["h.gap 20 mm 30 mm"], 0],
      [[["h.reach", "95 mm", "made", undefined]], [], 0],
      [[["rims.flat.offset", "15 mm", "bought", "rims.trammel"]], [], 0],
    ]);
    // The deep one agrees as well, and is too heavy; the deeper one does not agree.
    expect(wrong?.otherParts().map(({ path, part, breaks }) => [path, part, breaks])).toEqual([
      ["h.rim", "rims.light", []],
      ["h.rim", "rims.deep", [{ title: "h: light", level: "nominal" }]],
    ]);
    const fixes = analysis.findings.flatMap(({ furtherFixes }) => furtherFixes?.() ?? []);
    expect(fixes.map(({ title, detail, ask }) => [title, detail, ask])).toEqual([
      ["set h.face to 90 mm", "now 100 mm; moves h.gap 20 mm to 30 mm", undefined],
      ["set h.reach to 95 mm", "now 85 mm", undefined],
      ["h.rim: rims.light in place of rims.flat", undefined, undefined],
      ["h.rim: rims.deep in place of rims.flat; breaks a check", "breaks h: light", true],
    ]);
  });

  test("what a change breaks elsewhere is told, and it goes last", () => {
    // 105 = face - 5 mm wants a face of 110 mm, which leaves 5 mm of gap, or a reach of 95 mm.
    const text = files
      .replace("limit: 120 mm; reach: 85 mm", "limit: 115 mm; reach: 105 mm")
      .replace(/hoop (deep|light).*/g, "");
    const [wrong] = analyzed(text).contradictions;
    const fits = wrong?.fits() ?? [];
    expect(fits[0]?.offers[0]?.shown).toBe("95 mm");
    expect(fits[0]?.breaks).toEqual([]);
    expect(fits.at(-1)?.offers[0]).toMatchObject({ path: "h.face", shown: "110 mm" });
    expect(fits.at(-1)?.breaks).toEqual([{ title: "h: clears", level: "nominal" }]);
  });

  test("a file that others use is named before it is written in", () => {
    const text = `//- build.trammel
use "shared.trammel"
${kinds}
h.reach: 85 mm
//- shared.trammel
${kinds}
hoop flat { offset: 5 mm; weight: 8 kg }
seat h { rim: flat; face: 100 mm; limit: 120 mm }
`.replace(`use "shared.trammel"\n${kinds}`, 'use "shared.trammel"\n');
    const fixes = analyzed(text).findings.flatMap(({ furtherFixes }) => furtherFixes?.() ?? []);
    expect(fixes.find(({ title }) => title.startsWith("set h.face"))).toMatchObject({
      title: "set h.face to 90 mm in shared.trammel",
      detail: "now 100 mm; shared.trammel may be used by others; moves h.gap 20 mm to 30 mm",
      ask: true,
    });
  });

  test("what is only measured is measured again, not changed", () => {
    const text = `${kinds}
hoop flat { offset: 5 mm case; weight: 8 kg }
seat h { rim: flat; face: 100 mm measured; limit: 120 mm; reach: 85 mm measured }`;
    const [wrong] = analyzed(text).contradictions;
    expect(wrong?.fits()).toEqual([]);
    expect(wrong?.measured.toSorted()).toEqual(["h.face", "h.reach"]);
  });
});

describe("readings in the spec that contradict each other and nothing else", () => {
  const bay = (fields: string) => `kind bay "Bay" {
  width: length measured
  left: length measured
  right: length measured
  front: length measured
  back: length measured
  relation "width": width = left + right
  relation "front": front = width
  relation "back": back = front
}
bay b { ${fields} }`;

  test("with one condition each is as suspect as the others, and what all make of each is told", () => {
    // By hand: 3/8 in apart, a third of it each, since all are read alike.
    expect(
      golden(bay("width: 60 in ± 1/32 in; left: 29 7/8 in ± 1/32 in; right: 30 1/2 in ± 1/32 in")),
    ).toMatchInlineSnapshot(`
      "11:67 error record/misclosure \`30 1/2 in ± 1/32 in\`
        these readings do not agree: b.left 29 7/8 in, b.right 30 1/2 in and b.width 60 in; they are 3/8 in apart, 9/64 in is what their ± explains
        hint each is as suspect as the others: one more reading of b.width tells which; until then the best there is: b.width 60 1/8 in, b.right 30 3/8 in and b.left 29 3/4 in
        see 11:39 b.left is given here
        see 11:16 b.width is given here"
    `);
  });

  test("with more conditions the one that is likely wrong is named", () => {
    // Left, front and back agree at 60 in; the width alone says 60 1/2 in.
    const text = bay(
      "width: 60 1/2 in ± 1/32 in; left: 30 in ± 1/32 in; right: 30 in ± 1/32 in; front: 60 in ± 1/32 in; back: 60 in ± 1/32 in",
    );
    const findings = analyzed(text).findings;
    expect(findings.map(({ code }) => code)).toEqual(["record/misclosure"]);
    expect(findings[0]?.hint).toBe(
      "most likely it is b.width, which the others make 60 in: measure it again",
    );
    // What is written stays what is read of it.
    expect(analyzed(text).valueAt("b.width")?.si).toBeCloseTo(60.5 * 0.0254, 12);
  });

  test("what is made among them is made otherwise, as ever", () => {
    const text = bay("width: 60 in made; left: 30 in; right: 31 in");
    const [finding] = analyzed(text).findings;
    expect(finding?.code).toBe("conflict/givens");
    expect(analyzed(text).contradictions[0]?.fits()[0]?.offers[0]).toMatchObject({
      path: "b.width",
      shown: "61 in",
    });
  });
});

describe("a figure that nobody wrote and that cannot be what it comes to", () => {
  test("its default stands for it: what was written disagrees, at what was written last", () => {
    // By hand: 17x8 over flanges of 1/2 in is 9 in wide, 4 1/2 in and 20 mm make 5.287 in of backspace,
    // 6 1/2 in less 4 1/2 in make 50.8 mm of offset.
    const analysis = analyzed("wheel w { size: 17x8; offset: 20 mm; backspace: 6 1/2 in }");
    const [finding] = analysis.findings;
    expect(finding?.message).toContain("w.backspace 6.500 in, w.offset 20 mm, w.size.width 8 in");
    expect(finding?.message).toContain("and w.flange 0.500 in (assumed)");
    const offers = analysis.contradictions[0]?.fits().map(({ offers }) => offers[0]);
    expect(offers).toMatchObject([
      { path: "w.backspace", shown: "5.287 in" },
      { path: "w.offset", shown: "50.8 mm" },
    ]);
  });

  test("without a default what it follows from is named down to what was written, and what would do offered", () => {
    const text = `kind bar "Bar" {
  length: length made to 1 mm
  eye: length bought
  clear: length
  rest: length range 100 mm..1 m
  relation "clear": clear = length - 2 * eye
  relation "rest": rest = clear - 50 mm
}
bar b { length: 200 mm; eye: 40 mm }`;
    const analysis = analyzed(text);
    const [finding] = analysis.findings;
    // By hand: 200 - 80 - 50 = 70 mm; 100 mm asks for a length of 230 mm or an eye of 25 mm.
    expect(finding?.code).toBe("solve/no-answer");
    expect(finding?.hint).toBe(
      "check the figures it is worked out from: b.length 200 mm, b.eye 40 mm",
    );
    expect(finding?.anchor.span.start).toBeGreaterThan("bar b { length: ".length);
    const offers = analysis.contradictions[0]?.fits().map(({ offers }) => offers[0]);
    expect(offers).toMatchObject([
      { path: "b.length", shown: "230 mm" },
      { path: "b.eye", shown: "25 mm" },
    ]);
  });
});

test("relations that contradict each other by themselves are named, whatever figures are open in them", () => {
  const kind = "kind k { c: length\ne: length\n";
  const told = (relations: string): string[] =>
    analyzed(`${kind}${relations} }\nk p { }`).findings.map(({ message }) => message);
  expect(told(`relation "one": c + e = 10 mm\nrelation "other": c + e = 12 mm`)).toEqual([
    "these relations cannot all hold: “one” and “other”; they miss by 2 mm",
  ]);
});
