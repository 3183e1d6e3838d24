/**
 * What starts as a process of its own: the language server, the command line, many builds at once.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { alternative, type Figure, inMilliseconds } from "./figures";
import { buildOf, shopParts } from "./generate";
import { type Summary, summaryOf, type Times, timesOf } from "./measure";
import { inRepository, type Run, run } from "./processes";
import { Shop } from "./shop";
import { timeToFindings } from "./starting";
import { schemaOf, yamlOf } from "./yaml";

// ───────────────────────────── server start ─────────────────────────────

export async function startFigures(): Promise<Figure[]> {
  const shop = new Shop();
  try {
    for (const file of shopParts()) shop.put(file);
    const build = buildOf(2);
    shop.put(build);
    const schema = shop.put({ path: "schema.json", text: JSON.stringify(schemaOf([build.text])) });
    const yaml = { path: "builds/build.yaml", text: yamlOf(build.text) };
    shop.put(yaml);
    const yamlServer = join(
      createRequire(inRepository("package.json")).resolve("yaml-language-server"),
      "../../../bin/yaml-language-server",
    );
    const folder = shop.uri("");
    const start = async (own: boolean): Promise<number> =>
      own
        ? timeToFindings(
            {
              args: [inRepository("dist/server.js")],
              language: "trammel",
              asked: true,
              settings: () => ({}),
            },
            folder,
            shop.uri(build.path),
            build.text,
          )
        : timeToFindings(
            {
              args: [yamlServer],
              language: "yaml",
              asked: false,
              settings: (section) =>
                section === "yaml"
                  ? {
                      validate: true,
                      schemaStore: { enable: false },
                      schemas: { [schema]: "*.yaml" },
                    }
                  : {},
            },
            folder,
            shop.uri(yaml.path),
            yaml.text,
          );
    const ours: number[] = [];
    const theirs: number[] = [];
    // One of each to fill the disk's cache, then in turns.
    await start(true);
    await start(false);
    for (let turn = 0; turn < 7; turn++) {
      ours.push(await start(true));
      theirs.push(await start(false));
    }
    return [
      ...commandFigures(),
      {
        name: "server start to first findings, 200 lines",
        unit: "ms",
        target: 200,
        measured: summaryOf(ours),
        count: ours.length,
        alternative: { what: "YAML language server, the same", measured: summaryOf(theirs) },
      },
    ];
  } finally {
    shop.remove();
  }
}

/** The command line, each time a process of its own. */
function commandFigures(): Figure[] {
  const times = (args: readonly string[]): Times =>
    timesOf(Array.from({ length: 7 }, () => run(args, inRepository("."))));
  const program = inRepository("dist/trammel.js");
  const nothing = alternative("node, doing nothing", times(["--eval", "0"]));
  const figure = (name: string, target: number, args: readonly string[]): Figure => ({
    name,
    ...inMilliseconds(target, times([program, ...args])),
    alternative: nothing,
  });
  return [
    figure("trammel --version", 60, ["--version"]),
    figure("trammel check of one build", 150, ["check", "samples/harbor-van/build.trammel"]),
  ];
}

// ───────────────────────────── many builds ─────────────────────────────

export function checkFigures(): Figure[] {
  const count = 1_000;
  const shop = new Shop();
  try {
    for (const file of shopParts()) shop.put(file);
    const builds = Array.from({ length: count }, (_, number) => buildOf(number));
    for (const build of builds) shop.put(build);
    mkdirSync(join(shop.folder, "yaml"));
    for (const { path, text } of builds) {
      const name = path.replace(/^builds/, "yaml").replace(/trammel$/, "yaml");
      writeFileSync(join(shop.folder, name), yamlOf(text));
    }
    // Vans and trucks take turns: two of each show every kind and field there is.
    const schema = shop.put({
      path: "schema.json",
      text: JSON.stringify(schemaOf(builds.map(({ text }) => text))),
    });
    const ours: Run[] = [];
    const theirs: Run[] = [];
    for (let turn = 0; turn < 3; turn++) {
      ours.push(run([inRepository("dist/trammel.js"), "check", "builds"], shop.folder));
      theirs.push(run([inRepository("out/bench/check-yaml.mjs"), "yaml", schema], shop.folder));
    }
    expectAllChecked(ours[0], theirs[0], count);
    const memory = (runs: readonly Run[]): Summary => summaryOf(runs.map((each) => each.memory));
    return [
      {
        name: `trammel check, ${count} builds of 200 lines`,
        ...inMilliseconds(4_000, timesOf(ours)),
        alternative: alternative("yaml and ajv, the same files against a schema", timesOf(theirs)),
      },
      {
        name: "the same, memory at the peak",
        unit: "MB",
        target: 300,
        measured: memory(ours),
        count: ours.length,
        alternative: { what: "yaml and ajv", measured: memory(theirs) },
      },
    ];
  } finally {
    shop.remove();
  }
}

function expectAllChecked(ours: Run | undefined, theirs: Run | undefined, count: number): void {
  const last = ours?.output.trimEnd().split("\n").at(-1) ?? "";
  if (
    !last.includes(`in ${count.toLocaleString("en")} builds`) &&
    !last.includes(`in ${count} builds`)
  ) {
    throw new Error(`trammel check did not check ${count} builds: ${last}`);
  }
  if (!theirs?.output.startsWith("0 files"))
    throw new Error(`the schema does not fit: ${theirs?.output}`);
}
