/** Which files a command line means, and what a build may reach from where. */
import { expect, test } from "vitest";
import { uriOf } from "../../server/disk/file-uri";
import { OpenFiles } from "../../server/open-files";
import { repository, workshop } from "./workshop";

const wagon = 'use "../parts/wheels.trammel"\naxle rear { wheel: field_wheel }\n';
const wheels = "wheel field_wheel { size: 16x7  offset: 8 mm }\n";

test("from a folder inside a repository, its other folders can be used", async () => {
  const shop = workshop({
    ".git/HEAD": "ref: refs/heads/main\n",
    "builds/wagon.trammel": wagon,
    "parts/wheels.trammel": wheels,
  });
  expect(await shop.inside("builds").trammel("check", "wagon.trammel")).toMatchObject({ code: 0 });
});

test("a marker of ours does the same where there is no git", async () => {
  const files = { "builds/wagon.trammel": wagon, "parts/wheels.trammel": wheels };
  const marked = workshop({ ...files, ".trammel-root": "" });
  expect((await marked.inside("builds").trammel("check", "wagon.trammel")).code).toBe(0);
  const bare = workshop(files);
  const { code, out } = await bare.inside("builds").trammel("check", "wagon.trammel");
  expect(code).toBe(1);
  expect(out).toContain("use/outside");
  // From the folder above, that is the root.
  expect((await bare.trammel("check", "builds/wagon.trammel")).code).toBe(0);
});

test("the editor's reach: each open folder, and the repository around one", () => {
  const shop = workshop({ "builds/wagon.trammel": wagon, "parts/wheels.trammel": wheels });
  const uri = (path: string): string => uriOf(`${shop.folder}/${path}`);
  const files = new OpenFiles();
  files.folders = [`${uri("builds")}/`];
  const read = () => files.read(uri("parts/wheels.trammel"), uri("builds/wagon.trammel"));
  expect(read()).toEqual({ problem: "outside" });
  files.folders = [`${uri("builds")}/`, `${uri("parts")}/`];
  expect(read()).toMatchObject({ text: wheels });
  files.folders = [`${uri("builds")}/`];
  shop.write(".git/HEAD", "ref: refs/heads/main\n");
  files.forget(uri("builds/wagon.trammel"));
  expect(read()).toMatchObject({ text: wheels });
});

test("a text of another sort is refused in words", async () => {
  const { code, out, log } = await repository.trammel("check", "README.md");
  expect({ code, out, log }).toEqual({
    code: 2,
    out: "",
    log: "trammel: cannot read README.md: its name does not end with .trammel\n",
  });
});

test("quoted patterns are opened, ignored folders are left out", async () => {
  const broken = "axle rear {\n";
  const shop = workshop({
    ".gitignore": "out/\n*.old.trammel\n",
    "van/build.trammel": "vehicle v { mass: 1500 kg }\n",
    "van/spare.old.trammel": broken,
    "out/copy.trammel": broken,
    "node_modules/x/y.trammel": broken,
    "truck/build.trammel": "vehicle t { mass: 1800 kg }\n",
    "truck/.gitignore": "!kept.old.trammel\n",
    "truck/kept.old.trammel": "vehicle k { mass: 1800 kg }\n",
  });
  const builds = async (pattern: string): Promise<string> =>
    (await shop.trammel("check", pattern)).out.trim();
  expect(await builds(".")).toBe("3 builds, nothing to object to");
  expect(await builds("*/build.trammel")).toBe("2 builds, nothing to object to");
  expect(await builds("**/{build,kept.old}.trammel")).toBe("3 builds, nothing to object to");
  expect(await shop.trammel("check", "wagons/*.trammel")).toMatchObject({
    code: 2,
    log: "trammel: no build matches wagons/*.trammel\n",
  });
});

test("our own samples are laid out as the formatter lays them out", async () => {
  expect(await repository.trammel("format", "--check", "samples")).toEqual({
    code: 0,
    out: "",
    log: "",
  });
});

test("a file beside that cannot be read keeps no plan from being told", async () => {
  const shop = workshop({
    "build.trammel": 'use "part.trammel"\nprocedure job { step saw "Saw it" }\n',
    "part.trammel": "wheel w { offset: 1 mm }\n",
    "broken.trammel": new Uint8Array([0x77, 0xe9, 0x20]),
  });
  const { code, out, log } = await shop.trammel("plan", "part.trammel");
  expect([code, log]).toEqual([0, ""]);
  expect(out).toContain("build.trammel takes it in and has them");
  const logged = await shop.trammel("log", "saw", "--by", "Ida", "--dry");
  expect([logged.code, logged.log]).toEqual([0, ""]);
});
