/** Golden texts: checks that fail, may fail or cannot be judged. */
import { describe, expect, test } from "vitest";
import { textAt } from "../../grammar/anchor";
import { analyzed } from "../model/build";
import { golden } from "../model/golden";
import { withPlate } from "./plate";

test("a check that fails", () => {
  expect(golden(withPlate("plate p { width: 4 in height: 3 in }"))).toMatchInlineSnapshot(`
    "2:31 error plate/height \`3 in\`
      p: does not hold: the plate is high enough (height is 3 in, at least width = 4 in is wanted: 1 in short)
      hint are \`width: 3 in\` and \`height: 4 in\` meant? then it holds; cut a higher plate
      caution a low plate tips over
      see 2:18 p.width is given here
      fix write width: 3 in, height: 4 in: plate p { height: 4 in width: 3 in }"
  `);
});

test("a check that fails within its tolerances", () => {
  expect(
    golden(withPlate("plate p { width: 4 in ± 1/4 in height: 4 1/8 in ± 1/4 in }")),
  ).toMatchInlineSnapshot(`
    "2:40 warning plate/height \`4 1/8 in ± 1/4 in\`
      p: holds as drawn, but not in all that is likely with these tolerances: the plate is high enough (height is 4 1/8 in, at least width = 4 in is wanted, tolerances take up to 1/2 in); it holds in about 86 % of builds
      hint cut a higher plate; it fails at p.width 4 1/4 in
      caution a low plate tips over"
  `);
});

test("a check that fails in the worst case alone", () => {
  expect(
    golden(withPlate("plate p { width: 4 in ± 1/4 in height: 4.4 in ± 1/4 in }")),
  ).toMatchInlineSnapshot(`
    "2:40 note plate/height \`4.4 in ± 1/4 in\`
      p: holds as drawn, but not in the worst case: the plate is high enough (height is 4.400 in, at least width = 4 in is wanted, tolerances take up to 0.500 in)
      hint cut a higher plate; it fails at p.height 4.150 in and p.width 4.250 in
      caution a low plate tips over"
  `);
});

test("a check that holds in the worst case", () => {
  expect(
    golden(withPlate("plate p { width: 4 in ± 1/4 in height: 4.6 in ± 1/4 in }")),
  ).toMatchInlineSnapshot(`""`);
});

test("how loudly checks speak", () => {
  const failing = withPlate("plate p { width: 4 in height: 3 in }");
  const likely = withPlate("plate p { width: 4 in ± 1/4 in height: 4 1/8 in ± 1/4 in }");
  const worst = withPlate("plate p { width: 4 in ± 1/4 in height: 4.4 in ± 1/4 in }");
  const levels = { nominal: "warning", rss: "error", worst: "off" } as const;
  const first = (text: string): string =>
    golden(text, { settings: { levels } }).split("\n")[0] ?? "";
  expect(first(failing)).toBe("2:31 warning plate/height `3 in`");
  expect(first(likely)).toBe("2:40 error plate/height `4 1/8 in ± 1/4 in`");
  expect(first(worst)).toBe("");
});

test("a check of the builder's own", () => {
  expect(
    golden(
      'wheel w { offset: 18 mm }\ncheck "deep enough": w.offset >= 20 mm\n  advise "order another wheel"',
    ),
  ).toMatchInlineSnapshot(`
    "2:1 error check/own \`check "deep enough": w.offset >= 20 mm\`
      does not hold: deep enough (w.offset is 18 mm, at least 20 mm is wanted: 2 mm short)
      hint order another wheel"
  `);
  expect(golden("wheel w { offset: 18 mm }\ncheck: w.offset >= 20 mm")).toMatchInlineSnapshot(`
    "2:1 error check/own \`check: w.offset >= 20 mm\`
      does not hold: w.offset >= 20 mm (w.offset is 18 mm, at least 20 mm is wanted: 2 mm short)"
  `);
  expect(
    golden('wheel w { offset: 18 mm }\ncheck "shallow": w.offset < 10 mm'),
  ).toMatchInlineSnapshot(`
    "2:1 error check/own \`check "shallow": w.offset < 10 mm\`
      does not hold: shallow (w.offset is 18 mm, less than 10 mm is wanted: 8 mm over)"
  `);
  expect(
    golden('wheel w { offset: 18 mm }\ncheck "just so": w.offset == 10 mm'),
  ).toMatchInlineSnapshot(`
    "2:1 error check/own \`check "just so": w.offset == 10 mm\`
      does not hold: just so (w.offset is 18 mm, exactly 10 mm is wanted)"
  `);
  expect(
    golden('wheel w { offset: 18 mm }\ncheck "another": w.offset != 18 mm'),
  ).toMatchInlineSnapshot(`
    "2:1 error check/own \`check "another": w.offset != 18 mm\`
      does not hold: another (w.offset is 18 mm, anything but 18 mm is wanted)"
  `);
  expect(
    golden('wheel w { offset: 18 mm }\ncheck "between": w.offset == 20..25 mm'),
  ).toMatchInlineSnapshot(`
    "2:1 error check/own \`check "between": w.offset == 20..25 mm\`
      does not hold: between (w.offset is 18 mm)"
  `);
  expect(
    golden('wheel w { offset: 18 mm }\ncheck "either": w.offset > 20 mm or w.offset < 10 mm'),
  ).toMatchInlineSnapshot(`
    "2:1 error check/own \`check "either": w.offset > 20 mm or w.offset < 10 mm\`
      does not hold: either (w.offset is 18 mm)"
  `);
  expect(
    golden(
      'wheel a { offset: 18 mm }\nwheel b { offset: 20 mm }\ncheck "alike": a.offset == b.offset\n  severity note',
    ),
  ).toMatchInlineSnapshot(`
    "3:1 note check/own \`check "alike": a.offset == b.offset\`
      does not hold: alike (a.offset is 18 mm, exactly b.offset = 20 mm is wanted)
      see 2:19 b.offset is given here"
  `);
});

test("a check over words", () => {
  expect(
    golden('brake b { caliper: fixed }\ncheck "slides": b.caliper == sliding'),
  ).toMatchInlineSnapshot(`
    "2:1 error check/own \`check "slides": b.caliper == sliding\`
      does not hold: slides"
  `);
  expect(
    golden('brake b { caliper: sliding }\ncheck "slides": b.caliper == sliding'),
  ).toMatchInlineSnapshot(`""`);
});

test("a check that cannot be judged yet", () => {
  expect(golden('wheel w { }\ncheck "deep enough": w.offset >= 20 mm')).toMatchInlineSnapshot(`
    "2:1 note check/cannot-judge \`check "deep enough": w.offset >= 20 mm\`
      cannot judge yet: deep enough
      hint w.offset is missing"
  `);
  expect(
    golden('wheel w { }\ntire t { }\ncheck "both": w.offset >= 20 mm and t.section_width > 8 in'),
  ).toMatchInlineSnapshot(`
    "3:1 note check/cannot-judge \`check "both": w.offset >= 20 mm and t.section_width > 8 in\`
      cannot judge yet: both
      hint w.offset and t.section_width are missing"
  `);
  expect(golden('axle a { }\ncheck "hub": a.hub.pilot >= 20 mm')).toMatchInlineSnapshot(`
    "2:1 note check/cannot-judge \`check "hub": a.hub.pilot >= 20 mm\`
      cannot judge yet: hub
      hint something it names is not there yet"
  `);
});

test("a check stands under the figure it speaks of, with what it is held against beside it", () => {
  const { findings } = analyzed(
    "axle rear { left { inner_limit: 23 in  tire_center: 28 in  inner_gap: ? } }\ntire t { size: 255/60R17 }\nwheel w { size: 17x8 }\nrear.tire: t\nrear.wheel: w\n",
  );
  const gap = findings.find(({ code }) => code === "clearance/inner-gap");
  expect(gap === undefined ? undefined : textAt(gap.anchor)).toBe("?");
  expect(gap?.related?.[0]?.message).toContain("wanted_gap");
});

describe("what is said of a check is as it is written", () => {
  const told = (text: string): (readonly [string, string | undefined])[] =>
    analyzed(text).findings.map(({ message, hint }) => [message, hint]);

  test("an angle that a formula comes to is told in degrees", () => {
    // tan 26.565 deg = 1/2
    expect(
      told(`kind k { a: length\nb: length }\nk p { a: 1 m; b: 2 m }
check "steep": atan(p.a / p.b) >= 30 deg`)[0]?.[0],
    ).toContain("is 26.57 deg, at least 30 deg is wanted: 3.435 deg short");
  });

  test("a limit below zero is a figure, no formula", () => {
    expect(told(`kind k { x: number }\nk p { x: 3 }\ncheck "low": p.x <= -1`)[0]?.[0]).toContain(
      "p.x is 3, at most -1 is wanted: 4 over",
    );
  });

  test("what has no value with these figures is not told as missing", () => {
    const [[message, hint] = []] = told(
      `kind k { x: number }\nk p { x: 0 }\ncheck "share": 1 / p.x <= 100`,
    );
    expect(message).toBe("cannot judge: share");
    expect(hint).toContain("with these figures it has no value");
  });
});
