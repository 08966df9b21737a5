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
	"relath/advisor/takeoff"
	"relath/kb"
)

// specOf makes the specification of a house with its best plans and all its
// finishes as swaps where there are some.
func specOf(t *testing.T, b *kb.Base, h *assembly.Resolved, c advisor.Choice) (report.Spec, *report.Document) {
	t.Helper()
	s, err := advisor.Spec(context.Background(), rule.Tester{Base: b}, h, c, advisor.Wishes{})
	if err != nil {
		t.Fatal(err)
	}
	return s, (report.Maker{Base: b}).Spec(s)
}

// holdsPhrase says whether a page says a text of the base: first letter and last
// stop aside.
func holdsPhrase(page, text string) bool {
	return strings.Contains(page, flat(strings.TrimSuffix(strings.TrimSpace(text), ".")))
}

// What several sections would say is said once, and nothing is lost by that:
// every article of the base that a section calls for, every swap with its work,
// cure, hold points, products and care, every limit, every hold point of the
// schedule and every caution stand on the page.
func TestSpecificationSaysAllOfIt(t *testing.T) {
	b := base(t)
	for name, h := range houses(t, b) {
		s, d := specOf(t, b, h, advisor.Choice{Best: true})
		page := flat(proseOf(d))
		want := func(what, text string) {
			if text != "" && !holdsPhrase(page, text) {
				t.Errorf("%s: the specification does not say %s: %q", name, what, text)
			}
		}
		for _, number := range sectionNumbers(d) {
			for _, row := range b.Lookup("section-articles").Find() {
				if slices.ContainsFunc(strings.Split(row[0], ", "), func(begin string) bool { return strings.HasPrefix(number, begin) }) {
					want(number+" "+row[1], row[2])
				}
			}
		}
		for _, p := range s.Plans {
			for _, step := range p.Steps {
				if r := step.Recipe; r != nil {
					want(r.ID+" remove", r.Remove)
					want(r.ID+" build", r.Build)
					want(r.ID+" specify", r.Specify)
					want(r.ID+" inspect", strings.TrimPrefix(r.Inspect, "Hold: "))
					for what, text := range map[string]string{"cure": r.Cure, "care": r.Care} {
						if text != "None." {
							want(r.ID+" "+what, text)
						}
					}
				}
			}
			for i := range p.Limits {
				l := &p.Limits[i]
				if l.Withheld != "" {
					want("why a limit is withheld", l.Withheld)
					continue
				}
				for _, why := range slices.Concat(l.Dry.Low.Breaks, l.Dry.High.Breaks, l.Wet.Low.Breaks, l.Wet.High.Breaks, l.Resistance.Low.Breaks, l.Resistance.High.Breaks) {
					want("a limit of "+l.Part.Name, why)
				}
			}
		}
		if s.Schedule != nil {
			for i := range s.Schedule.Steps {
				if x := &s.Schedule.Steps[i]; x.Sort == takeoff.Hold {
					if n := strings.Count(page, flat(x.What)); n < 2 {
						t.Errorf("%s: the hold point %q stands %d times, want in the sequence and in the list", name, x.What, n)
					}
				}
			}
		}
		for i := range s.Takeoff.Lines {
			want("a line of the quantities", s.Takeoff.Lines[i].Name)
		}
		for _, p := range s.Plans {
			if len(p.Steps) > 0 {
				for _, c := range p.Cautions {
					want("caution "+c.Caution.ID, c.Caution.Say)
				}
			}
		}
	}
}

// sectionNumbers gives the numbers of the sections of a document.
func sectionNumbers(d *report.Document) []string {
	var list []string
	for _, b := range d.Blocks {
		if b.Heading == nil {
			continue
		}
		if rest, ok := strings.CutPrefix(b.Heading.Text.Words, "Section "); ok {
			number, _, _ := strings.Cut(rest, " ·")
			list = append(list, number)
		}
	}
	return list
}

// proseOf gives the words of a document cell by cell, without layout, marks and
// notes.
func proseOf(d *report.Document) string {
	var out strings.Builder
	say := func(text string) { out.WriteString(text + "\n") }
	for _, b := range d.Blocks {
		switch {
		case b.Heading != nil:
			say(b.Heading.Text.Words)
		case b.Paragraph != nil:
			say(b.Paragraph.Text.Words)
		case b.List != nil:
			for _, x := range b.List.Items {
				say(x.Words)
			}
		case b.Table != nil:
			say(b.Table.Caption)
			for _, row := range b.Table.Rows {
				for _, cell := range row {
					say(cell.Words)
				}
			}
		}
	}
	return out.String()
}

// No article of the sections says what another one says too: what they share
// stands in division 01.
func TestSpecificationSaysItOnce(t *testing.T) {
	b := base(t)
	const long = 60 // letters
	for name, h := range houses(t, b) {
		_, d := specOf(t, b, h, advisor.Choice{Best: true})
		seen := make(map[string]string)
		section := ""
		for _, block := range d.Blocks {
			if block.Heading != nil && block.Heading.Level == 1 {
				section = block.Heading.Text.Words
			}
			if block.Table == nil || !strings.HasPrefix(section, "Section ") || len(block.Table.Heads) != 2 {
				continue
			}
			for _, row := range block.Table.Rows {
				text := row[1].Words
				if strings.HasSuffix(row[0].Words, "With this") || strings.HasPrefix(text, "Goes with section") || len(text) < long {
					continue
				}
				if at, ok := seen[text]; ok {
					t.Errorf("%s: %s and %s both say %q", name, at, section, text)
				}
				seen[text] = section
			}
		}
	}
}
