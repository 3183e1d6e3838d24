/**
 * What must hold of every build, of others than axles: brakes, steering, springs, trailers, wheels and
 * tires, with figures of our own drawn at random; and of the library's examples in other orders of
 * their lines. Another draw: TRAMMEL_SEED=7 in front of the run.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseFile } from "../../grammar/source-file";
import type { Analysis } from "../../server/analysis/analysis";
import { libraryExamples } from "../reference/examples";
import { analyzed } from "./build";
import { flawsShown } from "./shown-figures";
import { stateOf } from "./state";

const seed = Number(process.env.TRAMMEL_SEED ?? 12);
const runs = { numRuns: process.env.TRAMMEL_SEED === undefined ? 3 : 20, seed };

const between = (low: number, high: number, places = 0): fc.Arbitrary<string> =>
  fc
    .integer({ min: Math.round(low * 10 ** places), max: Math.round(high * 10 ** places) })
    .map((steps) => (steps / 10 ** places).toFixed(places));

/** A build as its things, each with its lines; `@` stands for a number drawn between two. */
type Shape = readonly (readonly [head: string, ...lines: readonly (string | Line)[]])[];
interface Line {
  readonly text: string;
  readonly number: fc.Arbitrary<string>;
}
const line = (text: string, low: number, high: number, places = 0): Line => ({
  text,
  number: between(low, high, places),
});

const shapes: Readonly<Record<string, Shape>> = {
  brakes: [
    [
      "vehicle v",
      line("wheelbase: @ mm", 2300, 3200),
      line("mass: @ kg ± 10 kg", 900, 2400),
      line("front_share: @ %", 44, 60),
      line("cg_height: @ mm ± 25 mm", 450, 750),
    ],
    [
      "brake_system s",
      "vehicle: v",
      line("plain_bias: @ %", 55, 80),
      line("deceleration: @ m/s^2", 3, 8, 1),
      "front_load: ?",
    ],
    [
      "brake_system p",
      line("pedal_force: @ N", 200, 500),
      line("pedal_ratio: @ ± 0.1", 4, 7, 1),
      line("bore: @ mm", 17, 29, 1),
      "line_pressure: ?",
    ],
  ],
  steering: [
    ["tire t", "size: 235/75R15 105S"],
    ["wheel w", "size: 15x7", line("offset: @ mm ± 1 mm", -10, 30)],
    ["vehicle v", line("wheelbase: @ in", 96, 125)],
    ["axle front", "tire: t", "wheel: w", line("mount_width: @ in", 56, 64, 1)],
    [
      "steered_axle steer",
      "vehicle: v",
      "axle: front",
      line("kingpin_track: @ in", 50, 55),
      line("kingpin_out: @ in ± 1/16 in", 25, 27, 1),
      line("inclination: @ deg ± 0.5 deg", 5, 10),
      line("caster: @ deg", 2, 7),
      line("lock: @ deg", 28, 36),
      line("outer_lock: @ deg", 24, 28),
      "turning_circle: ?",
    ],
  ],
  springs: [
    [
      "spring corner",
      line("rate: @ lbf/in", 120, 400),
      line("motion_ratio: @ ± 0.02", 0.5, 1, 2),
      line("sprung_mass: @ lb ± 5 lb", 350, 900),
      "frequency: ?",
    ],
    [
      "roll_stiffness roll",
      line("spring_rate: @ lbf/in", 120, 300),
      line("spring_base: @ in", 36, 48),
      "bar_diameter: 3/4 in",
      "bar_length: 36 in",
      "bar_arm: 9 in",
      "bar_base: 38 in",
      line("side_force: @ lbf", 500, 1200),
      "arm: 12 in",
      line("weight: @ lbf", 1000, 2000),
    ],
    [
      "u_bolt clamps",
      "thread: 9/16-18",
      "grade: 8",
      "count: 4",
      line("torque: @ lb-ft", 70, 110),
      line("tube: @ in", 2.5, 4, 2),
      line("stack: @ in", 4, 8, 2),
      "developed: ?",
    ],
  ],
  trailer: [
    ["tire t", "size: 205/75R14"],
    ["wheel w", "size: 14x6", line("offset: @ mm ± 0.5 mm", -6, 12)],
    ["brake drum", line("hat_thickness: @ in", 0.15, 0.3, 3)],
    [
      "housing beam",
      line("standoff: @ in ± 1/64 in", 2.9, 3.6, 2),
      "face_to_face: ? made",
      "tube_diameter: 2 3/8 in",
      "tube_wall: 0.25 in",
    ],
    [
      "axle rear",
      "wheel: w",
      "tire: t",
      "brake: drum",
      "housing: beam",
      line("load: @ lb", 1200, 2400),
      line("left { inner_limit: @ in ± 1/16 in; inner_gap: 1 1/2 in }", 28, 30, 2),
      line("right { inner_limit: @ in ± 1/16 in; inner_gap: 1 1/2 in }", 28, 30, 2),
      "strength.spring_base: 50 in",
    ],
  ],
  wheels: [
    ["tire t", "size: 225/60R16 98H"],
    ["tire before", "size: 205/70R15"],
    ["wheel w", "size: 16x7", line("backspace: @ in", 4, 6, 2), "offset: ?"],
    ["hub h", "stud_circle: 5x4.5 in", line("stud_length: @ in", 1.2, 1.9, 2)],
    ["brake b", line("hat_thickness: @ in", 0.2, 0.5, 3)],
    [
      "axle rear",
      "tire: t",
      "wheel: w",
      "hub: h",
      "brake: b",
      line("load: @ lb", 1500, 2600),
      "fit.original: before",
      "fit.true_speed: ?",
    ],
  ],
};

const drawn = (shape: Shape): fc.Arbitrary<readonly (readonly string[])[]> =>
  fc.tuple(
    ...shape.map(([head, ...lines]) =>
      fc
        .tuple(
          ...lines.map((each) =>
            typeof each === "string"
              ? fc.constant(each)
              : each.number.map((number) => each.text.replace("@", number)),
          ),
        )
        .map((written) => [head, ...written]),
    ),
  );

const textOf = (blocks: readonly (readonly string[])[]): string =>
  blocks
    .map(([head = "", ...lines]) => `${head} {\n${lines.map((each) => `  ${each}\n`).join("")}}\n`)
    .join("");

const figuresOf = (analysis: Analysis): ReadonlyMap<string, unknown> =>
  new Map(
    [...analysis.values.values()].map((value) => [
      value.path,
      [value.si, value.outcome()?.si, value.role],
    ]),
  );

describe.each(Object.entries(shapes))("%s", (_, shape) => {
  test("figures as shown satisfy every relation, drawn, as they come out and as built", () => {
    fc.assert(
      fc.property(drawn(shape), (blocks) => {
        const analysis = analyzed(textOf(blocks));
        expect(analysis.contradictions).toEqual([]);
        for (const shown of ["drawn", "comes out"] as const) {
          expect(flawsShown(analysis, shown)).toEqual([]);
          expect(flawsShown(analysis.asBuilt(), shown)).toEqual([]);
        }
      }),
      runs,
    );
  }, 120_000);

  test("asking for a figure changes none", () => {
    fc.assert(
      fc.property(drawn(shape), fc.nat(1000), (blocks, pick) => {
        const text = textOf(blocks);
        const plain = analyzed(text);
        const open = [...plain.values.values()].filter(
          ({ standing, measure, field, thing }) =>
            standing === "solved" && measure !== undefined && !field.foundOut && !thing.implied,
        );
        const asked = open[pick % Math.max(1, open.length)];
        if (asked === undefined) return;
        const after = figuresOf(analyzed(`${text}${asked.path}: ?\n`));
        for (const [path, told] of figuresOf(plain))
          expect(after.get(path), `${path} with ${asked.path} asked for`).toEqual(told);
      }),
      runs,
    );
  }, 120_000);

  test("the order of the lines changes nothing", () => {
    fc.assert(
      fc.property(drawn(shape), fc.infiniteStream(fc.nat()), (blocks, order) => {
        const usual = stateOf(analyzed(textOf(blocks)), false);
        const mixed = shuffled(
          blocks.map(([head = "", ...lines]) => [head, ...shuffled(lines, order)]),
          order,
        );
        expect(stateOf(analyzed(textOf(mixed)), false)).toEqual(usual);
      }),
      runs,
    );
  }, 120_000);

  test("as built, with records of all that was read as it is written, is what comes out", () => {
    fc.assert(
      fc.property(drawn(shape), (blocks) => {
        const text = textOf(blocks);
        const plain = analyzed(text);
        const read = [...plain.values.values()].filter(
          ({ standing, role, measure, thing }) =>
            standing === "given" &&
            role === "measured" &&
            measure?.whole === false &&
            !thing.implied,
        );
        const entries = read.map((value) => {
          const { path, si, measure } = value;
          const off = value.spread()?.worstAbove ?? 0;
          const unit = measure?.si === "1" ? "" : ` ${measure?.si}`;
          return `  ${path}: ${si}${unit}${off > 0 ? ` ± ${off}${unit}` : ""}\n`;
        });
        const built = analyzed(`${text}record "as it is" 2026-05-02 {\n${entries.join("")}}\n`);
        for (const value of plain.values.values()) {
          const out = value.outcome()?.si ?? value.si;
          const found = built.asBuilt().valueAt(value.path);
          const comes = found?.outcome()?.si ?? found?.si;
          if (out === undefined || comes === undefined) expect(comes, value.path).toBe(out);
          else
            expect(Math.abs(comes - out), value.path).toBeLessThanOrEqual(
              1e-7 * Math.abs(out) + 1e-9 * (value.measure?.scale ?? 1),
            );
        }
      }),
      runs,
    );
  }, 120_000);
});

describe("the library's examples in another order of their lines read the same", () => {
  test.each(
    libraryExamples().map((each) => [`${each.subject}: ${each.title}`, each.text] as const),
  )(
    "%s",
    (_, text) => {
      const usual = stateOf(analyzed(ordered(text, (list) => list)), false);
      fc.assert(
        fc.property(fc.infiniteStream(fc.nat()), (order) => {
          const mixed = ordered(text, (list) => shuffled(list, order));
          expect(stateOf(analyzed(mixed), false), mixed).toEqual(usual);
        }),
        { ...runs, numRuns: process.env.TRAMMEL_SEED === undefined ? 1 : 5 },
      );
    },
    120_000,
  );
});

// ───────────────────────────── helpers ─────────────────────────────

function shuffled<T>(list: readonly T[], order: Iterator<number>): T[] {
  const rest = [...list];
  const mixed: T[] = [];
  while (rest.length > 0)
    mixed.push(...rest.splice((order.next().value as number) % rest.length, 1));
  return mixed;
}

/** A text with its items, and the members of its things at the top, in another order. */
function ordered(text: string, mix: <T>(list: readonly T[]) => readonly T[]): string {
  const items = parseFile(text).items.map(({ node, text: own }) => {
    if (node.type !== "thing" || node.members.length === 0) return own.trim();
    const members = node.members.map(({ span }) => own.slice(span.start, span.end));
    const [first] = node.members;
    return `${own.slice(node.span.start, first?.span.start)}\n${mix(members).join("\n")}\n}`;
  });
  return `${mix(items).join("\n")}\n`;
}
