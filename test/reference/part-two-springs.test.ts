import { describe, expect, it } from "vitest";
import { expectDigits, expectNear, failing, holding, si, solved } from "./part-two-solve-text";

const poundPerInch = (0.45359237 * 9.80665) / 0.0254;

describe("a quarter vehicle (Automotive Chassis Engineering, Springer, p. 209)", () => {
  const analysis = solved(
    "spring corner { rate: 22 kN/m  tire_rate: 192 kN/m  sprung_mass: 317.5 kg  unsprung_mass: 45.4 kg }",
  );

  it("body 7.87 rad/s and 1.25 Hz, wheel 68.73 rad/s and 10.9 Hz as printed", () => {
    // The book's own arithmetic rounds on the way: its figures are met to 0.2 %.
    expectNear(si(analysis, "corner.body_frequency") * 2 * Math.PI, 7.87, 2e-3);
    expectDigits(si(analysis, "corner.body_frequency"), "1.25");
    expectNear(si(analysis, "corner.hop_frequency") * 2 * Math.PI, 68.73, 1e-3);
    expectDigits(si(analysis, "corner.hop_frequency"), "10.9");
  });

  it("exactly", () => {
    expectDigits(si(analysis, "corner.body_frequency") * 2 * Math.PI, "7.8786");
    expectDigits(si(analysis, "corner.hop_frequency") * 2 * Math.PI, "68.709");
    expectDigits(si(analysis, "corner.ride_frequency"), "1.2549");
    expectDigits(si(analysis, "corner.frequency"), "1.3248");
  });

  it("both frequencies are roots of the two masses' equation", () => {
    const [m, u, k, t] = [317.5, 45.4, 22e3, 192e3];
    for (const name of ["body_frequency", "hop_frequency"]) {
      const w2 = (si(analysis, `corner.${name}`) * 2 * Math.PI) ** 2;
      const terms = [m * u * w2 * w2, -(m * (k + t) + u * k) * w2, k * t];
      const sum = terms.reduce((total, term) => total + term, 0);
      expect(Math.abs(sum) / (k * t)).toBeLessThan(1e-9);
    }
  });
});

describe("frequency, rate and deflection", () => {
  it("100 mm of static deflection are 1.5761 Hz, 10 in are 0.98893 Hz (f = sqrt(g / delta) / 2 pi)", () => {
    const at = (deflection: string): number =>
      si(
        solved(
          `spring corner { deflection: ${deflection}  sprung_mass: 300 kg  rate: ?  frequency: ? }`,
        ),
        "corner.frequency",
      );
    expectDigits(at("100 mm"), "1.5761");
    expectDigits(at("10 in"), ".98893");
  });

  it("250 lb/in at a motion ratio of 0.8 are 160 lb/in at the wheel, 1.6149 Hz under 600 lb", () => {
    const analysis = solved(
      "spring corner { rate: 250 lb/in  motion_ratio: 0.8  sprung_mass: 600 lb }",
    );
    expectNear(si(analysis, "corner.wheel_rate"), 160 * poundPerInch);
    expectDigits(si(analysis, "corner.frequency"), "1.6149");
  });

  it("turns round: the spring for a frequency", () => {
    const analysis = solved(
      "spring corner { frequency: 1.5 Hz  motion_ratio: 0.8  sprung_mass: 300 kg  rate: ? }",
    );
    expectNear(si(analysis, "corner.rate"), (300 * (3 * Math.PI) ** 2) / 0.64);
  });

  it("a leaning coilover is softer by the square of the cosine", () => {
    const analysis = solved("spring corner { rate: 250 lb/in  angle: 20 deg  wheel_rate: ? }");
    expectNear(
      si(analysis, "corner.wheel_rate"),
      250 * poundPerInch * Math.cos((20 * Math.PI) / 180) ** 2,
    );
  });

  it("spring and tire in row", () => {
    const analysis = solved(
      "spring corner { rate: 160 lb/in  tire_rate: 1200 lb/in  ride_rate: ? }",
    );
    expectNear(si(analysis, "corner.ride_rate"), (poundPerInch * 160 * 1200) / 1360);
  });
});

describe("a coil spring from its wire", () => {
  it("0.037 in wire, 0.400 in coils, 10.5 active, 11.85 Mpsi: 4.13 lbf/in (Shigley example 10-1, from memory)", () => {
    const analysis = solved(
      "spring coil { wire_diameter: 0.037 in  coil_diameter: 0.400 in  active_coils: 10.5  shear_modulus: 11.85 Mpsi  rate: ? }",
    );
    expectDigits(si(analysis, "coil.rate") / poundPerInch, "4.13");
  });
});

describe("lengths over the travel", () => {
  const text =
    "spring corner { rate: 40 N/mm  sprung_mass: 400 kg  free_length: 350 mm  bump: 80 mm  droop: 60 mm  bind_length: 140 mm }";
  it("works out ride, bump and droop lengths and the preload", () => {
    const analysis = solved(text);
    const load = 400 * 9.80665;
    expectNear(si(analysis, "corner.spring_load"), load);
    expectNear(si(analysis, "corner.ride_length"), 0.35 - load / 40e3);
    expectNear(si(analysis, "corner.bump_length"), 0.35 - load / 40e3 - 0.08);
    expectNear(si(analysis, "corner.preload"), load / 40e3 - 0.06);
    expect(holding(analysis)).toEqual(expect.arrayContaining(["spring/bind", "spring/loose"]));
  });

  it("objects to coil bind and to a spring that comes loose", () => {
    expect(failing(solved(text.replace("bump: 80 mm", "bump: 120 mm")))).toContain("spring/bind");
    expect(failing(solved(text.replace("droop: 60 mm", "droop: 110 mm")))).toContain(
      "spring/loose",
    );
  });

  it("the free length a ride height asks for", () => {
    const analysis = solved(
      "spring corner { rate: 40 N/mm  sprung_mass: 400 kg  ride_length: 250 mm  free_length: ? }",
    );
    expectNear(si(analysis, "corner.free_length"), 0.25 + (400 * 9.80665) / 40e3);
  });
});
