/**
 * Where a figure is missing because no thing stands in a field yet, or somebody asks for the field:
 * the first thing of a shop's lists with which every check holds, looked for when the change is taken.
 *
 *     choose f.front: the first of 12 studs that fits
 *
 * Must not know: how answers travel.
 */
import { type CodeAction, CodeActionKind, type Range } from "vscode-languageserver";
import * as z from "zod";
import type { Anchor } from "../../grammar/anchor";
import type { Analysis } from "../analysis/analysis";
import { namesOfKind } from "../model/binder";
import type { Thing } from "../model/thing";
import { inWords } from "./figures";
import { overlaps, rangeOf } from "./place";

const mostFields = 3;
/** A search lets others work so often, and then ends: some seconds. */
const mostTurns = 500;

const chooseData = z.object({ choose: z.string(), uri: z.string() });
export type ChooseData = z.infer<typeof chooseData>;

/** What such an offer carries until it is taken; nothing of other actions. */
export function readChooseData(data: unknown): ChooseData | undefined {
  return chooseData.safeParse(data).data;
}

export function chooseOffers(analysis: Analysis, uri: string, range: Range): CodeAction[] {
  return fieldsIn(analysis, uri, range).flatMap(({ owner, field }) => {
    const count = candidatesOf(analysis, owner, field).length;
    if (count === 0) return [];
    const kind = kindOf(owner, field);
    const data: ChooseData = { choose: `${owner.path}.${field}`, uri };
    return {
      title: `choose ${data.choose}: the first of ${count} that fits (${inWords(kind)})`,
      kind: CodeActionKind.QuickFix,
      data,
    };
  });
}

/** The edit of an offer that is taken, or why there is none, in the builder's words. */
export async function chosenEdit(
  analysis: Analysis,
  { choose: path, uri }: ChooseData,
): Promise<CodeAction["edit"] | string> {
  let turns = 0;
  const cancelled = (): boolean => ++turns > mostTurns;
  const answer = await analysis.choose({ fields: [path], keep: 1 }, { cancelled });
  if (answer.problem !== undefined) return answer.problem;
  const thing = answer.choices[0]?.picks[0]?.thing;
  if (thing === undefined) {
    const why = answer.blocking === undefined ? "" : `; most fall to the check: ${answer.blocking}`;
    return answer.complete
      ? `none of ${answer.combinations} fits ${path}${why}`
      : `none of those for ${path} that were looked at in a few seconds fits${why}`;
  }
  const at = path.lastIndexOf(".");
  const owner = analysis.thingAt(path.slice(0, at));
  const asked = owner?.asked.get(path.slice(at + 1))?.anchor;
  const place = asked === undefined ? undefined : rangeOf(analysis, asked);
  if (asked !== undefined && place !== undefined) {
    return { changes: { [asked.uri]: [{ range: place, newText: thing }] } };
  }
  const source = analysis.sourceOf(uri);
  const item = analysis.asked.find(({ anchor, needs }) => anchor.uri === uri && asks(needs, path))
    ?.anchor.item;
  if (source === undefined || item === undefined) return `${path} is asked for no more`;
  const end = source.positionAt(source.offsetOf(item) + item.text.trimEnd().length);
  const newText = `\n\n${path}: ${thing}`;
  return { changes: { [uri]: [{ range: { start: end, end }, newText }] } };
}

// ───────────────────────────── helpers ─────────────────────────────

interface Field {
  readonly owner: Thing;
  readonly field: string;
}

/** Fields without a thing that are asked for in a range, or of whose thing a figure is missing there. */
function fieldsIn(analysis: Analysis, uri: string, range: Range): Field[] {
  const within = (anchor: Anchor): boolean => {
    const place = anchor.uri === uri ? rangeOf(analysis, anchor) : undefined;
    return place !== undefined && overlaps(place, range);
  };
  const found = new Map<string, Field>();
  for (const owner of analysis.things) {
    for (const [field, { anchor }] of owner.asked) {
      if (owner.field(field)?.type.form === "reference" && within(anchor))
        found.set(`${owner.path}.${field}`, { owner, field });
    }
  }
  for (const { anchor, value, option, needs } of analysis.asked) {
    if (value.si !== undefined || option !== undefined || !within(anchor)) continue;
    for (const { path } of needs.flat()) {
      const standIn = analysis.thingAt(path.slice(0, path.lastIndexOf(".")));
      if (standIn?.implied !== true || standIn.owner === undefined) continue;
      const owner = standIn.owner;
      if (owner.field(standIn.name)?.type.form === "reference")
        found.set(standIn.path, { owner, field: standIn.name });
    }
  }
  return [...found.values()].slice(0, mostFields);
}

function asks(needs: readonly (readonly { readonly path: string }[])[], path: string): boolean {
  return needs.some((set) => set.some((each) => each.path.startsWith(`${path}.`)));
}

function kindOf(owner: Thing, field: string): string {
  const type = owner.field(field)?.type;
  return type?.form === "reference" ? type.kind : "";
}

function candidatesOf(analysis: Analysis, owner: Thing, field: string): readonly string[] {
  const scope = analysis.files.get(analysis.rootUri)?.scope;
  return scope === undefined ? [] : namesOfKind(analysis.vocabulary, scope, kindOf(owner, field));
}
