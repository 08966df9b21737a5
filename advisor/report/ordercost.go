package report

import (
	"fmt"
	"strings"
	"time"

	"relath/advisor/takeoff"
)

// money words an amount in the currency of a price book.
func money(m takeoff.Money, book *takeoff.PriceBook) string {
	text := amount(m.Best)
	if m.Low != m.High {
		text += " (" + amount(m.Low) + " to " + amount(m.High) + ")"
	}
	if book != nil && book.Currency != "" {
		text += " " + book.Currency
	}
	return text
}

// amount words hundredths with thousands set apart.
func amount(hundredths int64) string {
	if hundredths < 0 {
		return "−" + amount(-hundredths)
	}
	text := fmt.Sprint(hundredths / 100)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return fmt.Sprintf("%s.%02d", text, hundredths%100)
}

// cost writes what it costs by layer, by assembly or room, and in all.
func (p *page) cost(c *takeoff.Cost) {
	p.heading(1, "Cost")
	var rows [][]Text
	for _, g := range c.Groups {
		of := g.Assembly
		if of == "" {
			of = g.Room
		}
		for _, l := range g.Layers {
			rows = append(rows, []Text{say(placeWords(of, l.Name, "", "")), say(money(l.Total, c.Book))})
		}
		rows = append(rows, []Text{say(capital(of) + ", in all"), say(money(g.Total, c.Book))})
	}
	if !c.Rounding.IsZero() {
		rows = append(rows, []Text{say("Whole panels, bags and pieces, and rounding"), say(money(takeoff.Money{Low: c.Rounding.Best, Best: c.Rounding.Best, High: c.Rounding.Best}, c.Book))})
	}
	rows = append(rows, []Text{say("In all"), say(money(c.Total, c.Book))})
	p.table(Table{Caption: "Material and labor, " + c.Book.Words(), Heads: []string{"For", "Cost"}, Right: []int{1}, Rows: rows})
	if len(c.Missing) > 0 {
		var items []Text
		for _, m := range c.Missing {
			items = append(items, say(capital(stop(m))))
		}
		p.para(warning, say("Not in the total, for want of a price:"))
		p.list(items...)
	}
}

// schedule writes the sequence of the work.
func (p *page) schedule(s *takeoff.Schedule) {
	p.heading(1, "Sequence of the work")
	for _, w := range s.Warnings {
		p.para(warning, say(capital(stop(w))))
	}
	var rows [][]Text
	for i := range s.Steps {
		x := &s.Steps[i]
		rows = append(rows, []Text{
			say(dayWords(s, x.Begin.Best)), say(stepWords(x)), say(capital(x.What), p.bases(x.Basis)...),
			say(wheres(x)), say(lengthWords(x)),
		})
	}
	p.table(Table{
		Caption: fmt.Sprintf("One trade after the other, %s in all", daysWords(s.Length)),
		Heads:   []string{"Begins", "Kind", "What", "Where", "Takes"}, Rows: rows,
	})
}

// wheres words the places of a step.
func wheres(x *takeoff.Step) string {
	var where []string
	for _, w := range x.Where {
		where = append(where, placeWords(w.Assembly, w.Layer, w.Room, w.Part))
	}
	return strings.Join(unique(where), "; ")
}

// dayWords names a day of the schedule.
func dayWords(s *takeoff.Schedule, day int) string {
	if d := s.Date(day); !d.IsZero() {
		return d.Format(time.DateOnly) + " " + d.Weekday().String()[:3]
	}
	return fmt.Sprintf("day %d", day+1)
}

func stepWords(x *takeoff.Step) string {
	switch x.Sort {
	case takeoff.Cure:
		return "wait"
	case takeoff.Hold:
		return "look"
	}
	return "work"
}

func lengthWords(x *takeoff.Step) string {
	if x.Sort == takeoff.Hold {
		return ""
	}
	return daysWords(x.Length)
}

// daysWords words a number of days with its range.
func daysWords(d takeoff.Days) string {
	if d.Low == d.High {
		return count(d.Best, "day")
	}
	return fmt.Sprintf("%d (%d to %d) days", d.Best, d.Low, d.High)
}
