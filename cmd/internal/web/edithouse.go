package web

import (
	"slices"
	"strconv"
	"strings"

	"relath/advisor/assembly"
	"relath/kb/strict"
)

// about changes what holds for the whole house.
func (e *editor) about() error {
	h := e.house
	e.what = "change of what holds for the whole house"
	if e.form.Has("house") {
		h.House = strings.TrimSpace(e.form.Get("house"))
	}
	if err := e.place(); err != nil {
		return err
	}
	if text := strings.TrimSpace(e.form.Get("built")); e.form.Has("built") {
		year, err := strconv.Atoi(text)
		if err != nil && text != "" {
			return wrong("%q is no year; write it like 1926, or nothing for a house that is planned", text)
		}
		h.Built = year
	}
	if e.form.Has("edition") {
		h.Code.Edition = assembly.Edition(e.form.Get("edition"))
	}
	e.take("zone", &h.Code.Zone)
	h.Code.Zone.Value = strings.ToUpper(h.Code.Zone.Value)
	if e.form.Has("confirmed") {
		h.Code.Confirmed = assembly.Answer(e.form.Get("confirmed"))
	}
	e.take("tightness", &h.Air.Tightness)
	return e.indoor()
}

// place moves the house. The code of the old place does not hold at the new
// one: what was known of it is forgotten.
func (e *editor) place() error {
	if !e.form.Has("place") {
		return nil
	}
	p, err := e.placeNamed(e.form.Get("place"))
	if err != nil {
		return err
	}
	h := e.house
	if p.ID == h.Place.Value {
		return nil
	}
	if !e.form.Has("zone") || strings.EqualFold(e.form.Get("zone"), h.Code.Zone.Value) {
		e.form.Del("zone")
		h.Code.Zone.Value = ""
	}
	e.form.Del("confirmed")
	h.Place.Value, h.Code.State.Value, h.Code.Confirmed = p.ID, "", ""
	return nil
}

// indoorTable is the table of room air in plain words.
const indoorTable = "indoor-air"

// ownAir stands for room air in figures.
const ownAir = "own"

// indoor changes the room air: by plain words of the table, or by figures.
func (e *editor) indoor() error {
	for _, season := range []struct {
		name string
		air  **assembly.RoomAir
	}{{"heating", &e.house.Indoor.Heating}, {"cooling", &e.house.Indoor.Cooling}} {
		said := e.form.Get(season.name)
		figures := e.form.Has(season.name+"-temperature") || e.form.Has(season.name+"-humidity")
		if said == "" && !figures {
			continue
		}
		if said == "" || said == ownAir {
			if *season.air == nil {
				*season.air = &assembly.RoomAir{}
			}
			e.take(season.name+"-temperature", &(*season.air).Temperature)
			e.take(season.name+"-humidity", &(*season.air).Humidity)
			continue
		}
		air, ok := e.airOf(season.name, said)
		if !ok {
			return wrong("%q is none of the choices for the room air", said)
		}
		*season.air = air
	}
	return e.supplyAir()
}

// supplyAir changes the supply air of the cooling.
func (e *editor) supplyAir() error {
	if c := e.house.Indoor.Cooling; c != nil {
		e.take("supply-air", &c.SupplyAir)
	}
	return nil
}

// airOf gives the room air that plain words stand for, nil for none.
func (s *Server) airOf(season, said string) (*assembly.RoomAir, bool) {
	rows := s.indoorRows(season, said)
	if len(rows) == 0 {
		return nil, false
	}
	temperature, humidity := rows[0][2], rows[0][3]
	if temperature == "" {
		return nil, true
	}
	return &assembly.RoomAir{Temperature: strict.Text{Value: temperature}, Humidity: strict.Text{Value: humidity}}, true
}

// indoorRows gives rows of the table of room air: season, words, temperature,
// humidity, mark.
func (s *Server) indoorRows(season, said string) [][]string {
	t := s.Base.Lookup(indoorTable)
	if t == nil {
		return nil
	}
	return t.Find(season, said)
}

// indoorChoice is one way to say what the room air of a season is.
type indoorChoice struct {
	Season, Said, Means string
	Chosen              bool
}

// indoorChoices lists what may be said of the room air and marks what the house
// has; h may be nil.
func (s *Server) indoorChoices(h *assembly.House) []indoorChoice {
	var list []indoorChoice
	for _, row := range s.indoorRows("", "") {
		c := indoorChoice{Season: row[0], Said: row[1], Means: "no cooling is counted with"}
		if row[2] != "" {
			c.Means = row[2] + ", " + row[3]
		}
		if h != nil {
			c.Chosen = sameAir(h, row)
		}
		list = append(list, c)
	}
	return list
}

// sameAir says whether a house has the room air of a row.
func sameAir(h *assembly.House, row []string) bool {
	air := h.Indoor.Heating
	if row[0] == "cooling" {
		air = h.Indoor.Cooling
	}
	if air == nil {
		return row[0] == "cooling" && row[2] == ""
	}
	return air.Temperature.Value == row[2] && air.Humidity.Value == row[3]
}

// assembly changes what holds for one assembly.
func (e *editor) assembly() error {
	a, err := e.described()
	if err != nil {
		return err
	}
	e.what = "change of the " + a.Name.Value
	e.take("name", &a.Name)
	if e.form.Has("faces") {
		a.Faces = assembly.Faces(e.form.Get("faces"))
	}
	for i, field := range []string{"first-side", "second-side"} {
		if e.form.Has(field) && i < len(a.Between) {
			a.Between[i] = assembly.Side(e.form.Get(field))
		}
	}
	e.take("slope", &a.Slope)
	e.take("area", &a.Area)
	e.take("openings", &a.Openings)
	e.take("below-grade", &a.BelowGrade)
	e.beside(a)
	if e.form.Has("rain") {
		a.Rain = assembly.Rain(e.form.Get("rain"))
	}
	if e.form.Has("state") {
		a.State = assembly.State(e.form.Get("state"))
	}
	if e.form.Get("name") == "" {
		e.form.Set("name", a.Name.Value)
	}
	return nil
}

// addAssembly adds the assemblies of a starter.
func (e *editor) addAssembly() error {
	house, err := e.starter(e.form.Get("starter"))
	if err != nil {
		return err
	}
	if len(house.Assemblies) == 0 {
		return wrong("this starter holds no wall, roof or floor")
	}
	for _, fresh := range house.Assemblies {
		name := strings.TrimSpace(e.form.Get("name"))
		if name == "" || len(house.Assemblies) > 1 {
			name = fresh.Name.Value
		}
		fresh.Name.Value = e.freeAssembly(name)
		e.form.Set("name", fresh.Name.Value)
		e.house.Assemblies = append(e.house.Assemblies, fresh)
	}
	e.what = "new: " + e.form.Get("name")
	return nil
}

// freeAssembly makes a name that no assembly of the house has.
func (e *editor) freeAssembly(name string) string {
	free := name
	for n := 2; slices.ContainsFunc(e.house.Assemblies, func(a assembly.Described) bool { return a.Name.Value == free }); n++ {
		free = name + " " + strconv.Itoa(n)
	}
	return free
}

// removeAssembly takes an assembly out.
func (e *editor) removeAssembly() error {
	a, err := e.described()
	if err != nil {
		return err
	}
	name := a.Name.Value
	e.what = "the " + name + " taken out"
	e.house.Assemblies = slices.DeleteFunc(e.house.Assemblies, func(x assembly.Described) bool { return x.Name.Value == name })
	return nil
}

// starter reads the house of a starter, or one to begin from nothing.
func (s *Server) starter(id string) (*assembly.House, error) {
	var text []byte
	if name, ok := strings.CutPrefix(id, blankPrefix); ok {
		text, _ = files.ReadFile("blank/" + name + ".yaml")
	} else if x := s.Base.Starter(id); x != nil {
		text = []byte(x.House)
	}
	if text == nil {
		return nil, wrong("there is no starter %q", id)
	}
	house, _, problems := assembly.Parse(id, text)
	return house, problems.Err()
}
