/**
 * Putting a step on record from where it is written: an edit that adds the entries, filled in from
 * the plan, at the end of the log of whoever works here; and a blank for a figure that a step asks
 * for.
 *
 *     recordActions(analysis, uri, range, { by: "R. Calder", date: "2026-04-04" })
 *
 * Must not know: how answers travel, what day it is.
 */
import { type CodeAction, CodeActionKind, type Range } from "vscode-languageserver";
import type { Anchor } from "../../grammar/anchor";
import type { Analysis } from "../analysis/analysis";
import { isLogName } from "../analysis/logs-beside";
import {
  appended,
  atHandEntry,
  blankFor,
  concessionFor,
  entriesFor,
  isObjection,
  logNameFor,
  objectionsTo,
  type PlannedStep,
  type Sequence,
  sequenceOf,
  stateInWords,
} from "../sequence";
import { overlaps, rangeOf } from "./place";

export interface Recorder {
  readonly by: string;
  /** `2026-04-04` */
  readonly date: string;
  /** Text of a file as the editor or the disk has it; nothing where there is none. */
  textOf(uri: string): string | undefined;
  /** The build as it would read with a file of that text. */
  asIf?(uri: string, text: string): Analysis | undefined;
}

/** More steps than this are not offered at one place. */
const mostOffered = 4;
const longestTitle = 60;

export function recordActions(
  analysis: Analysis,
  uri: string,
  range: Range,
  recorder: Recorder,
): CodeAction[] {
  const sequence = sequenceOf(analysis);
  const target = logOf(analysis, uri, recorder);
  if (sequence.steps.length === 0 || target === undefined) return [];
  const steps = stepsAt(analysis, uri, range);
  const record = (title: string, lines: readonly string[], isTried = true): CodeAction => {
    const objects = isTried ? objection(analysis, target, lines, recorder) : "";
    return {
      title: clipped(`${title}${objects}`),
      kind: CodeActionKind.RefactorRewrite,
      edit: editOf(target, lines, recorder),
    };
  };
  const linesOf = (step: PlannedStep): readonly string[] =>
    entriesFor(sequence, step, recorder).lines;
  const actions = steps.map((step): CodeAction => {
    const isBlocked = step.state === "blocked";
    const isWaiting = step.blockedBy.some(({ is }) => is === "step" || is === "loop");
    const it = isWaiting ? "it " : "";
    const waits = isBlocked ? `, although ${it}${stateInWords(step)}` : "";
    return record(`record “${step.title}” as done${waits}`, linesOf(step), !isBlocked);
  });
  const open = steps.filter(({ state }) => state !== "done");
  const together =
    open.length < 2
      ? []
      : [record(`record all ${open.length} of them as done`, open.flatMap(linesOf))];
  const came = steps.flatMap((step) =>
    step.parts.flatMap(({ path, title, atHand }) => {
      if (atHand) return [];
      // What is in place came no later than that.
      const doneOn = saidDone(sequence, step);
      const head = doneOn === undefined ? recorder : { ...recorder, date: doneOn };
      const on = doneOn === undefined ? "" : ` on ${doneOn}`;
      return [record(`record “${title}” as at hand${on}`, [atHandEntry(path, true, head)], false)];
    }),
  );
  const accepted = acceptableAt(sequence, steps, (anchor) =>
    isOn(analysis, anchor, uri, range),
  ).map(({ step, path }) =>
    record(`accept ${path} as it is`, [concessionFor(step, path, recorder)], false),
  );
  const undone = steps.flatMap((step): CodeAction[] =>
    step.state !== "done"
      ? []
      : [
          {
            title: clipped(`take back “${step.title}”`),
            kind: CodeActionKind.RefactorRewrite,
            edit: editOf(
              target,
              entriesFor(sequence, step, recorder, { undo: true }).lines,
              recorder,
            ),
          },
        ],
  );
  const asked = [
    ...steps.flatMap((step) =>
      step.measure.filter(({ measured }) => !measured).map(({ path }) => path),
    ),
    ...askedAt(analysis, uri, range),
  ];
  const blanks = [...new Set(asked)].slice(0, mostOffered).map(
    (path): CodeAction => ({
      title: clipped(`record a reading of ${path}`),
      kind: CodeActionKind.RefactorRewrite,
      edit: editOf(target, [blankFor(path, recorder)], recorder),
    }),
  );
  return [...actions, ...together, ...blanks, ...came, ...accepted, ...undone];
}

/**
 * Figures out of tolerance and limits that do not hold, of the steps here or told of on these lines: what
 * a concession can be about, under the step that measures it.
 */
function acceptableAt(
  { steps, found }: Sequence,
  here: readonly PlannedStep[],
  isHere: (anchor: Anchor) => boolean,
): { readonly step: string; readonly path: string }[] {
  return found.flatMap((each) => {
    if (each.is === "record/out-of-tolerance") {
      const step = steps.find(({ measure }) => measure.some(({ path }) => path === each.path));
      const isAsked = step !== undefined && (here.includes(step) || isHere(each.anchor));
      return isAsked ? [{ step: step.path, path: each.path }] : [];
    }
    if (each.is !== "record/out-of-limits") return [];
    return each.lacking.flatMap((lacking) => {
      const isAsked = here.some(({ path }) => path === lacking.step) || isHere(each.anchor);
      const isLimit = lacking.is === "check" && lacking.known;
      return isAsked && isLimit ? [{ step: lacking.step, path: lacking.step }] : [];
    });
  });
}

/** The day by which records say it was done, whether that stands or not. */
function saidDone({ events }: Sequence, { path }: PlannedStep): string | undefined {
  const last = events.findLast((event) => event.is === "done" && event.step.path === path);
  return last?.is === "done" && last.done ? last.date : undefined;
}

function isOn(analysis: Analysis, anchor: Anchor, uri: string, range: Range): boolean {
  const place = anchor.uri === uri ? rangeOf(analysis, anchor) : undefined;
  return place !== undefined && overlaps(place, range);
}

/** The first thing the build would object to, blanks still to be filled left out. */
function objection(
  analysis: Analysis,
  target: Target,
  lines: readonly string[],
  { asIf, textOf }: Recorder,
): string {
  const text = appended(textOf(target.uri), target.uses, lines);
  const after = asIf?.(target.uri, text);
  if (after === undefined) return "";
  const [first] = objectionsTo(analysis, after).filter(
    (each) => isObjection(each) && each.code !== "record/not-measured",
  );
  return first === undefined ? "" : `, although ${first.message}`;
}

interface Target {
  readonly uri: string;
  readonly uses: string;
}

/** Measurements that are asked for on these lines: `inner_limit: ?` of what only a tape can tell. */
function askedAt(analysis: Analysis, uri: string, range: Range): string[] {
  return analysis.asked.flatMap(({ value, anchor, option }) => {
    const isOpen = value.standing === "missing" || value.standing === "assumed";
    if (option !== undefined || anchor.uri !== uri || value.measure === undefined) return [];
    if (!isOpen && value.role !== "measured") return [];
    const line = rangeOf(analysis, anchor)?.start.line ?? -1;
    return line >= range.start.line && line <= range.end.line ? [value.path] : [];
  });
}

// ───────────────────────────── helpers ─────────────────────────────

/** Steps written here, or named on these lines; inside a procedure those that can be done now. */
function stepsAt(analysis: Analysis, uri: string, range: Range): PlannedStep[] {
  const source = analysis.sourceOf(uri);
  if (source === undefined) return [];
  const { steps } = sequenceOf(analysis);
  const first = source.offsetAt({ line: range.start.line, character: 0 });
  const last = source.offsetAt({ line: range.end.line + 1, character: 0 });
  const text = source.text.slice(first, Math.max(first, last));
  const own = steps.filter(({ holdsSteps }) => !holdsSteps);
  const named = own.filter(({ path }) => mentions(text, path));
  if (named.length > 0) return named.slice(0, mostOffered);
  const here = steps.filter(({ anchor }) => {
    const place = anchor.uri === uri ? rangeOf(analysis, anchor) : undefined;
    return place !== undefined && overlaps(place, range);
  });
  const leaves = here.filter(({ holdsSteps, within }) => !holdsSteps && within.length > 0);
  const exact = leaves.filter(({ path }) => {
    const place = rangeOf(
      analysis,
      steps.find((step) => step.path === path)?.anchor ?? here[0]!.anchor,
    );
    return place !== undefined && place.start.line >= range.start.line;
  });
  if (exact.length > 0 && exact.length <= mostOffered) return exact;
  const whole = new Set(here.map(({ path }) => path));
  const open = own.filter(
    ({ state, path, within }) =>
      (state === "ready" || state === "again") &&
      (whole.has(path) || within.some((each) => whole.has(each))),
  );
  return open.slice(0, mostOffered);
}

function mentions(text: string, path: string): boolean {
  const at = text.indexOf(path);
  return at >= 0 && !/[\w.]/.test(text[at - 1] ?? " ") && !/\w/.test(text[at + path.length] ?? " ");
}

/** The log of a person beside the build, and what it uses. */
export function logOf(
  analysis: Analysis,
  uri: string,
  { by, textOf }: Pick<Recorder, "by" | "textOf">,
): Target | undefined {
  if (!/^[a-z][a-z0-9+.-]*:\/\//i.test(uri)) return undefined;
  const folder = analysis.rootUri.slice(0, analysis.rootUri.lastIndexOf("/") + 1);
  const own = decodeURIComponent(analysis.rootUri.slice(folder.length));
  const used = [...analysis.files.values()].flatMap(({ source }) =>
    source.items.flatMap(({ node }) => (node.type === "use" ? [node.path.value] : [])),
  );
  const plan = isLogName(own) ? used.find((each) => !each.startsWith("library:")) : own;
  if (plan === undefined) return undefined;
  const uriOf = (name: string): string => `${folder}${encodeURIComponent(name)}`;
  const name = logNameFor(by, plan, (each) =>
    analysis.files.has(uriOf(each)) ? undefined : textOf(uriOf(each)),
  );
  return { uri: uriOf(name), uses: plan };
}

export function editOf(
  target: Target,
  lines: readonly string[],
  recorder: Recorder,
): CodeAction["edit"] {
  const before = recorder.textOf(target.uri);
  const after = appended(before, target.uses, lines);
  const end = placeAtEnd(before ?? "");
  const isNew = before === undefined || before.trim() === "";
  const edit = isNew
    ? { range: { start: { line: 0, character: 0 }, end }, newText: after }
    : { range: { start: end, end }, newText: after.slice(before.length) };
  const change = { textDocument: { uri: target.uri, version: null }, edits: [edit] };
  return before === undefined
    ? {
        documentChanges: [
          { kind: "create", uri: target.uri, options: { ignoreIfExists: true } },
          change,
        ],
      }
    : { documentChanges: [change] };
}

function placeAtEnd(text: string): Range["end"] {
  const lines = text.split(/\r\n|\n|\r/);
  return { line: lines.length - 1, character: lines[lines.length - 1]?.length ?? 0 };
}

function clipped(title: string): string {
  return title.length <= longestTitle * 2 ? title : `${title.slice(0, longestTitle * 2 - 1)}…`;
}
