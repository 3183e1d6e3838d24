/**
 * What is to be bought or made: parts in use with how many, how long or how much, and the fasteners
 * of the joints.
 *
 * Must not know: how the list looks.
 */
import type { Analysis } from "../analysis/analysis";
import type { Thing } from "../model/thing";
import { comesOut } from "../report/comes-out";
import type { Sequence } from "../sequence";
import { newTube, orderKinds } from "./stations";

export interface OrderLine {
  readonly quantity: string;
  readonly title: string;
  /** `31 1/2 in`, `255/60R17 106T` */
  readonly size: string;
  /** Supplier, number, what to mind. */
  readonly note: string;
  readonly price: string;
}

/** Fields that say what to ask for, by kind: the first that is known of each row. */
const sizes: readonly (readonly [kind: string, fields: readonly string[]])[] = [
  ["tire", ["size"]],
  ["wheel", ["size", "offset", "stud_circle"]],
  ["shaft", ["length", "spline"]],
  ["housing", ["face_to_face", "tube_diameter", "tube_wall"]],
  ["carrier", ["ring_and_pinion", "spline"]],
  ["lubricant", ["grade", "container"]],
  ["bearing", ["type"]],
  ["shim_kit", ["used"]],
  ["brake", ["rotor_diameter"]],
];

export function orderLines(
  analysis: Analysis,
  things: readonly Thing[],
  { joints }: Sequence,
): OrderLine[] {
  const written = (thing: Thing, field: string): string => {
    const value = analysis.values.get(`${thing.path}.${field}`);
    if (value === undefined) return "";
    const out = comesOut(value, analysis);
    if (out !== undefined) return out.text;
    return value.word === undefined ? "" : analysis.write(value);
  };
  const parts = things
    .filter((thing) => thing.is(orderKinds.part) && thing.owner === undefined)
    // Tools and assemblies are parts by kind, too; nobody orders them with this build.
    .filter((thing) => written(thing, "price") !== "" || sizes.some(([kind]) => thing.is(kind)))
    .map((thing): OrderLine => {
      const fields = sizes.find(([kind]) => thing.is(kind))?.[1] ?? [];
      const note = [written(thing, "supplier"), written(thing, "part_number")];
      return {
        quantity: written(thing, "quantity") || "1",
        title: thing.title ?? thing.name.replaceAll("_", " "),
        size: joined(fields.map((field) => written(thing, field))),
        note: joined(note),
        price: written(thing, "price"),
      };
    });
  const fasteners = joints.map(
    ({ title, count, thread = "", grade, notes }): OrderLine => ({
      quantity: String(count),
      title,
      size: joined([thread, grade === undefined ? "" : `grade ${grade}`]),
      note: notes.filter((note) => /new fasteners|locked with/.test(note)).join("; "),
      price: "",
    }),
  );
  return [...parts, ...tubes(analysis, things, written), ...fasteners];
}

// ───────────────────────────── helpers ─────────────────────────────

/** For each end whose tube is not there yet, or ends before the saw line. */
function tubes(
  analysis: Analysis,
  things: readonly Thing[],
  written: (thing: Thing, field: string) => string,
): OrderLine[] {
  return things.flatMap((thing) =>
    [...thing.parts.values()]
      .filter((part) => part.is(newTube.kind))
      .flatMap((part): OrderLine[] => {
        const length = written(part, newTube.length);
        const offcut = analysis.values.get(`${part.path}.${newTube.offcut}`)?.si;
        const housing = analysis.thingAt(`${thing.path}.${newTube.housing}`);
        if (length === "" || housing === undefined || (offcut !== undefined && offcut >= 0))
          return [];
        const [diameter, wall] = newTube.section.map((field) => written(housing, field));
        const across = [diameter, wall].every((text) => text !== "") ? `${diameter} x ${wall}` : "";
        return [
          {
            quantity: "1",
            title: `axle tube, ${part.title ?? part.name}`,
            size: joined([across, `${length} from the center section to the saw line`]),
            note: "what goes into the center section and a trial cut come on top",
            price: "",
          },
        ];
      }),
  );
}

function joined(parts: readonly string[]): string {
  return parts.filter((part) => part !== "").join(", ");
}
