package advisor_test

import (
	"bytes"
	"context"
	"encoding/json"
	"reflect"
	"slices"
	"testing"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// doubled is a house with each of its assemblies once more: of another name, size
// and side.
func doubled(t *testing.T, b *kb.Base, h *assembly.Resolved) *assembly.Resolved {
	t.Helper()
	house := *h.House
	house.Assemblies = slices.Clone(house.Assemblies)
	for _, d := range h.House.Assemblies {
		d.Name = strict.Text{Value: "another " + d.Name.Value}
		d.Area, d.Openings, d.Note = strict.Text{Value: "77 ft2"}, strict.Text{}, "it is smaller"
		if d.Faces != "" {
			d.Faces = "southwest"
		}
		house.Assemblies = append(house.Assemblies, d)
	}
	text, err := assembly.Write(&house)
	if err != nil {
		t.Fatal(err)
	}
	resolved, err := advisor.Load(b, "doubled.yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	return resolved
}

// jsonOf gives the data of the papers.
func jsonOf(t *testing.T, m report.Maker, s report.Spec) []byte {
	t.Helper()
	data, err := m.SpecData(s)
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.MarshalIndent(data, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// What assemblies that are built alike share is what each of them has alone, in
// every shipped house.
func TestAlike(t *testing.T) {
	b := base(t)
	tester := rule.Tester{Base: b, System: quantity.InchPound}
	m := report.Maker{Base: b, Units: quantity.InchPound}
	for name, h := range houses(t, b) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h := doubled(t, b, h)
			ctx := context.Background()
			shared, err := advisor.Spec(ctx, tester, h, advisor.Choice{Best: true}, advisor.Wishes{Whole: true})
			if err != nil {
				t.Fatal(err)
			}
			alone := shared
			alone.Plans = nil
			for i, a := range h.Assemblies {
				plan, err := advisor.Plan(ctx, tester, a, nil)
				if err != nil {
					t.Fatal(err)
				}
				plan.Cost = shared.Plans[i].Cost
				plan.Limits, err = swap.Limits(ctx, tester, plan.After.Assembly, func(part *assembly.Part) bool {
					return slices.ContainsFunc(shared.Takeoff.Lines, func(l takeoff.Line) bool {
						return l.Where.Assembly == a.Name && l.Where.Layer == part.Name
					})
				})
				if err != nil {
					t.Fatal(err)
				}
				alone.Plans = append(alone.Plans, plan)
			}
			if got, want := jsonOf(t, m, shared), jsonOf(t, m, alone); !bytes.Equal(got, want) {
				t.Errorf("shared and alone differ: %s", firstDifference(got, want))
			}
			var page, want bytes.Buffer
			if err := m.Spec(shared).HTML(&page); err != nil {
				t.Fatal(err)
			}
			if err := m.Spec(alone).HTML(&want); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(page.Bytes(), want.Bytes()) {
				t.Errorf("pages differ: %s", firstDifference(page.Bytes(), want.Bytes()))
			}
		})
	}
}

// firstDifference shows two texts around the first byte that differs.
func firstDifference(a, b []byte) string {
	at := 0
	for at < min(len(a), len(b)) && a[at] == b[at] {
		at++
	}
	around := func(text []byte) string { return string(text[max(0, at-80):min(len(text), at+80)]) }
	return around(a) + "\n and \n" + around(b)
}

// The swap that is taken where none is chosen, and the others, are those of the
// whole search: of every assembly of the shipped houses and of the starters.
func TestFirstIsOfPropose(t *testing.T) {
	b := base(t)
	tester := rule.Tester{Base: b}
	ctx := context.Background()
	all := []*assembly.Resolved{largeHouse(t, b, starters(b), 20)}
	for _, h := range houses(t, b) {
		all = append(all, h)
	}
	taken := 0
	for _, h := range all {
		for _, a := range h.Assemblies {
			advice, err := swap.Propose(ctx, tester, a, swap.Options{})
			if err != nil {
				t.Fatal(err)
			}
			want := swap.Found{Leave: advice.Leave}
			for i := range advice.Proposals {
				p := &advice.Proposals[i]
				want.IDs = append(want.IDs, p.ID)
				if want.First == "" && p.Standing != swap.Blocked && len(p.Resolved) > 0 {
					want.First = p.ID
					taken++
				}
			}
			got, err := swap.First(ctx, tester, advice.Before)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%s of %s:\n%+v\nwant\n%+v", a.Name, h.House.House, got, want)
			}
		}
	}
	if taken == 0 {
		t.Error("no swap is taken anywhere")
	}
}
