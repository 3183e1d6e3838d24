/** Designations as they stand on the part: tires, rims, threads, grades. */
import { describe, expect, it, test } from "vitest";
import { inch, millimeter, psi, solved } from "./solve-text";

const tire = (size: string) => solved(`tire t { size: ${size} }`);

describe("load index (ISO 4000-1, UN R30 annex 4)", () => {
  const load = (index: number): number => tire(`205/55R16 ${index}H`).figure("t.load_capacity");

  // From memory of the published table; the formula 45 x 10^(LI / 80) goes through all of it.
  it.each([
    [0, 45],
    [1, 46.2],
    [126, 1700],
    [140, 2500],
    [143, 2725],
    [150, 3350],
    [160, 4500],
    [163, 4875],
    [180, 8000],
    [200, 14000],
    [279, 136000],
  ])("%s carries %s kg", (index, kilograms) => {
    expect(load(index)).toBe(kilograms);
  });

  test("every index of the table rises, and lies within 2 % of the formula", () => {
    let before = 0;
    for (let index = 0; index < 280; index += 1) {
      const found = load(index);
      expect(found).toBeGreaterThan(before);
      expect(Math.abs(found / (45 * 10 ** (index / 80)) - 1), `${index}`).toBeLessThan(0.021);
      before = found;
    }
  });

  test("twins: the second figure is for two tires side by side", () => {
    const truck = tire("LT235/85R16 122/119Q LRE M+S");
    expect(truck.figure("t.load_capacity")).toBe(1500);
    expect(truck.figure("t.load_capacity_dual")).toBe(1360);
    expect(tire("LT235/85R16 122/119").figure("t.load_capacity_dual")).toBe(1360);
  });
});

describe("tire sizes", () => {
  // Design diameters of sizes without an aspect ratio, ETRTO yearbook (from memory), within 1 %.
  it.each([
    ["205R16 104S", 736],
    ["195R14C 106/104Q", 666],
    ["185R14C", 650],
    ["165R13", 596],
    ["175R14", 634],
  ])("%s is full profile: about %s mm", (size, diameter) => {
    const found = tire(size).figure("t.overall_diameter") / millimeter;
    expect(Math.abs(found / diameter - 1)).toBeLessThan(0.01);
  });

  test("brackets, XL and M+S around the service description", () => {
    const extra = tire("275/35ZR19 (100Y) XL");
    expect(extra.figure("t.load_capacity")).toBe(800);
    expect(extra.figure("t.top_speed") * 3.6).toBeCloseTo(300, 9);
    expect(extra.figure("t.rated_pressure")).toBeCloseTo(290e3, 3);
    expect(tire("205/55R16 91V").figure("t.rated_pressure")).toBeCloseTo(250e3, 3);
    expect(tire("225/70R15C 112/110R (115N)").figure("t.load_capacity")).toBe(1120);
    expect(tire("205/70R15 96T M+S").figure("t.load_capacity")).toBe(710);
  });

  test("as a mold has it: a large X, the ply rating", () => {
    expect(tire("31X10.50R15LT 109Q").figure("t.overall_diameter")).toBeCloseTo(31 * inch, 12);
    const van = tire("185R14C 8PR 102/100Q");
    expect(van.errors()).toEqual([]);
    expect(van.figure("t.load_capacity")).toBe(850);
    expect(tire("185R14C 8PR").errors()).toEqual([]);
    expect(tire("195R14C").analysis.findings).toEqual([]);
  });

  test("LT behind, flotation, old forms", () => {
    expect(tire("235/75R15LT").figure("t.rim_diameter")).toBeCloseTo(15 * inch, 12);
    expect(tire("31x10.50R15LT").figure("t.overall_diameter")).toBeCloseTo(31 * inch, 12);
    expect(tire("175/70HR14").figure("t.section_height")).toBeCloseTo(0.123, 12);
    for (const size of ["7.50-16", "7.00R16", "E70-15", "FR78-15"]) {
      const old = tire(size);
      expect(old.errors()).toEqual([]);
      expect(old.figure("t.rim_diameter")).toBeGreaterThan(14 * inch);
      // What the letter and the inches stand for is the maker's to say.
      expect(old.analysis.valueAt("t.overall_diameter")?.standing).toBe("missing");
    }
  });

  test("a bias tire rolls 0.98 of its outside circle (Jazar, from memory), a radial one 3.05 D", () => {
    const bias = solved("tire t { size: 7.50-16  overall_diameter: 810 mm }");
    expect(bias.figure("t.rolling_circumference")).toBeCloseTo(0.98 * Math.PI * 0.81, 12);
    expect(bias.figure("t.section_height")).toBeCloseTo((0.81 - 16 * inch) / 2, 12);
    const radial = solved("tire t { size: 205/55R16 }");
    expect(radial.figure("t.rolling_circumference")).toBeCloseTo(3.05 * 0.632, 9);
  });
});

describe("light-truck and C tires", () => {
  // Tire and Rim Association, measuring and approved rims of LT sizes (from memory).
  it.each([
    ["LT245/75R16", 7, 6.5, 7.5],
    ["LT265/75R16", 7.5, 7, 8],
    ["LT225/75R16", 6, 6, 7],
    ["LT235/85R16", 6.5, 6, 7],
    ["31x10.50R15LT", 8.5, 7, 9],
    ["33x12.50R15LT", 10, 8.5, 11],
  ])("%s on rims of its own table", (size, measuring, narrowest, widest) => {
    const found = tire(size);
    expect(found.figure("t.measuring_rim") / inch).toBeCloseTo(measuring, 9);
    expect(found.figure("t.narrowest_rim") / inch).toBeCloseTo(narrowest, 9);
    expect(found.figure("t.widest_rim") / inch).toBeCloseTo(widest, 9);
  });

  // Load and inflation tables of LT sizes, Tire and Rim Association (from memory).
  it.each([
    { size: "LT235/75R15 104/101R LRC", load: 1530, table: 35 },
    { size: "LT245/75R16 120/116Q LRE", load: 2205, table: 50 },
  ])("$size at $load lb asks for a little over $table psi", ({ size, load, table }) => {
    const build = solved(`
tire t { size: ${size} }
wheel w { size: 16x7 }
axle rear { tire: t  wheel: w  load: ${2 * load} lb }`);
    const found = build.figure("rear.fit.pressure_least") / psi;
    expect(found).toBeGreaterThan(table * 0.99);
    expect(found).toBeLessThan(table * 1.1);
  });

  test("without a load range its pressure is asked, not taken from passenger tires", () => {
    const open = tire("LT235/75R15 104/101R");
    expect(open.analysis.valueAt("t.rated_pressure")?.si).toBeUndefined();
  });
});

describe("rims", () => {
  it.each([
    ["6.5Jx16", 16, 6.5],
    ["6.5 J x 16", 16, 6.5],
    ["6J x 15", 15, 6],
    ["7 1/2Jx17", 17, 7.5],
    ["17x7.5", 17, 7.5],
    ["15x6 1/2JJ", 15, 6.5],
    ["16x6.5J", 16, 6.5],
    // The hump of the bead seats behind it (ISO 4000-2, ISO 3911, from memory).
    ["6.5Jx16 H2", 16, 6.5],
    ["6 1/2Jx16H2", 16, 6.5],
    ["15x6J H2", 15, 6],
  ])("%s", (size, diameter, width) => {
    const wheel = solved(`wheel w { size: ${size} }`);
    expect(wheel.errors()).toEqual([]);
    expect(wheel.figure("w.size.diameter") / inch).toBeCloseTo(diameter, 12);
    expect(wheel.figure("w.size.width") / inch).toBeCloseTo(width, 12);
  });

  test("7x17 without its letter is asked about", () => {
    expect(solved("wheel w { size: 7x17 }").check("wheel/size").verdict.nominal).toBe("fails");
  });
});

describe("threads and grades", () => {
  const joint = (more: string) => solved(`joint j { ${more}  torque: 20 N-m }`);

  test("numbered sizes: #10-32 has 0.190 in and 0.0200 in² (ASME B1.1 table, from memory)", () => {
    const small = joint("thread: #10-32 UNF   grade: 5  # a comment as ever");
    expect(small.figure("j.diameter") / inch).toBeCloseTo(0.19, 9);
    expect(small.figure("j.stress_area") / inch ** 2).toBeCloseTo(0.02, 4);
  });

  test("the series changes nothing; metric coarse needs no pitch", () => {
    expect(joint("thread: 1/2-20 UNF  grade: 8").figure("j.stress_area")).toBe(
      joint("thread: 1/2-20  grade: 8").figure("j.stress_area"),
    );
    const fine = joint("thread: M12x1.5  grade: 8.8").figure("j.stress_area");
    for (const written of ["M12 x 1.5", "M12x1.5-6g", "M12X1.5"])
      expect(joint(`thread: ${written}  grade: 8.8`).figure("j.stress_area"), written).toBe(fine);
    expect(joint("thread: M10  grade: 8.8").figure("j.stress_area")).toBeCloseTo(57.99e-6, 8);
  });

  // ISO 898-1:2013 as in Shigley 9e table 8-11; 5.6 and 6.8 and ISO 3506-1 from memory; MPa.
  it.each([
    ["M10", "4.6", 225],
    ["M10", "4.8", 310],
    ["M10", "5.8", 380],
    ["M10", "12.9", 970],
    ["M10", "A2-70", 450],
    ["M10", "A4-80", 600],
  ])("%s of %s proves at %s MPa", (thread, grade, proof) => {
    expect(joint(`thread: ${thread}  grade: ${grade}`).figure("j.proof_stress") / 1e6).toBeCloseTo(
      proof,
      9,
    );
  });

  test("an inch thread of a metric class and the other way round are asked about", () => {
    for (const [thread, grade] of [
      ["1/2-20", "8.8"],
      ["M12x1.5", "8"],
    ]) {
      const wrong = joint(`thread: ${thread}  grade: ${grade}`).analysis.findings;
      expect(wrong.map(({ code }) => code)).toContain("joint/grade-of-thread");
    }
    for (const [thread, grade] of [
      ["1/2-20", "8"],
      ["M12x1.5", "10.9"],
      ["M12x1.5", "A4-80"],
    ]) {
      const right = joint(`thread: ${thread}  grade: ${grade}`).analysis.findings;
      expect(right.map(({ code }) => code)).not.toContain("joint/grade-of-thread");
    }
  });
});
