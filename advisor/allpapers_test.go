package advisor_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/lint"
)

// calledFor says in Go, apart from the conditions of the base, which cautions the
// work on an assembly calls for: by what was not in the house before, what is no
// longer in it, its year and its sides. It leaves out what needs a computation.
func calledFor(h *assembly.Resolved, before, after *assembly.Assembly, swapped bool) []string {
	old, fresh := standing(before), standing(after)
	adds, removes := map[string]bool{}, map[string]bool{}
	disturbs := false
	for m, state := range fresh {
		if _, there := old[m]; there && swapped || !swapped && state != "proposed" {
			continue
		}
		for _, term := range m.Terms {
			adds[term] = true
		}
	}
	for m, state := range old {
		if _, there := fresh[m]; there {
			continue
		}
		disturbs = disturbs || state == "existing"
		for _, term := range m.Terms {
			removes[term] = true
		}
	}
	side := func(s assembly.Side) bool { return slices.Contains(after.Between[:], s) }
	built := h.House.Built
	var list []string
	for id, called := range map[string]bool{
		"lime-burns":                 adds["alkaline"],
		"borate-dust":                adds["borate"],
		"oily-rags":                  adds["oil-paint"],
		"freezing-plaster":           adds["lime-plaster"] || adds["clay-plaster"],
		"galvanic-fasteners":         adds["lime"] || adds["wood-cladding"],
		"foam-thermal-barrier":       adds["foam-plastic"],
		"formaldehyde":               adds["composite-wood-regulated"],
		"exposed-facing":             adds["kraft"] || adds["foil"],
		"wood-movement":              adds["solid-wood"] || adds["wood-floor"],
		"straw-dry":                  adds["straw"],
		"fireblocking":               adds["wood-cladding"],
		"vermiculite":                removes["vermiculite"],
		"combustible-fill-clearance": adds["combustible"] && (adds["fibrous-insulation"] || adds["loose-fill"] || adds["straw"]),
		"lead-paint":                 built > 0 && built < 1978 && disturbs,
		"asbestos":                   built > 0 && built < 1990 && disturbs && removes["asbestos-suspect"],
		"bath-fan":                   side("wet-room"),
		"garage-separation":          side("garage"),
	} {
		if called {
			list = append(list, id)
		}
	}
	slices.Sort(list)
	return list
}

// standing gives the materials of an assembly with the state of their layer, in
// whichever way it is built.
func standing(a *assembly.Assembly) map[*kb.Material]assembly.State {
	list := make(map[*kb.Material]assembly.State)
	for _, v := range a.Variants {
		for _, p := range v.Layers {
			put := func(m *kb.Material) {
				if m != nil {
					list[m] = p.State
				}
			}
			put(p.Material)
			for _, f := range p.Fills {
				put(f.Material)
			}
			for _, c := range slices.Concat(p.CoatsOut, p.CoatsIn) {
				put(c)
			}
		}
	}
	return list
}

// flat is a text in small letters with single spaces.
func flat(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// papersOf makes every page of a shipped house, with the first swap that fits
// each assembly.
func papersOf(t *testing.T, b *kb.Base, h *assembly.Resolved) (report.Spec, []*swap.Advice, map[string]*report.Document) {
	t.Helper()
	ctx, tester, m := context.Background(), rule.Tester{Base: b}, report.Maker{Base: b}
	results, err := advisor.Analyze(ctx, tester, h.Assemblies)
	if err != nil {
		t.Fatal(err)
	}
	advice, err := advisor.Advise(ctx, tester, h.Assemblies, swap.Options{})
	if err != nil {
		t.Fatal(err)
	}
	choice := advisor.Choice{Best: true}
	s, err := advisor.Spec(ctx, tester, h, choice, advisor.Wishes{Whole: true})
	if err != nil {
		t.Fatal(err)
	}
	order, err := advisor.Order(ctx, tester, h, advisor.Ordering{Choice: choice, Schedule: true})
	if err != nil {
		t.Fatal(err)
	}
	return s, advice, map[string]*report.Document{
		"analyze": m.HouseAnalysis(h, s.Whole, results), "advise": m.Advice(advice, swap.Finishes(tester, h), 0),
		"order": m.Order(order), "spec": m.Spec(s), "client": m.Client(s),
	}
}

// On the papers of every shipped house cautions stand wherever the work calls for
// them, and no page names a brand.
func TestPapersOfAllHouses(t *testing.T) {
	b := base(t)
	cautions := make(map[string]*kb.Caution)
	for _, c := range b.Cautions {
		cautions[c.ID] = c
	}
	asked := make(map[string]bool)
	for name, h := range houses(t, b) {
		s, advice, pages := papersOf(t, b, h)
		texts := make(map[string]string)
		for page, d := range pages {
			texts[page] = flat(text(t, d))
			bare := *d
			bare.Notes = nil // name sources, whose journals are written so
			if found := lint.TradeName(text(t, &bare)); found != "" {
				t.Errorf("%s, %s: %q looks like a trade name", name, page, found)
			}
		}
		for _, p := range s.Plans {
			works := len(p.Steps) > 0 || slices.ContainsFunc(s.Takeoff.Lines, func(l takeoff.Line) bool { return l.Where.Assembly == p.After.Assembly.Name })
			if !works {
				continue
			}
			for _, id := range calledFor(h, p.Before.Assembly, p.After.Assembly, len(p.Steps) > 0) {
				asked[id] = true
				c := cautions[id]
				if !strings.Contains(texts["spec"], flat(strings.TrimSuffix(c.Say, "."))) {
					t.Errorf("%s, %s: the specification does not say %s", name, p.After.Assembly.Name, id)
				}
				if !strings.Contains(texts["client"], flat(c.Title)) {
					t.Errorf("%s, %s: the client page does not name %s", name, p.After.Assembly.Name, id)
				}
			}
		}
		for i, a := range advice {
			for _, p := range a.Proposals {
				for _, id := range calledFor(h, h.Assemblies[i], p.After.Assembly, true) {
					asked[id] = true
					if !slices.ContainsFunc(p.Cautions, func(c rule.Caution) bool { return c.Caution.ID == id }) {
						t.Errorf("%s: %s comes without %s", name, p.ID, id)
					}
					if !strings.Contains(texts["advise"], flat(cautions[id].Title)) {
						t.Errorf("%s: the advice does not name %s", name, id)
					}
				}
			}
		}
	}
	const least = 12 // of the 17 above; the shipped houses call for no others
	if len(asked) < least {
		t.Errorf("only %d cautions are called for: %v", len(asked), asked)
	}
}
