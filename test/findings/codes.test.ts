/** Every code has its place to be read about, and every place there is a code that is raised. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { loadLibrary } from "../../server/analysis/library";
import { codes, type OwnCode } from "../../server/findings/codes";
import { libraryFiles } from "../../server/library-files";
import {
  codeSection,
  findingsPage,
  pageOfCode,
  placeOfCode,
} from "../../server/report/findings-page";
import { root } from "../command/workshop";

const library = loadLibrary(libraryFiles());
const { vocabulary } = library;
const page = findingsPage(library);
const all = Object.keys(codes) as OwnCode[];
const checks = [...vocabulary.kinds.values()].flatMap((kind) => kind.checks);

describe("codes of the project", () => {
  test.each(all)("%s has a heading of its own, and the editor goes to its line", (code) => {
    expect(page.split("\n").filter((line) => line === `### ${code}`)).toHaveLength(1);
    const [, line] = placeOfCode(code, vocabulary).split("#L");
    expect(page.split("\n")[Number(line) - 1]).toBe(`### ${code}`);
    expect(pageOfCode(code, vocabulary)).toBe(
      `library:/reference/findings.md#${code.replace("/", "")}`,
    );
  });

  test.each(all)("%s says in whole sentences what is wrong and what to do", (code) => {
    const { what, todo } = codes[code];
    expect(what).toMatch(/^[A-Z`].*\.$/);
    expect(todo).toMatch(/^[A-Z].*[.]$/);
    expect(codeSection(code)).toBe(
      `### ${code}\n\n${what}\n\nTo do: ${todo.charAt(0).toLowerCase()}${todo.slice(1)}\n`,
    );
  });

  test("every one is raised somewhere", () => {
    const sources = ["grammar", "server"]
      .flatMap((folder) =>
        readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
          .filter((name) => name.endsWith(".ts") && !name.startsWith("findings"))
          .map((name) => readFileSync(join(root, folder, name), "utf8")),
      )
      .join("\n");
    // Those of `display` are put together from what the units say is wrong.
    const raised = (code: string) =>
      sources.includes(`"${code}"`) ||
      sources.includes(`is: "${code} `) ||
      (code.startsWith("display/") && sources.includes(`problem: "${code.slice(8)}"`));
    expect(all.filter((code) => !raised(code))).toEqual([]);
  });
});

describe("codes of checks", () => {
  test("none of the library's is one of the project's", () => {
    const taken = checks
      .flatMap(({ remarks }) => remarks.code ?? [])
      .filter((code) => code in codes);
    expect(taken).toEqual([]);
  });

  test("a check of the library is read about on the page of its subject", () => {
    const code = "clearance/inner-gap" as Parameters<typeof pageOfCode>[0];
    expect(pageOfCode(code, vocabulary)).toBe("library:/reference/corner.md");
    expect(page).toContain("| `clearance/inner-gap` |");
  });

  test("a code nobody knows is that of a builder's own check", () => {
    const code = "mine/own" as Parameters<typeof pageOfCode>[0];
    expect(pageOfCode(code, vocabulary)).toBe("library:/reference/findings.md#checkown");
  });
});
