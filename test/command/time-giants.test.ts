/**
 * Whatever a build is made of, `--time 1` ends about a second after it was read, says once what there
 * was no time for, and answers.
 */
import { afterAll, describe, expect, test } from "vitest";
import { giants } from "./giants";
import { workshop } from "./workshop";

/** Of this process, in seconds: however busy the machine is. */
function worked(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

describe.each(Object.entries(giants))("%s", (_, { text, verbs }) => {
  const shop = workshop({ "build.trammel": text });
  afterAll(() => shop.write("build.trammel", ""));

  test.each(verbs)("%s %s", { timeout: 60_000 }, async (verb = "", ...more) => {
    const run = async (seconds: string) => {
      const before = worked();
      const answer = await shop.trammel(verb, "build.trammel", ...more, "--time", seconds);
      return { ...answer, spent: worked() - before };
    };
    const reading = await run("0");
    const { code, out, log, spent } = await run("1");
    expect(spent).toBeLessThan(1.5 + reading.spent);
    expect(log).not.toContain("should not have happened");
    expect(log).not.toContain("there is no answer");
    for (const said of [out, log]) expect(said.split("used up").length).toBeLessThanOrEqual(2);
    expect(code).toBeLessThan(2);
    expect(out).not.toBe("");
  });
});
