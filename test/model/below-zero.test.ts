/** Temperatures below nothing and differences of them: −10 °C is 263.15 K and 14 °F, by definition. */
import { describe, expect, test } from "vitest";
import { analyzed } from "./build";

const kind = `table cold "Cold" {
  key name: text
  bare: temperature in degC
  own: temperature
  row "a", -10, -10 degC
  row "b", -20, 14 degF
}
kind shed "Shed" {
  at: temperature
  name: text
  bare: temperature
  own: temperature
  relation "bare": bare = cold.bare(name)
  relation "own": own = cold.own(name)
}
`;

function told(text: string): string[] {
  return analyzed(kind + text).findings.map(({ message }) => message);
}

describe("a sign is the number's, not the temperature's", () => {
  test("in a field, with its ±, in limits", () => {
    const analysis = analyzed(`${kind}shed s { at: -10 degC ± 2 degC }
shed limits { at: -12 degC .. -8 degC }
shed r { at: -40 degF }`);
    expect(analysis.valueAt("s.at")?.si).toBeCloseTo(263.15, 9);
    const spread = analysis.valueAt("s.at")?.spread();
    expect(spread?.worstBelow).toBeCloseTo(2, 9);
    expect(spread?.worstAbove).toBeCloseTo(2, 9);
    expect(analysis.valueAt("limits.at")?.si).toBeCloseTo(263.15, 9);
    // Where the two scales meet.
    expect(analysis.valueAt("r.at")?.si).toBeCloseTo(233.15, 9);
  });

  test("in a table, with and without a unit of its own", () => {
    const analysis = analyzed(`${kind}shed s { name: "a"  bare: ?  own: ? }
shed r { name: "b"  bare: ?  own: ? }`);
    expect(analysis.valueAt("s.bare")?.si).toBeCloseTo(263.15, 9);
    expect(analysis.valueAt("s.own")?.si).toBeCloseTo(263.15, 9);
    expect(analysis.valueAt("r.bare")?.si).toBeCloseTo(253.15, 9);
    expect(analysis.valueAt("r.own")?.si).toBeCloseTo(263.15, 9);
  });

  test("in a check", () => {
    expect(told(`shed s { at: 14 degF }\ncheck "same": s.at == -10 degC`)).toEqual([]);
    expect(told(`shed s { at: 14 degF }\ncheck "warm": s.at >= -9 degC`)).toEqual([
      "does not hold: warm (s.at is 14 degF, at least 15.8 degF is wanted: 1.8 degF short)",
    ]);
  });
});

test("what tolerances take of a temperature is a difference", () => {
  // 2 K are 3.6 degF, not −456 degF.
  const [found = ""] = told(`shed s { at: -10 degC ± 2 degC }\ncheck "warm": s.at >= -11 degC`);
  expect(found).toContain("tolerances take up to 3.6 degF");
});
