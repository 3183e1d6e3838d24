/**
 * Distribution of braking among the axles: the order of locking of 71/320/EEC, annex II appendix
 * 3.1.1 (read in the public text of 2007), held against a dense sampling of both adhesion curves.
 */
import { describe, expect, it } from "vitest";
import { failing, holding, solved } from "./part-two-solve-text";

interface Distribution {
  readonly front: number;
  readonly height: number;
  readonly bias: number;
  /** Braking rate at the knee of the valve, and its slope; none without a valve. */
  readonly knee?: number;
  readonly slope?: number;
}

/** Adhesion of both axles at a braking rate, straight from f = T / N. */
function used({ front, height, bias, knee, slope = 1 }: Distribution, z: number) {
  // Below the knee both circuits carry one pressure; above it the rear gets the slope's share.
  const rearAtKnee = (1 - bias) * (knee ?? 0);
  const frontPart = (rate: number): number => {
    if (knee === undefined || rate <= knee) return bias * rate;
    // A rise dp in front gives bias dp, and slope (1 - bias) dp behind.
    const rise = (rate - knee) / (bias + slope * (1 - bias));
    return rate - rearAtKnee - slope * (1 - bias) * rise;
  };
  const f = frontPart(z);
  return { front: f / (front + z * height), rear: (z - f) / (1 - front - z * height) };
}

function every(from: number, to: number, holds: (z: number) => boolean): boolean {
  for (let step = 0; step <= 2000; step += 1) {
    if (!holds(from + ((to - from) * step) / 2000)) return false;
  }
  return true;
}

function passengerOrder(d: Distribution): boolean {
  const leads = (z: number): boolean => used(d, z).front >= used(d, z).rear - 1e-9;
  return every(0.15, 0.3, leads) && every(0.45, 0.8, leads);
}

const inversion = (d: Distribution): boolean =>
  every(0.3, 0.45, (z) => used(d, z).rear <= z + 0.05 + 1e-9);

function goodsOrder(d: Distribution): boolean {
  if (every(0.15, 0.5, (z) => used(d, z).front >= used(d, z).rear - 1e-9)) return true;
  const near = every(0.15, 0.3, (z) => {
    const { front, rear } = used(d, z);
    return Math.max(front, rear) <= z + 0.08 + 1e-9 && front >= z - 0.08 - 1e-9;
  });
  return (
    near &&
    every(0.3, 0.5, (z) => used(d, z).rear <= z + 0.08 + 1e-9) &&
    every(0.5, 0.61, (z) => used(d, z).rear <= 2 * z - 0.42 + 1e-9)
  );
}

function rules(d: Distribution, category: string): ReturnType<typeof solved> {
  const valve =
    d.knee === undefined
      ? ""
      : `valve: fixed  slope: ${d.slope}  knee_rate: ${d.knee}  knee: 3 MPa`;
  return solved(`
vehicle car { wheelbase: 1 m  mass: 1500 kg  front_share: ${d.front}  cg_height: ${d.height} m }
brake_system brakes { vehicle: car  plain_bias: ${d.bias}  ${valve} }
eec_71_320 rules { system: brakes  category: ${category} }`);
}

/** The same numbers every time: a small linear congruential generator. */
function* numbers(): Generator<number, never> {
  let state = 20071;
  for (;;) {
    state = (state * 48271) % 2147483647;
    yield state / 2147483647;
  }
}

function distributions(count: number): Distribution[] {
  const random = numbers();
  const between = (low: number, high: number): number => low + (high - low) * random.next().value;
  return Array.from({ length: count }, (_, index) => {
    const front = between(0.42, 0.62);
    const height = between(0.15, 0.35);
    const valve = index % 2 === 1;
    return {
      front,
      height,
      bias: valve ? between(front, front + 0.2) : between(front, front + 0.35),
      ...(valve ? { knee: between(0.12, 0.75), slope: between(0.1, 0.6) } : {}),
    };
  });
}

describe("71/320/EEC annex II appendix 3.1.1, against both curves sampled at 2000 rates", () => {
  it("passenger cars: front first to 0.30 and from 0.45, near the line in between", () => {
    const seen = new Set<string>();
    for (const each of distributions(120)) {
      const analysis = rules(each, "m1");
      const [order, near] = [passengerOrder(each), inversion(each)];
      seen.add(`${order} ${near}`);
      expect(failing(analysis).includes("eec-71-320/order"), JSON.stringify(each)).toBe(!order);
      expect(failing(analysis).includes("eec-71-320/inversion"), JSON.stringify(each)).toBe(!near);
    }
    expect(seen.size).toBeGreaterThanOrEqual(3);
  });

  it("light goods vehicles: front first to 0.50, or within the lines of diagram 1C", () => {
    const seen = new Set<string>();
    for (const each of distributions(120)) {
      const analysis = rules(each, "n1");
      const first = every(0.15, 0.5, (z) => used(each, z).front >= used(each, z).rear - 1e-9);
      const holds = goodsOrder(each);
      seen.add(`${first} ${holds}`);
      expect(failing(analysis).includes("eec-71-320/goods-order"), JSON.stringify(each)).toBe(
        !holds,
      );
    }
    expect([...seen].sort()).toEqual(["false false", "false true", "true true"]);
  });

  it("a rear curve that leads from 0.39 to 0.80 does not pass", () => {
    const each = { front: 0.55, height: 0.2, bias: 0.55 + 0.39 * 0.2 };
    const analysis = rules(each, "m1");
    expect(failing(analysis)).toContain("eec-71-320/order");
    expect(holding(analysis)).toContain("eec-71-320/inversion");
  });

  it("is not passed where the category or the brakes are missing", () => {
    const open = solved(`
vehicle car { wheelbase: 2.70 m  mass: 1500 kg  front_share: 55 % }
brake_system brakes { vehicle: car  plain_bias: 70 % }
eec_71_320 rules { system: brakes }`);
    expect(holding(open).filter((code) => code.startsWith("eec"))).toEqual([]);
    expect(open.findings.map(({ code }) => code)).toContain("check/cannot-judge");
  });
});
