/** Work dealt out to threads comes to what one thread comes to. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { expect, test } from "vitest";
import { root, smallBuild, workshop } from "./workshop";

const files = Object.fromEntries(
  Array.from({ length: 120 }, (_, index) => [
    `shop-${index % 7}/build-${index}.trammel`,
    index % 3 === 0
      ? `use "parts/plates.trammel"\nhousing h${index} { standoff: ${index} }\naxle a { brake: plate }\n`
      : smallBuild,
  ]),
);

test("many builds give the same in threads as one after the other", async () => {
  const shop = workshop(files);
  for (let index = 0; index < 7; index++) {
    shop.write(`shop-${index}/parts/plates.trammel`, "brake plate { hat_thickness: 0.25 }\n");
  }
  shop.write("shop-0/picture.trammel", new Uint8Array([1, 0, 2]));
  const alone = await shop.trammel("check", ".");
  // The built program has threads; within this process there are none.
  const built = spawnSync(process.execPath, [join(root, "dist", "trammel.js"), "check", "."], {
    cwd: shop.folder,
    encoding: "utf8",
  });
  expect(built.stdout).toBe(alone.out);
  expect(built.stderr).toBe(alone.log);
  expect(built.status).toBe(alone.code);
  expect(alone.code).toBe(2);
  expect(alone.log).toBe("trammel: cannot read shop-0/picture.trammel: it is not a text file\n");
  expect(alone.out).toMatch(/\d+ errors in 120 builds\n$/);
});
