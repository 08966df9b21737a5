package checks

import (
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

const sample = `# title: squares
# basis: closed-form
# source: arithmetic
# evidence: derived
# tolerance: abs 0.01
# tolerance.cube: rel 1e-3
# because: two decimals
x,square,cube,note
2,4,8,even
3,9,,odd
`

// recorder stands in for a test whose failing is what is tested.
type recorder struct {
	testing.TB
	errors, logs []string
	cleanups     []func()
}

func (r *recorder) Helper()          {}
func (r *recorder) Failed() bool     { return len(r.errors) > 0 }
func (r *recorder) Cleanup(f func()) { r.cleanups = append(r.cleanups, f) }
func (r *recorder) Logf(format string, args ...any) {
	r.logs = append(r.logs, fmt.Sprintf(format, args...))
}

func (r *recorder) Errorf(format string, args ...any) {
	r.errors = append(r.errors, fmt.Sprintf(format, args...))
}

func (r *recorder) Fatalf(format string, args ...any) {
	r.Errorf(format, args...)
	runtime.Goexit()
}

// run calls body with a file made of text and returns what it reported.
func run(t *testing.T, text string, body func(t testing.TB, f *File)) *recorder {
	t.Helper()
	f, err := parse("sample.csv", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	r := &recorder{TB: t}
	f.attach(r)
	done := make(chan struct{})
	go func() {
		defer close(done)
		body(r, f)
	}()
	<-done
	for _, cleanup := range r.cleanups {
		cleanup()
	}
	return r
}

func wantErrors(t *testing.T, r *recorder, want ...string) {
	t.Helper()
	if len(r.errors) != len(want) {
		t.Fatalf("errors are %q, not %d", r.errors, len(want))
	}
	for i, part := range want {
		if !strings.Contains(r.errors[i], part) {
			t.Errorf("error %q does not hold %q", r.errors[i], part)
		}
	}
}

func compareAll(offset float64) func(t testing.TB, f *File) {
	return func(t testing.TB, f *File) {
		for _, row := range f.Rows() {
			x := row.Float("x")
			f.Check(t, row, "square", x*x+offset)
			if row.Has("cube") {
				f.Check(t, row, "cube", x*x*x*1.0005)
			}
		}
	}
}

func TestPassAndSummary(t *testing.T) {
	r := run(t, sample, compareAll(0.009))
	wantErrors(t, r)
	want := "sample.csv: 2 rows, worst 0.009 of 0.01 abs allowed (square, row 1); arithmetic; closed-form"
	if len(r.logs) != 1 || r.logs[0] != want {
		t.Errorf("logs are %q, not %q", r.logs, want)
	}
}

func TestTooFarOff(t *testing.T) {
	wantErrors(t, run(t, sample, compareAll(0.011)), "row 1: square is 4.011, not 4", "row 2")
}

func TestNotANumberFails(t *testing.T) {
	wantErrors(t, run(t, sample, compareAll(math.NaN())), "square is NaN", "square is NaN")
}

func TestLeftOut(t *testing.T) {
	wantErrors(t, run(t, sample, func(testing.TB, *File) {}), "no column was compared",
		"column x was never", "column square was never", "column cube was never")
	wantErrors(t, run(t, sample, func(t testing.TB, f *File) {
		row := f.Rows()[0]
		f.Check(t, row, "square", row.Float("x")*2)
		f.Check(t, row, "cube", 8)
	}), "row 2: column square was not compared")
}

func TestBadCells(t *testing.T) {
	wantErrors(t, run(t, sample, func(t testing.TB, f *File) { f.Rows()[0].Text("z") }), `no column "z"`)
	wantErrors(t, run(t, sample, func(t testing.TB, f *File) { f.Rows()[1].Float("cube") }), "not a finite number")
	infinite := strings.Replace(sample, "3,9,", "inf,9,", 1)
	wantErrors(t, run(t, infinite, func(t testing.TB, f *File) { f.Rows()[1].Float("x") }), "not a finite number")
}

func TestBadFiles(t *testing.T) {
	tests := []struct{ name, from, to, want string }{
		{"missing key", "# source: arithmetic\n", "", "key source is missing"},
		{"missing reason", "# because: two decimals\n", "", "key because is missing"},
		{"unknown key", "# title:", "# heading: x\n# title:", "heading: unknown key"},
		{"key twice", "# title:", "# title: x\n# title:", "title stands twice"},
		{"no colon", "# title: squares", "# squares", "is not \"# key: value\""},
		{"basis", "closed-form", "guess", "basis: \"guess\" is none of"},
		{"evidence", "derived", "certain", "evidence: \"certain\" is none of"},
		{"evidence against basis", "closed-form", "published-read", "evidence: \"derived\" is none of [read reported]"},
		{"tolerance", "abs 0.01", "0.01", "is not \"abs X\""},
		{"negative tolerance", "abs 0.01", "abs -1", "is not \"abs X\""},
		{"endless tolerance", "abs 0.01", "abs inf", "is not \"abs X\""},
		{"undefined tolerance", "abs 0.01", "abs nan", "is not \"abs X\""},
		{"tolerance of no column", "tolerance.cube", "tolerance.cub", "no such column"},
		{"column twice", "x,square", "x,x", "stands twice"},
		{"ragged", "2,4,8,even", "2,4,8", "wrong number of fields"},
		{"no rows", "2,4,8,even\n3,9,,odd\n", "", "table has no rows"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			text := strings.Replace(sample, test.from, test.to, 1)
			if text == sample {
				t.Fatal("nothing was replaced")
			}
			_, err := parse("sample.csv", []byte(text))
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error is %v, not %q", err, test.want)
			}
		})
	}
}

func TestOpenMissing(t *testing.T) {
	r := &recorder{TB: t}
	done := make(chan struct{})
	go func() {
		defer close(done)
		Open(r, "no-such-file.csv")
	}()
	<-done
	wantErrors(t, r, "check file no-such-file.csv: ")
}

func TestToleranceAtZero(t *testing.T) {
	rel := Tolerance{Relative: true, Limit: 1e-3}
	if d := rel.deviation(0, 0); d != 0 {
		t.Errorf("0 against 0 is off by %g", d)
	}
	if d := rel.deviation(1e-9, 0); d <= rel.Limit {
		t.Errorf("a relative tolerance lets 1e-9 pass for 0")
	}
}

// TestTotals prints the totals of all check files, apart by basis.
func TestTotals(t *testing.T) {
	totals, err := Totals()
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for _, total := range totals {
		t.Logf("%-18s %3d files %5d rows", total.Basis, total.Files, total.Rows)
		rows += total.Rows
	}
	if len(totals) != len(Bases()) || rows == 0 {
		t.Errorf("totals are %v", totals)
	}
}

// TestEveryFileIsOpened makes sure that no check file lies about unused: its
// name must stand in a test.
func TestEveryFileIsOpened(t *testing.T) {
	names, err := Names()
	if err != nil {
		t.Fatal(err)
	}
	tests, err := testSources()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		if !strings.Contains(tests, `"`+name+`"`) {
			t.Errorf("check file %s is named in no test", name)
		}
	}
}

// testSources returns the text of all Go tests of the module.
func testSources() (string, error) {
	root, err := moduleRoot()
	if err != nil {
		return "", err
	}
	var text strings.Builder
	err = filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && entry.Name() == ".git" {
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, "_test.go") {
			return nil
		}
		data, err := os.ReadFile(path)
		text.Write(data)
		return err
	})
	return text.String(), err
}
