package climate

import (
	"bufio"
	"compress/gzip"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// maxWeatherBytes bounds the text of a weather file, after decompression.
const maxWeatherBytes = 16 << 20

// ReadError is a fault in a weather file and where it is.
type ReadError struct {
	Line, Column int    // from 1; Column 0 is the whole line, Line 0 the whole file
	Name         string // heading of the column, where one is known
	Problem      string
}

func (e *ReadError) Error() string {
	var where strings.Builder
	if e.Line > 0 {
		fmt.Fprintf(&where, "line %d", e.Line)
		if e.Column > 0 {
			fmt.Fprintf(&where, ", column %d", e.Column)
		}
		if e.Name != "" {
			fmt.Fprintf(&where, " (%s)", e.Name)
		}
		where.WriteString(": ")
	}
	return where.String() + e.Problem
}

// errTooLong is what a bounded reader returns at its limit.
var errTooLong = fmt.Errorf("file is longer than %d MiB", maxWeatherBytes>>20)

// bounded hands on at most maxWeatherBytes, then errTooLong instead of a silent end.
type bounded struct {
	from io.Reader
	left int
}

func (b *bounded) Read(p []byte) (int, error) {
	if b.left == 0 {
		return 0, errTooLong
	}
	n, err := b.from.Read(p[:min(len(p), b.left)])
	b.left -= n
	return n, err
}

// lines reads the records of a CSV file, plain or gzip, and remembers where it is.
type lines struct {
	csv    *csv.Reader
	record []string
}

// newLines opens a CSV file and tells gzip from plain text by its first bytes.
func newLines(r io.Reader) (*lines, error) {
	buffered := bufio.NewReader(r)
	var text io.Reader = buffered
	if magic, _ := buffered.Peek(2); len(magic) == 2 && magic[0] == 0x1f && magic[1] == 0x8b {
		unpacked, err := gzip.NewReader(buffered)
		if err != nil {
			return nil, &ReadError{Problem: fmt.Sprintf("gzip: %v", err)}
		}
		text = unpacked
	}
	reader := csv.NewReader(&bounded{from: text, left: maxWeatherBytes})
	reader.FieldsPerRecord = -1
	reader.ReuseRecord = true
	return &lines{csv: reader}, nil
}

// next reads a record; io.EOF is the end of the file.
func (l *lines) next() (err error) {
	l.record, err = l.csv.Read()
	var fault *csv.ParseError
	switch {
	case err == nil || errors.Is(err, io.EOF):
		return err
	case errors.As(err, &fault):
		return &ReadError{Line: fault.Line, Column: fault.Column, Problem: fault.Err.Error()}
	default:
		return &ReadError{Problem: err.Error()}
	}
}

// fault returns an error at a field of the present record.
func (l *lines) fault(field int, name, format string, args ...any) error {
	line, _ := l.csv.FieldPos(0)
	return &ReadError{Line: line, Column: field + 1, Name: name, Problem: fmt.Sprintf(format, args...)}
}

// faultLine returns an error of the whole present record.
func (l *lines) faultLine(format string, args ...any) error {
	line, _ := l.csv.FieldPos(0)
	return &ReadError{Line: line, Problem: fmt.Sprintf(format, args...)}
}

// number reads a field as a finite number.
func (l *lines) number(field int, name string) (float64, error) {
	text := strings.TrimSpace(l.record[field])
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(value) || math.IsInf(value, 0) {
		return 0, l.fault(field, name, "%q is not a number", shorten(text))
	}
	return value, nil
}

// shorten keeps an error readable whatever the file holds.
func shorten(text string) string {
	const longest = 40
	if len(text) <= longest {
		return text
	}
	return strings.ToValidUTF8(text[:longest], "") + "…"
}

// column is a column of a weather file: what it holds, how its unit becomes SI, and
// which values are possible.
type column struct {
	heading   string
	quantity  quantity
	scale     float64
	offset    float64
	low, high float64 // in SI
}

// series are the quantities of a year before its gaps are filled; NaN is missing.
type series struct {
	values [quantities][]float64
}

func newSeries() *series {
	s := &series{}
	for q := range s.values {
		s.values[q] = make([]float64, HoursPerYear)
		for i := range s.values[q] {
			s.values[q][i] = math.NaN()
		}
	}
	return s
}

// store reads one field into hour i.
func (s *series) store(l *lines, field int, c *column, i int) error {
	value, err := l.number(field, c.heading)
	if err != nil {
		return err
	}
	si := value*c.scale + c.offset
	if !(si >= c.low && si <= c.high) {
		return l.fault(field, c.heading, "%g is out of range; possible is %.6g to %.6g",
			value, (c.low-c.offset)/c.scale, (c.high-c.offset)/c.scale)
	}
	s.values[c.quantity][i] = si
	return nil
}

// hourOfYear returns the hour of a year, from 0, whose end is at the clock of a
// date, and false when there is no such date or it is 29 February.
func hourOfYear(month, day, clock int) (int, bool) {
	if month < 1 || month > 12 || clock < 1 || clock > 24 {
		return 0, false
	}
	first, end := monthDays(month - 1)
	if day < 1 || day > end-first {
		return 0, false
	}
	return 24*(first+day-1) + clock - 1, true
}

// nextOrMissing reads a record that must be there.
func (l *lines) nextOrMissing(what string) error {
	err := l.next()
	if errors.Is(err, io.EOF) {
		return &ReadError{Problem: "file ends before the " + what}
	}
	return err
}

// readRows reads hours until the file ends. Hour gives that of the present record,
// store keeps its values; each hour must follow the one before.
func readRows(l *lines, hour func() (int, error), store func(*series, int) error) (*series, error) {
	s := newSeries()
	previous := -1
	for {
		err := l.next()
		if errors.Is(err, io.EOF) {
			return s, nil
		}
		if err != nil {
			return nil, err
		}
		i, err := hour()
		if err != nil {
			return nil, err
		}
		if i <= previous {
			return nil, l.faultLine("hour %s does not follow %s", stamp(i), stamp(previous))
		}
		previous = i
		if err := store(s, i); err != nil {
			return nil, err
		}
	}
}
