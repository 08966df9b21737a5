package rule_test

import (
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
)

// retarder is a table: it applies where built, takes a row for zone 5 and one
// for zone 6 that needs the edition, and leaves out what is marked open.
func retarder() *kb.Table {
	return &kb.Table{
		ID: "table", Title: "title", Applies: []kb.Condition{is("built")},
		Except: []kb.Row{{Row: "open", When: []kb.Condition{is("open")}}},
		Accept: []kb.Row{
			{Row: "first", When: []kb.Condition{isWord("zone", "5")}},
			{Row: "second", When: []kb.Condition{isWord("zone", "6"), limit("peak", "at-most", 1)}, Basis: &kb.Basis{Source: "row", Evidence: kb.Reported}},
		},
		Otherwise: kb.Otherwise{Level: "block", Say: "in zone {zone} no row holds", Why: "why"},
		Cautions:  []string{"c"},
		Basis:     []kb.Basis{{Source: "table", Evidence: kb.Read}},
	}
}

func withTable(table *kb.Table) *kb.Base {
	base := registry()
	base.Tables = []*kb.Table{table}
	return base
}

func TestTables(t *testing.T) {
	maybe, gap := analysis.Estimate{Known: true, Mixed: true}, analysis.Estimate{Missing: "x"}
	tests := []struct {
		name                string
		built, open         analysis.Estimate
		zone, peak, edition analysis.Estimate
		want                kb.Verdict // empty: silent
	}{
		{"a row holds", flag(true), flag(false), words("5"), between(2, 2, 2), gap, ""},
		{"the other row holds", flag(true), flag(false), words("6"), between(1, 1, 1), gap, ""},
		{"no row holds", flag(true), flag(false), words("7"), between(1, 1, 1), gap, kb.No},
		{"a row is missed by its limit", flag(true), flag(false), words("6"), between(2, 2, 2), gap, kb.No},
		{"a row may hold", flag(true), flag(false), words("6"), between(0.5, 1, 2), gap, kb.Depends},
		{"one row may hold, the other surely", flag(true), flag(false), words("5", "6"), between(0.5, 1, 2), gap, ""},
		{"a row is not known", flag(true), flag(false), words("6"), gap, gap, kb.Unknown},
		{"it does not apply", flag(false), flag(false), words("7"), between(1, 1, 1), gap, ""},
		{"it may apply", maybe, flag(false), words("7"), between(1, 1, 1), gap, kb.Depends},
		{"it may apply, but a row holds", maybe, flag(false), words("5"), between(1, 1, 1), gap, ""},
		{"taken out", flag(true), flag(true), words("7"), between(1, 1, 1), gap, ""},
		{"perhaps taken out", flag(true), maybe, words("7"), between(1, 1, 1), gap, kb.Depends},
		{"the zone alone is missing: left to the data gap", flag(true), flag(false), gap, between(1, 1, 1), gap, ""},
	}
	for _, test := range tests {
		facts := analysis.Facts{
			"built": test.built, "open": test.open, "zone": test.zone, "peak": test.peak, "edition": test.edition, "existing": flag(false),
		}
		f := only(t, withTable(retarder()), one(facts))
		if f == nil && test.want != "" || f != nil && f.Verdict != test.want {
			t.Errorf("%s: %+v, want %q", test.name, f, test.want)
		}
	}
}

func TestTableRows(t *testing.T) {
	facts := analysis.Facts{"built": flag(true), "open": flag(false), "zone": words("6"), "peak": between(2, 2, 2), "existing": flag(false)}
	f := only(t, withTable(retarder()), one(facts))
	if f == nil || f.Kind != "code" || f.Level != "block" || f.Say != "in zone 6 no row holds" || f.Why != "why" || len(f.Cautions) != 1 {
		t.Fatalf("%+v", f)
	}
	if len(f.Rows) != 2 || f.Rows[0].Row != "first" || f.Rows[1].Row != "second" {
		t.Fatalf("every row is shown in its order: %+v", f.Rows)
	}
	for i, want := range []struct {
		source string
		last   string
	}{{"table", "zone is 6"}, {"row", "peak 2 kg/m² is more than 1 kg/m²"}} {
		row := f.Rows[i]
		if row.Verdict != kb.No || row.Basis.Source != want.source || row.Because[len(row.Because)-1].Text != want.last {
			t.Errorf("row %s: %+v", row.Row, row)
		}
	}
}

// TestTableAnswers: a table that applies names the row that holds; one that
// does not apply, or only perhaps, is left to the findings.
func TestTableAnswers(t *testing.T) {
	maybe := analysis.Estimate{Known: true, Mixed: true}
	for _, test := range []struct {
		name              string
		built, open, zone analysis.Estimate
		peak              analysis.Estimate
		want              kb.Verdict
		row               string
	}{
		{"the first row holds", flag(true), flag(false), words("5"), between(2, 2, 2), kb.Yes, "first"},
		{"the second row holds", flag(true), flag(false), words("6"), between(1, 1, 1), kb.Yes, "second"},
		{"the second row may hold", flag(true), flag(false), words("6"), between(0.5, 1, 2), kb.Depends, "second"},
		{"taken out", flag(true), flag(true), words("7"), between(1, 1, 1), kb.Yes, "open"},
		{"missed", flag(true), flag(false), words("7"), between(1, 1, 1), kb.No, ""},
		{"it may apply", maybe, flag(false), words("5"), between(1, 1, 1), "", ""},
		{"it does not apply", flag(false), flag(false), words("5"), between(1, 1, 1), "", ""},
	} {
		facts := analysis.Facts{"built": test.built, "open": test.open, "zone": test.zone, "peak": test.peak, "existing": flag(false)}
		answers := tester(withTable(retarder())).Answers(one(facts))
		if test.want == "" {
			if len(answers) != 0 {
				t.Errorf("%s: %+v", test.name, answers)
			}
			continue
		}
		if len(answers) != 1 || answers[0].Verdict != test.want {
			t.Errorf("%s: %+v", test.name, answers)
			continue
		}
		row := ""
		for _, r := range answers[0].Rows {
			row += r.Row
		}
		if row != test.row {
			t.Errorf("%s: by row %q, want %q", test.name, row, test.row)
		}
	}
}

func TestTableOverVariants(t *testing.T) {
	facts := func(zone string) analysis.Facts {
		return analysis.Facts{"built": flag(true), "open": flag(false), "zone": words(zone), "peak": between(1, 1, 1), "existing": flag(false)}
	}
	r := result([]assembly.Doubt{{Where: "paint", Choices: []string{"one", "two"}}}, [][]string{{"one"}, {"two"}}, []analysis.Facts{facts("5"), facts("7")})
	f := only(t, withTable(retarder()), r)
	if f == nil || f.Verdict != kb.Depends || f.Decider != "paint: with two it holds, with one it does not hold" || f.Say != "in zone 7 no row holds" {
		t.Errorf("%+v", f)
	}
}

func TestTableOnWhatStands(t *testing.T) {
	facts := analysis.Facts{"built": flag(true), "open": flag(false), "zone": words("7"), "peak": between(1, 1, 1), "existing": flag(true)}
	f := only(t, withTable(retarder()), one(facts))
	if f == nil || f.Level != "info" || f.Verdict != kb.No {
		t.Errorf("%+v", f)
	}
}
