/** The order of the lines changes nothing: same values, same findings apart from their places. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { analyzed } from "./build";
import { stateOf } from "./state";

/** Every line is a member of its own, so that any order of them is a build. */
interface Block {
  readonly head: string;
  readonly lines: readonly string[];
}

const width: readonly Block[] = [
  { head: "tire t", lines: ["size: 275/50R17 101W"] },
  {
    head: "wheel w",
    lines: [
      "size: 17x9",
      "offset: 18 mm ± 1 mm",
      "stud_circle: 5x5 in",
      "price: 120 usd",
      "mass: 24 lb",
    ],
  },
  { head: "brake b", lines: ["hat_thickness: 0.290 in"] },
  {
    head: "housing h",
    lines: [
      "standoff: 2.500 in ± 0.010 in",
      "end_length: 2 in",
      "tube_diameter: 3 1/4 in",
      "tube_wall: 0.188 in",
      "face_to_face: ?",
    ],
  },
  {
    head: "axle rear",
    lines: [
      "wheel: w",
      "tire: t",
      "brake: b",
      "housing: h",
      "left { inner_gap: 7/8 in }",
      "right { inner_gap: 5/16 in }",
      "mount_width: ?",
      "load: 1800 lb",
    ],
  },
];
const topLevel = [
  "rear.left.inner_limit: 23 1/2 in ± 1/16 in",
  "rear.right.inner_limit: 24 11/16 in",
  'check "gap": rear.left.inner_gap >= 5/8 in',
  'check "weight": sum(each(wheel).mass) <= 20 lb',
  'relation "alike": rear.left.spacer = rear.right.spacer',
  "option o { h.face_to_face: 1450 mm }",
  'record "r" 2026-03-14 { h.face_to_face: 58 1/4 in }',
];

const builds: readonly [string, readonly Block[], readonly string[]][] = [
  ["a build", width, topLevel],
  ["a contradiction", width, [...topLevel, "h.face_to_face: 1450 mm"]],
  ["two contradictions", width, [...topLevel, "h.face_to_face: 1450 mm", "w.backspace: 3 in"]],
  [
    "too little",
    width
      .filter(({ head }) => head !== "brake b")
      .map((block) => ({
        ...block,
        lines: block.lines.filter((line) => !/brake: b|7\/8/.test(line)),
      })),
    topLevel,
  ],
  [
    "only a mount width",
    [
      { head: "axle rear", lines: ["mount_width: 61 3/8 in", "left { mount_face: ? half: ? }"] },
      { head: "wheel w", lines: [] },
    ],
    ["rear.housing.standoff: 2 1/2 in", "rear.brake.hat_thickness: 0.290 in"],
  ],
];

describe.each(builds)("%s", (_, blocks, lines) => {
  test("reads the same in any order", () => {
    const itemCount = blocks.length + lines.length;
    const longest = Math.max(...blocks.map((block) => block.lines.length));
    const usual = stateOf(analyzed(text(blocks, lines)), false);
    const usualUnder = stateOf(under(text(blocks, lines)), false);
    fc.assert(
      fc.property(
        permutation(itemCount),
        fc.array(permutation(longest), { minLength: blocks.length, maxLength: blocks.length }),
        (items, inside) => {
          const mixed = blocks.map(
            ({ head, lines: members }, index) =>
              `${head} {\n${shuffled(members, inside[index] ?? [])
                .map((line) => `  ${line}\n`)
                .join("")}}`,
          );
          const body = shuffled([...mixed, ...lines], items).join("\n");
          expect(stateOf(analyzed(body), false)).toEqual(usual);
          expect(stateOf(under(body), false)).toEqual(usualUnder);
        },
      ),
      { numRuns: 12, seed: 3 },
    );
  });
});

test("the files things stand in change nothing either", () => {
  const whole = text(width, topLevel);
  const apart = `//- build.trammel\nuse "a.trammel"\nuse "b.trammel"\n${text(width.slice(3), topLevel)}\n//- a.trammel\n${text(width.slice(0, 2), [])}\n//- b.trammel\n${text(width.slice(2, 3), [])}`;
  expect(stateOf(analyzed(apart), false)).toEqual(stateOf(analyzed(whole), false));
});

function under(body: string) {
  const analysis = analyzed(body);
  return analysis.under("o") ?? analysis;
}

function text(blocks: readonly Block[], lines: readonly string[]): string {
  return [
    ...blocks.map(
      ({ head, lines: members }) => `${head} {\n${members.map((line) => `  ${line}\n`).join("")}}`,
    ),
    ...lines,
  ].join("\n");
}

function permutation(size: number): fc.Arbitrary<number[]> {
  return fc.shuffledSubarray(
    Array.from({ length: size }, (_, index) => index),
    { minLength: size, maxLength: size },
  );
}

function shuffled<T>(list: readonly T[], order: readonly number[]): T[] {
  return order.flatMap((index) => {
    const item = list[index];
    return item === undefined ? [] : [item];
  });
}
