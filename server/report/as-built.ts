/**
 * A figure as built beside what it was to be: how it was to come out, how far off it is, and whether
 * that is accepted.
 *
 *     asBuilt(width, spec)   // { was: "was to come out 58 1/8 in", verdict: "1/32 in under, inside 58 1/16..58 3/16 in" }
 *
 * Must not know: where it is written to.
 */
import type { Analysis, Value } from "../analysis/analysis";
import { type Acceptance, type Measurement, measurementsOf } from "../analysis/records";
import { writeQuantity, writeTolerance } from "../units";
import { comesOut } from "./comes-out";

export interface AsBuilt {
  /** `was to come out 58 1/8 in`, `spec 24 1/4 in` */
  readonly was: string;
  /** `1/32 in under, inside 58 1/16 in to 58 3/16 in` */
  readonly verdict: string;
}

/** Nothing for what no record speaks of. */
export function asBuilt(value: Value, spec: Analysis): AsBuilt | undefined {
  const measurement = latestOf(spec).get(value.path);
  const { measure } = value;
  if (value.standing !== "measured" || measurement === undefined || measure === undefined)
    return undefined;
  const before = measurement.value;
  const out = comesOut(before, spec);
  const nominal = before.outcome()?.si;
  if (out === undefined || nominal === undefined) return undefined;
  const off = measurement.si - nominal;
  const far =
    Math.abs(off) <= 1e-6 * measure.scale
      ? "as it was to be"
      : `${writeTolerance(Math.abs(off), measure, spec.style)?.text.replace(/^±\s*/, "")} ${off > 0 ? "over" : "under"}`;
  return {
    was: before.standing === "given" ? `spec ${out.text}` : `was to come out ${out.text}`,
    verdict: [far, accepted(measurement, spec)].filter((each) => each !== "").join(", "),
  };
}

// ───────────────────────────── helpers ─────────────────────────────

const words: Readonly<Record<Acceptance, string>> = {
  inside: "inside",
  outside: "outside of",
  unclear: "too close to call at",
};

function accepted({ acceptance, low, high, value }: Measurement, { style }: Analysis): string {
  const { measure } = value;
  if (acceptance === undefined || low === undefined || high === undefined) return "";
  if (measure === undefined || !(high > low)) return "";
  const [from, to] = [low, high].map((si) => writeQuantity(si, measure, style)?.text);
  return `${words[acceptance]} ${from} to ${to}`;
}

/** The newest reading of each figure. */
function latestOf(spec: Analysis): ReadonlyMap<string, Measurement> {
  const latest = new Map<string, Measurement>();
  for (const each of measurementsOf(spec)) {
    const before = latest.get(each.value.path)?.record.date;
    if (before === undefined || (each.record.date ?? "") >= before)
      latest.set(each.value.path, each);
  }
  return latest;
}
