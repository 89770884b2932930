"""The style of every page: made to be printed on A4 in black and white, and to be read on a screen.

The running head of a printed page is put in for ``RUNNING``. Two letterings: the page, and what is read with a finger on it.
"""

from __future__ import annotations

from outputs.sheet.lettering import FAMILY

FACES = ", ".join(f'"{name}"' if name != "sans-serif" else name for name in FAMILY if name != "Dosis")
"""The face of the sheets, which a page carries in itself; what an old reader shows in its place."""
LARGER = "106%"
"""Of the nominal size: the capitals of the sheets' face are lower than those of a face for print."""

STYLE = """
@page { size: A4; margin: 13mm 11mm 8mm;
  @top-left { content: "RUNNING"; FONT; vertical-align: bottom; padding-bottom: 2mm; white-space: nowrap }
  @top-right { content: "page " counter(page) " of " counter(pages); FONT; vertical-align: bottom; padding-bottom: 2mm; white-space: nowrap } }
* { box-sizing: border-box }
body { FONT; line-height: 1.18; color: #111; background: #fff;
  max-width: 200mm; margin: 0 auto; padding: 6mm 8mm }
h1 { font-size: 14pt; line-height: 1.1; margin: 0 0 0.5mm }
h2 { font-size: 10.5pt; margin: 1.9mm 0 0.5mm; border-bottom: 0.4mm solid #111 }
h3 { font-size: 9.2pt; margin: 1.8mm 0 0.6mm }
h4 { font-size: 8pt; margin: 0 }
h1, h2, h3, h4, caption { break-after: avoid; break-inside: avoid }
h2 + p, h2 + ul, h3 + p { break-after: avoid; break-inside: avoid }
main, #cautions { break-after: avoid }
footer { break-before: avoid }
.end { break-inside: avoid }
#section { break-inside: avoid }
p { margin: 0.5mm 0 }
ul { margin: 0.6mm 0; padding-left: 4mm }
li { margin: 0.2mm 0 }
table { border-collapse: collapse; width: 100%; margin: 0.8mm 0; font-size: 7pt; line-height: 1.13 }
caption { text-align: left; font-weight: bold; padding: 0.6mm 0 }
th, td { border: 0.15mm solid #999; padding: 0.2mm 0.9mm; text-align: left; vertical-align: top }
thead th { background: #ececec }
tbody th { font-weight: normal }
tr { break-inside: avoid }
thead { break-after: avoid }
tbody tr:first-child { break-before: avoid }
tbody tr:nth-child(-n+2) { break-after: avoid }
tbody tr:nth-last-child(-n+2) { break-before: avoid }
table:not(.matrix):not(:has(tbody tr:nth-child(13))) { break-inside: avoid }
.num { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums }
thead .num { white-space: normal }
.small, .source { font-size: 6.4pt; color: #333 }
.name { font-weight: bold }
.code { white-space: nowrap }
.verdict { font-weight: bold; white-space: nowrap; padding: 0 0.8mm; border: 0.3mm solid; border-radius: 0.8mm; font-size: 90% }
.verdict, .flag { display: inline-block; line-height: 1; margin: 0.25mm 0 }
.fail { color: #fff; background: #8f0000; border-color: #8f0000 }
.look { color: #111; background: #e8e0c8 }
.pass { color: #111; background: #fff; border-color: #999 }
.open { color: #111; background: #fff; border-style: dashed }
.default { font-weight: bold; border-bottom: 0.3mm dashed #111 }
.basis { font-size: 6.6pt; font-weight: normal; color: #333 }
.basis.weak { font-weight: bold; border: 0.2mm solid #333; padding: 0 0.5mm; color: #111 }
.result { white-space: nowrap }
.warn { border: 0.4mm solid #111; border-left-width: 2mm; padding: 0.8mm 2mm; margin: 1.2mm 0; break-inside: avoid }
.state { font-size: 11pt; border: 0.5mm solid #111; padding: 0.3mm 1.5mm }
.state.fail { border-color: #8f0000 }
.state.look, .state.pass { color: #111 }
.field { font-size: 6pt; color: #333 }
.facts td { width: 20% }
.sign td { width: 33% }
.sign .blank { height: 10mm }
#approval .sign td { width: 23% }
#open-questions td:last-child { min-width: 26mm }
.flag { min-width: 5mm; text-align: center; font-weight: bold; border: 0.3mm solid #111 }
.flags { table-layout: fixed; font-size: 7.2pt }
.flags th:nth-child(1) { width: 12mm }
.flags th:nth-child(3) { width: 14mm }
.flags th:nth-child(4) { width: 15mm }
.flags th:nth-child(5) { width: 16mm }
.flags th:nth-child(6) { width: 10mm }
.flags th:nth-child(7) { width: 45mm }
.alike th:nth-child(7) { width: 56mm }
.more th:nth-child(7) { width: 67mm }
.most th:nth-child(7) { width: 78mm }
.flags td { overflow-wrap: break-word }
.flags .num { white-space: normal }
.small-columns { columns: 2; column-gap: 5mm; font-size: 6.6pt; line-height: 1.14 }
.small-columns h3 { font-size: 7.6pt; margin: 0.8mm 0 0.3mm }
.small-columns li { break-inside: avoid }
.small-columns .small { font-size: inherit }
.beside { display: flex; gap: 3mm; align-items: flex-start }
.beside > figure { flex: none }
.beside > table { flex: 1 }
.sizes { font-size: 6.4pt; line-height: 1.1 }
.sizes th, .sizes td { padding: 0.12mm 0.7mm }
.sizes .small { font-size: 5.8pt }
.entries { columns: 4; column-gap: 3mm }
.entries table { font-size: 6.1pt; line-height: 1.08 }
.entries th, .entries td { padding: 0.1mm 0.6mm }
.entries th { width: 7mm }
.entries .group { break-after: avoid }
.entries .table-name { font-style: italic; background: #f2f2f2 }
.entries td { overflow-wrap: anywhere }
.entries td:last-child { white-space: nowrap; overflow-wrap: normal }
.entries .table-name { white-space: normal }
.passed { font-size: 6.6pt; line-height: 1.09; table-layout: fixed }
.passed th:nth-child(5n+1) { width: 44mm }
.passed th:nth-child(5n+2) { width: 22mm }
.passed th:nth-child(5n+3) { width: 14mm }
.passed th:nth-child(5n+4) { width: 8mm }
.passed th:nth-child(5n) { width: 5mm }
.passed th, .passed td { padding: 0.2mm 0.7mm }
.passed .num { text-align: left; white-space: normal }
.buy { font-size: 6.7pt }
.buy .num { text-align: left; white-space: normal }
.sums { columns: 2; column-gap: 5mm }
.sum { break-inside: avoid; border-top: 0.2mm solid #999; padding: 0.2mm 0 0.4mm; font-size: 6.9pt; line-height: 1.12 }
.sums h3 { margin: 1.1mm 0 0.5mm }
.sum p { margin: 0.1mm 0 }
.sum .formula { padding-left: 5mm; text-indent: -2.5mm }
.sum .worked { padding-left: 5mm; text-indent: -2.5mm }
.sum .words { font-style: italic }
.sum .source { font-weight: normal; line-height: 1.1 }
.sum .held { padding-left: 2.5mm; font-weight: bold }
.sum sub { font-size: 5.4pt; color: #333; vertical-align: -0.5mm; line-height: 0; padding-right: 0.3mm }
sub a { color: inherit; text-decoration: none }
.sum var, th var { font-style: italic; font-weight: bold }
.what { color: #333 }
.wide, .wide table { break-inside: auto }
.results { font-size: 7pt; width: auto; margin-left: 2.5mm }
.cases { font-size: 6.9pt }
.stations { font-size: 6pt; line-height: 1.1 }
.stations th, .stations td { padding: 0.05mm 0.6mm }
.first { border-left: 0.4mm solid #111 }
.hidden { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%) }
.matrix { font-size: 6.6pt; table-layout: fixed }
.matrix th:nth-child(1) { width: 40mm }
.matrix th:nth-child(2) { width: 8mm }
.matrix thead th { font-size: 6pt; hyphens: manual; padding: 0.3mm 0.4mm }
.matrix .num { white-space: normal }
.matrix th, .matrix td { padding: 0.15mm 0.5mm }
.stacks th { hyphens: auto }
.stacks { columns: 2; column-gap: 5mm }
.places { columns: 2; column-gap: 5mm }
.stacks table { break-inside: avoid; font-size: 6.6pt }
.places table, .blocks { font-size: 6.2pt; line-height: 1.1 }
.places th, .places td, .blocks th, .blocks td { padding: 0.1mm 0.5mm }
#stress table { font-size: 6.6pt; line-height: 1.1 }
#stress th, #stress td { padding: 0.12mm 0.9mm }
.pressed { table-layout: fixed }
.pressed th:nth-child(3n+1) { width: 50mm }
.pressed .num { text-align: left; white-space: normal }
#movement table { font-size: 6.6pt }
#movement td, #movement tbody th { white-space: nowrap }
#day p, #proven p, #movement p { font-size: 7.2pt }
.proven { font-size: 6pt; table-layout: fixed; line-height: 1.06 }
.proven .num { text-align: left; white-space: normal }
.proven th:nth-child(5n+1) { width: 25mm }
.proven th:nth-child(5n+2) { width: 7mm }
.proven th:nth-child(5n+3) { width: 42mm }
.proven th:nth-child(5n+4) { width: 7mm }
.proven th:nth-child(5n) { width: 11mm }
.proven th, .proven td { padding: 0.12mm 0.6mm }
.clock { columns: 2; column-gap: 5mm }
.clock table { break-inside: avoid; margin-top: 0; font-size: 6.7pt }
.pictures { display: flex; flex-wrap: wrap; gap: 1.5mm 1mm; align-items: flex-end; justify-content: space-between }
.pictures figure { flex: 0 0 auto }
figure { margin: 0.7mm 0; break-inside: avoid }
figcaption { font-size: 6.6pt; line-height: 1.12 }
svg { max-width: 100%; height: auto; display: block }
@media print { body { padding: 0 0.3mm 0 0; max-width: none } a { color: inherit; text-decoration: none } }
@media screen and (max-width: 700px) { .sums, .clock, .entries, .small-columns, .stacks th { hyphens: auto } .stacks,
  .places { columns: 1 } .wide-table { overflow-x: auto } .beside { display: block } }
""".replace("FONT", f"font: 8pt {FACES}")

__all__ = ["LARGER", "STYLE"]
