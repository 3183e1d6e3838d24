/**
 * The same pack as Markdown, for a pull request: figures and steps as tables and boxes, without
 * pictures.
 *
 * Must not know: analyses, HTML.
 */
import { forMarkdown } from "../text/untrusted-text";
import { screening } from "./html";
import type { Pack, Sheet } from "./pack";

export function sheetsMarkdown(pack: Pack): string {
  const view = pack.option === undefined ? "" : `, option ${forMarkdown(pack.option)}`;
  const lines = [
    `# ${forMarkdown(pack.title)}`,
    "",
    `${forMarkdown(pack.file)}, revision ${forMarkdown(pack.revision ?? "not under git")}, ${pack.date}, ${pack.units}${view}${pack.asBuilt === true ? ", as built" : ""}`,
    ...pack.sheets.flatMap(sheetLines),
    "",
    `> ${screening}`,
  ];
  return `${lines.join("\n").replaceAll(/\n{3,}/g, "\n\n")}\n`;
}

// ───────────────────────────── helpers ─────────────────────────────

function sheetLines(sheet: Sheet): string[] {
  return [
    "",
    `## ${sheet.title}`,
    ...sheet.cautions.map((text) => `\n> **Caution:** ${forMarkdown(text)}`),
    ...(sheet.findings.length === 0 ? [] : [""]),
    ...sheet.findings.map(({ severity, text }) => `- **${severity}**: ${forMarkdown(text)}`),
    ...figureLines(sheet),
    ...readingLines(sheet),
    ...(sheet.steps.length === 0 ? [] : [""]),
    ...sheet.steps.flatMap(({ done, number, title, lines, hold, doneNote }) => [
      `- [${done ? "x" : " "}] ${number}. ${forMarkdown(title)}${doneNote === "" ? "" : ` (${forMarkdown(doneNote)})`}`,
      ...lines.map((line) => `  ${forMarkdown(line)}`),
      ...(hold === undefined ? [] : [`  **Hold point: wait ${forMarkdown(hold)}**`]),
    ]),
    ...sheet.joints.flatMap(({ title, facts, passes }) => [
      "",
      `### ${forMarkdown(title)}`,
      "",
      forMarkdown(facts.join("; ")),
      "",
      ...table(
        ["pass", "share", "torque", "set wrench to", "note"],
        passes.map((pass) => [
          String(pass.number),
          pass.share,
          pass.torque,
          pass.setting,
          pass.note,
        ]),
      ),
    ]),
    ...closingLines(sheet),
  ];
}

function figureLines({ figures }: Sheet): string[] {
  return figures.flatMap(({ title, path, rows }) => [
    "",
    `**${forMarkdown(title)}** ${forMarkdown(path)}`,
    "",
    ...table(
      ["figure", "reads", "±", "standing"],
      rows.map(({ name, figure, beside, tolerance, standing }) => [
        name,
        beside === "" ? figure : `${figure}, ${beside}`,
        tolerance,
        standing,
      ]),
    ),
  ]);
}

function readingLines({ readings }: Sheet): string[] {
  if (readings.length === 0) return [];
  return [
    "",
    "**Still to be measured**",
    "",
    ...table(
      ["figure", "how", "now", "needed to", "read with", "measured"],
      readings.map(({ path, how, now = "", within, instrument = "" }) => [
        path,
        how,
        now,
        within?.text ?? "",
        instrument,
        "",
      ]),
    ),
  ];
}

function closingLines({ closing }: Sheet): string[] {
  if (closing === undefined) return [];
  const list = (title: string, items: readonly string[]): string[] =>
    items.length === 0
      ? []
      : ["", `### ${title}`, "", ...items.map((item) => `1. ${forMarkdown(item)}`)];
  return [
    ...list("Still missing", closing.missing),
    ...list("Accepted out of tolerance", closing.accepted),
    ...list("Assumed, as nothing in the build says otherwise", closing.assumptions),
    "",
    "### Bill and order list",
    "",
    ...table(
      ["how many", "what", "size", "note", "price of one"],
      closing.order.map((line) => [line.quantity, line.title, line.size, line.note, line.price]),
    ),
  ];
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const line = (cells: readonly string[]): string => `| ${cells.map(forMarkdown).join(" | ")} |`;
  return [line(head), `|${" --- |".repeat(head.length)}`, ...rows.map(line)];
}
