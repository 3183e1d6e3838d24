/**
 * The command line: its verbs and their options, and what a run ends with.
 *
 *     await run(["check", "samples"], processWorld())   // 0, 1 or 2
 *
 * Never throws: what is wrong with the usage or the input is told on the log and ends with 2.
 *
 * Must not know: how verbs do their work.
 */
import { Command, CommanderError, InvalidArgumentError, Option } from "commander";
import type { AnalysisSettings, Level, Levels } from "../analysis/analysis";
import { check } from "./check";
import { choose } from "./choose";
import { compare } from "./compare";
import { curve } from "./curve";
import { draw } from "./draw";
import { explain } from "./explain";
import { format } from "./format";
import { type ColorChoice, type Palette, paletteFor } from "./palette";
import { plan } from "./plan";
import { CommandProblem, exit } from "./problem";
import { reference } from "./reference";
import { printSchema, schemaVerbs } from "./schema";
import { Session } from "./session";
import { show } from "./show";
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
      new Option("--color <when>", "Use colour; NO_COLOR turns it off in auto.")
        .choices(["auto", "always", "never"])
        .default("auto"),
    )
    .showSuggestionAfterError()
    .exitOverride()
    .configureOutput({ writeOut: (text) => world.out(text), writeErr: (text) => world.log(text) })
    .addHelpText(
      "after",
      "\nEnds with 0 where all is well, 1 where a build has errors, 2 where the usage is wrong or a file cannot be read.",
    );
  const session = new Session(world);
  const palette = (): Palette => paletteFor(program.opts<{ color: ColorChoice }>().color, world);

  viewOptions(
    program
      .command("check")
      .summary("list what is wrong in builds")
      .description("Lists what is wrong in builds. A folder stands for every build below it.")
      .argument("[files...]", "builds or folders; - with --stdin")
      .addOption(formats("text", "json", "sarif", "github"))
      .addOption(
        new Option("--fail-on <severity>", "The gentlest finding that ends with 1.")
          .choices(["error", "warning"])
          .default("error"),
      )
      .option("--exit-zero", "End with 0 whatever is found, for steps that hand a report on."),
  ).action(
    async (
      files: string[],
      options: CommonOptions & {
        format: "text" | "json" | "sarif" | "github";
        failOn: "error" | "warning";
        exitZero?: boolean;
      },
    ) => {
      const all = await withInput(files, options, session);
      if (all.length === 0) throw new CommandProblem("name a build or a folder to check");
      finish(
        await check(
          all,
          {
            ...viewOf(options),
            format: options.format,
            failOn: options.failOn,
            exitZero: options.exitZero === true,
          },
          session,
          palette(),
        ),
      );
    },
  );

  viewOptions(
    program
      .command("show")
      .summary("print the solved figures of a build")
      .description(
        "Prints the solved figures of a build: those asked for and the headline ones, or those of the paths named.",
      )
      .argument("[file]", "the build; - with --stdin")
      .argument("[paths...]", "fields or things, by any path: rear.housing.face_to_face")
      .addOption(formats("text", "json"))
      .option("--all", "Print every figure, not only the asked and headline ones."),
  ).action(
    async (
      file: string | undefined,
      paths: string[],
      options: CommonOptions & { format: "text" | "json"; all?: boolean },
    ) => {
      const { build, rest } = await oneBuild(file, paths, options, session);
      finish(
        show(
          build,
          rest,
          { ...viewOf(options), format: options.format, all: options.all === true },
          session,
          palette(),
        ),
      );
    },
  );

  viewOptions(
    program
      .command("explain")
      .summary("tell where a figure comes from, or what would make a check hold")
      .description(
        "Tells where a figure comes from: its relation in symbols and in numbers, its source, and each input in turn.",
      )
      .argument("[file]", "the build; - with --stdin")
      .argument("[path]", "the field; with --fit also a thing, or a check by its title or code")
      .addOption(formats("text", "json"))
      .option("--fit", "For checks that fail: the changes of one given that would make them hold.")
      .addOption(
        new Option("--depth <levels>", "How many levels of inputs to open.").argParser(wholeNumber),
      ),
  ).action(
    async (
      file: string | undefined,
      path: string | undefined,
      options: CommonOptions & { format: "text" | "json"; fit?: boolean; depth?: number },
    ) => {
      const { build, rest } = await oneBuild(
        file,
        path === undefined ? [] : [path],
        options,
        session,
      );
      finish(
        explain(
          build,
          rest[0],
          {
            ...viewOf(options),
            format: options.format,
            fit: options.fit === true,
            depth: options.depth,
          },
          session,
          palette(),
        ),
      );
    },
  );

  inputOptions(
    program
      .command("compare")
      .summary("put a build and its options side by side")
      .description(
        "Puts a build and its options side by side: figures, checks, and cost where there are prices.",
      )
      .argument("[file]", "the build; - with --stdin")
      .addOption(formats("text", "json"))
      .option(
        "--fields <paths...>",
        "The fields to compare; else those asked for and the headline ones that differ.",
        [],
      )
      .option("--all", "List what is the same throughout too."),
  ).action(
    async (
      file: string | undefined,
      options: CommonOptions & { format: "text" | "json"; fields: string[]; all?: boolean },
    ) => {
      const { build } = await oneBuild(file, [], options, session);
      finish(
        compare(
          build,
          {
            ...viewOf(options),
            format: options.format,
            fields: separated(options.fields),
            all: options.all === true,
          },
          session,
          palette(),
        ),
      );
    },
  );

  viewOptions(
    program
      .command("curve")
      .summary("print as tables what a build draws over a range")
      .description(
        "Prints what a build draws over a range, such as road speed over engine speed, as tables; without a name, a list of what there is.",
      )
      .argument("[file]", "the build; - with --stdin")
      .argument("[names...]", "curves, or things that have some: rear_gears.speed")
      .addOption(formats("text", "json"))
      .option("--all", "Print the tables of all of them."),
  ).action(
    async (
      file: string | undefined,
      names: string[],
      options: CommonOptions & { format: "text" | "json"; all?: boolean },
    ) => {
      const { build, rest } = await oneBuild(file, names, options, session);
      finish(
        curve(
          build,
          rest,
          { ...viewOf(options), format: options.format, all: options.all === true },
          session,
          palette(),
        ),
      );
    },
  );

  inputOptions(
    program
      .command("format")
      .summary("lay builds out the usual way")
      .description(
        "Writes a build in the usual layout to standard output, or changes the files themselves.",
      )
      .argument("[files...]", "builds or folders; - with --stdin")
      .option("--write", "Change the files.")
      .option(
        "--check",
        "Only list files that are laid out otherwise; ends with 1 where there are any.",
      ),
  ).action(
    async (files: string[], options: CommonOptions & { write?: boolean; check?: boolean }) => {
      const all = await withInput(files, options, session);
      if (all.length === 0) throw new CommandProblem("name a build or a folder to format");
      finish(
        format(all, { write: options.write === true, check: options.check === true }, session),
      );
    },
  );

  viewOptions(
    program
      .command("plan")
      .summary("print the order of work")
      .description(
        "Prints the steps of a build in an order they can be done in, its joints with their passes, what is done and what is left.",
      )
      .argument("[file]", "the build; - with --stdin")
      .option("--left", "Only what is left to do."),
  ).action(async (file: string | undefined, options: CommonOptions & { left?: boolean }) => {
    const { build } = await oneBuild(file, [], options, session);
    finish(plan(build, { ...viewOf(options), left: options.left === true }, session, palette()));
  });

  viewOptions(
    program
      .command("draw")
      .summary("draw the tightening order of a joint")
      .description(
        "Writes a drawing (SVG) of a joint: its fasteners numbered in the order they are tightened, clockwise from the top.",
      )
      .argument("[file]", "the build; - with --stdin")
      .argument("[joint]", "the joint, such as left_wheel_nuts"),
  ).action(
    async (first: string | undefined, second: string | undefined, options: CommonOptions) => {
      const { build, rest } = await oneBuild(
        first,
        second === undefined ? [] : [second],
        options,
        session,
      );
      const [path] = rest;
      if (path === undefined) throw new CommandProblem("name the joint to draw");
      finish(draw(build, path, viewOf(options), session));
    },
  );

  inputOptions(
    program
      .command("choose")
      .summary("find the things of a shop's lists that fit together")
      .description(
        "Finds, among the things in scope, those that fit a build together: every check holds, and what --by names is least.",
      )
      .argument("[file]", "the build; - with --stdin")
      .option("--for <fields...>", "The fields to fill: rear.wheel,rear.tire", [])
      .option(
        "--by <field>",
        "What is to be least: a figure of the build, or a field of the things, such as price.",
      )
      .addOption(
        new Option("--keep <count>", "How many to list, the best first.").argParser(wholeNumber),
      )
      .addOption(formats("text", "json")),
  ).action(
    async (
      file: string | undefined,
      options: CommonOptions & {
        format: "text" | "json";
        for: string[];
        by?: string;
        keep?: number;
      },
    ) => {
      const { build } = await oneBuild(file, [], options, session);
      finish(
        await choose(
          build,
          {
            ...viewOf(options),
            format: options.format,
            for: separated(options.for),
            by: options.by,
            keep: options.keep,
          },
          session,
          palette(),
        ),
      );
    },
  );

  program
    .command("reference")
    .summary("print what the library knows about a subject")
    .description(
      "Prints the page of a subject of the library as Markdown; without one, the list of subjects.",
    )
    .argument("[subject]", "a library file or a kind: axle, tire_size")
    .action((subject: string | undefined) => finish(reference(subject, session)));

  program
    .command("schema")
    .summary("print the JSON Schema of a verb's --format json")
    .description("Prints the JSON Schema of what a verb writes with --format json.")
    .addArgument(program.createArgument("<verb>", "which verb's").choices(schemaVerbs))
    .action(async (verb: string) => finish(await printSchema(verb, world)));

  for (const verb of program.commands) {
    verb.exitOverride().configureOutput({
      writeOut: (text) => world.out(text),
      writeErr: (text) => world.log(text),
    });
  }
  return program;
}

// ───────────────────────────── helpers ─────────────────────────────

interface CommonOptions {
  readonly option?: string;
  readonly asBuilt?: boolean;
  readonly stdin?: boolean;
  readonly stdinFilename?: string;
  readonly units?: "inch" | "metric";
  readonly nominal?: Level;
  readonly rss?: Level;
  readonly worst?: Level;
}

function formats(...choices: string[]): Option {
  return new Option("--format <format>", "How to write it.").choices(choices).default(choices[0]);
}

/** Which reading of a build is meant. */
function viewOptions(command: Command): Command {
  const levels = ["error", "warning", "note", "off"];
  return inputOptions(command)
    .addOption(
      new Option("--option <name>", "Solve under an option of the build.").conflicts("asBuilt"),
    )
    .option("--as-built", "Take what the records measured in place of the spec.")
    .addOption(
      new Option("--nominal <level>", "How to report a check that fails as drawn.").choices(levels),
    )
    .addOption(
      new Option(
        "--rss <level>",
        "How to report a check that likely fails with its tolerances.",
      ).choices(levels),
    )
    .addOption(
      new Option("--worst <level>", "How to report a check that fails in the worst case.").choices(
        levels,
      ),
    );
}

function inputOptions(command: Command): Command {
  return command
    .option("--stdin", "Read the build from standard input.")
    .option("--stdin-filename <path>", "Where that build would lie; the paths in it start there.")
    .addOption(
      new Option(
        "--units <system>",
        "Show inches or metric units; else as the build does.",
      ).choices(["inch", "metric"]),
    );
}

function viewOf({ option, asBuilt, units, nominal, rss, worst }: CommonOptions) {
  const levels: Partial<Levels> = {
    ...(nominal === undefined ? {} : { nominal }),
    ...(rss === undefined ? {} : { rss }),
    ...(worst === undefined ? {} : { worst }),
  };
  const settings: AnalysisSettings = {
    ...(units === undefined ? {} : { system: units }),
    ...(Object.keys(levels).length === 0 ? {} : { levels }),
  };
  return { option, asBuilt, settings };
}

/** Standing for standard input, `-` is among the files. */
async function withInput(
  files: readonly string[],
  options: CommonOptions,
  session: Session,
): Promise<string[]> {
  const reads = options.stdin === true || files.includes("-");
  if (!reads) return [...files];
  await session.takeInput(options.stdinFilename);
  return files.includes("-") ? [...files] : ["-", ...files];
}

/** With `--stdin` there is no file among the arguments: what stands there is a path already. */
async function oneBuild(
  file: string | undefined,
  rest: readonly string[],
  options: CommonOptions,
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

/** `a,b c` as well as `a b c`. */
function separated(list: readonly string[]): string[] {
  return list
    .flatMap((each) => each.split(","))
    .map((each) => each.trim())
    .filter((each) => each !== "");
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
  if (error instanceof CommandProblem) world.log(`trammel: ${error.message}\n`);
  else
    world.log(
      `trammel: this should not have happened, please report it with the build: ${error instanceof Error ? (world.environment.TRAMMEL_TRACE === undefined ? error.message : (error.stack ?? error.message)) : String(error)}\n`,
    );
  return exit.unusable;
}
