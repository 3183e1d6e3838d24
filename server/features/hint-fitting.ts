/**
 * What hints carry, and how those of one line are made to fit the room that an editor gives them.
 *
 * Must not know: what hints say.
 */
import type { InlayHint } from "vscode-languageserver";
import * as z from "zod";

const hintDataShape = z.object({
  uri: z.string(),
  about: z.object({
    path: z.string().optional(),
    /** Set where the value is that under an option. */
    option: z.string().optional(),
    thing: z.string().optional(),
    step: z.string().optional(),
  }),
});

/** What a hint carries, so that its tooltip can be asked for later. */
export type HintData = z.infer<typeof hintDataShape>;

/** `undefined` for what did not come from here. */
export function readHintData(sent: unknown): HintData | undefined {
  return hintDataShape.safeParse(sent).data;
}

/** The editor cuts all hints of a line at this many characters together. */
export const longestHints = 43;

/** A hint before it is known how much room its line has. */
export interface HintDraft {
  readonly hint: InlayHint;
  readonly about: HintData["about"];
  /** What it may say, fullest first; the shortest still says its figure whole. */
  readonly labels: readonly string[];
  /** What is given up first: of labels, and of whole hints. */
  readonly rank: (typeof ranks)[number];
}

/** What is written once for several parts may come out otherwise in each: then each says which it is. */
export function toldApart(drafts: readonly HintDraft[]): HintDraft[] {
  const places = new Map<string, HintDraft[]>();
  for (const each of drafts) {
    const { line, character } = each.hint.position;
    const place = `${line} ${character} ${each.rank}`;
    places.set(place, [...(places.get(place) ?? []), each]);
  }
  return [...places.values()].flatMap((alike) => {
    const [first] = alike;
    if (first === undefined || alike.length === 1) return alike;
    const said = new Set(alike.map(({ labels }) => labels.join("\n")));
    if (said.size === 1) return [first];
    const names = alike.map(({ about }) => (about.path ?? about.thing ?? "").split("."));
    const at = names[0]?.findIndex((name, index) => names.some((other) => other[index] !== name));
    return alike.map((each, index) => {
      const name = names[index]?.[at ?? 0] ?? "";
      return { ...each, labels: each.labels.map((label) => `${name} ${label}`) };
    });
  });
}

/** Least wanted first. */
const ranks = ["headline", "wish", "step", "record", "asked"] as const;

/**
 * Makes the hints of each line fit the room the editor gives them together: what is assumed goes
 * first, then the units of headline figures, then whole hints, the asked figures last. No figure is
 * ever cut.
 */
export function fitted(drafts: readonly HintDraft[]): InlayHint[] {
  const lines = new Map<number, HintDraft[]>();
  for (const draft of drafts) {
    const { line } = draft.hint.position;
    lines.set(line, [...(lines.get(line) ?? []), draft]);
  }
  return [...lines.values()].flatMap(fittedLine);
}

function fittedLine(drafts: readonly HintDraft[]): InlayHint[] {
  let left = drafts.map((draft) => ({ draft, at: 0 }));
  const length = (): number =>
    left.reduce((sum, { draft, at }) => sum + (draft.labels[at]?.length ?? 0), 0);
  const shorten = (rank: HintDraft["rank"]): boolean => {
    const canBe = left.filter(
      ({ draft, at }) => draft.rank === rank && at < draft.labels.length - 1,
    );
    const one = canBe.at(-1);
    if (one === undefined) return false;
    // What stands at one place says as much of each: of `left` and `right` neither looks the surer.
    const { position } = one.draft.hint;
    for (const each of canBe)
      if (each.draft.hint.position.character === position.character) each.at++;
    return true;
  };
  const drop = (rank: HintDraft["rank"]): boolean => {
    const one = left.findLast(({ draft }) => draft.rank === rank);
    left = left.filter((each) => each !== one);
    return one !== undefined;
  };
  while (length() > longestHints) {
    if (
      shorten("asked") ||
      shorten("wish") ||
      shorten("headline") ||
      shorten("step") ||
      shorten("record")
    )
      continue;
    if (!ranks.some((rank) => drop(rank))) break;
  }
  return left.map(({ draft: { hint, labels }, at }) => ({ ...hint, label: labels[at] ?? "" }));
}
