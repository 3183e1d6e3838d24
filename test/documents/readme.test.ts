/** Everything the README shows is run, and what it says of the package is so. */
import { existsSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { repository, root, workshop } from "../command/workshop";

const file = join(root, "README.md");
const readme = readFileSync(file, "utf8");
const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
  version: string;
  scripts: Record<string, string>;
};

test("every output shown is what comes out", { timeout: 120_000 }, async () => {
  const shop = workshop();
  symlinkSync(join(root, "samples"), join(shop.folder, "samples"));
  const blocks = [...readme.matchAll(/```(\w+)\n([\s\S]*?)```/g)];
  let fresh = readme;
  let commands = 0;
  for (const { 0: whole, 1: language, 2: body = "", index } of blocks) {
    if (language === "trammel") {
      const name = [...readme.slice(0, index).matchAll(/`([\w-]+\.trammel)`/g)].at(-1)?.[1];
      expect(name).toBeDefined();
      shop.write(name ?? "", body);
    }
    if (language !== "console") continue;
    const lines: string[] = [];
    for (const [, args = ""] of body.matchAll(/^\$ trammel (.*)$/gm)) {
      const { out, log } = await shop.trammel(...args.split(/\s+/));
      expect(log).toBe("");
      lines.push(`$ trammel ${args}`, out.trimEnd());
      commands++;
    }
    fresh = fresh.replace(whole, () => `\`\`\`console\n${lines.join("\n")}\n\`\`\``);
  }
  expect(commands).toBeGreaterThan(3);
  // A stale page is put right for the next run; this run still says that it was stale.
  if (fresh !== readme) writeFileSync(file, fresh);
  expect(readme).toBe(fresh);
});

describe("what it says is so", () => {
  test("its scripts are there", () => {
    const scripts = [...readme.matchAll(/npm (?:run (?:--silent )?([\w:-]+)|(start|test))/g)].map(
      (match) => match[1] ?? match[2] ?? "",
    );
    expect(scripts).toContain("start");
    expect(scripts).toContain("test");
    for (const script of scripts) expect(manifest.scripts).toHaveProperty([script]);
  });

  test("its files and links are there", () => {
    const paths = [
      ...readme.matchAll(/\]\(([^)#]+)\)/g),
      ...readme.matchAll(/`(samples\/[^`]*)`/g),
    ].map((match) => match[1] ?? "");
    expect(paths.length).toBeGreaterThan(4);
    for (const path of paths)
      expect({ path, there: existsSync(join(root, path)) }).toEqual({ path, there: true });
  });

  test("it names the version that is packaged", () => {
    expect(readme).toContain(`trammel-${manifest.version}.vsix`);
    expect(readFileSync(join(root, "CHANGELOG.md"), "utf8")).toContain(`## ${manifest.version}`);
  });

  test("it tells of every verb, and of none that is not there", async () => {
    const { out } = await repository.trammel("--help");
    const verbs = [...out.matchAll(/^ {2}(\w+) (?:\[|<|\s)/gm)]
      .map((match) => match[1])
      .filter((verb) => verb !== "help");
    const told = [...readme.matchAll(/^\| `(\w+)/gm)].map((match) => match[1]);
    expect(told.toSorted()).toEqual(verbs.toSorted());
  });

  test("the diff pattern it recommends finds what a thing is opened by", () => {
    const pattern = /xfuncname '([^']+)'/.exec(readme)?.[1] ?? "";
    const expression = new RegExp(pattern.replaceAll("[ \\t]", "[ \t]"));
    expect(expression.exec('axle rear "Rear axle" {')?.[1]).toBe('axle rear "Rear axle" {');
    expect(expression.test("  offset: 18 mm")).toBe(false);
  });

  test("it carries the cautions", () => {
    for (const word of [
      "screening figures",
      "certified welder",
      "engineer's sign-off",
      "Local codes",
      "licensed practice",
      "Brakes, steering",
      "Lifting",
    ])
      expect(readme).toContain(word);
  });
});
