/** The benchmark's own sums: what is told of a row of times, and that edits are what they are called. */
import { expect, test } from "vitest";
import { parseFile } from "../../grammar/source-file";
import { OpenBuild } from "./editing";
import { longBuild } from "./generate";
import { inTurns, repeat, summaryOf, timesOf } from "./measure";
import { judged, kinkedChecks } from "./scale";
import { readFrom, ringsInTwoFiles } from "./scale-builds";
import { chainByLibrary, kinksByLibrary, spreadsByLibrary } from "./scale-library";
import { type Typing, typedInto, typings } from "./typing";
import { together, withKits, withoutCollections } from "./typing-figures";

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

test("ours and theirs take turns, and are summed up apart", async () => {
  const order: string[] = [];
  const one = (name: string, time: number) => () => {
    order.push(name);
    return { wall: time, cpu: time / 2 };
  };
  const [ours, theirs] = await inTurns(3, one("ours", 4), one("theirs", 10));
  expect(order.join(" ")).toBe("ours theirs ours theirs ours theirs");
  expect([ours.wall.median, ours.cpu.median, ours.count]).toEqual([4, 2, 3]);
  expect([theirs.wall.median, theirs.cpu.median, theirs.count]).toEqual([10, 5, 3]);
  const [few] = await inTurns(9, one("", 1), one("", 1), { least: 2, longest: -1 });
  expect(few.count).toBe(2);
});

test("questions one after the other come to their sum; heaps that shrank tell nothing", () => {
  const sum = together([
    { wall: 2, cpu: 1 },
    { wall: 5, cpu: 3 },
  ]);
  expect(sum).toEqual({ wall: 7, cpu: 4 });
  expect(withoutCollections([120, -4000, 80, 0])).toEqual([120, 80]);
});

test("every question of an editor is told something", () => {
  const text = `wheel w {
  size: 17x9
  backspace: ?
}
wheel v { size: 16x8  offset: 10 mm }
`;
  const open = new OpenBuild("file:///shop/build.trammel", text);
  const told = Object.fromEntries(open.asked(2).map(({ what, ask }) => [what, ask()]));
  expect(told).toMatchObject({ findings: 1, outline: 2, links: 0 });
  expect(told["inline values"]).toBeGreaterThan(0);
  for (const what of ["colors", "folds", "summary"]) expect(told[what]).toBeGreaterThan(0);
  const byHand = Object.fromEntries(open.askedByHand(2).map(({ what, ask }) => [what, ask()]));
  for (const what of ["hover", "completion", "definition", "highlights", "references"])
    expect([what, byHand[what] ?? 0]).not.toEqual([what, 0]);
  open.apply({ about: "a digit", line: 1, from: "17x9", to: "17x8" });
  expect(open.answer(0).findings).toBe(1);
});

test("a chain over two files is read whole, and its last check fails where it is too long", () => {
  const [part, build] = ringsInTwoFiles(60);
  expect(readFrom(build, part)).toBe(0);
  // 60 rings of 1.3 mm on average come to 76.8 mm; the check says 120.
  expect(readFrom(build.replace("<= 120 mm", "<= 76 mm"), part)).toBe(1);
});

test("the library's work comes to what it does here", () => {
  // By hand: the first and 999 pieces of a hundredth.
  expect(chainByLibrary(1000)).toBeCloseTo(1 + 999 * 0.01, 9);
  // A tolerance of the first moves all, of the middle one half of them.
  expect(spreadsByLibrary(100, 2)).toBeCloseTo((100 + 50) * 1e-5, 12);
  expect(kinksByLibrary(300)).toBe(judged(kinkedChecks(300)));
});
