import { all, create } from "mathjs";
import { describe, expect, test } from "vitest";
import type { DerivationOutput } from "../../server/command/contract";
import { ownKinds, repository, smallBuild, workshop } from "./workshop";

describe("explain", () => {
  test("derives a figure down to what was written", async () => {
    const shop = workshop({ "build.trammel": ownKinds });
    const { code, out } = await shop.trammel(
      "explain",
      "build.trammel",
      "base.width",
      "--depth",
      "2",
    );
    expect(code).toBe(0);
    expect(
      out,
    ).toBe(`base.width = 63 in, ± 0.020 in worst case, ± 0.020 in likely (rss): solved by “halves”
  width = left.half + right.half
  63 in = 31.500 in + 31.500 in
  source: geometry
  its ± comes from:
    100 %  steel.thickness  0.250 in ± 0.010 in  moves it by 0.020 in

├─ base.left.half = 31 1/2 in = 31.500 in, ± 0.010 in: solved by “plate”
│  │ face = half + plate.thickness
│  │ 31.750 in = 31.500 in + 0.250 in
│  │ source: geometry
│  │ solved together with: plates; the frame is centered
│  ├─ base.left.face = 31 3/4 in = 31.750 in: solved by “plates”
│  │    outside = left.face + right.face
│  │    63.500 in = 31.750 in + 31.750 in
│  │    source: geometry
│  │    solved together with: plate; the frame is centered
│  │    … goes deeper
│  └─ steel.thickness = 1/4 in = 0.250 in, ± 0.010 in: given
└─ base.right.half = 31 1/2 in = 31.500 in, ± 0.010 in: solved by “the frame is centered”, which is assumed
   │ left.half = right.half
   │ 31.500 in = 31.500 in
   │ source: common practice
   │ solved together with: plate; plates
   └─ base.left.half = 31 1/2 in = 31.500 in, ± 0.010 in: solved by “plate”  … opened elsewhere in this list
`);
  });

  test.each([
    ["samples/harbor-van/build.trammel", "rear.overall_width"],
    ["samples/harbor-van/build.trammel", "rear_housing.face_to_face"],
    ["samples/harbor-van/build.trammel", "end_weld.heat_input"],
    ["samples/harbor-van/build.trammel", "rear.right.shaft_length"],
    ["samples/alder-truck/build.trammel", "rear.left.inner_gap"],
  ])("what is put in for the names of %s %s adds up", async (file, path) => {
    // mathjs, a general-purpose library, works the sums out with its own units.
    const { out } = await repository.trammel("explain", file, path, "--format", "json");
    const seen = nodesOf(JSON.parse(out).derivation).filter(({ numbers }) => numbers !== undefined);
    expect(seen.length).toBeGreaterThan(0);
    const judged = seen
      .map(({ numbers }) => difference(numbers ?? ""))
      .filter((each) => each !== undefined);
    expect(judged.length).toBeGreaterThan(0);
    for (const { off, size } of judged) expect(off).toBeLessThanOrEqual(2e-3 * size + 1e-3);
  });

  test("with --fit says what would make a failing check hold, each tried out", async () => {
    const file = "samples/alder-truck/tight.trammel";
    const { code, out } = await repository.trammel("explain", file, "--fit", "--format", "json");
    expect(code).toBe(1);
    const [check] = JSON.parse(out).checks;
    expect(check.title).toBe("the inner sidewall clears");
    expect(check.fits.length).toBeGreaterThan(1);
    // An outside look: writing the change into the text makes the objection go away.
    const text = repository.read(file);
    const fit = check.fits.find(
      ({ path }: { path: string }) => path === "old_housing.face_to_face",
    );
    expect(text).toContain(`face_to_face: ${fit.was}`);
    const shop = workshop({
      "v/build.trammel": text.replace(`face_to_face: ${fit.was}`, `face_to_face: ${fit.shown}`),
    });
    for (const part of ["wheels-and-tires", "axle-parts"])
      shop.write(
        `v/parts/${part}.trammel`,
        repository.read(`samples/alder-truck/parts/${part}.trammel`),
      );
    expect((await shop.trammel("check", "v/build.trammel")).out).not.toContain(
      "clearance/inner-gap",
    );
    const told = await repository.trammel("explain", file, "--fit");
    expect(told.out).toContain(
      "it would hold with any one of these changes, those that break nothing first, what is made before what is bought:",
    );
    expect(told.out).toContain(`old_housing.face_to_face: ${fit.shown}`);
  });

  test("takes a check's code, a thing or a value for what --fit is about", async () => {
    const file = "samples/alder-truck/tight.trammel";
    for (const about of [
      "clearance/inner-gap",
      "the inner sidewall clears",
      "rear.right",
      "rear.right.inner_gap",
    ]) {
      expect((await repository.trammel("explain", file, about, "--fit")).out).toContain(
        "fails: inner_gap >= wanted_gap",
      );
    }
    expect((await repository.trammel("explain", file, "rear.left", "--fit")).out).toBe(
      "nothing contradicts, and no such check fails\n",
    );
  });

  test("says what is wrong with the usage", async () => {
    const shop = workshop({ "build.trammel": smallBuild });
    const logOf = async (...args: string[]) => {
      const { code, log, out } = await shop.trammel("explain", "build.trammel", ...args);
      expect({ code, out }).toEqual({ code: 2, out: "" });
      return log;
    };
    expect(await logOf()).toBe("trammel: say which value to explain, or add --fit\n");
    expect(await logOf("rear")).toMatch(
      /^trammel: rear is a whole thing; name one of its fields, such as rear\.[a-z_.]+\n$/,
    );
    expect(await logOf("rear.trakc")).toBe(
      "trammel: there is no field of rear called trakc, did you mean track?\n",
    );
    expect(await logOf("rear.track", "--depth", "-1")).toContain(
      "It is a whole number, 0 or more.",
    );
  });
});

function nodesOf(node: DerivationOutput): DerivationOutput[] {
  return [node, ...node.inputs.flatMap(nodesOf)];
}

const math = create(all ?? {});

/** How far the two sides lie apart, in SI; `undefined` for what only the library knows (tables, words). */
function difference(numbers: string): { off: number; size: number } | undefined {
  const sides = numbers.split(" = ");
  if (sides.length !== 2) return undefined;
  try {
    const [left, right] = sides.map((side) =>
      math.evaluate(side.replaceAll("lb-ft", "lbf ft").replaceAll(/(\d) lb(?![fa-z])/g, "$1 lbm")),
    );
    const si = (value: unknown): number =>
      math.isUnit(value) ? value.toSI().toNumber(value.toSI().formatUnits() || "") : Number(value);
    const one = si(left);
    const other = si(right);
    return Number.isFinite(one) && Number.isFinite(other)
      ? { off: Math.abs(one - other), size: Math.max(Math.abs(one), Math.abs(other)) }
      : undefined;
  } catch {
    return undefined;
  }
}

test("a ± beyond the range of numbers is said in words", async () => {
  const shop = workshop({
    "build.trammel": `kind k { a: length  b: length shown  relation "r": b = a * 1e300 }
k u { a: 1 in ± 1e308 in  b: ? }
`,
  });
  for (const args of [["show"], ["explain", "u.b"]]) {
    const [verb = "", ...rest] = args;
    const { out } = await shop.trammel(verb, "build.trammel", ...rest);
    expect(out).toContain("± no limit");
    expect(out).not.toMatch(/NaN|Infinity|±\s*(,|$)|moves it by\s*$/m);
  }
});

test("a worst case that was only found says so, in text and in the list, and so does what is solved with its like", async () => {
  const shop = workshop({
    "build.trammel": `kind post { a: length range 1 mm..90 mm\n b: length\n d: length range 1 mm..90 mm\n e: length range 1 mm..90 mm
 relation "r": a ^ 2 + d * e = 9 mm ^ 2\n relation "s": d * e = b ^ 2 }
post p { b: 5 mm ± 0.5 mm\n a: ? }
kind pole { x: length\n load: length\n next: pole
 relation "leans": 3 * x = load + next.x }
pole one { load: 6 mm; next: two; x: ? }
pole two { load: 2 mm; next: one }
`,
  });
  const { out } = await shop.trammel("explain", "build.trammel", "p.a");
  expect(out).toMatch(/^p\.a = 7\.5 mm, .* mm worst case as far as was found,/);
  const list = (await shop.trammel("show", "build.trammel")).out;
  expect(list).toMatch(/a +7\.5 .* mm found /);
  const like = (await shop.trammel("explain", "build.trammel", "one.x")).out;
  expect(like).toContain("solved together with “leans” of 1 other");
});
