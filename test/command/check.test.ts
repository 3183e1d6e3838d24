import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { repository, root, smallBuild, workshop } from "./workshop";

const failing = `${smallBuild}
check "the housing is a wide one": rear.housing.face_to_face >= 60 in
  advise "cut it wider"
  caution "cut it once"
`;

describe("check", () => {
  test("says in one line that nothing is wrong", async () => {
    const shop = workshop({ "build.trammel": smallBuild });
    expect(await shop.trammel("check", "build.trammel")).toEqual({
      code: 0,
      out: "1 build, nothing to object to\n",
      log: "",
    });
  });

  test("puts a finding at its line with what to do and the caution below it", async () => {
    const shop = workshop({ "van/build.trammel": failing });
    const { code, out } = await shop.trammel("check", "van/build.trammel");
    expect(code).toBe(1);
    expect(out).toBe(
      [
        "van/build.trammel:16:1: error: does not hold: the housing is a wide one (rear.housing.face_to_face is 58 in, at least 60 in is wanted: 2 in short) [check/own]",
        "    to do: cut it wider",
        "    caution: cut it once",
        "",
        "1 error in 1 build",
        "",
      ].join("\n"),
    );
  });

  test("--worst error errs where it fails by likely tolerances and where only at worst, and nowhere else", async () => {
    // Of two lengths of ±0.3 and ±0.4 the difference may be 0.7 off at worst, 0.5 likely (root sum square).
    const build = `kind bar "Bar" {
  a: length in mm
  b: length in mm
  check "at worst": a - b >= 4.4 mm
}
bar x { a: 10 mm ± 0.3 mm; b: 5 mm ± 0.4 mm }
check "likely": x.a - x.b >= 4.7 mm
check "at each end": x.a - x.b >= 4.3 mm
check "either side": x.a >= 9.8 mm and x.b <= 5.3 mm
`;
    const shop = workshop({ "build.trammel": build });
    const levels = async (worst: string): Promise<[number, ...string[]]> => {
      const { code, out } = await shop.trammel("check", "--worst", worst, "build.trammel");
      const told = [
        ...out.matchAll(/:\d+:\d+: (\w+): (?:x: )?holds as drawn, but (.*?): (.*?) \(/g),
      ];
      return [code, ...told.map(([, level, how, title]) => `${level} ${how}: ${title}`)];
    };
    const likely = "not in all that is likely with these tolerances";
    const worst = "not in the worst case";
    const told = (level: string): string[] => [
      ...(level === "" ? [] : [`${level} ${worst}: at worst`]),
      `${level === "error" ? "error" : "warning"} ${likely}: likely`,
      `${level === "error" ? "error" : "warning"} ${likely}: either side`,
    ];
    expect(await levels("off")).toEqual([0, ...told("")]);
    expect(await levels("note")).toEqual([0, ...told("note")]);
    expect(await levels("warning")).toEqual([0, ...told("warning")]);
    expect(await levels("error")).toEqual([1, ...told("error")]);
    const { out } = await shop.trammel("check", "--worst", "error", "build.trammel");
    expect(out).toContain("tolerances take up to 0.7 mm");
    // 0.3 of 0.7 is left on 0.5 / 3: 1.8 standard deviations, within three of each.
    expect(out).toMatch(/likely \(.*\); it holds in about 9[67] % of builds/);
    expect(out).toContain("it fails at x.a 9.7 mm and x.b 5.4 mm");
  });

  test("writes lines the editor's problem matcher reads", async () => {
    const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
    const [{ regexp, ...group }] = manifest.contributes.problemPatterns;
    const { out } = await repository.trammel("check", "samples/alder-truck/tight.trammel");
    const found = new RegExp(regexp, "m").exec(out);
    expect(found?.[group.file]).toBe("samples/alder-truck/tight.trammel");
    expect(Number(found?.[group.line])).toBeGreaterThan(1);
    expect(found?.[group.severity]).toBe("error");
    expect(found?.[group.code]).toBe("clearance/inner-gap");
  });

  test("ends with 0, 1 or 2: clean, errors in the text, unusable", async () => {
    const shop = workshop({
      "clean.trammel": smallBuild,
      "failing.trammel": failing,
      "no-unit.trammel": "housing h { standoff: 2.5 }\n",
      "binary.trammel": new Uint8Array([0x89, 0x50, 0, 1, 2, 0]),
      "latin.trammel": new Uint8Array([0x23, 0x20, 0xb1, 0x0a]),
      "empty.trammel": "",
      "folder/readme.txt": "no build",
    });
    const codeOf = async (...args: string[]) => (await shop.trammel("check", ...args)).code;
    expect(await codeOf("clean.trammel")).toBe(0);
    expect(await codeOf("empty.trammel")).toBe(0);
    expect(await codeOf("failing.trammel")).toBe(1);
    expect(await codeOf("no-unit.trammel")).toBe(1);
    expect(await codeOf("binary.trammel")).toBe(2);
    expect(await codeOf("latin.trammel")).toBe(2);
    expect(await codeOf("missing.trammel")).toBe(2);
    expect(await codeOf("folder")).toBe(2);
    expect(await codeOf()).toBe(2);
    expect(await codeOf("clean.trammel", "--nonsense")).toBe(2);
    expect(await codeOf("clean.trammel", "--format", "xml")).toBe(2);
    expect(await codeOf("clean.trammel", "--option", "none")).toBe(2);
  });

  test("says why a file cannot be read, on the log, by the name it was given", async () => {
    const shop = workshop({
      "binary.trammel": new Uint8Array([0x89, 0x50, 0, 1, 2, 0]),
      "latin.trammel": new Uint8Array([0x23, 0x20, 0xb1, 0x0a]),
      "folder/readme.txt": "no build",
    });
    const logOf = async (file: string) => (await shop.trammel("check", file)).log;
    expect(await logOf("missing.trammel")).toBe(
      "trammel: cannot read missing.trammel: there is no such file\n",
    );
    expect(await logOf("binary.trammel")).toBe(
      "trammel: cannot read binary.trammel: it is not a text file\n",
    );
    expect(await logOf("latin.trammel")).toBe(
      "trammel: cannot read latin.trammel: it is not UTF-8 text; save it again with the encoding UTF-8\n",
    );
    expect(await logOf("folder")).toBe(
      "trammel: there is no build in folder: no file below it ends with .trammel\n",
    );
  });

  test("reads Windows line ends, byte-order marks and UTF-16 as the same build", async () => {
    const broken = "housing h {\n  standoff: 2.5\n}\n";
    const utf16 = new Uint8Array([0xff, 0xfe, ...Buffer.from(broken, "utf16le")]);
    const shop = workshop({
      "plain.trammel": broken,
      "windows.trammel": broken.replaceAll("\n", "\r\n"),
      "mark.trammel": `\ufeff${broken}`,
      "wide.trammel": utf16,
    });
    const of = async (name: string) =>
      (await shop.trammel("check", `${name}.trammel`)).out.replaceAll(`${name}.`, "x.");
    const plain = await of("plain");
    expect(plain).toMatch(/^x\.trammel:2:\d+: error: /);
    expect(await of("windows")).toBe(plain);
    expect(await of("mark")).toBe(plain);
    expect(await of("wide")).toBe(plain);
  });

  test("goes on where a file is broken, circular, missing or outside", async () => {
    const shop = workshop({
      "shop/a.trammel":
        'use "b.trammel"\nuse "../secret.trammel"\nuse "gone.trammel"\nhousing h { standoff: 2 in face_to_face: ? }\n',
      "shop/b.trammel": 'use "a.trammel"\nhousing open { standoff: 2 in\n',
      "secret.trammel": "housing secret { }\n",
    });
    const { code, out, log } = await shop.inside("shop").trammel("check", "a.trammel");
    expect(code).toBe(1);
    expect(log).toBe("");
    for (const finding of ["use/circular", "use/outside", "use/missing", "missing/value"])
      expect(out).toContain(`[${finding}]`);
    expect(out).toMatch(/b\.trammel:\d+:\d+: error: .*\[syntax\//);
  });

  test("checks a folder's builds once each, with the parts they use", async () => {
    const shop = workshop({
      "a/build.trammel": 'use "parts/p.trammel"\naxle rear { housing: p }\n',
      "a/parts/p.trammel": "housing p { standoff: 2.5 }\n",
      "b/build.trammel": smallBuild,
      ".hidden/build.trammel": "housing p { standoff: 2.5 }\n",
      "node_modules/x/build.trammel": "housing p { standoff: 2.5 }\n",
    });
    const { out } = await shop.trammel("check", ".");
    expect(out.match(/error:/g)).toHaveLength(1);
    expect(out).toContain("a/parts/p.trammel:1:");
    expect(out).toContain("1 error in 2 builds");
    // Named by itself it is a build of its own.
    expect((await shop.trammel("check", "a/parts/p.trammel", "a")).out).toContain(
      "1 error in 2 builds",
    );
  });

  test("is the same whatever the order of its arguments", async () => {
    const shop = workshop({ "a.trammel": failing, "b.trammel": failing });
    const one = await shop.trammel("check", "a.trammel", "b.trammel");
    expect(await shop.trammel("check", "b.trammel", "a.trammel", "./a.trammel")).toEqual(one);
  });

  test("reads a build from standard input under the name it is given", async () => {
    const shop = workshop({ "van/parts.trammel": "housing p { standoff: 2.5 in }\n" });
    const input = 'use "parts.trammel"\nhousing q { standoff: 2.5 }\n';
    const { code, out } = await shop.trammelWith(
      { input },
      "check",
      "--stdin",
      "--stdin-filename",
      "van/build.trammel",
    );
    expect(code).toBe(1);
    expect(out).toMatch(/^van\/build\.trammel:2:23: error: /);
    expect(
      await shop.trammelWith({ input }, "check", "-", "--stdin-filename", "van/build.trammel"),
    ).toEqual({ code, out, log: "" });
  });

  test("fails on warnings only where asked to, and not at all with --exit-zero", async () => {
    // An asked value that nothing leads to is a warning.
    const shop = workshop({
      "open.trammel": "housing h { face_to_face: ? }\n",
      "failing.trammel": failing,
    });
    expect((await shop.trammel("check", "open.trammel")).code).toBe(0);
    expect((await shop.trammel("check", "open.trammel", "--fail-on", "warning")).code).toBe(1);
    expect((await shop.trammel("check", "failing.trammel", "--exit-zero")).code).toBe(0);
  });

  test("takes how loud a check speaks from the command line", async () => {
    const shop = workshop({ "failing.trammel": failing });
    const { code, out } = await shop.trammel("check", "failing.trammel", "--nominal", "note");
    expect(code).toBe(0);
    expect(out).toContain(": note: does not hold");
  });

  test("colors for a terminal, never for a file, and as it is told", async () => {
    const shop = workshop({ "failing.trammel": failing });
    const color = async (given: Parameters<typeof shop.trammelWith>[0], ...args: string[]) =>
      (await shop.trammelWith(given, ...args, "check", "failing.trammel")).out.includes("\u001b[");
    expect(await color({})).toBe(false);
    expect(await color({ terminal: true })).toBe(true);
    expect(await color({ terminal: true, environment: { NO_COLOR: "1" } })).toBe(false);
    expect(await color({ terminal: true, environment: { NO_COLOR: "" } })).toBe(true);
    expect(await color({ terminal: true, environment: { TERM: "dumb" } })).toBe(false);
    expect(await color({ environment: { NO_COLOR: "1" } }, "--color", "always")).toBe(true);
    expect(await color({ terminal: true }, "--color", "never")).toBe(false);
  });

  test("reads 5 MB without falling over", async () => {
    const line =
      "# a comment that says nothing at all, again and again, for as long as the file is\n";
    const shop = workshop({
      "long.trammel": line.repeat(Math.ceil(5_000_000 / line.length)) + failing,
    });
    expect((await shop.trammel("check", "long.trammel")).code).toBe(1);
  });

  test("has nothing of this machine in any format", async () => {
    const shop = workshop({ "failing.trammel": failing });
    for (const format of ["text", "json", "sarif", "github"]) {
      const { out } = await shop.trammel("check", "failing.trammel", "--format", format);
      expect(out).not.toContain(shop.folder);
      expect(await shop.trammel("check", "failing.trammel", "--format", format)).toEqual({
        code: 1,
        out,
        log: "",
      });
    }
  });
});
