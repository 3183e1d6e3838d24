/** Advice on what is missing does not fall silent over a relation that has nothing to do with it. */
import { expect, test } from "vitest";
import { analyzed } from "../model/build";

test("a relation that is not defined yet keeps no one from advice", () => {
  const analysis = analyzed(`kind plate {
  width: length bought
  height: length bought
  depth: length bought
  half: length
  root: length
  relation "half": half = width / 2
  relation "root": root = sqrt(depth * (height - width))
}
plate p { height: 3 in  half: ? }`);
  const [asked] = analysis.asked;
  expect(asked?.needs.map((set) => set.map(({ path }) => path))).toContainEqual(["p.width"]);
});
