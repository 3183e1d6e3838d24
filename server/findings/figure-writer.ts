/**
 * Writes single figures as a build shows them.
 *
 *     new FigureWriter(style).torque(101.7)   →   `75 lb-ft`
 *
 * Must not know: what is told of them.
 */
import { type DisplayStyle, type Measure, measureNamed, writeQuantity } from "../units";

export class FigureWriter {
  constructor(readonly style: DisplayStyle) {}

  torque(si: number | undefined): string {
    return this.figure(si, "torque");
  }

  /** Driven distances are no lengths of the shop: miles or kilometers. */
  distance(si: number): string {
    const [size, unit] = this.style.system === "metric" ? [1000, "km"] : [1609.344, "mi"];
    return `${Number((si / size).toFixed(1))} ${unit}`;
  }

  /** Work and waiting: minutes below an hour, then hours. */
  duration(si: number): string {
    const [size, unit] = si < 3600 ? [60, "min"] : [3600, "h"];
    return `${Number((si / size).toFixed(1))} ${unit}`;
  }

  /** Exact enough to compare; `of`: a measure or its name. */
  figure(si: number | undefined, of: Measure | string | undefined): string {
    const measure = typeof of === "string" ? measureNamed(of) : of;
    if (si === undefined || measure === undefined) return "open";
    const written = writeQuantity(si, measure, this.style);
    if (written === undefined) return "open";
    return written.rounded ? (written.decimal ?? written.text) : written.text;
  }
}
