/**
 * `trammel choose`: which things of a shop's lists go together in a build, so that every check
 * holds, the best first.
 */

import type { ChooseAnswer, Value } from "../analysis/analysis";
import { figureOf } from "../report/figure";
import { type Row, textTable } from "../report/table";
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
  /** What is to be least. */
  readonly by?: string;
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
  const request = { fields: options.for, by: options.by, keep: options.keep };
  const watch = watched(session.world);
  const answer = await build.analysis.choose(request, watch.control).finally(watch.end);
  if (answer.problem !== undefined) throw new CommandProblem(answer.problem);
  if (options.format === "json") printJson(session.world, output(answer, build, options));
  else print(session.world, lines(answer, build, options, palette));
  return answer.choices.length > 0 ? exit.clean : exit.findings;
}

// ───────────────────────────── helpers ─────────────────────────────

/** A search that takes longer than a moment says how far it is; Ctrl+C ends it with what it has. */
const moment = 500;

function watched(world: World): { control: ChoiceControl; end: () => void } {
  const since = Date.now();
  let stopped = false;
  let said = "";
  const release = world.onInterrupt?.(() => {
    stopped = true;
  });
  return {
    control: {
      cancelled: () => stopped,
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

function lines(
  answer: ChooseAnswer,
  build: OpenBuild,
  { by }: ChooseOptions,
  palette: Palette,
): string[] {
  const looked = answer.candidates
    .map(({ field, things }) => `${things.length} for ${field}`)
    .join(", ");
  const head = [palette.bold(build.name), `${answer.combinations} combinations: ${looked}`];
  if (!answer.complete) head.push("stopped before all were looked at: there may be better ones");
  if (answer.choices.length === 0) {
    const why = answer.blocking === undefined ? "" : `; most fall to the check: ${answer.blocking}`;
    return [...head, "", `none of them fits${why}`];
  }
  const fields = answer.candidates.map(({ field }) => field);
  const asked = build.analysis.asked.map(({ value }) => value.path);
  const rows: Row[] = answer.choices.map((choice, index) => [
    { text: `${index + 1}.`, right: true },
    ...fields.map((field) => {
      const pick = choice.picks.find((each) => each.field === field);
      return pick === undefined
        ? ""
        : `${pick.thing}${pick.title === undefined ? "" : ` (${pick.title})`}`;
    }),
    ...(by === undefined ? [] : [objective(choice.objective, answer, build)]),
  ]);
  const names: Row = ["", ...fields, ...(by === undefined ? [] : [`least ${by}`])].map((text) => ({
    text,
    paint: palette.dim,
  }));
  const best = answer.choices[0]?.analysis;
  const figures: Row[] = asked.flatMap((path) => {
    const value: Value | undefined = best?.valueAt(path);
    return value === undefined || best === undefined || value.standing === "missing"
      ? []
      : [[path, figureOf(value, best).text, figureOf(value, best).beside]];
  });
  const open = answer.choices.flatMap(({ unjudged }, index) =>
    unjudged.length === 0
      ? []
      : [`${index + 1}. not judged, for want of a figure: ${unjudged.join("; ")}`],
  );
  return [
    ...head,
    "",
    ...textTable([names, ...rows]),
    ...open,
    ...(figures.length === 0 ? [] : ["", "with the first of them", ...textTable(figures, "  ")]),
  ];
}

function objective(
  si: number | undefined,
  { measure }: ChooseAnswer,
  { analysis }: OpenBuild,
): string {
  if (si === undefined) return "";
  return measure === undefined
    ? String(writeSi(si))
    : (writeQuantity(si, measure, analysis.style)?.text ?? "");
}

function output(answer: ChooseAnswer, build: OpenBuild, { by }: ChooseOptions): ChooseOutput {
  return {
    schemaVersion,
    file: build.name,
    combinations: answer.combinations,
    candidates: answer.candidates.map(({ field, things }) => ({ field, things: [...things] })),
    choices: answer.choices.map((choice) => {
      const si = choice.objective === undefined ? undefined : writeSi(choice.objective);
      return {
        picks: choice.picks.map(({ field, thing, title }) =>
          title === undefined ? { field, thing } : { field, thing, title },
        ),
        ...(by === undefined || si === undefined
          ? {}
          : { by, least: si, shown: objective(choice.objective, answer, build) }),
        ...(choice.unjudged.length === 0 ? {} : { unjudged: [...choice.unjudged] }),
        values: Object.fromEntries(
          build.analysis.asked.flatMap(({ value: { path } }) => {
            const value = choice.analysis.valueAt(path);
            return value === undefined ? [] : [[path, valueOutput(value, choice.analysis)]];
          }),
        ),
      };
    }),
    ...(answer.blocking === undefined ? {} : { blocking: answer.blocking }),
  };
}
