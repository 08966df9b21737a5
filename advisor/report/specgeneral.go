package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/takeoff"
	"relath/kb"
)

// sharedText is a text of an article that several sections would say: division
// 01 says it once for all of them.
type sharedText struct {
	article, text string
	sections      []string // numbers
}

// generalSection is a section of division 01.
type generalSection struct {
	section
	articles []string // that it says for the others
	rows     [][]Text
}

// articleRows gives the texts of an article that the base has for a number.
func (p *page) articleRows(number, article string) []string {
	l := p.Base.Lookup("section-articles")
	if l == nil {
		return nil
	}
	var texts []string
	for _, row := range l.Find("", article) {
		if slices.ContainsFunc(strings.Split(row[0], ", "), func(begin string) bool { return strings.HasPrefix(number, begin) }) {
			texts = append(texts, row[2])
		}
	}
	return texts
}

// sharedTexts finds the texts that more than one of the sections would say.
func (p *page) sharedTexts(list []section) []sharedText {
	var shared []sharedText
	for _, g := range p.workSections() {
		for _, article := range g.articles {
			var found []sharedText
			for _, x := range list {
				for _, text := range p.articleRows(x.number, article) {
					at := slices.IndexFunc(found, func(s sharedText) bool { return s.text == text })
					if at < 0 {
						found = append(found, sharedText{article: article, text: text})
						at = len(found) - 1
					}
					found[at].sections = append(found[at].sections, x.number)
				}
			}
			shared = append(shared, slices.DeleteFunc(found, func(s sharedText) bool { return len(s.sections) < 2 })...)
		}
	}
	return shared
}

// workSections gives the sections of work without a material of its own.
func (p *page) workSections() []generalSection {
	l := p.Base.Lookup("work-sections")
	if l == nil {
		return nil
	}
	var list []generalSection
	for _, row := range l.Find() {
		g := generalSection{section: section{number: row[1], title: row[2]}}
		if row[3] != "" {
			g.articles = strings.Split(row[3], ", ")
		}
		list = append(list, g)
	}
	return list
}

// generalSections gives the sections of division 01 that have something to say.
func (p *page) generalSections(s *Spec, list []section) []generalSection {
	l := p.Base.Lookup("section-articles")
	other := p.otherWork(s, list)
	if l == nil || len(list)+len(other) == 0 {
		return nil
	}
	var out []generalSection
	for _, g := range p.workSections() {
		for _, article := range g.articles {
			if len(list) == 0 && !ofWork(article) {
				continue
			}
			if own := p.articleRows(g.number, article); len(own) > 0 {
				g.rows = append(g.rows, []Text{say(article), marked(eachStopped(own), l.Mark(nil), p.bases(l.Basis)...)})
			}
			for _, s := range p.shared {
				if s.article == article {
					text := fmt.Sprintf("Sections %s: %s", join(s.sections, "and"), stop(s.text))
					g.rows = append(g.rows, []Text{say(article), marked(text, l.Mark(nil), p.bases(l.Basis)...)})
				}
			}
		}
		if slices.Contains(g.articles, "Installation") {
			g.rows = append(g.rows, other...)
		}
		if len(g.rows) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// ofWork says whether an article counts where nothing is bought.
func ofWork(article string) bool {
	return slices.Contains([]string{"Installation", "Hold point", "Care and renewal"}, article)
}

// generally writes division 01: what holds for every section, once.
func (p *page) generally(list []generalSection) {
	for i := range list {
		p.heading(1, list[i].heading())
		p.articles(1, list[i].rows)
	}
}

// alsoHolds names the sections of division 01 that hold for a section.
func (p *page) alsoHolds(x *section) string {
	var numbers []string
	for _, g := range p.general01 {
		if slices.ContainsFunc(g.articles, func(article string) bool {
			return len(p.articleRows(g.number, article)) > 0 || slices.ContainsFunc(p.shared, func(s sharedText) bool { return s.article == article && slices.Contains(s.sections, x.number) })
		}) {
			numbers = append(numbers, g.number)
		}
	}
	if len(numbers) == 0 {
		return ""
	}
	return "Sections " + join(numbers, "and") + " hold here too."
}

// article gives the texts of an article that a section says itself.
func (p *page) article(x *section, article string) [][]Text {
	l := p.Base.Lookup("section-articles")
	texts := slices.DeleteFunc(p.articleRows(x.number, article), func(text string) bool {
		return slices.ContainsFunc(p.shared, func(s sharedText) bool { return s.article == article && s.text == text })
	})
	if len(texts) == 0 {
		return nil
	}
	return [][]Text{{say(article), marked(eachStopped(texts), orRead(l.Mark(nil)), p.bases(l.Basis)...)}}
}

// eachStopped makes a sentence of each text.
func eachStopped(texts []string) string {
	list := make([]string, len(texts))
	for i, text := range texts {
		list[i] = capital(stop(text))
	}
	return strings.Join(list, " ")
}

// otherWork tells the work of swaps for which no section buys a material, and what
// is bought with it.
func (p *page) otherWork(s *Spec, list []section) [][]Text {
	var rows [][]Text
	var seen []*kb.Recipe
	for i := range s.Plans {
		for _, step := range s.Plans[i].Steps {
			r := step.Recipe
			if r == nil || slices.Contains(seen, r) || slices.ContainsFunc(list, func(x section) bool { return slices.Contains(x.recipes, r) }) {
				continue
			}
			seen = append(seen, r)
			rows = append(rows, p.recipeAlone(r)...)
		}
	}
	for i := range s.Takeoff.Lines {
		l := &s.Takeoff.Lines[i]
		if l.Material == nil && l.Of < 0 && !l.IsTearOut() && !slices.ContainsFunc(list, func(x section) bool { return x.holds(l) }) {
			rows = told(rows, "Bought with it", fmt.Sprintf("%s: %s, %s", placeOf(l), l.Name, orWord(p.measures(l.Measures, true, false), "not known: "+l.Missing)))
		}
	}
	return rows
}

// recipeAlone tells all of a swap that has no section of its own.
func (p *page) recipeAlone(r *kb.Recipe) [][]Text {
	rows := p.recipeWork(r, true)
	for _, x := range [][2]string{{"Products", r.Specify}, {"Cure and dry", r.Cure}, {"Hold point", strings.TrimPrefix(r.Inspect, "Hold: ")}, {"Care and renewal", r.Care}} {
		rows = told(rows, x[0], none(x[1]), p.bases(r.Basis)...)
	}
	return rows
}

// holds says whether a line stands with a line of a section.
func (x *section) holds(l *takeoff.Line) bool {
	return slices.ContainsFunc(x.lines, func(y specLine) bool { return y.line == l || slices.Contains(y.beside, l) })
}
