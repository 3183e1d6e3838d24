/** What would settle an open figure, by giving it and solving again. */
import { describe, expect, test } from "vitest";
import { missingFor } from "../../server/solve";
import { solve } from "../../server/solve/solve";
import { withGivens } from "../../server/solve/with-givens";
import { add, exactly, mul, SystemBuilder } from "./build";
import { randoms } from "./random-systems";

describe("what is missing", () => {
  test("each set named settles the figure, and no part of it does", () => {
    const random = randoms(63);
    let sets = 0;
    for (let i = 0; i < 25; i++) {
      const builder = new SystemBuilder();
      for (let v = 0; v < 9; v++) builder.variable(`x${v}`);
      for (let e = 0; e < 5; e++) {
        const used = [0, 1, 2, 3, 4, 5, 6, 7, 8].filter(() => random() < 0.35).slice(0, 3);
        if (used.length < 2) continue;
        const terms = used.map((v) => mul(1 + Math.floor(random() * 4), `x${v}`));
        builder.equation(`e${e}`, add(...terms), Math.floor(random() * 9));
      }
      const system = builder.system();
      const solution = solve(system);
      for (const variable of [0, 1, 2]) {
        if (solution.determinations[variable]?.how !== "open") continue;
        for (const set of missingFor(solution, variable)) {
          sets++;
          const settled = (own: readonly number[]): boolean => {
            const given = new Map(own.map((each) => [each, exactly(0.37 + each)] as const));
            const { how } = solve(withGivens(system, given)).determinations[variable]!;
            return how === "solved";
          };
          expect(settled(set)).toBe(true);
          for (const each of set)
            expect(settled(set.filter((other) => other !== each))).toBe(false);
        }
      }
    }
    expect(sets).toBeGreaterThan(20);
  });
});
