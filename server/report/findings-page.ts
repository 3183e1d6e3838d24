/**
 * The page of all codes of findings, and where the code of a finding is read about.
 *
 *     pageOfCode("unit/missing", vocabulary)          // library:/reference/findings.md#unitmissing
 *     pageOfCode("clearance/inner-gap", vocabulary)   // library:/reference/corner.md
 *
 * Must not know: findings at hand.
 */
import { codeOfCheck } from "../analysis/check-result";
import { type Library, libraryScheme, referenceUri } from "../analysis/library";
import { type Code, type CodeRow, codes, type OwnCode, rowOf } from "../findings/codes";
import type { Vocabulary } from "../model/definition";
import { subjectOf } from "./reference-page";
import { markdownTable } from "./table";

/** The subject of the page, beside those of the library's files. */
export const findingsSubject = "findings";

const page = referenceUri(`${libraryScheme}/${findingsSubject}.trammel`);

type Family<C extends OwnCode = OwnCode> = C extends `${infer Before}/${string}` ? Before : never;

const families: Readonly<Record<Family, string>> = {
  syntax: "The text itself",
  use: "Files that are taken in",
  build: "A build as a whole",
  name: "Names",
  reference: "Things that name themselves",
  like: "Things like others",
  field: "Fields of a kind",
  designation: "Designations",
  table: "Tables",
  display: "How figures are shown",
  unit: "Units",
  value: "Values",
  given: "What is given",
  missing: "What is missing",
  wanted: "What was wanted",
  conflict: "Figures against each other",
  solve: "Solving",
  kit: "Kits of pieces",
  check: "Checks",
  step: "Steps",
  order: "The order of work",
  joint: "Joints",
  record: "What is on record",
  concession: "What is accepted out of tolerance",
};

/** Codes of the project itself, a family a section; then those of the library's checks. */
export function findingsPage(library: Library): string {
  const checks = [...checksOf(library.vocabulary)]
    .map(([code, { title, uri }]) => {
      const subject = subjectOf(uri);
      return [`\`${code}\``, title, `[${subject}](${subject}.md)`];
    })
    .sort(([one = ""], [other = ""]) => (one < other ? -1 : 1));
  const lines = [
    ...ownLines,
    "## Checks of the library",
    "",
    "What each is for, and where it is from, stands on the page of its subject.",
    "",
    ...markdownTable(["code", "check", "page"], checks),
  ];
  return `${lines.join("\n")}\n`;
}

/** The section of one code, as the page has it; none for checks. */
export function codeSection(code: string): string | undefined {
  const row = rowOf(code);
  return row === undefined ? undefined : `${sectionOf(code, row).join("\n").trimEnd()}\n`;
}

/** The subject of the library that has a check of this code. */
export function subjectOfCheck(code: string, vocabulary: Vocabulary): string | undefined {
  const check = checksOf(vocabulary).get(code);
  return check === undefined ? undefined : subjectOf(check.uri);
}

/** Where a code is read about; a check of a build's own kind is told as a check. */
export function pageOfCode(code: Code, vocabulary: Vocabulary): string {
  const check = rowOf(code) === undefined ? checksOf(vocabulary).get(code) : undefined;
  return check === undefined ? `${page}#${headingOf(ownOf(code))}` : referenceUri(check.uri);
}

/** The same for an editor that shows the page as text: it goes to a line, not to a heading. */
export function placeOfCode(code: Code, vocabulary: Vocabulary): string {
  const found = pageOfCode(code, vocabulary);
  return found.startsWith(page) ? `${page}#L${ownLines.indexOf(`### ${ownOf(code)}`) + 1}` : found;
}

// ───────────────────────────── helpers ─────────────────────────────

const ownLines: readonly string[] = [
  "# Findings, by code",
  "",
  "The code of a finding stands in brackets behind it. Here is what each means in general; what is",
  "wrong in the case at hand, the finding says itself.",
  "",
  ...Object.entries(families).flatMap(([family, title]) => [
    `## ${title}`,
    "",
    ...(Object.keys(codes) as OwnCode[])
      .filter((code) => code.startsWith(`${family}/`))
      .sort()
      .flatMap((code) => sectionOf(code, codes[code])),
  ]),
];

function sectionOf(code: string, { what, todo }: CodeRow): string[] {
  return [
    `### ${code}`,
    "",
    what,
    "",
    `To do: ${todo.charAt(0).toLowerCase()}${todo.slice(1)}`,
    "",
  ];
}

function ownOf(code: Code): Code {
  return rowOf(code) === undefined ? "check/own" : code;
}

/** As Markdown readers name it: marks dropped. */
function headingOf(code: Code): string {
  return code.replaceAll("/", "");
}

interface LibraryCheck {
  readonly title: string;
  readonly uri: string;
}

const checks = new WeakMap<Vocabulary["kinds"], ReadonlyMap<string, LibraryCheck>>();

function checksOf({ kinds }: Vocabulary): ReadonlyMap<string, LibraryCheck> {
  const kept = checks.get(kinds);
  if (kept !== undefined) return kept;
  const found = new Map<string, LibraryCheck>();
  for (const kind of kinds.values()) {
    for (const check of kind.checks) {
      const { uri } = check.anchor;
      const code = codeOfCheck(check, kind.name);
      if (uri.startsWith(libraryScheme) && !found.has(code))
        found.set(code, { title: check.title, uri });
    }
  }
  checks.set(kinds, found);
  return found;
}
