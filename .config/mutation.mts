/**
 * Mutation testing of one room; see `stryker.config.mjs`. Changes its sources bit by bit and tells
 * how many of the changes its tests notice, and which they do not.
 *
 *     npm run mutation -- solve --sample 250 --seed 7     250 changes over all its files
 *     npm run mutation -- solve server/solve/plan.ts      all changes of a file
 *     npm run mutation -- solve --again                   those nothing noticed last time
 *     npm run mutation -- units --loading                 and those that act while a file is loaded
 *     npm run mutation -- solve server/solve/missing.ts --tests test/solve/missing.test.ts
 *                                                         what some tests notice by themselves
 *
 * A sample tells the score with the range the whole room's lies in at 95 % (Wilson 1927). Ends with 1
 * where fewer than 85 of 100 changes are noticed, with 2 where a change is told as unnoticed though
 * no test ran against it: such a score measures nothing.
 */
import { spawnSync } from "node:child_process";
import { existsSync, globSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { parseArgs } from "node:util";
import type { Mutant } from "@stryker-mutator/api/core";
import type { Logger } from "@stryker-mutator/api/logging";
import { Instrumenter } from "@stryker-mutator/instrumenter";
import { root } from "./build.mts";
import { actsAtLoading, type Chosen, keyOf } from "./mutation-choice.mts";

const rooms = ["units", "model", "solve", "sequence"];
const wanted = 0.85;

/** A change as the report tells it: lines and columns from 1. */
interface Tried extends Omit<Mutant, "fileName"> {
  readonly status: string;
}

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    sample: { type: "string" },
    seed: { type: "string", default: "1" },
    again: { type: "boolean", default: false },
    loading: { type: "boolean", default: false },
    tests: { type: "string", multiple: true, default: [] },
  },
});
const [room = "", ...named] = positionals;
if (!rooms.includes(room)) {
  console.error(`name a room, and files of it if not all: ${rooms.join(", ")}`);
  process.exit(2);
}
const folder = join(root, "out", "mutation");
const reportPath = join(folder, `${room}.json`);
const choicePath = join(folder, `${room}.choice.json`);
const unnoticedPath = join(folder, `${room}.unnoticed.json`);
const files = named.length > 0 ? named : globSync(`server/${room}/**/*.ts`, { cwd: root }).sort();

const all = await changesOf(files);
const chosen = choose(all);
mkdirSync(folder, { recursive: true });
writeFileSync(choicePath, JSON.stringify(chosen));
rmSync(reportPath, { force: true });
const { status } = spawnSync(
  process.execPath,
  [
    join(root, "node_modules", "@stryker-mutator", "core", "bin", "stryker.js"),
    "run",
    join(root, ".config", "stryker.config.mjs"),
  ],
  {
    cwd: root,
    stdio: "inherit",
    env: {
      ...process.env,
      MUTATED_ROOM: room,
      MUTATED_CHOICE: choicePath,
      MUTATED_TESTS: values.tests.join(","),
      MUTATED_AT_LOADING: values.loading ? "yes" : "no",
    },
  },
);
if (!existsSync(reportPath)) process.exit(status || 2);
process.exit(tell(read(reportPath)));

/** Every change that can be made to the files, in the order of their text. */
async function changesOf(paths: readonly string[]): Promise<Mutant[]> {
  const silent = new Proxy({}, { get: () => () => false }) as Logger;
  const texts = paths.map((path) => ({
    name: join(root, path),
    mutate: true,
    content: readFileSync(join(root, path), "utf8"),
  }));
  const { mutants } = await new Instrumenter(silent).instrument(texts, {
    plugins: null,
    ignorers: [],
    excludedMutations: ["StringLiteral"],
  });
  return mutants.filter((change) => change.status === undefined);
}

function choose(changes: readonly Mutant[]): Chosen[] {
  if (values.again) {
    const before = new Set(JSON.parse(readFileSync(unnoticedPath, "utf8")) as string[]);
    return changes.filter((change) => before.has(keyOf(change))).map(chosenOf);
  }
  const size = values.sample === undefined ? changes.length : Number(values.sample);
  return sampled(changes, size, Number(values.seed)).map(chosenOf);
}

/**
 * Every nth change from a beginning that is drawn, with the changes of each file in an order that is
 * drawn: each change is as likely as any other, and each file has its share.
 */
function sampled(changes: readonly Mutant[], size: number, seed: number): Mutant[] {
  if (size >= changes.length) return [...changes];
  const random = randomOf(seed);
  const shuffled = changes
    .map((change) => ({ change, rank: random() }))
    .sort((a, b) =>
      a.change.fileName === b.change.fileName
        ? a.rank - b.rank
        : a.change.fileName < b.change.fileName
          ? -1
          : 1,
    );
  const step = changes.length / size;
  const first = random() * step;
  return Array.from({ length: size }, (_, n) => shuffled[Math.floor(first + n * step)])
    .filter((each) => each !== undefined)
    .map(({ change }) => change);
}

/** Mulberry32, public domain (Tommy Ettinger): numbers from 0 to 1 by a seed. */
function randomOf(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

function chosenOf(change: Mutant): Chosen {
  const { start, end } = change.location;
  const place = `${start.line + 1}:${start.column}-${end.line + 1}:${end.column}`;
  return { key: keyOf(change), range: `${relative(root, change.fileName)}:${place}` };
}

/** The changes that were chosen, with what came of them; their places count from 0 as elsewhere here. */
function read(path: string): { readonly change: Mutant; readonly tried: Tried }[] {
  const keys = new Set(chosen.map(({ key }) => key));
  const report = JSON.parse(readFileSync(path, "utf8")) as {
    readonly files: Record<string, { readonly mutants: readonly Tried[] }>;
  };
  return Object.entries(report.files).flatMap(([file, { mutants }]) =>
    mutants.flatMap((tried) => {
      const { start, end } = tried.location;
      const change: Mutant = {
        ...tried,
        status: undefined,
        fileName: join(root, file),
        location: {
          start: { line: start.line - 1, column: start.column - 1 },
          end: { line: end.line - 1, column: end.column - 1 },
        },
      };
      return keys.has(keyOf(change)) ? [{ change, tried }] : [];
    }),
  );
}

function tell(results: readonly { readonly change: Mutant; readonly tried: Tried }[]): number {
  const of = (...statuses: string[]) =>
    results.filter(({ tried }) => statuses.includes(tried.status));
  const noticed = of("Killed", "Timeout");
  const survived = of("Survived");
  const unreached = of("NoCoverage");
  const unnoticed = [...survived, ...unreached];
  const atLoading = ({ tried }: (typeof results)[number]): boolean =>
    tried.status === "Ignored" || tried.statusReason?.includes(actsAtLoading) === true;
  const loading = results.filter(atLoading);
  const brokenOff = of("RuntimeError").filter((each) => !atLoading(each));
  const untried = survived.filter(({ tried }) => (tried.testsCompleted ?? 0) === 0);

  for (const { change, tried } of unnoticed) {
    const { start } = change.location;
    const place = `${relative(root, change.fileName)}:${start.line + 1}:${start.column + 1}`;
    const reached = tried.status === "NoCoverage" ? " (no test reaches it)" : "";
    console.log(`${place} ${change.mutatorName}${reached}`);
    console.log(`  - ${oneLine(textOf(change))}`);
    console.log(`  + ${oneLine(change.replacement)}`);
  }
  writeFileSync(unnoticedPath, JSON.stringify(unnoticed.map(({ change }) => keyOf(change))));

  const count = noticed.length + unnoticed.length;
  const [low, high] = wilson(noticed.length, count);
  const score = noticed.length / count;
  const counts = [
    `${noticed.length} of ${count} changes noticed, ${percent(score)}`,
    chosen.length < all.length
      ? `(95 %: ${percent(low)} to ${percent(high)} of all ${all.length})`
      : "",
    `; ${of("Timeout").length} by time, ${unreached.length} reached by no test`,
    `; not judged: ${loading.length} that act while a file is loaded, ${brokenOff.length} that broke off`,
  ];
  console.log(
    `${room}: ${counts
      .filter(Boolean)
      .join(" ")
      .replaceAll(/ ([;,])/g, "$1")}`,
  );
  if (untried.length > 0) {
    console.error(
      `no test ran against ${untried.length} of the changes: the score measures nothing`,
    );
    return 2;
  }
  if (brokenOff.length * 20 > chosen.length) {
    console.error(`too much broke off: ${brokenOff[0]?.tried.statusReason}`);
    return 2;
  }
  return score >= wanted ? 0 : 1;
}

/** Wilson's range of a share at 95 % (E. B. Wilson, J. Am. Stat. Assoc. 22, 1927, 209). */
function wilson(hits: number, count: number): [number, number] {
  if (count === 0) return [0, 1];
  const z = 1.959964;
  const share = hits / count;
  const middle = (share + z ** 2 / (2 * count)) / (1 + z ** 2 / count);
  const spread = Math.sqrt((share * (1 - share)) / count + (z / (2 * count)) ** 2);
  const half = (z * spread) / (1 + z ** 2 / count);
  return [middle - half, middle + half];
}

function textOf({ fileName, location: { start, end } }: Mutant): string {
  const lines = readFileSync(fileName, "utf8")
    .split("\n")
    .slice(start.line, end.line + 1);
  const last = lines.length - 1;
  return lines
    .map((line, n) => line.slice(n === 0 ? start.column : 0, n === last ? end.column : undefined))
    .join("\n");
}

function oneLine(text: string): string {
  const flat = text.replaceAll(/\s+/g, " ");
  return flat.length <= 110 ? flat : `${flat.slice(0, 80)} … ${flat.slice(-25)}`;
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
