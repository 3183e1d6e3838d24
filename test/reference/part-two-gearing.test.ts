import { describe, expect, it } from "vitest";
import { expectDigits, expectNear, failing, holding, si, solved } from "./part-two-solve-text";

const mph = 0.44704;
const rpm = Math.PI / 30;

/** A tire that rolls pi times its diameter, as the printed formula takes it. */
const build = (more: string, diameter = "28 in", ratio = "3.73"): string => `
tire road_tire { overall_diameter: ${diameter}  rolling_circumference: 3.141592653589793 * ${diameter} }
carrier center { ratio: ${ratio} }
axle rear { tire: road_tire  carrier: center }
engine motor { redline: 6000 rpm  torque: 400 N-m }
gearbox box {
  engine: motor
  axle: rear
  ${more}
}`;

describe("road speed against engine speed", () => {
  // mph = rpm D / (336.135 G), the exact 63360 / (60 pi); printed tables round it to 336.
  it("3000 rpm, 28 in, 3.73: 66.997 mph", () => {
    expectDigits(
      si(solved(build("ratios: [2.5, 1]  engine_speed: 3000 rpm  speed: ?")), "box.speed") / mph,
      "66.997",
    );
  });

  it("70 mph: 3134.46 rpm, and 2194.12 rpm in an overdrive of 0.70", () => {
    expectDigits(
      si(solved(build("ratios: [2.5, 1]  speed: 70 mph  engine_speed: ?")), "box.engine_speed") /
        rpm,
      "3134.46",
    );
    expectDigits(
      si(
        solved(build("ratios: [2.5, 1, 0.70]  speed: 70 mph  engine_speed: ?")),
        "box.engine_speed",
      ) / rpm,
      "2194.12",
    );
  });

  it("661.2 mm, 3.55 at 3000 rpm: 105.32 km/h", () => {
    expectDigits(
      si(solved(build("ratios: [1]  engine_speed: 3000 rpm", "661.2 mm", "3.55")), "box.speed") *
        3.6,
      "105.32",
    );
  });

  it("turns for a distance: 720.29 a mile at 28 in, 481.41 a kilometer and 774.76 a mile at 661.2 mm", () => {
    expectDigits(si(solved(build("speed: 1 mph")), "road_tire.revs_per_mile") * 1609.344, "720.29");
    const metric = solved(build("speed: 1 mph", "661.2 mm"));
    expectDigits(si(metric, "road_tire.revs_per_mile") * 1000, "481.41");
    expectDigits(si(metric, "road_tire.revs_per_mile") * 1609.344, "774.76");
  });

  it("takes the gear that is named, the top gear where none is", () => {
    const named = solved(build("ratios: [2.5, 1.5, 1]  gear: 2  engine_speed: 3000 rpm"));
    expect(si(named, "box.ratio")).toBe(1.5);
    expectNear(si(named, "box.speed") / mph, 66.997 / 1.5, 1e-4);
    expect(si(solved(build("ratios: [2.5, 1.5, 1]")), "box.ratio")).toBe(1);
  });

  it("objects above the redline", () => {
    expect(failing(solved(build("ratios: [2.5, 1]  gear: 1  speed: 70 mph")))).toContain(
      "gearing/redline",
    );
    expect(holding(solved(build("ratios: [2.5, 1]  speed: 70 mph")))).toContain("gearing/redline");
  });
});

describe("every gear", () => {
  const analysis = solved(
    build(`ratios: [2.95, 1.94, 1.34, 1.00, 0.73]
  gear first { number: 1 }
  gear second { number: 2 }
  gear fifth { number: 5 }`),
  );

  it("has its ratio, its step and its speed at the redline", () => {
    expect(si(analysis, "box.second.ratio")).toBe(1.94);
    expectNear(si(analysis, "box.second.step"), 2.95 / 1.94);
    expectNear(si(analysis, "box.second.after_shift") / rpm, (6000 * 1.94) / 2.95);
    expectNear(
      si(analysis, "box.fifth.redline_speed") / mph,
      (6000 * 28) / (336.13523981 * 3.73 * 0.73),
      1e-9,
    );
    expectNear(
      si(analysis, "box.first.speed_per_thousand") / mph,
      (1000 * 28) / (336.13523981 * 3.73 * 2.95),
      1e-9,
    );
  });

  it("has no step below first", () => {
    expect(analysis.valueAt("box.first.step")?.si).toBeUndefined();
  });

  it("the spread is first over top", () => {
    expectNear(si(analysis, "box.spread"), 2.95 / 0.73);
    expectNear(si(analysis, "box.first_output_torque"), 400 * 2.95);
  });

  it("draws road speed over engine speed", () => {
    const curve = analysis.curves.find(
      (each) => each.thing?.path === "box.second" && each.name === "speed",
    );
    const points = curve?.points() ?? [];
    expect(points).toHaveLength(31);
    const last = points[points.length - 1];
    expectNear(last?.x ?? 0, 8000 * rpm);
    expectNear((last?.y ?? 0) / mph, (8000 * 28) / (336.13523981 * 3.73 * 1.94), 1e-9);
  });
});

describe("the ratio wanted", () => {
  const analysis = solved(
    build("ratios: [2.95, 1, 0.73]  cruise_speed: 70 mph  wanted_engine_speed: 2200 rpm"),
  );

  it("is the one that gives the engine speed wanted on a long run", () => {
    const wanted = (2200 * 28) / (336.13523981 * 70 * 0.73);
    expectNear(si(analysis, "box.wanted_ratio"), wanted, 1e-9);
    expectNear(si(analysis, "box.cruise_engine_speed") / rpm, 3134.46 * 0.73, 1e-5);
  });

  it("comes with the nearest tooth counts that are commonly cut", () => {
    const ratio = si(analysis, "box.nearest_ring") / si(analysis, "box.nearest_pinion");
    expectNear(si(analysis, "box.nearest_ratio"), ratio);
    expectNear(
      si(analysis, "box.nearest_engine_speed") / rpm,
      (2200 * ratio) / si(analysis, "box.wanted_ratio"),
    );
  });

  it("has no nearer set in its table", () => {
    // The rows' thresholds lie between neighboring ratios: each wanted ratio gets the nearest.
    const sets = [
      [41, 15],
      [40, 13],
      [42, 13],
      [41, 12],
      [39, 11],
      [41, 11],
      [43, 11],
      [41, 10],
      [37, 9],
      [39, 9],
      [41, 9],
      [39, 8],
      [41, 8],
      [43, 8],
      [41, 7],
      [43, 7],
    ];
    const ratios = sets.map(([ring = 0, pinion = 1]) => ring / pinion);
    for (let wanted = 2.6; wanted < 6.2; wanted += 0.07) {
      const found = si(
        solved(`gearbox box { wanted_ratio: ${wanted.toFixed(3)}  nearest_ratio: ? }`),
        "box.nearest_ratio",
      );
      const nearest = Math.min(...ratios.map((ratio) => Math.abs(ratio - wanted)));
      expect(Math.abs(found - wanted), `wanted ${wanted}`).toBeLessThan(nearest + 1e-4);
    }
  });
});

describe("the speedometer", () => {
  // Turns of the output shaft for a mile over turns of the cable: common practice, no source.
  const text = "ratios: [1]  drive_teeth: 8  speedometer_turns: 1000 rev/mi";
  it("asks for the teeth that turn the cable a thousand times a mile", () => {
    const analysis = solved(build(text));
    const wanted = (8 * 720.2898 * 3.73) / 1000;
    expectNear(si(analysis, "box.wanted_driven_teeth"), wanted, 1e-6);
    expect(si(analysis, "box.nearest_driven_teeth")).toBe(Math.round(wanted));
  });

  it("never lets it read low", () => {
    expect(failing(solved(build(`${text}  driven_teeth: 24`)))).toContain(
      "gearing/speedometer-low",
    );
    const right = solved(build(`${text}  driven_teeth: 21`));
    expect(holding(right)).toEqual(
      expect.arrayContaining(["gearing/speedometer-low", "gearing/speedometer-high"]),
    );
    expect(failing(solved(build(`${text}  driven_teeth: 19`)))).toContain(
      "gearing/speedometer-high",
    );
  });
});
