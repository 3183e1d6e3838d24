/** The engine knows no word of the trade; which words those are, the library itself tells. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { transformSync } from "esbuild";
import { describe, expect, test } from "vitest";
import { measures } from "../../server/units";
import { root } from "../command/workshop";

/** No word of the trade in their code. */
const engine = ["grammar", "server/units", "server/model", "server/solve", "server/drafting"];

/**
 * Words in the names of the library's kinds that are everybody's: plain English, arithmetic, or the
 * language's own. An engine file that holds any other word of such a name fails.
 */
const everydayWords = new Set(
  `air alignment bar body case cases center clamp corner cut end fit force free front grade height joint kit left_out level life limit limits
   line link links load long mark mass part path place point points rate reading rear ring road rule run second section side size speed step
   system test trailing turn turned wide work`.split(/\s+/),
);

describe("words of the trade", () => {
  const kinds = filesOf("server/library", ".trammel").flatMap((file) => [
    ...readFileSync(join(root, file), "utf8").matchAll(/^kind (\w+)[\s\S]*?^\}/gm),
  ]);
  // A measure's name is the engine's own: "spring rate".
  const measureNames = new Set(measures.flatMap(({ name }) => [name, ...name.split("_")]));
  const kindWords = new Set(
    kinds
      .flatMap(([, kind = ""]) => kind.split("_"))
      .filter((word) => word.length > 2 && !everydayWords.has(word) && !measureNames.has(word)),
  );
  // A field of one word is mostly plain English (`size`, `limit`), unless it is made of a kind's.
  const fields = kinds
    .flatMap(([text]) => [...text.matchAll(/^ {2}(\w+): (?:part |list of )?[a-z_]+\b/gm)])
    .map(([, field = ""]) => field)
    .filter((field) => !measureNames.has(field) && !everydayWords.has(field))
    .filter((field) => field.includes("_") || [...kindWords].some((word) => field.includes(word)));
  const words = [...new Set([...kindWords, ...fields])];

  test("are the library's own kinds and fields", () => {
    expect(words.length).toBeGreaterThan(200);
    for (const word of ["axle", "wheel", "tire", "housing", "inner_gap", "wheelbase"])
      expect(words).toContain(word);
  });

  test.each(engine)("stand nowhere in %s", (room) => {
    const one = new RegExp(
      `(?<![a-z])(${words.map((word) => word.replaceAll("_", " ")).join("|")})(e?s)?(?![a-z])`,
      "g",
    );
    const found = filesOf(room).flatMap((file) => {
      // Comments may take their examples from the trade: only what is left of the file counts.
      const { code } = transformSync(readFileSync(join(root, file), "utf8"), {
        loader: "ts",
        legalComments: "none",
        minifyWhitespace: true,
      });
      const spaced = code
        .replaceAll(/([a-z])([A-Z])/g, "$1 $2")
        .replaceAll("_", " ")
        .toLowerCase();
      return [...spaced.matchAll(one)].map(
        ({ index, 0: word }) =>
          `${file}: ${word} in ${spaced.slice(Math.max(0, index - 30), index + 30).replaceAll("\n", " ")}`,
      );
    });
    expect(found).toEqual([]);
  });
});

function filesOf(room: string, ending = ".ts"): string[] {
  return readdirSync(join(root, room), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(ending))
    .map((name) => `${room}/${name.replaceAll("\\", "/")}`)
    .sort();
}
