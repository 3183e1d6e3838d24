/**
 * Steps put on record from the editor: the text of the log after the edit.
 */

import { describe, expect, test } from "vitest";
import type { CodeAction, TextDocumentEdit } from "vscode-languageserver";
import type { Analysis } from "../../server/analysis/analysis";
import { Analyzer } from "../../server/analysis/analyzer";
import { memoryHost } from "../../server/analysis/host";
import { loadLibrary } from "../../server/analysis/library";
import { recordActions } from "../../server/features/record-step";
import { libraryFiles } from "../../server/library-files";
import { orderFindings, sequenceOf } from "../../server/sequence";

const library = loadLibrary(libraryFiles());
const uri = "file:///shop/work.trammel";
const plan = `display { torque: lb-ft }
housing tube { face_to_face: 58 in }
joint studs "Studs" { count: 4  torque: 60 lb-ft  passes: [50 %, 100 %] }
procedure job {
  step look { measure: tube.face_to_face }
  step tight "Tighten the studs" { after: look  tighten: studs }
}
`;

function analyzed(files: Readonly<Record<string, string>>): Analysis {
  const texts = Object.entries(files).map(
    ([name, text]) => [`file:///shop/${name}`, text] as const,
  );
  const host = memoryHost(new Map(texts));
  const analysis = new Analyzer(host, library, [orderFindings]).analyze(uri);
  if (analysis === undefined) throw new Error("the plan is there");
  return analysis;
}

function offered(files: Readonly<Record<string, string>>, line: number): CodeAction[] {
  const range = { start: { line, character: 4 }, end: { line, character: 4 } };
  return recordActions(analyzed(files), uri, range, {
    by: "R. Calder",
    date: "2026-04-04",
    textOf: (each) => files[each.slice(each.lastIndexOf("/") + 1)],
  });
}

/** The log of R. Calder after an action. */
function written(files: Readonly<Record<string, string>>, action: CodeAction | undefined): string {
  const changes = action?.edit?.documentChanges ?? [];
  const change = changes.find((each): each is TextDocumentEdit => "edits" in each);
  expect(change?.textDocument.uri).toBe("file:///shop/log-r-calder.trammel");
  const before = files["log-r-calder.trammel"] ?? "";
  expect(changes.length).toBe(before === "" ? 2 : 1);
  const [edit] = change?.edits ?? [];
  return before + (edit !== undefined && "newText" in edit ? edit.newText : "");
}

const passes = [
  'record 2026-04-04 by "R. Calder" { studs { tightened: 30 lb-ft; pass: 1 } }',
  'record 2026-04-04 by "R. Calder" { studs { tightened: 60 lb-ft; pass: 2 } }',
  'record 2026-04-04 by "R. Calder" { studs { tightened: 60 lb-ft; pass: 3; held: yes } }',
  'record 2026-04-04 by "R. Calder" { job.tight.done: yes }',
];

describe("on a step", () => {
  test("its joint with all passes, begun in a log of one's own", () => {
    const files = { "work.trammel": plan };
    const [action] = offered(files, 5);
    expect(action?.title).toBe("record “Tighten the studs” as done, although it waits for look");
    const log = written(files, action);
    expect(log).toBe(`use "work.trammel"\n\n${passes.join("\n")}\n`);
    // What was written reads as what was meant.
    const read = sequenceOf(analyzed({ ...files, "log-r-calder.trammel": log }));
    expect(read.joints[0]?.tightenedOn).toBe("2026-04-04");
  });

  test("added at the end of the log there is, and taken back by a further entry", () => {
    const first = `use "work.trammel"\nrecord 2026-04-03 by "R. Calder" { tube.face_to_face: 58 in }\nrecord 2026-04-03 by "R. Calder" { job.look.done: yes }`;
    const files = { "work.trammel": plan, "log-r-calder.trammel": first };
    const log = written(files, offered(files, 5)[0]);
    expect(log).toBe(`${first}\n${passes.join("\n")}\n`);
    const { findings } = sequenceOf(analyzed({ ...files, "log-r-calder.trammel": log }));
    expect(findings.map(({ message }) => message)).toEqual([]);
    const done = { ...files, "log-r-calder.trammel": log };
    const undo = offered(done, 5).find(({ title }) => title.startsWith("take back"));
    expect(written(done, undo).slice(log.length)).toBe(
      'record 2026-04-04 by "R. Calder" { job.tight.done: no }\n',
    );
  });

  test("a figure it asks for has a blank", () => {
    const files = { "work.trammel": plan };
    const titles = offered(files, 4).map(({ title }) => title);
    expect(titles).toEqual(["record “look” as done", "record a reading of tube.face_to_face"]);
    expect(written(files, offered(files, 4)[1])).toBe(
      'use "work.trammel"\n\nrecord 2026-04-04 by "R. Calder" { tube.face_to_face: ? }\n',
    );
  });

  test("at the procedure what can be done now is offered; elsewhere nothing", () => {
    const files = { "work.trammel": plan };
    expect(offered(files, 3).map(({ title }) => title)[0]).toBe("record “look” as done");
    expect(offered(files, 1)).toEqual([]);
  });

  test("answers within 50 ms", () => {
    const analysis = analyzed({ "work.trammel": plan });
    const range = { start: { line: 5, character: 4 }, end: { line: 5, character: 4 } };
    const recorder = { by: "A", date: "2026-04-04", textOf: () => undefined };
    recordActions(analysis, uri, range, recorder);
    const started = performance.now();
    recordActions(analysis, uri, range, recorder);
    expect(performance.now() - started).toBeLessThan(50);
  });
});

test("what the build would object to is told before it is written", () => {
  const held = plan.replace("measure: tube", "hold: for_time; hold_time: 3 day; measure: tube");
  const early = `${held}record 2026-04-03 by "S. Rudd" { tube.face_to_face: 58 in; job.look.done: yes }\n`;
  const files: Record<string, string> = { "work.trammel": early };
  const range = { start: { line: 5, character: 4 }, end: { line: 5, character: 4 } };
  const asIf = (file: string, text: string): Analysis =>
    analyzed({ ...files, [file.slice(file.lastIndexOf("/") + 1)]: text });
  const by = { by: "R. Calder", date: "2026-04-04", textOf: () => undefined };
  const [tried] = recordActions(analyzed(files), uri, range, { ...by, asIf });
  expect(tried?.title).toContain(
    "as done, although `job.tight` is recorded too soon after `job.look`",
  );
  const [plain] = recordActions(analyzed(files), uri, range, by);
  expect(plain?.title).toBe("record “Tighten the studs” as done");
});

test("on a measurement that is asked for: the blank to fill", () => {
  const asking = `housing tube {\n  face_to_face: ?\n}\nprocedure job { step look {} }\n`;
  const titles = (line: number): string[] =>
    offered({ "work.trammel": asking }, line).map(({ title }) => title);
  expect(titles(1)).toEqual(["record a reading of tube.face_to_face"]);
  const [action] = offered({ "work.trammel": asking }, 1);
  expect(written({ "work.trammel": asking }, action)).toBe(
    'use "work.trammel"\n\nrecord 2026-04-04 by "R. Calder" { tube.face_to_face: ? }\n',
  );
  expect(titles(0)).toEqual([]);
});

describe("beside done: what came, what is accepted, several at once", () => {
  const more = `display { torque: lb-ft }
part seal "Pinion seal" {}
housing tube { face_to_face: 58 in ± 1/16 in }
procedure job {
  step look { measure: tube.face_to_face  check "wide enough": tube.face_to_face >= 57.9 in }
  step fit "Fit the seal" { parts: seal }
}
`;
  const titles = (files: Readonly<Record<string, string>>, line: number): string[] =>
    offered(files, line).map(({ title }) => title);

  test("a part that is not here", () => {
    const files = { "work.trammel": more };
    const came = offered(files, 5).find(({ title }) => title.includes("as at hand"));
    expect(came?.title).toBe("record “Pinion seal” as at hand");
    expect(titles(files, 5)[0]).toBe(
      "record “Fit the seal” as done, although Pinion seal is not at hand",
    );
    const log = written(files, came);
    expect(log).toContain('record 2026-04-04 by "R. Calder" { seal.at_hand: yes }');
    // What is in place came no later than that.
    const done = `use "work.trammel"\nrecord 2026-04-02 { job.fit.done: yes }\n`;
    const in_ = { "work.trammel": more.replace("{}", "{ at_hand: no }"), "log-x.trammel": done };
    const late = offered(in_, 5).find(({ title }) => title.includes("as at hand"));
    expect(late?.title).toBe("record “Pinion seal” as at hand on 2026-04-02");
    expect(written(in_, late)).toContain('record 2026-04-02 by "R. Calder" { seal.at_hand: yes }');
    expect(titles({ ...files, "log-r-calder.trammel": log }, 5)).toEqual([
      "record “Fit the seal” as done",
    ]);
  });

  test("a reading out of tolerance and a limit that does not hold, with a blank for the reason", () => {
    const read = `use "work.trammel"
record 2026-04-03 by "R. Calder" { tube.face_to_face: 57 3/4 in }
record 2026-04-03 by "R. Calder" { job.look.done: yes }
`;
    const files = { "work.trammel": more, "log-r-calder.trammel": read };
    expect(titles(files, 4)).toEqual(
      expect.arrayContaining(["accept tube.face_to_face as it is", "accept job.look as it is"]),
    );
    const action = offered(files, 4).find(({ title }) => title.startsWith("accept tube"));
    const log = written(files, action);
    expect(log.slice(read.length)).toBe(
      'record 2026-04-04 by "R. Calder" { job.look { accepted: tube.face_to_face; because: ? } }\n',
    );
    const { findings } = sequenceOf(analyzed({ ...files, "log-r-calder.trammel": log }));
    expect(findings.map(({ code }) => code)).toContain("record/blank");
    const filled = log.replace("because: ?", 'because: "the hub is narrower"');
    const after = sequenceOf(analyzed({ ...files, "log-r-calder.trammel": filled }));
    expect(after.findings.map(({ code }) => code)).toContain("concession/accepted");
  });

  test("several steps on one line: each tried by itself, and all at once", () => {
    const text = `joint a "A" { count: 1  torque: 40 lb-ft }
joint b "B" { count: 1  torque: 50 lb-ft }
procedure job { step one { tighten: a } step two { tighten: b; recheck: a } }
`;
    const files: Record<string, string> = { "work.trammel": text };
    const range = { start: { line: 2, character: 0 }, end: { line: 2, character: 70 } };
    let tried = 0;
    const asIf = (file: string, log: string): Analysis => {
      tried++;
      return analyzed({ ...files, [file.slice(file.lastIndexOf("/") + 1)]: log });
    };
    const by = { by: "R. Calder", date: "2026-04-04", textOf: () => undefined };
    const actions = recordActions(analyzed(files), uri, range, { ...by, asIf });
    expect(actions.map(({ title }) => title)).toEqual([
      "record “one” as done",
      expect.stringMatching(/^record “two” as done, although /),
      "record all 2 of them as done",
    ]);
    expect(tried).toBeGreaterThan(1);
    expect(written(files, actions[2])).toBe(`use "work.trammel"

record 2026-04-04 by "R. Calder" { a { tightened: 40 lb-ft; held: yes } }
record 2026-04-04 by "R. Calder" { job.one.done: yes }
record 2026-04-04 by "R. Calder" { b { tightened: 50 lb-ft; held: yes } }
record 2026-04-04 by "R. Calder" { a.rechecked: yes }
record 2026-04-04 by "R. Calder" { job.two.done: yes }
`);
  });
});
