/** Bytes become text by one way only, and no name leads it to where it must not go. */
import { execFileSync } from "node:child_process";
import { mkdirSync, symlinkSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { memoryHost } from "../../server/analysis/host";
import { uriOf } from "../../server/disk/file-uri";
import { filesBelow } from "../../server/disk/files-below";
import { mostBytes, readFile } from "../../server/disk/read-file";
import { decodeText, encodeText } from "../../server/disk/text-encoding";
import { OpenFiles } from "../../server/open-files";
import { type Workshop, workshop } from "../command/workshop";

const bytes = (...list: number[]) => new Uint8Array(list);

describe("bytes are text where they say so", () => {
  test.each([
    ["nothing", bytes(), ""],
    ["UTF-8", bytes(0xc2, 0xb1), "±"],
    ["UTF-8 with a mark", bytes(0xef, 0xbb, 0xbf, 0x61), "a"],
    ["UTF-16, low byte first", bytes(0xff, 0xfe, 0x61, 0), "a"],
    ["UTF-16, high byte first", bytes(0xfe, 0xff, 0, 0x61), "a"],
  ])("%s", (_, from, text) => {
    const decoded = decodeText(from);
    expect(decoded).toMatchObject({ text });
    if ("why" in decoded) throw new Error(decoded.why);
    // Written back, it is kept as it was.
    expect([...encodeText(decoded.text, decoded.encoding)]).toEqual([...from]);
  });

  test.each([
    ["UTF-32", Buffer.from([0xff, 0xfe, 0, 0, 0x61, 0, 0, 0]), "UTF-32"],
    ["UTF-16 without its mark", Buffer.from("tire t { }", "utf16le"), "byte-order mark"],
    ["the same, high byte first", Buffer.from("tire t { }", "utf16le").swap16(), "byte-order mark"],
    ["Latin-1", Buffer.from("± 1 mm", "latin1"), "not UTF-8"],
    ["half a UTF-16 character", bytes(0xff, 0xfe, 0x61), "damaged"],
    ["a picture", bytes(0x89, 0x50, 0x4e, 0x47, 0, 0, 0, 1, 2), "not a text file"],
    ["a zero in a text", Buffer.from("tire\0t { size: 1 }"), "not a text file"],
  ])("%s is named and refused", (_, from, why) => {
    expect(decodeText(from)).toEqual({ why: expect.stringContaining(why) });
  });
});

/** A folder beside another one with something in it that nobody may see. */
function shopBesideSecret(): { shop: Workshop; secret: string; inside: string } {
  const shop = workshop({
    "shop/build.trammel": "# a build\n",
    "shop/.env.trammel": "# plain\n",
    "shop/.env": "password\n",
    "elsewhere/secret.trammel": "password\n",
  });
  const inside = join(shop.folder, "shop");
  symlinkSync("../elsewhere", join(inside, "folder"));
  symlinkSync("../elsewhere/secret.trammel", join(inside, "link.trammel"));
  symlinkSync("../elsewhere/nothing.trammel", join(inside, "dangling.trammel"));
  symlinkSync(".env", join(inside, "settings.trammel"));
  symlinkSync("build.trammel", join(inside, "again.trammel"));
  symlinkSync("round.trammel", join(inside, "round.trammel"));
  symlinkSync("/dev/zero", join(inside, "zero.trammel"));
  symlinkSync("/proc/self/environ", join(inside, "environ.trammel"));
  mkdirSync(join(inside, "folder.trammel"));
  execFileSync("mkfifo", [join(inside, "pipe.trammel")]);
  writeFileSync(join(inside, "large.trammel"), "");
  truncateSync(join(inside, "large.trammel"), mostBytes + 1);
  return { shop, secret: join(shop.folder, "elsewhere", "secret.trammel"), inside };
}

const { shop, secret, inside } = shopBesideSecret();

describe("what may be read", () => {
  test.each(["build.trammel", "again.trammel", ".env.trammel"])("%s", (name) => {
    expect(readFile(join(inside, name), [inside])).toHaveProperty("text");
  });

  test.each([
    ["nothing.trammel", "missing"],
    ["folder/secret.trammel", "outside"],
    ["link.trammel", "outside"],
    ["dangling.trammel", "outside"],
    ["zero.trammel", "outside"],
    ["environ.trammel", "outside"],
    ["settings.trammel", "unreadable"],
    [".env", "unreadable"],
    ["round.trammel", "unreadable"],
    ["folder.trammel", "unreadable"],
    ["pipe.trammel", "unreadable"],
    ["large.trammel", "unreadable"],
    ["../elsewhere/secret.trammel", "outside"],
  ])("%s is %s", (name, problem) => {
    const reading = readFile(join(inside, name), [inside]);
    expect(reading).toEqual({ problem, why: expect.any(String) });
  });

  test("a device is not opened, even where the folder is its own", () => {
    expect(readFile("/dev/zero", ["/dev"])).toMatchObject({ why: "it is not an ordinary file" });
  });

  test("a folder that is a link itself is the folder it leads to", () => {
    const link = join(shop.folder, "by-link");
    symlinkSync("shop", link);
    expect(readFile(join(link, "build.trammel"), [link])).toHaveProperty("text");
    expect(readFile(join(link, "link.trammel"), [link])).toMatchObject({ problem: "outside" });
    expect(readFile(secret, [link])).toMatchObject({ problem: "outside" });
  });

  test("a listing follows no link", () => {
    expect(filesBelow(inside).sort()).toEqual(
      [".env.trammel", "build.trammel", "large.trammel"].map((name) => join(inside, name)),
    );
  });
});

const hostile = [
  "folder/secret.trammel",
  "link.trammel",
  "zero.trammel",
  "environ.trammel",
  "settings.trammel",
  "round.trammel",
  "pipe.trammel",
  "large.trammel",
  "../elsewhere/secret.trammel",
];

test("the command line and the editor read alike, and neither tells what lies elsewhere", async () => {
  for (const name of hostile) {
    shop.write("shop/user.trammel", `use "${name}"\n`);
    const { code, out, log } = await shop
      .inside("shop")
      .trammel("check", "user.trammel", "--format", "github");
    expect({ name, code, log }).toEqual({ name, code: 1, log: "" });
    expect(out).toMatch(/use\/(outside|unreadable)/);
    expect(out).not.toContain("password");

    const files = new OpenFiles();
    files.folders = [`${uriOf(inside)}/`];
    const root = uriOf(join(inside, "user.trammel"));
    const target = new URL(name, root).href;
    expect({ name, ...files.read(target, root) }).toMatchObject({
      name,
      problem: out.includes("use/outside") ? "outside" : "unreadable",
    });
  }
});

test("named on the command line they are refused as well", async () => {
  for (const name of ["link.trammel", "settings.trammel", "pipe.trammel", "zero.trammel"]) {
    for (const verb of ["check", "show", "format"]) {
      const { code, out, log } = await shop.inside("shop").trammel(verb, name);
      expect({ name, verb, code, out }).toEqual({ name, verb, code: 2, out: "" });
      expect(log).toMatch(/^trammel: cannot read \S+: it/);
    }
  }
});

test("an editor's file outside of all folders reaches what lies beside it", () => {
  const files = new OpenFiles();
  files.folders = [`${uriOf(inside)}/`];
  const alone = uriOf(secret);
  expect(files.read(alone, alone)).toHaveProperty("text");
  expect(files.read(uriOf(join(inside, "build.trammel")), alone)).toMatchObject({
    problem: "outside",
  });
  // What is open elsewhere is no more in reach than what is on the disk.
  files.open(alone, () => "typed");
  expect(files.read(alone, uriOf(join(inside, "build.trammel")))).toMatchObject({
    problem: "outside",
  });
});

test("a host in memory holds builds inside their folder as well", () => {
  const host = memoryHost(new Map([["file:///b/x.trammel", "# x\n"]]), ["file:///a/"]);
  expect(host.read("file:///b/x.trammel", "file:///a/y.trammel")).toEqual({ problem: "outside" });
  expect(host.read("file:///b/x.trammel", "file:///b/y.trammel")).toEqual({ text: "# x\n" });
});
