package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"relath/kb"
	"relath/kb/quantity"
)

// Places makes the list of places. With one place it shows its months.
func (m Maker) Places(list []*kb.Place, sub string) *Document {
	p := m.page("Places", sub)
	if len(list) == 0 {
		p.para(lead, say("No place of the base matches. Give words of its name, the two letters of its state, or LAT,LON."))
		return p.finish()
	}
	t := Table{Heads: []string{"Id", "Name", "Zone", "January mean", "July mean"}, Right: []int{3, 4}}
	for _, place := range list {
		t.Rows = append(t.Rows, []Text{
			say(place.ID), say(place.Name + ", " + place.Region), marked(orWord(place.Zone, "not known"), orRead(place.ZoneBasis.Evidence), p.basis(place.ZoneBasis)),
			p.monthly(place, "temperature", 0), p.monthly(place, "temperature", 6),
		})
	}
	p.table(t)
	p.para(quiet, say("Zones are those of the map of the 2006 to 2018 editions; the map changed in 2021. The adopted edition decides."))
	if len(list) == 1 {
		p.months(list[0])
	}
	return p.finish()
}

// monthly words one month of a quantity of a place.
func (p *page) monthly(place *kb.Place, name string, month int) Text {
	for _, s := range place.Months {
		if s.Quantity == name && month < len(s.SI) {
			return marked(quantity.Format(s.SI[month], dimensionOf(name), p.Units), s.Evidence, p.basis(s.Basis))
		}
	}
	return say("not known")
}

// dimensionOf gives the dimension of a monthly quantity.
func dimensionOf(series string) quantity.Dimension {
	switch series {
	case "temperature", "daily-maximum", "daily-minimum":
		return quantity.Temperature
	case "temperature-spread":
		return quantity.TemperatureDifference
	case "humidity", "humidity-spread":
		return quantity.Ratio
	case "vapor-pressure":
		return quantity.Pressure
	case "precipitation":
		return quantity.Length
	case "wind":
		return quantity.Velocity
	case "sun":
		return quantity.HeatFlux
	}
	return quantity.Number
}

// months writes every monthly quantity of a place.
func (p *page) months(place *kb.Place) {
	p.heading(1, place.Name+" by month")
	p.para(plain, say(fmt.Sprintf("Latitude %.2f, longitude %.2f, elevation %s.", place.Latitude, place.Longitude, orWord(place.Elevation.Value, "not known"))))
	for _, s := range place.Months {
		p.table(p.year(s))
	}
	if len(place.Notes) > 0 {
		p.list(says(place.Notes)...)
	}
}

// year writes the twelve months of a quantity in one row.
func (p *page) year(s kb.Series) Table {
	_, unit := quantity.Display(first(s.SI), dimensionOf(s.Quantity), p.Units)
	t := Table{Caption: capital(strings.ReplaceAll(s.Quantity, "-", " ")), Notes: tidy([]int{p.basis(s.Basis)})}
	if unit != "" {
		t.Caption += ", " + unit
	}
	if s.Evidence != kb.Read {
		t.Mark = string(s.Evidence)
	}
	t.Heads = monthNames()
	row := make([]Text, len(s.SI))
	for i, v := range s.SI {
		t.Right = append(t.Right, i)
		row[i] = say(p.bare(quantity.Exact(v), dimensionOf(s.Quantity)))
	}
	t.Rows = [][]Text{row}
	return t
}

func first(list []float64) float64 {
	if len(list) == 0 {
		return 0
	}
	return list[0]
}

// FindPlaces picks places by words: parts of the name or id, a climate zone, a
// country, or a state by its two letters or its name. All words must fit.
// Without words it gives all.
func FindPlaces(base *kb.Base, words []string) []*kb.Place {
	wanted := strings.Fields(strings.ToLower(strings.Join(words, " ")))
	var list []*kb.Place
	for _, place := range base.Places {
		if !slices.ContainsFunc(wanted, func(w string) bool { return !fits(place, w) }) {
			list = append(list, place)
		}
	}
	return list
}

// fits says whether a word in small letters fits a place. Two letters are a
// state, a country or a zone, never a part of a name.
func fits(place *kb.Place, word string) bool {
	for _, whole := range []string{place.Region, place.Country, place.Zone} {
		if strings.ToLower(whole) == word {
			return true
		}
	}
	if len(word) <= 2 {
		return false
	}
	return strings.Contains(strings.ToLower(place.ID+" "+place.Name+" "+stateName(place.Region)), word)
}

// NearestPlaces gives the places nearest to a point in degrees, nearest first.
func NearestPlaces(base *kb.Base, latitude, longitude float64, n int) []*kb.Place {
	list := slices.Clone(base.Places)
	far := func(p *kb.Place) float64 { return angle(latitude, longitude, p.Latitude, p.Longitude) }
	slices.SortStableFunc(list, func(a, b *kb.Place) int { return cmp.Compare(far(a), far(b)) })
	return list[:min(n, len(list))]
}

// angle is the angle at the center of the earth between two points in degrees,
// by the haversine formula.
func angle(lat1, lon1, lat2, lon2 float64) float64 {
	rad := func(d float64) float64 { return d * math.Pi / 180 }
	half := func(d float64) float64 { return math.Pow(math.Sin(rad(d)/2), 2) }
	return 2 * math.Asin(math.Sqrt(half(lat2-lat1)+math.Cos(rad(lat1))*math.Cos(rad(lat2))*half(lon2-lon1)))
}
