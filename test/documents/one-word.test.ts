/**
 * One word is one thing: no two rooms call different things alike.
 *
 * The trees of a text are called like what they are the text of, and written `syntax.Thing`.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { root } from "../command/workshop";

interface Declared {
  readonly file: string;
  readonly name: string;
}

const files = ["client", "grammar", "server"].flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => `${folder}/${name}`),
);
const texts = new Map(files.map((file) => [file, readFileSync(join(root, file), "utf8")]));

function declaredIn(file: string, text: string): Declared[] {
  const found = text.matchAll(/^export (?:abstract )?(?:class|interface|type|enum) (\w+)/gm);
  return [...found].map(([, name = ""]) => ({ file, name }));
}

const declared = files.flatMap((file) => declaredIn(file, texts.get(file) ?? ""));
/** Where the trees of a text are declared. */
const isTree = ({ file }: Declared): boolean =>
  file === "grammar/syntax.ts" || file === "grammar/syntax-values.ts";
const syntax = new Set(declared.filter(isTree).map(({ name }) => name));

/** Every name that is declared more than once, with where. */
function twice(all: readonly Declared[]): string[] {
  return [...new Set(all.map(({ name }) => name))].flatMap((name) => {
    const at = all.filter((each) => each.name === name).map(({ file }) => file);
    return at.length === 1 ? [] : [`${name}: ${at.join(", ")}`];
  });
}

test("no type is called like another one", () => {
  expect(declared.length).toBeGreaterThan(500);
  expect(twice(declared.filter((each) => !isTree(each)))).toEqual([]);
});

test("a tree that is called like what it is the text of is written with `syntax.` before it", () => {
  const meant = declared.filter((each) => !isTree(each) && syntax.has(each.name));
  expect(meant.length).toBeGreaterThan(0);
  const bare = files.flatMap((file) => {
    if (file.startsWith("grammar/")) return [];
    const imports = (texts.get(file) ?? "").matchAll(
      /import(?: type)? \{([^}]*)\} from "[^"]*grammar\/syntax"/g,
    );
    const taken = [...imports].flatMap(([, names = ""]) =>
      names.split(",").map((each) => each.trim()),
    );
    return meant.filter(({ name }) => taken.includes(name)).map(({ name }) => `${name} in ${file}`);
  });
  expect(bare).toEqual([]);
});

test("a name that is declared twice is seen", () => {
  expect(
    twice(
      declaredIn("a.ts", "export interface Step {}\n").concat(
        declaredIn("b.ts", "export type Step = 1;\n"),
      ),
    ),
  ).toEqual(["Step: a.ts, b.ts"]);
});
