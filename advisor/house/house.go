// Package house looks at the house as a whole: what it holds in glue, mold food
// and regulated wood, what its faces buffer, how its solid wood moves, what the
// air of its rooms does, and which ducts, pipes and edges fall below a dew
// point.
//
// It owns these sums and models. It judges nothing: findings and cautions are
// given in and put in order. A description is often partial; everything counts
// only what is described, and what could not be counted is named.
package house

import (
	"context"
	"fmt"
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/kb"
)

// Study is a house made ready to be looked at.
type Study struct {
	base    *kb.Base
	house   *assembly.Resolved
	under   analysis.Hourly // which weather
	year    *climate.Year   // nil until needed
	weather string          // which year it is, in words
	used    map[string]bool
	rule    climate.Indoor
	months  []month // empty without a place
}

// Said is what was found about one assembly before.
type Said struct {
	Assembly string
	Findings []Finding
	Cautions []Caution
}

// Finding is what a rule or a code table says of an assembly.
type Finding struct {
	ID      string
	Title   string
	Kind    kb.FindingKind
	Level   kb.Level
	Verdict kb.Verdict
	Layer   string
	Say     string
	Settle  string // what to measure or choose
}

// Caution is a caution that an assembly or a finish calls for.
type Caution struct {
	ID      string
	For     []string // what called for it, in words
	Certain bool
}

// Result is the page of a house. Estimates are in the SI unit named beside
// them.
type Result struct {
	Order       []Standing // assemblies, the worst first
	Glue        Holdings   // kg
	CavityFood  Holdings   // m² of faces
	RoomFood    Holdings   // m² of faces
	Regulated   Regulated
	Buffering   Buffering
	Finishes    []Finish
	Boards      []LayerMovement // solid wood of assemblies toward rooms
	Rooms       []Room
	Balance     Balance
	Corners     []Corner
	Cold        []Cold
	Weather     string // the hourly year of the cold surfaces, in words
	Questions   []Question
	Cautions    []Called
	Assumptions []analysis.Assumption // sorted by id
	Warnings    []string
}

// New prepares a house under the weather of hourly runs: a measured year or the
// synthetic one of the place, shifted or not.
func New(base *kb.Base, h *assembly.Resolved, under analysis.Hourly) *Study {
	s := &Study{base: base, house: h, under: under, used: make(map[string]bool)}
	s.rule = analysis.RoomRule(h)
	s.months = s.monthly(s.rule)
	return s
}

// Run looks at the whole house. Results are the analyses of its assemblies, in
// any order; an assembly without one is named in the warnings. It is an error
// when the context ends, or when the place has no hourly year.
func (s *Study) Run(ctx context.Context, results []*analysis.Result, said []Said) (*Result, error) {
	r := &Result{Order: order(s.house, said), Questions: questions(said), Cautions: s.cautions(said)}
	for _, a := range s.house.Assemblies {
		if !slices.ContainsFunc(results, func(x *analysis.Result) bool { return x.Assembly == a }) {
			r.Warnings = append(r.Warnings, fmt.Sprintf("%s is not analyzed and counts nowhere", a.Name))
		}
	}
	for i := range s.house.Finishes {
		f := &s.house.Finishes[i]
		if len(f.Materials) > 0 {
			r.Finishes = append(r.Finishes, s.Finish(f, f.Materials[0]))
		}
	}
	r.Boards = s.layerMovements(results)
	r.Glue = s.glue(results)
	r.CavityFood, r.RoomFood = s.food(results)
	r.Regulated = s.regulated(results)
	r.Buffering = s.buffering(results)
	r.Balance = s.balance()
	r.Rooms = s.rooms(r.Buffering)
	r.Corners = s.corners(results)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var err error
	if r.Cold, err = s.coldSurfaces(ctx); err != nil {
		return nil, err
	}
	r.Weather = s.weather
	r.Assumptions = s.assumptions()
	return r, nil
}

// assumptions lists the defaults of the base that were used.
func (s *Study) assumptions() []analysis.Assumption {
	ids := make([]string, 0, len(s.used))
	for id := range s.used {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	var list []analysis.Assumption
	for _, id := range ids {
		a := s.base.Assumption(id)
		text := fmt.Sprintf("%s: %s", a.Title, a.Value)
		if !a.SI.IsExact() {
			text += fmt.Sprintf(" (%s)", a.Range)
		}
		list = append(list, analysis.Assumption{ID: id, Text: text, Basis: a.Basis})
	}
	return list
}
