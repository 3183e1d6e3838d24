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
  ringsInTwoFiles,
  ringsText,
  teethText,
} from "./scale-builds";
import {
  chainByLibrary,
  freedomByLibrary,
  kinksByLibrary,
  spreadsByLibrary,
  teethByLibrary,
} from "./scale-library";
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
    { longest: 5_000 },
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

interface Scaled {
  readonly name: string;
  readonly target: number;
  readonly runs: number;
  readonly work: () => unknown;
  readonly beside: { readonly what: string; readonly work: () => unknown };
}

/** Ours and a general library's, one after the other. */
async function measuredInTurns(figures: readonly Scaled[]): Promise<Figure[]> {
  const measured: Figure[] = [];
  for (const { name, target, runs, work, beside } of figures) {
    // One of seconds is told as surely by its first few runs.
    const [ours, theirs] = await inTurns(
      runs,
      () => timed(work),
      () => timed(beside.work),
      { least: 1, longest: 5_000 },
    );
    measured.push({
      name,
      ...inMilliseconds(target, ours),
      alternative: alternative(`mathjs, ${beside.what}`, theirs),
    });
  }
  return measured;
}

const atCorners = {
  what: "each formula compiled, worked out at all of its 256 corners",
  work: () => kinksByLibrary(300),
};
const fewSpreads = {
  what: "sparse LU of the chain and a solve for each of 40 of the 4,000 tolerances",
  work: () => spreadsByLibrary(4000, 40),
};
const freedom = {
  what: "QR of the rows that are open, once for all asks",
  work: () => freedomByLibrary(400),
};
const optionsSolved = {
  what: "sparse LU of the row for each option",
  work: () => ringsByLibrary(300, 100),
};
const longChain = {
  what: "sparse LU of the chain",
  work: () => chainByLibrary(50_000),
};

/** What is large in one way each. Verdicts and spreads are kept with their solution: each run has its own. */
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
  return [
    ...(await measuredInTurns([
      {
        name: "300 checks with kinks over 300 tolerances, judged",
        target: 1000,
        runs: 5,
        work: () => judged({ ...checks, solution: solve(checks.solution.system) }),
        beside: atCorners,
      },
      {
        name: "± of all figures of a chain of 4,000",
        target: 2000,
        runs: 5,
        work: () => spreadsOf(long),
        beside: fewSpreads,
      },
      {
        name: "advice for 200 open figures among 400",
        target: 1000,
        runs: 5,
        work: () => advice(solve(open.system), 200),
        beside: freedom,
      },
      {
        name: "100 options on a chain of 300",
        target: 300,
        runs: 5,
        work: () => optionsOf(base, 100),
        beside: optionsSolved,
      },
      {
        name: "solving a chain of 50,000",
        target: 3000,
        runs: 3,
        work: () => solve(far),
        beside: longChain,
      },
    ])),
    {
      name: "sparse factors of a grid of 30 by 30",
      ...inMilliseconds(Math.max(gridTheirs.wall.median, 1), gridOurs),
      alternative: alternative("mathjs, sparse LU of the same matrix", gridTheirs),
    },
  ];
}

/** The same kinds of scale from the text to what is said of it; the library reads no text. */
async function scaleOfBuilds(): Promise<Figure[]> {
  const read = (text: string, part?: string) => () => readFrom(text, part);
  const [nearRings, farRings] = ringsInTwoFiles(50_000);
  return measuredInTurns([
    {
      name: "300 checks with kinks over 300 tolerances, from the text",
      target: 1000,
      runs: 5,
      work: read(kinksText(300)),
      beside: atCorners,
    },
    {
      name: "200 figures asked for and open, from the text",
      target: 1000,
      runs: 3,
      work: read(openText(200)),
      beside: freedom,
    },
    {
      name: "± of all figures of a chain of 4,000 things, from the text",
      target: 2000,
      runs: 5,
      work: read(ringsText(4000, { tolerance: " ± 0.01 mm", asked: true })),
      beside: fewSpreads,
    },
    {
      name: "100 options on a chain of 300 things, from the text",
      target: 300,
      runs: 3,
      work: read(ringsText(300, { options: 100 })),
      beside: optionsSolved,
    },
    {
      name: "a chain of 50,000 things in two files, from the text",
      target: 3000,
      runs: 3,
      work: read(farRings, nearRings),
      beside: longChain,
    },
    {
      name: "tooth counts for 60 ratios in whole numbers, from the text",
      target: 1000,
      runs: 3,
      work: read(teethText(60)),
      beside: { what: "every pair of counts tried", work: () => teethByLibrary(60) },
    },
  ]);
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
