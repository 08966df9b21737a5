// Package checks reads files of check values for tests and compares results
// with them.
//
// A check file is a CSV file in testdata/checks with a head of comment lines,
// one key each:
//
//	# title: saturation pressure over ice and water
//	# basis: published-read
//	# source: ASHRAE Handbook—Fundamentals 2021, ch. 1, Table 3
//	# evidence: read
//	# tolerance: rel 3e-4
//	# tolerance.dew_c: abs 0.01
//	# because: the printed table rests on a newer formulation than eq. 5 and 6
//	# note: converted from kPa
//	t_c,p_pa,dew_c
//	-30,38.01,-30
//
// Title, basis, source, evidence, tolerance and because (the reason of the
// tolerance) are required, note and tolerance.<column> are optional, any other
// key is an error. Basis is published-read, published-recalled, closed-form or
// computed. Evidence is read, reported, recalled, practice, derived or assumed;
// a published-read file is read or reported, a published-recalled one recalled.
// A tolerance is "abs X" or "rel X", X relative to the expected value.
//
// Every column must be put to use: read as an input of the row or compared with
// a result. A column that is compared in one row must be compared in every row
// where its cell is not blank. Only a column named note is for people alone.
package checks

import (
	"math"
	"strconv"
	"testing"
)

// File is an open check file. Its rows belong to one test and are not safe for
// parallel subtests.
type File struct {
	Head
	Name string

	t        testing.TB
	columns  map[string]int
	order    []string
	rows     [][]string
	used     map[string]bool         // columns read as input
	compared map[string]map[int]bool // column -> rows compared
	worst    deviation
}

// deviation is one comparison: how far off, how far allowed, and where.
type deviation struct {
	size, allowed float64
	tolerance     Tolerance
	column        string
	row           int
	any           bool
}

// ratio is the share of the allowance that the deviation uses.
func (d deviation) ratio() float64 {
	if d.size == 0 {
		return 0
	}
	return d.size / d.allowed
}

// Open reads the check file of that name in testdata/checks of the module. A
// file that cannot be read, breaks a rule of the format or has no rows fails
// the test at once. When the test ends, one line about the file is logged, and
// a column that was not put to use fails the test.
func Open(t testing.TB, name string) *File {
	t.Helper()
	folder, err := Folder()
	if err != nil {
		t.Fatalf("check file %s: %v", name, err)
	}
	f, err := load(folder, name)
	if err != nil {
		t.Fatalf("check file %v", err)
	}
	f.attach(t)
	return f
}

// attach makes t the test that the file reports to.
func (f *File) attach(t testing.TB) {
	f.t = t
	t.Cleanup(f.finish)
}

// Row is one row of a check file.
type Row struct {
	file  *File
	index int
}

// Rows returns all rows in file order.
func (f *File) Rows() []Row {
	rows := make([]Row, len(f.rows))
	for i := range rows {
		rows[i] = Row{file: f, index: i}
	}
	return rows
}

// Line returns the number of the row, the first being 1.
func (r Row) Line() int { return r.index + 1 }

// Has reports whether the cell of the column is not blank.
func (r Row) Has(column string) bool {
	r.file.t.Helper()
	return r.cell(column) != ""
}

// Text returns the cell of an input column.
func (r Row) Text(column string) string {
	r.file.t.Helper()
	r.file.used[column] = true
	return r.cell(column)
}

// Float returns the number in the cell of an input column. A cell that is not
// a finite number fails the test at once.
func (r Row) Float(column string) float64 {
	r.file.t.Helper()
	r.file.used[column] = true
	return r.number(column)
}

func (r Row) cell(column string) string {
	r.file.t.Helper()
	i, ok := r.file.columns[column]
	if !ok {
		r.file.t.Fatalf("check file %s: no column %q; there are %q", r.file.Name, column, r.file.order)
	}
	return r.file.rows[r.index][i]
}

func (r Row) number(column string) float64 {
	r.file.t.Helper()
	cell := r.cell(column)
	x, err := strconv.ParseFloat(cell, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		r.file.t.Fatalf("check file %s row %d: column %s: %q is not a finite number",
			r.file.Name, r.Line(), column, cell)
	}
	return x
}

// Check compares got with the cell of the column in that row, within the
// column's tolerance, and fails t when it is farther off.
func (f *File) Check(t testing.TB, row Row, column string, got float64) {
	t.Helper()
	want := row.number(column)
	if f.compared[column] == nil {
		f.compared[column] = map[int]bool{}
	}
	f.compared[column][row.index] = true

	tolerance := f.tolerance(column)
	d := deviation{
		size: tolerance.deviation(got, want), allowed: tolerance.Limit,
		tolerance: tolerance, column: column, row: row.Line(), any: true,
	}
	if !f.worst.any || d.ratio() > f.worst.ratio() {
		f.worst = d
	}
	if !(d.size <= d.allowed) {
		t.Errorf("%s row %d: %s is %.9g, not %.9g: off by %.3g, allowed %s (%s)",
			f.Name, row.Line(), column, got, want, d.size, tolerance, f.Source)
	}
}

// tolerance returns the tolerance of a column.
func (f *File) tolerance(column string) Tolerance {
	if t, ok := f.Tolerances[column]; ok {
		return t
	}
	return f.Tolerance
}

// finish logs the summary and complains about what was not put to use. After
// another failure the rest of the test may not have run, so then it only logs.
func (f *File) finish() {
	f.t.Helper()
	f.t.Logf("%s", f.summary())
	if f.t.Failed() {
		return
	}
	for _, complaint := range f.complaints() {
		f.t.Errorf("check file %s: %s", f.Name, complaint)
	}
}
