import { mkdirSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { DiskHost } from "../../server/command/disk-host";
import { pathOf, uriOf } from "../../server/disk/file-uri";
import { workshop } from "./workshop";

test("paths and URIs lead to each other, whatever is in a name", () => {
  for (const name of ["plain", "a b", "50%", "a,b;c&d=e@f", "(x)'!*~", "é±ö", "#1", "q?", "[k]"]) {
    const path = join("/shop", name, "build.trammel");
    expect(pathOf(uriOf(path))).toBe(path);
    expect(uriOf(path)).toMatch(/^file:\/\/\/shop\/[^/#?\s]+\/build\.trammel$/);
  }
});

test("a build in a folder of any name reaches its parts, also by way of the folder above", async () => {
  const build = 'use "../a, b (50%)/parts.trammel"\naxle a { housing: h }\n';
  const shop = workshop({
    "a, b (50%)/build.trammel": build,
    "a, b (50%)/parts.trammel": "housing h { standoff: 2.5 }\n",
  });
  const { out, code } = await shop.trammel("check", "a, b (50%)/build.trammel");
  expect(out).toMatch(/^a, b \(50%\)\/parts\.trammel:1:\d+: error: /);
  expect(out).not.toContain("use/");
  expect(code).toBe(1);
});

test("a build outside of the current folder may use what lies beside it and no more", async () => {
  const shop = workshop({
    "elsewhere/van/build.trammel": 'use "parts.trammel"\nuse "../secret.trammel"\n',
    "elsewhere/van/parts.trammel": "# none\n",
    "elsewhere/secret.trammel": "# none\n",
    "here/none.txt": "",
  });
  const { out } = await shop.inside("here").trammel("check", "../elsewhere/van/build.trammel");
  expect(out.match(/use\/outside/g)).toHaveLength(1);
  expect(out).toContain("../elsewhere/van/build.trammel:2:");
});

test("a folder that links to itself is walked once", async () => {
  const shop = workshop({ "van/build.trammel": "# none\n" });
  symlinkSync(shop.folder, join(shop.folder, "van", "again"));
  expect((await shop.trammel("check", ".")).out).toBe("1 build, nothing to object to\n");
});

test("a folder named like a build is a folder", async () => {
  const shop = workshop();
  mkdirSync(join(shop.folder, "x.trammel"));
  expect((await shop.trammel("show", "x.trammel")).log).toBe(
    "trammel: cannot read x.trammel: it is a folder\n",
  );
  expect((await shop.trammel("check", "x.trammel")).log).toBe(
    "trammel: there is no build in x.trammel: no file below it ends with .trammel\n",
  );
});

test("one run sees one state of a file", () => {
  const shop = workshop({ "a.trammel": "# one\n" });
  const host = new DiskHost(shop.folder);
  const uri = uriOf(join(shop.folder, "a.trammel"));
  expect(host.read(uri, uri)).toMatchObject({ text: "# one\n" });
  shop.write("a.trammel", "# two\n");
  expect(host.read(uri, uri)).toMatchObject({ text: "# one\n" });
  host.forget(uri);
  expect(host.read(uri, uri)).toMatchObject({ text: "# two\n" });
});
