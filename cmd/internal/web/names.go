package web

import (
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/index"
	"relath/kb"
	"relath/kb/strict"
)

// between stands between the things that something may be.
const between = ";"

// choice reads the names of materials, apart by semicolons where it is open
// which one it is.
func (e *editor) choice(field, text string, sort string) (assembly.Choice, error) {
	var c assembly.Choice
	for _, word := range strings.Split(text, between) {
		if word = strings.TrimSpace(word); word == "" {
			continue
		}
		id := assembly.None
		if word != assembly.None {
			m, err := e.named(field, word, sort)
			if err != nil {
				return c, err
			}
			id = m.ID
		}
		c.OneOf = append(c.OneOf, strict.Text{Value: id})
	}
	if len(c.OneOf) == 0 {
		return c, wrong("no material was named; search for one by a word of its name")
	}
	return c, nil
}

// named finds a material by its id or by a name, and asks where that is not
// enough.
func (e *editor) named(field, word string, sort string) (*kb.Material, error) {
	if m := e.Base.Material(word); m != nil {
		return m, nil
	}
	var same []*kb.Material
	for _, m := range e.Base.Materials {
		if fits(m, sort) && strings.EqualFold(m.Name, word) {
			same = append(same, m)
		}
	}
	if len(same) == 1 {
		return same[0], nil
	}
	list, err := e.materials(word, sort)
	if err != nil {
		return nil, err
	}
	which := &choose{field: field, typed: e.typed(field, word)}
	for _, m := range list {
		whole := strings.ReplaceAll(which.typed, word, m.Name)
		which.options = append(which.options, option{whole, m.Name})
	}
	return nil, which
}

// typed gives the value of a field in which a word stands.
func (e *editor) typed(field, word string) string {
	at := slices.IndexFunc(e.form[field], func(v string) bool { return strings.Contains(v, word) })
	if at < 0 {
		return word
	}
	return e.form[field][at]
}

// fits says whether a field for things of a sort may name a material.
func fits(m *kb.Material, sort string) bool {
	switch sort {
	case ofCoats:
		return m.Form == kb.Coat
	case ofLayers:
		return m.Form != kb.Coat && m.Form != kb.Unit && m.Form != kb.Joint
	}
	return true
}

// mostSuggested is how many materials are offered for a word.
const mostSuggested = 8

// The sorts of things that a field may name.
const (
	ofLayers   = "material"
	ofCoats    = "coating"
	ofFinishes = "finish" // anything, doors and cabinets too
)

// materials searches for materials as people name them.
func (s *Server) materials(words, sort string) ([]*kb.Material, error) {
	kinds := []index.Kind{index.Material}
	switch sort {
	case ofCoats:
		kinds = []index.Kind{index.Coating}
	case ofFinishes:
		kinds = append(kinds, index.Coating)
	}
	found, err := s.Index.Search(index.Query{Words: words, Kind: kinds, Limit: 4 * mostSuggested})
	if err != nil {
		return nil, err
	}
	var list []*kb.Material
	for _, h := range found.Hits {
		if m := s.Base.Material(h.ID); m != nil && fits(m, sort) && len(list) < mostSuggested {
			list = append(list, m)
		}
	}
	return list, nil
}

// choiceWords writes a choice of the description by the names of its materials.
func (s *Server) choiceWords(c assembly.Choice) string {
	names := make([]string, len(c.OneOf))
	for i, id := range c.OneOf {
		names[i] = id.Value
		if m := s.Base.Material(id.Value); m != nil {
			names[i] = m.Name
		}
	}
	return strings.Join(names, between+" ")
}

// placeNamed finds a place by its id or by words, and asks where that is not
// enough.
func (s *Server) placeNamed(word string) (*kb.Place, error) {
	word = strings.TrimSpace(word)
	if p := s.Base.Place(word); p != nil {
		return p, nil
	}
	for _, p := range s.Base.Places {
		if strings.EqualFold(placeWords(p), word) {
			return p, nil
		}
	}
	list := s.places(word)
	if len(list) == 1 {
		return list[0], nil
	}
	which := &choose{field: "place", typed: word}
	for _, p := range list {
		which.options = append(which.options, option{placeWords(p), placeWords(p) + zoneWords(p)})
	}
	return nil, which
}

// mostPlaces is how many places are offered for a word.
const mostPlaces = 12

// places finds places by words.
func (s *Server) places(words string) []*kb.Place {
	asked := strings.Fields(strings.ReplaceAll(words, ",", " "))
	list := report.FindPlaces(s.Base, asked)
	if last := len(asked) - 1; len(list) == 0 && last > 0 {
		// Two letters are a state, but here they may be the beginning of a word.
		begins := " " + strings.ToLower(asked[last])
		list = slices.DeleteFunc(report.FindPlaces(s.Base, asked[:last]), func(p *kb.Place) bool {
			return !strings.Contains(" "+strings.ToLower(placeWords(p)), begins)
		})
	}
	return list[:min(len(list), mostPlaces)]
}

func placeWords(p *kb.Place) string { return p.Name + ", " + p.Region }

func zoneWords(p *kb.Place) string {
	if p.Zone == "" {
		return ""
	}
	return " (zone " + p.Zone + ")"
}
