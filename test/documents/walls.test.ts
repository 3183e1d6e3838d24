/** The walls between the rooms, and the map that tells of them. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { transformSync } from "esbuild";
import { describe, expect, test } from "vitest";
import { root } from "../command/workshop";

/** What each room may import of the project, itself apart. A room stands for its folder alone. */
const mayImport: Readonly<Record<string, readonly string[]>> = {
  "server/units": [],
  "server/disk": [],
  grammar: ["server/units"],
  "server/solve": [],
  "server/model": ["grammar", "server/solve", "server/units"],
  "server/analysis": ["grammar", "server/model", "server/solve", "server/units"],
  "server/sequence": ["grammar", "server/model", "server/solve", "server/units", "server/analysis"],
  "server/report": [
    "grammar",
    "server/model",
    "server/solve",
    "server/units",
    "server/analysis",
    "server/sequence",
  ],
  "server/features": [
    "grammar",
    "server/model",
    "server/solve",
    "server/units",
    "server/analysis",
    "server/sequence",
    "server/report",
  ],
  "server/command": [
    "grammar",
    "server/model",
    "server/solve",
    "server/units",
    "server/analysis",
    "server/sequence",
    "server/report",
    "server/disk",
    "server/trade",
    "package.json",
  ],
  client: ["server/messages"],
};

/** No word of the trade in their code. */
const engine = ["grammar", "server/units", "server/model", "server/solve"];

const tradeWords = [
  "axle",
  "wheel",
  "tire",
  "tyre",
  "brake",
  "rotor",
  "caliper",
  "piston",
  "housing",
  "carrier",
  "pinion",
  "differential",
  "shaft",
  "driveshaft",
  "spline",
  "weld",
  "fender",
  "sidewall",
  "hub",
  "stud",
  "bearing",
  "gearbox",
  "clutch",
  "engine",
  "bolt",
  "shim",
  "suspension",
  "chassis",
  "vehicle",
  "wheelbase",
  "backspace",
  "rim",
];

describe("walls", () => {
  test.each(Object.entries(mayImport))("%s imports only what lies below it", (room, allowed) => {
    const files = filesOf(room);
    expect(files.length).toBeGreaterThan(0);
    const over = files.flatMap((file) =>
      importsOf(file)
        .filter((target) => dirname(target) !== room && !target.startsWith(`${room}/`))
        .filter(
          (target) => !allowed.some((each) => target === each || target.startsWith(`${each}/`)),
        )
        .map((target) => `${file} imports ${target}`),
    );
    expect(over).toEqual([]);
  });

  test.each(engine)("%s holds no word of the trade", (room) => {
    const word = new RegExp(`(?<![a-z])(${tradeWords.join("|")})(e?s)?(?![a-z])`, "gi");
    const found = filesOf(room).flatMap((file) => {
      // Comments may take their examples from the trade: only what is left of the file counts.
      const { code } = transformSync(readFileSync(join(root, file), "utf8"), {
        loader: "ts",
        legalComments: "none",
      });
      const spaced = code.replaceAll(/([a-z])([A-Z])/g, "$1 $2").replaceAll("_", " ");
      return [...spaced.matchAll(word)].map(
        (match) =>
          `${file}: ${spaced.slice(Math.max(0, (match.index ?? 0) - 30), (match.index ?? 0) + 30).replaceAll("\n", " ")}`,
      );
    });
    expect(found).toEqual([]);
  });

  test("the words are those of the library", () => {
    const library = filesOf("server/library", ".trammel")
      .map((file) => readFileSync(join(root, file), "utf8"))
      .join("\n")
      .toLowerCase();
    for (const word of tradeWords.filter((each) => !["tyre", "chassis"].includes(each)))
      expect(library).toContain(word);
  });

  test("nothing below the server and the command touches the disk or the editor", () => {
    const touching = [
      ...engine,
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/features",
    ]
      .flatMap((room) => filesOf(room))
      .filter((file) =>
        /from "(node:[^"]*|fs|path|vscode|child_process)"/.test(
          readFileSync(join(root, file), "utf8"),
        ),
      );
    expect(touching).toEqual([]);
  });
});

describe("the map", () => {
  const map = readFileSync(join(root, "DEVELOPERS.md"), "utf8");
  const folders = [
    ...map.matchAll(/`((?:grammar|server|client|test|samples|\.config)\/[\w./-]*|\.ci\/run)`/g),
  ].map((match) => match[1] ?? "");

  test("every folder and file it names exists", () => {
    expect(folders.length).toBeGreaterThan(20);
    // A recipe names a file that the reader is about to write.
    const toBeWritten = [
      "server/library/suspension.trammel",
      "server/features/name.ts",
      "server/command/name.ts",
    ];
    for (const path of folders.filter((each) => !toBeWritten.includes(each)))
      expect({ path, there: existsSync(join(root, path)) }).toEqual({ path, there: true });
    for (const path of toBeWritten) expect(existsSync(join(root, path))).toBe(false);
  });

  test("every room is on it", () => {
    const rooms = [
      "client",
      "grammar",
      "samples",
      "test",
      ...readdirSync(join(root, "server"), { withFileTypes: true })
        .filter((entry) => entry.isDirectory())
        .map(({ name }) => `server/${name}`),
    ];
    for (const room of rooms) expect(map).toContain(`| \`${room}/\` |`);
    for (const room of rooms.filter(
      (each) => !["samples", "test", "server/library"].includes(each),
    ))
      expect(Object.keys(mayImport)).toContain(room);
  });

  test("the scripts it names are there", () => {
    const { scripts } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
    for (const [, script = ""] of map.matchAll(/npm run (\w+)/g))
      expect(scripts).toHaveProperty(script);
  });
});

function filesOf(room: string, ending = ".ts"): string[] {
  return readdirSync(join(root, room), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(ending))
    .map((name) => `${room}/${name.replaceAll("\\", "/")}`)
    .sort();
}

/** Paths from the repository, without ending, of the project's own files a file imports. */
function importsOf(file: string): string[] {
  const text = readFileSync(join(root, file), "utf8");
  return [...text.matchAll(/(?:\bfrom\s+|\bimport\s*\(?\s*)"(\.[^"]*)"/g)].map((match) =>
    relative(root, join(root, dirname(file), match[1] ?? "")).replaceAll("\\", "/"),
  );
}
