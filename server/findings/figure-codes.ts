/**
 * Codes of findings about what a build means: names, units, values, figures and checks.
 *
 * Must not know: how anything is found.
 */
import type { CodeRow } from "./codes";

export const figureCodes = {
  "name/unknown": {
    what: "Nothing is called by this name where it stands.",
    todo: "Mend the name; `use` the file it is declared in.",
  },
  "name/unknown-field": {
    what: "The kind of this thing has no such field.",
    todo: "Mend the name; the page of the kind lists its fields.",
  },
  "name/unknown-kind": {
    what: "There is no kind of thing of this name, neither in the library nor in this build.",
    todo: "Mend the name, or declare the kind.",
  },
  "name/unknown-type": {
    what: "A field is a measure, a designation, a kind, or yes or no: this is none of them.",
    todo: "Mend the name of the measure, designation or kind.",
  },
  "name/unknown-function": {
    what: "There is no function and no table of this name.",
    todo: "Mend the name; the message lists the functions there are.",
  },
  "name/unknown-word": {
    what: "A word that says nothing of a field, or no way to look up a table.",
    todo: "Use one of the words the language has for it.",
  },
  "name/duplicate": {
    what: "Two things, options, kinds, fields or tables have the same name.",
    todo: "Give one of them another name.",
  },
  "name/circular": {
    what: "A kind takes over from itself, is always part of itself, or would hold itself without end.",
    todo: "Leave out `part`, so that it names another thing, or take over from another kind.",
  },
  "name/not-a-thing": {
    what: "The name of a thing has to stand here, not a value.",
    todo: "Write the name of a thing of the kind the message names.",
  },
  "name/wrong-kind": {
    what: "The thing named here is of another kind than is expected.",
    todo: "Name a thing of the kind the message names.",
  },
  "reference/itself": {
    what: "A thing names itself, or a figure is worked out from itself.",
    todo: "Name another thing, or leave the figure out of its own formula.",
  },
  "field/two-roles": {
    what: "A field is said to be two things at once, such as measured and made.",
    todo: "Keep one of the two words.",
  },
  "designation/form": {
    what: "The written form of a designation cannot be read.",
    todo: "Mend the form; the page of the language shows how one is written.",
  },
  "table/row": {
    what: "A row of a table does not have a fitting value for each column.",
    todo: "Write one value for each column, with commas between them.",
  },
  "table/use": {
    what: "A table is asked with too many keys, too few, or the wrong ones.",
    todo: "Give one value for each key column, in the table's order.",
  },
  "table/no-row": {
    what: "A table holds nothing for what it was asked; nothing is guessed beyond its ends.",
    todo: "Give the figure itself, from its maker's data.",
  },
  "display/unknown-measure": {
    what: "A `display` names something that is not measured.",
    todo: "Write a measure: `length`, `torque`, `pressure`.",
  },
  "display/unknown-unit": {
    what: "A `display` names a unit that is not known.",
    todo: "Take one of the units the message offers.",
  },
  "display/wrong-unit": {
    what: "A `display` shows a measure in a unit of something else.",
    todo: "Take a unit of that measure.",
  },
  "display/bad-increment": {
    what: "A `display` rounds to a step that is none.",
    todo: "Write a fraction such as `1/32`, or a step such as `0.5`.",
  },
  "unit/missing": {
    what: "A figure stands without its unit, and more than one is possible.",
    todo: "Write the unit; the fixes offer the usual ones.",
  },
  "unit/unknown": {
    what: "There is no unit of this name.",
    todo: "Take the unit the message takes it for, or another of the measure.",
  },
  "unit/wrong": {
    what: "A unit of something else: an angle where a length is expected.",
    todo: "Check the figure and write a unit of what the field measures.",
  },
  "unit/clash": {
    what: "Figures that do not measure the same are added, compared or given for one another.",
    todo: "Check the units and the brackets of the formula.",
  },
  "unit/two-currencies": {
    what: "Amounts in two currencies: nobody says what one is worth in the other.",
    todo: "Write all amounts in the currency you pay in.",
  },
  "value/not-a-number": {
    what: "A figure has to stand here.",
    todo: "Write a figure with its unit.",
  },
  "value/not-whole": {
    what: "What is counted comes in whole ones.",
    todo: "Write a whole number.",
  },
  "value/limits": {
    what: "Limits that leave no room: the lower one is above the upper one, the value outside, or a ± with a sign.",
    todo: "Write the lower limit first, and check both against the drawing.",
  },
  "value/list": {
    what: "Several values stand where one is expected, or one where a list is.",
    todo: "Put them together with `sum`, `mean`, `min`, `max` or `count`, or pick one with `item`.",
  },
  "value/arguments": {
    what: "A function is given too many values, too few, or the wrong ones.",
    todo: "Give it what the message names.",
  },
  "value/clash": {
    what: "A word and a figure are compared with each other.",
    todo: "Compare words with words and figures with figures.",
  },
  "value/wrong": {
    what: "The value is none that this field takes.",
    todo: "Write it in one of the forms the message shows.",
  },
  "value/not-a-choice": {
    what: "The field takes one of a few words, and this is none of them.",
    todo: "Take one of the words the message lists.",
  },
  "value/not-a-text": {
    what: "The field takes a text.",
    todo: "Put it in double quotes.",
  },
  "value/not-a-condition": {
    what: "A condition has to stand here: something that holds or does not.",
    todo: "Write a comparison, such as `gap >= 1/2 in`.",
  },
  "value/condition-in-formula": {
    what: "A comparison, `and`, `or` or `not` stands in a formula that is to give a figure.",
    todo: "Put it after `if` or `when`, or into a check.",
  },
  "value/thing-in-formula": {
    what: "A thing stands in a formula where one of its figures is meant.",
    todo: "Write the path of the figure: `rear.track`.",
  },
  "value/tolerance-in-formula": {
    what: "A tolerance belongs to a given value and cannot stand in a formula.",
    todo: "Give the figure with its tolerance a field of its own, and name that field.",
  },
  "value/ask-in-formula": {
    what: "`?` asks for a whole value and cannot stand in a formula.",
    todo: "Write `?` after the field that is wanted.",
  },
  "value/out-of-range": {
    what: "A figure is written that lies outside of what is usual for its field, or with a ± larger than itself.",
    todo: "Look whether another unit, the point or two digits are meant; else measure again.",
  },
  "value/unlike-twin": {
    what: "Two figures that mirror each other are far apart, and a slip in one of them explains it.",
    todo: "Measure both again.",
  },
  "given/against-default": {
    what: "What is given settles otherwise a figure that nobody wrote and that has a usual value.",
    todo: "Check the givens the message names; where it is so, write the figure itself.",
  },
  "given/twice": {
    what: "A figure or a part is given in two places.",
    todo: "Keep one of the two.",
  },
  "given/not-a-part": {
    what: "A single value is opened with braces.",
    todo: "Write `name: value`.",
  },
  "like/itself": {
    what: "A thing is said to be like itself, perhaps by way of others.",
    todo: "Write out what one of them is.",
  },
  "like/other-kind": {
    what: "A thing is said to be like one of another kind.",
    todo: "Name a thing of the same kind behind `like`.",
  },
  "missing/value": {
    what: "A figure that was asked for cannot be worked out yet.",
    todo: "Give one of the figures the message names; it tells how to come by them.",
  },
  "missing/not-a-figure": {
    what: "`?` stands after something that is no figure; only figures are worked out.",
    todo: "Write the value, or leave the line out.",
  },
  "wanted/missed": {
    what: "A figure that was wanted comes out otherwise, because other figures stand against it.",
    todo: "Change what stands against it, or accept what comes out.",
  },
  "conflict/givens": {
    what: "Figures that were given cannot all hold; leaving out any one of them would do.",
    todo: "Change one as the fixes offer, measure one again, or leave one out.",
  },
  "solve/no-answer": {
    what: "With the figures given there is no value that fits, or none was found.",
    todo: "Check the figures the message names.",
  },
  "solve/several-answers": {
    what: "More than one value fits, and nothing in the build says which is meant.",
    todo: "Give one more figure, or say where it lies: `? near 30 deg`.",
  },
  "solve/others-not-excluded": {
    what: "An answer was found, and nobody has shown that it is the only one.",
    todo: "Look whether it can be meant; say where it lies: `? near 30 deg`.",
  },
  "solve/not-defined": {
    what: "A figure cannot be worked out: a division by zero, a root of something negative, a place outside of a table.",
    todo: "Check the figures the message names.",
  },
  "solve/several-cases": {
    what: "Conditions of more than one case hold at once, and they come out differently.",
    todo: "Give one more figure, or let the conditions leave each other out.",
  },
  "solve/no-case": {
    what: "No condition of any case holds.",
    todo: "Let the conditions take in every case, up to where the next one begins.",
  },
  "solve/not-whole": {
    what: "Something counted in whole ones comes out between two of them.",
    todo: "Give the whole number above or below, and leave open what is to follow from it.",
  },
  "kit/short": {
    what: "A kit does not hold enough pieces for all stacks that draw on it.",
    todo: "Order the pieces that are short, or let one stack draw on another kit.",
  },
  "kit/shared": {
    what: "A stack takes other pieces than it would alone, so that the kit serves all.",
    todo: "Nothing; take the pieces the message names.",
  },
  "check/own": {
    what: "A check of this build's own does not hold.",
    todo: "See what its `advise` says, or `trammel explain FILE --fit`.",
  },
  "check/cannot-judge": {
    what: "A check cannot be judged yet: figures it compares are open.",
    todo: "Give the figures the message names.",
  },
} as const satisfies Readonly<Record<string, CodeRow>>;
