/**
 * Figures that are solved together cost boxes of a search, or steps of Newton's, where a number that
 * goes into them is another: not where one beside them is, and not once more in each view of a build.
 * What comes out is what a reading from nothing gives, to the last digit.
 */
import { expect, test, vi } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { loadLibrary } from "../../server/analysis/library";
import { libraryFiles } from "../../server/library-files";
import { Searching } from "../../server/solve/all-answers";
import { newton } from "../../server/solve/newton-steps";
import { folder, library } from "../model/build";

vi.mock("../../server/solve/newton-steps", { spy: true });
const searching = vi.spyOn(Searching.prototype, "run");

/** Starts of Newton's steps and runs of a search that something takes. */
function spentOn<T>(work: () => T): { starts: number; searches: number; made: T } {
  vi.mocked(newton).mockClear();
  searching.mockClear();
  const made = work();
  const starts = vi.mocked(newton).mock.calls.length;
  return { starts, searches: searching.mock.calls.length, made };
}

const uri = `${folder}build.trammel`;

/** A build that somebody edits, all of its views read each time. */
class Desk {
  private readonly texts = new Map([[uri, ""]]);
  private readonly analyzer: Analyzer;

  constructor(
    private readonly paths: readonly string[],
    words = library(),
  ) {
    this.analyzer = new Analyzer(memoryHost(this.texts, [folder]), words);
  }

  read(text: string) {
    this.texts.set(uri, text);
    return spentOn(() => {
      const analysis = this.analyzer.analyze(uri);
      const views = [analysis, analysis?.asBuilt()];
      for (const { name } of analysis?.options ?? []) views.push(analysis?.under(name));
      return {
        findings: analysis?.findings.map(({ message, hint }) => ({ message, hint })),
        figures: views.map((view) =>
          this.paths.map((path) => {
            const value = view?.valueAt(path);
            const { standing, othersNotExcluded } = value ?? {};
            return [path, value?.si, value?.outcome()?.si, standing, othersNotExcluded];
          }),
        ),
      };
    });
  }
}

/** A circle and a line, of which few boxes prove that they meet once in range. */
const meeting = (apart: string, beside: string): string => `kind meeting {
  radius: length
  apart: length
  x: length range 0 in..50 in
  y: length range 0 in..50 in
  beside: length
  sum: length
  relation "circle": x * x + y * y = radius * radius
  relation "line": y = x + apart
  relation "sum": sum = x + beside
}
meeting m { radius: 13 in ± 0.01 in  apart: ${apart}  beside: ${beside}  x: ?  y: ?  sum: ? }
check "sum": m.sum >= 1 in
option shifted { m.beside: 9 in }
option farther { m.beside: 11 in  m.sum: ? }
record "r" 2026-03-14 { m.beside: 4 in }
`;

/** Broyden's tridiagonal function (1965) of more figures than are searched through. */
function ring(level: number, beside: number): string {
  const names = Array.from({ length: 20 }, (_, at) => `x${at}`);
  const lines = names.map((x, at) => {
    const after = at < 19 ? ` - 2 * x${at + 1}` : "";
    return `relation "r${at}": (3 - 2 * ${x}) * ${x}${at > 0 ? ` - x${at - 1}` : ""}${after} = -level / 1 in`;
  });
  return `kind ring {
level: length
beside: number
sum: number
${names.map((x) => `${x}: number range -1..1`).join("\n")}
${lines.join("\n")}
relation "sum": sum = x0 + beside
}
ring r { level: ${level} in  beside: ${beside}  x0: ?  sum: ? }
option shifted { r.beside: 9 }
record "r" 2026-03-14 { r.beside: 4 }
`;
}

test("what few boxes prove takes no step, in whichever view, and is searched for once", () => {
  const paths = ["m.x", "m.y", "m.sum"];
  const desk = new Desk(paths);
  const first = desk.read(meeting("7 in", "2 in"));
  expect(first.made.figures[0]?.[0]?.[1]).toBeCloseTo(0.0254 * 5, 12);
  expect(first).toMatchObject({ starts: 0, searches: 1 });
  // Beside it, and back.
  for (const beside of ["3 in", "2 in"])
    expect(desk.read(meeting("7 in", beside))).toMatchObject({ starts: 0, searches: 0 });
  // Inside it: once more, for all views.
  const inside = desk.read(meeting("6.5 in", "2 in"));
  expect(inside).toMatchObject({ starts: 0, searches: 1 });
  // Of another library all equations are others.
  const anew = new Desk(paths, loadLibrary(libraryFiles())).read(meeting("6.5 in", "2 in"));
  expect(anew.searches).toBe(1);
  expect(inside.made).toEqual(anew.made);
  // What it came to before is known.
  const back = desk.read(meeting("7 in", "2 in"));
  expect(back).toMatchObject({ starts: 0, searches: 0 });
  expect(back.made).toEqual(first.made);
});

test("what nothing proves is gone after from all places once for the numbers that go in", () => {
  const paths = ["r.x0", "r.x19", "r.sum"];
  const desk = new Desk(paths);
  const first = desk.read(ring(1, 2));
  const { starts } = first;
  expect(starts).toBeGreaterThan(0);
  expect(starts).toBeLessThanOrEqual(7);
  expect(first.made.figures[0]?.[0]?.[4]).toBe(true);
  expect(desk.read(ring(1, 3))).toMatchObject({ starts: 0 });
  const inside = desk.read(ring(1.01, 3));
  expect(inside.starts).toBeGreaterThan(0);
  expect(inside.starts).toBeLessThanOrEqual(7);
  const anew = new Desk(paths, loadLibrary(libraryFiles())).read(ring(1.01, 3));
  expect(anew.starts).toBe(inside.starts);
  expect(inside.made).toEqual(anew.made);
  expect(desk.read(ring(1, 2))).toMatchObject({ starts: 0, made: first.made });
});
