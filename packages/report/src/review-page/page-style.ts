import { ink, okabeIto, paper } from '../lineage/palette.ts';

/**
 * One accent, Okabe and Ito's blue, darker on paper and lighter on dark so that text keeps the contrast of WCAG 2.2
 * (4.5 to 1). Pictures stand on paper in both themes, since their ink is dark.
 */
export const pageStyle = `
:root {
  color-scheme: light dark;
  --page: ${paper.page}; --card: ${paper.card}; --ink: ${ink.full}; --soft: ${ink.soft};
  --hair: ${paper.hair}; --edge: #8C867A; --accent: #00598C; --wash: #EDF3F7; --stop: #9A4300;
}
@media (prefers-color-scheme: dark) {
  :root {
    --page: #15171B; --card: #1C1F24; --ink: #ECE8DF; --soft: #ABB0B9;
    --hair: #30343B; --edge: #7A808A; --accent: ${okabeIto.skyBlue}; --wash: #1F2A33; --stop: #FF9F66;
  }
  .still img, .thumb, .mini { filter: brightness(0.86); }
}
* { box-sizing: border-box; }
[hidden] { display: none !important; }
html { scroll-behavior: smooth; }
body { margin: 0; background: var(--page); color: var(--ink); font: 15px/1.55 system-ui, sans-serif; }
header, main, footer { max-width: 1180px; margin: 0 auto; padding: 0 32px; }
header { padding-top: 44px; }
h1, h2, h3 { font-family: ui-serif, Georgia, serif; font-weight: 500; line-height: 1.25; margin: 0; text-wrap: balance; overflow-wrap: anywhere; }
h1 { font-size: 34px; letter-spacing: -0.01em; margin-top: 6px; }
h2 { font-size: 24px; }
h3 { font-size: 15px; font-family: inherit; font-weight: 600; }
p { margin: 0; }
a { color: var(--accent); text-underline-offset: 3px; }
code, .mono { font: 0.92em/1.5 ui-monospace, monospace; overflow-wrap: anywhere; }
.over { color: var(--soft); letter-spacing: 0.04em; }
.soft { color: var(--soft); }
.fine { color: var(--soft); font-size: 13px; }
ul, ol { margin: 0; padding: 0; list-style: none; }
:focus-visible { outline: 2px solid var(--accent); outline-offset: 2px; border-radius: 2px; }
.decision { display: grid; grid-template-columns: auto 1fr; gap: 4px 22px; margin-top: 30px; padding: 24px 28px; background: var(--card); border: 1px solid var(--hair); border-left: 6px solid var(--accent); }
.decision.blocked { border-left-color: var(--stop); }
.decision .word { font: 500 27px/1.2 ui-serif, Georgia, serif; grid-column: 1 / -1; }
.decision.blocked .word { color: var(--stop); }
.decision .why { grid-column: 1 / -1; max-width: 74ch; }
.counts { display: flex; flex-wrap: wrap; gap: 6px 26px; margin-top: 12px; grid-column: 1 / -1; }
.counts b { font-weight: 600; font-variant-numeric: tabular-nums; }
.findings { margin-top: 18px; border-top: 1px solid var(--hair); }
.findings li { display: grid; grid-template-columns: 108px 1fr; gap: 2px 16px; padding: 10px 0; border-bottom: 1px solid var(--hair); overflow-wrap: anywhere; }
.findings .what { font-weight: 600; }
.findings .stops .what { color: var(--stop); }
.findings .more { grid-column: 2; }
.rest > summary { padding: 10px 0; color: var(--accent); }
.rest .findings { margin-top: 0; }
section { margin-top: 52px; }
section > .head { display: flex; flex-wrap: wrap; gap: 4px 18px; align-items: baseline; padding-bottom: 10px; border-bottom: 1px solid var(--ink); }
section > .head .mono { color: var(--soft); }
.texts li { padding: 3px 0; overflow-wrap: anywhere; }
summary { cursor: pointer; }
.answer { display: grid; grid-template-columns: minmax(220px, 300px) 1fr; gap: 18px 44px; padding: 22px 0 8px; }
.answer.alone { grid-template-columns: minmax(0, 1fr); }
.step { max-width: 80ch; padding-top: 8px; }
.answer .word { font: 500 20px/1.3 ui-serif, Georgia, serif; }
.answer .word.no { color: var(--stop); }
.aspects { display: grid; grid-template-columns: auto 1fr; gap: 2px 16px; margin: 12px 0 0; }
.aspects dt { color: var(--soft); }
.aspects dd { margin: 0; font-weight: 600; }
.reasons li { padding: 3px 0; max-width: 80ch; overflow-wrap: anywhere; }
.reasons .breaks b { color: var(--stop); }
.rows { width: 100%; border-collapse: collapse; margin-top: 6px; }
.rows th, .rows td { text-align: left; vertical-align: top; font-weight: 400; padding: 6px 20px 6px 0; border-bottom: 1px solid var(--hair); overflow-wrap: break-word; }
.rows thead th { color: var(--soft); font-size: 13px; }
.rows td.n, .rows th.n { text-align: right; font-variant-numeric: tabular-nums; padding-right: 0; }
.rows td.n + td, .rows th.n + th { padding-left: 32px; }
.places + h3, .scroll + h3 { margin-top: 24px; }
.scroll { overflow-x: auto; }
.sub { margin-top: 28px; }
.parts { margin-top: 20px; border-top: 1px solid var(--hair); }
.mini { display: block; width: 84px; height: 56px; border: 1px solid var(--hair); background: ${paper.card}; }
.rows td.look { width: 84px; padding-right: 16px; }
details.part { border-bottom: 1px solid var(--hair); content-visibility: auto; contain-intrinsic-size: auto 92px; }
details.part > summary { display: grid; grid-template-columns: 108px minmax(0, 1fr) auto 18px; gap: 4px 22px; align-items: center; padding: 9px 8px 9px 0; cursor: pointer; list-style: none; }
details.part > summary::-webkit-details-marker { display: none; }
details.part > summary:hover { background: var(--wash); }
details.part > summary::after { content: ''; width: 8px; height: 8px; border: solid var(--soft); border-width: 0 1.6px 1.6px 0; transform: rotate(-45deg); }
details.part[open] > summary::after { transform: rotate(45deg); }
.thumb { display: block; width: 108px; height: 72px; border: 1px solid var(--hair); background: ${paper.card}; }
.name { font-weight: 600; overflow-wrap: anywhere; }
.gist { color: var(--soft); font-size: 14px; overflow-wrap: anywhere; }
.verdict { font-weight: 600; text-align: right; white-space: nowrap; }
.verdict small { display: block; font-weight: 400; font-size: 13px; color: var(--soft); }
.verdict.no small { color: var(--stop); }
.body { padding: 10px 0 36px; }
.body > .meaning { max-width: 80ch; margin-bottom: 14px; }
.split { display: grid; grid-template-columns: minmax(0, 1fr) 300px; gap: 26px 34px; align-items: start; margin-top: 14px; }
.still { margin: 0; }
.still img { display: block; width: 100%; height: auto; border: 1px solid var(--hair); }
.places { counter-reset: place; }
.places li + li { border-top: 1px solid var(--hair); }
.places li, .places .jump { display: block; width: 100%; }
.places li > span, .jump { padding: 8px 6px; }
.jump { font: inherit; color: inherit; text-align: left; background: none; border: 0; cursor: pointer; }
.jump:hover, .jump[aria-current] { background: var(--wash); }
.jump[aria-current] { box-shadow: inset 3px 0 var(--accent); }
.places .place { display: grid; grid-template-columns: 26px 1fr; gap: 0 8px; padding: 8px 6px; }
.jump .place { padding: 0; }
.places .number { width: 22px; height: 22px; line-height: 20px; text-align: center; font-size: 12px; border: 1.3px solid var(--ink); align-self: start; margin-top: 1px; }
.places .added .number { border-radius: 50%; }
.places .more { display: block; color: var(--soft); font-size: 13px; }
.places .what { overflow-wrap: anywhere; }
h3 + .places, h3 + .rows, h3 + .findings, h2 + .findings { margin-top: 6px; }
.viewer canvas { display: block; width: 100%; height: 470px; border: 1px solid var(--hair); cursor: grab; touch-action: pan-y; --stage: #FBFAF6; --ink: ${ink.full}; --soft: ${ink.soft}; --card: #FFFFFF; --edge: ${paper.edge}; }
.viewer canvas:active { cursor: grabbing; }
.bar { display: flex; flex-wrap: wrap; gap: 10px 24px; align-items: center; justify-content: space-between; margin: 0 0 10px; }
.bar.tools { justify-content: flex-start; margin: 12px 0 0; min-height: 32px; }
.choice { display: inline-flex; flex-wrap: wrap; border: 0; margin: 0; padding: 0; gap: 0; min-width: 0; }
.choice legend { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
.choice input { position: absolute; opacity: 0; width: 1px; height: 1px; }
.choice span { display: block; padding: 4px 12px; border: 1px solid var(--edge); margin: 0 -1px -1px 0; cursor: pointer; }
.choice input:checked + span { background: var(--ink); color: var(--page); border-color: var(--ink); }
.choice input:focus-visible + span { outline: 2px solid var(--accent); outline-offset: 2px; }
.views { display: flex; flex-wrap: wrap; gap: 2px; }
.views button { font: inherit; font-size: 14px; color: var(--accent); background: none; border: 0; padding: 4px 7px; cursor: pointer; }
.views button:hover { text-decoration: underline; text-underline-offset: 3px; }
.check { display: inline-flex; gap: 7px; align-items: center; cursor: pointer; }
.check input, input[type='range'] { accent-color: var(--accent); margin: 0; }
.check input { width: 16px; height: 16px; }
.cut { display: inline-flex; flex-wrap: wrap; gap: 8px 14px; align-items: center; }
.cut input[type='range'] { width: 190px; }
.cut output { font-variant-numeric: tabular-nums; min-width: 9em; }
.result { min-height: 1.55em; margin-top: 8px; font-weight: 500; font-variant-numeric: tabular-nums; }
.keys { color: var(--soft); font-size: 13px; }
footer { margin-top: 64px; padding-top: 18px; padding-bottom: 48px; color: var(--soft); font-size: 13px; }
footer p { max-width: 90ch; margin-bottom: 6px; }
@media (max-width: 860px) {
  header, main, footer { padding-left: 18px; padding-right: 18px; }
  header { padding-top: 26px; }
  h1 { font-size: 27px; }
  .decision { padding: 18px; }
  .answer, .split { grid-template-columns: minmax(0, 1fr); }
  .findings li { grid-template-columns: 1fr; }
  .rows.stack thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .rows.stack tr { display: block; padding: 8px 0; border-bottom: 1px solid var(--hair); }
  .rows.stack th, .rows.stack td { display: block; padding: 1px 0; border: 0; text-align: left; }
  .rows.stack th { font-weight: 600; }
  .rows.stack td:empty { display: none; }
  .rows.stack td.n::before { content: '× '; }
  .rows.stack td.n + td { padding-left: 0; }
  .rows.stack td[data-head]::before { content: attr(data-head) ': '; color: var(--soft); }
  .findings .more { grid-column: 1; }
  details.part > summary { grid-template-columns: 78px minmax(0, 1fr) 14px; gap: 2px 14px; }
  .thumb { width: 78px; height: 52px; grid-row: 1 / span 2; }
  .verdict { text-align: left; grid-column: 2; grid-row: 2; white-space: normal; }
  .verdict small { display: inline; margin-left: 8px; }
  details.part > summary::after { grid-column: 3; grid-row: 1 / span 2; }
  .viewer canvas { height: 400px; }
  .viewer[data-mode='pair'] canvas { height: 560px; }
}
@media (prefers-reduced-motion: reduce) { html { scroll-behavior: auto; } }
@media print { details.part { break-inside: avoid; } .viewer { display: none; } .still { display: block !important; } }
`;
