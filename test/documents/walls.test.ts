/** The walls between the rooms, and the map that tells of them. */
import { spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { transformSync } from "esbuild";
import { describe, expect, test } from "vitest";
import { measures } from "../../server/units";
import { root } from "../command/workshop";
import { breaches, importsIn, type Room } from "./walls";

/** What each room may import: rooms below it, and packages. Nothing else. */
const rooms: Readonly<Record<string, Room>> = {
  "server/units": { rooms: [], packages: ["fastest-levenshtein"] },
  "server/disk": { rooms: [], packages: ["ignore"] },
  "server/text": { rooms: [], packages: [] },
  grammar: { rooms: ["server/units"], packages: ["chevrotain", "fastest-levenshtein"] },
  "server/keep": { rooms: [], packages: [] },
  "server/solve": { rooms: ["server/keep"], packages: [] },
  // Where a finding stands is told by an anchor; what it says of, by plain facts.
  "server/findings": { rooms: ["grammar", "server/units", "server/model/anchor.ts"], packages: [] },
  "server/model": {
    rooms: ["server/findings", "grammar", "server/solve", "server/units", "server/keep"],
    packages: ["fastest-levenshtein"],
  },
  "server/analysis": {
    rooms: [
      "server/findings",
      "grammar",
      "server/keep",
      "server/model",
      "server/solve",
      "server/units",
    ],
    packages: [],
  },
  "server/sequence": {
    rooms: [
      "server/keep",
      "server/findings",
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
    ],
    packages: [],
  },
  "server/report": {
    rooms: [
      "server/findings",
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
      "server/sequence",
      "server/text",
    ],
    packages: [],
  },
  "server/drafting": {
    rooms: ["server/text"],
    packages: ["d3-array", "d3-scale", "flatbush", "@tarikjabiri/dxf"],
  },
  "server/pictures": {
    rooms: [
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/drafting",
    ],
    packages: ["d3-array"],
  },
  "server/sheets": {
    rooms: [
      "grammar",
      "server/findings",
      "server/units",
      "server/text",
      "server/model",
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/drafting",
      "server/pictures",
    ],
    packages: [],
  },
  "server/features": {
    rooms: [
      "server/findings",
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/drafting",
      "server/pictures",
      "server/sheets",
      "server/messages.ts",
      "server/text",
    ],
    packages: ["vscode-languageserver", "zod"],
  },
  "server/command": {
    rooms: [
      "server/findings",
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/disk",
      "server/drafting",
      "server/pictures",
      "server/text",
      "server/sheets",
      "server/trade.ts",
      "package.json",
    ],
    packages: ["commander", "picocolors", "picomatch", "zod", "fastest-levenshtein"],
  },
  server: {
    rooms: [
      "grammar",
      "server/model",
      "server/solve",
      "server/units",
      "server/analysis",
      "server/sequence",
      "server/report",
      "server/features",
      "server/disk",
      "server/drafting",
      "server/pictures",
      "server/sheets",
    ],
    packages: ["vscode-languageserver", "vscode-languageserver-textdocument", "zod"],
  },
  client: {
    // Of the drawings the panel takes the rules their lines look by, and nothing of what they show.
    rooms: ["server/messages.ts", "server/drafting/style.ts"],
    packages: ["vscode", "vscode-languageclient", "zod"],
  },
};

/** No word of the trade in their code. */
const engine = ["grammar", "server/units", "server/model", "server/solve", "server/drafting"];

/**
 * Words in the names of the library's kinds that are everybody's: plain English, arithmetic, or the
 * language's own. An engine file that holds any other word of such a name fails.
 */
const everydayWords = new Set(
  `air alignment bar body case cases center clamp corner cut end fit force free front grade height joint kit left_out level life limit limits
   line link load long mark mass part path place point points rate reading rear ring road rule second section side size speed step system
   test trailing turn wide work`.split(/\s+/),
);

describe("walls", () => {
  const imports = importsIn(root);

  test("every file imports only what its room allows", () => {
    expect(imports.length).toBeGreaterThan(500);
    expect(breaches(imports, rooms)).toEqual([]);
  });

  test("every room has its own row, and every row a room", () => {
    const there = [
      "client",
      "grammar",
      ...foldersOf("server").filter((name) => name !== "server/library"),
    ];
    expect(
      Object.keys(rooms)
        .filter((room) => room !== "server")
        .sort(),
    ).toEqual(there.sort());
  });

  test("rooms below the server use nothing of the machine they run on", () => {
    const { stdout } = spawnSync(
      process.execPath,
      [
        join(root, "node_modules", "typescript", "bin", "tsc"),
        "-p",
        join(root, ".config", "tsconfig.pure.json"),
        "--noEmit",
        "--pretty",
        "false",
      ],
      { cwd: root, encoding: "utf8" },
    );
    expect(stdout).toBe("");
    const { include } = JSON.parse(
      readFileSync(join(root, ".config", "tsconfig.pure.json"), "utf8"),
    ) as { include: string[] };
    const worldly = ["client", "server", "server/command", "server/disk"];
    expect(include.map((path) => path.replace("../", "")).sort()).toEqual(
      Object.keys(rooms)
        .filter((room) => !worldly.includes(room))
        .sort(),
    );
  });

  test("only one file of the command line writes what a person or a program reads", () => {
    const writing = filesOf("server/command").filter((file) =>
      /\bworld\.(out|log)\(|process\.(stdout|stderr)|console\./.test(
        readFileSync(join(root, file), "utf8"),
      ),
    );
    expect(writing).toEqual([
      // The version, and what went wrong with writing itself.
      "server/command/main.ts",
      "server/command/print.ts",
      "server/command/world.ts",
    ]);
  });

  test.each([
    ["an import upward", "server/solve/plan.ts", `import { x } from "../model/x";`],
    ["an import of a type only", "server/solve/plan.ts", `import type { x } from "../model/x";`],
    [
      "an import that is loaded late",
      "grammar/late.ts",
      `export const l = () => import("../server/model/x");`,
    ],
    ["a way round by the root", "grammar/round.ts", `export { x } from "./../server/model/x";`],
    ["a file of the server itself", "server/model/over.ts", `import { y } from "../service"; y;`],
    ["the server from the client", "client/over.ts", `export { y } from "../server/service";`],
    ["a package nobody allowed", "server/solve/lib.ts", `import { z } from "zod"; z;`],
    [
      "a package by its types",
      "server/model/lib.ts",
      `import type { ZodType } from "zod"; export type Z = ZodType;`,
    ],
    [
      "a package of the editor",
      "server/service.ts",
      `export { y as z } from "./command/session"; export const y = 1;`,
    ],
  ])("a breach is seen: %s", (_, file, text) => {
    const folder = mkdtempSync(join(tmpdir(), "trammel-walls-"));
    try {
      const write = (path: string, content: string) => {
        mkdirSync(dirname(join(folder, path)), { recursive: true });
        writeFileSync(join(folder, path), content);
      };
      write("server/model/x.ts", "export const x = 1; export interface x {}");
      write("server/service.ts", "export const y = 1;");
      write("server/command/session.ts", "export const y = 1;");
      write("node_modules/zod/index.d.ts", "export const z: number; export interface ZodType {}");
      write(
        "node_modules/zod/package.json",
        `{ "name": "zod", "version": "1.0.0", "types": "index.d.ts" }`,
      );
      write(
        "tsconfig.json",
        JSON.stringify({
          compilerOptions: {
            module: "esnext",
            moduleResolution: "bundler",
            noEmit: true,
            types: [],
          },
          include: ["client", "grammar", "server"],
        }),
      );
      write(file, text);
      expect(breaches(importsIn(folder), rooms)).toEqual([
        expect.stringContaining(`${file} imports `),
      ]);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  test("a use of the machine is seen", () => {
    const folder = mkdtempSync(join(tmpdir(), "trammel-walls-"));
    try {
      const uses = [
        "process.exit()",
        "fetch('x')",
        `import "node:fs"`,
        "new Worker('x')",
        "console.log(1)",
      ];
      const pure = JSON.parse(readFileSync(join(root, ".config", "tsconfig.pure.json"), "utf8"));
      for (const [place, use] of uses.entries())
        writeFileSync(join(folder, `use${place}.ts`), `${use};\nexport {};\n`);
      writeFileSync(
        join(folder, "tsconfig.json"),
        JSON.stringify({
          extends: join(root, "tsconfig.json"),
          compilerOptions: pure.compilerOptions,
          files: [join(root, ".config", "pure-globals.d.ts")],
          include: [folder],
        }),
      );
      const { stdout } = spawnSync(
        process.execPath,
        [
          join(root, "node_modules", "typescript", "bin", "tsc"),
          "-p",
          folder,
          "--noEmit",
          "--pretty",
          "false",
        ],
        { encoding: "utf8" },
      );
      for (const place of uses.keys()) expect(stdout).toContain(`use${place}.ts`);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

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

describe("the map", () => {
  const map = readFileSync(join(root, "DEVELOPERS.md"), "utf8");
  const folders = [
    ...map.matchAll(/`((?:grammar|server|client|test|samples|\.config)\/[\w./-]*|\.ci\/run)`/g),
  ].map((match) => match[1] ?? "");

  test("every folder and file it names exists", () => {
    expect(folders.length).toBeGreaterThan(20);
    // A recipe names a file that the reader is about to write.
    const toBeWritten = [
      "server/library/subject.trammel",
      "server/features/name.ts",
      "server/pictures/name.ts",
      "server/command/name.ts",
    ];
    for (const path of folders.filter((each) => !toBeWritten.includes(each)))
      expect({ path, there: existsSync(join(root, path)) }).toEqual({ path, there: true });
    for (const path of toBeWritten) expect(existsSync(join(root, path))).toBe(false);
  });

  test("every room is on it", () => {
    for (const room of ["client", "grammar", "samples", "test", ...foldersOf("server")])
      expect(map).toContain(`| \`${room}/\` |`);
  });

  test("the scripts it names are there", () => {
    const { scripts } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
    for (const [, script = ""] of map.matchAll(/npm run (\w+)/g))
      expect(scripts).toHaveProperty(script);
  });
});

function foldersOf(folder: string): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => `${folder}/${name}`);
}

function filesOf(room: string, ending = ".ts"): string[] {
  return readdirSync(join(root, room), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(ending))
    .map((name) => `${room}/${name.replaceAll("\\", "/")}`)
    .sort();
}
