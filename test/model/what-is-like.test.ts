/** What a thing takes over from another it is like, wholly, and what is told where it takes over nothing. */
import { describe, expect, test } from "vitest";
import { kinds } from "./frames";
import { built } from "./tree-text";

describe("what is like another thing takes over", () => {
  test("what is said of the other and not of itself, its parts, lists and things inside", () => {
    expect(
      built(`${kinds}frame one {
  weight: 2 kg
  form: round
  pin: p
  plate { thick: 5 mm  pin { long: 1 mm  pipe: 33 A }  second.long: ? near 2 mm }
  spare { long: 2 mm }
  pins { long: 1 mm }
  pins { long: 2 mm }
  pin x "X" { long: 8 mm }
  pin y { long: 9 mm }
  relation "r": pin.long = 3 mm
  check "c": weight < 9 kg
  check "d": weight > 1 kg
  curve c "C": t over t from 0 to 1
  curve plain: t over t from 0 to 2
}
pin p {}
frame two like one { weight: 3 kg  plate.pin.long: 4 mm  relation "r": pin.wide = 5 mm  pin x { wide: 1 mm } }
frame three like one { weight: ?  form: square  plate.pin.pipe.grade: "B"  spare: p  pins: [p]
  check "c": weight < 8 kg
  check "e": weight > 2 kg
}
frame four like two { pins { wide: 3 mm }  spare.wide: 3 mm }
pin z like one.x { wide: 3 mm }
pin w like one.plate.pin {}
plate x { thick: 1 mm }
frame six { plate: x }
frame seven like six {}
frame eight like six { plate { thick: 2 mm } }
frame five { plate { both like one.x { wide: 5 mm } }  pin v like w {} }
record 2026-03-14 { one.weight: 2.5 kg  two.form: square }
`),
    ).toMatchInlineSnapshot(`
      "one frame 1 relations 2 checks 2 curves | weight: 2 kg | form: round | pin: p
      one.plate plate | thick: 5 mm
      one.plate.pin pin | long: 1 mm | pipe: 33 A
      one.plate.second pin only asked for | asked long: ? near 2 mm
      one.spare pin | long: 2 mm
      one.x pin "X" | long: 8 mm
      one.y pin | long: 9 mm
      one.pins.1 pin called pins 1 | long: 1 mm
      one.pins.2 pin called pins 2 | long: 2 mm
      p pin
      two frame 1 relations 2 checks 2 curves | weight: 3 kg | form: round as of what it is like | pin: p as of what it is like
      two.plate plate | thick: 5 mm as of what it is like
      two.plate.pin pin | long: 4 mm | pipe: 33 A as of what it is like
      two.plate.second pin only asked for | asked long: ? near 2 mm as of what it is like
      two.spare pin | long: 2 mm as of what it is like
      two.x pin | wide: 1 mm | long: 8 mm as of what it is like
      two.y pin | long: 9 mm as of what it is like
      two.pins.1 pin called pins 1 | long: 1 mm as of what it is like
      two.pins.2 pin called pins 2 | long: 2 mm as of what it is like
      three frame 1 relations 3 checks 2 curves | form: square | spare: p | pins: [p] | pin: p as of what it is like | asked weight: ?
      three.plate plate | thick: 5 mm as of what it is like
      three.plate.pin pin | pipe.grade: "B" | long: 1 mm as of what it is like | pipe: 33 A as of what it is like
      three.plate.second pin only asked for | asked long: ? near 2 mm as of what it is like
      three.x pin "X" | long: 8 mm as of what it is like
      three.y pin | long: 9 mm as of what it is like
      four frame 1 relations 2 checks 2 curves | weight: 3 kg as of what it is like | form: round as of what it is like | pin: p as of what it is like
      four.plate plate | thick: 5 mm as of what it is like
      four.plate.pin pin | long: 4 mm as of what it is like | pipe: 33 A as of what it is like
      four.plate.second pin only asked for | asked long: ? near 2 mm as of what it is like
      four.spare pin stands in | wide: 3 mm | long: 2 mm as of what it is like
      four.x pin | wide: 1 mm as of what it is like | long: 8 mm as of what it is like
      four.y pin | long: 9 mm as of what it is like
      four.pins.1 pin called pins 1 | wide: 3 mm
      z pin | wide: 3 mm | long: 8 mm as of what it is like
      w pin | long: 1 mm as of what it is like | pipe: 33 A as of what it is like
      x plate | thick: 1 mm
      x.pin pin unspoken
      x.second pin unspoken
      six frame | plate: x
      seven frame | plate: x as of what it is like
      eight frame
      eight.plate plate | thick: 2 mm
      eight.plate.pin pin unspoken
      eight.plate.second pin unspoken
      five frame
      five.plate plate
      five.plate.pin pin | wide: 5 mm said of several | long: 8 mm as of what it is like
      five.plate.second pin | wide: 5 mm said of several | long: 8 mm as of what it is like
      five.v pin | long: 1 mm as of what it is like | pipe: 33 A as of what it is like
      told missing/value: four.plate.second.long cannot be worked out yet: nothing in the build leads to it
      told check/cannot-judge: cannot judge yet: d | three.weight is missing
      told missing/value: three.weight cannot be worked out yet: nothing in the build leads to it
      told check/cannot-judge: cannot judge yet: c | three.weight is missing
      told check/cannot-judge: cannot judge yet: e | three.weight is missing"
    `);
  });

  test("nothing where it is of another kind, is itself, or is not there, which is told", () => {
    expect(
      built(`${kinds}pin p like q { long: 1 mm }
pin q like p { wide: 1 mm }
pin r like r {}
pin s like f {}
pin t like nobody {}
pin u like f.nobody {}
long_pin v like w {}
pin w like v { long: 5 mm }
long_pin k {}
pin l like k {}
frame f { pin x like y {}  pin y { long: 1 mm }  plate.pin like f {}  plate like plate.pin {} }
frame g { pin x like y.z {}  pin y like x {} }
`),
    ).toMatchInlineSnapshot(`
      "p pin | long: 1 mm
      q pin | wide: 1 mm
      r pin
      s pin
      t pin
      u pin
      v long_pin
      w pin | long: 5 mm
      k long_pin
      l pin
      f frame
      f.plate plate
      f.plate.pin pin unspoken
      f.plate.second pin unspoken
      f.x pin | long: 1 mm as of what it is like
      f.y pin | long: 1 mm
      g frame
      g.plate plate unspoken
      g.plate.pin pin unspoken
      g.plate.second pin unspoken
      g.x pin
      g.y pin
      told like/itself: \`p\` would be like itself, by way of \`q\` | write out what one of them is
      told like/itself: \`q\` would be like itself, by way of \`p\` | write out what one of them is
      told like/itself: \`r\` would be like itself | write out what one of them is
      told like/other-kind: \`s\` is a pin, \`f\` is a frame: they cannot be alike | name a pin behind \`like\`
      told name/unknown: there is nothing called \`nobody\` here | known here: p, q, r, s, t, u, v, w, k, l, …
      told name/unknown: \`f\` has no part called \`nobody\` | known here: plate, x, y
      told like/itself: \`v\` would be like itself, by way of \`w\` | write out what one of them is
      told like/itself: \`w\` would be like itself, by way of \`v\` | write out what one of them is
      told like/other-kind: \`l\` is a pin, \`k\` is a long pin: they cannot be alike | name a pin behind \`like\`
      told like/itself: \`f.plate.pin\` would be like itself | write out what one of them is
      told like/itself: \`f.plate\` would be like itself | write out what one of them is
      told name/unknown: \`g.y\` has no part called \`z\`"
    `);
  });
});
