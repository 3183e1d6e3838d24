/** `trammel show`: the solved build, for the person at the saw or for a program. */

import type { Anchor } from "../../grammar/anchor";
import type { Analysis, MissingValue, Value } from "../analysis/analysis";
import { latestReadings } from "../analysis/records";
import type { Thing } from "../model/thing";
import { thingsInUse, variantsOf } from "../report/in-use";
import {
  countsOf,
  type PlacedFinding,
  placedAnchor,
  placedFindings,
} from "../report/placed-finding";
import { askedPaths, byThing, isHeadline } from "../report/selection";
import { cutList } from "../sheets";
import { type AskedPath, askedPath } from "./asked-paths";
import type { MissingOutput, ShowOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import { findingOutput } from "./finding-json";
import type { Palette } from "./palette";
import { print, printJson, tell } from "./print";
import { CommandProblem, exit } from "./problem";
import type { OpenBuild, Session, View } from "./session";
import { type ShownValues, showLines } from "./show-text";
import { valueOutput } from "./value-json";

export interface ShowOptions extends View {
  readonly format: "text" | "json";
  readonly all: boolean;
}

export function show(
  file: string,
  paths: readonly string[],
  options: ShowOptions,
  session: Session,
  palette: Palette,
): number {
  const build = session.open(file, options);
  const { analysis } = build;
  const findings = placedFindings(analysis, (uri) => session.nameOf(uri));
  const failing = countsOf(findings).errors > 0;
  const asked = reachedBy(paths, analysis, failing, session);
  const missing = missingIn(analysis, asked, analysis === build.spec);
  if (options.format === "json") {
    const output = showOutput(build, options, { asked, findings, missing }, session);
    printJson(session.world, output);
  } else {
    const sections =
      asked.length > 0
        ? [{ groups: byThing(unique(asked.flatMap(({ values }) => values)), analysis) }]
        : sectionsOf(build, options.all);
    print(session.world, showLines({ build, view: options, sections, findings, missing, palette }));
  }
  return failing ? exit.findings : exit.clean;
}

// ───────────────────────────── helpers ─────────────────────────────

/** What the saw needs first, then what is asked for, then headline figures or everything else. */
function sectionsOf({ analysis, spec }: OpenBuild, all: boolean): ShownValues["sections"] {
  const inUse = new Set(thingsInUse(analysis, [...variantsOf(spec), analysis]));
  const values = [...analysis.values.values()];
  // What is asked for under another option may be a plain given here.
  const asked = new Set(
    [...askedPaths(analysis)].filter((path) => analysis.values.get(path)?.standing !== "given"),
  );
  const cut = cutList(analysis);
  const first = new Set(cut.map(({ path }) => path));
  const others = values.filter(
    (value) =>
      !first.has(value.path) &&
      !asked.has(value.path) &&
      (all || (isHeadline(value) && inUse.has(value.thing))),
  );
  return [
    { title: "Cut list", groups: byThing(cut, analysis) },
    {
      title: "Asked for",
      groups: byThing(
        values.filter(({ path }) => asked.has(path) && !first.has(path)),
        analysis,
      ),
    },
    { title: all ? "All others" : "Headline figures", groups: byThing(others, analysis) },
  ];
}

/** A path that leads nowhere is wrong usage, unless errors in the text may be why. */
function reachedBy(
  paths: readonly string[],
  analysis: Analysis,
  failing: boolean,
  session: Session,
): AskedPath[] {
  return paths.flatMap((path) => {
    const reached = askedPath(path, analysis);
    if (!(reached instanceof CommandProblem)) return [reached];
    if (!failing) throw reached;
    tell(session.world, `trammel: ${reached.message}`);
    return [];
  });
}

/** What the build asks for and does not get, and what the command line asks for in vain. */
function missingIn(
  analysis: Analysis,
  asked: readonly AskedPath[],
  isSpec: boolean,
): MissingValue[] {
  const missing = new Map(analysis.missing.map((each) => [each.path, each]));
  const open = asked.flatMap(({ path, values, silent }) => {
    const [value] = values;
    if (silent !== undefined)
      return [{ path, owned: `${silent.thing.path}.${silent.field}`, thing: silent.thing }];
    return values.length === 1 && value?.standing === "missing"
      ? [{ path, owned: value.path, thing: value.thing }]
      : [];
  });
  const unknown = open.filter(({ owned }) => !missing.has(owned));
  if (unknown.length === 0) return [...missing.values()];
  // What would settle it is only worked out for what is asked for: ask as the build would.
  const asking = isSpec
    ? analysis.trying(unknown.map(({ path }) => `${path}: ?`).join("\n"))
    : undefined;
  for (const { owned, thing } of unknown) {
    const found = asking?.missing.find(({ path }) => path === owned);
    const anchor = anchorOf(thing);
    if (anchor === undefined) continue;
    missing.set(
      owned,
      found === undefined
        ? { path: owned, message: `${owned} cannot be worked out yet`, needs: [], anchor }
        : { ...found, anchor },
    );
  }
  return [...missing.values()];
}

/** Where the thing or the nearest of its owners is opened. */
function anchorOf(thing: Thing | undefined): Anchor | undefined {
  for (let at = thing; at !== undefined; at = at.owner)
    if (at.anchor !== undefined) return at.anchor;
  return undefined;
}

interface Parts {
  readonly asked: readonly AskedPath[];
  readonly findings: readonly PlacedFinding[];
  readonly missing: readonly MissingValue[];
}

function showOutput(
  build: OpenBuild,
  { option, asBuilt }: View,
  { asked, findings, missing }: Parts,
  session: Session,
): ShowOutput {
  const { analysis, spec } = build;
  const readings = asBuilt === true ? latestReadings(spec) : undefined;
  const values =
    asked.length > 0 ? unique(asked.flatMap((each) => each.values)) : [...analysis.values.values()];
  return {
    schemaVersion,
    file: build.name,
    ...(option === undefined ? {} : { option }),
    ...(asBuilt === true ? { asBuilt: true as const } : {}),
    ...(asked.length === 0
      ? {}
      : {
          asked: Object.fromEntries(
            asked.map((each) => [each.path, each.values.map(({ path }) => path)]),
          ),
        }),
    values: Object.fromEntries(
      values.map((value) => [value.path, valueOutput(value, analysis, readings?.get(value.path))]),
    ),
    findings: findings.map(findingOutput),
    missing: missing.map((each) => missingOutput(each, analysis, session)),
  };
}

function missingOutput(
  { path, message, needs, anchor }: MissingValue,
  analysis: Analysis,
  session: Session,
): MissingOutput {
  const where = placedAnchor(anchor, analysis, (uri) => session.nameOf(uri));
  return {
    path,
    message,
    needs: needs.map((set) =>
      set.map((need) =>
        need.advice === undefined ? { path: need.path } : { path: need.path, advice: need.advice },
      ),
    ),
    ...(where === undefined ? {} : { file: where.file, range: where.place }),
  };
}

function unique(values: readonly Value[]): Value[] {
  return [...new Map(values.map((value) => [value.path, value])).values()];
}
