/** Templates at full size, and the same lines read back out of DXF by another library. */
import DxfParser from "dxf-parser";
import { describe, expect, test } from "vitest";
import { standalone } from "../../server/drafting";
import { dxfOf } from "../../server/drafting/dxf";
import { draftPicture, drawPicture } from "../../server/pictures";
import { analysisOf, builds } from "./builds";
import { elementsOf, partOf } from "./read-back";

const analysis = analysisOf(builds.ordinary ?? "");
const mm = (path: string): number => (analysis.valueAt(path)?.outcome()?.si ?? Number.NaN) * 1000;

interface ReadEntity {
  readonly type: string;
  readonly layer: string;
  readonly center?: { readonly x: number; readonly y: number };
  readonly radius?: number;
  readonly vertices?: readonly { readonly x: number; readonly y: number }[];
  readonly text?: string;
}

function readDxf(id: string): { entities: readonly ReadEntity[]; units: unknown } {
  const draft = draftPicture(analysis, id);
  if (draft === undefined) throw new Error(`there is no picture ${id}`);
  const read = new DxfParser().parseSync(dxfOf(draft));
  return {
    entities: (read?.entities ?? []) as unknown as readonly ReadEntity[],
    units: read?.header.$INSUNITS,
  };
}

describe("a bolt circle", () => {
  test("is at 1:1, with bars to measure the printer by", () => {
    const drawing = drawPicture(analysis, "flange/drill")!;
    const svg = standalone(drawing);
    expect(drawing.scale.text).toBe("1:1");
    const reach = ({ xs }: { xs: readonly number[] }) => Math.max(...xs) - Math.min(...xs);
    expect(reach(partOf(svg, "bar 100 mm"))).toBeCloseTo(100, 3);
    expect(reach(partOf(svg, "bar 4 in"))).toBeCloseTo(101.6, 3);
    const circle = elementsOf(svg).find(
      ({ attributes }) => attributes["data-part"] === "pitch circle",
    );
    expect(Number(circle?.attributes.r)).toBeCloseTo(mm("flange.stud_circle.diameter") / 2, 3);
  });

  test("comes back out of DXF hole by hole, in millimeters", () => {
    const { entities, units } = readDxf("flange/drill");
    // Group code 4 of $INSUNITS: millimeters.
    expect(units).toBe(4);
    const holes = entities.filter(({ type, layer }) => type === "CIRCLE" && layer === "outline");
    expect(holes).toHaveLength(5);
    const radius = mm("flange.stud_circle.diameter") / 2;
    for (const [place, { center, radius: size }] of holes.entries()) {
      const angle = (2 * Math.PI * place) / 5;
      expect(center?.x).toBeCloseTo(radius * Math.sin(angle), 6);
      expect(center?.y).toBeCloseTo(radius * Math.cos(angle), 6);
      expect(size).toBeCloseTo(mm("flange.stud_diameter") / 2, 6);
    }
  });

  test("leaves out of DXF what a table must not cut", () => {
    const { entities } = readDxf("flange/drill");
    expect(entities.length).toBeGreaterThan(10);
    // The bars lie below the circle; nothing of them is there.
    const radius = mm("flange.stud_circle.diameter") / 2;
    const lows = entities.flatMap(({ vertices = [] }) => vertices.map(({ y }) => y));
    expect(Math.min(...lows)).toBeGreaterThan(-radius - 25);
  });
});

test("a band is as long as the tube is round", () => {
  const { entities } = readDxf("tube/band");
  const bands = entities.filter(({ type, layer }) => type === "LWPOLYLINE" && layer === "outline");
  const length = bands.reduce((sum, { vertices = [] }) => {
    const xs = vertices.map(({ x }) => x);
    return sum + Math.max(...xs) - Math.min(...xs);
  }, 0);
  expect(length).toBeCloseTo(Math.PI * mm("tube.tube_diameter"), 6);
});

test("a strip is as long as what is cut off with its kerf", () => {
  const { entities } = readDxf("rear.left/strip");
  const strips = entities.filter(({ type, layer }) => type === "LWPOLYLINE" && layer === "outline");
  const length = strips.reduce((sum, { vertices = [] }) => {
    const xs = vertices.map(({ x }) => x);
    return sum + Math.max(...xs) - Math.min(...xs);
  }, 0);
  expect(length).toBeCloseTo(mm("rear.left.offcut") + mm("tube.kerf"), 6);
});

test("a whole axle goes through DXF with its tires in place", () => {
  const { entities } = readDxf("rear/behind");
  const lefts = entities.flatMap(({ vertices = [] }) => vertices.map(({ x }) => x));
  expect(Math.min(...lefts)).toBeLessThanOrEqual(-mm("rear.left.outer_sidewall") + 0.01);
});

test("letters of a hostile title stay one line of DXF", () => {
  const build = (builds.ordinary ?? "").replace(
    "hub flange {",
    'hub flange "x\\u000a0\\u000aEOF" {',
  );
  const draft = draftPicture(analysisOf(build), "flange/drill");
  if (draft === undefined) throw new Error("nothing is drawn");
  draft.letters({ at: [0, 0], text: "x\n0\nEOF\n%%u" });
  const text = dxfOf(draft);
  expect(text.trimEnd().endsWith("EOF")).toBe(true);
  expect(text.split("\n").filter((line) => line.trim() === "EOF")).toHaveLength(1);
});
