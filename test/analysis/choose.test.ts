/** Things chosen from a shop's lists: what is found holds when it is put in in earnest. */
import { describe, expect, test } from "vitest";
import type { Analysis } from "../../server/analysis/analysis";
import { analyzed } from "../model/build";
import { flawsOf } from "../model/everything";

const build = (parts: string, more = ""): string => `//- build.trammel
use "parts.trammel" as shop
brake disc { hat_thickness: 0.290 in }
housing h { standoff: 2.5 in  face_to_face: 1475.88 mm }
axle rear {
  wheel: shop.w0
  tire: shop.t0
  brake: disc
  housing: h
  left { inner_limit: 23 1/2 in  outer_limit: 37 7/8 in }
  right { inner_limit: 23 1/2 in  outer_limit: 37 7/8 in }
}
${more}
//- parts.trammel
${parts}`;

/** Offsets from -20 mm; every wheel 9 in wide for the 17 in rim, dearer the deeper. */
const wheels = (count: number): string =>
  Array.from(
    { length: count },
    (_, index) =>
      `wheel w${index} "Wheel ${index}" { size: 17x9  offset: ${-20 + index * 3} mm  price: ${100 + index * 7} usd }`,
  ).join("\n");
const sizes = [
  "205/65R17",
  "215/60R17",
  "225/55R17",
  "235/55R17",
  "245/50R17",
  "255/50R17",
  "265/50R17",
  "275/50R17",
];
const tires = (count: number): string =>
  Array.from(
    { length: count },
    (_, index) =>
      `tire t${index} { size: ${sizes[index % sizes.length]}  price: ${90 + ((index * 13) % 80)} usd }`,
  ).join("\n");

function holds(analysis: Analysis): boolean {
  return (
    analysis.findings.every(({ severity }) => severity !== "error") &&
    analysis.checks.every(
      ({ verdict, remarks }) => verdict.nominal !== "fails" || remarks.severity !== undefined,
    )
  );
}

/** Every pair tried in earnest, for comparison: the cheapest that hold. */
function byTryingAll(
  analysis: Analysis,
  wheelCount: number,
  tireCount: number,
): [string, string, number][] {
  const found: [string, string, number][] = [];
  for (let wheel = 0; wheel < wheelCount; wheel++) {
    for (let tire = 0; tire < tireCount; tire++) {
      const tried = analysis.trying(`rear.wheel: shop.w${wheel}\nrear.tire: shop.t${tire}`);
      if (tried.findings.some(({ severity }) => severity === "error")) continue;
      const price =
        (tried.valueAt("rear.wheel.price")?.si ?? 0) + (tried.valueAt("rear.tire.price")?.si ?? 0);
      found.push([`shop.w${wheel}`, `shop.t${tire}`, price]);
    }
  }
  return found.sort((one, other) => one[2] - other[2]);
}

describe("wheels and tires from a list", () => {
  test("the cheapest pairs that satisfy every check", async () => {
    const analysis = analyzed(build(`${wheels(12)}\n${tires(8)}`));
    const answer = await analysis.choose({ fields: ["rear.wheel", "rear.tire"], least: ["price"] });
    expect(answer.problem).toBeUndefined();
    expect(answer.complete).toBe(true);
    expect(answer.combinations).toBe(96);
    expect(answer.choices.length).toBeGreaterThan(0);
    for (const choice of answer.choices) {
      expect(holds(choice.analysis)).toBe(true);
      expect(flawsOf(choice.analysis, 1)).toEqual([]);
      const [wheel, tire] = choice.picks;
      expect([wheel?.field, tire?.field]).toEqual(["rear.wheel", "rear.tire"]);
      expect(choice.analysis.thingAt("rear.wheel")?.path).toBe(wheel?.thing);
      expect(wheel?.title).toMatch(/^Wheel \d+$/);
      const prices = ["rear.wheel.price", "rear.tire.price"].map(
        (path) => choice.analysis.valueAt(path)?.si ?? Number.NaN,
      );
      expect(choice.aims[0]).toBeCloseTo((prices[0] ?? 0) + (prices[1] ?? 0), 9);
    }
    const best = byTryingAll(analysis, 12, 8);
    expect(best.length).toBeGreaterThan(answer.choices.length);
    expect(best.length).toBeLessThan(96);
    expect(answer.choices.map(({ aims: [price] }) => Math.round(price ?? 0))).toEqual(
      best.slice(0, answer.choices.length).map(([, , price]) => price),
    );
  });

  test("by a figure of the build", async () => {
    const analysis = analyzed(build(`${wheels(12)}\n${tires(8)}`));
    const answer = await analysis.choose({
      fields: ["rear.wheel", "rear.tire"],
      least: ["rear.left.outer_gap"],
      keep: 3,
    });
    const gaps = answer.choices.map(
      ({ analysis: chosen }) => chosen.valueAt("rear.left.outer_gap")?.si ?? Number.NaN,
    );
    expect(gaps).toHaveLength(3);
    expect([...gaps].sort((one, other) => one - other)).toEqual(gaps);
    // Half an inch is wanted on either side of the tire unless told otherwise.
    for (const gap of gaps) expect(gap).toBeGreaterThanOrEqual(0.0127 - 1e-9);
  });

  test("the builder's own check counts", async () => {
    const analysis = analyzed(
      build(`${wheels(12)}\n${tires(8)}`, 'check "wide": rear.tire.section_width >= 260 mm'),
    );
    const answer = await analysis.choose({ fields: ["rear.wheel", "rear.tire"], least: ["price"] });
    expect(answer.choices.length).toBeGreaterThan(0);
    for (const { analysis: chosen } of answer.choices)
      expect(chosen.valueAt("rear.tire.section_width")?.si).toBeGreaterThanOrEqual(0.26);
  });

  test("where none fits, the check that is in the way is named", async () => {
    const analysis = analyzed(
      build(`${wheels(6)}\n${tires(5)}`, 'check "very wide": rear.tire.section_width >= 400 mm'),
    );
    const answer = await analysis.choose({ fields: ["rear.wheel", "rear.tire"], least: ["price"] });
    expect(answer.choices).toEqual([]);
    expect(answer.complete).toBe(true);
    expect(answer.blocking).toBe("very wide");
  });

  test("what is wrong elsewhere in the build is no reason to find nothing", async () => {
    const parts = `${wheels(12)}\n${tires(8)}`;
    const request = { fields: ["rear.wheel", "rear.tire"], least: ["price"] };
    const clean = await analyzed(build(parts)).choose(request);
    const marred = await analyzed(build(parts, "hub spare { pilot: 3 }")).choose(request);
    expect(marred.choices.map(({ picks }) => picks)).toEqual(
      clean.choices.map(({ picks }) => picks),
    );
  });

  test("a request that makes no sense says why", async () => {
    const analysis = analyzed(build(`${wheels(2)}\n${tires(2)}`));
    const problem = async (fields: string[], by?: string) =>
      (await analysis.choose({ fields, least: by === undefined ? [] : [by] })).problem;
    expect(await problem([])).toMatchInlineSnapshot(
      `"say which fields to fill, such as rear.wheel"`,
    );
    expect(await problem(["rear.whel"])).toMatchInlineSnapshot(`"there is no field rear.whel"`);
    expect(await problem(["rear.mount_width"])).toMatchInlineSnapshot(
      `"rear.mount_width does not stand for a thing"`,
    );
    expect(await problem(["rear.carrier"])).toMatchInlineSnapshot(
      `"there is no carrier to choose from for rear.carrier"`,
    );
    expect(await problem(["rear.wheel"], "rear.left.nothing")).toMatchInlineSnapshot(
      `"there is no figure rear.left.nothing to be sparing with"`,
    );
    expect(await problem(["rear.wheel"], "color")).toMatchInlineSnapshot(
      `"these things have no figure color"`,
    );
  });

  test("can be called off", async () => {
    // So many are wanted that the search cannot be over before it is asked for the first time.
    const analysis = analyzed(build(`${wheels(40)}\n${tires(40)}`));
    let asked = 0;
    const answer = await analysis.choose(
      { fields: ["rear.wheel", "rear.tire"], least: ["price"], keep: 400 },
      { cancelled: () => ++asked > 0 },
    );
    expect(asked).toBe(1);
    expect(answer.complete).toBe(false);
  });
});

test("50 wheels, 50 tires and 20 housings", async () => {
  const housings = Array.from(
    { length: 20 },
    (_, index) =>
      `housing h${index} { standoff: 2.5 in  face_to_face: ${1400 + index * 10} mm  price: ${300 + index * 11} usd }`,
  ).join("\n");
  const analysis = analyzed(build(`${wheels(50)}\n${tires(50)}\n${housings}`));
  const started = performance.now();
  const answer = await analysis.choose({
    fields: ["rear.wheel", "rear.tire", "rear.housing"],
    least: ["price"],
  });
  console.log(
    `50 × 50 × 20: ${Math.round(performance.now() - started)} ms, ${answer.choices.length} kept, best ${answer.choices[0]?.aims[0]}`,
  );
  expect(answer.combinations).toBe(50 * 50 * 21);
  expect(answer.complete).toBe(true);
  expect(answer.choices).toHaveLength(5);
  for (const choice of answer.choices) expect(holds(choice.analysis)).toBe(true);
});

describe("what things are beside their figures", () => {
  const kinds = `kind bar {
  size: length bought
  grade: one_of(soft, hard) default soft
  welded: yes_no default no
  collar: length optional
  price: money bought
  strength: force
  relation "soft" when grade == soft: strength = size * 1000 N/m
  relation "hard" when grade == hard: strength = size * 3000 N/m
}
kind rig {
  bar: bar
  load: force
  room: length
  margin: force
  need: length
  relation "margin": margin = (if bar.welded then 0.7 else 1) * bar.strength - load
  relation "need": need = if given(bar.collar) then bar.size + bar.collar else bar.size
  check "strong": margin >= 0 N
  check "fits": need <= room
}
`;
  let seed = 7;
  const next = (below: number): number => {
    seed = (seed * 48271) % 2147483647;
    return seed % below;
  };
  const bars = Array.from({ length: 24 }, (_, at) => ({
    name: `b${at}`,
    size: 5 + next(20),
    hard: next(2) === 1,
    welded: next(2) === 1,
    collar: next(3) === 0 ? 1 + next(10) : undefined,
    price: next(6) === 0 ? undefined : 10 + next(90),
    currency: next(5) === 0 ? "eur" : "usd",
  }));
  const text = `${kinds}${bars
    .map(({ name, size, hard, welded, collar, price, currency }) =>
      [
        `bar ${name} { size: ${size} mm`,
        hard ? "; grade: hard" : "",
        welded ? "; welded: yes" : "",
        collar === undefined ? "" : `; collar: ${collar} mm`,
        price === undefined ? "" : `; price: ${price} ${currency}`,
        " }",
      ].join(""),
    )
    .join("\n")}
rig r { load: 20 N; room: 22 mm; bar: b0 }`;
  const fitting = bars.filter(({ size, hard, welded, collar }) => {
    const strength = size * (hard ? 3 : 1) * (welded ? 0.7 : 1);
    return strength >= 20 - 1e-9 && size + (collar ?? 0) <= 22;
  });

  test("counts: words, what is written, what has no price or one in another currency", async () => {
    const answer = await analyzed(text).choose({ fields: ["r.bar"], least: ["price"], keep: 99 });
    const named = answer.choices.map(({ picks }) => picks[0]?.thing);
    expect([...named].sort()).toEqual(fitting.map(({ name }) => name).sort());
    const priced = fitting.filter(
      ({ price, currency }) => price !== undefined && currency === "usd",
    );
    expect(priced.length).toBeGreaterThan(2);
    expect(priced.length).toBeLessThan(fitting.length);
    const prices = answer.choices.map(({ aims: [price] }) => price);
    expect(prices.slice(0, priced.length)).toEqual(
      priced.map(({ price }) => price).sort((one = 0, other = 0) => one - other),
    );
    // What cannot be compared is marked, and comes last.
    for (const { aims, gaps } of answer.choices.slice(priced.length)) {
      expect(aims).toEqual([undefined]);
      expect(gaps[0]).toMatch(/^b\d+\.price is (missing|in EUR, the others in USD)$/);
    }
  });

  test("the nearest, where nothing fits", async () => {
    const answer = await analyzed(text.replace("room: 22 mm", "room: 4 mm")).choose({
      fields: ["r.bar"],
    });
    expect(answer.choices).toEqual([]);
    expect(answer.blocking).toBe("fits");
    // One check fails with those that are strong enough, the thinnest of these first.
    const strong = bars
      .filter(({ size, hard, welded }) => size * (hard ? 3 : 1) * (welded ? 0.7 : 1) >= 20 - 1e-9)
      .map(({ size, collar }) => size + (collar ?? 0));
    const found = answer.nearest.map(({ picks, problems }) => {
      expect(problems).toHaveLength(1);
      const bar = bars.find(({ name }) => name === picks[0]?.thing);
      return (bar?.size ?? 0) + (bar?.collar ?? 0);
    });
    expect(found).toEqual(strong.sort((one, other) => one - other).slice(0, 3));
  });

  test("by tolerances where these are errors", async () => {
    const loose = `${kinds}bar a { size: 21 mm; price: 1 usd }
bar b { size: 20.5 mm ± 1 mm; price: 0.5 usd }
rig r { load: 20 N; room: 22 mm; bar: a }`;
    const names = async (levels: object) =>
      (
        await analyzed(loose, { levels }).choose({ fields: ["r.bar"], least: ["price"] })
      ).choices.map(({ picks }) => picks[0]?.thing);
    expect(await names({})).toEqual(["b", "a"]);
    expect(await names({ worst: "error" })).toEqual(["a"]);
  });
});

describe("things of kinds of their own, and how many there are", () => {
  const kinds = `kind coil "Coil" {
  stiff: number
  free: length in mm bought
  squeeze: length in mm range 0 mm..300 mm
  price: money bought
  in_stock: count bought
}
kind progressive is coil "Progressive coil" {
  base: number bought
  gain: number bought
  relation "stiffer": stiff = base + gain * squeeze / 1 mm
}
kind perch "Perch" {
  left: coil
  right: coil
  load: number case
  height: length in mm
  other: length in mm
  relation "squeeze": left.squeeze * left.stiff = load * 1 mm
  relation "height": height = left.free - left.squeeze
  relation "squeeze on the right": right.squeeze * right.stiff = load * 1.1 mm
  relation "height on the right": other = right.free - right.squeeze
  check "high enough": height >= 146 mm
  check "level": abs(height - other) <= 6 mm
}
perch s { load: 400 }
`;
  interface Coil {
    readonly name: string;
    readonly text: string;
    readonly free: number;
    readonly price: number;
    readonly stock?: number;
    /** By hand: x · k = load, or x · (base + gain · x) = load. */
    squeeze(load: number): number;
  }
  const plain = (
    name: string,
    stiff: number,
    free: number,
    price: number,
    stock?: number,
  ): Coil => ({
    name,
    free,
    price,
    ...(stock === undefined ? {} : { stock }),
    text: `coil ${name} { stiff: ${stiff}; free: ${free} mm; price: ${price} usd${stock === undefined ? "" : `; in_stock: ${stock}`} }`,
    squeeze: (load) => load / stiff,
  });
  const progressive = (
    name: string,
    base: number,
    gain: number,
    free: number,
    price: number,
    stock?: number,
  ): Coil => ({
    name,
    free,
    price,
    ...(stock === undefined ? {} : { stock }),
    text: `progressive ${name} { base: ${base}; gain: ${gain}; free: ${free} mm; price: ${price} usd${stock === undefined ? "" : `; in_stock: ${stock}`} }`,
    squeeze: (load) => (-base + Math.sqrt(base * base + 4 * gain * load)) / (2 * gain),
  });
  const coils = [
    plain("s1", 8, 200, 10),
    plain("s2", 7, 210, 9, 1),
    plain("s3", 9, 193, 11, 0),
    progressive("p1", 5, 0.1, 196, 8, 2),
    progressive("p2", 2, 0.1, 206, 7, 1),
    progressive("p3", 5, 0.1, 199, 12),
  ];
  const fitting = coils
    .flatMap((left) => coils.map((right) => ({ left, right })))
    .filter(({ left, right }) => {
      // One coil cannot bear two loads.
      if (left === right) return false;
      const height = left.free - left.squeeze(400);
      const other = right.free - right.squeeze(440);
      return height >= 146 && Math.abs(height - other) <= 6;
    });
  const named = (pairs: readonly { readonly left: Coil; readonly right: Coil }[]) =>
    pairs.map(({ left, right }) => `${left.name} ${right.name}`).sort();

  test("each is planned with the relations of its own kind, by trying all", async () => {
    const analysis = analyzed(kinds + coils.map(({ text }) => text).join("\n"));
    const fields = ["s.left", "s.right"];
    const answer = await analysis.choose({ fields, least: ["price"], keep: 40 });
    expect(answer.complete).toBe(true);
    const found = answer.choices.map(({ picks }) => picks.map(({ thing }) => thing).join(" "));
    expect(fitting.length).toBeGreaterThan(5);
    expect([...found].sort()).toEqual(named(fitting));
    expect(answer.choices.every(({ unjudged }) => unjudged.length === 0)).toBe(true);
    const prices = answer.choices.map(({ aims: [price] }) => price ?? 0);
    expect(prices).toEqual([...prices].sort((one, other) => one - other));
  });

  test("none is picked more often than there are of it", async () => {
    const analysis = analyzed(kinds + coils.map(({ text }) => text).join("\n"));
    const fields = ["s.left", "s.right"];
    const answer = await analysis.choose({ fields, stock: "in_stock", keep: 40 });
    const there = fitting.filter(({ left, right }) => left.stock !== 0 && right.stock !== 0);
    expect(there.length).toBeLessThan(fitting.length);
    const found = answer.choices.map(({ picks }) => picks.map(({ thing }) => thing).join(" "));
    expect([...found].sort()).toEqual(named(there));
    const none = await analysis.choose({ fields: ["s.left"], stock: "in_stock", why: ["s3"] });
    expect(none.passedOver?.problems).toContain("s3 is taken 1 time, and there are 0");
    const refused = await analysis.choose({ fields, stock: "weight" });
    expect(refused.problem).toBe("these things have no figure weight");
  });
});

describe("several of one thing, and kits", () => {
  // Studs for two flanges, eight and six of them: what fits is plain, what it costs is not.
  const studs = [
    { name: "a", length: 40, price: 2, kit: 1, stock: 20 },
    { name: "b", length: 45, price: 9, kit: 5, stock: 2 },
    { name: "c", length: 50, price: 7, kit: 4, stock: 3 },
    { name: "d", length: 55, price: 30, kit: 16, stock: 1 },
    { name: "e", length: 38, price: 1, kit: 1, stock: 99 },
  ];
  const text = `kind stud "Stud" {
  length: length bought
  price: money bought
  in_kit: count bought
  in_stock: count bought
}
kind flange "Flange" {
  front: stud
  back: stud
  check "front is long enough": front.length >= 40 mm
  check "back is long enough": back.length >= 45 mm
}
flange f {}
${studs.map(({ name, length, price, kit, stock }) => `stud ${name} { length: ${length} mm; price: ${price} usd; in_kit: ${kit}; in_stock: ${stock} }`).join("\n")}
`;
  const fields = ["f.front", "f.back"];
  const request = { fields, least: ["price"], stock: "in_stock", pack: "in_kit", keep: 40 };

  test.each([
    [8, 6],
    [4, 4],
    [1, 16],
    [10, 2],
  ])(
    "%i and %i of them: as many kits as each takes, no more pieces than there are",
    async (...counts) => {
      const [front = 0, back = 0] = counts;
      const expected = studs
        .flatMap((one) => studs.map((other) => [one, other] as const))
        .filter(([one, other]) => one.length >= 40 && other.length >= 45)
        .filter(([one, other]) =>
          one === other
            ? front + back <= one.stock * one.kit
            : front <= one.stock * one.kit && back <= other.stock * other.kit,
        )
        .map(([one, other]) => ({
          names: `${one.name} ${other.name}`,
          price: Math.ceil(front / one.kit) * one.price + Math.ceil(back / other.kit) * other.price,
        }));
      const answer = await analyzed(text).choose({ ...request, counts });
      expect(answer.complete).toBe(true);
      const found = answer.choices.map(({ picks, aims: [price] }) => ({
        names: picks.map(({ thing }) => thing).join(" "),
        price,
      }));
      const byNames = (one: { names: string }, other: { names: string }): number =>
        one.names < other.names ? -1 : 1;
      expect([...found].sort(byNames)).toEqual([...expected].sort(byNames));
      const prices = found.map(({ price }) => price ?? 0);
      expect(prices).toEqual([...prices].sort((one, other) => one - other));
    },
  );

  test("one that is passed over for want of pieces says how many", async () => {
    const answer = await analyzed(text).choose({ ...request, counts: [8, 6], why: ["b", "b"] });
    expect(answer.passedOver?.problems).toEqual(["b is taken 14 times, and there are 10"]);
    const dear = await analyzed(text).choose({ ...request, counts: [8, 6], why: ["d", "c"] });
    expect(dear.passedOver).toMatchObject({ problems: [], aims: [44] });
    const wrong = await analyzed(text).choose({ ...request, counts: [0, 6] });
    expect(wrong.problem).toBe("a field takes one or more of a thing, not 0");
  });
});
