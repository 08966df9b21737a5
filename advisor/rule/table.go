package rule

import (
	"relath/advisor/analysis"
	"relath/kb"
)

// table evaluates one code table over all variants. It speaks where it applies
// and no row surely holds.
func (t Tester) table(table *kb.Table, r *analysis.Result) (Finding, bool) {
	subjects := SubjectsOf(r)
	verdicts := verdictsOf(subjects, func(s Subject) kb.Verdict { return t.tableVerdict(table, s) })
	joined := join(verdicts)
	if joined == kb.No {
		return Finding{}, false
	}
	at := subjects[strongest(verdicts)]
	a, rows := t.tableOn(table, at)
	f := Finding{
		Rule: table.ID, Title: table.Title, Kind: "code", Level: table.Otherwise.Level, Verdict: joined,
		Why: table.Otherwise.Why, Because: a.Because, Rows: rows, Cautions: table.Cautions, Basis: table.Basis,
	}
	if joined == kb.Yes {
		f.Verdict = kb.No
	}
	if f.Verdict == kb.Unknown && !gapMatters(f) {
		return Finding{}, false
	}
	f.Say = t.Fill(table.Otherwise.Say, "", at)
	f.soften(untouched(r))
	f.mark()
	t.decide(&f, r, verdicts, kb.No)
	return f, true
}

// tableOn says whether a table speaks on a subject: yes where it applies and
// no row holds.
func (t Tester) tableOn(table *kb.Table, s Subject) (Answer, []RowResult) {
	applies := t.All(table.Applies, s)
	if applies.Verdict == kb.No {
		return Answer{Verdict: kb.No}, nil
	}
	accepted := kb.No
	for i := range table.Except {
		accepted = or(accepted, t.row(&table.Except[i], s).Verdict)
	}
	var results []RowResult
	because := applies.Because
	for i := range table.Accept {
		row := &table.Accept[i]
		a := t.row(row, s)
		accepted = or(accepted, a.Verdict)
		basis := table.Basis[0]
		if row.Basis != nil {
			basis = *row.Basis
		}
		results = append(results, RowResult{Row: row.Row, Verdict: a.Verdict, Because: a.Because, Basis: basis})
		if a.Verdict == kb.Depends || a.Verdict == kb.Unknown {
			because = append(because, a.Because...)
		}
	}
	return Answer{Verdict: and(applies.Verdict, not(accepted)), Because: because}, results
}

// tableVerdict is the verdict of tableOn alone.
func (t Tester) tableVerdict(table *kb.Table, s Subject) kb.Verdict {
	applies := t.Verdict(table.Applies, s)
	if applies == kb.No {
		return kb.No
	}
	accepted := kb.No
	for _, rows := range [][]kb.Row{table.Except, table.Accept} {
		for i := range rows {
			accepted = or(accepted, rowVerdict(&rows[i], t.Verdict(rows[i].When, s)))
		}
	}
	return and(applies, not(accepted))
}

// rowVerdict is the verdict of a row whose conditions have one: a row that
// depends on somebody never surely holds.
func rowVerdict(row *kb.Row, when kb.Verdict) kb.Verdict {
	if row.Verdict == kb.Depends && when == kb.Yes {
		return kb.Depends
	}
	return when
}

// row tests a row, with who must agree as a reason.
func (t Tester) row(row *kb.Row, s Subject) Answer {
	a := t.All(row.When, s)
	if v := rowVerdict(row, a.Verdict); v != a.Verdict {
		a.Verdict = v
		a.Because = append(a.Because, Reason{Text: row.Asks, Verdict: kb.Depends, Mark: kb.Read})
	}
	return a
}

// Rows gives every row of a table on an analysis, and whether the table
// applies to it, for those who want the whole picture.
func (t Tester) Rows(table *kb.Table, v *analysis.Variant) (kb.Verdict, []RowResult) {
	s := SubjectOf(v)
	applies := t.All(table.Applies, s)
	_, rows := t.tableOn(table, s)
	return applies.Verdict, rows
}
