package advisor_test

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/kb"
)

// calledIn says, read off the invented houses in testdata/cautions by hand, in
// which one the work calls for a caution, and in which it does not.
func calledIn() map[string][2]string {
	const (
		fresh, bath, roof, damp = "new-wood-and-lime", "bath-and-garage", "straw-roof", "damp-basement"
		old, braced, lime, pour = "old-empty-bay", "braced-wall", "painted-lime", "vermiculite"
	)
	return map[string][2]string{
		"asbestos":                   {pour, fresh},   // vermiculite of 1955 stands; nothing old
		"backdraft":                  {old, fresh},    // an empty bay is filled
		"bath-fan":                   {bath, fresh},   // a wet room
		"borate-dust":                {fresh, bath},   // cellulose; foam and mineral wool
		"capillary-break":            {damp, fresh},   // a basement wall is opened
		"check-adopted-edition":      {old, damp},     // a code finding on a fill; none
		"clear-of-the-ground":        {braced, fresh}, // a wall is opened from outside
		"combustible-fill-clearance": {fresh, damp},   // cellulose; no new fill
		"electrician-power-off":      {damp, fresh},   // a board comes off; nothing stands
		"exposed-facing":             {fresh, bath},   // a kraft sheet
		"fireblocking":               {fresh, bath},   // wood siding on furring
		"foam-thermal-barrier":       {bath, fresh},   // spray foam
		"formaldehyde":               {bath, fresh},   // plywood paneling
		"freezing-plaster":           {fresh, bath},   // lime plaster
		"galvanic-fasteners":         {fresh, bath},   // lime, wood siding
		"garage-separation":          {bath, fresh},   // a garage
		"isocyanate":                 {bath, fresh},   // spray foam
		"knob-and-tube":              {old, fresh},    // an empty bay of 1915 is filled
		"lead-paint":                 {old, fresh},    // paint of 1915; new oil paint holds none
		"lime-burns":                 {fresh, bath},   // lime
		"mold-cleanup":               {damp, fresh},   // a plastic sheet comes off a basement wall
		"oily-rags":                  {fresh, bath},   // oil paint
		"old-plaster-dust":           {lime, fresh},   // old coats come off plaster
		"overhang":                   {old, bath},     // siding without a gap; vinyl
		"plaster-weight":             {fresh, bath},   // plaster
		"radon":                      {damp, fresh},   // a basement wall
		"roof-venting":               {roof, fresh},   // a new roof with fill
		"silica-dust":                {fresh, damp},   // plaster; nothing is cut
		"spray-foam":                 {bath, fresh},   // spray foam
		"straw-dry":                  {roof, fresh},   // straw
		"structure-engineer":         {braced, fresh}, // a bracing panel comes off
		"treated-wood":               {fresh, bath},   // a treated frame
		"ventilation":                {bath, fresh},   // a tight house
		"vermiculite":                {pour, fresh},   // vermiculite
		"water-source-first":         {damp, fresh},   // a basement wall
		"wet-area":                   {bath, fresh},   // gypsum board in a wet room
		"wet-within-48-hours":        {fresh, damp},   // new cellulose; nothing new that must be dry
		"wood-movement":              {fresh, bath},   // solid wood siding
	}
}

// cautionPapers are the papers of an invented house as texts.
type cautionPapers struct {
	full      map[string]string // papers that say cautions in full
	client    string            // its cautions, by title
	described bool              // no swap: the page of the house as described says them too
}

// cautionPapersOf makes the papers of a house in testdata/cautions with the plan
// that its first line names.
func cautionPapersOf(t *testing.T, b *kb.Base, file string) cautionPapers {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	h, err := advisor.Load(b, file, data)
	if err != nil {
		t.Fatal(err)
	}
	first, _, _ := strings.Cut(string(data), "\n")
	plan := strings.TrimPrefix(first, "# ")
	ctx, tester, m := context.Background(), rule.Tester{Base: b}, report.Maker{Base: b}
	choice := advisor.Choice{Plans: []string{plan}}
	s, err := advisor.Spec(ctx, tester, h, choice, advisor.Wishes{Whole: true})
	if err != nil {
		t.Fatal(err)
	}
	o, err := advisor.Order(ctx, tester, h, advisor.Ordering{Choice: choice, Schedule: true})
	if err != nil {
		t.Fatal(err)
	}
	p := cautionPapers{
		full: map[string]string{"spec": flat(proseOf(m.Spec(s))), "order": flat(proseOf(m.Order(o)))}, described: plan == advisor.AsDescribed,
	}
	_, p.client, _ = strings.Cut(flat(proseOf(m.Client(s))), " cautions ")
	p.client, _, _ = strings.Cut(p.client, " nothing here cures a leak")
	if p.described {
		results, err := advisor.Analyze(ctx, tester, h.Assemblies)
		if err != nil {
			t.Fatal(err)
		}
		p.full["analyze"] = flat(proseOf(m.HouseAnalysis(h, s.Whole, results)))
	}
	return p
}

// named says whether the cautions of a client page name one: first in a line, or
// in the row of those that the crew works by.
func named(client, title string) bool {
	return regexp.MustCompile(`(^|[.:;] )` + regexp.QuoteMeta(flat(title)) + `([.;]|$)`).MatchString(client)
}

// Every caution of the base stands on every paper of a house whose work calls for
// it, and on none of a house whose work does not.
func TestEveryCautionOnEveryPaper(t *testing.T) {
	b := base(t)
	papers := make(map[string]cautionPapers)
	files, err := filepath.Glob("../testdata/cautions/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no houses: %v", err)
	}
	for _, file := range files {
		papers[strings.TrimSuffix(filepath.Base(file), ".yaml")] = cautionPapersOf(t, b, file)
	}
	table := calledIn()
	for _, c := range b.Cautions {
		where, ok := table[c.ID]
		if !ok {
			t.Errorf("no house is drawn for %s", c.ID)
			continue
		}
		say := flat(strings.TrimSuffix(c.Say, "."))
		called, quiet := papers[where[0]], papers[where[1]]
		for name, text := range called.full {
			if !strings.Contains(text, say) {
				t.Errorf("%s of %s does not say %s", name, where[0], c.ID)
			}
		}
		if !named(called.client, c.Title) {
			t.Errorf("the client page of %s does not name %s", where[0], c.ID)
		}
		for name, text := range quiet.full {
			if strings.Contains(text, say) {
				t.Errorf("%s of %s says %s, which nothing there calls for", name, where[1], c.ID)
			}
		}
		if named(quiet.client, c.Title) {
			t.Errorf("the client page of %s names %s, which nothing there calls for", where[1], c.ID)
		}
	}
	if missing := len(table) - len(b.Cautions); missing != 0 {
		t.Errorf("%d houses are drawn for cautions that the base does not have", missing)
	}
}
