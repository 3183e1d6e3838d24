/**
 * One joint, entry by entry, each row by hand: what keeps it from being tight, in the words of the plan,
 * and what is said of the entries.
 */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import { analyze } from "./helper";

/** Entries of one hand and day, one after the other; or with a head of their own before a colon. */
function read(joint: string, entries: readonly string[]) {
  const records = entries.map((entry) => {
    const [inside = "", head = '2026-03-01 by "A"'] = entry.split(" < ");
    return `record ${head} { j { ${inside} } }\n`;
  });
  const { joints, findings } = sequenceOf(
    analyze(`display { torque: lb-ft }
joint j "J" { torque: 80 lb-ft  ${joint} }
${records.join("")}`),
  );
  const [shown] = joints;
  return [
    shown?.tightenedOn === undefined ? (shown?.lacks ?? "nothing was done") : "tight",
    ...findings.map(({ code }) => code.replace("record/", "")),
  ];
}

const four = "count: 4  passes: [30 %, 70 %, 100 %]";
const [first, second, third, closing] = [
  "tightened: 24 lb-ft  pass: 1",
  "tightened: 56 lb-ft  pass: 2",
  "tightened: 80 lb-ft  pass: 3",
  "tightened: 80 lb-ft  pass: 4",
] as const;
const whole = "tightened: 80 lb-ft";

const turned = "count: 2  pattern: line  passes: [50 %, 100 %]  turn: 90 deg";
const single = "count: 2  pattern: line  passes: [100 %]  single_use: yes";
const next = '< 2026-03-02 by "A"';

describe("what keeps it from being tight", () => {
  test.each<[name: string, joint: string, entries: string[], found: string[]]>([
    ["nothing done", four, [], ["nothing was done"]],
    ["the first pass", four, [first], ["lacks passes 2, 3 and 4"]],
    ["all but the closing round", four, [first, second, third], ["lacks pass 4"]],
    ["all", four, [first, second, third, closing, "held: yes"], ["tight"]],
    [
      "it turned when it was to hold",
      four,
      [first, second, third, closing, "held: no"],
      ["has not held", "not-held"],
    ],
    [
      "too little in the second",
      four,
      [first, "tightened: 30 lb-ft  pass: 2"],
      ["is not at its torque", "torque-off"],
    ],
    [
      "too little in the second, then going on",
      four,
      [first, "tightened: 30 lb-ft  pass: 2", third, closing, "held: yes"],
      ["lacks pass 2", "torque-off"],
    ],
    [
      "too little in the second, then once more",
      four,
      [first, "tightened: 30 lb-ft  pass: 2", second, third, closing, "held: yes"],
      ["tight"],
    ],
    [
      "a turn wanted",
      "count: 1  turn: 90 deg",
      [`${whole}  held: yes`],
      ["is not turned on by its angle"],
    ],
    [
      "turned on where no turn is wanted",
      "count: 1",
      [`${whole}  held: yes  turned: 90 deg`],
      ["tight", "turn-off"],
    ],
    [
      "what the wrench showed, where nobody knows what that is at the nut",
      "count: 1  extension: 2 in",
      ["reading: 60 lb-ft  held: yes"],
      ["tight", "joint/adapter"],
    ],
    ["turned on by nothing", "count: 1", [`${whole}  held: yes  turned: 0 deg`], ["tight"]],
    [
      "the turn in the entry of the last pass",
      turned,
      ["tightened: 40 lb-ft  pass: 1", `${whole}  pass: 2  turned: 90 deg  held: yes`],
      ["tight"],
    ],
    [
      "some in one pass, others in the next",
      four,
      [`${first}  bolts: [2, 1]`, `${second}  bolts: [4, 3]`],
      ["lacks fasteners 1, 2, 3 and 4 and lacks passes 3 and 4", "bolts", "bolts"],
    ],
    [
      "others in each pass: told in their order",
      four,
      [`${first}  bolts: [1, 2, 3]`, `${second}  bolts: [2, 3, 4]`, `${third}  bolts: [1, 3, 4]`],
      ["lacks fasteners 1, 2 and 4 and lacks pass 4", "bolts", "bolts", "bolts"],
    ],
    [
      "a pass, where it has none",
      "count: 2  passes: []",
      ["tightened: 80 lb-ft  pass: 1  held: yes"],
      ["is not tightened", "joint/passes", "no-such-pass"],
    ],
    [
      "a pass it does not have",
      four,
      [`${whole}  pass: 7`],
      ["lacks passes 1, 2, 3 and 4", "no-such-pass", "pass-skipped"],
    ],
  ])("%s", (_, joint, entries, found) => {
    expect(read(joint, entries)).toEqual(found);
  });
});

test("what the wrench showed is not told once more where it is the torque itself", () => {
  const { findings } = sequenceOf(
    analyze(`display { torque: lb-ft }
joint j "J" { torque: 80 lb-ft }
record 2026-03-01 by "A" { j { reading: 60 lb-ft  held: yes } }`),
  );
  // 4 % of the torque (ISO 6789-1), and half of the last digit.
  expect(findings.map(({ message }) => message)).toEqual([
    "`j` was tightened to 60 lb-ft, 80 lb-ft ± 3.7 lb-ft is wanted",
  ]);
});

describe("which pass an entry without a number is", () => {
  test.each<[name: string, entries: string[], found: string[]]>([
    [
      "the first two by their torque",
      ["tightened: 24 lb-ft", "tightened: 56 lb-ft", third, closing, "held: yes"],
      ["tight"],
    ],
    [
      "those that the last pass left out, by themselves",
      [first, second, third, `${closing}  bolts: [1, 2]`, `${whole}  bolts: [3, 4]  held: yes`],
      ["tight"],
    ],
    [
      "all of them, after a pass that left some out",
      [first, second, third, `${closing}  bolts: [1, 2]`, `${whole}  held: yes`],
      ["tight"],
    ],
    [
      "some at the whole torque before the passes went so far",
      [first, second, `${whole}  bolts: [3, 4]  held: yes`],
      ["lacks fasteners 1 and 2", "bolts"],
    ],
    ["all in one go after the third: no pass is missed", [third, `${whole}  held: yes`], ["tight"]],
  ])("%s", (_, entries, found) => {
    expect(read(four, entries)).toEqual(found);
  });
});

describe("rounds of fasteners that are used once", () => {
  test.each<[name: string, joint: string, entries: string[], found: string[]]>([
    [
      "its only pass on two days",
      single,
      [`${whole}  pass: 1  held: yes`, `${whole}  pass: 1  held: yes ${next}`],
      ["tight", "not-renewed"],
    ],
    [
      "in one go on two days",
      `${four}  single_use: yes`,
      [`${whole}  held: yes`, `${whole}  held: yes ${next}`],
      ["tight", "not-renewed"],
    ],
    [
      "renewed when it was undone",
      single,
      [`${whole}  held: yes`, `loosened: yes  renewed: yes ${next}`, `${whole}  held: yes ${next}`],
      ["tight"],
    ],
    [
      "renewed the first time it was undone, not the second",
      single,
      [
        `${whole}  held: yes`,
        `loosened: yes  renewed: yes ${next}`,
        `${whole}  held: yes ${next}`,
        'loosened: yes < 2026-03-03 by "A"',
        `${whole}  held: yes < 2026-03-03 by "A"`,
      ],
      ["tight", "not-renewed"],
    ],
    [
      "once more round at the end is the same round",
      `${four}  single_use: yes`,
      [first, second, third, closing, `${closing}  held: yes`],
      ["tight"],
    ],
  ])("%s", (_, joint, entries, found) => {
    expect(read(joint, entries)).toEqual(found);
  });
});

describe("entries of several hands of one day, in whatever order they stand", () => {
  const by = (entry: string, who: string, at = "") => `${entry} < 2026-03-01 by "${who}"${at}`;
  const four3 = `${closing}  held: yes`;

  test.each<[name: string, entries: string[]]>([
    ["by their passes", [by(third, "C"), by(first, "A"), by(four3, "D"), by(second, "B")]],
    ["the other way round", [by(four3, "D"), by(third, "C"), by(second, "B"), by(first, "A")]],
    [
      "by their times first",
      [
        by(third, "C", ' at "9:00"'),
        by(first, "A"),
        by(four3, "D", ' at "10:00"'),
        by(second, "B", ' at "8:00"'),
      ],
    ],
  ])("%s", (_, entries) => {
    expect(read(four, entries)).toEqual(["tight"]);
  });

  test("what is put down without a pass comes after those that have one", () => {
    expect(
      read(four, [
        by("held: yes", "E"),
        ...[closing, third, second, first].map((each, at) => by(each, `${at}`)),
      ]),
    ).toEqual(["tight"]);
  });
});

describe("checked again", () => {
  test.each<[name: string, check: string, found: string[]]>([
    ["and it held", "rechecked: yes", ["tight"]],
    ["and it moved", "rechecked: no", ["moved when it was checked", "moved"]],
    [
      "with too little",
      "rechecked: yes  tightened: 70 lb-ft",
      ["moved when it was checked", "torque-off"],
    ],
    ["and it turned", "rechecked: yes  held: no", ["moved when it was checked", "not-held"]],
  ])("%s", (_, check, found) => {
    expect(read(four, [`${whole}  held: yes`, check])).toEqual(found);
    expect(read(four, [`${whole}  held: yes`, check, `${whole}  held: yes ${next}`])).toEqual([
      "tight",
    ]);
  });
});
