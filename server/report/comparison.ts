/**
 * A build beside its options: the same figures and checks under each, and what each costs.
 *
 *     comparisonOf(analysis, ["rear_housing.face_to_face"])
 *
 * Must not know: where it is written to.
 */
import type { Analysis, CheckResult, Value } from "../analysis/analysis";
import type { Thing } from "../model/thing";
import { told } from "./comes-out";
import { type Cost, costOf } from "./cost";
import { references, thingsInUse } from "./in-use";
import { askedPaths, isHeadline } from "./selection";

export interface Variant {
  /** `spec` for the build without any option. */
  readonly name: string;
  readonly title?: string;
  readonly analysis: Analysis;
}

export interface BuildComparison {
  readonly variants: readonly Variant[];
  readonly rows: readonly ComparedRow[];
  readonly checks: readonly ComparedCheck[];
  /** One for each variant; none where nothing has a price or a figure of the build is its cost. */
  readonly costs?: readonly Cost[];
}

export interface ComparedRow {
  readonly path: string;
  readonly values: readonly (Value | undefined)[];
  /** True where every variant comes to the same. */
  readonly alike: boolean;
}

export interface ComparedCheck {
  readonly title: string;
  readonly thing?: string;
  readonly verdicts: readonly ComparedOutcome[];
  /** In how many builds it holds, where that is not in all that is likely. */
  readonly chances: readonly (Chance | undefined)[];
}

/** As findings say it: `holds` is proved for all that tolerances allow, the middle three hold as drawn. */
export type ComparedOutcome =
  | "holds"
  | "not in all that is likely"
  | "not in the worst case"
  | "worst case not settled"
  | "fails"
  | "unknown";

type Chance = NonNullable<ReturnType<CheckResult["chance"]>>;

export const specName = "spec";

/** The column of what the records make of the spec. */
export const builtName = "as built";

/**
 * Without paths: what any variant asks for, and the headline figures that differ between them. With
 * `asBuilt` the spec as the records have it is one of them.
 */
export function comparisonOf(
  spec: Analysis,
  paths: readonly string[] = [],
  asBuilt = false,
): BuildComparison {
  const variants: Variant[] = [
    { name: specName, analysis: spec },
    ...(asBuilt ? [{ name: builtName, analysis: spec.asBuilt() }] : []),
    ...spec.options.flatMap(({ name, title }) => {
      const analysis = spec.under(name);
      return analysis === undefined ? [] : [{ name, title, analysis }];
    }),
  ];
  const all = variants.map(({ analysis }) => analysis);
  const chosen = paths.length > 0 ? paths : pathsOf(all);
  const costs = all.map((analysis) => costOf(analysis, all));
  const rows = chosen.map((path) => ({
    path,
    values: all.map((analysis) => analysis.valueAt(path)),
    alike: !isTelling(path, all),
  }));
  return {
    variants,
    rows,
    checks: checksOf(all),
    // A total that the build works out itself is the better one.
    ...(costs.some(({ total }) => total.length > 0) && !rows.some(isMoney) ? { costs } : {}),
  };
}

export function isMoney({ values }: ComparedRow): boolean {
  return values.some((value) => value?.measure?.name === "money");
}

export function outcomeOf({ verdict }: CheckResult): ComparedOutcome {
  if (verdict.nominal !== "holds") return verdict.nominal;
  if (verdict.rss === "fails") return "not in all that is likely";
  if (verdict.worst === "unknown") return "worst case not settled";
  return verdict.worst === "holds" ? "holds" : "not in the worst case";
}

// ───────────────────────────── helpers ─────────────────────────────

/**
 * What any variant asks for, and the headline figures of things in use that differ. Where a field
 * leads to another thing under another option, its figures go by the path through that field:
 * `rear.housing.face_to_face`, whichever housing that is.
 */
function pathsOf(all: readonly Analysis[]): string[] {
  const switched = switchedFields(all);
  const inUse = all.map((analysis) => new Set(thingsInUse(analysis, all)));
  const asked = all.map(askedPaths);
  const wanted = new Set<string>();
  const order = new Set(all.flatMap((analysis) => [...analysis.values.keys()]));
  for (const path of order) {
    for (const [column, analysis] of all.entries()) {
      const value = analysis.values.get(path);
      if (value === undefined || inUse[column]?.has(value.thing) !== true) continue;
      if (asked[column]?.has(path) !== true && !isHeadline(value)) continue;
      const named = throughField(value, switched[column]);
      if (asked[column]?.has(path) === true || isTelling(named, all)) wanted.add(named);
    }
  }
  return [...wanted];
}

/** For each variant: paths of the things that a field leads to, where it leads elsewhere in another. */
function switchedFields(variants: readonly Analysis[]): ReadonlyMap<string, string>[] {
  const switched = variants.map(() => new Map<string, string>());
  const [first] = variants;
  if (first === undefined) return switched;
  for (const [owner, fields] of references(first)) {
    for (const name of fields.keys()) {
      const targets = variants.map((variant) => references(variant).get(owner)?.get(name));
      if (new Set(targets).size <= 1) continue;
      for (const [column, target] of targets.entries())
        if (target !== undefined) switched[column]?.set(target, `${owner}.${name}`);
    }
  }
  return switched;
}

function throughField(value: Value, switched: ReadonlyMap<string, string> | undefined): string {
  for (let thing: Thing | undefined = value.thing; thing !== undefined; thing = thing.owner) {
    const field = switched?.get(thing.path);
    if (field !== undefined) return `${field}${value.path.slice(thing.path.length)}`;
  }
  return value.path;
}

/** True for a figure that is not the same throughout. */
function isTelling(path: string, variants: readonly Analysis[]): boolean {
  const texts = variants.map((analysis) => {
    const value = analysis.valueAt(path);
    return value === undefined ? "" : told(value, analysis).text;
  });
  return new Set(texts).size > 1;
}

/** Checks of things in use; those of a thing that only one variant uses cannot be judged elsewhere. */
function checksOf(all: readonly Analysis[]): ComparedCheck[] {
  const rows = new Map<
    string,
    ComparedCheck & { verdicts: ComparedOutcome[]; chances: (Chance | undefined)[] }
  >();
  for (const [column, analysis] of all.entries()) {
    const inUse = new Set(thingsInUse(analysis, all));
    for (const check of analysis.checks) {
      if (check.thing !== undefined && check.thing.path !== "" && !inUse.has(check.thing)) continue;
      const thing =
        check.thing === undefined || check.thing.path === "" ? undefined : check.thing.path;
      const key = `${thing ?? ""}\0${check.title}`;
      const row = rows.get(key) ?? {
        title: check.title,
        ...(thing === undefined ? {} : { thing }),
        verdicts: all.map(() => "unknown" as const),
        chances: all.map(() => undefined),
      };
      const outcome = outcomeOf(check);
      row.verdicts[column] = outcome;
      if (outcome === "not in all that is likely") row.chances[column] = check.chance();
      rows.set(key, row);
    }
  }
  // What cannot be judged anywhere says nothing.
  return [...rows.values()].filter(({ verdicts }) =>
    verdicts.some((outcome) => outcome !== "unknown"),
  );
}
