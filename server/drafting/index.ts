/**
 * The room of drafting: lines, dimensions, names and plots laid out on paper as plain shapes, by the
 * drawing standards. It knows no build and no trade.
 */
export {
  Draft,
  type DrawnDimension,
  type FigureLabel,
  type LineKind,
  type Note,
  type Side,
} from "./drawing";
export { type Drawing, type LayOptions, layOut } from "./layout";
export { labelOf, letter } from "./lettering";
export { barPlot, dotRows, linePlot, type Series, spreadPlot } from "./plot";
export { fullSize, type Scale, scaleFor } from "./scale";
export * from "./shape";
export { standalone } from "./standalone";
export { darkColors, drawingStyle, lightColors, styleAlone } from "./style";
