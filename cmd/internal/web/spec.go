package web

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strings"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
)

// specBody is what the page of a spec sheet shows.
type specBody struct {
	At    string
	Sub   string
	Doc   documentPart
	Plain bool // what is described, without a swap
	Files []link
}

// sheetFormats are the files of a sheet, those that spec -o writes.
func sheetFormats() []struct{ ending, words, kind string } {
	return []struct{ ending, words, kind string }{
		{"pdf", "for paper", "application/pdf"},
		{"html", "a page that stands alone, to print or send", "text/html; charset=utf-8"},
		{"md", "text with marks, for other programs", "text/markdown; charset=utf-8"},
		{"txt", "plain text", "text/plain; charset=utf-8"},
		{"json", "every number, for scripts", "application/json"},
		{"yaml", "the house with this plan, as a description", "application/yaml"},
	}
}

// spec shows the spec sheet of a plan, or of the assembly as it is.
func (s *Server) spec(r *http.Request) (*view, error) {
	h, a, err := s.openAssembly(r)
	if err != nil {
		return nil, err
	}
	id := planOf(r)
	papers, err := s.papers(r.Context(), h, a, id)
	if err != nil {
		return nil, err
	}
	doc := s.maker().Spec(papers)
	body := specBody{At: h.at(a.Name), Sub: doc.Sub, Plain: id == advisor.AsDescribed, Doc: partOf(doc, "", 0)}
	for _, f := range sheetFormats() {
		body.Files = append(body.Files, link{h.at(a.Name) + "spec/sheet." + f.ending + query("plan", id), capital(f.words) + " (" + f.ending + ")"})
	}
	return &view{
		Page: "spec", Title: doc.Title, House: h, Body: body, Trail: h.trail(link{h.at(a.Name), a.Name}),
		Command: []string{s.command("spec", h.Path, "--assembly", a.Name, "--plan", id, "-o", "sheet.html")},
	}, nil
}

// papers gathers what a spec sheet of an assembly is made of.
func (s *Server) papers(ctx context.Context, h *houseFrame, a *assembly.Assembly, id string) (report.Spec, error) {
	return s.specs.get(ctx, fmt.Sprintf("%s %s %d %s", h.File, h.Hash, a.Index, id), func() (report.Spec, error) {
		var out report.Spec
		err := s.work.do(s.life, func() (err error) {
			out, err = advisor.Spec(s.life, s.tester(), a.House, advisor.Choice{Assembly: a.Name, Plans: []string{id}}, advisor.Wishes{})
			return err
		})
		return out, err
	})
}

// planOf is the plan that a request names; the assembly as it is without one.
func planOf(r *http.Request) string {
	if id := r.URL.Query().Get("plan"); id != "" {
		return id
	}
	return advisor.AsDescribed
}

// specFile gives a spec sheet as a file.
func (s *Server) specFile(r *http.Request) (*view, error) {
	h, a, err := s.openAssembly(r)
	if err != nil {
		return nil, err
	}
	ending, ok := strings.CutPrefix(r.PathValue("file"), "sheet.")
	if !ok {
		return nil, errNoPage
	}
	papers, err := s.papers(r.Context(), h, a, planOf(r))
	if err != nil {
		return nil, err
	}
	for _, f := range sheetFormats() {
		if f.ending != ending {
			continue
		}
		data, err := s.sheet(papers, ending)
		if err != nil {
			return nil, &internalError{what: err.Error()}
		}
		name := fmt.Sprintf("%s-%s.%s", strings.TrimSuffix(fileName(h.House.House), ".yaml"), strings.TrimSuffix(fileName(a.Name), ".yaml"), ending)
		return &view{File: &download{name, f.kind, data}}, nil
	}
	return nil, errNoPage
}

// sheet writes a spec sheet in a format.
func (s *Server) sheet(papers report.Spec, ending string) ([]byte, error) {
	m, out := s.maker(), &bytes.Buffer{}
	doc := m.Spec(papers)
	var err error
	switch ending {
	case "pdf":
		err = doc.PDF(out, report.Letter)
	case "html":
		err = doc.HTML(out)
	case "md":
		err = doc.Markdown(out)
	case "txt":
		err = doc.Text(out)
	case "yaml":
		var text []byte
		text, err = assembly.Write(papers.House.House)
		out.Write(text)
	case "json":
		var data report.SpecData
		if data, err = m.SpecData(papers); err == nil {
			err = report.Answer{Kind: "spec", Base: s.Base.Version, Data: data, Document: doc}.JSON(out)
		}
	}
	return out.Bytes(), err
}
