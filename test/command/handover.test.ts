import { describe, expect, test } from "vitest";
import { workshop } from "./workshop";

const text = `display { torque: lb-ft }
vehicle van "Delivery van" { mass: 3900 lb }
housing tube { face_to_face: 58 in ± 1/8 in }
joint studs "Studs" { count: 4  torque: 60 lb-ft  recheck_after: 50 mi }
procedure job {
  step look "Look at it" { measure: tube.face_to_face  sign_off: "the owner" }
  step tight { after: look  tighten: studs }
  step again { after: tight  recheck: studs }
}
record 2026-04-03 by "R. Calder" { tube.face_to_face: 58 1/16 in  job.look { done: yes  signed: "A. Owner" } }
record 2026-04-04 by "R. Calder" with "=click, 1/2 in" { studs { tightened: 60 lb-ft  held: yes }  job.tight.done: yes }
record 2026-04-03 by "R. Calder" { van.odometer: 1200.0 mi }
`;

describe("handover", () => {
  const shop = workshop({ "build.trammel": text });

  test("one document: as built, torque, inspections, what is open, the re-check card", async () => {
    const { out, code } = await shop.trammel("handover", "build.trammel");
    expect(code).toBe(0);
    expect(out).toContain(
      "| tube.face_to_face | From one housing end face to the other | 58 in | 58 1/16 in | within | 2026-04-03 | R. Calder |",
    );
    expect(out).toContain("| Studs | 4 | 60 lb-ft | 60 lb-ft | 2026-04-04 | R. Calder |");
    expect(out).toContain("| Look at it | A. Owner | 2026-04-03 |");
    expect(out).toContain("| check Studs (studs) again |");
    expect(out).toContain("| Studs | check again after 50 mi | 1250 mi | 60 lb-ft | [ ] |");
    expect(out).toContain("local codes");
    expect(out).toMatch(/^# Handover: Delivery van\n/);
    expect(out).toContain("Records from 2026-04-03 to 2026-04-04.");
    expect(out).toContain("**Not finished: 1 of 3 steps is not done.**\nKeep it off the road");
  });

  test("what is not written down is not told as done", async () => {
    const of = async (build: string) =>
      (await workshop({ "build.trammel": build }).trammel("handover", "build.trammel")).out;
    const none = await of("housing tube { face_to_face: 58 in }\n");
    expect(none).toContain("Nothing is on record.");
    expect(none).toContain("No order of work is written down in this build: what was done");
    expect(none).toContain("No joint is written down in this build.");
    const done = "job.again.done: yes  studs.rechecked: yes";
    const whole = await of(`${text}record 2026-04-06 { van.odometer: 1260.0 mi  ${done} }\n`);
    expect(whole).toContain("All 3 steps are on record as done, and nothing stands against them.");
    const loose = await of(`${text}joint plugs "Plugs" { count: 2  torque: 20 lb-ft }\n`);
    expect(loose).toContain("1 of 2 joints is not tight");
    expect(loose).toMatch(/\| Plugs \| 2 \| 20 lb-ft \|.*\| not on record \|/);
  });

  test("as a table, in which nothing is taken for a formula", async () => {
    const { out } = await shop.trammel("handover", "build.trammel", "--format", "csv");
    const lines = out.trim().split("\n");
    expect(lines[0]).toBe("section,what,wanted,found,verdict,on,by,with");
    expect(lines).toContain(
      `torque,studs,60 lb-ft,60 lb-ft,tight,2026-04-04,R. Calder,"'=click, 1/2 in"`,
    );
    // In the unit it is kept in, not in the one of the build's lengths.
    expect(lines).toContain("as built,van.odometer,,1200 mi,,2026-04-03,R. Calder,");
    expect(lines.some((line) => line.startsWith("re-check,studs,60 lb-ft,"))).toBe(true);
  });
});
