package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/drawing"
	"relath/kb/quantity"
)

// Overlay says what a section shows besides its layers.
type Overlay struct {
	Title   string                                               // after the name of the assembly; empty for none
	Chokes  bool                                                 // marks the choke layers
	Beside  []*analysis.Result                                   // drawn to a scale that these fit too
	January bool                                                 // temperature and vapor pressure through the layers
	Layer   func(part int) LayerTag                              // nil: nothing is said of single layers
	Small   func(part *assembly.Part) (name string, stress bool) // not nil: a drawing of a few lines, each layer with this name alone
}

// LayerTag is what a section says of one layer besides what it is.
type LayerTag struct {
	Shade drawing.Ink // behind the layer; empty for none
	Words string      // under the name of the layer
}

// cutaway shows an assembly cut through; its layers stand in words right below.
func (p *page) cutaway(r *analysis.Result) {
	p.add(Block{Figure: &Figure{
		Caption: "Section, to scale, with the choke layers",
		Picture: p.Section(r, Overlay{Chokes: true}),
	}})
}

// cutaways shows several assemblies cut through, all to one scale.
func (p *page) cutaways(names []string, list []*analysis.Result) {
	for i, r := range list {
		s := p.newCutting(r, Overlay{Title: names[i], Chokes: true, Beside: list})
		p.add(Block{Figure: &Figure{Caption: "Section, " + names[i], Picture: s.picture, Table: s.table()}})
	}
}

// planCuts shows an assembly before and after a plan; the layers of the latter
// stand in words right below.
func (p *page) planCuts(x *Plan) {
	if len(x.Steps) == 0 {
		p.cutaway(x.After)
		return
	}
	both := []*analysis.Result{x.Before, x.After}
	before := p.newCutting(x.Before, Overlay{Title: "before", Chokes: true, Beside: both})
	p.add(Block{Figure: &Figure{Caption: "Before: section, to scale, with the choke layers", Picture: before.picture, Table: before.table()}})
	p.add(Block{Figure: &Figure{
		Caption: "After: section, to the same scale",
		Picture: p.Section(x.After, Overlay{Title: "after", Chokes: true, Beside: both}),
	}})
}

// table says in words what a section shows.
func (s *cutting) table() *Table {
	first, last := s.sides()
	t := &Table{Caption: fmt.Sprintf("From the %s to the %s", first, last), Heads: []string{"Layer", "What it is"}}
	for _, l := range s.layers {
		t.Rows = append(t.Rows, []Text{say(s.layerHead(l.part)), say(strings.Join(l.words(), "; "))})
	}
	return t
}

// words gives what stands under the name of a layer.
func (l *cutLayer) words() []string {
	var list []string
	for _, r := range l.body {
		list = append(list, r.text)
	}
	return list
}

// Section draws an assembly cut through, to scale, every layer with its name.
// Walls are seen from above with the outside at the left, walls against ground
// from the side, all others from the side with the top up. A layer that may be
// missing has dashed edges.
func (m Maker) Section(r *analysis.Result, over Overlay) *drawing.Picture {
	return m.newCutting(r, over).picture
}

func (m Maker) newCutting(r *analysis.Result, over Overlay) *cutting {
	s := &cutting{page: m.page("", ""), of: r, over: over, ruler: drawing.NewRuler()}
	s.begin()
	for _, other := range over.Beside {
		o := &cutting{page: s.page, of: other, over: over, ruler: s.ruler}
		if o.begin(); o.scale.of > s.scale.of {
			s.scale = o.scale
		}
	}
	s.lay()
	if over.January {
		s.course = s.courseOf()
	}
	s.compose()
	return s
}

// begin gathers what is drawn and chooses its scale.
func (s *cutting) begin() {
	s.orient()
	s.collect()
	s.measure()
}

// cutting is the drawing of a section while it is made.
type cutting struct {
	*page
	of      *analysis.Result
	over    Overlay
	ruler   *drawing.Ruler
	picture *drawing.Picture

	upright bool // the layers stand: a wall
	turned  bool // the first side is drawn last: a floor, whose first side lies below
	grade   bool // a wall that stands in the ground
	fill    bool // cut through the fill, between the framing

	course *course // of January; nil without

	scale  scale
	layers []cutLayer
	strips []strip
	frame  drawing.Box // of all layers
	first  float64     // middle of the first framing member along the layers, mm on the sheet
}

// cutLayer is one described layer.
type cutLayer struct {
	part   *assembly.Part
	at     int // in the first variant, -1 when it is not there
	maybe  bool
	head   string   // name and thickness
	body   []remark // lines under it
	choke  bool
	stress bool // its name stands out
	tag    LayerTag
	label  drawing.Box
	title  string // head and body broken to the column of labels
	lines  []remark
}

// remark is one line about a layer; with a mark it has the wedge of the choke
// layers before it.
type remark struct {
	text string
	mark bool
}

// orient finds out how the assembly lies.
func (s *cutting) orient() {
	a := s.of.Assembly
	s.fill = s.over.January
	switch a.Kind {
	case "wall", "partition":
		s.upright = true
	case "basement-wall":
		s.upright, s.grade, s.fill = true, a.BelowGrade > 0, true
	case "floor", "slab":
		// Described from below, unless its second side is the lower one.
		s.turned = !below(a.Between[1]) || below(a.Between[0])
	}
}

func below(s assembly.Side) bool { return s == "ground" || s == "crawl" || s == "garage" }

// collect gathers the layers in the order in which they are drawn.
func (s *cutting) collect() {
	for _, part := range partsOf(s.of) {
		l := cutLayer{part: part, at: -1, maybe: slices.Contains(choicesOf(s.of, part), "nothing")}
		for i, x := range s.of.Variants[0].Layers {
			if x.Part.Layer == part.Layer {
				l.at = i
			}
		}
		if s.over.Layer != nil && l.at >= 0 {
			l.tag = s.over.Layer(l.at)
		}
		l.head = s.layerHead(part)
		switch {
		case s.over.Small != nil:
			l.head, l.stress = s.over.Small(part)
		case !s.over.January:
			l.body = s.layerBody(l)
		}
		l.choke = slices.ContainsFunc(l.body, func(r remark) bool { return r.mark })
		s.layers = append(s.layers, l)
	}
	if s.turned {
		slices.Reverse(s.layers)
	}
}

// layerHead names a layer with its thickness.
func (s *cutting) layerHead(part *assembly.Part) string {
	if part.Depth == 0 {
		return capital(part.Name)
	}
	return capital(part.Name) + ", " + quantity.Format(part.Depth, quantity.Length, s.Units)
}

// layerBody says what a layer is made of, each kind of thing on a line of its
// own.
func (s *cutting) layerBody(l cutLayer) []remark {
	body := []remark{{text: capital(s.substance(l.part))}}
	for _, coats := range s.coatChoices(l.part) {
		body = append(body, remark{text: coats})
	}
	if l.part.State != s.of.Assembly.State && l.part.State != "" {
		body = append(body, remark{text: string(l.part.State)})
	}
	if s.over.Chokes && l.at >= 0 {
		body = append(body, s.chokeWords(l.at)...)
	}
	if l.tag.Words != "" {
		body = append(body, remark{text: l.tag.Words})
	}
	return body
}

// substance says what a layer is made of over all variants.
func (s *cutting) substance(part *assembly.Part) string {
	var words []string
	for _, p := range s.everyPart(part.Layer) {
		switch {
		case p == nil:
			words = append(words, "nothing")
		case p.Framed:
			words = append(words, fillWords(p))
		default:
			words = append(words, lower(madeOf(p)))
		}
	}
	text := join(unique(words), "or")
	if part.Framed {
		text += " between " + lower(part.Material.Name) + ", " + quantity.Format(part.Spacing, quantity.Length, s.Units) + " on center"
	}
	return text
}

// everyPart lists a described layer in every variant, nil where it is missing.
func (s *cutting) everyPart(layer int) []*assembly.Part {
	var list []*assembly.Part
	for _, v := range s.of.Variants {
		var found *assembly.Part
		for i := range v.Layers {
			if v.Layers[i].Part.Layer == layer {
				found = v.Layers[i].Part
			}
		}
		list = append(list, found)
	}
	return list
}

// fillWords names what fills a bay.
func fillWords(part *assembly.Part) string {
	var fills []string
	for _, f := range part.Fills {
		if f.Material == nil {
			fills = append(fills, "air")
			continue
		}
		fills = append(fills, lower(f.Material.Name))
	}
	return join(fills, "and")
}

// chokeWords says on which ways a layer is the choke layer, with its share.
func (s *cutting) chokeWords(at int) []remark {
	facts := s.of.Variants[0].Layers[at].Facts
	var words []remark
	for _, way := range []string{"outward", "inward"} {
		if slices.Contains(facts["choke"].Words, way) {
			words = append(words, remark{
				text: fmt.Sprintf("choke layer %s, %s of the vapor resistance", way, s.value(facts["share-"+way].Range, quantity.Ratio)),
				mark: true,
			})
		}
	}
	return words
}

// sides names what lies before the first and behind the last drawn layer.
func (s *cutting) sides() (string, string) {
	a, b := s.of.Assembly.Between[0], s.of.Assembly.Between[1]
	if s.turned {
		a, b = b, a
	}
	if s.grade {
		return "outside", airWord(b)
	}
	return airWord(a), airWord(b)
}

// airWord names a side as it is written on a drawing.
func airWord(s assembly.Side) string {
	switch s {
	case "outdoors":
		return "outside"
	case "room":
		return "inside"
	case "crawl":
		return "crawl space"
	}
	return strings.ReplaceAll(string(s), "-", " ")
}
