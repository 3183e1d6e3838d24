/**
 * The time there is for reading a build: where it ends, a finding says what was left out, in every
 * verb, and what was read by then is answered as ever.
 */
import { readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { loadLibrary } from "../../server/analysis/library";
import { endless, TakenBack } from "../../server/keep/patience";
import { libraryFiles } from "../../server/library-files";
import { orderFindings } from "../../server/sequence";
import { smallBuild, workshop } from "./workshop";

const optioned = `${smallBuild}
option wide { rear.left.inner_gap: 1 1/2 in }
option narrow { rear.left.inner_gap: 3/4 in }
`;

describe("no time at all", () => {
  test("check tells it once, and ends with 1", async () => {
    const shop = workshop({ "build.trammel": optioned });
    const { code, out, log } = await shop.trammel("check", "--time", "0", "build.trammel");
    expect(code).toBe(1);
    const told = out.split("\n").filter((line) => line.includes("[build/too-much]"));
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(/the 0 s there are .* are used up: `\w+` and \d+ more are not read/);
    expect(out).toContain("`--time`");
    expect(out).toContain("option `wide` and 1 more");
    expect(log).toBe("");
  });

  test.each([
    ["show", "--all"],
    ["show", "--format", "json"],
  ])("%s %s says so on the log, and does not say there are no figures", async (verb, ...more) => {
    const shop = workshop({ "build.trammel": optioned });
    const { code, out, log } = await shop.trammel(verb, "build.trammel", ...more, "--time", "0");
    expect(log).toContain("the 0 s there are for reading this build are used up");
    expect(out).not.toContain("no figures yet");
    expect(code).toBe(1);
  });

  // Where nothing was found nobody can say there is nothing; and paper does not tell what it lacks.
  test.each([
    ["explain", "rear.track"],
    ["explain", "--fit"],
    ["compare"],
    ["compare", "--format", "json"],
    ["measure"],
    ["measure", "--format", "json"],
    ["measure", "--format", "form"],
    ["measure", "--format", "markdown"],
    ["sheet"],
    ["sheet", "--format", "markdown"],
    ["draw", "rear"],
    ["plan"],
    ["plan", "--format", "json"],
    ["curve"],
    ["handover"],
    ["handover", "--format", "csv"],
  ])("%s %s %s has no answer", async (verb, ...more) => {
    const shop = workshop({ "build.trammel": optioned });
    const { code, out, log } = await shop.trammel(verb, "build.trammel", ...more, "--time", "0");
    expect(log).toContain("the 0 s there are for reading this build are used up");
    expect(log).toContain("there is no answer; give it more with `--time`");
    expect([code, out]).toEqual([2, ""]);
  });

  test("log says so, writes nothing, and more of it can be given", async () => {
    const steps = `${optioned}procedure job { step saw "Saw it" }\n`;
    const shop = workshop({ "build.trammel": steps });
    const files = (): string[] => readdirSync(shop.folder).sort();
    const before = files();
    const none = await shop.trammel("log", "saw", "--by", "Ida", "--time", "0");
    expect(none.code).toBe(1);
    expect(none.log).toContain("used up");
    expect(none.log).toContain("nothing was written");
    expect(files()).toEqual(before);
    const { code } = await shop.trammel("log", "saw", "--by", "Ida", "--time", "90");
    expect(code).toBe(0);
    expect(files().length).toBe(before.length + 1);
  });

  test("with the time there usually is nothing is left out", async () => {
    const shop = workshop({ "build.trammel": optioned });
    const { out } = await shop.trammel("check", "build.trammel");
    expect(out).not.toContain("used up");
    const { code, log } = await shop.trammel("check", "--time", "soon", "build.trammel");
    expect(code).toBe(2);
    expect(log).toContain("whole number");
  });
});

test("what was read before the time was up is answered as it is with all the time there is", () => {
  const library = loadLibrary(libraryFiles());
  const uri = "file:///shop/build.trammel";
  const analyzerOf = () => new Analyzer(memoryHost(new Map([[uri, optioned]])), library);
  const whole = analyzerOf().analyze(uri)!;
  const messages = new Set(whole.findings.map(({ code, message }) => `${code} ${message}`));
  let complete = 0;
  for (let parts = 0; complete === 0 && parts < 2_000; parts += 3 + (parts >> 4)) {
    let left = parts;
    const patience = { ...endless, isUp: () => --left < 0, seconds: 7 };
    const analysis = analyzerOf().analyze(uri, {}, patience)!;
    const { findings } = analysis;
    const told = findings.filter(({ code }) => code === "build/too-much");
    expect(told).toEqual(analysis.leftOut);
    if (told.length === 0) {
      complete++;
      expect(findings.length).toBe(whole.findings.length);
      continue;
    }
    expect(told).toHaveLength(1);
    // Nothing that was read is said otherwise: what hangs on things that were not stays open.
    for (const value of analysis.values.values()) {
      if (value.si === undefined || value.standing === "assumed") continue;
      expect([value.path, value.si]).toEqual([value.path, whole.valueAt(value.path)?.si]);
    }
    for (const { code, message } of findings)
      if (!/^(?:build|missing|check\/cannot-judge)/.test(code))
        expect(messages).toContain(`${code} ${message}`);
  }
  expect(complete).toBeGreaterThan(0);
});

describe("within the order of work", () => {
  const kinds = ["weld", "tack"];
  const steps = Array.from({ length: 200 }, (_, at) => {
    const after = Array.from({ length: Math.min(at, 8) }, (__, back) => `s${at - back - 1}`);
    return `step s${at} { work: ${kinds[at % kinds.length]}; on: ["w"]; after: [${after.join(", ")}] }`;
  });
  const dense = ["wheel w { size: 16x7; backspace: 4 in; offset: ? }", ...steps].join("\n");
  const uri = "file:///shop/build.trammel";
  const library = loadLibrary(libraryFiles());
  let begun = false;
  const analyzerOf = () =>
    new Analyzer(memoryHost(new Map([[uri, dense]])), library, [
      (analysis) => {
        begun = true;
        return orderFindings(analysis);
      },
    ]);

  test("it is left out and told where the time ends in it; all else is answered", () => {
    const whole = analyzerOf().analyze(uri)!;
    const offset = whole.valueAt("w.offset")?.si;
    const ofWork = whole.findings.filter(({ code }) => code.startsWith("order/"));
    expect(ofWork.length).toBeGreaterThan(0);
    begun = false;
    const patience = { ...endless, isUp: () => begun, seconds: 7 };
    const analysis = analyzerOf().analyze(uri, {}, patience)!;
    const { findings } = analysis;
    const told = findings.filter(({ code }) => code === "build/too-much");
    expect(told).toHaveLength(1);
    expect(JSON.stringify(told)).toContain("order of work");
    expect(findings.filter(({ code }) => code.startsWith("order/"))).toEqual([]);
    expect(analysis.valueAt("w.offset")?.si).toBe(offset);
  });

  test("nobody waits any longer: it is let go of, and comes out the same when asked for again", () => {
    const whole = analyzerOf()
      .analyze(uri)!
      .findings.map(({ message }) => message);
    begun = false;
    const analyzer = analyzerOf();
    const patience = { ...endless, isTakenBack: () => begun };
    const analysis = analyzer.analyze(uri, {}, patience)!;
    expect(() => analysis.findings).toThrow(TakenBack);
    expect(analyzer.analyze(uri)!.findings.map(({ message }) => message)).toEqual(whole);
  });
});
