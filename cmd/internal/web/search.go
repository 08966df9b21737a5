package web

import (
	"net/http"
	"strings"

	"relath/advisor/report"
	"relath/index"
	"relath/kb"
	"relath/kb/quantity"
)

// mostWords is the longest question.
const mostWords = 200

// searchBody is what the page of a search shows.
type searchBody struct {
	Asked    string
	Duty     string
	Over     string
	NoGlue   bool
	Duties   []option
	Readings []string
	Total    int
	Hits     []searchHit
	Done     bool
}

// searchHit is one entry that was found.
type searchHit struct{ At, Name, Kind, Summary, Value string }

// mostHits is how many hits a page shows.
const mostHits = 40

// asked reads a search, and gives its words at the terminal.
func (s *Server) asked(r *http.Request) (body searchBody, q index.Query, args []string, err error) {
	get := func(name string) string { return strings.TrimSpace(cut(r.URL.Query().Get(name))) }
	body = searchBody{Asked: get("q"), Duty: get("duty"), Over: get("over"), NoGlue: get("glue") == "none"}
	for _, d := range s.Base.Duties {
		body.Duties = append(body.Duties, option{d.ID, d.Title})
	}
	q, args = index.Query{Words: body.Asked, Limit: mostHits}, strings.Fields(body.Asked)
	if body.Duty != "" {
		q.Duty, args = []string{body.Duty}, append(args, "--duty", body.Duty)
	}
	if body.NoGlue {
		q.Adhesive, args = "none", append(args, "--adhesive", "none")
	}
	if body.Over != "" {
		text := ">= " + body.Over
		filter, err := index.ParseFilter(s.Base, "permeance", text)
		if err != nil {
			return body, q, nil, err
		}
		q.Filters, args = []index.Filter{filter}, append(args, "--permeance", text)
	}
	body.Done = len(args) > 0
	return body, q, args, nil
}

// hit words what was found.
func (s *Server) hit(h index.Hit) searchHit {
	hit := searchHit{At: "/show/" + h.ID, Name: h.Name, Kind: string(h.Kind), Summary: h.Summary}
	if h.Kind == index.Starter {
		hit.At = "/"
	}
	for _, c := range h.Checks {
		hit.Value = "Lets through " + quantity.FormatRange(c.Value.SI, quantity.Permeance, s.Units) + ", " + string(c.Outcome) + " as much as was asked."
	}
	return hit
}

// search finds entries of the base by words, by duty, by how much vapor they let
// through, and by glue.
func (s *Server) search(r *http.Request) (*view, error) {
	body, q, args, err := s.asked(r)
	if err != nil {
		return nil, err
	}
	v := &view{Page: "search", Title: "Find a material", Trail: []link{{"/", "Start"}}}
	if body.Done {
		found, err := s.Index.Search(q)
		if err != nil {
			return nil, err
		}
		body.Total = found.Total
		for _, h := range found.Hits {
			body.Hits = append(body.Hits, s.hit(h))
		}
		for _, x := range found.Read {
			body.Readings = append(body.Readings, "“"+x.Typed+"” was read as “"+x.Read+"”.")
		}
		if len(found.Ignored) > 0 {
			body.Readings = append(body.Readings, "Nothing in the base has: "+strings.Join(found.Ignored, ", ")+".")
		}
		if found.Instead != "" {
			name := found.Instead
			if m := s.Base.Material(name); m != nil {
				name = m.Name
			}
			body.Readings = append(body.Readings, "Read as: what to use instead of "+name+".")
		}
		v.Command = []string{s.command("search", args...)}
	}
	v.Body = body
	return v, nil
}

func cut(words string) string {
	if len(words) > mostWords {
		return strings.ToValidUTF8(words[:mostWords], "")
	}
	return words
}

// suggestion is one thing that fits what is typed.
type suggestion struct{ Value, Words string }

// suggest gives what fits the words that are typed into a field, as a part of a
// page.
func (s *Server) suggest(r *http.Request) (*view, error) {
	words := strings.TrimSpace(cut(r.URL.Query().Get("q")))
	var list []suggestion
	switch sort := r.PathValue("sort"); sort {
	case ofLayers, ofCoats, ofFinishes:
		found, err := s.materials(words, sort)
		if err != nil {
			return nil, err
		}
		for _, m := range found {
			list = append(list, suggestion{m.Name, m.Name})
		}
	case "place":
		for _, p := range s.places(words) {
			list = append(list, suggestion{placeWords(p), placeWords(p) + zoneWords(p)})
		}
	default:
		return nil, errNoPage
	}
	return &view{Page: "suggest", Part: true, Body: list}, nil
}

// show shows an entry of the base: a material with all its values, a measured
// system, a place, a rule, a source.
func (s *Server) show(r *http.Request) (*view, error) {
	id := r.PathValue("id")
	doc, coats := s.entry(id), r.URL.Query().Get("coats") != ""
	command := s.command("show", id)
	if m := s.Base.Material(id); m != nil && coats {
		if list := report.UsualCoats(s.Base, m); len(list) > 0 {
			doc, command = s.maker().Coats(m, list), s.command("show", id, "--coats")
		}
	}
	if doc == nil {
		return nil, errNoID
	}
	body := materialBody{Sub: doc.Sub, Doc: partOf(doc, "", 0)}
	if m := s.Base.Material(id); m != nil && !coats && len(report.UsualCoats(s.Base, m)) > 0 {
		body.Coats = "/show/" + id + "?coats=usual"
	}
	return &view{Page: "material", Title: doc.Title, Body: body, Trail: []link{{"/", "Start"}, {"/search", "Find a material"}}, Command: []string{command}}, nil
}

// materialBody is what the page of an entry shows.
type materialBody struct {
	Sub, Coats string
	Doc        documentPart
}

// entry makes the document of an entry, nil where there is none.
func (s *Server) entry(id string) *report.Document {
	m := s.maker()
	if mat := s.Base.Material(id); mat != nil {
		return m.Material(mat)
	}
	if system := s.Base.System(id); system != nil {
		return m.System(system)
	}
	if place := s.Base.Place(id); place != nil {
		return m.Places([]*kb.Place{place}, place.Name)
	}
	if doc, ok := m.Explain(id); ok {
		return doc
	}
	return nil
}
