/** Patterns for what is written as one word. The forms are those of published designation systems. */

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { compilePattern, type DesignationPart, type DesignationPattern } from "../../server/units";
import { sentence } from "../findings/sentence";
import { checkNear, measure } from "./check";

const length = measure("length");
const number = measure("number");

function part(name: string, of: string): DesignationPart {
  return { name, measure: of === "text" ? "text" : measure(of) };
}

function compiled(form: string, ...parts: DesignationPart[]): DesignationPattern {
  const pattern = compilePattern(form, parts);
  expect(pattern.problems).toEqual([]);
  return pattern;
}

// Made when a test runs: what works while a file is loaded keeps changes from being judged.
// Form of the size designation in ISO 4000-1 and UN R30.
const size = () =>
  compiled(
    "[P]{width mm}/{aspect %}[Z]R{rim in}[ {load_index}[/{dual}]{speed text}]",
    part("width", "length"),
    part("aspect", "ratio"),
    part("rim", "length"),
    part("load_index", "number"),
    part("dual", "number"),
    part("speed", "text"),
  );
const rim = () =>
  compiled(
    "{diameter in}x{width in}[ ][{shape text}]",
    part("diameter", "length"),
    part("width", "length"),
    part("shape", "text"),
  );
const circle = () =>
  compiled("{count}x{across length}", part("count", "count"), part("across", "length"));
// Forms of thread designations in ASME B1.1 and ISO 261.
const unified = () =>
  compiled(
    "{diameter in fraction}-{pitch tpi}[ {series text}]",
    part("diameter", "length"),
    part("pitch", "per_length"),
    part("series", "text"),
  );
const metricThread = () =>
  compiled("M{diameter mm}[x{pitch mm}]", part("diameter", "length"), part("pitch", "length"));
const ratio = () => compiled("{ring}:{pinion}", part("ring", "count"), part("pinion", "count"));

function check(
  pattern: () => DesignationPattern,
  text: string,
  expected: Readonly<Record<string, number | string>> | undefined,
): void {
  const read = pattern().read(text);
  if (expected === undefined || read === undefined) {
    expect(read, text).toBe(expected);
    return;
  }
  expect([...read.keys()].sort(), text).toEqual(Object.keys(expected).sort());
  for (const [name, wanted] of Object.entries(expected)) {
    const found = read.get(name);
    if (found === undefined) throw new Error(`${text} has no ${name}`);
    if (typeof wanted === "string") expect(found).toEqual({ text: wanted });
    else checkNear("si" in found ? found.si : Number.NaN, wanted, 1e-12, `${text} ${name}`);
  }
}

describe("reading", () => {
  test("sizes", () => {
    const plain = { width: 0.275, aspect: 0.5, rim: 17 * 0.0254 };
    check(size, "275/50R17", plain);
    check(size, "P275/50R17", plain);
    check(size, "275/50ZR17", plain);
    check(size, " 275/50 R17 ", plain);
    check(size, "275/50R17 101W", { ...plain, load_index: 101, speed: "W" });
    check(size, "275/50R17 116/112S", { ...plain, load_index: 116, dual: 112, speed: "S" });
    check(size, "275/50r17", undefined);
    check(size, "275/50R", undefined);
    check(size, "275/50R17 101", undefined);
    check(size, "275/50R17 101W x", undefined);
    check(size, "", undefined);
  });

  test("rims", () => {
    check(rim, "17x9", { diameter: 17 * 0.0254, width: 9 * 0.0254 });
    check(rim, "17 x 8.5", { diameter: 17 * 0.0254, width: 8.5 * 0.0254 });
    check(rim, "15x7 1/2", { diameter: 15 * 0.0254, width: 7.5 * 0.0254 });
    check(rim, "17x9J", { diameter: 17 * 0.0254, width: 9 * 0.0254, shape: "J" });
    check(rim, "17x9 JJ", { diameter: 17 * 0.0254, width: 9 * 0.0254, shape: "JJ" });
    check(rim, "17X9", { diameter: 0.4318, width: 0.2286 });
  });

  test("a mixed number's fraction is below one", () => {
    check(circle, "5x4 15/16 in", { count: 5, across: (79 / 16) * 0.0254 });
    check(circle, "5x4 16/16 in", undefined);
    check(circle, "5x4 33/32 in", undefined);
    check(circle, "5x33/32 in", { count: 5, across: (33 / 32) * 0.0254 });
  });

  test("circles name their unit", () => {
    check(circle, "5x5 in", { count: 5, across: 0.127 });
    check(circle, "5x4 7/8 in", { count: 5, across: 0.123825 });
    check(circle, "5x127 mm", { count: 5, across: 0.127 });
    check(circle, "5x127mm", { count: 5, across: 0.127 });
    check(circle, "5x5", undefined);
    check(circle, "5x5 lb", undefined);
  });

  test("a unit that is left out is the one that leads into what is possible", () => {
    const studs = compilePattern("{count}x{across length}", [
      part("count", "number"),
      { ...part("across", "length"), range: [0.075, 0.35] },
    ]);
    check(() => studs, "5x5.5", { count: 5, across: 0.1397 });
    check(() => studs, "5x139.7", { count: 5, across: 0.1397 });
    check(() => studs, "5x20", undefined);
  });

  test("threads", () => {
    check(unified, "3/8-24", { diameter: 0.375 * 0.0254, pitch: 24 / 0.0254 });
    check(unified, "7/16-14 UNC", { diameter: 0.4375 * 0.0254, pitch: 14 / 0.0254, series: "UNC" });
    check(unified, "1-1/8-12", { diameter: 1.125 * 0.0254, pitch: 12 / 0.0254 });
    check(unified, "1 1/8-12", { diameter: 1.125 * 0.0254, pitch: 12 / 0.0254 });
    check(unified, "1/0-12", undefined);
    check(metricThread, "M12x1.5", { diameter: 0.012, pitch: 0.0015 });
    check(metricThread, "M10", { diameter: 0.01 });
    check(metricThread, "m10", undefined);
    check(ratio, "39:11", { ring: 39, pinion: 11 });
  });
});

describe("writing", () => {
  test.each([
    [size, "275/50R17 101W"],
    [size, "275/50R17 116/112S"],
    [size, "275/50R17"],
    [rim, "17x9"],
    [rim, "17x8.5JJ"],
    [circle, "5x5 in"],
    [circle, "5x127 mm"],
    [unified, "3/8-24"],
    [unified, "1-1/8-12 UNF"],
    [metricThread, "M12x1.5"],
    [ratio, "39:11"],
  ] as const)("%o %s as it was read", (pattern, text) => {
    const read = pattern().read(text);
    expect(read === undefined ? undefined : pattern().write(read)).toBe(text);
  });

  test("a value that is wanting, or cannot be written, gives no text", () => {
    expect(rim().write(new Map([["diameter", { si: 0.4318 }]]))).toBeUndefined();
    expect(
      rim().write(
        new Map([
          ["diameter", { si: 0.4318 }],
          ["width", { si: Number.NaN }],
        ]),
      ),
    ).toBeUndefined();
    expect(
      rim().write(
        new Map([
          ["diameter", { si: 0.4318 }],
          ["width", { si: -0.1 }],
        ]),
      ),
    ).toBeUndefined();
  });

  test("a word that is wanting, or that the form would not read, gives no text", () => {
    const shape = compiled("{shape text}", part("shape", "text"));
    expect(shape.write(new Map())).toBeUndefined();
    expect(shape.write(new Map([["shape", { si: 1 }]]))).toBeUndefined();
    expect(shape.write(new Map([["shape", { text: "JJ" }]]))).toBe("JJ");
    for (const text of ["", "jj", "J J", "A123"])
      expect(shape.write(new Map([["shape", { text }]])), text).toBeUndefined();
  });

  test("a bracket without its parts leaves no blank behind, and marks alone say nothing", () => {
    const spaced = compiled(
      "{pitch tpi} [ {series text}][-]",
      part("pitch", "per_length"),
      part("series", "text"),
    );
    const pitch = { si: 24 / 0.0254 };
    expect(spaced.write(new Map([["pitch", pitch]]))).toBe("24");
    check(() => spaced, "24-", { pitch: 24 / 0.0254 });
  });

  test("a unit that is none, or of something else, gives way to the natural ones", () => {
    const written = (si: number, unit: string) =>
      circle().write(
        new Map<string, { si: number; unit?: string }>([
          ["count", { si: 5 }],
          ["across", { si, unit }],
        ]),
      );
    expect(written(0.127, "blorp")).toBe("5x5 in");
    expect(written(0.127, "lb")).toBe("5x5 in");
    expect(written(0.127, "mm")).toBe("5x127 mm");
    expect(written(0.123825, "in")).toBe("5x4.875 in");
    expect(written(-0.1, "in")).toBeUndefined();
    expect(written(1e-20, "in")).toBeUndefined();
  });

  test("a part with a decimal point is written with two places", () => {
    const decimal = compiled("{width mm decimal}", part("width", "length"));
    expect(decimal.write(new Map([["width", { si: 0.0125 }]]))).toBe("12.50");
    check(() => decimal, "12.5", { width: 0.0125 });
    check(() => decimal, "12", undefined);
  });

  test("without a unit to go by, the one with fewer digits is taken", () => {
    const values = (si: number) =>
      new Map([
        ["count", { si: 5 }],
        ["across", { si }],
      ]);
    expect(circle().write(values(0.127))).toBe("5x5 in");
    expect(circle().write(values(0.112))).toBe("5x112 mm");
    expect(circle().write(values(0))).toBe("5x0 in");
    // As many in each.
    expect(circle().write(values(0.00381))).toBe("5x0.15 in");
  });

  test("read(write(x)) is x", () => {
    const sixteenths = fc.integer({ min: 1, max: 400 }).map((n) => ({ si: (n / 16) * 0.0254 }));
    const millimeters = fc.integer({ min: 1, max: 99999 }).map((n) => ({ si: n / 100 / 1000 }));
    const count = fc.integer({ min: 1, max: 500 }).map((si) => ({ si }));
    const word = fc.constantFrom("H", "W", "JJ", "UNC", "A8").map((text) => ({ text }));
    const cases = fc.oneof(
      fc
        .record(
          {
            width: millimeters,
            aspect: fc.integer({ min: 1, max: 100 }).map((n) => ({ si: n / 100 })),
            rim: sixteenths,
            load_index: count,
            dual: count,
            speed: word,
          },
          { requiredKeys: ["width", "aspect", "rim"] },
        )
        .map((values) => ({ pattern: size, values })),
      fc
        .record(
          { diameter: sixteenths, width: sixteenths, shape: word },
          { requiredKeys: ["diameter", "width"] },
        )
        .map((values) => ({ pattern: rim, values })),
      fc
        .record({ count, across: fc.oneof(sixteenths, millimeters) })
        .map((values) => ({ pattern: circle, values })),
      fc
        .record(
          {
            diameter: sixteenths,
            pitch: count.map(({ si }) => ({ si: si / 0.0254 })),
            series: word,
          },
          { requiredKeys: ["diameter", "pitch"] },
        )
        .map((values) => ({ pattern: unified, values })),
      fc
        .record({ diameter: millimeters, pitch: millimeters }, { requiredKeys: ["diameter"] })
        .map((values) => ({ pattern: metricThread, values })),
      fc.record({ ring: count, pinion: count }).map((values) => ({ pattern: ratio, values })),
    );
    fc.assert(
      fc.property(cases, ({ pattern, values }) => {
        const given = new Map(Object.entries(values));
        // Parts of one bracket stand or fall together.
        if (pattern === size && !(given.has("load_index") && given.has("speed"))) {
          for (const name of ["load_index", "dual", "speed"]) given.delete(name);
        }
        const text = pattern().write(given);
        if (text === undefined) throw new Error("nothing was written");
        const expected = Object.fromEntries(
          [...given].map(([name, value]) => [name, "text" in value ? value.text : value.si]),
        );
        check(pattern, text, expected);
      }),
      { numRuns: 2000 },
    );
  });
});

describe("patterns that are wrong say so", () => {
  test.each([
    ["", ["it is empty"]],
    ["{a}", ["`a` needs a unit of length after it"]],
    ["{a lb}", ["`a` is a length, which lb does not measure"]],
    ["{a furlong}", ['"furlong" after `a` is neither a unit of length nor that measure']],
    ["{a torque}", ['"torque" after `a` is neither a unit of length nor that measure']],
    ["{a text}", ["`a` is a length, not a text"]],
    ["{t mm}", ["`t` is a text and has no unit"]],
    ["{b mm}", ["there is no part `b`"]],
    ["{a mm}x{a mm}", ["`a` stands in it twice"]],
    ["{a mm", ['a "{" without its "}"']],
    ["[{a mm}", ['a "[" without its "]"']],
    ["{a mm}]", ['a "]" without its "["']],
    ["}", ['a "}" without its "{"']],
    [
      "{a mm sharp}",
      ['"{a mm sharp}" is not a part name with a unit, a measure or "text" after it'],
    ],
    ["{}", ['"{}" is not a part name with a unit, a measure or "text" after it']],
    ["{a mm}{t text}}", ['a "}" without its "{"']],
    [`${"[".repeat(13)}{a mm}${"]".repeat(13)}`, ["too many brackets inside each other"]],
    ["x".repeat(301), ["it is longer than 300 characters"]],
  ])("%j", (form, problems) => {
    const pattern = compilePattern(form, [
      { name: "a", measure: length },
      { name: "t", measure: "text" },
    ]);
    expect(
      pattern.problems.map((problem) => sentence({ is: "designation/form", problem })),
    ).toEqual(problems.map((each) => `this form cannot be read: ${each}`));
    expect(pattern.read("5")).toBeUndefined();
    expect(pattern.write(new Map([["a", { si: 1 }]]))).toBeUndefined();
  });
});

test("twelve brackets in each other, and 300 characters, are a pattern", () => {
  const deep = compiled(`${"[".repeat(12)}{a mm}${"]".repeat(12)}`, part("a", "length"));
  check(() => deep, "5", { a: 0.005 });
  check(() => deep, "", {});
  const long = compiled(`{a mm}${"x".repeat(294)}`, part("a", "length"));
  expect(long.write(new Map([["a", { si: 0.005 }]]))).toBe(`5${"x".repeat(294)}`);
  check(() => long, `5${"x".repeat(294)}`, undefined);
});

describe("no text or pattern takes long or throws", () => {
  test("many ways to divide a text", () => {
    const names = Array.from({ length: 30 }, (_, index) => ({
      name: `p${index}`,
      measure: number,
    }));
    const pattern = compilePattern(names.map(({ name }) => `[{${name}}][ ]`).join(""), names);
    expect(pattern.problems).toEqual([]);
    const from = performance.now();
    expect(pattern.read(`${"1/1 ".repeat(29)}!`)).toBeUndefined();
    expect(pattern.read("1 ".repeat(59))).toBeUndefined();
    expect(performance.now() - from).toBeLessThan(500);
    expect(pattern.read("1".repeat(100000))).toBeUndefined();
  });

  test("any pattern, any text", () => {
    const pieces = fc.array(
      fc.constantFrom(
        "[",
        "]",
        "{a mm}",
        "{n}",
        "{t text}",
        "{q length}",
        "{",
        "}",
        " ",
        "x",
        "-",
        "/",
        "R",
      ),
      { maxLength: 14 },
    );
    const texts = fc.array(fc.constantFrom("1", "3/8", " ", "x", "-", "/", "R", "AB", "mm", ".5"), {
      maxLength: 14,
    });
    const parts: DesignationPart[] = [
      part("a", "length"),
      part("n", "number"),
      part("t", "text"),
      part("q", "length"),
    ];
    fc.assert(
      fc.property(
        pieces.map((each) => each.join("")),
        fc.oneof(
          fc.string(),
          texts.map((each) => each.join("")),
        ),
        (form, text) => {
          const pattern = compilePattern(form, parts);
          const read = pattern.read(text);
          if (read === undefined) return;
          for (const name of read.keys()) expect(pattern.parts).toContain(name);
        },
      ),
      { numRuns: 3000 },
    );
  });
});
