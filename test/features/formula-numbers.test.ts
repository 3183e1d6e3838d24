/** A relation with the figures of one case in it: each number is that of the name it stands for. */
import { expect, test } from "vitest";
import { withNumbers } from "../../server/features/derivation";
import { formulaWithNumbers } from "../../server/report/formula-numbers";
import { analyzed } from "../model/build";

const text = `kind rod { length: length }
kind pair {
  one: rod
  two: rod
  tilt: length
  relation "tilt": tilt = two.length - one.length
}
rod front_rod { length: 27 7/8 in }
rod back_rod { length: 26 7/8 in }
pair p { one: back_rod  two: front_rod  tilt: ? }
pair q { one: front_rod  two: back_rod  tilt: ? }
rod own { length: 2 * p.tilt + front_rod.length / 4 }
display { length: in 1/8 }
`;

test("names that end alike are told apart by where they lead", () => {
  const analysis = analyzed(text);
  const numbers = (path: string): string | undefined => {
    const value = analysis.valueAt(path);
    return value?.reason && withNumbers(analysis, value.reason);
  };
  expect(analysis.valueAt("p.tilt")?.reason?.formula).toBe("tilt = two.length - one.length");
  expect(numbers("p.tilt")).toBe("1 in = 27 7/8 in - 26 7/8 in");
  expect(numbers("q.tilt")).toBe("-1 in = 26 7/8 in - 27 7/8 in");
  expect(numbers("own.length")).toBe("9 in = 2 * 1 in + 27 7/8 in / 4");
  const own = analysis.valueAt("own.length");
  const shown =
    own?.reason && formulaWithNumbers(own.reason, own, analysis, (v) => analysis.write(v));
  expect(shown).toBe("length = 2 * 1 in + 27 7/8 in / 4");
});
