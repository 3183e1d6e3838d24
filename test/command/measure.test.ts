/** What is still to be measured: the list, the form, and what was filled in put back. */
import { describe, expect, test } from "vitest";
import { schemaOf } from "../../server/command/contract";
import { repository, workshop } from "./workshop";

const build = `display { length: in 1/32; torque: lb-ft }
tire rear_tire { size: 255/60R17 }
wheel rear_wheel { size: 17x8; offset: 12 mm }
brake disc { hat_thickness: 0.310 in }
housing tube { standoff: 2.380 in ± 0.008 in; face_to_face: 54 1/2 in made ± 1/32 in; end_length: 2 in }
axle rear {
  wheel: rear_wheel
  tire: rear_tire
  brake: disc
  housing: tube
  left { inner_limit: 24 in ± 3/16 in; outer_limit: ?; inner_gap: ? } # the driver's side
  right {
    inner_limit: 23 3/8 in ± 1/16 in
    outer_gap: ?  # fender not yet rolled
  }
}
instrument scale "Workshop scale" { reads_to: 0.02 in }
`;
const who = ["--by", "Ana", "--date", "2026-05-02"];

interface Figure {
  readonly si: number;
  readonly text: string;
}

interface Reading {
  readonly path: string;
  readonly why: string;
  readonly now?: string;
  readonly within?: { readonly si: number; readonly text: string };
  readonly withinBy?: string;
  readonly instrument?: string;
  readonly instead?: readonly string[];
  readonly decides?: readonly {
    readonly check: string;
    readonly within?: Figure;
    readonly from?: Figure;
    readonly upTo?: Figure;
    readonly once?: readonly string[];
  }[];
  readonly checks: readonly string[];
  readonly step?: string;
}

async function readings(text: string): Promise<readonly Reading[]> {
  const shop = workshop({ "build.trammel": text });
  const { out } = await shop.trammel("measure", "build.trammel", "--format", "json");
  return (JSON.parse(out) as { readings: Reading[] }).readings;
}

describe("the list", () => {
  test("goes round the vehicle: one side, then the other", async () => {
    const paths = (await readings(build)).map(({ path }) => path);
    const left = paths.flatMap((path, at) => (path.startsWith("rear.left") ? [at] : []));
    const right = paths.flatMap((path, at) => (path.startsWith("rear.right") ? [at] : []));
    expect(left.length).toBeGreaterThan(2);
    expect(Math.max(...left)).toBeLessThan(Math.min(...right));
    expect(paths).toContain("rear.left.outer_limit");
    expect(paths).toContain("rear.right.outer_limit");
    expect(paths).not.toContain("rear.right.inner_limit");
  });

  test("a reading is needed as exactly as lets its check be decided, and no more is said", async () => {
    const coarse = (await readings(build)).find(({ path }) => path === "rear.left.inner_limit");
    expect(coarse).toMatchObject({ why: "too coarse", now: "24 in ± 3/16 in" });
    const within = coarse?.within?.si ?? 0;
    const inches = within / 0.0254;
    // With that ± the check is decided and the figure is off the list; with twice of it, it is not.
    const again = (by: number): Promise<readonly Reading[]> =>
      readings(build.replace("24 in ± 3/16 in", `24 in ± ${by.toFixed(6)} in`));
    const listed = (list: readonly Reading[]): boolean =>
      list.some(({ path }) => path === "rear.left.inner_limit");
    expect(listed(await again(inches))).toBe(false);
    expect(listed(await again(inches * 4))).toBe(true);
    expect(coarse?.instrument).toBeDefined();
  });

  test("the instrument is the plainest that is fine enough", async () => {
    // 1/32 in by the shop's table: a tape reads that, the scale of the build more finely.
    const [first] = (await readings(build)).filter(({ why }) => why === "too coarse");
    expect(first?.instrument).toBe("tape");
    const fine = build.replace("face_to_face: 54 1/2 in", "face_to_face: 54 11/32 in");
    const [finer] = (await readings(fine)).filter(({ why }) => why === "too coarse");
    if (finer?.within !== undefined) expect(finer.within.si).toBeLessThan(0.0254);
  });

  test("a reading that says no ± is as exact as what it is read with, until a check hangs on it", async () => {
    const slot = (body: number, more = "") => `display { length: mm }
kind slot "Slot" {
  limit: length measured needs "measure it" with "tape"
  body: length bought
  gap: length
  relation "gap": gap = limit - body
  check "clears": gap >= 10 mm
}
slot s { limit: 100 mm; body: ${body} mm }
${more}`;
    // 0.5 mm is left, the 1/32 in a tape is good for is 0.79 mm; a rule's 1/64 in is 0.4 mm.
    const [near, ...more] = await readings(slot(89.5));
    expect(more).toEqual([]);
    expect(near).toMatchObject({
      path: "s.limit",
      why: "no ± is written",
      instrument: "steel rule",
    });
    expect(near?.within?.text).toBe("± 0.5 mm");
    expect(near?.checks).toEqual(["s: clears"]);
    // 0.8 mm is left; and a check that fails by as much stays failed as well.
    expect(await readings(slot(89.2))).toEqual([]);
    expect(await readings(slot(90.8))).toEqual([]);
    expect(await readings(slot(90.3))).toMatchObject([
      { path: "s.limit", within: { text: "± 0.2 mm" } },
    ]);
    // Where a step asks for it, how far it may be off before the check is undecided is told.
    const step = 'procedure job { step look "Look" { measure: s.limit } }';
    expect(await readings(slot(86.5, step))).toMatchObject([
      { why: "a step asks for it", within: { text: "± 2 mm" }, instrument: "tape" },
    ]);
    const shop = workshop({ "build.trammel": slot(89.5) });
    const form = (await shop.trammel("measure", "build.trammel", "--format", "form", ...who)).out;
    expect(form).toContain("now 100 mm, no ± written; needed to ± 0.5 mm; steel rule will do");
  });

  test("what takes the place of a tool that is too coarse measures the same sort of thing", async () => {
    const kinds = `display { length: mm }
kind probe "Probe" {
  turn: length measured range 0 mm..3 mm needs "turn it" with "TOOL"
  most: length bought
  spare: length
  relation "spare": spare = most - turn
  check "is true": spare >= 0 mm
}
probe p { turn: 0.5 mm; most: MOST mm }
`;
    const told = async (tool: string, most: string, more = "") =>
      (await readings(kinds.replace("TOOL", tool).replace("MOST", most) + more))[0]?.instrument;
    // 0.02 mm are left: a thousandth of an inch would be too coarse, by a ten thousandth it is decided.
    expect(await told("dial indicator", "0.52")).toBe("lever indicator");
    expect(await told("caliper", "0.52")).toBe("micrometer");
    // Nothing in the shop reads a bore to a thousandth of a millimeter, whatever reads other things so.
    expect(await told("bore gauge", "0.505")).toBeUndefined();
    const own = 'instrument fine "fine bore gauge" { reads_to: 0.002 mm; sort: "bore" }\n';
    expect(await told("bore gauge", "0.505", own)).toBe("fine bore gauge");
    // What is below zero is read with the same tools.
    const below = kinds
      .replace("0 mm..3 mm", "-3 mm..3 mm")
      .replace("turn: 0.5 mm", "turn: -0.5 mm")
      .replace("TOOL", "caliper")
      .replace("MOST", "-0.48");
    expect((await readings(below))[0]?.instrument).toBe("micrometer");
  });

  test("angles are read as exactly as their tools show", async () => {
    const slope = (least: string) => `kind ramp "Ramp" {
  slope: angle measured range 0 deg..40 deg needs "lay it on" with "angle finder"
  least: angle limit
  check "steep enough": slope >= least
}
ramp r { slope: 10 deg; least: ${least} deg }
`;
    expect((await readings(slope("9.7")))[0]).toMatchObject({
      path: "r.slope",
      why: "no ± is written",
      instrument: "digital level",
    });
    expect(await readings(slope("9.4"))).toEqual([]);
  });

  test("what is open tells what it is read with", async () => {
    const disc = "brake disc { rotor_minimum: 20 mm; rotor_thickness: ? }\n";
    const told = (await readings(disc)).find(({ path }) => path === "disc.rotor_thickness");
    expect(told).toMatchObject({ why: "open", instrument: "micrometer" });
    // Nothing hangs on it yet: as exactly as its tool shows it, a ten thousandth of an inch.
    expect(told?.within?.si).toBeCloseTo(0.0001 * 0.0254, 9);
  });

  describe("what is open is needed as exactly as the checks leave room, before it is read", () => {
    // The saw follows the limit, so that the gap comes out as wanted whatever the limit reads.
    const slot = (more: string) => `display { length: mm }
kind slot "Slot" {
  limit: length measured range 50 mm..500 mm needs "measure it" with "tape"
  wall: length measured range 1 mm..20 mm needs "measure it" with "caliper"
  cut: length made to 0.01 mm
  gap: length wanted
  most: length limit default 300 mm
  relation "gap": gap = cut - limit
  check "clears": gap >= 10 mm
  check "not too long": cut <= most
  check "thick enough": wall >= 4 mm
}
slot s { ${more} }
`;

    test("by the margin, where that is the same whatever it reads", async () => {
      const [open] = await readings(slot("limit: ?; gap: 13 mm; most: 900 mm"));
      // 3 mm of room and nobody else to share it with; the cut may be as long as it likes.
      const clears = open?.decides?.find(({ check }) => check === "s: clears");
      expect(clears?.within?.si).toBeCloseTo(0.002, 9);
      expect(clears?.within?.text).toBe("± 2 mm");
      // As it says: with as much it is decided, with twice as much it is not.
      for (const [by, decided] of [
        [2.9, true],
        [3.1, false],
      ] as const) {
        const read = await readings(slot(`limit: 120 mm ± ${by} mm; gap: 13 mm; most: 900 mm`));
        expect(
          read.some(({ why }) => why === "too coarse"),
          `${by}`,
        ).toBe(!decided);
      }
    });

    test("by where a check turns, where the reading alone decides it", async () => {
      const list = await readings(slot("limit: ?; gap: 13 mm; wall: ?"));
      const [limit, wall] = ["s.limit", "s.wall"].map((each) =>
        list.find(({ path }) => path === each),
      );
      // The cut is limit and gap together, at most 300 mm.
      const long = limit?.decides?.find(({ check }) => check === "s: not too long");
      expect(long?.upTo?.si).toBeCloseTo(0.287, 4);
      expect(wall?.decides).toMatchObject([{ check: "s: thick enough", from: { text: "4 mm" } }]);
      // Nobody knows yet how near it is: as exactly as its tool shows.
      expect(wall).toMatchObject({ withinBy: "its tool", instrument: "caliper" });
      const shop = workshop({ "build.trammel": slot("limit: ?; gap: 13 mm; wall: ?") });
      const { out } = await shop.trammel("measure", "build.trammel");
      expect(out).toContain("decides: s: not too long, up to 287 mm");
      expect(out).toContain("decides: s: clears, to ± 2 mm");
      expect(out).toContain("with: caliper, as exactly as it shows: ±");
    });

    test("or says what else has to be known first", async () => {
      const [limit, , gap] = await Promise.all([
        readings(
          slot("limit: ?; gap: 13 mm; most: ?").replace(
            "limit default 300 mm",
            'measured range 100 mm..900 mm needs "measure it" with "tape"',
          ),
        ),
        undefined,
        readings(slot("limit: ?")),
      ]);
      const long = limit[0]?.decides?.find(({ check }) => check === "s: not too long");
      expect(long?.once).toEqual(["s.most"]);
      // Where the gap is not wanted either nothing is drawn yet, and nothing is told.
      expect(gap[0]?.decides).toBeUndefined();
    });
  });

  test("where no tool of the shop reads so exactly it says so, and what can be read instead", async () => {
    const scales = (share: string) => `kind cart "Cart" {
  load: mass measured needs "weigh it" with "corner scales"
  all: mass measured needs "weigh it" with "corner scales"
  share: ratio measured range 0 %..100 % needs "weigh it" with "corner scales"
  relation "load": load = all * share
  check "evenly": share <= 50 %
}
cart c { share: ${share} }
`;
    const [coarse] = await readings(scales("49.9 % ± 1 %"));
    expect(coarse).toMatchObject({ why: "too coarse", instead: ["c.load", "c.all"] });
    expect(coarse?.instrument).toBeUndefined();
    const shop = workshop({ "build.trammel": scales("49.9 % ± 1 %") });
    const { out } = await shop.trammel("measure", "build.trammel");
    expect(out).toContain(
      "no tool of the shop reads it so exactly; read c.load and c.all instead: it follows from them",
    );
  });

  test("one reading is to be surer where that is enough, and of those that mirror each other all", async () => {
    const gap = (more: string) => `display { length: mm }
kind slot "Slot" {
  limit: length measured needs "measure it" with "tape"
  left: length measured needs "measure it" with "caliper"
  right: length measured needs "measure it" with "caliper"
  gap: length
  relation "gap": gap = limit - left - right
  check "clears": gap >= 10 mm
}
slot s { limit: 100 mm; left: 40 mm; right: ${more} mm }
`;
    // 0.8 mm are left, the tape is good for 0.79 mm, each caliper for 0.025 mm.
    expect(await readings(gap("49.2"))).toMatchObject([
      { path: "s.limit", instrument: "steel rule" },
    ]);
    const pairs = gap("49.96").replace("limit: length measured", "limit: length bought");
    // 0.04 mm are left, both together are good for 0.051 mm.
    expect((await readings(pairs)).map(({ path }) => path)).toEqual(["s.left", "s.right"]);
  });

  test("a part that lies there is read, whatever its maker states", async () => {
    // An offset is asked for and the backspace would settle it.
    expect((await readings("wheel w { size: 17x8; offset: ? }\n"))[0]).toMatchObject({
      path: "w.backspace",
      why: "open",
      within: { text: "± 1/32 in" },
      instrument: "straight edge",
    });
  });

  test("what a step asks for is on it until it was read", async () => {
    const plan = `${build}procedure job { step look "Look at the width" { measure: tube.face_to_face } }\n`;
    const asked = (await readings(plan)).find(({ path }) => path === "tube.face_to_face");
    expect(asked).toMatchObject({ why: "a step asks for it", step: "Look at the width" });
    // A quarter of ± 1/32 in is 0.0078 in.
    expect(asked?.within?.text).toBe("± 0.005 in");
    const done = `${plan}record 2026-05-01 by "Ana" { tube.face_to_face: 54 1/2 in }\n`;
    expect((await readings(done)).map(({ path }) => path)).not.toContain("tube.face_to_face");
  });

  test("comes as text, as Markdown and as JSON with a schema", async () => {
    const shop = workshop({ "build.trammel": build });
    const text = await shop.trammel("measure", "build.trammel");
    expect(text.code).toBe(0);
    expect(text.out).toContain("now 24 in ± 3/16 in; needed to ± 1/32 in; tape will do");
    const markdown = await shop.trammel("measure", "build.trammel", "--format", "markdown");
    expect(markdown.out).toMatch(/\| rear\.left\.outer\\?_limit/);
    expect(schemaOf("measure")).toMatchObject({ type: "object" });
    const none = await workshop({ "a.trammel": "wheel w { size: 17x8 }\n" }).trammel(
      "measure",
      "a.trammel",
    );
    expect(none.out).toContain("nothing is left to be measured");
  });

  test("the sheet for measuring shows the same", async () => {
    const shop = workshop({ "build.trammel": build });
    const { out } = await shop.trammel("sheet", "build.trammel", "--format", "markdown");
    expect(out).toContain("**Still to be measured**");
    expect(out).toContain("± 1/32 in");
  });

  test("of the samples can be made", async () => {
    for (const sample of ["samples/harbor-van/work.trammel", "samples/alder-truck/build.trammel"])
      expect((await repository.trammel("measure", sample)).code).toBe(0);
  });
});

describe("the form", () => {
  const form = async (shop: ReturnType<typeof workshop>): Promise<string> =>
    (await shop.trammel("measure", "build.trammel", "--format", "form", ...who)).out;

  test("is a text of the language that the build has no objection to", async () => {
    const shop = workshop({ "build.trammel": build });
    shop.write("measured.trammel", await form(shop));
    const { out } = await shop.trammel("check", "measured.trammel", "--format", "json");
    expect((JSON.parse(out) as { errors?: number }).errors ?? 0).toBe(0);
    expect((await shop.trammel("format", "--check", "measured.trammel")).code).toBe(0);
  });

  test("puts figures where they belong, readings into a log, and twice is once", async () => {
    const shop = workshop({ "build.trammel": build });
    const filled = (await form(shop))
      .replace("rear.left.outer_limit: ?", "rear.left.outer_limit: 36 1/8 in ± 1/32 in")
      .replace("rear.left.inner_limit: ? }", "rear.left.inner_limit: 23 15/16 in ± 1/32 in }")
      .replace("rear.left.tube_end: ?", "rear.left.tube_end: 28 in")
      .replace("rear.right.tube_end: ?", "rear.right.tube_end: 28 1/8 in")
      .replace("rear.right.body.tub_room: ?", "rear.right.body.tub_room: 19 in");
    shop.write("measured.trammel", filled);
    const back = () =>
      shop.trammel("measure", "build.trammel", "--from", "measured.trammel", ...who);
    const dry = await shop.trammel(
      ...["measure", "build.trammel", "--from", "measured.trammel", "--dry", ...who],
    );
    expect(dry.code).toBe(0);
    expect(shop.read("build.trammel")).toBe(build);
    const first = await back();
    expect([first.code, first.log]).toEqual([
      0,
      "written to build.trammel\nwritten to log-ana.trammel\n",
    ]);
    expect(shop.read("build.trammel")).toBe(
      `${build
        .replace("outer_limit: ?", "outer_limit: 36 1/8 in ± 1/32 in")
        .replace("inner_gap: ? }", "inner_gap: ?; tube_end: 28 in }")
        .replace(
          "rolled\n",
          "rolled\n    tube_end: 28 1/8 in\n",
        )}rear.right.body.tub_room: 19 in\n`,
    );
    expect(shop.read("log-ana.trammel")).toBe(
      'use "build.trammel"\n\nrecord 2026-05-02 by "Ana" with "tape" { rear.left.inner_limit: 23 15/16 in ± 1/32 in }\n',
    );
    expect(shop.read("measured.trammel")).toBe(filled);
    const before = shop.read("build.trammel") + shop.read("log-ana.trammel");
    const second = await back();
    expect(second.code).toBe(0);
    expect(shop.read("build.trammel") + shop.read("log-ana.trammel")).toBe(before);
    const built = await shop.trammel(
      "show",
      "build.trammel",
      "rear.left.inner_limit",
      "--as-built",
    );
    expect(built.out).toContain("23 15/16 in");
  });

  test.each([
    ["a wrong unit", "28 kg", "unit/wrong"],
    ["half a figure", "28 1/ in", "syntax/"],
    ["no such figure", "28 in\nrear.left.tub_end: 3 in", "name/unknown-field"],
  ])("%s is told at its line, nothing is written and nothing lost", async (_, figure, code) => {
    const shop = workshop({ "build.trammel": build });
    const filled = (await form(shop)).replace(
      "rear.left.tube_end: ?",
      `rear.left.tube_end: ${figure}`,
    );
    shop.write("measured.trammel", filled);
    const { code: end, out } = await shop.trammel(
      ...["measure", "build.trammel", "--from", "measured.trammel", ...who],
    );
    expect(end).toBe(1);
    expect(out).toContain("measured.trammel:");
    expect(out).toContain(code);
    expect(shop.read("build.trammel")).toBe(build);
    expect(shop.read("measured.trammel")).toBe(filled);
  });

  test("an empty one writes nothing", async () => {
    const shop = workshop({ "build.trammel": build });
    shop.write("measured.trammel", await form(shop));
    const { code, log } = await shop.trammel(
      ...["measure", "build.trammel", "--from", "measured.trammel", ...who],
    );
    expect([code, log]).toEqual([
      0,
      "measured.trammel: no figure is filled in, nothing was written\n",
    ]);
  });

  test("lies where it likes", async () => {
    const shop = workshop({ "build.trammel": build });
    const filled = (await form(shop)).replace("rear.left.tube_end: ?", "rear.left.tube_end: 28 in");
    shop.write("forms/monday.trammel", filled);
    const { code } = await shop.trammel(
      ...["measure", "build.trammel", "--from", "forms/monday.trammel", ...who],
    );
    expect(code).toBe(0);
    expect(shop.read("build.trammel")).toContain("tube_end: 28 in");
  });
});
