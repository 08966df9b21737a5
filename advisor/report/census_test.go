package report_test

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"relath/advisor/census"
	"relath/advisor/report"
	"relath/kb"
)

var updateEvidence = flag.Bool("update-evidence", false, "rewrite the report of the evidence")

// The state of the evidence stands in a file, so that a change of the base shows
// what it does to it: go test ./advisor/report -run Evidence -update-evidence.
func TestEvidenceReport(t *testing.T) {
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	c, err := census.Take(context.Background(), base)
	if err != nil {
		t.Fatal(err)
	}
	d := (report.Maker{Base: base}).Census(c)
	report.NoFaceDrops(t, "evidence", d)
	var got bytes.Buffer
	if err := d.Text(&got); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join("..", "..", "testdata", "golden", "evidence.txt")
	if *updateEvidence {
		if err := os.WriteFile(name, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got.String()); diff != "" {
		t.Errorf("report of the evidence (-file +now):\n%s", diff)
	}
}
