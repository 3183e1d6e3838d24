/**
 * The things of a build, wholly: which are there, opened or not, and which line is written into each,
 * from its own block, by its path from elsewhere, through references, by options and records.
 */
import { describe, expect, test } from "vitest";
import { analyzed } from "./build";
import { kinds } from "./frames";
import { built, builtIn } from "./tree-text";

describe("lines are written", () => {
  test("into a thing, its parts, things inside and items of lists", () => {
    expect(
      built(`${kinds}pin p "The pin" { long: 3 mm made to 1 mm ± 1/2 mm  wide: ? near 4 mm }
frame f "The frame" {
  pin: p
  plate { thick: 5 mm  pin.long: 4 mm }
  plate.pin.wide: 6 mm
  plate.both.pipe: 33
  plate { second.wide: 7 mm }
  pins "one" { long: 1 mm }
  pins { long: 2 mm }
  pin.wide: 9 mm
  pin x "X" { long: 8 mm }
  x.wide: 8 mm
  x { pipe: 3 A }
  relation "r": weight = 3 kg
  check "c": weight < 9 kg
  curve c: x over x from 0 to 1
  weight: 2 kg ± 1 kg uniform together "scale"
}
frame g { plate { both { long: 3 mm  sizes: [1 mm] } } }
frame h { pin: f.x  spare { long: 1 mm }  spare.wide: 2 mm }
frame i { pin { long: 1 mm }  plate.pin.pipe.grade: ? }
frame j { pin.long: ? }
`),
    ).toMatchInlineSnapshot(`
      "p pin "The pin" | long: 3 mm made to 1 mm ± 1/2 mm made to 1 mm | wide: 9 mm | asked wide: ? near 4 mm
      f frame "The frame" 1 relations 1 checks 1 curves | pin: p | weight: 2 kg ± 1 kg uniform together "scale"
      f.plate plate | thick: 5 mm
      f.plate.pin pin | long: 4 mm | wide: 6 mm | pipe: 33 said of several
      f.plate.second pin | pipe: 33 said of several | wide: 7 mm
      f.x pin "X" | long: 8 mm | wide: 8 mm | pipe: 3 A
      f.pins.1 pin "one" called pins 1 | long: 1 mm
      f.pins.2 pin called pins 2 | long: 2 mm
      g frame
      g.plate plate
      g.plate.pin pin | long: 3 mm said of several | sizes: [1 mm] said of several
      g.plate.second pin | long: 3 mm said of several | sizes: [1 mm] said of several
      h frame | pin: f.x
      h.spare pin | long: 1 mm | wide: 2 mm
      h.plate plate unspoken
      h.plate.pin pin unspoken
      h.plate.second pin unspoken
      i frame
      i.pin pin | long: 1 mm
      i.plate plate only asked for
      i.plate.pin pin only asked for | asked pipe.grade: ?
      i.plate.second pin unspoken
      j frame
      j.plate plate unspoken
      j.plate.pin pin unspoken
      j.plate.second pin unspoken
      j.pin pin stands in only asked for | asked long: ?
      told missing/value: j.pin.long cannot be worked out yet: nothing in the build leads to it"
    `);
  });

  test("from outside, by their paths", () => {
    expect(
      built(`${kinds}pin p {}
f.plate.second.long: 1 in
f.form: square
f.plate.pin.pipe.across: 30 mm
f.plate.both.wide: 2 mm
f.pin.long: 3 mm
f.x.long: 4 mm
g.pin.long: 5 mm
h.plate.thick: 6 mm
plate x {}
frame h { plate: x  plate.pin.long: 7 mm }
frame f { pin: p  pin x {} }
frame g {}
`),
    ).toMatchInlineSnapshot(`
      "p pin | long: 3 mm
      x plate | thick: 6 mm
      x.pin pin | long: 7 mm
      x.second pin unspoken
      h frame | plate: x
      f frame | pin: p | form: square
      f.plate plate
      f.plate.pin pin | pipe.across: 30 mm | wide: 2 mm said of several
      f.plate.second pin | long: 1 in | wide: 2 mm said of several
      f.x pin | long: 4 mm
      g frame
      g.plate plate unspoken
      g.plate.pin pin unspoken
      g.plate.second pin unspoken
      g.pin pin stands in | long: 5 mm"
    `);
  });

  test("through references that nobody set, five deep and no deeper", () => {
    const chain = Array.from(
      { length: 8 },
      (_, at) => `kind k${at} { next: k${at + 1}  x: length }`,
    );
    expect(
      built(`${chain.join("\n")}
kind k8 { x: length }
kind round { next: round  x: length }
k0 a {}
a.next.next.next.next.next.x: 1 mm
k0 b {}
b.next.next.next.next.next.next.x: 1 mm
round c { next.x: 1 mm  next.next.x: 2 mm }
`),
    ).toMatchInlineSnapshot(`
      "a k0
      a.next k1 stands in
      a.next.next k2 stands in
      a.next.next.next k3 stands in
      a.next.next.next.next k4 stands in
      a.next.next.next.next.next k5 stands in | x: 1 mm
      b k0
      c round
      c.next round stands in | x: 1 mm
      told name/unknown: \`b.next.next.next.next.next.next\` is not there yet | say first which one it is, \`next: …\`, or open it there with braces
      told name/unknown: \`next.next\` is not there yet | say first which one it is, \`next: …\`, or open it there with braces"
    `);
  });

  test("nowhere where names or values lead nowhere, which is told", () => {
    expect(
      built(`${kinds}pin p {}
frame f {
  nothing: 3 mm
  plate.nothing: 3 mm
  plate.thick.more: 3 mm
  plate.pin.pipe.more: 3 mm
  nobody.long: 3 mm
  pin: p
  pin { long: 3 mm }
  form { long: 3 mm }
  form.x: 2
  weight: 1 kg
  weight: 2 kg
  plate.pin.long: 1 mm
  plate { pin.long: 2 mm }
  pin pin {}
  pin x {}
  pin x {}
  pinn y {}
  nothing { long: 1 mm }
  spare { long: 2 mm }
  spare: p
  both { long: 3 mm }
  both.long: 3 mm
  both: 3 mm
  plate.both: 3 mm
  plate.both.both: 3 mm
  pins: [p, 3, "x", f, f.plate, q]
}
frame g { plate: p  pin: g  pins: g.plate.pin }
frame h { pin: pin }
frame i { spare: pin  pin: spare }
frame j { pin: pin.more }
f.both.long: 3 mm
f.plate.both: 4 mm
f.pins.long: 3 mm
f.nothing: 3
weight: 3 kg
f.weight: 4 kg
nobody.weight: 5 kg
p.long.more: 3 mm
p.pipe.more: 3 mm
frame f {}
plat x {}
`),
    ).toMatchInlineSnapshot(`
      "p pin
      f frame | pin: p | weight: 1 kg | pins: [p, 3, "x", f, f.plate, q]
      f.plate plate
      f.plate.pin pin | long: 1 mm
      f.plate.second pin unspoken
      f.spare pin | long: 2 mm
      f.x pin
      g frame | plate: p | pin: g | pins: g.plate.pin
      h frame | pin: pin
      h.plate plate unspoken
      h.plate.pin pin unspoken
      h.plate.second pin unspoken
      i frame | spare: pin | pin: spare
      i.plate plate unspoken
      i.plate.pin pin unspoken
      i.plate.second pin unspoken
      j frame | pin: pin.more
      j.plate plate unspoken
      j.plate.pin pin unspoken
      j.plate.second pin unspoken
      told name/unknown-field: a frame has no field \`nothing\` | known here: plate, pin, spare, pins, form, weight
      told name/unknown-field: a plate has no field \`nothing\` | known here: thick, pin, second
      told name/unknown: \`thick\` is a single value and has nothing inside
      told name/unknown: \`pipe\` has no part \`more\` | known here: across, grade
      told name/unknown: there is nothing called \`nobody\` here | known here: plate, pin, spare, pins, form, weight, x, p, f, g, …
      told given/twice: \`f.pin\` is both named and opened with braces | keep one of the two
      told given/not-a-part: \`f.form\` is a single value, it cannot be opened with braces | write \`form: …\`
      told name/unknown: \`form\` is a single value and has nothing inside
      told given/twice: \`f.weight\` is given twice | keep one of the two values
      told given/twice: \`f.plate.pin.long\` is given twice | keep one of the two values
      told name/duplicate: \`pin\` is a field of a frame already | give this one another name
      told name/duplicate: \`f\` has something called \`x\` already | give this one another name
      told name/unknown-kind: there is no kind of thing called \`pinn\` | did you mean \`pin\`?
      told name/unknown-field: a frame has no field \`nothing\` | known here: plate, pin, spare, pins, form, weight, x
      told given/twice: \`f.spare\` is both opened with braces and named | keep one of the two
      told name/unknown-field: a frame has no two parts of one kind that \`both\` could stand for | write the name of the part that is meant
      told name/unknown: there is nothing called \`both\` here | known here: plate, pin, spare, pins, form, weight, x, p, f, g, …
      told name/unknown-field: a frame has no two parts of one kind that \`both\` could stand for | write the name of the part that is meant
      told name/unknown-field: \`both\` stands for \`pin\` and \`second\`, which are no single value | open it with braces: \`both { … }\`
      told name/unknown-field: a pin has no two parts of one kind that \`both\` could stand for | write the name of the part that is meant
      told name/not-a-thing: the name of a pin is expected here | known here: p
      told name/not-a-thing: the name of a pin is expected here | known here: p
      told reference/itself: \`f\` refers to itself as its \`pins\` | name another pin
      told name/wrong-kind: a pin is expected here, \`f.plate\` is a plate | known here: p
      told name/unknown: there is nothing called \`q\` here | did you mean \`p\`?
      told name/wrong-kind: a plate is expected here, \`p\` is a pin | there is no plate in this file or those it uses
      told reference/itself: \`g\` refers to itself as its \`pin\` | name another pin
      told name/unknown: there is nothing called \`pin\` here | known here: p
      told reference/itself: \`i.spare\` is found by way of itself | write the name of the pin that is meant
      told reference/itself: \`j.pin\` is found by way of itself | write the name of the pin that is meant
      told name/unknown-field: a frame has no two parts of one kind that \`both\` could stand for | write the name of the part that is meant
      told name/unknown-field: \`both\` stands for \`pin\` and \`second\`, which are no single value | open it with braces: \`both { … }\`
      told name/unknown: \`f.pins\` stands for several things | write it into the one that is meant, by its own name
      told name/unknown-field: a frame has no field \`nothing\` | known here: plate, pin, spare, pins, form, weight, x
      told name/unknown: \`weight\` stands alone: it does not say of which thing | write it inside of a thing, or after its name: \`f.weight\` or \`g.weight\` or \`h.weight\`
      told given/twice: \`f.weight\` is given twice | keep one of the two values
      told name/unknown: there is nothing called \`nobody\` here | known here: p, f, g, h, i, j, x
      told name/unknown: \`long\` is a single value and has nothing inside
      told name/unknown: \`pipe\` has no part \`more\` | known here: across, grade
      told name/duplicate: there is something called \`f\` already | give one of the two another name
      told name/unknown-kind: there is no kind of thing called \`plat\` | did you mean \`plate\`?"
    `);
  });

  test("by no name that leads back to the line it is written in, or on and on", () => {
    const told = (text: string) =>
      analyzed(kinds + text).findings.map(({ code, message }) => `${code}: ${message}`);
    const itself = (path: string) => `reference/itself: \`${path}\` is found by way of itself`;
    const chain = (count: number) =>
      `${Array.from({ length: count }, (_, at) => `frame f${at} { pin: f${at + 1}.pin }`).join("\n")}
frame f${count} { pin: p }
pin p { long: 2 mm }
check "long": f0.pin.long < 1 m`;
    expect(told("frame i { pin: i.pin }")).toEqual([itself("i.pin")]);
    expect(told("frame i { pin: pin.long }")).toEqual([itself("i.pin")]);
    expect(told("frame i { spare: pin  pin: spare }")).toEqual([itself("i.spare")]);
    expect(told("frame i { spare: j.pin }\nframe j { pin: i.spare }")).toEqual([
      itself("i.spare"),
      itself("j.pin"),
    ]);
    expect(told("frame h { pin: i.pin }\nframe i { pin: i.pin }")).toEqual([itself("i.pin")]);
    expect(told("frame i { pins: [i.pins] }")).toContain(itself("i.pins"));
    expect(told(chain(99))).toEqual([]);
    const farOff = (path: string) =>
      `reference/itself: \`${path}\` is found by way of more than 100 others that name each other`;
    const ofReferences = (text: string) =>
      told(text).filter((each) => each.startsWith("reference/"));
    expect(ofReferences(chain(100))).toEqual([farOff("f0.pin")]);
    expect(ofReferences(chain(101))).toEqual([farOff("f0.pin"), farOff("f1.pin")]);
  });

  test("by a way of a hundred names and no more", () => {
    const told = (names: number, list = false) => {
      const way = Array.from({ length: names - 2 }, () => (list ? "next" : "on")).join(".");
      const formula = list ? `sum(a.${way}.x)` : `a.${way}.x`;
      const text = `kind link { on: link  next: list of link  x: length }
link a { on: b  next: [b]  x: 1 mm }
link b { on: a  next: [a]  x: 2 mm }
check "far": ${formula} < 1 m`;
      return analyzed(text).findings.map(({ code, message }) => `${code}: ${message}`);
    };
    const tooFar = ["name/unknown: a way of more than 100 names is not followed"];
    for (const list of [false, true]) {
      expect(told(100, list)).toEqual([]);
      expect(told(101, list)).toEqual(tooFar);
      expect(told(5_000, list)).toEqual(tooFar);
    }
  });

  test("by options and records, which go before what the spec says", () => {
    const analysis = analyzed(`${kinds}pin p { long: 3 mm  wide: 4 mm }
pin q { long: 5 mm }
frame f { pin: p  weight: 2 kg  plate.pin.long: 1 mm }
option light { f.weight: 1 kg  p.wide: ?  f { plate { thick: 2 mm }  plate.both.wide: 3 mm } }
option other { f.pin: q  f.pin.wide: 6 mm }
option free { f.pin: ? }
record "scales" 2026-03-14 { f.weight: 2.1 kg ± 0.05 kg  p.long: 3.1 mm }
record 2026-04-02 { f.weight: 2.2 kg  f.plate { thick: 4 mm } }
`);
    const views = [
      analysis,
      ...["light", "other", "free"].map((name) => analysis.under(name)),
      analysis.asBuilt(),
    ];
    expect(views.map((view) => view && builtIn(view)).join("\n\n")).toMatchInlineSnapshot(`
      "p pin | long: 3 mm | wide: 4 mm
      q pin | long: 5 mm
      f frame | pin: p | weight: 2 kg
      f.plate plate
      f.plate.pin pin | long: 1 mm
      f.plate.second pin unspoken
      told missing/value: with option light: p.wide cannot be worked out yet: nothing in the build leads to it

      p pin | long: 3 mm | asked wide: ? by option
      q pin | long: 5 mm
      f frame | pin: p | weight: 1 kg by option
      f.plate plate | thick: 2 mm by option
      f.plate.pin pin | long: 1 mm | wide: 3 mm by option said of several
      f.plate.second pin | wide: 3 mm by option said of several
      told missing/value: p.wide cannot be worked out yet: nothing in the build leads to it

      p pin | long: 3 mm | wide: 4 mm
      q pin | long: 5 mm | wide: 6 mm by option
      f frame | pin: q by option | weight: 2 kg
      f.plate plate
      f.plate.pin pin | long: 1 mm
      f.plate.second pin unspoken

      p pin | long: 3 mm | wide: 4 mm
      q pin | long: 5 mm
      f frame | weight: 2 kg | asked pin: ? by option
      f.plate plate
      f.plate.pin pin | long: 1 mm
      f.plate.second pin unspoken

      p pin | long: 3.1 mm by record of 2026-03-14 | wide: 4 mm
      q pin | long: 5 mm
      f frame | pin: p | weight: 2.2 kg by record of 2026-04-02
      f.plate plate | thick: 4 mm by record of 2026-04-02
      f.plate.pin pin | long: 1 mm
      f.plate.second pin unspoken"
    `);
  });
});

test("records with a name or a value that makes no sense are told, each of them", () => {
  expect(
    built(`${kinds}pin p {}
frame f { pin: p  pins { long: 1 mm } }
record 2026-03-01 { f.weight: 1 kg  p { long: 2 mm }  f.plate.both.wide: 3 mm }
record 2026-03-02 { f.weight: 1 mm  p { long: 2 mm }  f.plate.both.wide: 3 mm }
record 2026-03-03 { f.weight: 1 kg  p { long: 2 kg }  f.plate.both.wide: 3 mm }
record 2026-03-04 { f.weight: 1 kg  p { long: 2 mm }  f.plate.both.wide: 3 kg }
record 2026-03-05 { f.weight: 2 kg }
record 2026-03-06 { f.weight: "heavy" }
record 2026-03-07 { f.weight: 3 kg }
record 2026-03-08 { f.wieght: 3 kg }
record 2026-03-09 { f { weight: 3 mm } }
record 2026-03-10 { f { plate { pin { long: 3 kg } } } }
record 2026-03-11 { f { nothing { long: 3 mm } } }
record 2026-03-12 { f.weight.more: 3 kg }
record 2026-03-13 { p.pipe.across: 3 kg  p.pipe.grade: 3 kg }
record 2026-03-14 { f.form: 3 kg }
record 2026-03-15 { f.pins.long: 3 kg }
record 2026-03-16 { p { long: 1 mm  wide: 2 kg } }
record 2026-03-17 { f { form { x: 3 } } }
`),
  ).toMatchInlineSnapshot(`
    "p pin
    f frame | pin: p
    f.plate plate unspoken
    f.plate.pin pin unspoken
    f.plate.second pin unspoken
    f.pins.1 pin called pins 1 | long: 1 mm
    told unit/wrong: a mass is expected here, \`mm\` is a unit of length | units of mass are lb, kg or oz
    told unit/wrong: a length is expected here, \`kg\` is a unit of mass | units of length are in, mm or ft
    told unit/wrong: a length is expected here, \`kg\` is a unit of mass | units of length are in, mm or ft
    told value/not-a-number: a mass is expected here, not a text | write for example \`2.5 lb\`
    told name/unknown-field: a frame has no field \`wieght\` | did you mean \`weight\`?
    told unit/wrong: a mass is expected here, \`mm\` is a unit of length | units of mass are lb, kg or oz
    told unit/wrong: a length is expected here, \`kg\` is a unit of mass | units of length are in, mm or ft
    told name/unknown: there is nothing called \`nothing\` here | known here: plate, pin, spare, pins, form, weight, p, f
    told name/unknown: \`weight\` is a single value and has nothing inside
    told unit/wrong: a length is expected here, \`kg\` is a unit of mass | units of length are in, mm or ft
    told unit/wrong: a length is expected here, \`kg\` is a unit of mass | units of length are in, mm or ft"
  `);
});
