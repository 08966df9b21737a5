package web

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"slices"
	"strings"
	"unicode"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/strict"
)

// startBody is what the first page shows.
type startBody struct {
	Folder   string
	Houses   []houseLine
	Starters []*kb.Starter
	Blank    []option
	Indoor   []indoorChoice
	Place    string
}

// houseLine is one description of the folder.
type houseLine struct {
	File, Name, At string
	Holds          string
	Broken         bool
}

// sortedStarters lists the starters as people look for them: walls first, the
// oldest first.
func sortedStarters(base *kb.Base) []*kb.Starter {
	kinds := assembly.Kind("").Allowed()
	kind := func(x *kb.Starter) int {
		house, _, _ := assembly.Parse(x.ID, []byte(x.House))
		if house == nil || len(house.Assemblies) == 0 {
			return len(kinds)
		}
		return slices.Index(kinds, string(house.Assemblies[0].Kind))
	}
	list := slices.Clone(base.Starters)
	slices.SortStableFunc(list, func(a, b *kb.Starter) int {
		return cmp.Or(kind(a)-kind(b), a.Era.From-b.Era.From, a.Era.To-b.Era.To)
	})
	return list
}

// start shows the houses of the folder and how to begin one.
func (s *Server) start(r *http.Request) (*view, error) {
	names, err := s.folder.list()
	if err != nil {
		return nil, err
	}
	body := startBody{Folder: s.folder.name, Starters: s.starters, Blank: blanks(), Indoor: s.indoorChoices(nil)}
	for _, name := range names {
		if line, ok := s.houseLine(r, name); ok {
			body.Houses = append(body.Houses, line)
		}
	}
	return &view{Page: "start", Title: "Houses", Body: body, Command: []string{s.command("new")}}, nil
}

// houseLine says what a file of the folder is; other YAML files are left out.
func (s *Server) houseLine(r *http.Request, name string) (houseLine, bool) {
	text, err := s.folder.read(name)
	if err != nil || !looksLikeHouse(text) {
		return houseLine{}, false
	}
	line := houseLine{File: name, Name: name, At: houseBase(name)}
	h, err := s.load(r.Context(), name, text)
	if err != nil {
		line.Broken = true
		return line, true
	}
	line.Name = h.House.House
	var parts []string
	for _, a := range h.Assemblies {
		parts = append(parts, a.Name)
	}
	line.Holds = placeWords(h.Place)
	if len(parts) > 0 {
		line.Holds += ": " + strings.Join(parts, ", ")
	}
	return line, true
}

// looksLikeHouse tells descriptions from other YAML files, even where they
// cannot be read.
func looksLikeHouse(text []byte) bool {
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, "house:") || strings.HasPrefix(line, "assemblies:") {
			return true
		}
	}
	return false
}

// blankPrefix begins the names of houses that are begun from nothing; their
// files hold framing and one board.
const blankPrefix = "blank-"

// blanks are the assemblies that can be begun from nothing.
func blanks() []option {
	return []option{
		{blankPrefix + "wall", "A wall to describe from nothing"},
		{blankPrefix + "roof", "A roof to describe from nothing"},
		{blankPrefix + "floor", "A floor over a crawl space to describe from nothing"},
	}
}

// begin makes a new description in the folder.
func (s *Server) begin(r *http.Request) (*view, error) {
	e := &editor{Server: s, form: r.PostForm}
	file, text, err := s.begun(e)
	if err == nil {
		err = s.folder.create(file, text)
	}
	if errors.Is(err, fs.ErrExist) {
		err = wrong("there is a house of this name in the folder already (%s); give this one another name", file)
	}
	if err != nil {
		return s.againNew(r, err)
	}
	return &view{Go: houseBase(file)}, nil
}

// begun makes the text of a new description.
func (s *Server) begun(e *editor) (file string, text []byte, err error) {
	name := strings.TrimSpace(e.form.Get("house"))
	file = fileName(name)
	if file == "" {
		return "", nil, wrong("the house needs a name, such as Alder Court")
	}
	id := e.form.Get("starter")
	if e.house, err = s.starter(id); err != nil {
		return "", nil, err
	}
	if x := s.Base.Starter(id); x != nil && len(x.Confirm) > 0 {
		e.house.Note = "Confirm on site: " + strings.Join(x.Confirm, " ")
	}
	if err := e.about(); err != nil {
		return "", nil, err
	}
	if text, err = assembly.Write(e.house); err != nil {
		return "", nil, err
	}
	_, err = advisor.Load(s.Base, file, text)
	return file, text, err
}

// fileName makes the name of a file of the name of a house.
func fileName(house string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(house) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteRune('-')
		}
	}
	const longest = 80
	name := strings.Trim(b.String(), "-")
	if name == "" || len(name) > longest {
		return ""
	}
	return fmt.Sprintf("%s.yaml", name)
}

// againNew shows a house that could not be begun, with all that was typed.
func (s *Server) againNew(r *http.Request, err error) (*view, error) {
	body := againBody{Words: err.Error(), Action: "/new"}
	var problems strict.Problems
	var which *choose
	switch {
	case errors.As(err, &problems):
		body.Words = "The house cannot be described like this."
		for _, p := range problems {
			body.Problems = append(body.Problems, p.Message+hint(p.Hint))
		}
	case errors.As(err, &which), errors.As(err, new(*fieldError)):
	default:
		return nil, err
	}
	body.Fields, body.Hidden = againFields(r.PostForm, which)
	return &view{Status: http.StatusUnprocessableEntity, Page: "again", Title: "Not begun yet", Body: body, Trail: []link{{"/", "Start"}}}, nil
}
