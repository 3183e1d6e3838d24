/**
 * Edits of a long build, from the change of the text to fresh findings and the inline values of the
 * lines in view, by the same code the language server runs; and the same edits of the same lines
 * written as YAML, by a YAML language service that holds them against a schema.
 */
import { SemanticTokensBuilder } from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { getLanguageService, type LanguageService, SchemaPriority } from "yaml-language-server";
import type { Analysis } from "../../server/analysis/analysis";
import { type Library, loadLibrary } from "../../server/analysis/library";
import { Builds } from "../../server/builds";
import { completions } from "../../server/features/completion";
import { definition } from "../../server/features/definition";
import { documentLinks } from "../../server/features/document-links";
import { diagnostics } from "../../server/features/findings";
import { foldingRanges } from "../../server/features/folding";
import { hover } from "../../server/features/hover";
import { inlayHints } from "../../server/features/inlay-hints";
import { quickFixes } from "../../server/features/quick-fixes";
import { highlights, references } from "../../server/features/references";
import { renameAt } from "../../server/features/rename";
import { semanticTokens } from "../../server/features/semantic-tokens";
import { signatureHelp } from "../../server/features/signature-help";
import { documentSymbols } from "../../server/features/symbols";
import { endless } from "../../server/keep/patience";
import { libraryFiles } from "../../server/library-files";
import { OpenFiles } from "../../server/open-files";
import { defaultSettings } from "../../server/settings";
import { type JsonSchema, schemaOf, yamlOf } from "./yaml";

/** An editor window shows about as many. */
const linesInView = 60;

/** Replaces text within one line. */
export interface Edit {
  readonly about: string;
  readonly line: number;
  readonly from: string;
  readonly to: string;
}

/** A build as an editor has it open. */
export class OpenBuild {
  private readonly document: TextDocument;
  private readonly files: OpenFiles;
  private readonly builds: Builds;

  constructor(
    private readonly uri: string,
    text: string,
    readonly library: Library = loadLibrary(libraryFiles()),
    /** One that is open in the same editor. */
    beside?: OpenBuild,
  ) {
    this.document = TextDocument.create(uri, "trammel", 1, text);
    this.files = beside?.files ?? new OpenFiles();
    // As with an editor that tells of changes on the disk.
    this.files.watched = true;
    this.files.open(uri, () => this.document.getText());
    this.builds = beside?.builds ?? new Builds(this.files, library, () => "2026-04-04");
  }

  get text(): string {
    return this.document.getText();
  }

  apply(edit: Edit): void {
    changeLine(this.document, edit);
    this.builds.changed(this.uri);
  }

  /** Findings of the whole file, and inline values around a line. */
  answer(line: number): { findings: number; hints: number } {
    const [findings, hints] = this.asked(line);
    return { findings: findings?.ask() ?? 0, hints: hints?.ask() ?? 0 };
  }

  /** All that an editor asks by itself after an edit, in its order; each gives how much it was told. */
  asked(line: number): Request[] {
    const { uri } = this;
    const first = Math.max(0, line - linesInView / 2);
    const range = {
      start: { line: first, character: 0 },
      end: { line: first + linesInView, character: 0 },
    };
    const last = this.builds.lastWhole(uri);
    const { hints } = defaultSettings;
    return this.requests({
      findings: (analysis) => diagnostics(analysis, uri),
      "inline values": (analysis) => inlayHints(analysis, uri, range, hints, last),
      colors: (analysis) => {
        const tokens = new SemanticTokensBuilder();
        semanticTokens(analysis, uri, tokens, range);
        return tokens.build().data;
      },
      outline: (analysis) => documentSymbols(analysis, uri),
      folds: (analysis) => {
        const source = analysis.sourceOf(uri);
        return source === undefined ? [] : foldingRanges(source);
      },
      links: (analysis) => documentLinks(analysis, uri),
      // How a build stands is told from these two.
      summary: (analysis) => analysis.workedOut + analysis.findingsSoFar.length,
    });
  }

  /** What someone asks at a place of a line. */
  askedByHand(line: number): Request[] {
    const { uri, document } = this;
    const text = document.getText({
      start: { line, character: 0 },
      end: { line: line + 1, character: 0 },
    });
    const at = { line, character: Math.max(0, text.search(/\S/)) };
    const offset = document.offsetAt(at);
    const end = document.offsetAt({ line, character: text.trimEnd().length });
    return this.requests({
      hover: (analysis) => hover(analysis, uri, offset),
      completion: (analysis) => completions(analysis, uri, offset + 1, { snippets: true }),
      "signature help": (analysis) => signatureHelp(analysis, uri, end),
      definition: (analysis) => definition(analysis, uri, offset),
      highlights: (analysis) => highlights(analysis, uri, offset),
      references: (analysis) => references(analysis, uri, offset, true),
      "rename, whether": (analysis) => renameAt(analysis, uri, offset),
      "quick fixes": (analysis) => quickFixes(analysis, uri, { start: at, end: at }),
    });
  }

  private requests(work: Readonly<Record<string, (analysis: Analysis) => unknown>>): Request[] {
    return Object.entries(work).map(([what, ask]) => ({
      what,
      ask: () => {
        const analysis = this.builds.analysis(this.uri, defaultSettings, endless);
        if (analysis === undefined) throw new Error(`${this.uri} cannot be read`);
        const told = ask(analysis);
        return typeof told === "number" ? told : Array.isArray(told) ? told.length : Number(!!told);
      },
    }));
  }
}

/** One question of an editor. */
export interface Request {
  readonly what: string;
  /** Gives how much was told. */
  ask(): number;
}

/** The same lines as YAML, open in a YAML language service. */
export class OpenYaml {
  private readonly document: TextDocument;
  private readonly service: LanguageService;

  constructor(uri: string, text: string, schema: JsonSchema = schemaOf([text])) {
    // The service keeps what it read by file and version, over all its instances.
    yamlVersion += 1000;
    this.document = TextDocument.create(uri, "yaml", yamlVersion, yamlOf(text));
    this.service = yamlService(schema);
  }

  apply(edit: Edit): void {
    changeLine(this.document, edit);
  }

  async answer(): Promise<number> {
    return (await this.service.doValidation(this.document, false)).length;
  }
}

let yamlVersion = 0;

export function yamlService(schema: JsonSchema): LanguageService {
  const service = getLanguageService({
    schemaRequestService: () => Promise.reject(new Error("there is no other schema")),
    workspaceContext: { resolveRelativePath: (path, resource) => new URL(path, resource).href },
    // It goes on with half of the work where something in it fails, and only tells it here.
    telemetry: {
      send: () => undefined,
      sendError: (name, error) => {
        throw new Error(`${name}: ${String(error)}`);
      },
      sendTrack: () => undefined,
    },
  });
  service.configure({
    validate: true,
    schemas: [
      {
        fileMatch: ["*.yaml"],
        uri: "file:///builds.schema.json",
        schema,
        priority: SchemaPriority.Settings,
      },
    ],
  });
  return service;
}

/**
 * Edits all over the build, `count` in all, each of another vehicle than the one before, of kinds
 * that take turns. Every one changes the text; there and back again, so that no text is seen twice
 * in a row.
 */
export function editsOf(text: string, count: number): Edit[] {
  const lines = text.split("\n");
  const kinds = [
    { about: "a gap or width of an axle", at: /^ {4}inner_gap: 7\/8 in$|^ {2}mount_width: \d+ mm/ },
    { about: "a figure of a weld", at: /^ {2}current: \d+ A$/ },
    { about: "a mass of a vehicle", at: /^ {2}mass: \d{4} (lb|kg)$/ },
    { about: "a measurement of a record", at: /^ {2}\w+_rear\.[\w.]*(inner_limit|mount_width): / },
    { about: "a remark", at: /^# ── / },
    { about: "a figure half typed", at: /^ {2}cg_height: \d+ / },
  ].map((kind) => ({
    ...kind,
    lines: lines.flatMap((line, number) => (kind.at.test(line) ? [number] : [])),
  }));
  const now = [...lines];
  return Array.from({ length: count }, (_, index) => {
    const kind = kinds[index % kinds.length]!;
    const turn = Math.floor(index / kinds.length);
    // Steps of 17 places lead all over the build; each place is met twice, there and back.
    const line = kind.lines[(Math.floor(turn / 2) * 17) % kind.lines.length];
    if (line === undefined) throw new Error(`there is no line for ${kind.about}`);
    const before = now[line]!;
    const original = lines[line]!;
    const after = before === original ? changed(original) : original;
    now[line] = after;
    return { about: kind.about, line, ...difference(before, after) };
  });
}

// ───────────────────────────── helpers ─────────────────────────────

/** Another text of the line: the next figure up, a word more, or half of it. */
function changed(line: string): string {
  if (line.startsWith("#")) return line.replace("──", "── once more:");
  if (line.includes("inner_gap")) return line.replace("7/8", "13/16");
  if (line.includes("cg_height")) return line.replace(/\d+ \w+$/, "");
  return line.replace(/(\d+)( (?:in|mm|A|lb|kg)\b)/, (_, digits: string, unit: string) => {
    return `${Number(digits) + 1}${unit}`;
  });
}

/** What to replace by what, whole words, so that it can be found in the line written as YAML too. */
function difference(before: string, after: string): { from: string; to: string } {
  const value = /^\s*[\w.]+: (.*)$/;
  const one = value.exec(before);
  const other = value.exec(after);
  if (one === null || other === null) return { from: before, to: after };
  return { from: one[1]!, to: other[1]! };
}

function changeLine(document: TextDocument, { line, from, to }: Edit): void {
  const text = document.getText({
    start: { line, character: 0 },
    end: { line: line + 1, character: 0 },
  });
  // Where nothing is written, the place is behind the colon or between the quotation marks.
  const empty = document.languageId === "yaml" ? text.indexOf('""') + 1 : text.trimEnd().length + 1;
  const character = from === "" ? empty : text.indexOf(from);
  if (character < 0) throw new Error(`"${from}" is not in line ${line + 1}: ${text}`);
  const change = {
    range: { start: { line, character }, end: { line, character: character + from.length } },
    text: to,
  };
  TextDocument.update(document, [change], document.version + 1);
}
