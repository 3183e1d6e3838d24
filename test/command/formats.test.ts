import { expect, test } from "vitest";
import { repository, workshop } from "./workshop";

const many = (count: number, text: (index: number) => string) =>
  Array.from({ length: count }, (_, index) => text(index)).join("\n");

test("SARIF carries what a review needs: rules, places, fingerprints, fixes", async () => {
  // OASIS SARIF 2.1.0, sections 3.13, 3.14, 3.19, 3.27, 3.29, 3.30, 3.55.
  const shop = workshop({
    "a b/build.trammel": "housing h {\n  standoff: 2.5\n  stando: 2 in\n}\n",
  });
  const { code, out } = await shop.trammel("check", "a b", "--format", "sarif");
  expect(code).toBe(1);
  const log = JSON.parse(out);
  expect(log.version).toBe("2.1.0");
  const [run] = log.runs;
  expect(run.tool.driver.name).toBe("trammel");
  expect(run.columnKind).toBe("utf16CodeUnits");
  expect(run.results.length).toBeGreaterThanOrEqual(2);
  for (const result of run.results) {
    const rule = run.tool.driver.rules[result.ruleIndex];
    expect(rule.id).toBe(result.ruleId);
    // What it means and what to do, for a reader who has nothing but the log.
    expect(rule.fullDescription.text).toMatch(/\.$/);
    expect(rule.help.text).toMatch(/\.$/);
    expect(rule.helpUri).toBe(`library:/reference/findings.md#${result.ruleId.replace("/", "")}`);
    expect(["error", "warning", "note"]).toContain(result.level);
    const { artifactLocation, region } = result.locations[0].physicalLocation;
    expect(artifactLocation).toEqual({ uri: "a%20b/build.trammel", uriBaseId: "ROOT" });
    expect(run.originalUriBaseIds).toHaveProperty("ROOT");
    expect(region.startLine).toBeGreaterThan(0);
    expect(region.startColumn).toBeGreaterThan(0);
    expect(Object.values(result.partialFingerprints)).toHaveLength(1);
  }
  const misspelled = run.results.find(
    (result: { fixes?: unknown[] }) => result.fixes !== undefined,
  );
  const [change] = misspelled.fixes[0].artifactChanges;
  expect(change.artifactLocation.uri).toBe("a%20b/build.trammel");
  expect(change.replacements[0].insertedContent.text).not.toBe("");
});

test("fingerprints stay when lines move, and differ for equal findings on equal lines", async () => {
  const text = "housing h { standoff: 2.5 }\n";
  const print = async (content: string): Promise<string[]> => {
    const { out } = await workshop({ "build.trammel": content }).trammel(
      "check",
      "build.trammel",
      "--format",
      "sarif",
    );
    return JSON.parse(out).runs[0].results.map(
      (result: { partialFingerprints: Record<string, string> }) =>
        Object.values(result.partialFingerprints)[0],
    );
  };
  const alone = await print(text);
  expect(await print(`# moved\n\n${text}`)).toEqual(alone);
  const twice = await print("housing h {\n  standoff: 2.5\n}\nhousing k {\n  standoff: 2.5\n}\n");
  expect(new Set(twice).size).toBe(twice.length);
});

test("review annotations escape what would break them", async () => {
  const shop = workshop({
    "build.trammel":
      'housing h { standoff: 2 in }\ncheck "50 % more, or: less": h.standoff >= 3 in\n  advise "cut, then: weld"\n',
  });
  const { out } = await shop.trammel("check", "build.trammel", "--format", "github");
  expect(out).toMatch(
    /^::error file=build\.trammel,line=2,endLine=\d,(?:col=1,endColumn=\d+,)?title=check\/own::does not hold: 50 %25 more, or: less /,
  );
  expect(out.trim().split("\n")).toHaveLength(1);
  expect(out).toContain("%0Ato do: cut, then: weld");
});

test("review annotations stop at ten of a kind and say so", async () => {
  const shop = workshop({
    "build.trammel": many(13, (index) => `housing h${index} { standoff: 2.5 }`),
  });
  const { out } = await shop.trammel("check", "build.trammel", "--format", "github");
  expect(out.match(/^::error /gm)).toHaveLength(10);
  expect(out.trim().split("\n").at(-1)).toBe(
    "3 findings more than can be annotated: --format sarif carries all of them",
  );
});

test("text, JSON and SARIF tell of the same findings", async () => {
  const of = async (format: string) =>
    (await repository.trammel("check", "samples", "--format", format)).out;
  const codes = [...(await of("text")).matchAll(/ \[([^\]\s]+)\]$/gm)].map((match) => match[1]);
  expect(codes.length).toBeGreaterThan(0);
  expect(JSON.parse(await of("json")).findings.map(({ code }: { code: string }) => code)).toEqual(
    codes,
  );
  expect(
    JSON.parse(await of("sarif")).runs[0].results.map(({ ruleId }: { ruleId: string }) => ruleId),
  ).toEqual(codes);
});
