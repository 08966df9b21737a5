package report

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/thedatashed/xlsxreader"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

// plainXLSX reads the cells of a workbook with another library, as words apart
// by blanks. The warnings that the sheet of notes repeats are left out: they
// must stand on the page.
func plainXLSX(t testing.TB, data []byte) string {
	t.Helper()
	file, err := xlsxreader.NewReader(data)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, name := range file.Sheets {
		for row := range file.ReadRows(name) {
			if row.Error != nil {
				t.Fatal(row.Error)
			}
			if name == "Notes" && len(row.Cells) > 0 && row.Cells[0].Column != "A" {
				continue
			}
			for _, c := range row.Cells {
				b.WriteString(c.Value + " ")
			}
		}
	}
	return b.String()
}

// The sheet of notes repeats every warning and caution.
func TestNotesSheetHasTheWarnings(t *testing.T) {
	file, err := xlsxreader.NewReader(xlsxOf(t, full()))
	if err != nil {
		t.Fatal(err)
	}
	var all string
	for row := range file.ReadRows("Notes") {
		for _, c := range row.Cells {
			all += c.Value + " "
		}
	}
	for _, want := range []string{"warning Moodwarning", "caution Moodcaution", "recalled mark", "[1] source Headnote1"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not in %q", want, all)
		}
	}
}

func xlsxOf(t testing.TB, d *Document) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := d.XLSX(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// checkWorkbook opens a workbook with two other libraries, wants every word of
// the page in it, and holds what the formulas of a sheet give to what stands in
// it. It gives the rows of the sheet, and is for the tests that make results.
func checkWorkbook(t *testing.T, data []byte, d *Document, sheet string) [][]string {
	t.Helper()
	if lost := dropped(d, plainText(plainXLSX(t, data))); len(lost) > 0 {
		t.Errorf("the workbook drops %s", strings.Join(lost, ", "))
	}
	file, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	cached, computed := calculated(t, file, sheet)
	for at, want := range cached {
		if !sameValue(computed[at], want) {
			t.Errorf("%s holds %q, its formula gives %q", at, want, computed[at])
		}
	}
	if len(cached) == 0 {
		t.Error("the sheet has no formulas")
	}
	rows, err := file.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// calculated gives the values that the formulas of a sheet hold and those that
// they give.
func calculated(t *testing.T, file *excelize.File, sheet string) (cached, computed map[string]string) {
	t.Helper()
	cached, computed = make(map[string]string), make(map[string]string)
	rows, err := file.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	for r := range rows {
		for c := range rows[r] {
			at := cellName(c, r+1)
			formula, err := file.GetCellFormula(sheet, at)
			if err != nil {
				t.Fatal(err)
			}
			if formula == "" {
				continue
			}
			cached[at] = rows[r][c]
			if computed[at], err = file.CalcCellValue(sheet, at, excelize.Options{RawCellValue: true}); err != nil {
				t.Fatalf("%s: %v", at, err)
			}
		}
	}
	return cached, computed
}

func sameValue(a, b string) bool {
	x, errX := strconv.ParseFloat(a, 64)
	y, errY := strconv.ParseFloat(b, 64)
	if errX != nil || errY != nil {
		return a == b
	}
	return math.Abs(x-y) <= 0.005+1e-9*math.Abs(x)
}

// A text that begins like a formula is a text, in the spreadsheet by its type,
// in CSV by an apostrophe.
func TestNoTextBecomesAFormula(t *testing.T) {
	var rows [][]Text
	words := []string{`=1+1`, `+1`, `-1`, `@sum`, `=cmd|' /C calc'!A0`, "\t=1"}
	for _, w := range words {
		rows = append(rows, []Text{say(w)})
	}
	data := xlsxOf(t, &Document{Title: "=1+1", Blocks: []Block{{Table: &Table{Heads: []string{"=A1"}, Rows: rows}}}, Notes: []Note{{"source", "=2"}}})
	file, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for _, sheet := range file.GetSheetList() {
		cells, err := file.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for r := range cells {
			for c := range cells[r] {
				if f, err := file.GetCellFormula(sheet, cellName(c, r+1)); err != nil || f != "" {
					t.Errorf("%s %s is a formula %q, %v", sheet, cellName(c, r+1), f, err)
				}
				if kind, err := file.GetCellType(sheet, cellName(c, r+1)); cells[r][c] != "" && (err != nil || kind != excelize.CellTypeInlineString) {
					t.Errorf("%s %s is of type %v, %v", sheet, cellName(c, r+1), kind, err)
				}
			}
		}
	}
	for _, w := range words {
		if got := safeText(w); got != "'"+w {
			t.Errorf("CSV writes %q as %q", w, got)
		}
	}
	for _, w := range []string{"", "board", "224.4", "[1] = 2", "½ in"} {
		if got := safeText(w); got != w {
			t.Errorf("CSV writes %q as %q", w, got)
		}
	}
}

// The same document gives the same bytes.
func TestXLSXIsTheSameTwice(t *testing.T) {
	first := xlsxOf(t, full())
	for range 5 {
		if !bytes.Equal(first, xlsxOf(t, full())) {
			t.Fatal("two runs differ")
		}
	}
}

// A text longer than a cell may be goes on in the next one.
func TestXLSXLongCell(t *testing.T) {
	words := make([]string, 20000)
	for i := range words {
		words[i] = fmt.Sprintf("w%d", i)
	}
	long := strings.Join(words, " ")
	d := &Document{Title: "T", Blocks: []Block{{Table: &Table{Heads: []string{"A"}, Rows: [][]Text{{say(long)}}}}}}
	file, err := xlsxreader.NewReader(xlsxOf(t, d))
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for row := range file.ReadRows("Page") {
		for _, c := range row.Cells {
			if len(c.Value) > 32767 {
				t.Errorf("a cell holds %d letters", len(c.Value))
			}
			got += c.Value
		}
	}
	if !strings.Contains(got, long) {
		t.Error("the cell has lost a part")
	}
}

func TestColumnNames(t *testing.T) {
	for c, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := column(c); got != want {
			t.Errorf("column %d is %s, want %s", c, got, want)
		}
	}
}

// No document makes a workbook that other programs cannot open, or that drops
// letters.
func TestXLSXOfAnyDocument(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := &Document{
			Title: anyText().Draw(rt, "title"), Sub: anyText().Draw(rt, "sub"), Blocks: rapid.SliceOfN(anyBlock(), 0, 5).Draw(rt, "blocks"),
			Notes: []Note{{"source", "One"}, {"model", "Two"}, {"warning", "Three"}},
		}
		have := make(map[rune]int)
		for _, c := range plainXLSX(t, xlsxOf(t, d)) {
			have[c]++
		}
		each(d, func(x *Text) {
			for _, c := range escapeOnly(x.Words) {
				if have[c]--; have[c] < 0 {
					rt.Errorf("%q is lost", c)
				}
			}
		}, func(*Table) {})
	})
}

// escapeOnly names what XML cannot hold as the workbook does, and leaves blanks
// out.
func escapeOnly(text string) string {
	var b strings.Builder
	for _, r := range strings.Join(strings.Fields(text), "") {
		if r < ' ' || r == '\uFFFD' {
			fmt.Fprintf(&b, "[U+%04X]", r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}
