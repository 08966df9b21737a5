package report_test

import (
	"context"
	"os"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/kb"
	"relath/kb/quantity"
)

// wallOf resolves one assembly of the shipped comparison.
func wallOf(t *testing.T, base *kb.Base, index int) *assembly.Assembly {
	t.Helper()
	text, err := os.ReadFile("../../testdata/houses/leak/maple-bend.yaml")
	if err != nil {
		t.Fatal(err)
	}
	h, doc, problems := assembly.Parse("maple-bend.yaml", text)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	r, problems := assembly.Resolve(h, doc, base)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return r.Assemblies[index]
}

// No form of the page of a leak drops a word, a mark or a footnote, and each says
// what must be said of wet material.
func TestLeakPage(t *testing.T) {
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	for name, wish := range map[string]analysis.Leak{
		"leak": {On: []analysis.LeakDay{{Month: 7, Day: 15}}}, "leak of rain": {RainShare: 0.01},
	} {
		r, err := analysis.RunLeak(context.Background(), base, wallOf(t, base, 1), wish)
		if err != nil {
			t.Fatal(err)
		}
		m := report.Maker{Base: base, Units: quantity.InchPound}
		d := m.Leak([]*analysis.LeakResult{r})
		report.NoFaceDrops(t, name, d)
		var text strings.Builder
		if err := d.Text(&text); err != nil {
			t.Fatal(err)
		}
		flat := strings.Join(strings.Fields(text.String()), " ")
		for _, want := range []string{
			"Stop the source", "24 to 48 hours", "paper-faced board and cellulose usually go out",
			"does not cover material wetted with liquid", "A leak is a spot and this is one dimension",
			"the hourly year is synthetic", "books close to", "latent heat 2.5 MJ/kg",
		} {
			if !strings.Contains(strings.ToLower(flat), strings.ToLower(want)) {
				t.Errorf("%s: %q is not said", name, want)
			}
		}
		data := m.LeakData([]*analysis.LeakResult{r})
		if len(data) != 1 || len(data[0].Cases) != 1 || data[0].Cases[0].Kept.Best != r.Cases[0].Kept.Best {
			t.Errorf("%s: data %+v", name, data)
		}
	}
}

// The page of an analysis with hourly runs drops nothing either.
func TestHourlyPage(t *testing.T) {
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	r, err := analysis.Run(context.Background(), base, wallOf(t, base, 2))
	if err != nil {
		t.Fatal(err)
	}
	if err := analysis.AddHourly(context.Background(), base, analysis.Hourly{Years: 1}, r); err != nil {
		t.Fatal(err)
	}
	d := (report.Maker{Base: base, Units: quantity.SI}).Analysis([]report.Analysis{{Result: r}})
	report.NoFaceDrops(t, "hourly", d)
	var text strings.Builder
	if err := d.Text(&text); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Hour by hour", "Mold index", "Hours above 16 %", "is synthetic"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("%q is not said", want)
		}
	}
}
