import { describe, expect, test } from "vitest";
import { workshop } from "./workshop";

describe("plan", () => {
  const build = `procedure cutting "Cut" {
  step saw "Saw the tubes" { after: mark }
  step mark "Mark the saw lines" { note: "measure twice" }
}
record "first day" 2026-02-01 { done: [cutting.mark] }
`;

  test("prints steps in an order they can be done in, and what is left", async () => {
    const shop = workshop({ "build.trammel": build });
    const { out, code } = await shop.trammel("plan", "build.trammel");
    expect(code).toBe(0);
    expect(out.indexOf("Mark the saw lines")).toBeGreaterThan(0);
    expect(out.indexOf("Saw the tubes")).toBeGreaterThan(out.indexOf("Mark the saw lines"));
  });

  test("a cycle of steps is an error here and in check alike", async () => {
    const shop = workshop({ "build.trammel": build.replace("{ note", "{ after: saw  note") });
    const plan = await shop.trammel("plan", "build.trammel");
    const check = await shop.trammel("check", "build.trammel");
    expect(plan.code).toBe(1);
    expect(check.code).toBe(1);
    const [line] = check.out.split("\n");
    expect(plan.out).toContain(line);
  });

  test("says so where there are no steps", async () => {
    const { code, out } = await workshop({ "build.trammel": "# nothing\n" }).trammel("plan", "build.trammel");
    expect(code).toBe(0);
    expect(out).toContain("there are no steps in this build");
  });
});

describe("choose", () => {
  const shop = workshop({
    "build.trammel": `display { length: in 1/32 }
wheel deep { size: 17x9  offset: 40 mm  price: 210 usd }
wheel flat { size: 17x9  offset: 0 mm  price: 180 usd }
wheel middle { size: 17x9  offset: 20 mm  price: 240 usd }
tire t { size: 275/50R17 }
housing h { face_to_face: 58 in  standoff: 2.5 in }
brake b { hat_thickness: 0.25 in }
axle rear {
  wheel: middle
  tire: t
  housing: h
  brake: b
  left { inner_limit: 24 1/2 in  inner_gap: ? }
  right { inner_limit: 24 1/2 in }
}
`,
  });

  test("keeps what satisfies every check, the cheapest first", async () => {
    const { code, out } = await shop.trammel("choose", "build.trammel", "--for", "rear.wheel", "--by", "price", "--format", "json");
    expect(code).toBe(0);
    const { choices, combinations } = JSON.parse(out);
    expect(combinations).toBe(3);
    // By hand: face at 29 + 2.75 = 31.75 in, half the mounted width (275 mm + 0.4 * 0.5 in) / 2 =
    // 5.5138 in, so the gap is 1.736 in less the offset: 40 mm (1.575 in) leaves 0.162 in, under the
    // half inch wanted; 20 mm leaves 0.949 in; 0 mm leaves 1.736 in.
    expect(choices.map(({ picks }: { picks: { thing: string }[] }) => picks[0]?.thing)).toEqual(["flat", "middle"]);
    expect(choices[0].values["rear.left.inner_gap"].si).toBeCloseTo(1.736 * 0.0254, 4);
    expect(choices[0].least).toBe(180);
  });

  test("tells it in words", async () => {
    const { out } = await shop.trammel("choose", "build.trammel", "--for", "rear.wheel", "--by", "price");
    expect(out).toContain("3 combinations: 3 for rear.wheel");
    expect(out).toMatch(/1\. +flat +180\.00 usd/);
  });

  test("says what is wrong with the usage", async () => {
    expect((await shop.trammel("choose", "build.trammel")).log).toBe("trammel: say which fields to choose for, as in --for rear.wheel,rear.tire\n");
    expect((await shop.trammel("choose", "build.trammel", "--for", "rear.whel")).code).toBe(2);
    expect((await shop.trammel("choose", "build.trammel", "--for", "rear.wheel", "--by", "colour")).code).toBe(2);
  });
});
