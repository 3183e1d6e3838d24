/**
 * The command line: reads its arguments as the verbs declare them, and says what a run ends with.
 *
 *     await run(["check", "samples"], processWorld())   // 0, 1 or 2
 *
 * Never throws: what is wrong with the usage or the input is told on the log and ends with 2.
 *
 * Must not know: any verb, how verbs do their work.
 */

import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import type { AnalysisSettings } from "../analysis/analysis";
import type { Level, Levels } from "../findings/writer";
import { TimeUp } from "../keep/patience";
import { type ColorChoice, paletteFor } from "./palette";
import { printWhole, tell } from "./print";
import { CommandProblem, exit } from "./problem";
import type { Session } from "./session";
import type { Verb, VerbOption, VerbRun } from "./verb";
import { verbs } from "./verbs";
import { version } from "./version";
import type { World } from "./world";

export async function run(args: readonly string[], world: World): Promise<number> {
  let code: number = exit.clean;
  try {
    await programFor(world, (result) => {
      code = result;
    }).parseAsync([...args], { from: "user" });
    return code;
  } catch (error) {
    return ending(error, world);
  }
}

/** Every verb with its options, as the reader of the manual sees them. */
export function programFor(world: World, finish: (code: number) => void): Command {
  const program = new Command("trammel")
    .description("Reads builds: solves what they leave open and objects to what does not fit.")
    .version(version, "-V, --version", "Print the version.")
    .helpOption("-h, --help", "Tell about the command.")
    .helpCommand("help [verb]", "Tell about a verb.")
    .addOption(
      new Option("--color <when>", "Use color; NO_COLOR turns it off in auto.")
        .choices(["auto", "always", "never"])
        .default("auto"),
    )
    .showSuggestionAfterError()
    .addHelpText(
      "after",
      "\nEnds with 0 where all is well, 1 where a build has errors, 2 where the usage is wrong, a file cannot be read or the output cannot be written.",
    );
  for (const verb of verbs) {
    addVerb(program, verb).action(async (...given: unknown[]) => {
      // Commander hands over the operands, then the options, then the command.
      const operands = given.slice(0, -2).flat() as (string | undefined)[];
      const options = given.at(-2) as SharedValues;
      const { Session, usualTime } = await import("./session");
      const session = new Session(world);
      const named = operands.filter((each) => each !== undefined);
      const run: VerbRun<Record<string, unknown>> = {
        operands: named,
        options: options as Record<string, unknown>,
        view: viewOf(options),
        session,
        palette: paletteFor(program.opts<{ color: ColorChoice }>().color, world),
        builds: () => withInput(named, options, session),
        oneBuild: () => oneBuild(named, options, session),
      };
      try {
        const code = await verb.run(run);
        // What was left out is an error of the build, also of verbs that list none.
        finish(session.leftOut.length > 0 ? Math.max(code, exit.findings) : code);
      } catch (error) {
        // That something is not there shows nothing where not all was read.
        const cut = error instanceof CommandProblem && session.leftOut.length > 0;
        throw cut ? new TimeUp(options.time ?? usualTime) : error;
      } finally {
        for (const what of session.leftOut) tell(world, `trammel: ${what}`);
      }
    });
  }
  for (const command of [program, ...program.commands]) {
    command.exitOverride().configureOutput({
      writeOut: (text) => printWhole(world, text),
      writeErr: (text) => {
        for (const line of text.replace(/\n$/, "").split("\n")) tell(world, line);
      },
    });
  }
  return program;
}

// ───────────────────────────── helpers ─────────────────────────────

function addVerb(program: Command, verb: Verb): Command {
  const command = program.command(verb.name).summary(verb.summary).description(verb.description);
  for (const { name, says, many, choices } of verb.operands) {
    const word = many === true ? `${name}...` : name;
    const operand = command.createArgument(choices === undefined ? `[${word}]` : `<${word}>`, says);
    command.addArgument(choices === undefined ? operand : operand.choices([...choices]));
  }
  for (const option of verb.options) command.addOption(optionFor(option));
  if (verb.shared === "reading" || verb.shared === "input")
    for (const option of inputOptions) command.addOption(option());
  if (verb.shared !== "none") command.addOption(timeOption());
  if (verb.shared === "reading") for (const option of readingOptions) command.addOption(option());
  return command;
}

function optionFor({ flags, says, choices, wholeNumber: whole, ...rest }: VerbOption): Option {
  const option = new Option(flags, says);
  if (choices !== undefined) option.choices([...choices]);
  if (rest.default !== undefined) option.default(rest.default);
  return whole === true ? option.argParser(wholeNumber) : option;
}

interface SharedValues {
  readonly option?: string;
  readonly asBuilt?: boolean;
  readonly stdin?: boolean;
  readonly stdinFilename?: string;
  readonly units?: "inch" | "metric";
  readonly time?: number;
  readonly nominal?: Level;
  readonly rss?: Level;
  readonly worst?: Level;
}

const levels = ["error", "warning", "note", "off"];

/** Which reading of a build is meant. */
const readingOptions: readonly (() => Option)[] = [
  () => new Option("--option <name>", "Solve under an option of the build.").conflicts("asBuilt"),
  () => new Option("--as-built", "Take what the records measured in place of the spec."),
  () =>
    new Option("--nominal <level>", "How to report a check that fails as drawn.").choices(levels),
  () =>
    new Option(
      "--rss <level>",
      "How to report a check that does not hold in all that is likely with its tolerances.",
    ).choices(levels),
  () =>
    new Option("--worst <level>", "How to report a check that fails in the worst case.").choices(
      levels,
    ),
];

const inputOptions: readonly (() => Option)[] = [
  () => new Option("--stdin", "Read the build from standard input."),
  () =>
    new Option(
      "--stdin-filename <path>",
      "Where that build would lie; the paths in it start there.",
    ),
  () =>
    new Option("--units <system>", "Show inches or metric units; else as the build does.").choices([
      "inch",
      "metric",
    ]),
];

const timeOption = (): Option =>
  new Option(
    "--time <seconds>",
    "How long reading one build may take; what there is no time for is told. Usually 60.",
  ).argParser(wholeNumber);

function viewOf({ option, asBuilt, units, time, nominal, rss, worst }: SharedValues) {
  const levels: Partial<Levels> = {
    ...(nominal === undefined ? {} : { nominal }),
    ...(rss === undefined ? {} : { rss }),
    ...(worst === undefined ? {} : { worst }),
  };
  const settings: AnalysisSettings = {
    ...(units === undefined ? {} : { system: units }),
    ...(Object.keys(levels).length === 0 ? {} : { levels }),
  };
  return { option, asBuilt, settings, time };
}

/** Standing for standard input, `-` is among the files. */
async function withInput(
  files: readonly string[],
  options: SharedValues,
  session: Session,
): Promise<string[]> {
  const reads = options.stdin === true || files.includes("-");
  if (!reads) return [...files];
  await session.takeInput(options.stdinFilename);
  return files.includes("-") ? [...files] : ["-", ...files];
}

/** With `--stdin` there is no file among the operands: what stands there is a path already. */
async function oneBuild(
  [file, ...rest]: readonly string[],
  options: SharedValues,
  session: Session,
): Promise<{ build: string; rest: readonly string[] }> {
  if (options.stdin === true && file !== "-") {
    await session.takeInput(options.stdinFilename);
    return { build: "-", rest: file === undefined ? rest : [file, ...rest] };
  }
  if (file === undefined) throw new CommandProblem("name a build to read");
  if (file === "-") await session.takeInput(options.stdinFilename);
  return { build: file, rest };
}

function wholeNumber(text: string): number {
  const number = Number(text);
  if (!/^\d+$/.test(text) || !Number.isSafeInteger(number))
    throw new InvalidArgumentError("It is a whole number, 0 or more.");
  return number;
}

function ending(error: unknown, world: World): number {
  if (error instanceof CommanderError) {
    // Help and version end here too; what is wrong has been told already.
    return error.exitCode === 0 ? exit.clean : exit.unusable;
  }
  if (error instanceof CommandProblem) tell(world, `trammel: ${error.message}`);
  else if (error instanceof TimeUp)
    tell(world, `trammel: ${error.message}: there is no answer; give it more with \`--time\``);
  else
    tell(
      world,
      `trammel: this should not have happened, please report it with the build: ${error instanceof Error ? (world.environment.TRAMMEL_TRACE === undefined ? error.message : (error.stack ?? error.message)) : String(error)}`,
    );
  return exit.unusable;
}
