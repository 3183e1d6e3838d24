/**
 * Verbs that read a build and tell what is in it. What a verb does is loaded when it runs.
 *
 * Must not know: how arguments are read, how verbs do their work.
 */
import { CommandProblem } from "./problem";
import { type Verb, verb } from "./verb";
import { build, builds, formats, separated } from "./verb-parts";

export const readingVerbs: readonly Verb[] = [
  verb<{
    format: "text" | "json" | "sarif" | "github";
    failOn: "error" | "warning";
    exitZero?: boolean;
  }>({
    name: "check",
    summary: "list what is wrong in builds",
    description:
      "Lists what is wrong in builds, for a terminal, a program or a review; a folder stands for every build below it.",
    operands: [builds],
    shared: "reading",
    options: [
      formats("text", "json", "sarif", "github"),
      {
        flags: "--fail-on <severity>",
        says: "The gentlest finding that ends with 1.",
        choices: ["error", "warning"],
        default: "error",
      },
      {
        flags: "--exit-zero",
        says: "End with 0 whatever is found, for steps that hand a report on.",
      },
    ],
    schema: true,
    task: "lists what is wrong",
    async run(run) {
      const { format, failOn, exitZero = false } = run.options;
      const files = await run.builds();
      if (files.length === 0) throw new CommandProblem("name a build or a folder to check");
      const { check } = await import("./check");
      return check(files, { ...run.view, format, failOn, exitZero }, run.session, run.palette);
    },
  }),

  verb<{ format: "text" | "json"; all?: boolean }>({
    name: "show",
    summary: "print the solved figures of a build",
    description:
      "Prints the solved figures of a build: those asked for and the headline ones, or those of the paths named.",
    operands: [
      build,
      {
        name: "paths",
        says: "fields or things, by any path: rear.housing.face_to_face",
        many: true,
      },
    ],
    shared: "reading",
    options: [
      formats("text", "json"),
      { flags: "--all", says: "Print every figure, not only the asked and headline ones." },
    ],
    schema: true,
    task: "prints the solved figures too",
    async run(run) {
      const { format, all = false } = run.options;
      const { build, rest } = await run.oneBuild();
      const { show } = await import("./show");
      return show(build, rest, { ...run.view, format, all }, run.session, run.palette);
    },
  }),

  verb<{ format: "text" | "json"; fit?: boolean; depth?: number }>({
    name: "explain",
    summary: "tell where a figure comes from, or what would make a check hold",
    description:
      "Tells where a figure comes from: its relation in symbols and in numbers, its source, and each input in turn; with --fit what would make a failing check hold, or contradicting figures agree.",
    operands: [
      build,
      { name: "path", says: "the field; with --fit also a thing, or a check by its title or code" },
    ],
    shared: "reading",
    options: [
      formats("text", "json"),
      {
        flags: "--fit",
        says: "For checks that fail and givens that contradict: the changes that would mend them, with what each moves and breaks.",
      },
      {
        flags: "--depth <levels>",
        says: "How many levels of inputs to open.",
        wholeNumber: true,
      },
    ],
    schema: true,
    async run(run) {
      const { format, fit = false, depth } = run.options;
      const { build, rest } = await run.oneBuild();
      const { explain } = await import("./explain");
      return explain(build, rest[0], { ...run.view, format, fit, depth }, run.session, run.palette);
    },
  }),

  verb<{ format: "text" | "json"; fields: string[]; all?: boolean; asBuilt?: boolean }>({
    name: "compare",
    summary: "put a build and its options side by side",
    description:
      "Puts a build and its options side by side: figures, checks, and cost where there are prices.",
    operands: [build],
    shared: "input",
    options: [
      formats("text", "json"),
      {
        flags: "--fields <paths...>",
        says: "The fields to compare; else those asked for and the headline ones that differ.",
        default: [],
      },
      { flags: "--as-built", says: "Put what the records make of the build beside it." },
      { flags: "--all", says: "List what is the same throughout too." },
    ],
    schema: true,
    task: "the build and its options side by side",
    async run(run) {
      const { format, fields, all = false, asBuilt = false } = run.options;
      const { build } = await run.oneBuild();
      const { compare } = await import("./compare");
      return compare(
        build,
        { ...run.view, format, fields: separated(fields), all, asBuilt },
        run.session,
        run.palette,
      );
    },
  }),

  verb<{ format: "text" | "json"; all?: boolean }>({
    name: "curve",
    summary: "print as tables what a build draws over a range",
    description:
      "Prints what a build draws over a range, such as road speed over engine speed, as tables; without a name, a list of what there is.",
    operands: [
      build,
      { name: "names", says: "curves, or things that have some: rear_gears.speed", many: true },
    ],
    shared: "reading",
    options: [
      formats("text", "json"),
      { flags: "--all", says: "Print the tables of all of them." },
    ],
    schema: true,
    async run(run) {
      const { format, all = false } = run.options;
      const { build, rest } = await run.oneBuild();
      const { curve } = await import("./curve");
      return curve(build, rest, { ...run.view, format, all }, run.session, run.palette);
    },
  }),

  verb<{ write?: boolean; check?: boolean }>({
    name: "format",
    summary: "lay builds out the usual way",
    description:
      "Writes a build in the usual layout to standard output, or changes the files themselves.",
    operands: [builds],
    shared: "input",
    options: [
      { flags: "--write", says: "Change the files." },
      {
        flags: "--check",
        says: "Only list files that are laid out otherwise; ends with 1 where there are any.",
      },
    ],
    async run(run) {
      const { write = false, check = false } = run.options;
      const files = await run.builds();
      if (files.length === 0) throw new CommandProblem("name a build or a folder to format");
      const { format } = await import("./format");
      return format(files, { write, check }, run.session);
    },
  }),
];
