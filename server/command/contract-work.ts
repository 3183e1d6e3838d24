/**
 * What the verbs about the work write: plan, handover, measure.
 *
 * Must not know: how the values come about.
 */
import { z } from "zod";
import { acceptance, file, severity, version, view } from "./contract-shapes";
import { schemaVersion } from "./contract-version";

const plannedPass = z.strictObject({
  number: z.int(),
  share: z.number().describe("Of the joint's torque."),
  torque: z.number().optional().describe("At the nut, in N*m."),
  setting: z
    .number()
    .optional()
    .describe(
      "What to set the wrench to, in N*m; open with an adapter and a wrench of unknown length.",
    ),
  turn: z.number().optional().describe("How far each is turned on in this pass, in rad."),
  order: z
    .array(z.array(z.number()))
    .describe(
      "Places, group by group, in the order they are tightened; numbered through all groups.",
    ),
});

const accepted = z
  .array(
    z.strictObject({
      what: z.string().describe("The figure or step, as the entry names it."),
      step: z.string().describe("The step it was accepted at."),
      spec: z.string().optional(),
      found: z.string().optional().describe("As measured."),
      by: z.string().optional(),
      on: z.string().optional(),
      until: z
        .string()
        .optional()
        .describe("The last day it is accepted; for good where left out."),
      because: z.string().optional(),
      follows: z.string().optional().describe("What has to be watched or done."),
      breaks: z.array(z.string()).describe("Limits that rest on it and do not hold as built."),
      standing: z.enum(["in force", "ran out", "withdrawn", "nobody", "nothing"]),
    }),
  )
  .describe("What was accepted out of tolerance.");

export const planOutput = z.strictObject({
  schemaVersion: version,
  ...view,
  steps: z
    .array(
      z.strictObject({
        path: z.string(),
        title: z.string(),
        within: z.array(z.string()).describe("Procedures it belongs to, nearest first."),
        state: z.enum(["ready", "done", "blocked", "again"]),
        doneOn: z.string().optional(),
        doneBy: z.string().optional(),
        again: z.array(z.string()).describe("Why it is open although it is on record as done."),
        waitsFor: z.array(z.strictObject({ path: z.string(), because: z.string() })),
        blockedBy: z.array(
          z.strictObject({
            is: z.enum(["step", "figure", "check", "loop", "part"]),
            path: z.string().optional(),
            text: z.string(),
          }),
        ),
        tightens: z.array(z.string()).describe("Paths of joints."),
        tightenTo: z.number().describe("Share of their torque."),
        rechecks: z.array(z.string()),
        measures: z.array(z.strictObject({ path: z.string(), measured: z.boolean() })),
        needs: z.array(z.string()),
        people: z.number(),
        duration: z.number().optional().describe("Seconds of work."),
        machines: z.array(z.string()),
        parts: z
          .array(z.strictObject({ path: z.string(), title: z.string(), atHand: z.boolean() }))
          .describe("What has to be at hand."),
        hold: z.string().optional(),
        signOff: z.string().optional().describe("Who signs before anything goes on."),
        caution: z.string().optional(),
        note: z.string().optional(),
      }),
    )
    .describe("In an order they can be done in."),
  joints: z.array(
    z.strictObject({
      path: z.string(),
      title: z.string(),
      count: z.number(),
      pattern: z.string(),
      torque: z.number().optional().describe("In N*m."),
      passes: z.array(plannedPass),
      tightenedOn: z.string().optional(),
      recheckedOn: z.string().optional(),
      lacks: z.string().optional().describe("What keeps it from being tight, where work began."),
    }),
  ),
  accepted,
  schedule: z
    .strictObject({
      work: z.number().describe("Seconds of work on the longest way through what is left."),
      holds: z.number().describe("Seconds of waiting on it."),
      path: z.array(z.string()),
      unknown: z.array(z.string()).describe("Steps left for which nobody says how long they take."),
      doneBy: z.string().optional(),
      days: z
        .strictObject({
          people: z.number().optional().describe("How many work at a time."),
          length: z.number().describe("Seconds from beginning to end, nights included."),
          doneBy: z.string().optional(),
          isLonger: z
            .boolean()
            .describe("Whether people or machines make it longer than the longest way."),
          steps: z.array(
            z.strictObject({
              path: z.string(),
              starts: z.string().optional(),
              ends: z.string().optional(),
              waits: z
                .strictObject({ for: z.string(), behind: z.string() })
                .optional()
                .describe("The machine, or `people`, it waits for, and the step that goes first."),
            }),
          ),
          short: z.array(z.string()).describe("Steps that take more people than there are."),
        })
        .optional()
        .describe("With the people and machines there are: a good order, not proved the shortest."),
    })
    .optional(),
});

export const handoverOutput = z.strictObject({
  schemaVersion: version,
  file,
  vehicles: z.array(z.string()).describe("Titles of the vehicles in it."),
  from: z.string().optional().describe("The first day on record."),
  to: z.string().optional().describe("The last one."),
  steps: z.number().describe("Steps of the order of work; 0 where none is written down."),
  done: z.number().describe("How many of them are done."),
  asBuilt: z
    .array(
      z.strictObject({
        path: z.string(),
        what: z.string().optional().describe("What the figure is."),
        spec: z.string().optional(),
        built: z.string(),
        si: z.number().describe("As measured, in coherent SI."),
        within: z.boolean().optional().describe("Whether it lies within what the spec allows."),
        acceptance: acceptance.optional(),
        on: z.string().optional(),
        by: z.string().optional(),
        with: z.string().optional(),
      }),
    )
    .describe("The newest reading of each figure."),
  joints: z.array(
    z.strictObject({
      path: z.string(),
      title: z.string(),
      count: z.number(),
      wanted: z.string().optional(),
      recorded: z.string().optional(),
      running: z.string().optional().describe("What a locking nut took to turn before it seated."),
      tightenedOn: z.string().optional().describe("Where it is tight: since when."),
      by: z.string().optional(),
      with: z.string().optional(),
      recheckedOn: z.string().optional(),
      lacks: z.string().optional(),
      notes: z.array(z.string()),
    }),
  ),
  inspections: z.array(
    z.strictObject({
      step: z.string(),
      title: z.string(),
      signed: z.string(),
      on: z.string().optional(),
    }),
  ),
  accepted,
  open: z.array(z.string()).describe("What is still to be done, in order."),
  objections: z.array(
    z.strictObject({ code: z.string(), severity, message: z.string(), place: z.string() }),
  ),
  recheck: z
    .array(
      z.strictObject({
        path: z.string(),
        title: z.string(),
        when: z.string(),
        torque: z.string().optional().describe("What to set the wrench to."),
        due: z.string().optional().describe("What the odometer shows then, where it was read."),
        doneOn: z.string().optional(),
      }),
    )
    .describe("The card that goes with the vehicle."),
});

const figure = z.strictObject({ si: z.number(), text: z.string() });

export const measureOutput = z.strictObject({
  schemaVersion: z.literal(schemaVersion),
  file: z.string(),
  readings: z
    .array(
      z.strictObject({
        path: z.string(),
        name: z.string(),
        thing: z.string().describe("Path of the thing it belongs to."),
        title: z.string(),
        station: z.string().describe("Where in the work it is read: the sheet of that name."),
        why: z.enum(["open", "too coarse", "no ± is written", "a step asks for it"]),
        how: z.string(),
        checks: z.array(z.string()).describe("Checks that wait for it."),
        step: z.string().optional().describe("The step that asks for it."),
        now: z.string().optional().describe("As it is in the build, with its ±."),
        within: z
          .strictObject({ si: z.number(), text: z.string() })
          .optional()
          .describe(
            "How exactly it is needed, one side, for its checks to be decided, or to stay decided.",
          ),
        withinBy: z
          .enum(["what hangs on it", "its tool"])
          .optional()
          .describe("Who says how exactly: what hangs on it, or no more than what its tool shows."),
        instrument: z
          .string()
          .optional()
          .describe("What it is read with; the plainest one that is fine enough."),
        instead: z
          .array(z.string())
          .optional()
          .describe("No tool of the shop reads it so exactly: what can be read instead."),
        decides: z
          .array(
            z.strictObject({
              check: z.string(),
              within: figure.optional().describe("It asks for no more than this, one side."),
              from: figure.optional().describe("It holds from this reading on."),
              upTo: figure.optional().describe("It holds up to this reading."),
              once: z
                .array(z.string())
                .optional()
                .describe("Open figures that have to be known before it says more."),
            }),
          )
          .optional()
          .describe("What checks ask of a figure that is open, whatever it comes to."),
      }),
    )
    .describe("In walking order."),
  undecidable: z
    .array(z.string())
    .describe("Checks that no reading decides: what is made or bought takes up their margin."),
});
