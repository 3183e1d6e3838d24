/** Values as the JSON contract has them. */
import type { Analysis, Outcome, Value } from "../analysis/analysis";
import type { Measurement } from "../analysis/records";
import { figureOf } from "../report/figure";
import { writeSi } from "../units";
import type { ValueOutput } from "./contract";

/** `read`: the newest reading of it, as built. */
export function valueOutput(value: Value, analysis: Analysis, read?: Measurement): ValueOutput {
  const figure = figureOf(value, analysis);
  return {
    ...figureOutput(value),
    ...(value.currency === undefined ? {} : { currency: value.currency.toUpperCase() }),
    ...(value.word === undefined ? {} : { word: value.word }),
    shown: figure.text,
    ...(figure.decimal === undefined ? {} : { decimal: figure.decimal }),
    standing: value.standing,
    ...(value.role === undefined ? {} : { role: value.role }),
    ...meaningOutput(value),
    ...(read === undefined ? {} : { read: readOutput(read) }),
    ...spreadOutput(value),
    ...reasonOutput(value),
    ...(value.pieces === undefined ? {} : { pieces: value.pieces }),
    ...(value.othersNotExcluded === true ? { othersNotExcluded: true as const } : {}),
    ...(value.restsOn.length === 0 ? {} : { restsOn: [...value.restsOn] }),
  };
}

// ───────────────────────────── helpers ─────────────────────────────

function figureOutput(value: Value): Pick<ValueOutput, "si" | "unit"> {
  const { measure } = value;
  const si = value.siAsWritten ?? value.si;
  if (measure === undefined) return {};
  const written = si === undefined ? undefined : writeSi(si);
  return written === undefined ? { unit: measure.si } : { si: written, unit: measure.si };
}

/**
 * A figure without any tolerance behind it has a ± of 0; only what is missing has none at all. Where
 * there is no limit, the furthest that was found stands, and says so.
 */
function spreadOutput(
  value: Value,
): Pick<ValueOutput, "worst" | "worstKnown" | "rss" | "shift" | "low" | "high"> {
  const si = value.siAsWritten ?? value.si;
  if (si === undefined || value.measure === undefined) return {};
  const spread = value.spread();
  const told = (reach: number, found: number): number => (Number.isFinite(reach) ? reach : found);
  const below = told(spread?.worstBelow ?? 0, spread?.below.found ?? 0);
  const above = told(spread?.worstAbove ?? 0, spread?.above.found ?? 0);
  const worst = writeSi(Math.max(below, above));
  const rss = writeSi(spread?.rss ?? 0);
  if (worst === undefined || rss === undefined) return {};
  const known = [spread?.below.known, spread?.above.known];
  const worstKnown = known.includes("unlimited")
    ? "unlimited"
    : known.includes("found")
      ? "found"
      : "proved";
  if (worst === 0 && worstKnown === "proved") return { worst, rss };
  const moved = writeSi(spread?.shift ?? 0);
  const shift = moved === undefined || moved === 0 ? {} : { shift: moved };
  return { worst, worstKnown, rss, ...shift, low: writeSi(si - below), high: writeSi(si + above) };
}

/** What was wanted, and how it comes out. */
function meaningOutput(value: Value): Pick<ValueOutput, "wanted" | "outcome"> {
  const { wanted } = value;
  const outcome = value.outcome();
  return {
    ...(wanted === undefined
      ? {}
      : {
          wanted: {
            si: wanted.si,
            ...(wanted.toleranced ? { low: wanted.low, high: wanted.high } : {}),
          },
        }),
    ...(outcome === undefined ? {} : { outcome: outcomeOutput(outcome) }),
  };
}

function readOutput(measurement: Measurement): ValueOutput["read"] {
  const { si, sureness, low, high, acceptance, conformity, record } = measurement;
  return {
    si: writeSi(si) ?? si,
    uncertainty: writeSi(sureness) ?? sureness,
    ...(record.date === undefined ? {} : { on: record.date }),
    ...(low === undefined ? {} : { low: writeSi(low) }),
    ...(high === undefined ? {} : { high: writeSi(high) }),
    ...(acceptance === undefined ? {} : { acceptance }),
    ...(conformity === undefined ? {} : { conformity: Number(conformity.toPrecision(3)) }),
  };
}

/** No limit is a figure that cannot be written: it is left out. */
function outcomeOutput({ si, worst, rss, low, high }: Outcome): ValueOutput["outcome"] {
  const written = {
    worst: writeSi(worst),
    rss: writeSi(rss),
    low: writeSi(low),
    high: writeSi(high),
  };
  const known = Object.entries(written).filter(([, figure]) => figure !== undefined);
  return { si: writeSi(si) ?? si, ...Object.fromEntries(known) };
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
