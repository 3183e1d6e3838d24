/** Everything the README and the first page show is run, and what the README says of the package is so. */
import { existsSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { verbs } from "../../server/command/verbs";
import { root, workshop } from "../command/workshop";

const file = join(root, "README.md");
const readme = readFileSync(file, "utf8");
const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
  version: string;
  scripts: Record<string, string>;
  contributes: {
    taskDefinitions: { properties: { verb: { enum: string[]; description: string } } }[];
  };
};

/** Pages whose examples are builds and whose outputs are run, in the order they stand. */
const pages = ["README.md", "grammar/FROM-TAPE-TO-SAW.md"];

test.each(pages)(
  "every output shown in %s is what comes out",
  { timeout: 120_000 },
  async (name) => {
    const path = join(root, name);
    const page = readFileSync(path, "utf8");
    const shop = workshop();
    symlinkSync(join(root, "samples"), join(shop.folder, "samples"));
    const blocks = [...page.matchAll(/```(\w+)\n([\s\S]*?)```/g)];
    let fresh = page;
    let commands = 0;
    for (const { 0: whole, 1: language, 2: body = "", index } of blocks) {
      if (language === "trammel") {
        const build = [...page.slice(0, index).matchAll(/`([\w-]+\.trammel)`/g)].at(-1)?.[1];
        expect(build).toBeDefined();
        shop.write(build ?? "", body);
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
    if (fresh !== page) writeFileSync(path, fresh);
    expect(page).toBe(fresh);
  },
);

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

  test("its table of verbs is what the verbs declare", () => {
    const rows = verbs.map(({ name, operands, description }) => {
      const words = operands.map(({ name, many, choices }, place) => {
        const word = `${name.toUpperCase()}${many === true ? "…" : ""}`;
        // What has to be there stands bare, as in the example; the rest may be left out.
        return choices !== undefined || (place === 0 && name !== "subject") ? word : `[${word}]`;
      });
      const says = `${description.charAt(0).toLowerCase()}${description.slice(1).replace(/\.$/, "")}`;
      return `| \`${[name, ...words].join(" ")}\` | ${says} |`;
    });
    const table = ["| verb | what it does |", "| --- | --- |", ...rows].join("\n");
    const written = /\| verb \| what it does \|\n(?:\|.*\n?)+/.exec(readme)?.[0].trimEnd() ?? "";
    // A stale table is put right for the next run; this run still says that it was stale.
    if (written !== table)
      writeFileSync(
        file,
        readme.replace(written, () => table),
      );
    expect(written).toBe(table);
  });

  test("the editor has a task for each verb that declares one", () => {
    const [task] = manifest.contributes.taskDefinitions;
    const told = verbs.filter(({ task }) => task !== undefined);
    expect(told.length).toBeGreaterThan(2);
    expect(task?.properties.verb.enum).toEqual(told.map(({ name }) => name));
    for (const { name, task: says } of told)
      expect(task?.properties.verb.description).toContain(`"${name}" ${says}`);
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
