package report

import (
	"fmt"
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb/quantity"
)

// demolition writes what comes off, with the layers that it takes out.
func (p *page) demolition(s *Spec) {
	var rows [][]Text
	for i := range s.Plans {
		x := &s.Plans[i]
		for _, step := range x.Steps {
			for _, c := range step.Changes {
				if c.From != "" && c.From != c.To && stood(x.Before, c.Layer) {
					rows = append(rows, []Text{say(capital(x.Before.Assembly.Name)), say(c.Layer), say(c.From), p.takenOut(s, x.Before.Assembly.Name, c.Layer)})
				}
			}
		}
	}
	for _, f := range s.swapped() {
		rows = append(rows, []Text{say(capital(f.Finish.Finish.Room.Value)), say(f.Finish.Name), say(f.Swap.Old.Name), p.howMuch(f.Finish)})
	}
	if len(rows) == 0 {
		return
	}
	x := section{title: "Demolition"}
	if l := p.Base.Lookup("work-sections"); l != nil {
		if found := l.Find("demolition"); len(found) > 0 {
			x.number, x.title = found[0][1], found[0][2]
		}
	}
	p.heading(1, x.heading())
	p.table(Table{Caption: "What comes off", Heads: []string{"Where", "Layer or part", "What", "How much"}, Rows: rows})
	var how [][]Text
	for _, article := range []string{"Examination", "Protection", "Hold point"} {
		how = append(how, p.article(&x, article)...)
	}
	p.articles(3, how)
}

// takenOut words how much of a layer comes off.
func (p *page) takenOut(s *Spec, of, layer string) Text {
	for i := range s.Takeoff.Lines {
		l := &s.Takeoff.Lines[i]
		if l.IsTearOut() && l.Where.Assembly == of && l.Where.Layer == layer {
			return say(orWord(p.measures(l.Measures, false, false), "not known: "+l.Missing))
		}
	}
	return say("")
}

// howMuch words the described amount of a finish.
func (p *page) howMuch(f *assembly.ResolvedFinish) Text {
	switch {
	case f.Finish.Count > 0:
		return say(fmt.Sprintf("%d of them", f.Finish.Count))
	case f.Length > 0:
		return say(p.value(quantity.Exact(f.Length), quantity.Length))
	case f.Area > 0:
		return say(p.value(quantity.Exact(f.Area), quantity.Area))
	}
	return say("not given")
}

// stood says whether a layer is there before the work.
func stood(r *analysis.Result, layer string) bool {
	return slices.ContainsFunc(partsOf(r), func(part *assembly.Part) bool { return part.Name == layer && part.State == "existing" })
}
