/**
 * Verbs that draw, print and choose. What a verb does is loaded when it runs.
 *
 * Must not know: how arguments are read, how verbs do their work.
 */
import { type Verb, verb } from "./verb";
import { build, formats, separated } from "./verb-parts";

export const makingVerbs: readonly Verb[] = [
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
    pack?: string;
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
        says: "The fields to fill: rear.wheel,rear.tire; where one takes several of its thing: rear.stud=8.",
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
        says: "The field of the things that says how many of each there are; no more are taken.",
      },
      {
        flags: "--pack <field>",
        says: "The field of the things that says how many pieces are in one; as many are bought as that takes.",
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
      const { by, most, stock, pack, why } = run.options;
      const asked = { by: separated(by), most: separated(most), why: separated(why) };
      const { build } = await run.oneBuild();
      const { choose } = await import("./choose");
      return choose(
        build,
        {
          ...run.view,
          format,
          for: separated(run.options.for),
          ...asked,
          stock,
          pack,
          keep,
          asBuilt,
        },
        run.session,
        run.palette,
      );
    },
  }),
];
