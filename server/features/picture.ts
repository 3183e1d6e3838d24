/**
 * The picture a panel shows beside the text: the one chosen, or the one of the thing the cursor is
 * in; with each figure in it where it is written.
 *
 *     pictureAnswer(analysis, { uri, position, reading: "comes out" })   →   { picture: { shape, … }, offers, … }
 *
 * Must not know: panels, how answers travel.
 */
import type { Position } from "vscode-languageserver";
import type { Analysis } from "../analysis/analysis";
import type { Drawing, FigureLabel } from "../drafting";
import type { PictureAnswer, PictureRequest, PictureShape } from "../messages";
import { anchorOfThing } from "../model/thing";
import { drawPicture, type PictureOffer, picturesOf } from "../pictures";
import { isBefore, rangeOf } from "./place";

const mostKept = 12;

export function pictureAnswer(spec: Analysis, request: PictureRequest): PictureAnswer {
  const { uri, position, picture, pinned = false, option, reading } = request;
  const drawn = (option === undefined ? undefined : spec.under(option)) ?? spec;
  const analysis = reading === "built" ? drawn.asBuilt() : drawn;
  const reckoning = reading === "drawn" || reading === "over" ? "drawn" : "comes out";
  const offers = picturesOf(analysis);
  const before = offers.find(({ id }) => id === picture);
  const near = position === undefined ? undefined : offerAt(analysis, offers, uri, position);
  const offer = pinned ? (before ?? near ?? offers[0]) : (sameThing(before, near) ?? offers[0]);
  const over = reading === "over" ? { over: drawn.asBuilt() } : {};
  const drawing =
    offer === undefined
      ? undefined
      : keptDrawing(analysis, `${offer.id} ${reading}`, () =>
          drawPicture(analysis, offer.id, { reckoning, ...over }),
        );
  return {
    uri,
    readable: !analysis.findingsSoFar.some(({ code }) => code.startsWith("syntax/")),
    offers: offers.map(({ id, title }) => ({ id, title })),
    options: spec.options.map(({ name, title }) => ({ name, title: title ?? name })),
    recorded: spec.records.length > 0,
    ...(offer === undefined || drawing === undefined
      ? {}
      : { picture: pictureOf(analysis, offer, drawing) }),
  };
}

// ───────────────────────────── helpers ─────────────────────────────

const kept = new WeakMap<Analysis, Map<string, Drawing | undefined>>();

/** A moving cursor asks for the same picture again and again. */
function keptDrawing(
  analysis: Analysis,
  key: string,
  draw: () => Drawing | undefined,
): Drawing | undefined {
  const drawings = kept.get(analysis) ?? new Map<string, Drawing | undefined>();
  kept.set(analysis, drawings);
  if (!drawings.has(key)) {
    if (drawings.size >= mostKept) drawings.clear();
    drawings.set(key, draw());
  }
  return drawings.get(key);
}

/** While the cursor stays in a thing, the picture of it that was chosen stays, too. */
function sameThing(
  before: PictureOffer | undefined,
  near: PictureOffer | undefined,
): PictureOffer | undefined {
  if (near === undefined) return before;
  const stays = before?.path === near.path || before?.path.startsWith(`${near.path}.`) === true;
  return stays ? before : near;
}

/** The first picture of the outermost thing around the place: of an axle, not of one of its sides. */
function offerAt(
  analysis: Analysis,
  offers: readonly PictureOffer[],
  uri: string,
  position: Position,
): PictureOffer | undefined {
  let best: { offer: PictureOffer; begin: Position } | undefined;
  for (const offer of offers) {
    const thing = analysis.thingAt(offer.path);
    const anchor = thing?.anchor;
    if (anchor === undefined || anchor.uri !== uri) continue;
    const begin = rangeOf(analysis, anchor)?.start;
    const source = analysis.sourceOf(uri);
    if (begin === undefined || source === undefined) continue;
    const end = source.positionAt(
      source.offsetOf(anchor.item) + source.standing(anchor.item).text.length,
    );
    if (isBefore(position, begin) || isBefore(end, position)) continue;
    if (best === undefined || isBefore(begin, best.begin)) best = { offer, begin };
  }
  return best?.offer;
}

function pictureOf(
  analysis: Analysis,
  { id, title }: PictureOffer,
  { description, scale, shape, readings }: Drawing,
): PictureAnswer["picture"] {
  return {
    id,
    title,
    description,
    scale: scale.text,
    shape: shape as PictureShape,
    readings: readings.map((reading) => readingOf(analysis, reading)),
  };
}

function readingOf(
  analysis: Analysis,
  { path, text, told, known, tight = false }: FigureLabel,
): NonNullable<PictureAnswer["picture"]>["readings"][number] {
  const value = analysis.valueAt(path);
  const owner = analysis.thingAt(path.slice(0, Math.max(0, path.lastIndexOf("."))));
  const anchor = value?.anchor ?? anchorOfThing(value?.thing ?? owner);
  const start = anchor === undefined ? undefined : rangeOf(analysis, anchor)?.start;
  const place =
    anchor === undefined || start === undefined ? {} : { place: { uri: anchor.uri, ...start } };
  return { path, text, told, known, tight, ...place };
}
