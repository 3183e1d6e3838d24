import { describe, expect, test } from "vitest";
import { ownKinds, type repository, smallBuild, workshop } from "./workshop";

interface Shown {
  values: Record<string, Record<string, unknown>>;
  missing: { path: string; needs: { path: string }[][] }[];
  findings: { code: string }[];
  asked?: Record<string, string[]>;
}

async function json(shop: Pick<typeof repository, "trammel">, ...args: string[]): Promise<Shown> {
  return JSON.parse((await shop.trammel("show", ...args, "--format", "json")).out);
}

describe("show", () => {
  test("solves a housing from the width between the mounting faces", async () => {
    // By hand: 61.375 in between the mounting faces less 2 * (2.38 + 0.31) in is 55.995 in.
    const shop = workshop({
      "build.trammel": `display { length: in 1/32 }
housing h { standoff: 2.380 in  face_to_face: ? }
brake b { hat_thickness: 0.310 in }
axle rear { housing: h  brake: b  mount_width: 61 3/8 in }
`,
    });
    const { values, missing, findings } = await json(shop, "build.trammel");
    const width = values["h.face_to_face"];
    expect(width?.si).toBeCloseTo(55.995 * 0.0254, 12);
    expect(width).toMatchObject({
      unit: "m",
      shown: "56 in",
      decimal: "55.995 in",
      standing: "solved",
      worst: 0,
      rss: 0,
    });
    expect(width?.relation).toBe("housing.face_to_face = left.cut_half + right.cut_half");
    expect(missing).toEqual([]);
    expect(findings).toEqual([]);
  });

  test("tells every standing apart", async () => {
    const shop = workshop({
      "build.trammel": `${smallBuild}
tire t { overall_diameter: ? }
record "cut" 2026-03-14 { rear.housing.face_to_face: 58 1/16 in }
`,
    });
    const { values } = await json(shop, "build.trammel", "--as-built");
    expect(values["rear_housing.standoff"]?.standing).toBe("given");
    expect(values["rear_housing.face_to_face"]?.standing).toBe("measured");
    expect(values["rear.left.spacer"]?.standing ?? values["rear_housing.burn"]?.standing).toBe(
      "assumed",
    );
    expect(values["t.overall_diameter"]).toMatchObject({ standing: "missing", shown: "missing" });
    expect(values["t.overall_diameter"]).not.toHaveProperty("si");
    expect((await json(shop, "build.trammel")).values["rear_housing.face_to_face"]?.standing).toBe(
      "solved",
    );
  });

  test("carries tolerances as worst case and root sum square", async () => {
    // Two standoffs' worth of one ± 0.010 in and ± 1/16 in of the width; sums and root sum square by
    // hand: 0.0625 + 2 * 0.010 and sqrt(0.0625^2 + 0.020^2) inches.
    const { values } = await json(workshop({ "build.trammel": smallBuild }), "build.trammel");
    const width = values["rear_housing.face_to_face"];
    expect(width?.worst).toBeCloseTo((0.0625 + 0.02) * 0.0254, 10);
    expect(width?.rss).toBeCloseTo(Math.hypot(0.0625, 0.02) * 0.0254, 10);
    expect(width?.low).toBeCloseTo((58 - 0.0825) * 0.0254, 10);
    expect(width?.high).toBeCloseTo((58 + 0.0825) * 0.0254, 10);
  });

  test("any path that reaches a value may be used to ask for it", async () => {
    const shop = workshop({ "build.trammel": smallBuild });
    const { asked, values } = await json(
      shop,
      "build.trammel",
      "rear.housing.face_to_face",
      "rear_housing.face_to_face",
      "rear.left.half",
    );
    expect(Object.keys(values).sort()).toEqual(["rear.left.half", "rear_housing.face_to_face"]);
    expect(asked).toEqual({
      "rear.housing.face_to_face": ["rear_housing.face_to_face"],
      "rear_housing.face_to_face": ["rear_housing.face_to_face"],
      "rear.left.half": ["rear.left.half"],
    });
    const thing = await json(shop, "build.trammel", "rear.housing");
    expect(thing.asked?.["rear.housing"]).toContain("rear_housing.standoff");
  });

  test("says what would settle a figure that is only asked for on the command line", async () => {
    const shop = workshop({
      "build.trammel": "brake b { hat_thickness: 1/4 in }\naxle rear { brake: b }\n",
    });
    const { missing, values } = await json(shop, "build.trammel", "rear.mount_width");
    expect(values).toHaveProperty("rear.mount_width.standing".split(".").slice(0, 2).join("."));
    const [first] = missing;
    expect(first?.path).toBe("rear.mount_width");
    expect(first?.needs.length).toBeGreaterThan(0);
    expect(first?.needs.flat().map(({ path }) => path)).not.toContain("rear.mount_width");
    const { out } = await shop.trammel("show", "build.trammel", "rear.mount_width");
    expect(out).toContain("Missing");
    expect(out).toContain("rear.mount_width would be settled by");
  });

  test("a path that leads nowhere is wrong usage and names a near one", async () => {
    const shop = workshop({ "build.trammel": smallBuild });
    expect(await shop.trammel("show", "build.trammel", "rear.housing.face_to_fase")).toEqual({
      code: 2,
      out: "",
      log: "trammel: there is no field of rear.housing called face_to_fase, did you mean face_to_face?\n",
    });
    expect((await shop.trammel("show", "build.trammel", "raer")).log).toBe(
      "trammel: there is no thing called raer, did you mean rear?\n",
    );
  });

  test("an option and the as-built view change what is shown and say so", async () => {
    const shop = workshop({
      "build.trammel": `${smallBuild}
option wide "Wider by an inch" { rear.mount_width: 64 1/2 in }
record "cut" 2026-03-14 { rear.housing.face_to_face: 58 1/16 in }
`,
    });
    const wide = await shop.trammel("show", "build.trammel", "--option", "wide");
    expect(wide.out).toContain("under the option wide: Wider by an inch");
    expect(wide.out).toContain("59 in");
    const built = await shop.trammel("show", "build.trammel", "--as-built");
    expect(built.out).toContain("58 1/16 in");
    expect(built.out).toContain("measured");
    expect((await shop.trammel("show", "build.trammel", "--option", "wider")).log).toBe(
      "trammel: there is no option called wider, did you mean wide?\n",
    );
  });

  test("shows the other system of units on request", async () => {
    const { values } = await json(
      workshop({ "build.trammel": smallBuild }),
      "build.trammel",
      "--units",
      "metric",
    );
    // 58 in is 1473.2 mm exactly.
    expect(values["rear_housing.face_to_face"]?.shown).toBe("1473.2 mm");
  });

  test("reads as a sheet", async () => {
    const { code, out } = await workshop({ "build.trammel": ownKinds }).trammel(
      "show",
      "build.trammel",
    );
    expect(code).toBe(0);
    expect(out).toBe(`build.trammel

                      worst case  likely (rss)  standing
Asked for

base  Base frame
  width    63 in      ± 0.020 in  ± 0.020 in    solved    by “halves”

Headline figures

base  Base frame
  outside  63 1/2 in                            wanted    held: nothing made answers it

nothing to object to
`);
  });

  test("--all leaves nothing out", async () => {
    const shop = workshop({ "build.trammel": smallBuild });
    const { values } = await json(shop, "build.trammel");
    const { out } = await shop.trammel("show", "build.trammel", "--all");
    const words = new Set(out.split(/[\s,.]+/));
    for (const path of Object.keys(values)) expect(words).toContain(path.split(".").at(-1));
    expect(out).toMatch(/^ {2}half .* assumed|^ {2}half .* solved/m);
  });
});
