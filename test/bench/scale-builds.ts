/**
 * Builds that are large in one way each, from their text to what is said of them: read, solved, judged.
 *
 * Invented: names and figures mean nothing.
 */
import { lusolve, sparse } from "mathjs";
import { loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";
import { OpenBuild } from "./editing";

const library = loadLibrary(libraryFiles());

/** What is said of a text read from nothing: how many findings; `part`: the text of `part.trammel`. */
export function readFrom(text: string, part?: string): number {
  const build = new OpenBuild("file:///scale/build.trammel", text, library);
  if (part !== undefined) new OpenBuild("file:///scale/part.trammel", part, library, build);
  return build.answer(1).findings;
}

const ring = `kind bench_ring "Ring" {
  before: bench_ring optional
  gap: length in mm
  place: length in mm
  relation "place": place = (if given(before) then before.place else 0 mm) + gap
}
`;

/** Rings in a row, each placed by the one before. */
export function ringsText(
  count: number,
  { tolerance = "", asked = false, options = 0 } = {},
): string {
  const lines = [ring];
  for (let i = 0; i < count; i++) {
    const before = i === 0 ? "" : `before: r${i - 1}; `;
    const place = asked ? "; place: ?" : "";
    lines.push(`bench_ring r${i} { ${before}gap: ${1 + (i % 7) / 10} mm${tolerance}${place} }\n`);
  }
  lines.push(`check "not too long": r${count - 1}.place <= ${2 * count} mm\n`);
  for (let i = 0; i < options; i++) {
    lines.push(`option o${i} { r${(i * 3) % count}.gap: ${2 + i / 100} mm }\n`);
  }
  return lines.join("");
}

/** The same row over two files, as far as one file goes and on from there: the part, the build. */
export function ringsInTwoFiles(count: number): readonly [part: string, build: string] {
  const gap = (i: number): string => `gap: ${1 + (i % 7) / 10} mm`;
  const half = Math.floor(count / 2);
  const part = [ring];
  const build = ['use "part.trammel" as part\n'];
  for (let i = 0; i < count; i++) {
    const before = i === 0 ? "" : `before: ${i === half ? "part." : ""}r${i - 1}; `;
    (i < half ? part : build).push(`bench_ring r${i} { ${before}${gap(i)} }\n`);
  }
  build.push(`check "not too long": r${count - 1}.place <= ${2 * count} mm\n`);
  return [part.join(""), build.join("")];
}

/** Checks that each bend where figures meet, over as many tolerances. */
export function kinksText(count: number): string {
  const lines = [`kind bench_bit "Bit" { a: length in mm }\n`];
  for (let i = 0; i < count; i++)
    lines.push(`bench_bit b${i} { a: ${10 + (i % 13)} mm ± 0.1 mm }\n`);
  for (let i = 0; i < count; i++) {
    const apart = (k: number): string =>
      `abs(b${(i * 7 + k * 37) % count}.a - b${(i * 11 + k * 53 + 1) % count}.a)`;
    lines.push(
      `check "kink ${i}": max(${apart(0)}, ${apart(1)}, ${apart(2)}) + ${apart(3)} + ${apart(4)} <= 60 mm\n`,
    );
  }
  return lines.join("");
}

/** Figures that hang together by twos and threes, all of them open, every other one asked for. */
export function openText(asks: number): string {
  const lines = [
    `kind bench_cell "Cell" { x: length in mm; y: length in mm; z: length in mm\n  relation "sum": x = y + z }\n`,
  ];
  for (let i = 0; i < asks; i++) lines.push(`bench_cell c${i} { x: ? }\n`);
  for (let i = 0; i + 1 < asks; i++) {
    lines.push(`relation "row ${i}": c${i}.y = c${i + 1}.y + c${i + 1}.z / 3\n`);
  }
  return lines.join("");
}

/** Tooth counts in whole numbers, for as many ratios. */
export function teethText(pairs: number): string {
  const lines = [
    `kind bench_pair "Pair" { driven: count range 30..60; driving: count range 7..19; ratio: number\n  relation "ratio": ratio = driven / driving }\n`,
  ];
  for (let i = 0; i < pairs; i++) {
    lines.push(
      `bench_pair p${i} { ratio: ${(2.5 + (i % 37) / 17).toFixed(3)}; driven: ?; driving: ? }\n`,
    );
  }
  return lines.join("");
}

/** The same rows of rings by a general library: for each option the whole row solved. */
export function ringsByLibrary(count: number, options: number): unknown {
  const matrix = sparse();
  matrix.resize([count, count]);
  for (let i = 0; i < count; i++) {
    matrix.set([i, i], 1);
    if (i > 0) matrix.set([i, i - 1], -1);
  }
  let last: unknown;
  for (let option = 0; option < options; option++) {
    last = lusolve(
      matrix,
      Array.from({ length: count }, (_, i) => [i === (option * 3) % count ? 2 : 1 + (i % 7) / 10]),
    );
  }
  return last;
}
