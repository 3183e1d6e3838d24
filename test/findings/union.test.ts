/** Every finding there can be is held to its code, and its code to a golden text. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { rowOf } from "../../server/findings/codes";
import { kinds } from "../../server/findings/worded";
import { root } from "../command/workshop";

/** Checks bring codes of their own. */
const codes = new Set(
  kinds
    .filter((kind) => kind !== "check/fails" && kind !== "check/strained")
    .map((kind) => kind.split(" ")[0] ?? ""),
);

test("every code has its row", () => {
  expect(codes.size).toBeGreaterThan(60);
  expect([...codes].filter((code) => rowOf(code) === undefined)).toEqual([]);
});

test("every code stands in a golden text", () => {
  const golden = readdirSync(join(root, "test"), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".test.ts"))
    .map((name) => readFileSync(join(root, "test", name), "utf8"))
    .join("");
  expect([...codes].filter((code) => !golden.includes(code)).sort()).toEqual([]);
});
