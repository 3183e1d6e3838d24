/** The benchmark's own sums: what is told of a row of times, and that edits are what they are called. */
import { expect, test } from "vitest";
import { parseFile } from "../../grammar/source-file";
import { longBuild } from "./generate";
import { repeat, summaryOf, timesOf } from "./measure";
import { type Typing, typedInto, typings } from "./typing";
import { withKits } from "./typing-figures";

test("a row of an even number has the mean of its middle two as median", () => {
  expect(summaryOf([4, 1, 3, 2])).toEqual({
    median: 2.5,
    least: 1,
    greatest: 4,
    most: 4,
    first: [4, 1, 3],
  });
  expect(summaryOf([7]).median).toBe(7);
  expect(summaryOf([]).median).toBeNaN();
});

test("95 of 100 are no greater than `most`", () => {
  const row = Array.from({ length: 100 }, (_, at) => (at * 37) % 100);
  expect(summaryOf(row).most).toBe(94);
  expect(summaryOf(row).first).toEqual([0, 37, 74]);
});

test("clock and processor are summed up apart", () => {
  const { wall, cpu, count } = timesOf([
    { wall: 10, cpu: 1 },
    { wall: 30, cpu: 3 },
  ]);
  expect([wall.median, cpu.median, count]).toEqual([20, 2, 2]);
});

test("work is repeated as often as asked, less where it takes too long", async () => {
  let done = 0;
  expect((await repeat(5, () => done++)).count).toBe(5);
  expect(done).toBe(5);
  expect((await repeat(50, () => undefined, { least: 2, longest: -1 })).count).toBe(2);
});

const { root } = longBuild(400, "own");

test.each(typings)("%s: one line changes, and comes back", (what: Typing) => {
  const lines = root.text.split("\n");
  const edits = typedInto(root.text, what, 12);
  expect(edits).toHaveLength(12);
  for (const [at, { line, from, to }] of edits.entries()) {
    expect(to).not.toBe(from);
    expect(lines[line]).toBe(from);
    lines[line] = to;
    if (at % 2 === 1) expect(lines.join("\n")).toBe(root.text);
  }
});

test("a remark changes nothing but comments", () => {
  const plain = (text: string) => JSON.stringify(parseFile(text).items.map(({ node }) => node));
  const [edit] = typedInto(root.text, "a remark in a thing", 1);
  const lines = root.text.split("\n");
  lines[edit?.line ?? 0] = edit?.to ?? "";
  const changed = parseFile(lines.join("\n"));
  expect(changed.items.flatMap(({ problems }) => problems)).toEqual([]);
  expect(plain(root.text).length).toBe(plain(lines.join("\n")).length);
});

test("kits and `each` come on top of the same build", () => {
  const build = longBuild(400, "own");
  const more = withKits(build);
  expect(more.root.text.startsWith(build.root.text)).toBe(true);
  expect(more.root.text).toContain("each(wheel)");
  expect(parseFile(more.root.text).items.flatMap(({ problems }) => problems)).toEqual([]);
});
