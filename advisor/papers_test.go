package advisor_test

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/takeoff"
	"relath/kb"
)

// demoPlan is the plan of the demonstration house.
const demoPlan = "north wall=clay-on-board-with-variable-retarder@poly"

// demoPapers are the papers of the demonstration house, with invented prices and
// a start date.
func demoPapers(t testing.TB, b *kb.Base) report.Spec {
	t.Helper()
	data, err := os.ReadFile("../testdata/prices/demo.yaml")
	if err != nil {
		t.Fatal(err)
	}
	book, problems := takeoff.ReadPrices(b, "demo.yaml", data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	start, err := takeoff.ParseDate("2027-04-05")
	if err != nil {
		t.Fatal(err)
	}
	s, err := advisor.Spec(context.Background(), rule.Tester{Base: b}, houses(t, b)["birch-corner"],
		advisor.Choice{Plans: []string{demoPlan}}, advisor.Wishes{Prices: book, Start: start, Whole: true})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestGoldenPapers holds what is handed over for the demonstration house: the
// specification, the client page, the order list with the plan.
func TestGoldenPapers(t *testing.T) {
	b := base(t)
	s, m := demoPapers(t, b), report.Maker{Base: b}
	golden(t, "birch-corner.spec.txt", text(t, m.Spec(s)))
	golden(t, "birch-corner.client.txt", text(t, m.Client(s)))
	data, err := m.SpecData(s)
	if err != nil {
		t.Fatal(err)
	}
	changed, err := advisor.Load(b, "changed.yaml", []byte(data.House))
	if err != nil {
		t.Fatal(err)
	}
	again, err := advisor.Analyze(context.Background(), rule.Tester{Base: b}, changed.Assemblies)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range s.Plans {
		for id, want := range p.After.Variants[0].Facts {
			if got := again[i].Result.Variants[0].Facts[id]; got.Range != want.Range || got.Known != want.Known {
				t.Errorf("%s, %s: the file gives %v, the specification %v", p.After.Assembly.Name, id, got.Range, want.Range)
			}
		}
	}
}

// The client page is two pages of letter paper, with the changed wall drawn
// before and after in letters that can be read: what comes off and what is new,
// read off the plan by hand, has a star.
func TestClientPageIsTwoPages(t *testing.T) {
	b := base(t)
	d := (report.Maker{Base: b}).Client(demoPapers(t, b))
	for _, paper := range []report.Paper{report.Letter, report.A4} {
		var out bytes.Buffer
		if err := d.PDF(&out, paper); err != nil {
			t.Fatal(err)
		}
		if n := bytes.Count(out.Bytes(), []byte("/Type /Page\n")); n != 2 {
			t.Errorf("%s: %d pages", paper, n)
		}
	}
	const least = 2.6 // mm, 7.4 points
	var found []string
	for _, block := range d.Blocks {
		if block.Figure == nil {
			continue
		}
		for _, it := range block.Figure.Picture.Items {
			if it.Words == nil {
				continue
			}
			found = append(found, it.Words.Text)
			if it.Words.Size < least {
				t.Errorf("%q is %g mm high", it.Words.Text, it.Words.Size)
			}
		}
	}
	for word, times := range map[string]int{
		"Today": 1, "Then": 1, "outside": 2, "inside": 2, "Vinyl siding": 2, "Oriented strand board": 2, "Fiberglass batt": 2,
		"Polyethylene sheet *": 1, "Variable retarder *": 1, "Gypsum board *": 2, "Clay finish plaster *": 1,
	} {
		n := 0
		for _, text := range found {
			if text == word {
				n++
			}
		}
		if n != times {
			t.Errorf("the drawings say %q %d times, want %d", word, n, times)
		}
	}
}

// Every caution whose trigger holds stands in the specification in full, and by
// its title on the client page.
func TestCautionsStandOnThePapers(t *testing.T) {
	b := base(t)
	s, m := demoPapers(t, b), report.Maker{Base: b}
	spec, client := flat(text(t, m.Spec(s))), flat(text(t, m.Client(s)))
	// lime and clay plaster, sand, cellulose with borate, solid wood, drying oil, a
	// wall that is opened: read off the house by hand
	for _, id := range []string{
		"lime-burns", "freezing-plaster", "plaster-weight", "silica-dust", "borate-dust", "combustible-fill-clearance",
		"wood-movement", "oily-rags", "electrician-power-off", "galvanic-fasteners", "fireblocking",
	} {
		i := 0
		for i < len(b.Cautions) && b.Cautions[i].ID != id {
			i++
		}
		c := b.Cautions[i]
		if say := strings.ToLower(strings.Join(strings.Fields(strings.TrimSuffix(c.Say, ".")), " ")); !strings.Contains(spec, say) {
			t.Errorf("the specification does not say %s", id)
		}
		if !strings.Contains(client, strings.ToLower(c.Title)) {
			t.Errorf("the client page does not name %s", id)
		}
	}
}
