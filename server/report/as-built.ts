/**
 * A figure as built beside what it was to be: how it was to come out, how far off it is, and whether
 * that is accepted.
 *
 *     asBuilt(width, spec)   // { was: "was to come out 58 1/8 in", verdict: "1/32 in under, inside 58 1/16..58 3/16 in" }
 *
 * Must not know: where it is written to.
 */
import type { Analysis, Value } from "../analysis/analysis";
import { type Acceptance, latestReadings, type Measurement } from "../analysis/records";
import { type DisplayStyle, type Measure, writeQuantity, writeTolerance } from "../units";
import { comesOut } from "./comes-out";

export interface AsBuilt {
  /** `was to come out 58 1/8 in`, `spec 24 1/4 in` */
  readonly was: string;
  /** `1/32 in under, inside 58 1/16 in to 58 3/16 in` */
  readonly verdict: string;
}

/** What the records make of a figure, beside how it was to come out. */
export interface BuiltBeside {
  /** `0.879 in` */
  readonly text: string;
  /** `0.879 in ± 0.165 in, 0.121 in under what was wanted` */
  readonly full: string;
}

/** Nothing where the records leave the figure as it was to come out. */
export function builtBeside(value: Value, spec: Analysis): BuiltBeside | undefined {
  const { measure, path, wanted } = value;
  if (measure === undefined || latestReadings(spec).size === 0) return undefined;
  const built = spec.asBuilt();
  const now = built.valueAt(path);
  // What no record has to do with is the very same value.
  if (now === value && !latestReadings(spec).has(path)) return undefined;
  const [was, is] = [value.outcome()?.si, now?.outcome()?.si];
  if (now === undefined || is === undefined) return undefined;
  const read = asBuilt(now, spec);
  const out = comesOut(now, built);
  const moved = was === undefined || Math.abs(is - was) > 1e-6 * measure.scale;
  if (out === undefined || (!moved && read === undefined)) return undefined;
  const { text } = out;
  return {
    text,
    get full() {
      const { tolerance } = out;
      const verdict =
        read?.verdict ?? (wanted === undefined ? "" : missBy(is - wanted.si, value, spec));
      const sure = tolerance === undefined ? text : `${text} ${tolerance.worst}`;
      return [sure, verdict].filter((each) => each !== "").join(", ");
    },
  };
}

/** Nothing for what no record speaks of, and no reading is behind. */
export function asBuilt(value: Value, spec: Analysis): AsBuilt | undefined {
  const measurement = latestReadings(spec).get(value.path);
  if (value.measure === undefined) return undefined;
  if (measurement === undefined) return ofUnread(value, spec);
  if (value.standing !== "measured" && value.asRead === undefined) return undefined;
  const before = measurement.value;
  const out = comesOut(before, spec);
  if (out === undefined) return { was: "open in the spec", verdict: "" };
  const was = before.standing === "given" ? `spec ${out.text}` : `was to come out ${out.text}`;
  return {
    was: [was, readAs(value, measurement.si, spec)].filter((each) => each !== "").join(", "),
    get verdict() {
      return [offBy(before, measurement.si, spec), accepted(measurement, spec)]
        .filter((each) => each !== "")
        .join(", ");
    },
  };
}

// ───────────────────────────── helpers ─────────────────────────────

/** `read 54 3/4 in`, where all readings together make another figure of it. */
function readAs({ asRead, standing, measure }: Value, si: number, spec: Analysis): string {
  if (asRead === undefined || measure === undefined) return "";
  const read = `read ${writeQuantity(si, measure, spec.style)?.text}`;
  return standing === "measured" ? read : `${read} and left out`;
}

/** What is made and was not read follows from what was; what was only stated is adjusted with it. */
function ofUnread({ path, asRead, si }: Value, spec: Analysis): AsBuilt | undefined {
  const before = spec.valueAt(path);
  const out = asRead === undefined || before === undefined ? undefined : comesOut(before, spec);
  if (before === undefined || out === undefined || si === undefined) return undefined;
  return { was: `spec ${out.text}`, verdict: `${offBy(before, si, spec)}, by the readings` };
}

/** `1/32 in under` how it was to come out. */
function offBy(before: Value, si: number, { style }: Analysis): string {
  const nominal = before.outcome()?.si;
  const { measure } = before;
  if (nominal === undefined || measure === undefined) return "";
  const off = si - nominal;
  if (Math.abs(off) <= 1e-6 * measure.scale) return "as it was to be";
  return sideOf(off, measure, style);
}

/** `1/32 in under what was wanted`; nothing where it is as wanted. */
function missBy(off: number, { measure }: Value, { style }: Analysis): string {
  if (measure === undefined || Math.abs(off) <= 1e-6 * measure.scale) return "";
  return `${sideOf(off, measure, style)} what was wanted`;
}

function sideOf(off: number, measure: Measure, style: DisplayStyle): string {
  const far = writeTolerance(Math.abs(off), measure, style)?.text.replace(/^±\s*/, "");
  return `${far} ${off > 0 ? "over" : "under"}`;
}

const words: Readonly<Record<Acceptance, string>> = {
  inside: "inside",
  outside: "outside of",
  unclear: "too close to call at",
};

function accepted(
  { acceptance, conformity, low, high, value }: Measurement,
  { style }: Analysis,
): string {
  const { measure } = value;
  if (acceptance === undefined || low === undefined || high === undefined) return "";
  if (measure === undefined || !(high > low)) return "";
  const [from, to] = [low, high].map((si) => writeQuantity(si, measure, style)?.text);
  const chance =
    acceptance === "unclear" && conformity !== undefined
      ? `, ${Math.round(100 * conformity)} % likely inside`
      : "";
  return `${words[acceptance]} ${from} to ${to}${chance}`;
}
