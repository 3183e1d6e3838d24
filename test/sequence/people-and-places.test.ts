/** Who is a second person by the names on record, and where fasteners stand, by hand. */
import { describe, expect, test } from "vitest";
import { isOther, isSecond, people } from "../../server/sequence/people";
import { neighborsInSuccession, pointsOf, upTo } from "../../server/sequence/tightening-order";
import { findingsOf } from "./helper";

describe("names on record", () => {
  test.each<[names: string | undefined, found: string[]]>([
    [undefined, []],
    ["", []],
    [" Tess Varga ", ["tess varga"]],
    // What stands behind a comma is no name.
    ["J. Brandt, certified welder and R. Calder", ["j. brandt", "r. calder"]],
    ["J. Brandt and R. Calder, foreman", ["j. brandt", "r. calder"]],
    ["A; B & C / D + E and F", ["a", "b", "c", "d", "e", "f"]],
    ["Andy Sandor", ["andy sandor"]],
    ["A and ", ["a"]],
  ])("%j", (names, found) => {
    expect(people(names)).toEqual(found);
  });

  test.each<[name: string | undefined, others: string | undefined, second: boolean]>([
    ["Tess Varga", "Tess Varga", false],
    ["tess varga", "TESS VARGA", false],
    ["T. Varga", "Tess Varga", false],
    ["Tess Varga", "T. Varga", false],
    ["Tess V.", "T. Varga", false],
    ["Tess", "Tess Varga", false],
    ["Varga", "Tess Varga", false],
    ["O. Linde", "Tess Varga", true],
    ["T. Linde", "Tess Varga", true],
    ["Tom Varga", "Tess Varga", true],
    ["Tess Tess", "Tess Varga", true],
    ["T. T. Varga", "Tess Varga", false],
    ["Tess Varga and O. Linde", "Tess Varga", true],
    ["Tess Varga", "O. Linde and T. Varga", false],
    ["Tess Varga", undefined, true],
    [undefined, "Tess Varga", false],
    ["", "", false],
  ])("%j beside %j: a second person: %s", (name, others, second) => {
    expect(isSecond(name, others)).toBe(second);
  });

  test("that are written otherwise may still be one person", () => {
    expect(isOther("T. Varga", "Tess Varga")).toBe(true);
    expect(isOther("tess varga", "Tess Varga")).toBe(false);
    expect(isOther("Tess Varga and O. Linde", "O. Linde")).toBe(true);
    expect(isOther(undefined, "Tess Varga")).toBe(false);
  });
});

describe("where fasteners stand", () => {
  const at = (x: number, y: number) => ({ x: expect.closeTo(x, 12), y: expect.closeTo(y, 12) });
  const own = [
    { x: 0, y: 0 },
    { x: 1, y: 0 },
    { x: 1, y: 2 },
    { x: 0, y: 2 },
  ];

  test("on a circle from the top, clockwise, whatever coordinates are told of another pattern", () => {
    const circle = [at(0, 1), at(1, 0), at(0, -1), at(-1, 0)];
    expect(pointsOf({ count: 4, groups: 1, pattern: "cross" })).toEqual(circle);
    expect(pointsOf({ count: 4, groups: 1, pattern: "circle" })).toEqual(circle);
    expect(pointsOf({ count: 8, groups: 2, pattern: "cross" })).toEqual(circle);
    expect(pointsOf({ count: 4, groups: 1, pattern: "cross", places: own })).toEqual(circle);
    // Coordinates that are not told, or not of all, leave a circle.
    expect(pointsOf({ count: 4, groups: 1, pattern: "coordinates" })).toEqual(circle);
    const three = own.slice(0, 3);
    expect(pointsOf({ count: 4, groups: 1, pattern: "coordinates", places: three })).toEqual(
      circle,
    );
    expect(pointsOf({ count: 4, groups: 1, pattern: "coordinates", places: own })).toBe(own);
  });

  test("along a line, in two rows and round a rectangle, one apart", () => {
    expect(pointsOf({ count: 3, groups: 1, pattern: "line" })).toEqual([
      at(-1, 0),
      at(0, 0),
      at(1, 0),
    ]);
    expect(pointsOf({ count: 5, groups: 1, pattern: "two_rows" })).toEqual([
      at(-1, 0.5),
      at(0, 0.5),
      at(1, 0.5),
      at(0.5, -0.5),
      at(-0.5, -0.5),
    ]);
    expect(pointsOf({ count: 8, groups: 1, pattern: "rectangle", columns: 3 })).toEqual([
      at(-1, 1),
      at(0, 1),
      at(1, 1),
      at(1, 0),
      at(1, -1),
      at(0, -1),
      at(-1, -1),
      at(-1, 0),
    ]);
    // Three columns take six, eight, ten …, not seven.
    expect(pointsOf({ count: 7, groups: 1, pattern: "rectangle", columns: 3 })).toEqual(
      pointsOf({ count: 7, groups: 1, pattern: "circle" }),
    );
  });

  test("nowhere where there are none, or more than any joint has", () => {
    for (const count of [0, -1, 1.5, 401, Number.NaN])
      expect(pointsOf({ count, groups: 1, pattern: "circle" })).toEqual([]);
    expect(pointsOf({ count: 400, groups: 1, pattern: "circle" })).toHaveLength(400);
    expect(upTo(500)).toHaveLength(401);
    expect(upTo(-2)).toEqual([]);
  });

  test.each<[name: string, layout: Parameters<typeof neighborsInSuccession>[1], found: number[][]]>(
    [
      [
        "a circle closes",
        { count: 4, groups: 1, pattern: "circle" },
        [
          [1, 2],
          [3, 4],
          [4, 1],
        ],
      ],
      [
        "a line does not",
        { count: 4, groups: 1, pattern: "line" },
        [
          [1, 2],
          [3, 4],
        ],
      ],
      [
        "two rows stand apart",
        { count: 4, groups: 1, pattern: "two_rows" },
        [
          [1, 2],
          [3, 4],
        ],
      ],
      [
        "groups stand apart",
        { count: 4, groups: 2, pattern: "circle" },
        [
          [1, 2],
          [3, 4],
        ],
      ],
      [
        "by coordinates the near ones",
        { count: 4, groups: 1, pattern: "coordinates", places: own },
        [
          [1, 2],
          [3, 4],
        ],
      ],
    ],
  )("neighbors one after the other: %s", (_, layout, found) => {
    expect(neighborsInSuccession([1, 2], layout)).toEqual(found.slice(0, 1));
    expect(neighborsInSuccession([3, 4, 1], layout)).toEqual(found.slice(1));
    expect(neighborsInSuccession([1, 3], layout)).toEqual([]);
  });
});

test("limits of a step that are accepted are told with who accepts them, until when and what follows", () => {
  const said = (more: string) =>
    findingsOf(`housing tube { face_to_face: 55 in }
procedure job { step look { check "wide": tube.face_to_face >= 56 in } }
record 2026-03-01 by "Ida Roth" { job.look { accepted: job.look  ${more} } }`);
  expect(said("")).toMatchInlineSnapshot(`
    [
      "3: concession/accepted: Ida Roth accepts it for good, though \`job.look\` is not within its limits: wide",
    ]
  `);
  expect(
    said('until: 2099-01-31  because: "it clears"  follows: "measure it in autumn"'),
  ).toMatchInlineSnapshot(`
    [
      "3: concession/accepted: Ida Roth accepts it until 2099-01-31: it clears, though \`job.look\` is not within its limits: wide",
    ]
  `);
});
