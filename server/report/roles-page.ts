/**
 * What every figure of the library is: measured, bought, made, wanted, or a case, a setting, a limit,
 * a constant; with the step it is made to, what it may come out off by and what of the shop says so.
 *
 *     rolesPage(library)   →   "# What each figure is …"
 *
 * Must not know: any subject.
 */
import type { Library } from "../analysis/library";
import type { FieldDefinition, KindDefinition } from "../model/definition";
import type { Role } from "../solve/system";
import { roleColumn, subjectNamed } from "./reference-page";
import { markdownTable } from "./table";

/** What it is called by on the command line and as a file. */
export const rolesSubject = "roles";

const roles: Readonly<Record<Role, string>> = {
  measured: "Read off the vehicle or a part: measured again, never offered as a thing to change",
  bought: "What a maker states of a part: another part may be offered",
  made: "What the shop cuts, bends, sets or orders to size: any value on its step may be offered",
  wanted: "How it is to come out: gives way to what is made",
  case: "What is looked at: holds, and is never offered",
  setting: "How the work is done: holds, and is never offered",
  limit: "What something is held against",
  constant: "A constant of nature or of a material: never solved for",
};

export function rolesPage(library: Library): string {
  const figures = [...library.vocabulary.kinds.values()].flatMap((kind) =>
    [...kind.fields.values()]
      .filter(({ type, owner }) => type.form === "measure" && owner === kind.name)
      .map((field) => ({ kind, field })),
  );
  const sections = (Object.keys(roles) as Role[]).flatMap((role) => {
    const own = figures.filter(({ field }) => field.role === role);
    return own.length === 0
      ? []
      : ["", `## ${role}`, "", `${roles[role]}.`, "", ...table(own, library)];
  });
  const none = figures.filter(({ field }) => field.role === undefined);
  return `${[
    "# What each figure is",
    "",
    "A build may say otherwise behind a value: `offset: 18 mm made`. Figures without a role follow from others.",
    ...sections,
    "",
    "## no role",
    "",
    ...table(none, library),
  ].join("\n")}\n`;
}

// ───────────────────────────── helpers ─────────────────────────────

interface FigureOfKind {
  readonly kind: KindDefinition;
  readonly field: FieldDefinition;
}

function table(figures: readonly FigureOfKind[], library: Library): string[] {
  const rows = figures
    .map(({ kind, field }) => [
      `[${kind.name}](${subjectNamed(kind.name, library)}.md).\`${field.name}\``,
      field.description ?? "",
      roleColumn(field)
        .replace(field.role ?? "", "")
        .trim(),
      field.with ?? "",
    ])
    .sort(([one = ""], [other = ""]) => (one < other ? -1 : 1));
  const columns = ["figure", "what it is", "made or known to", "made, set or read with"];
  const filled = columns.map((_, at) => at < 2 || rows.some((row) => row[at] !== ""));
  const kept = <T>(row: readonly T[]): T[] => row.filter((_, at) => filled[at]);
  return markdownTable(kept(columns), rows.map(kept));
}
