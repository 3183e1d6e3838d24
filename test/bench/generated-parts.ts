/** Lists of parts of the generated shop: wheels, tires, shafts, steel. */

import type { GeneratedFile } from "./generate";
import { type Roll, rollsOf, text } from "./rolls";

/** What a vehicle calls the parts it takes. */
export interface PartNames {
  readonly wheel: string;
  readonly tire: string;
  readonly spare_tire: string;
  readonly hub: string;
  readonly left_shaft: string;
  readonly right_shaft: string;
  readonly bearing: string;
  readonly steel: string;
  readonly welder: string;
}

export interface Owners {
  readonly owner: string;
  readonly numbers: readonly number[];
}

export function partFiles(lists: Owners, shafts: Owners): GeneratedFile[] {
  const file = (
    name: string,
    { owner, numbers }: Owners,
    each: (name: string, van: boolean, roll: Roll) => string,
  ): GeneratedFile => {
    const lines = numbers.flatMap((number) =>
      text(each(`${owner}${number}`, number % 2 === 0, rollsOf(number + 7919))),
    );
    return { path: `parts/${name}.trammel`, text: lines.join("\n") };
  };
  return [
    file("wheels", lists, wheelOf),
    file("tires", lists, tiresOf),
    file("shafts", shafts, shaftsOf),
    file("steel", lists, steelOf),
  ];
}

function wheelOf(name: string, van: boolean, roll: Roll): string {
  const hub = `
hub ${name}_hub "Shaft flange" {
  stud_circle: ${van ? "5x5 in" : "5x130 mm"}
  pilot: ${van ? "70.5 mm" : "108 mm"}
  stud_thread: ${van ? "1/2-20" : "M12x1.5"}
  stud_length: ${van ? "1 5/8 in" : "38 mm"}
}
`;
  const wheel = van
    ? `
wheel ${name}_wheel "Rear wheel" {
  size: 17x9
  offset: ${15 + roll(6)} mm
  stud_circle: 5x5 in
  center_bore: 70.7 mm
  pad_thickness: 7/16 in
  brake_room: 7 5/8 in  # half of the barrel's inside diameter, at the caliper
  load_rating: 1650 lb
  quantity: 2
  price: ${230 + roll(30)} usd
  mass: 27 lb
}
`
    : `
wheel ${name}_wheel "Steel field wheel" {
  size: 15x7
  offset: ${-8 + roll(5)} mm
  stud_circle: 6x139.7 mm
  center_bore: 108.2 mm
  pad_thickness: 9 mm
  load_rating: 950 kg
  quantity: 2
  price: ${85 + roll(15)} usd
  mass: 11.5 kg
}
`;
  return `${wheel}${hub}`;
}

function tiresOf(name: string, van: boolean, roll: Roll): string {
  return `
tire ${name}_tire "Rear tire" {
  size: ${van ? "275/50R17 101W" : "235/75R15 105S"}
  quantity: 2
  price: ${van ? 180 + roll(20) : 120 + roll(15)} usd
  mass: ${van ? "29 lb" : "14.5 kg"}
}

tire ${name}_spare_tire "Tire the vehicle came with" {
  size: ${van ? "225/70R16" : "205/80R16"}
}
`;
}

function shaftsOf(name: string, van: boolean, roll: Roll): string {
  const price = 180 + roll(100);
  const side = (which: string, length: string): string => `
shaft ${name}_${which}_shaft "${which === "left" ? "Left" : "Right"} shaft" {
  spline: ${van ? "31-24/48" : "28-24/48"}
  diameter: ${van ? "1.300 in" : "30 mm"}
  material: "${van ? "4340" : "4140"} tempered 425 degC"
  blank_length: ${length}
  blank_spline: ${van ? "4 in" : "100 mm"}
  price: ${price} usd
  mass: ${van ? "17 lb" : "6.1 kg"}
}
`;
  return `${side("left", van ? "33 1/2 in" : "740 mm")}${side("right", van ? "32 1/4 in" : "800 mm")}
bearing ${name}_bearing "Wheel bearing" {
  type: ${van ? "ball" : "roller"}
  rating: ${van ? "7200 lbf" : "38 kN"}
  quantity: 2
  price: ${36 + roll(15)} usd
  mass: 2 lb
}
`;
}

function steelOf(name: string, _van: boolean, roll: Roll): string {
  return `
steel_grade ${name}_steel "Axle tube" {
  carbon: 0.${18 + roll(4)} %
  manganese: 0.${45 + roll(15)} %
}

welder ${name}_welder "Shop MIG machine" {
  capacity: 1/4 in
}
`;
}
