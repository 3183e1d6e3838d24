/**
 * Who imports whom, as the compiler resolves it, and what breaks a wall.
 *
 *     breaches(importsIn(root), rooms)   // ["server/solve/plan.ts imports server/model/thing.ts", …]
 *
 * Types count like code, and so do imports that are loaded late: the compiler tells of all of them.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { builtinModules } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";
import { root } from "../command/workshop";

export interface Import {
  /** Relative to the project, with forward slashes. */
  readonly from: string;
  /** A file of the project, or the name of a package. */
  readonly to: string;
}

export interface Room {
  /** Rooms and single files of the project it may import, itself apart. */
  readonly rooms: readonly string[];
  readonly packages: readonly string[];
}

const compiler = join(root, "node_modules", "typescript", "bin", "tsc");

/** Every import of a file of the project that the compiler follows; complains where it cannot run. */
export function importsIn(folder: string, config = "tsconfig.json"): Import[] {
  const { stdout } = spawnSync(
    process.execPath,
    [compiler, "-p", join(folder, config), "--noEmit", "--explainFiles", "--pretty", "false"],
    { cwd: folder, encoding: "utf8", maxBuffer: 1 << 28 },
  );
  const found: Import[] = [];
  let file = "";
  for (const line of stdout.split("\n")) {
    const why = /^\s+Imported via "([^"]+)" from file '([^']+)'/.exec(line);
    if (why === null) {
      if (/^\S/.test(line)) file = line.trim();
      continue;
    }
    const [, written = "", from = ""] = why;
    if (from.includes("node_modules/")) continue;
    const own = !file.includes("node_modules/");
    found.push({ from, to: own ? file : packageOf(written) });
  }
  if (found.length === 0)
    throw new Error(`the compiler tells of no import in ${folder}:\n${stdout}`);
  return found;
}

/**
 * Modules and globals of the machine that each file uses: by compiling it with the language alone, for
 * which they are not there, and by what is left of its imports when it is bundled.
 */
export async function machineUsedIn(folder: string): Promise<ReadonlyMap<string, string[]>> {
  const used = new Map<string, Set<string>>();
  const use = (file: string, what: string): void => {
    const path = file.replaceAll("\\", "/");
    used.set(path, (used.get(path) ?? new Set()).add(what));
  };
  const own = ["client", "grammar", "server"].filter((room) => existsSync(join(folder, room)));
  const bare = mkdtempSync(join(tmpdir(), "trammel-bare-"));
  try {
    const config = {
      extends: join(folder, "tsconfig.json"),
      compilerOptions: { types: [], lib: ["es2023", "es2024.object"], noEmit: true },
      include: own.map((room) => join(folder, room)),
      exclude: [],
    };
    writeFileSync(join(bare, "tsconfig.json"), JSON.stringify(config));
    const { stdout } = spawnSync(
      process.execPath,
      [compiler, "-p", join(bare, "tsconfig.json"), "--pretty", "false"],
      { cwd: folder, encoding: "utf8", maxBuffer: 1 << 28 },
    );
    for (const [, file = "", ...names] of stdout.matchAll(unknown)) {
      // A module that is imported by its short name is told again below, by its whole one.
      const name = names.find((each) => each !== undefined) ?? "globalThis";
      if (name in globalThis || !builtinModules.includes(name)) use(file, name);
    }
  } finally {
    rmSync(bare, { recursive: true, force: true });
  }
  const { metafile } = await build({
    absWorkingDir: folder,
    entryPoints: own.flatMap((room) =>
      readdirSync(join(folder, room), { recursive: true, encoding: "utf8" })
        .filter((name) => name.endsWith(".ts") && !name.endsWith(".d.ts"))
        .map((name) => `${room}/${name}`),
    ),
    bundle: true,
    packages: "external",
    platform: "node",
    metafile: true,
    write: false,
    outdir: "out",
    logLevel: "silent",
  });
  for (const [file, { imports }] of Object.entries(metafile.inputs))
    for (const { path, external } of imports) {
      const name = path.replace(/^node:/, "");
      if (external === true && builtinModules.includes(name)) use(file, `node:${name}`);
    }
  return new Map([...used].map(([file, names]) => [file, [...names].sort()]));
}

/** A room is the longest of `rooms` that a file lies in; `server` itself is its own files only. */
export function breaches(
  imports: readonly Import[],
  rooms: Readonly<Record<string, Room>>,
): string[] {
  return imports.flatMap(({ from, to }) => {
    const room = roomOf(from, rooms);
    if (room === undefined) return watched.test(from) ? [`${from} lies in no room`] : [];
    const { rooms: below = [], packages = [] } = rooms[room] ?? {};
    const target = roomOf(to, rooms);
    if (target === room) return [];
    const allowed =
      to.includes("/") && !to.startsWith("@") && /\.\w+$/.test(to)
        ? below.some((each) => each === target || each === to)
        : packages.includes(to) || below.includes(to);
    return allowed ? [] : [`${from} imports ${to}`];
  });
}

// ───────────────────────────── helpers ─────────────────────────────

/** What the compiler says of a name that is not there, by itself or of all there is. */
const unknown =
  /^([^\s(]+)\(\d+,\d+\): error TS\d+: (?:Cannot find name '(\w+)'|Property '(\w+)' does not exist on type 'typeof globalThis'|Element implicitly has an 'any' type because type 'typeof globalThis' has no index signature)/gm;

const watched = /^(client|grammar|server)\//;

function roomOf(file: string, rooms: Readonly<Record<string, Room>>): string | undefined {
  const folder = file.slice(0, file.lastIndexOf("/"));
  return Object.keys(rooms)
    .filter((room) => folder === room || (room !== "server" && folder.startsWith(`${room}/`)))
    .sort((one, other) => other.length - one.length)[0];
}

function packageOf(written: string): string {
  const [scope = "", name = ""] = written.split("/");
  return scope.startsWith("@") ? `${scope}/${name}` : scope;
}
