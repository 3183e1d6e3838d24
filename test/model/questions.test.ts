/**
 * What was made holds as long as every answer is the same; lists, words that are compared and parts
 * nobody opened: small rules of a build, each by hand.
 */
import { describe, expect, test } from "vitest";
import { type Answer, Questions } from "../../server/model/questions";
import { Thing } from "../../server/model/thing";
import { analyzed, findingsOf } from "./build";

describe("answers that are asked for again", () => {
  // Made when a test runs: what works while a file is loaded keeps changes from being judged.
  const things = (): [Thing, Thing, Thing] => {
    const { things: all } = analyzed(`box one { a: 1 in }
box two { a: 1 in }
axle three {}
kind box { a: length }
`);
    return ["one", "two", "three"].map((name) => {
      const found = all.find((thing) => thing.path === name);
      if (found === undefined) throw new Error(`${name} is there`);
      return found;
    }) as [Thing, Thing, Thing];
  };
  const holds = (before: Answer, after: Answer): boolean => {
    const questions = new Questions<Answer>(() => undefined);
    questions.note(undefined, (facts) => facts, before);
    return questions.hold(after);
  };

  test("are the same by what they say", () => {
    const [one] = things();
    const same: readonly Answer[] = [
      1,
      Number.NaN,
      "word",
      true,
      undefined,
      one,
      [],
      [1, [one, "word"], undefined],
    ];
    for (const [at, before] of same.entries())
      for (const [other, after] of same.entries())
        expect(holds(before, after), `${at} ${other}`).toBe(at === other);
    expect(holds([1, [one]], [1, [one]])).toBe(true);
  });

  test("lists by length and place", () => {
    expect(holds([1, 2], [1])).toBe(false);
    expect(holds([1], [1, 2])).toBe(false);
    expect(holds([1, 2], [2, 1])).toBe(false);
    expect(holds([1], 1)).toBe(false);
    expect(holds(1, [1])).toBe(false);
    expect(holds([[1], [2]], [[1], [3]])).toBe(false);
  });

  test("a thing by which it is and of what kind, made anew or not", () => {
    const [one, two, three] = things();
    const anew = new Thing({ ...one, owner: undefined });
    expect(holds(one, anew)).toBe(true);
    expect(holds(one, two)).toBe(false);
    expect(holds(one, new Thing({ ...one, owner: undefined, kind: three.kind }))).toBe(false);
    expect(holds(one, "one")).toBe(false);
    expect(holds("one", one)).toBe(false);
    expect(holds(one, undefined)).toBe(false);
  });

  test("all of them have to be; who gives them is kept", () => {
    const [one] = things();
    const questions = new Questions<readonly Answer[]>(() => undefined);
    expect(questions.hold([])).toBe(true);
    questions.note(one, ([first]) => first, 1);
    questions.note("file:///a", ([, second]) => second, 2);
    expect([...questions.asked]).toEqual([one.id]);
    expect([...questions.files]).toEqual(["file:///a"]);
    expect(questions.overall).toBe(false);
    expect([questions.hold([1, 2]), questions.hold([1, 3]), questions.hold([3, 2])]).toEqual([
      true,
      false,
      false,
    ]);
    questions.note(undefined, () => 3, 3);
    expect(questions.overall).toBe(true);
  });
});

describe("what a check compares", () => {
  const kinds = `kind tray { sizes: list of length  grade: one_of(fine, coarse)  depth: length  other: one_of(fine, coarse) }
tray t { sizes: [1 in, 2 in]  grade: fine  depth: 3 in  other: fine }
`;
  const said = (condition: string): string[] =>
    findingsOf(analyzed(`${kinds}check "own": ${condition}\n`)).map((each) =>
      each.replace(/^\d+:\d+ (\w+ [\w/-]+): .*$/, "$1"),
    );

  test("words by what they say, on either side", () => {
    expect(said("t.grade == fine")).toEqual([]);
    expect(said("fine == t.grade")).toEqual([]);
    expect(said("t.grade == t.other")).toEqual([]);
    expect(said("t.grade != t.other")).toEqual(["error check/own"]);
    expect(said("t.grade == coarse")).toEqual(["error check/own"]);
  });

  test("never a list, be it with a word or a figure", () => {
    for (const other of ["t.grade", "t.depth"]) {
      const [left, right] = [said(`t.sizes == ${other}`), said(`${other} == t.sizes`)];
      expect(left).toHaveLength(1);
      expect(right).toEqual(left);
      expect(left[0]).not.toContain("value/clash");
      expect(left[0]).not.toContain("check/");
    }
    expect(said("t.sizes == t.sizes")).toHaveLength(1);
  });

  test("never a word with a figure", () => {
    for (const condition of ["t.grade == t.depth", "t.depth == t.grade"])
      expect(said(condition)).toEqual(["error value/clash"]);
  });
});

describe("parts nobody opened", () => {
  const kinds = `kind bolt { grip: length default 2 in }
kind plate { bolt: part bolt  wide: length  relation "wide": wide = 2 * bolt.grip }
kind frame { plate: part plate }
`;

  test("are there, in things within things too", () => {
    const analysis = analyzed(`${kinds}frame f {
  plate inner {
    plate innermost { bolt.grip: 3 in }
  }
}
`);
    const inches = (path: string): number | undefined => {
      const si = analysis.valueAt(path)?.si;
      return si === undefined ? undefined : Math.round((si / 0.0254) * 1e6) / 1e6;
    };
    expect(analysis.findings.map(({ message }) => message)).toEqual([]);
    expect([
      inches("f.plate.bolt.grip"),
      inches("f.plate.wide"),
      inches("f.inner.bolt.grip"),
      inches("f.inner.wide"),
      inches("f.inner.innermost.wide"),
    ]).toEqual([2, 4, 2, 4, 6]);
  });
});

test("records that name the same are looked at line by line, each for its own units", () => {
  const days = (lines: readonly string[]) =>
    analyzed(`kind pin "Pin" { long: length  load: mass }
pin p { long: 2 mm  load: 3 kg }
${lines.map((line, at) => `record 2026-03-0${at + 1} by "A" { ${line} }`).join("\n")}`).findings.map(
      ({ code }) => code,
    );
  const right = "p.long: 2 mm  p.load: 3 kg";
  expect(days([right, right])).toEqual([]);
  expect(days([right, "p.long: 2 mm  p.load: 3 mm"])).toEqual(["unit/wrong"]);
  expect(days([right, "p.long: 2 kg  p.load: 3 kg"])).toEqual(["unit/wrong"]);
  expect(days([right, "p.long: 2 kg  p.load: 3 mm"])).toEqual(["unit/wrong", "unit/wrong"]);
});
