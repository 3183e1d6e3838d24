/**
 * Whatever a build is made of, `--time 1` ends a second or two after it was read, says once what there
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

  const named = verbs.map((words) => [words.join(" "), words] as const);
  test.each(named)("%s", { timeout: 60_000 }, async (_words, [verb = "", ...more]) => {
    const run = async (seconds: string) => {
      const before = worked();
      const answer = await shop.trammel(verb, "build.trammel", ...more, "--time", seconds);
      return { ...answer, spent: worked() - before };
    };
    const reading = await run("0");
    const { code, out, log, spent } = await run("1");
    // What a view that is begun still takes, and the collector in threads of its own, are in it.
    expect(spent).toBeLessThan(3 + reading.spent);
    expect(log).not.toContain("should not have happened");
    for (const said of [out, log])
      expect(said.split("build.trammel: the 1 s").length).toBeLessThanOrEqual(2);
    // Nothing is explained of what was not read, nor is it said that nothing differs or is to be done.
    const mayKeepSilent = ["compare", "explain", "measure", "plan"].includes(verb);
    if (mayKeepSilent && code === 2) expect(log).toContain("there is no answer");
    else expect([code < 2, out === ""]).toEqual([true, false]);
    if (log.includes("are used up")) expect(code).toBeGreaterThan(0);
  });
});
