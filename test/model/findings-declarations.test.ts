/** Golden texts: a shop's own kinds, designations and tables, declared wrongly. */
import { expect, test } from "vitest";
import { golden } from "./golden";

test("two kinds of one name", () => {
  expect(golden("kind jig { }\nkind jig { }")).toMatchInlineSnapshot(`
    "2:6 error name/duplicate \`jig\`
      there is a kind \`jig\` already
      hint give this one another name"
  `);
  expect(golden("kind wheel { }")).toMatchInlineSnapshot(`
    "1:6 error name/duplicate \`wheel\`
      there is a kind \`wheel\` already
      hint give this one another name"
  `);
});

test("two fields of one name", () => {
  expect(golden("kind jig {\n  width: length\n  width: mass\n}")).toMatchInlineSnapshot(`
    "3:3 error name/duplicate \`width\`
      the kind \`jig\` has a field \`width\` already
      hint give this one another name"
  `);
});

test("kinds that take over from each other", () => {
  expect(golden("kind jig is jig { }")).toMatchInlineSnapshot(`
    "1:13 error name/circular \`jig\`
      the kind \`jig\` takes over from itself
      hint take over from another kind"
  `);
  expect(golden("kind jig is rig { }\nkind rig is jig { }")).toMatchInlineSnapshot(`
    "2:13 error name/circular \`jig\`
      the kind \`rig\` takes over from itself, by way of jig
      hint take over from another kind"
  `);
});

test("kinds that would hold themselves", () => {
  const box = "box b { inner { width: 1 in } }";
  expect(golden(`kind box { width: length  inner: part box }\n${box}`)).toMatchInlineSnapshot(`
    "1:27 error name/circular \`inner\`
      a box would hold itself without end: \`box.inner\` is a box
      hint leave \`part\` out of \`inner\`: it then names another box"
  `);
  expect(
    golden("kind box { lid: part lid }\nkind lid { hinge: part hinge }\nkind hinge is box { }"),
  ).toMatchInlineSnapshot(`
    "1:12 error name/circular \`lid\`
      a lid would hold itself without end: \`lid.hinge\` is a hinge, \`hinge.lid\` is a lid
      hint leave \`part\` out of \`lid\`: it then names another lid"
  `);
  expect(
    golden("kind crate is box { }\nkind box { inner: part crate }\ncrate c { }"),
  ).toMatchInlineSnapshot(`
    "2:12 error name/circular \`inner\`
      a crate would hold itself without end: \`crate.inner\` is a crate
      hint leave \`part\` out of \`inner\`: it then names another crate"
  `);
  // Naming another one of its kind, in a field or a list, ends somewhere.
  expect(
    golden(
      "kind box { lid: box optional  all: list of box }\nbox b { }\nbox c { lid: b all: [b] }",
    ),
  ).toBe("");
});

test("kinds that are part of themselves", () => {
  const formula = 'width: length  relation "w": width = hight';
  expect(golden(`kind box of box { ${formula} }\nbox b { }`)).toMatchInlineSnapshot(`
    "1:13 error name/circular \`box\`
      the kind \`box\` is always part of itself
      hint make it part of another kind, or leave out what it is a part of
    1:56 error name/unknown-field \`hight\`
      a box has no field \`hight\`"
  `);
  expect(
    golden(`kind box of lid { ${formula} }\nkind lid of box { ${formula} }`),
  ).toMatchInlineSnapshot(`
    "1:56 error name/unknown-field \`hight\`
      a box has no field \`hight\`
    2:13 error name/circular \`box\`
      the kind \`box\` is always part of itself, by way of lid
      hint make it part of another kind, or leave out what it is a part of
    2:56 error name/unknown-field \`hight\`
      a lid has no field \`hight\`"
  `);
  expect(golden(`kind box of lid { }\nkind lid is box { }`)).toMatchInlineSnapshot(`
    "1:13 error name/circular \`lid\`
      the kind \`lid\` is always part of itself
      hint make it part of another kind, or leave out what it is a part of"
  `);
});

test("an unknown kind to take over from", () => {
  expect(golden("kind jig is prat { }")).toMatchInlineSnapshot(`
    "1:13 error name/unknown-kind \`prat\`
      there is no kind \`prat\`
      hint did you mean \`part\`?
      fix write \`part\`: kind jig is part { }"
  `);
  expect(golden("kind jig of alxe { }")).toMatchInlineSnapshot(`
    "1:13 error name/unknown-kind \`alxe\`
      there is no kind \`alxe\`
      hint did you mean \`axle\`?
      fix write \`axle\`: kind jig of axle { }"
  `);
});

test("an unknown type", () => {
  expect(golden("kind jig { width: lenght }")).toMatchInlineSnapshot(`
    "1:19 error name/unknown-type \`lenght\`
      there is no measure, designation or kind \`lenght\`
      hint did you mean \`length\`?
      fix write \`length\`: kind jig { width: length }"
  `);
  expect(golden("kind jig { width: part zzzqq }")).toMatchInlineSnapshot(`
    "1:24 error name/unknown-type \`zzzqq\`
      there is no measure, designation or kind \`zzzqq\`"
  `);
  expect(golden("kind jig { width: list of zzzqq }")).toMatchInlineSnapshot(`
    "1:27 error name/unknown-type \`zzzqq\`
      there is no measure, designation or kind \`zzzqq\`"
  `);
});

test("an unknown word after a field", () => {
  expect(golden("kind jig { width: length shwon }")).toMatchInlineSnapshot(`
    "1:26 error name/unknown-word \`shwon\`
      a field cannot be \`shwon\`
      hint did you mean \`shown\`?
      fix write \`shown\`: kind jig { width: length shown }"
  `);
  expect(golden("kind jig { width: length huge }")).toMatchInlineSnapshot(`
    "1:26 error name/unknown-word \`huge\`
      a field cannot be \`huge\`
      hint known here: shown, optional, found out, measured, bought, made, wanted, case, setting, limit, …"
  `);
});

test("designations", () => {
  expect(golden('designation code { a: number form "{b}" }')).toMatchInlineSnapshot(`
    "1:35 error designation/form \`"{b}"\`
      this form cannot be read: there is no part \`b\`"
  `);
  expect(golden('designation code { a: number form "{a" }')).toMatchInlineSnapshot(`
    "1:35 error designation/form \`"{a"\`
      this form cannot be read: a "{" without its "}""
  `);
  expect(golden('designation code { a: number form "{a}[x" }')).toMatchInlineSnapshot(`
    "1:35 error designation/form \`"{a}[x"\`
      this form cannot be read: a "[" without its "]""
  `);
  expect(
    golden('designation code { a: number form "{a}" }\ndesignation code { a: number form "{a}" }'),
  ).toMatchInlineSnapshot(`
    "2:13 error name/duplicate \`code\`
      there is a designation \`code\` already
      hint give this one another name"
  `);
});

test("tables", () => {
  expect(
    golden("table t { key a: number  b: mass in kg\n row 1, 2\n row 1\n row 1, 2, 3 }"),
  ).toMatchInlineSnapshot(`
    "3:2 error table/row \`row 1\`
      this row has 1 value, the table has 2 columns
      hint write one value for each column, with commas between them
    4:2 error table/row \`row 1, 2, 3\`
      this row has 3 values, the table has 2 columns
      hint write one value for each column, with commas between them"
  `);
  expect(golden("table t { key a: number  b: mass in kgg\n row 1, 2 }")).toMatchInlineSnapshot(`
    "1:37 error unit/unknown \`kgg\`
      unknown unit \`kgg\`
      hint did you mean \`kg\`?
      fix write \`kg\`: table t { key a: number  b: mass in kg"
  `);
  expect(golden("table t { key a: number  b: mass in kg\n row 1, 2 in }")).toMatchInlineSnapshot(`
    "2:11 error unit/wrong \`in\`
      \`in\` is not a unit of mass
      hint units of mass are lb, kg or oz"
  `);
  expect(golden('table t { key a: number  b: mass in kg\n row 1, "two" }')).toMatchInlineSnapshot(`
    "2:9 error table/row \`"two"\`
      \`b\` takes a mass in each row"
  `);
  expect(golden("table t { key a: number  b: mass\n row 1, 2 }")).toMatchInlineSnapshot(`
    "2:9 error unit/missing \`2\`
      2 needs a unit of mass, such as lb, kg or oz
      hint write the unit once, after the column: \`b: mass in lb\`"
  `);
  expect(golden("table t { key a: number  b: masss\n row 1, 2 }")).toMatchInlineSnapshot(`
    "1:29 error name/unknown-type \`masss\`
      there is no measure, designation or kind \`masss\`
      hint did you mean \`mass\`?
      fix write \`mass\`: table t { key a: number  b: mass"
  `);
  expect(
    golden("table t { key a: number  b: mass in kg\n lookup cubic\n row 1, 2 }"),
  ).toMatchInlineSnapshot(`
    "2:9 error name/unknown-word \`cubic\`
      a table cannot be looked up \`cubic\`
      hint known here: exact, linear, step"
  `);
  expect(
    golden(
      "table t { key a: number b: number row 1, 2 }\ntable t { key a: number b: number row 1, 2 }",
    ),
  ).toMatchInlineSnapshot(`
    "2:7 error name/duplicate \`t\`
      there is a table \`t\` already
      hint give this one another name"
  `);
});

test("a kind's relation that makes no sense", () => {
  expect(
    golden('kind jig {\n  width: length\n  relation "w": width = hight + 3 mm\n}'),
  ).toMatchInlineSnapshot(`
    "3:25 error name/unknown-field \`hight\`
      a jig has no field \`hight\`"
  `);
  expect(
    golden('kind jig {\n  width: length\n  weight: mass\n  relation "w": width = weight\n}'),
  ).toMatchInlineSnapshot(`
    "4:25 error unit/clash \`weight\`
      the two sides of \`=\` do not measure the same: a length on the left, a mass on the right"
  `);
});

test("a kind's check that makes no sense", () => {
  expect(
    golden('kind jig {\n  width: length\n  check "w": widht >= 3 mm\n}'),
  ).toMatchInlineSnapshot(`
    "3:14 error name/unknown-field \`widht\`
      a jig has no field \`widht\`
      hint did you mean \`width\`?
      fix write \`width\`: check "w": width >= 3 mm"
  `);
  expect(
    golden('kind jig {\n  width: length\n  check "w" when widht > 1 mm: width >= 3 mm\n}'),
  ).toMatchInlineSnapshot(`
    "3:18 error name/unknown-field \`widht\`
      a jig has no field \`widht\`
      hint did you mean \`width\`?
      fix write \`width\`: check "w" when width > 1 mm: width >= 3 mm"
  `);
});

test("a default that does not fit its field", () => {
  expect(golden("kind jig {\n  width: length default 3 kg\n}")).toMatchInlineSnapshot(`
    "2:25 error unit/wrong \`3 kg\`
      a length is expected here, \`kg\` is a unit of mass
      hint units of length are in, mm or ft
      fix write in: width: length default 3 in
      fix write mm: width: length default 3 mm"
  `);
  expect(golden("kind jig {\n  width: length default 3\n}")).toMatchInlineSnapshot(`
    "2:25 error unit/missing \`3\`
      3 needs a unit of length, such as in, mm or ft
      fix write 3 in: width: length default 3 in
      fix write 3 mm: width: length default 3 mm
      fix write 3 ft: width: length default 3 ft"
  `);
  expect(golden("kind jig {\n  width: length default hight\n}")).toMatchInlineSnapshot(`
    "2:25 error name/unknown-field \`hight\`
      a jig has no field \`hight\`"
  `);
  expect(
    golden("kind jig {\n  form: one_of(round, square) default oval\n}"),
  ).toMatchInlineSnapshot(`
    "2:39 error value/not-a-choice \`oval\`
      the default \`oval\` is not among the choices of \`form\`
      hint choices are round, square"
  `);
});

test("a range that does not fit its field", () => {
  expect(golden("kind jig {\n  width: length range 3..5\n}")).toMatchInlineSnapshot(`
    "2:23 error unit/missing \`3\`
      3 needs a unit of length, such as in, mm or ft
      fix write 3 in: width: length range 3 in..5
      fix write 3 mm: width: length range 3 mm..5
      fix write 3 ft: width: length range 3 ft..5"
  `);
  expect(golden("kind jig {\n  width: length range 5 mm..3 mm\n}")).toMatchInlineSnapshot(`
    "2:23 error value/limits \`5 mm..3 mm\`
      the lower limit is above the upper one
      hint write the lower limit first, then \`..\`, then the upper one"
  `);
});

test("a kind's curve that makes no sense", () => {
  expect(
    golden("kind jig {\n  width: length\n  curve bend: widht * x over x from 0 to 1\n}"),
  ).toMatchInlineSnapshot(`
    "3:15 error name/unknown-field \`widht\`
      a jig has no field \`widht\`
      hint did you mean \`width\`?
      fix write \`width\`: curve bend: width * x over x from 0 to 1"
  `);
});

test("a kind that is right has nothing to say", () => {
  expect(
    golden(
      'kind jig "Jig" {\n  width: length bought range 1 mm..1 m\n  form: one_of(round, square) default round\n  half: length shown\n  relation "half" when form == round: half = width / 2\n  check "wide": width >= 3 mm\n  curve bend: width * x over x from 0 to 1\n}\njig a { width: 5 mm }',
    ),
  ).toMatchInlineSnapshot(`""`);
});

test("a unit to show figures in that nobody knows", () => {
  expect(golden("display { length: inz }")).toMatchInlineSnapshot(`
    "1:19 error display/unknown-unit \`inz\`
      unknown unit "inz", did you mean in?
      fix write in: display { length: in }"
  `);
});

test("a field that is said to be two things", () => {
  expect(golden('kind jig { width: length made bought "Across." }')).toMatchInlineSnapshot(`
    "1:31 error field/two-roles \`bought\`
      a field is one thing: \`made\` or \`bought\`
      hint keep one of the two words"
  `);
});
