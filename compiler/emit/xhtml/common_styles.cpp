// The styles themselves. Classes are given by block_writer.cpp, table_writer.cpp and control_block.cpp.

#include "emit/xhtml/style.hpp"

namespace stepward::emit::xhtml {

const char* common_styles() {
  return R"css(
* { box-sizing: border-box; }
html { color: #000; background: #fff; font-size: 100%; -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body { max-width: 54rem; margin: 0 auto; padding: 1.5rem; font-family: "Noto Sans", "Segoe UI", Roboto, Arial, Helvetica, sans-serif;
  font-size: 1.1667rem; line-height: 1.32; overflow-wrap: break-word;
  -webkit-print-color-adjust: exact; color-adjust: exact; print-color-adjust: exact; }
h1, h2, p, ul, dl, dt, dd { margin: 0; padding: 0; font-size: inherit; }
ul { list-style: none; }
a { color: inherit; text-decoration-thickness: .08em; text-underline-offset: .15em; }
a:focus-visible { outline: .2rem solid #000; outline-offset: .15rem; }
:target { outline: .2rem dashed #000; outline-offset: .2rem; }
.caption, dt.caption { font-size: .8333rem; font-weight: 700; letter-spacing: .06em; }

header { display: flex; flex-wrap: wrap; gap: .3rem 1.5rem; align-items: flex-start; padding-bottom: .5rem; border-bottom: .27rem solid #000; }
.mark { flex: 0 0 100%; padding: .2rem .8rem; border: .25rem solid #000; text-align: center; font-size: 1.5rem; font-weight: 700; letter-spacing: .2em; }
.mark-why { flex: 0 0 100%; padding: .2rem .6rem; color: #fff; background: #000; }
.across-face { position: fixed; inset: 0; z-index: -1; display: flex; align-items: center; justify-content: center; overflow: hidden;
  pointer-events: none; color: #e4e4e4; font-weight: 700; transform: rotate(-40deg); }
.names { flex: 1 1 12rem; }
h1 { font-size: 1.8333rem; line-height: 1.2; }
.filed { max-width: 38%; text-align: end; font-size: 1rem; }
.filed .number { font-size: 1.1667rem; font-weight: 700; }
.kind { font-weight: 600; text-transform: uppercase; letter-spacing: .03em; }
.reminder { flex: 0 0 100%; font-weight: 700; }
.check-words strong { display: inline-block; }

section, main { display: block; }
section { margin-top: 1rem; }
h2 { font-size: 1.3333rem; line-height: 1.25; padding-bottom: .1rem; border-bottom: .1rem solid #000; }
.zone { display: flex; align-items: stretch; padding: 0; border: .1rem solid #000; font-size: 1rem; letter-spacing: .06em; text-transform: uppercase; }
.zone span { padding: .3rem .8rem; }
.zone::before { content: ""; flex: 0 0 14%; }
.zone::after { content: ""; flex: 1 1 0; }
.zone.dense::before, .zone.dense::after { background: repeating-linear-gradient(135deg, #000 0 5px, #fff 5px 8px); }
.zone.sparse::before, .zone.sparse::after { background: repeating-linear-gradient(135deg, #000 0 1.5px, #fff 1.5px 10px); }
.box h2, .breach h2 { margin-top: 1.6rem; padding: .3rem .9rem; border: .17rem solid #000; font-size: 1.4167rem; }
.breach h2 { color: #fff; background: #000; }
.box .name { font-weight: 400; }
.name { margin-inline-start: .5rem; }
.when { padding: .2rem .9rem; }
.breaches { padding-inline-start: 1rem; border-inline-start: 6mm solid #9b2423; }
h2 + p, h2 + .warning, table + p { margin-top: .35rem; }

.warning { margin: .4rem 0; padding-inline-start: .6rem; border-inline-start: .42rem solid #000; font-size: 1.0417rem; }
.step, .question, .notice, .spoken { display: grid; column-gap: .7rem; padding: .5rem 0; }
.step { grid-template-columns: 7mm minmax(3rem, auto) minmax(0, 1fr) auto; border-bottom: 1px solid #767676; }
.step .warning { grid-column: 3 / -1; }
.tick { display: inline-block; width: 7mm; height: 7mm; border: .11rem solid #000; background: #fff; }
.step .tick { grid-column: 1; }
.step .label { grid-column: 2; }
.step .body { grid-column: 3; }
.side { grid-column: 4; max-width: 10rem; text-align: end; font-size: 1rem; }
.label { justify-self: end; font-size: 1.5833rem; font-weight: 700; line-height: 1.65rem; white-space: nowrap; }
.branch .label, .aside .label, .question .label, .notice .label, td .label, th .label { font-size: 1.3333rem; }
.in-disc { min-width: 2.1rem; margin-block-start: -.2rem; padding: .2rem .5rem; border-radius: 2rem; text-align: center; color: #fff; background: #000; }
.act { font-size: 1.25rem; }
.aside .act, .manner { font-size: 1.0417rem; }
.clock { display: inline-block; padding: 0 .5rem; border: .1rem solid #000; border-radius: .4rem; font-size: 1.0833rem; font-weight: 700; white-space: nowrap; }
.question, .notice { grid-template-columns: calc(7mm + 3.7rem) minmax(0, 1fr); }
.question .label { font-size: 1.1667rem; padding-top: .45rem; }
.frame { grid-column: 2; padding: .4rem .7rem; border: .1rem solid #000; border-start-end-radius: .7rem; border-end-start-radius: .7rem; border-end-end-radius: .7rem; }
.ask { font-weight: 700; }
.frame dl div { display: grid; grid-template-columns: minmax(3.4rem, auto) minmax(0, 1fr); column-gap: .7rem; margin-top: .15rem; }
.frame dt { font-weight: 700; }
.notice p { grid-column: 2; }
.branch, .branch-title { margin-inline-start: .2rem; padding-inline-start: .5rem; border-inline-start: .25rem solid #000; }
.branch-title { padding-top: .3rem; padding-bottom: .2rem; font-weight: 700; }
.end { padding: .4rem 0 .5rem calc(7mm + 4.4rem); border-bottom: .1rem solid #000; }
.stops { margin: .5rem 0 .5rem calc(7mm + 3.7rem); padding: .3rem .7rem; border: .15rem solid #000; }
.end span { display: inline-block; margin-inline-end: .35em; }
[dir="rtl"] .end { padding-left: 0; padding-right: calc(7mm + 4.4rem); }
[dir="rtl"] .stops { margin: .5rem calc(7mm + 3.7rem) .5rem 0; padding: .3rem .7rem; }
[dir="rtl"] .end span { transform: scaleX(-1); }

.spoken { grid-template-columns: minmax(3.4rem, auto) minmax(0, 1.15fr) minmax(0, .85fr); column-gap: 1rem; border-bottom: 1px solid #767676; }
.spoken .warning { grid-column: 2 / -1; }
.spoken .label { grid-column: 1; font-size: 2rem; line-height: 2.4rem; }
.branch .spoken .label { font-size: 1.4167rem; }
.spoken .body { grid-column: 2; }
.spoken .body:last-child { grid-column: 2 / -1; }
.look { grid-column: 3; padding-inline-start: .8rem; border-inline-start: 1px solid #000; }
.spoken dl div { margin-bottom: .2rem; }
.say dd { font-size: 1.3333rem; font-weight: 600; line-height: 1.25; }
.hear, .do { display: grid; column-gap: .4rem; grid-template-columns: minmax(3.4rem, max-content) minmax(0, 1fr); align-items: baseline; }
.time { display: flex; flex-wrap: wrap; gap: .5rem; align-items: baseline; }
.remark { margin-top: .3rem; font-size: 1rem; }

table { width: 100%; margin-top: .5rem; border-collapse: collapse; font-size: 1.0417rem; }
th, td { padding: .4rem .5rem; border-bottom: 1px solid #767676; text-align: start; vertical-align: top; font-weight: 400; }
thead th, thead td { border-bottom: .1rem solid #000; vertical-align: bottom; font-size: .8333rem; font-weight: 700; }
.across { font-weight: 700; }
td.figure, th.figure { font-size: 1.25rem; font-weight: 700; white-space: nowrap; }
thead th.figure { font-size: .8333rem; white-space: normal; }
td.number, th.number { width: 1%; text-align: end; white-space: nowrap; }
td.box, th.box { width: 1%; text-align: center; }
td.pen { height: 10mm; }
.to-fill-in th, .to-fill-in td { border: 1px solid #767676; }
.fields td { padding: 0; }
.fields ul { display: flex; flex-wrap: wrap; margin: 0; padding: 0; list-style: none; }
.fields li { flex: 1 1 4.5rem; min-height: 15mm; padding: .2rem .5rem; border-inline-end: 1px solid #767676; font-size: .8333rem; font-weight: 700; }
.fields li:last-child { border: 0; }

footer { display: flex; gap: 1rem; align-items: flex-start; margin-top: 1.5rem; padding-top: .5rem; border-top: .15rem solid #000; font-size: .8333rem; }
tbody th:only-child, tbody td:only-child { overflow-wrap: anywhere; }
.drawing svg { max-width: 100%; height: auto; }
footer svg { flex: none; width: 23mm; height: 23mm; }
.facts li { display: inline; }
.facts li + li::before { content: " · "; }
.check-words { font-size: 1rem; }

@media screen and (max-width: 42rem) {
  body { padding: .9rem; }
  .breaches { padding-inline-start: .6rem; border-inline-start-width: 3mm; }
  .filed { flex: 0 0 100%; max-width: none; text-align: start; }
  h1 { font-size: 1.5rem; }
  .step { grid-template-columns: 7mm minmax(1.6rem, auto) minmax(0, 1fr); }
  .side { grid-column: 3; max-width: none; text-align: start; display: flex; flex-wrap: wrap; gap: .2rem .8rem; align-items: center; padding-top: .2rem; }
  .step .warning, .spoken .warning { grid-column: 1 / -1; }
  .question, .notice { grid-template-columns: minmax(2.4rem, auto) minmax(0, 1fr); }
  .question .label { font-size: 1rem; }
  .frame dl div { grid-template-columns: minmax(2.6rem, auto) minmax(0, 1fr); }
  .end { padding-left: 3.1rem; }
  [dir="rtl"] .end { padding-right: 3.1rem; }
  .stops { margin-left: 2.4rem; padding-left: .7rem; }
  [dir="rtl"] .stops { margin-left: 0; margin-right: 2.4rem; padding-left: .7rem; padding-right: .7rem; }
  .branch, .branch-title { margin-inline-start: 0; }
  .branch .label { font-size: 1.1667rem; }
  .spoken { grid-template-columns: minmax(1.8rem, auto) minmax(0, 1fr); column-gap: .7rem; }
  .spoken .label, .branch .spoken .label { font-size: 1.4167rem; line-height: 1.6rem; }
  .look { grid-column: 2; margin-top: .3rem; }
  .hear, .do { grid-template-columns: minmax(2.9rem, max-content) minmax(0, 1fr); }
  .zone::before { flex-basis: 8%; }
  table { font-size: 1rem; }
  th, td { padding: .35rem .25rem; }
  td.figure, th.figure { white-space: normal; }
  thead th { overflow-wrap: anywhere; hyphens: auto; }
  footer { flex-direction: column; }
}
@media screen and (max-width: 26rem) {
  th, td { overflow-wrap: anywhere; hyphens: auto; }
}

@media print {
  html { font-size: 12pt; }
  body { max-width: none; padding: 0; }
  .breaches { padding-inline-start: 4mm; }
  h2, .branch-title, .when, .notice, thead { break-after: avoid; }
  .step, .question, .notice, .spoken, .warning, tr, header, footer { break-inside: avoid; }
  .question, .end, footer, tbody tr:first-child { break-before: avoid; }
  .breaches .breach { break-before: page; }
  .breaches .breach:first-of-type { break-before: auto; }
  .whole { break-inside: avoid; }
  .opens-face { break-before: page; }
  .fields { break-before: avoid; }
  p { orphans: 3; widows: 3; }
  a { text-decoration: none; }
}
)css";
}

}  // namespace stepward::emit::xhtml
