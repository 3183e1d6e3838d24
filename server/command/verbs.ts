/**
 * Every verb of the command line, in the order the help lists them. What a verb does is loaded when
 * it runs, so that no run pays for another verb.
 *
 * Must not know: how arguments are read, how verbs do their work.
 */
import { CommandProblem } from "./problem";
import { type Operand, type Verb, type VerbOption, verb } from "./verb";

const build: Operand = { name: "file", says: "the build; - with --stdin" };
const builds: Operand = { name: "files", says: "builds or folders; - with --stdin", many: true };

export const verbs: readonly Verb[] = [
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
      "Tells where a figure comes from: its relation in symbols and in numbers, its source, and each input in turn; with --fit what would make a failing check hold.",
    operands: [
      build,
      { name: "path", says: "the field; with --fit also a thing, or a check by its title or code" },
    ],
    shared: "reading",
    options: [
      formats("text", "json"),
      {
        flags: "--fit",
        says: "For checks that fail: the changes of one given that would make them hold.",
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

  verb<{
    format: "text" | "json";
    left?: boolean;
    now?: boolean;
    people?: number;
    step?: string;
  }>({
    name: "plan",
    summary: "print the order of work",
    description:
      "Prints the steps of a build in an order they can be done in, its joints with their passes, what is done and what is left.",
    operands: [build],
    shared: "reading",
    options: [
      formats("text", "json"),
      { flags: "--left", says: "Only what is left to do." },
      { flags: "--now", says: "Only what can be done now." },
      {
        flags: "--people <count>",
        says: "Only what so many people can do; 1 for what one does alone.",
        wholeNumber: true,
      },
      { flags: "--step <step>", says: "One step as a card, by its path or the end of it." },
    ],
    schema: true,
    task: "the order of work",
    async run(run) {
      const { format, left = false, now = false, people, step } = run.options;
      const { build } = await run.oneBuild();
      const { plan } = await import("./plan");
      const options = { ...run.view, format, left, now, people, step };
      return plan(build, options, run.session, run.palette);
    },
  }),

  verb<{ format: "markdown" | "csv" | "json" }>({
    name: "handover",
    summary: "write what was built, tightened and left open",
    description:
      "Writes what goes with the vehicle: figures as built, torque and inspection report, objections that stand, what is still to be done, and the re-check card.",
    operands: [build],
    shared: "reading",
    options: [formats("markdown", "csv", "json")],
    schema: true,
    async run(run) {
      const { build } = await run.oneBuild();
      const { handover } = await import("./handover");
      return handover(build, { ...run.view, format: run.options.format }, run.session);
    },
  }),

  verb<{
    format: "text" | "json" | "markdown" | "form";
    from?: string;
    by?: string;
    date?: string;
    anyway?: boolean;
    dry?: boolean;
  }>({
    name: "measure",
    summary: "list what is still to be measured, and take in what was",
    description:
      "Lists what is still to be measured, in walking order: how, how exactly it is needed for the checks to be decided, and with which instrument; or prints it as a form to fill in. With --from a form that was filled in goes back into the build: it is checked first, what was open goes where it belongs, what was read again into the log of whoever read it.",
    operands: [build],
    shared: "reading",
    options: [
      formats("text", "json", "markdown", "form"),
      { flags: "--from <form>", says: "A form that was filled in; it is only read." },
      { flags: "--by <name>", says: "Who measured; else who git says works here." },
      { flags: "--date <day>", says: "The day, such as 2026-04-04; else today." },
      { flags: "--anyway", says: "Write it even where the build objects to it." },
      { flags: "--dry", says: "Only print what would be written." },
    ],
    schema: true,
    task: "lists what is still to be measured",
    async run(run) {
      const { build } = await run.oneBuild();
      const { format, from, by, date, anyway = false, dry = false } = run.options;
      const { measure } = await import("./measure");
      const options = { ...run.view, format, from, by, date, anyway, dry };
      return measure(build, options, run.session, run.palette);
    },
  }),

  verb<{
    in?: string;
    by?: string;
    date?: string;
    at?: string;
    with?: string;
    torque?: string;
    read: string[];
    signed?: string;
    remark?: string;
    accept: string[];
    atHand: string[];
    until?: string;
    because?: string;
    follows?: string;
    undo?: boolean;
    anyway?: boolean;
    dry?: boolean;
  }>({
    name: "log",
    summary: "put on record that steps are done, what is accepted and what came",
    description:
      "Puts on record that steps are done, in the log of whoever did them: joints, passes and torques are filled in from the plan, the entries are checked before they are written and only ever added. Without a step, a list of what can be done now.",
    operands: [
      { name: "steps", says: "by path, by the end of it, or by number in the plan", many: true },
    ],
    shared: "none",
    options: [
      { flags: "--in <file>", says: "The build; else the one of this folder that has steps." },
      { flags: "--by <name>", says: "Who did it; else who git says works here." },
      { flags: "--date <day>", says: "The day, such as 2026-04-04; else today." },
      { flags: "--at <time>", says: "The time of day, such as 14:30." },
      { flags: "--with <instrument>", says: "What it was measured or tightened with." },
      { flags: "--torque <torque>", says: "What the nuts were brought to, where not as planned." },
      { flags: "--read <readings...>", says: "What was measured: path=figure.", default: [] },
      { flags: "--signed <name>", says: "Who looked at it and signed." },
      { flags: "--remark <text>", says: "What is worth knowing later." },
      {
        flags: "--accept <paths...>",
        says: "Accept as measured what is out of tolerance, or a step whose limits do not hold.",
        default: [],
      },
      {
        flags: "--at-hand <parts...>",
        says: "Put on record that parts are here; with --undo, that they are not.",
        default: [],
      },
      { flags: "--until <day>", says: "The last day it is accepted; else for good." },
      { flags: "--because <text>", says: "Why it may stay as it is." },
      { flags: "--follows <text>", says: "What has to be watched or done because of it." },
      {
        flags: "--undo",
        says: "Take the steps back, or what was accepted, by a further entry.",
      },
      { flags: "--anyway", says: "Write it even where the build objects to it." },
      { flags: "--dry", says: "Only print what would be written." },
    ],
    async run({ options, operands, session, palette }) {
      const { in: file, by, date, at, torque, read, signed, remark } = options;
      const { accept, atHand, until, because, follows } = options;
      const { undo = false, anyway = false, dry = false } = options;
      const { log } = await import("./log");
      const all = { in: file, by, date, at, with: options.with, torque, read, signed, remark };
      const accepted = { accept, atHand, until, because, follows };
      return log(operands, { ...all, ...accepted, undo, anyway, dry }, session, palette);
    },
  }),

  verb<{ format: "svg" | "dxf"; to?: string; drawn?: boolean; overBuilt?: boolean }>({
    name: "draw",
    summary: "draw a part of a build to scale",
    description:
      "Writes a picture of a thing as SVG, or its lines as DXF: an axle from behind, a wheel end, the saw marks, a driveline, the order of a joint, a template at full size, a plot; without a picture, a list of what there is.",
    operands: [
      build,
      {
        name: "picture",
        says: "a thing's path, or the name of one of its pictures: rear, rear/saw",
      },
    ],
    shared: "reading",
    options: [
      formats("svg", "dxf"),
      { flags: "--to <file>", says: "Write it to a file." },
      { flags: "--drawn", says: "As drawn, wishes held, instead of how it comes out." },
      {
        flags: "--over-built",
        says: "As drawn, what the records measured over it, double-dotted.",
      },
    ],
    async run(run) {
      const { format, to, drawn = false, overBuilt = false } = run.options;
      const { build, rest } = await run.oneBuild();
      const { draw } = await import("./draw");
      return draw(build, rest[0], { ...run.view, format, to, drawn, overBuilt }, run.session);
    },
  }),

  verb<{ format: "html" | "markdown" | "pdf"; to?: string; paper?: "letter" | "a4" }>({
    name: "sheet",
    summary: "write the sheets for the bench",
    description:
      "Writes the sheets for the bench, a station to a page: pictures, figures with blanks, steps with boxes, torque cards, order list; as one HTML file, as Markdown, or as PDF by a browser of this machine.",
    operands: [build],
    shared: "reading",
    options: [
      formats("html", "markdown", "pdf"),
      { flags: "--to <file>", says: "Write it to a file; a PDF has to have one." },
      {
        flags: "--paper <size>",
        says: "Paper to lay it out for; by the build's units unless said.",
        choices: ["letter", "a4"],
      },
    ],
    async run(run) {
      const { format, to, paper } = run.options;
      const { build } = await run.oneBuild();
      const { sheet } = await import("./sheet");
      return sheet(build, { ...run.view, format, to, paper }, run.session);
    },
  }),

  verb<{
    format: "text" | "json";
    for: string[];
    by: string[];
    most: string[];
    stock?: string;
    why: string[];
    keep?: number;
    asBuilt?: boolean;
  }>({
    name: "choose",
    summary: "find the things of a shop's lists that fit together",
    description:
      "Finds, among the things in scope, those that fit a build together: every check holds, and what --by names is least, what --most names most; of several aims, all that no other combination beats. Where none fits, which come nearest and why.",
    operands: [build],
    shared: "input",
    options: [
      {
        flags: "--for <fields...>",
        says: "The fields to fill: rear.wheel,rear.tire",
        default: [],
      },
      {
        flags: "--by <figures...>",
        says: "What is to be least: figures of the build, or fields of the things, such as price.",
        default: [],
      },
      {
        flags: "--most <figures...>",
        says: "Of what there is to be most.",
        default: [],
      },
      {
        flags: "--stock <field>",
        says: "The field of the things that says how many of each there are; none is taken for more fields.",
      },
      {
        flags: "--why <things...>",
        says: "Tell why these, one for each field, are not chosen.",
        default: [],
      },
      { flags: "--as-built", says: "Take what the records measured in place of the spec." },
      {
        flags: "--keep <count>",
        says: "How many to list, the best first.",
        wholeNumber: true,
      },
      formats("text", "json"),
    ],
    schema: true,
    async run(run) {
      const { format, keep, asBuilt = false } = run.options;
      const { by, most, stock, why } = run.options;
      const asked = { by: separated(by), most: separated(most), why: separated(why) };
      const { build } = await run.oneBuild();
      const { choose } = await import("./choose");
      return choose(
        build,
        { ...run.view, format, for: separated(run.options.for), ...asked, stock, keep, asBuilt },
        run.session,
        run.palette,
      );
    },
  }),

  verb<object>({
    name: "reference",
    summary: "print what the library knows about a subject, or a code of a finding means",
    description:
      "Prints the page of a subject of the library as Markdown, or what the code of a finding means; without one, the list of subjects.",
    operands: [
      { name: "subject", says: "a library file, a kind or a code: axle, tire_size, unit/missing" },
    ],
    shared: "none",
    options: [],
    async run(run) {
      const { reference } = await import("./reference");
      return reference(run.operands[0], run.session);
    },
  }),

  verb<object>({
    name: "schema",
    summary: "print the JSON Schema of a verb's --format json",
    description: "Prints the JSON Schema of what a verb writes with --format json.",
    operands: [
      {
        name: "verb",
        says: "which verb's",
        get choices() {
          return schemaVerbs();
        },
      },
    ],
    shared: "none",
    options: [],
    async run(run) {
      const { printSchema } = await import("./schema");
      return printSchema(run.operands[0] ?? "", run.session.world);
    },
  }),
];

/** Those whose `--format json` is a contract. */
export function schemaVerbs(): string[] {
  return verbs.filter(({ schema }) => schema === true).map(({ name }) => name);
}

// ───────────────────────────── helpers ─────────────────────────────

function formats(...choices: string[]): VerbOption {
  return { flags: "--format <format>", says: "How to write it.", choices, default: choices[0] };
}

/** `a,b c` as well as `a b c`. */
function separated(list: readonly string[]): string[] {
  return list
    .flatMap((each) => each.split(","))
    .map((each) => each.trim())
    .filter((each) => each !== "");
}
