/** Which tolerance to tighten, against sums that can be worked out by hand. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { solve } from "../../server/solve";
import { tightened, tightenFor } from "../../server/solve/tighten";
import { verdictOf } from "../../server/solve/verdict";
import { add, compare, SystemBuilder, sub, within } from "./build";

const any = () => true;

/** gap = 10.3 - 5 - 5: 0.3, less 0.1 + 0.2 + 0.4 in the worst case; 0 or more is wanted. */
function halves() {
  const builder = new SystemBuilder().given({
    opening: within(10.3, 0.1),
    a: within(5, 0.2),
    b: within(5, 0.4),
  });
  builder.equation("gap", "gap", sub("opening", add("a", "b")));
  const claim = builder.claim(compare("gap", ">=", -0.3));
  return { builder, claim, solution: solve(builder.system()) };
}

describe("a gap of two halves in an opening", () => {
  test("each alone by hand, the one to tighten least first", () => {
    const { claim, solution } = halves();
    expect(verdictOf(solution, claim)).toMatchObject({ nominal: "holds", worst: "fails" });
    const found = tightenFor(solution, claim, any);
    const names = found.map(({ variables: [at] }) => solution.system.variables[at!]!.name);
    // 0.1 is too much: b keeps 0.3 of 0.4, a keeps 0.1 of 0.2, the opening would keep nothing.
    expect(names).toEqual(["b", "a"]);
    expect(found[0]!.share).toBeCloseTo(0.75, 1);
    expect(found[1]!.share).toBeCloseTo(0.5, 1);
    for (const { share, variables, level } of found) {
      expect(verdictOf(tightened(solution, variables, share), claim)[level]).toBe("holds");
    }
  });

  test("all together where none does alone", () => {
    const { builder, solution } = halves();
    const harder = builder.claim(compare("gap", ">=", 0.1));
    const [all, ...others] = tightenFor(solution, harder, any);
    expect(others).toEqual([]);
    // It is likely to fail already: 0.2 is left of the root of 0.1² + 0.2² + 0.4².
    expect(all).toMatchObject({ level: "rss" });
    expect(all!.variables).toHaveLength(3);
    const widest = 0.2 / Math.hypot(0.1, 0.2, 0.4);
    expect(all!.share).toBeCloseTo(widest, 1);
    expect(all!.share).toBeLessThanOrEqual(widest + 1e-9);
  });

  test("what may not be tightened is left alone", () => {
    const { builder, claim, solution } = halves();
    const b = builder.index("b");
    expect(tightenFor(solution, claim, (variable) => variable !== b)).toHaveLength(1);
  });
});

test("no wider share would do, of random sums", () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 2, maxLength: 6 }),
      fc.integer({ min: 1, max: 40 }),
      (widths, room) => {
        const builder = new SystemBuilder();
        widths.forEach((width, at) => {
          builder.variable(`x${at}`, { given: within(100, width) });
        });
        const [first, ...rest] = widths.map((_, at) => `x${at}`);
        builder.equation("sum", "sum", add(first!, ...rest));
        const claim = builder.claim(compare("sum", ">=", 100 * widths.length - room));
        const solution = solve(builder.system());
        const total = widths.reduce((sum, width) => sum + width, 0);
        const found = tightenFor(solution, claim, any).filter(({ level }) => level === "worst");
        for (const { share, variables } of found) {
          const own = variables.reduce((sum, at) => sum + widths[at]!, 0);
          const widest = (room - (total - own)) / own;
          expect(share).toBeLessThanOrEqual(widest + 1e-9);
          expect(share).toBeGreaterThan(widest - 1 / 64);
        }
      },
    ),
    { numRuns: 80 },
  );
});
