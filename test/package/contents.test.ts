/** What is handed to a person: the package of the extension holds what it needs and nothing else. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, statSync, utimesSync } from "node:fs";
import { builtinModules } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { root } from "../../.config/build.mts";
import { packagedFiles, packageExtension } from "../../.config/package.mts";
import { schemaVerbs } from "../../server/command/verbs";

const folder = mkdtempSync(join(tmpdir(), "trammel-package-"));
let packageFile: string;

beforeAll(async () => {
  packageFile = await packageExtension({ file: join(folder, "trammel.vsix") });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the package of the extension", () => {
  test("holds these files", async () => {
    const files = await packagedFiles();
    const chunks = files.filter((file) => /^dist\/command\/[\w-]+\.mjs$/.test(file));
    for (const entry of ["program", "shares"])
      expect(chunks).toContain(`dist/command/${entry}.mjs`);
    expect(files.filter((file) => !chunks.includes(file))).toEqual([
      "CHANGELOG.md",
      "LICENSE",
      "README.md",
      "dist/bom.cdx.json",
      "dist/client.js",
      "dist/panel.js",
      "dist/server.js",
      "dist/service.js",
      "dist/serving.js",
      "dist/supervising.js",
      "dist/third-party-notices.txt",
      "dist/trammel.js",
      "grammar/language-configuration.json",
      "grammar/trammel.tmLanguage.json",
      "package.json",
      ...schemaVerbs()
        .map((verb) => `server/command/schema/${verb}.schema.json`)
        .sort(),
    ]);
  });

  test("is the same when it is made again", async () => {
    // Another day, other times of change.
    for (const file of await packagedFiles()) utimesSync(join(root, file), new Date(), new Date());
    const again = await packageExtension({ file: join(folder, "again.vsix") });
    expect(readFileSync(again).equals(readFileSync(packageFile))).toBe(true);
  });

  test("is light", () => {
    // Twice what it weighed when the language server first answered, a quarter more since it draws
    // (scales, plots, sheets, DXF, the panel), another since the library is in it as it was read,
    // for the server and for the command line, a tenth for the subjects of the third part of the
    // trade, a thirtieth for the engine's further methods and what a choice and a record ask; raise
    // it knowingly.
    expect(statSync(packageFile).size).toBeLessThan(1_800_000);
  });

  test("names only files it holds", async () => {
    const files = await packagedFiles();
    const named = JSON.stringify(manifest()).match(/(?<=")\.\/[^"]+(?=")/g) ?? [];
    expect(named.length).toBeGreaterThan(2);
    for (const path of named) expect(files).toContain(path.slice(2));
  });
});

describe("packages of others", () => {
  const bill = readFileSync(join(root, "dist", "bom.cdx.json"), "utf8");
  const notices = readFileSync(join(root, "dist", "third-party-notices.txt"), "utf8");
  const { components } = JSON.parse(bill) as {
    components: { group?: string; name: string; version: string; purl: string }[];
  };
  const names = components.map(({ group, name }) =>
    group === undefined ? name : `${group}/${name}`,
  );

  test("are billed as CycloneDX asks", async () => {
    const { Spec, Validation } = await import("@cyclonedx/cyclonedx-library");
    const validator = new Validation.JsonStrictValidator(Spec.Version.v1dot6);
    expect(await validator.validate(bill)).toBeNull();
  });

  test("are those in the bundles, nothing that only builds or tests", () => {
    const { devDependencies } = manifest() as Record<string, Record<string, string>>;
    expect(names).toEqual(expect.arrayContaining(["chevrotain", "zod", "vscode-languageserver"]));
    expect(names.filter((name) => Object.hasOwn(devDependencies ?? {}, name))).toEqual([
      // Its types and messages are the server's own.
      ...names.filter((name) => name === "vscode-languageserver-protocol"),
    ]);
    for (const { version, purl } of components) expect(purl).toContain(`@${version}`);
  });

  test("each with the text of its license", () => {
    for (const [index, { version }] of components.entries())
      expect(notices).toContain(`\n${names[index]} ${version} (`);
    const sections = notices
      .split(/^={78}$/m)
      .slice(2)
      .filter((_, at) => at % 2 === 0);
    expect(sections).toHaveLength(components.length);
    for (const section of sections) expect(section.trim().length).toBeGreaterThan(3);
  });

  test("are under licenses that may be handed on with ours", () => {
    const found = new Set(
      [...notices.matchAll(/^\S+ [\d.]+\S* \((.+)\)$/gm)].map(([, license]) => license),
    );
    const usable = [
      "BlueOak-1.0.0",
      "MIT",
      "ISC",
      "Apache-2.0",
      "BSD-2-Clause",
      "BSD-3-Clause",
      "0BSD",
    ];
    expect([...found].filter((license) => !usable.includes(license ?? ""))).toEqual([]);
  });
});

const programs = ["client", "server", "supervising", "service", "serving", "trammel"];

describe.each(programs)("dist/%s.js", (name) => {
  const text = readFileSync(join(root, "dist", `${name}.js`), "utf8");

  test("needs nothing beside it but Node, the editor and another of them", () => {
    const required = [...text.matchAll(/\brequire\("([^"]+)"\)/g)].map(([, module]) => module);
    const known = new Set([
      ...builtinModules.flatMap((module) => [module, `node:${module}`]),
      ...(name === "client" ? ["vscode"] : []),
      ...programs.map((other) => `./${other}.js`),
    ]);
    expect(required.length).toBeGreaterThan(0);
    expect(required.filter((module) => module === undefined || !known.has(module))).toEqual([]);
  });

  test("is a whole program", () => {
    const { status, stderr } = spawnSync(process.execPath, [
      "--check",
      join(root, "dist", `${name}.js`),
    ]);
    expect(stderr.toString()).toBe("");
    expect(status).toBe(0);
  });
});

test("the chunks of the command line need nothing beside them but Node and each other", async () => {
  const folder = join(root, "dist", "command");
  // Bundling them again follows every import there is: one that leads nowhere fails.
  const { metafile } = await build({
    entryPoints: ["program.mjs", "shares.mjs"].map((name) => join(folder, name)),
    bundle: true,
    platform: "node",
    format: "esm",
    packages: "external",
    outdir: folder,
    write: false,
    metafile: true,
    logLevel: "silent",
  });
  const known = new Set(builtinModules.flatMap((module) => [module, `node:${module}`]));
  const beside = Object.values(metafile.inputs).flatMap(({ imports }) =>
    imports.filter(({ external }) => external === true).map(({ path }) => path),
  );
  expect(beside.length).toBeGreaterThan(0);
  expect(beside.filter((path) => !known.has(path))).toEqual([]);
});

test("dist/trammel.js starts as a program of its own", () => {
  const text = readFileSync(join(root, "dist", "trammel.js"), "utf8");
  expect(text.startsWith("#!/usr/bin/env node\n")).toBe(true);
});

function manifest(): unknown {
  return JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
}
