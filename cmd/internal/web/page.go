package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"html/template"
	"log"
	"net/http"
	"net/url"
	"path"
	"strings"

	"relath/advisor"
	"relath/index"
	"relath/kb/strict"
)

// view is the answer to a request: a page, a place to go to, or a file.
type view struct {
	Status  int    // 0 for 200
	Page    string // name of the template
	Title   string
	Command []string // that repeat the page at the terminal
	Trail   []link   // the way back to the start
	House   *houseFrame
	Body    any
	Refresh int    // seconds after which a browser without scripts asks again, 0 for never
	Go      string // instead of a page: where to go
	Part    bool   // only the main part, for a script
	File    *download
}

// link is a step of the way back.
type link struct{ To, Words string }

// download is a file that a page gives.
type download struct {
	Name, Type string
	Data       []byte
}

// frame is what the template of every page gets.
type frame struct {
	*view
	Token string
	Dark  bool
}

// handler answers a request.
type handler func(*http.Request) (*view, error)

// page makes a handler of the web of one of ours.
func (s *Server) page(h handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		v, err := guarded(func() (*view, error) { return h(r) })
		if err != nil {
			if r.Context().Err() != nil {
				return // nobody waits for the answer
			}
			v = errorView(err)
		}
		s.send(w, r, v)
	})
}

// write is page for requests that write: they carry the token of their form.
func (s *Server) write(h handler) http.Handler {
	return s.page(func(r *http.Request) (*view, error) {
		if err := s.checkForm(r); err != nil {
			return nil, err
		}
		return h(r)
	})
}

// send writes an answer.
func (s *Server) send(w http.ResponseWriter, r *http.Request, v *view) {
	switch {
	case v.Go != "":
		http.Redirect(w, r, v.Go, http.StatusSeeOther)
		return
	case v.File != nil:
		w.Header().Set("Content-Type", v.File.Type)
		w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q; filename*=UTF-8''%s", plainName(v.File.Name), url.PathEscape(v.File.Name)))
		_, _ = w.Write(v.File.Data)
		return
	}
	var out bytes.Buffer
	name := "frame"
	if v.Part {
		name = "main"
	}
	if err := s.pages[v.Page].ExecuteTemplate(&out, name, frame{view: v, Token: s.token}); err != nil {
		log.Printf("page %s: %v", v.Page, err)
		http.Error(w, "the page could not be made", http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	if v.Status != 0 {
		w.WriteHeader(v.Status)
	}
	_, _ = w.Write(out.Bytes())
}

// plainName keeps the letters of a file name that every browser reads alike.
func plainName(name string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' || r == '"' || r == '\\' {
			return '-'
		}
		return r
	}, name)
}

// The errors of addresses.
var (
	errNoPage = errors.New("there is no such page")
	errNoID   = errors.New("nothing in the base has this name")
)

// problem is what the page of an error shows.
type problem struct {
	Words    string
	Problems []string // each with the place in the file
}

// errorView makes the page of an error.
func errorView(err error) *view {
	var problems strict.Problems
	var internal *internalError
	status := http.StatusUnprocessableEntity
	p := problem{Words: err.Error()}
	switch {
	case errors.As(err, &problems):
		p.Words = "The description cannot be read like this. Nothing was changed."
		for _, x := range problems {
			p.Problems = append(p.Problems, x.String())
		}
	case errors.As(err, &internal):
		log.Printf("%s\n%s", internal.what, internal.stack)
		status, p.Words = http.StatusInternalServerError, "a mistake of this program: "+internal.what
	case errors.Is(err, errNoPage), errors.Is(err, errNoHouse), errors.Is(err, errNoID), errors.As(err, new(*advisor.ChoiceError)):
		status = http.StatusNotFound
	case errors.Is(err, errToken):
		status = http.StatusForbidden
	case errors.Is(err, errForm):
		status = http.StatusBadRequest
	case errors.Is(err, errBusy), errors.Is(err, context.Canceled):
		status = http.StatusServiceUnavailable
	case errors.As(err, new(*index.InputError)):
		status = http.StatusBadRequest
	}
	return &view{Status: status, Page: "error", Title: "This did not work", Body: p, Trail: []link{{"/", "Start"}}}
}

// parsePages reads the templates: a frame, parts, and one file for each page.
func parsePages() (map[string]*template.Template, error) {
	shared, err := template.New("").Funcs(helpers()).ParseFS(files, "templates/frame.html", "templates/parts.html")
	if err != nil {
		return nil, err
	}
	list, err := files.ReadDir("templates")
	if err != nil {
		return nil, err
	}
	pages := make(map[string]*template.Template)
	for _, f := range list {
		name := strings.TrimSuffix(f.Name(), ".html")
		if name == "frame" || name == "parts" {
			continue
		}
		one, err := shared.Clone()
		if err != nil {
			return nil, err
		}
		if pages[name], err = one.ParseFS(files, path.Join("templates", f.Name())); err != nil {
			return nil, err
		}
	}
	return pages, nil
}

// helpers are what templates may call.
func helpers() template.FuncMap {
	return template.FuncMap{
		"capital": capital,
		"words":   func(s any) string { return strings.ReplaceAll(fmt.Sprint(s), "-", " ") },
		"list":    func(items ...any) []any { return items },
		"pairs":   pairs,
		"add":     func(a, b int) int { return a + b },
	}
}

// pairs makes a map of names and values, for templates that need several.
func pairs(list ...any) (map[string]any, error) {
	if len(list)%2 != 0 {
		return nil, errors.New("pairs: a name without a value")
	}
	out := make(map[string]any)
	for i := 0; i < len(list); i += 2 {
		name, ok := list[i].(string)
		if !ok {
			return nil, errors.New("pairs: a name that is no text")
		}
		out[name] = list[i+1]
	}
	return out, nil
}

// capital begins a sentence.
func capital(s any) string {
	words := []rune(fmt.Sprint(s))
	if len(words) == 0 {
		return ""
	}
	return strings.ToUpper(string(words[:1])) + string(words[1:])
}
