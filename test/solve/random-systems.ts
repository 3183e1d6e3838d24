/** Random systems whose answers are known by how they are made. */
import fc from "fast-check";
import { add, call, div, mul, SystemBuilder, sub, type Term, within } from "./build";

/**
 * A chain of relations in which each new variable follows from earlier ones: consistent by
 * construction, with known values, and every relation can be turned round.
 */
interface Link {
  readonly kind: number;
  readonly one: number;
  readonly other: number;
  readonly factor: number;
}

const linkArbitrary: fc.Arbitrary<Link> = fc.record({
  kind: fc.nat(6),
  one: fc.nat(1000),
  other: fc.nat(1000),
  factor: fc.double({ min: 0.5, max: 2, noNaN: true }),
});

export const chainArbitrary = fc.record({
  givens: fc.array(fc.double({ min: 1, max: 5, noNaN: true }), { minLength: 2, maxLength: 4 }),
  links: fc.array(linkArbitrary, { minLength: 1, maxLength: 14 }),
});

type Chain = typeof chainArbitrary extends fc.Arbitrary<infer T> ? T : never;

function right({ kind, factor }: Link, one: string, other: string): Term {
  switch (kind) {
    case 0:
      return add(one, mul(factor, other));
    case 1:
      return sub(mul(3, one), other);
    case 2:
      return mul(factor, one);
    case 3:
      return mul(0.2, mul(one, other));
    case 4:
      return div(mul(factor, one), other);
    case 5:
      return call("sqrt", add(mul(one, one), mul(other, other)));
    default:
      return add(one, call("exp", mul(-0.1, one)));
  }
}

export function chain({ givens, links }: Chain, tolerance = 0): SystemBuilder {
  const builder = new SystemBuilder();
  givens.forEach((value, at) => {
    builder.variable(`g${at}`, { given: within(value, tolerance) });
  });
  const names = givens.map((_, at) => `g${at}`);
  links.forEach((link, at) => {
    const one = names[link.one % names.length]!;
    let other = names[link.other % names.length]!;
    if (other === one) other = names[(link.other + 1) % names.length]!;
    builder.equation(`e${at}`, `v${at}`, right(link, one, other));
    names.push(`v${at}`);
  });
  return builder;
}

export const linearArbitrary = fc.integer({ min: 2, max: 7 }).chain((size) =>
  fc.record({
    size: fc.constant(size),
    answer: fc.array(fc.double({ min: -5, max: 5, noNaN: true }), {
      minLength: size,
      maxLength: size,
    }),
    rows: fc.array(
      fc.array(fc.integer({ min: -3, max: 3 }), { minLength: size, maxLength: size }),
      { minLength: size + 1, maxLength: size + 2 },
    ),
  }),
);

/** Random linear relations, as many as or more than needed, all true of one answer. */
export function linear({
  size,
  answer,
  rows,
}: {
  size: number;
  answer: number[];
  rows: number[][];
}) {
  const builder = new SystemBuilder();
  for (let j = 0; j < size; j++) builder.variable(`x${j}`);
  rows.forEach((row, i) => {
    let left: Term = 0;
    let total = 0;
    row.forEach((entry, j) => {
      if (entry === 0) return;
      left = add(left, mul(entry, `x${j}`));
      total += entry * answer[j]!;
    });
    builder.variable(`b${i}`, { given: { ...within(total, 0), rounding: 1e-9 } });
    builder.equation(`row ${i}`, left, `b${i}`);
  });
  return builder;
}

/** A row of numbers from 0 to 1, the same each time (Lehmer's generator, Park and Miller 1988). */
export function randoms(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
