/**
 * What is said of figures that have no answer, or more than one.
 *
 * Must not know: how anything is solved.
 */
import type { Anchor } from "../../grammar/anchor";
import { andList, orList } from "./phrases";
import type { Family } from "./said";
import type { Shown, Writer } from "./writer";

/** What could not be worked out, by which relations, from what. */
export interface Failed {
  /** All that are in it; a sentence names some. */
  readonly figures: readonly (Shown & { readonly range?: readonly [number, number] })[];
  /** Titles of the equations. */
  readonly by: readonly string[];
  /** What somebody wrote that it follows from. */
  readonly inputs: readonly Shown[];
  /** Where that is written. */
  readonly elsewhere: readonly { readonly path: string; readonly anchor: Anchor }[];
}

/** Relations that hold in one case each. */
export interface Cases {
  readonly cases: readonly { readonly title: string; readonly when: string }[];
}

export const failures = {
  "solve/several-answers": (
    {
      askedAt,
      roots,
      answers,
      complete,
      halfTurn,
      inWholes,
      ...failed
    }: Failed & {
      /** Which of the figures somebody asks for. */
      readonly askedAt?: number;
      /** Of a figure alone. */
      readonly roots: readonly number[];
      /** Of several figures together, a value for each. */
      readonly answers: readonly (readonly number[])[];
      /** Whether these are proved to be all; nothing where nobody looked. */
      readonly complete?: boolean;
      /** An angle, looked for within a half turn either way. */
      readonly halfTurn?: boolean;
      /** Figures that are counted, looked for among whole numbers. */
      readonly inWholes?: boolean;
    },
    writer,
  ) => {
    const { figures } = failed;
    const alone = writer.apart(roots, figures[0]?.measure);
    const together = answers.map((answer) =>
      figures
        .slice(0, 4)
        .map(({ path, measure }, at) => `${path} ${writer.fine(answer[at], measure)}`)
        .join(" with "),
    );
    // Behind a question mark stands what is meant.
    const first = answers[0]?.[askedAt ?? -1] ?? roots[0];
    const [own = writer.fine(first, figures[askedAt ?? -1]?.measure)] =
      answers.length > 0 ? [] : alone;
    const pick = askedAt === undefined ? undefined : own;
    const answered = together.length > 0 ? together : alone;
    const shown = answered.slice(0, 6);
    const which = halfTurn === true ? " within a half turn" : "";
    const all =
      answered.length > shown.length
        ? `; these are ${shown.length} of ${answered.length}${complete === true ? "" : " that were found"}${which}`
        : complete === undefined
          ? ""
          : complete
            ? `; ${shown.length === 2 ? "these two" : `these ${shown.length}`} are all there are${which}`
            : "; these were found, others are not excluded";
    return {
      // What nobody asked for may stay open; it is no mistake of the build.
      severity: askedAt === undefined ? "note" : "error",
      message: `${subject(failed)} ${are(failed, "have", "has")} more than one answer${wholes(inWholes)}: ${orList(shown)}${all}`,
      hint: `give one more figure, so that only one of them is left${pick === undefined ? "" : `, or say which is meant: \`? near ${pick}\``}`,
    };
  },
  "solve/no-answer": (
    {
      outside,
      inWholes,
      nearest = [],
      ...failed
    }: Failed & {
      /** The only answer, where it lies outside of what is possible. */
      readonly outside?: number;
      /** There may be others, in between. */
      readonly inWholes?: boolean;
      /** Of a figure by which a list is read: what the list has, the nearest to what is wanted first. */
      readonly nearest?: readonly number[];
    },
    writer,
  ) => {
    const { figures } = failed;
    const [first] = figures;
    const single = figures.length === 1 ? first : undefined;
    const range =
      single?.range === undefined
        ? ""
        : ` between ${writer.value(single.range[0], single.measure)} and ${writer.value(single.range[1], single.measure)}`;
    const would =
      single === undefined || outside === undefined
        ? ""
        : `: it would be ${writer.fine(outside, single.measure)}`;
    const [one, other] = nearest;
    const rows = [one, other]
      .filter((key) => key !== undefined)
      .sort((less, more) => less - more)
      .map((key) => writer.fine(key, single?.measure));
    const listed = rows.length === 0 ? "" : `; nearest in the list: ${andList(rows)}`;
    const inputs = inputsInWords(failed, writer);
    return {
      message: `${subject(failed)} ${are(failed, "have no possible values", "has no possible value")}${range}${wholes(inWholes)} by ${by(failed)}${would}${listed}`,
      hint:
        inputs === ""
          ? "check the figures it is worked out from"
          : `check the figures it is worked out from: ${inputs}`,
      related: relatedOf(failed),
    };
  },
  "solve/no-answer together": (failed: Failed) => ({
    message: `${subject(failed)} could not be found together by ${by(failed)}`,
    hint: "give one of them, or check the figures they are worked out from",
  }),
  "solve/not-defined": (failed: Failed, writer) => {
    const inputs = inputsInWords(failed, writer);
    return {
      message: `${subject(failed)} cannot be worked out by ${by(failed)}: it would need a division by zero, a root of something negative, a place outside of a table or a figure too large to reckon with`,
      hint: inputs === "" ? "check the figures it is worked out from" : `check ${inputs}`,
      related: relatedOf(failed),
    };
  },
  "solve/several-cases": (failed: Failed & Cases) => ({
    message: `${subject(failed)} ${are(failed, "come", "comes")} out differently in more than one case that holds: ${conditions(failed)}`,
    hint: "give one more figure, so that only one of them is left, or let the conditions leave each other out",
  }),
  "solve/no-case": (failed: Failed & Cases) => ({
    message: `none of these cases holds: with each of them, what it says of ${subject(failed)} is not so: ${conditions(failed)}`,
    hint: "check the figures that stand there, or let the conditions take in every case, up to where the next one begins",
  }),
  "solve/others-not-excluded": ({
    path,
    together,
  }: {
    readonly path: string;
    /** How many figures were solved with it. */
    readonly together: number;
  }) => ({
    severity: "note",
    message: `${path} is one answer that was found${together > 1 ? `, ${together} figures solved together` : ""}; others are not excluded`,
    hint: "look whether it can be meant; `near` behind the `?` says which answer is wanted, `? near 30 deg`",
  }),
  "solve/not-whole": ({ path, si }: { readonly path: string; readonly si: number }) => ({
    message: `${path} comes out at ${Number(si.toPrecision(6))}, and it is counted in whole ones`,
    hint: `give ${Math.floor(si)} or ${Math.ceil(si)}, and leave open what is to follow from it`,
  }),
} satisfies Family;

function wholes(inWholes: boolean | undefined): string {
  return inWholes === true ? " in whole numbers" : "";
}
// ───────────────────────────── helpers ─────────────────────────────

function subject({ figures }: Failed): string {
  return andList(figures.slice(0, 5).map(({ path }) => path));
}

function are({ figures }: Failed, several: string, one: string): string {
  return figures.length > 1 ? several : one;
}

function by(failed: Failed): string {
  return andList(failed.by.slice(0, 3).map((title) => `“${title}”`));
}

/** `“bolted” when wall < 5 mm and “welded” when wall > 6 mm` */
export function conditions({ cases }: Cases): string {
  return andList(cases.map(caseInWords));
}

/** Without a condition of its own a relation speaks in a branch of what it is told of. */
export function caseInWords({
  title,
  when,
}: {
  readonly title: string;
  readonly when?: string;
}): string {
  return `“${title}” ${when === undefined ? "in its other branch" : `when ${when}`}`;
}

function relatedOf({ elsewhere }: Failed) {
  return elsewhere.map(({ path, anchor }) => ({ anchor, message: `${path} is given here` }));
}

function inputsInWords({ inputs }: Failed, writer: Writer): string {
  return inputs.map(({ path, si, measure }) => `${path} ${writer.fine(si, measure)}`).join(", ");
}
