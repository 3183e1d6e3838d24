/**
 * What a person may choose in the editor, read from whatever the editor sends: a setting that is
 * missing or makes no sense has its default, and never spoils the others.
 *
 *     readSettings({ hints: { asked: false } }).hints.asked   →   false
 *
 * Must not know: how settings travel.
 */
import * as z from "zod";
import type { AnalysisSettings } from "./analysis/analysis";

const level = z.enum(["error", "warning", "note", "off"]);

const displayShape = z.object({
  /** `as written`: in the units of the build. */
  system: z.enum(["as written", "inch", "metric"]).catch("as written"),
  /** The step of lengths in inches: `1/32`, or `decimal`. */
  lengthIncrement: z.enum(["1/8", "1/16", "1/32", "1/64", "decimal"]).catch("1/32"),
});

const hintsShape = z.object({
  enabled: z.boolean().catch(true),
  asked: z.boolean().catch(true),
  headlines: z.boolean().catch(true),
  records: z.boolean().catch(true),
  steps: z.boolean().catch(true),
});

const checksShape = z.object({
  /** A check that fails as drawn. */
  nominal: level.catch("error"),
  /** One that is likely to fail with the tolerances given. */
  rss: level.catch("warning"),
  /** One that fails where all tolerances add up. */
  worst: level.catch("note"),
});

const logShape = z.object({
  /** Whose name entries of the log carry; empty: who git says works here. */
  name: z.string().catch(""),
});

const shape = z.object({
  display: displayShape.catch(() => displayShape.parse({})),
  hints: hintsShape.catch(() => hintsShape.parse({})),
  checks: checksShape.catch(() => checksShape.parse({})),
  log: logShape.catch(() => logShape.parse({})),
});

export type Settings = z.infer<typeof shape>;

/** Never throws. */
export function readSettings(sent: unknown): Settings {
  const read = shape.safeParse(sent);
  return read.success ? read.data : defaultSettings;
}

export const defaultSettings: Settings = shape.parse({});

/** The part of them that changes what a build's figures and findings are. */
export function analysisSettings({ display, checks }: Settings, today: string): AnalysisSettings {
  return {
    today,
    system: display.system === "as written" ? undefined : display.system,
    lengthIncrement: display.lengthIncrement,
    levels: checks,
  };
}
