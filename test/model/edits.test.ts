/**
 * Reading again what was edited equals reading afresh; what an edit, an option or a record does not
 * touch stays the very same.
 */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { analyzed, filesOf, folder, library } from "./build";
import { flawsOf } from "./everything";
import { stateOf } from "./state";

const root = `${folder}build.trammel`;

class Shop {
  readonly texts: Map<string, string>;
  readonly analyzer: Analyzer;

  constructor(text: string) {
    this.texts = new Map(filesOf(text));
    this.analyzer = new Analyzer(memoryHost(this.texts, [folder]), library());
  }

  get analysis(): Analysis {
    const analysis = this.analyzer.analyze(root);
    if (analysis === undefined) throw new Error("the root file could not be read");
    return analysis;
  }

  afresh(): Analysis {
    const analysis = new Analyzer(memoryHost(new Map(this.texts), [folder]), library()).analyze(
      root,
    );
    if (analysis === undefined) throw new Error("the root file could not be read");
    return analysis;
  }

  write(text: string, path = "build.trammel"): this {
    this.texts.set(folder + path, text);
    return this;
  }
}

const text = `//- build.trammel
use "parts.trammel"
use "more.trammel" as more
axle rear {
  wheel: w
  tire: t
  housing: h
  brake: more.disc
  left { inner_limit: 23 1/2 in ± 1/16 in  inner_gap: 7/8 in }
  right { inner_limit: 24 11/16 in  inner_gap: 7/8 in }
  mount_width: ?
}
housing h {
  standoff: 2.500 in
  face_to_face: ?
}
wheel spare {
  size: 16x8
  offset: 5 mm
}
joint nuts {
  thread: M12x1.5
  torque: 85 lb-ft
}
check "gap": rear.left.inner_gap >= 5/8 in
check "spare": spare.backspace >= 4 in
option narrow { h.face_to_face: 1450 mm }
option deep { spare.offset: 20 mm }
record "r" 2026-03-14 { h.face_to_face: 58 1/8 in ± 1/32 in; rear.left.cut_half: 29 1/16 in }
record "t" 2026-03-16 { rear.right.cut_half: 29 1/32 in ± 1/32 in; rear.mount_width: 63.8 in }
record "s" 2026-03-15 { spare.offset: 6 mm }
//- parts.trammel
tire t { size: 275/50R17 }
wheel w { size: 17x9 offset: 18 mm }
//- more.trammel
brake disc { hat_thickness: 0.290 in }
`;

describe("edit by edit", () => {
  const lines: readonly string[] = [
    "wheel w { }",
    "tire t { size: 205/55R16 }",
    'use "nowhere.trammel"',
    'use "more.trammel"',
    "h.face_to_face: 58 in",
    'relation "r": spare.offset = w.offset',
    'kind jig { width: length  half: length  relation "h": half = width / 2 }',
    "jig j { width: 4 in half: ? }",
    'check "all": sum(each(wheel).mass) < 100 lb',
    "display { length: mm }",
    "}",
    "{",
    "option wide { h.face_to_face: 1500 mm }",
    "rear.left.spacer: 5 mm",
    "wheel extra { offset: spare.offset }",
    "",
    "# nothing",
    "table tt { key a: number b: mass in kg row 1, 2 }",
  ];

  test("equals reading afresh", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(5), fc.nat(400), fc.nat(400)), { minLength: 1, maxLength: 12 }),
        (edits) => {
          const shop = new Shop(text);
          shop.analysis.findings.length;
          for (const [how, where, what] of edits) {
            const path =
              where % 4 === 0
                ? what % 2 === 0
                  ? "parts.trammel"
                  : "more.trammel"
                : "build.trammel";
            const body = (shop.texts.get(folder + path) ?? "").split("\n");
            const at = where % Math.max(1, body.length);
            if (how === 0) body.splice(at, 1);
            else if (how === 1) body.splice(at, 0, lines[what % lines.length] ?? "");
            else if (how === 2) body[at] = (body[at] ?? "").replace(/\d+/, String((what % 40) + 1));
            else if (how === 3)
              body.splice(at, 0, ...body.splice(what % Math.max(1, body.length), 3));
            else if (how === 4)
              body[at] = (body[at] ?? "").replace(/[a-z]+/, what % 2 === 0 ? "w" : "spare");
            else if (what % 9 === 0) shop.texts.delete(`${folder}more.trammel`);
            else body.reverse();
            shop.write(body.join("\n"), path);
            const again = shop.analysis;
            expect(stateOf(again, true)).toEqual(stateOf(shop.afresh(), true));
            expect(stateOf(again.asBuilt(), true)).toEqual(stateOf(shop.afresh().asBuilt(), true));
            for (const { name } of again.options) {
              const one = again.under(name);
              const other = shop.afresh().under(name);
              expect(one && stateOf(one, true)).toEqual(other && stateOf(other, true));
            }
          }
        },
      ),
      { numRuns: 40, seed: 11 },
    );
  }, 300_000);

  test("equals reading afresh in a whole sample", () => {
    const sample = [
      "build.trammel",
      "running-gear.trammel",
      "log.trammel",
      "work.trammel",
      "parts/brakes.trammel",
      "parts/shafts.trammel",
      "parts/steel.trammel",
      "parts/tires.trammel",
      "parts/wheels.trammel",
    ]
      .map((path) => `//- ${path}\n${readFileSync(`samples/harbor-van/${path}`, "utf8")}`)
      .join("\n");
    const shop = new Shop(sample);
    const body = (shop.texts.get(root) ?? "").split("\n");
    for (let step = 0; step < 12; step++) {
      const edited = [...body];
      const at = (step * 37) % body.length;
      if (step % 3 === 0) edited.splice(at, 1);
      else edited[at] = (edited[at] ?? "").replace(/\d+/, String(step + 3));
      shop.write(edited.join("\n"));
      expect(stateOf(shop.analysis, true)).toEqual(stateOf(shop.afresh(), true));
    }
  }, 300_000);
});

describe("what is not touched", () => {
  test("an edit leaves other groups the very same values", () => {
    const shop = new Shop(text);
    const before = shop.analysis;
    const [spare, torque, width] = ["spare.backspace", "nuts.torque", "h.face_to_face"].map(
      (path) => before.values.get(path),
    );
    shop.write((shop.texts.get(root) ?? "").replace("2.500 in", "2.510 in"));
    const after = shop.analysis;
    expect(after.values.get("nuts.torque")).toBe(torque);
    expect(after.values.get("spare.backspace")).toBe(spare);
    expect(after.values.get("h.face_to_face")).not.toBe(width);
    expect(after.values.get("h.face_to_face")?.si).not.toBe(width?.si);
  });

  test("an option shares what it does not touch", () => {
    const analysis = analyzed(text);
    const deep = analysis.under("deep");
    const narrow = analysis.under("narrow");
    expect(deep?.values.get("h.face_to_face")).toBe(analysis.values.get("h.face_to_face"));
    expect(deep?.values.get("spare.backspace")).not.toBe(analysis.values.get("spare.backspace"));
    expect(
      (deep?.valueAt("spare.backspace")?.si ?? 0) - (analysis.valueAt("spare.backspace")?.si ?? 0),
    ).toBeCloseTo(0.015, 12);
    expect(narrow?.values.get("spare.backspace")).toBe(analysis.values.get("spare.backspace"));
    expect(narrow?.valueAt("h.face_to_face")?.si).toBeCloseTo(1.45, 12);
    expect(analysis.under("narrow")).toBe(narrow);
    expect(analysis.under("nothing")).toBeUndefined();
    // The spec itself stays as it was.
    expect(analysis.valueAt("h.face_to_face")?.standing).toBe("solved");
  });

  test("a record never changes the spec; as built it takes its place", () => {
    const without = analyzed(text.replace(/^record.*$/gm, ""));
    const analysis = analyzed(text);
    const values = (each: Analysis) => stateOf(each, true).values;
    expect(values(analysis)).toEqual(values(without));
    const built = analysis.asBuilt();
    expect(built.valueAt("spare.offset")?.standing).toBe("measured");
    expect(built.valueAt("spare.offset")?.si).toBeCloseTo(0.006, 12);
    // 16x8 with half inch flanges: 114.3 mm to the middle, 6 mm further to the face.
    expect(built.valueAt("spare.backspace")?.si).toBeCloseTo(0.1203, 9);
    expect(built.values.get("nuts.torque")).toBe(analysis.values.get("nuts.torque"));
    expect(flawsOf(built, 1)).toEqual([]);
  });

  test("the later of two records counts", () => {
    const twice = analyzed(
      "wheel w { offset: 18 mm }\nrecord 2026-03-15 { w.offset: 20 mm }\nrecord 2026-03-14 { w.offset: 19 mm }",
    );
    expect(twice.asBuilt().valueAt("w.offset")?.si).toBeCloseTo(0.02, 12);
  });
});
