/** Values as the JSON contract has them. */
import type { Analysis, Value } from "../analysis/analysis";
import { figureOf } from "../report/figure";
import { writeSi } from "../units";
import type { ValueOutput } from "./contract";

export function valueOutput(value: Value, analysis: Analysis): ValueOutput {
  const figure = figureOf(value, analysis);
  return {
    ...figureOutput(value),
    ...(value.currency === undefined ? {} : { currency: value.currency.toUpperCase() }),
    ...(value.word === undefined ? {} : { word: value.word }),
    shown: figure.text,
    ...(figure.decimal === undefined ? {} : { decimal: figure.decimal }),
    standing: value.standing,
    ...spreadOutput(value),
    ...reasonOutput(value),
    ...(value.pieces === undefined ? {} : { pieces: value.pieces }),
    ...(value.restsOn.length === 0 ? {} : { restsOn: [...value.restsOn] }),
  };
}

// ───────────────────────────── helpers ─────────────────────────────

function figureOutput({ si, measure }: Value): Pick<ValueOutput, "si" | "unit"> {
  if (measure === undefined) return {};
  const written = si === undefined ? undefined : writeSi(si);
  return written === undefined ? { unit: measure.si } : { si: written, unit: measure.si };
}

/** A figure without any tolerance behind it has a ± of 0; only what is missing has none at all. */
function spreadOutput(value: Value): Pick<ValueOutput, "worst" | "rss" | "low" | "high"> {
  const { si } = value;
  if (si === undefined || value.measure === undefined) return {};
  const spread = value.spread();
  const below = spread?.worstBelow ?? 0;
  const above = spread?.worstAbove ?? 0;
  const worst = writeSi(Math.max(below, above));
  const rss = writeSi(spread?.rss ?? 0);
  if (worst === undefined || rss === undefined) return {};
  if (worst === 0) return { worst, rss };
  return { worst, rss, low: writeSi(si - below), high: writeSi(si + above) };
}

function reasonOutput({ reason }: Value): Pick<ValueOutput, "relation" | "title" | "source"> {
  if (reason === undefined) return {};
  const { source } = reason.remarks;
  return {
    relation: reason.formula,
    title: reason.title,
    ...(source === undefined ? {} : { source }),
  };
}
