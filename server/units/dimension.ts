/**
 * Dimensions: what kind of thing a number measures, as powers of length, mass, time, current,
 * temperature and money. Angles and plain numbers are both dimensionless; measures tell them apart.
 *
 *     multiply(force, length).key === "length^2 mass time^-2"
 *
 * Must not know: units, measures, text of a build, anything of the trade.
 */

export const baseDimensions = [
  "length",
  "mass",
  "time",
  "current",
  "temperature",
  "money",
] as const;

export type BaseDimension = (typeof baseDimensions)[number];

export interface Dimension {
  /** One exponent for each of `baseDimensions`, in that order; halves and thirds are allowed. */
  readonly exponents: readonly number[];
  /** Equal keys mean equal dimensions; empty for a plain number. */
  readonly key: string;
}

const known = new Map<string, Dimension>();

/** Beyond this many different dimensions no more are kept, so odd exponents cannot fill the memory. */
const mostKept = 4096;

export const dimensionless = dimension({});

/** The dimension with these powers; bases that are not named have the power 0. */
export function dimension(powers: Partial<Record<BaseDimension, number>>): Dimension {
  return intern(baseDimensions.map((base) => powers[base] ?? 0));
}

export function sameDimension(one: Dimension, other: Dimension): boolean {
  return one.key === other.key;
}

export function multiply(left: Dimension, right: Dimension): Dimension {
  if (right.key === "") return left;
  if (left.key === "") return right;
  return intern(left.exponents.map((exponent, index) => exponent + right.exponents[index]!));
}

export function divide(left: Dimension, right: Dimension): Dimension {
  if (right.key === "") return left;
  return intern(left.exponents.map((exponent, index) => exponent - right.exponents[index]!));
}

/** `exponent` may be a fraction (1/2 for a square root); not finite gives `undefined`. */
export function power(of: Dimension, exponent: number): Dimension | undefined {
  if (!Number.isFinite(exponent)) return undefined;
  if (of.key === "" || exponent === 1) return of;
  const exponents = of.exponents.map((each) => each * exponent);
  return exponents.every(Number.isFinite) ? intern(exponents) : undefined;
}

/**
 * The dimension in words: "a length", "a force × length", "a mass / length", "a plain number".
 * Torque and energy share one dimension and are therefore told by their parts.
 */
export function describeDimension(of: Dimension): string {
  const name = names().get(of.key);
  if (name !== undefined) return name;
  const { above, below } = partsOf(of);
  const top = above.map((part) => withPower(part)).join(" × ");
  const bottom = below.map((part) => withPower(part)).join(" / ");
  // No base begins with a vowel.
  return `a ${bottom === "" ? top : `${top === "" ? "1" : top} / ${bottom}`}`;
}

/** The coherent SI unit as a formula of base units: `kg*m^2/s^2`; `1` for a plain number. */
export function coherentUnit(of: Dimension): string {
  const symbols = ["m", "kg", "s", "A", "K", "money"];
  const above: string[] = [];
  const below: string[] = [];
  for (const index of [1, 0, 2, 3, 4, 5]) {
    const exponent = of.exponents[index]!;
    const symbol = symbols[index]!;
    if (exponent > 0) above.push(withPower([symbol, exponent], "^"));
    else if (exponent < 0) below.push(withPower([symbol, -exponent], "^"));
  }
  return [above.length === 0 ? "1" : above.join("*"), ...below].join("/");
}

// ───────────────────────────── helpers ─────────────────────────────

function intern(powers: readonly number[]): Dimension {
  const exponents = powers.map(settle);
  const key = exponents
    .map((exponent, index) => ({ exponent, base: baseDimensions[index] }))
    .filter(({ exponent }) => exponent !== 0)
    .map(({ exponent, base }) => (exponent === 1 ? `${base}` : `${base}^${exponent}`))
    .join(" ");
  const before = known.get(key);
  if (before !== undefined) return before;
  const made: Dimension = Object.freeze({ exponents: Object.freeze(exponents), key });
  if (known.size < mostKept) known.set(key, made);
  return made;
}

/**
 * A third plus two thirds must be one. 27720 is a multiple of every number up to 12, so a power
 * near such a fraction becomes exactly the double of that fraction; others keep nine places.
 */
function settle(exponent: number): number {
  const fraction = Math.round(exponent * 27720) / 27720;
  const near = Math.abs(fraction - exponent) < 1e-9;
  const settled = near ? fraction : Math.round(exponent * 1e9) / 1e9;
  if (settled === 0) return 0;
  return Number.isFinite(settled) ? settled : exponent;
}

type Part = readonly [name: string, exponent: number];

function partsOf(of: Dimension): { above: Part[]; below: Part[] } {
  const powers = [...of.exponents];
  const parts: Part[] = [];
  const massPower = powers[1]!;
  const timePower = powers[2]!;
  // Mechanics thinks in forces: a mass with two times below it came from one.
  if (massPower !== 0 && timePower === -2 * massPower) {
    parts.push(["force", massPower]);
    powers[0]! -= massPower;
    powers[1] = 0;
    powers[2] = 0;
  }
  for (const index of [1, 0, 2, 3, 4, 5]) {
    const exponent = powers[index]!;
    if (exponent !== 0) parts.push([baseDimensions[index]!, exponent]);
  }
  return {
    above: parts.filter(([, exponent]) => exponent > 0),
    below: parts
      .filter(([, exponent]) => exponent < 0)
      .map(([name, exponent]) => [name, -exponent] as const),
  };
}

function withPower([name, exponent]: Part, sign = ""): string {
  if (exponent === 1) return name;
  if (sign === "" && exponent === 2) return `${name}²`;
  if (sign === "" && exponent === 3) return `${name}³`;
  return `${name}^${Number(exponent.toPrecision(6))}`;
}

let namesMade: ReadonlyMap<string, string> | undefined;

function names(): ReadonlyMap<string, string> {
  namesMade ??= new Map(
    (
      [
        [{}, "a plain number"],
        [{ length: 2 }, "an area"],
        [{ length: 3 }, "a volume"],
        [{ length: 1, time: -1 }, "a speed"],
        [{ length: 1, time: -2 }, "an acceleration"],
        [{ time: -1 }, "a frequency"],
        [{ mass: 1, length: 1, time: -2 }, "a force"],
        [{ mass: 1, length: -1, time: -2 }, "a pressure"],
        [{ mass: 1, length: 2, time: -3 }, "a power"],
        [{ mass: 1, length: -3 }, "a density"],
        [{ mass: 1, length: 2, time: -3, current: -1 }, "a voltage"],
        [{ mass: 1, length: 2, time: -3, current: -2 }, "a resistance"],
        [{ length: 3, time: -1 }, "a flow"],
        [{ money: 1 }, "an amount of money"],
      ] as const
    ).map(([powers, name]) => [dimension(powers).key, name]),
  );
  return namesMade;
}
