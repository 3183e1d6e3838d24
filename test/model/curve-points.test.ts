/** Where a curve is drawn: from its lower bound to its upper one, and nowhere where one of them is bad. */
import { expect, test } from "vitest";
import { solved } from "../reference/solve-text";

function pointsOf(over: string, given = "low: 1 mm; high: 4 mm"): { x: number; y: number }[] {
  const { analysis } = solved(`kind rod "Rod" {
  low: length
  high: length
  curve twice "Twice": 2 * x over x from ${over}
}
rod r { ${given} }
`);
  const points = analysis.curves.find(({ name }) => name === "twice")?.points() ?? [];
  return points.map(({ x, y }) => ({ x: Math.round(x * 1e6) / 1e3, y: Math.round(y * 1e6) / 1e3 }));
}

const whole = [
  { x: 1, y: 2 },
  { x: 2, y: 4 },
  { x: 3, y: 6 },
  { x: 4, y: 8 },
];

test("both ends are drawn, and the steps between them", () => {
  expect(pointsOf("low to high step 1 mm")).toEqual(whole);
  // The last step is not reached: nothing is drawn beyond the end.
  expect(pointsOf("low to high step 2 mm").map(({ x }) => x)).toEqual([1, 3]);
});

test.each([
  ["the lower one is open", "low to high step 1 mm", "high: 4 mm"],
  ["the upper one is open", "low to high step 1 mm", "low: 1 mm"],
  ["they are one", "low to high step 1 mm", "low: 4 mm; high: 4 mm"],
  ["the lower one lies above", "low to high step 1 mm", "low: 5 mm; high: 4 mm"],
  ["the upper one cannot be worked out", "low to low / 0 step 1 mm", "low: 1 mm; high: 4 mm"],
  ["the lower one cannot be worked out", "0 mm / 0 to high step 1 mm", "low: 1 mm; high: 4 mm"],
])("nothing is drawn where %s", (_, over, given) => {
  expect(pointsOf(over, given)).toEqual([]);
});

test("a step that is none is the usual one", () => {
  for (const step of ["", " step 0 mm", " step -1 mm"]) {
    const points = pointsOf(`low to high${step}`);
    expect(points.length).toBeGreaterThan(10);
    expect(points[0]).toEqual({ x: 1, y: 2 });
    expect(points.at(-1)).toEqual({ x: 4, y: 8 });
  }
});
