/** Golden texts: values that a field cannot take. */
import { expect, test } from "vitest";
import { golden } from "./golden";

test("a length without a unit", () => {
  expect(golden("wheel w { offset: 18 }")).toMatchInlineSnapshot(`
    "1:19 error unit/missing \`18\`
      18 needs a unit of length, such as in, mm or ft
      fix write 18 in: wheel w { offset: 18 in }
      fix write 18 mm: wheel w { offset: 18 mm }
      fix write 18 ft: wheel w { offset: 18 ft }"
  `);
  expect(golden("housing h { face_to_face: 54 11/32 }")).toMatchInlineSnapshot(`
    "1:27 error unit/missing \`54 11/32\`
      54 11/32 needs a unit of length, such as in, mm or ft
      fix write 54 11/32 in: housing h { face_to_face: 54 11/32 in }
      fix write 54 11/32 mm: housing h { face_to_face: 54 11/32 mm }
      fix write 54 11/32 ft: housing h { face_to_face: 54 11/32 ft }"
  `);
});

test("an angle, an amount of money without a unit", () => {
  expect(golden("axle rear { left { end_angle: 2 } }")).toMatchInlineSnapshot(`
    "1:31 error unit/missing \`2\`
      2 needs a unit of angle, such as deg, rad or arcmin
      fix write 2 deg: axle rear { left { end_angle: 2 deg } }
      fix write 2 rad: axle rear { left { end_angle: 2 rad } }
      fix write 2 arcmin: axle rear { left { end_angle: 2 arcmin } }"
  `);
  expect(golden("wheel w { price: 120 }")).toMatchInlineSnapshot(`
    "1:18 error unit/missing \`120\`
      120 needs a unit of money, such as usd, eur or gbp
      fix write 120 usd: wheel w { price: 120 usd }
      fix write 120 eur: wheel w { price: 120 eur }
      fix write 120 gbp: wheel w { price: 120 gbp }"
  `);
});

test("a torque in pounds", () => {
  expect(golden("joint nuts { torque: 85 lb }")).toMatchInlineSnapshot(`
    "1:22 error unit/wrong \`85 lb\`
      a torque is expected here, \`lb\` is a unit of mass
      hint is \`lb-ft\` meant?
      fix write lb-ft: joint nuts { torque: 85 lb-ft }"
  `);
});

test("a unit of something else", () => {
  expect(golden("wheel w { offset: 18 kg }")).toMatchInlineSnapshot(`
    "1:19 error unit/wrong \`18 kg\`
      a length is expected here, \`kg\` is a unit of mass
      hint units of length are in, mm or ft
      fix write in: wheel w { offset: 18 in }
      fix write mm: wheel w { offset: 18 mm }"
  `);
  expect(golden("vehicle van { mass: 114 in }")).toMatchInlineSnapshot(`
    "1:21 error unit/wrong \`114 in\`
      a mass is expected here, \`in\` is a unit of length
      hint units of mass are lb, kg or oz
      fix write lb: vehicle van { mass: 114 lb }
      fix write kg: vehicle van { mass: 114 kg }"
  `);
  expect(golden("carrier c { ratio: 3 in }")).toMatchInlineSnapshot(`
    "1:20 error unit/wrong \`3 in\`
      a plain number is expected here, not a length (\`in\`)"
  `);
});

test("an unknown unit", () => {
  expect(golden("wheel w { offset: 18 inchs }")).toMatchInlineSnapshot(`
    "1:22 error unit/unknown \`inchs\`
      unknown unit \`inchs\`
      hint did you mean \`in\`?
      fix write in: wheel w { offset: 18 in }"
  `);
  expect(golden("wheel w { offset: 18 furlong }")).toMatchInlineSnapshot(`
    "1:22 error unit/unknown \`furlong\`
      unknown unit \`furlong\`
      hint units of length are in, mm or ft"
  `);
  expect(golden("wheel w { offset: 18 mmm }")).toMatchInlineSnapshot(`
    "1:22 error unit/unknown \`mmm\`
      unknown unit \`mmm\`
      hint did you mean \`mm\`?
      fix write mm: wheel w { offset: 18 mm }"
  `);
});

test("an unknown unit in a formula", () => {
  expect(golden("wheel w { offset: flange + 18 mmm }")).toMatchInlineSnapshot(`
    "1:31 error unit/unknown \`mmm\`
      unknown unit \`mmm\`
      hint did you mean \`mm\`?
      fix write mm: wheel w { offset: flange + 18 mm }"
  `);
});

test("a word where a figure is wanted", () => {
  expect(golden('wheel w { offset: "wide" }')).toMatchInlineSnapshot(`
    "1:19 error value/not-a-number \`"wide"\`
      a length is expected here, not a text
      hint write for example \`2.5 in\`"
  `);
  expect(golden("wheel w { offset: yes }")).toMatchInlineSnapshot(`
    "1:19 error value/not-a-number \`yes\`
      a length is expected here, not yes or no
      hint write for example \`2.5 in\`"
  `);
  expect(golden("wheel w { offset: 2026-03-14 }")).toMatchInlineSnapshot(`
    "1:19 error value/not-a-number \`2026-03-14\`
      a length is expected here, not a date
      hint write for example \`2.5 in\`"
  `);
  expect(golden("wheel w { offset: 17x9 }")).toMatchInlineSnapshot(`
    "1:19 error value/not-a-number \`17x9\`
      a length is expected here, not \`17x9\`
      hint write for example \`2.5 in\`"
  `);
  expect(golden("wheel w { offset: [1 in, 2 in] }")).toMatchInlineSnapshot(`
    "1:19 error value/list \`[1 in, 2 in]\`
      one value is expected here, not a list"
  `);
  expect(golden('brake b { piston_count: "four" }')).toMatchInlineSnapshot(`
    "1:25 error value/not-a-number \`"four"\`
      a count is expected here, not a text
      hint write a plain number"
  `);
});

test("a count that is not whole", () => {
  expect(golden("brake b { piston_count: 3.5 }")).toMatchInlineSnapshot(`
    "1:25 error value/not-whole \`3.5\`
      a whole number is expected here, not 3.5"
  `);
});

test("limits the wrong way round", () => {
  expect(golden("carrier c { backlash: 0.012..0.008 in }")).toMatchInlineSnapshot(`
    "1:23 error value/limits \`0.012..0.008 in\`
      the lower limit is above the upper one
      hint write the lower limit first, then \`..\`, then the upper one"
  `);
  expect(golden("carrier c { backlash: 0.020 in within 0.008..0.012 in }")).toMatchInlineSnapshot(`
    "1:23 error value/limits \`0.020 in within 0.008..0.012 in\`
      the value lies outside of its own limits
      hint check the value and its limits against the drawing"
  `);
});

test("a ± with a sign, in the spec and on record", () => {
  for (const line of [
    "brake b { hat_thickness: 8 mm ± -0.1 mm }",
    'brake b { hat_thickness: 8 mm }\nrecord "r" { b.hat_thickness: 8.1 mm +- -0.1 mm }',
    'brake b { hat_thickness: 8 mm }\nrecord "r" { b.pad_thickness: 8.1 mm ± -0.1 mm }',
  ])
    expect(golden(line), line).toContain("a ± has no sign of its own");
  // Of an angle below zero a share is one to either side.
  expect(golden("carrier c { pinion_slope: -2 deg ± 5 % }")).not.toContain("no sign");
});

test("a ± larger than its figure, where that cannot be less than nothing", () => {
  const told = "by that it could be less than nothing";
  expect(golden("brake b { hat_thickness: 8 mm ± 9 mm }")).toContain(
    `b.hat_thickness is 8 mm ± 9 mm: ${told}`,
  );
  expect(
    golden('brake b { hat_thickness: 8 mm }\nrecord "r" { b.pad_thickness: 8 mm ± 9 mm }'),
  ).toContain(`b.pad_thickness is 8 mm ± 9 mm: ${told}`);
  expect(golden("brake b { hat_thickness: 8 mm ± 1 mm }")).not.toContain(told);
  expect(golden("wheel w { size: 17x8; offset: 1 mm ± 2 mm }")).not.toContain(told);
  expect(golden("brake b { rotor_runout: 0 mm ± 0.02 mm }")).not.toContain(told);
});

test("what is on record of a figure that no line of the build speaks of is looked at as all others", () => {
  const build = 'brake b { hat_thickness: 8 mm }\nrecord "r" { b.pad_thickness: FIGURE }';
  // The slip is told as well.
  const odd = golden(build.replace("FIGURE", "450 mm"));
  expect(odd).toContain("b.pad_thickness is 450 mm: at most 40 mm is usual");
  expect(odd).toMatch(/is `.+` meant\?/);
  expect(golden(build.replace("FIGURE", "3 V"))).toContain("unit/wrong");
  expect(golden(build.replace("FIGURE", "12 mm"))).toBe("");
});

test("a tolerance without or with a wrong unit", () => {
  expect(golden("housing h { standoff: 2.5 in ± 0.010 }")).toMatchInlineSnapshot(`
    "1:32 error unit/missing \`0.010\`
      0.010 needs a unit of length, such as in, mm or ft
      fix write 0.010 in: housing h { standoff: 2.5 in ± 0.010 in }"
  `);
  expect(golden("housing h { standoff: 2.5 in ± 0.010 kg }")).toMatchInlineSnapshot(`
    "1:32 error unit/wrong \`0.010 kg\`
      a length is expected here, \`kg\` is a unit of mass
      hint units of length are in, mm or ft
      fix write in: housing h { standoff: 2.5 in ± 0.010 in }"
  `);
});

test("a text without quotes", () => {
  expect(golden("wheel w { supplier: harbor }")).toMatchInlineSnapshot(`
    "1:21 error value/not-a-text \`harbor\`
      \`supplier\` takes a text in double quotes
      fix write "harbor": wheel w { supplier: "harbor" }"
  `);
  expect(golden("wheel w { part_number: 4711 }")).toMatchInlineSnapshot(`
    "1:24 error value/not-a-text \`4711\`
      \`part_number\` takes a text in double quotes
      fix write "4711": wheel w { part_number: "4711" }"
  `);
});

test("yes or no", () => {
  expect(golden("lubricant oil { modified: maybe }")).toMatchInlineSnapshot(`
    "1:27 error value/wrong \`maybe\`
      \`modified\` takes yes or no, not \`maybe\`"
  `);
});

test("a date", () => {
  expect(golden("kind visit { day: date }\nvisit v { day: 3 in }")).toMatchInlineSnapshot(`
    "2:16 error value/wrong \`3 in\`
      \`day\` takes a date, not \`3 in\`
      hint write it as year-month-day: 2026-03-14"
  `);
});

test("a choice", () => {
  expect(golden("brake b { caliper: slidng }")).toMatchInlineSnapshot(`
    "1:20 error value/not-a-choice \`slidng\`
      \`caliper\` is fixed or sliding, not \`slidng\`
      hint did you mean \`sliding\`?
      fix write sliding: brake b { caliper: sliding }"
  `);
  expect(golden("brake b { caliper: drum }")).toMatchInlineSnapshot(`
    "1:20 error value/not-a-choice \`drum\`
      \`caliper\` is fixed or sliding, not \`drum\`"
  `);
});

test("a designation", () => {
  expect(golden("tire t { size: 275-50-17 }")).toMatchInlineSnapshot(`
    "1:16 error value/wrong \`275-50-17\`
      \`275-50-17\` is not a tire size
      hint it is written ‹width›/‹aspect›R‹truck rim›C or ‹width›/‹aspect›R‹truck rim›LT or ‹width›/‹aspect›R‹rim› or LT‹width›/‹aspect›R‹truck rim› or in another way of the trade"
  `);
  expect(golden("wheel w { size: 9 in }")).toMatchInlineSnapshot(`
    "1:17 error value/wrong \`9 in\`
      \`9 in\` is not a rim size
      hint it is written ‹diameter›x‹width› or ‹width› ‹flange shape› x ‹diameter›"
  `);
  expect(golden("joint j { thread: M12y1.5 }")).toMatchInlineSnapshot(`
    "1:19 error value/wrong \`M12y1\`
      \`M12y1\` is not a thread size
      hint it is written ‹diameter›-‹threads› or M‹diameter› or #‹number›-‹threads›
    1:24 error syntax/unexpected \`.5\`
      expected the end of the line, found \`.5\`"
  `);
});

test("a question where no figure is", () => {
  expect(golden("brake b { caliper: ? }")).toMatchInlineSnapshot(`
    "1:20 warning missing/not-a-figure \`?\`
      \`caliper\` cannot be worked out: only figures can
      hint write fixed or sliding, or leave the line out"
  `);
  expect(golden("axle rear { wheel: ? }")).toMatchInlineSnapshot(`
    "1:20 warning missing/not-a-figure \`?\`
      \`wheel\` cannot be worked out: only figures can
      hint name a wheel, or leave the line out"
  `);
});

test("a question within a formula", () => {
  expect(golden("wheel w { offset: 3 mm + ? }")).toMatchInlineSnapshot(`
    "1:26 error value/ask-in-formula \`?\`
      \`?\` asks for a whole value, it cannot stand in a formula
      hint write \`?\` after the name of the field that is wanted"
  `);
});

test("a tolerance within a formula", () => {
  expect(golden("wheel w { offset: flange + (3 mm ± 1 mm) }")).toMatchInlineSnapshot(`
    "1:29 error value/tolerance-in-formula \`3 mm ± 1 mm\`
      a tolerance belongs to a given value, it cannot stand in a formula
      hint write the figure with its tolerance into a field of its own, and name that field here"
  `);
});

test("sides that do not measure the same", () => {
  expect(golden("wheel w { offset: flange + 3 kg }")).toMatchInlineSnapshot(`
    "1:19 error unit/clash \`flange + 3 kg\`
      the two sides of \`+\` do not measure the same: a length on the left, a mass on the right"
  `);
  expect(golden('wheel w { offset: 1 in }\ncheck "c": w.offset >= 3 kg')).toMatchInlineSnapshot(`
    "2:12 error unit/clash \`w.offset >= 3 kg\`
      the two sides of \`>=\` do not measure the same: a length on the left, a mass on the right"
  `);
  expect(golden('wheel w { offset: 1 in }\ncheck "c": w.offset >= 3')).toMatchInlineSnapshot(`
    "2:12 error unit/clash \`w.offset >= 3\`
      the two sides of \`>=\` do not measure the same: a length on the left, a plain number on the right
      hint if a figure stands there without its unit, write the unit"
  `);
  expect(
    golden('wheel w { offset: 1 in }\nrelation "r": w.offset = w.mass'),
  ).toMatchInlineSnapshot(`
    "2:26 error unit/clash \`w.mass\`
      the two sides of \`=\` do not measure the same: a length on the left, a mass on the right"
  `);
});

test("a formula of another measure", () => {
  expect(golden("wheel w { offset: flange * flange }")).toMatchInlineSnapshot(`
    "1:19 error unit/clash \`flange * flange\`
      \`offset\` is a length, this formula gives an area
      hint check the units of its parts"
  `);
  expect(golden("wheel w { offset: mass }")).toMatchInlineSnapshot(`
    "1:19 error unit/clash \`mass\`
      \`offset\` is a length, this formula gives a mass
      hint check the units of its parts"
  `);
  expect(golden("wheel w { offset: 5 * mass / flange ^ 2 }")).toMatchInlineSnapshot(`
    "1:19 error unit/clash \`5 * mass / flange ^ 2\`
      \`offset\` is a length, this formula gives a mass / length²
      hint check the units of its parts"
  `);
});

test("powers and roots", () => {
  expect(golden("wheel w { offset: 1 in ^ (1 in / 1 kg) }")).toMatchInlineSnapshot(`
    "1:26 error unit/clash \`(1 in / 1 kg)\`
      an exponent is a plain number, not a length / mass"
  `);
  expect(
    golden("carrier c { ratio: 3 }\nwheel w { offset: flange ^ c.ratio }"),
  ).toMatchInlineSnapshot(`
    "2:28 error unit/clash \`c.ratio\`
      a length can only be raised to a power that is written as a number"
  `);
});

test("functions and what they take", () => {
  expect(golden("carrier c { ratio: sin(3 in) }")).toMatchInlineSnapshot(`
    "1:20 error unit/clash \`sin(3 in)\`
      \`sin\` takes an angle, not a length"
  `);
  expect(golden("wheel w { offset: max() }")).toMatchInlineSnapshot(`
    "1:19 error value/arguments \`max()\`
      \`max\` takes one value or more, not none"
  `);
  expect(golden("wheel w { offset: abs(1 in, 2 in) }")).toMatchInlineSnapshot(`
    "1:19 error value/arguments \`abs(1 in, 2 in)\`
      \`abs\` takes 1 value, not 2"
  `);
  expect(golden("wheel w { offset: round(flange) }")).toMatchInlineSnapshot(`
    "1:19 error value/arguments \`round(flange)\`
      \`round\` needs the step to round to
      hint write for example \`round(x, 1 mm)\`"
  `);
  expect(golden("wheel w { offset: max(1 in, 1 kg) }")).toMatchInlineSnapshot(`
    "1:19 error unit/clash \`max(1 in, 1 kg)\`
      the values of \`max\` do not measure the same: a length and a mass"
  `);
  expect(golden('wheel w { offset: max(1 in, "wide") }')).toMatchInlineSnapshot(`
    "1:19 error value/not-a-number \`max(1 in, "wide")\`
      \`max\` takes figures"
  `);
  expect(golden("carrier c { ratio: atan2(1 in) }")).toMatchInlineSnapshot(`
    "1:20 error value/arguments \`atan2(1 in)\`
      \`atan2\` takes 2 values, not 1"
  `);
  expect(golden("wheel w { offset: given(2 in) }")).toMatchInlineSnapshot(`
    "1:19 error value/arguments \`given(2 in)\`
      \`given\` takes the name of one field"
  `);
  expect(golden("wheel w { offset: sum(each(3)) }")).toMatchInlineSnapshot(`
    "1:23 error value/arguments \`each(3)\`
      \`each\` takes the name of one kind"
  `);
  expect(golden("carrier c { ratio: item(3, 1) }")).toMatchInlineSnapshot(`
    "1:20 error value/arguments \`item(3, 1)\`
      \`item\` takes a list and a place in it, counted from 1"
  `);
  expect(golden("carrier c { ratio: stack(3, 1) }")).toMatchInlineSnapshot(`
    "1:20 error value/arguments \`stack(3, 1)\`
      \`stack\` takes a list of sizes, the wanted size, what may be left over and, if you like, how many there are of each size"
  `);
});

test("a thing in a formula", () => {
  expect(golden("tire t { }\nwheel w { offset: t + 1 in }")).toMatchInlineSnapshot(`
    "2:19 error value/thing-in-formula \`t\`
      \`t\` is a thing, not a figure: name one of its fields"
  `);
});

test("several values where one is wanted", () => {
  expect(
    golden("gearbox g { ratios: [3, 2, 1] }\ncarrier c { ratio: g.ratios + 1 }", { only: "value" }),
  ).toMatchInlineSnapshot(`
    "2:20 error value/list \`g.ratios\`
      several values stand here where one is expected
      hint put them together with sum, mean, min, max or count, or pick one with item"
  `);
  expect(
    golden('gearbox g { ratios: [3, 2, 1] }\ncheck "c": g.ratios > 1', { only: "value" }),
  ).toMatchInlineSnapshot(`
    "2:12 error value/list \`g.ratios\`
      several values stand here where one is expected
      hint put them together with sum, mean, min, max or count, or pick one with item"
  `);
});

test("a condition where a figure is wanted, and the other way round", () => {
  expect(golden("carrier c { ratio: 3 > 2 }")).toMatchInlineSnapshot(`
    "1:20 error value/condition-in-formula \`3 > 2\`
      \`>\` belongs in a condition: after \`if\` or \`when\`, or in a check"
  `);
  expect(golden("carrier c { ratio: not 2 }")).toMatchInlineSnapshot(`
    "1:20 error value/condition-in-formula \`not 2\`
      \`not\` belongs in a condition"
  `);
  expect(golden('wheel w { offset: 1 in }\ncheck "c": w.offset')).toMatchInlineSnapshot(`
    "2:12 error value/not-a-condition \`w.offset\`
      a condition is expected here: a comparison such as \`… >= 1/2 in\`"
  `);
  expect(
    golden('wheel w { offset: 1 in }\ncheck "c": 3 and w.offset > 0 in'),
  ).toMatchInlineSnapshot(`
    "2:12 error value/not-a-condition \`3\`
      a condition is expected here: a comparison such as \`… >= 1/2 in\`"
  `);
});

test("a word beside a figure", () => {
  expect(golden('wheel w { offset: 1 in }\ncheck "c": w.offset == "deep"')).toMatchInlineSnapshot(`
    "2:12 error value/clash \`w.offset == "deep"\`
      a word and a figure cannot be compared: a length on the left, the word “deep” on the right"
  `);
  expect(golden('wheel w { offset: 1 in }\ncheck "c": w.offset == deep')).toMatchInlineSnapshot(`
    "2:24 error name/unknown \`deep\`
      there is nothing called \`deep\` here
      hint known here: w"
  `);
});

test("a word in a formula", () => {
  expect(golden('wheel w { offset: "a" + 1 in }')).toMatchInlineSnapshot(`
    "1:19 error value/not-a-number \`"a"\`
      a number is expected here, not a word"
  `);
  expect(
    golden("brake b { caliper: fixed }\nwheel w { offset: b.caliper }"),
  ).toMatchInlineSnapshot(`
    "2:19 error value/not-a-number \`b.caliper\`
      a length is expected here, not the word “fixed”"
  `);
});

test("a table misused", () => {
  expect(golden("wheel w { mass: load_by_index(3 in) }")).toMatchInlineSnapshot(`
    "1:17 error table/use \`load_by_index(3 in)\`
      \`load_by_index\` takes a number for \`index\`, not a length"
  `);
  expect(golden("wheel w { mass: load_by_index() }")).toMatchInlineSnapshot(`
    "1:17 error table/use \`load_by_index()\`
      \`load_by_index\` is looked up by index, no value is given"
  `);
  expect(golden("wheel w { mass: load_by_index(91, 92) }")).toMatchInlineSnapshot(`
    "1:17 error table/use \`load_by_index(91, 92)\`
      \`load_by_index\` is looked up by index, 2 values are given"
  `);
  expect(golden('wheel w { mass: load_by_index("ninety") }')).toMatchInlineSnapshot(`
    "1:17 error table/use \`load_by_index("ninety")\`
      \`load_by_index\` takes a number for \`index\`, not a word"
  `);
  expect(golden("wheel w { mass: load_by_index.laod(91) }")).toMatchInlineSnapshot(`
    "1:17 error table/use \`load_by_index.laod(91)\`
      \`load_by_index\` has no column \`laod\`: write load_by_index.load"
  `);
  expect(golden("tire t { measuring_rim: 7 in * rim_limits(50 %) }")).toMatchInlineSnapshot(`
    "1:32 error table/use \`rim_limits(50 %)\`
      \`rim_limits\` has several columns, say which one is wanted: rim_limits.narrowest or rim_limits.widest"
  `);
  expect(golden("housing h { yield_strength: steels.yield(3) }")).toMatchInlineSnapshot(`
    "1:29 error table/use \`steels.yield(3)\`
      \`steels\` takes a word for \`name\`"
  `);
});

test("a table with no row", () => {
  expect(golden("wheel w { mass: load_by_index(3.5) }")).toMatchInlineSnapshot(`
    "1:17 warning table/no-row \`load_by_index(3.5)\`
      w: the table “Load a tire may carry by its load index” has no row for 3.5
      hint give the figure itself, from its maker's data"
  `);
  expect(golden("wheel w { mass: load_by_index(300) }")).toMatchInlineSnapshot(`
    "1:17 warning table/no-row \`load_by_index(300)\`
      w: the table “Load a tire may carry by its load index” has no row for 300: it goes from 0 to 279
      hint give the figure itself, from its maker's data"
  `);
  expect(golden("tire t { size: 205/55R16 301V }")).toMatchInlineSnapshot(`
    "1:1 warning table/no-row \`tire t \`
      t: the table “Load a tire may carry by its load index” has no row for 301: it goes from 0 to 279
      hint give the figure itself, from its maker's data"
  `);
  expect(golden('housing h { material: "cheese" }')).toMatchInlineSnapshot(`
    "1:1 warning table/no-row \`housing h \`
      h: the table “Strength of steels in the condition named” has no row for “cheese”
      hint give the figure itself, from its maker's data"
  `);
});

test("a list of figures with a wrong one", () => {
  expect(golden("shim_kit kit { sizes: [0.005 in, 0.010, 0.020 kg] }")).toMatchInlineSnapshot(`
    "1:34 error unit/missing \`0.010\`
      0.010 needs a unit of length, such as in, mm or ft
      fix write 0.010 in: shim_kit kit { sizes: [0.005 in, 0.010 in, 0.020 kg] }
      fix write 0.010 mm: shim_kit kit { sizes: [0.005 in, 0.010 mm, 0.020 kg] }
      fix write 0.010 ft: shim_kit kit { sizes: [0.005 in, 0.010 ft, 0.020 kg] }
    1:41 error unit/wrong \`0.020 kg\`
      a length is expected here, \`kg\` is a unit of mass
      hint units of length are in, mm or ft
      fix write in: shim_kit kit { sizes: [0.005 in, 0.010, 0.020 in] }
      fix write mm: shim_kit kit { sizes: [0.005 in, 0.010, 0.020 mm] }"
  `);
});

test("a stud circle without its unit is read where only one is possible, else asked for", () => {
  expect(golden("wheel w { stud_circle: 5x5.5 }\nhub h { stud_circle: 5x127 }")).toBe("");
  expect(golden("wheel w { stud_circle: 5x30 }")).toMatchInlineSnapshot(`
    "1:24 error unit/missing \`5x30\`
      the unit of \`5x30\` is missing: \`5x30 in\` or \`5x30 mm\`
      fix write 5x30 in: wheel w { stud_circle: 5x30 in }
      fix write 5x30 mm: wheel w { stud_circle: 5x30 mm }"
  `);
});

test("a check of two lengths over each other speaks in plain numbers, not in degrees", () => {
  expect(
    golden(
      'housing h { standoff: 2 in  end_length: 1 in }\ncheck "slender": h.standoff / h.end_length >= 3',
    ),
  ).toMatchInlineSnapshot(`
    "2:1 error check/own \`check "slender": h.standoff / h.end_length >= 3\`
      does not hold: slender (h.standoff / h.end_length is 2, at least 3 is wanted: 1 short)"
  `);
});
