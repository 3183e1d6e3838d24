/**
 * Solving, proving a ± and looking for what contradicts are let go of in their midst where nobody waits
 * any longer, or where the time is used up; whatever was half done by then, what is asked next comes out
 * as from a fresh reading.
 *
 * Invented: names and figures mean nothing.
 */
import { expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { loadLibrary } from "../../server/analysis/library";
import { endless, TakenBack } from "../../server/keep/patience";
import { libraryFiles } from "../../server/library-files";
import { stateOf } from "../model/state";

const uri = "file:///shop/build.trammel";
const library = loadLibrary(libraryFiles());

/** So many figures in a ring, each bent into the next two. */
function ring(count: number, first: string): string {
  const places = Array.from({ length: count }, (_, at) => at);
  const fields = places.map((at) => `  x${at}: number range 0..10\n  c${at}: number\n`);
  const relations = places.map((at) => {
    const [next, last] = [(at + 1) % count, (at + 2) % count];
    return `  relation "r${at}": x${at} * x${at} * x${next} + sin(x${last} * 1 rad) = c${at}\n`;
  });
  const given = places.map((at) => `c${at}: ${at === 0 ? first : `${1 + (at % 7)}.3`} ± 0.01`);
  return `kind ring "Ring" {\n${fields.join("")}${relations.join("")}}
ring small { ${given.join("; ")}; x0: ? }
check "small enough": small.x0 + small.x1 <= 3
check "bent": abs(small.x1 - small.x2) * max(small.x0, small.x3) <= 6
`;
}

const others = `kind plate "Plate" { a: length in mm measured; b: length in mm; c: length in mm
  relation "sum": c = a + b
  relation "half": b = a / 2
}
plate one { a: 10 mm ± 0.1 mm; b: 5 mm ± 0.1 mm; c: 16 mm ± 0.1 mm }
plate two { a: ? }
record 2026-04-01 { two.a: 9 mm ± 0.5 mm; two.b: 4 mm ± 0.5 mm; two.c: 14 mm ± 0.5 mm }
option wide { one.a: 11 mm }
kind rod "Rod" { ${Array.from({ length: 300 }, (_, at) => `l${at}: length`).join("; ")}
${Array.from({ length: 299 }, (_, at) => `  relation "l${at}": l${at + 1} = l${at} + 1 mm`).join("\n")}
}
rod r { l0: 5 mm; l299: ? }
check "long": r.l299 <= 1 m
`;

const text = (first: string): string => ring(6, first) + others;

/** All that is read, as drawn and as built: places, ±, checks, findings. */
function seen(analysis: Analysis): unknown {
  return [stateOf(analysis, true), stateOf(analysis.asBuilt(), true)];
}

test("whenever it is let go of, it comes out as if it had not been", () => {
  const texts = new Map([[uri, text("1.3")]]);
  const analyzer = new Analyzer(memoryHost(texts), library);
  seen(analyzer.analyze(uri)!);
  let whole = 0;
  let letGo = 0;
  for (let after = 0, round = 0; round < 40; round++, after = Math.ceil(after * 1.3) + 1) {
    texts.set(uri, text(`${(1.3 + round / 50).toFixed(2)}`));
    let left = after;
    try {
      seen(analyzer.analyze(uri, {}, { ...endless, isTakenBack: () => --left < 0 })!);
      whole++;
    } catch (error) {
      if (!(error instanceof TakenBack)) throw error;
      letGo++;
    }
    const fresh = new Analyzer(memoryHost(texts), library);
    expect(seen(analyzer.analyze(uri)!)).toEqual(seen(fresh.analyze(uri)!));
    if (whole > 0) break;
  }
  // From its very first pause on to where nothing is let go of any more.
  expect(whole).toBe(1);
  expect(letGo).toBeGreaterThan(8);
});

test("wherever the time ends, what was worked out by then stands, and what is asked next is whole", () => {
  const texts = new Map([[uri, text("1.3")]]);
  const analyzer = new Analyzer(memoryHost(texts), library);
  let whole = 0;
  let cut = 0;
  for (let after = 0, round = 0; round < 40; round++, after = Math.ceil(after * 1.3) + 1) {
    texts.set(uri, text(`${(1.3 + round / 50).toFixed(2)}`));
    const fresh = new Analyzer(memoryHost(texts), library).analyze(uri)!;
    const all = seen(fresh);
    let left = after;
    const short = analyzer.analyze(uri, {}, { ...endless, isUp: () => --left < 0, seconds: 7 })!;
    const views = [short, short.asBuilt()];
    for (const view of views) {
      const there = view === short ? fresh : fresh.asBuilt();
      for (const { path, si, standing } of view.values.values()) {
        if (si === undefined || standing === "assumed") continue;
        // Readings that there was no time to make agree stay what they were read as.
        const asRead = short.leftOut.length > 0 && /^(?:one|two)\./.test(path);
        if (!asRead) expect([path, si]).toEqual([path, there.valueAt(path)?.si]);
      }
      for (const { title, verdict } of view.checks) {
        const then = there.checks.find((each) => each.title === title)!.verdict;
        for (const level of ["nominal", "rss", "worst"] as const)
          if (verdict[level] !== "unknown")
            expect([title, verdict[level]]).toEqual([title, then[level]]);
      }
    }
    const told = short.findings.filter(({ code }) => code === "build/too-much");
    expect(told).toEqual(short.leftOut);
    const messages = new Set(fresh.findings.map(({ message }) => message));
    for (const finding of short.findings)
      if (!told.includes(finding)) expect(messages).toContain(finding.message);
    const state = seen(short);
    if (short.leftOut.length === 0) {
      whole++;
      expect(state).toEqual(all);
    } else cut++;
    expect(short.leftOut.length).toBeLessThanOrEqual(1);
    expect(seen(analyzer.analyze(uri)!)).toEqual(all);
    if (whole > 0) break;
  }
  expect(whole).toBe(1);
  expect(cut).toBeGreaterThan(8);
});
