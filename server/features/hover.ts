/**
 * What the word under the pointer is and how its value came about: value, unit and standing first,
 * then tolerance, derivation and place, then what the field is.
 *
 *     hover(analysis, uri, offset)   →   **54 11/16 in** … solved …
 *
 * Must not know: how answers travel.
 */
import { type Hover, MarkupKind } from "vscode-languageserver";
import { textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Analysis, Value } from "../analysis/analysis";
import type { FieldDefinition, KindDefinition, TableDefinition } from "../model/definition";
import type { Thing } from "../model/thing";
import { builtBeside } from "../report/as-built";
import { told, toldInShort } from "../report/comes-out";
import { columnTitle, curvePath, curveTable } from "../report/curve-table";
import { markdownTable } from "../report/table";
import type { Role } from "../solve/system";
import { codeForMarkdown, forMarkdown } from "../text/untrusted-text";
import { type Measure, readQuantity, readUnit, unitsInWords } from "../units";
import { contributorLines, derivation, inputLines, linkTarget, linkTo } from "./derivation";
import {
  decimalOf,
  formInWords,
  inWords,
  needInWords,
  otherSystem,
  toleranceInWords,
  typeInWords,
} from "./figures";
import { functionHelp } from "./functions";
import { type HolderTarget, namesAt, pathOf, twinOf } from "./holder";
import { givenAt, type Meaning, meaningOf } from "./meaning";
import { rangeIn } from "./place";
import { type Spot, spotAt } from "./spot";
import { workInWords } from "./steps";

const mostAssumptions = 3;
const mostRows = 9;

export function hover(analysis: Analysis, uri: string, offset: number): Hover | undefined {
  const source = analysis.sourceOf(uri);
  const spot = source === undefined ? undefined : spotAt(source, offset);
  if (spot === undefined || spot.inComment) return undefined;
  const names = namesAt(analysis, uri);
  const named = meaningOf(names, uri, spot);
  const under = optionAround(analysis, spot);
  if (named !== undefined) {
    return answer(spot, named.name.span, meaningInMarkdown(under, named.meaning));
  }
  const unit = spot.nodes.find((node) => node.type === "unit");
  if (unit?.type === "unit") return answer(spot, unit.span, unitInMarkdown(unit));
  const curve = spot.nodes.findLast((node) => node.type === "curve");
  if (curve?.type === "curve") {
    return answer(spot, curve.name.span, curveInMarkdown(under, spot, curve));
  }
  const given = givenAt(names, spot.nodes);
  if (given === undefined || !onValue(spot, given.node)) return undefined;
  return answer(spot, given.node.value.span, meaningInMarkdown(under, given.target));
}

/** A value, how sure it is, how it came about, and what may be missing. */
export function valueInMarkdown(analysis: Analysis, value: Value): string {
  return joined(valueLines(analysis, value));
}

/** What a name stands for. */
export function meaningInMarkdown(analysis: Analysis, meaning: Meaning): string {
  switch (meaning.is) {
    case "field":
      return fieldInMarkdown(analysis, meaning);
    case "thing":
      return thingInMarkdown(analysis, meaning.holder.kind, meaning.holder.thing);
    case "kind":
      return kindInMarkdown(meaning.kind);
    case "designation": {
      const { title, name, forms, remarks } = meaning.designation;
      const list = forms.map((form) => `- ${codeForMarkdown(formInWords(form))}`);
      return joined([
        `**${forMarkdown(title)}**, designation \`${name}\``,
        "",
        "written as",
        ...list,
        "",
        sourceLine(remarks.source),
      ]);
    }
    case "table":
      return tableInMarkdown(meaning.table, meaning.column?.name);
    case "function":
      return functionHelp(meaning.name);
    case "measure":
      return measureInMarkdown(meaning.measure);
    case "twins": {
      const other = twinOf(meaning);
      const second = other?.is === "twins" ? other.holder : undefined;
      return [meaning.holder, ...(second === undefined ? [] : [second])]
        .map(({ kind, thing }) => thingInMarkdown(analysis, kind, thing))
        .join("\n\n");
    }
    case "namespace":
      return `things of [${forMarkdown(meaning.alias)}](${linkTarget(meaning.scope.file.uri)})`;
    case "option":
      return `**${forMarkdown(meaning.option.title ?? meaning.option.name)}**, option: givens laid over the spec`;
    case "choice":
      return joined([
        `**${forMarkdown(meaning.choice)}**`,
        "",
        fieldInMarkdown(analysis, meaning.target),
      ]);
  }
}

// ───────────────────────────── helpers ─────────────────────────────

function answer(spot: Spot, span: syntax.Span, value: string): Hover | undefined {
  if (value === "") return undefined;
  return {
    contents: { kind: MarkupKind.Markdown, value },
    range: rangeIn(spot.source, spot.item, span),
  };
}

/** Inside of an option, values are those under it. */
function optionAround(analysis: Analysis, { item }: Spot): Analysis {
  return item.node.type === "option" ? (analysis.under(item.node.name.text) ?? analysis) : analysis;
}

function onValue({ offset }: Spot, node: syntax.Given): boolean {
  return node.value.span.start <= offset && offset <= node.value.span.end;
}

// ── values ──

/** What is asked first comes first: an editor shows only so many lines without scrolling. */
function valueLines(analysis: Analysis, value: Value): string[] {
  const about = `${forMarkdown(value.field.description ?? inWords(value.field.name))}  `;
  const built = builtBeside(value, analysis);
  const asBuilt = built === undefined ? [] : [`as built ${forMarkdown(built.full)}  `];
  if (value.standing === "missing") {
    return [
      `**missing**, \`${value.path}\` cannot be worked out yet  `,
      about,
      ...asBuilt,
      ...needLines(analysis, value),
    ];
  }
  const { text, beside, standing, why } = told(value, analysis);
  const shown = { measure: value.measure, si: value.outcome()?.si ?? value.si };
  const also = [decimalOf(analysis, shown), otherSystem(shown, text)]
    .filter((each) => each !== undefined && each !== text)
    .join(", ");
  // Decimals of a fraction stand behind it already.
  const before = /^(?:wanted|drawn|written) /.test(beside) ? beside : "";
  const given = value.reason === undefined && value.anchor !== undefined;
  const place = given ? linkTo(analysis, value) : "";
  const tolerance = toleranceInWords(analysis, value);
  const comes = [before, tolerance].filter((each) => each !== undefined && each !== "");
  const inputs = inputLines(analysis, value);
  const shares = given && value.wanted === undefined ? [] : contributorLines(analysis, value);
  return [
    `**${forMarkdown(text)}**${also === "" ? "" : ` (${also})`}, ${standing}${why === undefined ? "" : `, ${forMarkdown(why)}`}${place}  `,
    about,
    ...(comes.length === 0
      ? []
      : [`${comes.map((each) => forMarkdown(each ?? "")).join(" · ")}  `]),
    ...asBuilt,
    ...assumptionLines(value),
    "",
    ...derivation(analysis, value),
    ...(inputs.length === 0 ? [] : ["", ...inputs]),
    ...(shares.length === 0 ? [] : ["", "its ± comes from", ...shares]),
  ];
}

function assumptionLines(value: Value): string[] {
  const shown = value.restsOn.slice(0, mostAssumptions).map(forMarkdown).join("; ");
  if (shown === "") return [];
  const more = value.restsOn.length - mostAssumptions;
  const all = `${shown}${more > 0 ? `; and ${more} more` : ""}`;
  return value.standing === "assumed"
    ? [`assumed unless something is given for it: ${all}  `]
    : [`rests on what was only assumed: ${all}  `];
}

function needLines(analysis: Analysis, value: Value): string[] {
  const asked = analysis.asked.find((each) => each.value.path === value.path);
  const sets = asked?.needs ?? [];
  if (sets.length === 0)
    return value.field.needs === undefined ? [] : ["", forMarkdown(value.field.needs)];
  return [
    "",
    "any of these would settle it:",
    ...sets.slice(0, 5).map((set) => `- ${set.map(needInWords).join(" and ")}`),
  ];
}

// ── fields, things, kinds ──

function fieldInMarkdown(analysis: Analysis, target: HolderTarget): string {
  if (target.is !== "field") return "";
  const field = target.part ?? target.field;
  const path = pathOf(target);
  const value = path === undefined ? undefined : analysis.valueAt(path);
  if (value === undefined && target.next?.thing !== undefined) {
    return joined([
      thingInMarkdown(analysis, target.next.kind, target.next.thing),
      "",
      ...aboutField(field),
    ]);
  }
  if (value === undefined) return joined(aboutField(field));
  const other = twinOf(target);
  const otherPath = other === undefined ? undefined : pathOf(other);
  const second = otherPath === undefined ? undefined : analysis.valueAt(otherPath);
  if (second === undefined)
    return joined([...valueLines(analysis, value), "", ...wordsOfField(field)]);
  // Said of both: each by its own name, since the two need not come to the same.
  const each = [value, second].flatMap((one) => [
    `\`${one.path}\``,
    "",
    ...valueLines(analysis, one),
    "",
  ]);
  return joined([...each, ...wordsOfField(field)]);
}

/** What a figure is, to somebody who meets the word for the first time. */
const roleInWords: Record<Role, string> = {
  measured: "measured: read off the vehicle or the part",
  bought: "bought: as its maker states it",
  made: "made: up to the shop",
  wanted: "wanted: how it is to come out",
  case: "a case to look at",
  setting: "a setting of the work",
  limit: "a limit to hold it against",
  constant: "a constant",
};

function aboutField(field: FieldDefinition): string[] {
  return [`${forMarkdown(field.description ?? inWords(field.name))}  `, ...wordsOfField(field)];
}

/** What it holds, where it is looked for, what to measure where it is open. */
function wordsOfField(field: FieldDefinition): string[] {
  const words = [
    typeInWords(field.type),
    field.role === undefined ? undefined : roleInWords[field.role],
    field.default === undefined
      ? undefined
      : `assumed ${textAt({ ...field.anchor, span: field.default.span })} unless given`,
    field.range === undefined
      ? undefined
      : `looked for in ${textAt({ ...field.anchor, span: field.range.span })}`,
  ].filter((word) => word !== undefined);
  return [
    `*${words.map(forMarkdown).join("; ")}*`,
    ...(field.needs === undefined ? [] : ["", `where it is open: ${forMarkdown(field.needs)}`]),
  ];
}

/** Its headline figures, and of a step or joint what there is to know before doing it. */
export function thingInMarkdown(
  analysis: Analysis,
  kind: KindDefinition,
  thing: Thing | undefined,
): string {
  if (thing === undefined) return kindInMarkdown(kind);
  const work = workInWords(analysis, thing);
  const figures: string[] = [];
  for (const field of kind.fields.values()) {
    const value = analysis.valueAt(`${thing.path}.${field.name}`);
    if (value === undefined || (!field.shown && value.standing !== "given")) continue;
    figures.push(`- ${inWords(field.name)}: ${forMarkdown(toldInShort(value, analysis))}`);
    if (figures.length >= 12) break;
  }
  const failing = analysis.checks.filter(
    (check) => check.thing === thing && check.verdict.nominal === "fails",
  );
  return joined([
    `**${forMarkdown(thing.title ?? thing.path)}**, ${inWords(kind.name)} \`${thing.path}\``,
    "",
    ...(work?.lines ?? []),
    "",
    ...(work?.whole === true ? [] : figures),
    ...(failing.length === 0
      ? []
      : ["", ...failing.map((check) => `does not hold: ${forMarkdown(check.title)}`)]),
  ]);
}

function kindInMarkdown(kind: KindDefinition): string {
  const fields = [...kind.fields.values()];
  const shown = fields
    .slice(0, 14)
    .map(
      (field) =>
        `- \`${field.name}\`: ${forMarkdown(field.description ?? typeInWords(field.type))}`,
    );
  return joined([
    `**${forMarkdown(kind.title)}**, kind \`${kind.name}\``,
    "",
    ...shown,
    ...(fields.length > 14 ? [`- and ${fields.length - 14} more`] : []),
    "",
    sourceLine(kind.remarks.source),
  ]);
}

function tableInMarkdown(table: TableDefinition, column: string | undefined): string {
  const columns = table.columns.map((each) => {
    const name = each.name === column ? `**\`${each.name}\`**` : `\`${each.name}\``;
    return `- ${name}${each.key ? ", looked up by" : ""}: ${forMarkdown(each.description ?? typeInWords(each.type))}`;
  });
  const between = {
    exact: "exact rows only",
    linear: "straight lines between the rows",
    step: "each row up to the next",
  };
  return joined([
    `**${forMarkdown(table.title)}**, table \`${table.name}\`, ${table.rows.length} rows, ${between[table.lookup]}`,
    "",
    ...columns,
    "",
    sourceLine(table.remarks.source),
  ]);
}

/** Some of its points, for the first of the things that have it. */
function curveInMarkdown(
  analysis: Analysis,
  { item }: Spot,
  { span, title, name }: syntax.Curve,
): string {
  const all = analysis.curves.filter(
    ({ anchor }) =>
      anchor.item === item && anchor.span.start >= span.start && anchor.span.end <= span.end,
  );
  const [curve, ...others] = all;
  if (curve === undefined) {
    return `**${forMarkdown(title?.value ?? name.text)}**: no thing of this build has it, or what it is made of is not there`;
  }
  const { parameter, value, rows, points } = curveTable(curve, analysis, mostRows);
  const table = markdownTable(
    [forMarkdown(columnTitle(parameter)), forMarkdown(columnTitle(value))],
    rows.map((row) => [...row]),
  );
  const some = points > rows.length ? `${rows.length} of ${points} points` : "";
  return joined([
    `**${forMarkdown(curve.title)}**, \`${curvePath(curve)}\``,
    "",
    ...(rows.length === 0 ? ["no points: what it is made of is open"] : table),
    "",
    [some, others.length === 0 ? "" : `so too for ${others.map(curvePath).slice(0, 5).join(", ")}`]
      .filter((each) => each !== "")
      .join("; "),
    "",
    sourceLine(curve.remarks.source),
  ]);
}

function measureInMarkdown(measure: Measure): string {
  const units = unitsInWords(measure, 8);
  return units === ""
    ? `**${measure.title}**, a plain number`
    : `**${measure.title}**, in ${units}`;
}

/** `lb-ft`: a torque; 1 lb-ft = 1.3558 N-m */
function unitInMarkdown(unit: syntax.UnitReference): string {
  const read = readUnit(unit.text);
  const one = readQuantity(`1 ${unit.text}`);
  if (read === undefined || "problem" in one) return "";
  const si = Number(one.si.toPrecision(7));
  const what = read.measure === undefined ? "a unit" : `a unit of ${inWords(read.measure)}`;
  return `**${unit.text}**, ${what}${read.offset === 0 && si !== 1 ? `; 1 ${unit.text} is ${si} in SI units` : ""}`;
}

function sourceLine(source: string | undefined): string {
  return source === undefined ? "" : `source: ${forMarkdown(source)}`;
}

/** Paragraphs without empty ones in a row. */
function joined(lines: readonly string[]): string {
  return lines
    .join("\n")
    .replace(/\n{3,}/g, "\n\n")
    .trim();
}
