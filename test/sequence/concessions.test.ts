/**
 * What is accepted out of tolerance (a concession, ISO 9000:2015, 3.12.5): which findings it answers
 * and which it does not, by whom and until when, and what comes of it.
 */
import { describe, expect, test } from "vitest";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { orderFindings, sequenceOf, writePlan } from "../../server/sequence";
import { library } from "./helper";

const plan = `housing tube { face_to_face: 55 in ± 1/8 in; standoff: 2 in }
joint nuts "Nuts" { count: 5; torque: 90 lb-ft }
check "the housing is no wider than the jig": tube.face_to_face <= 55 1/4 in
procedure job {
  step width "Measure the width" { measure: tube.face_to_face }
  step room "Look at the room" { after: width; check "there is room": tube.face_to_face <= 55 1/4 in }
  step nuts_on { after: room; tighten: nuts }
}
`;
const wide = `record 2026-03-01 by "Sam Rudd" { tube.face_to_face: 55 1/2 in; job.width.done: yes }\n`;

function read(log: string, today = "2026-06-01") {
  const uri = "file:///shop/build.trammel";
  const host = memoryHost(new Map([[uri, plan + log]]));
  const analysis = new Analyzer(host, library(), [orderFindings]).analyze(uri, { today });
  if (analysis === undefined) throw new Error("the root file is there");
  const { findings } = analysis;
  return {
    said: findings.map(({ code, severity, message }) => `${severity} ${code}: ${message}`),
    codes: findings.map(({ code }) => code),
    sequence: sequenceOf(analysis),
  };
}

const accept = (inside: string, head = `2026-03-02 by "Ida Foreman"`): string =>
  `record ${head} { job.width { ${inside} } }\n`;

describe("a figure", () => {
  test("is a warning before, and a note with name and day once it is accepted", () => {
    expect(read(wide).said).toEqual([
      "warning record/out-of-tolerance: `tube.face_to_face` was measured 55 1/2 in on 2026-03-01, the spec has 55 in: 1/2 in over, 54 7/8 in to 55 1/8 in is allowed",
    ]);
    const { said, sequence } = read(
      wide +
        accept(
          'accepted: tube.face_to_face; until: 2027-01-31; because: "spacer on the left"; follows: "measure at each service"',
        ),
    );
    expect(said).toEqual([
      "note concession/accepted: `tube.face_to_face` was measured 55 1/2 in on 2026-03-01, the spec has 55 in: 1/2 in over, 54 7/8 in to 55 1/8 in is allowed; Ida Foreman accepts it until 2027-01-31: spacer on the left",
    ]);
    expect(sequence.accepted.map(({ breaks, ...each }) => ({ ...each, breaks: breaks() }))).toEqual(
      [
        {
          what: "tube.face_to_face",
          step: "job.width",
          spec: "55 in",
          found: "55 1/2 in",
          by: "Ida Foreman",
          on: "2026-03-02",
          until: "2027-01-31",
          because: "spacer on the left",
          follows: "measure at each service",
          standing: "in force",
          breaks: ["the housing is no wider than the jig", "there is room"],
        },
      ],
    );
    expect(writePlan(sequence)).toContain(`Accepted out of tolerance
  tube.face_to_face 55 1/2 in in place of 55 in, accepted by Ida Foreman on 2026-03-02 until
    2027-01-31.
      Because: spacer on the left.
      To be done: measure at each service.
      Does not hold as built: the housing is no wider than the jig and there is room.`);
  });

  test("is accepted as it was measured: no farther out, and not on the other side", () => {
    const accepted = wide + accept("accepted: tube.face_to_face");
    const later = (figure: string): string[] =>
      read(`${accepted}record 2026-04-01 by "Sam Rudd" { tube.face_to_face: ${figure} }\n`).codes;
    expect(later("55 3/8 in")).toEqual(["concession/accepted"]);
    expect(later("55 3/4 in")).toEqual(["record/out-of-tolerance"]);
    expect(later("54 1/2 in")).toEqual(["record/out-of-tolerance"]);
    expect(later("55 in")).toEqual([]);
  });

  test("until its last day, by the day it is read on", () => {
    const log = wide + accept("accepted: tube.face_to_face; until: 2026-05-31");
    expect(read(log, "2026-05-31").codes).toEqual(["concession/accepted"]);
    expect(read(log, "2026-06-01").said[0]).toContain("; it was accepted until 2026-05-31");
    expect(read(log, "2026-06-01").sequence.accepted[0]?.standing).toBe("ran out");
    const renewed = accept(
      "accepted: tube.face_to_face; until: 2026-12-31",
      `2026-06-01 by "Ida Foreman"`,
    );
    expect(read(log + renewed, "2026-06-01").codes).toEqual(["concession/accepted"]);
  });

  test("is withdrawn by a further entry", () => {
    const ended = accept("withdrawn: tube.face_to_face", `2026-03-09 by "Ida Foreman"`);
    const { codes, sequence } = read(wide + accept("accepted: tube.face_to_face") + ended);
    expect(codes).toEqual(["record/out-of-tolerance"]);
    expect(sequence.accepted.map(({ standing }) => standing)).toEqual(["withdrawn"]);
  });
});

describe("a step", () => {
  const done = `record 2026-03-03 by "Sam Rudd" { job.room.done: yes }\n`;

  test("with a limit that does not hold is open, until that is accepted", () => {
    const open = read(wide + accept("accepted: tube.face_to_face") + done);
    expect(open.codes).toContain("record/out-of-limits");
    expect(open.sequence.steps.find(({ path }) => path === "job.room")?.state).not.toBe("done");
    const both = read(
      wide + accept("accepted: [tube.face_to_face, job.room]; until: 2026-12-31") + done,
    );
    expect(both.codes).toEqual(["concession/accepted", "concession/accepted"]);
    expect(both.sequence.steps.find(({ path }) => path === "job.room")?.state).toBe("done");
  });

  test("is open again when that has run out", () => {
    const log = wide + accept("accepted: [tube.face_to_face, job.room]; until: 2026-05-31") + done;
    const { said, sequence } = read(log);
    expect(sequence.steps.find(({ path }) => path === "job.room")?.state).toBe("blocked");
    expect(said.join("\n")).toContain("there is room, which was accepted until 2026-05-31");
  });

  test("all of whose limits hold needs none", () => {
    const fits = wide.replace("55 1/2", "55");
    expect(read(fits + accept("accepted: job.room")).codes).toEqual(["concession/not-needed"]);
    expect(read(fits + accept("accepted: tube.face_to_face")).codes).toEqual([
      "concession/not-needed",
    ]);
  });
});

describe("what is no concession", () => {
  test("by nobody, of no day", () => {
    expect(read(wide + accept("accepted: tube.face_to_face", "2026-03-02")).codes).toEqual([
      "record/out-of-tolerance",
      "concession/nobody",
    ]);
    expect(read(wide + accept("accepted: tube.face_to_face", `by "Ida Foreman"`)).codes).toContain(
      "concession/nobody",
    );
  });

  test("of a joint, of what nobody measured, of what is not there, until no day", () => {
    expect(read(accept("accepted: nuts")).said[0]).toBe(
      "warning concession/of-nothing: `nuts` is a joint: what is wrong with it is not accepted as it is",
    );
    expect(read(accept("accepted: tube.face_to_face")).codes).toEqual(["concession/of-nothing"]);
    expect(read(accept("accepted: tube.nothing")).codes).toEqual(["concession/of-nothing"]);
    expect(read(wide + accept("accepted: tube.face_to_face; until: soon")).codes).toContain(
      "record/not-a-day",
    );
  });
});
