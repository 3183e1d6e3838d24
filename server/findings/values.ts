/**
 * What is said about values: what contradicts, what has no answer, what is missing, what was wanted
 * and comes out otherwise.
 *
 * Must not know: how anything is solved.
 */
import type { Anchor } from "../model/anchor";
import type { Measure } from "../units";
import type { Fix } from "./finding";
import { andList, orList, written } from "./phrases";
import type { Family } from "./said";
import type { Writer, Written } from "./writer";

/** A figure as it is named, with what it comes to in SI. */
export interface Shown extends Written {
  readonly path: string;
  readonly si?: number;
}

/** A figure that takes part in a contradiction. */
export interface Given extends Shown {
  /** Nobody wrote it: a default stands there. */
  readonly assumed: boolean;
  /** What it would have to be, where changing it alone makes all agree and is the builder's to do. */
  readonly needed?: number;
  readonly measured: boolean;
  /** A maker states it: to change it takes another part. */
  readonly bought: boolean;
  /** Where it is written, but for the one that the finding stands at. */
  readonly elsewhere?: Anchor;
  /** Its number alone, without tolerance. */
  readonly nominal?: Anchor;
}

/** What could not be worked out, by which relations, from what. */
export interface Failed {
  /** All that are in it; a sentence names some. */
  readonly figures: readonly (Shown & { readonly range?: readonly [number, number] })[];
  /** Titles of the equations. */
  readonly by: readonly string[];
  readonly inputs: readonly Shown[];
}

/** A smallest set of figures that would settle what is missing. */
export type Needs = readonly (readonly { readonly path: string; readonly advice?: string }[])[];

/** Why one figure is missing. */
export interface Missing {
  readonly path: string;
  /** Left out as long as nobody worked it out. */
  readonly needs?: Needs;
  /** What failed behind it: another finding. */
  readonly failed?: { readonly is: string };
  /** Some relation speaks of it. */
  readonly spokenOf: boolean;
  readonly advice?: string;
}

export const conflicts = {
  "record/misclosure": (
    {
      parties,
      gap,
      explained,
      suspect,
      again,
      best,
      elsewhere,
    }: {
      readonly parties: readonly Shown[];
      /** How far apart they are, in the unit of the relation that joins them. */
      readonly gap: { readonly si: number; readonly measure: Measure };
      readonly explained: number;
      /** The one that is likely wrong, with what the others make it. */
      readonly suspect?: Shown;
      /** The one whose further reading tells most. */
      readonly again?: Shown;
      /** What all together make of each. */
      readonly best: readonly Shown[];
      readonly elsewhere: readonly { readonly path: string; readonly anchor: Anchor }[];
    },
    writer,
  ) => {
    const list = andList(parties.map((each) => `${each.path} ${writer.like(each, each.si)}`));
    const [apart, room] = writer.together([gap.si, explained], gap.measure);
    const until = andList(best.map((each) => `${each.path} ${writer.fine(each.si, each.measure)}`));
    return {
      severity: "error",
      message: `these readings do not agree: ${list}; they are ${apart} apart, ${room} is what their ± explains`,
      hint:
        suspect === undefined
          ? `each is as suspect as the others: one more reading of ${again?.path} tells which; until then the best there is: ${until}`
          : `most likely it is ${suspect.path}, which the others make ${writer.fine(suspect.si, suspect.measure)}: measure it again`,
      related: elsewhere.map(({ path, anchor }) => ({ anchor, message: `${path} is given here` })),
    };
  },
  "conflict/givens": (
    {
      givens,
      formulas,
      title,
      gap,
      held,
      clashes,
      repairs,
    }: {
      readonly givens: readonly Given[];
      /** Formulas of the builder's own, as written: `p.half: width / 4`. */
      readonly formulas: readonly string[];
      /** Of the relation that cannot hold. */
      readonly title?: string;
      /** How far apart they are. */
      readonly gap?: { readonly si: number; readonly measure?: Measure };
      /** Defaults that hold as firmly as what is written: asking for one that is no constant frees it. */
      readonly held: readonly (Shown & { readonly constant: boolean })[];
      /** How many contradictions hang together with it, itself among them. */
      readonly clashes: number;
      /** Changes that mend all of these at once; a figure without a value is left out. */
      readonly repairs: readonly (readonly Shown[])[];
    },
    writer,
    anchor,
  ) => {
    // In the unit of a figure that is written, where the gap measures the same as that figure.
    const alike = givens.find((each) => each.measure.name === gap?.measure?.name);
    const missed = alike ?? (gap?.measure && { measure: gap.measure });
    const size = gap && Math.abs(gap.si);
    const figures = [...givens, ...held].map((each) => ({ as: each, si: each.si }));
    const texts = writer.alike([
      ...figures,
      ...(missed === undefined ? [] : [{ as: missed, si: size }]),
    ]);
    const list = andList([
      ...givens.map(
        ({ path, assumed }, index) => `${path} ${texts[index]}${assumed ? " (assumed)" : ""}`,
      ),
      ...formulas,
      ...held.map(
        ({ path, constant }, index) =>
          `${path} ${texts[givens.length + index]} (${constant ? "a constant" : "assumed"})`,
      ),
    ]);
    const misses =
      gap === undefined ? undefined : (texts[figures.length] ?? writer.fine(size, undefined));
    const by = title === undefined ? "" : ` by “${title}”`;
    // What the shop makes is made otherwise more easily than another part is found.
    const needed = givens.filter((each) => each.needed !== undefined);
    const mends = [
      ...needed.filter(({ bought }) => !bought),
      ...needed.filter((each) => each.bought),
    ];
    const changes = [
      ...mends.map(
        (each) =>
          `${each.path} would have to be ${writer.like(each, each.needed)}${each.bought ? " (another part)" : ""}`,
      ),
      ...held.flatMap(({ path, constant }) =>
        constant ? [] : [`ask for ${path}: write \`${path}: ?\``],
      ),
    ];
    const read = givens.filter(({ measured }) => measured);
    if (read.length > 0) changes.push(`measure ${orList(read.map(({ path }) => path))} again`);
    const together = repairs.map((figures) =>
      andList(
        figures.map((each) =>
          each.si === undefined
            ? `leaving ${each.path} out`
            : `${each.path} ${writer.like(each, each.si)}`,
        ),
      ),
    );
    const all = clashes === 2 ? "both" : `all ${clashes}`;
    const mendAll = repairs[0]?.length === 1 ? "one change mends" : "together these mend";
    return {
      message:
        givens.length + formulas.length + held.length <= 1
          ? `this cannot hold${by}: ${list}${misses === undefined ? "" : `, it misses by ${misses}`}`
          : `these cannot all hold${by}: ${list}${misses === undefined ? "" : `; they miss by ${misses}`}`,
      hint:
        (changes.length === 0
          ? "leave one of them out, and it is solved from the others"
          : changes.length === 1
            ? read.length > 0
              ? `${changes[0]}`
              : `to agree, ${changes[0]}`
            : `change one: ${orList(changes)}`) +
        (together.length === 0
          ? ""
          : `; ${mendAll} ${all} contradictions: ${together.join(", or ")}`),
      related: givens.flatMap(({ path, elsewhere }) =>
        elsewhere === undefined ? [] : [{ anchor: elsewhere, message: `${path} is given here` }],
      ),
      fixes: mends.flatMap((each) => {
        if (each.nominal === undefined) return [];
        const text = writer.like(each, each.needed);
        // What stands in another file may be others' too; what a maker states there is as it is.
        const file = each.nominal.uri === anchor.uri ? undefined : nameOfFile(each.nominal.uri);
        if (file !== undefined && each.bought) return [];
        const where = file === undefined ? "" : ` in ${file}, which others may use`;
        const edits = [{ anchor: each.nominal, text }];
        return [{ title: `set ${each.path} to ${text}${where}`, edits }];
      }),
    };
  },
} satisfies Family;

export const failures = {
  "solve/several-answers": (
    {
      asked,
      roots,
      answers,
      complete,
      halfTurn,
      ...failed
    }: Failed & {
      readonly asked: boolean;
      /** Of a figure alone. */
      readonly roots: readonly number[];
      /** Of several figures together, a value for each. */
      readonly answers: readonly (readonly number[])[];
      /** Whether these are proved to be all; nothing where nobody looked. */
      readonly complete?: boolean;
      /** An angle, looked for within a half turn either way. */
      readonly halfTurn?: boolean;
    },
    writer,
  ) => {
    const { figures } = failed;
    const alone = roots.map((root) => writer.fine(root, figures[0]?.measure));
    const together = answers.map((answer) =>
      figures
        .slice(0, 4)
        .map(({ path, measure }, at) => `${path} ${writer.fine(answer[at], measure)}`)
        .join(" with "),
    );
    const list = together.length > 0 ? together : alone;
    const count = list.length;
    const shown = list.slice(0, 6);
    const all =
      complete === undefined || count > shown.length
        ? ""
        : complete
          ? `; ${count === 2 ? "these two" : `these ${count}`} are all there are${halfTurn === true ? " within a half turn" : ""}`
          : "; these were found, others are not excluded";
    return {
      // What nobody asked for may stay open; it is no mistake of the build.
      severity: asked ? "error" : "note",
      message: `${subject(failed)} ${are(failed, "have", "has")} more than one answer: ${orList(shown)}${all}`,
      hint: "give one more figure, so that only one of them is left",
    };
  },
  "solve/no-answer": (
    {
      outside,
      ...failed
    }: Failed & {
      /** The only answer, where it lies outside of what is possible. */
      readonly outside?: number;
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
    const inputs = inputsInWords(failed, writer);
    return {
      message: `${subject(failed)} ${are(failed, "have no possible values", "has no possible value")}${range} by ${by(failed)}${would}`,
      hint:
        inputs === ""
          ? "check the figures it is worked out from"
          : `check the figures it is worked out from: ${inputs}`,
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

/** Relations that hold in one case each. */
interface Cases {
  readonly cases: readonly { readonly title: string; readonly when: string }[];
}

/** A figure as it stands in the build, and what it may have been meant to be. */
interface Doubted extends Shown {
  readonly si: number;
  /** As written, without tolerance. */
  readonly written?: string;
}

/** What a written figure was likely meant to be. */
interface Meant {
  readonly text: string;
  readonly anchor: Anchor;
}

export const looks = {
  "value/out-of-range": (
    {
      figure,
      range: [low, high],
      ofPart,
      failing,
      slip,
    }: {
      readonly figure: Doubted;
      readonly range: readonly [number, number];
      /** It is part of a designation, of which there are only so many. */
      readonly ofPart: boolean;
      /** Something fails or contradicts because of it. */
      readonly failing: boolean;
      readonly slip?: Meant;
    },
    writer,
  ) => {
    const { path, si } = figure;
    const usual =
      si < low ? `at least ${writer.like(figure, low)}` : `at most ${writer.like(figure, high)}`;
    return {
      severity: failing ? "error" : "warning",
      message: `${path} is ${asWritten(figure, writer)}: ${usual} is ${ofPart ? "what there is" : "usual"}`,
      hint: slip === undefined ? "measure again, or look at the figure as it was read" : ask(slip),
      fixes: slip === undefined ? [] : [putting(slip)],
    };
  },
  "value/unlike-twin": (
    {
      one,
      other,
      first,
      second,
    }: {
      readonly one: Doubted;
      readonly other: Doubted;
      readonly first: Meant;
      readonly second?: Meant;
    },
    writer,
  ) => ({
    severity: "warning",
    message: `${one.path} is ${asWritten(one, writer)} and ${other.path} is ${asWritten(other, writer)}: they are usually alike`,
    hint:
      second === undefined
        ? `${ask(first)} measure both again`
        : `is \`${first.text}\` meant for ${one.path}, or \`${second.text}\` for ${other.path}? measure both again`,
    fixes: [first, ...(second === undefined ? [] : [second])].map(putting),
  }),
  "given/against-default": (
    {
      figure,
      field,
      usual,
      givens,
    }: {
      /** What it would have to be. */
      readonly figure: Shown;
      readonly field: string;
      /** Its default, in SI. */
      readonly usual: number;
      /** What settles it otherwise. */
      readonly givens: readonly { readonly path: string; readonly elsewhere?: Anchor }[];
    },
    writer,
  ) => ({
    severity: "warning",
    message: `${figure.path} would have to be ${writer.fine(figure.si, figure.measure)}: ${writer.fine(usual, figure.measure)} is usual`,
    hint: `check ${andList(givens.map(({ path }) => path))}; where it is so, write ${field}: ${writer.like(figure, figure.si)}`,
    related: givens.flatMap(({ path, elsewhere }) =>
      elsewhere === undefined ? [] : [{ anchor: elsewhere, message: `${path} is given here` }],
    ),
  }),
} satisfies Family;

export const outcomes = {
  "missing/value": (
    {
      missing,
    }: {
      /** Figures that the same further figures would settle, in the order they are asked for. */
      readonly missing: readonly (Missing & { readonly asked: Anchor })[];
    },
    writer,
  ) => {
    const [first, ...others] = missing;
    const shown = missing.slice(0, mostNamed).map(({ path }) => path);
    const more = missing.length - shown.length;
    const names = more === 0 ? andList(shown) : `${shown.join(", ")} and ${more} more`;
    return {
      severity: "warning",
      message:
        others.length === 0 && first !== undefined
          ? missingInWords(first, writer)
          : `${names} cannot be worked out yet`,
      hint:
        first?.needs === undefined || first.failed !== undefined ? undefined : wayOut(first.needs),
      related: others.map(({ asked, path }) => ({
        anchor: asked,
        message: `${path} is asked for here`,
      })),
    };
  },
  "wanted/missed": (
    {
      figure,
      wanted,
      comes,
      accepted,
      against,
    }: {
      readonly figure: Shown;
      /** In SI, as `comes`. */
      readonly wanted: number;
      readonly comes: number;
      readonly accepted?: { readonly low: number; readonly high: number };
      /** The figure that stands most against it. */
      readonly against?: Shown & {
        readonly role?: string;
        /** What it would have to be. */
        readonly needed?: number;
      };
    },
    writer,
  ) => {
    const { measure, path } = figure;
    const [asked, found, off, ...around] = writer.together(
      [
        wanted,
        comes,
        Math.abs(comes - wanted),
        ...(accepted === undefined ? [] : [accepted.low, accepted.high]),
      ],
      measure,
    );
    const by = `${off} ${comes < wanted ? "under" : "over"}`;
    const within = accepted === undefined ? "" : `, ${around.join(" to ")} is accepted`;
    const role = against?.role === undefined ? "" : ` (${against.role})`;
    const is =
      against === undefined
        ? ""
        : `: ${against.path} is ${writer.like(against, against.si)}${role}`;
    const asks =
      against?.needed === undefined
        ? ""
        : `; ${writer.like(figure, wanted)} asks for ${writer.like(against, against.needed)}`;
    return {
      severity: "warning",
      message: `${path} was wanted ${asked} and comes out ${found}, ${by}${within}${is}${asks}`,
      hint: `change what stands against it, or accept ${writer.like(figure, comes)}`,
    };
  },
  "kit/shared": (
    {
      path,
      kit,
      others,
      ...pieces
    }: Pieces & {
      readonly path: string;
      readonly kit: string;
      readonly others: readonly string[];
    },
    writer,
  ) => ({
    severity: "note",
    message: `${path}: take ${piecesInWords(pieces, writer)} instead, so that ${kit} serves ${andList(others.slice(0, 4))} too`,
    hint: "the sum differs from the stack this one would get alone",
  }),
  "kit/short": (
    {
      path,
      kit,
      residual,
      ...pieces
    }: Pieces & {
      readonly path: string;
      readonly kit: string;
      /** What is left to fill, in SI; below zero what is too much. */
      readonly residual: number;
    },
    writer,
  ) => ({
    severity: "warning",
    message: `${path}: ${kit} does not hold enough pieces for all: ${piecesInWords(pieces, writer)} is the nearest left, ${writer.fine(Math.abs(residual), pieces.measure)} ${residual > 0 ? "short" : "over"}`,
    hint: "add the missing sizes to the kit, or allow more to be left over",
  }),
  "unit/two-currencies": ({
    first,
    other,
  }: {
    readonly first: Priced;
    readonly other: Priced;
  }) => ({
    message: `${other.path} is in ${other.currency}, ${first.path} in ${first.currency}: a build is reckoned in one currency`,
    hint: "write all amounts in the same currency, at the rate you pay",
    related: [{ anchor: first.anchor, message: `${first.path} is given here` }],
  }),
} satisfies Family;

interface Priced {
  readonly path: string;
  readonly currency: string;
  readonly anchor: Anchor;
}

/** What to take out of a kit, in SI. */
export interface Pieces {
  readonly pieces: readonly number[];
  readonly measure?: Measure;
}

/** `0.018 in + 0.007 in`; `none` where nothing is to be stacked. */
export function piecesInWords({ pieces, measure }: Pieces, writer: Writer): string {
  if (pieces.length === 0) return "none";
  return pieces.map((piece) => writer.fine(piece, measure)).join(" + ");
}

/** `rear.mount_width cannot be worked out yet`; what would settle it is told beside it. */
export function missingInWords(
  { path, needs, failed, spokenOf, advice }: Missing,
  writer: Writer,
): string {
  const name = `${path} cannot be worked out yet`;
  if (failed !== undefined) return `${name}: ${writer.message(failed)}`;
  if (needs?.length !== 0) return name;
  const how = advice === undefined ? "" : `; ${advice}`;
  return spokenOf
    ? `${name}: what leads to it is open as well, and no few figures more would settle it${how}`
    : `${name}: nothing in the build leads to it${how}`;
}

/** `give rear.wheel.offset (read the offset stamped in the wheel)`; the next best where it is short. */
export function wayOut(needs: Needs): string | undefined {
  const ways = needs.map((set) =>
    andList(set.map(({ path, advice }) => (advice === undefined ? path : `${path} (${advice})`))),
  );
  const [first, second] = ways;
  if (first === undefined) return undefined;
  const both = `give ${first}, or ${second}`;
  return second !== undefined && both.length <= longestHint ? both : `give ${first}`;
}

// ───────────────────────────── helpers ─────────────────────────────

const longestHint = 160;
const mostNamed = 3;

function subject({ figures }: Failed): string {
  return andList(figures.slice(0, 5).map(({ path }) => path));
}

function are({ figures }: Failed, several: string, one: string): string {
  return figures.length > 1 ? several : one;
}

function by(failed: Failed): string {
  return andList(failed.by.slice(0, 3).map((title) => `“${title}”`));
}

function conditions({ cases }: Cases): string {
  return andList(cases.map(({ title, when }) => `“${title}” when ${when}`));
}

function inputsInWords({ inputs }: Failed, writer: Writer): string {
  return inputs.map(({ path, si, measure }) => `${path} ${writer.fine(si, measure)}`).join(", ");
}

/** `is \`116 in\` meant?` */
function ask({ text }: Meant): string {
  return `is \`${text}\` meant?`;
}

function putting({ text, anchor }: Meant): Fix {
  return written(text, text, anchor);
}

function asWritten(figure: Doubted, writer: Writer): string {
  return figure.written ?? writer.like(figure, figure.si);
}

/** `wheels.trammel` */
function nameOfFile(uri: string): string {
  return decodeURI(uri.slice(uri.lastIndexOf("/") + 1));
}
