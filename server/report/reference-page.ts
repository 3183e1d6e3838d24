/**
 * A subject of the library as a page of Markdown for people who never read code: what its kinds
 * hold, how their figures hang together, what is checked, and where all of it comes from.
 *
 *     referencePage("axle", library)
 *
 * A comment block in the library file that begins with `# Example` becomes an example, with what
 * it comes out at below it.
 *
 * Must not know: any subject.
 */

import { type Anchor, textAt } from "../../grammar/anchor";
import type * as syntax from "../../grammar/syntax";
import type { Library } from "../analysis/library";
import { libraryScheme } from "../analysis/library";
import type {
  CheckDefinition,
  DesignationDefinition,
  FieldDefinition,
  FieldType,
  KindDefinition,
  OrderDefinition,
  RelationDefinition,
  Remarks,
  TableDefinition,
} from "../model/definition";
import { fromSi, readUnit, unitsInWords } from "../units";
import { commentBlocks, exampleSection, introduction } from "./reference-comments";
import { markdownTable } from "./table";

/** Subjects in alphabetical order: the library's files without their ending. */
export function subjects(library: Library): string[] {
  return [...library.files.keys()].map(subjectOf).sort();
}

/** The subject of a file, or of the kind, designation or table of that name. */
export function subjectNamed(name: string, library: Library): string | undefined {
  if (subjects(library).includes(name)) return name;
  const { kinds, designations, tables } = library.vocabulary;
  const found = kinds.get(name) ?? designations.get(name) ?? tables.get(name);
  return found === undefined ? undefined : subjectOf(found.anchor.uri);
}

/** `undefined` where there is no such subject. */
export function referencePage(subject: string, library: Library): string | undefined {
  const uri = `${libraryScheme}/${subject}.trammel`;
  const file = library.files.get(uri);
  if (file === undefined) return undefined;
  const { kinds, designations, tables, orders } = library.vocabulary;
  const here = <T extends { readonly anchor: Anchor }>(all: Iterable<T>): T[] =>
    [...all].filter(({ anchor }) => anchor.uri === uri).sort(byPlace(file.source));
  const comments = commentBlocks(file.source.text);
  const sections = [
    [`# ${titleCase(subject)}`],
    introduction(comments),
    ...here(kinds.values()).map((kind) => kindSection(kind, library)),
    ...here(designations.values()).map((designation) => designationSection(designation, library)),
    ...here(tables.values()).map(tableSection),
    orderSection(here(orders)),
    ...file.source.items.flatMap((item) =>
      item.node.type === "thing" ? [thingSection(item.node, item, uri)] : [],
    ),
    ...comments.map((block) => exampleSection(block, library)),
  ];
  return `${sections
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n")}\n`;
}

/** The list of all subjects, with what each is about. */
export function referenceIndex(library: Library): string {
  const rows = subjects(library).map((subject) => {
    const file = library.files.get(`${libraryScheme}/${subject}.trammel`);
    const about = introduction(commentBlocks(file?.source.text ?? ""))[0] ?? "";
    const kinds = [...library.vocabulary.kinds.values()].filter(
      ({ anchor }) => subjectOf(anchor.uri) === subject,
    );
    return [
      `[${subject}](${subject}.md)`,
      kinds.map(({ name }) => `\`${name}\``).join(", "),
      about,
    ];
  });
  return `${["# The library, by subject", "", ...markdownTable(["subject", "kinds", "about"], rows), "", "What each figure is, measured, bought, made or wanted: [roles](roles.md). What the code of a finding means: [findings, by code](findings.md)."].join("\n")}\n`;
}

// ───────────────────────────── helpers ─────────────────────────────

function kindSection(kind: KindDefinition, library: Library): string[] {
  const own = [...kind.fields.values()].filter(({ owner }) => owner === kind.name);
  const inherited = kind.lineage.slice(1).map((name) => `\`${name}\``);
  const lines = [`## \`${kind.name}\`: ${kind.title}`];
  if (kind.owner !== undefined)
    lines.push(
      "",
      `Always part of ${linked(kind.owner, kind, library)}; names not found in it are looked for there.`,
    );
  if (inherited.length > 0)
    lines.push(
      "",
      `Has the fields of ${kind.lineage
        .slice(1)
        .map((name) => linked(name, kind, library))
        .join(" and ")} too.`,
    );
  lines.push(...remarkLines(kind.remarks));
  if (own.length > 0) lines.push("", ...fieldTable(own, kind, library));
  const own_ = <T extends { readonly anchor: Anchor }>(all: readonly T[]): T[] =>
    all.filter(({ anchor }) => anchor.item === kind.anchor.item);
  const relations = own_(kind.relations);
  if (relations.length > 0)
    lines.push("", "### Relations", "", ...relations.flatMap(relationLines));
  const checks = own_(kind.checks);
  if (checks.length > 0) lines.push("", "### Checks", "", ...checks.flatMap(checkLines));
  const curves = own_(kind.curves);
  if (curves.length > 0) {
    lines.push(
      "",
      "### Curves",
      "",
      ...curves.map(
        ({ name, title, anchor, node }) =>
          `- \`${name}\` ${title}: \`${cut(anchor, node.value)}\` over \`${node.parameter.text}\` from \`${cut(anchor, node.from)}\` to \`${cut(anchor, node.to)}\``,
      ),
    );
  }
  return lines;
}

function fieldTable(
  fields: readonly FieldDefinition[],
  from: { readonly anchor: Anchor },
  library: Library,
): string[] {
  const rows = fields.map((field) => [
    `\`${field.name}\``,
    typeInWords(field.type, from, library),
    unitsOf(field.type),
    roleColumn(field),
    [field.description ?? "", ...wordsOf(field)].filter((each) => each !== "").join("; "),
    field.default === undefined ? "" : `\`${cut(field.anchor, field.default)}\``,
    field.range === undefined ? "" : `\`${cut(field.anchor, field.range)}\``,
    field.source ?? "",
  ]);
  return withoutEmptyColumns(
    ["field", "type", "unit", "role", "meaning", "default", "looked for in", "source"],
    rows,
  );
}

/** `made to 1/32 in ± 1/32 in` */
export function roleColumn({ role, step, tolerance, foundOut, anchor }: FieldDefinition): string {
  return [
    role ?? "",
    step === undefined ? "" : `to ${cut(anchor, step)}`,
    tolerance === undefined ? "" : `± ${cut(anchor, tolerance)}`,
    foundOut ? "found out" : "",
  ]
    .filter((each) => each !== "")
    .join(" ");
}

function wordsOf(field: FieldDefinition): string[] {
  return [
    field.shown ? "a headline figure" : "",
    field.needs === undefined ? "" : `where it is open: ${field.needs}`,
  ].filter((each) => each !== "");
}

function relationLines({ title, word, node, remarks, anchor }: RelationDefinition): string[] {
  const when = node.when === undefined ? "" : ` (when \`${cut(anchor, node.when)}\`)`;
  return [
    `- **${title}**${wordsOfRelation[word]}${when}  `,
    `  \`${cut(anchor, node.left)} = ${cut(anchor, node.right)}\`  `,
    `  ${sourceInWords(remarks)}`,
  ];
}

const wordsOfRelation = {
  relation: "",
  assume: ", assumed where nothing says otherwise",
  wanted: ", wanted where what is made leaves room for it",
};

function checkLines({ title, node, remarks, anchor }: CheckDefinition): string[] {
  const when = node.when === undefined ? "" : ` (when \`${cut(anchor, node.when)}\`)`;
  const lines = [`- **${title}**${when}  `, `  \`${cut(anchor, node.condition)}\`  `];
  if (remarks.advise !== undefined) lines.push(`  to do: ${remarks.advise}  `);
  if (remarks.caution !== undefined) lines.push(`  **caution:** ${remarks.caution}  `);
  return [
    ...lines,
    `  ${sourceInWords(remarks)}${remarks.code === undefined ? "" : ` · \`${remarks.code}\``}`,
  ];
}

function designationSection(designation: DesignationDefinition, library: Library): string[] {
  return [
    `## \`${designation.name}\`: ${designation.title}`,
    "",
    "Written as one word:",
    "",
    ...designation.forms.map((form) => `- \`${form}\``),
    "",
    ...fieldTable([...designation.parts.values()], designation, library),
    ...remarkLines(designation.remarks),
  ];
}

function tableSection(table: TableDefinition): string[] {
  const columns = table.columns.map((column, index) => ({
    ...column,
    unit: unitOfColumn(table, index),
  }));
  const header = columns.map(
    ({ name, unit, key }) =>
      `${key ? "**" : ""}${name}${key ? "**" : ""}${unit === "" ? "" : ` (${unit})`}`,
  );
  const most = 200;
  const rows = table.rows
    .slice(0, most)
    .map((row) => row.map((cell, index) => cellText(cell, columns[index]?.unit ?? "")));
  return [
    `## Table \`${table.name}\`: ${table.title}`,
    "",
    ...columns
      .filter(({ description }) => description !== undefined)
      .map(({ name, description }) => `- \`${name}\`: ${description}`),
    `- ${lookupInWords(table.lookup)}`,
    ...remarkLines(table.remarks),
    "",
    ...markdownTable(header, rows),
    ...(table.rows.length > most ? ["", `and ${table.rows.length - most} rows more`] : []),
  ];
}

function lookupInWords(lookup: TableDefinition["lookup"]): string {
  switch (lookup) {
    case "exact":
      return "looked up at its rows only";
    case "linear":
      return "straight lines between its rows";
    case "step":
      return "the row of the nearest key not above the one looked for";
  }
}

function orderSection(orders: readonly OrderDefinition[]): string[] {
  if (orders.length === 0) return [];
  return [
    "## Order of work",
    "",
    ...orders.flatMap(({ title, node, remarks, anchor }) => [
      `- **${title}**  `,
      `  ${node.repetition === undefined ? "" : `${node.repetition} `}\`${cut(anchor, node.before)}\` before \`${cut(anchor, node.after)}\`  `,
      ...(remarks.because === undefined ? [] : [`  because ${remarks.because}  `]),
      ...(remarks.caution === undefined ? [] : [`  **caution:** ${remarks.caution}  `]),
      `  ${sourceInWords(remarks)}`,
    ]),
  ];
}

/** A thing that ships ready to be taken in, such as a chapter of steps. */
function thingSection(node: syntax.Thing, item: syntax.Item, uri: string): string[] {
  const lines = [
    `## \`${node.name.text}\`${node.title === undefined ? "" : `: ${node.title.value}`}`,
    "",
    `A build takes it in with \`use "${libraryScheme}${subjectOf(uri)}.trammel"\`.`,
    "",
  ];
  return [...lines, ...memberLines(node, item, "")];
}

function memberLines(node: syntax.Thing, item: syntax.Item, indent: string): string[] {
  return node.members.flatMap((member) => {
    if (member.type === "thing") {
      return [
        `${indent}- **${member.title?.value ?? member.name.text}** (\`${member.name.text}\`)`,
        ...memberLines(member, item, `${indent}  `),
      ];
    }
    if (member.type !== "given") return [];
    const value =
      member.value.type === "text"
        ? member.value.value
        : `\`${item.text.slice(member.value.span.start, member.value.span.end)}\``;
    return [`${indent}- ${member.path.names.map(({ text }) => text).join(".")}: ${value}`];
  });
}

function remarkLines({ source, because, caution }: Remarks): string[] {
  return [
    ...(because === undefined ? [] : ["", `Because ${because}.`]),
    ...(caution === undefined ? [] : ["", `**Caution:** ${caution}.`]),
    ...(source === undefined ? [] : ["", `Source: ${source}.`]),
  ];
}

function sourceInWords({ source, because }: Remarks): string {
  return `source: ${source ?? "none stated"}${because === undefined ? "" : `; because ${because}`}`;
}

function typeInWords(type: FieldType, from: { readonly anchor: Anchor }, library: Library): string {
  switch (type.form) {
    case "measure":
      return type.measure.title;
    case "text":
    case "date":
      return type.form;
    case "yes_no":
      return "yes or no";
    case "choice":
      return `one of ${type.choices.map((choice) => `\`${choice}\``).join(", ")}`;
    case "designation":
      return linked(type.designation.name, from, library);
    case "reference":
      return linked(type.kind, from, library);
    case "part":
      return `part, ${linked(type.kind, from, library)}`;
    case "list":
      return `list of ${typeInWords(type.of, from, library)}`;
    case "unknown":
      return "";
  }
}

function unitsOf(type: FieldType): string {
  if (type.form === "list") return unitsOf(type.of);
  return type.form === "measure" ? unitsInWords(type.measure) : "";
}

/** A kind or designation as a link to where its page has it. */
function linked(name: string, from: { readonly anchor: Anchor }, library: Library): string {
  const found = library.vocabulary.kinds.get(name) ?? library.vocabulary.designations.get(name);
  if (found === undefined) return `\`${name}\``;
  const subject = subjectOf(found.anchor.uri);
  const page =
    found.anchor.uri === from.anchor.uri ? "" : pageFrom(subjectOf(from.anchor.uri), subject);
  // The way Markdown readers name headings: lower case, marks dropped, spaces to dashes.
  const heading = `${found.name}: ${found.title}`
    .toLowerCase()
    .replaceAll(/[^\p{Letter}\p{Number}\s_-]/gu, "")
    .replaceAll(/\s/g, "-");
  return `[\`${name}\`](${page}#${heading})`;
}

function unitOfColumn(table: TableDefinition, index: number): string {
  const { node } = table.anchor.item;
  return node.type === "table" ? (node.columns[index]?.unit?.text ?? "") : "";
}

function cellText(cell: TableDefinition["rows"][number][number], unit: string): string {
  if (typeof cell !== "number") return cell ?? "";
  const read = unit === "" ? undefined : readUnit(unit);
  return String(Number((read === undefined ? cell : fromSi(cell, read)).toPrecision(10)));
}

function withoutEmptyColumns(
  header: readonly string[],
  rows: readonly (readonly string[])[],
): string[] {
  const used = header.flatMap((_, column) =>
    column === 0 || rows.some((row) => row[column] !== "") ? [column] : [],
  );
  const pick = (row: readonly string[]): string[] => used.map((column) => row[column] ?? "");
  return markdownTable(pick(header), rows.map(pick));
}

function cut(anchor: Anchor, node: syntax.Expression): string {
  return textAt({ ...anchor, span: node.span }).replaceAll(/\s+/g, " ");
}

function byPlace(source: syntax.SourceFile) {
  return (one: { readonly anchor: Anchor }, other: { readonly anchor: Anchor }): number =>
    source.offsetOf(one.anchor.item, one.anchor.span.start) -
    source.offsetOf(other.anchor.item, other.anchor.span.start);
}

/** The path below the library folder, without its ending: `axle`, `chapters/weld`. */
/** The subject a file of the library is about. */
export function subjectOf(uri: string): string {
  return uri.replace(`${libraryScheme}/`, "").replace(/\.trammel$/, "");
}

function titleCase(subject: string): string {
  const name = subject.slice(subject.lastIndexOf("/") + 1);
  return name.charAt(0).toUpperCase() + name.slice(1).replaceAll(/[-_]/g, " ");
}

/** The page of a subject as seen from the page of another. */
function pageFrom(from: string, to: string): string {
  const up = "../".repeat(from.split("/").length - 1);
  return `${up}${to}.md`;
}
