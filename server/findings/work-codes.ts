/**
 * Codes of findings about the order of work, joints and what is on record.
 *
 * Must not know: how anything is found.
 */
import type { CodeRow } from "./codes";

export const workCodes = {
  "step/loop": {
    what: "Steps wait for each other in a circle, and none of them can start.",
    todo: "Take one of them out of the other's `after`.",
  },
  "step/no-figure": {
    what: "The text of a step speaks of a figure that this build does not have.",
    todo: "Write the path as the build calls it: `{rear.left.tape_reading}`.",
  },
  "order/broken": {
    what: "A step is planned before another that has to come first.",
    todo: "Let it come `after` the other, or say with `on` that they are done to different things.",
  },
  "order/missing-step": {
    what: "Nothing in the plan does what has to come before a step.",
    todo: "Add the step the message names.",
  },
  "joint/order": {
    what: "A joint would be brought to a higher torque before the lower one.",
    todo: "Let the step with the higher torque come after.",
  },
  "joint/before-final": {
    what: "A joint is tightened before what it clamps is final.",
    todo: "Let it be tightened after the step that sets what it clamps.",
  },
  "joint/never-tightened": {
    what: "No step of the plan tightens this joint.",
    todo: "Name it in the `tighten` of the step that brings it to its torque.",
  },
  "joint/not-full": {
    what: "The last step that tightens this joint ends below its torque.",
    todo: "Add a later step that tightens it to 100 %.",
  },
  "joint/no-torque": {
    what: "A step tightens a joint whose torque is open.",
    todo: "Write its `torque` from the maker of the part, or `proof_share` with thread and grade.",
  },
  "joint/adapter": {
    what: "A joint is tightened through an adapter, and what to set the wrench to is open.",
    todo: "Name its `wrench`, and that wrench's `length` from square drive to the grip.",
  },
  "joint/no-recheck": {
    what: "A joint that is to be checked again after the first miles never is.",
    todo: "Name it in the `recheck` of a step.",
  },
  "joint/passes": {
    what: "The passes of a joint are empty, do not climb, or do not end at its torque.",
    todo: "Write climbing shares that end at 100 %: `[30 %, 70 %, 100 %]`.",
  },
  "joint/sequence": {
    what: "The tightening order of a joint leaves out a fastener, or names one twice.",
    todo: "Name each fastener once.",
  },
  "joint/neighbours": {
    what: "The tightening order goes from a fastener to its neighbor more often than it need.",
    todo: "Go across the circle, or from the middle outwards, as the fix offers.",
  },
  "joint/groups": {
    what: "The fasteners of a joint do not make equal groups.",
    todo: "Mend `count` or `groups`, or write each group as a joint of its own.",
  },
  "joint/columns": {
    what: "The fasteners of a joint do not stand around a rectangle of that many columns.",
    todo: "Mend `count` or `columns`.",
  },
  "joint/places": {
    what: "Not every fastener of a joint has its place written.",
    todo: "Write one `places_x` and one `places_y` for each, in the order of their numbers.",
  },
  "record/too-close": {
    what: "A reading lies so near to a limit that its own ± leaves open on which side it is, and a check hangs on it.",
    todo: "Measure again, more surely.",
  },
  "record/misclosure": {
    what: "Readings that are joined by relations do not agree, by more than their ± explains.",
    todo: "Take the reading again that the message names.",
  },
  "record/out-of-tolerance": {
    what: "What was measured lies outside of what the spec allows.",
    todo: "Measure again; if it stands, mend the part or the spec.",
  },
  "record/out-of-limits": {
    what: "A step is on record as done, and a limit it names does not hold or cannot be judged.",
    todo: "Measure what it is about, mend the part, or have it accepted as a concession.",
  },
  "record/out-of-order": {
    what: "Something is on record on a day before the day of what has to come first.",
    todo: "Undo it and do it again in the right order; if only the dates are wrong, mend them.",
  },
  "record/before-prerequisite": {
    what: "Something is on record, and what has to come before it is not.",
    todo: "Put the earlier step on record with its day; if it was not done, do both in order.",
  },
  "record/again": {
    what: "A step was done again or taken back, and what stands on it was not done anew.",
    todo: "Do the later steps again, and put that on record.",
  },
  "record/not-anew": {
    what: "A step was done, and what has to be done anew before it each time was not.",
    todo: "Put the earlier step on record before it.",
  },
  "record/hold": {
    what: "A step is on record sooner than the one before it allows: it has to cool or cure.",
    todo: "Wait out the time, look at the part again, and put that on record.",
  },
  "record/cure": {
    what: "A step is on record before the thread lock of a joint has cured.",
    todo: "Wait out the time, check the joint again, and put that on record.",
  },
  "record/left-out": {
    what: "A step is on record as done that this build does without.",
    todo: "Take out the entry, or the step's `left_out`.",
  },
  "record/done-too-soon": {
    what: "A step is on record as done before its last joint was tightened or what it measures was measured.",
    todo: "Put the step on record after that; if only the dates are wrong, mend them.",
  },
  "record/not-tight": {
    what: "A step is on record as done, and a joint it tightens is not at its torque.",
    todo: "Tighten the joint and put it on record.",
  },
  "record/not-rechecked": {
    what: "A step is on record as done, and a joint it checks again is not on record.",
    todo: "Check the joint and write `rechecked: yes`.",
  },
  "record/not-measured": {
    what: "A step is on record as done, and what it was to measure is not.",
    todo: "Put the measurements on record.",
  },
  "record/open-figure": {
    what: "A step is on record as done, and a figure it needs is open.",
    todo: "Give the figure, or put a measurement on record.",
  },
  "record/part-not-here": {
    what: "A step is on record as done, and a part it takes is not at hand or came only later.",
    todo: "Put on record when the part came, or mend the day that is wrong.",
  },
  "record/second-person": {
    what: "A step that a second person has to do was done by the same one, or by nobody named.",
    todo: 'Have a second person do it, and write both names: `by "…"`.',
  },
  "record/not-signed": {
    what: "A step that has to be signed off is not, or by whoever did it, or before it was done.",
    todo: "Have it looked at, and write `signed` with the name.",
  },
  "record/recheck-missing": {
    what: "A step that checks joints again is due, and they are not on record.",
    todo: "Check them and write `rechecked: yes`.",
  },
  "record/recheck-due": {
    what: "The vehicle was driven far enough for a joint to be checked again, and it was not.",
    todo: "Check it and write `rechecked: yes`.",
  },
  "record/recheck-early": {
    what: "A joint was checked again before it had been driven far enough to settle.",
    todo: "Check it once more after the distance the message names.",
  },
  "record/odometer": {
    what: "The odometer shows less than it did before.",
    todo: "Mend the figure; if the instrument was changed, write the distance driven in all.",
  },
  "record/torque-off": {
    what: "A joint was tightened to another torque than is wanted.",
    todo: "Loosen it, tighten it again to its torque, and put that on record.",
  },
  "record/torque-unsure": {
    what: "The ± of a torque on record is wider than what is allowed.",
    todo: "Check the joint with a wrench that reads more surely.",
  },
  "record/turn-off": {
    what: "A joint was turned on by another angle than is wanted.",
    todo: "Take out what was turned too far; use new fasteners where the maker asks for them.",
  },
  "record/not-held": {
    what: "A joint turned again at the second click: it has not held its torque.",
    todo: "Go on until the wrench clicks without turning; if it never does, take it out and look.",
  },
  "record/moved": {
    what: "A joint moved when it was checked again.",
    todo: "Find out why, tighten it again, and have it checked once more.",
  },
  "record/second-click": {
    what: "Nobody put on record that a joint held at the second click.",
    todo: "Pull the wrench once more on each fastener and write `held: yes`.",
  },
  "record/pass-skipped": {
    what: "A pass of a joint is on record, and one before it is not.",
    todo: "Loosen it and go through all passes, or put the missing ones on record.",
  },
  "record/no-such-pass": {
    what: "A pass is on record that the joint does not have.",
    todo: "Mend the number, or the joint's `passes`.",
  },
  "record/falling-pass": {
    what: "A lower pass is on record after a higher one.",
    todo: "If it was begun again, write `loosened: yes` first; else mend the numbers.",
  },
  "record/bolts": {
    what: "Fasteners of a joint are not on record.",
    todo: "Tighten what was left out, go round once more, and put that on record.",
  },
  "record/bolt-order": {
    what: "A joint was tightened from neighbor to neighbor.",
    todo: "Loosen it and tighten it in the order the message names.",
  },
  "record/bolt-twice": {
    what: "A fastener is on record twice in one pass.",
    todo: "Name each fastener once in a pass.",
  },
  "record/no-such-bolt": {
    what: "A fastener is on record that the joint does not have.",
    todo: "Mend the number, or the joint's `count`.",
  },
  "record/not-renewed": {
    what: "Fasteners that are used once were tightened again, and no new ones are on record.",
    todo: "Put new ones in and write `renewed: yes`.",
  },
  "record/wrench-range": {
    what: "A joint was tightened with a wrench that is not to be used at that torque.",
    todo: "Tighten it again with a wrench of the right size, and put that on record.",
  },
  "record/wrench-reading": {
    what: "What is on record is what the wrench is set to, not what the nut gets.",
    todo: "Write it as `reading`, or what the nut got as `tightened`.",
  },
  "record/instrument": {
    what: "A measurement was made with something that reads too coarsely for its tolerance, or has so wide a ± of its own.",
    todo: "Measure again with something that reads to a tenth of what is allowed.",
  },
  "record/instrument-range": {
    what: "A measurement lies outside of what the instrument measures.",
    todo: "Measure again with one of the right size, or mend the name of the instrument.",
  },
  "record/reading-apart": {
    what: "What the wrench showed and what the nut was brought to are on record together and do not go together.",
    todo: "Mend the one that was not read; in doubt tighten the joint again.",
  },
  "record/nothing-undone": {
    what: "A step is taken back that is not on record as done by then.",
    todo: "Mend the name of the step, or the day.",
  },
  "record/person": {
    what: "A name stands in one record alone and is a letter away from one that stands in several.",
    todo: "Write the name as it is written elsewhere; if they are two people, nothing.",
  },
  "record/unknown-instrument": {
    what: "Nobody says how well an instrument measures.",
    todo: 'Declare it: `instrument name "…" { reads_to: … }`.',
  },
  "record/no-instrument": {
    what: "Nobody says what a figure with a tolerance was measured with.",
    todo: 'Write it into the record: `with "…"`.',
  },
  "record/calibration": {
    what: "An instrument was used after its calibration had run out.",
    todo: "Have it calibrated, and check again what was measured or tightened with it.",
  },
  "record/contradiction": {
    what: "One thing was measured twice on one day, farther apart than both are sure to.",
    todo: 'Measure again; if something was changed in between, give both their time: `at "14:30"`.',
  },
  "record/duplicate": {
    what: "An entry is on record twice, word for word, and counts once.",
    todo: "Take one out; if it was done twice on that day, give each its time.",
  },
  "record/no-date": {
    what: "A record has no date, so that nothing can be said about its order.",
    todo: "Write the day after the title: `2026-03-14`.",
  },
  "record/no-time": {
    what: "A time of day that is none.",
    todo: 'Write hours and minutes: `at "14:30"`.',
  },
  "record/no-photo": {
    what: "A picture a log names is not beside it.",
    todo: "Put the file there, or mend its name; paths are read from the folder of the log.",
  },
  "record/not-yes-no": {
    what: "A field of the record is yes or no, and something else is written.",
    todo: "Write yes or no; as it stands the entry says nothing.",
  },
  "record/not-a-count": {
    what: "A field of the record takes a number, and something else is written.",
    todo: "Write its number, or for `bolts` the places: `[1, 3, 5, 2, 4]`.",
  },
  "record/not-a-figure": {
    what: "A field of the record takes what was read off, and something else is written.",
    todo: "Write the figure with its unit.",
  },
  "record/not-a-day": {
    what: "The day up to which something is accepted is no day.",
    todo: "Write year, month and day.",
  },
  "concession/accepted": {
    what: "Something is out of tolerance, and somebody accepts it as it is.",
    todo: "Do what the entry says follows from it; look at it again before its last day.",
  },
  "concession/nobody": {
    what: "Something is accepted out of tolerance, and the record does not say by whom or when.",
    todo: "Let whoever accepts it write name and day.",
  },
  "concession/of-nothing": {
    what: "What is accepted is nothing that can be accepted as it is.",
    todo: "Name a figure that was measured, or a step whose limits do not hold.",
  },
  "concession/not-needed": {
    what: "Something is accepted out of tolerance, and it is within its limits.",
    todo: "Withdraw it.",
  },
  "record/not-a-text": {
    what: "A note, a signature or the path of a picture is not written as a text.",
    todo: "Write it in quotes.",
  },
  "record/future": {
    what: "A record is dated after the day the build is read on.",
    todo: "Mend its day or year.",
  },
  "record/running-off": {
    what: "The running torque of a locking nut was measured far from what the plan has.",
    todo: "Write it into the joint and tighten again by the setting that comes out.",
  },
  "record/running-unread": {
    what: "A locking nut was brought to its torque, and nobody put on record how hard it turns before it seats.",
    todo: "Read its running torque and write `running` in the entry.",
  },
  "record/wrong-instrument": {
    what: "A joint was tightened with a gauge, or a figure measured with a torque wrench.",
    todo: "Mend the name of the instrument, or do it again with the right one.",
  },
  "record/finer-than-read": {
    what: "A reading is written finer than its instrument can be read.",
    todo: "Write what was read off.",
  },
  "record/blank": {
    what: "A field of the record is still to be filled in.",
    todo: "Write what was read in place of the `?`.",
  },
  "record/spec-field": {
    what: "A record writes into `torque`, which is what a joint is to be tightened to.",
    todo: "Write `tightened` in its place.",
  },
} as const satisfies Readonly<Record<string, CodeRow>>;
