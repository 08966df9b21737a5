package kb

import (
	"errors"
	"fmt"
	"strings"

	"relath/kb/quantity"
	"relath/kb/strict"
)

// resolve turns every text that is a quantity into SI.
func (l *loader) resolve() {
	for _, m := range l.base.Materials {
		l.resolveMaterial(m)
	}
	for _, s := range l.base.Systems {
		s.ThicknessSI = l.quantity(s.Thickness, quantity.Length)
		l.resolveValues(s.Values)
	}
	for _, r := range l.base.Recipes {
		l.resolveValues(r.Coverage)
	}
	for _, a := range l.base.Assumptions {
		a.SI = l.bounds(a.Pos, a.Value, a.Range, a.Dim)
	}
	for _, f := range l.base.Facts {
		if f.Dimension != "" {
			f.WorthSI = l.quantity(f.Worth, f.Dimension)
		}
	}
	for _, p := range l.base.Prices {
		l.resolvePrice(p)
	}
	for _, p := range l.base.Places {
		l.quantity(p.Elevation, quantity.Length)
		for i := range p.Months {
			l.resolveSeries(&p.Months[i])
		}
	}
}

func (l *loader) resolveMaterial(m *Material) {
	t := &m.Thickness
	t.UsualSI = l.quantity(t.Usual, quantity.Length)
	t.LeastSI = l.quantity(t.Least, quantity.Length)
	t.MostSI = l.quantity(t.Most, quantity.Length)
	for _, sold := range t.Sold {
		t.SoldSI = append(t.SoldSI, l.quantity(sold, quantity.Length))
	}
	for i := range m.Duties {
		m.Duties[i].FromSI = l.quantity(m.Duties[i].From, quantity.Length)
	}
	l.resolveValues(m.Values)
}

func (l *loader) resolveValues(values []Value) {
	for i := range values {
		v := &values[i]
		l.resolveConditions(&v.At)
		p := l.base.Property(v.Property)
		switch {
		case p == nil:
			l.unknown(v.Pos, "property", v.Property, l.known["property"])
		case v.Curve == nil:
			v.SI = l.bounds(v.Pos, v.Value, v.Range, p.Dimension)
		case v.Value.Value != "" || v.Range.Value != "":
			l.report(v.Pos, "a curve goes without value and range", "make two values of it")
		default:
			v.SI = l.resolveCurve(v.Curve, p.Dimension)
		}
	}
}

// resolveConditions reads the conditions; of a printed span the middle counts.
func (l *loader) resolveConditions(c *Conditions) {
	c.ThicknessSI = l.span(c.Thickness, quantity.Length).Best
	c.DensitySI = l.span(c.Density, quantity.Density).Best
	l.span(c.Humidity, quantity.Ratio)
	if c.Temperature.Value != "" {
		c.TemperatureSI = l.span(c.Temperature, quantity.Temperature).Best + kelvin
	}
}

// kelvin is 0 °C in K.
const kelvin = 273.15

// bounds reads a value, a range, or both.
func (l *loader) bounds(pos strict.Pos, value, span strict.Text, d quantity.Dimension) quantity.Range {
	switch {
	case value.Value == "" && span.Value == "":
		l.report(pos, "a value, a range or a curve is missing", "")
		return quantity.Range{}
	case span.Value == "":
		return quantity.Exact(l.quantity(value, d))
	case value.Value == "":
		return l.span(span, d)
	}
	r := l.span(span, d)
	r.Best = l.quantity(value, d)
	if !r.Contains(r.Best) {
		l.report(span.Pos, fmt.Sprintf("the range %q does not hold the value %q", span.Value, value.Value), "")
	}
	return r
}

// resolveCurve reads both lists and gives the span of the values. Its middle is
// the value half way along the humidities given.
func (l *loader) resolveCurve(c *Curve, d quantity.Dimension) quantity.Range {
	c.RH = l.series(c.Humidity, quantity.Ratio)
	c.SI = l.series(c.Values, d)
	if len(c.RH) == 0 || len(c.SI) == 0 {
		return quantity.Range{}
	}
	if len(c.RH) != len(c.SI) {
		l.report(c.Values.Pos, fmt.Sprintf("%d values for %d humidities", len(c.SI), len(c.RH)), "")
		c.RH, c.SI = nil, nil
		return quantity.Range{}
	}
	for i, rh := range c.RH {
		if rh > 1 || i > 0 && rh <= c.RH[i-1] {
			l.report(c.Humidity.Pos, "the humidities of a curve rise from 0 to 100 % at most", "")
			break
		}
	}
	l.resolveSpread(c.Spread)
	points := (&Value{Curve: c}).points()
	span := points[0].SI
	for _, p := range points {
		span = span.Union(p.SI)
	}
	span.Best = along(points, (c.RH[0]+c.RH[len(c.RH)-1])/2).Best
	return span
}

// resolveSpread reads the factors of a spread. The curve itself is the best
// value, so 1 lies between them.
func (l *loader) resolveSpread(s *Spread) {
	if s == nil {
		return
	}
	s.SI = l.span(s.Factor, quantity.Number)
	s.SI.Best = 1
	if s.SI.Low <= 0 || s.SI.Low > 1 || s.SI.High < 1 {
		l.report(s.Factor.Pos, fmt.Sprintf("the spread %q does not hold 1", s.Factor.Value), "factors on the curve above 0, such as 0.5 to 2")
		s.SI = quantity.Exact(1)
	}
}

// dimensionOf gives the dimension of a monthly quantity of a place.
func dimensionOf(series string) (quantity.Dimension, bool) {
	d, ok := map[string]quantity.Dimension{
		"temperature":        quantity.Temperature,
		"daily-maximum":      quantity.Temperature,
		"daily-minimum":      quantity.Temperature,
		"humidity":           quantity.Ratio,
		"vapor-pressure":     quantity.Pressure,
		"precipitation":      quantity.Length,
		"precipitation-days": quantity.Number,
		"wind":               quantity.Velocity,
		"sun":                quantity.HeatFlux,
		"temperature-spread": quantity.TemperatureDifference,
		"humidity-spread":    quantity.Ratio,
	}[series]
	return d, ok
}

func (l *loader) resolveSeries(s *Series) {
	d, ok := dimensionOf(s.Quantity)
	if !ok {
		l.unknown(s.Pos, "monthly quantity", s.Quantity, []string{
			"temperature", "daily-maximum", "daily-minimum", "humidity", "vapor-pressure", "precipitation",
			"precipitation-days", "wind", "sun", "temperature-spread", "humidity-spread",
		})
		return
	}
	s.SI = l.series(s.Values, d)
	if n := len(s.SI); n != 0 && n != 12 {
		l.report(s.Values.Pos, fmt.Sprintf("%d values for 12 months", n), "")
	}
}

// quantity reads one quantity; an empty text gives 0.
func (l *loader) quantity(t strict.Text, d quantity.Dimension) float64 {
	if t.Value == "" {
		return 0
	}
	v, err := quantity.Parse(t.Value, d)
	l.failed(t, err)
	return v
}

// span reads a quantity that may be a range; an empty text gives zeros.
func (l *loader) span(t strict.Text, d quantity.Dimension) quantity.Range {
	if t.Value == "" {
		return quantity.Range{}
	}
	r, err := quantity.ParseRange(t.Value, d)
	l.failed(t, err)
	return r
}

// series reads several quantities with one unit.
func (l *loader) series(t strict.Text, d quantity.Dimension) []float64 {
	if t.Value == "" {
		return nil
	}
	list, err := quantity.ParseList(t.Value, d)
	l.failed(t, err)
	return list
}

// failed reports why a text is not the quantity wanted.
func (l *loader) failed(t strict.Text, err error) {
	var p *quantity.ParseError
	switch {
	case errors.As(err, &p):
		l.report(t.Pos, fmt.Sprintf("%q: %s", t.Value, p.Message), p.Hint)
	case err != nil:
		l.report(t.Pos, err.Error(), "")
	}
}

// unknown reports a word that names nothing; an empty one was reported when the
// file was decoded.
func (l *loader) unknown(pos strict.Pos, what, word string, known []string) {
	if strings.TrimSpace(word) != "" {
		l.report(l.locate(pos, word), fmt.Sprintf("unknown %s %q", what, word), strict.AllowedHint(word, known))
	}
}
