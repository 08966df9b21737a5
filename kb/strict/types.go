package strict

import (
	"errors"
	"fmt"

	"relath/kb/quantity"
)

// Text is a string that remembers where it stands. A quantity is read as a Text and converted by SI, Range or List when its
// dimension is known.
type Text struct {
	Value string
	Pos   Pos
}

// UnmarshalNode reads a single value.
func (t *Text) UnmarshalNode(v *Value, report Report) {
	t.Pos = v.Pos
	v.Decode(&t.Value, report)
}

// MarshalNode gives the string.
func (t Text) MarshalNode() any { return t.Value }

// IsZero says whether nothing was written.
func (t Text) IsZero() bool { return t.Value == "" }

// String gives the string.
func (t Text) String() string { return t.Value }

// SI reads the quantity in the SI unit of the dimension, and reports why it cannot.
func (t Text) SI(d quantity.Dimension, report Report) (v float64, ok bool) {
	v, err := quantity.Parse(t.Value, d)
	return v, t.reported(err, report)
}

// Range reads a quantity that may be a range, "3-5 in", and reports why it cannot.
func (t Text) Range(d quantity.Dimension, report Report) (r quantity.Range, ok bool) {
	r, err := quantity.ParseRange(t.Value, d)
	return r, t.reported(err, report)
}

// List reads several quantities with one unit, "10, 30, 50 %", and reports why it cannot.
func (t Text) List(d quantity.Dimension, report Report) (list []float64, ok bool) {
	list, err := quantity.ParseList(t.Value, d)
	return list, t.reported(err, report)
}

// reported passes an error on at the position of the text, and says whether there was none.
func (t Text) reported(err error, report Report) bool {
	var p *quantity.ParseError
	switch {
	case err == nil:
		return true
	case errors.As(err, &p):
		report(t.Pos, fmt.Sprintf("%q: %s", clip(p.Text), p.Message), p.Hint)
	default:
		report(t.Pos, err.Error(), "")
	}
	return false
}

// Ordered is a mapping that keeps the order of the file and the place of each key.
type Ordered[T any] []Keyed[T]

// Keyed is one entry of an [Ordered] mapping.
type Keyed[T any] struct {
	Key   string
	Pos   Pos
	Value T
}

// UnmarshalNode reads a mapping.
func (o *Ordered[T]) UnmarshalNode(v *Value, report Report) {
	if !v.expect(Mapping, report) {
		return
	}
	*o = make(Ordered[T], len(v.Fields))
	for i, f := range v.Fields {
		(*o)[i].Key, (*o)[i].Pos = f.Key, f.Pos
		f.Value.Decode(&(*o)[i].Value, report)
	}
}

// MarshalNode gives the mapping in its order.
func (o Ordered[T]) MarshalNode() any {
	m := orderedFields{}
	for _, k := range o {
		m = append(m, orderedField{k.Key, k.Value})
	}
	return m
}

// Get gives the value of a key.
func (o Ordered[T]) Get(key string) (value T, ok bool) {
	for _, k := range o {
		if k.Key == key {
			return k.Value, true
		}
	}
	return value, false
}
