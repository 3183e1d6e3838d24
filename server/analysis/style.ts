/**
 * In which units a build is shown: as its display block says, else as the reader's settings say,
 * else as most of its own lengths are written.
 *
 * Must not know: values.
 */

import type * as syntax from "../../grammar/syntax";
import type { Item, SourceFile } from "../../grammar/syntax";
import { walkInAnyOrder } from "../../grammar/walk";
import type { Found } from "../findings/worded";
import {
  currencies,
  type DisplayStyle,
  type DisplayUnit,
  defaultStyle,
  measures,
  parseStyle,
  readUnit,
  type UnitSystem,
  withDisplay,
} from "../units";
import type { AnalysisSettings } from "./analysis";
import type { BuildFile, BuildFiles } from "./files";

export function builtStyle(
  build: BuildFiles,
  settings: AnalysisSettings,
): { style: DisplayStyle; findings: Found[] } {
  const findings: Found[] = [];
  const displays = new Map<string, DisplayUnit>();
  const { root } = build;
  // A log or list that says nothing about it shows figures as what it uses does.
  const shows = [root, ...build.files].find(
    (file) => !file.library && file.source.items.some(({ node }) => node.type === "display"),
  );
  for (const item of shows?.source.items ?? []) {
    if (item.node.type !== "display") continue;
    const said = shows === root ? findings : [];
    for (const entry of item.node.entries) {
      readEntry(entry, item, shows?.uri ?? root.uri, displays, said);
    }
  }
  const written = unitsWritten(build);
  const system = settings.system ?? written.system;
  let style = defaultStyle(system);
  const currency = written.currency;
  if (currency !== undefined) {
    style = withDisplay(
      style,
      measures.flatMap((measure) =>
        measure.name === "money" ? [[measure.name, { unit: currency }] as const] : [],
      ),
    );
  }
  const increment = settings.lengthIncrement;
  if (system === "inch" && increment !== undefined) {
    const parsed = parseStyle("length", "in", increment === "decimal" ? "0.001" : increment);
    if ("measure" in parsed) style = withDisplay(style, [[parsed.measure, parsed.display]]);
  }
  // A reader who asks for the other system gets it throughout.
  if (settings.system === undefined || settings.system === written.system)
    style = withDisplay(style, displays);
  return { style, findings };
}

// ───────────────────────────── helpers ─────────────────────────────

function readEntry(
  entry: syntax.DisplayEntry,
  item: Item,
  uri: string,
  displays: Map<string, DisplayUnit>,
  findings: Found[],
): void {
  const parsed = parseStyle(entry.measure.text, entry.unit.text, entry.increment?.text);
  if ("measure" in parsed) {
    displays.set(parsed.measure, parsed.display);
    return;
  }
  const span =
    parsed.problem === "unknown-measure"
      ? entry.measure.span
      : parsed.problem === "bad-increment"
        ? (entry.increment?.span ?? entry.span)
        : entry.unit.span;
  const anchor = { uri, item, span };
  findings.push(
    parsed.problem === "wrong-unit"
      ? { is: "display/wrong-unit", ...parsed, anchor }
      : { is: `display/${parsed.problem}`, ...parsed, anchor },
  );
}

interface UnitsWritten {
  readonly system: UnitSystem;
  readonly currency?: string;
}

/** The build's own lines decide; those of parts lists and logs only where these say nothing. */
function unitsWritten({ root, files }: BuildFiles): UnitsWritten {
  const own = countsIn([root]);
  const others = files.filter((file) => file !== root);
  const { inch, metric } = own.inch === own.metric ? countsIn(others) : own;
  const currency = own.currency ?? countsIn(others.filter(mayNameMoney)).currency;
  return { system: metric > inch ? "metric" : "inch", currency };
}

function countsIn(files: readonly BuildFile[]): Counts {
  let inch = 0;
  let metric = 0;
  let currency: string | undefined;
  for (const file of files) {
    for (const item of file.source.items) {
      const counts = countsOf(item);
      inch += counts.inch;
      metric += counts.metric;
      currency ??= counts.currency;
    }
  }
  return { inch, metric, currency };
}

const money = new RegExp(`[\\d\\s](?:${[...currencies].join("|")})(?!\\w)`, "i");
const moneyKnown = new WeakMap<SourceFile, boolean>();

/** Whether a text names a currency at all: a log of thousands of entries hardly ever does. */
function mayNameMoney({ source }: BuildFile): boolean {
  const before = moneyKnown.get(source);
  if (before !== undefined) return before;
  const made = money.test(source.text);
  moneyKnown.set(source, made);
  return made;
}

interface Counts {
  readonly inch: number;
  readonly metric: number;
  readonly currency?: string;
}

const known = new WeakMap<Item, Counts>();

function countsOf(item: Item): Counts {
  const before = known.get(item);
  if (before !== undefined) return before;
  let inch = 0;
  let metric = 0;
  let currency: string | undefined;
  let first = Number.POSITIVE_INFINITY;
  walkInAnyOrder(item.node, (node) => {
    if (!("type" in node) || node.type !== "unit") return;
    if (readUnit(node.text)?.measure === "length") {
      if (["in", "ft", "thou", "yd", "mi"].includes(node.text)) inch++;
      else metric++;
    }
    const money = currencyOf(node.text);
    if (money === undefined || node.span.start >= first) return;
    currency = money;
    first = node.span.start;
  });
  const counts: Counts = { inch, metric, currency };
  known.set(item, counts);
  return counts;
}

function currencyOf(unit: string): string | undefined {
  return currencies.has(unit.toLowerCase()) || currencies.has(unit.toUpperCase())
    ? unit
    : undefined;
}
