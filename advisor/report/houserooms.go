package report

import (
	"fmt"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/house"
	"relath/kb/quantity"
)

// rooms writes what the air of the rooms does.
func (p *page) rooms(r *house.Result) {
	if len(r.Rooms) == 0 && len(r.Buffering.Faces) == 0 {
		return
	}
	p.heading(1, "Rooms and their air")
	exposed := 0.0
	for _, f := range r.Buffering.Faces {
		if f.Buffer.Known {
			exposed += f.Area
		}
	}
	if exposed > 0 {
		p.para(plain, marked(fmt.Sprintf("Of the faces described, %s toward the rooms: they take up and give off water with the hours of the day, for a swing of 10 points of humidity %s.",
			p.value(quantity.Exact(exposed), quantity.Area), p.buffered(r.Buffering.Sum)), orRead(r.Buffering.Sum.Evidence)))
	}
	p.swings(r.Rooms)
	p.fans(r.Rooms)
	p.balance(r.Balance)
	p.faces(r.Buffering)
}

// buffered words the water that faces hold for ten points of humidity.
func (p *page) buffered(e analysis.Estimate) string {
	const tenPoints = 0.1
	if !e.Known {
		return "not known: " + e.Missing
	}
	return p.value(e.Range.Scale(tenPoints), quantity.Mass)
}

// swings writes the daily swing of humidity room by room.
func (p *page) swings(list []house.Room) {
	var rows [][]Text
	for i := range list {
		r := &list[i]
		rows = append(rows, []Text{
			say(capital(r.Of.Room.Name.Value)), p.estimated(r.Moisture, quantity.Mass),
			p.upToSaturation(r.Swing.Bare), p.upToSaturation(r.Swing.Buffered), p.upToSaturation(r.Swing.Off),
		})
	}
	p.captioned(Table{
		Caption: "Swing of relative humidity over a day with the door closed",
		Heads:   []string{"Room", "Water given off in a day", "With air change alone", "With the faces described", "Taken off"}, Rows: rows,
	})
	var said []string
	of := make(map[string][]string)
	for i := range list {
		for _, w := range list[i].Warnings {
			said = append(said, w)
			of[w] = append(of[w], list[i].Of.Room.Name.Value)
		}
	}
	for _, w := range unique(said) {
		p.para(quiet, say(capital(join(of[w], "and"))+": "+stop(w)))
	}
}

// upToSaturation words a change of relative humidity; what the air cannot hold
// is not given as a number.
func (p *page) upToSaturation(e analysis.Estimate) Text {
	t := p.estimated(e, quantity.Ratio)
	switch {
	case !e.Known || e.Range.High <= 1:
	case e.Range.Best >= 1:
		t.Words = fmt.Sprintf("more than the air holds (from %.0f %%)", 100*e.Range.Low)
		if e.Range.Low >= 1 {
			t.Words = "more than the air holds"
		}
	default:
		t.Words = fmt.Sprintf("%.0f (%.0f to over 100) %%", 100*e.Range.Best, 100*e.Range.Low)
	}
	return t
}

// orReason words an estimate, or the bare reason why there is none.
func (p *page) orReason(e analysis.Estimate, d quantity.Dimension) Text {
	if !e.Known {
		return say(e.Missing)
	}
	return p.estimated(e, d)
}

// fans writes the exhaust that kitchens and baths should have.
func (p *page) fans(list []house.Room) {
	var rows [][]Text
	for i := range list {
		f := list[i].Fan
		if f == nil {
			continue
		}
		rows = append(rows, []Text{
			say(capital(list[i].Of.Room.Name.Value)), p.orReason(f.OnDemand, quantity.Airflow), p.orReason(f.Continuous, quantity.Airflow),
			p.estimated(f.Clears, quantity.Duration), p.estimated(f.Alone, quantity.Duration),
			p.upToSaturation(f.Rise), p.upToSaturation(f.RiseAlone),
		})
	}
	p.captioned(Table{
		Caption: "Exhaust of kitchen and bath",
		Heads:   []string{"Room", "Fan on demand", "Or all day", "Clears the air in", "Without a fan", "Humidity added with the fan", "Without"}, Rows: rows,
	})
}

// balance writes the humidity that the rooms reach by themselves.
func (p *page) balance(b house.Balance) {
	if !b.Known {
		if b.Missing != "" {
			p.para(quiet, say("The humidity that the rooms reach by themselves is not known: "+stop(b.Missing)))
		}
		return
	}
	p.para(plain, marked(fmt.Sprintf("The household gives off %s of water in a day; the house exchanges its air at %s. It should have %s of ventilation.",
		p.value(b.Moisture.Range, quantity.Mass), p.value(b.AirChange.Range, quantity.AirChange), p.value(b.Fan.Range, quantity.Airflow)),
		orRead(b.Moisture.Evidence.Weaker(b.AirChange.Evidence))))
	var rows [][]Text
	for i, name := range monthNames() {
		if b.Humidity[i].Known && b.Heated[i] {
			rows = append(rows, []Text{say(name), p.estimated(b.Humidity[i], quantity.Ratio)})
		}
	}
	p.captioned(Table{Caption: "Humidity that the rooms reach by themselves in the heated months", Heads: []string{"Month", "Relative humidity"}, Rows: rows})
	for _, w := range b.Warnings {
		p.para(warning, say(capital(stop(w))))
	}
}

// faces lists the faces that buffer.
func (p *page) faces(b house.Buffering) {
	var rows [][]Text
	for _, f := range b.Faces {
		rows = append(rows, []Text{
			say(placeWords(f.Where.Assembly, f.Where.Layer, f.Where.Room, f.Where.Part)), say(f.Material.Name),
			say(p.value(quantity.Exact(f.Area), quantity.Area)), marked(p.buffered(f.Buffer), orRead(f.Buffer.Evidence)),
		})
	}
	p.captioned(Table{Caption: "Faces that take up water, for 10 points of humidity, behind their coats", Heads: []string{"Where", "Material", "Area", "Water"}, Rows: rows})
}

// corners writes the corners of rooms.
func (p *page) corners(list []house.Corner) {
	if len(list) == 0 {
		return
	}
	p.heading(1, "Corners of rooms")
	var rows [][]Text
	for _, c := range list {
		rows = append(rows, []Text{
			say(capital(c.Assembly)), say(monthNames()[c.Month]), p.estimated(c.Temperature, quantity.Temperature), p.estimated(c.Humidity, quantity.Ratio),
		})
	}
	p.captioned(Table{Caption: "Where two outer walls meet, in the heated month in which the surface is dampest", Heads: []string{"Wall", "Month", "Surface", "Humidity there"}, Rows: rows})
	for _, c := range list {
		for _, w := range c.Warnings {
			p.para(warning, say(capital(c.Assembly)+": "+stop(w)))
		}
	}
}

// coldSurfaces writes ducts, pipes and edges against the dew point.
func (p *page) coldSurfaces(list []house.Cold, weather string) {
	if len(list) == 0 {
		return
	}
	p.heading(1, "Cold surfaces")
	var rows, change [][]Text
	for i := range list {
		c := &list[i]
		name := capital(c.Of.Surface.Name.Value)
		rows = append(rows, []Text{
			say(name), p.orReason(c.Inside, quantity.Temperature), p.hours(c.Hours), p.needed(c), p.thickness(c), p.orReason(c.WarmEnough, quantity.Temperature), p.orReason(c.DryEnough, quantity.Ratio),
		})
		for _, x := range c.Changes {
			change = append(change, []Text{say(name), say(p.changeWords(x)), p.hours(x.Hours)})
		}
	}
	if weather != "" {
		p.para(plain, say("Counted over the hours of the "+weather+"."))
	}
	p.captioned(Table{
		Caption: "Below the dew point of the air around it",
		Heads:   []string{"Surface", "Inside", "Hours in a year", "Insulation needed", "Its thickness", "Dry from this inside", "Dry up to this humidity"}, Rows: rows,
	})
	p.captioned(Table{Caption: "What a changed setting makes of the wet hours", Heads: []string{"Surface", "Change", "Hours in a year"}, Rows: change})
	for i := range list {
		p.coldNotes(&list[i])
	}
}

// hours words hours of a year.
func (p *page) hours(e analysis.Estimate) Text {
	if !e.Known {
		return p.estimated(e, quantity.Number)
	}
	text := fmt.Sprintf("%.0f", e.Range.Best)
	if e.Range.Low != e.Range.High {
		text += fmt.Sprintf(" (%.0f to %.0f)", e.Range.Low, e.Range.High)
	}
	return marked(text, orRead(e.Evidence), p.inputSources(e.Inputs)...)
}

// atDewPoint says whether a surface stands so close to the dew point that a
// skin of insulation, under a millimeter, keeps it dry.
func atDewPoint(c *house.Cold) bool {
	const skin = 1e-3
	return c.Flat.Known && c.Hours.Range.High > 0 && c.Flat.Range.High < skin
}

// needed words the insulation that keeps a surface dry.
func (p *page) needed(c *house.Cold) Text {
	t := p.estimated(c.Needed, quantity.ThermalResistance)
	if atDewPoint(c) {
		t.Words = "next to none: it stands at the dew point, and a degree decides"
	}
	return t
}

// thickness words the insulation as a thickness, around what is round.
func (p *page) thickness(c *house.Cold) Text {
	if atDewPoint(c) {
		return say("a wrap")
	}
	if c.Of.Diameter > 0 {
		t := p.estimated(c.Round, quantity.Length)
		t.Words += " around it"
		return t
	}
	return p.estimated(c.Flat, quantity.Length)
}

// changeWords names a changed setting.
func (p *page) changeWords(x house.ColdChange) string {
	sign := "up"
	if x.Delta < 0 {
		sign = "down"
	}
	by := p.value(quantity.Exact(max(x.Delta, -x.Delta)), quantity.TemperatureDifference)
	if x.What == "humidity" {
		by = fmt.Sprintf("%.0f points", 100*max(x.Delta, -x.Delta))
	}
	what := map[string]string{"supply-air": "supply air", "set-point": "room temperature", "humidity": "humidity of the rooms"}[x.What]
	return what + " " + sign + " by " + by
}

// coldNotes writes what stands behind a cold surface.
func (p *page) coldNotes(c *house.Cold) {
	name := capital(c.Of.Surface.Name.Value)
	for _, w := range c.Warnings {
		p.para(warning, say(name+": "+stop(w)))
	}
	var words []string
	if c.Of.Surface.Around == assembly.Side("crawl") && c.Foggy > 0 {
		words = append(words, fmt.Sprintf("for %.0f of the hours the air itself stands above 95 %% humidity, where only drying the air helps", c.Foggy))
	}
	if c.Jacket.Known {
		words = append(words, "the jacket over the insulation must stay under "+p.value(c.Jacket.Range, quantity.Permeance))
	}
	words = append(words, c.Assumptions...)
	if len(words) > 0 {
		p.para(quiet, say(name+": "+stop(strings.Join(words, "; "))))
	}
}
