/**
 * What is wrong with what was measured and with what it was measured with, and what was accepted out
 * of tolerance all the same. Figures by their paths, in SI.
 *
 * Must not know: how anything is found.
 */
import type { Anchor } from "../../grammar/anchor";
import { differenceOf, type Measure } from "../units";
import type { Severity } from "./finding";
import { andList } from "./phrases";
import type { Family, Said } from "./said";
import { named } from "./work-phrases";
import type { Writer } from "./writer";

interface Band {
  readonly low: number;
  readonly high: number;
}

/** A reading that is not as the build has it. */
interface Off {
  readonly path: string;
  readonly measure: Measure;
  readonly date: string | undefined;
  readonly found: number;
  readonly spec: number;
  /** Where a ± leaves some room. */
  readonly allowed: Band | undefined;
  /** It is written so, and not only to come out so. */
  readonly isSpec: boolean;
  /** What comes of it as built. */
  readonly asBuilt: {
    /** Wishes that come out otherwise, by how much. */
    readonly wishes: readonly {
      readonly path: string;
      readonly measure: Measure;
      readonly si: number;
      readonly miss: number;
    }[];
    /** Titles of checks that no longer hold, each with the path of what it is about. */
    readonly fails: readonly { readonly path: string | undefined; readonly title: string }[];
  };
  /** The figure of the mirrored part that it would do for. */
  readonly twin: string | undefined;
  readonly written: Anchor | undefined;
}

/** Who accepts something and until when. */
interface Accepts {
  readonly by: string | undefined;
  readonly until: string | undefined;
  readonly because: string | undefined;
  /** What is to be watched or done. */
  readonly follows: string | undefined;
}

/** A concession that does not cover what was found. */
interface NotCovering {
  readonly standing: "in force" | "ran out" | "withdrawn" | "nobody" | "nothing";
  readonly by: string | undefined;
  readonly until: string | undefined;
  /** The reading that was accepted. */
  readonly reading: number | undefined;
  readonly entry: Anchor;
}

export const readingFamily = {
  "record/out-of-tolerance": (
    facts: Off & { readonly accepted: NotCovering | undefined },
    writer,
  ): Said => {
    const said = { severity: "warning" as const, ...off(facts, writer) };
    const { accepted, measure } = facts;
    if (accepted === undefined) return said;
    const related = [...said.related, acceptedHere(accepted.entry)];
    switch (accepted.standing) {
      case "ran out":
        return {
          ...said,
          message: `${said.message}; it was accepted until ${accepted.until ?? "then"}`,
          hint: "mend it now, or have it accepted anew",
          related,
        };
      case "in force":
        return {
          ...said,
          message: `${said.message}; ${accepted.by ?? ""} accepts ${writer.figure(accepted.reading, measure)} and no farther`,
          hint: "measure again; if it stands, have that reading accepted, or mend the part",
          related,
        };
      default:
        return { ...said, related };
    }
  },
  "concession/accepted figure": (
    { accepted, ...facts }: Off & { readonly accepted: Accepts & { readonly entry: Anchor } },
    writer,
  ): Said => {
    const { message, related } = off(facts, writer);
    return {
      severity: "note",
      message: `${message}; ${acceptsInWords(accepted)}`,
      hint: accepted.follows ?? "the figures that come of it are in the as-built view",
      related: [...related, acceptedHere(accepted.entry)],
    };
  },
  "concession/accepted limits": (
    facts: Accepts & { readonly step: string; readonly titles: readonly string[] },
  ) => ({
    severity: "note",
    message: `${acceptsInWords(facts)}, though ${named(facts.step)} is not within its limits: ${andList(facts.titles)}`,
    hint: facts.follows ?? "look at it again before that day",
  }),
  "concession/nobody": ({ text, by }: { readonly text: string; readonly by: string }) => ({
    severity: "warning",
    message: `\`${text}\` is accepted by nobody: ${by === "" ? "the record does not say who" : "the record has no day"}`,
    hint: 'whoever accepts it writes name and day: `record 2026-04-04 by "name" { … }`',
  }),
  "concession/of-nothing joint": ({ joint }: { readonly joint: string }) => ({
    severity: "warning",
    message: `${named(joint)} is a joint: what is wrong with it is not accepted as it is`,
    hint: "loosen it, tighten it again to its torque, and put that on record",
  }),
  "concession/of-nothing unmeasured": ({ text }: { readonly text: string }) => ({
    severity: "warning",
    message: `\`${text}\` is accepted as it was measured, and no reading of it is on record by then`,
    hint: "put the reading on record first",
  }),
  "concession/of-nothing": ({ text }: { readonly text: string }) => ({
    severity: "warning",
    message: `\`${text}\` is accepted, and it is neither a figure of this build nor a step`,
    hint: "name what was measured, rear_housing.face_to_face, or the step whose limits do not hold",
  }),
  "concession/not-needed": ({ text }: { readonly text: string }) => ({
    severity: "note",
    message: `\`${text}\` is accepted, and all of its limits hold`,
    hint: "nothing has to be accepted any more; `withdrawn` ends it",
  }),
  "record/too-close": (
    {
      path,
      measure,
      found,
      sure,
      low,
      high,
      written,
    }: Pick<Off, "path" | "measure" | "found" | "written"> & Band & { readonly sure: number },
    writer,
  ) => {
    const { figures, apart } = writer.withApart([found, low, high], [sure], measure);
    const [read, lowest, highest] = figures;
    return {
      severity: "note",
      message: `\`${path}\` was measured ${read} ± ${apart[0]}, ${lowest} to ${highest} is allowed: too close to call`,
      hint: "measure again, more surely: a check hangs on it",
      related: specHere(written),
    };
  },
  "record/contradiction": (
    {
      path,
      measure,
      one,
      other,
      date,
      there,
    }: {
      readonly path: string;
      readonly measure: Measure | undefined;
      readonly one: number;
      readonly other: number;
      readonly date: string;
      readonly there: Anchor;
    },
    writer,
  ) => ({
    severity: "warning",
    message: `\`${path}\` was measured ${writer.figure(one, measure)} and ${writer.figure(other, measure)} on ${date}, farther apart than both are sure to`,
    hint: 'measure again; if something was changed in between, give both entries their time: `at "14:30"`',
    related: [{ anchor: there, message: "the other reading is here" }],
  }),
  "record/instrument own": (
    {
      path,
      measure,
      found,
      reads,
      band,
      wanted,
      severity,
    }: {
      readonly path: string;
      readonly measure: Measure;
      readonly found: number;
      /** Its own ±. */
      readonly reads: number;
      readonly band: number;
      readonly wanted: number;
      readonly severity: Severity;
    },
    writer,
  ) => {
    const { figures, apart } = writer.withApart([found], [reads, band], measure);
    return {
      severity,
      message: `\`${path}\` was measured ${figures[0]} ± ${apart[0]}, which is more than a tenth of the ${apart[1]} allowed`,
      hint: `measure again to ± ${writer.figure(wanted, differenceOf(measure))} or better`,
    };
  },
  "record/instrument": (
    {
      path,
      measure,
      instrument,
      reads,
      band,
      wanted,
      severity,
    }: {
      readonly path: string;
      readonly measure: Measure;
      readonly instrument: string;
      readonly reads: number;
      /** From the lowest to the highest that is allowed. */
      readonly band: number;
      readonly wanted: number;
      readonly severity: Severity;
    },
    writer,
  ) => {
    const apart = differenceOf(measure);
    return {
      severity,
      message: `${instrument} reads to ${writer.figure(reads, apart)}, which is more than a tenth of the ${writer.figure(band, apart)} allowed for \`${path}\``,
      hint: `measure again with something that reads to ${writer.figure(wanted, apart)} or finer`,
    };
  },
  "record/instrument-range": (
    {
      path,
      measure,
      instrument,
      found,
      least,
      most,
    }: {
      readonly path: string;
      readonly measure: Measure;
      readonly instrument: string;
      readonly found: number;
      readonly least: number;
      readonly most: number | undefined;
    },
    writer,
  ) => ({
    severity: "warning",
    message: `\`${path}\` was measured ${writer.figure(found, measure)} with ${instrument}, which measures ${writer.figure(least, measure)} to ${most === undefined ? "any length" : writer.figure(most, measure)}`,
    hint: "measure again with something of the right size, or mend the name of the instrument",
  }),
  "record/person": ({ name, near }: { readonly name: string; readonly near: string }) => ({
    severity: "note",
    message: `"${name}" is on record only here: is "${near}" meant?`,
    hint: "write the name as it is written elsewhere: who did what, and that a second person looked, is read by it",
  }),
  "record/unknown-instrument near": ({
    name,
    near,
  }: {
    readonly name: string;
    readonly near: string;
  }) => ({
    severity: "note",
    message: `nothing here is called "${name}": is ${near} meant?`,
    hint: `mend the name, or declare what it is: instrument bench_gauge "${name}" { … }`,
  }),
  "record/unknown-instrument wrench": ({ name }: { readonly name: string }, writer) => ({
    severity: "note",
    message: `nobody says what "${name}" can be set to`,
    hint: `declare it, for example: wrench big_wrench "${name}" { most: ${writer.style.system === "metric" ? "200 N-m" : "150 lb-ft"} }`,
  }),
  "record/no-instrument": (
    {
      path,
      measure,
      band,
      wanted,
    }: {
      readonly path: string;
      readonly measure: Measure;
      /** What is allowed from least to most. */
      readonly band: number;
      readonly wanted: number;
    },
    writer,
  ) => ({
    severity: "note",
    message: `nobody says what \`${path}\` was measured with, ${writer.figure(band, measure)} from least to most is allowed`,
    hint: `write it behind the day, \`with "…"\`: it has to read to ${writer.figure(wanted, measure)} or finer`,
  }),
  "record/unknown-instrument": ({ name }: { readonly name: string }, writer) => ({
    severity: "note",
    message: `nobody says how well "${name}" measures`,
    hint: `declare it, for example: instrument bench_gauge "${name}" { reads_to: ${writer.style.system === "metric" ? "0.02 mm" : "0.001 in"} }`,
  }),
  "record/calibration": ({
    name,
    calibrated,
    due,
    date,
  }: {
    readonly name: string;
    readonly calibrated: string;
    readonly due: string;
    readonly date: string;
  }) => ({
    severity: "warning",
    message: `${name} was used on ${date}, its calibration of ${calibrated} ran out on ${due}`,
    hint: "have it calibrated and check again what was measured or tightened with it; if it was calibrated since, mend `calibrated`",
  }),
} satisfies Family;

// ───────────────────────────── helpers ─────────────────────────────

function off(
  { path, measure, date, found, spec, allowed, isSpec, asBuilt, twin, written }: Off,
  writer: Writer,
) {
  const limits = allowed === undefined ? [] : [allowed.low, allowed.high];
  const { figures, apart } = writer.withApart(
    [found, spec, ...limits],
    [Math.abs(found - spec)],
    measure,
  );
  const [is, wanted, lowest, highest] = figures;
  const day = date === undefined ? "" : ` on ${date}`;
  const how = isSpec ? "the spec has" : "it was to come out";
  const room = allowed === undefined ? "" : `, ${lowest} to ${highest} is allowed`;
  return {
    message: `\`${path}\` was measured ${is}${day}, ${how} ${wanted}: ${apart[0]} ${found > spec ? "over" : "under"}${room}`,
    hint: `${twin === undefined ? "" : `were the two sides taken for each other? it would do for \`${twin}\`; if not, `}measure again; if it stands, mend the part or the spec, or have it accepted; as built ${consequences(asBuilt, writer)}`,
    related: specHere(written),
  };
}

/** `rear.left.inner_gap is 1.144 in, 0.207 in over what was wanted; every check holds` */
function consequences({ wishes, fails }: Off["asBuilt"], writer: Writer): string {
  const told = wishes.map(({ path, measure, si, miss }) => {
    const { figures, apart } = writer.withApart([si], [Math.abs(miss)], measure);
    return `${path} is ${figures[0]}, ${apart[0]} ${miss > 0 ? "over" : "under"} what was wanted`;
  });
  const checks =
    fails.length === 0
      ? "every check holds"
      : `no longer holds: ${fails.map(({ path, title }) => `${path === undefined ? "" : `${path}: `}${title}`).join("; ")}`;
  return [...told, checks].join("; ");
}

/** "Ida Foreman accepts it until 2027-01-31: spacer behind the left flange" */
function acceptsInWords({ by = "nobody", until, because }: Accepts): string {
  const end = until === undefined ? "for good" : `until ${until}`;
  return `${by} accepts it ${end}${because === undefined ? "" : `: ${because.replace(/\.$/, "")}`}`;
}

function specHere(written: Anchor | undefined) {
  return written === undefined ? [] : [{ anchor: written, message: "the spec is here" }];
}

function acceptedHere(entry: Anchor) {
  return { anchor: entry, message: "it was accepted here" };
}
