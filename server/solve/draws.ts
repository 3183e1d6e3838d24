/**
 * Draws of givens within their tolerances: the same ones each time, as even as a Latin hypercube
 * makes them (each given falls once into each of as many slices of equal probability as there are
 * draws; McKay, Beckman and Conover 1979).
 *
 * Each given's draws follow from its name alone, so that nothing written elsewhere moves them; givens
 * that move together share theirs. Normal ones are cut off at their limits, which stand for three
 * standard deviations.
 *
 *   drawsOf("rear.width", { low: 1, high: 2, … })   // 4,096 numbers from 1 to 2
 *
 * Must not know: what is worked out from them.
 */
import { Kept } from "../keep/kept";
import type { Distribution, GivenNumber } from "./system";

export const DRAWS = 4096;
/** Share of the draws that likely limits take in: three standard deviations of a normal one. */
export const LIKELY = 0.9973;
/** Of so many givens the draws are kept, 32 kB each. */
const mostKnown = 128;

export function drawsOf(name: string, given: GivenNumber): Float64Array {
  const { low, high, distribution = "normal", together } = given;
  const called = together === undefined ? name : `together ${together}`;
  const middle = (low + high) / 2;
  const half = (high - low) / 2;
  return placesOf(called, distribution).map((place) => middle + half * place);
}

// ───────────────────────────── helpers ─────────────────────────────

/** Whoever types changes the limits, and neither the name nor how values lie between them. */
const known = new Kept<Float64Array>(mostKnown);

/** Draws between -1 and 1, which are the limits. */
function placesOf(name: string, distribution: Distribution): Float64Array {
  return known.get(`${distribution} ${name}`, () =>
    sharesOf(name).map(
      distribution === "normal" ? normal() : distribution === "uniform" ? even : triangle,
    ),
  );
}

/** One number from 0 to 1 out of each of the slices, in an order that the name decides. */
function sharesOf(name: string): Float64Array {
  const random = generator(name);
  const shares = new Float64Array(DRAWS);
  for (let i = 0; i < DRAWS; i++) shares[i] = (i + random()) / DRAWS;
  for (let i = DRAWS - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    const kept = shares[i]!;
    shares[i] = shares[j]!;
    shares[j] = kept;
  }
  return shares;
}

/** A row of numbers from 0 to 1 that a name starts (Marsaglia's xorshift over a hash of it). */
function generator(name: string): () => number {
  let state = 0x811c9dc5;
  for (let i = 0; i < name.length; i++) {
    state = Math.imul(state ^ name.charCodeAt(i), 0x01000193);
  }
  state = state === 0 ? 1 : state;
  const next = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 4294967296;
  };
  // The first numbers of near names are near each other.
  for (let i = 0; i < 8; i++) next();
  return next;
}

function even(share: number): number {
  return 2 * share - 1;
}

function triangle(share: number): number {
  return share < 0.5 ? Math.sqrt(2 * share) - 1 : 1 - Math.sqrt(2 * (1 - share));
}

const POINTS = 3000;

/** Normal draws between −1 and 1, which are three standard deviations. */
function normal(): (share: number) => number {
  const cumulated = cumulatedNormal();
  return (share) => {
    const wanted = share * cumulated[2 * POINTS]!;
    let low = 0;
    let high = 2 * POINTS;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (cumulated[middle]! <= wanted) low = middle;
      else high = middle;
    }
    const from = cumulated[low]!;
    const within = (wanted - from) / (cumulated[high]! - from);
    return (low + within - POINTS) / POINTS;
  };
}

/** Share of normal draws below a place between −1 and 1, which are three standard deviations. */
export function normalShareBelow(place: number): number {
  const cumulated = cumulatedNormal();
  const at = Math.min(2 * POINTS, Math.max(0, (place + 1) * POINTS));
  const below = Math.floor(at);
  const from = cumulated[below]!;
  const to = cumulated[Math.min(2 * POINTS, below + 1)]!;
  return (from + (at - below) * (to - from)) / cumulated[2 * POINTS]!;
}

/** The bell curve's area up to each of many points from −3 to 3 standard deviations (trapezoids). */
function cumulatedNormal(): Float64Array {
  const areas = new Float64Array(2 * POINTS + 1);
  const height = (i: number): number => Math.exp(-(((3 * (i - POINTS)) / POINTS) ** 2) / 2);
  for (let i = 1; i < areas.length; i++) {
    areas[i] = areas[i - 1]! + (height(i - 1) + height(i)) / 2;
  }
  return areas;
}
