/** Golden texts: names that lead nowhere, twice, or to the wrong thing. */
import { expect, test } from "vitest";
import { golden } from "./golden";

test("a field with a near name", () => {
  expect(golden("housing h {\n  face_to_fcae: 58 in\n}")).toMatchInlineSnapshot(`
    "2:3 error name/unknown-field \`face_to_fcae\`
      a housing has no field \`face_to_fcae\`
      hint did you mean \`face_to_face\`?
      fix write \`face_to_face\`: face_to_face: 58 in"
  `);
});

test("a field with no near name", () => {
  expect(golden("hub h {\n  zzqqy: 58 in\n}")).toMatchInlineSnapshot(`
    "2:3 error name/unknown-field \`zzqqy\`
      a hub has no field \`zzqqy\`
      hint known here: stud_circle, second_circle, stud_chord, pilot, stud_thread, stud_diameter, stud_length, part_number, supplier, quantity, …"
  `);
});

test("a field of a part", () => {
  expect(golden("axle rear {\n  left { inner_gpa: 1 in }\n}")).toMatchInlineSnapshot(`
    "2:10 error name/unknown-field \`inner_gpa\`
      a corner has no field \`inner_gpa\`
      hint did you mean \`inner_gap\`?
      fix write \`inner_gap\`: left { inner_gap: 1 in }"
  `);
});

test("a part with a near name", () => {
  expect(golden("axle rear {\n  lfet { inner_gap: 1 in }\n}")).toMatchInlineSnapshot(`
    "2:3 error name/unknown-field \`lfet\`
      an axle has no field \`lfet\`
      hint did you mean \`left\`?
      fix write \`left\`: left { inner_gap: 1 in }"
  `);
});

test("a kind with a near name", () => {
  expect(golden("whel w {\n  offset: 18 mm\n}")).toMatchInlineSnapshot(`
    "1:1 error name/unknown-kind \`whel\`
      there is no kind of thing called \`whel\`
      hint did you mean \`wheel\`?
      fix write \`wheel\`: wheel w {"
  `);
});

test("a kind with no near name", () => {
  expect(golden("spaceship s {\n}")).toMatchInlineSnapshot(`
    "1:1 error name/unknown-kind \`spaceship\`
      there is no kind of thing called \`spaceship\`
      hint known here: air_spring, alignment_bar, axle, axle_path, bearing, bill, brake, brake_hose, brake_system, brake_test, …"
  `);
});

test("a kind that has a word in common with others is told of those first", () => {
  expect(golden("link upper {\n}")).toMatchInlineSnapshot(`
    "1:1 error name/unknown-kind \`link\`
      there is no kind of thing called \`link\`
      hint known here: linkage, watts_link, air_spring, alignment_bar, axle, axle_path, bearing, bill, brake, brake_hose, …"
  `);
});

test("a field that has a word in common with others is told of those first", () => {
  expect(golden("tire t {\n  diameter: 29 in\n}")).toMatchInlineSnapshot(`
    "2:3 error name/unknown-field \`diameter\`
      a tire has no field \`diameter\`
      hint known here: rim_diameter, overall_diameter, service_diameter, size, construction, aspect, section_height, section_width, measuring_rim, narrowest_rim, …"
  `);
});

test("a thing inside with an unknown kind", () => {
  expect(golden("procedure p {\n  stpe one { }\n}")).toMatchInlineSnapshot(`
    "2:3 error name/unknown-kind \`stpe\`
      there is no kind of thing called \`stpe\`
      hint did you mean \`step\`?
      fix write \`step\`: step one { }"
  `);
});

test("a name in a formula", () => {
  expect(golden("wheel w {\n  offset: flnage + 3 mm\n}")).toMatchInlineSnapshot(`
    "2:11 error name/unknown \`flnage\`
      there is nothing called \`flnage\` here
      hint did you mean \`flange\`?
      fix write \`flange\`: offset: flange + 3 mm"
  `);
});

test("a name in a check", () => {
  expect(golden('wheel w { offset: 18 mm }\ncheck "c": w.ofset >= 3 mm')).toMatchInlineSnapshot(`
    "2:14 error name/unknown-field \`ofset\`
      a wheel has no field \`ofset\`
      hint did you mean \`offset\`?
      fix write \`offset\`: check "c": w.offset >= 3 mm"
  `);
});

test("a thing in a check", () => {
  expect(
    golden('wheel front { offset: 18 mm }\ncheck "c": frnot.offset >= 3 mm'),
  ).toMatchInlineSnapshot(`
    "2:12 error name/unknown \`frnot\`
      there is nothing called \`frnot\` here
      hint did you mean \`front\`?
      fix write \`front\`: check "c": front.offset >= 3 mm"
  `);
});

test("a field of the top level", () => {
  expect(golden("rear.mount_width: 64 in")).toMatchInlineSnapshot(`
    "1:1 error name/unknown \`rear\`
      there is nothing called \`rear\` here"
  `);
  expect(golden("mount_width: 64 in")).toMatchInlineSnapshot(`
    "1:1 error name/unknown \`mount_width\`
      \`mount_width\` stands alone: it does not say of which thing
      hint write it inside of a thing, or after its name: \`name.mount_width\`"
  `);
});

test("a thing referred to that is not there", () => {
  expect(
    golden("wheel rear_wheel { offset: 18 mm }\naxle rear { wheel: raer_wheel }"),
  ).toMatchInlineSnapshot(`
    "2:20 error name/unknown \`raer_wheel\`
      there is nothing called \`raer_wheel\` here
      hint did you mean \`rear_wheel\`?
      fix write \`rear_wheel\`: axle rear { wheel: rear_wheel }"
  `);
  expect(golden("axle rear { wheel: raer_wheel }")).toMatchInlineSnapshot(`
    "1:20 error name/unknown \`raer_wheel\`
      there is nothing called \`raer_wheel\` here
      hint there is no wheel in this file or those it uses"
  `);
});

test("a thing of another kind", () => {
  expect(
    golden("tire rubber { }\nwheel steel { }\naxle rear { wheel: rubber }"),
  ).toMatchInlineSnapshot(`
    "3:20 error name/wrong-kind \`rubber\`
      a wheel is expected here, \`rubber\` is a tire
      hint known here: steel
      see 1:1 rubber is declared here"
  `);
  expect(golden("tire rubber { }\naxle rear { wheel: rubber }")).toMatchInlineSnapshot(`
    "2:20 error name/wrong-kind \`rubber\`
      a wheel is expected here, \`rubber\` is a tire
      hint there is no wheel in this file or those it uses
      see 1:1 rubber is declared here"
  `);
});

test("a figure where a thing is wanted", () => {
  expect(golden("axle rear { wheel: 3 in }")).toMatchInlineSnapshot(`
    "1:20 error name/not-a-thing \`3 in\`
      the name of a wheel is expected here
      hint there is no wheel in this file or those it uses"
  `);
  expect(golden("wheel w { offset: 3 in }\naxle rear { wheel: w.offset }")).toMatchInlineSnapshot(`
    "2:20 error name/not-a-thing \`w.offset\`
      the name of a wheel is expected here, this is a single value
      hint known here: w"
  `);
});

test("a thing that refers to itself", () => {
  expect(golden("kind link { next: link }\nlink a { next: a }")).toMatchInlineSnapshot(`
    "2:16 error reference/itself \`a\`
      \`a\` refers to itself as its \`next\`
      hint name another link"
  `);
  expect(
    golden(
      "kind link { next: link inner: part link_end }\nkind link_end of link { to: link }\nlink a { inner { to: a } }",
    ),
  ).toMatchInlineSnapshot(`
    "3:22 error reference/itself \`a\`
      \`a.inner\` refers to what it is a part of as its \`to\`
      hint name another link"
  `);
});

test("a figure worked out from itself", () => {
  expect(golden("wheel w { offset: offset + 1 mm }")).toMatchInlineSnapshot(`
    "1:19 error reference/itself \`offset + 1 mm\`
      \`offset\` of w is worked out from itself
      hint leave it out of its own formula"
  `);
  expect(golden("wheel w { offset: w.offset }")).toMatchInlineSnapshot(`
    "1:19 error reference/itself \`w.offset\`
      \`offset\` of w is worked out from itself
      hint leave it out of its own formula"
  `);
});

test("two things of one name", () => {
  expect(golden("wheel w { }\ntire w { }")).toMatchInlineSnapshot(`
    "2:6 error name/duplicate \`w\`
      there is something called \`w\` already
      hint give one of the two another name
      see 1:7 it is declared here"
  `);
});

test("two things of one name in one thing", () => {
  expect(
    golden("procedure p {\n  step one { }\n  step one { }\n  step hold { }\n}", { only: "name" }),
  ).toMatchInlineSnapshot(`
    "3:8 error name/duplicate \`one\`
      \`p\` has something called \`one\` already
      hint give this one another name
      see 2:3 it is declared here
    4:8 error name/duplicate \`hold\`
      \`hold\` is a field of a procedure already
      hint give this one another name"
  `);
});

test("two files that bring the same name", () => {
  expect(
    golden(
      '//- build.trammel\nuse "a.trammel"\nuse "b.trammel"\n//- a.trammel\nwheel w { }\n//- b.trammel\nwheel w { }',
    ),
  ).toMatchInlineSnapshot(`
    "2:5 error name/duplicate \`"b.trammel"\`
      there is something called \`w\` already
      hint give one of the two another name
      see a.trammel 1:7 it is declared here"
  `);
});

test("two files under one name", () => {
  expect(
    golden(
      '//- build.trammel\nuse "a.trammel" as a\nuse "b.trammel" as a\n//- a.trammel\nwheel w { }\n//- b.trammel\nwheel w { }',
    ),
  ).toMatchInlineSnapshot(`
    "2:5 error name/duplicate \`"b.trammel"\`
      there is something called \`a\` already
      hint give one of the two another name"
  `);
  expect(
    golden('//- build.trammel\nuse "a.trammel" as w\nwheel w { }\n//- a.trammel\nwheel v { }'),
  ).toMatchInlineSnapshot(`
    "1:5 error name/duplicate \`"a.trammel"\`
      there is something called \`w\` already
      hint give one of the two another name
      see 2:7 it is declared here"
  `);
});

test("a value given twice", () => {
  expect(golden("wheel w {\n  offset: 18 mm\n  offset: 20 mm\n}")).toMatchInlineSnapshot(`
    "3:3 error given/twice \`offset: 20 mm\`
      \`w.offset\` is given twice
      hint keep one of the two values
      see 2:11 it is given here already"
  `);
});

test("a value given twice, inside and outside", () => {
  expect(golden("wheel w { offset: 18 mm }\nw.offset: 20 mm")).toMatchInlineSnapshot(`
    "2:1 error given/twice \`w.offset: 20 mm\`
      \`w.offset\` is given twice
      hint keep one of the two values
      see 1:19 it is given here already"
  `);
});

test("a part opened and named", () => {
  expect(
    golden("wheel w { }\naxle rear {\n  wheel: w\n  wheel { offset: 2 in }\n}"),
  ).toMatchInlineSnapshot(`
    "4:3 error given/twice \`wheel\`
      \`rear.wheel\` is both named and opened with braces
      hint keep one of the two
      see 3:10 it is named here"
  `);
  expect(
    golden("wheel w { }\naxle rear {\n  wheel { offset: 2 in }\n  wheel: w\n}"),
  ).toMatchInlineSnapshot(`
    "4:3 error given/twice \`wheel\`
      \`rear.wheel\` is both opened with braces and named
      hint keep one of the two"
  `);
});

test("a figure opened with braces", () => {
  expect(golden("wheel w { offset { a: 1 in } }")).toMatchInlineSnapshot(`
    "1:11 error given/not-a-part \`offset\`
      \`w.offset\` is a single value, it cannot be opened with braces
      hint write \`offset: …\`"
  `);
});

test("inside of a figure", () => {
  expect(golden("wheel w { offset.depth: 1 in }")).toMatchInlineSnapshot(`
    "1:18 error name/unknown \`depth\`
      \`offset\` is a single value and has nothing inside"
  `);
  expect(
    golden('wheel w { offset: 1 in }\ncheck "c": w.offset.depth > 1 in'),
  ).toMatchInlineSnapshot(`
    "2:21 error name/unknown \`depth\`
      \`offset\` is a single value and has nothing inside"
  `);
});

test("a part of a designation that is not there", () => {
  expect(golden('wheel w { size: 17x9 }\ncheck "c": w.size.hight > 1 in')).toMatchInlineSnapshot(`
    "2:19 error name/unknown \`hight\`
      \`size\` has no part \`hight\`
      hint known here: diameter, width, flange_shape, hump"
  `);
  expect(golden("wheel w { size.hight: 9 in }")).toMatchInlineSnapshot(`
    "1:16 error name/unknown \`hight\`
      \`size\` has no part \`hight\`
      hint known here: diameter, width, flange_shape, hump"
  `);
});

test("outside of an unset optional thing", () => {
  expect(golden("axle rear { }\nrear.hub.pilot: 2 in")).toMatchInlineSnapshot(`
    "2:6 error name/unknown \`hub\`
      \`rear.hub\` is not there yet
      hint say first which one it is, \`hub: …\`, or open it there with braces"
  `);
});

test("an unknown function", () => {
  expect(golden("wheel w { offset: squrt(3 mm) }")).toMatchInlineSnapshot(`
    "1:19 error name/unknown-function \`squrt\`
      there is no function or table \`squrt\`
      hint did you mean \`sqrt\`?
      fix write \`sqrt\`: wheel w { offset: sqrt(3 mm) }"
  `);
});

test("each of an unknown kind", () => {
  expect(
    golden('wheel w { price: 3 usd }\ncheck "c": sum(each(whel).price) < 5 usd'),
  ).toMatchInlineSnapshot(`
    "2:21 error name/unknown-kind \`whel\`
      there is no kind \`whel\`
      hint did you mean \`wheel\`?
      fix write \`wheel\`: check "c": sum(each(wheel).price) < 5 usd"
  `);
});
