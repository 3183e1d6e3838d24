/**
 * What is wrong with what is on record of one joint: no such pass, a fastener it does not have, a
 * torque that is off, neighbors in succession, passes left out, old fasteners put in again. Joints
 * by their paths, torques in N·m, angles in rad.
 *
 * Must not know: steps, how anything is found.
 */
import { differenceOf, type Measure } from "../units";
import { andList } from "./phrases";
import type { Family } from "./said";
import { betterOrder, named, pairsInWords, percent, plural } from "./work-phrases";

interface OfJoint {
  readonly joint: string;
}

/** In which pass, where one was told. */
interface InPass extends OfJoint {
  readonly pass: number | undefined;
}

/** What was done with an instrument, by its name. */
interface With {
  readonly instrument: string;
}

export const jointFamily = {
  "record/no-such-pass": ({
    joint,
    pass,
    passes,
  }: OfJoint & { readonly pass: number; readonly passes: number }) => ({
    severity: "warning",
    message: `${named(joint)} has ${passes} ${plural(passes, "pass", "passes")}, pass ${pass} is on record`,
    hint: "mend the number, or the joint's `passes`",
  }),
  "record/no-such-bolt": ({
    joint,
    count,
    unknown,
  }: OfJoint & { readonly count: number; readonly unknown: readonly number[] }) => ({
    severity: "warning",
    message: `${named(joint)} has ${count} ${plural(count, "fastener")}, ${andList(unknown.map(String))} ${plural(unknown, "is", "are")} on record`,
    hint: "places are numbered from 1; mend the numbers, or the joint's `count`",
  }),
  "record/bolt-twice": ({
    joint,
    pass,
    twice,
  }: InPass & { readonly twice: readonly number[] }) => ({
    severity: "note",
    message: `${named(joint)}: ${andList(twice.map(String))} ${plural(twice, "is", "are")} on record twice${forPass(pass)}`,
    hint: "name each fastener once in a pass",
  }),
  "record/bolt-order": ({
    joint,
    pairs,
    across,
    better,
  }: OfJoint & {
    readonly pairs: readonly (readonly [number, number])[];
    /** Round a circle, not along rows. */
    readonly across: boolean;
    readonly better: readonly number[];
  }) => ({
    severity: "warning",
    message: `${named(joint)} was tightened with neighbors one after the other: ${pairsInWords(pairs)}`,
    hint: `loosen it and ${betterOrder(across, better)}`,
  }),
  "record/bolts": ({
    joint,
    pass,
    missing,
    count,
  }: InPass & { readonly missing: readonly number[]; readonly count: number }) => ({
    severity: "warning",
    message: `${named(joint)}: ${plural(missing, "fastener")} ${andList(missing.map(String))} of ${count} ${plural(missing, "is", "are")} not on record${forPass(pass)}`,
    hint: "tighten what was left out, then go round once more at full torque, and put that on record",
  }),
  "record/pass-skipped": ({
    joint,
    pass,
    skipped,
  }: OfJoint & { readonly pass: number; readonly skipped: readonly number[] }) => ({
    severity: "warning",
    message: `pass ${pass} of ${named(joint)} is on record, ${plural(skipped, "pass", "passes")} ${andList(skipped.map(String))} before it ${plural(skipped, "is", "are")} not`,
    hint: "loosen it and go through all passes, or put the missing ones on record with their day",
  }),
  "record/falling-pass": ({
    joint,
    pass,
    from,
  }: OfJoint & { readonly pass: number; readonly from: number }) => ({
    severity: "warning",
    message: `pass ${pass} of ${named(joint)} is recorded after pass ${from}: passes climb`,
    hint: "if it was undone and begun again, say so: `loosened: yes`, then begin with pass 1; if only the numbers are wrong, mend them",
  }),
  "record/torque-off": (
    {
      joint,
      pass,
      share,
      found,
      shown,
      wanted,
      allowed,
    }: InPass & {
      /** Of the joint's torque, in this pass. */
      readonly share: number;
      readonly found: number;
      /** By the wrench, where only that is on record and is another figure. */
      readonly shown: number | undefined;
      readonly wanted: number;
      readonly allowed: number;
    },
    writer,
  ) => {
    const which = pass === undefined ? "" : ` in pass ${pass} (${percent(share)})`;
    const by = shown === undefined ? "" : ` by a wrench that showed ${writer.torque(shown)}`;
    return {
      message: `${named(joint)} was tightened to ${writer.torque(found)}${which}${by}, ${writer.torque(wanted)} ± ${writer.torque(allowed)} is wanted`,
      hint: "loosen it, tighten it again to its torque, and put that on record",
    };
  },
  "record/reading-apart": (
    {
      joint,
      shown,
      nut,
      found,
    }: OfJoint & {
      readonly shown: number;
      /** What the nut gets by that. */
      readonly nut: number;
      readonly found: number;
    },
    writer,
  ) => ({
    severity: "warning",
    message: `the wrench showed ${writer.torque(shown)} for ${named(joint)}, which is ${writer.torque(nut)} at the nut; ${writer.torque(found)} is on record beside it`,
    hint: "see which of the two was read, and mend the other; in doubt loosen it and tighten it again",
  }),
  "record/torque-unsure": (
    {
      joint,
      found,
      own,
      allowed,
    }: OfJoint & { readonly found: number; readonly own: number; readonly allowed: number },
    writer,
  ) => ({
    severity: "warning",
    message: `${named(joint)} was tightened to ${writer.torque(found)} ± ${writer.torque(own)}, ± ${writer.torque(allowed)} is allowed`,
    hint: "check it with a wrench that reads more surely, and put that on record",
  }),
  "record/turn-off": (
    { joint, found, wanted }: OfJoint & { readonly found: number; readonly wanted: number },
    writer,
  ) => ({
    message: `${named(joint)} was turned on by ${writer.figure(found, "angle")}, ${writer.figure(wanted, "angle")} is wanted`,
    hint: "take out what was turned too far; begin again with new fasteners where the maker asks for them",
  }),
  "record/turn-off none": ({ joint, found }: OfJoint & { readonly found: number }, writer) => ({
    severity: "warning",
    message: `${named(joint)} was turned on by ${writer.figure(found, "angle")}, it is brought to a torque and no further`,
    hint: "if its maker asks for torque and angle, write the joint's `turn`; if not, take it out, look at the threads and tighten it again",
  }),
  "record/running-off": (
    {
      joint,
      found,
      planned,
      allowed,
    }: OfJoint & { readonly found: number; readonly planned: number; readonly allowed: number },
    writer,
  ) => ({
    severity: "warning",
    message: `the running torque of ${named(joint)} was measured ${writer.torque(found)}, the plan has ${writer.torque(planned)} ± ${writer.torque(allowed)}: what the wrench is set to rests on it`,
    hint: "write it into the joint's `running_torque` and tighten again by the setting that comes out; a nut that turns too lightly no longer locks, one that turns too hard has a damaged thread",
  }),
  "record/running-unread": (
    { joint, planned }: OfJoint & { readonly planned: number },
    writer,
  ) => ({
    severity: "note",
    message: `nobody put the running torque of ${named(joint)} on record: what the wrench is set to has the plan's ${writer.torque(planned)} in it`,
    hint: "read what it takes to turn each nut before it seats, and write the highest as `running` in the entry that tightens it",
  }),
  "record/wrench-reading": (
    { joint, found, wanted }: OfJoint & { readonly found: number; readonly wanted: number },
    writer,
  ) => ({
    severity: "warning",
    message: `${writer.torque(found)} is what the wrench is set to for ${named(joint)}, the nut gets ${writer.torque(wanted)}`,
    hint: "write what the wrench showed as `reading`, or what the nut got as `tightened`",
  }),
  "record/wrench-range": (
    {
      joint,
      instrument,
      torque,
      least,
      most,
    }: OfJoint & With & { readonly torque: number; readonly least: number; readonly most: number },
    writer,
  ) => ({
    severity: "warning",
    message: `${named(joint)} was tightened to ${writer.torque(torque)} with ${instrument}, which is to be used from ${writer.torque(least)} to ${writer.torque(most)}`,
    hint: "tighten it again with a wrench of the right size, and put that on record",
  }),
  "record/wrong-instrument gauge": ({ joint, instrument }: OfJoint & With) => ({
    severity: "warning",
    message: `${named(joint)} was tightened with ${instrument}, which is no torque wrench`,
    hint: wrongInstrument,
  }),
  "record/wrong-instrument wrench": ({ path, instrument }: With & { readonly path: string }) => ({
    severity: "warning",
    message: `${named(path)} was measured with ${instrument}, which is a torque wrench`,
    hint: wrongInstrument,
  }),
  "record/finer-than-read": (
    {
      path,
      instrument,
      measure,
      found,
      step,
    }: With & {
      /** Of the joint, or of the figure. */
      readonly path: string;
      /** Or its name. */
      readonly measure: Measure | string;
      readonly found: number;
      /** What the instrument shows. */
      readonly step: number;
    },
    writer,
  ) => ({
    severity: "note",
    message: `${named(path)} is recorded ${writer.figure(found, measure)}, finer than ${instrument} can be read: it shows ${writer.figure(step, typeof measure === "string" ? measure : differenceOf(measure))}`,
    hint: "write what was read off, no finer than the instrument shows it",
  }),
  "record/not-held": ({ joint }: OfJoint) => ({
    message: `${named(joint)} turned again at the second click: it has not held its torque`,
    hint: "go on until the wrench clicks without turning; if it never does, the thread is yielding or stripped: take it out and look",
  }),
  "record/second-click": ({ joint }: OfJoint) => ({
    severity: "note",
    message: `nobody put on record that ${named(joint)} held at the second click`,
    hint: "pull the wrench once more on each fastener and write `held: yes`",
  }),
  "record/moved": ({ joint }: OfJoint) => ({
    message: `${named(joint)} moved when it was checked again`,
    hint: "find out why, tighten it again to its torque, and have it checked once more",
  }),
  "record/not-renewed": ({ joint }: OfJoint) => ({
    severity: "warning",
    message: `${named(joint)} was tightened again, and nobody put new fasteners on record`,
    hint: "its fasteners are used once: put new ones in and write `renewed: yes`",
  }),
} satisfies Family;

// ───────────────────────────── helpers ─────────────────────────────

const wrongInstrument =
  "mend the name of the instrument; if nothing else was at hand, do it again with the right one";

function forPass(pass: number | undefined): string {
  return pass === undefined ? "" : ` for pass ${pass}`;
}
