/**
 * What is wrong with names: those that lead nowhere or to the wrong thing, and those given twice.
 *
 * Must not know: how names are followed.
 */
import type { Anchor } from "../../grammar/anchor";
import {
  didYouMean,
  knownHere,
  type Misnamed,
  nameHint,
  nearFix,
  orList,
  withArticle,
} from "./phrases";
import type { Family, Said } from "./said";

/** A name that leads nowhere; `wanted` where only things of one kind will do. */
interface Nowhere extends Misnamed {
  readonly name: string;
  readonly wanted?: string;
}

/** Something is there already. */
interface Before {
  readonly name: string;
  readonly before?: Anchor;
}

function nowhere(message: string, misnamed: Nowhere, anchor: Anchor, hint?: string): Said {
  const { wanted, near, known = [] } = misnamed;
  return {
    message,
    hint:
      hint ??
      (wanted !== undefined && near === undefined ? listed(known, wanted) : nameHint(misnamed)),
    fixes: nearFix(misnamed, anchor),
  };
}

/** Names that lead nowhere, whoever asked for them. */
export const unknownNames = {
  "name/unknown": (facts: Nowhere, _, anchor) =>
    nowhere(`there is nothing called \`${facts.name}\` here`, facts, anchor),
  "name/unknown no-part": (facts: Nowhere & { readonly field: string }, _, anchor) =>
    nowhere(`\`${facts.field}\` has no part \`${facts.name}\``, facts, anchor),
  "name/unknown single": (facts: Nowhere & { readonly path: string }, _, anchor) =>
    nowhere(`\`${facts.path}\` is a single value and has nothing inside`, facts, anchor),
  "name/unknown too-far": (facts: Nowhere & { readonly most: number }, _, anchor) =>
    nowhere(
      `a way of more than ${facts.most} names is not followed`,
      facts,
      anchor,
      "begin with a name that is nearer to what is meant",
    ),
  "name/unknown not-there": (facts: Nowhere & { readonly path: string }, _, anchor) =>
    nowhere(
      `\`${facts.path}\` is not there yet`,
      facts,
      anchor,
      `say first which one it is, \`${facts.name}: …\`, or open it there with braces`,
    ),
  "name/unknown several": (facts: Nowhere & { readonly path: string }, _, anchor) =>
    nowhere(
      `\`${facts.path}\` stands for several things`,
      facts,
      anchor,
      "write it into the one that is meant, by its own name",
    ),
  "name/unknown stands-alone": (
    facts: Nowhere & { readonly owners: readonly string[] },
    _,
    anchor,
  ) => {
    const { name, owners } = facts;
    const ways =
      owners.length === 0
        ? `\`name.${name}\``
        : owners.map((owner) => `\`${owner}.${name}\``).join(" or ");
    return nowhere(
      `\`${name}\` stands alone: it does not say of which thing`,
      facts,
      anchor,
      `write it inside of a thing, or after its name: ${ways}`,
    );
  },
  "name/unknown-field": (facts: Nowhere & { readonly kind: string }, _, anchor) =>
    nowhere(`${withArticle(facts.kind)} has no field \`${facts.name}\``, facts, anchor),
  "name/unknown-field both": (
    facts: Nowhere & {
      readonly kind: string;
      /** Parts of one kind that it stands for. */
      readonly twins: readonly string[];
    },
    _,
    anchor,
  ) => {
    const twins = facts.twins.map((twin) => `\`${twin}\``).join(" and ");
    return twins === ""
      ? nowhere(
          `${withArticle(facts.kind)} has no two parts of one kind that \`both\` could stand for`,
          facts,
          anchor,
          "write the name of the part that is meant",
        )
      : nowhere(
          `\`both\` stands for ${twins}, which are no single value`,
          facts,
          anchor,
          "open it with braces: `both { … }`",
        );
  },
  "name/unknown part": (facts: Nowhere & { readonly path: string }, _, anchor) =>
    nowhere(`\`${facts.path}\` has no part called \`${facts.name}\``, facts, anchor),
} satisfies Family;

export const names = {
  ...unknownNames,
  "name/unknown-kind": (facts: Nowhere, _, anchor) =>
    nowhere(`there is no kind of thing called \`${facts.name}\``, facts, anchor),
  "name/unknown-kind declared": (facts: Nowhere, _, anchor) =>
    nowhere(`there is no kind \`${facts.name}\``, facts, anchor),
  "name/unknown-kind called": (facts: Nowhere, _, anchor) => ({
    message: `there is no kind \`${facts.name}\``,
    hint: didYouMean(facts),
    fixes: nearFix(facts, anchor),
  }),
  "name/unknown-type": (facts: Nowhere, _, anchor) =>
    nowhere(`there is no measure, designation or kind \`${facts.name}\``, facts, anchor),
  "name/unknown-word": (facts: Nowhere, _, anchor) =>
    nowhere(`a field cannot be \`${facts.name}\``, facts, anchor),
  "name/unknown-word lookup": (facts: Nowhere, _, anchor) =>
    nowhere(`a table cannot be looked up \`${facts.name}\``, facts, anchor),
  "name/unknown-function": (
    facts: Nowhere & { readonly functions: readonly string[] },
    _,
    anchor,
  ) => ({
    message: `there is no function or table \`${facts.name}\``,
    hint: didYouMean(facts) ?? `functions are ${facts.functions.join(", ")}`,
    fixes: nearFix(facts, anchor),
  }),
  "name/not-a-thing": ({
    wanted,
    known,
    single,
  }: {
    readonly wanted: string;
    readonly known: readonly string[];
    /** A single value stands there. */
    readonly single: boolean;
  }) => ({
    message: `the name of ${withArticle(wanted)} is expected here${single ? ", this is a single value" : ""}`,
    hint: listed(known, wanted),
  }),
  "name/wrong-kind": ({
    wanted,
    known,
    path,
    kind,
    declared,
  }: {
    readonly wanted: string;
    readonly known: readonly string[];
    readonly path: string;
    readonly kind: string;
    readonly declared?: Anchor;
  }) => ({
    message: `${withArticle(wanted)} is expected here, \`${path}\` is ${withArticle(kind)}`,
    hint: listed(known, wanted),
    related:
      declared === undefined ? [] : [{ anchor: declared, message: `${path} is declared here` }],
  }),
  "reference/itself": ({
    path,
    field,
    wanted,
    part,
  }: {
    readonly path: string;
    readonly field: string;
    readonly wanted: string;
    /** It leads to what it is a part of. */
    readonly part: boolean;
  }) => ({
    message: `\`${path}\` refers to ${part ? "what it is a part of" : "itself"} as its \`${field}\``,
    hint: `name another ${wanted.replaceAll("_", " ")}`,
  }),
  "reference/itself names": ({
    path,
    field,
    wanted,
    most,
  }: {
    readonly path: string;
    readonly field: string;
    readonly wanted: string;
    /** Set where the way leads on and on, and not back. */
    readonly most: number | undefined;
  }) => ({
    message: `\`${path}.${field}\` is found by way of ${most === undefined ? "itself" : `more than ${most} others that name each other`}`,
    hint: `write the name of the ${wanted.replaceAll("_", " ")} that is meant`,
  }),
  "reference/itself formula": ({
    field,
    path,
  }: {
    readonly field: string;
    readonly path: string;
  }) => ({
    message: `\`${field}\` of ${path} is worked out from itself`,
    hint: "leave it out of its own formula",
  }),
  "like/other-kind": ({
    path,
    kind,
    other,
    otherKind,
  }: {
    readonly path: string;
    readonly kind: string;
    readonly other: string;
    readonly otherKind: string;
  }) => ({
    message: `\`${path}\` is ${withArticle(kind)}, \`${other}\` is ${withArticle(otherKind)}: they cannot be alike`,
    hint: `name ${withArticle(kind)} behind \`like\``,
  }),
  "like/itself": ({ path, by }: { readonly path: string; readonly by: readonly string[] }) => ({
    message: `\`${path}\` would be like itself${by.length === 0 ? "" : `, by way of ${by.map((name) => `\`${name}\``).join(" and ")}`}`,
    hint: "write out what one of them is",
  }),
  "name/duplicate": ({ name, before }: Before) => ({
    message: `there is something called \`${name}\` already`,
    hint: "give one of the two another name",
    related: before === undefined ? [] : [{ anchor: before, message: "it is declared here" }],
  }),
  "name/duplicate option": ({ name, before }: Before) => ({
    message: `there is an option \`${name}\` already`,
    hint: "give one of the two another name",
    related: before === undefined ? [] : [{ anchor: before, message: "it is declared here" }],
  }),
  "name/duplicate field": ({ name, kind }: { readonly name: string; readonly kind: string }) => ({
    message: `\`${name}\` is a field of ${withArticle(kind)} already`,
    hint: "give this one another name",
    related: [],
  }),
  "name/duplicate inside": ({ name, path, before }: Before & { readonly path: string }) => ({
    message: `\`${path}\` has something called \`${name}\` already`,
    hint: "give this one another name",
    related: before === undefined ? [] : [{ anchor: before, message: "it is declared here" }],
  }),
  "name/duplicate declaration": ({
    what,
    name,
  }: {
    readonly what: "kind" | "designation" | "table";
    readonly name: string;
  }) => ({
    message: `there is a ${what} \`${name}\` already`,
    hint: "give this one another name",
  }),
  "name/duplicate kind-field": ({
    name,
    kind,
  }: {
    readonly name: string;
    readonly kind: string;
  }) => ({
    message: `the kind \`${kind}\` has a field \`${name}\` already`,
    hint: "give this one another name",
  }),
  "name/circular base": ({
    name,
    by,
  }: {
    readonly name: string;
    readonly by: readonly string[];
  }) => ({
    message: `the kind \`${name}\` takes over from itself${by.length === 0 ? "" : `, by way of ${by.join(" and ")}`}`,
    hint: "take over from another kind",
  }),
  "name/circular owner": ({
    name,
    by,
  }: {
    readonly name: string;
    readonly by: readonly string[];
  }) => ({
    message: `the kind \`${name}\` is always part of itself${by.length === 0 ? "" : `, by way of ${by.join(" and ")}`}`,
    hint: "make it part of another kind, or leave out what it is a part of",
  }),
  "name/circular": ({
    name,
    steps,
    closing,
  }: {
    readonly name: string;
    /** Fields on the way round, each with the kind it holds. */
    readonly steps: readonly {
      readonly kind: string;
      readonly field: string;
      readonly to: string;
    }[];
    readonly closing: string;
  }) => {
    const told = steps.map(({ kind, field, to }) => `\`${kind}.${field}\` is ${withArticle(to)}`);
    const shown = told.length > 6 ? [...told.slice(0, 5), "and so on"] : told;
    return {
      message: `${withArticle(name)} would hold itself without end: ${shown.join(", ")}`,
      hint: `leave \`part\` out of \`${closing}\`: it then names another ${name.replaceAll("_", " ")}`,
    };
  },
  "field/two-roles": ({ first, second }: { readonly first: string; readonly second: string }) => ({
    message: `a field is one thing: \`${first}\` or \`${second}\``,
    hint: "keep one of the two words",
  }),
  "given/twice": ({ path, before }: { readonly path: string; readonly before: Anchor }) => ({
    message: `\`${path}\` is given twice`,
    hint: "keep one of the two values",
    related: [{ anchor: before, message: "it is given here already" }],
  }),
  "given/twice clause": ({ word, before }: { readonly word: string; readonly before: Anchor }) => ({
    message: `\`${word}\` stands twice at the head of this record`,
    hint: 'keep one; two names go into one text: "R. Calder and M. Ito"',
    related: [{ anchor: before, message: "it stands here already" }],
  }),
  "given/twice opened": ({ path }: { readonly path: string }) => ({
    message: `\`${path}\` is both opened with braces and named`,
    hint: "keep one of the two",
  }),
  "given/twice named": ({ path, before }: { readonly path: string; readonly before: Anchor }) => ({
    message: `\`${path}\` is both named and opened with braces`,
    hint: "keep one of the two",
    related: [{ anchor: before, message: "it is named here" }],
  }),
  "given/not-a-part": ({ path, name }: { readonly path: string; readonly name: string }) => ({
    message: `\`${path}\` is a single value, it cannot be opened with braces`,
    hint: `write \`${name}: …\``,
  }),
  "missing/not-a-figure": ({
    field,
    choices,
    kind,
  }: {
    readonly field: string;
    readonly choices?: readonly string[];
    readonly kind?: string;
  }) => {
    const way =
      choices !== undefined
        ? `write ${orList(choices)}`
        : kind !== undefined
          ? `name ${withArticle(kind)}`
          : "write it";
    return {
      severity: "warning",
      message: `\`${field}\` cannot be worked out: only figures can`,
      hint: `${way}, or leave the line out`,
    };
  },
} satisfies Family;

// ───────────────────────────── helpers ─────────────────────────────

function listed(names: readonly string[], kind: string): string {
  return names.length === 0
    ? `there is no ${kind.replaceAll("_", " ")} in this file or those it uses`
    : (knownHere(names) ?? "");
}
