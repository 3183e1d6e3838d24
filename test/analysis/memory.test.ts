/** What is kept of a build goes when the build does, and an edit leaves nothing behind. */
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { expect, test } from "vitest";
import { memoryHost } from "../../server/analysis/host";
import { analyzerFor } from "../../server/trade";
import { folder, library } from "../model/build";

setFlagsFromString("--expose-gc");
const collect = runInNewContext("gc") as () => void;

function heapInUse(): number {
  collect();
  return process.memoryUsage().heapUsed / 1e6;
}

/** A shop's own dozen kinds with relations, checks and defaults; no two of them alike. */
function ownKinds(edit: number): string {
  const kinds = Array.from({ length: 12 }, (_, at) => {
    const fields = Array.from(
      { length: 10 },
      (__, field) => `f${field}: length default ${field + 1} in`,
    );
    const relations = Array.from(
      { length: 10 },
      (__, each) =>
        `g${each}: length  relation "r${each}": g${each} = f${each} * ${1 + edit / 1_000} + ${at} in`,
    );
    return `kind k${at} { ${fields.join("  ")}  ${relations.join("  ")} }\nk${at} t${at} { f0: 2 in  g0: ? }`;
  });
  return kinds.join("\n");
}

const uri = `${folder}build.trammel`;

function growth(times: number, work: (edit: number) => void): number {
  for (let edit = 0; edit < 5; edit++) work(edit);
  const before = heapInUse();
  for (let edit = 5; edit < 5 + times; edit++) work(edit);
  return heapInUse() - before;
}

test("an edit in a file of a dozen kinds leaves nothing behind", () => {
  const texts = new Map([[uri, ""]]);
  const analyzer = analyzerFor(memoryHost(texts), library());
  const grown = growth(60, (edit) => {
    texts.set(uri, ownKinds(edit));
    const analysis = analyzer.analyze(uri);
    expect(analysis?.valueAt("t0.g0")?.si).toBeCloseTo(0.0254 * 2 * (1 + edit / 1_000), 9);
    void analysis?.findings.length;
  });
  expect(grown).toBeLessThan(25);
});

test("builds with kinds of their own that are closed leave nothing behind", () => {
  const grown = growth(60, (edit) => {
    const analyzer = analyzerFor(memoryHost(new Map([[uri, ownKinds(edit)]])), library());
    void analyzer.analyze(uri)?.findings.length;
    analyzer.forget(uri);
  });
  expect(grown).toBeLessThan(25);
});

/** Spacers of one stack, each on the one below: figures that hang together, all of them solved. */
function stack(thickness: string, more = ""): string {
  const spacers = Array.from({ length: 300 }, (_, at) => {
    const below = at === 0 ? "0 in" : `s${at - 1}.top`;
    return `spacer s${at} { bottom: ${below}; thickness: ${at === 0 ? thickness : "0.1 in"}; top: ? }`;
  });
  return `kind spacer { bottom: length  thickness: length  top: length  relation "height": top = bottom + thickness }
${spacers.join("\n")}
${more}`;
}

test("what digits typed into a long stack came to is not kept for ever", {
  timeout: 120_000,
}, () => {
  const texts = new Map([[uri, ""]]);
  const analyzer = analyzerFor(memoryHost(texts), library());
  const grown = growth(300, (edit) => {
    texts.set(uri, stack(`0.${1_000 + edit} in`));
    const top = analyzer.analyze(uri)?.valueAt("s299.top")?.si;
    expect(top).toBeCloseTo(0.0254 * (29.9 + 0.1 + edit / 10_000), 9);
  });
  expect(grown).toBeLessThan(10);
});

test("an option's name typed letter by letter leaves nothing behind", { timeout: 120_000 }, () => {
  const texts = new Map([[uri, ""]]);
  const analyzer = analyzerFor(memoryHost(texts), library());
  const grown = growth(60, (edit) => {
    const name = `taller${"r".repeat(edit)}`;
    texts.set(uri, stack("0.1 in", `option ${name} { s0.thickness: 0.2 in }`));
    const top = analyzer.analyze(uri)?.under(name)?.valueAt("s299.top")?.si;
    expect(top).toBeCloseTo(0.0254 * 30.1, 9);
  });
  expect(grown).toBeLessThan(10);
});
