/** Tires, wheels, hubs, and how they suit each other. */
import { describe, expect, test } from "vitest";
import { inch, mile, millimeter, solved } from "./solve-text";

// ISO 4000-1: H = S * AR, D = d + 2H, both to the millimeter; yearbook values (from memory).
describe("design dimensions", () => {
  test.each([
    ["195/65R15", 127, 635, 6.0],
    ["205/55R16", 113, 632, 6.5],
    ["225/45R17", 101, 634, 7.5],
    ["255/40R18", 102, 661, 9.0],
    ["275/60R15", 165, 711, 8.0],
    ["235/75R15", 176, 733, 6.5],
  ])("%s", (size, height, diameter, rim) => {
    const build = solved(`tire t { size: ${size} }`);
    expect(build.figure("t.section_height") / millimeter).toBeCloseTo(height, 9);
    expect(build.figure("t.overall_diameter") / millimeter).toBeCloseTo(diameter, 9);
    expect(build.figure("t.measuring_rim") / inch).toBeCloseTo(rim, 9);
  });

  // Common practice, no source: a 295/45R18 stands some 28 in tall.
  test("295/45R18 stands a little over 28 in tall", () => {
    const tall = solved("tire t { size: 295/45R18 }").figure("t.overall_diameter") / inch;
    expect(tall).toBeGreaterThan(28);
    expect(tall).toBeLessThan(28.6);
  });

  // Tire and Rim Association, flotation sizes (from memory): diameter and section as written.
  test("31x10.50R15LT", () => {
    const build = solved("tire t { size: 31x10.50R15LT 109S }");
    expect(build.figure("t.overall_diameter") / inch).toBeCloseTo(31, 9);
    expect(build.figure("t.section_width") / inch).toBeCloseTo(10.5, 9);
    expect(build.figure("t.section_height") / inch).toBeCloseTo(8, 9);
  });

  // UN R30, UN R54; Tire and Rim Association (from memory): forms of the designation.
  test("P, LT, commercial and flotation sizes", () => {
    for (const size of [
      "P215/65R15",
      "P215/65R15 95H",
      "LT235/75R15 104/101S",
      "195/75R16C 107/105R",
      "255/40ZR18 95Y",
      "31x10.50R15LT",
      "31x10.50-15",
    ]) {
      const build = solved(`tire t { size: ${size} }`);
      expect(build.errors()).toEqual([]);
      expect(build.figure("t.overall_diameter")).toBeGreaterThan(0.6);
    }
    expect(solved("tire t { size: LT235/75R15 104/101S }").figure("t.load_capacity_dual")).toBe(
      825,
    );
  });

  test("a measured width and diameter stand in for the size's", () => {
    const build = solved(
      "tire t { size: 275/50R17  section_width: 281 mm  overall_diameter: 704 mm }",
    );
    expect(build.errors()).toEqual([]);
    expect(build.check("tire/section-width").verdict.nominal).toBe("holds");
    expect(build.check("tire/overall-diameter").verdict.nominal).toBe("holds");
    const wrong = solved(
      "tire t { size: 275/50R17  section_width: 300 mm  overall_diameter: 28 3/4 in }",
    );
    expect(wrong.check("tire/section-width").verdict.nominal).toBe("fails");
    expect(wrong.check("tire/overall-diameter").verdict.nominal).toBe("fails");
  });

  // UN R30 6.1.4 and 6.1.5, ETRTO maximum in service (from memory): 4 % on width and section height.
  test("service maximum", () => {
    const build = solved("tire t { size: 225/45R17 }");
    expect(build.figure("t.service_width") / millimeter).toBeCloseTo(225 * 1.04, 9);
    expect(build.figure("t.service_diameter") / millimeter).toBeCloseTo(432 + 2 * 101 * 1.04, 9);
  });
});

// UN R30 6.1.1.1: S = S1 + 0.4 (A - A1), to the millimeter.
describe("width on the rim fitted", () => {
  test.each([
    ["225/45R17", "17x8", 230],
    ["205/55R16", "16x6", 200],
    ["255/40R18", "18x10", 265],
  ])("%s on %s", (tire, wheel, width) => {
    const build = solved(`
      tire t { size: ${tire} }
      wheel w { size: ${wheel} }
      axle a { tire: t  wheel: w  left { mounted_width: ? } }`);
    expect(Math.round(build.figure("a.left.mounted_width") / millimeter)).toBe(width);
  });
});

// ETRTO approved rims (from memory).
describe("permitted rims", () => {
  test.each([
    ["195/65R15", 5.5, 7.0],
    ["205/55R16", 5.5, 7.5],
    ["225/45R17", 7.0, 8.5],
    ["255/40R18", 8.5, 10.0],
    ["235/75R15", 6.0, 8.0],
  ])("%s from %d to %d", (size, narrowest, widest) => {
    const build = solved(`tire t { size: ${size} }`);
    expect(build.figure("t.narrowest_rim") / inch).toBeCloseTo(narrowest, 9);
    expect(build.figure("t.widest_rim") / inch).toBeCloseTo(widest, 9);
  });

  const fitted = (wheel: string, more = ""): string => `
    tire t { size: 295/45R18 ${more} }
    wheel w { size: ${wheel} }
    axle a { tire: t  wheel: w }`;
  const rims = (text: string): readonly string[] =>
    solved(text)
      .analysis.checks.filter((check) => check.verdict.nominal === "fails")
      .map((check) => check.title);

  // Common practice, no source: an 18x10.5 rim under a 295/45R18.
  test("18x10.5 suits a 295/45R18", () => {
    expect(rims(fitted("18x10.5"))).toEqual([]);
  });

  test("18x8 does not, and neither does 17x10.5", () => {
    expect(rims(fitted("18x8"))).toEqual(["the rim is not too narrow for the tire"]);
    expect(rims(fitted("18x12"))).toEqual(["the rim is not too wide for the tire"]);
    expect(rims(fitted("17x10.5"))).toEqual(["the tire is made for this rim diameter"]);
  });

  test("the tire maker's own limits go before the table's", () => {
    expect(rims(fitted("18x8.5", "narrowest_rim: 8.5 in"))).toEqual([]);
  });
});

describe("load and speed", () => {
  // ISO 4000-1 / UN R30 annex 4, the table (two trade tables that agree).
  test.each([
    [60, 250],
    [79, 437],
    [83, 487],
    [91, 615],
    [100, 800],
    [101, 825],
    [109, 1030],
    [115, 1215],
    [116, 1250],
    [120, 1400],
    [125, 1650],
  ])("load index %d carries %d kg", (index, load) => {
    expect(solved(`tire t { size: 205/55R16 ${index}H }`).figure("t.load_capacity")).toBeCloseTo(
      load,
      9,
    );
  });

  // ISO 4000-1 (from memory): the table follows 45 kg * 10^(LI / 80), rounded to preferred values,
  // so that it nowhere strays by more than 1.8 % from index 60 on.
  test("the whole table keeps near its formula", () => {
    for (let index = 60; index <= 125; index++) {
      const load = solved(`tire t { size: 205/55R16 ${index}H }`).figure("t.load_capacity");
      expect(Math.abs(load / (45 * 10 ** (index / 80)) - 1)).toBeLessThan(0.0185);
    }
  });

  // UN R30 2.29 (several tables agree); H stands between U and V.
  test.each([
    ["B", 50],
    ["C", 60],
    ["D", 65],
    ["E", 70],
    ["F", 80],
    ["G", 90],
    ["J", 100],
    ["K", 110],
    ["L", 120],
    ["M", 130],
    ["N", 140],
    ["P", 150],
    ["Q", 160],
    ["R", 170],
    ["S", 180],
    ["T", 190],
    ["U", 200],
    ["H", 210],
    ["V", 240],
    ["W", 270],
    ["Y", 300],
  ])("speed symbol %s is for %d km/h", (symbol, speed) => {
    expect(
      solved(`tire t { size: 205/55R16 91${symbol} }`).figure("t.top_speed") * 3.6,
    ).toBeCloseTo(speed, 9);
  });

  test("load capacity against the axle's share of the mass", () => {
    const build = (mass: string): string => `
      tire t { size: 205/55R16 91V }
      wheel w { size: 16x6.5  load_rating: 700 kg }
      axle rear { tire: t  wheel: w }
      vehicle v { mass: ${mass}  front_share: 55 %  rear: rear }`;
    const light = solved(build("2600 kg"));
    expect(light.figure("rear.load")).toBeCloseTo(1170, 9);
    expect(light.figure("rear.fit.load_share")).toBeCloseTo(585 / 615, 9);
    expect(light.check("fit/tire-load").verdict.nominal).toBe("holds");
    expect(light.check("fit/wheel-load").verdict.nominal).toBe("holds");
    const heavy = solved(build("3200 kg"));
    expect(heavy.check("fit/tire-load").verdict.nominal).toBe("fails");
    expect(heavy.check("fit/wheel-load").verdict.nominal).toBe("fails");
  });

  // 49 CFR 571.110 S4.2.2.2 (from memory): a P-metric tire on a van carries its rating over 1.10.
  test("a passenger tire on a van", () => {
    const build = (derating: number): string =>
      `tire t { size: P205/55R16 91V } axle a { tire: t  load: 1200 kg  fit { derating: ${derating} } }`;
    expect(solved(build(1)).check("fit/tire-load").verdict.nominal).toBe("holds");
    expect(solved(build(1.1)).check("fit/tire-load").verdict.nominal).toBe("fails");
    expect(solved(build(1.1)).figure("a.fit.load_share")).toBeCloseTo((600 * 1.1) / 615, 12);
  });

  test("the speed the vehicle is meant for", () => {
    const text = (speed: string): string =>
      `tire t { size: 205/55R16 91Q } axle a { tire: t  fit { top_speed: ${speed} } }`;
    expect(solved(text("150 km/h")).check("fit/tire-speed").verdict.nominal).toBe("holds");
    expect(solved(text("110 mph")).check("fit/tire-speed").verdict.nominal).toBe("fails");
  });

  // ETRTO, passenger (from memory): P = P_ref (L / L_ref)^1.25.
  test("pressure that carries half the load", () => {
    const build = solved("tire t { size: 205/55R16 91V } axle a { tire: t  load: 615 kg }");
    expect(build.figure("a.fit.pressure_least") / 1000).toBeCloseTo(250 * 0.5 ** 1.25, 9);
  });
});

describe("rolling", () => {
  // UN R30 / ETRTO (from memory): 3.05 times the overall diameter.
  test("circumference and turns", () => {
    const build = solved("tire t { size: 255/40R18 }");
    expect(build.figure("t.rolling_circumference")).toBeCloseTo(3.05 * 0.661, 12);
    expect(build.figure("t.revs_per_mile") * mile).toBeCloseTo(mile / (3.05 * 0.661), 9);
    expect(build.figure("t.rolling_radius") * 2 * Math.PI).toBeCloseTo(3.05 * 0.661, 12);
  });

  // Derived: a 28 in circle rolls 720.29 turns a mile, 661.2 mm 774.76.
  test("turns of a circle that is not pressed flat", () => {
    const turns = (diameter: number): number =>
      solved(`tire t { rolling_circumference: ${Math.PI * diameter} m }`).figure(
        "t.revs_per_mile",
      ) * mile;
    expect(turns(28 * inch)).toBeCloseTo(720.29, 2);
    expect(turns(0.6612)).toBeCloseTo(774.76, 2);
  });

  test("speedometer against the original tire", () => {
    const build = solved(`
      tire new_tire { size: 275/60R15 }
      tire old_tire { size: 195/65R15 }
      axle a { tire: new_tire  fit { original: old_tire } }`);
    expect(build.figure("a.fit.diameter_change") / millimeter).toBeCloseTo(711 - 635, 9);
    expect(build.figure("a.fit.true_speed") / (mile / 3600)).toBeCloseTo((60 * 711) / 635, 9);
    // Positive where it reads high (UN R39, 5.3: shown less true).
    expect(build.figure("a.fit.speedometer_error")).toBeCloseTo(635 / 711 - 1, 12);
    expect(build.check("fit/speedometer").verdict.nominal).toBe("fails");
    const smaller = solved(`
      tire new_tire { size: 195/65R15 }
      tire old_tire { size: 275/60R15 }
      axle a { tire: new_tire  fit { original: old_tire } }`);
    expect(smaller.check("fit/speedometer").verdict.nominal).toBe("holds");
    // 60 mph shown are 53.6 true: 6.4 mph high, 0.1 x 53.6 + 2.5 are allowed.
    expect(smaller.check("fit/speedometer-high").verdict.nominal).toBe("holds");
  });

  test("another axle ratio changes what a speedometer driven by the driveshaft shows", () => {
    const build = solved(`
      tire new_tire { size: 195/65R15 }
      carrier center { ratio: 4.1 }
      axle a { tire: new_tire  carrier: center  fit { original: new_tire  original_ratio: 3.5 } }`);
    expect(build.figure("a.fit.true_speed") / (mile / 3600)).toBeCloseTo((60 * 3.5) / 4.1, 9);
    expect(build.figure("a.fit.speedometer_error")).toBeCloseTo(4.1 / 3.5 - 1, 12);
    expect(build.check("fit/speedometer-high").verdict.nominal).toBe("fails");
  });

  test("a width measured on the rim goes before the size, once, and the difference is told", () => {
    const build = (width: string) =>
      solved(`
      tire t { size: 275/60R15 }
      wheel w { size: 15x9 }
      axle a { tire: t  wheel: w  left { mounted_width: ${width} } }`);
    expect(build("280 mm").figure("a.left.mounted_width")).toBeCloseTo(0.28, 12);
    expect(build("280 mm").errors()).toEqual([]);
    // 275 + 0.4 (228.6 - 203.2), UN R30, 6.1.1.1
    expect(build("280 mm").figure("a.left.size_width")).toBeCloseTo(0.28516, 5);
    expect(build("270 mm").check("fit/mounted-width", "a.left").verdict.nominal).toBe("fails");
    expect(build("286 mm").check("fit/mounted-width", "a.left").verdict.nominal).toBe("holds");
  });
});

describe("wheel", () => {
  // ISO 4000-2 terms, derived: flange 12.7 mm.
  test.each([
    ["15x8", "25 mm", 139.3, 89.3],
    ["15x10", "0 mm", 139.7, 139.7],
    ["15x9.5", "-12 mm", 121.35, 145.35],
  ])("%s with offset %s", (size, offset, back, front) => {
    const build = solved(`wheel w { size: ${size}  offset: ${offset} }`);
    expect(build.figure("w.backspace") / millimeter).toBeCloseTo(back, 9);
    expect(build.figure("w.frontspace") / millimeter).toBeCloseTo(front, 9);
    const offsetBack = solved(`wheel w { size: ${size}  backspace: ${back} mm  offset: ? }`);
    expect(offsetBack.figure("w.offset")).toBeCloseTo(build.figure("w.offset"), 9);
  });

  test("a mounting face outside of the rim is refused", () => {
    expect(
      solved("wheel w { size: 15x7  offset: 110 mm }").check("wheel/mounting-face").verdict.nominal,
    ).toBe("fails");
  });

  // Geometry: chord between neighboring studs, c = D sin(180 deg / n).
  test.each([
    ["5x4.5 in", 2.64503],
    ["5x4.75 in", 2.79198],
    ["5x5 in", 2.93893],
    ["5x5.5 in", 3.23282],
    ["8x6.5 in", 2.48744],
  ])("stud chord of %s", (circle, chord) => {
    expect(solved(`wheel w { stud_circle: ${circle} }`).figure("w.stud_chord") / inch).toBeCloseTo(
      chord,
      5,
    );
    expect(solved(`hub h { stud_circle: ${circle} }`).figure("h.stud_chord") / inch).toBeCloseTo(
      chord,
      5,
    );
  });
});

describe("wheel on hub", () => {
  const verdict = (wheel: string, hub: string): string =>
    solved(`wheel w { stud_circle: ${wheel} } hub h { ${hub} } axle a { wheel: w  hub: h }`).check(
      "fit/stud-circle",
    ).verdict.nominal;

  // Exact: 4.5 in is 114.3 mm, 4.75 in is 120.65 mm; 115 mm is another circle.
  test("the same circle in inches and millimeters", () => {
    expect(verdict("5x114.3 mm", "stud_circle: 5x4.5 in")).toBe("holds");
    expect(verdict("5x120.65 mm", "stud_circle: 5x4.75 in")).toBe("holds");
    expect(verdict("5x115 mm", "stud_circle: 5x4.5 in")).toBe("fails");
    const studs = solved(
      "wheel w { stud_circle: 6x4.5 in } hub h { stud_circle: 5x4.5 in } axle a { wheel: w  hub: h }",
    );
    expect(studs.check("fit/stud-count").verdict.nominal).toBe("fails");
  });

  // Common practice, no source: hubs drilled 5x4.5 in and 5x4.75 in.
  test("a hub that carries two circles", () => {
    const hub = "stud_circle: 5x4.5 in  second_circle: 5x4.75 in";
    expect(verdict("5x4.75 in", hub)).toBe("holds");
    expect(verdict("5x4.5 in", hub)).toBe("holds");
    expect(verdict("5x5 in", hub)).toBe("fails");
  });

  test("pilot bore", () => {
    const text = (bore: string): string =>
      `wheel w { center_bore: ${bore} } hub h { pilot: 70.3 mm } axle a { wheel: w  hub: h }`;
    expect(solved(text("70.5 mm")).check("fit/pilot").verdict.nominal).toBe("holds");
    expect(solved(text("70.5 mm")).check("fit/pilot-loose").verdict.nominal).toBe("holds");
    expect(solved(text("70.0 mm")).check("fit/pilot").verdict.nominal).toBe("fails");
    expect(solved(text("74.1 mm")).check("fit/pilot-loose").verdict.nominal).toBe("fails");
  });

  // Geometry, worked by hand; common practice: thread as long as the stud is thick.
  test("stud engagement", () => {
    const text = (spacer: string): string => `
      wheel w { pad_thickness: 3/8 in }
      hub h { stud_thread: 1/2-20  stud_length: 1 1/2 in }
      brake b { hat_thickness: 1/4 in }
      axle a { wheel: w  hub: h  brake: b  left { spacer: ${spacer} } }`;
    const plain = solved(text("0 in"));
    expect(plain.figure("a.left.stud_engagement") / inch).toBeCloseTo(0.875, 9);
    expect(plain.check("fit/stud-engagement", "a.left").verdict.nominal).toBe("holds");
    expect(solved(text("1/2 in")).check("fit/stud-engagement", "a.left").verdict.nominal).toBe(
      "fails",
    );
  });

  test("caliper in the barrel", () => {
    const text = (radius: string): string => `
      wheel w { brake_room: 7 1/2 in } brake b { caliper_radius: ${radius} } axle a { wheel: w  brake: b }`;
    expect(solved(text("7 1/4 in")).figure("a.fit.caliper_room") / inch).toBeCloseTo(0.25, 9);
    expect(solved(text("7 1/4 in")).check("fit/caliper-room").verdict.nominal).toBe("holds");
    expect(solved(text("7 7/16 in")).check("fit/caliper-room").verdict.nominal).toBe("fails");
  });
});
