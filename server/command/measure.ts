/**
 * `trammel measure`: what is still to be measured, in walking order, as text, Markdown or JSON, and
 * as a form; a form that was filled in goes back into the build.
 *
 * A form is looked at together with the build before anything is written, and is itself only read:
 * whatever is wrong with it, what was typed is still there.
 */
import { basename, dirname, join } from "node:path";
import { pathOf, uriOf } from "../disk/file-uri";
import { gitPerson } from "../disk/git-person";
import { writeFile } from "../disk/write-file";
import { placedFindings } from "../report/placed-finding";
import { markdownTable } from "../report/table";
import { appended, logNameFor } from "../sequence";
import {
  askedBy,
  type FilledIn,
  filledIn,
  formOf,
  howExactly,
  type Measuring,
  measuringOf,
  withEdits,
} from "../sheets";
import { forMarkdown } from "../text/untrusted-text";
import type { MeasureOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import { findingLines } from "./finding-text";
import type { Palette } from "./palette";
import { print, printJson, tell } from "./print";
import { CommandProblem, exit } from "./problem";
import type { OpenBuild, Session, View } from "./session";
import { todayOf } from "./today";

export interface MeasureOptions extends View {
  readonly format: "text" | "json" | "markdown" | "form";
  readonly from: string | undefined;
  readonly by: string | undefined;
  readonly date: string | undefined;
  readonly dry: boolean;
  readonly anyway: boolean;
}

export function measure(
  file: string,
  options: MeasureOptions,
  session: Session,
  palette: Palette,
): number {
  if (options.from !== undefined) return putBack(file, options.from, options, session, palette);
  const { analysis, name } = session.open(file, options);
  const measuring = measuringOf(analysis);
  const isPaper = options.format === "form" || options.format === "markdown";
  if (isPaper || measuring.readings.length === 0) session.askWhole();
  const { world } = session;
  switch (options.format) {
    case "json":
      printJson(world, outputOf(name, measuring));
      break;
    case "markdown":
      print(world, markdownLines(name, measuring));
      break;
    case "form": {
      const by = options.by ?? gitPerson(dirname(session.pathOf(file))) ?? "";
      const date = options.date ?? todayOf(world);
      const uses = basename(session.pathOf(file));
      const then = `trammel measure ${name} --from FORM`;
      const form = formOf(measuring, { uses, title: name, date, by, then });
      print(world, form.trimEnd().split("\n"));
      break;
    }
    default:
      print(world, textLines(name, measuring, palette));
  }
  return exit.clean;
}

// ───────────────────────────── the list ─────────────────────────────

function textLines(name: string, { readings, undecidable }: Measuring, palette: Palette): string[] {
  const lines = [name, ""];
  if (readings.length === 0) lines.push("nothing is left to be measured");
  let place = "";
  for (const [index, reading] of readings.entries()) {
    if (reading.place.path !== place)
      lines.push(
        ...(index === 0 ? [] : [""]),
        palette.bold(`${reading.place.path}  ${reading.place.title}`),
      );
    place = reading.place.path;
    const { checks, step, how } = reading;
    lines.push(`${String(index + 1).padStart(3)}  ${reading.path}: ${how}`);
    const facts = howExactly(reading);
    if (facts.length > 0) lines.push(`     ${facts.join("; ")}`);
    if (step !== undefined) lines.push(`     asked for by “${step}”`);
    for (const check of checks.slice(0, mostChecks))
      lines.push(`     decides: ${check}${askedBy(reading, check)}`);
    if (checks.length > mostChecks) lines.push(`     and ${checks.length - mostChecks} more`);
  }
  if (readings.some(({ why }) => why === "open" || why === "no ± is written"))
    lines.push(
      "",
      "Write each with its ±, `23 1/2 in ± 1/32 in`: the list then tells whether that is exact enough.",
    );
  if (undecidable.length > 0)
    lines.push(
      "",
      "No reading decides these: what is made or bought takes up their margin",
      ...undecidable.map((check) => `  ${check}`),
    );
  return lines;
}

const mostChecks = 3;

function markdownLines(name: string, { readings, undecidable }: Measuring): string[] {
  const rows = readings.map(({ path, how, now, within, instrument, checks, step }) =>
    [
      path,
      how,
      now ?? "",
      within?.text ?? "",
      instrument ?? "",
      [...(step === undefined ? [] : [`“${step}”`]), ...checks].join("; "),
      "",
    ].map(forMarkdown),
  );
  return [
    `# Still to be measured: ${forMarkdown(name)}`,
    "",
    ...(rows.length === 0
      ? ["Nothing is left to be measured."]
      : markdownTable(["figure", "how", "now", "needed to", "read with", "for", "measured"], rows)),
    ...(undecidable.length === 0
      ? []
      : [
          "",
          "No reading decides these, what is made or bought takes up their margin:",
          "",
          ...undecidable.map((check) => `- ${forMarkdown(check)}`),
        ]),
  ];
}

function outputOf(file: string, { readings, undecidable }: Measuring): MeasureOutput {
  return {
    schemaVersion,
    file,
    readings: readings.map(({ place, checks, instead, decides, ...reading }) => ({
      ...reading,
      ...(instead === undefined ? {} : { instead: [...instead] }),
      ...(decides === undefined
        ? {}
        : {
            decides: decides.map(({ once, ...each }) => ({
              ...each,
              ...(once === undefined ? {} : { once: [...once] }),
            })),
          }),
      thing: place.path,
      title: place.title,
      checks: [...checks],
    })),
    undecidable: [...undecidable],
  };
}

// ───────────────────────────── a form put back ─────────────────────────────

function putBack(
  file: string,
  form: string,
  options: MeasureOptions,
  session: Session,
  palette: Palette,
): number {
  const { world } = session;
  const folder = dirname(session.pathOf(file));
  const { text } = session.textOf(form);
  // Where it lies elsewhere it is read as if it lay beside the build, which it uses by its name.
  const beside = join(folder, basename(session.pathOf(form)));
  session.standIn(beside, text);
  const wrong = objectionsTo(session, beside).filter(
    ({ code, severity, file: place }) =>
      severity === "error" && place === session.nameOf(uriOf(beside)) && code !== "given/twice",
  );
  if (wrong.length > 0) {
    print(world, findingLines(wrong, palette));
    tell(world, `nothing was written; ${form} is as it was`);
    return exit.findings;
  }
  const by = options.by ?? gitPerson(folder);
  const before = session.open(file, {});
  const date = options.date ?? todayOf(world);
  const filled = filledIn(text, before.analysis, { date, by: by ?? "" });
  if (filled.entries.length > 0 && by === undefined)
    throw new CommandProblem(
      'say who measured: --by "name", or tell git: git config user.name "name"',
    );
  if (filled.written.length === 0) {
    const what = filled.open.length > 0 ? "no figure is filled in" : "nothing in it is new";
    tell(world, `${form}: ${what}, nothing was written`);
    return exit.clean;
  }
  const files = changedFiles(before, filled, by ?? "", folder, session);
  const spoken = new Set(worded(before, session).map(({ code, message }) => `${code} ${message}`));
  for (const { path, text: after } of files) session.standIn(path, after);
  const objections = worded(session.open(file, {}), session).filter(
    ({ code, message }) => !spoken.has(`${code} ${message}`),
  );
  print(
    world,
    filled.written.map((path) => `${path} goes in`),
  );
  if (filled.there.length > 0)
    print(
      world,
      filled.there.map((path) => `${path} is there already`),
    );
  if (objections.length > 0) {
    print(world, ["", ...findingLines(objections, palette)]);
    if (!options.anyway && objections.some(({ severity }) => severity === "error")) {
      tell(
        world,
        `nothing was written; ${form} is as it was: mend it, or write it as it is with --anyway`,
      );
      return exit.findings;
    }
  }
  if (options.dry) return exit.clean;
  for (const { path, text: after, existed } of files) {
    const problem = writeFile(path, after, existed === undefined ? {} : { before: existed });
    if (problem !== undefined)
      throw new CommandProblem(`cannot write ${session.nameOf(uriOf(path))}: ${problem.why}`);
    tell(world, `written to ${session.nameOf(uriOf(path))}`);
  }
  return exit.clean;
}

function changedFiles(
  { analysis }: OpenBuild,
  { edits, entries }: FilledIn,
  by: string,
  folder: string,
  session: Session,
) {
  const look = (path: string) => {
    const found = session.lookAt(path);
    if (!("text" in found) && found.problem !== "missing")
      throw new CommandProblem(`cannot read ${session.nameOf(uriOf(path))}: ${found.why}`);
    return "text" in found ? found : undefined;
  };
  const uris = [...new Set(edits.map(({ uri }) => uri))];
  const files = uris.flatMap((uri) => {
    const path = pathOf(uri);
    const existed = path === undefined ? undefined : look(path);
    if (path === undefined || existed === undefined) return [];
    const own = edits.filter((edit) => edit.uri === uri);
    return [{ path, existed, text: withEdits(existed.text, own) }];
  });
  if (entries.length === 0) return files;
  const uses = basename(pathOf(analysis.rootUri) ?? "");
  const name = logNameFor(by, uses, (each) => {
    const log = join(folder, each);
    return analysis.files.has(uriOf(log)) ? undefined : look(log)?.text;
  });
  const path = join(folder, name);
  const existed = look(path);
  return [...files, { path, existed, text: appended(existed?.text, uses, entries) }];
}

function objectionsTo(session: Session, path: string) {
  return placedFindings(session.open(path, {}).analysis, (uri) => session.nameOf(uri));
}

function worded({ analysis }: OpenBuild, session: Session) {
  return placedFindings(analysis, (uri) => session.nameOf(uri)).filter(
    ({ severity }) => severity !== "note",
  );
}
