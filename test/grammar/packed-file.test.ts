/** What ships is read already: it is what reading it anew gives, and nothing is looked at too early. */
import { expect, test } from "vitest";
import { type PackedShape, packed, unpacked } from "../../grammar/packed-file";
import { parseFile } from "../../grammar/source-file";
import { libraryFiles } from "../../server/library-files";
import { buildVocabulary, emptyVocabulary } from "../../server/model/vocabulary";

/** As it comes out of a bundle. */
const through = <T>(data: T): T => JSON.parse(JSON.stringify(data)) as T;

const shapes: PackedShape[] = [];
const files = libraryFiles().map(({ path, text }) => {
  const source = parseFile(text);
  const data = packed(source, shapes);
  if (data === undefined) throw new Error(`something is wrong in ${path}`);
  return { uri: `library:/${path}`, library: true, text, read: source, data: through(data) };
});

test.each(files.map((file) => [file.uri, file] as const))("%s", (_, { text, read, data }) => {
  const restored = unpacked(text, data);
  expect(restored.items).toEqual(read.items);
  expect(restored.items.map((item) => Object.keys(item.node))).toEqual(
    through(read.items.map((item) => Object.keys(through(item.node)))),
  );
  const places = [0, text.length >> 1, text.length];
  for (const at of places) {
    expect(restored.positionAt(at)).toEqual(read.positionAt(at));
    expect(restored.itemAt(at)?.text).toBe(read.itemAt(at)?.text);
  }
});

/** All that is in it, of places the span. */
function plain(vocabulary: unknown): string {
  return JSON.stringify(vocabulary, (key, value: unknown) =>
    key === "item" ? undefined : value instanceof Map ? [...value] : sorted(value),
  );
}

function sorted(value: unknown): unknown {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([one], [other]) => (one < other ? -1 : 1)));
}

test("kinds and tables read when needed are those read at once", () => {
  const told: unknown[] = [];
  const report = (finding: unknown) => told.push(finding);
  const sources = files.map(({ uri, library, read: source }) => ({ uri, library, source }));
  const atOnce = buildVocabulary(sources, emptyVocabulary, report);
  const later = buildVocabulary(sources, emptyVocabulary, report, "when needed");
  expect(plain(later)).toBe(plain(atOnce));
  expect(told).toEqual([]);
});

test("a kind's fields are not looked at before somebody asks for them", () => {
  const sources = files.map(({ uri, library, text, data }) => ({
    uri,
    library,
    source: unpacked(text, through(data)),
  }));
  const { kinds } = buildVocabulary(sources, emptyVocabulary, () => undefined, "when needed");
  const isPutOff = (name: string): boolean => {
    const node = kinds.get(name)?.anchor.item.node ?? {};
    return Object.getOwnPropertyDescriptor(node, "members")?.get !== undefined;
  };
  expect(kinds.get("axle")?.fields.size).toBeGreaterThan(0);
  expect(isPutOff("axle")).toBe(false);
  expect(isPutOff("driveshaft")).toBe(true);
});

test("a file in which something is wrong is not packed", () => {
  expect(packed(parseFile("wheel {"), [])).toBeUndefined();
});
