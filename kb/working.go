package kb

import (
	"cmp"
	"math"
	"slices"

	"relath/kb/quantity"
)

// The methods that Working understands besides those written in the data.
const (
	AnyMethod = ""        // whatever is best known; a curve, where evidence is equal
	DryCup    = "dry-cup" // 0 and 50 % relative humidity on the two sides (ASTM E96, desiccant method)
	WetCup    = "wet-cup" // 50 and 100 % relative humidity (ASTM E96, water method)
	AsCurve   = "curve"   // a curve against relative humidity, or nothing
)

// Working is the value of a property to compute with, and where it came from.
type Working struct {
	Property string
	SI       quantity.Range // low, best and high; of a curve the span and the middle of the span
	Curve    []Point        // rising humidity; empty where the property is one number
	Value    *Value         // the preferred value
	Formula  string         // how SI follows from Value; empty where it is taken as it stands
	Widened  []*Value       // of equal evidence and the same conditions: they widen the range
	Beside   []*Value       // the other values for the same question, to print beside it
	Evidence Evidence       // the mark of Value with its bounds; a formula inherits the mark of its input
	Doubt    bool           // the preferred value is of high doubt
}

// Point is a property at one relative humidity (0 to 1).
type Point struct {
	RH float64
	SI quantity.Range
}

// At gives the property at a relative humidity (0 to 1). A curve is linear
// between its points and constant beyond its ends.
func (w Working) At(rh float64) quantity.Range {
	if len(w.Curve) == 0 {
		return w.SI
	}
	return along(w.Curve, rh)
}

// Working gives the value of a property for a layer of this material with the
// thickness given in meters; 0 stands for the usual thickness. It is false
// where the base knows nothing that answers the question.
//
// The preferred value is the one that the entry's choose names; without, the
// one of strongest evidence (high doubt last), then of the nearest conditions:
// test method, thickness, density, temperature. The working range is the range
// of the preferred value; only values of equal evidence and the same conditions
// widen it. Where the property itself is not given it is converted from another
// one (see conversions), with the formula named.
//
// Method is one of the constants above, or a method as the data write it. A
// curve answers dry-cup and wet-cup with its mean over the humidities of the
// cup. An unspecified method answers every question, the opposite cup none.
func (m *Material) Working(property, method string, thickness float64) (Working, bool) {
	if thickness == 0 {
		thickness = m.Thickness.UsualSI
	}
	q := question{property: property, method: method, thickness: thickness, homogeneous: m.Form.homogeneous()}
	if density, ok := m.Density(); ok && property != "density" {
		q.density = density.Best
	}
	return q.answer(m.Values, m.Choose)
}

// Density gives the working density in kg/m³.
func (m *Material) Density() (quantity.Range, bool) {
	q := question{property: "density", homogeneous: false}
	w, ok := q.answer(m.Values, m.Choose)
	return w.SI, ok
}

// Working gives the value of a property of the whole measured system; see
// [Material.Working]. Nothing is scaled by thickness.
func (s *System) Working(property, method string) (Working, bool) {
	q := question{property: property, method: method, thickness: s.ThicknessSI}
	return q.answer(s.Values, s.Choose)
}

// homogeneous says whether permeance and resistance follow the thickness.
func (f Form) homogeneous() bool {
	switch f {
	case Board, Fill, Plaster, Masonry, Framing:
		return true
	}
	return false
}

// question is what is asked of the values of an entry.
type question struct {
	property    string
	method      string
	thickness   float64 // m, 0 when unknown
	density     float64 // kg/m³, 0 when unknown
	homogeneous bool
}

// candidate is a value that answers a question, with what its rank depends on.
type candidate struct {
	value   *Value
	si      quantity.Range
	curve   []Point
	formula string
	chosen  bool
	forCup  bool // chosen for the very method that is asked for
	refused bool // the entry chose another value of the same property
	steps   int  // conversions
	method  int  // distance of the test method
	far     float64
}

// answer ranks the candidates and builds the working value from the first.
func (q question) answer(values []Value, choices []Choice) (Working, bool) {
	all := q.candidates(values, choices)
	if len(all) == 0 {
		return Working{}, false
	}
	slices.SortStableFunc(all, compareCandidates)
	first := all[0]
	w := Working{
		Property: q.property, SI: first.si, Curve: first.curve, Value: first.value, Formula: first.formula,
		Evidence: first.value.Mark(), Doubt: first.value.doubtful(),
	}
	for _, c := range all[1:] {
		if widens(first, c) {
			w.widen(c)
			w.Widened = append(w.Widened, c.value)
			continue
		}
		w.Beside = append(w.Beside, c.value)
	}
	return w, true
}

// compareCandidates puts the better candidate first.
func compareCandidates(a, b candidate) int {
	return cmp.Or(
		compareFlag(b.forCup, a.forCup),
		compareFlag(b.chosen, a.chosen),
		compareFlag(a.refused, b.refused),
		compareFlag(a.value.doubtful(), b.value.doubtful()),
		cmp.Compare(a.value.Evidence.Rank(), b.value.Evidence.Rank()),
		cmp.Compare(a.method, b.method),
		cmp.Compare(a.steps, b.steps),
		cmp.Compare(a.far, b.far),
	)
}

// compareFlag puts false before true.
func compareFlag(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

func (v *Value) doubtful() bool { return v.Doubt == "high" }

// candidates lists every value that answers the question, directly or by one
// conversion.
func (q question) candidates(values []Value, choices []Choice) []candidate {
	var all []candidate
	converts := convertible(q.property)
	for i := range values {
		v := &values[i]
		if v.Withdrawn != "" || v.Property != q.property && !converts {
			continue
		}
		distance, ok := q.methodDistance(v)
		if !ok {
			continue
		}
		c, ok := q.convert(v)
		if !ok {
			continue
		}
		c.method = distance
		c.far = q.distance(v)
		c.chosen, c.refused = q.chosen(v, values, choices)
		c.forCup = c.chosen && q.method != AnyMethod && slices.ContainsFunc(choices, func(o Choice) bool {
			return o.Method == q.method && o.picks(v)
		})
		all = append(all, q.cup(c))
	}
	return all
}

// chosen says whether the entry's choices pick the value for the question, and
// whether they pick another value of the same property instead. A choice that
// names a method speaks only about that method.
func (q question) chosen(v *Value, values []Value, choices []Choice) (picked, refused bool) {
	for i := range choices {
		c := &choices[i]
		switch {
		case c.Property != v.Property || c.Method != "" && c.Method != v.At.Method:
		case c.picks(v):
			return c.Property == q.property && (c.Method == "" || c.Method == q.method), false
		case slices.ContainsFunc(values, func(o Value) bool { return o.Withdrawn == "" && c.picks(&o) }):
			refused = true
		}
	}
	return false, refused
}

// picks says whether the choice names this value.
func (c *Choice) picks(v *Value) bool {
	return v.Property == c.Property && v.Source == c.Source &&
		(c.Method == "" || c.Method == v.At.Method) && (c.Locator == "" || c.Locator == v.Locator)
}

// methodDistance says how well the method of a value fits: 0 is the method
// asked for; false where the value does not answer the question.
func (q question) methodDistance(v *Value) (int, bool) {
	at := v.At.Method
	switch q.method {
	case AsCurve:
		return 0, v.Curve != nil
	case DryCup, WetCup:
		switch {
		case at == q.method:
			return 0, true
		case v.Curve != nil && at == "":
			return 1, true
		case unspecified(at):
			return 2, true
		}
		return 0, false
	case AnyMethod:
		switch {
		case v.Curve != nil:
			return 0, true
		case unspecified(at):
			return 1, true
		case at == DryCup:
			return 2, true
		}
		return 3, true
	}
	return 0, at == q.method
}

// unspecified says whether a source leaves the method open.
func unspecified(method string) bool {
	return method == "" || method == "unspecified" || method == "service"
}

// cup replaces a curve by its mean over the humidities of the cup asked for.
func (q question) cup(c candidate) candidate {
	if len(c.curve) == 0 || q.method != DryCup && q.method != WetCup {
		return c
	}
	from, to, words := 0.0, 0.5, "mean of the curve from 0 to 50 % relative humidity"
	if q.method == WetCup {
		from, to, words = 0.5, 1, "mean of the curve from 50 to 100 % relative humidity"
	}
	c.si, c.curve = mean(c.curve, from, to), nil
	if c.formula != "" {
		words = c.formula + "; " + words
	}
	c.formula = words
	return c
}

// standardTemperature is the mean test temperature of most thermal data, 24 °C in K.
const standardTemperature = 297.15

// distance sums how far the conditions of a value are from those asked for, as
// logarithms of ratios; a thickness that is not stated counts as a factor e.
func (q question) distance(v *Value) float64 {
	far := 0.0
	if q.thickness > 0 && isOfLayer(v.Property) {
		far++
		if v.At.ThicknessSI > 0 {
			far = math.Abs(math.Log(v.At.ThicknessSI / q.thickness))
		}
	}
	if q.density > 0 && v.At.DensitySI > 0 {
		far += math.Abs(math.Log(v.At.DensitySI / q.density))
	}
	if v.At.TemperatureSI > 0 {
		far += math.Abs(math.Log(v.At.TemperatureSI / standardTemperature))
	}
	return far
}

// widens says whether a value is of equal evidence and the same conditions as
// the preferred one.
func widens(first, c candidate) bool {
	a, b := first.value, c.value
	return a.Property == b.Property && a.Evidence == b.Evidence && a.doubtful() == b.doubtful() &&
		(len(first.curve) == 0) == (len(c.curve) == 0) && sameConditions(a.At, b.At)
}

// sameConditions compares the conditions of two values; thickness and density
// may differ by 2 %, the rounding of printed tables.
func sameConditions(a, b Conditions) bool {
	return a.Method == b.Method && a.Temperature.Value == b.Temperature.Value && a.Humidity.Value == b.Humidity.Value &&
		a.Coats == b.Coats && a.Direction == b.Direction && a.State == b.State &&
		sameSize(a.ThicknessSI, b.ThicknessSI) && sameSize(a.DensitySI, b.DensitySI)
}

func sameSize(a, b float64) bool { return math.Abs(a-b) <= 0.02*math.Max(a, b) }

// widen takes the bounds of another candidate into the range.
func (w *Working) widen(c candidate) {
	w.SI = w.SI.Union(c.si)
	if len(w.Curve) == 0 {
		return
	}
	wider := make([]Point, len(w.Curve))
	for i, p := range w.Curve {
		wider[i] = Point{RH: p.RH, SI: p.SI.Union(along(c.curve, p.RH))}
	}
	w.Curve = wider
}

// along interpolates a curve linearly.
func along(curve []Point, rh float64) quantity.Range {
	last := len(curve) - 1
	switch {
	case rh <= curve[0].RH:
		return curve[0].SI
	case rh >= curve[last].RH:
		return curve[last].SI
	}
	i := 1
	for curve[i].RH < rh {
		i++
	}
	a, b := curve[i-1], curve[i]
	return mix(a.SI, b.SI, (rh-a.RH)/(b.RH-a.RH))
}

// mix gives the range at the share t of the way from a to b.
func mix(a, b quantity.Range, t float64) quantity.Range {
	at := func(x, y float64) float64 { return x + (y-x)*t }
	return quantity.Range{Low: at(a.Low, b.Low), Best: at(a.Best, b.Best), High: at(a.High, b.High)}
}

// mean integrates the interpolated curve between two humidities, exactly.
func mean(curve []Point, from, to float64) quantity.Range {
	stops := []float64{from}
	for _, p := range curve {
		if p.RH > from && p.RH < to {
			stops = append(stops, p.RH)
		}
	}
	stops = append(stops, to)
	var sum quantity.Range
	for i := 1; i < len(stops); i++ {
		part := mix(along(curve, stops[i-1]), along(curve, stops[i]), 0.5).Scale(stops[i] - stops[i-1])
		sum.Low, sum.Best, sum.High = sum.Low+part.Low, sum.Best+part.Best, sum.High+part.High
	}
	return sum.Scale(1 / (to - from))
}
