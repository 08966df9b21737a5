package report

import (
	"fmt"

	"relath/advisor/drawing"
)

// Style gives the style rules of the HTML face: paper and ink, one accent that
// carries no meaning, both in light and dark, and a plain print form.
func Style() string {
	return fmt.Sprintf(`:root { %s --accent: #2d5c7f; }
@media (prefers-color-scheme: dark) { :root { %s --accent: #9cc3de; } }
`, drawing.Variables(drawing.OnLight), drawing.Variables(drawing.OnDark)) + `* { box-sizing: border-box; }
html { background: var(--paper); color: var(--ink); font: 17px/1.5 Georgia, "Times New Roman", serif; }
body { margin: 0; }
main { max-width: 58rem; margin: 0 auto; padding: 1.5rem 1.25rem 4rem; }
h1, h2, h3, h4, th, caption, figcaption, dt, summary, .mark, .kind, sup { font-family: "Helvetica Neue", Arial, sans-serif; }
h1 { font-size: 1.9rem; line-height: 1.2; margin: 0 0 .2rem; }
h2 { font-size: 1.3rem; margin: 2.6rem 0 .6rem; padding-bottom: .2rem; border-bottom: 2px solid var(--ink); }
h3 { font-size: 1.08rem; margin: 2rem 0 .4rem; }
h4 { font-size: 1rem; margin: 1.6rem 0 .3rem; }
p, li { max-width: 44rem; }
p { margin: .5rem 0; }
a { color: var(--accent); }
.sub { color: var(--soft); margin: 0 0 1.4rem; }
.lead { font-size: 1.12rem; }
.quiet { color: var(--soft); font-size: .92rem; }
.warning, .caution { padding: .55rem .9rem; background: var(--wash); border-left: 5px solid var(--ink); }
.caution { border-left-style: double; }
.mark { font-size: .72em; border: 1px solid var(--soft); border-radius: .6em; padding: 0 .45em; white-space: nowrap; color: var(--soft); }
sup { font-size: .68em; line-height: 0; white-space: nowrap; }
sup a { text-decoration: none; padding: 0 .1em; }
.wide { overflow-x: auto; margin: 1rem 0; }
table { border-collapse: collapse; width: 100%; font-size: .92rem; line-height: 1.35; }
caption, figcaption { text-align: left; font-weight: bold; font-size: .95rem; padding: .2rem 0 .4rem; }
th, td { text-align: left; vertical-align: top; padding: .38rem .7rem .38rem 0; border-bottom: 1px solid var(--line); }
thead th { border-bottom: 2px solid var(--line); color: var(--soft); font-size: .84rem; }
tbody th { font-weight: normal; font-family: inherit; }
.number { text-align: right; }
.fill { min-width: 9rem; }
@media (min-width: 40rem) { .named tbody th { white-space: nowrap; width: 1%; padding-right: 1.6rem; } }
figure { margin: 1.2rem 0; }
figure svg { display: block; width: 100%; height: auto; }
pre { overflow-x: auto; background: var(--wash); padding: .9rem; font-size: .82rem; line-height: 1.4; }
details { margin: .4rem 0; }
summary { cursor: pointer; font-size: .88rem; color: var(--accent); }
.foot { font-size: .88rem; }
.foot h2, .foot h3, .foot h4 { font-size: 1.05rem; border-bottom-width: 1px; }
.foot dl { display: grid; grid-template-columns: max-content 1fr; gap: .25rem .8rem; margin: 0; }
.foot dd { margin: 0; }
.kind { color: var(--soft); }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
` + drawing.Rules() + `@media print {
  :root { ` + drawing.Variables(drawing.OnPaper) + ` --accent: #000; }
  html { font-size: 10.5pt; }
  main { max-width: none; padding: 0; }
  h2, h3, h4, caption, figcaption { break-after: avoid; }
  tr, figure, .warning, .caution { break-inside: avoid; }
  thead { display: table-header-group; }
  details:not([open]) { display: none; }
  a { text-decoration: none; }
}
`
}
