/**
 * Derivations and ways to make a check hold, as lines of text.
 *
 *     rear_housing.face_to_face = 54 11/16 in, rounded from 54.679 in: solved
 *       housing.face_to_face = left.half + right.half
 *       54.679 in = 27.402 in + 27.277 in
 *
 * Must not know: files, arguments.
 */
import type { Analysis, CheckResult, Contradiction, Mendable, Value } from "../analysis/analysis";
import type { FittingChange, Tried } from "../analysis/changes-tried";
import { plainOutcome, told } from "../report/comes-out";
import { type Derivation, whateverElse } from "../report/derivation";
import { isFoundOnly } from "../report/figure";
import { textTable } from "../report/table";
import { failingLevel } from "../solve";
import type { FitLevel } from "../solve/system";
import { type Measure, writeTolerance } from "../units";
import { type Palette, paintStanding } from "./palette";

export function derivationLines(top: Derivation, analysis: Analysis, palette: Palette): string[] {
  const lines = [
    ...valueLines(top, analysis, palette, true),
    ...contributorLines(top.value, analysis),
  ];
  if (top.value.othersNotExcluded === true)
    lines.push("  this answer was found; others are not excluded");
  const assumed = top.value.restsOn.filter((title) => title !== top.value.reason?.title);
  if (assumed.length > 0)
    lines.push(
      `  rests on ${assumed.length > 1 ? "assumptions" : "an assumption"}: ${assumed.join("; ")}`,
    );
  if (top.inputs.length > 0) lines.push("", ...inputLines(top.inputs, "", analysis, palette));
  return lines;
}

export interface ToMend {
  readonly contradictions: readonly Contradiction[];
  readonly checks: readonly CheckResult[];
}

export function fitLines(
  { contradictions, checks }: ToMend,
  analysis: Analysis,
  palette: Palette,
): string[] {
  const blocks = [
    ...contradictions.map((each) => {
      const { measured } = each;
      // What was only read is read again: that no change helps is no news then.
      const onlyRead = measured.length > 0 && each.fits().length === 0;
      return [
        palette.bold(each.message),
        ...(onlyRead
          ? []
          : candidateLines(each, { would: "they would agree", makes: "them agree" }, analysis)),
        ...partLines(each),
        ...(measured.length === 0
          ? []
          : [`  ${onlyRead ? "" : "or "}measure again: ${measured.join(", ")}`]),
      ];
    }),
    ...checks.map((check) => {
      const level = failingLevel(check.verdict) ?? "nominal";
      return [
        palette.bold(`${subjectOf(check)}${check.title}`),
        `  ${failsAt[level]}: ${check.condition}`,
        ...candidateLines(check, { would: "it would hold", makes: "it hold", level }, analysis),
        ...partLines(check),
        ...tighterLines(check),
      ];
    }),
  ];
  if (blocks.length === 0) return ["nothing contradicts, and no such check fails"];
  return blocks.flatMap((lines, index) => (index === 0 ? lines : ["", ...lines]));
}

// ───────────────────────────── helpers ─────────────────────────────

function candidateLines(
  wrong: Mendable,
  {
    would,
    makes,
    level,
  }: { readonly would: string; readonly makes: string; readonly level?: FitLevel },
  analysis: Analysis,
): string[] {
  const fits = wrong.fits();
  if (fits.length === 0) return [`  no change of one figure, nor of two together, makes ${makes}`];
  const widest = Math.max(...fits.map((fit) => changeOf(fit).length));
  return [
    `  ${would} with ${fits.length === 1 ? "this change" : "any one of these changes, those that break nothing first, what is made before what is bought"}:`,
    ...fits.flatMap((fit) => {
      const [first] = fit.offers;
      const now = first === undefined ? undefined : analysis.valueAt(first.path);
      const was = now === undefined ? "" : `instead of ${now.written ?? analysis.write(now)}`;
      const sure = fit.holds === level || fit.holds === "nominal" ? "" : `, ${holdsAt[fit.holds]}`;
      return [
        `    ${changeOf(fit).padEnd(widest)}  ${was}${sure}`.trimEnd(),
        ...takes(fit).map((each) => `      ${each}`),
        ...effectLines(fit),
      ];
    }),
  ];
}

/** Parts that are there already. */
function partLines(wrong: Mendable): string[] {
  const parts = wrong.otherParts();
  if (parts.length === 0) return [];
  return [
    "  or with another part that is there:",
    ...parts.flatMap((each) => [
      `    ${each.path}: ${each.part}  instead of ${each.was}`,
      ...effectLines(each),
    ]),
  ];
}

function effectLines({ moves, breaks }: Tried): string[] {
  const moved = moves.map(({ path, from, to }) => `${path} ${from} to ${to}`);
  const broken = breaks.map(({ title, level }) => `${title}${brokenAt[level]}`);
  return [
    ...(moved.length === 0 ? [] : [`      moves ${moved.join("; ")}`]),
    ...(broken.length === 0 ? [] : [`      breaks ${broken.join("; ")}`]),
  ];
}

/** Tolerances to tighten in place of a change. */
function tighterLines(check: CheckResult): string[] {
  const ways = check.tighter().map(({ figures, share }) => {
    const told = figures.map(({ path, to, from }) => `${path} ${to} instead of ${from}`);
    const kept = `${Math.floor(100 * share)} %`;
    return figures.length > 3
      ? `    all ${figures.length} tolerances behind it cut to ${kept}`
      : `    ${told.join(" and ")}`;
  });
  if (ways.length === 0) return [];
  const first = ways.length > 1 ? ", the one to tighten least first" : "";
  return [`  or with a tighter tolerance${first}:`, ...ways];
}

const failsAt = {
  nominal: "fails",
  rss: "not in all that is likely with these tolerances",
  worst: "fails in the worst case",
} as const;
const holdsAt = {
  nominal: "",
  rss: "holds in all that is likely",
  worst: "holds in the worst case too",
} as const;
const brokenAt = { nominal: "", rss: " (likely)", worst: " (in the worst case)" } as const;

function changeOf({ offers }: FittingChange): string {
  return offers.map(({ path, shown }) => `${path}: ${shown}`).join(" and ");
}

/** What a change takes, by what its figures are. */
function takes({ offers }: FittingChange): string[] {
  return offers.flatMap(({ path, shown, role, file }) => {
    const where = file === undefined ? "" : ` (it is written in ${file}, which others may use)`;
    switch (role) {
      case "bought":
        return `takes another part: look for one with ${nameOf(path)} ${shown}${where}`;
      case "wanted":
        return `gives up what was wanted: accepts ${shown} for ${nameOf(path)}${where}`;
      case "limit":
        return `moves the limit itself, ${nameOf(path)}${where}`;
      default:
        return where === "" ? [] : `changes ${path}${where}`;
    }
  });
}

function nameOf(path: string): string {
  return path.slice(path.lastIndexOf(".") + 1);
}

function subjectOf(check: CheckResult): string {
  return check.thing === undefined || check.thing.path === "" ? "" : `${check.thing.path}: `;
}

/** The value, and its relation in symbols and in numbers; more of it for the one asked about. */
function valueLines(node: Derivation, analysis: Analysis, palette: Palette, top = false): string[] {
  const { value } = node;
  const { text, beside, tolerance, standing: how, why, drawn } = told(value, analysis);
  const parts = [
    value.standing === "missing"
      ? "missing"
      : `${palette.bold(text)}${beside === "" || beside.startsWith("=") ? "" : ","}${beside === "" ? "" : ` ${beside}`}`,
    ...(tolerance === undefined
      ? []
      : top
        ? [
            `${tolerance.worst} worst case${isFoundOnly(value) ? " as far as was found" : ""}`,
            `${tolerance.rss} likely (rss)`,
          ]
        : [tolerance.worst]),
  ];
  const standing =
    value.standing === "missing"
      ? ""
      : `: ${paintStanding(palette, value.standing)(standingInWords(value, how, why))}`;
  const lines = [`${value.path} = ${parts.join(", ")}${standing}`];
  const { reason } = value;
  if (top && value.field.description !== undefined && reason === undefined)
    lines[0] += palette.dim(`  (${value.field.description})`);
  if (reason === undefined) return lines;
  if (reason.kind !== "default") lines.push(`  ${reason.formula}`);
  if (node.numbers !== undefined && reason.inputs.length > 0)
    lines.push(`  ${drawn ? "as drawn: " : ""}${node.numbers}`);
  const { source, because } = reason.remarks;
  if (source !== undefined) lines.push(palette.dim(`  source: ${source}`));
  if (because !== undefined) lines.push(palette.dim(`  because: ${because}`));
  if (reason.together.length > 1) {
    const others = [...new Set(reason.together)].filter((title) => title !== reason.title);
    const so = reason.together.length - 1;
    const how =
      others.length > 0
        ? `with: ${others.join("; ")}`
        : `with “${reason.title}” of ${so} ${so > 1 ? "others" : "other"}`;
    lines.push(palette.dim(`  solved together ${how}`));
  }
  if (reason.whatever !== undefined) lines.push(palette.dim(`  ${whateverElse(reason.whatever)}`));
  return lines;
}

/** `made by “saw line”, answers rear.left.inner_gap` */
function standingInWords({ reason }: Value, how: string, why: string | undefined): string {
  return `${how}${reason === undefined ? "" : reasonInWords(reason)}${why === undefined ? "" : `, ${why}`}`;
}

function reasonInWords({ kind, title }: NonNullable<Value["reason"]>): string {
  switch (kind) {
    case "relation":
      return ` by “${title}”`;
    case "assumed relation":
      return ` by “${title}”, which is assumed`;
    case "wish":
      return ` by “${title}”, which is wanted`;
    case "formula":
      return " as the build writes it";
    case "default":
      return ", the default";
  }
}

/** Where its ± comes from, the largest share first. */
function contributorLines(value: Value, analysis: Analysis): string[] {
  const written = value.standing === "given" || value.standing === "measured";
  if (written && value.wanted === undefined) return [];
  const all = value.outcome()?.contributors() ?? [];
  // What is made has no ± but that of its making.
  const contributors = all.length === 1 && all[0]?.path === value.path ? [] : all;
  const { measure } = value;
  if (contributors.length === 0 || measure === undefined) return [];
  const most = 12;
  const rows = contributors.slice(0, most).map(({ path, share, below, above }) => {
    const given = analysis.valueAt(path);
    const own = given === undefined ? undefined : told(given, analysis).tolerance;
    return [
      { text: `${Math.round(share * 100)} %`, right: true },
      path,
      given === undefined
        ? ""
        : `${plainOutcome(given, analysis)}${own === undefined ? "" : ` ${own.worst}`}`,
      `moves it by ${movedBy(Math.max(below, above), measure, analysis)}`,
    ];
  });
  const left = contributors.length - most;
  return [
    "  its ± comes from:",
    ...textTable(rows, "    "),
    ...(left > 0 ? [`    and ${left} more`] : []),
  ];
}

function movedBy(by: number, measure: Measure, { style }: Analysis): string {
  if (!Number.isFinite(by)) return "more than there are numbers for";
  return writeTolerance(by, measure, style)?.text.replace(/^±\s*/, "") ?? "";
}

/** The inputs as a tree, each with its own below it. */
function inputLines(
  inputs: readonly Derivation[],
  prefix: string,
  analysis: Analysis,
  palette: Palette,
): string[] {
  return inputs.flatMap((input, index) => {
    const last = index === inputs.length - 1;
    const all = valueLines(input, analysis, palette);
    // What is opened at another place is not told twice.
    const own =
      input.closed === "elsewhere"
        ? [`${all[0]}${palette.dim("  … opened elsewhere in this list")}`]
        : all;
    const more = input.closed === "deeper" ? [palette.dim("  … goes deeper")] : [];
    const below = `${prefix}${last ? "   " : "│  "}`;
    const bar = input.inputs.length > 0 ? "│" : " ";
    return [
      `${prefix}${last ? "└─ " : "├─ "}${own[0] ?? ""}`,
      ...[...own.slice(1), ...more].map((line) => `${below}${bar}${line.slice(1)}`),
      ...inputLines(input.inputs, below, analysis, palette),
    ];
  });
}
