/**
 * Times a piece of work, again and again, and sums the times up.
 *
 *     const times = await repeat(20, () => work());
 *     times.wall.median   // in milliseconds
 */

export interface Summary {
  readonly median: number;
  readonly least: number;
  readonly greatest: number;
  /** 95 of 100 are no greater. */
  readonly most: number;
  /** The first three, before anything is warm. */
  readonly first: readonly number[];
}

export interface Times {
  /** Milliseconds on the clock. */
  readonly wall: Summary;
  /** Milliseconds of processor time, of all threads; what else runs on the machine matters less to it. */
  readonly cpu: Summary;
  readonly count: number;
}

export interface Sample {
  readonly wall: number;
  readonly cpu: number;
}

/** Once. */
export async function timed(work: () => unknown): Promise<Sample> {
  const before = process.cpuUsage();
  const start = performance.now();
  await work();
  const wall = performance.now() - start;
  const { user, system } = process.cpuUsage(before);
  return { wall, cpu: (user + system) / 1000 };
}

/** Ends early, though not before `least` runs, when `longest` milliseconds have gone by. */
export async function repeat(
  count: number,
  work: (run: number) => unknown,
  { least = 3, longest = 20_000 } = {},
): Promise<Times> {
  const samples: Sample[] = [];
  const start = performance.now();
  for (let run = 0; run < count; run++) {
    if (run >= least && performance.now() - start > longest) break;
    samples.push(await timed(() => work(run)));
  }
  return timesOf(samples);
}

/**
 * Ours and someone else's, one after the other, so that a busy moment of the machine is one for
 * both; ends early as `repeat` does.
 */
export async function inTurns(
  count: number,
  ours: () => Sample | Promise<Sample>,
  theirs: () => Sample | Promise<Sample>,
  { least = 3, longest = 60_000 } = {},
): Promise<[Times, Times]> {
  const samples: [Sample[], Sample[]] = [[], []];
  const start = performance.now();
  for (let run = 0; run < count; run++) {
    if (run >= least && performance.now() - start > longest) break;
    samples[0].push(await ours());
    samples[1].push(await theirs());
  }
  return [timesOf(samples[0]), timesOf(samples[1])];
}

export function timesOf(samples: readonly Sample[]): Times {
  return {
    wall: summaryOf(samples.map(({ wall }) => wall)),
    cpu: summaryOf(samples.map(({ cpu }) => cpu)),
    count: samples.length,
  };
}

/** The median of an even row is the mean of its middle two. */
export function summaryOf(row: readonly number[]): Summary {
  const sorted = [...row].sort((one, other) => one - other);
  const middle = sorted.length / 2;
  const upper = sorted[Math.floor(middle)] ?? Number.NaN;
  const lower = sorted[Math.ceil(middle) - 1] ?? Number.NaN;
  return {
    median: (lower + upper) / 2,
    least: sorted[0] ?? Number.NaN,
    greatest: sorted.at(-1) ?? Number.NaN,
    most: sorted[Math.max(0, Math.ceil(0.95 * sorted.length) - 1)] ?? Number.NaN,
    first: row.slice(0, 3),
  };
}
