/**
 * Verbs about the work: its plan, what is measured, what is done. What a verb does is loaded when it runs.
 *
 * Must not know: how arguments are read, how verbs do their work.
 */
import { type Verb, verb } from "./verb";
import { build, formats } from "./verb-parts";

export const workVerbs: readonly Verb[] = [
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
    shared: "time",
    options: [
      { flags: "--in <file>", says: "The build; else the one of this folder that has steps." },
      { flags: "--by <name>", says: "Who did it; else who git says works here." },
      { flags: "--date <day>", says: "The day, such as 2026-04-04; else today." },
      { flags: "--at <time>", says: "The time of day, such as 14:30." },
      { flags: "--with <instrument>", says: "What it was measured or tightened with." },
      { flags: "--torque <torque>", says: "What the nuts were brought to, where not as planned." },
      {
        flags: "--read <readings...>",
        says: "What was measured: path=figure; without a step, that alone.",
        default: [],
      },
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
    async run({ options, operands, view: { time }, session, palette }) {
      const { in: file, by, date, at, torque, read, signed, remark } = options;
      const { accept, atHand, until, because, follows } = options;
      const { undo = false, anyway = false, dry = false } = options;
      const { log } = await import("./log");
      const all = { in: file, by, date, at, with: options.with, torque, read, signed, remark };
      const accepted = { accept, atHand, until, because, follows };
      return log(operands, { time, ...all, ...accepted, undo, anyway, dry }, session, palette);
    },
  }),
];
