/** The width chain of a live axle, its cut and its shafts. */
import { describe, expect, test } from "vitest";
import { inch, millimeter, solved } from "./solve-text";

/**
 * Housing end to wheel face 2.763 in on each side: 2.500 in of standoff, 0.263 in of rotor hat.
 * Common practice, no source, as is the width between the mounting faces of the builds below.
 */
function axle(givens: string, housing = "", more = ""): string {
  return `
    brake disc { hat_thickness: 0.263 in }
    wheel rim { size: 17x9  offset: 18 mm }
    tire rubber { size: 275/50R17 }
    housing tube { standoff: 2.500 in  end_length: 2 in  ${housing} }
    carrier middle { tip_setback: 5/8 in  ${more} }
    axle rear {
      wheel: rim  tire: rubber  brake: disc  housing: tube  carrier: middle
      ${givens}
    }`;
}

// Common practice, no source: faces 64 3/8 in apart, 2.763 in a side, housing 58.849 in wide.
describe("mounting faces 64 3/8 in apart and 2.763 in a side give a housing 58.849 in wide", () => {
  test("housing from what was measured over shaft and rotor together", () => {
    const build = solved(`
      housing tube { face_to_face: ? }
      axle rear { housing: tube  end_to_face: 2.763 in  mount_width: 64 3/8 in }`);
    expect(build.figure("tube.face_to_face") / inch).toBeCloseTo(58.849, 9);
  });

  test("housing from mounting faces", () => {
    const build = solved(axle("mount_width: 64 3/8 in"));
    expect(build.figure("tube.face_to_face") / inch).toBeCloseTo(58.849, 9);
    expect(build.figure("rear.left.half") / inch).toBeCloseTo(58.849 / 2, 9);
  });

  test("mounting faces from housing", () => {
    const build = solved(axle("", "face_to_face: 58.849 in"));
    expect(build.figure("rear.mount_width") / inch).toBeCloseTo(64.375, 9);
  });

  test("rotor hat from housing and mounting faces", () => {
    const build = solved(`
      housing tube { standoff: 2.500 in  face_to_face: 58.849 in }
      brake disc { hat_thickness: ? }
      axle rear { housing: tube  brake: disc  mount_width: 64 3/8 in }`);
    expect(build.figure("disc.hat_thickness") / inch).toBeCloseTo(0.263, 9);
  });

  test("standoff from housing and mounting faces", () => {
    const build = solved(`
      housing tube { face_to_face: 58.849 in  standoff: ? }
      brake disc { hat_thickness: 0.263 in }
      axle rear { housing: tube  brake: disc  mount_width: 64 3/8 in }`);
    expect(build.figure("tube.standoff") / inch).toBeCloseTo(2.5, 9);
  });

  test("all of them given agree without a word", () => {
    const build = solved(axle("mount_width: 64 3/8 in", "face_to_face: 58.849 in"));
    expect(build.errors()).toEqual([]);
  });

  test("a housing an eighth off is told at the wish, and is a conflict where both were measured", () => {
    const wished = solved(axle("mount_width: 64 3/8 in", "face_to_face: 58.974 in"));
    expect(wished.errors()).toEqual([]);
    const [missed] = wished.analysis.findings.filter(({ code }) => code === "wanted/missed");
    expect(missed?.message).toContain(
      "rear.mount_width was wanted 64 3/8 in and comes out 64 1/2 in",
    );
    const build = solved(axle("mount_width: 64 3/8 in measured", "face_to_face: 58.974 in"));
    expect(build.errors()).not.toEqual([]);
  });
});

// ISO 3911: inset is positive; facts: mounting faces 1500 mm apart, +20 mm, track 1460 mm (derived).
describe("offset and track", () => {
  const text = (offset: string): string => `
    wheel rim { size: 15x7  offset: ${offset} }
    axle rear { wheel: rim  mount_width: 1500 mm  track: ? }`;

  test("inset 20 mm", () => {
    expect(solved(text("20 mm")).figure("rear.track")).toBeCloseTo(1.46, 12);
  });

  test("inset from 20 to 7 mm raises the track by 26 mm", () => {
    const raised =
      solved(text("7 mm")).figure("rear.track") - solved(text("20 mm")).figure("rear.track");
    expect(raised / millimeter).toBeCloseTo(26, 9);
  });
});

// Common practice, no source: the pinion's offset moves the shafts, not the housing.
describe("pinion offset", () => {
  const straight = solved(axle("mount_width: 64 3/8 in"));
  const offset = solved(axle("mount_width: 64 3/8 in", "", "offset: 1 in"));

  test("leaves the housing as wide as it was", () => {
    expect(offset.figure("tube.face_to_face")).toBe(straight.figure("tube.face_to_face"));
  });

  test("lengthens the left shaft and shortens the right one", () => {
    expect(straight.figure("rear.left.shaft_length") / inch).toBeCloseTo(
      58.849 / 2 + 2.5 - 0.625,
      9,
    );
    for (const [side, change] of [
      ["left", 1],
      ["right", -1],
    ] as const) {
      const path = `rear.${side}.shaft_length`;
      expect((offset.figure(path) - straight.figure(path)) / inch).toBeCloseTo(change, 9);
    }
  });
});

describe("left and right", () => {
  // Geometry, worked by hand: 275 mm on a 9 in rim is 275 + 0.4 * 12.7 = 280.08 mm wide.
  const build = solved(
    axle(`left { inner_limit: 24 3/4 in  inner_gap: 7/8 in }
          right { inner_limit: 24 11/16 in  inner_gap: 7/8 in }`),
  );

  test("differ when their givens differ", () => {
    const half = (limit: number): number =>
      (limit + 0.875) * inch + 0.28008 / 2 + 0.018 - 2.763 * inch;
    expect(build.figure("rear.left.half")).toBeCloseTo(half(24.75), 9);
    expect(build.figure("rear.right.half")).toBeCloseTo(half(24.6875), 9);
  });

  test("close in the sum", () => {
    const sum = build.figure("rear.left.half") + build.figure("rear.right.half");
    expect(build.figure("tube.face_to_face")).toBeCloseTo(sum, 12);
    expect(build.figure("rear.mount_width")).toBeCloseTo(sum + 2 * 2.763 * inch, 12);
    expect(build.figure("rear.track")).toBeCloseTo(sum + 2 * (2.763 * inch - 0.018), 12);
  });

  test("say that the housing was taken as centered only where it was", () => {
    expect(build.standing("tube.face_to_face")).toBe("solved");
    const centered = solved(axle("mount_width: 64 3/8 in")).analysis.valueAt("rear.left.half");
    expect(centered?.restsOn.join()).toContain("centered");
    expect(build.analysis.valueAt("rear.left.half")?.restsOn.join()).not.toContain("centered");
  });

  test("a housing too narrow for the gaps wanted calls for spacers, and says so", () => {
    const sides = (spacer: string): string =>
      `left { inner_limit: 24 3/4 in  inner_gap: 7/8 in ${spacer} }
       right { inner_limit: 24 3/4 in  inner_gap: 7/8 in ${spacer} }`;
    const refused = solved(axle(sides(""), "face_to_face: 58 in"));
    expect(refused.errors()).toEqual([]);
    const missed = refused.analysis.findings.filter(({ code }) => code === "wanted/missed");
    expect(missed).toHaveLength(2);
    const narrow = solved(axle(sides("spacer: ?"), "face_to_face: 58 in"));
    const wanted = (24.75 + 0.875) * inch + 0.28008 / 2 + 0.018 - (29 + 2.763) * inch;
    const spacers = narrow.figure("rear.left.spacer") + narrow.figure("rear.right.spacer");
    expect(spacers).toBeCloseTo(2 * wanted, 9);
    const said = narrow.analysis.findings.filter((finding) => finding.code === "fit/spacer");
    expect(said.length).toBeGreaterThan(0);
    expect(build.check("fit/spacer", "rear.left").verdict.nominal).toBe("holds");
  });

  test("a housing too wide for them is told at the wishes", () => {
    const wide = solved(
      axle(
        `left { inner_limit: 24 3/4 in  inner_gap: 7/8 in }
         right { inner_limit: 24 3/4 in  inner_gap: 7/8 in }`,
        "face_to_face: 58 1/2 in",
      ),
    );
    expect(wide.errors()).toEqual([]);
    const missed = wide.analysis.findings.filter(({ code }) => code === "wanted/missed");
    expect(missed.map(({ message }) => message)).toHaveLength(2);
  });

  test("an outer limit too near", () => {
    const tight = solved(
      axle("mount_width: 64 3/8 in  left { outer_limit: 37 in } right { outer_limit: 38 in }"),
    );
    expect(tight.check("clearance/outer-gap", "rear.left").verdict.nominal).toBe("fails");
    expect(tight.check("clearance/outer-gap", "rear.right").verdict.nominal).toBe("holds");
  });

  test("a track alone puts the tires alike on both sides", () => {
    const build = solved(`
      tire t { size: 275/50R17 }
      wheel w { size: 17x9 }
      axle a { tire: t  wheel: w  track: 62 in }`);
    expect(build.figure("a.left.tire_center") / inch).toBeCloseTo(31, 9);
    expect(build.figure("a.overall_width")).toBeCloseTo(62 * inch + 0.28008, 9);
    expect(build.errors()).toEqual([]);
  });

  test("a spacer on one side moves that tire, not the axle", () => {
    const build = solved(axle("mount_width: 64 3/8 in  left { spacer: 1/4 in }"));
    expect(build.figure("rear.left.half") / inch).toBeCloseTo(58.849 / 2, 9);
    const difference =
      build.figure("rear.left.tire_center") - build.figure("rear.right.tire_center");
    expect(difference / inch).toBeCloseTo(0.25, 9);
    expect(build.errors()).toEqual([]);
  });

  test("a housing and mounting faces alone do not say what lies between them", () => {
    const build = solved(`
      housing h { face_to_face: 58 in }
      axle a { housing: h  mount_width: 64 in }`);
    expect(build.figure("a.left.half") / inch).toBeCloseTo(29, 9);
    expect(build.figure("a.left.mount_face") / inch).toBeCloseTo(32, 9);
    expect(build.figure("a.end_to_face") / inch).toBeCloseTo(3, 9);
    expect(build.analysis.valueAt("h.standoff")?.si).toBeUndefined();
    expect(build.errors()).toEqual([]);
  });

  test("a tight side fails its check, the other holds", () => {
    const tight = solved(
      axle("mount_width: 64 3/8 in  left { inner_limit: 26 in } right { inner_limit: 24 in }"),
    );
    expect(tight.check("clearance/inner-gap", "rear.left").verdict.nominal).toBe("fails");
    expect(tight.check("clearance/inner-gap", "rear.right").verdict.nominal).toBe("holds");
  });
});

// Geometry, worked by hand on a housing 58.849 in wide, ends 2 in long, root gap 1/16 in.
describe("the cut", () => {
  const build = solved(
    axle(
      "mount_width: 64 3/8 in  left { tube_end: 31 in  end_angle: 1.5 deg } right { tube_end: 29 in  end_angle: 0.7 deg }",
      "root_gap: 1/16 in  burn: 1 in  kerf: 3/32 in  center_half_width: 8 in",
    ),
  );
  const mark = 58.849 / 2 - 2 - 1 / 16;

  test("saw line and tape reading at the burnt inch", () => {
    expect(build.figure("rear.left.tube_mark") / inch).toBeCloseTo(mark, 9);
    expect(build.figure("rear.left.tape_reading") / inch).toBeCloseTo(mark + 1, 9);
    expect(build.figure("rear.left.tube_left") / inch).toBeCloseTo(mark - 8, 9);
  });

  test("offcuts after the kerf, and whether they do for a practice weld", () => {
    expect(build.figure("rear.left.offcut") / inch).toBeCloseTo(31 - mark - 3 / 32, 9);
    expect(build.check("housing/coupon", "rear.left").verdict.nominal).toBe("holds");
    expect(build.check("housing/coupon", "rear.right").verdict.nominal).toBe("fails");
    expect(build.check("housing/offcut", "rear.right").verdict.nominal).toBe("holds");
  });

  test("a tube that ends before the saw line", () => {
    const short = solved(axle("mount_width: 64 3/8 in  left { tube_end: 27 in }"));
    expect(short.check("housing/offcut", "rear.left").verdict.nominal).toBe("fails");
  });

  test("a center section too wide for the cut", () => {
    const wide = solved(axle("mount_width: 64 3/8 in", "center_half_width: 27 in"));
    expect(wide.check("housing/tube-left", "rear.left").verdict.nominal).toBe("fails");
    expect(build.check("housing/tube-left", "rear.left").verdict.nominal).toBe("holds");
  });

  test("both ends take half of the difference of their angles", () => {
    const degree = Math.PI / 180;
    expect(build.figure("rear.end_angle_difference") / degree).toBeCloseTo(0.8, 9);
    expect(build.figure("rear.left.end_correction") / degree).toBeCloseTo(-0.4, 9);
    expect(build.figure("rear.right.end_correction") / degree).toBeCloseTo(0.4, 9);
    expect(build.check("housing/end-angle").verdict.nominal).toBe("fails");
    const alike = solved("axle a { left { end_angle: 1.5 deg } right { end_angle: 1.2 deg } }");
    expect(alike.check("housing/end-angle").verdict.nominal).toBe("holds");
  });
});

describe("shaft in the carrier", () => {
  // Geometry, worked by hand: gear spline from 0.9 in to 2.4 in, tip at 5/8 in, then at 1.25 in.
  const text = (setback: string): string => `
    carrier middle { tip_setback: ${setback}  gear_inner: 0.9 in  gear_outer: 2.4 in  spline: 31 }
    housing tube { face_to_face: 58 in  standoff: 2.5 in }
    shaft left_shaft { spline: 31  blank_length: 34 in  blank_spline: 5 in  diameter: 1.3 in }
    axle rear { housing: tube  carrier: middle  left { shaft: left_shaft } }`;

  test("the whole gear is engaged where the tip goes past its inner end", () => {
    const build = solved(text("5/8 in"));
    expect(build.figure("rear.left.spline_engagement") / inch).toBeCloseTo(1.5, 9);
    expect(build.check("shaft/engagement").verdict.nominal).toBe("holds");
  });

  test("a tip that stops short engages less than a spline diameter", () => {
    const build = solved(text("1.25 in"));
    expect(build.figure("rear.left.spline_engagement") / inch).toBeCloseTo(1.15, 9);
    expect(build.check("shaft/engagement").verdict.nominal).toBe("fails");
  });

  test("cutting the blank takes spline away", () => {
    const build = solved(text("5/8 in"));
    const length = 29 + 2.5 - 0.625;
    expect(build.figure("left_shaft.length") / inch).toBeCloseTo(length, 9);
    expect(build.figure("left_shaft.cut_off") / inch).toBeCloseTo(34 - length, 9);
    expect(build.figure("left_shaft.spline_length") / inch).toBeCloseTo(5 - (34 - length), 9);
    expect(build.check("shaft/blank").verdict.nominal).toBe("holds");
    const short = solved("shaft s { length: 31 in  blank_length: 30 1/2 in }");
    expect(short.check("shaft/blank").verdict.nominal).toBe("fails");
    expect(build.check("shaft/spline-left").verdict.nominal).toBe("holds");
  });

  test("shaft and side gear with different splines are refused", () => {
    const other = solved(
      text("5/8 in").replace("shaft left_shaft { spline: 31", "shaft left_shaft { spline: 28"),
    );
    expect(other.check("shaft/spline").verdict.nominal).toBe("fails");
    expect(solved(text("5/8 in")).check("shaft/spline").verdict.nominal).toBe("holds");
  });
});

describe("carrier", () => {
  // Definition of a gear ratio; 3.70 as 37:10, common practice, no source.
  test("ratio from teeth", () => {
    expect(solved("carrier c { ring_and_pinion: 37:10 }").figure("c.ratio")).toBeCloseTo(3.7, 12);
    expect(solved("carrier c { ring_and_pinion: 41:11 }").figure("c.ratio")).toBeCloseTo(
      41 / 11,
      12,
    );
  });

  // Common practice, no source: about 0.006 to 0.010 in, the gear maker's sheet rules.
  test("backlash limits to record against", () => {
    const carrier = (backlash: string): string => `carrier c { backlash: ${backlash} }`;
    expect(solved(carrier("0.006..0.010 in")).check("carrier/backlash").verdict.worst).toBe(
      "holds",
    );
    expect(solved(carrier("0.018 in")).check("carrier/backlash").verdict.nominal).toBe("fails");
  });

  test("fill and friction modifier", () => {
    const build = solved(`
      lubricant gear_oil { container: 1 qt }
      carrier c { fill: 2.5 qt  modifier: 4 fl_oz  oil: gear_oil  differential: clutch }`);
    expect(build.figure("c.oil_needed") / 946.352946e-6).toBeCloseTo(2.375, 9);
    expect(build.check("carrier/friction-modifier").verdict.nominal).toBe("holds");
    const added = solved("carrier c { fill: 2.5 qt  modifier: 4 fl_oz  differential: clutch }");
    expect(added.check("carrier/friction-modifier").verdict.nominal).toBe("holds");
    const bare = solved("lubricant o { modified: no } carrier c { oil: o  differential: clutch }");
    expect(bare.check("carrier/friction-modifier").verdict.nominal).toBe("fails");
    const dry = solved("carrier c { fill: 2.5 qt  differential: clutch }");
    expect(dry.check("carrier/friction-modifier").verdict.nominal).toBe("fails");
    const mixed = solved(`
      lubricant gear_oil { modified: yes }
      carrier c { fill: 2.5 qt  oil: gear_oil  differential: clutch }`);
    expect(mixed.errors()).toEqual([]);
    expect(mixed.analysis.checks.filter((check) => check.verdict.nominal === "fails")).toEqual([]);
  });
});

test("a center section to the right leaves more tube on the left: two figures", () => {
  const build = solved(`
    housing h { face_to_face: 60 in  end_length: 2 in  center_half_width: 6 in  center_offset: 1.5 in }
    axle a { housing: h }`);
  // Both saw lines 28 in out; the center section reaches from 4.5 in left to 7.5 in right.
  expect(build.figure("a.left.tube_left") / inch).toBeCloseTo(28 - 4.5, 9);
  expect(build.figure("a.right.tube_left") / inch).toBeCloseTo(28 - 7.5, 9);
});
