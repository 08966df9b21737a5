package report

import (
	"fmt"
	"strings"

	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
)

// place is where on a page something was said in full: a plan or a swap, or
// nothing, of an assembly.
type place struct{ spot, of string }

// first notes that something is said here, and gives where it was said before.
func (p *page) first(key string) (before place, again bool) {
	if before, again = p.places[key]; !again {
		p.places[key] = place{p.spot, p.at}
	}
	return before, again
}

// back words a place for those who read elsewhere on the page.
func (p *page) back(at place) string {
	other := at.of != "" && at.of != p.at
	switch {
	case at.spot == "" && other:
		return "at the " + at.of
	case at.spot == "":
		return "above"
	case other:
		return "at " + at.spot + " of the " + at.of
	}
	return "at " + at.spot
}

// cautionsOf writes the cautions of what is being written: in full where a caution
// is called for first on the page, then by name.
func (p *page) cautionsOf(list []rule.Caution) {
	var order []string
	names := make(map[string][]string)
	for _, c := range list {
		before, again := p.first(c.Caution.ID)
		if !again {
			p.para(caution, p.cautionText(c))
			continue
		}
		at := p.back(before)
		if names[at] == nil {
			order = append(order, at)
		}
		names[at] = append(names[at], c.Caution.Title)
	}
	for _, at := range order {
		p.para(caution, say(fmt.Sprintf("%s, as said in full %s.", join(names[at], "and"), at)))
	}
}

// needOnce says who must agree to what, and where the page said so already points
// there.
func (p *page) needOnce(n kb.Need) string {
	words := needWords(n)
	if before, again := p.first(words); again {
		return fmt.Sprintf("Before the work, ask the %s what is said %s.", strings.ReplaceAll(n.Who, "-", " "), p.back(before))
	}
	return words
}

// worse says what a recipe makes worse, once on a page.
func (p *page) worse(title, words string) string {
	if before, again := p.first("worse " + words); again {
		return fmt.Sprintf("%s: as said %s.", title, p.back(before))
	}
	return fmt.Sprintf("%s: %s", title, lower(stop(words)))
}

// worseOf is worse for a swap whose title stands above.
func (p *page) worseOf(words string) string {
	if before, again := p.first("worse " + words); again {
		return "Its drawbacks are said " + p.back(before) + "."
	}
	return capital(stop(words))
}

// brings says a finding that a swap brings: in full the first time, then with what
// is another here.
func (p *page) brings(f rule.Finding) {
	t := p.findingText(f)
	head := fmt.Sprintf("It brings: %s", lower(f.Title))
	before, again := p.first("brings " + f.Rule)
	if again {
		t.Words = fmt.Sprintf("%s, as said %s.", head, p.back(before))
		if h := f.Hinge; h != nil && h.Doubt == "" && h.Flip != "" {
			t.Words += fmt.Sprintf(" Here it turns at about %s.", h.Flip)
		}
		if _, same := p.first(f.Say); !same {
			t.Words += " " + capital(f.Say)
		}
	} else {
		p.first(f.Say)
		t.Words = fmt.Sprintf("%s. %s %s", head, t.Words, f.Why)
		if d := p.decides(f); d != "" {
			t.Words += " " + d
		}
	}
	p.para(warning, t)
	if !again {
		p.rows(f)
	}
}

// spotOfSwap and spotOfPlan name places of a page of advice.
func spotOfSwap(n int) string { return fmt.Sprintf("swap %d", n) }
func spotOfPlan(n int) string { return fmt.Sprintf("plan %d", n) }

// lossesOf gives the words of the steps of a plan that make something worse.
func (p *page) lossesOf(steps []*swap.Proposal) []Text {
	var items []Text
	for _, s := range steps {
		if s.Recipe != nil && s.Recipe.Worse != "" {
			items = append(items, say(p.worse(s.Title, s.Recipe.Worse)))
		}
	}
	return items
}
