import { describe, expect, test } from "vitest";
import { workshop } from "./workshop";

const plan = `display { torque: lb-ft }
housing tube { face_to_face: 58 in }
joint studs "Studs" { count: 4  torque: 60 lb-ft  passes: [50 %, 100 %] }
procedure job {
  step look { measure: tube.face_to_face }
  step tight "Tighten the studs" { after: look  tighten: studs }
}
`;
const who = ["--by", "R. Calder", "--date", "2026-04-04"];
const name = "log-r-calder.trammel";

describe("log", () => {
  test("lists what can be done now", async () => {
    const { out } = await workshop({ "work.trammel": plan }).trammel("log");
    expect(out).toBe(
      "what can be done now; put it on record with its name or number:\n  1  job.look  look\n",
    );
  });

  test("fills in joints and passes, asks for readings, and writes into one's own log", async () => {
    const shop = workshop({ "work.trammel": plan });
    const asked = await shop.trammel("log", "look", ...who);
    expect(asked.code).toBe(2);
    expect(asked.log).toContain('add --read tube.face_to_face="…"');
    const look = await shop.trammel("log", "look", "--read", "tube.face_to_face=58 in", ...who);
    expect([look.code, look.log]).toEqual([0, `written to ${name}\n`]);
    expect((await shop.trammel("log", "2", ...who)).code).toBe(0);
    expect(shop.read(name)).toBe(`use "work.trammel"

record 2026-04-04 by "R. Calder" { tube.face_to_face: 58 in }
record 2026-04-04 by "R. Calder" { job.look.done: yes }
record 2026-04-04 by "R. Calder" { studs { tightened: 30 lb-ft; pass: 1 } }
record 2026-04-04 by "R. Calder" { studs { tightened: 60 lb-ft; pass: 2 } }
record 2026-04-04 by "R. Calder" { studs { tightened: 60 lb-ft; pass: 3; held: yes } }
record 2026-04-04 by "R. Calder" { job.tight.done: yes }
`);
    expect((await shop.trammel("check", ".")).out).toBe("1 build, nothing to object to\n");
    expect((await shop.trammel("plan", "work.trammel")).out).toContain("Everything is done.");
    expect((await shop.trammel("format", "--check", name)).code).toBe(0);
  });

  test("two builds in one folder have a log each of one person", async () => {
    const step = (job: string): string => `procedure ${job} { step clean { } }\n`;
    const shop = workshop({ "cart.trammel": step("cart_job"), "van.trammel": step("van_job") });
    const done = (build: string) => shop.trammel("log", "clean", "--in", build, ...who);
    expect((await done("van.trammel")).log).toBe(`written to ${name}\n`);
    expect((await done("cart.trammel")).log).toBe("written to log-r-calder-cart.trammel\n");
    expect(shop.read(name)).toBe(
      'use "van.trammel"\n\nrecord 2026-04-04 by "R. Calder" { van_job.clean.done: yes }\n',
    );
    expect((await shop.trammel("check", ".")).out).toBe("2 builds, nothing to object to\n");
    for (const build of ["cart.trammel", "van.trammel"])
      expect((await shop.trammel("plan", build)).out).toContain("Everything is done.");
  });

  test("a reading no step asks for stands by itself, with a step or without", async () => {
    const shop = workshop({
      "work.trammel": `vehicle van {}\nprocedure job { step drive "First drive" {} }\n`,
    });
    expect((await shop.trammel("log", "--read", "van.odometer=100 mi", ...who)).code).toBe(0);
    const drive = ["log", "drive", "--read", "van.odometer=128 mi"];
    expect((await shop.trammel(...drive, ...who)).code).toBe(0);
    expect(shop.read(name)).toBe(`use "work.trammel"

record 2026-04-04 by "R. Calder" { van.odometer: 100 mi }
record 2026-04-04 by "R. Calder" { van.odometer: 128 mi }
record 2026-04-04 by "R. Calder" { job.drive.done: yes }
`);
    const wrong = await shop.trammel("log", "drive", "--read", "van.odometr=130 mi", ...who);
    expect([wrong.code, wrong.out]).toEqual([1, expect.stringContaining("odometr")]);
  });

  test.each([
    [["look", "--torque", "50 lb-ft"], "--torque goes with a step that tightens something"],
    [["look", "--because", "worn"], "--because goes with --accept"],
    [["--read", "tube.face_to_face=58 in", "--remark", "cold"], "name the step too"],
    [["look", "--undo", "--signed", "M. Orr"], "not of what is taken back"],
    [["work.trammel"], "the build is named with --in work.trammel"],
  ])("what would come to nothing is refused: %j", async (words, why) => {
    const shop = workshop({ "work.trammel": plan });
    const refused = await shop.trammel("log", ...words, ...who);
    expect([refused.code, refused.log]).toEqual([2, expect.stringContaining(why)]);
    expect(() => shop.read(name)).toThrow();
  });

  test("what the build objects to is not written, unless it is wanted so", async () => {
    const shop = workshop({ "work.trammel": plan });
    const refused = await shop.trammel("log", "tight", ...who);
    expect(refused.code).toBe(1);
    expect(refused.out).toContain("record/before-prerequisite");
    expect(() => shop.read(name)).toThrow();
    const off = await shop.trammel("log", "tight", "--torque", "50 lb-ft", "--anyway", ...who);
    expect(off.out).toContain("record/torque-off");
    expect(shop.read(name)).toContain("tightened: 50 lb-ft");
  });

  test("parts that came, and that are not here after all", async () => {
    const parts = `part seal "Pinion seal" {}\nprocedure job { step fit "Fit it" { parts: seal } }\n`;
    const shop = workshop({ "work.trammel": parts });
    expect((await shop.trammel("log")).out).toContain(
      "put them on record with --at-hand once they are:\n  seal  Pinion seal, for Fit it",
    );
    expect((await shop.trammel("log", "--at-hand", "seal", ...who)).code).toBe(0);
    expect((await shop.trammel("log")).out).not.toContain("--at-hand");
    expect((await shop.trammel("plan", "work.trammel")).out).toContain("Parts: Pinion seal.");
    await shop.trammel("log", "--at-hand", "seal", "--undo", ...who);
    expect(shop.read(name)).toBe(`use "work.trammel"

record 2026-04-04 by "R. Calder" { seal.at_hand: yes }
record 2026-04-04 by "R. Calder" { seal.at_hand: no }
`);
    expect((await shop.trammel("plan", "work.trammel")).out).toContain("(not at hand)");
    const wrong = await shop.trammel("log", "--at-hand", "seel", ...who);
    expect(wrong.log).toContain("no step takes a part seel: did you mean seal?");
  });

  test("a step is taken back by a further entry", async () => {
    const log = `use "work.trammel"\nrecord 2026-04-03 by "R. Calder" { tube.face_to_face: 58 in }\nrecord 2026-04-03 by "R. Calder" { job.look.done: yes }\n`;
    const shop = workshop({ "work.trammel": plan, [name]: log });
    await shop.trammel("log", "look", "--undo", ...who);
    expect(shop.read(name)).toBe(`${log}record 2026-04-04 by "R. Calder" { job.look.done: no }\n`);
  });

  test("a name that is none, or several, is told", async () => {
    const shop = workshop({ "work.trammel": plan, "other.trammel": plan });
    expect((await shop.trammel("log", "look", ...who)).log).toContain("name one with --in");
    const wrong = await shop.trammel("log", "lok", "--in", "work.trammel", ...who);
    expect(wrong.log).toContain("there is no step lok: did you mean look?");
  });

  test("what is out of tolerance is accepted by whoever says so, and no more by a further entry", async () => {
    const log = `use "work.trammel"\n\nrecord 2026-04-03 by "S. Rudd" { tube.face_to_face: 58 1/2 in }\n`;
    const shop = workshop({ "work.trammel": plan, "log-s-rudd.trammel": log });
    const about = ["--accept", "tube.face_to_face"];
    const more = ["--until", "2027-01-31", "--because", "spacer behind the left flange"];
    const accepted = await shop.trammel("log", "look", ...about, ...more, ...who);
    expect([accepted.code, accepted.log]).toEqual([0, `written to ${name}\n`]);
    const entry = `record 2026-04-04 by "R. Calder" { job.look { accepted: tube.face_to_face; until: 2027-01-31; because: "spacer behind the left flange" } }\n`;
    expect(shop.read(name)).toBe(`use "work.trammel"\n\n${entry}`);
    expect((await shop.trammel("plan", "work.trammel")).out).toContain(
      "tube.face_to_face 58 1/2 in in place of 58 in, accepted by R. Calder on 2026-04-04",
    );
    const { out } = await shop.trammel("handover", "work.trammel", "--format", "csv");
    expect(out).toContain(
      "accepted,tube.face_to_face,58 in,58 1/2 in,in force until 2027-01-31,2026-04-04,R. Calder,",
    );
    const sheets = await shop.trammel("sheet", "work.trammel", "--format", "markdown");
    expect(sheets.out).toContain("### Accepted out of tolerance");
    await shop.trammel("log", "look", ...about, "--undo", "--anyway", ...who);
    expect(shop.read(name)).toBe(
      `use "work.trammel"\n\n${entry}record 2026-04-04 by "R. Calder" { job.look.withdrawn: tube.face_to_face }\n`,
    );
  });
});
