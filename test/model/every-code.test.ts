/** Every finding the model and the analysis can raise has its golden text. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

const rooms =
  /"((?:name|given|value|unit|table|reference|designation|missing|conflict|solve|check|record|use)\/[a-z-]+)"/g;

function textsOf(folder: string): string[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith(".ts"))
    .map((name) => readFileSync(join(folder, name), "utf8"));
}

test("every code stands in a golden text", () => {
  const raised = new Set(
    ["server/model", "server/analysis"]
      .flatMap(textsOf)
      .flatMap((text) => [...text.matchAll(rooms)].map(([, code]) => code ?? "")),
  );
  const golden = readdirSync("test/model")
    .filter((name) => name.startsWith("findings-"))
    .map((name) => readFileSync(join("test/model", name), "utf8"))
    .join("");
  expect(raised.size).toBeGreaterThan(35);
  expect([...raised].filter((code) => !golden.includes(` ${code} `)).sort()).toEqual([]);
});
