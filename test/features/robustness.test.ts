/** Whatever is in a file, and wherever the cursor is: every feature answers, and with places that exist. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { expect, test } from "vitest";
import { SemanticTokensBuilder } from "vscode-languageserver";
import { completions } from "../../server/features/completion";
import { definition } from "../../server/features/definition";
import { documentLinks } from "../../server/features/document-links";
import { diagnostics } from "../../server/features/findings";
import { foldingRanges } from "../../server/features/folding";
import { readHintData } from "../../server/features/hint-fitting";
import { hover } from "../../server/features/hover";
import { hintTooltip, inlayHints } from "../../server/features/inlay-hints";
import { quickFixes } from "../../server/features/quick-fixes";
import { highlights, references } from "../../server/features/references";
import { rename, renameAt } from "../../server/features/rename";
import { selectionRanges } from "../../server/features/selection-ranges";
import { semanticTokens } from "../../server/features/semantic-tokens";
import { signatureHelp } from "../../server/features/signature-help";
import { documentSymbols } from "../../server/features/symbols";
import { readLibraryFileRequest, readSummary } from "../../server/messages";
import { readSettings } from "../../server/settings";
import { analyzerFor } from "../../server/trade";
import { folder, library } from "./world";

const uri = `${folder}build.trammel`;
const samples = join(import.meta.dirname, "..", "..", "samples");
const sample = readFileSync(join(samples, "alder-truck", "tight.trammel"), "utf8");
const kinds = readFileSync(join(samples, "..", "server", "library", "wheel.trammel"), "utf8");
const work = `joint nuts "Nuts" { thread: 1/2-20  grade: 8  count: 5  torque: 85 lb-ft  adjustable: yes }
procedure job "Job" {
  step clean "Clean" { work: prepare  needs: [h.face_to_face]  hold: for_time  hold_time: 5 min }
  step tight "Tighten" {
    after: clean
    tighten: nuts
    check "wide enough": h.face_to_face >= 58 in
  }
  step again "Again" { after: tight  recheck: nuts  left_out: "no road" }
}
procedure whole "Whole" { chapters: [job] }
housing h { face_to_face: ?  standoff: 2.5 in }
curve lean "Lean": h.standoff * cos(g) over g from 0 deg to 60 deg step 20 deg
order "clean first": job.clean before job.tight because "dirt"
record "day one" 2026-03-14 by "R. Calder" {
  job.clean.done: yes
  nuts { tightened: 80 lb-ft  pass: 1  bolts: [1, 3]  held: yes }
  h.face_to_face: 58 in
}
`;
const hints = { enabled: true, asked: true, headlines: true, records: true, steps: true };

let text = "";
const analyzer = analyzerFor(
  { read: (at) => (at === uri ? { text } : { problem: "missing" }) },
  library,
);

/** Everything the features say of a text with the cursor at a place. */
function askAll(cursor: number): unknown[] {
  // No editor puts a cursor between the two characters that end a line.
  const offset = text.slice(cursor - 1, cursor + 1) === "\r\n" ? cursor - 1 : cursor;
  const analysis = analyzer.analyze(uri);
  const source = analysis?.sourceOf(uri);
  if (analysis === undefined || source === undefined) throw new Error("the text was not read");
  const at = source.positionAt(offset);
  const range = { start: source.positionAt(0), end: source.positionAt(text.length) };
  const builder = new SemanticTokensBuilder();
  semanticTokens(analysis, uri, builder);
  const shown = inlayHints(analysis, uri, range, hints);
  const place = renameAt(analysis, uri, offset);
  const renamed = "refusal" in place ? place : rename(analysis, place.named, "another_name");
  return [
    diagnostics(analysis, uri),
    shown,
    shown.map((hint) => {
      const data = readHintData(hint.data);
      return data === undefined ? undefined : hintTooltip(analysis, data);
    }),
    hover(analysis, uri, offset),
    completions(analysis, uri, offset, { snippets: true }),
    definition(analysis, uri, offset).filter((link) => link.targetUri === uri),
    references(analysis, uri, offset, true),
    highlights(analysis, uri, offset),
    quickFixes(analysis, uri, { start: at, end: at }),
    "refusal" in renamed ? renamed : [...renamed],
    documentSymbols(analysis, uri),
    foldingRanges(source).map(({ startLine, endLine }) => ({
      start: { line: startLine, character: 0 },
      end: { line: endLine, character: 0 },
    })),
    selectionRanges(source, [at]),
    documentLinks(analysis, uri),
    signatureHelp(analysis, uri, offset),
    builder.build().data,
  ];
}

/** What is wrong with answers: places beyond the text, numbers that are none, words of programs. */
function wrongIn(answers: unknown): string[] {
  const lines = text.split(/\r\n|\n|\r/);
  const wrong: string[] = [];
  const look = (at: unknown): void => {
    if (typeof at === "number" && !Number.isFinite(at)) wrong.push(String(at));
    if (typeof at === "string" && /\bNaN\b|\bundefined\b|\[object|build\/fault/.test(at))
      wrong.push(at);
    if (typeof at !== "object" || at === null) return;
    if ("line" in at && "character" in at) {
      const { line, character } = at as { line: number; character: number };
      // The end of a line may be counted in.
      const beyond = line >= lines.length || character > (lines[line]?.length ?? -1) + 1;
      if (beyond) wrong.push(`${line}:${character}`);
    }
    for (const inside of Object.values(at)) look(inside);
  };
  look(answers);
  return wrong;
}

const pieces = [
  "{",
  "}",
  "(",
  ")",
  '"',
  "#",
  ":",
  ".",
  "?",
  "±",
  "..",
  ",",
  "\n",
  "\r\n",
  " ",
  "= ",
  "\0",
  "\uFEFF",
  "🛞",
  "use ",
  "kind ",
  "each(",
  "1/",
  "17x",
  "check ",
  "option ",
  "record ",
  "if ",
  "rear.left.",
  "wheel ",
  "step ",
  "after: ",
  "tighten: ",
  "<<<<<<< x\n",
];

test("broken texts are answered", () => {
  const edit = fc.record({
    from: fc.constantFrom(sample, kinds, work),
    at: fc.nat(3_000),
    cut: fc.nat(40),
    piece: fc.constantFrom(...pieces),
    end: fc.option(fc.nat(3_000)),
    cursor: fc.integer({ min: -12, max: 12 }),
  });
  fc.assert(
    fc.property(edit, ({ from, at, cut, piece, end, cursor }) => {
      const place = at % from.length;
      text = from.slice(0, place) + piece + from.slice(place + cut);
      if (end !== null) text = text.slice(0, Math.max(place, end % from.length));
      expect(
        wrongIn(askAll(Math.min(text.length, Math.max(0, place + piece.length + cursor)))),
      ).toEqual([]);
    }),
    { numRuns: 250 },
  );
});

test("texts of any letters are answered", () => {
  const line = fc.array(fc.constantFrom(...pieces, "a", "offset", "18 mm", "17x9"), {
    maxLength: 40,
  });
  fc.assert(
    fc.property(line, fc.nat(200), (letters, cursor) => {
      text = letters.join("");
      expect(wrongIn(askAll(Math.min(text.length, cursor)))).toEqual([]);
    }),
    { numRuns: 250 },
  );
});

test("settings and messages of any sort are read", () => {
  fc.assert(
    fc.property(fc.anything(), (sent) => {
      for (const settings of [
        readSettings(sent),
        readSettings({ display: sent, hints: sent, checks: sent }),
      ]) {
        expect(["as written", "inch", "metric"]).toContain(settings.display.system);
        expect(typeof settings.hints.enabled).toBe("boolean");
        expect(["error", "warning", "note", "off"]).toContain(settings.checks.worst);
      }
      readSummary(sent);
      readLibraryFileRequest(sent);
      readHintData(sent);
    }),
  );
  expect(readSettings({ hints: { asked: false, headlines: 3 } }).hints).toEqual({
    enabled: true,
    asked: false,
    headlines: true,
    records: true,
    steps: true,
  });
});

test("the library's own texts are answered, wherever the cursor is", () => {
  text = "";
  const analysis = analyzer.analyze(uri);
  if (analysis === undefined) throw new Error("the text was not read");
  for (const [at, { source }] of library.files) {
    for (let offset = 0; offset <= source.text.length; offset += 37) {
      hover(analysis, at, offset);
      definition(analysis, at, offset);
    }
    expect(documentSymbols(analysis, at).length).toBeGreaterThan(0);
  }
});
