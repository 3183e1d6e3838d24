/**
 * Which systems share a structure, and so a plan: all that a plan hangs on is told apart, and numbers and
 * names alone are not. Told by comparing systems piece by piece.
 */
import { describe, expect, test } from "vitest";
import { Structures } from "../../server/solve/structures";
import type { Equation, EquationForm, System, Variable } from "../../server/solve/system";
import { add, compare, mul, sub } from "./build";
import { randoms } from "./random-systems";
import { number, slot } from "./told-ranges";

const [s, t, u] = [slot(0), slot(1), slot(2)];
const form = (
  left: EquationForm["left"],
  right: EquationForm["left"],
  slots = 3,
): EquationForm => ({
  left,
  right,
  slots,
});
/** Forms with what has to be equal for them to be solved alike; undefined: nothing but itself. */
const forms: readonly (readonly [EquationForm, string | undefined])[] = [
  [form(add(s, t), number(5)), "s+t"],
  [form(add(s, t), number(7)), "s+t"],
  [form(sub(s, t), number(5)), "s-t"],
  [form(sub(s, t), number(0)), "s-t"],
  [form(sub(add(s, t), u), number(1)), "s+t-u"],
  [form(sub(add(s, t), u), number(2)), "s+t-u"],
  [form(s, number(4)), "s"],
  [form(s, number(9)), "s"],
  // Twice the same figure, a product, another side: what they come to decides how they are solved.
  [form(add(s, s), number(5)), undefined],
  [form(add(s, s), number(7)), undefined],
  [form(mul(s, t), number(5)), undefined],
  [form(mul(s, t), number(0)), undefined],
  [form(add(s, t), u), undefined],
  [form(add(s, t), u), undefined],
  [form(add(s, number(1)), number(5)), undefined],
  [form(sub(s, sub(t, u)), number(5)), undefined],
  [form(sub(s, sub(t, u)), number(6)), undefined],
];
const conditions = [undefined, compare(s, ">", 0), compare(s, ">", 1), compare(s, ">", 0)];

const named = (name: string, given: boolean): Variable => ({
  name,
  scale: 1,
  askedFirst: false,
  ...(given ? { given: { value: name.length, low: 1, high: 1, rounding: 0 } } : {}),
});

/** All a plan hangs on, written out. */
function saidOf({ variables, equations }: System, names: boolean): string {
  const order = (all: readonly { readonly name: string }[]) =>
    all.map((one) => all.filter(({ name }) => name < one.name).length);
  return JSON.stringify([
    equations.map(({ form: own, rank, variables: slots, when }) => {
      const at = forms.findIndex(([each]) => each === own);
      return [forms[at]![1] ?? at, rank, slots, when ?? 0];
    }),
    variables.map(({ given }) => given !== undefined),
    names ? [order(variables), order(equations)] : 0,
  ]);
}

const random = randoms(29);
const pick = <T>(of: readonly T[]): T => of[Math.floor(random() * of.length)]!;
const equation = (name: string): Equation => {
  const when = pick(conditions);
  return {
    name,
    form: pick(forms)[0],
    rank: pick(["relation", "default"] as const),
    variables: pick([
      [0, 1, 2],
      [1, 0, 2],
      [0, 2, 1],
    ]),
    ...(when === undefined ? {} : { when }),
  };
};
const some = (names: readonly string[]): System => ({
  variables: ["a", "b", "c"].map((name) => named(name, random() < 0.5)),
  equations: names.map(equation),
});

describe("structures", () => {
  test("in the order of their names are the same where all is the same but for numbers and names", () => {
    const structures = new Structures(1e6, () => 1);
    const seen = new Map<string, number>();
    for (let i = 0; i < 4000; i++) {
      const names = pick([["e"], ["f"], ["e", "f"], ["g", "h"]]);
      const system = some(names);
      const said = saidOf(system, false);
      const { number: own } = structures.inOrder(system);
      const before = seen.get(said);
      if (before === undefined) {
        expect([...seen.values()]).not.toContain(own);
        seen.set(said, own);
      } else expect(own, said).toBe(before);
    }
    expect(seen.size).toBeGreaterThan(300);
    expect(seen.size).toBeLessThan(3500);
  });

  test("in any order are told apart by the order of their names as well", () => {
    const structures = new Structures(1e6, () => 1);
    const seen = new Map<string, number>();
    const [first] = forms;
    for (let i = 0; i < 600; i++) {
      const letters = pick([
        ["a", "b", "c"],
        ["a", "c", "b"],
        ["x", "y", "z"],
        ["b", "a", "c"],
        ["k", "l", "j"],
      ]);
      const names = pick([["e", "f"], ["f", "e"], ["p", "q"], ["q", "b"], ["a"]]);
      const system: System = {
        variables: letters.map((name) => named(name, false)),
        equations: names.map((name) => ({ ...equation(name), form: first![0], when: undefined })),
      };
      const said = saidOf(system, true);
      const { number: own } = structures.of(system);
      const before = seen.get(said);
      if (before === undefined) {
        expect([...seen.values()]).not.toContain(own);
        seen.set(said, own);
      } else expect(own, said).toBe(before);
    }
    expect(seen.size).toBeGreaterThan(40);
  });

  test("made from another by what differs are the same where the same differs, and else are not", () => {
    const structures = new Structures(1e6, () => 1);
    for (let round = 0; round < 12; round++) {
      const base = some(["e", "g"]);
      const known = { system: base, structure: structures.inOrder(base) };
      const seen = new Map<string, number>();
      for (let i = 0; i < 60; i++) {
        const changed = random() < 0.5 ? equation("e") : base.equations[0]!;
        const more = random() < 0.5 ? [equation(pick(["a", "f", "z"]))] : [];
        const variables = base.variables.map((each) =>
          random() < 0.2 ? named(each.name, random() < 0.5) : each,
        );
        const system: System = {
          variables,
          equations: [changed, base.equations[1]!, ...more],
        };
        const said = saidOf(system, true);
        const { number: own } = structures.beside(known, system);
        const twin = structures.beside(known, {
          variables: system.variables.map((each) => ({ ...each })),
          equations: system.equations.map((each) => ({ ...each })),
        });
        // Equal systems of other objects are solved alike as well, whether or not that is seen.
        for (const [other, at] of seen)
          if (at === own || at === twin.number) expect(other).toBe(said);
        seen.set(said, own);
        expect(structures.beside(known, system).number).toBe(own);
      }
    }
  });

  test("that differ by names alone, where names stand otherwise, are looked at from nothing", () => {
    const structures = new Structures(1e6, () => 1);
    const base = some(["e", "g"]);
    const known = { system: base, structure: structures.of(base) };
    const renamed: System = {
      variables: base.variables,
      equations: [{ ...base.equations[0]!, name: "z" }, base.equations[1]!],
    };
    expect(structures.beside(known, renamed)).toBe(structures.of(renamed));
    const other: System = {
      variables: [{ ...base.variables[0]!, name: "z" }, ...base.variables.slice(1)],
      equations: base.equations,
    };
    expect(structures.beside(known, other)).toBe(structures.of(other));
    expect(structures.of(other).number).not.toBe(known.structure.number);
  });

  test("leave out the number of what is added up, and nothing else", () => {
    const structures = new Structures(1e6, () => 1);
    for (const [own, said] of forms) {
      const { right } = own;
      const left = said === undefined || right.op !== "number" ? undefined : right.value;
      expect(structures.numberIn(own)).toBe(left);
      expect(typeof structures.formOf(own)).toBe(said === undefined ? "number" : "string");
    }
  });
});
