/**
 * `trammel choose`: which things of a shop's lists go together in a build, so that every check
 * holds, the best first; where none do, which come nearest, and what is wrong with one asked about.
 */

import type { Value } from "../analysis/analysis";
import type { ChooseAnswer, ThingsPassedOver } from "../analysis/choose-request";
import type { Patience } from "../keep/patience";
import { figureOf } from "../report/figure";
import { type TableRow, textTable } from "../report/table";
import type { ChoiceControl } from "../solve/choose";
import { writeQuantity, writeSi } from "../units";
import type { ChooseOutput } from "./contract";
import { schemaVersion } from "./contract-version";
import type { Palette } from "./palette";
import { print, printJson, tellAgain } from "./print";
import { CommandProblem, exit } from "./problem";
import type { OpenBuild, Session, View } from "./session";
import { valueOutput } from "./value-json";
import type { World } from "./world";

export interface ChooseOptions extends View {
  readonly format: "text" | "json";
  /** Fields to fill. */
  readonly for: readonly string[];
  /** What is to be least, and what most. */
  readonly by: readonly string[];
  readonly most: readonly string[];
  /** The field that says how many of a thing there are. */
  readonly stock?: string;
  /** The field that says how many pieces there are in one of a thing. */
  readonly pack?: string;
  /** Things asked about: one for each field. */
  readonly why: readonly string[];
  readonly keep?: number;
}

export async function choose(
  file: string,
  options: ChooseOptions,
  session: Session,
  palette: Palette,
): Promise<number> {
  if (options.for.length === 0)
    throw new CommandProblem("say which fields to choose for, as in --for rear.wheel,rear.tire");
  const build = session.open(file, options);
  const fields = options.for.map(fieldAsked);
  const request = {
    fields: fields.map(({ path }) => path),
    counts: fields.map(({ count }) => count),
    least: options.by,
    most: options.most,
    keep: options.keep,
    stock: options.stock,
    pack: options.pack,
    ...(options.why.length === 0 ? {} : { why: options.why }),
  };
  const watch = watched(session.world, session.library.workshop.patience);
  const answer = await build.analysis.choose(request, watch.control).finally(watch.end);
  if (answer.problem !== undefined) throw new CommandProblem(answer.problem);
  if (options.format === "json") printJson(session.world, output(answer, build));
  else print(session.world, lines(answer, build, palette));
  return answer.choices.length > 0 ? exit.clean : exit.findings;
}

// ───────────────────────────── helpers ─────────────────────────────

/** `rear.stud=8`: eight of it; one where nothing is said. */
function fieldAsked(text: string): { readonly path: string; readonly count: number } {
  const [path = "", count, ...more] = text.split("=").map((part) => part.trim());
  if (count === undefined) return { path, count: 1 };
  if (more.length > 0 || !/^[1-9]\d{0,5}$/.test(count))
    throw new CommandProblem(
      `say how many of it ${path} takes as a whole number, as in ${path}=8; found ${text}`,
    );
  return { path, count: Number(count) };
}

/** A search that takes longer than a moment says how far it is; Ctrl+C ends it with what it has. */
const moment = 500;

/** What was found is put into the build in the rest of the time. */
const searching = 0.75;

function watched(world: World, patience: Patience): { control: ChoiceControl; end: () => void } {
  const since = Date.now();
  let stopped = false;
  let said = "";
  const release = world.onInterrupt?.(() => {
    stopped = true;
  });
  return {
    control: {
      cancelled: () => stopped || patience.isUp(searching),
      progress(share) {
        const text = `${Math.floor(share * 100)} %`;
        if (!world.isTerminal || text === said || Date.now() - since < moment) return;
        said = text;
        tellAgain(world, `looked at ${text}, Ctrl+C to stop`);
      },
    },
    end() {
      if (said !== "") tellAgain(world, "");
      release?.();
    },
  };
}

function lines(answer: ChooseAnswer, build: OpenBuild, palette: Palette): string[] {
  const { aims, choices } = answer;
  const looked = answer.candidates
    .map(({ field, things }) => `${things.length} for ${field}`)
    .join(", ");
  const head = [palette.bold(build.name), `${answer.combinations} combinations: ${looked}`];
  if (!answer.complete) head.push("stopped before all were looked at: there may be better ones");
  const asked = answer.passedOver === undefined ? [] : whyLines(answer.passedOver, answer, build);
  if (choices.length === 0) {
    const why = answer.blocking === undefined ? "" : `; most fall to the check: ${answer.blocking}`;
    const few = answer.short === undefined ? "" : `; too few of ${answer.short.join(", ")}`;
    const none = answer.complete ? "none of them fits" : "none of those looked at fits";
    return [...head, "", `${none}${why}${few}`, ...nearestLines(answer), ...asked];
  }
  if (aims.length > 1)
    head.push("each of these is beaten by no other in all that is aimed at together");
  const fields = answer.candidates.map(({ field }) => field);
  const paths = build.analysis.asked.map(({ value }) => value.path);
  const rows: TableRow[] = choices.map((choice, index) => [
    { text: `${index + 1}.`, right: true },
    ...fields.map((field) => {
      const pick = choice.picks.find((each) => each.field === field);
      return pick === undefined
        ? ""
        : `${pick.thing}${pick.title === undefined ? "" : ` (${pick.title})`}`;
    }),
    ...reachedInWords(choice.aims, answer, build),
  ]);
  const aimed = aims.map(({ path, most }) => `${most ? "most" : "least"} ${path}`);
  const names: TableRow = ["", ...fields, ...aimed].map((text) => ({ text, paint: palette.dim }));
  const best = choices[0]?.analysis;
  const figures: TableRow[] = paths.flatMap((path) => {
    const value: Value | undefined = best?.valueAt(path);
    return value === undefined || best === undefined || value.standing === "missing"
      ? []
      : [[path, figureOf(value, best).text, figureOf(value, best).beside]];
  });
  const open = choices.flatMap(({ unjudged, gaps }, index) => [
    ...(unjudged.length === 0
      ? []
      : [`${index + 1}. not judged, for want of a figure: ${unjudged.join("; ")}`]),
    ...(gaps.length === 0 ? [] : [`${index + 1}. not compared: ${gaps.join("; ")}`]),
  ]);
  return [
    ...head,
    "",
    ...textTable([names, ...rows]),
    ...open,
    ...(figures.length === 0 ? [] : ["", "with the first of them", ...textTable(figures, "  ")]),
    ...asked,
  ];
}

function nearestLines({ nearest }: ChooseAnswer): string[] {
  if (nearest.length === 0) return [];
  return [
    "",
    nearest.length === 1 ? "this comes nearest" : "these come nearest",
    ...nearest.flatMap(({ picks, problems }) => [
      `  ${picks.map(({ field, thing }) => `${field}: ${thing}`).join("; ")}`,
      ...problems.map((problem) => `    ${problem}`),
    ]),
  ];
}

/** Why the things asked about are not the first choice. */
function whyLines(asked: ThingsPassedOver, answer: ChooseAnswer, build: OpenBuild): string[] {
  const names = asked.picks.map(({ field, thing }) => `${field}: ${thing}`).join("; ");
  if (asked.problems.length > 0) {
    return ["", `${names} does not fit`, ...asked.problems.map((problem) => `  ${problem}`)];
  }
  const place = answer.choices.findIndex(({ picks }) =>
    picks.every(({ thing }, at) => thing === asked.picks[at]?.thing),
  );
  if (place >= 0) {
    const judged = answer.choices[place]?.unjudged.length === 0;
    const fits = judged ? "fits" : "fits as far as it can be judged";
    return ["", `${names} ${fits}, and is number ${place + 1} above`];
  }
  const before = answer.choices.find(({ aims }) => isNoWorse(aims, asked.aims, answer));
  const own = reachedInWords(asked.aims, answer, build);
  const other = reachedInWords(before?.aims ?? [], answer, build);
  const called = before?.picks.map(({ thing }) => thing).join(" with ");
  const compared =
    before === undefined
      ? []
      : answer.aims.map(({ path }, at) => `${path} ${own[at]}, ${called} has ${other[at]}`);
  const why = [...compared, ...asked.gaps].join("; ");
  return ["", `${names} fits, and others go before${why === "" ? "" : `: ${why}`}`];
}

function isNoWorse(
  one: readonly (number | undefined)[],
  other: readonly (number | undefined)[],
  { aims }: ChooseAnswer,
): boolean {
  return aims.every(({ most }, at) => {
    const [left, right] = [one[at], other[at]];
    if (left === undefined || right === undefined) return false;
    return most ? left >= right : left <= right;
  });
}

function reachedInWords(
  reached: readonly (number | undefined)[],
  answer: ChooseAnswer,
  build: OpenBuild,
): string[] {
  return answer.aims.map((aim, at) => {
    const si = reached[at];
    if (si === undefined) return "";
    if (aim.measure === undefined) return String(writeSi(si));
    const text = writeQuantity(si, aim.measure, build.analysis.style)?.text ?? "";
    return aim.currency === undefined
      ? text
      : text.replace(/ \S+$/, ` ${aim.currency.toLowerCase()}`);
  });
}

function output(answer: ChooseAnswer, build: OpenBuild): ChooseOutput {
  const aimsOf = (reached: readonly (number | undefined)[]) => {
    const shown = reachedInWords(reached, answer, build);
    return answer.aims.map(({ path, most }, at) => {
      const value = reached[at];
      const si = value === undefined ? undefined : writeSi(value);
      return {
        path,
        wanted: most ? ("most" as const) : ("least" as const),
        ...(si === undefined ? {} : { si, shown: shown[at] ?? "" }),
      };
    });
  };
  const picksOf = (picks: ThingsPassedOver["picks"]) => picks.map((pick) => ({ ...pick }));
  const passed = ({ picks, problems, aims }: ThingsPassedOver) => ({
    picks: picksOf(picks),
    problems: [...problems],
    aims: aimsOf(aims),
  });
  return {
    schemaVersion,
    file: build.name,
    combinations: answer.combinations,
    candidates: answer.candidates.map(({ field, things }) => ({ field, things: [...things] })),
    complete: answer.complete,
    choices: answer.choices.map((choice) => ({
      picks: picksOf(choice.picks),
      aims: aimsOf(choice.aims),
      ...(choice.unjudged.length === 0 ? {} : { unjudged: [...choice.unjudged] }),
      ...(choice.gaps.length === 0 ? {} : { gaps: [...choice.gaps] }),
      values: Object.fromEntries(
        build.analysis.asked.flatMap(({ value: { path } }) => {
          const value = choice.analysis.valueAt(path);
          return value === undefined ? [] : [[path, valueOutput(value, choice.analysis)]];
        }),
      ),
    })),
    ...(answer.blocking === undefined ? {} : { blocking: answer.blocking }),
    ...(answer.short === undefined ? {} : { short: [...answer.short] }),
    ...(answer.nearest.length === 0 ? {} : { nearest: answer.nearest.map(passed) }),
    ...(answer.passedOver === undefined ? {} : { asked: passed(answer.passedOver) }),
  };
}
