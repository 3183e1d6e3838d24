import { describe, expect, it } from "vitest";
import { expectDigits, failing, holding, library, si, solved } from "./part-two-solve-text";

const packs = [
  "nsw_vsi_9",
  "south_australia_wheels",
  "vsb_14_ls",
  "western_australia_46",
  "uk_mot_brakes",
  "uk_points",
  "un_r13h",
  "eec_71_320",
  "fmvss_135",
];

const axle = (): string => `
tire road_tire { size: 235/75R15 105S }
wheel road_wheel { size: 15x7  offset: 0 mm }
axle rear {
  tire: road_tire
  wheel: road_wheel
  mount_width: 1500 mm
  left { outer_limit: 900 mm }
  right { outer_limit: 900 mm }
}`;

describe("rules packs", () => {
  it("stand in files of their own, one pack a file", () => {
    for (const name of packs) {
      const kind = library.vocabulary.kinds.get(name);
      expect(kind?.anchor.uri, name).toMatch(/\/rules\/[a-z0-9-]+\.trammel$/);
    }
    const files = [...library.files.keys()].filter((uri) => uri.includes("/rules/"));
    expect(files).toHaveLength(packs.length);
  });

  it.each(packs)(
    "%s: every check has a clause, an edition, and says that the authority decides",
    (name) => {
      const kind = library.vocabulary.kinds.get(name);
      expect(kind?.checks.length).toBeGreaterThan(0);
      for (const { title, remarks } of kind?.checks ?? []) {
        expect(remarks.source, title).toMatch(
          /10 December 2019|1 January 2011|2002|text of 2007|01 series|as in force|undated/,
        );
        expect(remarks.caution, title).toMatch(/the local authority decides/);
        expect(remarks.advise, title).toBeTruthy();
        expect(remarks.message, title).toBeTruthy();
        expect(remarks.severity, title).toBe("warning");
        expect(remarks.code, title).toMatch(/^[a-z0-9-]+\/[a-z0-9-]+$/);
      }
      const text =
        [...library.files].find(([uri]) => uri === kind?.anchor.uri)?.[1].source.text ?? "";
      expect(text).toMatch(
        /Optional:\s(# )?a build[\s#]+asks[\s#]+for[\s#]+it[\s#]+by[\s#]+declaring[\s#]+an?[\s#]/,
      );
    },
  );

  it("none is asked for unless the build says so", () => {
    const analysis = solved(axle());
    const codes = analysis.checks.map((check) => check.code);
    expect(
      codes.filter((code) => /^(nsw|south|vsb|western|uk|un-r13h|eec|fmvss)/.test(code)),
    ).toEqual([]);
  });
});

describe("New South Wales, VSI 9, 10 December 2019", () => {
  const build = (more: string): ReturnType<typeof solved> =>
    solved(`${axle()}
nsw_vsi_9 rules { axle: rear  category: passenger  ${more} }`);

  it("asks which axle it is, and passes nothing that was not asked", () => {
    const open = build("original_track: 1400 mm  original_offset: 60 mm  original_rim_width: 6 in");
    expect([...holding(open), ...failing(open)]).not.toContain("nsw-vsi-9/track");
    expect([...holding(open), ...failing(open)]).not.toContain("nsw-vsi-9/offset");
    expect(open.findings.find(({ code }) => code === "check/cannot-judge")).toMatchObject({
      severity: "warning",
      message:
        "rules: not judged yet: the track has not grown too much; the wheels do not stand out too far on another axle",
    });
  });

  it("track may grow by 25 mm on the original axle of a passenger car", () => {
    expect(holding(build("axle_is_original: yes  original_track: 1475 mm"))).toContain(
      "nsw-vsi-9/track",
    );
    expect(failing(build("axle_is_original: yes  original_track: 1474 mm"))).toContain(
      "nsw-vsi-9/track",
    );
  });

  it("by 50 mm on goods and off-road vehicles", () => {
    const goods = solved(`${axle()}
nsw_vsi_9 rules { axle: rear  category: goods_or_off_road  axle_is_original: yes  original_track: 1450 mm }`);
    expect(holding(goods)).toContain("nsw-vsi-9/track");
  });

  it("on another axle the offset may change by 12.5 mm each side", () => {
    expect(holding(build("axle_is_original: no  original_offset: 12.5 mm"))).toContain(
      "nsw-vsi-9/offset",
    );
    expect(failing(build("axle_is_original: no  original_offset: 13 mm"))).toContain(
      "nsw-vsi-9/offset",
    );
  });

  it("no spacers", () => {
    expect(holding(build("original_offset: 0 mm"))).toEqual(
      expect.arrayContaining(["nsw-vsi-9/spacer-left", "nsw-vsi-9/spacer-right"]),
    );
    const spaced = solved(`${axle()}
rear.left.spacer: 10 mm
nsw_vsi_9 rules { axle: rear  category: passenger }`);
    expect(failing(spaced)).toContain("nsw-vsi-9/spacer-left");
  });

  it("no narrower rims, and tires within the bodywork", () => {
    expect(failing(build("original_rim_width: 7.5 in"))).toContain("nsw-vsi-9/rim-width");
    expect(holding(build("original_rim_width: 7 in"))).toContain("nsw-vsi-9/bodywork-left");
  });
});

describe("South Australia, list of vehicle tracks", () => {
  it("26 mm of track, 13 mm of offset, a third of the bump travel", () => {
    const build = (more: string): string[] =>
      failing(
        solved(`${axle()}
south_australia_wheels rules { axle: rear  ${more} }`),
      );
    expect(
      build("original_track: 1474 mm  original_offset: 13 mm  original_bump: 90 mm  bump: 60 mm"),
    ).toEqual([]);
    expect(build("original_track: 1473 mm")).toEqual(["south-australia/track"]);
    expect(build("original_offset: 14 mm")).toEqual(["south-australia/offset"]);
    expect(build("original_bump: 90 mm  bump: 59 mm")).toEqual(["south-australia/bump"]);
  });
});

describe("VSB 14 section LS", () => {
  it("a tire may grow by 15 mm and shrink by 26 mm on a passenger car (from memory)", () => {
    const build = (original: string): string[] =>
      failing(
        solved(`${axle()}
tire original { overall_diameter: ${original}  section_width: 215 mm }
vsb_14_ls rules { axle: rear  category: passenger  original_tire: original }`),
      );
    // 235/75R15 is 733 mm.
    expect(build("718 mm")).toEqual([]);
    expect(build("717 mm")).toEqual(["vsb-14-ls/diameter-larger"]);
    expect(build("759 mm")).toEqual([]);
    expect(build("760 mm")).toEqual(["vsb-14-ls/diameter-smaller"]);
  });

  it("a build without an original tire is not judged, and is told so", () => {
    const open = solved(`${axle()}\nvsb_14_ls rules { axle: rear  category: passenger }`);
    expect(failing(open)).toEqual([]);
    const told = open.findings.filter(({ code }) => code === "check/cannot-judge");
    expect(told.map(({ message }) => message)).toEqual([
      "rules: not judged yet: the track has not grown too much; the tire is not too large; the tire is not too small; and 3 more",
    ]);
  });
});

describe("Western Australia, regulation 46", () => {
  it("the lesser of the top speed and 180, 140 or 120 km/h", () => {
    const build = (use: string, speed: number): ReturnType<typeof solved> =>
      solved(`${axle()}
western_australia_46 rules { axle: rear  use: ${use}  top_speed: ${speed} km/h }`);
    // Speed symbol S is 180 km/h (UN R30).
    expect(holding(build("car", 220))).toContain("western-australia-46/speed");
    expectDigits(si(build("off_road_car", 220), "rules.least") * 3.6, "140");
    expectDigits(si(build("other", 110), "rules.least") * 3.6, "110");
  });
});

describe("United Kingdom, MOT inspection manual", () => {
  it("1100 kgf on 1900 kg are 57.9 %: short of 58 %, enough for 50 %", () => {
    const build = (first: string): ReturnType<typeof solved> =>
      solved(`
uk_mot_brakes bed { first_used: ${first}  test_mass: 1900 kg  effort: 1100 kgf }`);
    expectDigits(si(build("from_september_2010"), "bed.efficiency") * 100, "57.9");
    expect(failing(build("from_september_2010"))).toContain("uk-mot/service");
    expect(holding(build("before_september_2010"))).toContain("uk-mot/service");
  });

  it("300 against 200 kgf are 66.7 %: a major fault", () => {
    const analysis = solved("uk_mot_brakes bed { front_left: 300 kgf  front_right: 200 kgf }");
    expectDigits(si(analysis, "bed.front_evenness") * 100, "66.7");
    expect(failing(analysis)).toContain("uk-mot/front-evenness");
  });
});

describe("United Kingdom, radically altered vehicles", () => {
  it("eight points keep the registration (points of the parts from memory)", () => {
    const kept = solved(
      "uk_points rules { original_body: yes  original_steering: yes  original_engine: yes }",
    );
    expect(si(kept, "rules.points")).toBe(8);
    expect(failing(kept)).toEqual([]);
    const lost = solved("uk_points rules { original_body: yes  original_suspension: yes }");
    expect(si(lost, "rules.points")).toBe(7);
    expect(failing(lost)).toEqual(["uk-points/registration"]);
  });
});

describe("brake balance", () => {
  const build = (share: number, pack: string): ReturnType<typeof solved> =>
    solved(`
vehicle car { wheelbase: 2.70 m  mass: 1500 kg  front_share: 55 %  cg_height: 0.55 m }
brake_system brakes { vehicle: car  plain_bias: ${share} %  deceleration: 7 m/s^2  pedal_force: 400 N }
${pack} rules { system: brakes }`);

  it("UN R13-H: 70 % in front fails at 0.80, 75 % passes (formulas of annex 5)", () => {
    expect(failing(build(70, "un_r13h"))).toContain("un-r13h/order-high");
    expect(failing(build(75, "un_r13h")).filter((code) => code.startsWith("un-r13h"))).toEqual([]);
  });

  it("49 CFR 571.135 S7.5: 70 m from 100 km/h, hot 60 %, recovery 70 % to 150 %", () => {
    const text = (more: string): string[] =>
      failing(
        solved(`
brake_system brakes { deceleration: 7 m/s^2  pedal_force: 400 N }
fmvss_135 rules { system: brakes  ${more} }`),
      ).filter((code) => code.startsWith("fmvss"));
    expect(
      text(
        "cold_deceleration: 8 m/s^2  hot_deceleration: 4.9 m/s^2  recovered_deceleration: 5.6 m/s^2",
      ),
    ).toEqual([]);
    expect(text("cold_deceleration: 8.5 m/s^2  hot_deceleration: 5 m/s^2")).toEqual([
      "fmvss-135/hot",
    ]);
    // 89 m less 10 m for the brakes to act: 4.88 m/s² (from memory: 0.10 V + 0.0079 V²).
    expect(text("cold_deceleration: 7 m/s^2  hot_deceleration: 4.85 m/s^2")).toEqual([
      "fmvss-135/hot-absolute",
    ]);
    expect(text("cold_deceleration: 8 m/s^2  recovered_deceleration: 12.1 m/s^2")).toEqual([
      "fmvss-135/recovery-strong",
    ]);
    const slow = solved(
      "brake_system brakes { deceleration: 6 m/s^2  pedal_force: 400 N }\nfmvss_135 rules { system: brakes }",
    );
    expect(failing(slow)).toContain("fmvss-135/cold");
  });
});
