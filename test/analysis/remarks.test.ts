/** A remark, an empty line and what moves with them: nothing is known otherwise, all stands elsewhere. */
import { describe, expect, test } from "vitest";
import { memoryHost } from "../../server/analysis/host";
import { diagnostics } from "../../server/features/findings";
import { locationOf } from "../../server/features/place";
import { sequenceOf } from "../../server/sequence";
import { analyzerFor } from "../../server/trade";
import { filesOf, folder, library } from "../model/build";

const uri = `${folder}build.trammel`;
const text = `//- build.trammel
# the shop's own
wheel w {
  width: 8 in
  offset: 18 mm
  backspace: ?
}
check "deep": w.backspace >= 9 in
joint nuts { thread: M12x1.5  count: 5  torque: 85 lb-ft }
procedure work { step one { tighten: [nuts] } }
option wide { w.width: 9 in  w.offset: 1 m }
record "r" 2026-03-14 { nuts.tightened: 40 lb-ft  work.one.photos: "nuts.jpg" }
`;

function opened() {
  const files = filesOf(text);
  const photos = new Set<string>();
  const host = { ...memoryHost(files), exists: (name: string) => photos.has(name) };
  const analyzer = analyzerFor(host, library());
  const read = (today?: string) => {
    const analysis = analyzer.analyze(uri, { today });
    if (analysis === undefined) throw new Error("the build cannot be read");
    return analysis;
  };
  const change = (from: string, to: string): void => {
    const before = files.get(uri) as string;
    expect(before).toContain(from);
    files.set(uri, before.replace(from, to));
  };
  return { files, photos, read, change };
}

const lines = (analysis: ReturnType<ReturnType<typeof opened>["read"]>) =>
  diagnostics(analysis, uri).map(
    ({ range, message }) => `${range.start.line} ${String(message).split("\n")[0]}`,
  );

describe("a remark", () => {
  test.each([
    ["above all", "# the shop's own", "# one\n\n# two", 2],
    ["taken away", "# the shop's own\n", "", -1],
    ["in a thing", "width: 8 in", "width: 8 in # by tape", 0],
  ])("%s: all is known as before, and stands elsewhere", (_, from, to, by) => {
    const { read, change } = opened();
    const before = read();
    const told = lines(before);
    const narrow = before.under("wide");
    expect(told.length).toBeGreaterThan(2);
    change(from, to);
    const after = read();
    expect(after.core).toBe(before.core);
    expect(after.valueAt("w.backspace")).toBe(before.valueAt("w.backspace"));
    expect(sequenceOf(after)).toBe(sequenceOf(before));
    const moved = told.map((line) => line.replace(/^\d+/, (at) => String(Number(at) + by)));
    expect(lines(after)).toEqual(moved);
    // What was asked before the edit stands where it stood then, under its options, too.
    expect(lines(before)).toEqual(told);
    const anchor = before.options[0]?.anchor as NonNullable<(typeof before.options)[0]>["anchor"];
    const line = (from: Parameters<typeof locationOf>[0] | undefined) =>
      from && locationOf(from, anchor)?.range.start.line;
    expect(line(after.under("wide"))).toBe(Number(line(narrow)) + by);
    expect(after.under("wide")?.core).toBe(narrow?.core);
  });

  test("and a figure at once is an edit", () => {
    const { read, change } = opened();
    const before = read();
    change("width: 8 in", "width: 7 in # by tape");
    expect(read().core).not.toBe(before.core);
    change("width: 7 in", "width: 8 in");
    expect(lines(read())).toEqual(lines(before));
  });

  test("on another day is another reading", () => {
    const { read, change } = opened();
    const before = read("2026-03-15");
    change("# the shop's own", "# ours");
    expect(read("2026-03-16").core).not.toBe(before.core);
  });

  test("and a file that came at once: both are seen", () => {
    const { read, change, photos } = opened();
    const missing = (found: string[]) => found.filter((line) => line.includes("nuts.jpg"));
    expect(missing(lines(read()))).toHaveLength(1);
    change("# the shop's own", "# ours");
    photos.add(`${folder}nuts.jpg`);
    expect(missing(lines(read()))).toEqual([]);
  });
});
