import { describe, expect, test } from "vitest";
import { workshop } from "./workshop";

describe("plan", () => {
  const build = `procedure cutting "Cut" {
  step saw "Saw the tubes" { after: mark }
  step mark "Mark the saw lines" { note: "measure twice" }
}
record "first day" 2026-02-01 { cutting.mark.done: yes }
`;

  test("prints steps in an order they can be done in, and what is done", async () => {
    const shop = workshop({ "build.trammel": build });
    const { out, code } = await shop.trammel("plan", "build.trammel");
    expect(code).toBe(0);
    expect(out).toContain("[x] 1. Mark the saw lines");
    expect(out).toContain("[ ] 2. Saw the tubes");
  });

  test("--left leaves out what is done", async () => {
    const { out } = await workshop({ "build.trammel": build }).trammel(
      "plan",
      "build.trammel",
      "--left",
    );
    expect(out).toContain("Saw the tubes");
    expect(out).not.toContain("Mark the saw lines");
  });

  test("days with the people and machines there are", async () => {
    const text = `procedure job "Job" {
  starts: 2026-04-03
  people: 1
  step left "Turn the left end" { duration: 6 h  machines: ["lathe"] }
  step right "Turn the right end" { duration: 6 h  machines: ["lathe"] }
  step lift "Lift it in" { after: [left, right]  duration: 1 h  hands: 2 }
}
`;
    const shop = workshop({ "build.trammel": text });
    const { out } = await shop.trammel("plan", "build.trammel");
    expect(out).toContain("At least 7 h of work, done by 2026-04-03 at the earliest.");
    expect(out).toContain("2. Turn the right end (6 h), planned for 2026-04-03");
    expect(out).toContain("With one person it takes longer, done by 2026-04-06: a good order");
    expect(out).toContain("Turn the right end waits for the lathe: Turn the left end goes first.");
    expect(out).toContain("Lift it in takes more than one person.");
    const json = JSON.parse((await shop.trammel("plan", "build.trammel", "--format", "json")).out);
    expect(json.schedule.days.steps[2]).toMatchObject({ path: "job.lift", ends: "2026-04-06" });
    const lathes = `machine lathe "lathe" { count: 2 }\n${text.replace("people: 1", "people: 2")}`;
    const named = lathes.replace('["lathe"]', "[lathe]");
    const two = await workshop({ "build.trammel": named }).trammel("plan", "build.trammel");
    expect(two.out).toContain("Two people can keep to that.".replace("Two", "2"));
    expect(two.out).toContain("Keeps busy: lathe.");
  });

  test("texts with figures, filters, one step as a card, how long it still takes", async () => {
    const text = `display { length: in 1/32 }
housing tube { face_to_face: 57 1/32 in }
procedure job "Job" {
  starts: 2026-04-03
  step mark "Mark {tube.face_to_face}" { duration: 2 h  needs: tube.face_to_face }
  step lift { duration: 30 min  hands: 2  sign_off: "the owner" }
  step saw { after: mark  duration: 7 h  machines: ["band saw"]  note: "at {tube.nix}" }
  step paint { after: saw  hold: until_cured  hold_time: 24 h  duration: 1 h }
  step ship { after: paint }
}
`;
    const shop = workshop({ "build.trammel": text });
    const { out } = await shop.trammel("plan", "build.trammel");
    expect(out).toContain("1. Mark 57 1/32 in (2 h)");
    expect(out).toContain("Needs tube.face_to_face 57 1/32 in.");
    expect(out).toContain("Hold point: the owner looks at it and signs");
    // Ten hours from a Friday on, and a day's cure: two working days, then Tuesday's end of waiting.
    expect(out).toContain("At least 10 h of work and 24 h of waiting, done by 2026-04-07");
    expect(out).toContain("The longest way: Mark 57 1/32 in; saw; paint; ship.");
    expect(out).toContain("Nobody says how long ship takes.");
    expect(out).toContain("speaks of `tube.nix`, which is no figure of this build");
    const alone = (await shop.trammel("plan", "build.trammel", "--now", "--people", "1")).out;
    expect(alone).toContain("1. Mark");
    expect(alone).not.toContain("lift (");
    expect(alone).not.toContain("3. saw");
    const card = (await shop.trammel("plan", "build.trammel", "--step", "saw")).out;
    expect(card).toContain("Keeps busy: band saw.");
    expect(card).not.toContain("Mark 57 1/32 in (");
  });

  test("a cycle of steps is an error here and in check alike", async () => {
    const shop = workshop({ "build.trammel": build.replace("{ note", "{ after: saw  note") });
    const plan = await shop.trammel("plan", "build.trammel");
    const check = await shop.trammel("check", "build.trammel");
    expect(plan.code).toBe(1);
    expect(check.code).toBe(1);
    const [line] = check.out.split("\n");
    expect(plan.out).toContain(line);
  });

  test("says so where there are no steps", async () => {
    const { code, out } = await workshop({ "build.trammel": "# nothing\n" }).trammel(
      "plan",
      "build.trammel",
    );
    expect(code).toBe(0);
    expect(out).toContain("there are no steps in this build");
  });

  test("names the build that takes this one in and has the steps", async () => {
    const shop = workshop({
      "build.trammel": "housing tube { face_to_face: 58 in }\n",
      "work.trammel": 'use "build.trammel"\nprocedure job { step look { } }\n',
      "other.trammel": "procedure job { step look { } }\n",
      "log-ana.trammel": 'use "work.trammel"\nrecord 2026-04-03 by "Ana" { job.look.done: yes }\n',
    });
    const said = "there are no steps in build.trammel: work.trammel takes it in and has them";
    expect((await shop.trammel("plan", "build.trammel")).out).toBe(`${said}\n`);
    const log = await shop.trammel("log", "look", "--in", "build.trammel", "--by", "Ana");
    expect([log.code, log.log]).toEqual([2, `trammel: ${said}\n`]);
    const handover = await shop.trammel("handover", "build.trammel");
    expect([handover.code, handover.log]).toEqual([0, `trammel: ${said}: hand that over\n`]);
    expect((await shop.trammel("handover", "work.trammel")).log).toBe("");
  });
});

describe("choose", () => {
  const shop = workshop({
    "build.trammel": `display { length: in 1/32 }

kind ring "Ring" {
  depth: length "Depth of the ring"
  price: money "Price of one"
}

kind stand "Stand" {
  ring: ring "The ring on it"
  reach: length "From the wall to the stand"
  gap: length shown "Between ring and wall"
  relation "gap": gap = reach - ring.depth
    source "geometry"
  check "the ring clears the wall": gap >= 1/2 in
    source "geometry"
}

ring deep { depth: 1 5/8 in  price: 160 usd }
ring flat { depth: 1/4 in  price: 180 usd }
ring middle "Ring on the shelf" { depth: 1 in  price: 240 usd }

stand s {
  ring: middle
  reach: 2 in
  gap: ?
}
`,
  });

  test("keeps what satisfies every check, the cheapest first", async () => {
    // By hand: gaps of 3/8, 1 3/4 and 1 in; 1/2 in is wanted, so the cheapest one falls out.
    const { code, out } = await shop.trammel(
      "choose",
      "build.trammel",
      "--for",
      "s.ring",
      "--by",
      "price",
      "--format",
      "json",
    );
    expect(code).toBe(0);
    const { choices, combinations, candidates } = JSON.parse(out);
    expect(combinations).toBe(3);
    expect(candidates).toEqual([{ field: "s.ring", things: ["deep", "flat", "middle"] }]);
    expect(choices.map(({ picks }: { picks: { thing: string }[] }) => picks[0]?.thing)).toEqual([
      "flat",
      "middle",
    ]);
    expect(choices[0].values["s.gap"].si).toBeCloseTo(1.75 * 0.0254, 12);
    expect(choices[0].aims).toEqual([
      { path: "price", wanted: "least", si: 180, shown: "180.00 usd" },
    ]);
    const { out: byGap } = await shop.trammel(
      "choose",
      "build.trammel",
      "--for",
      "s.ring",
      "--by",
      "s.gap",
      "--keep",
      "1",
      "--format",
      "json",
    );
    expect(
      JSON.parse(byGap).choices.map(({ picks }: { picks: { thing: string }[] }) => picks[0]?.thing),
    ).toEqual(["middle"]);
  });

  test("tells it in words", async () => {
    const { out } = await shop.trammel(
      "choose",
      "build.trammel",
      "--for",
      "s.ring",
      "--by",
      "price",
    );
    expect(out).toBe(`build.trammel
3 combinations: 3 for s.ring

    s.ring                      least price
1.  flat                        180.00 usd
2.  middle (Ring on the shelf)  240.00 usd

with the first of them
  s.gap  1 3/4 in  = 1.750 in
`);
  });

  test("says where nothing fits, and why", async () => {
    const narrow = workshop({
      "build.trammel": shop.read("build.trammel").replace("reach: 2 in", "reach: 1/2 in"),
    });
    const { code, out } = await narrow.trammel("choose", "build.trammel", "--for", "s.ring");
    expect(code).toBe(1);
    expect(out).toContain("none of them fits; most fall to the check: the ring clears the wall");
    // By hand: gaps of -1 1/8, 1/4 and -1/2 in; the flat one comes nearest to the 1/2 in wanted.
    expect(out).toMatch(
      /these come nearest\n {2}s\.ring: flat\n {4}s: does not hold: .*1\/4 in short/,
    );
  });

  test("tells why one was passed over, by hand", async () => {
    const why = async (ring: string, ...more: string[]) =>
      (await shop.trammel("choose", "build.trammel", "--for", "s.ring", ...more, "--why", ring))
        .out;
    expect(await why("deep", "--by", "price")).toContain(
      "s.ring: deep does not fit\n  s: does not hold: the ring clears the wall",
    );
    expect(await why("middle", "--by", "price", "--keep", "1")).toContain(
      "s.ring: middle fits, and others go before: price 240.00 usd, flat has 180.00 usd",
    );
    expect(await why("flat", "--by", "price")).toContain(
      "s.ring: flat fits, and is number 1 above",
    );
    expect(
      (await shop.trammel("choose", "build.trammel", "--for", "s.ring", "--why", "round")).log,
    ).toBe("trammel: round is none of those to choose from for s.ring\n");
  });

  test("several aims: what no other one beats", async () => {
    // Flat has more gap and costs less than the middle one: it alone is left.
    const { out } = await shop.trammel(
      "choose",
      "build.trammel",
      "--for",
      "s.ring",
      "--by",
      "price",
      "--most",
      "s.gap",
    );
    expect(out).toContain("1.  flat    180.00 usd   1 3/4 in");
    expect(out).not.toContain("middle");
  });

  test("says what is wrong with the usage", async () => {
    expect((await shop.trammel("choose", "build.trammel")).log).toBe(
      "trammel: say which fields to choose for, as in --for rear.wheel,rear.tire\n",
    );
    expect((await shop.trammel("choose", "build.trammel", "--for", "s.rin")).code).toBe(2);
    expect(
      (await shop.trammel("choose", "build.trammel", "--for", "s.ring", "--by", "color")).code,
    ).toBe(2);
  });
});
