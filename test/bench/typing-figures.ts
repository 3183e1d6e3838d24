/**
 * What one edit costs where people work: in the samples, in a build of 340 lines, in two builds that
 * are open side by side, and in a long one with kits and `each`; all an editor asks after it, and what
 * is made anew by it.
 */
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { type Edit, editsOf, OpenBuild, type Request } from "./editing";
import { type Figure, inMilliseconds, longLength } from "./figures";
import { type GeneratedBuild, longBuild } from "./generate";
import { type Sample, summaryOf, timed, timesOf } from "./measure";
import { inRepository } from "./processes";
import { Shop } from "./shop";
import { typedInto, typings } from "./typing";

const samples = ["harbor-van/build.trammel", "alder-truck/build.trammel"];
const editsOfAKind = 36;
const longEdits = 60;

export async function typingFigures(): Promise<Figure[]> {
  const figures: Figure[] = [];
  for (const sample of samples) {
    const path = inRepository(`samples/${sample}`);
    const open = new OpenBuild(pathToFileURL(path).href, readFileSync(path, "utf8"));
    figures.push(...(await typedFigures(`samples/${sample}`, open)));
    const digits = typedInto(open.text, "a digit", longEdits);
    figures.push(...(await requestFigures(`samples/${sample}`, open, digits, 4)));
  }
  figures.push(
    ...(await inShop(longBuild(340, "shared"), (open) => typedFigures("340 lines", open))),
    ...(await besideFigures()),
    ...(await inShop(longBuild(longLength, "own"), (open) =>
      requestFigures(`${longLength} lines`, open, editsOf(open.text, longEdits), 16),
    )),
    ...(await inShop(withKits(longBuild(longLength, "own")), kitFigures)),
  );
  return figures;
}

/** Every kind of edit, and what it makes. */
async function typedFigures(name: string, open: OpenBuild): Promise<Figure[]> {
  const { counts, plans } = open.library.workshop;
  const all: Sample[] = [];
  const parts: Exclude<Figure["parts"], undefined>[number][] = [];
  const made: Record<"trees" | "rows" | "cells" | "equations" | "advice", number[]> = {
    trees: [],
    rows: [],
    cells: [],
    equations: [],
    advice: [],
  };
  const allocated: number[] = [];
  open.answer(0);
  for (const what of typings) {
    const own: Sample[] = [];
    for (const edit of typedInto(open.text, what, editsOfAKind)) {
      const before = { ...counts, cells: plans.solved };
      const heap = process.memoryUsage().heapUsed;
      own.push(await answered(open, edit));
      allocated.push((process.memoryUsage().heapUsed - heap) / 1024);
      if (what !== "a digit") continue;
      const after = { ...counts, cells: plans.solved };
      for (const key of madeOf) made[key].push(after[key] - before[key]);
    }
    if (own.length === 0) continue;
    const { wall, cpu } = timesOf(own);
    parts.push({ what, measured: wall, cpu: cpu.median });
    all.push(...own);
  }
  const most = { trees: 6, rows: 8, cells: 60, equations: 0, advice: 0 };
  return [
    { name: `one edit, ${name}`, ...inMilliseconds(4, timesOf(all)), parts },
    ...madeOf.map((what) => ({
      name: `${what} made by a digit, ${name}`,
      unit: "made" as const,
      target: most[what],
      measured: summaryOf(made[what]),
      count: made[what].length,
    })),
    {
      name: `allocated by an edit, ${name}`,
      unit: "kB",
      target: mostAllocated,
      measured: summaryOf(withoutCollections(allocated)),
      count: allocated.length,
    },
  ];
}

/** Two builds that use the same parts, both asked after an edit of one. */
async function besideFigures(): Promise<Figure[]> {
  const [one, other] = samples.map((sample) => inRepository(`samples/${sample}`));
  const path = one as string;
  const text = readFileSync(path, "utf8");
  const open = new OpenBuild(pathToFileURL(path).href, text);
  const twin = path.replace("build.trammel", "twin.trammel");
  const beside = new OpenBuild(pathToFileURL(twin).href, text, open.library, open);
  const third = new OpenBuild(
    pathToFileURL(other as string).href,
    readFileSync(other as string, "utf8"),
    open.library,
    open,
  );
  for (const each of [open, beside, third]) each.answer(0);
  const own: Sample[] = [];
  for (const edit of typedInto(text, "a digit", editsOfAKind)) {
    own.push(
      await timed(() => {
        open.apply(edit);
        for (const each of [open, beside, third]) each.answer(edit.line);
      }),
    );
  }
  return [
    { name: "a digit, two builds with the same parts open", ...inMilliseconds(4, timesOf(own)) },
  ];
}

/** All an editor asks after an edit, and what someone asks by hand after that. */
async function requestFigures(
  name: string,
  open: OpenBuild,
  edits: readonly Edit[],
  target: number,
): Promise<Figure[]> {
  const { line = 0 } = edits[0] ?? {};
  for (const { ask } of [...open.asked(line), ...open.askedByHand(line)]) ask();
  const all: Sample[] = [];
  const single: Sample[] = [];
  const asked = new Map<string, Sample[]>();
  const byHand = new Map<string, Sample[]>();
  for (const edit of edits) {
    open.apply(edit);
    const each = await eachTimed(open.asked(edit.line), asked);
    all.push(together(each));
    single.push(...(await eachTimed(open.askedByHand(edit.line), byHand)));
  }
  return [
    {
      name: `all an editor asks after an edit, ${name}`,
      ...inMilliseconds(target, timesOf(all)),
      parts: partsOf(asked),
    },
    {
      name: `one question by hand after that, ${name}`,
      ...inMilliseconds(target, timesOf(single)),
      parts: partsOf(byHand),
    },
  ];
}

/** Asks one question after the other. */
async function eachTimed(
  requests: readonly Request[],
  into: Map<string, Sample[]>,
): Promise<Sample[]> {
  const samples: Sample[] = [];
  for (const { what, ask } of requests) {
    const sample = await timed(ask);
    samples.push(sample);
    into.set(what, [...(into.get(what) ?? []), sample]);
  }
  return samples;
}

/** What several pieces of work come to, done one after the other. */
export function together(samples: readonly Sample[]): Sample {
  const sum = (of: (sample: Sample) => number): number =>
    samples.reduce((total, sample) => total + of(sample), 0);
  return { wall: sum(({ wall }) => wall), cpu: sum(({ cpu }) => cpu) };
}

function partsOf(samples: ReadonlyMap<string, readonly Sample[]>): Figure["parts"] {
  return [...samples].map(([what, own]) => {
    const { wall, cpu } = timesOf(own);
    return { what, measured: wall, cpu: cpu.median };
  });
}

async function kitFigures(open: OpenBuild): Promise<Figure[]> {
  open.answer(0);
  const own: Sample[] = [];
  for (const edit of editsOf(open.text, longEdits)) own.push(await answered(open, edit));
  const name = `one edit, ${longLength} lines with kits, bills and each`;
  return [{ name, ...inMilliseconds(8, timesOf(own)) }];
}

// ───────────────────────────── helpers ─────────────────────────────

const madeOf = ["trees", "rows", "cells", "equations", "advice"] as const;

/** What fits a young generation several times over. */
const mostAllocated = 4_000;

/** Growths of the heap between which nothing was collected: what was allocated. */
export function withoutCollections(growths: readonly number[]): number[] {
  return growths.filter((growth) => growth > 0);
}

function answered(open: OpenBuild, edit: Edit): Promise<Sample> {
  return timed(() => {
    open.apply(edit);
    return open.answer(edit.line);
  });
}

async function inShop(
  build: GeneratedBuild,
  measure: (open: OpenBuild) => Promise<Figure[]>,
): Promise<Figure[]> {
  const shop = new Shop();
  try {
    for (const file of [build.root, ...build.parts]) shop.put(file);
    return await measure(new OpenBuild(shop.uri(build.root.path), build.root.text));
  } finally {
    shop.remove();
  }
}

/** What speaks of all there is, and a kit that serves two. */
export function withKits({ root, parts }: GeneratedBuild): GeneratedBuild {
  const lines = `
shim_kit shop_kit { sizes: [0.005 in, 0.010 in, 0.020 in] }
caliper_fit left_fit { kit: shop_kit;   outer_reading: 1.250 in;   inner_reading: 1.178 in }
caliper_fit right_fit { kit: shop_kit;   outer_reading: 1.250 in;   inner_reading: 1.190 in }
check "all wheels": sum(each(wheel).offset) < 100 m
`;
  return { root: { ...root, text: root.text + lines }, parts };
}
