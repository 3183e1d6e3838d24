/**
 * A build beside its options: the same figures and checks under each, and what each costs.
 *
 *     comparisonOf(analysis, ["rear_housing.face_to_face"])
 *
 * Must not know: where it is written to.
 */
import type { Analysis, CheckResult, Value } from "../analysis/analysis";
import { type Cost, costOf } from "./cost";
import { askedPaths, isHeadline } from "./selection";

export interface Variant {
  /** `spec` for the build without any option. */
  readonly name: string;
  readonly title?: string;
  readonly analysis: Analysis;
}

export interface Comparison {
  readonly variants: readonly Variant[];
  readonly rows: readonly { readonly path: string; readonly values: readonly (Value | undefined)[] }[];
  readonly checks: readonly ComparedCheck[];
  /** One for each variant; none where nothing has a price. */
  readonly costs?: readonly Cost[];
}

export interface ComparedCheck {
  readonly title: string;
  readonly thing?: string;
  readonly verdicts: readonly Outcome[];
}

export type Outcome = "holds" | "likely fails" | "may fail" | "fails" | "unknown";

export const specName = "spec";

/** Without paths: what any variant asks for, and the headline figures that differ between them. */
export function comparisonOf(spec: Analysis, paths: readonly string[] = []): Comparison {
  const variants: Variant[] = [
    { name: specName, analysis: spec },
    ...spec.options.flatMap(({ name, title }) => {
      const analysis = spec.under(name);
      return analysis === undefined ? [] : [{ name, title, analysis }];
    }),
  ];
  const chosen = paths.length > 0 ? paths : pathsOf(variants);
  const costs = variants.map(({ analysis }) => costOf(analysis, variants.map((each) => each.analysis)));
  return {
    variants,
    rows: chosen.map((path) => ({ path, values: variants.map(({ analysis }) => analysis.valueAt(path)) })),
    checks: checksOf(variants),
    ...(costs.some(({ total }) => total.length > 0) ? { costs } : {}),
  };
}

export function outcomeOf({ verdict }: CheckResult): Outcome {
  if (verdict.nominal !== "holds") return verdict.nominal;
  if (verdict.rss === "fails") return "likely fails";
  return verdict.worst === "fails" ? "may fail" : "holds";
}

// ───────────────────────────── helpers ─────────────────────────────

function pathsOf(variants: readonly Variant[]): string[] {
  const asked = new Set(variants.flatMap(({ analysis }) => [...askedPaths(analysis)]));
  const [spec] = variants;
  const order = spec === undefined ? [] : [...spec.analysis.values.keys()];
  const all = new Set([...order, ...variants.flatMap(({ analysis }) => [...analysis.values.keys()])]);
  return [...all].filter((path) => asked.has(path) || isTelling(path, variants));
}

/** A headline figure that is not the same throughout. */
function isTelling(path: string, variants: readonly Variant[]): boolean {
  const values = variants.map(({ analysis }) => ({ value: analysis.values.get(path), analysis }));
  if (!values.some(({ value }) => value !== undefined && isHeadline(value))) return false;
  const texts = new Set(values.map(({ value, analysis }) => (value === undefined ? "" : analysis.write(value))));
  return texts.size > 1;
}

function checksOf(variants: readonly Variant[]): ComparedCheck[] {
  const rows = new Map<string, { title: string; thing?: string; verdicts: Outcome[] }>();
  for (const [column, { analysis }] of variants.entries()) {
    for (const check of analysis.checks) {
      const thing = check.thing === undefined || check.thing.path === "" ? undefined : check.thing.path;
      const key = `${thing ?? ""}\0${check.title}`;
      const row = rows.get(key) ?? { title: check.title, thing, verdicts: variants.map(() => "unknown" as const) };
      row.verdicts[column] = outcomeOf(check);
      rows.set(key, row);
    }
  }
  // What cannot be judged anywhere says nothing.
  return [...rows.values()].filter(({ verdicts }) => verdicts.some((outcome) => outcome !== "unknown"));
}
