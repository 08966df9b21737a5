package takeoff

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"relath/kb"
	"relath/kb/strict"
)

// columns are the columns of a price table, with those that it must have.
func columns() (all, required []string) {
	return []string{"price", "costs", "labor", "per", "complete", "currency", "from", "date", "invented"},
		[]string{"price", "per", "currency"}
}

// readTable reads a price book from CSV with a line of column names. The
// currency must be the same in every row; a table is invented when every row
// says so.
func readTable(base *kb.Base, file string, data []byte) (*PriceBook, strict.Problems) {
	c := &checker{base: base}
	if len(data) > maxPriceBytes {
		c.report(strict.Pos{File: file}, "the file is longer than 1 MiB", "")
		return nil, c.problems
	}
	t := &table{checker: c, file: file, csv: csv.NewReader(strings.NewReader(strings.TrimPrefix(string(data), "\ufeff")))}
	t.csv.FieldsPerRecord = -1
	t.csv.TrimLeadingSpace = true
	book := &PriceBook{Pos: strict.Pos{File: file}, Format: bookFormat, Name: file, Invented: "yes"}
	if !t.head() {
		return nil, c.problems
	}
	for len(book.Prices) <= maxPrices && t.next() {
		t.row(book)
	}
	if len(book.Prices) == 0 {
		book.Invented = ""
	}
	return c.check(book)
}

// table is a price table that is being read.
type table struct {
	*checker
	file   string
	csv    *csv.Reader
	names  []string
	record []string
}

// next reads a record; a fault of the format ends the table.
func (t *table) next() bool {
	record, err := t.csv.Read()
	if errors.Is(err, io.EOF) {
		return false
	}
	if err != nil {
		var p *csv.ParseError
		pos := strict.Pos{File: t.file}
		if errors.As(err, &p) {
			pos.Line, pos.Column, err = p.Line, p.Column, p.Err
		}
		t.report(pos, err.Error(), "columns are apart by commas; text with a comma stands in quotes")
		return false
	}
	t.record = record
	return true
}

// at is the place of a field of the record.
func (t *table) at(column int) strict.Pos {
	line, col := t.csv.FieldPos(column)
	return strict.Pos{File: t.file, Line: line, Column: col}
}

// head reads the names of the columns.
func (t *table) head() bool {
	all, required := columns()
	if !t.next() {
		if len(t.problems) == 0 {
			t.report(strict.Pos{File: t.file}, "the price table is empty", "its first line names the columns: "+strings.Join(all, ", "))
		}
		return false
	}
	given := make(map[string]bool)
	for i, name := range t.record {
		name = strings.ToLower(strings.TrimSpace(name))
		switch {
		case !contains(all, name):
			t.report(t.at(i), fmt.Sprintf("unknown column %q", clip(name)), strict.AllowedHint(name, all))
		case given[name]:
			t.report(t.at(i), fmt.Sprintf("column %q given twice", name), "")
		}
		given[name] = true
		t.names = append(t.names, name)
	}
	for _, name := range required {
		if !given[name] {
			t.report(strict.Pos{File: t.file, Line: 1}, fmt.Sprintf("column %q is missing", name), "")
		}
	}
	return len(t.problems) == 0
}

func contains(list []string, text string) bool {
	for _, one := range list {
		if one == text {
			return true
		}
	}
	return false
}

// row adds the price of a record.
func (t *table) row(book *PriceBook) {
	if len(t.record) != len(t.names) {
		t.report(t.at(0), fmt.Sprintf("the row has %d columns, the table %d", len(t.record), len(t.names)), "")
		book.Prices = append(book.Prices, Price{})
		return
	}
	p := Price{Pos: t.at(0)}
	invented := false
	for i, name := range t.names {
		text := strict.Text{Value: strings.TrimSpace(t.record[i]), Pos: t.at(i)}
		switch name {
		case "price":
			p.Of = text
		case "costs":
			p.Costs = text
		case "labor":
			p.Labor = text
		case "per":
			p.Per = text
		case "complete":
			p.Complete = t.answer(text)
		case "from":
			p.From = text.Value
		case "date":
			p.Date = text.Value
		case "invented":
			invented = t.answer(text) == "yes"
		case "currency":
			t.currency(book, text)
		}
	}
	if !invented {
		book.Invented = ""
	}
	for _, needed := range []struct {
		name string
		text strict.Text
	}{{"price", p.Of}, {"per", p.Per}} {
		if needed.text.IsZero() {
			t.report(needed.text.Pos, fmt.Sprintf("the row has no %s", needed.name), "")
		}
	}
	book.Prices = append(book.Prices, p)
}

// answer reads yes or no.
func (t *table) answer(text strict.Text) Invented {
	if text.Value != "" && text.Value != "yes" && text.Value != "no" {
		t.report(text.Pos, fmt.Sprintf("%q is not allowed here", clip(text.Value)), "allowed: yes, no")
	}
	return Invented(text.Value)
}

// currency holds all rows to one currency.
func (t *table) currency(book *PriceBook, text strict.Text) {
	switch {
	case !isCurrency(text.Value):
		t.report(text.Pos, fmt.Sprintf("currency %q: three capital letters are needed", clip(text.Value)), "for example USD")
	case book.Currency == "":
		book.Currency = text.Value
	case book.Currency != text.Value:
		t.report(text.Pos, fmt.Sprintf("currency %q: the rows above are in %s", text.Value, book.Currency), "keep one currency in a file")
	}
}
