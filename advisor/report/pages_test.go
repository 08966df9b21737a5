package report_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

func loaded(t testing.TB) *kb.Base {
	t.Helper()
	b, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// pagesOf makes every page of a shipped house.
func pagesOf(t *testing.T, m report.Maker, file string) map[string]*report.Document {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	house, err := advisor.Load(m.Base, filepath.Base(file), data)
	if err != nil {
		t.Fatal(err)
	}
	ctx, tester := context.Background(), rule.Tester{Base: m.Base, System: m.Units}
	results, err := advisor.Analyze(ctx, tester, house.Assemblies)
	if err != nil {
		t.Fatal(err)
	}
	advice, err := advisor.Advise(ctx, tester, house.Assemblies, swap.Options{})
	if err != nil {
		t.Fatal(err)
	}
	papers, err := advisor.Spec(ctx, tester, house, advisor.Choice{Assembly: house.Assemblies[0].Name, Best: true}, advisor.Wishes{Whole: true})
	if err != nil {
		t.Fatal(err)
	}
	whole, err := advisor.House(ctx, tester, house, results, advisor.Hourly{})
	if err != nil {
		t.Fatal(err)
	}
	order, err := advisor.Order(ctx, tester, house, advisor.Ordering{All: true, Schedule: true})
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*report.Document{
		"order":    m.Order(order),
		"house":    m.HouseAnalysis(house, whole, results),
		"analysis": m.Analysis(results), "advice": m.Advice(advice, nil, 0), "short advice": m.Advice(advice, nil, 1),
		"spec": m.Spec(papers), "check": m.Understood(house),
	}
}

func TestNoFaceDropsAnythingOfHouses(t *testing.T) {
	m := report.Maker{Base: loaded(t)}
	files, err := filepath.Glob("../../testdata/houses/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no houses: %v", err)
	}
	for i, file := range files {
		if strings.HasSuffix(file, ".expect.yaml") {
			continue
		}
		m.Units = quantity.System(i % 2)
		for name, d := range pagesOf(t, m, file) {
			report.NoFaceDrops(t, filepath.Base(file)+" "+name, d)
		}
	}
}

func TestNoFaceDropsAnythingOfTheBase(t *testing.T) {
	b := loaded(t)
	m := report.Maker{Base: b}
	for _, mat := range b.Materials {
		report.NoFaceDrops(t, mat.ID, m.Material(mat))
	}
	for _, s := range b.Systems {
		report.NoFaceDrops(t, s.ID, m.System(s))
	}
	for _, e := range m.Explained() {
		d, ok := m.Explain(e[0])
		if !ok {
			t.Errorf("%s %q cannot be explained", e[1], e[0])
		}
		report.NoFaceDrops(t, e[0], d)
	}
	gypsum := b.Material("gypsum-board")
	for name, d := range map[string]*report.Document{
		"starters": m.Starters(), "places": m.Places(b.Places, ""), "place": m.Places(b.Places[:1], ""), "no place": m.Places(nil, "x"),
		"entries": m.Entries(), "sound": m.BaseSound(),
		"coats": m.Coats(gypsum, report.UsualCoats(b, gypsum)),
	} {
		report.NoFaceDrops(t, name, d)
	}
	if _, ok := m.Explain("no-such-entry"); ok {
		t.Error("an unknown id is explained")
	}
}

// Every mark of evidence of a value stands on the card of its material, beside
// the value.
func TestCardsShowMarks(t *testing.T) {
	b := loaded(t)
	m := report.Maker{Base: b}
	for _, mat := range b.Materials {
		marks := make(map[string]bool)
		for _, l := range m.Material(mat).Marks {
			marks[l.Mark] = true
		}
		for i := range mat.Values {
			if e := mat.Values[i].Evidence; e != kb.Read && !marks[string(e)] {
				t.Errorf("%s: a value is %s and the card does not say so", mat.ID, e)
			}
		}
	}
}

// The paint question in numbers: each coat makes the board tighter, and all of
// them open with humidity.
func TestCoatsInOrder(t *testing.T) {
	b := loaded(t)
	m := report.Maker{Base: b}
	board := b.Material("gypsum-board")
	steps := m.CoatsData(board, report.UsualCoats(b, board))
	if len(steps) != 6 { // bare, primed, 1, 2, 3 and 5 coats
		t.Fatalf("%d steps", len(steps))
	}
	for i, s := range steps {
		if s.Missing != "" {
			t.Fatalf("step %d: %s", i, s.Missing)
		}
		if i > 0 && s.Dry.Best >= steps[i-1].Dry.Best {
			t.Errorf("step %d is not tighter than the one before", i)
		}
		for k := 1; k < len(s.Curve); k++ {
			if s.Curve[k].Number.Best < s.Curve[k-1].Number.Best {
				t.Errorf("step %d closes with humidity", i)
			}
		}
	}
	// ASHRAE Handbook—Fundamentals 2021, ch. 26, Table 6: board with one coat of
	// primer and two coats of latex paint, 400 ng/(Pa s m2) at 50 %.
	if got := steps[3].Middle.Best; got < 399.5e-12 || got > 400.5e-12 {
		t.Errorf("primer and two coats at 50 %% have %g kg/(s m2 Pa)", got)
	}
}

func TestFindPlaces(t *testing.T) {
	b := loaded(t)
	for _, c := range []struct {
		words []string
		want  string
		all   bool
	}{
		{[]string{"des", "moines"}, "des-moines-ia", true},
		{[]string{"Iowa"}, "des-moines-ia", false},
		{[]string{"IA", "6A"}, "waterloo-ia", true},
		{[]string{"des-moines-ia"}, "des-moines-ia", true},
	} {
		list := report.FindPlaces(b, c.words)
		found := false
		for _, p := range list {
			found = found || p.ID == c.want
		}
		if !found || c.all && len(list) != 1 {
			t.Errorf("%q finds %d places; %s found: %v", c.words, len(list), c.want, found)
		}
	}
	if len(report.FindPlaces(b, nil)) != len(b.Places) {
		t.Error("no words do not find all")
	}
	// Des Moines lies at 41.53 N, 93.67 W.
	if near := report.NearestPlaces(b, 41.5, -93.7, 3); len(near) != 3 || near[0].ID != "des-moines-ia" {
		t.Errorf("nearest is %s", near[0].ID)
	}
}

// A starter's file is a description, comments included.
func TestStarterFilesLoad(t *testing.T) {
	b := loaded(t)
	for _, s := range b.Starters {
		if _, err := advisor.Load(b, s.ID, []byte(report.StarterFile(s))); err != nil {
			t.Errorf("%s: %v", s.ID, err)
		}
	}
}

func TestTextIsTheSameTwice(t *testing.T) {
	b := loaded(t)
	write := func() string {
		var out bytes.Buffer
		if err := (report.Maker{Base: b}).Entries().Text(&out); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	if first, again := write(), write(); first != again {
		t.Error("two runs differ")
	}
}
