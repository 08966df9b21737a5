package web

import (
	"html/template"
	"net/http"
	"slices"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/kb"
)

// assemblyBody is what the page of an assembly shows.
type assemblyBody struct {
	A       *assembly.Assembly
	D       *assembly.Described
	At      string // address of the page
	Where   string
	Short   string
	Found   documentPart
	Layers  []layerCard
	Outer   string
	Inner   string
	Picture template.HTML
	Whole   documentPart
	Facing  []string
	Rain    []string
	Air     []string
	Framing []option
	Sides   []string
	Was     []againField
	Edge    assembly.Edge
	Space   assembly.Space
	Vented  bool // attic, crawl space or vented roof: its openings can be described
	Grounds []string
	Airs    []string
}

// layerCard is one layer: what it is, what matters about it, and the form that
// changes it.
type layerCard struct {
	report.LayerPage
	Number  int
	D       *assembly.Layer
	Words   string // the material by name, for the form
	Dry     documentPart
	Body    documentPart
	Swap    string
	Fills   []fillField
	CoatIn  []coatField
	CoatOut []coatField
	First   bool
	Last    bool
	Was     []againField
}

// fillField and coatField are rows of the form of a layer.
type fillField struct{ Words, Thickness string }

type coatField struct{ Words, Count string }

// openAssembly finds the house and the assembly of a request.
func (s *Server) openAssembly(r *http.Request) (*houseFrame, *assembly.Assembly, error) {
	h, err := s.openHouse(r)
	if err != nil {
		return nil, nil, err
	}
	list, err := advisor.Choose(h.Of, r.PathValue("assembly"))
	if err != nil {
		return nil, nil, err
	}
	return h, list[0], nil
}

// assembly shows one assembly: what stands out, its layers with what can leave
// them, and forms to change it.
func (s *Server) assembly(r *http.Request) (*view, error) {
	h, a, err := s.openAssembly(r)
	if err != nil {
		return nil, err
	}
	result, err := s.analyzed(r.Context(), h, a)
	if err != nil {
		return nil, err
	}
	m := s.maker()
	body := assemblyBody{
		A: a, D: a.Described, At: h.at(a.Name), Where: m.Where(a), Short: m.InShort(result),
		Found: partOf(m.Findings(result), "f-", 0), Whole: partOf(m.Analysis([]report.Analysis{result}), "a-", 1),
		Outer: words(a.Between[0]), Inner: words(a.Between[1]),
		Facing: assembly.Faces("").Allowed(), Rain: assembly.Rain("").Allowed(), Air: assembly.AirSpace("").Allowed(),
		Framing: s.framings(), Sides: assembly.Side("").Allowed(), Was: wasAssembly(a.Described),
		Edge: edgeOf(a.Described), Space: spaceOf(a.Described), Vented: a.Kind == "roof" || a.Between[0] == "attic" || a.Between[0] == "crawl",
		Grounds: assembly.Ground("").Allowed(), Airs: assembly.SpaceAir("").Allowed(),
	}
	body.Picture = drawn(m.Section(result.Result, report.Overlay{Chokes: true}).SVG("section"))
	for _, l := range m.LayerPages(result.Result) {
		body.Layers = append(body.Layers, s.layerCard(h, a, l, len(body.Layers)))
	}
	if n := len(body.Layers); n > 0 {
		body.Layers[0].First, body.Layers[n-1].Last = true, true
	}
	return &view{
		Page: "assembly", Title: capital(a.Name) + ", " + h.House.House, House: h, Body: body,
		Trail: h.trail(link{h.at(a.Name), a.Name}), Command: []string{s.command("analyze", h.Path, "--assembly", a.Name)},
	}, nil
}

// framings lists what framing may be made of.
func (s *Server) framings() []option {
	var list []option
	for _, m := range s.Base.Materials {
		if m.Form == kb.Framing && slices.Contains(m.Terms, "framing") {
			list = append(list, option{m.ID, m.Name})
		}
	}
	return list
}

// layerCard makes the card of a layer.
func (s *Server) layerCard(h *houseFrame, a *assembly.Assembly, l report.LayerPage, number int) layerCard {
	d := &a.Described.Layers[l.Layer]
	c := layerCard{LayerPage: l, Number: number + 1, D: d, Words: s.choiceWords(d.Material), Swap: h.at(a.Name) + "swap" + query("layer", l.Name)}
	c.Dry, c.Body = partOf(l.Dries, "w"+itoa(number)+"-", 1), partOf(l.Page, "l"+itoa(number)+"-", 1)
	for _, f := range d.Fill {
		c.Fills = append(c.Fills, fillField{s.choiceWords(f.Material), f.Thickness.Value})
	}
	if d.Framing != nil {
		c.Fills = append(c.Fills, fillField{})
	}
	if d.Cavity.IsZero() && d.Framing == nil {
		c.CoatOut, c.CoatIn = s.coatFields(d, true), s.coatFields(d, false)
	}
	c.Was = c.was()
	return c
}

// coatFields gives the coats of a face as rows of a form, and one free row.
func (s *Server) coatFields(d *assembly.Layer, out bool) []coatField {
	var list []coatField
	if d.Coats != nil {
		runs := d.Coats.In
		if out {
			runs = d.Coats.Out
		}
		for _, run := range runs {
			count := run.Count.Value
			if count == "" {
				count = "1"
			}
			list = append(list, coatField{s.choiceWords(run.Coating), count})
		}
	}
	return append(list, coatField{})
}
