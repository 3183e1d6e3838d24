import { describe, expect, it } from "vitest";
import { expectNear, failing, holding, si, solved } from "./part-two-solve-text";

const inch = 0.0254;

/** The kit and the readings of 0.200 and 0.128 in: common practice, no source. */
const kit = "shim_kit kit { sizes: [0.005 in, 0.010 in, 0.015 in, 0.020 in] }";

describe("centering a caliper", () => {
  it("readings that call for 0.036 in are met with 0.020 + 0.015, and the 0.001 left is allowed (common practice, no source)", () => {
    const analysis = solved(`${kit}
caliper_fit fit { kit: kit  outer_reading: 0.200 in  inner_reading: 0.128 in  allowed: 0.001 in }`);
    expectNear(si(analysis, "fit.shim"), 0.036 * inch);
    expectNear(si(analysis, "fit.stack"), 0.035 * inch);
    expect(si(analysis, "fit.pieces")).toBe(2);
    expectNear(si(analysis, "fit.residual"), 0.001 * inch, 1e-6);
    expect(holding(analysis)).toContain("caliper/residual");
  });

  it("says on which side, and what the gaps read afterwards; both gaps together stay", () => {
    const out = solved(`${kit}
caliper_fit fit { kit: kit  outer_reading: 0.200 in  inner_reading: 0.130 in }`);
    expectNear(si(out, "fit.inward_stack"), 0.035 * inch);
    expect(si(out, "fit.outward_stack")).toBe(0);
    expectNear(si(out, "fit.outer_after"), 0.165 * inch);
    expectNear(si(out, "fit.inner_after"), 0.165 * inch);
    const inside = solved(`${kit}
caliper_fit fit { kit: kit  outer_reading: 0.130 in  inner_reading: 0.200 in }`);
    expectNear(si(inside, "fit.outward_stack"), 0.035 * inch);
    expect(si(inside, "fit.inward_stack")).toBe(0);
    expectNear(si(inside, "fit.outer_after"), 0.165 * inch);
    expectNear(si(inside, "fit.outer_after") + si(inside, "fit.inner_after"), 0.33 * inch);
  });

  it("says where shims cannot do it: a mount on the wrong side of the bracket", () => {
    const objections = (side: string, outer: string, inner: string): string[] =>
      failing(
        solved(`${kit}
caliper_fit fit { kit: kit  mount_side: ${side}  outer_reading: ${outer}  inner_reading: ${inner} }`),
      );
    expect(objections("inner", "0.200 in", "0.130 in")).toEqual(["caliper/inner-mount"]);
    expect(objections("inner", "0.130 in", "0.200 in")).toEqual([]);
    expect(objections("outer", "0.130 in", "0.200 in")).toEqual(["caliper/outer-mount"]);
    expect(objections("outer", "0.200 in", "0.130 in")).toEqual([]);
  });

  it("needs no shim where both gaps are equal", () => {
    const analysis = solved(`${kit}
caliper_fit fit { kit: kit  outer_reading: 0.15 in  inner_reading: 0.15 in }`);
    expect(si(analysis, "fit.stack")).toBe(0);
    expect(si(analysis, "fit.pieces")).toBe(0);
  });

  it("objects where no stack comes near enough, and where the rotor is too near", () => {
    const coarse = solved(`
shim_kit kit { sizes: [0.020 in] }
caliper_fit fit { kit: kit  outer_reading: 0.06 in  inner_reading: 0.03 in }`);
    expect(failing(coarse)).toContain("caliper/residual");
    const narrow = solved(`${kit}
caliper_fit fit { kit: kit  outer_reading: 0.030 in  inner_reading: 0.004 in }`);
    expect(failing(narrow)).toContain("caliper/rotor-clearance");
  });
});

describe("a caliper on two bolts", () => {
  const mount = (bottom: string): ReturnType<typeof solved> =>
    solved(`${kit}
caliper_mount left {
  top { kit: kit  outer_reading: 0.200 in  inner_reading: 0.128 in }
  bottom { kit: kit  ${bottom} }
}`);

  it("has its own shims at each bolt", () => {
    const analysis = mount("outer_reading: 0.190 in  inner_reading: 0.138 in");
    expectNear(si(analysis, "left.top.stack"), 0.035 * inch);
    expectNear(si(analysis, "left.bottom.stack"), 0.025 * inch);
    expect(Math.abs(si(analysis, "left.tilt"))).toBeLessThan(1e-9);
    expect(si(analysis, "left.gaps_differ")).toBeCloseTo(0, 12);
    expect(holding(analysis)).toEqual(expect.arrayContaining(["caliper/tilt", "caliper/readings"]));
  });

  it("notices readings that cannot both be right", () => {
    expect(failing(mount("outer_reading: 0.190 in  inner_reading: 0.170 in"))).toContain(
      "caliper/readings",
    );
  });
});

describe("one kit for several calipers", () => {
  const build = (quantities: string): ReturnType<typeof solved> =>
    solved(`
shim_kit kit { sizes: [0.005 in, 0.010 in, 0.015 in, 0.020 in]  quantities: ${quantities} }
caliper_fit left { kit: kit  outer_reading: 0.200 in  inner_reading: 0.128 in }
caliper_fit right { kit: kit  outer_reading: 0.200 in  inner_reading: 0.130 in }`);

  it("counts what they take together", () => {
    const analysis = build("[2, 2, 2, 2]");
    expect(si(analysis, "kit.used")).toBe(4);
    expect(si(analysis, "kit.total")).toBe(8);
    expect(holding(analysis)).toEqual(expect.arrayContaining(["caliper/kit-short"]));
  });

  it("objects where the kit runs short or its list is wrong", () => {
    expect(failing(build("[0, 0, 1, 1]"))).toContain("caliper/kit-short");
    expect(failing(build("[1, 1, 2]"))).toContain("caliper/kit-list");
  });
});
