/**
 * A folder of builds for one test, and the command line run in it within this process.
 *
 *     const shop = workshop({ "build.trammel": "axle rear { … }" });
 *     const { code, out, log } = await shop.trammel("check", "build.trammel");
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll } from "vitest";
import { run } from "../../server/command/program";
import type { World } from "../../server/command/world";

export const root = join(import.meta.dirname, "..", "..");

export interface Outcome {
  readonly code: number;
  readonly out: string;
  readonly log: string;
}

export interface Workshop {
  readonly folder: string;
  trammel(...args: string[]): Promise<Outcome>;
  /** The same with something on standard input, or in another environment. */
  trammelWith(given: Given, ...args: string[]): Promise<Outcome>;
  /** The same seen from a folder inside it. */
  inside(path: string): Workshop;
  write(path: string, content: string | Uint8Array): void;
  read(path: string): string;
}

export interface Given {
  readonly input?: string | Uint8Array;
  readonly environment?: Record<string, string>;
  readonly terminal?: boolean;
}

const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

export function workshop(files: Record<string, string | Uint8Array> = {}): Workshop {
  const folder = mkdtempSync(join(tmpdir(), "trammel-"));
  made.push(folder);
  const shop = inFolder(folder);
  for (const [path, content] of Object.entries(files)) shop.write(path, content);
  return shop;
}

/** The command line run from the repository, whose samples it reads. */
export const repository = inFolder(root);

function inFolder(folder: string): Workshop {
  const trammelWith = async (given: Given, ...args: string[]): Promise<Outcome> => {
    let out = "";
    let log = "";
    const world: World = {
      folder,
      environment: given.environment ?? {},
      isTerminal: given.terminal === true,
      readInput: async () =>
        typeof given.input === "string"
          ? new TextEncoder().encode(given.input)
          : (given.input ?? new Uint8Array()),
      out: (text) => {
        out += text;
      },
      log: (text) => {
        log += text;
      },
    };
    const code = await run(args, world);
    return { code, out, log };
  };
  return {
    folder,
    trammelWith,
    inside: (path) => inFolder(join(folder, path)),
    trammel: (...args) => trammelWith({}, ...args),
    write(path, content) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), content);
    },
    read: (path) => readFileSync(join(folder, path), "utf8"),
  };
}

/** A small build of our own: a housing of known width under two corners. */
export const smallBuild = `display { length: in 1/32 }

housing rear_housing "Rear housing" {
  face_to_face: ?
  standoff: 2.5 in ± 0.010 in
}

brake rear_disc { hat_thickness: 0.250 in }

axle rear "Rear axle" {
  housing: rear_housing
  brake: rear_disc
  mount_width: 63 1/2 in ± 1/16 in
}
`;

/** Kinds of our own, so that what is shown word for word does not hang on the library. */
export const ownKinds = `display { length: in 1/32 }

kind side of frame "One side" {
  half: length "Centerline to the end face"
  face: length "Centerline to the plate"
  relation "plate": face = half + plate.thickness
    source "geometry"
}

kind plate "End plate" {
  thickness: length measured "Thickness" needs "measure the plate"
}

kind frame "Frame" {
  plate: plate "Both end plates"
  left: part side "Left side"
  right: part side "Right side"
  width: length shown "Over the end faces" needs "measure over the end faces"
  outside: length wanted shown "Over the plates" needs "measure over the plates"
  relation "halves": width = left.half + right.half
    source "geometry"
  relation "plates": outside = left.face + right.face
    source "geometry"
  assume "the frame is centered": left.half = right.half
    source "common practice"
}

plate steel "Steel plate" { thickness: 1/4 in ± 0.010 in }

frame base "Base frame" {
  plate: steel
  outside: 63 1/2 in ± 1/16 in
  width: ?
}
`;
