/**
 * Where a figure is missing because no thing stands in a field yet, or somebody asks for the field:
 * the first thing of a shop's lists with which every check holds, looked for when the change is taken.
 *
 *     choose f.front: the first of 12 that fits (stud)
 *     choose f.front and f.back: the first 2 of 144 that fit together
 *
 * Must not know: how answers travel.
 */
import {
  type CodeAction,
  CodeActionKind,
  type Position,
  type Range,
  type TextEdit,
} from "vscode-languageserver";
import * as z from "zod";
import type { Anchor } from "../../grammar/anchor";
import type { Analysis } from "../analysis/analysis";
import { andList } from "../findings/phrases";
import { namesOfKind } from "../model/references";
import type { Thing } from "../model/thing";
import { inWords } from "./figures";
import { overlaps, rangeOf } from "./place";

const mostFields = 3;
/** A search lets others work so often, and then ends: some seconds. */
const mostTurns = 500;

const chooseData = z.object({ choose: z.array(z.string()).min(1), uri: z.string() });
export type ChooseData = z.infer<typeof chooseData>;

/** What such an offer carries until it is taken; nothing of other actions. */
export function readChooseData(data: unknown): ChooseData | undefined {
  return chooseData.safeParse(data).data;
}

export function chooseOffers(analysis: Analysis, uri: string, range: Range): CodeAction[] {
  const here = fieldsIn(analysis, uri, range).filter(({ owner, field }) =>
    isAnyFor(analysis, owner, field),
  );
  const alone = here.map(({ owner, field }): CodeAction => {
    const path = `${owner.path}.${field}`;
    const count = candidatesOf(analysis, owner, field).length;
    const kind = inWords(kindOf(owner, field));
    return offerOf(`choose ${path}: the first of ${count} that fits (${kind})`, [path], uri);
  });
  // One by one the first might leave nothing for the others.
  const together = withFellows(analysis, here);
  if (together.length < 2) return alone;
  const paths = together.map(({ owner, field }) => `${owner.path}.${field}`);
  const ways = together.reduce(
    (all, { owner, field }) => all * candidatesOf(analysis, owner, field).length,
    1,
  );
  const title = `choose ${andList(paths)}: the first ${paths.length} of ${ways.toLocaleString("en")} that fit together`;
  return [offerOf(title, paths, uri), ...alone];
}

function offerOf(title: string, choose: readonly string[], uri: string): CodeAction {
  const data: ChooseData = { choose: [...choose], uri };
  return { title, kind: CodeActionKind.QuickFix, data };
}

/** The edit of an offer that is taken, or why there is none, in the builder's words. */
export async function chosenEdit(
  analysis: Analysis,
  { choose: paths, uri }: ChooseData,
): Promise<CodeAction["edit"] | string> {
  let turns = 0;
  const cancelled = (): boolean => ++turns > mostTurns;
  const answer = await analysis.choose({ fields: paths, keep: 1 }, { cancelled });
  if (answer.problem !== undefined) return answer.problem;
  const [choice] = answer.choices;
  if (choice === undefined) {
    const why = answer.blocking === undefined ? "" : `; most fall to the check: ${answer.blocking}`;
    const named = andList(paths);
    return answer.complete
      ? `none of ${answer.combinations} fits ${named}${why}`
      : `none of those for ${named} that were looked at in a few seconds fits${why}`;
  }
  const changes: Record<string, TextEdit[]> = {};
  const put = (file: string, edit: TextEdit): void => {
    changes[file] = [...(changes[file] ?? []), edit];
  };
  const lines: string[] = [];
  let below: Position | undefined;
  for (const [number, path] of paths.entries()) {
    const thing = choice.picks[number]?.thing ?? "";
    const at = path.lastIndexOf(".");
    const asked = analysis.thingAt(path.slice(0, at))?.asked.get(path.slice(at + 1))?.anchor;
    const place = asked === undefined ? undefined : rangeOf(analysis, asked);
    if (asked !== undefined && place !== undefined) {
      put(asked.uri, { range: place, newText: thing });
      continue;
    }
    below ??= endOfAsking(analysis, uri, path);
    if (below === undefined) return `${path} is asked for no more`;
    lines.push(`${path}: ${thing}`);
  }
  if (below !== undefined)
    put(uri, { range: { start: below, end: below }, newText: `\n\n${lines.join("\n")}` });
  return { changes };
}

/** Behind what asks for something that a thing in this field would settle. */
function endOfAsking(analysis: Analysis, uri: string, path: string): Position | undefined {
  const source = analysis.sourceOf(uri);
  const item = analysis.asked.find(({ anchor, needs }) => anchor.uri === uri && asks(needs, path))
    ?.anchor.item;
  if (source === undefined || item === undefined) return undefined;
  return source.positionAt(source.offsetOf(item) + source.standing(item).text.trimEnd().length);
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

/** With the other fields that are asked for in the same things, as many as are chosen at once. */
function withFellows(analysis: Analysis, here: readonly Field[]): readonly Field[] {
  const found = new Map(here.map((each) => [`${each.owner.path}.${each.field}`, each]));
  for (const { owner } of here) {
    for (const [field] of owner.asked) {
      const isOpen = owner.field(field)?.type.form === "reference";
      if (isOpen && isAnyFor(analysis, owner, field))
        found.set(`${owner.path}.${field}`, { owner, field });
    }
  }
  // Of one thing in the order of its kind.
  const placeOf = ({ owner, field }: Field): number => [...owner.kind.fields.keys()].indexOf(field);
  return [...found.values()]
    .sort((one, other) => (one.owner === other.owner ? placeOf(one) - placeOf(other) : 0))
    .slice(0, mostFields);
}

function isAnyFor(analysis: Analysis, owner: Thing, field: string): boolean {
  return candidatesOf(analysis, owner, field).length > 0;
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
