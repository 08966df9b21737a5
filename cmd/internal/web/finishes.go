package web

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"relath/advisor/assembly"
	"relath/advisor/swap"
)

// finishesBody is what the page of finishes, rooms and cold surfaces shows.
type finishesBody struct {
	Finishes []finishLine
	Rooms    []assembly.Room
	Cold     []assembly.ColdSurface
	Advice   *documentPart
	Uses     []string
	Kinds    []string
	Around   []string
}

// finishLine is one line of the finish schedule.
type finishLine struct{ Words, Material string }

// finishes shows trim, doors, floors, rooms, ducts and pipes, what could be there
// instead, and forms to add to them and take from them.
func (s *Server) finishes(r *http.Request) (*view, error) {
	h, err := s.openHouse(r)
	if err != nil {
		return nil, err
	}
	body := finishesBody{
		Rooms: h.House.Rooms, Cold: h.House.ColdSurfaces, Uses: assembly.Use("").Allowed(),
		Kinds: assembly.ColdKind("").Allowed(), Around: assembly.Side("").Allowed(),
	}
	for i := range h.House.Finishes {
		body.Finishes = append(body.Finishes, s.finishLine(&h.House.Finishes[i]))
	}
	if advice := swap.Finishes(s.tester(), h.Of); len(advice) > 0 {
		part := partOf(s.maker().Advice(nil, advice, 0), "", 1)
		body.Advice = &part
	}
	return &view{
		Page: "finishes", Title: "Finishes, rooms, ducts and pipes of " + h.House.House, House: h, Body: body, Trail: h.trail(),
		Command: []string{s.command("advise", h.Path)},
	}, nil
}

// finishLine words a line of the finish schedule.
func (s *Server) finishLine(f *assembly.Finish) finishLine {
	words := []string{f.Room.Value + ", " + f.Part.Value}
	for _, x := range []string{f.Length.Value, f.Area.Value, f.Size.Value} {
		if x != "" {
			words = append(words, x)
		}
	}
	if f.Count != 0 {
		words = append(words, strconv.Itoa(f.Count)+" of them")
	}
	return finishLine{strings.Join(words, "; "), s.choiceWords(f.Material)}
}

// addFinish adds a line to the finish schedule.
func (e *editor) addFinish() error {
	choice, err := e.choice("finish", e.form.Get("finish"), ofFinishes)
	if err != nil {
		return err
	}
	f := assembly.Finish{Material: choice}
	e.take("room", &f.Room)
	e.take("part", &f.Part)
	e.take("finish-length", &f.Length)
	e.take("finish-area", &f.Area)
	e.take("finish-size", &f.Size)
	if text := strings.TrimSpace(e.form.Get("count")); text != "" {
		if f.Count, err = strconv.Atoi(text); err != nil {
			return wrong("%q is no number of pieces", text)
		}
	}
	e.house.Finishes = append(e.house.Finishes, f)
	e.what = "new finish: " + f.Room.Value + ", " + f.Part.Value
	return nil
}

// addRoom adds a room.
func (e *editor) addRoom() error {
	room := assembly.Room{Use: assembly.Use(e.form.Get("use"))}
	e.take("name", &room.Name)
	e.take("area", &room.Area)
	e.take("height", &room.Height)
	e.house.Rooms = append(e.house.Rooms, room)
	e.what = "new room: " + room.Name.Value
	return nil
}

// addCold adds a duct, pipe or other cold surface.
func (e *editor) addCold() error {
	c := assembly.ColdSurface{Kind: assembly.ColdKind(e.form.Get("cold")), Around: assembly.Side(e.form.Get("around"))}
	e.take("name", &c.Name)
	e.take("inside", &c.Air)
	e.take("insulation", &c.Insulation)
	e.take("diameter", &c.Diameter)
	e.house.ColdSurfaces = append(e.house.ColdSurfaces, c)
	e.what = "new: " + c.Name.Value
	return nil
}

// remove takes one line out of one of the lists. The form gives its number,
// which is that of the text that the form was made for.
func (e *editor) remove() error {
	h, list := e.house, e.form.Get("list")
	n, err := strconv.Atoi(e.form.Get("number"))
	out := err != nil || n < 0
	switch {
	case list == "finishes" && !out && n < len(h.Finishes):
		e.what = h.Finishes[n].Room.Value + ", " + h.Finishes[n].Part.Value + " taken out"
		h.Finishes = slices.Delete(h.Finishes, n, n+1)
	case list == "rooms" && !out && n < len(h.Rooms):
		e.what = h.Rooms[n].Name.Value + " taken out"
		h.Rooms = slices.Delete(h.Rooms, n, n+1)
	case list == "cold" && !out && n < len(h.ColdSurfaces):
		e.what = h.ColdSurfaces[n].Name.Value + " taken out"
		h.ColdSurfaces = slices.Delete(h.ColdSurfaces, n, n+1)
	default:
		return wrong("that line is not there any more")
	}
	return nil
}
