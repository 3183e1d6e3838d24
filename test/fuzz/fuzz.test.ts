/**
 * Some twenty thousand texts nobody would write, the same ones every time; `npm run fuzz` tries a
 * million others. What was found once stays in `corpus/`.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { root } from "../command/workshop";
import { faultOf, smallest } from "./faults";
import { inputOf } from "./inputs";

const count = Number(process.env.FUZZ_COUNT ?? 20_000);
const first = Number(process.env.FUZZ_SEED ?? 1);
/** In every test run one of so many is solved, the others are read and laid out. */
const wholeEach = Number(process.env.FUZZ_WHOLE_EACH ?? 8);
const mostFaults = 5;

/** Declarations of the samples and the library, each by itself. */
const seeds = ["samples", "server/library"]
  .flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
      .filter((name) => name.endsWith(".trammel"))
      .sort()
      .map((name) => readFileSync(join(root, folder, name), "utf8")),
  )
  .flatMap((text) => text.split(/\n(?=\S)/))
  .filter((piece) => piece.length > 20 && piece.length < 700);

test("what was found once", () => {
  const folder = join(import.meta.dirname, "corpus");
  for (const name of readdirSync(folder).sort())
    expect({ name, fault: faultOf(readFileSync(join(folder, name), "utf8")) }).toEqual({
      name,
      fault: undefined,
    });
});

test(`${count} texts from ${first} on`, { timeout: 24 * 3_600_000 }, () => {
  expect(seeds.length).toBeGreaterThan(200);
  const sorts = new Map<string, number>();
  const faults: string[] = [];
  for (let number = first; number < first + count && faults.length < mostFaults; number++) {
    const { sort, text } = inputOf(number, seeds);
    sorts.set(sort, (sorts.get(sort) ?? 0) + 1);
    const whole = number % wholeEach === 0;
    const fault = faultOf(text, whole);
    if (fault === undefined) continue;
    const kindOf = (tried: string) => faultOf(tried, whole)?.replaceAll(/[\d`"].*/g, "");
    const least = fault.startsWith("takes") ? text : smallest(text, kindOf);
    faults.push(`${number} (${sort}): ${fault}\n${least}`);
  }
  expect(faults.join("\n\n")).toBe("");
  // Every sort of text has been tried.
  expect([...sorts.keys()].sort()).toEqual([
    "bytes",
    "kinds",
    "lists",
    "mutation",
    "things",
    "tokens",
  ]);
});
