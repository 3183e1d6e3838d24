/**
 * Builds of an invented shop for measuring with: vans in inches and trucks in millimeters, each
 * about 200 lines of vehicle, axle, wheels, brakes, welds, joints, checks, options, records and a
 * procedure, laid out the way the samples are. The same number gives the same text, always.
 *
 *     buildOf(7).text            // one build of 200 lines that uses parts/wheels.trammel and others
 *     longBuild(10_000, "own").text    // one file of 10,000 lines
 *
 * Must not know: how any of it is analyzed.
 */

import { type PartNames, partFiles } from "./generated-parts";
import { truckLines } from "./generated-truck";
import { vanLines } from "./generated-van";
import { padded, range } from "./rolls";

export interface GeneratedFile {
  /** Relative to the shop's folder, with forward slashes. */
  readonly path: string;
  readonly text: string;
}

export interface GeneratedBuild {
  readonly root: GeneratedFile;
  /** Lists of parts that the root file uses, below `parts/`. */
  readonly parts: readonly GeneratedFile[];
}

/** Who uses what: every vehicle parts of its own, or all of them the shop's few. */
export type Sharing = "own" | "shared";

/** One build of exactly 200 lines. */
export function buildOf(number: number): GeneratedFile {
  const parts = partsFor(number, "shared", "shared");
  const lines = [...usesOf(["wheels", "tires", "shafts", "steel"]), "", displayOf(number), ""];
  lines.push(...vehicleLines(number, parts, false));
  return { path: `builds/build-${padded(number)}.trammel`, text: exactly(lines, 200, number) };
}

/** The lists of parts that the builds of `buildOf` and shared long builds use. */
export function shopParts(): GeneratedFile[] {
  const shop = { owner: "shop", numbers: range(sharedParts) };
  return partFiles(shop, shop);
}

/** One file of exactly `length` lines: vehicle after vehicle, each with its brakes and procedure. */
export function longBuild(length: number, sharing: Sharing): GeneratedBuild {
  const lines = [...usesOf(["wheels", "tires", "shafts", "steel"], ""), "", displayOf(0), ""];
  let count = 0;
  for (;;) {
    // Two axles never share a shaft: it has one length.
    const next = vehicleLines(count, partsFor(count, sharing, "own"), true);
    if (lines.length + next.length > length) break;
    lines.push(...next);
    count++;
  }
  const vehicles = { owner: "own", numbers: range(count) };
  const shop = { owner: "shop", numbers: range(sharedParts) };
  const parts = partFiles(sharing === "shared" ? shop : vehicles, vehicles);
  return { root: { path: "fleet.trammel", text: exactly(lines, length, 1) }, parts };
}

// ───────────────────────────── one vehicle ─────────────────────────────

const sharedParts = 12;

function partsFor(number: number, sharing: Sharing, shafts: Sharing): PartNames {
  // Vans take even parts and trucks odd ones: stud circles and sizes belong together.
  const part = (number * 7 + (number >> 3) * 2) % sharedParts;
  const shopPart = `shop${part - (part % 2) + (number % 2)}`;
  const owner = sharing === "own" ? `own${number}` : shopPart;
  const shaftOwner = shafts === "own" ? `own${number}` : shopPart;
  return {
    wheel: `${owner}_wheel`,
    tire: `${owner}_tire`,
    spare_tire: `${owner}_spare_tire`,
    hub: `${owner}_hub`,
    left_shaft: `${shaftOwner}_left_shaft`,
    right_shaft: `${shaftOwner}_right_shaft`,
    bearing: `${shaftOwner}_bearing`,
    steel: sharing === "own" ? `${owner}_steel` : "shop0_steel",
    welder: sharing === "own" ? `${owner}_welder` : "shop0_welder",
  };
}

function vehicleLines(number: number, parts: PartNames, long: boolean): string[] {
  return number % 2 === 0 ? vanLines(number, parts, long) : truckLines(number, parts, long);
}

// ───────────────────────────── helpers ─────────────────────────────

function usesOf(names: readonly string[], up = "../"): string[] {
  return names.map((name) => `use "${up}parts/${name}.trammel"`);
}

function displayOf(number: number): string {
  return number % 2 === 0
    ? "display { length: in 1/32; torque: lb-ft; volume: qt }"
    : "display { length: mm 0.5; torque: N-m }";
}

/** Remarks fill what is short of the length; a build that is longer is a mistake made here. */
function exactly(lines: readonly string[], length: number, number: number): string {
  const short = length - lines.length;
  if (short < 0) throw new Error(`build ${number} has ${lines.length} lines, over ${length}`);
  const remarks = range(short).map(
    (each) => `# remark ${each + 1}: looked at on the stand, nothing to add`,
  );
  return `${[...lines, ...remarks].join("\n")}\n`;
}
