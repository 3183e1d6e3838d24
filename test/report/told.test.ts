/**
 * Figures as a person reads them: what is made on its step, wishes as they come out, what is drawn
 * beside them. The arithmetic of each expectation is written beside it; the figures are our own.
 */
import { describe, expect, test } from "vitest";
import { madeAsUsual, told } from "../../server/report/comes-out";
import { solved } from "../reference/solve-text";

const build = (more = "") => `display { length: in 1/32 }
tire rear_tire { size: 245/65R16 }
wheel rear_wheel { size: 16x8; offset: 15 mm }
brake disc { hat_thickness: 0.275 in }
housing tube { standoff: 2.420 in ± 0.010 in; end_length: 2 in; face_to_face: ? }
carrier center { offset: 3/4 in; tip_setback: 1/2 in }
axle rear {
  tire: rear_tire; wheel: rear_wheel; brake: disc; housing: tube; carrier: center
  left { inner_limit: 24 1/4 in ± 1/16 in; inner_gap: 15/16 in }
  right { inner_limit: 24 3/8 in ± 1/16 in; inner_gap: 15/16 in }
}
${more}`;

function at(path: string, more = "") {
  const { analysis } = solved(build(more));
  const value = analysis.valueAt(path);
  if (value === undefined) throw new Error(`no ${path}`);
  return told(value, analysis);
}

/** Inches of `26 3/32 in` or `0.925 in`. */
function inches(text: string): number {
  const parts = text.replace(/ in$/, "").split(" ");
  return parts.reduce((sum, part) => {
    const [over = "0", under = "1"] = part.split("/");
    return sum + Number(over) / Number(under);
  }, 0);
}

describe("as it comes out", () => {
  test("a saw line says what it is cut to, what was drawn and which wish it answers", () => {
    // Half a tire of 245 + 0.4 (8 - 7) 25.4 mm, by the limit, the wish, the offset, hat and standoff.
    const half = 24.25 + 0.9375 + (245 / 25.4 + 0.4 * (8 - 7)) / 2 + 15 / 25.4 - 0.275 - 2.42;
    const mark = at("rear.left.tube_mark");
    expect(mark.beside).toBe(`drawn ${(half - 2).toFixed(3)} in`);
    expect(inches(mark.text)).toBe(Math.round((half - 2) * 32) / 32);
    expect(mark).toMatchObject({ standing: "made", why: "answers rear.left.inner_gap" });
    expect(mark.tolerance).toEqual({ worst: "± 1/32 in", rss: "± 1/32 in" });
  });

  test("a shaft is cut to the housing as it is cut, for its own wish", () => {
    expect(at("rear.left.shaft_length").why).toBe("answers rear.left.tip_setback");
    expect(at("rear.right.shaft_length").why).toBe("answers rear.right.tip_setback");
  });

  test("what is shown of both halves adds up to the width that is shown", () => {
    const [left, right, width] = ["rear.left.cut_half", "rear.right.cut_half", "tube.face_to_face"];
    expect(inches(at(left ?? "").text) + inches(at(right ?? "").text)).toBe(
      inches(at(width ?? "").text),
    );
  });

  test("a wish stands as it comes out, to the digits it is missed by", () => {
    const gap = at("rear.left.inner_gap");
    expect(gap).toMatchObject({ standing: "wanted", beside: "wanted 15/16 in" });
    const mark = inches(at("rear.left.tube_mark").text);
    const drawn = Number(/[\d.]+/.exec(at("rear.left.tube_mark").beside)?.[0]);
    expect(inches(gap.text)).toBeCloseTo(0.9375 + mark - drawn, 2);
  });

  test("what the ± of a wish comes from names the tape, the saw and where the housing stands", () => {
    const { analysis } = solved(build());
    const shares = analysis.valueAt("rear.left.inner_gap")?.outcome()?.contributors() ?? [];
    // Standard uncertainties 1/16, 1/16, 1/32 and 0.010 in, each over three.
    const sum = 1 / 16 ** 2 + 1 / 16 ** 2 + 1 / 32 ** 2 + 0.01 ** 2;
    expect(new Map(shares.map(({ path, share }) => [path, share.toFixed(3)]))).toEqual(
      new Map([
        ["rear.left.inner_limit", (1 / 16 ** 2 / sum).toFixed(3)],
        ["rear.set_over", (1 / 16 ** 2 / sum).toFixed(3)],
        ["rear.left.tube_mark", (1 / 32 ** 2 / sum).toFixed(3)],
        ["tube.standoff", (0.01 ** 2 / sum).toFixed(3)],
      ]),
    );
  });
});

describe("how surely a thing is made", () => {
  const usual = (more: string) => {
    const { analysis } = solved(build(more));
    const mark = analysis.valueAt("rear.left.tube_mark");
    return mark && madeAsUsual(mark, analysis);
  };
  test("is an assumption where neither the build nor the shop says it", () => {
    expect(usual("")).toBe("rear.left.tube_mark is made to 1/32 in ± 1/32 in");
    expect(usual("shop ours { saw: 1/64 in ± 1/64 in }")).toBeUndefined();
    expect(usual("rear.left.tube_mark: ? to 1/16 in")).toBeUndefined();
  });
});

describe("what nothing made answers", () => {
  const kinds = `kind frame "Frame" {
  width: length wanted
  left: length
  right: length
  relation "halves": width = left + right
  assume "centered": left = right
}
frame f { width: 40 in ± 1/8 in }
`;
  test("is held, and its own ± is no tolerance", () => {
    const { analysis } = solved(kinds);
    const width = analysis.valueAt("f.width");
    if (width === undefined) throw new Error("no width");
    expect(told(width, analysis)).toMatchObject({ why: "held: nothing made answers it" });
    expect(told(width, analysis).tolerance).toBeUndefined();
  });

  test("names what would be made to answer it, and what is open for that", () => {
    const sawn = `kind tube "Tube" {
  half: length wanted
  end: length bought
  mark: length made to 1/32 in
  relation "saw line": mark = half - end
}
`;
    const why = (text: string): string | undefined => {
      const { analysis } = solved(`${sawn}${text}`);
      const half = analysis.valueAt("t.half");
      return half && told(half, analysis).why;
    };
    expect(why("tube t { half: 20 in; mark: ? }\n")).toBe(
      "held: t.mark answers it once t.end is known",
    );
    // On its step to the last digit it is answered all the same.
    expect(why("tube t { half: 20 in; end: 1 in }\n")).toBeUndefined();
  });

  test("wishes that differ left and right are both held, symmetry or not", () => {
    const { analysis } = solved(`kind side of car "Side" {
  limit: length measured
  gap: length wanted
  half: length
  relation "gap": gap = half - limit
}
kind car "Car" {
  left: part side
  right: part side
  assume "centered": left.half = right.half
}
car c { left { limit: 20 in; gap: 1 in }; right { limit: 21 in; gap: 1 in } }
`);
    for (const side of ["left", "right"])
      expect(analysis.valueAt(`c.${side}.gap`)?.outcome()?.si).toBeCloseTo(0.0254, 9);
  });
});

describe("as built", () => {
  const record = `record "after welding" 2026-03-14 { rear.housing.face_to_face: 56 3/4 in ± 1/32 in }`;

  test("what a width is over lies on both sides alike, as both were drawn", () => {
    const { analysis } = solved(build(record));
    const built = analysis.asBuilt();
    const half = (limit: number) =>
      limit + 0.9375 + (245 / 25.4 + 0.4 * (8 - 7)) / 2 + 15 / 25.4 - 0.275 - 2.42;
    const over = (56.75 - half(24.25) - half(24.375)) / 2;
    for (const side of ["left", "right"]) {
      const gap = built.valueAt(`rear.${side}.inner_gap`)?.outcome()?.si ?? 0;
      expect(gap / 0.0254).toBeCloseTo(0.9375 + over, 6);
    }
  });
});
