package rule

import (
	"slices"

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
	nearest := strongest(verdicts)
	at := subjects[nearest]
	a, rows := t.tableOn(table, at)
	f := Finding{
		Rule: table.ID, Title: table.Title, Kind: "code", Level: table.Otherwise.Level, Verdict: joined,
		Why: table.Otherwise.Why, Because: a.Because, Rows: rows, Cautions: table.Cautions, Basis: table.Basis,
	}
	if joined == kb.Yes {
		f.Verdict = kb.No
	}
	if verdicts[nearest] == kb.Unknown && !gapMatters(f) {
		return Finding{}, false
	}
	if !t.Mute {
		f.Say = t.Fill(table.Otherwise.Say, "", at)
	}
	if f.Verdict == kb.Unknown && gapMatters(f) {
		f.Say = notJudged(f.Because)
	}
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
		results = append(results, RowResult{Row: row.Row, Verdict: a.Verdict, Because: a.Because, Basis: basisOf(table, row)})
		if a.Verdict == kb.Depends || a.Verdict == kb.Unknown {
			because = append(because, a.Because...)
		}
	}
	return Answer{Verdict: and(applies.Verdict, not(accepted)), Because: because}, results
}

// basisOf gives the basis of a row: its own, or the first of its table.
func basisOf(table *kb.Table, row *kb.Row) kb.Basis {
	if row.Basis != nil {
		return *row.Basis
	}
	return table.Basis[0]
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

// TableAnswer is what a code table says of an assembly.
type TableAnswer struct {
	Table   *kb.Table
	Verdict kb.Verdict // yes: in every way it may be built a row holds
	Rows    []RowResult
}

// Answers lists the code tables that surely apply to an assembly, in the order
// of the base, each with the rows that hold or that may: what is accepted says
// by what. Rows that take the assembly out of a table stand among them.
func (t Tester) Answers(r *analysis.Result) []TableAnswer {
	subjects := SubjectsOf(r)
	var list []TableAnswer
	for _, table := range t.Base.Tables {
		applies := join(verdictsOf(subjects, func(s Subject) kb.Verdict { return t.Verdict(table.Applies, s) }))
		if applies != kb.Yes {
			continue
		}
		misses := join(verdictsOf(subjects, func(s Subject) kb.Verdict { return t.tableVerdict(table, s) }))
		a := TableAnswer{Table: table, Verdict: not(misses)}
		for _, s := range subjects {
			a.holding(t, s)
		}
		list = append(list, a)
	}
	return list
}

// holding adds the rows that hold on a subject, or may where none surely does.
func (a *TableAnswer) holding(t Tester, s Subject) {
	for _, want := range []kb.Verdict{kb.Yes, kb.Depends} {
		found := false
		for _, rows := range [][]kb.Row{a.Table.Except, a.Table.Accept} {
			for i := range rows {
				answer := t.row(&rows[i], s)
				if answer.Verdict != want {
					continue
				}
				found = true
				a.add(RowResult{Row: rows[i].Row, Verdict: want, Because: answer.Because, Basis: basisOf(a.Table, &rows[i])})
			}
		}
		if found {
			return
		}
	}
}

// add adds a row once.
func (a *TableAnswer) add(row RowResult) {
	if !slices.ContainsFunc(a.Rows, func(x RowResult) bool { return x.Row == row.Row }) {
		a.Rows = append(a.Rows, row)
	}
}
