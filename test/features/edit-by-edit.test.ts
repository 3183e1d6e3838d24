/**
 * The judge of all that is kept between edits: a reading from scratch. Whatever is typed, in whichever
 * of the files, everything a reader sees is what a fresh reading shows, places included; for two
 * builds that share their parts in one process, for what was asked before the edit, and where
 * readings were left half-way since nobody waited for them.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { diagnostics } from "../../server/features/findings";
import { hover } from "../../server/features/hover";
import { inlayHints } from "../../server/features/inlay-hints";
import { endless, type Patience, TakenBack } from "../../server/keep/patience";
import { orderFindings, sequenceOf } from "../../server/sequence";
import { defaultSettings } from "../../server/settings";
import { filesOf, folder, library } from "../model/build";
import { stateOf } from "../model/state";

const shop = `//- van.trammel
use "parts.trammel"
use "more.trammel" as more
use "library:chapters/weld.trammel"
axle rear {
  wheel: w
  tire: t
  housing: h
  brake: more.disc
  left { inner_limit: 23 7/8 in ± 1/16 in  inner_gap: 7/8 in }
  right { inner_limit: 23 13/16 in  inner_gap: 7/8 in }
  mount_width: ?
}
housing h {
  standoff: 2.500 in
  face_to_face: ?
}
caliper_fit left_fit { kit: more.kit  outer_reading: 1.250 in  inner_reading: 1.178 in }
caliper_fit right_fit { kit: more.kit  outer_reading: 1.250 in  inner_reading: 1.190 in }
joint nuts {
  thread: M12x1.5
  count: 5
  torque: 85 lb-ft
}
procedure work {
  step first { work: fit tighten: [nuts] }
  step second { work: check after: [first] measure: [h.face_to_face] }
}
more.disc.hat_thickness: 0.270 in
check "gap": rear.left.inner_gap >= 5/8 in
check "half": rear.left.half <= 40 in
option narrow { h.face_to_face: 1450 mm }
option deep "Deeper" { rear.wheel: spare  rear.left.inner_gap: ?  rear.right.inner_gap: ? }
record "r" 2026-03-14 { h.face_to_face: 58 1/8 in  nuts.tightened: 85 lb-ft }
record "s" 2026-03-15 { w.offset: 19 mm }
//- truck.trammel
use "parts.trammel" as parts
use "more.trammel"
axle rear { wheel: parts.w  tire: parts.t  brake: disc  mount_width: 62 in  left { half: ? } }
check "wheel": parts.w.backspace >= 4 in
option other { rear.wheel: parts.spare }
//- parts.trammel
tire t { size: 275/50R17 }
wheel w { size: 17x9 offset: 18 mm }
wheel spare {
  size: 16x8
  offset: 5 mm
}
//- more.trammel
brake disc { hat_thickness: 0.263 in }
shim_kit kit { sizes: [0.005 in, 0.010 in, 0.020 in] }
`;

const files = ["van.trammel", "parts.trammel", "more.trammel", "truck.trammel"] as const;
const roots = ["van.trammel", "truck.trammel"] as const;

/** Lines that say something, of all that can be said; half-typed ones too. */
const lines: readonly string[] = [
  "wheel w { }",
  "wheel extra { size: 15x7 offset: spare.offset }",
  "  offset: 12 mm",
  "  offset: ",
  "h.face_to_face: 58 in",
  "rear.wheel.offset: 20 mm",
  "rear.wheel: spare",
  "rear.left.spacer: 5 mm",
  'relation "r": spare.offset = w.offset',
  'kind jig { width: length  half: length  relation "h": half = width / 2 }',
  "jig j { width: 4 in half: ? }",
  'check "all": sum(each(wheel).backspace) < 30 in',
  'check "known": w.offset > 0 mm and h.standoff < 3 in',
  "display { length: mm }",
  "option wide { h.face_to_face: 1500 mm }",
  'record "t" 2026-03-16 { h.standoff: 2.51 in }',
  'use "nowhere.trammel"',
  'use "more.trammel"',
  "shim_kit kit { sizes: [0.004 in, 0.016 in] }",
  "joint nuts { count: 6 torque: ? }",
  "table tt { key a: number b: mass in kg row 1, 2 }",
  "  step third { work: fit after: [second] }",
  "wheel winter like w { offset: 4 mm backspace: ? }",
  "wheel w like spare { }",
  "wheel spare like w { }",
  "axle front like rear { wheel: spare }",
  "rear.both.inner_gap: 7/8 in",
  "  both { inner_gap: 1 in spacer: 2 mm }",
  "  left like right { inner_limit: 24 in }",
  'check "sides": min(rear.both.inner_gap) > 1/2 in',
  "}",
  "{",
  "# a remark",
  "",
];

class Desk {
  readonly texts: Map<string, string>;
  readonly analyzer: Analyzer;

  constructor() {
    this.texts = new Map(filesOf(shop));
    this.analyzer = analyzerOf(this.texts);
  }

  /** Begins a reading that nobody waits for after so many of its parts. */
  begin(root: string, parts: number): void {
    try {
      const analysis = this.analyzer.analyze(folder + root, {}, waitingFor(parts));
      analysis?.findings.length;
    } catch (error) {
      if (!(error instanceof TakenBack)) throw error;
    }
  }

  text(path: string): string {
    return this.texts.get(folder + path) ?? "";
  }

  write(path: string, text: string): void {
    this.texts.set(folder + path, text);
  }
}

function waitingFor(parts: number): Patience {
  let left = parts;
  return { ...endless, isTakenBack: () => --left < 0 };
}

function analyzerOf(texts: ReadonlyMap<string, string>): Analyzer {
  return new Analyzer(memoryHost(texts, [folder]), library(), [orderFindings]);
}

/** Everything a reader of a file can see. */
function seen(analysis: Analysis | undefined, path: string): unknown {
  if (analysis === undefined) return "cannot be read";
  const uri = folder + path;
  const source = analysis.sourceOf(uri);
  const whole = { start: { line: 0, character: 0 }, end: { line: 1e6, character: 0 } };
  const hovers = (source?.text.split("\n") ?? []).flatMap((line, number) =>
    [line.search(/\S/), line.indexOf(":") + 2].map((character) => {
      const offset = source?.offsetAt({ line: number, character: Math.max(0, character) }) ?? 0;
      return hover(analysis, uri, offset)?.contents;
    }),
  );
  return {
    state: stateOf(analysis, true),
    things: analysis.things.map(({ path: at, kind }) => `${kind.name} ${at}`),
    asked: analysis.asked.map(({ value, option, needs }) => [value.path, value.si, option, needs]),
    workedOut: analysis.workedOut,
    curves: analysis.curves.map(({ name, thing, points }) => [name, thing?.path, points().length]),
    diagnostics: diagnostics(analysis, uri),
    hints: inlayHints(analysis, uri, whole, defaultSettings.hints),
    hovers,
    plan: sequenceOf(analysis).steps.map((step) => [step.path, step.state, step.blockedBy]),
    built: stateOf(analysis.asBuilt(), true),
    options: analysis.options.map(({ name }) => {
      const under = analysis.under(name);
      return under && stateOf(under, true);
    }),
  };
}

function edited(text: string, how: number, where: number, what: number): string {
  const body = text.split("\n");
  const at = where % Math.max(1, body.length);
  const line = body[at] ?? "";
  if (how === 0) body.splice(at, 1);
  else if (how === 1) body.splice(at, 0, lines[what % lines.length] ?? "");
  else if (how === 2) body[at] = line.replace(/\d+/, String((what % 40) + 1));
  else if (how === 3) body.splice(at, 0, ...body.splice(what % Math.max(1, body.length), 3));
  else if (how === 4) body[at] = line.replace(/\b[a-z]\w*(?= \{)/, ["w", "h", "spare"][what % 3]!);
  else if (how === 5) body[at] = line.slice(0, what % (line.length + 1));
  else body[at] = `${line} # said`;
  return body.join("\n");
}

describe("edit by edit", () => {
  test("everything seen is what a fresh reading shows, in two builds that share parts", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(6), fc.nat(400), fc.nat(400)), { minLength: 1, maxLength: 6 }),
        (edits) => {
          const desk = new Desk();
          for (const root of roots) desk.analyzer.analyze(folder + root)?.findings.length;
          for (const [how, where, what] of edits) {
            const path = files[(where * 7 + what) % files.length] ?? files[0];
            desk.write(path, edited(desk.text(path), how, where, what));
            // Nobody waits for the answer to every key.
            const parts = (where * 31 + what * 17) % 150;
            desk.begin(roots[what % 2] ?? roots[0], parts);
            const fresh = analyzerOf(new Map(desk.texts));
            for (const root of roots) {
              const uri = folder + root;
              expect(seen(desk.analyzer.analyze(uri), root)).toEqual(
                seen(fresh.analyze(uri), root),
              );
            }
          }
        },
      ),
      { numRuns: 25, seed: 7 },
    );
  }, 400_000);

  test("what is counted as worked out are the figures that are", () => {
    const analysis = new Desk().analyzer.analyze(`${folder}van.trammel`);
    const figures = [...(analysis?.values.values() ?? [])].filter(
      ({ standing, measure }) =>
        measure !== undefined && (standing === "solved" || standing === "assumed"),
    );
    expect(figures.length).toBeGreaterThan(20);
    expect(analysis?.workedOut).toBe(figures.length);
  });

  test("reading again, or another build, changes nothing of what was answered before", () => {
    const desk = new Desk();
    const uri = `${folder}van.trammel`;
    const first = desk.analyzer.analyze(uri);
    const before = JSON.stringify(seen(first, "van.trammel"));
    desk.analyzer.analyze(`${folder}truck.trammel`);
    desk.write("parts.trammel", desk.text("parts.trammel").replace("18 mm", "25 mm"));
    desk.analyzer.analyze(uri)?.findings.length;
    desk.analyzer.analyze(`${folder}truck.trammel`)?.findings.length;
    expect(JSON.stringify(seen(first, "van.trammel"))).toBe(before);
  });
});

describe("what an edit makes", () => {
  const { workshop } = library();
  const made = (analyze: () => Analysis | undefined) => {
    const { counts, plans } = workshop;
    const before = { ...counts, cells: plans.solved };
    analyze()?.findings.length;
    return {
      trees: counts.trees - before.trees,
      rows: counts.rows - before.rows,
      equations: counts.equations - before.equations,
      cells: plans.solved - before.cells,
    };
  };
  /** A build of ten axles, each with its own wheel and housing. */
  const many = `//- build.trammel\n${Array.from(
    { length: 10 },
    (_, number) => `wheel w${number} { size: 17x9 offset: ${10 + number}.25 mm }
housing h${number} { standoff: 2.500 in }
axle a${number} { wheel: w${number} housing: h${number} mount_width: ${60 + number} in left { half: ? } }
`,
  ).join("")}`;

  test("a digit makes the row of its thing and the cells it is in, a remark makes nothing", () => {
    const texts = new Map(filesOf(many));
    const analyzer = analyzerOf(texts);
    const uri = `${folder}build.trammel`;
    const analyze = () => analyzer.analyze(uri);
    const first = made(analyze);
    expect(first.rows).toBe(30);
    const edit = (from: string, to: string) => {
      texts.set(uri, (texts.get(uri) ?? "").replace(from, to));
      return made(analyze);
    };
    expect(edit("12.25 mm", "12.75 mm")).toMatchObject({ trees: 1, rows: 1, equations: 0 });
    const digit = edit("12.75 mm", "12.95 mm");
    expect(digit).toMatchObject({ trees: 1, rows: 1, equations: 0 });
    expect(digit.cells).toBeGreaterThan(0);
    expect(digit.cells).toBeLessThan(first.cells / 5);
    const nothing = { trees: 0, rows: 0, equations: 0, cells: 0 };
    expect(edit("wheel w4 {", "# said\nwheel w4 {")).toEqual(nothing);
    expect(
      edit("size: 17x9 offset: 13.25 mm", "size: 17x9 # of nine\n\n  offset: 13.25 mm"),
    ).toEqual({ ...nothing, trees: 1, rows: 1 });
    expect(edit("# of nine\n", "# of nine in all\n # said\n")).toEqual(nothing);
    expect(edit("# of nine in all\n # said\n", "\n")).toEqual(nothing);
    // Back again: what it comes to is kept.
    expect(edit("12.95 mm", "12.75 mm").cells).toBeLessThanOrEqual(digit.cells);
    expect(made(analyze)).toEqual(nothing);
  });

  test("what was made for an answer that nobody waited for is not made again", () => {
    const texts = new Map(filesOf(many.replaceAll("standoff: 2.500", "standoff: 2.375")));
    const analyzer = analyzerOf(texts);
    const uri = `${folder}build.trammel`;
    const begun = made(() => {
      expect(() => analyzer.analyze(uri, {}, waitingFor(20))).toThrow(TakenBack);
      return undefined;
    });
    expect(begun.cells).toBe(0);
    expect(begun.rows).toBeGreaterThan(8);
    // One may have been let go of in its midst.
    const rest = made(() => analyzer.analyze(uri));
    expect(rest.trees).toBe(0);
    expect([30, 31]).toContain(begun.rows + rest.rows);
    // Left while the answer is read off, it goes on from there too.
    texts.set(uri, (texts.get(uri) ?? "").replace("mount_width: 64", "mount_width: 54"));
    const read = made(() => {
      const analysis = analyzer.analyze(uri, {}, waitingFor(40));
      expect(() => analysis?.findings).toThrow(TakenBack);
      return undefined;
    });
    expect(read).toMatchObject({ trees: 1, rows: 1 });
    expect(made(() => analyzer.analyze(uri))).toMatchObject({ trees: 0, rows: 0, equations: 0 });
  });

  test("what an option says is kept over an edit that has nothing to do with it", () => {
    const options = Array.from(
      { length: 10 },
      (_, number) => `option o${number} { w${number}.offset: 5 mm }\n`,
    ).join("");
    const texts = new Map(filesOf(many + options));
    const analyzer = analyzerOf(texts);
    const uri = `${folder}build.trammel`;
    made(() => analyzer.analyze(uri));
    texts.set(uri, (texts.get(uri) ?? "").replace("12.25 mm", "12.85 mm"));
    // The wheel as the spec has it, its option and what that leaves of it; nine others say what they said.
    expect(made(() => analyzer.analyze(uri))).toMatchObject({ trees: 2, rows: 3 });
  });
});
