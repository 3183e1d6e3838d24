/**
 * Every unit a build may name by one symbol, with its exact factor to coherent SI.
 *
 *     unitTable.get("in")  // factor 0.0254, dimension length
 *
 * Factors are products of the exact definitions (25.4 mm to the inch, 0.45359237 kg to the pound,
 * 9.80665 m/s² for standard gravity), so each is right to the last bit or two. Source: NIST SP 811
 * appendix B, International Yard and Pound Agreement 1959.
 *
 * Must not know: text around a unit, compounds that are not listed, anything of the trade.
 */
import { currencies } from "./currency";
import { type Dimension, dimension, dimensionless } from "./dimension";

export interface UnitEntry {
  readonly symbol: string;
  /** Coherent SI value of one of it: si = value * factor + offset. */
  readonly factor: number;
  /** Above zero only for degC and degF, where zero degrees is not nothing. */
  readonly offset: number;
  readonly dimension: Dimension;
  /** Names of the measures it is used for, most natural first. */
  readonly measures: readonly string[];
  /** Set where the trade also reads it as a force (lb, oz): that factor, in newtons. */
  readonly forceFactor?: number;
  /** ISO 4217 code, upper case. Amounts in different currencies do not add up. */
  readonly currency?: string;
}

const inch = 0.0254;
const foot = 0.3048;
const yard = 0.9144;
const mile = 1609.344;
const pound = 0.45359237;
const ounce = pound / 16;
const gravity = 9.80665;
const poundForce = pound * gravity;
const ounceForce = ounce * gravity;
const degree = Math.PI / 180;
const cubicInch = 16.387064e-6;
const gallon = 3.785411784e-3; // 231 cubic inches
const imperialGallon = 4.54609e-3;
const minute = 60;
const hour = 3600;
const psi = poundForce / 6.4516e-4;

const force = { mass: 1, length: 1, time: -2 };
const work = { mass: 1, length: 2, time: -2 };

export const unitTable: ReadonlyMap<string, UnitEntry> = new Map(
  [
    ...group({ length: 1 }, ["length", "distance"], {
      in: inch,
      ft: foot,
      yd: yard,
      mi: mile,
      thou: inch / 1000,
      mil: inch / 1000,
      um: 1e-6,
      µm: 1e-6,
      μm: 1e-6,
      mm: 1e-3,
      cm: 1e-2,
      dm: 1e-1,
      m: 1,
      km: 1000,
    }),
    ...group({ length: 2 }, ["area"], { sqin: 6.4516e-4, sqft: 0.09290304 }),
    ...group({ length: 3 }, ["volume"], {
      L: 1e-3,
      l: 1e-3,
      mL: 1e-6,
      ml: 1e-6,
      cL: 1e-5,
      dL: 1e-4,
      cc: 1e-6,
      cuin: cubicInch,
      cuft: 0.028316846592,
      gal: gallon,
      qt: gallon / 4,
      pt: gallon / 8,
      fl_oz: gallon / 128,
      imp_gal: imperialGallon,
      imp_qt: imperialGallon / 4,
      imp_pt: imperialGallon / 8,
    }),
    ...group({ mass: 1 }, ["mass"], {
      kg: 1,
      g: 1e-3,
      mg: 1e-6,
      t: 1000,
      slug: poundForce / foot,
    }),
    entry("lb", pound, dimension({ mass: 1 }), ["mass"], { forceFactor: poundForce }),
    entry("oz", ounce, dimension({ mass: 1 }), ["mass"], { forceFactor: ounceForce }),
    ...group({ time: 1 }, ["time"], {
      s: 1,
      ms: 1e-3,
      min: minute,
      h: hour,
      hr: hour,
      day: 24 * hour,
      days: 24 * hour,
    }),
    ...group(force, ["force"], {
      N: 1,
      kN: 1000,
      daN: 10,
      lbf: poundForce,
      ozf: ounceForce,
      kgf: gravity,
      kip: 1000 * poundForce,
    }),
    ...group(work, ["torque", "energy"], {
      "lb-ft": poundForce * foot,
      "ft-lb": poundForce * foot,
      "lbf-ft": poundForce * foot,
      "ft-lbf": poundForce * foot,
      "lb-in": poundForce * inch,
      "in-lb": poundForce * inch,
      "lbf-in": poundForce * inch,
      "in-lbf": poundForce * inch,
      "oz-in": ounceForce * inch,
      "in-oz": ounceForce * inch,
      "N-m": 1,
      Nm: 1,
      "N-mm": 1e-3,
      Nmm: 1e-3,
      "N-cm": 1e-2,
      Ncm: 1e-2,
      "kN-m": 1000,
      kNm: 1000,
      "kgf-m": gravity,
      "kgf-cm": gravity / 100,
    }),
    ...group(work, ["energy"], {
      J: 1,
      kJ: 1000,
      MJ: 1e6,
      Wh: hour,
      kWh: 1000 * hour,
      Btu: 1055.05585262,
    }),
    ...group({ mass: 1, length: -1, time: -2 }, ["pressure", "stress"], {
      psi,
      ksi: 1000 * psi,
      Mpsi: 1e6 * psi,
      Pa: 1,
      hPa: 100,
      kPa: 1000,
      MPa: 1e6,
      GPa: 1e9,
      bar: 1e5,
      mbar: 100,
      atm: 101325,
    }),
    ...group({}, ["angle"], {
      deg: degree,
      "°": degree,
      rad: 1,
      mrad: 1e-3,
      arcmin: degree / 60,
      arcsec: degree / 3600,
      rev: 2 * Math.PI,
    }),
    ...group({}, ["ratio", "number"], { "%": 0.01 }),
    ...group({ length: 1, time: -1 }, ["speed"], {
      mph: mile / hour,
      kph: 1000 / hour,
      "km/h": 1000 / hour,
      "m/s": 1,
      "m/min": 1 / minute,
      "ft/s": foot,
      "ft/min": foot / minute,
      "in/s": inch,
      "in/min": inch / minute,
      ipm: inch / minute,
      "mm/s": 1e-3,
      "mm/min": 1e-3 / minute,
      "cm/s": 1e-2,
      "cm/min": 1e-2 / minute,
    }),
    ...group({ time: -1 }, ["angular_speed"], {
      rpm: (2 * Math.PI) / minute,
      "rev/min": (2 * Math.PI) / minute,
      "rev/s": 2 * Math.PI,
      "rad/s": 1,
      "rad/min": 1 / minute,
      "deg/s": degree,
      "deg/min": degree / minute,
    }),
    ...group({ time: -1 }, ["frequency"], { Hz: 1, kHz: 1000, cpm: 1 / minute, "1/s": 1 }),
    ...group({ mass: 1, length: 2, time: -3 }, ["power"], {
      W: 1,
      kW: 1000,
      hp: 550 * poundForce * foot,
      PS: 75 * gravity,
    }),
    ...group({ current: 1 }, ["current"], { A: 1, mA: 1e-3 }),
    ...group({ mass: 1, length: 2, time: -3, current: -1 }, ["voltage"], {
      V: 1,
      mV: 1e-3,
      kV: 1000,
    }),
    ...group({ mass: 1, length: 2, time: -3, current: -2 }, ["resistance"], {
      ohm: 1,
      Ω: 1,
      mohm: 1e-3,
      kohm: 1000,
    }),
    ...group({ current: 1, time: 1 }, ["charge"], { Ah: hour }),
    ...group(force, ["heat_input"], {
      "kJ/in": 1000 / inch,
      "kJ/mm": 1e6,
      "kJ/cm": 1e5,
      "kJ/m": 1000,
      "J/mm": 1000,
      "J/in": 1 / inch,
      "J/m": 1,
    }),
    ...group({ length: -1 }, ["per_length"], {
      tpi: 1 / inch,
      "1/in": 1 / inch,
      "1/mm": 1000,
      "1/m": 1,
    }),
    ...group({ length: -1 }, ["turns_per_length"], {
      "rev/mi": 1 / mile,
      "rev/km": 1e-3,
      "rev/m": 1,
    }),
    ...group({ temperature: 1 }, ["temperature", "temperature_difference"], { K: 1 }),
    ...["degC", "°C"].map((symbol) =>
      entry(symbol, 1, dimension({ temperature: 1 }), ["temperature", "temperature_difference"], {
        offset: 273.15,
      }),
    ),
    ...["degF", "°F"].map((symbol) =>
      entry(
        symbol,
        5 / 9,
        dimension({ temperature: 1 }),
        ["temperature", "temperature_difference"],
        {
          offset: (459.67 * 5) / 9,
        },
      ),
    ),
    ...[...currencies].flatMap((currency) =>
      [currency, currency.toLowerCase()].map((symbol) =>
        entry(symbol, 1, dimension({ money: 1 }), ["money"], { currency }),
      ),
    ),
  ].map((each) => [each.symbol, each] as const),
);

function group(
  powers: Parameters<typeof dimension>[0],
  measures: readonly string[],
  factors: Readonly<Record<string, number>>,
): UnitEntry[] {
  const shared = Object.keys(powers).length === 0 ? dimensionless : dimension(powers);
  return Object.entries(factors).map(([symbol, factor]) => entry(symbol, factor, shared, measures));
}

function entry(
  symbol: string,
  factor: number,
  of: Dimension,
  measures: readonly string[],
  more: Partial<Pick<UnitEntry, "offset" | "forceFactor" | "currency">> = {},
): UnitEntry {
  return { offset: 0, ...more, symbol, factor, dimension: of, measures };
}
