package web

import (
	"context"
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// houseFrame is what pages of a house know of it.
type houseFrame struct {
	File   string // name of its file
	Path   string // as typed at the terminal
	Base   string // beginning of the addresses of its pages
	Hash   string // of its text
	Loses  bool   // the first change loses comments or layout
	Back   string // where to go after an edit
	State  state
	House  *assembly.House
	Of     *assembly.Resolved
	Change string // address for edits
}

// openHouse reads a house as it is now.
func (s *Server) openHouse(r *http.Request) (*houseFrame, error) {
	file := r.PathValue("house")
	text, err := s.folder.read(file)
	if err != nil {
		return nil, err
	}
	h := &houseFrame{
		File: file, Path: s.folder.path(file), Base: houseBase(file), Hash: hashOf(text), State: s.shelf.state(file),
		Loses: losesLayout(file, text), Change: houseBase(file) + "/edit", Back: r.URL.RequestURI(),
	}
	h.Of, err = s.load(r.Context(), file, text)
	if err != nil {
		return h, err
	}
	h.House = h.Of.House
	return h, nil
}

// load ties a description to the base; equal texts are tied once.
func (s *Server) load(ctx context.Context, file string, text []byte) (*assembly.Resolved, error) {
	return s.houses.get(ctx, file+" "+hashOf(text), func() (*assembly.Resolved, error) { return advisor.Load(s.Base, file, text) })
}

// houseBase gives the beginning of the addresses of a house.
func houseBase(file string) string { return "/house/" + url.PathEscape(file) }

// at gives the address of an assembly.
func (h *houseFrame) at(name string) string { return h.Base + "/" + url.PathEscape(name) + "/" }

// At is at for templates.
func (h *houseFrame) At(name string) string { return h.at(name) }

// trail gives the way back from a page of a house.
func (h *houseFrame) trail(more ...link) []link {
	name := h.File
	if h.House != nil {
		name = h.House.House
	}
	return append([]link{{"/", "Start"}, {h.Base, name}}, more...)
}

// analyzed gives the analysis of an assembly of a house.
func (s *Server) analyzed(ctx context.Context, h *houseFrame, a *assembly.Assembly) (report.Analysis, error) {
	return s.analyses.get(ctx, fmt.Sprintf("%s %s %d", h.File, h.Hash, a.Index), func() (report.Analysis, error) {
		var out report.Analysis
		err := s.work.do(s.life, func() error {
			list, err := advisor.Analyze(s.life, s.tester(), []*assembly.Assembly{a})
			if err == nil {
				out = list[0]
			}
			return err
		})
		return out, err
	})
}

// houseBody is what the page of a house shows.
type houseBody struct {
	Assemblies []housePart
	Whole      *documentPart
	Starters   []*kb.Starter
	Blank      []option
	About      []option
	Place      string
	Editions   []string
	Indoor     []indoorChoice
	OwnHeating bool
	OwnCooling bool
	Was        []againField
	Problems   []string
	Text       string
}

// housePart is one assembly on the page of its house.
type housePart struct {
	Name, Kind, Short, At string
}

// documentPart is a document on a page that has a title of its own.
type documentPart struct {
	Body, Foot template.HTML
}

// partOf cuts a document for a page; package report escapes every word.
func partOf(d *report.Document, prefix string, below int) documentPart {
	body, foot := d.Part(prefix, below)
	return documentPart{template.HTML(body), template.HTML(foot)}
}

// drawn is a picture on a page; package drawing escapes every word.
func drawn(svg string) template.HTML { return template.HTML(svg) }

// house shows a house: what it is, its assemblies, and the whole of it.
func (s *Server) house(r *http.Request) (*view, error) {
	h, err := s.openHouse(r)
	var problems strict.Problems
	if errors.As(err, &problems) {
		return s.brokenHouse(h, problems)
	}
	if err != nil {
		return nil, err
	}
	body := s.houseAbout(h)
	var list []report.Analysis
	for _, a := range h.Of.Assemblies {
		one, err := s.analyzed(r.Context(), h, a)
		if err != nil {
			return nil, err
		}
		list = append(list, one)
		body.Assemblies = append(body.Assemblies, housePart{a.Name, words(a.Kind), s.maker().InShort(one), h.at(a.Name)})
	}
	if body.Whole, err = s.whole(h, list); err != nil {
		return nil, err
	}
	return &view{
		Page: "house", Title: h.House.House, House: h, Body: body, Trail: h.trail(),
		Command: []string{s.command("analyze", h.Path)},
	}, nil
}

// whole makes the part about the house as a whole, nil where there is none.
func (s *Server) whole(h *houseFrame, list []report.Analysis) (*documentPart, error) {
	if !advisor.ManyParts(h.Of) {
		return nil, nil
	}
	var part documentPart
	err := s.work.do(s.life, func() error {
		result, err := advisor.House(s.life, s.tester(), h.Of, list, advisor.Hourly{})
		if err == nil {
			part = partOf(s.maker().HouseWhole(h.Of, result), "w-", 1)
		}
		return err
	})
	return &part, err
}

// brokenHouse shows what is wrong with a description, and its text.
func (s *Server) brokenHouse(h *houseFrame, problems strict.Problems) (*view, error) {
	text, err := s.folder.read(h.File)
	if err != nil {
		return nil, err
	}
	body := houseBody{Text: string(text)}
	for _, p := range problems {
		body.Problems = append(body.Problems, p.String())
	}
	return &view{
		Status: http.StatusUnprocessableEntity, Page: "text", Title: h.File, House: h, Body: body, Trail: h.trail(),
		Command: []string{s.command("check", h.Path)},
	}, nil
}

// text shows the description as a file, to be read or changed.
func (s *Server) text(r *http.Request) (*view, error) {
	h, err := s.openHouse(r)
	var problems strict.Problems
	if errors.As(err, &problems) {
		return s.brokenHouse(h, problems)
	}
	if err != nil {
		return nil, err
	}
	text, err := s.folder.read(h.File)
	if err != nil {
		return nil, err
	}
	return &view{
		Page: "text", Title: "The description of " + h.House.House, House: h, Body: houseBody{Text: string(text)},
		Trail: h.trail(), Command: []string{s.command("check", h.Path)},
	}, nil
}

// file gives the description as a file.
func (s *Server) file(r *http.Request) (*view, error) {
	name := r.PathValue("house")
	text, err := s.folder.read(name)
	if err != nil {
		return nil, err
	}
	return &view{File: &download{name, "application/yaml", text}}, nil
}

// command gives a command line that repeats a page at the terminal.
func (s *Server) command(verb string, args ...string) string {
	words := []string{"relath", verb}
	for _, a := range args {
		words = append(words, shellWord(a))
	}
	if s.Overlay != "" {
		words = append(words, "--base", shellWord(s.Overlay))
	}
	if s.Units != 0 {
		words = append(words, "--si")
	}
	return strings.Join(words, " ")
}

// shellWord quotes a word where a shell would take it for more than a word.
func shellWord(s string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-_./:=,+@%", r)
	}
	if s != "" && strings.IndexFunc(s, func(r rune) bool { return !plain(r) }) < 0 {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}

// words writes a word of the description as people say it.
func words[T ~string](s T) string { return strings.ReplaceAll(string(s), "-", " ") }

// houseAbout is what the page of a house says of place, code and room air, with
// the choices of its form.
func (s *Server) houseAbout(h *houseFrame) houseBody {
	body := houseBody{
		Starters: s.starters, Blank: blanks(), Editions: assembly.Edition("").Allowed(),
		Place: placeWords(h.Of.Place), Indoor: s.indoorChoices(h.House), OwnHeating: true, OwnCooling: true,
	}
	for _, c := range body.Indoor {
		if c.Chosen && c.Season == "heating" {
			body.OwnHeating = false
		}
		if c.Chosen && c.Season == "cooling" {
			body.OwnCooling = false
		}
	}
	body.Was = body.wasAbout(h.House)
	say := func(what, value string) { body.About = append(body.About, option{what, value}) }
	say("Place", body.Place)
	code := h.Of.Edition
	if code == "" {
		code = "adopted code not given"
	}
	if h.Of.Zone != "" {
		code += ", climate zone " + h.Of.Zone
	}
	if !h.Of.Confirmed {
		code += " (not confirmed with the building department)"
	}
	say("Code", code)
	tightness := h.Of.Tightness
	if tested := h.House.Air.Tightness.Value; tested != "" && tested != tightness {
		tightness += ", tested at " + tested
	}
	say("Air tightness", tightness)
	say("Room air in winter", s.airWords(&h.Of.Heating))
	say("Room air in summer", s.airWords(h.Of.Cooling))
	return body
}

// airWords writes the air of a season.
func (s *Server) airWords(a *assembly.RoomState) string {
	if a == nil {
		return "no air conditioning"
	}
	text := quantity.Format(a.Temperature, quantity.Temperature, s.Units) + ", " + quantity.Format(a.Humidity, quantity.Ratio, s.Units) + " humidity"
	if a.SupplyAir != 0 {
		text += ", supply air " + quantity.Format(a.SupplyAir, quantity.Temperature, s.Units)
	}
	return text
}
