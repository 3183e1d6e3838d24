/**
 * The figures to reach and how each is measured: ours and the general-purpose alternative's, on the
 * same work in the same run.
 *
 *     const figures = await editFigures();
 */
import { readFileSync } from "node:fs";
import { solve } from "../../server/solve";
import { type Edit, editsOf, OpenBuild, OpenYaml } from "./editing";
import { type GeneratedBuild, longBuild, type Sharing } from "./generate";
import {
  inTurns,
  repeat,
  type Sample,
  type Summary,
  summaryOf,
  type Times,
  timed,
  timesOf,
} from "./measure";
import { inRepository, run } from "./processes";
import {
  advice,
  chainOf,
  factoredByLibrary,
  factoredHere,
  gridRows,
  judged,
  kinkedChecks,
  openSystem,
  optionsOf,
  spreadsOf,
} from "./scale";
import {
  kinksText,
  openText,
  readFrom,
  ringsByLibrary,
  ringsText,
  teethText,
} from "./scale-builds";
import { Shop } from "./shop";
import { chainsOf, disagreement, solveByLibrary, solveHere } from "./solving";

export interface Figure {
  readonly name: string;
  readonly unit: "ms" | "MB" | "kB" | "times" | "relative" | "made";
  /** At most; for `times` at least. */
  readonly target: number;
  readonly measured: Summary;
  /** Median of processor time in milliseconds, where it was measured. */
  readonly cpu?: number;
  readonly count: number;
  readonly alternative?: {
    readonly what: string;
    readonly measured: Summary;
    readonly cpu?: number;
  };
  /** What the same work comes to by its parts. */
  readonly parts?: readonly {
    readonly what: string;
    readonly measured: Summary;
    readonly cpu: number;
  }[];
}

export const longLength = 10_000;
/** A build of many vehicles out of one shop's parts. */
const sharedLength = 3_000;

// ───────────────────────────── one edit ─────────────────────────────

/** Before a row of edits is broken off. */
const leastEdits = 24;

/** An edit of a long build whose vehicles have parts of their own, and of one whose parts they share. */
export async function editFigures(): Promise<Figure[]> {
  const own = longBuild(longLength, "own");
  const yaml = new OpenYaml("file:///fleet.yaml", own.root.text);
  await expectNoFindings(yaml);
  const edits = editsOf(own.root.text, 48);
  const theirs: Sample[] = [];
  let objections = 0;
  // In turns, so that a busy moment of the machine is one for both.
  const ours = await editTimes(own, "own", 120, async (index) => {
    const edit = edits[index];
    if (edit === undefined) return;
    const sample = await timed(async () => {
      yaml.apply(edit);
      objections += await yaml.answer();
    });
    if (index >= edits.length / 4) theirs.push(sample);
  });
  // Half-typed figures break the schema; a service that does not notice did no work.
  if (objections === 0) throw new Error("the YAML service noticed nothing");
  const yamlTimes = timesOf(theirs);
  // All of it hangs together, so that every edit touches all: far more than one vehicle ever holds.
  const shared = await editTimes(longBuild(sharedLength, "shared"), "shared", 16);
  const alternative = {
    what: `YAML language service, ${longLength} lines against a schema`,
    measured: yamlTimes.wall,
    cpu: yamlTimes.cpu.median,
  };
  const ratio = (times: Times): Summary =>
    summaryOf([
      yamlTimes.cpu.least / times.cpu.greatest,
      yamlTimes.cpu.median / times.cpu.median,
      yamlTimes.cpu.greatest / times.cpu.least,
    ]);
  const figure = (name: string, { all, byKind }: EditTimes): Figure[] => [
    { name: `one edit, ${name}`, ...inMilliseconds(8, all), alternative, parts: byKind },
    {
      name: `the same, against the YAML service`,
      unit: "times",
      target: 10,
      measured: ratio(all),
      count: all.count,
    },
  ];
  return [
    ...figure(`${longLength} lines`, ours),
    ...figure(`${sharedLength} lines, parts shared by all`, shared),
  ];
}

interface EditTimes {
  readonly all: Times;
  readonly byKind: NonNullable<Figure["parts"]>;
}

async function editTimes(
  build: GeneratedBuild,
  sharing: Sharing,
  count: number,
  /** What someone else does after each edit. */
  between: (index: number) => Promise<void> = async () => undefined,
): Promise<EditTimes> {
  const shop = new Shop();
  try {
    for (const file of [build.root, ...build.parts]) shop.put(file);
    const open = new OpenBuild(shop.uri(build.root.path), build.root.text);
    const seen = open.answer(middleOf(build.root.text));
    if (seen.hints === 0) throw new Error("a long build shows no inline values");
    const edits = editsOf(build.root.text, count);
    const all: { edit: Edit; sample: Sample }[] = [];
    const start = performance.now();
    for (const [index, edit] of edits.entries()) {
      const sample = await timed(() => {
        open.apply(edit);
        return open.answer(edit.line);
      });
      all.push({ edit, sample });
      await between(index);
      if (index >= leastEdits && performance.now() - start > 30_000) break;
    }
    // The first quarter warms up.
    const samples = all.slice(Math.floor(all.length / 4));
    const kinds = [...new Set(samples.map(({ edit }) => edit.about))];
    const byKind = kinds.map((what) => {
      const { wall, cpu } = timesOf(
        samples.filter(({ edit }) => edit.about === what).map(({ sample }) => sample),
      );
      return { what, measured: wall, cpu: cpu.median };
    });
    expectSameAsFresh(open, shop.uri(build.root.path), sharing);
    return { all: timesOf(samples.map(({ sample }) => sample)), byKind };
  } finally {
    shop.remove();
  }
}

function middleOf(text: string): number {
  return Math.floor(text.split("\n").length / 2);
}

/** Fast and wrong would not count: after all edits the answer is that of a fresh reading. */
function expectSameAsFresh(open: OpenBuild, uri: string, sharing: Sharing): void {
  const line = middleOf(open.text);
  const after = open.answer(line);
  const fresh = new OpenBuild(uri, open.text).answer(line);
  if (after.findings !== fresh.findings || after.hints !== fresh.hints) {
    throw new Error(
      `after edits (${sharing} parts) there are ${after.findings} findings and ${after.hints} inline values, freshly read ${fresh.findings} and ${fresh.hints}`,
    );
  }
}

async function expectNoFindings(yaml: OpenYaml): Promise<void> {
  const findings = await yaml.answer();
  if (findings > 0) throw new Error(`the YAML service has ${findings} findings, none are expected`);
}

// ───────────────────────────── first analysis ─────────────────────────────

/** Each in a fresh process, with library or schema read already; then again in one warmed up. */
export async function firstFigures(): Promise<Figure[]> {
  const build = longBuild(longLength, "own");
  const shop = new Shop();
  try {
    for (const file of build.parts) shop.put(file);
    const path = shop.put(build.root);
    const fresh = (language: string) => (): Sample => {
      const { output } = run(
        [inRepository("out/bench/first-analysis.mjs"), language, path],
        shop.folder,
      );
      return JSON.parse(output) as Sample;
    };
    const uri = shop.uri(build.root.path);
    const [ours, theirs] = await inTurns(5, fresh("trammel"), fresh("yaml"));
    const [warm, warmYaml] = await inTurns(
      8,
      () => timed(() => new OpenBuild(uri, build.root.text).answer(0)),
      () => timed(() => new OpenYaml(`${uri}.yaml`, build.root.text).answer()),
    );
    return [
      {
        name: `first analysis, ${longLength} lines, fresh process`,
        ...inMilliseconds(250, ours),
        alternative: alternative("YAML language service, the same", theirs),
      },
      {
        name: `first analysis, ${longLength} lines, process warmed up`,
        ...inMilliseconds(250, warm),
        alternative: alternative("YAML language service, the same", warmYaml),
      },
    ];
  } finally {
    shop.remove();
  }
}

// ───────────────────────────── solving ─────────────────────────────

/** Twice as fast is not the aim here: as fast as a linear solver, and to the same digits. */
export async function solveFigures(): Promise<Figure[]> {
  const linear = chainsOf(250);
  let here: number[] = [];
  let there: number[] = [];
  for (let run = 0; run < 3; run++) {
    here = solveHere(linear);
    there = solveByLibrary(linear);
  }
  const [ours, theirs] = await inTurns(
    15,
    () => timed(() => solveHere(linear)),
    () => timed(() => solveByLibrary(linear)),
  );
  const off = disagreement(here, there);
  const unknowns = linear.unknowns.length;
  return [
    {
      name: `planning and solving ${unknowns} unknowns`,
      ...inMilliseconds(Math.max(theirs.wall.median, 1), ours),
      alternative: alternative("mathjs, sparse LU of the same linear system", theirs),
    },
    {
      name: "the same, largest difference of a value",
      unit: "relative",
      target: 1e-9,
      measured: summaryOf([off]),
      count: unknowns,
    },
    ...(await scaleFigures()),
    ...(await scaleOfBuilds()),
  ];
}

/** What is large in one way each; where a general library does the same work, beside it. */
async function scaleFigures(): Promise<Figure[]> {
  const checks = kinkedChecks(300);
  const long = chainOf(4000);
  const open = openSystem(400);
  const base = solve(chainOf(300));
  const grid = gridRows(30);
  const far = chainOf(50_000);
  const [gridOurs, gridTheirs] = await inTurns(
    5,
    () => timed(() => factoredHere(grid)),
    () => timed(() => factoredByLibrary(grid)),
  );
  // Verdicts and spreads are kept with their solution: each run has one of its own.
  const figures: [name: string, target: number, runs: number, work: () => unknown][] = [
    [
      "300 checks with kinks over 300 tolerances, judged",
      1000,
      5,
      () => judged({ ...checks, solution: solve(checks.solution.system) }),
    ],
    ["± of all figures of a chain of 4,000", 2000, 3, () => spreadsOf(long)],
    ["advice for 200 open figures among 400", 1000, 3, () => advice(solve(open.system), 200)],
    ["100 options on a chain of 300", 300, 5, () => optionsOf(base, 100)],
    ["solving a chain of 50,000", 3000, 3, () => solve(far)],
  ];
  const measured: Figure[] = [];
  for (const [name, target, runs, work] of figures) {
    measured.push({ name, ...inMilliseconds(target, await repeat(runs, work)) });
  }
  measured.push({
    name: "sparse factors of a grid of 30 by 30",
    ...inMilliseconds(Math.max(gridTheirs.wall.median, 1), gridOurs),
    alternative: alternative("mathjs, sparse LU of the same matrix", gridTheirs),
  });
  return measured;
}

/** The same kinds of scale from the text to what is said of it. */
async function scaleOfBuilds(): Promise<Figure[]> {
  const optionsTheirs = await repeat(2, () => ringsByLibrary(300, 100));
  const figures: [name: string, target: number, runs: number, text: string][] = [
    ["300 checks with kinks over 300 tolerances, from the text", 1000, 3, kinksText(300)],
    ["200 figures asked for and open, from the text", 1000, 3, openText(200)],
    [
      "± of all figures of a chain of 4,000 things, from the text",
      2000,
      2,
      ringsText(4000, { tolerance: " ± 0.01 mm", asked: true }),
    ],
    [
      "100 options on a chain of 300 things, from the text",
      300,
      3,
      ringsText(300, { options: 100 }),
    ],
    ["a chain of 50,000 things, from the text", 3000, 1, ringsText(50_000)],
    ["tooth counts for 60 ratios in whole numbers, from the text", 1000, 3, teethText(60)],
  ];
  const measured: Figure[] = [];
  for (const [name, target, runs, text] of figures) {
    const figure = { name, ...inMilliseconds(target, await repeat(runs, () => readFrom(text))) };
    const beside = name.startsWith("100 options")
      ? { alternative: alternative("mathjs, sparse LU of the row for each option", optionsTheirs) }
      : {};
    measured.push({ ...figure, ...beside });
  }
  return measured;
}

// ───────────────────────────── helpers ─────────────────────────────

export function inMilliseconds(
  target: number,
  { wall, cpu, count }: Times,
): Pick<Figure, "unit" | "target" | "measured" | "cpu" | "count"> {
  return { unit: "ms", target, measured: wall, cpu: cpu.median, count };
}

export function alternative(
  what: string,
  { wall, cpu }: Times,
): NonNullable<Figure["alternative"]> {
  return { what, measured: wall, cpu: cpu.median };
}

/** How busy the machine was: three numbers, or nothing where it does not tell. */
export function load(): string {
  try {
    return readFileSync("/proc/loadavg", "utf8").split(" ").slice(0, 3).join(" ");
  } catch {
    return "unknown";
  }
}
