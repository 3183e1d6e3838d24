import { expect, test } from "vitest";
import { workshop } from "./workshop";

const untidy = "housing   h{ standoff:2.5 in;burn :1 in }";
const tidy = "housing h { standoff: 2.5 in; burn: 1 in }\n";

test("writes a build in the usual layout", async () => {
  const shop = workshop({ "build.trammel": untidy });
  const { code, out } = await shop.trammel("format", "build.trammel");
  expect(code).toBe(0);
  expect(out).not.toBe(untidy);
  expect(await shop.trammelWith({ input: untidy }, "format", "--stdin")).toEqual({
    code: 0,
    out,
    log: "",
  });
  expect(shop.read("build.trammel")).toBe(untidy);
  expect((await shop.trammelWith({ input: out }, "format", "-")).out).toBe(out);
});

test("--check lists what is laid out otherwise, --write changes it", async () => {
  const shop = workshop({ "a.trammel": untidy, "b.trammel": "# fine\n" });
  expect(await shop.trammel("format", "--check", ".")).toEqual({
    code: 1,
    out: "a.trammel\n",
    log: "",
  });
  expect(await shop.trammel("format", "--write", ".")).toEqual({
    code: 0,
    out: "a.trammel\n",
    log: "",
  });
  expect(shop.read("a.trammel").endsWith("\n")).toBe(true);
  expect(await shop.trammel("format", "--check", ".")).toEqual({ code: 0, out: "", log: "" });
  expect(shop.read("b.trammel")).toBe("# fine\n");
});

test("leaves a broken build as it is and says why", async () => {
  const shop = workshop({ "broken.trammel": "housing h { standoff: \n" });
  const { code, out, log } = await shop.trammel("format", "broken.trammel");
  expect(code).toBe(1);
  expect(out).toBe("housing h { standoff: \n");
  expect(log).toMatch(/^trammel: broken\.trammel is left as it is: line \d+: /);
});

test("several builds need --write or --check", async () => {
  const shop = workshop({ "a.trammel": tidy, "b.trammel": tidy });
  expect((await shop.trammel("format", "a.trammel", "b.trammel")).code).toBe(2);
  expect((await shop.trammel("format", "a.trammel", "--write", "--check")).code).toBe(2);
});
