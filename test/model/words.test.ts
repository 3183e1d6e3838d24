/** What the language can say, one build each: lists, aggregates, tables, curves, names, conditions. */
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { analyzed } from "./build";
import { flawsOf } from "./everything";

/** No finding, and the figures in SI at ten digits. */
function figures(text: string, ...paths: string[]): (number | string | boolean | undefined)[] {
  return figuresOf(analyzed(text), ...paths);
}

function figuresOf(
  analysis: Analysis | undefined,
  ...paths: string[]
): (number | string | boolean | undefined)[] {
  if (analysis === undefined) throw new Error("there is no such view");
  expect(flawsOf(analysis, 1)).toEqual([]);
  expect(analysis.findings.map(({ message }) => message)).toEqual([]);
  return paths.map((path) => {
    const value = analysis.valueAt(path);
    return value?.si === undefined ? value?.word : Number(value.si.toPrecision(10));
  });
}

const post = `kind post "Post" { long: length bought  load: mass bought  name: text }
`;

describe("lists and aggregates", () => {
  const frame = `${post}kind frame "Frame" {
  posts: list of post
  total: mass  mean: length  longest: length  shortest: length  how_many: count
  relation "total": total = sum(posts.load)
  relation "mean": mean = mean(posts.long)
  relation "longest": longest = max(posts.long)
  relation "shortest": shortest = min(posts.long)
  relation "how many": how_many = count(posts)
}
`;
  const answers = ["f.total", "f.mean", "f.longest", "f.shortest", "f.how_many"];
  const expected = [6, 0.2, 0.3, 0.1, 3];

  test("of things declared inside", () => {
    expect(
      figures(
        `${frame}frame f { post a { long: 100 mm load: 1 kg } post b { long: 200 mm load: 2 kg } post c { long: 300 mm load: 3 kg } }`,
        ...answers,
      ),
    ).toEqual(expected);
  });

  test("of things named", () => {
    expect(
      figures(
        `${frame}post a { long: 100 mm load: 1 kg }\npost b { long: 200 mm load: 2 kg }\npost c { long: 300 mm load: 3 kg }\nframe f { posts: [a, b, c] }`,
        ...answers,
      ),
    ).toEqual(expected);
  });

  test("of things opened in place", () => {
    expect(
      figures(
        `${frame}frame f { posts { long: 100 mm load: 1 kg } posts { long: 200 mm load: 2 kg } posts { long: 300 mm load: 3 kg } }`,
        ...answers,
      ),
    ).toEqual(expected);
  });

  test("backwards", () => {
    expect(
      figures(
        `${frame}frame f { total: 6 kg post a { long: 100 mm load: 1 kg } post b { long: 200 mm load: ? } post c { long: 300 mm load: 3 kg } }`,
        "f.b.load",
      ),
    ).toEqual([2]);
  });

  test("of figures", () => {
    const text =
      'kind kit { sizes: list of length all: length third: length many: count relation "all": all = sum(sizes) relation "third": third = item(sizes, 3) relation "many": many = count(sizes) }\nkit k { sizes: [1 mm, 2 mm, 1/4 in] }';
    expect(figures(text, "k.all", "k.third", "k.many")).toEqual([0.00935, 0.00635, 3]);
  });

  test("each of a kind, anywhere", () => {
    const text = `${post}post a { load: 1 kg }\npost b { load: 2 kg }\nkind shed { all: mass many: count relation "all": all = sum(each(post).load) relation "many": many = count(each(post)) }\nshed s { }\n`;
    expect(figures(text, "s.all", "s.many")).toEqual([3, 2]);
    expect(
      figures(
        `${text}kind yard { posts: list of post }\nyard y { post c { load: 4 kg } }`,
        "s.all",
        "s.many",
      ),
    ).toEqual([7, 3]);
    expect(
      figures(
        `//- build.trammel\nuse "more.trammel" as more\n${text}post z { load: more.c.load }\n//- more.trammel\npost c { load: 4 kg }`,
        "s.all",
        "s.many",
      ),
    ).toEqual([11, 4]);
  });

  test("each in a check", () => {
    const analysis = analyzed(
      `${post}post a { load: 1 kg }\npost b { load: 2 kg }\ncheck "light": sum(each(post).load) <= 2.5 kg`,
    );
    expect(analysis.checks.map(({ verdict }) => verdict.nominal)).toEqual(["fails"]);
  });

  test("pieces of a kit stacked to a size", () => {
    const text =
      'kind kit { sizes: list of length wanted: length got: length pieces: count relation "got": got = stack(sizes, wanted, 0.1 mm) relation "pieces": pieces = stack_count(sizes, wanted, 0.1 mm) }\nkit k { sizes: [0.5 mm, 1 mm, 3 mm] wanted: 4.52 mm got: ? pieces: ? }';
    expect(figures(text, "k.got", "k.pieces")).toEqual([0.0045, 3]);
  });
});

describe("tables", () => {
  const table = (way: string): string => `table loads "Loads" {
  key size: length in mm "Size"
  load: mass in kg "Load"
  lookup ${way}
  row 10, 1  row 20, 4  row 40, 9
}
table grades "Grades" { key name: text; key thick: length in mm  strength: stress in MPa  grade: text  lookup step  row "mild", 0, 250, "A"  row "mild", 16, 235, "B"  row "mild", 100, 205, "B"  row "hard", 0, 700, "C" }
kind beam { size: length bought range 10 mm..40 mm load: mass steel: text default "mild" strength: stress
  relation "load": load = loads(size)
  relation "strength": strength = grades.strength(steel, size)
}
`;
  test("exact", () => {
    expect(figures(`${table("exact")}beam b { size: 20 mm load: ? }`, "b.load")).toEqual([4]);
  });
  test("linear, both ways", () => {
    expect(figures(`${table("linear")}beam b { size: 30 mm load: ? }`, "b.load")).toEqual([6.5]);
    expect(figures(`${table("linear")}beam b { load: 6.5 kg size: ? }`, "b.size")).toEqual([0.03]);
  });
  test("step", () => {
    expect(figures(`${table("step")}beam b { size: 39 mm load: ? }`, "b.load")).toEqual([4]);
  });
  test("by two keys, one a word", () => {
    expect(figures(`${table("linear")}beam b { size: 15 mm strength: ? }`, "b.strength")).toEqual([
      250e6,
    ]);
    expect(figures(`${table("linear")}beam b { size: 16 mm strength: ? }`, "b.strength")).toEqual([
      235e6,
    ]);
    expect(
      figures(`${table("linear")}beam b { size: 20 mm steel: "hard" strength: ? }`, "b.strength"),
    ).toEqual([700e6]);
  });
});

describe("curves", () => {
  const beam = `kind beam { long: length  load: force
  curve moment "Bending moment": load * x over x from 0 mm to long step 100 mm
  curve square "Square": (x / 1 mm) ^ 2 over x from 0 mm to 4 mm
}
`;
  test("points along the parameter, with the figures as solved", () => {
    const analysis = analyzed(`${beam}beam b { long: 500 mm load: 20 N }`);
    const [moment, square] = analysis.curves;
    expect(moment?.title).toBe("Bending moment");
    expect(moment?.measure?.name).toBe("torque");
    expect(
      moment?.points().map(({ x, y }) => [Number(x.toFixed(9)), Number(y.toFixed(9))]),
    ).toEqual([
      [0, 0],
      [0.1, 2],
      [0.2, 4],
      [0.3, 6],
      [0.4, 8],
      [0.5, 10],
    ]);
    const points = square?.points() ?? [];
    expect(points).toHaveLength(51);
    for (const { x, y } of points) expect(y).toBeCloseTo((x * 1000) ** 2, 9);
  });
  test("no points where its figures are missing", () => {
    const analysis = analyzed(`${beam}beam b { load: 20 N }`);
    expect(analysis.curves[0]?.points()).toEqual([]);
  });
  test("the builder's own, at the top", () => {
    const analysis = analyzed(
      'wheel w { offset: 10 mm }\ncurve lean "Lean": w.offset * x over x from 0 to 2 step 1',
    );
    expect(analysis.curves[0]?.points().map(({ y }) => Number(y.toFixed(9)))).toEqual([
      0, 0.01, 0.02,
    ]);
  });
});

describe("conditions", () => {
  const bar =
    `kind bar { form: one_of(round, square) default round  across: length bought range 0 mm..1 m  surface: area  grade: text  heavy: yes_no default no  mass: mass
  relation "round": when form == round: surface = 0.785398 * across ^ 2
}
`.replace('"round": when', '"round" when');
  const both = bar.replace(
    "}\n",
    '  relation "square" when form == square: surface = across ^ 2\n  relation "light" when not given(mass) and not heavy: mass = 1 kg\n  relation "heavy" when not given(mass) and heavy == yes: mass = 9 kg\n  check "named" when given(grade): grade != "none"\n}\n',
  );

  test("a choice decides between relations, and can be asked either way", () => {
    expect(figures(`${both}bar b { across: 10 mm surface: ? }`, "b.surface", "b.form")).toEqual([
      7.85398e-5,
      "round",
    ]);
    expect(figures(`${both}bar b { form: square across: 10 mm surface: ? }`, "b.surface")).toEqual([
      1e-4,
    ]);
    expect(
      figures(`${both}bar b { form: square surface: 100 mm^2 across: ? }`, "b.across"),
    ).toEqual([0.01]);
  });

  test("a thing called like a choice changes nothing", () => {
    expect(
      figures(
        `${both}bar square { across: 10 mm surface: ? form: square }\nbar round { across: 10 mm surface: ? }`,
        "square.surface",
        "round.surface",
      ),
    ).toEqual([1e-4, 7.85398e-5]);
  });

  test("yes, no and given", () => {
    expect(figures(`${both}bar b { }`, "b.mass")).toEqual([1]);
    expect(figures(`${both}bar b { mass: ? }`, "b.mass")).toEqual([1]);
    expect(figures(`${both}bar b { heavy: yes mass: ? }`, "b.mass")).toEqual([9]);
    expect(figures(`${both}bar b { heavy: yes mass: 5 kg }`, "b.mass")).toEqual([5]);
  });

  test("a check with a condition of its own", () => {
    const checks = (text: string) =>
      analyzed(`${both}${text}`).checks.map(({ title, verdict }) => `${title} ${verdict.nominal}`);
    expect(checks('bar b { grade: "none" }')).toEqual(["named fails"]);
    expect(checks("bar b { }")).toEqual([]);
    expect(checks('bar b { }\ncheck "own" when given(b.across): b.across > 1 mm')).toEqual([]);
    expect(
      checks('bar b { across: 2 mm }\ncheck "own" when given(b.across): b.across > 1 mm'),
    ).toEqual(["own holds"]);
  });

  test("if within a formula, over figures", () => {
    const text =
      'kind bar { a: length bought b: length relation "b": b = if a > 10 mm then 2 * a else 3 * a }\n';
    expect(figures(`${text}bar x { a: 11 mm b: ? }\nbar y { a: 9 mm b: ? }`, "x.b", "y.b")).toEqual(
      [0.022, 0.027],
    );
  });
});

describe("names", () => {
  test("of several files, with and without a prefix", () => {
    const text = `//- build.trammel
use "wheels.trammel"
use "lists/tires.trammel" as tires
axle rear { wheel: deep  tire: tires.wide  brake: tires.brakes.disc }
check "wide": tires.wide.section_width >= 200 mm
//- wheels.trammel
wheel deep { size: 17x9 offset: 10 mm }
//- lists/tires.trammel
use "brakes.trammel" as brakes
tire wide { size: 275/50R17 }
//- lists/brakes.trammel
brake disc { hat_thickness: 7 mm }
`;
    expect(
      figures(
        text,
        "rear.wheel.offset",
        "deep.offset",
        "tires.wide.section_width",
        "rear.tire.section_width",
        "tires.brakes.disc.hat_thickness",
        "rear.brake.hat_thickness",
      ),
    ).toEqual([0.01, 0.01, 0.275, 0.275, 0.007, 0.007]);
    const analysis = analyzed(text);
    expect(analysis.thingAt("rear.brake")?.path).toBe("tires.brakes.disc");
    // A value is listed once, under the thing that owns it.
    expect([...analysis.values.keys()].filter((path) => path.endsWith("hat_thickness"))).toEqual([
      "tires.brakes.disc.hat_thickness",
    ]);
  });

  test("of parts lists nobody names stay out", () => {
    const text =
      '//- build.trammel\nuse "list.trammel"\naxle rear { wheel: a }\n//- list.trammel\nwheel a { offset: 1 in }\nwheel b { offset: 2 }\n';
    const analysis = analyzed(text);
    expect([...analysis.values.keys()].some((path) => path.startsWith("b."))).toBe(false);
    expect(analysis.findings).toEqual([]);
  });

  test("written through references and from outside", () => {
    const direct =
      "wheel w { size: 17x9 offset: 18 mm }\naxle rear { wheel: w left { spacer: 3 mm } }";
    const through =
      "wheel w { size: 17x9 }\naxle rear { wheel: w }\nrear.wheel.offset: 18 mm\nrear.left.spacer: 3 mm";
    const inside =
      "wheel w { size: 17x9 }\naxle rear { wheel: w  wheel.offset: 18 mm  left.spacer: 3 mm }";
    const paths = ["w.offset", "w.backspace", "rear.left.spacer"];
    expect(figures(through, ...paths)).toEqual(figures(direct, ...paths));
    expect(figures(inside, ...paths)).toEqual(figures(direct, ...paths));
  });

  test("written through references in an option", () => {
    const text =
      "wheel w { size: 17x9 offset: 18 mm }\nwheel other { size: 17x9 offset: 20 mm }\naxle rear { wheel: w }\noption a { rear.wheel.offset: 5 mm }\noption b { rear { wheel: other } }\noption c { rear.wheel: other\n rear.wheel.offset: 7 mm }\noption d { rear.wheel { offset: 6 mm } }";
    const analysis = analyzed(text);
    expect(figuresOf(analysis.under("a"), "w.offset", "rear.wheel.offset")).toEqual([0.005, 0.005]);
    expect(figuresOf(analysis.under("b"), "w.offset", "rear.wheel.offset")).toEqual([0.018, 0.02]);
    expect(figuresOf(analysis.under("c"), "w.offset", "other.offset", "rear.wheel.offset")).toEqual(
      [0.018, 0.007, 0.007],
    );
    expect(figuresOf(analysis.under("d"), "w.offset")).toEqual([0.006]);
    expect(figuresOf(analysis, "w.offset", "rear.wheel.offset")).toEqual([0.018, 0.018]);
  });

  test("a reference opened in place is a thing of its own", () => {
    expect(
      figures("axle rear { wheel { size: 17x9 offset: 18 mm } }", "rear.wheel.backspace"),
    ).toEqual([0.145]);
  });

  test("of things within things", () => {
    const text = `${post}kind floor of house { posts: list of post  height: length bought  load: mass relation "load": load = sum(posts.load) + extra }
kind house { extra: mass default 1 kg  ground: part floor  floors: list of floor  load: mass relation "load": load = ground.load + sum(floors.load) }
house h { ground { post a { load: 2 kg } } floor first { post b { load: 3 kg } } floor second { post b { load: b2.load } } }
post b2 { load: 4 kg }
check "heavy": h.first.b.load >= 3 kg
`;
    expect(
      figures(text, "h.ground.load", "h.first.load", "h.second.load", "h.load", "h.second.b.load"),
    ).toEqual([3, 4, 5, 12, 4]);
  });

  test("a formula names figures of its own thing, its owner's and the file's", () => {
    const text =
      "wheel w { size: 17x9 flange: 0.5 in offset: flange + other.offset / 2 }\nwheel other { offset: 10 mm }\naxle rear { wheel: w left { spacer: wheel.offset / 2 } }";
    expect(figures(text, "w.offset", "rear.left.spacer")).toEqual([0.0177, 0.00885]);
  });

  test("a part of a designation, written and asked for", () => {
    expect(
      figures(
        "wheel w { size: 17x9 }\nwheel v { overall_width: 10 in  flange: 1/2 in  size.width: ? }",
        "w.size.width",
        "v.size.width",
      ),
    ).toEqual([0.2286, 0.2286]);
  });
});
