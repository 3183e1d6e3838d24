/**
 * Inline values and findings: a comment line below a line says what stands at that spot.
 *
 * `#  ^ = 6 in` under a line: a hint at that column; `#~~~ error code` : a finding with that range.
 */
import { expect, test } from "vitest";
import { diagnostics, messageOf } from "../../server/features/findings";
import { longestHints, readHintData } from "../../server/features/hint-fitting";
import { type HintSettings, hintTooltip, inlayHints } from "../../server/features/inlay-hints";
import { stepLabels } from "../../server/features/steps";
import { cursor, dedent, type Snippet } from "./world";

const all: HintSettings = {
  enabled: true,
  asked: true,
  headlines: true,
  records: true,
  steps: true,
};
const everything = { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } };

/** Holds the hints of a snippet against the marks in it. */
function checkHints(snippet: string, settings: Partial<HintSettings> = {}): Snippet {
  const { text, marks } = readMarks(snippet);
  const world = cursor(text);
  const hints = inlayHints(world.analysis, world.uri, everything, { ...all, ...settings });
  const found = hints.map(
    ({ position, label }) => `${position.line}:${position.character} ${label}`,
  );
  expect(found.sort()).toEqual(
    marks.map(({ line, from, says }) => `${line}:${from} ${says}`).sort(),
  );
  for (const hint of hints) expect(String(hint.label).length).toBeLessThanOrEqual(longestHints);
  return world;
}

function checkFindings(snippet: string): Snippet {
  const { text, marks } = readMarks(snippet);
  const world = cursor(text);
  const severities = ["", "error", "warning", "note"];
  const found = diagnostics(world.analysis, world.uri).map(
    ({ range: { start, end }, severity = 0, code }) =>
      `${start.line}:${start.character}-${end.character} ${severities[severity]} ${code}`,
  );
  expect(found).toEqual(marks.map(({ line, from, to, says }) => `${line}:${from}-${to} ${says}`));
  return world;
}

interface Mark {
  readonly line: number;
  readonly from: number;
  readonly to: number;
  readonly says: string;
}

/** `#   ^^^ says` belongs to the line above it and is taken out of the text. */
function readMarks(snippet: string): { text: string; marks: Mark[] } {
  const lines: string[] = [];
  const marks: Mark[] = [];
  for (const line of dedent(snippet).split("\n")) {
    const mark = /^#(\s*)(\^+) (.*)$/.exec(line);
    if (mark === null) {
      lines.push(line);
      continue;
    }
    const from = 1 + (mark[1]?.length ?? 0);
    marks.push({
      line: lines.length - 1,
      from,
      to: from + (mark[2]?.length ?? 0),
      says: mark[3] ?? "",
    });
  }
  return { text: lines.join("\n"), marks };
}

test("a solved value stands behind its question mark, and what it rests on with it", () => {
  // (9 in + 2 x 0.5 in) / 2 + 1 in: the library's flange of half an inch was only assumed.
  checkHints(`
    wheel w {
      size: 17x9
      offset: 1 in
      backspace: ?
    #             ^ = 6 in, flange assumed
    }
  `);
});

test("a value that rests on givens alone has no mark", () => {
  checkHints(`
    wheel w {
      size: 17x9   offset: 1 in   flange: 1/2 in
      backspace: ?
    #             ^ = 6 in
    }
  `);
});

test("a default that is asked for says that it is assumed", () => {
  checkHints(`
    wheel w { flange: ? }
    #                  ^ = 1/2 in, assumed
  `);
});

test("a headline figure stands at the line that opens its thing, before a comment", () => {
  checkHints(`
    wheel w "Wheel" {   # in hand
    #                ^ backspace 6 in
      size: 17x9   offset: 1 in
    }
  `);
});

test("what is written or asked for is not told again at the opening line", () => {
  checkHints(`
    wheel w { backspace: 6 in; size: 17x9 }
    wheel v { size: 17x9; offset: 1 in; backspace: ? }
    #                                               ^ = 6 in, flange assumed
  `);
});

test("what is missing names what would settle it", () => {
  const { analysis, uri } = checkHints(`
    wheel w {
      size: 17x9
      offset: ?
    #          ^ missing: give backspace
    }
  `);
  const [hint] = inlayHints(analysis, uri, everything, all);
  const data = readHintData(hint?.data);
  expect(data).toBeDefined();
  if (data !== undefined) expect(hintTooltip(analysis, data)?.value).toContain("- `w.backspace`");
});

test("inside of an option its own values are told", () => {
  checkHints(`
    wheel w { size: 17x9; offset: 1 in; flange: 1/2 in; backspace: ? }
    #                                                               ^ = 6 in
    option deep "Deeper" {
      w.offset: 2 in
      w.backspace: ?
    #               ^ = 7 in
    }
  `);
});

test("a measurement is held against the spec beside it", () => {
  checkHints(`
    wheel w { size: 17x9; offset: 1 in; backspace: 6 in ± 1/16 in; flange: 1/2 in; center_bore: 72..74 mm }
    record "at the stand" 2026-03-14 {
      w.offset: 1 1/32 in
    #                    ^ spec 1 in, 1/32 in over
      w.backspace: 6 1/32 in
    #                       ^ within tolerance, 1/32 in over
      w.center_bore: 72.5 mm
    #                       ^ within tolerance
      w.flange: 1/2 in
    #                 ^ as specified
    }
  `);
});

test("each sort of hint can be turned off, and all of them", () => {
  const text = `
    wheel w {
      size: 17x9   offset: 1 in   flange: 1/2 in
      frontspace: ?
    #              ^ = 4 in
    }
  `;
  checkHints(text, { headlines: false });
  checkHints(text.replace(/# +\^.*\n/, "").replace("w {", "w {\n    #        ^ backspace 6 in"), {
    asked: false,
  });
  checkHints(text.replace(/# +\^.*\n/, ""), { enabled: false });
});

test("the opening line tells as many figures as there is room for", () => {
  const { analysis, uri } = cursor(`
    tire t { size: 275/50R17 }
  `);
  const [hint] = inlayHints(analysis, uri, everything, all);
  expect(String(hint?.label).length).toBeGreaterThan(10);
  expect(String(hint?.label).length).toBeLessThanOrEqual(longestHints);
});

test("findings have their range, their rank and their code", () => {
  checkFindings(`
    wheel w {
      size: 17x9
      ofset: 18 mm
    # ^^^^^ error name/unknown-field
      center_bore: 4
    #              ^ error unit/missing
      backspace: ?
    }
  `);
  checkFindings(`
    wheel w {
      size: 17x9
      backspace: ?
    #            ^ warning missing/value
    }
  `);
});

test("the code of a check opens the page of the library that tells of it", () => {
  const { analysis, uri } = cursor("wheel w { size: 15x7; offset: 110 mm }\n");
  const [found] = diagnostics(analysis, uri).filter(({ code }) => code === "wheel/mounting-face");
  expect(found?.codeDescription?.href).toBe("library:/reference/wheel.md");
});

test("every finding opens a page, at the line of its code", () => {
  const { analysis, uri } = cursor(`
    wheel w { size: 17x9   offset: 18   oset: 3 mm }
    wheel w { size: 18x9
    check "own": 1 mm > 2 mm
  `);
  const found = diagnostics(analysis, uri);
  expect(found.map(({ code }) => code).sort()).toEqual([
    "check/own",
    "name/duplicate",
    "name/unknown-field",
    "syntax/unclosed-brace",
    "unit/missing",
  ]);
  for (const { codeDescription } of found)
    expect(codeDescription?.href).toMatch(/^library:\/reference\/findings\.md#L\d+$/);
});

test("a finding says what to do on lines of its own, and shows the other place", () => {
  const { analysis, uri } = cursor(`
    wheel w { size: 17x9 }
    wheel w { size: 18x9 }
  `);
  const [found] = diagnostics(analysis, uri);
  expect(String(found?.message).split("\n").length).toBeGreaterThan(1);
  expect(found?.relatedInformation?.[0]?.location.range.start.line).toBe(0);
});

test("a caution comes last", () => {
  const anchor = {} as Parameters<typeof messageOf>[0]["anchor"];
  const finding = {
    code: "check/own" as const,
    severity: "error" as const,
    message: "too thin",
    hint: "fit another",
    caution: "it may break",
    anchor,
  };
  expect(messageOf(finding)).toBe("too thin\nfit another\ncaution: it may break");
});

test("what is wrong in a used file is told at the line that uses it", () => {
  const { analysis, uri } = cursor(`
    //- build.trammel
    use "parts/more.trammel"
    check "alike": one.offset == 18 mm
    //- parts/more.trammel
    use "wheels.trammel"
    //- parts/wheels.trammel
    wheel one { size: 17x9; offset: 18 }
  `);
  const found = diagnostics(analysis, uri).filter((each) => each.code === "use/has-errors");
  expect(found.map((each) => each.range.start.line)).toEqual([0]);
  expect(found[0]?.message).toContain("wheels.trammel");
  expect(found[0]?.relatedInformation?.[0]?.location.uri).toBe("file:///shop/parts/wheels.trammel");
});

test("a step says whether it is done or ready; what waits is told where it is pointed at", () => {
  checkHints(`
    procedure job "Brakes" {
    #                       ^ 1 of 4 done
      step seat "Seat the rotor" {
    #                             ^ done 2026-03-14
      }
      step read "Read the gaps" {
    #                            ^ ready
        after: seat
      }
      step shim "Shim the bracket until the rotor runs in the middle" {   # both sides
        after: read
      }
      step tight "Tighten the bracket" {
        after: shim
      }
    }
    record "first day" 2026-03-14 {
      job.seat.done: yes
    }
  `);
});

test("what a step waits for besides is counted", () => {
  const { analysis } = checkHints(`
    procedure job "Job" {
    #                    ^ ready, 3 steps
      step one "Clean" {
    #                   ^ ready
      }
      step other "Deburr" {
    #                      ^ ready
      }
      step last "Weld" {
        after: [one, other]
        needs: h.face_to_face
      }
    }
    housing h { standoff: 2 in }
  `);
  expect(stepLabels(analysis, longestHints).get("job.last")).toBe("waits for Clean and 2 more");
});

test("a step of the library stands at the first line that writes something into it", () => {
  const { analysis, uri } = checkHints(`
    use "library:chapters/carrier.trammel"
    procedure job "Job" { chapters: gearing_up }
    #                                           ^ ready, 10 steps
    joint nuts "Carrier nuts" { count: 9  torque: 35 lb-ft  passes: [50 %, 100 %] }
    gearing_up.perches.note: "as the springs ask"
    #                                            ^ ready
    gearing_up.carrier_in.tighten: nuts
    gearing_up.carrier_in.note: "dry threads"
  `);
  expect(hintTooltip(analysis, { uri, about: { step: "gearing_up.carrier_in" } })?.value).toContain(
    "tightens Carrier nuts, `nuts`",
  );
});

test("hints of steps can be turned off by themselves", () => {
  checkHints(
    `
    procedure job "Job" {
      step one "Clean" {
      }
    }
    `,
    { steps: false },
  );
});

test("what the editor has no room for goes whole, and no figure is cut", () => {
  const line = (more: string): string =>
    `wheel w { size: 17x9; offset: 1 in; backspace: ?; frontspace: ?   ${more} }`;
  const labels = (text: string): string[] => {
    const world = cursor(text);
    return inlayHints(world.analysis, world.uri, everything, all).map(({ label }) => String(label));
  };
  // Both rest on the flange; together with it they would be 44 characters and more.
  expect(labels(line(""))).toEqual(["= 6 in, flange assumed", "= 4 in"]);
  expect(labels(line("overall_width: ?"))).toEqual(["= 6 in, flange assumed", "= 4 in", "= 10 in"]);
  for (const text of [line(""), line("overall_width: ?; flange: ?")]) {
    expect(labels(text).join("").length).toBeLessThanOrEqual(longestHints);
    for (const label of labels(text)) expect(label).toMatch(/^= \d+( \d+\/\d+)? in|^= \d+\/\d+ in/);
  }
});

test("a figure is as sure as it says where its tolerance is more than half a step", () => {
  checkHints(`
    display { length: in 1/32 }
    wheel w {
      size: 17x9   offset: 1 in ± 1/16 in   flange: 1/2 in
      backspace: ?
    #             ^ = 6 in ± 1/16
    }
    wheel v {
      size: 17x9   offset: 1 in ± 0.002 in   flange: 1/2 in
      backspace: ?
    #             ^ = 6 in
    }
  `);
});

test("what a figure rests on is named, all of it or as much as there is room for", () => {
  const { analysis, uri } = cursor(
    "housing h { standoff: 2 in; face_to_face: 54 in }\nwheel w { size: 17x9 }\naxle a { housing: h; wheel: w; end_to_face: 3 in; left { tire_center: ? } }\n",
  );
  for (const { label } of inlayHints(analysis, uri, everything, all)) {
    expect(String(label)).not.toMatch(/\d+ things? assumed/);
  }
});

test("beside a wish stands how it comes out", () => {
  const world = cursor(
    dedent(`
      kind cut "Cut" {
        rest: length measured
        saw: length made to 1/8 in ± 1/16 in
        gap: length wanted
        relation "gap": gap = saw - rest
      }
      cut c { rest: 10 3/32 in ± 1/16 in; gap: 1 in }
    `),
  );
  const hints = inlayHints(world.analysis, world.uri, everything, { ...all, headlines: false });
  // Cut to 11 1/8 in: 1/32 in over. Root of two times 1/16 squared is 0.0884 in.
  expect(hints.map(({ label }) => label)).toEqual(["→ 1 1/32 in ± 0.0884 likely"]);
});
