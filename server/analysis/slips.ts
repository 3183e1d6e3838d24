/**
 * What a written figure was likely meant to be: the same number in another unit, its point one place
 * over, two digits changed, the sign forgotten.
 *
 *     slipsOf(wheelbase, far)[0]?.text   →   `116 in`, where `116 mm` is written
 *
 * Must not know: why the figure as written is doubted.
 */
import { type Anchor, textAt } from "../../grammar/anchor";
import type { ModelVariable } from "../model/model";
import { nominalAnchor } from "../model/thing";
import { readQuantity } from "../units";

/** How a doubted figure might have been meant. */
export interface Slip {
  /** `116 in`, to stand in the place of what is written. */
  readonly text: string;
  readonly si: number;
  readonly anchor: Anchor;
}

/**
 * The readings of a written figure for which `distance` is finite, the nearest first. Slips that are
 * made more often (the unit) go before others that are no nearer.
 */
export function slipsOf(variable: ModelVariable, distance: (si: number) => number): Slip[] {
  const { entry, measure, part } = variable;
  const anchor = entry === undefined || part !== undefined ? undefined : nominalAnchor(entry);
  if (anchor === undefined) return [];
  const written = /^(-?)\s*([\d.][\d./\s-]*?)\s*([^\d\s./-].*)?$/.exec(textAt(anchor).trim());
  if (written === null) return [];
  const [, sign = "", number = "", unit = ""] = written;
  const natural = new Set([measure.inch.unit, measure.metric.unit]);
  const candidates: { text: string; extra: number }[] = [
    ...measure.units
      .filter((other) => other !== unit)
      .map((other) => ({ text: `${sign}${number} ${other}`, extra: natural.has(other) ? 0 : 0.5 })),
    ...pointMoved(number).map((text) => ({ text: joined(sign, text, unit), extra: 0.1 })),
    ...digitsChanged(number).map((text) => ({ text: joined(sign, text, unit), extra: 0.1 })),
    { text: joined(sign === "" ? "-" : "", number, unit), extra: 0.1 },
  ];
  return candidates
    .flatMap(({ text, extra }) => {
      const read = readQuantity(text, measure);
      const far = "si" in read ? distance(read.si) + extra : Number.POSITIVE_INFINITY;
      return "si" in read && Number.isFinite(far)
        ? [{ slip: { text, si: read.si, anchor }, far }]
        : [];
    })
    .sort((one, other) => one.far - other.far)
    .map(({ slip }) => slip);
}

// ───────────────────────────── helpers ─────────────────────────────

function joined(sign: string, number: string, unit: string): string {
  return `${sign}${number}${unit === "" ? "" : ` ${unit}`}`;
}

/** `2.420` and `242.0` of `24.20`; a fraction has no point to move. */
function pointMoved(number: string): string[] {
  if (!/^\d*\.?\d+$/.test(number)) return [];
  const after = number.split(".")[1]?.length ?? 0;
  const value = Number(number);
  return [(value / 10).toFixed(after + 1), (value * 10).toFixed(Math.max(0, after - 1))];
}

/** `24 3/8` of `42 3/8`: two digits side by side, not those of a fraction. */
function digitsChanged(number: string): string[] {
  const [plain = ""] = /^[\d.]+(?!\d*\/)/.exec(number) ?? [];
  const rest = number.slice(plain.length);
  return [...plain.slice(1)].flatMap((digit, before) => {
    const other = plain[before] ?? "";
    if (digit === other || digit === "." || other === ".") return [];
    return [`${plain.slice(0, before)}${digit}${other}${plain.slice(before + 2)}${rest}`];
  });
}
