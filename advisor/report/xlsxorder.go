package report

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"relath/advisor/takeoff"
	"relath/kb/quantity"
)

// OrderXLSX gives the order as a workbook: one list with a filter by supplier,
// whose totals follow the prices that are typed in, then the page and its notes.
func (m Maker) OrderXLSX(o Order) ([]byte, error) {
	d := m.Order(o)
	b := workbook{title: d.Title, sheets: append([]sheet{m.orderSheet(d, o)}, d.sheets()...)}
	var out bytes.Buffer
	err := b.write(&out)
	return out.Bytes(), err
}

// orderRow is a row of the list: an item in the kind in which it is priced. An
// item has several where its places are priced in different ways.
type orderRow struct {
	supplier string
	item     takeoff.Ordered
	kind     takeoff.Kind
	price    *takeoff.Price // nil for none
	paid     string         // where the price is that covers it, empty when it has its own or wants one
	net      float64        // in the unit
	order    float64
	unit     string
	per      float64 // price for one unit
	labor    float64
	mark     string
}

// The columns of the list.
const (
	orderSupplier = iota
	orderItem
	orderAmount
	orderUnit
	orderNet
	orderPrice
	orderMaterial
	orderLaborPrice
	orderLabor
	orderMark
	orderNotes
)

// noPrice stands for the cost of what has no price; the totals count it.
const noPrice = "no price"

func (m Maker) orderSheet(d *Document, o Order) sheet {
	s := sheet{name: "Order", widths: []float64{24, 34, 9, 11, 9, 11, 12, 12, 12, 11, 38}}
	s.line(looked(d.Title, lookTitle))
	s.line(looked(d.Sub, lookSoft))
	currency := ""
	if o.Cost != nil && o.Cost.Book.Currency != "" {
		currency = ", " + o.Cost.Book.Currency
	}
	if o.Cost != nil && o.Cost.Book.Invented == "yes" {
		s.line(looked("Warning: The prices are invented, for demonstration only. Put in your own before you believe a figure.", lookSection))
	}
	s.line(looked("Best values; ranges, warnings, marks and sources stand on the sheets Page and Notes. Shaded: no price is known. Type yours for one unit, and the totals follow.", lookSoft))
	var heads []cell
	for _, h := range []string{
		"Supplier", "Item", "Order", "Unit", "Net", "Price of a unit" + currency, "Material" + currency,
		"Labor for a unit of net" + currency, "Labor" + currency, "Mark", "Note",
	} {
		heads = append(heads, looked(h, lookHead))
	}
	s.line(heads...)
	s.head = len(s.rows)
	rows := m.orderRows(o)
	for i := range rows {
		s.line(rows[i].cells(len(s.rows) + 1)...)
	}
	if len(rows) > 0 {
		s.last = len(s.rows)
		s.totals(rows)
	}
	return s
}

// orderRows gives the rows of the list in the order of the page.
func (m Maker) orderRows(o Order) []orderRow {
	var rows []orderRow
	for _, s := range o.Takeoff.Orders() {
		for _, i := range s.Items {
			for _, lines := range sortedByPrice(o, i.Lines) {
				rows = append(rows, m.orderRow(o, s.Supplier, i, lines))
			}
		}
	}
	return rows
}

// sortedByPrice parts the lines of an item by what pays them.
func sortedByPrice(o Order, lines []int) [][]int {
	var keys []takeoff.LineCost
	var parts [][]int
	for _, l := range lines {
		key := takeoff.LineCost{}
		if o.Cost != nil {
			c := o.Cost.Lines[l]
			key = takeoff.LineCost{Price: c.Price, Covered: c.Covered, Missing: c.Missing}
		}
		at := slices.Index(keys, key)
		if at < 0 {
			keys, parts = append(keys, key), append(parts, nil)
			at = len(keys) - 1
		}
		parts[at] = append(parts[at], l)
	}
	return parts
}

// orderRow sums the lines of an item that one price pays.
func (m Maker) orderRow(o Order, supplier string, item takeoff.Ordered, lines []int) orderRow {
	r := orderRow{supplier: supplier, item: item, kind: item.Measures[0].Kind}
	if item.WholeOf != "" {
		r.kind = item.WholeOf
	}
	if o.Cost != nil {
		c := o.Cost.Lines[lines[0]]
		r.price = c.Price
		switch {
		case c.Covered:
			r.paid = "in the price of what it belongs to"
		case c.Price == nil && c.Missing == "":
			r.paid = "paid by its ingredients"
		case c.Price != nil:
			r.kind = c.Price.Kind
		}
	}
	var net, order float64
	for _, l := range lines {
		line := &o.Takeoff.Lines[l]
		x, _ := line.Measure(r.kind)
		net, order = net+x.Net.Best, order+x.Order.Best
	}
	r.mark = markOf(o.Takeoff, lines)
	if r.kind.Whole() {
		order = float64(takeoff.Whole(order))
	}
	factor, unit := m.soldIn(r.kind, isCoat(o.Takeoff, item))
	r.net, r.order, r.unit = net*factor, order*factor, unit
	if r.price != nil {
		r.per, r.labor = r.price.CostsOf.Best/r.price.Amount/factor, r.price.LaborOf.Best/r.price.Amount/factor
	}
	return r
}

// soldIn gives the unit in which a quantity is sold, and how many of it are in
// one of SI.
func (m Maker) soldIn(k takeoff.Kind, coat bool) (factor float64, unit string) {
	switch {
	case k == takeoff.BoardFeet:
		return 1, "board feet"
	case measuredIn(k) == quantity.Number:
		return 1, kindOf(k, 2)
	case coat && k == takeoff.Volume:
		perUnit, unit := m.can()
		return 1 / perUnit, unit
	}
	const long = 100 // m: lengths are sold in feet or meters
	shown, unit := quantity.Display(long, measuredIn(k), m.Units)
	return shown / long, unit
}

// cells gives the cells of a row of the list, with formulas for what it costs.
func (r *orderRow) cells(row int) []cell {
	at := func(c int) string { return cellName(c, row) }
	cells := make([]cell, orderNotes+1)
	cells[orderSupplier], cells[orderItem] = textCell(capital(r.supplier)), textCell(capital(r.item.Name))
	cells[orderAmount], cells[orderUnit], cells[orderNet] = numberCell(r.order), textCell(r.unit), numberCell(r.net)
	cells[orderMark] = textCell(r.mark)
	cells[orderNotes] = textCell(strings.Trim(orderNote(r.item)+"; "+r.paid, "; "))
	if r.paid != "" {
		return cells
	}
	cells[orderPrice], cells[orderLaborPrice] = cell{look: lookOpen}, cell{look: lookMoney}
	cost := fmt.Sprintf(`IF(COUNT(%s,%s)=0,"%s",ROUND(%s*%s,2))`, at(orderPrice), at(orderLaborPrice), noPrice, at(orderAmount), at(orderPrice))
	work := fmt.Sprintf("ROUND(%s*%s,2)", at(orderNet), at(orderLaborPrice))
	if r.price == nil {
		cells[orderMaterial] = cell{formula: cost, text: noPrice, look: lookMoney}
		cells[orderLabor] = formulaCell(work, 0, lookMoney)
		return cells
	}
	if r.price.HasCosts {
		cells[orderPrice] = moneyCell(r.per)
	} else {
		cells[orderPrice] = cell{look: lookMoney}
	}
	if r.price.HasLabor {
		cells[orderLaborPrice] = moneyCell(r.labor)
	}
	cells[orderMaterial] = formulaCell(cost, cents(r.order*r.per), lookMoney)
	cells[orderLabor] = formulaCell(work, cents(r.net*r.labor), lookMoney)
	return cells
}

// totals adds the sums below the list: of all, and of the lines that the filter
// shows.
func (s *sheet) totals(rows []orderRow) {
	first := s.head + 1
	span := func(c int) string { return fmt.Sprintf("%s%d:%s%d", column(c), first, column(c), s.last) }
	var material, labor float64
	open := 0
	for i := range rows {
		material, labor = material+cents(rows[i].order*rows[i].per), labor+cents(rows[i].net*rows[i].labor)
		if rows[i].price == nil && rows[i].paid == "" {
			open++
		}
	}
	unpriced := fmt.Sprintf(`COUNTIF(%s,"%s")`, span(orderMaterial), noPrice)
	words := func(n int) string { return fmt.Sprintf("In all; lines without a price: %d", n) }
	s.line()
	for _, x := range []struct {
		label   cell
		sum     string
		combine string
	}{
		{cell{formula: `"In all; lines without a price: "&` + unpriced, text: words(open), look: lookBold}, "SUM(", ""},
		{looked("Of the lines that the filter shows", lookBold), "SUBTOTAL(109,", ""},
	} {
		row := len(s.rows) + 1
		line := make([]cell, orderNotes+1)
		for c := range line {
			line[c].look = lookBold
		}
		line[orderItem] = x.label
		line[orderMaterial] = formulaCell(x.sum+span(orderMaterial)+")", material, lookTotal)
		line[orderLabor] = formulaCell(x.sum+span(orderLabor)+")", labor, lookTotal)
		line[orderMark] = looked("Sum", lookBold)
		line[orderNotes] = formulaCell(cellName(orderMaterial, row)+"+"+cellName(orderLabor, row), material+labor, lookTotal)
		s.line(line...)
	}
}

// cents rounds an amount of money as the sheet does.
func cents(v float64) float64 { return float64(takeoff.Hundredths(v)) / 100 }
