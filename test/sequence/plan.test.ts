/**
 * Findings about plans: one tiny build for each, and the whole of what is said.
 */
import { describe, expect, test } from "vitest";
import { sequenceOf, stateInWords, writePlan } from "../../server/sequence";
import { analyze, findingsOf, sequence } from "./helper";

const studs = (more: string): string =>
  `joint studs "Studs" { thread: 1/2-20  grade: 8  count: 5  torque: 85 lb-ft  ${more} }\n`;

describe("procedures", () => {
  test("steps come in a valid order, those that do not wait for each other side by side", () => {
    const { steps, groups, findings } = sequence(`
procedure job {
  step paint { after: [left, right] }
  step left { after: clean }
  step right { after: clean }
  step clean {}
}`);
    expect(findings).toEqual([]);
    expect(steps.map(({ path }) => path)).toEqual([
      "job.clean",
      "job.left",
      "job.right",
      "job.paint",
      "job",
    ]);
    expect(groups.map((group) => group.map(({ path }) => path))).toEqual([
      ["job.clean"],
      ["job.left", "job.right"],
      ["job.paint"],
    ]);
    expect(steps.map(({ state }) => state)).toEqual([
      "ready",
      "blocked",
      "blocked",
      "blocked",
      "blocked",
    ]);
    expect(steps[3]?.blockedBy.map(({ text }) => text)).toEqual(["left", "right"]);
  });

  test("chapters follow one another, and so do their steps", () => {
    const { steps, findings } = sequence(`
procedure job { chapters: [one, two] }
procedure two { step c {} }
procedure one { step a {}  step b { after: a } }`);
    expect(findings).toEqual([]);
    expect(steps.map(({ path }) => path)).toEqual(["one.a", "one.b", "one", "two.c", "two", "job"]);
    expect(steps.find(({ path }) => path === "two.c")?.within).toEqual(["two", "job"]);
  });

  test("what a step comes after holds for the steps inside it", () => {
    const { steps } = sequence(`
procedure job {
  step last { after: first  step inner {} }
  step first {}
}`);
    expect(steps.map(({ path }) => path)).toEqual([
      "job.first",
      "job.last.inner",
      "job.last",
      "job",
    ]);
  });

  test("a step that is left out lets what waits for it wait for what it waits for", () => {
    const found = sequence(`
procedure job {
  step a {}
  step b { after: a  left_out: "the kit comes bevelled" }
  step c { after: b }
  step whole { after: c  left_out: "a bolt-in axle"  step inner {} }
}
record 2026-03-01 { job.c.done: yes }`);
    expect(found.steps.map(({ path }) => path)).toEqual(["job.a", "job.c", "job"]);
    expect(found.steps[1]?.waitsFor.map(({ path }) => path)).toEqual(["job.a"]);
    expect(found.leftOut.map(({ path, because }) => `${path}: ${because}`)).toEqual([
      "job.b: the kit comes bevelled",
      "job.whole: a bolt-in axle",
      "job.whole.inner: a bolt-in axle",
    ]);
    expect(found.findings.map(({ message }) => message)).toEqual([
      "`job.c` is recorded on 2026-03-01, `job.a` is not: `job.c` comes after it",
    ]);
    expect(writePlan(found)).toContain("Left out\n  b: the kit comes bevelled.\n");
  });

  test("a step that is left out does for no rule what it would have done", () => {
    expect(
      findingsOf(`procedure job {
  step tack_it { work: tack  left_out: "no time" }
  step weld_it { work: weld  after: tack_it }
}`).map((each) => each.slice(0, 21)),
    ).toEqual(["3: order/missing-step"]);
  });

  test("a loop is shown as the steps that wait for each other", () => {
    expect(
      findingsOf(`procedure job {
  step a { after: c }
  step b { after: a }
  step c { after: b }
  step d { after: c }
}`),
    ).toEqual([
      "2: step/loop: these steps wait for each other and none can start: `job.a` before `job.b` before `job.c` before `job.a`; `job` and `job.d` wait behind them",
    ]);
  });

  test("a step that waits for itself", () => {
    expect(findingsOf(`procedure job { step a { after: a } }`)[0]).toBe(
      "1: step/loop: `job.a` waits for itself; `job` waits behind it",
    );
  });

  test("a procedure that is a chapter of itself does no harm", () => {
    expect(findingsOf(`procedure job { chapters: [job]  step a {} }`).length).toBeGreaterThan(0);
  });
});

describe("order rules", () => {
  const ends = (weld: string, tack: string): string => `procedure job {
  step index { work: index }
  step weld_it { work: weld  ${weld} }
  step tack_it { work: tack  ${tack} }
}`;

  test("a rule of the library puts steps in order, with its reason", () => {
    const { steps, findings } = sequence(ends("", ""));
    expect(findings).toEqual([]);
    expect(steps.map(({ path }) => path)).toEqual([
      "job.index",
      "job.tack_it",
      "job.weld_it",
      "job",
    ]);
    expect(steps[2]?.waitsFor).toEqual([
      {
        path: "job.tack_it",
        title: "tack it",
        because:
          "tack before welding, because four tacks opposite each other hold the end square; a bead on an end that is not tacked pulls it round",
        written: false,
        hold: undefined,
      },
    ]);
  });

  test("a plan that says the opposite breaks it", () => {
    expect(findingsOf(ends("", "after: weld_it"))).toEqual([
      "3: order/broken: `job.weld_it` is planned before `job.tack_it`: tack before welding, because four tacks opposite each other hold the end square; a bead on an end that is not tacked pulls it round",
    ]);
  });

  test("steps on different things have nothing to do with each other", () => {
    const text = (on: string): string => `procedure job {
  step index { work: index }
  step tack_left { work: tack  on: left_end }
  step weld_left { work: weld  on: left_end  after: tack_left }
  step tack_right { work: tack  on: ${on}  after: weld_left }
  step weld_right { work: weld  on: ${on}  after: tack_right }
}`;
    expect(findingsOf(text("right_end"))).toEqual([]);
    const once = text("left_end").replace(
      "step tack_left { work: tack",
      "step tack_left { work: other",
    );
    expect(findingsOf(once).map((each) => each.slice(0, 16))).toEqual(["4: order/broken:"]);
  });

  test("work that is planned again is no mistake; what stands on it has to follow once more", () => {
    expect(
      findingsOf(`procedure job {
  step look { work: mock_up }
  step saw { work: cut  after: look }
  step look_again { work: mock_up  after: saw }
}`),
    ).toEqual([]);
    const text = (last: string): string => `procedure job {
  step shim { work: shim }
  step tight { work: torque_bracket  after: shim }
  step shim_more { work: shim  after: tight }
  ${last}
}`;
    expect(findingsOf(text("step tight_again { work: torque_bracket  after: shim_more }"))).toEqual(
      [],
    );
    expect(findingsOf(text("")).map((each) => each.slice(0, 72))).toEqual([
      "3: order/broken: `job.tight` is planned before `job.shim_more`: shim bef",
    ]);
  });

  test("what a rule needs has to be there at all", () => {
    expect(findingsOf(`procedure job { step weld_it { work: weld } }`)).toEqual([
      "1: order/missing-step: nothing comes before `job.weld_it` that it needs: tack before welding, because four tacks opposite each other hold the end square; a bead on an end that is not tacked pulls it round",
    ]);
  });

  test("a rule of the builder's own, by kinds of work or by name", () => {
    const text = `order "brush before paint": [clean_inside, paint] before job.sign because "wet paint takes no label"
procedure job {
  step sign {}
  step spray { work: paint  after: sign }
}`;
    expect(findingsOf(text)).toEqual([
      "3: order/broken: `job.sign` is planned before `job.spray`: brush before paint, because wet paint takes no label",
    ]);
  });
});

describe("joints in the plan", () => {
  test("a joint nobody tightens", () => {
    expect(findingsOf(`${studs("")}procedure job { step a {} }`)).toEqual([
      "1: joint/never-tightened: no step tightens `studs`",
    ]);
  });

  test("without any steps nothing is said about tightening", () => {
    expect(findingsOf(studs(""))).toEqual([]);
  });

  test("a joint that stops halfway", () => {
    expect(
      findingsOf(`${studs("")}procedure job { step snug { tighten: studs  tighten_to: 30 % } }`),
    ).toEqual([
      "2: joint/not-full: `studs` is never brought to its whole torque: `job.snug` ends at 30 %",
    ]);
  });

  test("a joint tightened before what it clamps is final", () => {
    const text = (after: string): string =>
      `${studs("after: job.shim")}procedure job {
  step torque { tighten: studs }
  step shim { ${after} }
}`;
    expect(findingsOf(text("after: torque"))).toEqual([
      "3: joint/before-final: `job.torque` is planned before `job.shim`: `studs` clamps what that step makes final",
    ]);
    const { steps } = sequence(text(""));
    expect(steps.map(({ path }) => path)).toEqual(["job.shim", "job.torque", "job"]);
  });

  test("a lower share after the whole torque", () => {
    expect(
      findingsOf(`${studs("")}procedure job {
  step full { tighten: studs }
  step snug { tighten: studs  tighten_to: 30 %  after: full }
}`),
    ).toEqual([
      "3: joint/order: `job.full` is planned before `job.snug`: `studs` goes from the lower torque to the higher",
    ]);
  });

  test("something adjustable, or to be checked again, that nobody checks again", () => {
    const rest = "procedure job { step a { tighten: studs } }";
    expect(findingsOf(studs("adjustable: yes") + rest)).toEqual([
      "1: joint/no-recheck: `studs` clamps something that is set by moving it, and nobody checks it again",
    ]);
    expect(findingsOf(studs("recheck_after: 50 mi") + rest)).toEqual([
      "1: joint/no-recheck: `studs` is to be checked again, and no step does",
    ]);
    const both = "procedure job { step b { recheck: studs }  step a { tighten: studs } }";
    expect(findingsOf(studs("adjustable: yes") + both)).toEqual([]);
    expect(sequence(studs("adjustable: yes") + both).steps.map(({ path }) => path)).toEqual([
      "job.a",
      "job.b",
      "job",
    ]);
  });

  test("a torque that is open", () => {
    expect(
      findingsOf(`joint studs { count: 5 }\nprocedure job { step a { tighten: studs } }`),
    ).toEqual(["1: joint/no-torque: `job.a` tightens `studs`, whose torque is open"]);
  });

  test("passes that do not climb to the whole torque", () => {
    expect(findingsOf(studs("passes: [30 %, 70 %]"))).toEqual([
      "1: joint/passes: the passes of `studs` end at 70 % of its torque",
    ]);
    expect(findingsOf(studs("passes: [70 %, 30 %, 100 %]"))).toEqual([
      "1: joint/passes: the passes of `studs` do not climb: pass 2 is not above the one before it",
    ]);
    expect(findingsOf(studs("pass_torques: [40 lb-ft, 90 lb-ft]"))).toEqual([
      "1: joint/passes: the passes of `studs` go past the torque: pass 2 is 105.9 % of it",
    ]);
    expect(findingsOf(studs("pass_torques: [25 lb-ft, 60 lb-ft, 85 lb-ft]"))).toEqual([]);
  });

  test("an order of the builder's own in which one is missing and another doubled", () => {
    // As many as there are: the one does not make good the other.
    expect(findingsOf(studs("sequence: [1, 4, 2, 5, 5]"))).toEqual([
      "1: joint/sequence: the order of `studs` leaves out 3 and names 5 twice",
    ]);
    expect(findingsOf(studs("sequence: [1, 4, 2, 5, 6]"))).toEqual([
      "1: joint/sequence: the order of `studs` leaves out 3 and names 6, which is none of its 5",
    ]);
    expect(findingsOf(studs("sequence: [1, 4, 2, 5, 3, 3]"))).toEqual([
      "1: joint/sequence: the order of `studs` names 3 twice",
    ]);
  });

  test("an order of the builder's own with neighbors in succession", () => {
    expect(findingsOf(studs("sequence: [1, 2, 3, 4, 5]"))).toEqual([
      "1: joint/neighbours: the order of `studs` tightens neighbors one after the other: 1 and 2, 2 and 3, 3 and 4 and 4 and 5",
    ]);
    expect(findingsOf(studs("sequence: [1, 4, 2, 5, 3]"))).toEqual([]);
    expect(findingsOf(studs("sequence: [1, 3, 3, 6]"))).toEqual([
      "1: joint/sequence: the order of `studs` leaves out 2, 4 and 5, names 3 twice and names 6, which is none of its 5",
    ]);
  });

  test("groups that do not divide", () => {
    expect(findingsOf(studs("groups: 2"))).toEqual([
      "1: joint/groups: the 5 fasteners of `studs` do not make 2 equal groups",
    ]);
  });
});

describe("the torque plan", () => {
  test("published passes with a closing round, the order across the circle", () => {
    const { joints } = sequence(studs(""));
    const [joint] = joints;
    expect(joint?.passes.map(({ share, circular }) => [Math.round(share * 100), circular])).toEqual(
      [
        [30, false],
        [70, false],
        [100, false],
        [100, true],
      ],
    );
    expect(joint?.passes[0]?.order).toEqual([[1, 3, 5, 2, 4]]);
    expect(joint?.passes[3]?.order).toEqual([[1, 2, 3, 4, 5]]);
  });

  test("one fastener goes to its torque in one go", () => {
    const [joint] = sequence("joint nut { torque: 30 lb-ft }").joints;
    expect(joint?.passes.map(({ share, circular }) => [share, circular])).toEqual([[1, false]]);
  });

  test("with an adapter each pass has its own setting; below its range a wrench is not to be used", () => {
    const [joint] = sequence(`wrench click { most: 100 lb-ft  length: 10 in }
joint nuts { count: 4  torque: 60 lb-ft  wrench: click  extension: 2 in }`).joints;
    const poundFoot = 1.3558179483314;
    expect(joint?.setting).toBeCloseTo(50 * poundFoot, 9);
    expect(joint?.passes[0]?.setting).toBeCloseTo(15 * poundFoot, 9);
    expect(joint?.passes.map(({ withinWrench }) => withinWrench)).toEqual([
      false,
      true,
      true,
      true,
    ]);
  });
});

describe("states", () => {
  test("a figure that is open keeps a step from starting", () => {
    const { steps } = sequence(`joint nuts { count: 5 }
procedure job { step a { needs: [nuts.torque, "hoist"] } }`);
    expect(steps[0]?.state).toBe("blocked");
    expect(steps[0]?.blockedBy).toEqual([
      {
        is: "figure",
        path: "nuts.torque",
        text: "`nuts.torque` is open: take the torque from the maker of the part, or write the wanted `proof_share`",
      },
    ]);
  });

  test("a value outside of its limits keeps a step from starting, until it is measured within", () => {
    const text = (record: string): string => `joint nuts { engagement: 0.4 in }
procedure job { step a { check "enough thread": nuts.engagement >= 1/2 in } }
${record}`;
    expect(sequenceState(text(""))).toEqual(["blocked", "not within its limits: enough thread"]);
    expect(sequenceState(text("record 2026-03-14 { nuts.engagement: 0.6 in }"))).toEqual(["ready"]);
  });

  /** The engine objects to a failing check by itself; here that is wanted. */
  function sequenceState(text: string): string[] {
    const [step] = sequenceOf(analyze(text)).steps;
    return [step?.state ?? "", ...(step?.blockedBy ?? []).map((each) => each.text)];
  }
});

describe("fixes", () => {
  /** The text after all of a finding's edits. */
  function fixed(text: string): string {
    const analysis = analyze(text);
    const [finding] = sequenceOf(analysis).findings;
    const [fix] = finding?.fixes ?? [];
    let result = text;
    for (const { anchor, text: put } of fix?.edits ?? []) {
      const source = analysis.sourceOf(anchor.uri);
      const start = (source?.offsetOf(anchor.item) ?? 0) + anchor.span.start;
      result =
        result.slice(0, start) + put + result.slice(start + anchor.span.end - anchor.span.start);
    }
    return result;
  }

  test("an order across the circle is written in", () => {
    expect(fixed("joint j { count: 5  sequence: [1, 2, 3, 4, 5] }")).toBe(
      "joint j { count: 5  sequence: [1, 3, 5, 2, 4] }",
    );
    expect(fixed("joint j { count: 4  sequence: [1, 1] }")).toBe(
      "joint j { count: 4  sequence: [1, 3, 2, 4] }",
    );
  });

  test("the published passes are written in", () => {
    expect(fixed("joint j { count: 4  passes: [30 %, 70 %] }")).toBe(
      "joint j { count: 4  passes: [30 %, 70 %, 100 %] }",
    );
  });
});

describe("a step's state in words", () => {
  test("done, ready, waiting", () => {
    const { steps } = sequence(`procedure job {
  step a {}
  step b { after: a }
  step c { after: b }
  step shut { work: shim }
  step tight { work: torque_bracket }
}
record 2026-03-01 by "A. Welder" { job.a.done: yes }`);
    expect(steps.map((step) => stateInWords(step))).toEqual([
      "done on 2026-03-01 by A. Welder",
      "ready",
      "waits for b",
      "ready",
      "waits for shut (the shims are what the bolts clamp: tightened first, the bolts come out again)",
      "waits for c and tight",
    ]);
  });

  test("what is open or out of its limits is not waited for, it is said", () => {
    const { steps } = sequence(`
housing h { face_to_face: 57 in }
procedure job {
  step a {}
  step b { after: a  needs: [nuts.torque]  check "wide enough": h.face_to_face >= 58 in severity note }
}
joint nuts { count: 5 }
`);
    expect(stateInWords(steps[1]!)).toBe(
      "waits for a; `nuts.torque` is open: take the torque from the maker of the part, or write the wanted `proof_share`; not within its limits: wide enough",
    );
  });
});

test("a step waits for the parts it names until they are at hand", () => {
  const text = (more: string): string => `part seals "Shaft seals" { price: 12 usd }
part grease "Grease" { at_hand: yes }
procedure job { step fit { parts: [seals, grease] } }
${more}`;
  const { steps } = sequence(text(""));
  expect(steps[0]?.blockedBy.map((each) => each.text)).toEqual(["Shaft seals is not at hand"]);
  expect(writePlan(sequence(text("")))).toContain("Parts: Shaft seals (not at hand) and Grease.");
  const came = `record 2026-03-01 { seals.at_hand: yes }\n`;
  expect(sequence(text(came)).steps[0]?.state).toBe("ready");
  const gone = `record 2026-03-02 { seals.at_hand: no }\n`;
  expect(sequence(text(came + gone)).steps[0]?.state).toBe("blocked");
  const done = `record 2026-03-03 { job.fit.done: yes }\n`;
  expect(sequence(text(done)).steps[0]?.state).toBe("done");
});
