package web

import (
	"bytes"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/kb/strict"
)

// editor makes one edit of a described house from the fields of a form.
type editor struct {
	*Server
	house *assembly.House
	form  url.Values
	what  string // what was done, in words
}

// operations are the edits that a form may ask for, by their name.
func operations() map[string]func(*editor) error {
	return map[string]func(*editor) error{
		"about":           (*editor).about,
		"add-assembly":    (*editor).addAssembly,
		"assembly":        (*editor).assembly,
		"remove-assembly": (*editor).removeAssembly,
		"layer":           (*editor).layer,
		"add-layer":       (*editor).addLayer,
		"remove-layer":    (*editor).removeLayer,
		"move-layer":      (*editor).moveLayer,
		"add-finish":      (*editor).addFinish,
		"add-room":        (*editor).addRoom,
		"add-cold":        (*editor).addCold,
		"remove":          (*editor).remove,
	}
}

// edit changes a house as a form asks and goes back to the page of the form.
func (s *Server) edit(r *http.Request) (*view, error) {
	form, file := r.PostForm, r.PathValue("house")
	onlyChanges(form)
	c := change{file: file, based: form.Get("based")}
	goal := ""
	c.edit = func(now []byte) ([]byte, string, error) {
		text, what, to, err := s.edited(file, now, form)
		goal = to
		return text, what, err
	}
	if err := s.shelf.apply(c); err != nil {
		return s.again(r, err)
	}
	if goal == "" {
		goal = form.Get("back")
	}
	return &view{Go: backTo(goal, houseBase(file))}, nil
}

// edited makes the changed text of a house. The address is where to go, where
// that is not the page of the form.
func (s *Server) edited(file string, now []byte, form url.Values) (text []byte, what, to string, err error) {
	if form.Get("do") == "text" {
		text = []byte(strings.ReplaceAll(form.Get("text"), "\r\n", "\n"))
		if _, err := advisor.Load(s.Base, file, text); err != nil {
			return nil, "", "", err
		}
		return text, "the text of the description", "", nil
	}
	do := operations()[form.Get("do")]
	if do == nil {
		return nil, "", "", errForm
	}
	house, _, problems := assembly.Parse(file, now)
	if len(problems) > 0 {
		return nil, "", "", problems
	}
	before, err := assembly.Write(house)
	if err != nil {
		return nil, "", "", err
	}
	e := &editor{Server: s, house: house, form: form}
	if err := do(e); err != nil {
		return nil, "", "", err
	}
	if text, err = assembly.Write(house); err != nil {
		return nil, "", "", err
	}
	if bytes.Equal(text, before) {
		return now, "", e.goal(file), nil // nothing was changed, so that the layout of the file stays
	}
	_, err = s.load(s.life, file, text) // the page that comes next needs it too
	return text, e.what, e.goal(file), err
}

// goal is where to go after an edit that changes addresses.
func (e *editor) goal(file string) string {
	h := &houseFrame{Base: houseBase(file)}
	switch e.form.Get("do") {
	case "assembly", "add-assembly":
		return h.at(strings.TrimSpace(e.form.Get("name")))
	case "remove-assembly":
		return h.Base
	}
	return ""
}

// backTo keeps to addresses of this server.
func backTo(address, otherwise string) string {
	u, err := url.Parse(address)
	if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(address, "/") || strings.HasPrefix(address, "//") || strings.ContainsAny(address, "\\\r\n") {
		return otherwise
	}
	return address
}

// undo takes the last change back.
func (s *Server) undo(r *http.Request) (*view, error) {
	file, form := r.PathValue("house"), r.PostForm
	return s.turned(r, s.shelf.undo(file, form.Get("based"), strings.TrimSpace(form.Get("why"))))
}

// redo makes the change again that was taken back last.
func (s *Server) redo(r *http.Request) (*view, error) {
	return s.turned(r, s.shelf.redo(r.PathValue("house"), r.PostForm.Get("based")))
}

func (s *Server) turned(r *http.Request, err error) (*view, error) {
	if err != nil {
		return s.again(r, err)
	}
	return &view{Go: backTo(r.PostForm.Get("back"), houseBase(r.PathValue("house")))}, nil
}

// choose says that a word may mean several things.
type choose struct {
	field, typed string
	options      []option
}

// option is one thing that may be meant.
type option struct{ Value, Words string }

func (c *choose) Error() string {
	if len(c.options) == 0 {
		return fmt.Sprintf("nothing in the base is called %q", c.typed)
	}
	return fmt.Sprintf("%q may mean several things", c.typed)
}

// againBody is what the page of an edit that was not made shows.
type againBody struct {
	Words    string
	Problems []string
	Conflict bool
	Now      string // the text of the house as it is, where two texts differ
	Fields   []againField
	Hidden   []againField
	Action   string
	Based    string // hash of the house as it is now
	Back     string
}

// againField is a field of the form as it was sent.
type againField struct {
	ID, Name, Label, Value string
	Long                   bool
	Options                []option
}

// again shows an edit that was not made, with all that was typed, to be mended
// and sent once more.
func (s *Server) again(r *http.Request, err error) (*view, error) {
	body := againBody{Words: err.Error(), Action: r.URL.Path}
	status := http.StatusUnprocessableEntity
	var problems strict.Problems
	var which *choose
	var meanwhile *conflict
	switch {
	case errors.As(err, &problems):
		body.Words = "The house cannot be described like this. Nothing was changed; mend what you typed and send it again."
		for _, p := range problems {
			body.Problems = append(body.Problems, p.Message+hint(p.Hint))
		}
	case errors.As(err, &meanwhile):
		status, body.Conflict = http.StatusConflict, true
		body.Words = "The house was changed meanwhile, in another window or by another program. Nothing of it was touched, and what you typed stands below."
		if r.PostForm.Get("do") == "text" {
			body.Now = string(meanwhile.now)
		}
	case errors.As(err, &which):
	case errors.As(err, new(*fieldError)), errors.Is(err, errNothing):
	default:
		return nil, err
	}
	file := r.PathValue("house")
	now, err := s.folder.read(file)
	if err != nil {
		return nil, err
	}
	body.Based, body.Back = hashOf(now), backTo(r.PostForm.Get("back"), houseBase(file))
	body.Fields, body.Hidden = againFields(r.PostForm, which)
	return &view{Status: status, Page: "again", Title: "Not changed yet", Body: body, Trail: []link{{"/", "Start"}, {houseBase(file), file}}}, nil
}

func hint(text string) string {
	if text == "" {
		return "."
	}
	return "; " + text + "."
}

// fieldError says what is wrong with a field.
type fieldError struct{ words string }

func (e *fieldError) Error() string { return e.words }

func wrong(format string, args ...any) error { return &fieldError{fmt.Sprintf(format, args...)} }
