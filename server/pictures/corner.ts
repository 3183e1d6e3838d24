/**
 * One side of an axle as places along the vehicle's width: distances from the centerline in
 * millimeters, positive outboard, each known or standing in for what is not.
 *
 * A stand-in keeps the order of the parts and nothing more: who draws it dashes it. Must not know:
 * how anything is drawn.
 */

import type { FigureLabel } from "../drafting";
import type { Thing } from "../model/thing";
import type { PictureFigure, PictureFigures } from "./figures";
import { axleParts } from "./vocabulary";

export interface DrawnPlace {
  readonly at: number;
  readonly known: boolean;
  readonly figure: PictureFigure;
}

export interface Corner {
  readonly path: string;
  readonly thing: Thing | undefined;
  /** -1 left, 1 right of the picture. */
  readonly sign: 1 | -1;
  readonly half: DrawnPlace;
  readonly mount: DrawnPlace;
  /** Where the wheel sits: the mounting face, or the spacer's. */
  readonly face: DrawnPlace;
  readonly flangeFace: DrawnPlace;
  readonly center: DrawnPlace;
  readonly inner: DrawnPlace;
  readonly outer: DrawnPlace;
  readonly innerLimit: DrawnPlace;
  readonly outerLimit: DrawnPlace;
  readonly innerGap: PictureFigure;
  readonly outerGap: PictureFigure;
  /** From the housing's center. */
  readonly mark: DrawnPlace;
  /** From the vehicle's centerline, positive to the right. */
  readonly tip: DrawnPlace;
  readonly housingCenter: number;
  readonly diameter: DrawnPlace;
  readonly rim: {
    readonly known: boolean;
    readonly radius: DrawnPlace;
    readonly overall: DrawnPlace;
    /** Height of the rim's flange over the bead seat, as drawn. */
    readonly lip: number;
  };
  /** Half of what is drawn of the tube's and the flange's diameter. */
  readonly tube: number;
  readonly flange: number;
  readonly shaftDiameter: PictureFigure;
  /** From the tip outward. */
  readonly splineLength: PictureFigure;
  figures(field: string, name: string): FigureLabel;
}

const usual = {
  half: 700,
  endToFace: 70,
  faceToCenter: 12,
  width: 240,
  diameter: 690,
  rim: 200,
  tube: 80,
  endLength: 55,
  standoff: 62,
  tip: 15,
  flange: 75,
  /** Of a common rim flange (from memory); drawn, never measured. */
  lip: 17,
};

export function cornerOf(figures: PictureFigures, axle: Thing, name: string, sign: 1 | -1): Corner {
  const thing = figures.thing(axle, name);
  const housing = figures.thing(axle, axleParts.housing);
  const wheel = figures.thing(axle, axleParts.wheel);
  const tire = figures.thing(axle, axleParts.tire);
  const hub = figures.thing(axle, axleParts.hub);
  const carrier = figures.thing(axle, axleParts.carrier);
  const own = (field: string): PictureFigure => figures.of(thing, field);
  const place = (figure: PictureFigure, ...instead: readonly number[]): DrawnPlace => {
    const usable = instead.find(Number.isFinite) ?? 0;
    return { at: figure.known ? figure.mm : usable, known: figure.known, figure };
  };
  const limit = own("inner_limit");
  const width = own("mounted_width");
  const section = figures.of(tire, "section_width");
  const wide = width.known ? width.mm : section.known ? section.mm : usual.width;
  const offset = figures.of(wheel, "offset");
  const toCenter = offset.known ? offset.mm : usual.faceToCenter;
  const standoff = figures.of(housing, "standoff");
  const hat = figures.of(figures.thing(axle, axleParts.brake), "hat_thickness");
  const toFace = standoff.known && hat.known ? standoff.mm + hat.mm : usual.endToFace;
  const [halfFigure, mountFigure, centerFigure] = [
    own("half"),
    own("mount_face"),
    own("tire_center"),
  ];
  const mount = place(
    mountFigure,
    centerFigure.mm + toCenter,
    halfFigure.mm + toFace,
    limit.mm + 30 + wide / 2 + toCenter,
    usual.half + usual.endToFace,
  );
  const half = place(halfFigure, mount.at - toFace);
  const spacer = own("spacer");
  const face: DrawnPlace = {
    at: mount.at + (spacer.known ? spacer.mm : 0),
    known: mount.known && spacer.known,
    figure: spacer,
  };
  const center = place(centerFigure, face.at - toCenter);
  const flangeFace: DrawnPlace = {
    at: half.at + (standoff.known ? standoff.mm : usual.standoff),
    known: half.known && standoff.known,
    figure: standoff,
  };
  const setOver = figures.of(axle, "set_over");
  const housingCenter = setOver.known ? setOver.mm : 0;
  const endLength = figures.of(housing, "end_length");
  const mark = place(
    own("tube_mark"),
    half.at - sign * housingCenter - (endLength.known ? endLength.mm : usual.endLength),
  );
  const carried = figures.of(carrier, "offset");
  const shaft = own("shaft_length");
  const tip: DrawnPlace = {
    at: shaft.known
      ? sign * (flangeFace.at - shaft.mm)
      : housingCenter + (carried.known ? carried.mm : 0) + sign * usual.tip,
    known: shaft.known && flangeFace.known,
    figure: shaft,
  };
  const rimDiameter = figures.of(wheel, "size.diameter");
  const overall = figures.of(wheel, "overall_width");
  const tube = figures.of(housing, "tube_diameter");
  const circle = figures.of(hub, "stud_circle.diameter");
  const pattern = figures.of(wheel, "stud_circle.diameter");
  const studs = circle.known ? circle : pattern;
  return {
    path: thing?.path ?? `${axle.path}.${name}`,
    thing,
    sign,
    half,
    mount,
    face,
    flangeFace,
    center,
    inner: place(own("inner_sidewall"), center.at - wide / 2),
    outer: place(own("outer_sidewall"), center.at + wide / 2),
    innerLimit: place(limit),
    outerLimit: place(own("outer_limit")),
    innerGap: own("inner_gap"),
    outerGap: own("outer_gap"),
    mark,
    tip,
    housingCenter,
    diameter: place(figures.of(tire, "overall_diameter", "Ø"), usual.diameter),
    rim: {
      known: rimDiameter.known && overall.known,
      radius: {
        at: rimDiameter.known ? rimDiameter.mm / 2 : usual.rim,
        known: rimDiameter.known,
        figure: rimDiameter,
      },
      overall: place(overall, wide * 0.9),
      lip: usual.lip,
    },
    tube: (tube.known ? tube.mm : usual.tube) / 2,
    flange: studs.known ? studs.mm / 2 + 18 : usual.flange,
    shaftDiameter: figures.of(figures.thing(thing, "shaft"), "diameter"),
    splineLength: figures.of(figures.thing(thing, "shaft"), "spline_length"),
    figures: (field, spoken) => figures.of(thing, field, spoken).reading,
  };
}
