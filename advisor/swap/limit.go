package swap

import (
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// Limit is what a product must have that is bought for a layer, so that every
// check of the assembly still passes.
type Limit struct {
	Layer      int // described layer
	Fill       int // of a framed layer, -1 for others
	Part       *assembly.Part
	Material   *kb.Material
	Dry, Wet   Bound  // permeance of the layer with its coats by both cups; Wet only where it varies with humidity
	Resistance Bound  // only of what insulates
	Withheld   string // not empty: no limit is given, and why
}

// Bound is the range of one property. An end that is not set may be anything.
type Bound struct {
	Low, High Edge
	Best      float64 // what was computed with
	Asked     bool
}

// Edge is one end of a range, rounded to the safe side. One that is not set may
// be anything; At then is the end of what was searched.
type Edge struct {
	Set    bool
	At     float64  // SI; where it is set a number of few digits in the units asked for
	Past   float64  // the next number of as many digits, with which a check fails
	Breaks []string // titles of the findings that it brings
}

// Limits finds, for every layer that is bought, the widest range of its
// properties with which every check still passes: findings of rules and code
// tables, with condensation, drying and surfaces among them, and the vapor
// retarder class of the layer that slows the vapor. A check passes when it says
// no more than with all bought layers at their best values.
//
// The layers widen one after the other, the one that holds back the most vapor
// first: in a first round to the ranges of the base, then to twice and half of
// them, then as far as they go, each with all others anywhere in what they have
// got, so that products which keep to all limits pass together. A permeance that varies with humidity moves as a whole
// by the dry cup, and its wet end apart. Numbers are rounded in the units of the
// system. A value in doubt sets no limit.
//
// What the description leaves in doubt is taken by its first choice, as it is for
// quantities. Bought says which layers are bought, or get new coats. It is an error when the
// context ends or a method refuses its input.
func Limits(ctx context.Context, t rule.Tester, a *assembly.Assembly, bought func(*assembly.Part) bool) ([]Limit, error) {
	first := *a
	first.Variants = a.Variants[:1]
	t.Mute = true
	l := &limiter{ctx: ctx, tester: t, of: &first, holder: analysis.NewHolder(t.Base, &first), bought: bought, known: make(map[string][]string)}
	l.gather()
	if len(l.limits) == 0 {
		return nil, nil
	}
	if err := l.begin(); err != nil {
		return nil, err
	}
	if err := l.search(); err != nil {
		return nil, err
	}
	return l.limits, l.withhold()
}

// limiter searches the limits of one assembly.
type limiter struct {
	ctx    context.Context
	tester rule.Tester
	of     *assembly.Assembly
	holder *analysis.Holder
	bought func(*assembly.Part) bool
	limits []Limit
	box    []analysis.Held     // by limit: where its layer may be
	usual  []analysis.Held     // by limit: the ranges of the base
	doubts []analysis.Held     // layers whose permeance is of high doubt, wider
	doubt  []string            // their names
	sure   bool                // every step is confirmed by full runs
	wide   bool                // all checks pass anywhere in the ranges of the base
	now    map[string]int      // how bad each finding is with all at their best
	broke  []string            // of the run that failed last
	point  heatPoint           // at which the last full run failed
	known  map[string][]string // what broke in each run so far
}

// gather lists the layers that are bought, over all ways to build.
func (l *limiter) gather() {
	for _, v := range l.of.Variants {
		for _, p := range analysis.Products(l.tester.Base, l.of, v) {
			l.product(&p)
		}
	}
}

// product takes in one layer, once.
func (l *limiter) product(p *analysis.Product) {
	same := func(h analysis.Held) bool { return h.Layer == p.Part.Layer && h.Fill == p.Fill }
	if p.Lacks != "" {
		return
	}
	if len(p.Doubtful) > 0 && !slices.ContainsFunc(l.doubts, same) {
		const factor = 2
		h := analysis.AsBest(p.Part.Layer, p.Fill)
		h.Dry = quantity.Range{Low: p.Dry.Low / p.Dry.Best / factor, Best: 1, High: p.Dry.High / p.Dry.Best * factor}
		h.Wet = h.Dry
		l.doubts, l.doubt = append(l.doubts, h), append(l.doubt, p.Doubtful...)
	}
	if !l.bought(p.Part) || slices.ContainsFunc(l.box, same) {
		return
	}
	base := analysis.AsBest(p.Part.Layer, p.Fill)
	base.Dry, base.Wet = ratio(p.Dry), ratio(p.Wet)
	x := Limit{Layer: p.Part.Layer, Fill: p.Fill, Part: p.Part, Material: p.Material}
	x.Dry = Bound{Best: p.Dry.Best, Asked: true}
	x.Wet = Bound{Best: p.Wet.Best, Asked: p.Varies && p.Wet.Best > wetter*p.Dry.Best}
	x.Resistance = Bound{Best: p.Resistance.Best, Asked: p.Resistance.Best > insulating}
	if x.Resistance.Asked {
		base.Resistance = ratio(p.Resistance)
	}
	if len(p.Doubtful) > 0 {
		x.Withheld = fmt.Sprintf("the permeance of %s is in doubt: have it tested, then compute again", lowerFirst(strings.Join(p.Doubtful, ", ")))
	}
	l.limits, l.usual = append(l.limits, x), append(l.usual, base)
	l.box = append(l.box, analysis.AsBest(x.Layer, x.Fill))
}

// wetter is the ratio of wet to dry cup from which the wet cup has a limit of its
// own; insulating the thermal resistance from which that has one, m²·K/W.
const (
	wetter     = 1.5
	insulating = 0.35
)

// ratio gives a range by its best value.
func ratio(r quantity.Range) quantity.Range {
	if r.Best <= 0 {
		return quantity.Exact(1)
	}
	return r.Scale(1 / r.Best)
}

func lowerFirst(s string) string { return strings.ToLower(s[:min(1, len(s))]) + s[min(1, len(s)):] }

// order gives the limits from the tightest layer to the most open.
func (l *limiter) order() []int {
	list := make([]int, len(l.limits))
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, func(a, b int) int {
		switch x, y := l.limits[a].Dry.Best, l.limits[b].Dry.Best; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return list
}

// begin notes what is said with all at their best, and begins from the ranges of
// the base where nothing more is said with them.
func (l *limiter) begin() error {
	found, err := l.said(l.box, atBest, false)
	if err != nil {
		return err
	}
	l.now = found
	l.wide, err = l.confirmed(l.usual)
	if l.wide {
		l.box = slices.Clone(l.usual)
	}
	return err
}

// said gives how bad each finding is, from 1 for open to 2 for sure, by rule and
// layer. What is for information only is no check.
func (l *limiter) said(box []analysis.Held, heat heatPoint, rough bool) (map[string]int, error) {
	at := slices.Clone(box)
	for i := range at {
		at[i].Resistance = quantity.Exact(heat.of(at[i].Resistance))
	}
	r, err := l.holder.Run(l.ctx, at, rough)
	if err != nil {
		return nil, err
	}
	found := make(map[string]int)
	for _, f := range rule.Evaluate(l.tester, r) {
		if f.Level == "info" || f.Verdict == kb.Yes {
			continue
		}
		bad := 1
		if f.Verdict == kb.No {
			bad = 2
		}
		found[f.Title+"\n"+f.Layer] = max(bad, found[f.Title+"\n"+f.Layer])
	}
	l.classes(r, found)
	return found, nil
}

// classes notes a layer that slows the vapor and is no longer surely of its
// class.
func (l *limiter) classes(r *analysis.Result, found map[string]int) {
	for _, v := range r.Variants {
		for _, c := range v.Covers {
			if c.Duty != "retard-vapor" {
				continue
			}
			for _, layer := range v.Layers {
				e := layer.Facts["retarder-class"]
				if slices.Contains(c.By, layer.Part.Name) && e.Known && len(e.Words) > 0 {
					found["Vapor retarder class "+strings.Join(e.Words, " or ")+"\n"+layer.Part.Name] = 1
				}
			}
		}
	}
}

// passes says whether nothing more is said than with all at their best, and
// notes what is. A rough run comes first, because what fails in it fails; the
// full ones only where the limiter is to be sure at each step.
func (l *limiter) passes(box []analysis.Held, first heatPoint) (bool, error) {
	if fine, err := l.fine(box, first, true); !fine || err != nil || !l.sure {
		return fine, err
	}
	return l.confirmed(box)
}

// confirmed is passes by full runs, with the thermal resistances at their best
// and at both ends.
func (l *limiter) confirmed(box []analysis.Held) (bool, error) {
	points := []heatPoint{atBest}
	if slices.ContainsFunc(l.limits, func(x Limit) bool { return x.Resistance.Asked }) {
		points = append(points, atLeast, atMost)
	}
	for _, heat := range points {
		if fine, err := l.fine(box, heat, false); !fine || err != nil {
			l.point = heat
			return false, err
		}
	}
	return true, nil
}

// tried is what one run is made of, as bytes.
func tried(box []analysis.Held, heat heatPoint, rough bool) string {
	key := fmt.Appendf(nil, "%d %t", heat, rough)
	for i := range box {
		for _, r := range []quantity.Range{box[i].Dry, box[i].Wet, box[i].Resistance} {
			for _, v := range []float64{r.Low, r.Best, r.High} {
				key = binary.LittleEndian.AppendUint64(key, math.Float64bits(v))
			}
		}
	}
	return string(key)
}

// fine is passes for one run. What was run before is not run again: a search that
// is done anew begins where the first began.
func (l *limiter) fine(box []analysis.Held, heat heatPoint, rough bool) (bool, error) {
	key := tried(box, heat, rough)
	if broke, ok := l.known[key]; ok {
		l.broke = broke
		return len(broke) == 0, nil
	}
	found, err := l.said(box, heat, rough)
	if err != nil {
		return false, err
	}
	l.broke = nil
	for key, bad := range found {
		if bad > l.now[key] {
			title, _, _ := strings.Cut(key, "\n")
			l.broke = append(l.broke, title)
		}
	}
	slices.Sort(l.broke)
	l.broke = slices.Compact(l.broke)
	l.known[key] = l.broke
	return len(l.broke) == 0, nil
}

// heatPoint says where the thermal resistances of the bought layers stand: at
// their best, or all at one end. Checks read them at one value.
type heatPoint int

const (
	atBest heatPoint = iota
	atLeast
	atMost
)

func (h heatPoint) of(r quantity.Range) float64 {
	switch h {
	case atLeast:
		return r.Low
	case atMost:
		return r.High
	}
	return r.Best
}

// withhold takes all limits back where they would rest on a value in doubt:
// where a check fails once such a value is halved or doubled.
func (l *limiter) withhold() error {
	if len(l.doubts) == 0 {
		return nil
	}
	box := slices.Clone(l.doubts)
	for i := range l.box {
		if !slices.ContainsFunc(l.doubts, func(h analysis.Held) bool { return h.Layer == l.box[i].Layer && h.Fill == l.box[i].Fill }) {
			box = append(box, l.box[i])
		}
	}
	passes, err := l.confirmed(box)
	if passes || err != nil {
		return err
	}
	for i := range l.limits {
		if x := &l.limits[i]; x.Withheld == "" {
			x.Withheld = fmt.Sprintf("it would rest on the permeance of %s, which is in doubt", lowerFirst(strings.Join(l.doubt, ", ")))
		}
	}
	return nil
}
