/**
 * Builds that mean harm, for every verb that writes something for others: texts that act in a terminal,
 * a page, a table or the log of a job, and curves over ranges nobody would draw.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { hostile } from "../text/hostile";
import { workshop } from "./workshop";

const unexpected = "this should not have happened";
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const acting = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;

/** As a text in a file can hold it: quotes and ends of lines end it. */
const written = hostile.map((text) => text.replaceAll(/["\r\n]|\p{Surrogate}/gu, ""));

const buildOf = (text: string): string => `vehicle van "${text}" { mass: 3900 lb }
housing tube "${text}" { face_to_face: 58 in ± 1/8 in }
joint studs "${text}" { count: 4  torque: 60 lb-ft  recheck_after: 50 mi }
kind strip "${text}" {
  load: force in N "${text}"
  curve bend "${text}": load / 40 N over load from 0 N to 4000 N step 1000 N
    source: "${text}"
    caution: "${text}"
}
strip s "${text}" { }
procedure job "${text}" {
  caution: "${text}"
  step look "${text}" { measure: tube.face_to_face  sign_off: "${text}"  note: "${text} {${text}}" }
  step tight "${text}" { after: look  tighten: studs  caution: "${text}"  machines: ["${text}"] }
}
option other "${text}" { tube.face_to_face: 57 in }
record "${text}" 2026-04-03 by "${text}" with "${text}" { tube.face_to_face: 58 1/16 in  job.look { done: yes  signed: "${text}" } }
record 2026-04-04 by "${text}" { tube.face_to_face { accepted: yes  until: 2027-01-01  because: "${text}"  follows: "${text}" } }
record 2026-04-05 by "${text}" { studs { tightened: 60 lb-ft  held: yes } }
check "${text}": tube.face_to_face <= 50 in
  because: "${text}"
`;

const runs: readonly (readonly string[])[] = [
  ["check"],
  ["check", "--format", "github"],
  ["check", "--format", "sarif"],
  ["show", "--all"],
  ["show", "--as-built"],
  ["show", "--as-built", "--format", "json"],
  ["curve", "--all"],
  ["curve", "--all", "--format", "json"],
  ["handover"],
  ["handover", "--format", "csv"],
  ["handover", "--format", "json"],
  ["measure"],
  ["measure", "--format", "json"],
  ["plan"],
  ["plan", "--format", "json"],
  ["compare"],
  ["sheet"],
  ["sheet", "--format", "html"],
];

describe("hostile texts", () => {
  test.each(runs)(
    "%s %s %s: words, whatever they say",
    { timeout: 60_000 },
    async (verb, ...options) => {
      await fc.assert(
        fc.asyncProperty(written, async (text) => {
          const shop = workshop({ "build.trammel": buildOf(text) });
          const given = options.filter((each) => each !== undefined);
          const { code, out, log } = await shop.trammel(verb as string, "build.trammel", ...given);
          expect([0, 1, 2]).toContain(code);
          expect(log).not.toContain(unexpected);
          expect(log).not.toMatch(/unknown option|Allowed choices/);
          if (code === 2) expect(log).not.toBe("");
          expect(out).not.toMatch(acting);
          expect(log).not.toMatch(acting);
          if (!given.includes("github")) expect(out).not.toMatch(/^\s*::|##(\[|vso\[)/m);
          if (given.includes("json") || given.includes("sarif")) JSON.parse(out);
          if (given.includes("html")) expect(out).not.toMatch(/<script|<img|href="?https:\/\/x/i);
          if (given.includes("csv"))
            for (const line of out.split("\n"))
              expect(cellsOf(line).filter((each) => /^\s*[=+\-@]/.test(each))).toEqual([]);
        }),
        { numRuns: 12, seed: 10 },
      );
    },
  );

  test("log and merge take a hostile name and a hostile log for words", async () => {
    await fc.assert(
      fc.asyncProperty(written, async (text) => {
        const shop = workshop({ "build.trammel": buildOf("plain") });
        const more = ["--in", "build.trammel", "--by", `A ${text}`, "--remark", text, "--dry"];
        const { code, out, log } = await shop.trammel("log", "tight", ...more);
        expect([0, 1, 2]).toContain(code);
        expect(log).not.toContain(unexpected);
        expect(out + log).not.toMatch(acting);
      }),
      { numRuns: 25, seed: 10 },
    );
  });
});

/** Of a line of a table by RFC 4180. */
function cellsOf(line: string): string[] {
  return [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(
    ([, quoted, plain]) => quoted ?? plain ?? "",
  );
}

describe("a curve over a hostile range", () => {
  const curveOver = (range: string): Promise<{ code: number; out: string; log: string }> =>
    workshop({
      "build.trammel": `display { force: N }\nkind strip { load: force in N; curve bend "Bend": load / 40 N over load ${range} }\nstrip s { }\n`,
    }).trammel("curve", "build.trammel", "bend");

  test.each([
    "from 0 N to 4000 N step 0 N",
    "from 0 N to 4000 N step -1 N",
    "from 4000 N to 0 N step 100 N",
    "from 5 N to 5 N",
    "from 0 N to 1e300 N step 1 N",
    "from -1e308 N to 1e308 N step 1e300 N",
    "from 0 N to 4000 N step 1e-300 N",
    "from 0 N to 1 N / 0 step 1 N",
    "from 0 N * (0 / 0) to 4 N step 1 N",
    "from sqrt(-1) * 1 N to 4 N",
    "from 0 N to load",
    "from 1e300 N to 1e300 N + 1 N step 1 N",
  ])("%s", async (range) => {
    const { code, out, log } = await curveOver(range);
    expect([0, 1, 2]).toContain(code);
    expect(log).not.toContain(unexpected);
    expect(out + log).not.toBe("");
    expect(out).not.toMatch(/\bNaN\b|Infinity|∞|undefined/);
    expect(out.split("\n").length).toBeLessThan(1_100);
  });

  test("with steps finer than can be drawn reaches its end all the same", async () => {
    const { out } = await curveOver("from 0 N to 4000 N step 0.001 N");
    expect(out).toMatch(/^\s*4000\.0\s+100\.00$/m);
    expect(out.split("\n").length).toBeLessThan(1_100);
  });
});
