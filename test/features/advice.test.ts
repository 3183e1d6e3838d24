/**
 * Advice on what is missing: never worked out while someone types, kept while what it rests on is
 * the same, and what is told without it is told with it in the end.
 */
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { diagnostics } from "../../server/features/findings";
import { hover } from "../../server/features/hover";
import { inlayHints } from "../../server/features/inlay-hints";
import { quickFixes } from "../../server/features/quick-fixes";
import { defaultSettings } from "../../server/settings";
import { folder, library } from "./world";

const uri = `${folder}build.trammel`;
/** Two wheels and an axle, each with something open; a third wheel that is settled. */
const text = `wheel w { size: 17x9  backspace: ? }
wheel v { size: 16x8  backspace: ? }
wheel whole { size: 15x7  offset: 12 mm  backspace: ? }
tire t { size: 275/50R17 }
axle rear { wheel: w  tire: t  mount_width: ?  left { half: ? } }
option deep { v.size: 16x9  v.back_clearance: ? }
`;
const whole = { start: { line: 0, character: 0 }, end: { line: 1e6, character: 0 } };

class Desk {
  private readonly texts = new Map([[uri, text]]);
  private readonly analyzer = new Analyzer(memoryHost(this.texts, [folder]), library);

  constructor() {
    // What another desk worked out is no answer here.
    library.workshop.plans.forget();
  }

  read(from = "", to = ""): Analysis {
    this.texts.set(uri, (this.texts.get(uri) ?? "").replace(from, to));
    const analysis = this.analyzer.analyze(uri);
    if (analysis === undefined) throw new Error("the build cannot be read");
    return analysis;
  }
}

/** How many figures advice was worked out for meanwhile. */
function worked(work: () => void): number {
  const { counts } = library.workshop;
  const before = counts.advice;
  work();
  return counts.advice - before;
}

/** All an editor asks for by itself after a key was pressed. */
function shown(analysis: Analysis): unknown {
  return [diagnostics(analysis, uri), inlayHints(analysis, uri, whole, defaultSettings.hints)];
}

describe("advice on what is missing", () => {
  test("nothing that follows a keystroke works it out; pointing at one figure works out that one", () => {
    const desk = new Desk();
    expect(worked(() => shown(desk.read()))).toBe(0);
    const analysis = desk.read("17x9", "17x8");
    expect(worked(() => shown(analysis))).toBe(0);
    expect(worked(() => hover(analysis, uri, analysis.sourceOf(uri)!.text.indexOf("?")))).toBe(1);
    const line = { start: { line: 1, character: 0 }, end: { line: 1, character: 40 } };
    expect(worked(() => quickFixes(analysis, uri, line))).toBe(1);
  });

  test("it may be left after any piece, and what was worked out by then is kept", () => {
    const analysis = new Desk().read();
    let pieces = 0;
    for (const _ of analysis.advising()) if (++pieces === 2) break;
    expect(pieces).toBe(2);
    const rest = worked(() => {
      for (const _ of analysis.advising()) pieces++;
    });
    expect(rest).toBe(pieces - 2);
    expect(rest).toBeGreaterThan(0);
    expect(worked(() => analysis.findings.length)).toBe(0);
  });

  test("an edit that has nothing to do with it keeps it, one that has lets go of its own alone", () => {
    const desk = new Desk();
    const all = worked(() => desk.read().findings.length);
    expect(all).toBeGreaterThan(3);
    expect(worked(() => desk.read("12 mm", "14 mm").findings.length)).toBe(0);
    expect(worked(() => desk.read("tire t", "# a remark\ntire t").findings.length)).toBe(0);
    const some = worked(() => desk.read("16x8", "16x7").findings.length);
    expect(some).toBeGreaterThan(0);
    expect(some).toBeLessThan(all);
  });

  test("told at once is that figures are missing, and in the end what would settle them", () => {
    const analysis = new Desk().read();
    const missing = ({ findingsSoFar }: Analysis) =>
      findingsSoFar.filter(({ code }) => code === "missing/value");
    const first = missing(analysis);
    const others = analysis.findingsSoFar.filter(({ code }) => code !== "missing/value");
    expect(first.length).toBeGreaterThan(0);
    for (const { message, hint } of first) {
      expect(message).toMatch(/cannot be worked out yet$/);
      expect(hint).toBeUndefined();
    }
    const hint = () => JSON.stringify(inlayHints(analysis, uri, whole, defaultSettings.hints));
    expect(hint()).not.toContain("missing: give");
    const { findings } = analysis;
    const last = findings.filter(({ code }) => code === "missing/value");
    expect(last.some(({ hint: todo = "" }) => todo.startsWith("give "))).toBe(true);
    expect(findings.filter(({ code }) => code !== "missing/value")).toEqual(others);
    expect(analysis.findingsSoFar).toBe(findings);
    expect(hint()).toContain("missing: give");
  });
});
