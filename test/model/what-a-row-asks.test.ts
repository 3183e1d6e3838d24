/**
 * What each thing and line of a build is made of: after an edit of another one, exactly those are made
 * anew that have to do with what was edited, and all of them are as in a build read afresh.
 */
import { describe, expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import type { BuildAnalysis } from "../../server/analysis/build-analysis";
import { memoryHost } from "../../server/analysis/host";
import { folder, library } from "./build";
import { rowText } from "./row-text";

const root = `${folder}build.trammel`;
const parts = `${folder}parts.trammel`;

const kinds = `designation pipe_size "Pipe" {
  across: length
  wall: length
  grade: text
  form "{across mm}x{wall mm}[ {grade text}]"
  form "{across mm}"
}
table pegs "Pegs" {
  key long: length in mm
  load: mass in kg
  row 10, 3
  row 20, 4
}
kind pin "Pin" {
  long: length
  thick: length default 2 mm
  steel: one_of(mild, hard) default mild
  sizes: list of length
  pipe: pipe_size
  slack: length found out default 1 mm
  grip: part grip
  spare: pin optional
  mark: text
  marks: list of text
}
kind grip "Grip" { turns: count }
kind frame "Frame" {
  pin: pin
  other: pin optional
  pins: list of pin
  deep: length
  load: mass
  relation "deep": deep = pin.long + 2 * pin.thick
}
kind tub "Tub" { a: length  b: length }
`;

const build = `use "parts.trammel" as parts
${kinds}
pin p { long: 10 mm  sizes: [1 mm, 2 mm]  marks: [a, b]  pipe: 48.3x2 A  pin inner { long: 3 mm } }
frame f { pin: p }
frame g { pin: parts.q }
frame h { deep: f.pin.slack }
tub of { a: p.inner.long  b: p.grip.turns * 1 mm }
tub kit { a: sum(p.sizes)  b: stack(p.sizes, 3 mm, 0.1 mm) }
tub table { a: pegs(p.long) * 1 m/kg }
tub walls { a: p.pipe.wall  b: p.pipe.across }
check "steel": p.steel == mild
check "given" when given(p.mark): f.deep < 1 m
check "grade" when p.pipe.grade == "A": f.deep < 1 m
check "wall" when given(p.pipe.wall): f.deep < 1 m
check "spare" when given(p.spare): f.deep < 1 m
check "list" when given(f.pins): f.deep < 1 m
check "all": sum(each(pin).long) < 1 m
check "listed": sum(f.pins.long) < 1 m
check "marks": item(p.marks, 1) == "a"
check "far": parts.q.long < 1 m
relation "own": f.load = 2 * g.load
curve bend "Bend": p.thick * x over x from 0 to 2
`;
const beside = `pin q { long: 20 mm }
`;

class Shop {
  private readonly texts = new Map([
    [root, build],
    [parts, beside],
  ]);
  private readonly analyzer = new Analyzer(memoryHost(this.texts, [folder]), library());

  edit(from: string, to: string): void {
    for (const [uri, text] of this.texts) {
      if (!text.includes(from)) continue;
      this.texts.set(uri, text.replace(from, to));
      return;
    }
    throw new Error(`${from} is in the build`);
  }

  rows() {
    return this.rowsBy(this.analyzer);
  }

  afresh() {
    return this.rowsBy(new Analyzer(memoryHost(this.texts, [folder]), library()));
  }

  private rowsBy(analyzer: Analyzer) {
    const { reading } = analyzer.analyze(root) as BuildAnalysis;
    return reading.rows.map(({ placed, row }) => {
      const { node } = placed.item;
      const titled = "title" in node ? node.title?.value : undefined;
      return { name: row.thing?.path ?? titled ?? node.type, row };
    });
  }
}

/** Names of the rows that are made anew where `from` becomes `to`; all are as they are read afresh. */
function remade(from: string, to: string): string[] {
  const shop = new Shop();
  const before = new Set(shop.rows().map(({ row }) => row));
  shop.edit(from, to);
  const after = shop.rows();
  const text = (rows: typeof after) => rows.map(({ name, row }) => `${name} ${rowText(row)}`);
  expect(text(after)).toEqual(text(shop.afresh()));
  return after.filter(({ row }) => !before.has(row)).map(({ name }) => name);
}

describe("made anew are a thing that is edited and", () => {
  test.each([
    ["what reads a table by its figure", "long: 10 mm  s", "long: 20 mm  s", ["p", "table"]],
    ["nothing else for a remark", "long: 10 mm  s", "long: 10 mm # so\n  s", ["p"]],
    [
      "what speaks of a figure that is worked out now",
      "long: 10 mm  s",
      "s",
      ["p", "f", "table", "all"],
    ],
    [
      "what reads a table by a figure that is a formula now",
      "long: 10 mm  s",
      "long: 5 mm + 5 mm  s",
      ["p", "table"],
    ],
    [
      "what speaks of a figure whose default falls away",
      "long: 10 mm  s",
      "long: 10 mm  thick: 3 mm  s",
      ["p", "f", "Bend"],
    ],
    ["what asks for its word", "long: 10 mm  s", "steel: hard  long: 10 mm  s", ["p", "steel"]],
    [
      "nothing else where a default is written out",
      "long: 10 mm  s",
      "steel: mild  long: 10 mm  s",
      ["p"],
    ],
    [
      "what asks whether something is given",
      "long: 10 mm  s",
      'mark: "x"  long: 10 mm  s',
      ["p", "given"],
    ],
    [
      "what asks whether it names another",
      "long: 10 mm  s",
      "spare: parts.q  long: 10 mm  s",
      ["p", "spare"],
    ],
    ["what works with its kit", "[1 mm, 2 mm]", "[1 mm, 3 mm]", ["p", "kit"]],
    ["what asks for a word of its list", "[a, b]", "[c, b]", ["p", "marks"]],
    ["what asks for its designation", "2 A", "2 B", ["p", "walls", "grade", "wall"]],
    [
      "what asks for what its designation leaves out",
      "48.3x2 A",
      "48.3",
      ["p", "walls", "grade", "wall"],
    ],
    ["nothing else for a figure deeper inside", "long: 3 mm", "long: 4 mm", ["p"]],
    ["what names a thing that is gone", "pin inner", "pin outer", ["p", "of", "all"]],
    [
      "what speaks of what is asked for now",
      "long: 10 mm  s",
      "slack: ?  long: 10 mm  s",
      ["p", "h"],
    ],
    ["what speaks of a part of it", "long: 10 mm  s", "grip.turns: 4  long: 10 mm  s", ["p", "of"]],
    ["what goes by way of it", "frame f { pin: p }", "frame f { pin: parts.q }", ["f", "h"]],
    [
      "what goes through its list",
      "frame f { pin: p }",
      "frame f { pin: p  pins: [p, parts.q] }",
      ["f", "list", "listed"],
    ],
    ["nothing else for a figure in another file", "long: 20 mm }", "long: 21 mm }", ["parts.q"]],
    [
      "what speaks of a figure in another file",
      "long: 20 mm }",
      "long: 20 mm  thick: 1 mm }",
      ["g", "parts.q"],
    ],
    ["what names a thing in another file", "pin q", "pin r", ["g", "all", "far", "parts.r"]],
    [
      "what names a thing that is gone, and what is inside of it",
      "pin p {",
      "pin pp {",
      "pp f h of kit table walls steel given grade wall spare all marks Bend".split(" "),
    ],
    ["what counts all of its kind", "frame h", "pin z { long: 1 mm }\nframe h", ["z", "all"]],
    ["nothing else for one of another kind", "frame h", "tub z {}\nframe h", ["z"]],
    [
      "what speaks of what is of another kind now",
      "frame g { pin: parts.q }",
      "tub g {}",
      ["g", "own"],
    ],
  ] as [string, string, string, string[]][])("%s", (_, from, to, wanted) => {
    expect(remade(from, to)).toEqual(wanted);
  });
});
