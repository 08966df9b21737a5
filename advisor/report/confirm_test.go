package report

import (
	"testing"

	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
)

// TestConfirmIsByPerson: each person stands once with all that they have to
// confirm, and what is asked for already is not asked for again.
func TestConfirmIsByPerson(t *testing.T) {
	base := &kb.Base{Duties: []*kb.Duty{{ID: "brace", Title: "brace the frame"}, {ID: "finish", Title: "be the face"}}}
	p := Maker{Base: base}.page("", "")
	asks := []string{"length", "the official"}
	p.confirm(
		[]kb.Need{{Who: "official", What: "the sheet"}, {Who: "engineer", What: "the beam"}, {Who: "official", What: "the sheet"}},
		[]swap.DutyChange{
			{Duty: "brace", Before: []string{"panel"}, After: []string{"boards"}, Verdict: kb.Depends, Asks: asks},
			{Duty: "finish", Before: []string{"board"}, After: []string{"board"}, Was: kb.Depends, Verdict: kb.Depends, Asks: asks},
		},
		[]rule.Caution{{Caution: &kb.Caution{Title: "Structure", Ask: "registered design professional"}}, {Caution: &kb.Caution{Title: "Dust"}}},
	)
	table := p.doc.Blocks[0].Table
	want := [][2]string{
		{"Building official", "The sheet; that boards may brace the frame: length."},
		{"Engineer (registered design professional)", "The beam; structure, see the caution."},
	}
	if len(table.Rows) != len(want) {
		t.Fatalf("%d persons: %+v", len(table.Rows), table.Rows)
	}
	for i, row := range table.Rows {
		if row[0].Words != want[i][0] || row[1].Words != want[i][1] {
			t.Errorf("%q: %q, want %v", row[0].Words, row[1].Words, want[i])
		}
	}
	again := Maker{Base: base}.page("", "")
	again.confirm([]kb.Need{{Who: "official", What: "that the new layer may brace the frame: length, the official"}},
		[]swap.DutyChange{{Duty: "brace", After: []string{"boards"}, Verdict: kb.Depends, Asks: asks}}, nil)
	if rows := again.doc.Blocks[0].Table.Rows; rows[0][1].Words != "That the new layer may brace the frame: length." {
		t.Errorf("asked twice: %q", rows[0][1].Words)
	}
}
