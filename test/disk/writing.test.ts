/** Whatever happens while a file is written, the old one is there or the new one, whole. */
import { spawnSync } from "node:child_process";
import {
  chmodSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { readFile } from "../../server/disk/read-file";
import { writeFile } from "../../server/disk/write-file";
import { root, workshop } from "../command/workshop";

const untidy = "housing   h{ standoff:2.5 in;burn :1 in }";
const tidy = "housing h { standoff: 2.5 in; burn: 1 in }\n";

test("a link stays a link, and its file keeps its permissions", async () => {
  const shop = workshop({ "lists/real.trammel": untidy });
  const real = join(shop.folder, "lists/real.trammel");
  chmodSync(real, 0o640);
  symlinkSync("lists/real.trammel", join(shop.folder, "link.trammel"));
  expect((await shop.trammel("format", "--write", "link.trammel")).code).toBe(0);
  expect(lstatSync(join(shop.folder, "link.trammel")).isSymbolicLink()).toBe(true);
  expect(shop.read("lists/real.trammel")).toBe(tidy);
  expect(statSync(real).mode & 0o777).toBe(0o640);
  expect(readdirSync(join(shop.folder, "lists"))).toEqual(["real.trammel"]);
});

test.each([
  ["UTF-8", (text: string) => Buffer.from(text)],
  ["UTF-8 with a mark", (text: string) => Buffer.from(`\uFEFF${text}`)],
  ["UTF-16, low byte first", (text: string) => Buffer.from(`\uFEFF${text}`, "utf16le")],
  ["UTF-16, high byte first", (text: string) => Buffer.from(`\uFEFF${text}`, "utf16le").swap16()],
])("%s stays what it is", async (_, encoded) => {
  const shop = workshop({ "build.trammel": encoded(`${untidy} # ±\n`) });
  expect((await shop.trammel("format", "--write", "build.trammel")).code).toBe(0);
  expect(readFileSync(join(shop.folder, "build.trammel"))).toEqual(
    encoded(`${tidy.trimEnd()}  # ±\n`),
  );
});

test("what someone else changed meanwhile is left as they wrote it", () => {
  const shop = workshop({ "build.trammel": untidy });
  const path = join(shop.folder, "build.trammel");
  const before = readFile(path, [shop.folder]);
  if ("problem" in before) throw new Error(before.why);
  writeFileSync(path, "# theirs\n");
  expect(writeFile(path, tidy, { before })?.why).toContain("someone else");
  expect(shop.read("build.trammel")).toBe("# theirs\n");
  expect(readdirSync(shop.folder)).toEqual(["build.trammel"]);
});

test("a new file is made, a folder is not written", () => {
  const shop = workshop();
  expect(writeFile(join(shop.folder, "new.trammel"), tidy)).toBeUndefined();
  expect(shop.read("new.trammel")).toBe(tidy);
  mkdirSync(join(shop.folder, "folder"));
  expect(writeFile(join(shop.folder, "folder"), tidy)?.why).toContain("ordinary");
  expect(writeFile(join(shop.folder, "none/new.trammel"), tidy)?.why).toContain("no such folder");
});

test("a disk that takes no more leaves the old file whole, and the others are still laid out", () => {
  const large = `# ${"x".repeat(4_000)}\n${untidy}`;
  const shop = workshop({ "a.trammel": large, "b.trammel": untidy });
  // No file may grow beyond one block: writing fails midway, as on a full disk.
  const { status, stdout, stderr } = spawnSync(
    "bash",
    [
      "-c",
      `ulimit -f 1; exec "$0" "$1" format --write a.trammel b.trammel 2>&1`,
      process.execPath,
      join(root, "dist", "trammel.js"),
    ],
    { encoding: "utf8", cwd: shop.folder },
  );
  expect({ status, stdout, stderr }).toEqual({
    status: 2,
    stdout:
      "trammel: cannot write a.trammel: the disk takes no file so large; the file is as it was\nb.trammel\n",
    stderr: "",
  });
  expect(shop.read("a.trammel")).toBe(large);
  expect(shop.read("b.trammel")).toBe(tidy);
  expect(readdirSync(shop.folder).sort()).toEqual(["a.trammel", "b.trammel"]);
});

test("standard input has no file to change", async () => {
  const shop = workshop();
  expect((await shop.trammelWith({ input: untidy }, "format", "--write", "-")).code).toBe(2);
  expect(readdirSync(shop.folder)).toEqual([]);
});
