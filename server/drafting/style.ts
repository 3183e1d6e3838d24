/**
 * How lines and letters look: line kinds, light, dark, high contrast and print, as one style sheet.
 *
 * Two widths in the ratio 2:1, 0.5 and 0.25 mm, and the dash patterns of ISO 128-2 (from memory):
 * dashed 12 and 3 line widths; long-dashed dotted 24, 3, a dot, 3. Meaning never hangs on color
 * alone: what is tight is heavy and hatched, what is not known is dashed.
 *
 * Colors are named by properties (`--ink`, `--paper`, `--part`, `--tight`, `--quiet`, `--band`) that
 * the place a drawing stands in may set. Must not know: what is drawn.
 */

/** For a drawing by itself: follows the reader's light or dark colors, black on white in print. */
export function styleAlone(): string {
  return `${lightColors(".drawing")}@media(prefers-color-scheme:dark){${darkColors(".drawing")}}@media print{${lightColors(".drawing")}}${drawingStyle}`;
}

export function lightColors(selector: string): string {
  return `${selector}{--ink:#16191d;--paper:#fff;--part:#16191d;--tight:#a3140a;--quiet:#5c6670;--band:#d9dee4;--lit:#0b57d0}`;
}

export function darkColors(selector: string): string {
  return `${selector}{--ink:#e6e9ec;--paper:#16191d;--part:#f4f6f8;--tight:#ff8a7a;--quiet:#9aa5b1;--band:#39424c;--lit:#8ab4f8}`;
}

/** Rules alone, without colors: once on a page that holds several drawings. */
export const drawingStyle = [
  ".drawing{background:var(--paper);color:var(--ink);font-family:Arial,Helvetica,'Liberation Sans',sans-serif}",
  ".drawing line,.drawing path,.drawing circle{fill:none;stroke:var(--ink);stroke-width:.25}",
  ".drawing .outline{stroke:var(--part);stroke-width:.5;stroke-linejoin:round}",
  ".drawing .heavy{stroke:var(--part);stroke-width:1}",
  ".drawing .hidden{stroke-dasharray:3 .75}",
  ".drawing .center{stroke-dasharray:6 .75 .25 .75}",
  ".drawing .phantom{stroke-dasharray:6 .75 .25 .75 .25 .75}",
  ".drawing .unknown{stroke:var(--quiet);stroke-dasharray:1.5 1}",
  ".drawing .hatching{stroke-width:.18;stroke:var(--ink)}",
  ".drawing .band{fill:var(--band);fill-opacity:.6;stroke:none}",
  ".drawing .arrow,.drawing .dot{fill:var(--ink);stroke:none}",
  ".drawing .bar{stroke-width:.3}",
  ".drawing .touch{fill:none;stroke:none;pointer-events:all}",
  ".drawing text{fill:var(--ink);stroke:none}",
  ".drawing .title,.drawing .strong{font-weight:600}",
  ".drawing .missing .measure,.drawing .missing .run,.drawing .missing .extension,.drawing .missing .leader{stroke-dasharray:1.5 1}",
  ".drawing .missing line,.drawing .missing path{stroke:var(--quiet)}",
  ".drawing .missing text{fill:var(--quiet);font-style:italic}",
  ".drawing .missing .touch{stroke:none}",
  ".drawing .tight .measure,.drawing .tight .run{stroke:var(--tight);stroke-width:.7}",
  ".drawing .tight text{fill:var(--tight);font-weight:700}",
  ".drawing .tight .arrow{fill:var(--tight)}",
  ".drawing .series0{stroke-width:.6}",
  ".drawing .series1{stroke-width:.6;stroke-dasharray:3 .75}",
  ".drawing .series2{stroke-width:.35;stroke-dasharray:6 .75 .25 .75}",
  ".drawing .series3{stroke-width:.35;stroke-dasharray:1 .8}",
  ".drawing .series4{stroke-width:.35;stroke-dasharray:6 .75 .25 .75 .25 .75}",
  ".drawing .grid{stroke:var(--band);stroke-width:.18}",
  ".drawing .filled{fill:var(--ink);stroke:none}",
  ".drawing .bubble{fill:var(--paper);stroke:var(--part);stroke-width:.5}",
].join("");
