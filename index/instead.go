package index

import (
	"math"
	"slices"
	"strings"

	"relath/kb"
)

// replace ranks what could stand in the place of a material: swaps that replace
// it, then materials that go where it goes, take its duties and are of other
// stuff. What else the question asks for counts as well.
func (s *session) replace(a *answer, words []string) error {
	old, err := s.named(words)
	if err != nil {
		return err
	}
	if old == nil {
		a.ignored = append(a.ignored, words...)
		return nil
	}
	a.instead = old.ID
	scores := map[string]float64{}
	for _, h := range a.hits {
		scores[h.key()] = h.score
	}
	a.hits = nil
	judge := newSimilar(s.ix.base, old)
	units := s.lang.ask(words).units
	for _, r := range s.ix.refs {
		like := 0.0
		switch of := r.of.(type) {
		case *kb.Material:
			like = judge.like(of)
		case *kb.Recipe:
			if like = judge.swap(of); like > 0 && s.lang.names(of.Title, units) {
				like += ofTitle
			}
		}
		if like > 0 {
			a.hits = append(a.hits, hit{ref: r, score: like + scores[r.key()]})
		}
	}
	sortHits(a.hits)
	return nil
}

// leastFit is how well a name must fit what is to be replaced.
const leastFit = 0.5

// named finds the material that words name, or nil.
func (s *session) named(words []string) (*kb.Material, error) {
	a := &answer{lang: s.lang}
	all := &session{ix: s.ix, lang: s.lang, reader: s.reader}
	if err := all.rank(a, question{units: s.lang.ask(words).units}); err != nil {
		return nil, err
	}
	for _, h := range a.hits {
		if m := h.material(); m != nil && a.fit(s.lang.namesOf(entryOf(s.ix.base, h.ref).names)) >= leastFit {
			return m, nil
		}
	}
	return nil, nil
}

// similar compares materials with one that is to be replaced.
type similar struct {
	old    *kb.Material
	own    []string
	rarity map[string]float64 // of a term or duty: high where few materials have it
}

func newSimilar(b *kb.Base, old *kb.Material) similar {
	s := similar{old: old, own: features(old), rarity: map[string]float64{}}
	count := map[string]float64{}
	for _, m := range b.Materials {
		for _, f := range features(m) {
			count[f]++
		}
	}
	for f, n := range count {
		s.rarity[f] = math.Log(1 + float64(len(b.Materials))/n)
	}
	return s
}

// What a feature says begins with one of these.
const (
	goes  = "goes "  // where a material goes
	takes = "takes " // a duty
	holds = "holds " // what it is made of
)

// features lists what two materials can share, each once.
func features(m *kb.Material) []string {
	all := []string{goes + string(m.Form)}
	for _, t := range m.Terms {
		if isPlace(t) {
			all = append(all, goes+t)
		} else {
			all = append(all, holds+t)
		}
	}
	for _, o := range m.Duties {
		if f := takes + o.Duty; !slices.Contains(all, f) {
			all = append(all, f)
		}
	}
	return all
}

// Weights of what two materials share, set by hand on the judged questions.
const (
	placeShare = 0.4
	dutyShare  = 0.4
	stuffShare = 0.3
	noGlue     = 0.2
	natural    = 0.05
	ordered    = 0.05
	ofRecipe   = 1.2  // of a swap that takes the old material out
	ofTitle    = 0.3  // of its title that says so
	ofFurther  = 0.15 // for each further layer that the swap takes out
)

// like says how well a material could take the place of the old one, about 0 to
// 1; 0 where it goes elsewhere, has the same name, or is not to be advised.
func (s similar) like(m *kb.Material) float64 {
	place := s.share(m, goes)
	if m == s.old || place == 0 || m.Advise == "no" || m.Available == "no-longer" {
		return 0
	}
	like := placeShare*place + dutyShare*s.share(m, takes) - stuffShare*s.share(m, holds)
	if glue(m) == Fails {
		like += noGlue
	}
	if slices.Contains(m.Terms, "natural") || slices.Contains(m.Terms, "solid-wood") {
		like += natural
	}
	if m.Available == "ordered" {
		like -= ordered
	}
	return math.Max(0, like)
}

// share gives the share of the old material's features of a sort that m has too,
// each as heavy as it is rare.
func (s similar) share(m *kb.Material, sort string) float64 {
	has, sum := 0.0, 0.0
	others := features(m)
	for _, f := range s.own {
		if !strings.HasPrefix(f, sort) {
			continue
		}
		sum += s.rarity[f]
		if slices.Contains(others, f) {
			has += s.rarity[f]
		}
	}
	if sum == 0 {
		return 0
	}
	return has / sum
}

// swap says whether a recipe takes out a layer like the old material.
func (s similar) swap(r *kb.Recipe) float64 {
	for _, layer := range r.Replaces {
		named := false
		met := true
		for _, c := range layer {
			if c.Fact == "terms" && len(c.Words) > 0 {
				named = true
				met = met && slices.ContainsFunc(c.Words, func(t string) bool { return slices.Contains(s.old.Terms, t) })
			}
		}
		if named && met {
			return ofRecipe - ofFurther*float64(len(r.Replaces)-1)
		}
	}
	return 0
}

// isPlace says whether a term names where a material goes.
func isPlace(term string) bool {
	switch term {
	case "cabinet", "carpet", "cavity-fill", "cladding", "door", "fibrous-insulation", "flooring", "framing", "interior-finish", "lining",
		"loose-fill", "masonry", "paint", "primer", "roofing", "sheathing", "subfloor", "trim", "underlayment", "wallcovering",
		"water-resistive-barrier", "wet-area-backer":
		return true
	}
	return false
}

// names says whether a text has all the units.
func (l *language) names(text string, units []unit) bool {
	tokens := l.nameOf(text).tokens
	return !slices.ContainsFunc(units, func(u unit) bool { return !u.pair && !u.in(tokens) })
}
