/**
 * Slips of the pen in figures drawn at random, in the spec and on record: how many are told, and that
 * no right figure is doubted. The ranges of right figures are common practice, no source.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { analyzed } from "../model/build";

interface Figure {
  readonly path: string;
  /** A build in which `@` stands for the figure. */
  readonly text: string;
  readonly unit: string;
  /** What people take the unit for. */
  readonly otherUnit: string;
  readonly low: number;
  readonly high: number;
  readonly places: number;
}

const figure = (
  path: string,
  text: string,
  [unit, otherUnit]: readonly [string, string],
  [low, high, places]: readonly [number, number, number],
): Figure => ({ path, text, unit, otherUnit, low, high, places });

const inches = ["in", "mm"] as const;
const millimeters = ["mm", "in"] as const;
const axle = (side: string): string =>
  `axle a { left { ${side} }; right { inner_limit: 23.5 in } }`;

const figures: readonly Figure[] = [
  figure("v.wheelbase", "vehicle v { wheelbase: @ }", inches, [85, 160, 1]),
  figure("v.mass", "vehicle v { mass: @ }", ["kg", "lb"], [900, 3000, 0]),
  figure("v.front_share", "vehicle v { front_share: @ }", ["%", ""], [38, 64, 1]),
  figure("h.standoff", "housing h { standoff: @ }", inches, [1.9, 6.5, 3]),
  figure("h.end_length", "housing h { end_length: @ }", inches, [1.2, 5, 3]),
  figure("h.tube_diameter", "housing h { tube_diameter: @ }", inches, [2.25, 4.5, 3]),
  figure("h.center_half_width", "housing h { center_half_width: @ }", inches, [6, 16, 2]),
  figure("h.face_to_face", "housing h { face_to_face: @ }", inches, [40, 68, 3]),
  figure("b.hat_thickness", "brake b { hat_thickness: @ }", inches, [0.2, 0.6, 3]),
  figure("b.rotor_diameter", "brake b { rotor_diameter: @ }", millimeters, [230, 390, 0]),
  figure("b.rotor_thickness", "brake b { rotor_thickness: @ }", millimeters, [9, 36, 1]),
  figure("w.center_bore", "wheel w { size: 17x8; center_bore: @ }", millimeters, [54, 130, 1]),
  figure("w.offset", "wheel w { size: 17x8; offset: @ }", millimeters, [10, 60, 0]),
  figure("a.left.inner_limit", axle("inner_limit: @"), inches, [22.5, 24.5, 3]),
  figure("d.run", "driveshaft d { run: @ }", inches, [28, 75, 2]),
  figure("g.diameter", "groove g { diameter: @ }", inches, [2.25, 4.5, 3]),
];

const drawn = fc.constantFrom(...figures).chain((each) =>
  fc
    .integer({
      min: Math.ceil(each.low * 10 ** each.places),
      max: Math.floor(each.high * 10 ** each.places),
    })
    .map((steps) => ({ ...each, number: (steps / 10 ** each.places).toFixed(each.places) })),
);

type Drawn = Figure & { readonly number: string };

const slips: Readonly<Record<string, (drawn: Drawn) => string | undefined>> = {
  "another unit": ({ number, otherUnit }) => `${number} ${otherUnit}`,
  "the point one place over": ({ number, unit }) => `${Number(number) * 10} ${unit}`,
  "the point one place back": ({ number, unit }) => `${Number(number) / 10} ${unit}`,
  "the sign": ({ number, unit }) => `-${number} ${unit}`,
  "two digits changed": ({ number, unit }) => {
    const [first = "", second = ""] = number.replace(".", "");
    const changed = number.replace(/^(\d)(\.?)(\d)/, "$3$2$1");
    // A leading nought is none anybody writes.
    return first === second || second === "0" ? undefined : `${changed} ${unit}`;
  },
};

const doubting = ["value/out-of-range", "value/unlike-twin"];

function isTold({ path, text }: Figure, written: string, recorded: boolean): boolean {
  const right = text.replace(/(?:; )?\w+: @/, "");
  const build = recorded
    ? `${right}\nrecord 2026-04-02 { ${path}: ${written} }\n`
    : text.replace("@", written);
  return analyzed(build).findings.some(({ code }) => doubting.includes(code));
}

const runs = { numRuns: 60, seed: Number(process.env.TRAMMEL_SEED ?? 12) };

describe.each([
  ["in the spec", false],
  ["on record", true],
] as const)("%s", (_, recorded) => {
  test("no right figure is doubted", () => {
    fc.assert(
      fc.property(drawn, (each) => {
        expect(isTold(each, `${each.number} ${each.unit}`, recorded), each.path).toBe(false);
      }),
      runs,
    );
  });

  /**
   * Of a hundred, at least. A tenth of an offset is an offset, and of two digits that changed places
   * most leave a figure that could be: the wider what is usual, the fewer are told.
   */
  test.each([
    ["another unit", 80],
    ["the point one place over", 80],
    ["the point one place back", 50],
    ["the sign", 85],
    ["two digits changed", 10],
  ])("%s", (sort, least) => {
    let tried = 0;
    let told = 0;
    fc.assert(
      fc.property(drawn, (each) => {
        const written = slips[sort]?.(each);
        if (written === undefined) return;
        tried++;
        if (isTold(each, written, recorded)) told++;
      }),
      runs,
    );
    expect(tried).toBeGreaterThan(20);
    expect((100 * told) / tried).toBeGreaterThanOrEqual(least);
  });
});
