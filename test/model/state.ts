/** What an analysis says, as plain data, to compare two of them. */
import type { Analysis } from "../../server/analysis/analysis";
import { placeIn } from "./golden";

export interface State {
  readonly values: Readonly<Record<string, string>>;
  readonly findings: readonly string[];
  readonly missing: readonly string[];
  readonly checks: readonly string[];
}

/** `places`: whether it matters where findings stand. Figures are compared to twelve digits. */
export function stateOf(analysis: Analysis, places: boolean): State {
  const values: Record<string, string> = {};
  const paths = [...analysis.values.keys()];
  for (const path of places ? paths : paths.sort()) {
    const value = analysis.values.get(path);
    if (value === undefined) continue;
    const figure = value.measure === undefined ? String(value.word) : digits(value.si);
    const why = value.reason === undefined ? "" : ` by ${value.reason.title}`;
    const spread = value.spread();
    const reach =
      spread === undefined ? "" : ` ± ${digits(spread.worstAbove)} ${digits(spread.rss)}`;
    values[path] =
      `${value.standing} ${figure}${reach}${why} on [${[...value.restsOn].sort().join("; ")}]`;
  }
  const findings = analysis.findings.map(({ code, severity, message, hint, anchor }) => {
    const place = places ? `${placeIn(anchor, analysis)} ` : "";
    return `${place}${severity} ${code} ${message} | ${hint ?? ""}`;
  });
  const missing = analysis.missing.map(({ path, message }) => `${path} ${message}`);
  const checks = analysis.checks.map(
    ({ title, thing, verdict }) =>
      `${thing?.path ?? ""} ${title} ${verdict.nominal} ${verdict.rss} ${verdict.worst} ${digits(verdict.margin)}`,
  );
  return places
    ? { values, findings, missing, checks }
    : { values, findings: findings.sort(), missing: missing.sort(), checks: checks.sort() };
}

function digits(figure: number | undefined): string {
  if (figure === undefined) return "none";
  return Math.abs(figure) < 1e-13 ? "0" : figure.toPrecision(11);
}
