/**
 * Figures in titles, notes and cautions, by their paths and by the kind of what they belong to.
 */
import { describe, expect, test } from "vitest";
import { sequenceOf } from "../../server/sequence";
import { analyze, findingsOf, sequence } from "./helper";

describe("figures in the texts of steps that do not know the names of things", () => {
  const chapter = `procedure job {
  step mark { note: "scribe all round; the tape reads {each housing.face_to_face}; measure again" }
}
`;
  const note = (build: string) =>
    sequence(build + chapter).steps.find((s) => s.path === "job.mark");

  test("one of the kind, several with their names, none: the rest stands", () => {
    expect(note("housing tube { face_to_face: 57 in }\n")?.note).toBe(
      "scribe all round; the tape reads 57 in; measure again",
    );
    expect(
      note("housing one { face_to_face: 57 in }\nhousing two { face_to_face: 58 in }\n")?.note,
    ).toBe("scribe all round; the tape reads one 57 in, two 58 in; measure again");
    expect(note("")?.note).toBe("scribe all round; measure again");
  });

  test("a field no kind has is told", () => {
    const found = findingsOf(`procedure job { step mark { note: "{each housing.nix}" } }\n`);
    expect(found).toEqual([
      "1: step/no-figure: a text of `job.mark` speaks of `housing.nix`, which is no figure of this build",
    ]);
  });

  test("the chapters that ship name the figures one stands at the saw for", () => {
    const build = `use "library:chapters/cut.trammel"
axle rear { left { tube_mark: 24 in }  right { tube_mark: 25 in }  housing: tube }
housing tube { burn: 1 in }
`;
    const { steps } = sequenceOf(analyze(build));
    expect(steps.find(({ path }) => path.endsWith("mark_tubes"))?.note).toContain(
      "the tape reads rear.left 25 in, rear.right 26 in; scribe all round",
    );
    const bare = sequenceOf(analyze(`use "library:chapters/cut.trammel"\n`)).steps;
    expect(bare.map(({ note }) => note ?? "").join()).not.toContain("{");
  });
});
