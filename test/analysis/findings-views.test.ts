/** Golden texts: options and records that make no sense, and what is told of a build as a whole. */
import { expect, test } from "vitest";
import { analyzed } from "../model/build";
import { golden } from "../model/golden";
import { withPlate } from "./plate";

test("a record that makes no sense", () => {
  expect(
    golden('housing h { face_to_face: 58 in }\nrecord "r" 2026-03-14 { h.face_to_fcae: 57.99 in }'),
  ).toMatchInlineSnapshot(`
    "2:27 error name/unknown-field \`face_to_fcae\`
      a housing has no field \`face_to_fcae\`
      hint did you mean \`face_to_face\`?
      fix write \`face_to_face\`: record "r" 2026-03-14 { h.face_to_face: 57.99 in }"
  `);
  expect(
    golden('housing h { face_to_face: 58 in }\nrecord "r" 2026-03-14 { h.face_to_face: 57.99 }'),
  ).toMatchInlineSnapshot(`
    "2:41 error unit/missing \`57.99\`
      57.99 needs a unit of length, such as in, mm or ft
      fix write 57.99 in: record "r" 2026-03-14 { h.face_to_face: 57.99 in }
      fix write 57.99 mm: record "r" 2026-03-14 { h.face_to_face: 57.99 mm }
      fix write 57.99 ft: record "r" 2026-03-14 { h.face_to_face: 57.99 ft }"
  `);
  expect(
    golden(
      'housing h { face_to_face: 58 in }\nrecord "r" 2026-03-14 { hh.face_to_face: 57.99 in }',
    ),
  ).toMatchInlineSnapshot(`
    "2:25 error name/unknown \`hh\`
      there is nothing called \`hh\` here
      hint did you mean \`h\`?
      fix write \`h\`: record "r" 2026-03-14 { h.face_to_face: 57.99 in }"
  `);
  expect(
    golden(
      'housing h { face_to_face: 58 in }\nrecord "r" 2026-03-14 { h { face_to_face: 57.99 kg } }',
    ),
  ).toMatchInlineSnapshot(`
    "2:43 error unit/wrong \`57.99 kg\`
      a length is expected here, \`kg\` is a unit of mass
      hint units of length are in, mm or ft
      fix write in: record "r" 2026-03-14 { h { face_to_face: 57.99 in } }
      fix write mm: record "r" 2026-03-14 { h { face_to_face: 57.99 mm } }"
  `);
});

test("an option that makes no sense", () => {
  expect(
    golden('housing h { face_to_face: 58 in }\noption o "Other" { h.face_to_fcae: 57 in }'),
  ).toMatchInlineSnapshot(`
    "2:22 warning name/unknown-field \`face_to_fcae\`
      with option o: a housing has no field \`face_to_fcae\`
      hint did you mean \`face_to_face\`?
      fix write \`face_to_face\`: option o "Other" { h.face_to_face: 57 in }"
  `);
  expect(
    golden('housing h { face_to_face: 58 in }\noption o "Other" { h.face_to_face: 57 }'),
  ).toMatchInlineSnapshot(`
    "2:36 warning unit/missing \`57\`
      with option o: 57 needs a unit of length, such as in, mm or ft
      fix write 57 in: option o "Other" { h.face_to_face: 57 in }
      fix write 57 mm: option o "Other" { h.face_to_face: 57 mm }
      fix write 57 ft: option o "Other" { h.face_to_face: 57 ft }"
  `);
  expect(
    golden(
      'housing h { face_to_face: 58 in }\noption o "Other" { h.face_to_face: 57 in }\noption o "Again" { h.face_to_face: 56 in }',
    ),
  ).toMatchInlineSnapshot(`
    "2:8 warning given/twice \`o\`
      with option o: \`h.face_to_face\` is given twice
      hint keep one of the two values
      see 3:20 this is the place in the spec
      see 2:36 it is given here already
    3:8 error name/duplicate \`o\`
      there is an option \`o\` already
      hint give one of the two another name
      see 2:8 it is declared here"
  `);
  expect(
    golden(
      'housing h { face_to_face: 58 in }\noption o "Other" { h.face_to_face: 57 in\n h.face_to_face: 56 in }',
      { view: (a) => a.under("o") },
    ),
  ).toMatchInlineSnapshot(`
    "3:2 error given/twice \`h.face_to_face: 56 in\`
      \`h.face_to_face\` is given twice
      hint keep one of the two values
      see 2:36 it is given here already"
  `);
});

test("a finding under an option", () => {
  expect(
    golden(withPlate("plate p { width: 4 in half: 2 in }\noption wide { p.width: 5 in }"), {
      view: (a) => a.under("wide"),
    }),
  ).toMatchInlineSnapshot(`
    "3:24 error conflict/givens \`5 in\`
      these cannot all hold by “half”: p.half 2 in and p.width 5 in; they miss by 1/2 in
      hint change one: p.half would have to be 2 1/2 in or p.width would have to be 4 in (another part)
      see 2:29 p.half is given here
      fix set p.half to 2 1/2 in: plate p { width: 4 in half: 2 1/2 in }
      fix set p.width to 4 in: option wide { p.width: 4 in }"
  `);
});

test("amounts in two currencies", () => {
  expect(
    golden(
      'wheel a { price: 120 usd }\nwheel b { price: 90 eur }\ncheck "alike": a.price == b.price',
      {
        only: "unit",
      },
    ),
  ).toMatchInlineSnapshot(`
    "2:18 error unit/two-currencies \`90 eur\`
      b.price is in EUR, a.price in USD: a build is reckoned in one currency
      hint write all amounts in the same currency, at the rate you pay
      see 1:18 a.price is given here"
  `);
});

test("a merge that was not finished is one finding", () => {
  const { findings } = analyzed(
    "wheel w {\n<<<<<<< ours\n  size: 17x8\n=======\n  size: 17x9\n  offset: 12 lb\n>>>>>>> theirs\n  center_bore: 4\n}\n",
  );
  expect(findings.map(({ code }) => code)).toEqual(["syntax/conflict-marker", "unit/missing"]);
});
