/**
 * Logs that follow a plan, with work done again in the middle: one done properly draws no finding,
 * one with an entry left out or put in the wrong place draws one that names what is wrong.
 *
 * What has to follow what is told here by hand, from the trade, not asked of what is tested.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import { analyze } from "./helper";

const plan = `housing rear_housing { face_to_face: 57 in }
joint bracket "Bracket bolts" { thread: 1/2-20  grade: 8  count: 6  torque: 85 lb-ft  after: job.shims }
joint caliper "Caliper bolts" { thread: 7/16-20  grade: 8  count: 2  torque: 50 lb-ft  pattern: line }
joint nuts "Wheel nuts" { thread: 1/2-20  grade: 8  count: 5  torque: 90 lb-ft  recheck_after: 50 mi }
procedure job {
  step weld { work: weld  after: tack }
  step index { work: index }
  step tack { work: tack  after: index }
  step cool { work: cool }
  step width { work: inspect  measure: rear_housing.face_to_face }
  step carrier { work: fit_carrier }
  step bearings { work: fit_bearings }
  step shafts { work: fit_shafts }
  step rotors { work: seat_rotor }
  step snug { work: fit_bracket  after: rotors  tighten: bracket  tighten_to: 30 % }
  step gaps { work: read_gap }
  step shims { work: shim }
  step tight { work: torque_bracket  tighten: bracket }
  step calipers { work: fit_caliper  tighten: caliper }
  step lines { work: run_lines }
  step fill { work: fill }
  step master { work: bench_bleed }
  step bleed { work: bleed }
  step pedal { work: check_pedal }
  step wheels { work: fit_wheels  after: pedal  tighten: nuts }
  step down { work: lower }
  step drive { work: road_test }
  step again { work: recheck  recheck: nuts }
  step sign { after: [again, width, down, lines, fill] }
}
`;

const steps = [...plan.matchAll(/^ {2}step (\w+)/gm)].map(([, name = ""]) => name);

/** What comes first, for the order of a log; common practice, no source. */
const before: readonly (readonly [string, string])[] = [
  ...chain("index tack weld cool width carrier shafts rotors snug gaps shims tight calipers lines"),
  ...chain("weld bearings shafts"),
  ...chain("shafts fill drive"),
  ...chain("lines bleed pedal wheels down drive again sign"),
  ...chain("master bleed"),
  ...chain("width sign"),
];

/** What is to be done again once the first is done again; common practice, no source. */
const stands: readonly (readonly [string, string])[] = [
  ...chain("index tack"),
  ...chain("weld cool width"),
  ...chain("weld carrier shafts rotors gaps"),
  ...chain("weld bearings shafts"),
  ...chain("snug gaps"),
  ...chain("snug tight calipers"),
  ...chain("shims tight"),
  ...chain("carrier fill"),
  ...chain("shafts fill"),
  ...chain("lines bleed pedal"),
  ...chain("master bleed"),
  ...chain("drive again"),
  ...chain("wheels again"),
];

/** What wants another done afresh each time; common practice, no source. */
const afresh: readonly (readonly [string, string])[] = [["gaps", "shims"]];

const redone = ["weld", "snug", "gaps", "shims", "bleed", "drive", "shafts", "wheels"];

interface Line {
  readonly about: string;
  readonly text: string;
  /** Nothing is wrong where it is missing, or another says the same. */
  readonly idle?: boolean;
}

function chain(names: string): [string, string][] {
  const list = names.split(" ");
  return list.slice(1).map((name, index) => [list[index] ?? "", name]);
}

/** One order of all steps that keeps `before`, chosen by `picks`. */
function ordered(picks: readonly number[]): string[] {
  const left = new Set(steps);
  const order: string[] = [];
  for (let turn = 0; left.size > 0; turn++) {
    const free = [...left].filter(
      (step) => !before.some(([first, second]) => second === step && left.has(first)),
    );
    const next = free[(picks[turn] ?? 0) % free.length] ?? "";
    left.delete(next);
    order.push(next);
  }
  return order;
}

/** Both, one right after the other, and all that comes first before them; `undefined` where another lies between. */
function sideBySide(first: string, second: string): string[] | undefined {
  const earlier = new Set([first, second]);
  for (let grown = 0; grown !== earlier.size; ) {
    grown = earlier.size;
    for (const [one, other] of before) if (earlier.has(other)) earlier.add(one);
  }
  const all = ordered([]);
  const head = all.filter((each) => earlier.has(each) && each !== first && each !== second);
  const between = head.some((each) =>
    before.some(([one, other]) => one === first && other === each),
  );
  if (between) return undefined;
  return [...head, first, second, ...all.filter((each) => !earlier.has(each))];
}

/** The step, what it wants afresh, and all that stands on it, in the order of the log. */
function closure(step: string, order: readonly string[]): string[] {
  const again = new Set([step]);
  for (const [first, second] of afresh) if (second === step) again.add(first);
  for (let grown = 0; grown !== again.size; ) {
    grown = again.size;
    for (const [first, second] of stands) if (again.has(first)) again.add(second);
  }
  return order.filter((each) => again.has(each));
}

function linesOf(step: string, byPasses: boolean): Line[] {
  const done = { about: `job.${step}`, text: `job.${step}.done: yes` };
  const joint = (name: string, text: string, idle = false): Line => ({ about: name, text, idle });
  switch (step) {
    case "width":
      return [{ about: "rear_housing", text: "rear_housing.face_to_face: 57 in" }, done];
    case "snug":
      return [
        joint("bracket", "bracket.loosened: yes", true),
        joint("bracket", "bracket { tightened: 25 lb-ft  pass: 1 }"),
        done,
      ];
    case "tight":
      return byPasses
        ? [
            joint("bracket", "bracket.loosened: yes", true),
            joint("bracket", "bracket { tightened: 25 lb-ft  pass: 1 }"),
            joint("bracket", "bracket { tightened: 60 lb-ft  pass: 2  bolts: [1, 4, 2, 5, 3, 6] }"),
            joint("bracket", "bracket { tightened: 85 lb-ft  pass: 3 }"),
            joint("bracket", "bracket { tightened: 85 lb-ft  pass: 4  held: yes }"),
            done,
          ]
        : [joint("bracket", "bracket { tightened: 85 lb-ft  held: yes }"), done];
    case "calipers":
      return [joint("caliper", "caliper { tightened: 50 lb-ft  held: yes }"), done];
    case "wheels":
      return [joint("nuts", "nuts { tightened: 90 lb-ft  held: yes }"), done];
    case "again":
      return [joint("nuts", "nuts.rechecked: yes"), done];
    default:
      return [done];
  }
}

interface Drawn {
  readonly picks: readonly number[];
  readonly redo: readonly string[];
  readonly byPasses: boolean;
}

const drawn: fc.Arbitrary<Drawn> = fc.record({
  picks: fc.array(fc.nat(5), { minLength: steps.length, maxLength: steps.length }),
  redo: fc.array(fc.constantFrom(...redone), { maxLength: 2 }),
  byPasses: fc.boolean(),
});

/** The log of one way through the plan; each block of lines belongs to one doing of one step. */
function blocksOf({ picks, redo, byPasses }: Drawn): Line[][] {
  const order = ordered(picks);
  const last = order.filter((step) => step !== "sign");
  const again = redo.flatMap((root, at) =>
    closure(root, last).map((step) => {
      const lines = linesOf(step, byPasses);
      const idle = step === root || isFreshAlready(step, root, redo.slice(0, at), last);
      // Without what it begins with, work done once more is work done once more.
      return idle ? lines.map((line) => ({ ...line, idle: true })) : lines;
    }),
  );
  return [...last.map((step) => linesOf(step, byPasses)), ...again, linesOf("sign", byPasses)];
}

/** What is wanted afresh was done afresh before, and not used up since: one of the two is enough. */
function isFreshAlready(
  step: string,
  root: string,
  redo: readonly string[],
  order: readonly string[],
): boolean {
  if (!afresh.some(([first, second]) => first === step && second === root)) return false;
  let fresh = false;
  for (const each of redo) {
    const again = closure(each, order);
    if (again.includes(step)) fresh = true;
    if (again.includes(root)) fresh = false;
  }
  return fresh;
}

/** A day for each line, so that all of the order is known. */
function logOf(lines: readonly Line[]): string {
  return lines
    .map(({ text }, index) => {
      const day = new Date(Date.UTC(2026, 0, 1 + index)).toISOString().slice(0, 10);
      return `record ${day} by "someone" { ${text} }\n`;
    })
    .join("");
}

function objections(log: string): string[] {
  const { findings } = sequenceOf(analyze(plan + log));
  return findings
    .filter(({ severity }) => severity !== "note")
    .map(({ code, message, hint }) => `${code}: ${message} (${hint})`);
}

describe("a log that follows the plan", () => {
  test("draws no finding, work done again included, and everything is done", () => {
    fc.assert(
      fc.property(drawn, (way) => {
        const log = logOf(blocksOf(way).flat());
        expect(objections(log)).toEqual([]);
        const open = sequenceOf(analyze(plan + log)).steps.filter(({ state }) => state !== "done");
        expect(open.map(({ path, again }) => `${path}: ${again.join("; ")}`)).toEqual([]);
      }),
      { numRuns: 25 },
    );
  });

  test("draws one that names it where an entry that matters is left out", () => {
    fc.assert(
      fc.property(drawn, fc.nat(), (way, pick) => {
        const lines = blocksOf(way).flat();
        const texts = lines.map(({ text }) => text);
        // What was done again later has made good for it; the last entry leaves nothing behind.
        const matters = lines.flatMap(({ idle, about, text }, index) => {
          const isLast = index === lines.length - 1 || texts.lastIndexOf(text) > index;
          const ofPass = about === "bracket" && !/done/.test(text) && !way.byPasses;
          return idle === true || isLast || ofPass ? [] : [index];
        });
        const at = matters[pick % matters.length] ?? 0;
        const dropped = lines[at];
        const found = objections(logOf(lines.filter((_, index) => index !== at)));
        expect(
          found.some((each) => each.includes(dropped?.about ?? "")),
          `${dropped?.text} left out of\n${texts.join("\n")}\n${found.join("\n")}`,
        ).toBe(true);
      }),
      { numRuns: 40 },
    );
  });

  test("draws one where two neighbors that matter to each other are swapped, whichever they are", () => {
    for (const [first, second] of before) {
      const order = sideBySide(first, second);
      if (order === undefined) continue;
      const swapped = order.map((each) =>
        each === first ? second : each === second ? first : each,
      );
      const found = objections(logOf(swapped.flatMap((step) => linesOf(step, false))));
      expect(
        found.some((each) => each.includes(`job.${first}`) || each.includes(`job.${second}`)),
        `${first} and ${second} swapped:\n${found.join("\n")}`,
      ).toBe(true);
    }
  });

  test("draws one where a step is on record before what comes first", () => {
    fc.assert(
      fc.property(drawn, fc.constantFrom(...before), (way, [first, second]) => {
        const blocks = blocksOf({ ...way, redo: [] });
        const order = ordered(way.picks);
        const [one, other] = [order.indexOf(first), order.indexOf(second)];
        fc.pre(one >= 0 && other >= 0);
        const swapped = [...blocks];
        [swapped[one], swapped[other]] = [blocks[other] ?? [], blocks[one] ?? []];
        const found = objections(logOf(swapped.flat()));
        expect(
          found.some((each) => each.includes(`job.${first}`) || each.includes(`job.${second}`)),
          `${first} and ${second} swapped:\n${found.join("\n")}`,
        ).toBe(true);
      }),
      { numRuns: 30 },
    );
  });
});
