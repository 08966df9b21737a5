package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"time"

	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/quantity"
)

// OrderedData is an order list.
type OrderedData struct {
	Supplies []SupplyData     `json:"supplies"`
	Lines    []LineData       `json:"lines"`
	Adhesive NumberData       `json:"adhesive"`
	Water    NumberData       `json:"water"` // that plaster brings in
	Cost     *CostData        `json:"cost,omitempty"`
	Schedule []StepData       `json:"schedule,omitempty"`
	Warnings []string         `json:"warnings"`
	Assumed  []AssumptionData `json:"assumptions"`
}

// SupplyData is the list for one kind of supplier.
type SupplyData struct {
	Supplier string          `json:"supplier"`
	Items    []OrderItemData `json:"items"`
}

// OrderItemData is one item.
type OrderItemData struct {
	Item     string        `json:"item"`
	Name     string        `json:"name"`
	Whole    int64         `json:"whole,omitempty"`
	WholeOf  string        `json:"whole-of,omitempty"`
	Mixed    bool          `json:"mixed,omitempty"` // the mix or its ingredients, not both
	Measures []MeasureData `json:"measures"`
}

// LineData is the quantity for one place.
type LineData struct {
	Assembly string        `json:"assembly,omitempty"`
	Layer    string        `json:"layer,omitempty"`
	Room     string        `json:"room,omitempty"`
	Part     string        `json:"part,omitempty"`
	Item     string        `json:"item"`
	Missing  string        `json:"missing,omitempty"`
	Measures []MeasureData `json:"measures,omitempty"`
}

// MeasureData is a quantity net and as ordered.
type MeasureData struct {
	Kind  string     `json:"kind"`
	Net   NumberData `json:"net"`
	Order NumberData `json:"order"`
}

// CostData is what it costs, in hundredths of the currency.
type CostData struct {
	Book     string        `json:"book"`
	Invented bool          `json:"invented"`
	Currency string        `json:"currency"`
	Total    takeoff.Money `json:"total-hundredths"`
	Missing  []string      `json:"missing"`
}

// StepData is one step of the work.
type StepData struct {
	Date   string       `json:"date,omitempty"`
	Begins takeoff.Days `json:"begins"` // day of the work, 0 for the first
	Takes  takeoff.Days `json:"takes"`
	Sort   string       `json:"sort"`
	What   string       `json:"what"`
}

// OrderData gives the quantities of an order.
func (m Maker) OrderData(o Order) OrderedData {
	d := OrderedData{
		Adhesive: number3(o.Takeoff.Glue, quantity.Mass), Water: number3(o.Takeoff.Water, quantity.Mass), Warnings: o.Takeoff.Warnings,
	}
	for _, s := range o.Takeoff.Orders() {
		x := SupplyData{Supplier: s.Supplier}
		for _, i := range s.Items {
			x.Items = append(x.Items, OrderItemData{
				Item: i.Item, Name: i.Name, Whole: i.Whole, WholeOf: string(i.WholeOf), Mixed: i.Mixed, Measures: measuresData(i.Measures),
			})
		}
		d.Supplies = append(d.Supplies, x)
	}
	for i := range o.Takeoff.Lines {
		l := &o.Takeoff.Lines[i]
		d.Lines = append(d.Lines, LineData{
			Assembly: l.Where.Assembly, Layer: l.Where.Layer, Room: l.Where.Room, Part: l.Where.Part,
			Item: l.Item, Missing: l.Missing, Measures: measuresData(l.Measures),
		})
	}
	for _, a := range o.Takeoff.Assumptions {
		d.Assumed = append(d.Assumed, AssumptionData{ID: a.ID, Text: a.Title + ": " + a.Value.Value, Source: basisData(a.Basis)})
	}
	d.Cost = costData(o.Cost)
	d.Schedule = stepsData(o.Schedule)
	return d
}

func costData(c *takeoff.Cost) *CostData {
	if c == nil {
		return nil
	}
	return &CostData{Book: c.Book.Name, Invented: c.Book.Invented == "yes", Currency: c.Book.Currency, Total: c.Total, Missing: c.Missing}
}

func stepsData(s *takeoff.Schedule) []StepData {
	if s == nil {
		return nil
	}
	var list []StepData
	for i := range s.Steps {
		x := StepData{Begins: s.Steps[i].Begin, Takes: s.Steps[i].Length, Sort: string(s.Steps[i].Sort), What: s.Steps[i].What}
		if at := s.Date(s.Steps[i].Begin.Best); !at.IsZero() {
			x.Date = at.Format(time.DateOnly)
		}
		list = append(list, x)
	}
	return list
}

// measuredIn gives the dimension of a measured kind; numbers have none.
func measuredIn(k takeoff.Kind) quantity.Dimension {
	switch k {
	case takeoff.Area:
		return quantity.Area
	case takeoff.Length:
		return quantity.Length
	case takeoff.Volume:
		return quantity.Volume
	case takeoff.Mass:
		return quantity.Mass
	}
	return quantity.Number
}

func measuresData(list []takeoff.Measure) []MeasureData {
	out := make([]MeasureData, len(list))
	for i, m := range list {
		out[i] = MeasureData{Kind: string(m.Kind), Net: number3(m.Net, measuredIn(m.Kind)), Order: number3(m.Order, measuredIn(m.Kind))}
	}
	return out
}

// OrderCSV gives the order list as a table: a line for each item and each kind
// in which it is measured, best values in the units of the page with the
// weakest mark of its places. Below stand, as lines of their own, the warnings
// of the page, what its marks mean, and its notes. A text that a table program
// would read as a formula begins with an apostrophe.
func (m Maker) OrderCSV(o Order) ([]byte, error) {
	rows := [][]string{{"supplier", "item", "name", "measured as", "net", "order", "unit", "mark", "note"}}
	for _, s := range o.Takeoff.Orders() {
		for _, i := range s.Items {
			for _, x := range i.Measures {
				rows = append(rows, m.csvRow(o.Takeoff, s.Supplier, i, x))
			}
		}
	}
	remark := func(mark, text string) {
		rows = append(rows, []string{"", "", "", "", "", "", "", mark, text})
	}
	d := m.Order(o)
	for i := range d.Blocks {
		if p := d.Blocks[i].Paragraph; p != nil && moodWord(p.Mood) != "" {
			remark("", lower(moodWord(p.Mood))+p.Text.flat())
		}
	}
	for _, x := range d.Marks {
		remark(x.Mark, x.Meaning)
	}
	for i, n := range d.Notes {
		remark("", fmt.Sprintf("[%d] %s: %s", i+1, n.Kind, n.Text))
	}
	for _, row := range rows {
		for i := range row {
			row[i] = safeText(row[i])
		}
	}
	var out bytes.Buffer
	err := csv.NewWriter(&out).WriteAll(rows)
	return out.Bytes(), err
}

func (m Maker) csvRow(t *takeoff.Takeoff, supplier string, i takeoff.Ordered, x takeoff.Measure) []string {
	net, unit := quantity.Display(x.Net.Best, measuredIn(x.Kind), m.Units)
	order, _ := quantity.Display(x.Order.Best, measuredIn(x.Kind), m.Units)
	number := func(v float64) string { return fmt.Sprintf("%.4g", v) }
	ordered := number(order)
	if x.Kind == i.WholeOf {
		ordered = fmt.Sprint(i.Whole)
	}
	if measuredIn(x.Kind) == quantity.Number {
		unit = string(x.Kind)
	}
	return []string{supplier, i.Item, i.Name, string(x.Kind), number(net), ordered, unit, markOf(t, i.Lines), orderNote(i)}
}

// markOf gives the weakest mark of some lines, empty for read.
func markOf(t *takeoff.Takeoff, lines []int) string {
	mark := kb.Read
	for _, l := range lines {
		mark = mark.Weaker(orRead(t.Lines[l].Mark))
	}
	if mark == kb.Read {
		return ""
	}
	return string(mark)
}
