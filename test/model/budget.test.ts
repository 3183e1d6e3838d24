/** No text, however short, makes a build without measure: who spends the last of it is told, the rest is answered. */
import { describe, expect, test } from "vitest";
import { analyzed, findingsOf } from "./build";

const good = "wheel w { size: 17x9 offset: 18 mm backspace: ? }";

/** What is solved beside it, as ever; and what is told of it. */
function tried(text: string): { readonly codes: string[]; readonly findings: string[] } {
  const started = performance.now();
  const analysis = analyzed(`${text}\n${good}\n`);
  const findings = findingsOf(analysis);
  // 17x9: (9 in + 2 * 0.5 in) / 2 + 18 mm, by the rim halves of the design.
  expect(analysis.valueAt("w.backspace")?.si).toBeCloseTo(0.145, 9);
  expect(performance.now() - started).toBeLessThan(20_000);
  return { codes: [...new Set(analysis.findings.map(({ code }) => code))], findings };
}

const chain = (levels: number, parts: number): string =>
  Array.from(
    { length: levels },
    (_, level) =>
      `kind k${level} { ${Array.from({ length: parts }, (_, part) => `p${part}: part k${level + 1}`).join(" ")} }`,
  ).join("\n");

describe("parts that nobody wrote", () => {
  test.each([
    ["two by two, twenty levels deep", 20, 2],
    ["ten by ten, six levels deep", 6, 10],
    ["forty by forty, three levels deep", 3, 40],
  ])("%s", (_, levels, parts) => {
    const { codes, findings } = tried(
      `${chain(levels, parts)}\nkind k${levels} { x: length shown default 1 in }\nk0 t { }`,
    );
    expect(codes).toEqual(["build/too-much"]);
    expect(findings).toHaveLength(1);
    expect(findings[0]).toContain(
      `${levels + 2}:1 error build/too-much: \`t\` would hold more than 2,000 parts, those from \`t.`,
    );
  });

  test("some two hundred of them are no reason to object", () => {
    expect(
      tried(`${chain(2, 14)}\nkind k2 { x: length shown default 1 in }\nk0 t { }`).codes,
    ).toEqual([]);
  });
});

describe("sums", () => {
  test("lists of lists of lists", () => {
    const lists = Array.from(
      { length: 6 },
      (_, at) =>
        `n a${at} { l: [${Array.from({ length: 40 }, () => (at === 0 ? "z" : `a${at - 1}`)).join(", ")}] }`,
    ).join("\n");
    const { codes, findings } = tried(
      `kind n { l: list of n  x: length }\nn z { x: 1 in }\n${lists}\nkind r { n: n  y: length  relation "a": y = sum(n.l.l.l.l.l.l.x) }\nr q { n: a5  y: ? }`,
    );
    expect(codes.sort()).toEqual(["build/too-much", "missing/value"]);
    expect(findings.join("\n")).toContain(
      "build/too-much: lists and `each` go through more than 50,000 things here",
    );
  });

  test("all things summing all things", () => {
    const things = Array.from({ length: 500 }, (_, at) => `k t${at} { }`).join("\n");
    const { findings } = tried(
      `kind k { x: length default 1 in  y: length  relation "s": y = sum(each(k).x) }\n${things}`,
    );
    expect(findings).toEqual([
      "402:1 error build/too-much: lists and `each` go through more than 200,000 things in this build: what needs more, from here on, is left open | sum up once, in a field of its own, and use that field",
    ]);
  });

  test("one sum of very many figures is summed", () => {
    const things = Array.from({ length: 5_000 }, (_, at) => `k t${at} { x: 1 in ± 0.01 in }`);
    const analysis = analyzed(
      `kind k { x: length }\n${things.join("\n")}\nkind r { y: length  relation "s": y = sum(each(k).x) }\nr q { y: ? }`,
    );
    expect(analysis.valueAt("q.y")?.si).toBeCloseTo(5_000 * 0.0254, 9);
    expect(findingsOf(analysis)).toEqual([]);
  });
});

describe("what kinds take over", () => {
  test("by way of too many others", () => {
    const kinds = Array.from({ length: 300 }, (_, at) => `kind k${at} is k${at + 1} { }`);
    for (const order of [kinds, [...kinds].reverse()])
      expect(tried(`${order.join("\n")}\nkind k300 { x: length }`).codes).toEqual([
        "build/too-much",
      ]);
  });

  test("too much of it", () => {
    const fields = Array.from({ length: 1_000 }, (_, at) => `x${at}: length`).join(" ");
    const kinds = Array.from({ length: 600 }, (_, at) => `kind k${at} is big { }`).join("\n");
    const { codes, findings } = tried(`kind big { ${fields} }\n${kinds}`);
    expect(codes).toEqual(["build/too-much"]);
    expect(findings).toHaveLength(100);
  });
});
