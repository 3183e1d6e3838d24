/** The walls between the rooms, and the map that tells of them. */
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
import { describe, expect, test } from "vitest";
import { root } from "../command/workshop";
import { machine, rooms } from "./rooms";
import { breaches, importsIn, machineUsedIn } from "./walls";

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

  test("every file uses of the machine what it is allowed, and no more", async () => {
    expect(Object.fromEntries(await machineUsedIn(root))).toEqual(machine);
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
  ])("a breach is seen: %s", async (_, file, text) => {
    const files = {
      "server/model/x.ts": "export const x = 1; export interface x {}",
      "server/service.ts": "export const y = 1;",
      "server/command/session.ts": "export const y = 1;",
      "node_modules/zod/index.d.ts": "export const z: number; export interface ZodType {}",
      "node_modules/zod/package.json": `{ "name": "zod", "version": "1.0.0", "types": "index.d.ts" }`,
      [file]: text,
    };
    await inFolder(files, async (folder) => {
      expect(breaches(importsIn(folder), rooms)).toEqual([
        expect.stringContaining(`${file} imports `),
      ]);
    });
  });

  test("a use of the machine is seen, wherever it is", async () => {
    const uses = {
      "grammar/ends.ts": "process.exit();",
      "server/units/asks.ts": "export const answer = fetch('https://example.org');",
      "server/findings/tells.ts": "console.log(1);",
      "server/model/reads.ts": `import { readFileSync } from "node:fs"; readFileSync("x");`,
      "server/solve/late.ts": `export const os = () => import("node:os");`,
      "server/analysis/round.ts": "export const far = globalThis.process;",
      "server/report/times.ts": "export const now = performance.now();",
      "server/features/asks.ts": "export const far = new Worker('x');",
      "server/requires.ts": "export const fs = require('fs');",
      "server/short.ts": `import { hostname } from "os"; hostname();`,
      "server/command/stores.ts": "localStorage.clear();",
      "client/shows.ts": "document.write('x');",
    };
    await inFolder(uses, async (folder) => {
      const seen = await machineUsedIn(folder);
      expect(Object.fromEntries(seen)).toEqual({
        "grammar/ends.ts": ["process"],
        "server/units/asks.ts": ["fetch"],
        "server/findings/tells.ts": ["console"],
        "server/model/reads.ts": ["node:fs"],
        "server/solve/late.ts": ["node:os"],
        "server/analysis/round.ts": ["globalThis"],
        "server/report/times.ts": ["performance"],
        "server/features/asks.ts": ["Worker"],
        "server/requires.ts": ["node:fs", "require"],
        "server/short.ts": ["node:os"],
        "server/command/stores.ts": ["localStorage"],
        "client/shows.ts": ["document"],
      });
    });
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

/** A project with these files, for as long as it is looked at. */
async function inFolder(
  files: Readonly<Record<string, string>>,
  look: (folder: string) => Promise<void>,
): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "trammel-walls-"));
  const compilerOptions = {
    module: "esnext",
    moduleResolution: "bundler",
    noEmit: true,
    strict: true,
    types: [],
  };
  const config = JSON.stringify({ compilerOptions, include: ["client", "grammar", "server"] });
  try {
    for (const [path, text] of Object.entries({ ...files, "tsconfig.json": config })) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), text);
    }
    await look(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

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
