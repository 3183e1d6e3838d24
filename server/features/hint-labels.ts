/**
 * What hints say of figures, fullest first: asked for, wanted, headline, measured.
 *
 * Must not know: where hints stand, how much room they have.
 */
import type { Analysis, AskedValue, Value } from "../analysis/analysis";
import type { Measurement } from "../analysis/records";
import type { Thing } from "../model/thing";
import { builtBeside } from "../report/as-built";
import { told, toldInShort } from "../report/comes-out";
import { forMarkdown } from "../text/untrusted-text";
import { displayOf, type Measure, measureNamed, readUnit } from "../units";
import { headlines, inWords, needInWords, shortPath, toleranceOf } from "./figures";

/** What an asked figure may say, fullest first: `= 54 11/16 in ± 3/32, spacer assumed`. */
export function askedLabels(analysis: Analysis, asked: AskedValue): readonly string[] {
  const { value } = asked;
  // What was built was not built under an option.
  const built = asked.option === undefined ? builtMark(analysis, value) : "";
  if (value.standing !== "missing") {
    const figure = `= ${told(value, analysis).text}`;
    const sure = `${figure}${tolerance(analysis, value)}`;
    const whole = `${sure}${built}`;
    const marked = marks(value).map((mark) => `${whole}${mark}`);
    return unlike([...marked, whole, `${figure}${built}`, ...builtAlone(built), figure]);
  }
  // Advice that nobody worked out yet is not waited for.
  const [set] = asked.advised ? asked.needs : [];
  if (built !== "") return [`missing${built}`, ...builtAlone(built)];
  if (set === undefined) return ["missing"];
  const names = set.map((need) => shortPath(need.path, value.thing)).join(" and ");
  const shorter =
    set.length === 1 ? "missing: see below" : `missing: ${set.length} further figures`;
  return [`missing: give ${names}`, shorter, "missing"];
}

export function wishLabels(analysis: Analysis, value: Value): string[] {
  const { text } = told(value, analysis);
  const by = tolerance(analysis, value, true);
  const quiet = value.wanted?.held === true && by === "" && builtMark(analysis, value) === "";
  if (value.standing === "missing" || quiet) return [];
  const sure = `→ ${text}${by === "" ? "" : `${by} likely`}`;
  const built = builtMark(analysis, value);
  return unlike([`${sure}${built}`, `→ ${text}${built}`, ...builtAlone(built), `→ ${text}`]);
}

/** `, built 0.879 in`, where the records make another figure of it. */
function builtMark(analysis: Analysis, value: Value): string {
  const built = builtBeside(value, analysis);
  return built === undefined ? "" : `, built ${built.text}`;
}

/** `built 0.879 in`: where there is room for one figure, how it is goes before how it was to be. */
function builtAlone(mark: string): string[] {
  return mark === "" ? [] : [mark.replace(/^, /, "")];
}

/** All of the figures, all without their units, then ever fewer of them. */
export function headlineLabels(analysis: Analysis, values: readonly Value[]): string[] {
  const [most] = counted(values.length);
  if (most === undefined) return [];
  const words = (value: Value, units: boolean): string => {
    const { text } = told(value, analysis);
    const figure = units ? text : text.replace(/(?<=\d)\s+\D+$/u, "");
    return `${inWords(value.field.name)} ${figure}${value.standing === "assumed" ? " assumed" : ""}`;
  };
  return counted(values.length).flatMap((count) =>
    [true, false].map((units) =>
      values
        .slice(0, count)
        .map((value) => words(value, units))
        .join(", "),
    ),
  );
}

/** 3, 2, 1 */
function counted(count: number): number[] {
  return Array.from({ length: count }, (_, index) => count - index);
}

export function headlineLines(analysis: Analysis, thing: Thing): string[] {
  const lines = headlines(thing, (path) => analysis.valueAt(path)).map(
    (value) => `- ${inWords(value.field.name)}: ${forMarkdown(toldInShort(value, analysis))}`,
  );
  return [`**${forMarkdown(thing.title ?? thing.kind.title)}**`, "", ...lines];
}

/** `as specified`, `within tolerance, 1/32 in over`, `spec 24 11/16 in, 1/32 in over`. */
export function recordLabel(analysis: Analysis, measurement: Measurement): string | undefined {
  const { value, si, acceptance, low = 0, high = 0 } = measurement;
  const { measure } = value;
  const spec = value.outcome()?.si ?? value.si;
  if (spec === undefined || measure === undefined) return undefined;
  const off = Math.abs(si - spec);
  if (off < measure.scale * 1e-6) return "as specified";
  const far = toleranceOf(off, asWritten(value, measure), analysis)?.replace(/^±\s*/, "");
  const side = `${far} ${si > spec ? "over" : "under"}`;
  if (acceptance === undefined || acceptance === "outside" || high <= low)
    return `spec ${told(value, analysis).text}, ${side}`;
  if (acceptance === "unclear" && (si < low || si > high)) return `too close to call, ${side}`;
  // Of limits that are written, the middle means nothing.
  const written = value.thing.entries.get(value.field.name)?.value;
  return written?.type === "limits" ? "within tolerance" : `within tolerance, ${side}`;
}

/** A spec written in other units than its field is shown in by itself is compared in the build's. */
function asWritten({ written }: Value, measure: Measure): Measure {
  const own = [measure.inch.unit, measure.metric.unit].some((unit) => written?.endsWith(unit));
  return measure.own && !own ? (measureNamed(measure.name) ?? measure) : measure;
}

export function needLines(value: Value, needs: AskedValue["needs"]): string[] {
  const sets = needs.slice(0, 5).map((set) => `- ${set.map(needInWords).join(" and ")}`);
  const lead =
    sets.length === 0
      ? `\`${value.path}\` cannot be worked out: nothing in the build leads to it`
      : `\`${value.path}\` cannot be worked out yet. Any of these would settle it:`;
  return [lead, "", ...sets];
}

// ───────────────────────────── helpers ─────────────────────────────

function unlike(labels: readonly string[]): string[] {
  return [...new Set(labels)];
}

/** ` ± 3/32`, where it is more than half of the step the figure is shown in. */
function tolerance(analysis: Analysis, value: Value, likely = false): string {
  const { measure } = value;
  const outcome = measure === undefined ? undefined : value.outcome();
  if (measure === undefined || outcome === undefined) return "";
  // The larger side of either.
  const by = likely
    ? Math.min(outcome.worst, outcome.rss + Math.abs(outcome.shift))
    : outcome.worst;
  if (!Number.isFinite(by) || by <= stepShown(analysis, value, measure) / 2) return "";
  const text = toleranceOf(by, measure, analysis);
  // The unit stands behind the figure already.
  return text === undefined ? "" : ` ${text.replace(/\s*[^\d\s/.]+$/u, "")}`;
}

/** In SI: the increment of its measure, else one of the last digit that is written. */
function stepShown(analysis: Analysis, value: Value, measure: Measure): number {
  const display = displayOf(measure, analysis.style);
  const unit = readUnit(display.unit, measure)?.factor ?? 1;
  if (display.increment !== undefined) return display.increment.step * unit;
  const digits = /\.(\d+)/.exec(analysis.write(value))?.[1]?.length ?? 0;
  return 10 ** -digits * unit;
}

/** What is only assumed says so, and what rests on that names it, as many as there is room for. */
function marks(value: Value): string[] {
  if (value.standing === "assumed") return [", assumed"];
  const names = unlike(value.restsOn.map((title) => defaultOf(title) ?? title));
  const [first] = names;
  if (first === undefined) return [];
  const and = (some: readonly string[]): string =>
    some.length < 2 ? some.join("") : `${some.slice(0, -1).join(", ")} and ${some.at(-1)}`;
  const whole = `, ${and(names)} assumed`;
  return names.length < 2 ? [whole] : [whole, `, ${first} and ${names.length - 1} more assumed`];
}

/** `spacer` of `rear.left.spacer is 0 in`; nothing for the title of a relation. */
function defaultOf(title: string): string | undefined {
  const path = /^([\p{L}_][\p{L}\p{N}_]*(?:\.[\p{L}\p{N}_]+)+) is /u.exec(title)?.[1];
  return path === undefined ? undefined : inWords(path.slice(path.lastIndexOf(".") + 1));
}
