/**
 * Files that were left in the midst of a merge, or that hold far longer texts than anybody writes, for
 * every verb; and what is drawn and printed of hostile ones.
 *
 * Invented: names and figures mean nothing.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { root, workshop } from "./workshop";

const unexpected = "this should not have happened";
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const acting = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;

const verbs: readonly (readonly string[])[] = [
  ["check"],
  ["check", "--format", "github"],
  ["check", "--format", "sarif"],
  ["check", "--format", "json"],
  ["show", "--all"],
  ["show", "--all", "--format", "json"],
  ["explain", "n0.x"],
  ["explain", "--fit"],
  ["compare"],
  ["curve", "--all"],
  ["format", "--check"],
  ["plan"],
  ["plan", "--format", "json"],
  ["handover"],
  ["measure"],
  ["draw"],
  ["sheet"],
  ["sheet", "--format", "html"],
  ["choose", "--for", "n0.x"],
  ["log", "n0", "--by", "Ida", "--dry", "--in"],
];

/** Of this process, in seconds: however busy the machine is. */
function worked(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

/** Each verb says something, obeys nothing and ends. */
async function triedWith(text: string, seconds: number): Promise<string[]> {
  const shop = workshop({ "build.trammel": text });
  const said: string[] = [];
  for (const [verb = "", ...more] of verbs) {
    const args = verb === "log" ? [...more, "build.trammel"] : ["build.trammel", ...more];
    const before = worked();
    const { code, out, log } = await shop.trammel(verb, ...args);
    const spent = worked() - before;
    expect([verb, more, [0, 1, 2].includes(code)]).toEqual([verb, more, true]);
    expect(out + log, verb).not.toContain(unexpected);
    // What is laid out as usual is not named.
    if (verb !== "format") expect(out + log, verb).not.toBe("");
    expect(`${out}\n${log}`.match(acting) ?? [], `${verb} ${more.join(" ")}`).toEqual([]);
    expect(`${verb} ${more.join(" ")} takes ${spent < seconds ? "no time" : spent}`).toBe(
      `${verb} ${more.join(" ")} takes no time`,
    );
    said.push(out);
  }
  return said;
}

const esc = "\u001b]8;;https://x.test\u0007";
const turned = "\u202e![a](https://x.test/a.png)<script>";

describe("a merge that was not finished", () => {
  test("each is told once, whatever stands between its markers", { timeout: 120_000 }, async () => {
    const [check = ""] = await triedWith(
      `kind node "Node" { x: length }
<<<<<<< ours ${esc}
node n0 "${turned}" { x: 1 mm }
=======
node n0 "${esc}" { x: ${turned}
>>>>>>> theirs ::error::${turned}
node n1 { x: ? }
<<<<<<< ours
node n2 { x: 1 kg }
`,
      3,
    );
    expect(check.match(/conflict-marker/g)).toHaveLength(2);
    expect(check).not.toContain("1 kg");
  });

  test("twenty thousand of them", { timeout: 120_000 }, async () => {
    const merges = Array.from(
      { length: 20_000 },
      (_, at) =>
        `<<<<<<< ours\nnode n${at} { x: 1 mm }\n=======\nnode n${at} { x: 2 kg }\n>>>>>>> theirs`,
    );
    const shop = workshop({ "build.trammel": ["kind node { x: length }", ...merges].join("\n") });
    const before = worked();
    const { out } = await shop.trammel("check", "build.trammel");
    expect(worked() - before).toBeLessThan(8);
    expect(out.match(/conflict-marker/g)).toHaveLength(20_000);
  });
});

describe("texts of a hundred thousand signs", () => {
  test.each([
    ["letters", "x".repeat(100_000)],
    ["links", "[a](https://x.test)".repeat(5_000)],
    ["code", "`".repeat(100_000)],
    ["tags", "\u202e<b>".repeat(25_000)],
    ["braces", "{n0.x}".repeat(16_000)],
    ["commands", "%0A::error::".repeat(8_000)],
  ])("%s", { timeout: 120_000 }, async (_, long) => {
    await triedWith(
      `kind node "${long}" { x: length in mm "${long}"
  curve c "${long}": x over x from 0 mm to 4 mm step 1 mm
    source "${long}"
}
node n0 "${long}" { x: 1 mm }
check "${long}": n0.x > 2 mm
  advise "${long}"
  because "${long}"
procedure job "${long}" { step look "${long}" { measure: n0.x; note: "${long}" } }
option other "${long}" { n0.x: 3 mm }
record "${long}" 2026-04-03 by "${long}" { job.look { done: yes } }
`,
      3,
    );
  });

  test("a name, a figure, a sum and a line that never ends", { timeout: 120_000 }, async () => {
    const name = "n".repeat(100_000);
    await triedWith(
      `kind node { x: length }\nnode ${name} { x: 1 mm }\ncheck "c": ${name}.x > 2 mm\n`,
      3,
    );
    await triedWith(`wheel n0 { offset: ${"9".repeat(100_000)} mm }\n`, 3);
    await triedWith(`check "c": ${Array(50_000).fill("1 mm").join(" + ")} > 2 mm\n`, 3);
    await triedWith(`${"x".repeat(100_000)}\n${'"'.repeat(99_999)}\n`, 3);
  });
});

describe("what is drawn and printed of hostile titles", () => {
  const folder = join(root, "samples", "harbor-van");
  const hostile = `</text><script>a</script><img src=x>${turned}]]>\u2066 javascript:x &quot;`;
  const titled = (title: string) =>
    workshop(
      Object.fromEntries(
        readdirSync(folder, { recursive: true, encoding: "utf8" })
          .filter((name) => name.endsWith(".trammel"))
          .map((name) => [
            name,
            readFileSync(join(folder, name), "utf8").replaceAll(
              /^(\s*\w+ \w+) "[^"]*"(?= \{)/gm,
              `$1 "${title}"`,
            ),
          ]),
      ),
    );

  /** Names of tags and of what they carry. */
  const tagsOf = (out: string): string[] =>
    [
      ...new Set(
        [...out.replaceAll(/"[^"]*"/g, '""').matchAll(/<(\/?[\w:-]+)((?:\s[^<>]*)?)>/g)].flatMap(
          ([, tag = "", rest = ""]) => [
            tag,
            ...[...rest.matchAll(/([\w:-]+)=/g)].map(([, name]) => `${tag} ${name}`),
          ],
        ),
      ),
    ].sort();

  test("holds no tag that it does not hold of plain ones", { timeout: 240_000 }, async () => {
    const plain = titled("Plain");
    const shop = titled(hostile);
    expect(shop.read("build.trammel")).toContain("<script>");
    const { out: list } = await plain.trammel("draw", "build.trammel");
    const pictures = list.split("\n").flatMap((line) => line.match(/^\S*\/\S+/)?.[0] ?? []);
    expect(pictures.length).toBeGreaterThan(8);
    const runs = [
      ...pictures.flatMap((name) => [
        ["draw", name],
        ["draw", name, "--format", "dxf"],
      ]),
      ["sheet", "--format", "html"],
    ];
    for (const [verb = "", ...more] of runs) {
      const one = await plain.trammel(verb, "build.trammel", ...more);
      const other = await shop.trammel(verb, "build.trammel", ...more);
      expect([more, other.code]).toEqual([more, one.code]);
      expect([more, tagsOf(other.out)]).toEqual([more, tagsOf(one.out)]);
      expect(other.out.match(acting) ?? []).toEqual([]);
      expect(other.log).not.toContain(unexpected);
    }
  });
});
