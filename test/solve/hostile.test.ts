/** What must be so for every system, at length: contradictions named in full, and systems nobody would write. */
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  explain,
  fitFor,
  missingFor,
  solve,
  solveOverlay,
  spreadOf,
  verdictOf,
} from "../../server/solve";
import { add, call, div, exactly, mul, of, SystemBuilder, type Term } from "./build";
import { linear, linearArbitrary } from "./random-systems";

test("a wrong right-hand side in an overfull linear system is a contradiction that names it", () => {
  fc.assert(
    fc.property(linearArbitrary, fc.nat(100), (parts, which) => {
      const builder = linear(parts);
      const good = solve(builder.system());
      fc.pre(good.redundant.length > 0);
      const i = which % parts.rows.length;
      const at = builder.index(`b${i}`);
      const old = good.system.variables[at]!.given!.value;
      const bad = solveOverlay(good, { givens: new Map([[at, exactly(old + 1)]]) });
      for (const conflict of bad.conflicts) {
        const party = conflict.givens.find((given) => given.variable === at);
        expect(party).toBeDefined();
        expect(party!.needed).toBeCloseTo(old, 6);
        // Mending any one of them mends it.
        for (const { variable, needed } of conflict.givens) {
          if (needed === undefined) continue;
          const mended = solveOverlay(bad, {
            givens: new Map([[variable, { ...exactly(needed), rounding: 1e-7 }]]),
          });
          expect(mended.conflicts.map((c) => c.equation)).not.toContain(conflict.equation);
        }
      }
    }),
    { numRuns: 150 },
  );
});

const wildNumber = fc.oneof(
  fc.constantFrom(0, -1, 1, 1e300, -1e300, 1e-300, Number.NaN, Number.POSITIVE_INFINITY),
  fc.double(),
);

test("nothing throws and no NaN or infinity stands for a value, whatever is given", () => {
  const names = ["a", "b", "c", "d", "e"];
  const term: fc.Arbitrary<Term> = fc.letrec<{ term: Term }>((tie) => ({
    term: fc.oneof(
      { maxDepth: 3, depthIdentifier: "term" },
      fc.constantFrom(...names),
      wildNumber,
      fc.tuple(tie("term"), tie("term")).map(([x, y]) => add(x, y)),
      fc.tuple(tie("term"), tie("term")).map(([x, y]) => mul(x, y)),
      fc.tuple(tie("term"), tie("term")).map(([x, y]) => div(x, y)),
      fc
        .tuple(fc.constantFrom("sqrt", "log", "asin", "tan", "abs", "floor", "exp"), tie("term"))
        .map(([name, x]) => call(name as "sqrt", x)),
      fc.tuple(tie("term"), tie("term")).map(([x, y]) => call("min", x, y)),
    ),
  })).term;
  fc.assert(
    fc.property(
      fc.dictionary(fc.constantFrom(...names), wildNumber, { maxKeys: 3 }),
      fc.array(
        fc.tuple(
          term,
          term,
          fc.constantFrom("relation", "default", "assumed") as fc.Arbitrary<"relation">,
        ),
        { minLength: 1, maxLength: 6 },
      ),
      (givens, equations) => {
        const builder = new SystemBuilder();
        for (const [name, value] of Object.entries(givens))
          builder.variable(name, { given: value });
        equations.forEach(([left, rightSide, rank], at) => {
          builder.equation(`e${at}`, left, rightSide, rank);
        });
        const solution = solve(builder.system());
        solution.determinations.forEach((determination, v) => {
          const open = determination.how === "open" || determination.how === "failed";
          expect(Number.isFinite(solution.values[v])).toBe(!open);
          if (determination.how === "solved" || determination.how === "assumed") {
            expect(Array.isArray(determination.restsOn)).toBe(true);
          }
          const spread = spreadOf(solution, {
            expression: { op: "slot", index: 0 },
            variables: [v],
          });
          if (open) expect(spread).toBeUndefined();
          for (const set of missingFor(solution, v)) expect(set).not.toContain(v);
          expect(explain(solution, v, 9)!.variable).toBe(v);
        });
        const claim = builder.claim({
          op: "compare",
          relation: ">=",
          left: of("a"),
          right: of("e"),
        });
        const verdict = verdictOf(solution, claim);
        expect(["holds", "fails", "unknown"]).toContain(verdict.worst);
        if (verdict.nominal === "fails") expect(verdict.worst).toBe("fails");
        for (const fit of fitFor(solution, claim, () => 0.5)) {
          expect(Number.isFinite(fit.value)).toBe(true);
        }
        for (const conflict of solution.conflicts) {
          expect(Math.abs(conflict.gap)).toBeGreaterThan(conflict.allowed);
        }
      },
    ),
    { numRuns: 400 },
  );
});
