package quantity

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The files of check values are read here and not by the helper below advisor, which this folder may not import.
func TestFactors(t *testing.T) {
	for _, name := range []string{"quantity-factors.csv", "quantity-factors-published.csv"} {
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile("../../testdata/checks/" + name)
			if err != nil {
				t.Fatal(err)
			}
			rows, allowed := readChecks(t, string(data))
			worst := 0.0
			for _, row := range rows {
				worst = math.Max(worst, checkFactor(t, row, allowed))
			}
			t.Logf("%d rows, worst relative deviation %.2g, allowed %.2g", len(rows), worst, allowed)
		})
	}
}

func readChecks(t *testing.T, data string) (rows [][]string, allowed float64) {
	t.Helper()
	m := regexp.MustCompile(`(?m)^# tolerance: rel (\S+)$`).FindStringSubmatch(data)
	if m == nil {
		t.Fatal("no relative tolerance in the head of the file")
	}
	allowed, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(data))
	r.Comment = '#'
	rows, err = r.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	return rows[1:], allowed
}

// checkFactor compares a quantity in another unit with the value of the row and gives the relative deviation.
func checkFactor(t *testing.T, row []string, allowed float64) float64 {
	t.Helper()
	text, d, unitText := row[0], Dimension(row[1]), row[2]
	want, err := strconv.ParseFloat(row[3], 64)
	if err != nil {
		t.Fatal(err)
	}
	si, err := Parse(text, d)
	if err != nil {
		t.Errorf("%v", err)
		return 0
	}
	got, err := ToUnit(si, unitText, d)
	if err != nil {
		t.Errorf("%v", err)
		return 0
	}
	off := math.Abs(got-want) / want
	if off > allowed {
		t.Errorf("%s is %.9g %s, want %.9g", text, got, unitText, want)
	}
	return off
}
