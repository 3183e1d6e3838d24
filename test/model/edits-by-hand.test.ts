/**
 * One edit of each sort, each reaching things that are not edited: what is read again afterwards is
 * what is read afresh, and so is what is read once it is taken back.
 */
import { describe, expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { folder, library } from "./build";
import { stateOf } from "./state";

const root = `${folder}build.trammel`;
const other = `${folder}parts.trammel`;

const build = `use "parts.trammel" as parts
kind pin "Pin" {
  long: length
  thick: length range 1 mm .. 50 mm
  steel: one_of(mild, hard) default mild
  sizes: list of length
  weight: mass optional
}
kind frame "Frame" {
  pin: pin
  deep: length
  wide: length
  both_sides: length
  relation "wide": wide = pin.long + 2 * pin.thick
  relation "hard" when pin.steel == hard: deep = pin.long / 2
  relation "mild" when pin.steel == mild: deep = pin.long / 4
  relation "both": both_sides = sum(pin.sizes)
  check "room": wide >= 20 mm
}
frame f {
  pin: p
  wide: ?
  deep: ?
  both_sides: ?
}
frame g {
  pin: parts.q
  wide: ?
  deep: ?
}
pin p {
  long: 40 mm ± 1 mm
  thick: 4 mm
  sizes: [1 mm, 2 mm]
}
table stock "Stock" {
  key size: length in mm
  price: money
  row 40, 3 usd
  row 50, 4 usd
}
check "price": stock(p.long) <= 5 usd
check "all": sum(each(pin).long) <= 200 mm
check "given" when given(p.weight): p.weight <= 1 kg
relation "own": f.deep = g.deep
option thin { p.thick: 2 mm }
record "r" 2026-03-14 { p.long: 40.5 mm ± 0.2 mm }
`;
const parts = `pin q {
  long: 60 mm
  thick: 5 mm
  steel: hard
}
`;

class Shop {
  readonly texts = new Map([
    [root, build],
    [other, parts],
  ]);
  private readonly analyzer = new Analyzer(memoryHost(this.texts, [folder]), library());

  state(analyzer = this.analyzer) {
    const analysis = analyzer.analyze(root);
    if (analysis === undefined) throw new Error("the root file is there");
    return [
      stateOf(analysis, true),
      stateOf(analysis.asBuilt(), true),
      ...analysis.options.map(({ name }) => {
        const under = analysis.under(name);
        return under && stateOf(under, true);
      }),
    ];
  }

  afresh() {
    return this.state(new Analyzer(memoryHost(new Map(this.texts), [folder]), library()));
  }
}

describe("after an edit", () => {
  test.each([
    ["a length something else rests on", root, "long: 40 mm ± 1 mm", "long: 50 mm ± 1 mm"],
    ["its tolerance alone", root, "± 1 mm", "± 2 mm"],
    ["a word that decides a relation", root, "thick: 4 mm", "thick: 4 mm\n  steel: hard"],
    ["a word in another file", other, "steel: hard", "steel: mild"],
    ["a length in another file", other, "long: 60 mm", "long: 70 mm"],
    ["where a name leads", root, "pin: p", "pin: parts.q"],
    ["where a name leads, to nothing", root, "pin: p", "pin: nothing"],
    ["what a file is called", root, "as parts", "as pieces"],
    ["one item more in a list", root, "[1 mm, 2 mm]", "[1 mm, 2 mm, 3 mm]"],
    ["one item of a list", root, "[1 mm, 2 mm]", "[1 mm, 3 mm]"],
    ["no list any more", root, "  sizes: [1 mm, 2 mm]\n", ""],
    ["a row of a table", root, "row 40, 3 usd", "row 40, 6 usd"],
    ["a key of a table", root, "row 40, 3 usd", "row 41, 3 usd"],
    ["the relation of a kind", root, "2 * pin.thick", "3 * pin.thick"],
    ["the condition of a relation", root, "pin.steel == hard", "pin.steel == mild"],
    ["the range of a field", root, "range 1 mm .. 50 mm", "range 1 mm .. 3 mm"],
    ["the default of a field", root, "default mild", "default hard"],
    ["a kind's check", root, "wide >= 20 mm", "wide >= 200 mm"],
    ["one thing more of a kind", other, "pin q {", "pin r { long: 120 mm }\npin q {"],
    ["one thing less of a kind", root, "frame g {\n  pin: parts.q\n", "frame g {\n"],
    [
      "what is given where it was asked whether",
      root,
      "thick: 4 mm",
      "thick: 4 mm\n  weight: 2 kg",
    ],
    ["the name of a thing", root, "pin p {", "pin o {"],
    ["the name of a field", root, "  long: length\n", "  length: length\n"],
    ["the kind of a field", root, "  long: length\n", "  long: mass\n"],
    ["a relation of the build", root, "f.deep = g.deep", "f.wide = g.wide"],
    ["an option", root, "p.thick: 2 mm }", "p.thick: 3 mm }"],
    ["an option's path", root, "thin { p.thick", "thin { parts.q.thick"],
    ["a record", root, "40.5 mm ± 0.2 mm", "41.5 mm ± 0.2 mm"],
    ["a record's day", root, "2026-03-14", "2026-03-15"],
    ["a remark", root, "pin p {", "# a remark\npin p {"],
    ["a field asked for", root, "  thick: 4 mm", "  thick: 4 mm\n  weight: ?"],
    ["a line that cannot be read", root, "thick: 4 mm", "thick: 4 mm }"],
    ["a kind of the same name", other, "pin q {", 'kind frame "Other" {}\npin q {'],
    ["the file taken in twice", root, "as parts", 'as parts\nuse "parts.trammel" as again'],
  ] as const)("%s", (_, path, from, to) => {
    const shop = new Shop();
    const before = shop.state();
    const text = shop.texts.get(path) ?? "";
    expect(text.includes(from)).toBe(true);
    shop.texts.set(path, text.replace(from, to));
    const after = shop.state();
    expect(after).toEqual(shop.afresh());
    shop.texts.set(path, text);
    expect(shop.state()).toEqual(before);
  });

  test("of the file that is taken in, gone and back again", () => {
    const shop = new Shop();
    const before = shop.state();
    shop.texts.delete(other);
    expect(shop.state()).toEqual(shop.afresh());
    expect(shop.state()).not.toEqual(before);
    shop.texts.set(other, parts);
    expect(shop.state()).toEqual(before);
  });
});
