/** Texts meet neither each other nor a line that is not theirs, by the drawing's own boxes. */

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { labelOf } from "../../server/drafting";
import { arrowLength, placeAlong, type Stretch } from "../../server/drafting/dimensions";
import { drawPicture, picturesOf } from "../../server/pictures";
import { analysisOf, builds } from "./builds";
import { sampleAnalysis } from "./samples";

describe.each(Object.keys(builds))("the %s build", (name) => {
  const analysis = analysisOf(builds[name] ?? "");

  test("has no two texts that meet", () => {
    let drawn = 0;
    for (const { id } of picturesOf(analysis)) {
      const texts = drawPicture(analysis, id)?.texts ?? [];
      for (const [index, one] of texts.entries())
        for (const other of texts.slice(index + 1)) {
          const meet =
            one[0] < other[2] && other[0] < one[2] && one[1] < other[3] && other[1] < one[3];
          expect({ id, one, other, meet }).toEqual({ id, one, other, meet: false });
        }
      drawn++;
    }
    expect(drawn).toBeGreaterThan(1);
  });
});

test.each(Object.keys(builds))("the %s build keeps its texts apart on a page, too", (name) => {
  const analysis = analysisOf(builds[name] ?? "");
  for (const id of [
    "rear/behind",
    "rear/limits",
    "rear/housing",
    "rear/saw",
    "rear.left/section",
  ]) {
    const texts = drawPicture(analysis, id, { page: [186, 220] })?.texts ?? [];
    expect(texts.length).toBeGreaterThan(0);
    for (const [index, one] of texts.entries())
      for (const other of texts.slice(index + 1)) {
        const meet =
          one[0] < other[2] && other[0] < one[2] && one[1] < other[3] && other[1] < one[3];
        expect({ id, meet }).toEqual({ id, meet: false });
      }
  }
});

describe("a whole axle", () => {
  test("is drawn in under 20 ms", () => {
    const analysis = sampleAnalysis("samples/harbor-van/running-gear.trammel");
    for (let warm = 0; warm < 5; warm++) drawPicture(analysis, "rear/behind");
    const times = Array.from({ length: 9 }, () => {
      const begin = process.cpuUsage();
      drawPicture(analysis, "rear/behind");
      const { user, system } = process.cpuUsage(begin);
      return (user + system) / 1000;
    }).sort((a, b) => a - b);
    console.log(`a whole axle: ${times[4]?.toFixed(1)} ms of processor`);
    expect(times[4]).toBeLessThan(20);
  });
});

describe("dimensions along a side", () => {
  const spans = fc.array(
    fc.record({
      from: fc.double({ min: -100, max: 100, noNaN: true }),
      length: fc.double({ min: 0, max: 120, noNaN: true }),
      width: fc.double({ min: 3, max: 45, noNaN: true }),
    }),
    { maxLength: 18 },
  );

  test("never overlap, and no text lies on another's extension line further in than it", () => {
    fc.assert(
      fc.property(spans, (wanted) => {
        const asked: Stretch[] = wanted.map(({ from, length, width }) => ({
          from,
          to: from + length,
          width,
        }));
        const placed = placeAlong(asked);
        for (const [index, one] of placed.entries()) {
          expect(one).toBeDefined();
          for (const [other, beside] of placed.entries()) {
            if (other === index || beside.tier !== one.tier) continue;
            const apart =
              one.text + (asked[index]?.width ?? 0) <= beside.text + 0.01 ||
              beside.text + (asked[other]?.width ?? 0) <= one.text + 0.01;
            expect(apart).toBe(true);
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  test("stand with the shortest nearest", () => {
    const placed = placeAlong([
      { from: 0, to: 100, width: 10 },
      { from: 20, to: 60, width: 10 },
      { from: 30, to: 50, width: 10 },
    ]);
    expect(placed.map(({ tier }) => tier)).toEqual([2, 1, 0]);
  });

  test("share a line in a chain", () => {
    const placed = placeAlong([
      { from: 0, to: 30, width: 10 },
      { from: 30, to: 70, width: 10 },
    ]);
    expect(placed.map(({ tier }) => tier)).toEqual([0, 0]);
  });

  test("put arrows and text outside where there is no room", () => {
    const [placed] = placeAlong([{ from: 0, to: arrowLength, width: 12 }]);
    expect(placed).toMatchObject({ arrowsOutside: true, outside: "after" });
  });
});

describe("lettering", () => {
  test("puts a shop's fraction over a bar and leaves designations as they are", () => {
    const bars = (text: string): number =>
      labelOf(text).pieces.filter(({ bar }) => bar === true).length;
    expect(bars("58 1/8 in ± 1/32")).toBe(2);
    expect(bars("255/60R17")).toBe(0);
    expect(bars("43/11")).toBe(0);
    expect(bars("12/05/2026")).toBe(0);
  });
});
