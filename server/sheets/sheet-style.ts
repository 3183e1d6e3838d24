/** How sheets look, on screen and on paper. Must not know: what stands on them. */
import { darkColors, drawingStyle, lightColors } from "../drafting";

const sizes = { letter: "8.5in 11in", a4: "210mm 297mm" } as const;

export function sheetStyle(paper: "letter" | "a4"): string {
  return [
    `@page{size:${sizes[paper]};margin:12mm 12mm 14mm;@bottom-right{content:"page " counter(page) " of " counter(pages);font:8pt sans-serif}}`,
    lightColors(":root"),
    `@media screen and (prefers-color-scheme:dark){${darkColors(":root")}}`,
    `@media print{${lightColors(":root")}}`,
    drawingStyle,
    rules,
  ].join("\n");
}

const rules = `
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:10pt/1.35 Arial,Helvetica,'Liberation Sans',sans-serif}
table{border-collapse:collapse;width:100%}
th{text-align:left;font-weight:600}
small{font-weight:400;font-size:8pt;opacity:.75}
h3{margin:4mm 0 1.5mm;font-size:11pt;break-after:avoid}
p{margin:1.5mm 0}
.sheet{width:186mm;max-width:100%;margin:0 auto 12mm;border:0}
.sheet>tbody>tr>td,.sheet>thead>tr>th{padding:0;vertical-align:top}
.sheet>thead{display:table-header-group}
.block{display:grid;grid-template-columns:repeat(4,1fr);border:.5mm solid var(--ink);margin-bottom:3mm;font-weight:400;font-size:9pt}
.block>div{padding:.8mm 1.5mm;border:.15mm solid var(--ink);overflow-wrap:anywhere}
.block .station{font-size:14pt;font-weight:700}
.block .name{display:block;font-size:7pt;opacity:.75}
.caution,.finding{border:.3mm solid var(--ink);border-left-width:2mm;padding:1mm 2mm;break-inside:avoid}
.finding.error{border-style:double;border-width:1mm}
.finding.note{border-style:dotted;border-left-style:solid}
figure{margin:2mm 0;break-inside:avoid}
.paper{width:var(--wide);max-width:100%}
.paper svg{display:block;max-width:100%;height:auto}
.figures td,.figures th,.steps td,.steps th,.passes td,.passes th,.order td,.order th,.signs td{border:.15mm solid var(--ink);padding:.5mm 1.2mm;vertical-align:top}
.figures thead,.steps thead,.passes thead,.order thead{display:table-header-group;break-inside:avoid}
.figures tr,.steps tr,.passes tr,.order tr,.signs tr,.joint{break-inside:avoid}
.thing{break-after:avoid}
.thing th{border:0!important;padding-top:2.5mm!important}
.value{font-weight:700;white-space:nowrap}
.figures td:first-child,.figures td:nth-child(3){white-space:nowrap}
.how{font-size:7.5pt}
.blank{min-width:20mm;width:20mm}
.initials{min-width:10mm;width:10mm}
.steps .number{text-align:right;width:8mm}
.steps{margin-top:4mm}
.box{display:inline-block;width:4mm;height:4mm;border:.35mm solid var(--ink);text-align:center;line-height:3.6mm;font-size:9pt}
.hold{display:inline-block;margin-top:1mm;padding:.5mm 1.5mm;border:.5mm solid var(--ink);font-weight:700}
.line{font-size:9pt}
ol{columns:2;column-gap:6mm;font-size:8pt;padding-left:6mm}
.passes td,.passes th{white-space:nowrap}
.joint{border-top:.3mm solid var(--ink);margin-top:3mm}
.joint .beside{display:grid;grid-template-columns:minmax(0,auto) 1fr;gap:4mm;align-items:start}
.joint .paper{width:min(var(--wide),72mm)}
@media print{
body{font-size:9pt}
.sheet{break-before:page;margin:0}
.sheet:first-of-type{break-before:auto}
.turned .paper{width:var(--high);height:var(--wide);max-width:none}
.turned svg{width:var(--wide);height:var(--high);max-width:none;transform-origin:0 0;transform:translateY(var(--wide)) rotate(-90deg)}
}
`;
