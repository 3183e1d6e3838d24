/**
 * Kinds, designations and orders as they are declared: every field wholly, what is taken over and from
 * whom, and what is told where they cannot be read.
 */
import { describe, expect, test } from "vitest";
import { textAt } from "../../grammar/anchor";
import { parseFile } from "../../grammar/source-file";
import type { FieldDefinition, Vocabulary } from "../../server/model/definition";
import { kindFindings } from "../../server/model/kind-findings";
import { declaresWords } from "../../server/model/vocabulary";
import { declared, typeText, uri } from "./declared";

function fieldText(field: FieldDefinition): string {
  const { name, type, anchor, step, tolerance, range, description, needs, source } = field;
  const at = (node: { readonly span: { start: number; end: number } }) =>
    textAt({ ...anchor, span: node.span });
  return [
    `${field.place} ${name} of ${field.owner}: ${typeText(type)}`,
    ...(field.role === undefined ? [] : [field.role]),
    ...(field.shown ? ["shown"] : []),
    ...(field.optional ? ["optional"] : []),
    ...(field.foundOut ? ["found out"] : []),
    ...(field.default === undefined ? [] : [`default ${at(field.default)}`]),
    ...(range === undefined ? [] : [`range ${at(range)}`]),
    ...(step === undefined ? [] : [`to ${at(step)}`]),
    ...(tolerance === undefined ? [] : [`± ${at(tolerance)}`]),
    ...(description === undefined ? [] : [`"${description}"`]),
    ...(needs === undefined ? [] : [`needs ${needs}`]),
    ...(source === undefined ? [] : [`source ${source}`]),
    ...(field.with === undefined ? [] : [`with ${field.with}`]),
  ].join(" | ");
}

function kindsText({ kinds }: Vocabulary): string {
  return [...kinds.values()]
    .flatMap((kind) => [
      `${kind.lineage.join(" is ")}${kind.owner === undefined ? "" : ` of ${kind.owner}`} "${kind.title}" ${JSON.stringify(kind.remarks)}`,
      ...[...kind.fields.values()].map((field) => `  ${fieldText(field)}`),
      ...kind.relations.map(
        (each) => `  ${each.word} ${each.title} ${JSON.stringify(each.remarks)}`,
      ),
      ...kind.checks.map((each) => `  check ${each.title} ${JSON.stringify(each.remarks)}`),
      ...kind.curves.map(
        (each) => `  curve ${each.name} ${each.title} ${JSON.stringify(each.remarks)}`,
      ),
    ])
    .join("\n");
}

describe("a kind", () => {
  test("has its own fields and those it takes over, its own in their place", () => {
    const { vocabulary, told } = declared(`designation pipe_size "Pipe" {
  across: length "Outside"
  form "{across mm}"
}
kind base "Base" {
  source "the shop"
  wide: length default 2 in source "a catalog"
  deep: length default 3 in "How deep it is"
  plain: length
  relation "twice": wide = 2 * deep source "by drawing"
  assume wide = 3 * deep
  check wide > 1 in because "so"
  curve run: x over x from 0 to 1
  curve walk "Walk": x over x from 0 to 1 source "legs"
}
kind jig is base "Jig" {
  deep: length default 4 in
  tall: length in ft or m made to 1/16 in ± 1/32 in range 1 in..9 ft shown "Height" needs "a tape" with "shop.saw"
  flat: length in mm bought
  share: ratio default 50 %
  least: ratio range 1 %..0.5
  most: ratio range 0.1..80 %
  plain_share: ratio default 0.5
  turns: number default 2
  form: one_of(round, square)
  yes: yes_no
  day: date
  word: text optional
  pipe: pipe_size
  mass: mass
  other: jig optional
  lid: part lid
  lids: list of lid
  sizes: list of length
  words: list of text
  found: length found out default 1 mm
  check "x": deep > 1 in
}
kind lid of jig "Lid" { x: count }
kind lidded is lid {}
kind own of base is lid {}
`);
    expect(told).toEqual([]);
    expect(kindsText(vocabulary)).toMatchInlineSnapshot(`
      "base "Base" {"source":"the shop"}
        0 wide of base: length | default 2 in | source a catalog
        1 deep of base: length | default 3 in | "How deep it is" | source the shop
        2 plain of base: length
        relation twice {"source":"by drawing"}
        assume wide = 3 * deep {"source":"the shop"}
        check wide > 1 in {"because":"so","source":"the shop"}
        curve run run {"source":"the shop"}
        curve walk Walk {"source":"legs"}
      jig is base "Jig" {}
        0 wide of base: length | default 2 in | source a catalog
        3 deep of jig: length | default 4 in
        2 plain of base: length
        3 tall of jig: length in ft or m | made | shown | range 1 in..9 ft | to 1/16 in | ± 1/32 in | "Height" | needs a tape | with shop.saw
        4 flat of jig: length in mm or mm | bought
        5 share of jig: ratio in % or % | default 50 %
        6 least of jig: ratio in % or % | range 1 %..0.5
        7 most of jig: ratio in % or % | range 0.1..80 %
        8 plain_share of jig: ratio | default 0.5
        9 turns of jig: number | default 2
        10 form of jig: one of round square
        11 yes of jig: yes_no
        12 day of jig: date
        13 word of jig: text | optional
        14 pipe of jig: designation pipe_size
        15 mass of jig: mass
        16 other of jig: reference jig | optional
        17 lid of jig: part lid
        18 lids of jig: list of reference lid
        19 sizes of jig: list of length
        20 words of jig: list of text
        21 found of jig: length | found out | default 1 mm
        relation twice {"source":"by drawing"}
        assume wide = 3 * deep {"source":"the shop"}
        check wide > 1 in {"because":"so","source":"the shop"}
        check x {}
        curve run run {"source":"the shop"}
        curve walk Walk {"source":"legs"}
      lid of jig "Lid" {}
        0 x of lid: count
      lidded is lid of jig "lidded" {}
        0 x of lid: count
      own is lid of base "own" {}
        0 x of lid: count"
    `);
  });

  test("is told of where it cannot be read", () => {
    const { vocabulary, told } = declared(`kind jig {
  a: lenght
  b: part nobody
  c: list of nobody
  d: text in mm
  e: length in kg
  f: length in inz or mm
  g: length in mm or kg
  h: length shwon
  i: length made bought
  j: part length
  a: mass
}
kind jig {}
kind rig is nobody {}
kind rag of nobody {}
kind one is two {}
kind two is one {}
kind three is three {}
kind {}
kind box { inner: part box  x: length  second: part box }
kind lid { hinge: part hinge }
kind hinge { pin: part rod  lid: part lid }
kind rod { x: length }
kind owned of owned {}
`);
    expect(told).toMatchInlineSnapshot(`
      [
        "name/duplicate declaration \`jig\`",
        "name/unknown-type \`lenght\`",
        "name/unknown-type \`nobody\`",
        "name/unknown-type \`nobody\`",
        "unit/wrong no-figure \`mm\`",
        "unit/wrong shown \`kg\`",
        "unit/wrong shown \`inz\`",
        "unit/wrong shown \`kg\`",
        "name/unknown-word \`shwon\`",
        "field/two-roles \`bought\`",
        "name/unknown-type \`length\`",
        "name/duplicate kind-field \`a\`",
        "name/unknown-kind declared \`nobody\`",
        "name/unknown-kind declared \`nobody\`",
        "name/circular base \`one\`",
        "name/circular base \`three\`",
        "name/circular owner \`owned\`",
        "name/circular \`inner\`",
        "name/circular \`second\`",
        "name/circular \`lid\`",
      ]
    `);
    expect(kindsText(vocabulary)).toMatchInlineSnapshot(`
      "jig "jig" {}
        0 a of jig: unknown
        1 b of jig: unknown
        2 c of jig: list of unknown
        3 d of jig: text
        4 e of jig: length
        5 f of jig: length
        6 g of jig: length
        7 h of jig: length
        8 i of jig: length | made
        9 j of jig: unknown
      rig "rig" {}
      rag of nobody "rag" {}
      two "two" {}
      one is two "one" {}
      three "three" {}
      box "box" {}
        0 inner of box: unknown
        1 x of box: length
        2 second of box: unknown
      lid "lid" {}
        0 hinge of lid: part hinge
      hinge "hinge" {}
        0 pin of hinge: part rod
        1 lid of hinge: unknown
      rod "rod" {}
        0 x of rod: length
      owned "owned" {}"
    `);
  });
});

test("a designation has its parts, forms and examples, an order its title", () => {
  const { vocabulary, told } = declared(`designation pipe_size "Pipe" {
  across: length "Outside" range 1 mm..2 m
  grade: text
  form "{across mm}[ {grade text}]"
    example "48.3 A, with a grade, or without"
  form "{across mm}x"
  example "33.7"
  source "a list"
}
designation plain { a: number  form "{a}" }
designation pipe_size { a: number  form "{a}" }
designation wrong { a: number  form "{b}" }
order "first" { }
`);
  expect(told).toEqual(["name/duplicate declaration `pipe_size`", 'designation/form `"{b}"`']);
  expect(
    [...vocabulary.designations.values()].map((each) => [
      each.name,
      each.title,
      [...each.parts.values()].map(fieldText),
      each.forms,
      each.patterns.length,
      each.examples,
      each.remarks,
    ]),
  ).toMatchInlineSnapshot(`
    [
      [
        "pipe_size",
        "Pipe",
        [
          "0 across of pipe_size: length | range 1 mm..2 m | "Outside"",
          "1 grade of pipe_size: text",
        ],
        [
          "{across mm}[ {grade text}]",
          "{across mm}x",
        ],
        2,
        [
          {
            "says": "with a grade, or without",
            "text": "48.3 A",
          },
          {
            "says": undefined,
            "text": "33.7",
          },
        ],
        {
          "example": "48.3 A, with a grade, or without",
          "source": "a list",
        },
      ],
      [
        "plain",
        "plain",
        [
          "0 a of plain: number",
        ],
        [
          "{a}",
        ],
        1,
        [],
        {},
      ],
      [
        "wrong",
        "wrong",
        [
          "0 a of wrong: number",
        ],
        [
          "{b}",
        ],
        1,
        [],
        {},
      ],
    ]
  `);
  expect(vocabulary.orders.map(({ title }) => title)).toEqual(["first"]);
});

test("a file declares words where it has a kind, a designation, a table or an order", () => {
  const declares = (text: string) =>
    declaresWords({ uri, source: parseFile(text), library: false });
  expect(
    [
      "kind a {}",
      'designation a { b: number  form "{b}" }',
      "table t { key a: number  b: number }",
      'order "o" { }',
    ].map(declares),
  ).toEqual([true, true, true, true]);
  expect(["", "wheel w {}", 'check "x": 1 > 0', "wheel w {}\nwheel v {}"].map(declares)).toEqual([
    false,
    false,
    false,
    false,
  ]);
  expect(declares("wheel w {}\nkind a {}")).toBe(true);
});

test("what is wrong in the formulas, defaults and ranges of a kind is told before there is a thing of it", () => {
  const { vocabulary, told } = declared(`designation pipe_size "Pipe" {
  across: length
  form "{across mm}"
}
kind base {
  wide: length
  relation "old": wide = wied
  check "old": wide > wied
  curve old: wied over x from 0 to 1
  from_base: length default wied
}
kind jig is base {
  long: length
  mass: mass
  form: one_of(round, square)
  pipe: pipe_size
  word: text
  good: yes_no
  jig: jig optional
  jigs: list of jig
  relation "right": wide = long
  relation "when" when lnog > 1 m: wide = long
  relation "sides": wide = mass
  relation "given" when given(lnog): wide = long
  relation "through": wide = jig.lnog
  relation "figure": wide = long.x
  relation "pipe": wide = pipe.across
  relation "pipe part": wide = pipe.wall
  relation "thing": wide = jig
  relation "owner": wide = owner.wide
  relation "list": wide = sum(jigs.wide)
  check "right": wide > long
  check "when" when lnog > 1 m: wide > long
  check "sides": wide > mass
  check "word": form == round
  curve right: wide * x over x from 0 to 1
  curve measured: wide + x over x from 0 mm to long step 1 mm
  curve sides: wide + x over x from 0 to 1
  curve bound: wide over x from lnog to 1
  curve end: wide over x from 0 mm to lnog
  curve step: wide over x from 0 to 1 step lnog
  curve inside: x.y over x from 0 to 1
  curve mine: wied * x over x from 0 to 1
  d_right: length default 2 in
  d_formula: length default 2 * wide
  d_spread: length default 2 * wide ± 1 mm
  d_share: length default 2 * wide ± 1 %
  d_nothing: length default 2 * wide ± -1 mm
  d_unit: length default 2
  d_clash: length default 2 * mass
  d_zero: length default 0
  d_name: length default lnog
  d_pipe: length default pipe.across
  d_later: length default sum(jigs.wide)
  d_word: length default "x"
  d_choice: one_of(a, b) default a
  d_choice_text: one_of(a, b) default "b"
  d_not_a_choice: one_of(alpha, beta) default alhpa
  d_pipe_right: pipe_size default 33.7
  d_pipe_text: pipe_size default "33.7"
  d_pipe_wrong: pipe_size default x
  d_text: text default "x"
  d_text_wrong: text default x
  d_yes: yes_no default yes
  d_yes_wrong: yes_no default x
  d_date: date default 2026-03-14
  d_list: list of length default [1 in]
  r_right: length range 1 in..2 in
  r_unit: length range 1..2 in
  r_order: length range 2 in..1 in
  r_formula: length range 1 in..wide
  r_word: text range 1..2
}
`);
  expect(told).toEqual([]);
  expect(
    kindFindings(vocabulary).map(({ is, anchor }) => `${is} \`${textAt(anchor)}\``),
  ).toMatchInlineSnapshot(`
    [
      "name/unknown-field \`wied\`",
      "name/unknown-field \`wied\`",
      "name/unknown-field \`wied\`",
      "name/unknown-field \`wied\`",
      "name/unknown-field \`lnog\`",
      "unit/clash sides \`mass\`",
      "name/unknown-field \`lnog\`",
      "name/unknown-field \`lnog\`",
      "name/unknown-field \`x\`",
      "name/unknown-field \`wall\`",
      "value/thing-in-formula \`jig\`",
      "name/unknown-field \`owner\`",
      "name/unknown-field \`lnog\`",
      "unit/clash sides \`wide > mass\`",
      "unit/clash sides \`wide + x\`",
      "name/unknown-field \`lnog\`",
      "name/unknown-field \`lnog\`",
      "name/unknown-field \`lnog\`",
      "name/unknown-field \`x\`",
      "name/unknown-field \`wied\`",
      "value/tolerance-in-formula \`1 %\`",
      "value/tolerance-in-formula \`-1 mm\`",
      "unit/missing \`2\`",
      "unit/clash default \`2 * mass\`",
      "unit/missing \`0\`",
      "name/unknown-field \`lnog\`",
      "value/not-a-number \`"x"\`",
      "value/not-a-choice default \`alhpa\`",
      "value/wrong default \`x\`",
      "value/not-a-text \`x\`",
      "value/wrong yes-no \`x\`",
      "value/limits order \`2 in..1 in\`",
      "value/limits formula \`1 in..wide\`",
    ]
  `);
  // Kinds of the library are looked over by its own tests.
  const kinds = new Map(
    [...vocabulary.kinds].map(([name, kind]) => [name, { ...kind, library: true }]),
  );
  expect(kindFindings({ ...vocabulary, kinds })).toEqual([]);
});

test("a kind takes over by way of a hundred others and no more", () => {
  const chain = (levels: number) =>
    `${Array.from({ length: levels }, (_, at) => `kind k${at} is k${at + 1} {}`).join("\n")}\nkind k${levels} { x: length }`;
  expect(declared(chain(100)).told).toEqual([]);
  expect(declared(chain(101)).told).toEqual(["build/too-much base `k1`"]);
});
