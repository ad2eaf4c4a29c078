import type { PrintSettings } from '../document/index.ts';
import { mathFamily, sansFamily } from '../fonts/index.ts';

/** The style of a page, on screen and on paper: dark on light, one column, nothing that needs colour to be read. */
export function pageStyle(settings: PrintSettings): string {
  const paper = settings.paper === 'a4' ? 'A4' : 'letter';
  return `
:root{--ink:#1b1e23;--quiet:#555a61;--rule:#b9bec5;--tint:#f4f5f7;--caution:#b3261e;color-scheme:light}
*{box-sizing:border-box}
html{font-family:"${sansFamily}","Noto Sans","Liberation Sans",Arial,sans-serif;font-size:100%;line-height:1.5;color:var(--ink);background:#fff;hyphens:auto}
body{max-width:44rem;margin:0 auto;padding:1.5rem 1.25rem 3rem}
h1,h2,h3,h4{line-height:1.25;margin:1.8em 0 .5em;font-weight:700;hyphens:manual}
h1{font-size:1.75rem;margin-top:.5em}h2{font-size:1.3rem}h3{font-size:1.1rem}h4{font-size:1rem}
.subtitle{font-size:1.1rem;color:var(--quiet);margin-top:-.3em}
p,ul,ol,figure,.table,.equation,pre{margin:.8em 0}
li{margin:.25em 0}
a{color:#0b57a4}a:focus-visible,[tabindex]:focus-visible{outline:3px solid #0b57a4;outline-offset:2px}
.skip{position:absolute;left:-100vw}.skip:focus{position:static;display:inline-block;padding:.5em}
.heard{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.value{white-space:nowrap;font-variant-numeric:tabular-nums}
.blank{display:inline-block;border-bottom:1px solid var(--ink);height:1.1em;vertical-align:baseline;max-width:100%;position:relative}
math{font-family:"${mathFamily}",math}
.equation{display:flex;flex-wrap:wrap;gap:.3em 1.5em;align-items:center;justify-content:space-between;padding-left:1.5rem;overflow:auto hidden}
.equation>math{display:block math;width:auto;flex:none;text-align:left;margin:.2em 0;padding:.15em 0}
.equation .note{color:var(--quiet);flex:1 1 12rem;text-align:right}
.table{overflow-x:auto;position:relative}
table{border-collapse:collapse;min-width:50%}
caption{text-align:left;padding:0 0 .4em}
th,td{padding:.3em .8em;border-bottom:1px solid var(--rule);text-align:left;vertical-align:top}
thead th{border-bottom:2px solid var(--ink);vertical-align:bottom}
.right{text-align:right}td.right{font-variant-numeric:tabular-nums}td.narrow{white-space:nowrap}
.by-hand{min-width:8rem}tr.hand td{height:2.2em;vertical-align:middle}
td.empty{height:2.2em;border:1px solid var(--rule);position:relative}
figure svg,figure img{display:block;max-width:100%;height:auto}
figcaption{font-size:.92rem;color:var(--quiet);margin-top:.4em}
figcaption strong,caption strong{color:var(--ink)}
.caution{border:2px solid var(--caution);border-left-width:.6rem;padding:.4em 1.1em;margin:1.2em 0}
.caution .label{color:var(--caution);font-size:1.1rem}
.label{font-weight:700;margin:.3em 0}
.question{margin:1.2em 0}.together{white-space:nowrap}
.line{border-bottom:1px solid var(--rule);height:2.1em}
.answer,.teacher{background:var(--tint);border-left:4px solid var(--quiet);padding:.3em 1em;margin:.8em 0}
pre{background:var(--tint);padding:.8em 1em;overflow-x:auto;line-height:1.35}
code{font-family:"DejaVu Sans Mono","Liberation Mono",monospace;font-size:.9em;hyphens:none}
.references li{overflow-wrap:anywhere}
footer{margin-top:3rem;border-top:1px solid var(--rule);font-size:.8rem;color:var(--quiet);overflow-wrap:anywhere}
@page{size:${paper};margin:22mm 20mm 20mm;@bottom-right{content:counter(page);font-size:9pt}}
@media print{
html{font-size:10.5pt}body{max-width:none;margin:0;padding:0}.skip{display:none}a{color:inherit}
h1,h2,h3,h4,.label,.leads{break-after:avoid}figure,.caution,.equation,tr,.lines,.short-question,pre{break-inside:avoid}footer{break-before:avoid;break-inside:avoid}
p,li{orphans:3;widows:3}thead{display:table-header-group}.page-break{break-after:page}
.table,.equation{overflow:visible}.table.short{break-inside:avoid}pre{white-space:pre-wrap}
}`;
}
