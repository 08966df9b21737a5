package report

import (
	"fmt"
	"math"

	"relath/advisor/analysis"
	"relath/advisor/drawing"
	"relath/kb/quantity"
)

// january shows temperature and vapor pressure through an assembly in January:
// the profile of the dew-point method, of the best case.
func (p *page) january(r *analysis.Result) {
	s := p.newCutting(r, Overlay{Title: "January", January: true})
	if s.course == nil {
		return
	}
	p.add(Block{Figure: &Figure{
		Caption: "January, mean of the month: temperature and vapor pressure through the fill, best values",
		Key: "Where the vapor pressure lies above saturation, water would condense before the rest evens out. " +
			"Both are computed at the planes between layers; within a layer saturation lies below the straight line.",
		Picture: s.picture, Table: s.course.table(p),
	}})
}

// course is the state of January from the first drawn side to the last: of the
// air, of every plane, and of the air again.
type course struct {
	names                      []string
	at                         []float64 // on the section, mm from its first face
	temperature, vapor, satura []float64 // °C, Pa; saturation is NaN in air
}

// courseOf gathers the state of January, nil where the monthly method is silent.
func (s *cutting) courseOf() *course {
	d := &s.of.Variants[0].Detail
	month := &d.Months[0]
	n := len(month.Temperature)
	if d.Input == nil || n < 2 || len(d.Ways)+2 != n || len(month.Saturation) != n || len(month.VaporPressure) != n {
		return nil
	}
	const air = 4.0
	c := &course{}
	in := &d.Input.Months[0]
	first, last := airWord(s.of.Assembly.Between[0]), airWord(s.of.Assembly.Between[1])
	c.add("air, "+first, -air, in.OutdoorT, in.OutdoorP, math.NaN())
	for k := range n {
		i := n - 1 - k // package steady numbers planes from the inside
		c.add(s.planeName(d, k), s.planeAt(d, k), month.Temperature[i], month.VaporPressure[i], month.Saturation[i])
	}
	c.add("air, "+last, s.thickness()+air, in.IndoorT, in.IndoorP, math.NaN())
	if s.turned {
		for i, at := range c.at {
			c.at[i] = s.thickness() - at
		}
	}
	return c
}

func (c *course) add(name string, at, temperature, vapor, saturation float64) {
	c.names, c.at = append(c.names, name), append(c.at, at)
	c.temperature, c.vapor, c.satura = append(c.temperature, temperature), append(c.vapor, vapor), append(c.satura, saturation)
}

// planeName says between which layers a plane lies, counted from the first side.
func (s *cutting) planeName(d *analysis.Detail, k int) string {
	layers := s.of.Variants[0].Layers
	switch k {
	case 0:
		return layers[0].Part.Name + ", outer face"
	case len(d.Ways) + 1:
		return layers[len(layers)-1].Part.Name + ", inner face"
	}
	w := d.Ways[k-1]
	if w.Outer == w.Inner {
		return "within " + layers[w.Outer].Part.Name
	}
	return layers[w.Outer].Part.Name + " and " + layers[w.Inner].Part.Name
}

// planeAt gives the distance of a plane from the face of the first side.
func (s *cutting) planeAt(d *analysis.Detail, k int) float64 {
	switch k {
	case 0:
		return 0
	case len(d.Ways) + 1:
		return s.thickness()
	}
	w := d.Ways[k-1]
	from, to := s.reach(w.Outer)
	if w.Outer != w.Inner {
		return to
	}
	for i := 1; i < k; i++ { // fills of one layer, each a plane further
		if before := d.Ways[i-1]; before.Outer == w.Outer && before.Inner == w.Inner {
			from += s.fillDepth(w.Outer, i-s.firstWay(d, w.Outer)-1)
		}
	}
	return from + s.fillDepth(w.Outer, k-s.firstWay(d, w.Outer)-1)
}

// firstWay counts the planes in front of the first one within a layer.
func (s *cutting) firstWay(d *analysis.Detail, part int) int {
	for i, w := range d.Ways {
		if w.Outer == part && w.Inner == part {
			return i
		}
	}
	return 0
}

// fillDepth gives the depth on the sheet of a fill of a layer.
func (s *cutting) fillDepth(part, fill int) float64 {
	if fills := s.of.Variants[0].Layers[part].Part.Fills; fill >= 0 && fill < len(fills) {
		return s.drawn(fills[fill].Depth)
	}
	return 0
}

// reach gives where a layer with its coats begins and ends, from the face of the
// first side.
func (s *cutting) reach(part int) (from, to float64) {
	layer := s.of.Variants[0].Layers[part].Part.Layer
	from, to = math.Inf(1), math.Inf(-1)
	for _, x := range s.strips {
		if s.layers[x.layer].part.Layer == layer {
			from, to = min(from, x.from), max(to, x.to)
		}
	}
	if s.turned {
		return s.thickness() - to, s.thickness() - from
	}
	return from, to
}

// table says the course in numbers.
func (c *course) table(p *page) *Table {
	t := &Table{
		Heads: []string{"Plane", "Temperature", "Vapor pressure", "Saturation", "Humidity"},
		Right: []int{1, 2, 3, 4}, Notes: tidy([]int{p.model("steady-monthly")}),
		Caption: "From the first side to the second",
	}
	for i, name := range c.names {
		saturation, humidity := "–", "–"
		if !math.IsNaN(c.satura[i]) {
			saturation = quantity.Format(c.satura[i], quantity.Pressure, p.Units)
			humidity = fmt.Sprintf("%.0f %%", 100*c.vapor[i]/c.satura[i])
		}
		t.Rows = append(t.Rows, []Text{
			say(capital(name)), say(quantity.Format(c.temperature[i], quantity.Temperature, p.Units)),
			say(quantity.Format(c.vapor[i], quantity.Pressure, p.Units)), say(saturation), say(humidity),
		})
	}
	return t
}

// panel is a small chart beside a section that shares its thickness.
type panel struct {
	*cutting
	from, to float64 // of the values
	at, end  float64 // on the sheet
}

// place gives the place of a value at a depth of the section.
func (q panel) place(depth, v float64) drawing.Point {
	w := q.at + (q.end-q.at)*(v-q.from)/(q.to-q.from)
	if q.upright {
		return drawing.At(q.frame.X0+depth, w)
	}
	return drawing.At(w, q.frame.Y0+depth)
}
