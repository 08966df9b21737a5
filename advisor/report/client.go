package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"relath/advisor/assembly"
	"relath/kb/quantity"
)

// mostShown is how many assemblies the client page shows layer by layer; the
// others are named, so that it stays two pages.
const mostShown = 3

// Client makes the page for those who live in the house: what is proposed in
// plain words, before and after, three numbers, what to expect, what to watch.
func (m Maker) Client(s Spec) *Document {
	p := m.page(s.House.House.House+": what we propose", m.whereHouse(s.House))
	p.doc.Dense = true
	p.para(lead, say(clientInShort(&s)))
	p.clientChanges(&s)
	p.threeNumbers(&s)
	p.expect(&s)
	p.watch(&s)
	p.clientCautions(&s)
	p.para(plain, say("Nothing here cures a leak or wet ground: the water source comes first. The figures see no air leaks and no driven rain; their ranges stand in the specification. The building official has the last word."))
	p.para(plain, say("Agreed, owner and date: ____________________ builder and date: ____________________"))
	return p.finish()
}

// worked gives the plans of the assemblies that are worked on.
func (s *Spec) worked() []*Plan {
	var list []*Plan
	for i := range s.Plans {
		if s.works(&s.Plans[i]) {
			list = append(list, &s.Plans[i])
		}
	}
	return list
}

// clientInShort says what is proposed and what stays.
func clientInShort(s *Spec) string {
	var change, fresh, left []string
	for i := range s.Plans {
		x := &s.Plans[i]
		name := "the " + x.After.Assembly.Name
		switch {
		case !s.works(x):
			left = append(left, name)
		case len(x.Steps) > 0:
			change = append(change, name)
		default:
			fresh = append(fresh, name)
		}
	}
	var parts []string
	if len(change) > 0 {
		parts = append(parts, fmt.Sprintf("We propose to change %s so that %s can dry.", join(change, "and"), plural(len(change), "it", "they")))
	}
	if len(fresh) > 0 {
		parts = append(parts, fmt.Sprintf("%s %s built as planned.", capital(join(fresh, "and")), plural(len(fresh), "is", "are")))
	}
	if len(left) > 0 {
		parts = append(parts, fmt.Sprintf("We leave %s alone.", join(left, "and")))
	}
	for _, f := range s.swapped() {
		parts = append(parts, fmt.Sprintf("In the %s, %s gives way to %s.", f.Finish.Finish.Room.Value, lower(f.Swap.Old.Name), lower(f.Swap.Proposal.Material.Name)))
	}
	if len(change)+len(fresh)+len(s.swapped()) == 0 {
		parts = append(parts, "Nothing asks for a change.", asksForFinishes(s))
	}
	return strings.TrimSpace(strings.Join(parts, " "))
}

// asksForFinishes says how a finish comes to be swapped, where a house has
// finishes: none is swapped unasked, for what hangs in a dry room may hang there.
func asksForFinishes(s *Spec) string {
	if len(s.House.Finishes) == 0 {
		return ""
	}
	return "Finishes are left out of that: one is swapped only where it is asked for, and what could take its place stands in the advice."
}

// clientChanges shows before and after, from the outside to the room.
func (p *page) clientChanges(s *Spec) {
	list := s.worked()
	if len(list) == 0 {
		return
	}
	p.heading(1, "Before and after")
	for i, x := range list {
		if i == mostShown {
			p.para(plain, say(fmt.Sprintf("%d more are worked on alike; the specification shows them layer by layer.", len(list)-i)))
			break
		}
		p.clientLayers(x)
	}
}

// clientLayers puts the layers of an assembly before and after side by side.
func (p *page) clientLayers(x *Plan) {
	a := x.After.Assembly
	before, after := partsOf(x.Before), partsOf(x.After)
	if len(x.Steps) == 0 {
		var words []string
		for _, part := range after {
			words = append(words, partWords(part))
		}
		p.para(plain, say(fmt.Sprintf("%s, from the outside in: %s.", capital(a.Name), strings.Join(words, "; "))))
		return
	}
	p.add(Block{Figure: &Figure{
		Caption: capital(a.Name) + ", cut through, to one scale; * comes off today or is new then",
		Picture: p.pairCut(x),
	}})
	p.para(plain, say(capital(a.Name)+". "+offAndNew(before, after)))
	for _, step := range x.Steps {
		p.para(plain, say("Why: "+lower(stop(step.Why))))
	}
}

// offAndNew says what comes off, what is new and what stays, from the first side
// on.
func offAndNew(before, after []*assembly.Part) string {
	var off, stay []string
	fresh := wordsOfParts(after)
	gone := 0
	for i, at := range keptParts(before, after) {
		if at < 0 {
			off = append(off, partWords(before[i]))
			continue
		}
		stay = append(stay, fresh[at-gone])
		fresh = slices.Delete(fresh, at-gone, at-gone+1)
		gone++
	}
	var text []string
	for _, said := range []struct {
		what  string
		parts []string
	}{{"Comes off: ", off}, {"New: ", fresh}, {"Stays as it is: ", stay}} {
		if len(said.parts) > 0 {
			text = append(text, said.what+strings.Join(said.parts, "; ")+".")
		}
	}
	return strings.Join(text, " ")
}

// keptParts gives for each part before its place after, or −1 where it does not
// stay.
func keptParts(before, after []*assembly.Part) []int {
	kept := make([]int, len(before))
	k := 0
	for i, part := range before {
		at := slices.IndexFunc(after[k:], func(o *assembly.Part) bool {
			return o.Name == part.Name && o.State == part.State && partWords(o) == partWords(part)
		})
		kept[i] = -1
		if at >= 0 {
			kept[i] = k + at
			k += at + 1
		}
	}
	return kept
}

func wordsOfParts(list []*assembly.Part) []string {
	var words []string
	for _, part := range list {
		words = append(words, partWords(part))
	}
	return words
}

// partWords says in plain words what a part is.
func partWords(part *assembly.Part) string {
	text := lower(madeOf(part))
	if coats := slices.Concat(part.CoatsOut, part.CoatsIn); len(coats) > 0 {
		text += " with " + coatWords(coats)
	}
	return text
}

// threeNumbers compares what matters most: how fast a wet wall dries, what heat
// it loses, what glue it holds.
func (p *page) threeNumbers(s *Spec) {
	list := s.worked()
	if len(list) == 0 {
		return
	}
	p.heading(1, "Three numbers that matter")
	var rows [][]Text
	for i, x := range list {
		if i == mostShown {
			break
		}
		rows = append(rows, []Text{
			say(capital(x.After.Assembly.Name)), p.change(x, "drying-capacity", 1, quantity.VaporFlow),
			p.change(x, "u-factor", 1, quantity.UFactor), p.glueChange(x),
		})
	}
	p.table(Table{Heads: []string{"", "Water that can leave the worst spot", "Heat it lets through", "Glue it holds"}, Rows: rows})
	p.para(quiet, say("More water that can leave is better: after a leak the wall dries sooner. Less heat and less glue are better."))
}

// glueChange words the glue of the whole assembly, or of a unit of area where its
// size is not known.
func (p *page) glueChange(x *Plan) Text {
	a := x.After.Assembly
	if net := a.Area - a.Openings; a.Area > 0 && net > 0 {
		return p.change(x, "adhesive-mass", net, quantity.Mass)
	}
	return p.change(x, "adhesive-mass", 1, quantity.AreaDensity)
}

// change words the best values of a fact before and after, so many times, in a
// dimension. What differs by less than a hundredth is the same.
func (p *page) change(x *Plan, id string, times float64, d quantity.Dimension) Text {
	b, a := across(x.Before, id), across(x.After, id)
	if !a.Known {
		return say("not known")
	}
	was, is := b.Range.Best*times, a.Range.Best*times
	words := p.value(quantity.Exact(is), d)
	const same, much = 0.01, 1.5
	switch {
	case !b.Known || len(x.Steps) == 0:
		return marked(words, a.Evidence)
	case max(was, is)-min(was, is) <= same*max(was, is):
		words += ", as today"
	case was > 0 && is > much*was:
		words = fmt.Sprintf("%.1f times as much: %s, today %s", is/was, words, p.value(quantity.Exact(was), d))
	default:
		words += ", today " + p.value(quantity.Exact(was), d)
	}
	return marked(words, b.Evidence.Weaker(a.Evidence))
}

// expect says how long it takes and what will be noticed.
func (p *page) expect(s *Spec) {
	var items []Text
	if x := s.Schedule; x != nil && len(x.Steps) > 0 {
		text := fmt.Sprintf("The work takes %s, one trade after the other; much of that is waiting until plaster is hard and dry.", daysWords(x.Length))
		if d := x.Date(0); !d.IsZero() {
			text += fmt.Sprintf(" It begins on %s and may end on %s.", d.Format(time.DateOnly), x.Date(x.Length.Best).Format(time.DateOnly))
		}
		items = append(items, say(text))
	}
	if w := s.Takeoff.Water; w.High > 0 {
		items = append(items, say(fmt.Sprintf("New plaster brings %s of water into the house, which must be aired out. Expect damp air and some smell.", p.value(quantity.Exact(w.Best), quantity.Mass))))
	}
	for _, x := range s.worked() {
		b, a := across(x.Before, "thickness").Range.Best, across(x.After, "thickness").Range.Best
		if text := p.thicker(x, a-b); text != "" {
			items = append(items, say(text))
		}
		for _, step := range x.Steps {
			if step.Recipe != nil && step.Recipe.Worse != "" {
				items = append(items, say(capital(stop(step.Recipe.Worse))))
			}
			for _, n := range step.Needs {
				n.What, _, _ = strings.Cut(n.What, ":")
				items = append(items, say(needWords(n)))
			}
		}
	}
	if s.Cost != nil {
		items = append(items, say(priceOf(s)))
	}
	if len(items) > 0 {
		p.heading(1, "What to expect")
		p.list(uniqueTexts(items)...)
	}
}

// thicker says by how much an assembly grows or shrinks, where it is noticed.
func (p *page) thicker(x *Plan, by float64) string {
	const noticed = 0.0254 / 16 // m
	word := "thicker"
	if by < 0 {
		word = "thinner"
	}
	if max(by, -by) < noticed {
		return ""
	}
	return fmt.Sprintf("The %s gets %s by %s; boxes, jambs and trim are set for that.", x.After.Assembly.Name, word, quantity.Format(max(by, -by), quantity.Length, p.Units))
}

// uniqueTexts drops texts that say the same words again.
func uniqueTexts(list []Text) []Text {
	var seen []string
	return slices.DeleteFunc(list, func(t Text) bool {
		known := slices.Contains(seen, t.Words)
		seen = append(seen, t.Words)
		return known
	})
}
