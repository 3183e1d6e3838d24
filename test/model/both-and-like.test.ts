/**
 * What is said once for two parts, or taken over from another thing, comes to what it comes to
 * written out at length.
 */
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { analyzed } from "./build";
import { stateOf } from "./state";

const parts = `display { length: in 1/32 }
tire t { size: 255/60R17 }
wheel w { size: 17x8; offset: 12 mm; stud_circle: 5x5 in; price: 210 usd }
brake b { hat_thickness: 0.310 in }
housing h { standoff: 2.380 in ± 0.008 in; end_length: 2 in; face_to_face: ? }
`;

function seen(analysis: Analysis): unknown {
  return {
    state: stateOf(analysis, false),
    built: stateOf(analysis.asBuilt(), false),
    options: analysis.options.map(({ name }) => {
      const under = analysis.under(name);
      return under && stateOf(under, false);
    }),
  };
}

/** What is there, with what it was called; findings stand where the text stands, so they differ. */
function figures(analysis: Analysis): unknown {
  const told = (each: Analysis): unknown =>
    [...each.values.values()].map((value) => [value.path, value.si, value.standing, value.role]);
  return [
    told(analysis),
    told(analysis.asBuilt()),
    analysis.options.map(({ name }) => told(analysis.under(name) ?? analysis)),
    analysis.checks.map(({ title, verdict }) => [title, verdict.nominal]),
    analysis.things.map(({ path, kind }) => [kind.name, path]).sort(),
  ];
}

function alike(short: string, long: string): Analysis {
  const one = analyzed(parts + short);
  const other = analyzed(parts + long);
  expect(new Map(sorted(figures(one)))).toEqual(new Map(sorted(figures(other))));
  return one;
}

function sorted(list: unknown): [number, unknown][] {
  return (list as unknown[]).map((each, index) => [
    index,
    Array.isArray(each) ? [...each].map((one) => JSON.stringify(one)).sort() : each,
  ]);
}

const axle = "wheel: w; tire: t; brake: b; housing: h";

describe("both", () => {
  test("is each of the two parts of one kind, in their block and by path", () => {
    const analysis = alike(
      `axle rear { ${axle}
  both { inner_gap: 1 in; tube_mark: ?; body { body_limit lip { at: bump; place: 20 in; height: 27 in } } }
  left { inner_limit: 23 1/2 in }
  right.inner_limit: 23 3/8 in
}
rear.both.spacer: 1/16 in
option close { rear.both.inner_gap: 7/8 in }
record "read again" 2026-05-02 { rear.both.inner_limit: 23 7/16 in }
check "room": min(rear.both.inner_gap) >= 5/8 in
`,
      `axle rear { ${axle}
  left { inner_limit: 23 1/2 in; inner_gap: 1 in; tube_mark: ?; body { body_limit lip { at: bump; place: 20 in; height: 27 in } } }
  right { inner_limit: 23 3/8 in; inner_gap: 1 in; tube_mark: ?; body { body_limit lip { at: bump; place: 20 in; height: 27 in } } }
}
rear.left.spacer: 1/16 in; rear.right.spacer: 1/16 in
option close { rear.left.inner_gap: 7/8 in; rear.right.inner_gap: 7/8 in }
record "read again" 2026-05-02 { rear.left.inner_limit: 23 7/16 in; rear.right.inner_limit: 23 7/16 in }
check "room": min(rear.left.inner_gap, rear.right.inner_gap) >= 5/8 in
`,
    );
    expect(analysis.findings.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(analysis.checks.some(({ title }) => title === "room")).toBe(true);
  });

  test("goes for any two parts of one kind, not for left and right alone", () => {
    alike(
      "caliper_mount m { both { inner_reading: 4 mm; allowed: 0.1 mm } top { outer_reading: 3 mm } bottom { outer_reading: 2.9 mm } }\n",
      "caliper_mount m { top { outer_reading: 3 mm; inner_reading: 4 mm; allowed: 0.1 mm } bottom { outer_reading: 2.9 mm; inner_reading: 4 mm; allowed: 0.1 mm } }\n",
    );
  });

  test("a field of that name is that field", () => {
    const analysis = analyzed(
      "kind pair { both: length  one: part half  two: part half }\nkind half of pair { size: length }\npair p { both: 3 in }\n",
    );
    expect(analysis.findings).toEqual([]);
    expect(analysis.valueAt("p.both")?.si).toBeCloseTo(0.0762, 9);
  });

  test("where its block stands among the others changes nothing", () => {
    const blocks = [
      "both { inner_gap: 1 in }",
      "left { inner_limit: 23 in }",
      "right { inner_limit: 24 in }",
    ];
    const states = [blocks, blocks.toReversed()].map((order) =>
      stateOf(analyzed(`${parts}axle rear { ${axle}\n${order.join("\n")}\n}\n`), false),
    );
    expect(states[0]).toEqual(states[1]);
  });

  test.each([
    ["said twice", "axle a { both { inner_gap: 1 in } left { inner_gap: 2 in } }", "given/twice"],
    ["no two parts", "wheel x { both { size: 17x8 } }", "name/unknown-field"],
    ["as one value", "axle a { both: 3 in }", "name/unknown-field"],
    ["an unknown field", "axle a { both { inner_gab: 1 in } }", "name/unknown-field"],
    ["a wrong unit", "axle a { both { inner_gap: 1 kg } }", "unit/wrong"],
  ])("%s is told", (_, text, code) => {
    const codes = analyzed(`${text}\n`).findings.map((finding) => finding.code);
    expect(codes).toContain(code);
  });
});

describe("like", () => {
  test("takes over what is not written, the parts too, and nothing recorded", () => {
    const analysis = alike(
      `axle rear { ${axle}
  left { inner_limit: 23 1/2 in; inner_gap: 1 in }
  right { inner_limit: 23 3/8 in; inner_gap: 1 in }
}
wheel deep like w { offset: 5 mm }
axle front like rear { wheel: deep; left { inner_limit: 24 in } }
rear.left.spacer: 2 mm
option other { rear.right.inner_gap: 3/4 in; w.size: 17x9 }
record "read again" 2026-05-02 { rear.left.inner_limit: 23 7/16 in; w.offset: 13 mm }
`,
      `axle rear { ${axle}
  left { inner_limit: 23 1/2 in; inner_gap: 1 in; spacer: 2 mm }
  right { inner_limit: 23 3/8 in; inner_gap: 1 in }
}
wheel deep { size: 17x8; offset: 5 mm; stud_circle: 5x5 in; price: 210 usd }
axle front { wheel: deep; tire: t; brake: b; housing: h
  left { inner_limit: 24 in; inner_gap: 1 in; spacer: 2 mm }
  right { inner_limit: 23 3/8 in; inner_gap: 1 in }
}
option other { rear.right.inner_gap: 3/4 in; front.right.inner_gap: 3/4 in; w.size: 17x9; deep.size: 17x9 }
record "read again" 2026-05-02 { rear.left.inner_limit: 23 7/16 in; w.offset: 13 mm }
`,
    );
    expect(analysis.findings.filter(({ severity }) => severity === "error")).toEqual([]);
  });

  test("goes for parts and for things inside, and along a chain, in any order", () => {
    const long = `gearbox g { gear first { number: 1 } gear second { number: 2 } }
caliper_mount m { top { outer_reading: 3 mm; allowed: 0.1 mm } bottom { outer_reading: 2.9 mm; allowed: 0.1 mm } }
wheel x { size: 17x8; offset: 5 mm; stud_circle: 5x5 in; price: 210 usd }
wheel y { size: 17x8; offset: 5 mm; stud_circle: 5x5 in; price: 230 usd }
`;
    const lines = [
      "gearbox g { gear second like first { number: 2 } gear first { number: 1 } }",
      "caliper_mount m { bottom like top { outer_reading: 2.9 mm } top { outer_reading: 3 mm; allowed: 0.1 mm } }",
      "wheel y like x { price: 230 usd }",
      "wheel x like w { offset: 5 mm }",
    ];
    alike(lines.join("\n"), long);
    alike(lines.toReversed().join("\n"), long);
  });

  test("a thing of another file is taken as it is there", () => {
    const analysis = analyzed(`//- build.trammel
use "parts.trammel" as parts
wheel winter "Winter" like parts.w { offset: 5 mm; backspace: ? }
//- parts.trammel
wheel w { size: 17x8; flange: edge.flange }
wheel edge { flange: 13 mm }
`);
    expect(analysis.findings.filter(({ severity }) => severity === "error")).toEqual([]);
    // (8 in + 2 * 13 mm) / 2 + 5 mm
    expect((analysis.valueAt("winter.backspace")?.si ?? 0) * 1000).toBeCloseTo(119.6, 6);
  });

  test.each([
    ["itself", "wheel x like x { }", "like/itself"],
    [
      "itself by way of others",
      "wheel x like y { }\nwheel y like z { }\nwheel z like x { }",
      "like/itself",
    ],
    ["what it is in", "axle a { left like a { } }", "like/itself"],
    ["of another kind", "tire o { }\nwheel x like o { }", "like/other-kind"],
    ["what is not there", "wheel x like nowhere { }", "name/unknown"],
  ])("%s is told", (_, text, code) => {
    const found = analyzed(`${text}\n`).findings.filter((finding) => finding.severity === "error");
    expect(found.length).toBeGreaterThan(0);
    expect(new Set(found.map((finding) => finding.code))).toEqual(new Set([code]));
  });

  test("a mistake in what is taken over is told once, where it stands", () => {
    const found = analyzed("wheel x { offset: 3 kg; sice: 17x8 }\nwheel y like x { }\n").findings;
    expect(found.filter(({ severity }) => severity === "error")).toHaveLength(2);
  });

  test("copies of copies are bounded", () => {
    const thing = (n: number): string =>
      `procedure p${n} { ${n === 0 ? "step s { }" : `procedure a like p${n - 1} { } procedure b like p${n - 1} { }`} }`;
    const text = Array.from({ length: 24 }, (_, n) => thing(n)).join("\n");
    expect(analyzed(text).findings.map(({ code }) => code)).toContain("build/too-much");
  });
});

test("a source of the whole kind is that of what says none of its own", () => {
  const analysis = analyzed(`kind strip "Strip" {
  source "our own sum"
  a: length
  b: length default 3 mm
  relation "double": a = 2 * b
  check "long": a >= 1 mm
    source "shop rule"
}
strip s { a: ? }
`);
  const kind = analysis.vocabulary.kinds.get("strip");
  expect(kind?.relations[0]?.remarks.source).toBe("our own sum");
  expect(kind?.checks[0]?.remarks.source).toBe("shop rule");
  expect(kind?.fields.get("b")?.source).toBe("our own sum");
  expect(kind?.fields.get("a")?.source).toBeUndefined();
});

test("what is taken over and said of both is the same after any reading", () => {
  const text = `${parts}axle rear { ${axle}; both { inner_gap: 1 in } left { inner_limit: 23 in } right like left { } }\n`;
  expect(seen(analyzed(text))).toEqual(seen(analyzed(text)));
});

describe("rows of things that are like each other", () => {
  const row = (count: number, last: string): string =>
    `${Array.from({ length: count }, (_, at) => `wheel w${at} like w${at + 1} { offset: ${at % 40} mm }\n`).join("")}${last}\n`;

  test("however long, each begins anew where it leads too far, which is told there", () => {
    const analysis = analyzed(`//- build.trammel\n${row(200, "wheel w200 { size: 17x9 }")}`);
    const told = analysis.findings.map(({ code, message }) => `${code} ${message}`);
    expect(told).toHaveLength(4);
    for (const each of told)
      expect(each).toMatch(/^build\/too-much `w\d+` would be like others by way of more than 40/);
    // What is near enough to what says most is like it, offsets as written.
    expect(analysis.valueAt("w199.backspace")?.si).toBeCloseTo(5 * 0.0254 + 0.039, 9);
    expect(analysis.valueAt("w161.backspace")?.si).toBeCloseTo(5 * 0.0254 + 0.001, 9);
    expect(analysis.valueAt("w100.offset")?.si).toBeCloseTo(0.02, 12);
  });

  test("a circle of thousands is broken where it leads too far, a small one is told as one", () => {
    const codes = (count: number): readonly string[] =>
      analyzed(`//- build.trammel\n${row(count, `wheel w${count} like w0 { }`)}`).findings.map(
        ({ code }) => code,
      );
    expect(new Set(codes(1500))).toEqual(new Set(["build/too-much"]));
    expect(codes(20)).toEqual(Array.from({ length: 21 }, () => "like/itself"));
  });
});
