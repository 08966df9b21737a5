package report_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"relath/advisor"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/quantity"
)

// demoOrder is what the demonstration house orders, with the invented prices.
func demoOrder(t *testing.T, b *kb.Base, priced bool) report.Order {
	t.Helper()
	file, err := os.ReadFile("../../testdata/houses/birch-corner.yaml")
	if err != nil {
		t.Fatal(err)
	}
	h, err := advisor.Load(b, "birch-corner.yaml", file)
	if err != nil {
		t.Fatal(err)
	}
	var w advisor.Ordering
	if priced {
		data, err := os.ReadFile("../../testdata/prices/demo.yaml")
		if err != nil {
			t.Fatal(err)
		}
		book, problems := takeoff.ReadPrices(b, "demo.yaml", data)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		w.Prices = book
	}
	o, err := advisor.Order(context.Background(), rule.Tester{Base: b}, h, w)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func embedded(t *testing.T) *kb.Base {
	t.Helper()
	b, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The order workbook sums to what the order costs, in both systems of units; its
// formulas, computed by another program, give what they hold.
func TestOrderWorkbook(t *testing.T) {
	b := embedded(t)
	for _, units := range []quantity.System{quantity.InchPound, quantity.SI} {
		m := report.Maker{Base: b, Units: units}
		o := demoOrder(t, b, true)
		data, err := m.OrderXLSX(o)
		if err != nil {
			t.Fatal(err)
		}
		rows := report.CheckWorkbook(t, data, m.Order(o), "Order")
		last := rows[len(rows)-2]
		sum, err := strconv.ParseFloat(last[len(last)-1], 64)
		if err != nil {
			t.Fatal(err)
		}
		if total := float64(o.Cost.Total.Best) / 100; math.Abs(sum-total) > 1e-6 {
			t.Errorf("the sheet sums to %.2f, the order costs %.2f", sum, total)
		}
		again, err := m.OrderXLSX(o)
		if err != nil || !bytes.Equal(data, again) {
			t.Errorf("two runs differ, %v", err)
		}
	}
}

// Three places that each cost half a cent more than a whole number of them cost the
// same on the page, where places are rounded, and on the sheet, where the item is:
// 3 × 2.5 ft × 0.33 of labor is 2.475, and each place alone 0.825.
func TestOrderWorkbookHalfCents(t *testing.T) {
	b := embedded(t)
	text := "format: 1\nhouse: Half a Cent\nplace: des-moines-ia\nfinishes:\n"
	for i := range 3 {
		text += fmt.Sprintf("  - {room: room %d, part: baseboard, material: solid-wood-trim, length: 2.5 ft, size: 3/4 in x 5-1/4 in, state: proposed}\n", i+1)
	}
	h, err := advisor.Load(b, "half.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	book, problems := takeoff.ReadPrices(b, "half-prices.yaml", []byte(`format: 1
name: Half cents, invented
invented: yes
currency: USD
prices:
  - {price: solid-wood-trim, labor: 0.33, per: 1 ft, from: invented}
`))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, units := range []quantity.System{quantity.InchPound, quantity.SI} {
		m := report.Maker{Base: b, Units: units}
		o, err := advisor.Order(context.Background(), rule.Tester{Base: b}, h, advisor.Ordering{Prices: book})
		if err != nil {
			t.Fatal(err)
		}
		if o.Cost.Total.Best != 248 {
			t.Errorf("the order costs %d cents, want 248", o.Cost.Total.Best)
		}
		data, err := m.OrderXLSX(o)
		if err != nil {
			t.Fatal(err)
		}
		rows := report.CheckWorkbook(t, data, m.Order(o), "Order")
		last := rows[len(rows)-2]
		if sum, err := strconv.ParseFloat(last[len(last)-1], 64); err != nil || math.Abs(sum-2.48) > 1e-9 {
			t.Errorf("the sheet sums to %s, %v", last[len(last)-1], err)
		}
	}
}

// The differences of a comparison follow its numbers.
func TestCompareWorkbook(t *testing.T) {
	b := embedded(t)
	file, err := os.ReadFile("../../testdata/houses/birch-corner.yaml")
	if err != nil {
		t.Fatal(err)
	}
	h, err := advisor.Load(b, "birch-corner.yaml", file)
	if err != nil {
		t.Fatal(err)
	}
	found, err := advisor.Analyze(context.Background(), rule.Tester{Base: b}, h.Assemblies)
	if err != nil {
		t.Fatal(err)
	}
	var list []report.Beside
	for i, a := range h.Assemblies {
		list = append(list, report.Beside{Name: a.Name, Analysis: found[i]})
	}
	m := report.Maker{Base: b}
	data, err := m.CompareXLSX(list)
	if err != nil {
		t.Fatal(err)
	}
	report.CheckWorkbook(t, data, m.Compare(list), "Comparison")
}

// A price that is typed in counts at once: 224.4 ft² of felt at 2.00 are 448.80,
// and one line less has no price.
func TestOrderWorkbookFollowsPrices(t *testing.T) {
	b := embedded(t)
	m := report.Maker{Base: b}
	o := demoOrder(t, b, false)
	data, err := m.OrderXLSX(o)
	if err != nil {
		t.Fatal(err)
	}
	report.CheckWorkbook(t, data, m.Order(o), "Order")
	file, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := file.GetRows("Order")
	if err != nil {
		t.Fatal(err)
	}
	total := len(rows) - 1
	value := func(at string) string {
		v, err := file.CalcCellValue("Order", at, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	before := value(cell("B", total))
	for i, row := range rows {
		if len(row) > 1 && row[1] == "Asphalt felt, No. 15" {
			if err := file.SetCellFloat("Order", cell("F", i+1), 2, -1, 64); err != nil {
				t.Fatal(err)
			}
			if got := value(cell("G", i+1)); got != "448.8" {
				t.Errorf("the felt costs %s, want 448.8", got)
			}
		}
	}
	if got := value(cell("K", total)); got != "448.8" {
		t.Errorf("the sum is %s, want 448.8", got)
	}
	if after := value(cell("B", total)); before == after || !strings.HasPrefix(after, "In all; lines without a price: ") {
		t.Errorf("the total says %q, and %q before", after, before)
	}
}

// The heads stay in view and on every page, and the list has a filter.
func TestOrderWorkbookPrints(t *testing.T) {
	b := embedded(t)
	o := demoOrder(t, b, false)
	items := 0
	for _, supply := range o.Takeoff.Orders() {
		items += len(supply.Items)
	}
	data, err := report.Maker{Base: b}.OrderXLSX(o)
	if err != nil {
		t.Fatal(err)
	}
	file, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	names := make(map[string]string)
	for _, n := range file.GetDefinedName() {
		names[n.Name+" "+n.Scope] = n.RefersTo
	}
	// The heads stand below title, place and key; a line for each item follows.
	if got := names["_xlnm.Print_Titles Order"]; got != "'Order'!$4:$4" {
		t.Errorf("repeated rows %q", got)
	}
	if got := names["_xlnm._FilterDatabase Order"]; got != fmt.Sprintf("'Order'!$A$4:$K$%d", 4+items) {
		t.Errorf("filtered rows %q", got)
	}
	if panes, err := file.GetPanes("Order"); err != nil || !panes.Freeze || panes.YSplit != 4 {
		t.Errorf("panes %+v, %v", panes, err)
	}
	if layout, err := file.GetPageLayout("Order"); err != nil || layout.Orientation == nil || *layout.Orientation != "landscape" {
		t.Errorf("layout %+v, %v", layout, err)
	}
	if got := strings.Join(file.GetSheetList(), " "); got != "Order Page Notes" {
		t.Errorf("sheets %q", got)
	}
}

func cell(column string, row int) string {
	name, err := excelize.JoinCellName(column, row)
	if err != nil {
		panic(err)
	}
	return name
}

// The list as a table carries the marks and all notes of the page.
func TestOrderCSVHasMarksAndNotes(t *testing.T) {
	b := embedded(t)
	m := report.Maker{Base: b}
	o := demoOrder(t, b, true)
	data, err := m.OrderCSV(o)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	marked := 0
	for _, row := range rows[1:] {
		if row[0] != "" && row[7] != "" {
			marked++
		}
	}
	if rows[0][7] != "mark" || marked == 0 {
		t.Errorf("%d items are marked", marked)
	}
	d := m.Order(o)
	for _, n := range d.Notes {
		if !strings.Contains(strings.ReplaceAll(text, `""`, `"`), n.Text) {
			t.Errorf("note %q is missing", n.Text)
		}
	}
	for _, l := range d.Marks {
		if !strings.Contains(text, l.Mark+","+l.Meaning) && !strings.Contains(text, l.Mark+",\""+l.Meaning) {
			t.Errorf("mark %q is not explained", l.Mark)
		}
	}
	for _, block := range d.Blocks {
		if p := block.Paragraph; p != nil && p.Mood == "warning" && !strings.Contains(text, p.Text.Words) {
			t.Errorf("warning %q is missing", p.Text.Words)
		}
	}
}
