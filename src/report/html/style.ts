/**
 * The look of every page. One sheet, no scripts, no web fonts; colours keep at least 4.5 to 1 against
 * their ground, and nothing is told by colour alone.
 */
export const PAGE_STYLE = `
:root{--ink:#1b2530;--soft:#4b5866;--paper:#fcfbf8;--card:#ffffff;--line:#cfd3d6;--deep:#123f5c;--tint:#e8eff3;--alarm:#8f2d0c;--alarm-tint:#fdf1ea}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;scroll-behavior:auto}
body{margin:0 auto;padding:0 16px 48px;max-width:868px;background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans",sans-serif;overflow-wrap:break-word}
h1,h2,h3,h4{line-height:1.2;margin:0;text-wrap:balance}
h1{font-size:clamp(1.7rem,5.6vw,2.6rem);letter-spacing:-.02em}
h2{font-size:1.45rem;letter-spacing:-.01em}
h3{font-size:1.1rem;margin:1.6rem 0 .5rem}
h4{font-size:1rem}
p{margin:.5rem 0}
a{color:var(--deep)}
:focus-visible{outline:3px solid #b35c00;outline-offset:2px;border-radius:3px}
.name{font-family:ui-monospace,SFMono-Regular,Menlo,Consolas,monospace;font-size:.9em;overflow-wrap:anywhere}
.soft,.lead{color:var(--soft)}
.lead{margin:.2rem 0 1rem}
.masthead{padding:26px 0 8px}
.over{margin:0 0 .6rem;color:var(--soft);font-size:.9rem}
.claim{margin:.7rem 0 0;font-size:1.12rem;max-width:40em}
.strip{margin:1.1rem 0 0}
.facts{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,330px),1fr));gap:12px;margin:1.2rem 0 0;padding:0}
.facts:has(>:last-child:nth-child(3)){grid-template-columns:repeat(auto-fit,minmax(min(100%,240px),1fr))}
.facts>div{background:var(--card);border:1px solid var(--line);border-top:4px solid var(--deep);border-radius:3px;padding:10px 14px 12px}
.facts dt{font-weight:700}
.facts+h2{margin-top:1.6rem}
.facts dd{margin:.2rem 0 0}
.facts>.alarm,.alarm{background:var(--alarm-tint);border-color:var(--alarm)}
p.alarm,ul.alarm{border-left:5px solid var(--alarm);padding:8px 14px;margin:1rem 0}
.alarm strong,.alarm dt{color:var(--alarm)}
nav{margin:1.4rem 0 0;border-top:1px solid var(--line);border-bottom:1px solid var(--line)}
nav ul{display:flex;flex-wrap:wrap;gap:2px 22px;list-style:none;margin:0;padding:6px 0}
nav a{display:inline-block;padding:5px 0;font-weight:600}
section{margin:2.4rem 0 0}
details.fold>summary{cursor:pointer;list-style-position:outside;margin-left:1.1em}
details.fold>summary h2{display:inline}
ol.steps{list-style:none;margin:.6rem 0;padding:0;counter-reset:step}
ol.steps>li{position:relative;padding:0 0 14px 46px;counter-increment:step}
ol.steps>li::before{content:counter(step);position:absolute;left:0;top:1px;width:30px;height:30px;border:2px solid var(--deep);border-radius:50%;color:var(--deep);font-weight:700;text-align:center;line-height:26px}
.tag{display:inline-block;border:1px solid var(--line);border-radius:2px;background:var(--tint);padding:0 7px;font-size:.86rem;margin-right:6px}
ul.plain{margin:.4rem 0;padding-left:1.2em}
ul.plain.alarm{padding-left:2em}
ul.reasons{list-style:none;margin:.3rem 0 0;padding:0}
ul.reasons li{position:relative;padding-left:1.4em;margin:.25rem 0}
ul.reasons li::before{position:absolute;left:.1em;font-weight:700}
ul.reasons .for::before{content:"+"}
ul.reasons .against::before{content:"\\2212"}
ul.outcomes{list-style:none;margin:.5rem 0 0;padding:0 0 0 12px;border-left:3px solid var(--line)}
ul.outcomes li{margin:.3rem 0}
.reason-weight{color:var(--soft);font-size:.86rem;white-space:nowrap}
figure{margin:1.4rem 0 0;padding:14px 0 0;border-top:1px solid var(--line)}
figcaption{color:var(--soft);font-size:.93rem;margin:.3rem 0 0}
.picture{display:block;width:100%;height:auto;margin:.5rem 0 0}
ul.cases{list-style:none;margin:.6rem 0 0;padding:0}
ul.cases>li{display:grid;grid-template-columns:minmax(0,2fr) minmax(0,3fr);gap:0 24px;padding:12px 0;border-top:1px solid var(--line)}
.cases ul{list-style:disc}
.cases p{margin:.2rem 0}
.cases ul.alarm{margin:.2rem 0 .5rem}
.swatches{display:flex;flex-wrap:wrap;gap:2px 24px;list-style:none;margin:.5rem 0 0;padding:0}
.swatches li{display:flex;align-items:baseline;gap:7px}
.swatches svg{flex:none;width:13px;height:13px;position:relative;top:1px}
.pair{display:grid;grid-template-columns:1fr 1fr;gap:0 16px}
.pair>div{min-width:0}
.pair p{margin:.5rem 0 0;font-weight:600}
.narrow{display:none}
.store{position:absolute}
.key{list-style:none;margin:.4rem 0 0;padding:0;font-size:.93rem}
.key li{margin:.15rem 0;padding-left:2em;position:relative}
.key b{position:absolute;left:0;top:.05em;width:1.5em;height:1.5em;line-height:1.5em;border-radius:50%;background:var(--ink);color:#fff;text-align:center;font-size:.86em}
details.numbers{margin:.4rem 0 0;font-size:.93rem}
details.numbers>summary{cursor:pointer;color:var(--deep);padding:4px 0}
.scroll{overflow-x:auto;max-width:100%}
table{border-collapse:collapse;font-size:.86rem;font-variant-numeric:tabular-nums;margin:.3rem 0}
th,td{text-align:left;vertical-align:top;padding:3px 12px 3px 0;border-bottom:1px solid var(--line)}
tbody th{font-weight:500}
table.matrix td,table.matrix thead th{text-align:center}
.clips{display:grid;grid-template-columns:repeat(auto-fit,minmax(240px,1fr));gap:14px;margin:.8rem 0}
.clip{background:var(--card);border:1px solid var(--line);border-radius:3px;padding:10px 14px}
.clip h4{margin:0}
.clip p{margin:.25rem 0 .5rem;font-size:.93rem;color:var(--soft)}
audio{display:block;width:100%;height:40px}
dl.rows{display:grid;grid-template-columns:max-content 1fr;gap:3px 16px;margin:.5rem 0}
dl.rows dt{color:var(--soft)}
dl.rows dd{margin:0;min-width:0}
footer{margin:3rem 0 0;padding:12px 0 0;border-top:1px solid var(--line);color:var(--soft);font-size:.9rem}
svg text{font:12px system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans",sans-serif;fill:var(--ink)}
svg .tick{font-variant-numeric:tabular-nums}
svg .unit{fill:var(--soft)}
svg .note,svg .strip{font-size:11.5px}
svg .strip{font-weight:600}
svg .part{font-size:13.5px}
svg .value{font-size:13.5px;font-weight:700}
svg .edge{stroke:#59636d;stroke-width:1}
svg .grid{stroke:#e0e3e5;stroke-width:1}
svg .lane{stroke:#e0e3e5;stroke-width:1}
svg .hill{fill:#bccfda;stroke:#123f5c;stroke-width:1;stroke-linejoin:round}
svg .window{fill:#d8d3c4}
svg .sign{fill:#fff;stroke:#59636d;stroke-width:1.3}
svg .sign.hint{fill:#8a949c}
svg .sign.heard{fill:#b23a0e;stroke:#fff;stroke-width:1.2}
svg .sign.heard.stroked{stroke:#b23a0e;stroke-width:2}
svg .leader{stroke:#b23a0e;stroke-width:1;stroke-dasharray:2 3}
svg .flag{fill:#1b2530}
svg .flag-text{fill:#fff;font-weight:700;font-size:11.5px}
svg .halo{fill:none;stroke:#fff;stroke-width:4.5;stroke-opacity:.85}
svg .course{fill:none;stroke:#3c3c3c;stroke-width:1.6;stroke-dasharray:3 5}
svg .course.heard{stroke:#b23a0e;stroke-width:2.2;stroke-dasharray:none}
svg .plate{fill:#fff;fill-opacity:.88}
svg .level{fill:none;stroke-width:1.8;stroke-linejoin:round}
svg .level.whole{stroke:#1b2530;stroke-width:2.2}
svg .level.high{stroke:#b23a0e;stroke-dasharray:7 3}
svg .level.low{stroke:#2a7299;stroke-dasharray:2 3}
svg .unused{fill:#ecebe6}
svg .impact{stroke:#1b2530;stroke-width:1.5}
svg .stretch{fill:#fff;stroke:#59636d;stroke-width:1}
svg .stretch.rising,svg .stretch.falling{fill:#dfe8ed}
svg .stretch.steady{fill:#bccfda}
svg .stretch.phase{fill:#f2efe6}
svg .bar{fill:#7da2b8}
svg .whisker{stroke:#1b2530;stroke-width:1.6}
svg .share-1{fill:#123f5c}svg .share-2{fill:#5f8ba5}svg .share-3{fill:#a9c3d1}svg .share-rest{fill:#fff;stroke:#59636d}
svg .after{fill:none;stroke:#b23a0e;stroke-width:1.6;stroke-linejoin:round}
svg .ideal{stroke:#59636d;stroke-width:1.2;stroke-dasharray:5 4}
svg .point{fill:#123f5c}
svg .cell.right{stroke:#1b2530;stroke-width:2}
svg .on-dark{fill:#fff}
@media (max-width:620px){ul.cases>li{grid-template-columns:minmax(0,1fr)}.wide{display:none}.narrow{display:block}th,td{padding-right:8px}dl.rows{grid-template-columns:1fr;gap:0}dl.rows dd{margin:0 0 .5rem}}
@media print{@page{margin:14mm 13mm}body{max-width:none;padding:0;background:#fff;font-size:10.5pt}.wide{display:block}.narrow,nav,#listen,details.numbers{display:none}.masthead{padding-top:0}section{margin-top:1.4rem}figure,.facts>div,.clip,ol.steps>li,ul.reasons li,.cases>li,tr{break-inside:avoid}h2,h3,h4,.lead,summary{break-after:avoid}footer{margin-top:1.2rem}.scroll{overflow:visible}a{color:inherit;text-decoration:none}*{-webkit-print-color-adjust:exact;print-color-adjust:exact}}
`;

/** SHA-256 of the sheet in base64, which the page's policy names; a test keeps the two together. */
export const PAGE_STYLE_SHA256 = "cDmJdGwN+/MFmDGX6RjhwbmU6T2f3hcVPlw2XiMpRec=";
