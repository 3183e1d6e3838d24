/** The room of units is the bottom room: it leans on nothing of the project but itself. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

const room = join(import.meta.dirname, "..", "..", "server", "units");
const files = readdirSync(room).filter((name) => name.endsWith(".ts"));

test.each(files)("%s imports only its own room and general libraries", (name) => {
  const text = readFileSync(join(room, name), "utf8");
  for (const [, from = ""] of text.matchAll(/\bfrom "([^"]+)"/g)) {
    expect(from.startsWith("./") || /^[a-z][a-z-]*$/.test(from), from).toBe(true);
  }
});

test.each(files)("%s knows no words of the trade", (name) => {
  const text = readFileSync(join(room, name), "utf8");
  expect(text).not.toMatch(/\b(tire|tyre|wheel|axle|brake|housing|shaft|caliper|vehicle)s?\b/i);
});
