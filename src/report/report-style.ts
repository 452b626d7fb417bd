// report: the style sheet of report.html; light by default, dark where the reader asks for it, plain on paper.

/** The report's style. Colours keep a contrast of at least 4.5 : 1 against their ground, light and dark. */
export const REPORT_STYLE = `
:root { color-scheme: light dark; --ink: #1b2530; --quiet: #4f5b66; --ground: #ffffff; --band: #f2f4f6; --line: #c6ccd2; --mark: #8a1c3c; --warn: #7a4a00; }
@media screen and (prefers-color-scheme: dark) {
  :root { --ink: #e4e9ee; --quiet: #a9b4be; --ground: #14191e; --band: #1e252c; --line: #3b4650; --mark: #ff9db4; --warn: #ffc46b; }
}
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.5rem 1.25rem 3rem; max-width: 68rem; background: var(--ground); color: var(--ink);
  font: 1rem/1.5 system-ui, "Segoe UI", "Noto Sans", "DejaVu Sans", sans-serif; overflow-wrap: break-word; }
h1 { margin: 0; font-size: 1rem; font-weight: 600; color: var(--quiet); }
h2 { margin: 2rem 0 .5rem; font-size: 1.15rem; }
p { margin: .4rem 0; max-width: 46rem; }
.verdict { margin: .3rem 0 .8rem; font-size: 1.5rem; line-height: 1.3; font-weight: 600; }
.next { padding: .6rem .9rem; border-left: .3rem solid var(--mark); background: var(--band); max-width: none; }
.next b { color: var(--mark); }
.quiet { color: var(--quiet); }
.warning { color: var(--warn); font-weight: 600; }
figure { margin: 1.2rem 0 0; }
figure img { display: block; width: 100%; height: auto; background: #fff; border: 1px solid var(--line); }
figcaption { margin-top: .4rem; font-size: .875rem; color: var(--quiet); }
.scroll { overflow-x: auto; }
.larger { display: none; }
table { border-collapse: collapse; width: 100%; font-size: .9375rem; }
th, td { padding: .35rem .6rem .35rem 0; text-align: left; vertical-align: top; border-bottom: 1px solid var(--line); }
thead th { border-bottom: 2px solid var(--quiet); font-weight: 600; }
tbody th { font-weight: 600; }
td.number, th.number { text-align: right; padding-right: 1rem; white-space: nowrap; font-variant-numeric: tabular-nums; }
td.words { min-width: 10rem; overflow-wrap: anywhere; }
td.hash { min-width: 14rem; overflow-wrap: anywhere; font: .8125rem/1.5 ui-monospace, "DejaVu Sans Mono", monospace; }
tbody th { max-width: 18rem; overflow-wrap: anywhere; min-width: 3rem; }
tbody th:has(~ .hash) { min-width: 10rem; }
td.name { min-width: 6rem; max-width: 18rem; overflow-wrap: anywhere; }
td ul, .cautions { margin: 0; padding-left: 1.1rem; }
.cautions li { margin: .25rem 0; max-width: 46rem; }
footer { margin-top: 2.5rem; padding-top: .6rem; border-top: 1px solid var(--line); font-size: .875rem; color: var(--quiet); }
@media screen and (max-width: 44rem) { body { padding: 1rem .75rem 2rem; } td.words { min-width: 14rem; } td.words:nth-child(2):last-child { min-width: 8rem; } .verdict { font-size: 1.25rem; } }
/* Narrow: a row's cells stand beside each other as far as there is room, reasons and hashes below them, and nothing has to
   be scrolled sideways to be read. */
@media screen and (max-width: 44rem) {
  tr:has(> .words:last-child:not(:nth-child(2)), > .hash:last-child) { display: flex; flex-wrap: wrap; column-gap: 1.1rem; border-bottom: 1px solid var(--line); }
  thead tr:has(> .words:last-child:not(:nth-child(2)), > .hash:last-child) { display: none; }
  tbody tr:has(> .words:last-child:not(:nth-child(2)), > .hash:last-child) {
    > * { min-width: 0; max-width: 100%; padding-right: 0; border: 0; text-align: left; white-space: normal; overflow-wrap: anywhere; }
    > [data-of]::before { content: attr(data-of); display: block; font-size: .75rem; font-weight: 400; color: var(--quiet); }
    > td.words:not(:nth-child(2)), > .hash { flex-basis: 100%; }
  }
}
@media screen and (max-width: 44rem) {
  .larger { display: flex; align-items: center; gap: .5rem; min-height: 2.75rem; font-size: .875rem; }
  .larger:has(:checked) + .scroll img { width: auto; max-width: none; }
}
@page { margin: 14mm 14mm 16mm; @bottom-right { content: counter(page) " / " counter(pages); font-size: 9pt; } }
@media print {
  body { padding: 0; max-width: none; font-size: 10pt; }
  .verdict { font-size: 15pt; }
  h2 { margin-top: 14pt; break-after: avoid; }
  figure, tr, p, .cautions li { break-inside: avoid; }
  figure img { max-height: 150mm; width: auto; max-width: 100%; margin: 0 auto; border: 0; }
  thead { display: table-header-group; }
  table { font-size: 9pt; }
  .scroll { overflow: visible; }
  th, td { padding-right: .4rem; }
  td.number, th.number { padding-right: .6rem; }
  td.words, td.hash { min-width: 5rem; }
  .next { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`;
