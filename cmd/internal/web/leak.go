package web

import (
	"context"
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"relath/advisor"
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb/quantity"
)

// mostWalls is how many walls a leak is compared in.
const mostWalls = 3

// leakForm is what the page that begins a leak shows.
type leakForm struct {
	At      string
	Name    string
	Layers  []string
	Default string // layer that is wetted where none is named
	Amounts []option
	Others  []option // other walls: house and assembly
}

// leakForm asks where and how much.
func (s *Server) leakForm(r *http.Request) (*view, error) {
	h, a, err := s.openAssembly(r)
	if err != nil {
		return nil, err
	}
	body := leakForm{At: h.at(a.Name), Name: a.Name, Layers: layerNames(a), Amounts: s.leakAmounts()}
	if body.Others, err = s.walls(r.Context(), h.File, a.Name); err != nil {
		return nil, err
	}
	return &view{
		Page: "leak", Title: "A leak into the " + a.Name, House: h, Body: body, Trail: h.trail(link{h.at(a.Name), a.Name}),
		Command: []string{s.command("leak", h.Path, "--assembly", a.Name)},
	}, nil
}

// leakAmounts offers the range of the base in words.
func (s *Server) leakAmounts() []option {
	a := s.Base.Assumption("leak-amount")
	if a == nil {
		return nil
	}
	say := func(v float64) string { return quantity.Format(v, quantity.AreaDensity, s.Units) }
	plain := func(v float64) string { return quantity.Format(v, quantity.AreaDensity, quantity.SI) }
	return []option{
		{plain(a.SI.Best), "a usual leak: " + say(a.SI.Best)},
		{plain(a.SI.Low), "a small one: " + say(a.SI.Low)},
		{plain(a.SI.High), "a large one: " + say(a.SI.High)},
	}
}

// apartWalls stands between the house and the assembly of a wall in a form.
const apartWalls = "|"

// walls lists the other assemblies of the folder that a leak can be compared in.
func (s *Server) walls(ctx context.Context, file, name string) ([]option, error) {
	files, err := s.folder.list()
	if err != nil {
		return nil, err
	}
	var list []option
	for _, f := range files {
		text, err := s.folder.read(f)
		if err != nil || !looksLikeHouse(text) {
			continue
		}
		house, err := s.load(ctx, f, text)
		if err != nil {
			continue
		}
		for _, a := range house.Assemblies {
			if f != file || a.Name != name {
				list = append(list, option{f + apartWalls + a.Name, capital(a.Name) + ", " + house.House.House})
			}
		}
	}
	return list, nil
}

// wall is one assembly that is wetted.
type wall struct {
	of      *assembly.Assembly
	name    string
	wetting advisor.Wetting
	command string
}

// startLeak begins the runs of a leak.
func (s *Server) startLeak(r *http.Request) (*view, error) {
	h, a, err := s.openAssembly(r)
	if err != nil {
		return nil, err
	}
	wetting, args, err := wettingOf(r.PostForm)
	if err != nil {
		return s.againLeak(r, h, err)
	}
	walls := []wall{s.wall(h.File, a, wetting, args)}
	for _, value := range r.PostForm["beside"] {
		other, err := s.otherWall(r.Context(), value)
		switch {
		case err != nil:
			return s.againLeak(r, h, err)
		case other != nil:
			file, _, _ := strings.Cut(value, apartWalls)
			walls = append(walls, s.wall(file, other, wetting, args))
		}
	}
	if len(walls) > mostWalls {
		return s.againLeak(r, h, wrong("a leak is compared in three walls at most"))
	}
	j := &job{Title: "A leak into the " + a.Name, Back: h.at(a.Name) + "leak", Trail: h.trail(link{h.at(a.Name), a.Name})}
	for _, w := range walls {
		j.Command = append(j.Command, w.command)
	}
	err = s.jobs.start(j, func(ctx context.Context, progress func(int, int)) (*leakBody, error) {
		return s.runLeak(ctx, walls, progress)
	})
	if err != nil {
		return nil, err
	}
	return &view{Go: "/job/" + j.ID}, nil
}

// againLeak shows the form of a leak again that cannot be run.
func (s *Server) againLeak(r *http.Request, h *houseFrame, err error) (*view, error) {
	if !errors.As(err, new(*fieldError)) {
		return nil, err
	}
	body := againBody{Words: err.Error(), Action: r.URL.Path, Back: backTo(r.URL.Path, h.Base)}
	body.Fields, body.Hidden = againFields(r.PostForm, nil)
	return &view{Status: http.StatusUnprocessableEntity, Page: "again", Title: "Not begun yet", Body: body, Trail: h.trail()}, nil
}

// wall makes a wall of an assembly; a layer that it does not have is its
// sheathing.
func (s *Server) wall(file string, a *assembly.Assembly, w advisor.Wetting, args []string) wall {
	words := []string{s.folder.path(file), "--assembly", a.Name}
	if slices.Contains(layerNames(a), w.Layer) {
		words = append(words, "--layer", w.Layer)
	} else {
		w.Layer = ""
	}
	return wall{a, capital(a.Name) + ", " + a.House.House.House, w, s.command("leak", append(words, args...)...)}
}

// otherWall finds a wall of the folder; nil where none was chosen.
func (s *Server) otherWall(ctx context.Context, value string) (*assembly.Assembly, error) {
	if value == "" {
		return nil, nil
	}
	file, name, _ := strings.Cut(value, apartWalls)
	text, err := s.folder.read(file)
	if err != nil {
		return nil, err
	}
	house, err := s.load(ctx, file, text)
	if err != nil {
		return nil, err
	}
	list, err := advisor.Choose(house, name)
	if err != nil {
		return nil, err
	}
	return list[0], nil
}

// wettingOf reads the form of a leak, and gives its flags at the terminal.
func wettingOf(form url.Values) (w advisor.Wetting, args []string, err error) {
	w.Layer, w.Face = form.Get("layer"), advisor.LeakFace(form.Get("face"))
	if !slices.Contains([]advisor.LeakFace{"", analysis.LeakOuter, analysis.LeakInner, analysis.LeakWhole}, w.Face) {
		return w, nil, wrong("face %q is none of outer, inner and whole", w.Face)
	}
	if w.Face != "" {
		args = append(args, "--face", string(w.Face))
	}
	amount := strings.TrimSpace(form.Get("own-amount"))
	if amount == "" {
		amount = form.Get("amount")
	}
	if amount != "" {
		if w.Amount, err = quantity.Parse(amount, quantity.AreaDensity); err != nil {
			return w, nil, wrong("how much: %v", err)
		}
		args = append(args, "--amount", amount)
	}
	switch when := form.Get("when"); when {
	case "":
	case "rain":
		w.Rain, w.Amount, args = true, 0, append(args, "--rain", "default")
	default:
		day, err := advisor.ParseLeakDay(when)
		if err != nil {
			return w, nil, wrong("when: %v", err)
		}
		w.On, args = []advisor.LeakDay{day}, append(args, "--on", when)
	}
	return w, args, nil
}

// leakBody is what came of a leak.
type leakBody struct {
	Beside *documentPart
	Walls  []leakWall
}

// leakWall is what came of a leak into one wall.
type leakWall struct {
	Name    string
	Doc     documentPart
	Moments documentPart
}

// runLeak wets each wall.
func (s *Server) runLeak(ctx context.Context, walls []wall, progress func(done, total int)) (*leakBody, error) {
	var results []*analysis.LeakResult
	var names []string
	for i, w := range walls {
		w.wetting.Progress = func(done, total int) { progress(i*total+done, len(walls)*total) }
		list, err := advisor.Leak(ctx, s.tester(), []*assembly.Assembly{w.of}, w.wetting)
		if err != nil {
			return nil, err
		}
		results, names = append(results, list...), append(names, w.name)
	}
	m := s.maker()
	body := &leakBody{}
	for i, r := range results {
		body.Walls = append(body.Walls, leakWall{
			names[i], partOf(m.LeakPage(r), "k"+itoa(i)+"-", 1), partOf(m.LeakMoments(r), "m"+itoa(i)+"-", 1),
		})
	}
	if len(results) > 1 {
		part := partOf(m.LeakBeside(names, results), "b-", 1)
		body.Beside = &part
	}
	return body, nil
}
