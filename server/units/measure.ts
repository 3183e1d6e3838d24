/**
 * Measures: the named kinds of quantity a field can hold, each with the units that suit it.
 *
 *     measureNamed("torque")?.units  // ["lb-ft", "N-m", "in-lb", …]
 *
 * Torque and energy have one dimension but are two measures, as are heat input and force; a unit
 * fits a measure when the dimensions agree and the unit is not one of another measure alone.
 *
 * Must not know: fields, kinds, text of a build, anything of the trade.
 */
import { type BaseDimension, type Dimension, dimension, sameDimension } from "./dimension";

export interface Measure {
  /** As fields name it: `length`, `spring_rate`. */
  readonly name: string;
  /** For messages: "length", "spring rate". */
  readonly title: string;
  readonly dimension: Dimension;
  /** Unit symbols, most natural first; empty where a plain number is meant. */
  readonly units: readonly string[];
  /** How values are shown unless the builder asks otherwise; unit "" is a plain number. */
  readonly inch: MeasureDisplay;
  readonly metric: MeasureDisplay;
  /** Set where a field is shown in units of its own, whatever the rest of a build is shown in. */
  readonly own?: boolean;
  /** The coherent SI unit: "m", "N*m", "rad", "1" for a plain number, "money" for an amount. */
  readonly si: string;
  /** Natural size in SI, above 0: differences far below it do not matter to anyone. */
  readonly scale: number;
  /** True where only whole numbers make sense. */
  readonly whole: boolean;
}

export interface MeasureDisplay {
  readonly unit: string;
  /** As written in a display block: "1/32" for fractions, "0.1" for decimals. */
  readonly increment?: string;
}

/** Every measure, in a fixed order: where several share a dimension, the most natural is first. */
export const measures: readonly Measure[] = [
  row("length", { length: 1 }, "in mm ft m cm thou yd um km mi", "in 1/32", "mm 0.1", "m", 1e-3),
  row("distance", { length: 1 }, "mi km m ft", "mi", "km", "m", 1),
  row("area", { length: 2 }, "in^2 mm^2 cm^2 ft^2 m^2", "in^2", "mm^2", "m^2", 1e-6),
  row(
    "volume",
    { length: 3 },
    "in^3 cc L qt gal mL pt fl_oz mm^3 cm^3 ft^3 m^3",
    "in^3",
    "cc",
    "m^3",
    1e-6,
  ),
  row("section_modulus", { length: 3 }, "in^3 mm^3 cm^3", "in^3", "mm^3", "m^3", 1e-7),
  row("second_moment", { length: 4 }, "in^4 mm^4 cm^4", "in^4", "mm^4", "m^4", 1e-9),
  row("mass", { mass: 1 }, "lb kg oz g t", "lb", "kg", "kg", 1e-1),
  row("force", force(1), "lbf N kN kgf lb ozf kip", "lbf", "N", "N", 1),
  row(
    "torque",
    force(2),
    "lb-ft N-m in-lb ft-lb lb-in kN-m oz-in kgf-m",
    "lb-ft",
    "N-m",
    "N*m",
    1e-1,
  ),
  row("energy", force(2), "J kJ ft-lb Wh kWh", "ft-lb", "J", "J", 1),
  row("pressure", force(-1), "psi bar kPa MPa Pa ksi atm", "psi", "kPa", "Pa", 1e3),
  row("stress", force(-1), "psi MPa ksi GPa kPa Pa", "psi", "MPa", "Pa", 1e5),
  row("angle", {}, "deg rad arcmin", "deg", "deg", "rad", 1e-3),
  row("number", {}, "", "", "", "1", 1e-3),
  row("ratio", {}, "%", "", "", "1", 1e-3),
  row("count", {}, "", "", "", "1", 1, true),
  row(
    "speed",
    { length: 1, time: -1 },
    "mph km/h m/s ft/s in/min mm/s ft/min m/min",
    "mph",
    "km/h",
    "m/s",
    1e-2,
  ),
  row("angular_speed", { time: -1 }, "rpm rad/s deg/s rev/s", "rpm", "rpm", "rad/s", 1e-2),
  row(
    "angular_acceleration",
    { time: -2 },
    "rad/s^2 deg/s^2",
    "rad/s^2",
    "rad/s^2",
    "rad/s^2",
    1e-2,
  ),
  row("acceleration", { length: 1, time: -2 }, "ft/s^2 m/s^2", "ft/s^2", "m/s^2", "m/s^2", 1e-2),
  row("time", { time: 1 }, "s min h day ms", "s", "s", "s", 1e-1),
  row("frequency", { time: -1 }, "Hz kHz cpm", "Hz", "Hz", "Hz", 1e-2),
  row("temperature", { temperature: 1 }, "degF degC K", "degF", "degC", "K", 1e-1),
  row("temperature_difference", { temperature: 1 }, "degF degC K", "degF", "degC", "K", 1e-1),
  row("power", { mass: 1, length: 2, time: -3 }, "hp kW W PS", "hp", "kW", "W", 1e1),
  row("voltage", { mass: 1, length: 2, time: -3, current: -1 }, "V mV kV", "V", "V", "V", 1e-2),
  row("current", { current: 1 }, "A mA", "A", "A", "A", 1e-2),
  row(
    "resistance",
    { mass: 1, length: 2, time: -3, current: -2 },
    "ohm mohm kohm",
    "ohm",
    "ohm",
    "ohm",
    1e-2,
  ),
  row("charge", { current: 1, time: 1 }, "Ah", "Ah", "Ah", "A*s", 1e1),
  row(
    "density",
    { mass: 1, length: -3 },
    "lb/in^3 kg/m^3 lb/ft^3 g/cm^3 kg/L lb/gal",
    "lb/in^3",
    "kg/m^3",
    "kg/m^3",
    1,
  ),
  row(
    "spring_rate",
    { mass: 1, time: -2 },
    "lb/in N/mm lbf/in N/m kgf/mm kN/m",
    "lb/in",
    "N/mm",
    "N/m",
    1e1,
  ),
  row(
    "force_per_length",
    { mass: 1, time: -2 },
    "lbf/in N/mm lb/in lbf/ft N/m",
    "lbf/in",
    "N/mm",
    "N/m",
    1e1,
  ),
  row(
    "torsional_rate",
    force(2),
    "lb-ft/deg N-m/deg in-lb/deg N-m/rad",
    "lb-ft/deg",
    "N-m/deg",
    "N*m/rad",
    1,
  ),
  row(
    "inertia",
    { mass: 1, length: 2 },
    "lb*ft^2 kg*m^2 lb*in^2",
    "lb*ft^2",
    "kg*m^2",
    "kg*m^2",
    1e-3,
  ),
  row(
    "mass_per_length",
    { mass: 1, length: -1 },
    "lb/ft kg/m lb/in g/mm",
    "lb/ft",
    "kg/m",
    "kg/m",
    1e-2,
  ),
  row(
    "mass_per_area",
    { mass: 1, length: -2 },
    "lb/ft^2 kg/m^2",
    "lb/ft^2",
    "kg/m^2",
    "kg/m^2",
    1e-1,
  ),
  row("heat_input", force(1), "kJ/in kJ/mm kJ/cm J/mm", "kJ/in", "kJ/mm", "J/m", 1e3),
  row(
    "flow",
    { length: 3, time: -1 },
    "gal/min L/min cc/s in^3/s",
    "gal/min",
    "L/min",
    "m^3/s",
    1e-6,
  ),
  row("volume_per_angle", { length: 3 }, "in^3/rev cc/rev", "in^3/rev", "cc/rev", "m^3/rad", 1e-7),
  row("money", { money: 1 }, "usd eur gbp aud cad jpy nzd sek chf", "usd", "eur", "money", 1e-2),
  row(
    "money_per_mass",
    { money: 1, mass: -1 },
    "usd/lb eur/kg",
    "usd/lb",
    "eur/kg",
    "money/kg",
    1e-2,
  ),
  row(
    "money_per_length",
    { money: 1, length: -1 },
    "usd/ft eur/m",
    "usd/ft",
    "eur/m",
    "money/m",
    1e-2,
  ),
  row("money_per_time", { money: 1, time: -1 }, "usd/h eur/h", "usd/h", "eur/h", "money/s", 1e-6),
  row("per_length", { length: -1 }, "tpi 1/in 1/mm 1/m", "tpi", "1/mm", "1/m", 1e-2),
  row("turns_per_length", { length: -1 }, "rev/mi rev/km rev/m", "rev/mi", "rev/km", "1/m", 1e-5),
  row(
    "specific_heat",
    { length: 2, time: -2, temperature: -1 },
    "J/(kg*K) J/kg/K Btu/lb/degF",
    "Btu/lb/degF",
    "J/kg/K",
    "J/(kg*K)",
    1,
  ),
  row(
    "conductivity",
    { mass: 1, length: 1, time: -3, temperature: -1 },
    "W/m/K W/(m*K)",
    "W/m/K",
    "W/m/K",
    "W/(m*K)",
    1e-2,
  ),
  row("expansion", { temperature: -1 }, "1/K 1/degF 1/degC", "1/degF", "1/K", "1/K", 1e-8),
];

const byName = new Map(measures.map((measure) => [measure.name, measure] as const));

export function measureNamed(name: string): Measure | undefined {
  return byName.get(name);
}

/** The measures of a dimension, most natural first; none for a dimension nobody named. */
export function measuresOf(of: Dimension): readonly Measure[] {
  return measures.filter((measure) => sameDimension(measure.dimension, of));
}

/** "in, mm or ft": the units to name when one is missing. Empty where a plain number is meant. */
export function unitsInWords(measure: Measure, most = 3): string {
  const named = measure.units.slice(0, most);
  const last = named.pop();
  if (last === undefined) return "";
  return named.length === 0 ? last : `${named.join(", ")} or ${last}`;
}

/** "a length", "an angle", "an amount of money". */
export function measureInWords(measure: Measure): string {
  if (measure.name === "money") return "an amount of money";
  return `${/^[aeiou]/.test(measure.title) ? "an" : "a"} ${measure.title}`;
}

// ───────────────────────────── helpers ─────────────────────────────

function force(lengthPower: number): Partial<Record<BaseDimension, number>> {
  return { mass: 1, length: lengthPower, time: -2 };
}

function row(
  name: string,
  powers: Partial<Record<BaseDimension, number>>,
  units: string,
  inch: string,
  metric: string,
  si: string,
  scale: number,
  whole = false,
): Measure {
  return {
    name,
    title: name.replaceAll("_", " "),
    dimension: dimension(powers),
    units: units === "" ? [] : units.split(" "),
    inch: display(inch),
    metric: display(metric),
    si,
    scale,
    whole,
  };
}

function display(text: string): MeasureDisplay {
  const [unit = "", increment] = text.split(" ");
  return increment === undefined ? { unit } : { unit, increment };
}
