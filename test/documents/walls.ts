/**
 * Who imports whom, as the compiler resolves it, and what breaks a wall.
 *
 *     breaches(importsIn(root), rooms)   // ["server/solve/plan.ts imports server/model/thing.ts", …]
 *
 * Types count like code, and so do imports that are loaded late: the compiler tells of all of them.
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
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
