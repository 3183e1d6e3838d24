/**
 * Systems with known answers from the literature. Those marked MGH are numbered as in J. J. Moré,
 * B. S. Garbow, K. E. Hillstrom, "Testing unconstrained optimization software", ACM TOMS 7 (1981).
 */
import { expect, test } from "vitest";
import { solve } from "../../server/solve";
import { add, call, div, mul, pow, SystemBuilder, sub, type Term, valueNamed } from "./build";

test("MGH 1, Rosenbrock: the root (1, 1)", () => {
  const solution = solve(
    new SystemBuilder()
      .equation("valley", mul(10, sub("y", pow("x", 2))), 0)
      .equation("line", sub(1, "x"), mul(0, "y"))
      .system(),
  );
  expect(valueNamed(solution, "x")).toBeCloseTo(1, 12);
  expect(valueNamed(solution, "y")).toBeCloseTo(1, 12);
});

test("MGH 2, Freudenstein and Roth: the root (5, 4), not the dip beside it", () => {
  const cubic = (a: number, b: number): Term => sub(mul(add(mul(sub(a, "y"), "y"), b), "y"), 0);
  const solution = solve(
    new SystemBuilder()
      .variable("x", { range: [-20, 20] })
      .variable("y", { range: [-20, 20] })
      .equation("one", add("x", cubic(5, -2)), 13)
      .equation("two", add("x", mul(sub(mul(add("y", 1), "y"), 14), "y")), 29)
      .system(),
  );
  expect(solution.failures).toEqual([]);
  expect(valueNamed(solution, "x")).toBeCloseTo(5, 9);
  expect(valueNamed(solution, "y")).toBeCloseTo(4, 9);
});

test("MGH 3, Powell badly scaled: the root (1.098…e-5, 9.106…)", () => {
  const solution = solve(
    new SystemBuilder()
      .variable("x", { scale: 1e-5, range: [0, 1e-2] })
      .variable("y", { scale: 1, range: [0, 100] })
      .equation("product", mul(1e4, mul("x", "y")), 1)
      .equation("exponentials", add(call("exp", sub(0, "x")), call("exp", sub(0, "y"))), 1.0001)
      .system(),
  );
  // The function is symmetric, so the ranges say which of the two mirrored roots is meant.
  expect(solution.failures).toEqual([]);
  expect(valueNamed(solution, "x")).toBeCloseTo(1.098e-5, 8);
  expect(valueNamed(solution, "y")).toBeCloseTo(9.106, 3);
});

test("MGH 30, Broyden tridiagonal with 20 unknowns: every residual vanishes", () => {
  const count = 20;
  const builder = new SystemBuilder();
  for (let i = 1; i <= count; i++) builder.variable(`x${i}`, { range: [-2, 0.5] });
  for (let i = 1; i <= count; i++) {
    const x = `x${i}`;
    let left: Term = add(mul(sub(3, mul(2, x)), x), 1);
    if (i > 1) left = sub(left, `x${i - 1}`);
    if (i < count) left = sub(left, mul(2, `x${i + 1}`));
    builder.equation(`row ${String(i).padStart(2, "0")}`, left, 0);
  }
  const solution = solve(builder.system());
  expect(solution.failures).toEqual([]);
  const x = (i: number): number => (i < 1 || i > count ? 0 : valueNamed(solution, `x${i}`));
  for (let i = 1; i <= count; i++) {
    const residual = (3 - 2 * x(i)) * x(i) - x(i - 1) - 2 * x(i + 1) + 1;
    expect(Math.abs(residual)).toBeLessThan(1e-12);
  }
  // Worked out here by the classical one-by-one Newton sweep, from the paper's start −1.
  const own = new Array<number>(count + 2).fill(-1);
  own[0] = 0;
  own[count + 1] = 0;
  for (let sweep = 0; sweep < 4000; sweep++) {
    for (let i = 1; i <= count; i++) {
      const f = (3 - 2 * own[i]!) * own[i]! - own[i - 1]! - 2 * own[i + 1]! + 1;
      own[i]! -= 0.5 * (f / (3 - 4 * own[i]!));
    }
  }
  for (let i = 1; i <= count; i++) expect(x(i)).toBeCloseTo(own[i]!, 9);
});

test("Colebrook's friction factor: Re 1e5, smooth pipe, 0.01799 (Moody chart: 0.018)", () => {
  // L. F. Moody, "Friction factors for pipe flow", Trans. ASME 66 (1944); four digits from iterating
  // 1/√f = −2 log10(2.51/(Re √f)) by hand.
  const root = call("sqrt", "f");
  const solution = solve(
    new SystemBuilder()
      .given({ re: 1e5 })
      .variable("f", { scale: 1e-2, range: [1e-4, 1] })
      .equation(
        "colebrook",
        div(1, root),
        mul(-2 / Math.LN10, call("log", div(2.51, mul("re", root)))),
      )
      .system(),
  );
  expect(valueNamed(solution, "f")).toBeCloseTo(0.01799, 5);
});

test("Kepler's equation: M 1 rad, e 0.5 gives E 1.498701 rad", () => {
  // R. A. Serafin, "Bounds on the solution to Kepler's equation", Celest. Mech. 38 (1986) treats the
  // bounds; the number follows from E = M + e sin E by direct iteration, which this does not use.
  let direct = 1;
  for (let i = 0; i < 200; i++) direct = 1 + 0.5 * Math.sin(direct);
  const solution = solve(
    new SystemBuilder()
      .given({ m: 1, e: 0.5 })
      .variable("E", { range: [0, Math.PI] })
      .equation("kepler", "m", sub("E", mul("e", call("sin", "E"))))
      .system(),
  );
  expect(valueNamed(solution, "E")).toBeCloseTo(direct, 12);
  expect(direct).toBeCloseTo(1.498701, 6);
});
