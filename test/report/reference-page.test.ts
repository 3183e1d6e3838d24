/** The pages of the library: generated, checked in, readable, and what they show is what comes out. */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, test } from "vitest";
import { loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";
import { findingsPage } from "../../server/report/findings-page";
import {
  referenceIndex,
  referencePage,
  subjectNamed,
  subjects,
} from "../../server/report/reference-page";
import { rolesPage } from "../../server/report/roles-page";

const folder = join(import.meta.dirname, "..", "..", "server", "library", "reference");
const library = loadLibrary(libraryFiles());
const pages = new Map([
  ["README.md", referenceIndex(library)],
  ["findings.md", findingsPage(library)],
  ["roles.md", rolesPage(library)],
  ...subjects(library).map(
    (subject) => [`${subject}.md`, referencePage(subject, library) ?? ""] as const,
  ),
]);

describe("checked-in pages", () => {
  // A stale page is put right for the next run; this run still says that it was stale.
  test.each([...pages])("%s is what the library says", (name, page) => {
    const file = join(folder, name);
    const stored = existsSync(file) ? readFileSync(file, "utf8") : "";
    if (stored !== page) {
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, page);
    }
    expect(stored).toBe(page);
  });

  test("there is no page of a subject that is gone", () => {
    const stored = existsSync(folder)
      ? readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((name) =>
          name.endsWith(".md"),
        )
      : [];
    const gone = stored
      .map((name) => name.replaceAll("\\", "/"))
      .filter((name) => !pages.has(name));
    for (const name of gone) rmSync(join(folder, name));
    expect(gone).toEqual([]);
  });
});

describe("a page", () => {
  test("every link leads to a heading", () => {
    const headings = new Map([...pages].map(([name, page]) => [name, new Set(headingsOf(page))]));
    const broken: string[] = [];
    for (const [name, page] of pages) {
      for (const [, target = ""] of page.matchAll(/\]\(([^)]+)\)/g)) {
        const [path = "", heading] = target.split("#");
        const to = path === "" ? name : join(dirname(name), path).replaceAll("\\", "/");
        if (!headings.has(to) || (heading !== undefined && headings.get(to)?.has(heading) !== true))
          broken.push(`${name}: ${target}`);
      }
    }
    expect(broken).toEqual([]);
  });

  test("tells every field, relation, check and table of its subject, each with its source", () => {
    for (const kind of library.vocabulary.kinds.values()) {
      const page = pages.get(`${subjectNamed(kind.name, library)}.md`) ?? "";
      for (const field of kind.fields.values())
        if (field.owner === kind.name) expect(page).toContain(`| \`${field.name}\` |`);
      for (const { title, remarks, anchor } of [...kind.relations, ...kind.checks]) {
        if (anchor.item !== kind.anchor.item) continue;
        expect(page).toContain(`**${title}**`);
        if (remarks.source !== undefined)
          expect(page.replaceAll("\\|", "|")).toContain(remarks.source);
      }
    }
    for (const table of library.vocabulary.tables.values())
      expect(pages.get(`${subjectNamed(table.name, library)}.md`)).toContain(
        `Table \`${table.name}\``,
      );
  });

  test("every figure of every kind stands among the roles, once, under its own", () => {
    const sections = (pages.get("roles.md") ?? "").split(/^## /m).slice(1);
    for (const kind of library.vocabulary.kinds.values()) {
      for (const field of kind.fields.values()) {
        if (field.type.form !== "measure" || field.owner !== kind.name) continue;
        const row = `| [${kind.name}](${subjectNamed(kind.name, library)}.md).\`${field.name}\` |`;
        const where = sections.filter((section) => section.includes(row));
        expect(where.map((section) => section.split("\n")[0])).toEqual([field.role ?? "no role"]);
      }
    }
  });

  test("a Markdown table has the same number of cells in every row", () => {
    for (const [name, page] of pages) {
      let columns: number | undefined;
      for (const line of page.split("\n")) {
        if (!line.startsWith("|")) {
          columns = undefined;
          continue;
        }
        const cells = line.replaceAll("\\|", "").split("|").length;
        expect(`${name}: ${line} ${cells}`).toBe(`${name}: ${line} ${columns ?? cells}`);
        columns = cells;
      }
    }
  });

  test("runs the examples in a subject's comments", () => {
    const own = loadLibrary([
      {
        path: "box.trammel",
        text: `# Boxes.

# Example: half of a box
#   box b { width: 3 in }
kind box "Box" {
  width: length "Width" source "geometry"
  half: length shown "Half of it"
  relation "halves": half = width / 2
    source "geometry"
}
`,
      },
    ]);
    const page = referencePage("box", own);
    expect(page).toContain(
      "## Example: half of a box\n\n```trammel\nbox b { width: 3 in }\n```\n\ncomes out at\n\n```text\nb.half = 1 1/2 in = 1.500 in: solved\n```",
    );
  });
});

test("a kind, designation or table names its subject", () => {
  expect(subjectNamed("axle", library)).toBe("axle");
  expect(subjectNamed("tire_size", library)).toBe("tire");
  expect(subjectNamed("corner", library)).toBe("corner");
  expect(subjectNamed("nothing", library)).toBeUndefined();
});

/** As Markdown readers name them. */
function headingsOf(page: string): string[] {
  return page
    .split("\n")
    .filter((line) => /^#+ /.test(line))
    .map((line) =>
      line
        .replace(/^#+ /, "")
        .toLowerCase()
        .replaceAll(/[^\p{Letter}\p{Number}\s_-]/gu, "")
        .replaceAll(/\s/g, "-"),
    );
}
