/** Bad input: a clear message at its place, and everything else still works. Nothing throws. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { analyzed, filesOf, folder } from "./build";
import { flawsOf } from "./everything";
import { golden } from "./golden";

const good = "wheel w { size: 17x9 offset: 18 mm backspace: ? }";

function backspace(text: string): string {
  const analysis = analyzed(text);
  expect(flawsOf(analysis)).toEqual([]);
  const value = analysis.valueAt("w.backspace");
  return value === undefined
    ? "nothing"
    : `${value.standing} ${((value.si ?? Number.NaN) * 1000).toFixed(3)}`;
}

// 17x9: (9 in + 2 * 0.5 in) / 2 + 18 mm = 127 mm + 18 mm, by the rim halves of the design.
const solved = "solved 145.000";

test("what is right is solved", () => {
  expect(backspace(good)).toBe(solved);
});

test("an empty file", () => {
  const analysis = analyzed("");
  expect([analysis.findings.length, analysis.values.size, analysis.things.length]).toEqual([
    0, 0, 0,
  ]);
  expect(flawsOf(analyzed("\n\n   \n# only a remark"))).toEqual([]);
});

test("Windows line endings, a byte-order mark", () => {
  const text = "wheel w {\n  size: 17x9\n  offset: 18 mm\n  backspace: ?\n  flnage: 0.5 in\n}\n";
  const findings = golden(text);
  expect(findings).toContain("5:3 error name/unknown-field");
  expect(golden(text.replaceAll("\n", "\r\n"))).toBe(findings);
  expect(golden(`\uFEFF${text}`)).toBe(findings);
  expect(backspace(text.replaceAll("\n", "\r\n"))).toBe(solved);
  expect(backspace(`\uFEFF${text}`)).toBe(solved);
});

test("a binary file, alone and taken in", () => {
  const bytes = Array.from({ length: 4000 }, (_, index) =>
    String.fromCharCode((index * 7919) % 256),
  ).join("");
  const alone = analyzed(bytes);
  expect(flawsOf(alone)).toEqual([]);
  expect(alone.findings.map(({ code }) => code)).toContain("syntax/not-text");
  expect(
    backspace(
      `//- build.trammel\nuse "photo.trammel" as photo\n${good}\n//- photo.trammel\n${bytes.replaceAll("//-", "")}`,
    ),
  ).toBe(solved);
});

test("a file of 5 MB", () => {
  const line = (index: number): string =>
    `wheel w${index} { size: 17x9 offset: ${index % 90} mm }\n`;
  let text = `${good}\n`;
  for (let index = 0; text.length < 5_000_000; index++) text += line(index);
  const started = performance.now();
  const analysis = analyzed(text);
  expect(analysis.valueAt("w.backspace")?.si).toBeCloseTo(0.145, 9);
  // More things than a file can hold are told once, at the first that is left out.
  const others = analysis.findings.filter(({ code }) => code !== "wheel/mounting-face");
  expect(others.map(({ code, message }) => `${code}: ${message}`)).toEqual([
    "build/too-much: this file holds more than 25,000 things, those from `w24999` on are left out",
  ]);
  console.log(
    `5 MB, ${analysis.things.length} things: ${Math.round(performance.now() - started)} ms`,
  );
}, 120_000);

test("5 MB of one line, one brace, one name", () => {
  for (const text of [
    "a".repeat(5_000_000),
    "{".repeat(100_000),
    `wheel w { offset: ${"(".repeat(50_000)} }`,
    `wheel w { offset: ${"1 mm + ".repeat(50_000)} 1 mm }`,
    `x${".y".repeat(100_000)}: 1`,
  ]) {
    const started = performance.now();
    expect(flawsOf(analyzed(text)).slice(0, 3)).toEqual([]);
    expect(performance.now() - started).toBeLessThan(30_000);
  }
});

test("an unclosed brace leaves the rest standing", () => {
  const text = `tire t {\n  size: 275/50R17\n\n${good}\n`;
  expect(analyzed(text).findings.map(({ code }) => code)).toContain("syntax/unclosed-brace");
  expect(backspace(text)).toBe(solved);
});

describe("what is wrong in one line leaves the others standing", () => {
  test.each([
    ["a length without a unit", "center_bore: 12"],
    ["a torque in pounds", "} joint j { torque: 85 lb"],
    ["an unknown field", "ofset: 3 in"],
    ["a thing that is not there", "} axle a { wheel: nothing"],
    ["a value left out", "center_bore:"],
    ["a lone name", "center_bore"],
    ["a stray sign", "center_bore: @ 3 in"],
    ["an unclosed text", 'supplier: "harbor'],
    ["an unknown unit", "center_bore: 3 mmm"],
  ])("%s", (_, line) => {
    const text = `wheel w {\n  size: 17x9\n  offset: 18 mm\n  ${line}\n}\n`;
    const analysis = analyzed(text);
    expect(flawsOf(analysis)).toEqual([]);
    expect(
      analysis.findings.some(
        ({ severity, anchor }) => severity === "error" && anchor.item.text.includes(line.slice(-6)),
      ),
    ).toBe(true);
    expect(analysis.valueAt("w.backspace")?.si).toBeCloseTo(0.145, 9);
  });

  test.each([
    ["missing", 'use "nowhere.trammel"', "use/missing"],
    ["outside", 'use "../../elsewhere.trammel"', "use/outside"],
    ["itself", 'use "build.trammel"', "use/circular"],
    ["no path", 'use "\\u0000"', "use/"],
    ["a folder", 'use "parts/"', "use/not-a-build"],
    ["another file", 'use "notes.txt"', "use/not-a-build"],
    ["at the top of the disk", 'use "/shop/parts.trammel"', "use/not-a-path"],
    ["on a drive", 'use "C:/shop/parts.trammel"', "use/not-a-path"],
  ])("a use of what is %s", (_, use, code) => {
    const text = `${use}\n${good}\n`;
    expect(analyzed(text).findings.filter((finding) => finding.code.startsWith(code))).toHaveLength(
      1,
    );
    expect(backspace(text)).toBe(solved);
  });

  test("files that use each other still give their things", () => {
    const text = `//- build.trammel\nuse "a.trammel"\naxle rear { wheel: w }\n//- a.trammel\nuse "b.trammel"\n${good}\n//- b.trammel\nuse "a.trammel"\ntire t { }\n`;
    expect(backspace(text)).toBe(solved);
    expect(analyzed(text).thingAt("rear.wheel")?.path).toBe("w");
  });
});

// ───────────────────────────── random damage ─────────────────────────────

const designExample = `//- build.trammel
use "parts/wheels.trammel"
use "parts/brakes.trammel" as brakes

display { length: in 1/32; torque: lb-ft }

vehicle van "Harbor delivery van" {
  wheelbase:   114 in
  mass:        3640 lb
}

tire rear_tire { size: 275/50R17 }

housing rear_housing {
  tube_diameter: 3 1/4 in
  tube_wall:     0.188 in
  standoff:      2.500 in ± 0.010 in      # housing end face to shaft flange face
  end_length:    2.0 in
  face_to_face:  ?
}

axle rear {
  wheel:    rear_wheel
  tire:     rear_tire
  brake:    brakes.rear_disc
  housing:  rear_housing
  left  { inner_limit: 23 1/2 in; inner_gap: 7/8 in }
  right { inner_limit: 24 11/16 in inner_gap: 7/8 in }
  mount_width: ?
}

check "Leaf spring clears the sidewall": rear.left.inner_gap >= 5/8 in

option bolt_in "Bolt-in axle, other wheels" {
  rear.housing.face_to_face: 57 1/4 in
  rear.wheel.offset: ?
}

record "after welding" 2026-03-14 {
  rear.housing.face_to_face: 58 1/8 in ± 1/32 in
}
//- parts/wheels.trammel
wheel rear_wheel {
  size:         17x9
  offset:       18 mm
  stud_circle:  5x5 in
}
//- parts/brakes.trammel
brake rear_disc { hat_thickness: 0.290 in }
`;

const ownWords = `designation code "Code" { size: length  letter: text  form "{size mm}[-{letter text}]" }
table loads "Loads by size" { key size: length in mm  load: mass in kg  lookup linear  row 10, 1  row 20, 4  row 40, 9 }
kind post "Post" { code: code  size: length range 1 mm..1 m bought  load: mass
  form: one_of(round, square) default round
  surface: area
  relation "size" : size = code.size
  relation "load": load = loads(size)
  relation "surface" when form == round: surface = 0.785398 * size ^ 2
  relation "surface of a square" when form == square: surface = size ^ 2
  check "strong": load >= 2 kg
  curve bend "Bend": size * x over x from 0 to 1
}
kind frame "Frame" { posts: list of post  total: mass shown  longest: length  bar: part bar
  relation "total": total = sum(posts.load)
  relation "longest": longest = max(posts.size)
}
kind bar of frame "Bar" { length: length bought  angle: angle range -80 deg..80 deg
  relation "lean": sin(angle) = longest / length
}
frame f "Frame" { post a { code: 12-B } post b { size: 30 mm ± 1 mm } bar { length: 100 mm angle: ? } }
relation "as wide": f.a.size = spare.size
post spare { size: ? load: ? }
check "light": f.total <= 12 kg
option square { f.a.form: square  f.b.size: 12 mm }
`;

const samples = readdirSync("samples", { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => {
    const root = join("samples", name);
    const paths = readdirSync(root, { recursive: true })
      .map(String)
      .filter((path) => path.endsWith(".trammel"));
    const ordered = ["build.trammel", ...paths.filter((path) => path !== "build.trammel")];
    return ordered
      .map((path) => `//- ${path}\n${readFileSync(join(root, path), "utf8")}`)
      .join("\n");
  });

const snippets = [
  "{",
  "}",
  "(",
  ")",
  "[",
  "]",
  ":",
  "?",
  "±",
  "..",
  "=",
  ",",
  '"',
  "#",
  ".",
  "-",
  "/",
  "^",
  "*",
  "0",
  "1e308",
  "-1e-300",
  "1/0",
  "99999999999999999999",
  "in",
  "mm",
  "kg",
  "%",
  "?",
  "\n",
  "wheel",
  "kind",
  "is",
  "of",
  "part",
  "list of",
  "use",
  "as",
  "option",
  "record",
  "check",
  "relation",
  "when",
  "if 1 > 2 then",
  "else",
  "each(",
  "given(",
  "sum(",
  "round(",
  "sqrt(",
  "\u0000",
  "\uFEFF",
  "é",
  "<<<<<<<",
  "rear",
  "rear.left",
  "default",
  "range",
  "within",
  "yes",
  "2026-03-14",
  "31x10.50R15",
];

type Damage = readonly [how: number, where: number, what: number];

/** Damages the files of a build, mostly the first, and leaves their names alone. */
function damagedBuild(text: string, damage: readonly Damage[]): string {
  const files = [...filesOf(text)].map(([uri, body]) => ({ path: uri.slice(folder.length), body }));
  for (const one of damage) {
    const file = files[one[1] % 3 === 0 ? one[2] % files.length : 0];
    if (file !== undefined) file.body = damaged(file.body, [one]);
  }
  return files
    .map(({ path, body }) => `//- ${path}\n${body.replaceAll(/^\/\/-/gm, "--")}\n`)
    .join("");
}

/** Cuts, repeats, moves and adds bits of the text. */
function damaged(text: string, seeds: readonly Damage[]): string {
  let damagedText = text;
  for (const [how, where, what] of seeds) {
    const words = damagedText.split(/(?<=\s)(?=\S)/);
    const at = where % Math.max(1, words.length);
    const other = what % Math.max(1, words.length);
    switch (how % 6) {
      case 0:
        words.splice(at, 1 + (what % 5));
        break;
      case 1:
        words.splice(at, 0, snippets[what % snippets.length] ?? "", " ");
        break;
      case 2:
        [words[at], words[other]] = [words[other] ?? "", words[at] ?? ""];
        break;
      case 3:
        words.splice(at, 0, ...words.slice(other, other + 6));
        break;
      case 4:
        words[at] = (words[at] ?? "").replace(/\d+/, String((what % 2000) - 20));
        break;
      default:
        words[at] = (words[at] ?? "").slice(0, what % 7) + (words[at] ?? "").slice((what % 7) + 1);
    }
    damagedText = words.join("");
  }
  return damagedText;
}

describe("random damage never throws, hangs or leaves a hole in a sentence", () => {
  const seeds = fc.array(fc.tuple(fc.nat(1000), fc.nat(100_000), fc.nat(100_000)), {
    minLength: 1,
    maxLength: 6,
  });
  const runs = Number(process.env.TRAMMEL_FUZZ ?? 0);

  const builds: [name: string, text: string, usual: number][] = [
    ["the design's example", designExample, 150],
    ["own words", ownWords, 250],
  ];
  for (const [index, text] of samples.entries()) builds.push([`sample ${index + 1}`, text, 12]);

  test.each(builds)("%s", (_, text, usual) => {
    expect(flawsOf(analyzed(text))).toEqual([]);
    fc.assert(
      fc.property(seeds, (damage) => {
        const broken = damagedBuild(text, damage);
        const started = performance.now();
        expect(flawsOf(analyzed(broken))).toEqual([]);
        expect(performance.now() - started).toBeLessThan(20_000);
      }),
      {
        numRuns: runs > 0 ? runs : usual,
        ...(runs > 0 ? {} : { seed: 20_260_314 }),
        endOnFailure: runs > 0,
      },
    );
  });
});

test("20,000 repeated fields are told of, and quickly", () => {
  const lines = "  offset: 18 mm\n".repeat(20_000);
  const few = performance.now();
  analyzed(`wheel w {\n  size: 17x9\n${lines.slice(0, lines.length / 10)}}\n`).findings.length;
  const tenth = performance.now() - few;
  const started = performance.now();
  const { findings, values } = analyzed(`wheel w {\n  size: 17x9\n${lines}}\n`);
  expect(new Set(findings.map(({ code }) => code))).toEqual(new Set(["given/twice"]));
  expect(values.get("w.offset")?.si).toBeCloseTo(0.018, 12);
  // Ten times the lines for some ten times the work, on a machine however busy.
  expect(performance.now() - started).toBeLessThan(40 * tenth + 2_000);
});

test("a ± beyond the range of numbers is said to have no limit, a figure beyond it to be none", () => {
  const { values, findings } = analyzed(`kind k "K" {
  a: number
  b: number
  relation "r": b = a ^ 50
}
k x { a: 1e6 ± 9.9e5; b: ? }
k y { a: 1e7 ± 1; b: ? }
`);
  const found = values.get("x.b");
  expect(found?.si).toBeCloseTo(1e300, -290);
  const spread = found?.spread();
  expect(spread?.above.known).toBe("unlimited");
  expect(spread?.worstAbove).toBe(Number.POSITIVE_INFINITY);
  expect(values.get("y.b")?.standing).toBe("missing");
  expect(findings.map(({ code }) => code)).toEqual(["solve/not-defined"]);
});

test("files are split as written", () => {
  expect([...filesOf(designExample).keys()]).toHaveLength(3);
});

test("a list of 20,000 figures is read once, not once for each of them", () => {
  const passes = Array.from({ length: 20_000 }, () => "0.5").join(", ");
  const started = performance.now();
  const analysis = analyzed(
    `joint j { thread: M12x1.5  count: 4  torque: 85 lb-ft  passes: [${passes}] }\n`,
  );
  expect(analysis.valueAt("j.passes[20000]")?.si).toBe(0.5);
  expect(performance.now() - started).toBeLessThan(20_000);
});
