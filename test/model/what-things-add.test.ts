/**
 * What each thing and line of a build adds to its equations, checks and curves, wholly: every
 * equation as one would write it by hand for that very thing, and nothing beside them.
 */
import { describe, expect, test } from "vitest";
import type { Row } from "../../server/model/model";
import { analyzed } from "./build";
import { added, rowsOf } from "./row-text";

const figures = `kind beam "Beam" {
  long: length range 1 mm..10 m
  wide: length default 2 in
  deep: length default 2 * wide ± 1 mm
  area: area
  share: ratio default 0.5
  form: one_of(round, square) default round
  name: text
}
`;

const beam = figures.replace(
  "}\n",
  `  relation "area" when form == square: area = wide * deep
  relation "round": area = 0.785 * wide ^ 2 ± 3 mm^2
  relation "far" when long > 1 m: deep = long / 20
  relation "named" when given(name): wide = long / 10
  assume "usual": long = 4 ft
  check "stiff": deep >= long / 20
  check "square" when form == square: deep == wide
  check "slim" when long > 1 m: deep < long / 10 or wide < 3 in
  check "not flat": not (wide > 2 * deep)
  curve bend "Bending": deep * x / long over x from 0 mm to long step long / 4
}
`,
);

const kit = `kind post "Post" { load: mass }
kind kit "Kit" {
  sizes: list of length
  counts: list of count
  words: list of text
  gap: length
  got: length
  pieces: count
  all: length
  posts: list of post
  load: mass
  third: length
  relation "got": got = stack(sizes, gap, 0.1 mm)
  relation "within": got = stack(sizes, gap, 0.2 mm, counts)
  relation "pieces": pieces = stack_count(sizes, gap, 0.1 mm)
  relation "all": all = sum(sizes)
  relation "mean": all = 3 * mean(sizes)
  relation "third": third = item(sizes, 3)
  relation "load": load = sum(posts.load)
  check "many": count(sizes) <= 3
  check "most": max(sizes) < gap
  check "words": count(words) == 2
  check "least" when given(words): min(sizes) > 0 mm
}
`;

const wheelset = `designation pipe_size "Pipe" {
  across: length
  wall: length
  grade: text
  form "{across mm}x{wall mm}[ {grade text}]"
  form "{across mm}"
}
kind boss "Boss" { bore: length  deep: length default 3 mm }
kind rim of wheelset "Rim" {
  gap: length
  boss: boss optional
  pipe: pipe_size
  relation "gap": gap = 2 * width + owner.reach
  relation "bore": gap = boss.bore + owner.boss.deep
  relation "wall": gap = pipe.wall * 2
  relation "grade" when pipe.grade == "A": gap = pipe.across
  check "thick": pipe.wall > 1 mm
    needs "a wall"
  check "graded": pipe.grade == "A"
  check "graded too": pipe.grade == "B"
    needs "a grade"
  check "given" when given(pipe.wall): pipe.wall < 9 mm
  check "thin" when pipe.grade == "A": pipe.wall < 3 mm
    needs "a grade"
}
kind wheelset "Wheelset" {
  left: part rim
  right: part rim
  boss: boss
  width: length
  reach: length
  relation "width": width = left.gap + right.gap
  relation "across": width = left.pipe.across + boss.bore
}
`;

describe("a thing of a kind adds", () => {
  test("the relations and checks that its words leave, over its own figures", () => {
    expect(
      added(`${beam}beam a { long: 4 ft  area: ? }
beam b { form: square  long: a.long + 1 ft  name: "b"  wide: 3 in wanted }
`),
    ).toMatchInlineSnapshot(`
      "a: a.long a.area a.wide a.deep
        a.wide = 0.0508 [default by default, length]
        a.area = 0.785 * (a.wide ^ 2) ± 0.000003 [relation by relation "round", area]
        a.deep = 2 * a.wide ± 0.001 [default by default, length]
        a.deep = a.long / 20 when a.long > 1 [relation by relation "far", length]
        a.long = 1.2192 [assumed by relation "usual", length]
        check "stiff": a.deep >= a.long / 20 (>= length)
        check "slim": (a.deep < a.long / 10 or a.wide < 0.0762) when a.long > 1
        check "not flat": not (a.wide > 2 * a.deep)
        curve bend "Bending" = (a.deep * slot 1) / a.long (length) over length in slot 1 from 0 to a.long step a.long / 4
        a.area = ?
        reads a: form

      b: b.long a.long b.wide b.area b.deep
        b.long = a.long + 0.3048 [relation by formula, length]
        b.wide = 0.0762 [wanted by wish, length]
        b.deep = 2 * b.wide ± 0.001 [default by default, length]
        b.area = b.wide * b.deep [relation by relation "area", area]
        b.area = 0.785 * (b.wide ^ 2) ± 0.000003 [relation by relation "round", area]
        b.deep = b.long / 20 when b.long > 1 [relation by relation "far", length]
        b.wide = b.long / 10 [relation by relation "named", length]
        b.long = 1.2192 [assumed by relation "usual", length]
        check "stiff": b.deep >= b.long / 20 (>= length)
        check "square": b.deep == b.wide (== length)
        check "slim": (b.deep < b.long / 10 or b.wide < 0.0762) when b.long > 1
        check "not flat": not (b.wide > 2 * b.deep)
        curve bend "Bending" = (b.deep * slot 1) / b.long (length) over length in slot 1 from 0 to b.long step b.long / 4
        reads b: form name"
    `);
  });

  test("what defaults say of figures that somebody speaks of, a default that stands as a relation", () => {
    expect(
      added(`kind steel "Steel" {
  density: density constant default 7850 kg/m^3
  price: money default 2 USD
  feed: speed setting default 100 mm/min
  slack: length found out default 1 mm
  play: length found out default 2 mm
  long: length default sum(play, slack)
  share: ratio default 0 shown
  weight: mass
  area: area
  relation "weight": weight = density * area * long + 0 kg
  relation "play": long = slack + play
}
steel s { area: 1 cm^2  slack: ? }
steel t { density: ?  weight: 2 kg }
`),
    ).toMatchInlineSnapshot(`
      "s: s.area s.slack s.weight s.density s.long s.play s.share
        s.slack = 0.001 [asked by default, length]
        s.density = 7850 [relation by default, density]
        s.play = 0.002 [relation by default, assumed, length]
        s.long = s.play + s.slack [default by default, length]
        s.weight = ((s.density * s.area) * s.long) + 0 [relation by relation "weight", mass]
        s.long = s.slack + s.play [relation by relation "play", length]
        s.share = 0 [default by default, ratio]
        s.slack = ?

      t: t.weight t.density t.area t.long t.play t.slack t.share
        t.density = 7850 [relation by default, density]
        t.play = 0.002 [relation by default, assumed, length]
        t.slack = 0.001 [relation by default, assumed, length]
        t.long = t.play + t.slack [default by default, length]
        t.weight = ((t.density * t.area) * t.long) + 0 [relation by relation "weight", mass]
        t.long = t.slack + t.play [relation by relation "play", length]
        t.share = 0 [default by default, ratio]
        t.density = ?"
    `);
  });

  test("nothing of what is written wrong, which is told", () => {
    expect(
      added(`${figures}beam a { long: 4 kg  wide: "wide"  area: a.wide  deep: deep + 1 mm  share: a.nothing }
beam b { deep: a.form  area: 0  form: oval  wide: 4 in ± 1 kg }
beam c { area: 2 - 2  long: 2 - 1  name: ?  form: ? }
`),
    ).toMatchInlineSnapshot(`
      "a: a.long a.wide a.area a.deep a.share
        told unit/wrong
        told value/not-a-number
        told unit/clash
        told reference/itself formula
        told name/unknown-field

      b: b.deep b.area b.wide
        reads a: form
        told value/not-a-number result
        told unit/missing
        told value/not-a-choice
        told unit/wrong

      c: c.area c.long
        c.area = 0 [relation by formula, area]
        told unit/clash
        told missing/not-a-figure
        told missing/not-a-figure"
    `);
  });
});

test("a default that names its own field gives nothing, and nothing is told of it in a thing", () => {
  expect(
    added(`kind slug "Slug" { a: length default a + 1 mm  b: length default 2 * c  c: length default 2 * b }
slug s { a: ?  b: ? }
`),
  ).toMatchInlineSnapshot(`
    "s: s.a s.b s.c
      s.c = 2 * s.b [default by default, length]
      s.b = 2 * s.c [default by default, length]
      s.a = ?
      s.b = ?"
  `);
});

test("a question that is no figure is told with what could stand there", () => {
  const { findings } = rowsOf(
    analyzed(`${wheelset}boss h { bore: 20 mm }
kind sled "Sled" { form: one_of(round, square)  name: text  boss: boss  boss_of_its_own: part boss  pipe: pipe_size }
sled s { form: ?  name: ?  boss: ?  boss_of_its_own: ?  pipe: ?  pipe.wall: ?  pipe.grade: ? }
`),
  ).at(-1) as Row;
  expect(
    findings.map((found) => {
      const { is, field, choices, kind } = found as { is: string } & Record<string, unknown>;
      return [is, field, choices, kind];
    }),
  ).toMatchInlineSnapshot(`
    [
      [
        "missing/not-a-figure",
        "form",
        [
          "round",
          "square",
        ],
        undefined,
      ],
      [
        "missing/not-a-figure",
        "name",
        undefined,
        undefined,
      ],
      [
        "missing/not-a-figure",
        "boss",
        undefined,
        "boss",
      ],
      [
        "missing/not-a-figure",
        "boss_of_its_own",
        undefined,
        "boss",
      ],
      [
        "missing/not-a-figure",
        "pipe",
        undefined,
        undefined,
      ],
    ]
  `);
});

test("what is wrong with a name in one thing is told of that thing, not of those that go by way of it", () => {
  expect(
    added(`${wheelset}wheelset s { boss: nobody  left { boss: s } }
wheelset t { width: s.boss.bore }
check "bore": s.boss.bore > 1 mm
check "deep": s.left.boss.bore > 1 mm
`),
  ).toMatchInlineSnapshot(`
    "s: s.width s.left.gap s.right.gap s.left.pipe.across s.reach s.left.pipe.wall s.right.pipe.wall
      s.width = s.left.gap + s.right.gap [relation by relation "width", length]
      s.left.gap = (2 * s.width) + s.reach [relation by relation "gap", length]
      s.left.gap = s.left.pipe.wall * 2 [relation by relation "wall", length]
      s.right.gap = (2 * s.width) + s.reach [relation by relation "gap", length]
      s.right.gap = s.right.pipe.wall * 2 [relation by relation "wall", length]
      check "thick": s.left.pipe.wall > 0.001 (> length)
      check "graded too": true [not there]
      check "thin": true [not there]
      check "thick": s.right.pipe.wall > 0.001 (> length)
      check "graded too": true [not there]
      check "thin": true [not there]
      told name/unknown
      told reference/itself

    t: t.width t.left.gap t.right.gap t.left.pipe.across t.boss.bore t.reach t.left.pipe.wall t.right.pipe.wall
      t.width = t.left.gap + t.right.gap [relation by relation "width", length]
      t.width = t.left.pipe.across + t.boss.bore [relation by relation "across", length]
      t.left.gap = (2 * t.width) + t.reach [relation by relation "gap", length]
      t.left.gap = t.left.pipe.wall * 2 [relation by relation "wall", length]
      t.right.gap = (2 * t.width) + t.reach [relation by relation "gap", length]
      t.right.gap = t.right.pipe.wall * 2 [relation by relation "wall", length]
      check "thick": t.left.pipe.wall > 0.001 (> length)
      check "graded too": true [not there]
      check "thin": true [not there]
      check "thick": t.right.pipe.wall > 0.001 (> length)
      check "graded too": true [not there]
      check "thin": true [not there]

    a line: 
      check "bore": true [own] [not there]

    a line: 
      check "deep": true [own] [not there]"
  `);
});

test("a relation that waits for what is not known, or whose measure nobody knows, is left out or has no ±", () => {
  expect(
    added(`${kit}kit k { sizes: [1 mm, 2 mm] }
relation "waits" when item(k.sizes, k.pieces) > 1 mm: k.all = 2 mm
relation "known" when item(k.sizes, 1) > 1 mm: k.all = 2 mm
relation "odd": k.load * k.all = 3 kg * 1 m ± 1 kg
`),
  ).toMatchInlineSnapshot(`
    "k: k.sizes[1] k.sizes[2] k.got k.gap k.pieces k.all k.third k.load
      k.got = stack step {14 points}(k.gap) [relation by relation "got", length]
      k.got = stack step {14 points}(k.gap) [relation by relation "within", length]
      k.pieces = stack_count step {8 points}(k.gap) [relation by relation "pieces", count]
      k.all = k.sizes[1] + k.sizes[2] [relation by relation "all", length]
      k.all = 3 * ((k.sizes[1] + k.sizes[2]) / 2) [relation by relation "mean", length]
      k.load = 0 [relation by relation "load", mass]
      check "many": 2 <= 3 (<= undefined)
      check "most": max(k.sizes[1], k.sizes[2]) < k.gap (< length)
      check "words": 0 == 2 (== undefined)
      stack k.got of k.sizes [0.001 0.002] to k.gap within 0.0001 (length)
      stack k.got of k.sizes [0.001 0.002] times [] to k.gap within 0.0002 (length)

    a line: k.sizes[1] k.sizes[2] k.pieces

    a line: k.sizes[1] k.sizes[2] k.all
      k.all = 0.002 when k.sizes[1] > 0.001 [relation by relation "known", length]

    a line: k.load k.all
      k.load * k.all = 3 [relation by relation "odd", undefined]"
  `);
});

describe("a line at the top of a file adds", () => {
  test("what it says, and what gives the figures nobody wrote", () => {
    expect(
      added(`${figures}beam a { long: 4 ft }
beam b { long: 5 ft }
check "longer": b.long > a.long
check "words": a.form == round
check "when" when a.long > 1 m: b.long > a.long
check "never" when a.form == square: b.long > a.long
check "round" when a.form == round: b.long > a.long
relation "own": b.deep = 2 * a.deep ± 1/16 in
relation when b.deep > 1 in: b.wide = a.wide
relation when b.form == square: b.wide = a.wide
relation when b.form == round: b.wide = a.wide
assume a.share = 0.25
curve lean "Lean": a.long * x over x from 0 to 2
curve rise: x over x from 0 deg to 90 deg step 10 deg
curve part: a.long * share over share from 10 % to a.share
check a.share < 50 %
`),
    ).toMatchInlineSnapshot(`
      "a: a.long

      b: b.long

      a line: b.long a.long
        check "longer": b.long > a.long (> length) [own]

      a line: 
        check "words": true [own]
        reads a: form

      a line: a.long b.long
        check "when": b.long > a.long when a.long > 1 (> length) [own]

      a line: 
        reads a: form

      a line: b.long a.long
        check "round": b.long > a.long (> length) [own]
        reads a: form

      a line: b.deep b.wide a.deep a.wide
        b.wide = 0.0508 [default by default, length]
        b.deep = 2 * b.wide ± 0.001 [default by default, length]
        a.wide = 0.0508 [default by default, length]
        a.deep = 2 * a.wide ± 0.001 [default by default, length]
        b.deep = 2 * a.deep ± 0.0015875 [relation by relation "own", length]

      a line: b.deep b.wide a.wide
        b.wide = 0.0508 [default by default, length]
        b.deep = 2 * b.wide ± 0.001 [default by default, length]
        a.wide = 0.0508 [default by default, length]
        b.wide = a.wide when b.deep > 0.0254 [relation by relation "b.wide = a.wide", length]

      a line: 
        reads b: form

      a line: b.wide a.wide
        b.wide = 0.0508 [default by default, length]
        a.wide = 0.0508 [default by default, length]
        b.wide = a.wide [relation by relation "b.wide = a.wide", length]
        reads b: form

      a line: a.share
        a.share = 0.5 [default by default, ratio]
        a.share = 0.25 [assumed by relation "a.share = 0.25", ratio]

      a line: a.long
        curve lean "Lean" = a.long * slot 1 (length) over number in slot 1 from 0 to 2

      a line: 
        curve rise "rise" = slot 0 (angle) over angle in slot 0 from 0 to 1.57079632679 step 0.174532925199

      a line: a.share a.long
        a.share = 0.5 [default by default, ratio]
        curve part "part" = a.long * slot 1 (length) over ratio in slot 1 from 0.1 to a.share

      a line: a.share
        a.share = 0.5 [default by default, ratio]
        check "a.share < 50 %": a.share < 0.5 (< ratio) [own]"
    `);
  });

  test("nothing where it is wrong, which is told", () => {
    expect(
      added(`${figures}beam a { long: 4 ft }
check "units": a.long > 3 kg
check "when" when a.nothing: a.long > 3 ft
check "list" when a.long: a.long > 3 ft
relation "units": a.long = 3 kg
relation "words": a.form = 3
relation "when" when a.long > 1 kg: a.long = 3 ft
relation "none": 2 = 3
curve units: a.long + x over x from 0 to 2
curve bounds: a.long * x over x from 0 to a.nothing
curve word: a.form over x from 0 to 2
curve unset: a.name over x from 0 to 2
curve named: x over x from 0 to 2 step a.name
curve step: x over x from 0 to 2 step a.form
`),
    ).toMatchInlineSnapshot(`
      "a: a.long

      a line: a.long
        told unit/clash sides

      a line: 
        told name/unknown-field

      a line: a.long
        told value/not-a-condition

      a line: a.long
        told unit/clash sides

      a line: 
        reads a: form
        told value/not-a-number word

      a line: a.long
        told unit/clash sides

      a line: 

      a line: a.long
        told unit/clash sides

      a line: a.long
        told name/unknown-field

      a line: 
        reads a: form
        told value/not-a-number word

      a line: 

      a line: 

      a line: 
        reads a: form
        told value/not-a-number word"
    `);
  });
});

describe("names in a kind lead", () => {
  test("to owners, parts, what references name, and parts of designations", () => {
    expect(
      added(`${wheelset}boss h { bore: 20 mm }
wheelset a { boss: h  width: 1 m  both { pipe: 48.3x2 A } }
`),
    ).toMatchInlineSnapshot(`
      "h: h.bore

      a: a.width a.left.pipe.across a.left.pipe.wall a.right.pipe.across a.right.pipe.wall a.left.gap a.right.gap h.bore a.reach
        a.width = a.left.gap + a.right.gap [relation by relation "width", length]
        a.width = a.left.pipe.across + h.bore [relation by relation "across", length]
        a.left.gap = (2 * a.width) + a.reach [relation by relation "gap", length]
        a.left.gap = a.left.pipe.wall * 2 [relation by relation "wall", length]
        a.left.gap = a.left.pipe.across [relation by relation "grade", length]
        a.right.gap = (2 * a.width) + a.reach [relation by relation "gap", length]
        a.right.gap = a.right.pipe.wall * 2 [relation by relation "wall", length]
        a.right.gap = a.right.pipe.across [relation by relation "grade", length]
        check "thick": a.left.pipe.wall > 0.001 (> length)
        check "graded too": false
        check "given": a.left.pipe.wall < 0.009 (< length)
        check "thin": a.left.pipe.wall < 0.003 (< length)
        check "thick": a.right.pipe.wall > 0.001 (> length)
        check "graded too": false
        check "given": a.right.pipe.wall < 0.009 (< length)
        check "thin": a.right.pipe.wall < 0.003 (< length)
        reads a.left: pipe
        reads a.right: pipe"
    `);
  });

  test("to what stands in for a reference, and nowhere where a designation leaves it out", () => {
    expect(
      added(`${wheelset}boss h { bore: 20 mm }
wheelset b { left { boss: h  pipe: 33.7 }  right.gap: ?  boss.deep: 4 mm  right.pipe.wall: 4 mm }
`),
    ).toMatchInlineSnapshot(`
      "h: h.bore

      b: b.left.pipe.across b.right.pipe.wall b.boss.deep b.right.gap b.width b.left.gap b.boss.bore b.reach h.bore
        b.width = b.left.gap + b.right.gap [relation by relation "width", length]
        b.width = b.left.pipe.across + b.boss.bore [relation by relation "across", length]
        b.left.gap = (2 * b.width) + b.reach [relation by relation "gap", length]
        b.left.gap = h.bore + b.boss.deep [relation by relation "bore", length]
        b.right.gap = (2 * b.width) + b.reach [relation by relation "gap", length]
        b.right.gap = b.right.pipe.wall * 2 [relation by relation "wall", length]
        check "thick": true [not there]
        check "graded too": true [not there]
        check "thin": true [not there]
        check "thick": b.right.pipe.wall > 0.001 (> length)
        check "graded too": true [not there]
        check "given": b.right.pipe.wall < 0.009 (< length)
        check "thin": true [not there]
        b.right.gap = ?
        reads b.left: pipe"
    `);
  });
});

describe("lists of a thing are gone through", () => {
  test("in sums, kits and counts; what a kit makes is kept with its pieces", () => {
    expect(
      added(`${kit}post p { load: 2 kg }
kit k { sizes: [1 mm, 2 mm]  counts: [1, 1]  words: [red, "blue"]  posts: [p, q] }
post q { load: 3 kg }
kit l { posts { load: 4 kg }  posts { load: 5 kg } }
kit one { sizes: 4 mm }
check "sum": sum(each(post).load) < 99 kg
check "number": count(each(post)) == 2
`),
    ).toMatchInlineSnapshot(`
      "p: p.load

      k: k.sizes[1] k.sizes[2] k.counts[1] k.counts[2] k.got k.gap k.pieces k.all k.third k.load p.load q.load
        k.got = stack step {14 points}(k.gap) [relation by relation "got", length]
        k.got = stack step {0:0 0.000500001:0.001 0.001500001:0.002 0.002500001:0.003 1.79769313486e+308:0.003}(k.gap) [relation by relation "within", length]
        k.pieces = stack_count step {8 points}(k.gap) [relation by relation "pieces", count]
        k.all = k.sizes[1] + k.sizes[2] [relation by relation "all", length]
        k.all = 3 * ((k.sizes[1] + k.sizes[2]) / 2) [relation by relation "mean", length]
        k.load = p.load + q.load [relation by relation "load", mass]
        check "many": 2 <= 3 (<= undefined)
        check "most": max(k.sizes[1], k.sizes[2]) < k.gap (< length)
        check "words": 2 == 2 (== undefined)
        check "least": min(k.sizes[1], k.sizes[2]) > 0 (> length)
        stack k.got of k.sizes [0.001 0.002] to k.gap within 0.0001 (length)
        stack k.got of k.sizes [0.001 0.002] times [1 1] to k.gap within 0.0002 (length)
        2 terms

      q: q.load

      l: l.posts.1.load l.posts.2.load l.got l.gap l.pieces l.all l.third l.load
        l.all = 0 [relation by relation "all", length]
        l.load = l.posts.1.load + l.posts.2.load [relation by relation "load", mass]
        check "many": 0 <= 3 (<= undefined)
        check "words": 0 == 2 (== undefined)
        2 terms

      one: one.sizes[1] one.got one.gap one.pieces one.all one.third one.load
        one.got = stack step {8 points}(one.gap) [relation by relation "got", length]
        one.got = stack step {8 points}(one.gap) [relation by relation "within", length]
        one.pieces = stack_count step {8 points}(one.gap) [relation by relation "pieces", count]
        one.all = one.sizes[1] [relation by relation "all", length]
        one.all = 3 * (one.sizes[1] / 1) [relation by relation "mean", length]
        one.load = 0 [relation by relation "load", mass]
        check "many": 1 <= 3 (<= undefined)
        check "most": max(one.sizes[1]) < one.gap (< length)
        check "words": 0 == 2 (== undefined)
        stack one.got of one.sizes [0.004] to one.gap within 0.0001 (length)
        stack one.got of one.sizes [0.004] times [] to one.gap within 0.0002 (length)

      a line: p.load q.load l.posts.1.load l.posts.2.load
        check "sum": (p.load + q.load) + (l.posts.1.load + l.posts.2.load) < 99 (< mass) [own]
        4 terms

      a line: 
        check "number": 4 == 2 (== undefined) [own]
        4 terms"
    `);
  });
});

const tables = `table loads "Loads" {
  key at: length in mm
  load: mass in kg
  lookup linear
  row 0, 0
  row 10, 100
  row 20, 400
}
table grades "Grades" {
  key name: text
  key at: length in mm
  load: mass in kg
  grade: text
  lookup step
  row "a", 0, 1, "x"
  row "a", 5, 2, "y"
  row "b", 0, 9, "z"
}
table pegs "Pegs" {
  key peg: text
  across: length in mm
  color: text
  row "one", 3, "red"
  row "two", 4 mm, "blue"
  row "three", _, "green"
}
designation pipe_size "Pipe" {
  across: length
  form "{across mm}"
}
kind bar "Bar" {
  pipe: pipe_size
  weight: mass
  at: length
  load: mass
  steel: text
  peg: text
  across: length
  relation "load": load = loads(at)
  relation "steel": load = grades.load(steel, at)
  relation "peg": across = pegs.across(peg)
  relation "color" when pegs.color(peg) == "red": across = 2 * at
  relation "pipe": weight = loads(pipe.across)
  relation "worded" when steel == "a": weight = loads(at)
  check "grade": grades.grade(steel, at) == "z"
}
`;

test("lists are read item by item, and what is wrong with one is told", () => {
  expect(
    added(`${kit}kit k { sizes: [1 mm, two, 3 kg, 4 mm]  counts: [1, 2.5, "x"]  words: [red, 3, "blue", a.b] }
kit l { sizes: two }
`),
  ).toMatchInlineSnapshot(`
    "k: k.sizes[1] k.sizes[4] k.counts[1] k.got k.gap k.pieces k.all k.third k.load
      k.got = stack step {23 points}(k.gap) [relation by relation "got", length]
      k.got = stack step {14 points}(k.gap) [relation by relation "within", length]
      k.pieces = stack_count step {22 points}(k.gap) [relation by relation "pieces", count]
      k.all = k.sizes[1] + k.sizes[4] [relation by relation "all", length]
      k.all = 3 * ((k.sizes[1] + k.sizes[4]) / 2) [relation by relation "mean", length]
      k.load = 0 [relation by relation "load", mass]
      check "many": 2 <= 3 (<= undefined)
      check "most": max(k.sizes[1], k.sizes[4]) < k.gap (< length)
      check "words": 3 == 2 (== undefined)
      check "least": min(k.sizes[1], k.sizes[4]) > 0 (> length)
      stack k.got of k.sizes [0.001 0.004] to k.gap within 0.0001 (length)
      stack k.got of k.sizes [0.001 0.004] times [1] to k.gap within 0.0002 (length)
      told value/not-a-number in-list
      told unit/wrong
      told value/not-whole
      told value/not-a-number

    l: l.got l.gap l.pieces l.all l.third l.load
      l.all = 0 [relation by relation "all", length]
      l.load = 0 [relation by relation "load", mass]
      check "many": 0 <= 3 (<= undefined)
      check "words": 0 == 2 (== undefined)
      told value/not-a-number in-list"
  `);
});

test("things of one kind share the conditions of its checks, those included that a word decides on", () => {
  const rows = rowsOf(
    analyzed(`kind bar { form: one_of(round, square)  a: length  b: length
  check "plain": a > b
  check "worded" when form == round: a > b
  check "looked up" when form == round: a > 1 mm
}
bar x { form: round }
bar y { form: round }
`),
  );
  const [x, y] = rows.map(({ claims }) => claims.map(({ condition }) => condition));
  expect(x).toHaveLength(3);
  expect(x?.map((condition, at) => condition === y?.[at])).toEqual([true, true, true]);
});

test("tables are read at once where what they are asked by is written, else by the solver", () => {
  expect(
    added(`${tables}bar a { at: 5 mm  steel: "a"  peg: "one"  pipe: 15 }
bar b { steel: "b"  peg: "three" }
bar c { at: 30 mm  peg: "four" }
bar d { at: a.at  load: loads(5 mm)  across: pegs.across("two") }
`),
  ).toMatchInlineSnapshot(`
    "a: a.at a.pipe.across a.load a.across a.weight
      a.load = loads linear {0:0 0.01:100 0.02:400}(a.at) [relation by relation "load", mass]
      a.load = 2 [relation by relation "steel", mass]
      a.across = 0.003 [relation by relation "peg", length]
      a.across = 2 * a.at [relation by relation "color", length]
      a.weight = 250 [relation by relation "pipe", mass]
      a.weight = 50 [relation by relation "worded", mass]
      check "grade": false
      reads a: steel peg pipe

    b: b.load b.at b.across b.weight b.pipe.across
      b.load = loads linear {0:0 0.01:100 0.02:400}(b.at) [relation by relation "load", mass]
      b.load = grades step {0:9}(b.at) [relation by relation "steel", mass]
      b.weight = loads linear {0:0 0.01:100 0.02:400}(b.pipe.across) [relation by relation "pipe", mass]
      reads b: steel peg
      told table/no-row

    c: c.at c.load c.across c.weight c.pipe.across
      c.load = loads linear {0:0 0.01:100 0.02:400}(c.at) [relation by relation "load", mass]
      c.weight = loads linear {0:0 0.01:100 0.02:400}(c.pipe.across) [relation by relation "pipe", mass]
      reads c: peg
      told table/no-row

    d: d.at a.at d.load d.across d.weight d.pipe.across
      d.at = a.at [relation by formula, length]
      d.load = 50 [relation by formula, mass]
      d.across = 0.004 [relation by formula, length]
      d.load = loads linear {0:0 0.01:100 0.02:400}(d.at) [relation by relation "load", mass]
      d.weight = loads linear {0:0 0.01:100 0.02:400}(d.pipe.across) [relation by relation "pipe", mass]"
  `);
});

test("a name written as a value leads to the thing of the file, and inside of it, before any of the thing's own", () => {
  const analysis = analyzed(`kind pin "Pin" { long: length  spare: pin optional  tip: pin optional }
pin a { long: 1 mm }
pin p { long: 2 mm  spare: a  tip: inner  pin a { long: 3 mm }  pin inner { long: 4 mm } }
`);
  const lengths = ["p.spare.long", "p.tip.long", "p.a.long"].map(
    (path) => analysis.valueAt(path)?.si,
  );
  expect(lengths).toEqual([0.001, 0.004, 0.003]);
});
