package assembly

import (
	"fmt"
	"regexp"
	"strings"

	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// resolver collects what resolving needs and finds.
type resolver struct {
	base     *kb.Base
	doc      *strict.Document // nil for a house that was changed in memory
	out      *Resolved
	problems strict.Problems
}

// Resolve ties a description to a base. The document gives problems their
// source line; it may be nil. All problems come at once.
func Resolve(h *House, doc *strict.Document, base *kb.Base) (*Resolved, strict.Problems) {
	r := newResolver(h, doc, base)
	h = r.out.House
	names := make(map[string]bool)
	for i := range h.Assemblies {
		described := &h.Assemblies[i]
		if names[described.Name.Value] {
			r.problem(described.Name.Pos, fmt.Sprintf("assembly %q given twice", described.Name.Value), "give each assembly its own name")
		}
		names[described.Name.Value] = true
		r.out.Assemblies = append(r.out.Assemblies, r.assembly(described, i))
	}
	r.finishes(h)
	r.rooms(h)
	r.coldSurfaces(h)
	r.problems.Sort()
	if len(r.problems) > 0 {
		return nil, r.problems
	}
	return r.out, nil
}

// ResolveOne ties one assembly of a description to a base, as [Resolve] does with
// all of them. The house that it knows has no other assemblies.
func ResolveOne(h *House, index int, base *kb.Base) (*Assembly, strict.Problems) {
	r := newResolver(h, nil, base)
	a := r.assembly(&r.out.House.Assemblies[index], index)
	return a, r.problems
}

// newResolver reads what concerns the whole house.
func newResolver(h *House, doc *strict.Document, base *kb.Base) *resolver {
	h = forReadings(h)
	r := &resolver{base: base, doc: doc, out: &Resolved{House: h}}
	r.place(h)
	r.code(h)
	r.air(h)
	r.indoor(h)
	return r
}

// problem notes something wrong at a place of the file.
func (r *resolver) problem(pos strict.Pos, message, hint string) {
	if r.doc != nil {
		r.problems = append(r.problems, r.doc.Problem(pos, message, hint))
		return
	}
	r.problems = append(r.problems, strict.Problem{Pos: pos, Message: message, Hint: hint})
}

// byDefault notes a value that the description left to us.
func (r *resolver) byDefault(where, what, from string) {
	r.out.Defaults = append(r.out.Defaults, Default{Where: where, What: what, From: from})
}

// assumed gives the best value of an assumption of the base, in SI.
func (r *resolver) assumed(id string) float64 {
	a := r.base.Assumption(id)
	if a == nil {
		return 0
	}
	return a.SI.Best
}

func (r *resolver) place(h *House) {
	if h.Place.IsZero() {
		return
	}
	r.out.Place = r.base.Place(h.Place.Value)
	if r.out.Place == nil {
		ids := make([]string, len(r.base.Places))
		for i, p := range r.base.Places {
			ids[i] = p.ID
		}
		hint := "relath places lists them"
		if near := strict.Suggest(h.Place.Value, ids); near != "" {
			hint = fmt.Sprintf("did you mean %q? relath places lists them", near)
		}
		r.problem(h.Place.Pos, fmt.Sprintf("place %q is not in the base", h.Place.Value), hint)
	}
}

var (
	zonePattern  = regexp.MustCompile(`^(?:[1-6][ABC]|4C|[78])$`)
	statePattern = regexp.MustCompile(`^[A-Z]{2}$`)
)

func (r *resolver) code(h *House) {
	r.out.Edition = string(h.Code.Edition)
	r.out.Confirmed = h.Code.Confirmed == "yes"
	switch {
	case h.Code.State.IsZero():
		if r.out.Place != nil && r.out.Place.Country == "US" {
			r.out.State = r.out.Place.Region
		}
	case !statePattern.MatchString(h.Code.State.Value):
		r.problem(h.Code.State.Pos, fmt.Sprintf("state %q: two capital letters are needed", h.Code.State.Value), "for example IA")
	default:
		r.out.State = h.Code.State.Value
	}
	switch {
	case !h.Code.Zone.IsZero():
		r.out.Zone, r.out.ZoneFrom = h.Code.Zone.Value, "given"
		if !zonePattern.MatchString(r.out.Zone) {
			r.problem(h.Code.Zone.Pos, fmt.Sprintf("zone %q is not a climate zone", r.out.Zone), "allowed are 1A to 6B, 4C, 7 and 8")
		}
	case r.out.Place != nil && r.out.Place.Zone != "":
		r.out.Zone, r.out.ZoneFrom = r.out.Place.Zone, "place"
		r.byDefault("code / zone", fmt.Sprintf("climate zone %s from the county map of the 2006 to 2018 editions", r.out.Zone), "")
	}
}

// The limits of the tightness words, in air changes per hour at 50 Pa. A
// default of ours: over 7 leaky, under 3 tight.
const (
	leakyOver  = 7.0 / 3600
	tightUnder = 3.0 / 3600
)

func (r *resolver) air(h *House) {
	text := h.Air.Tightness
	switch text.Value {
	case "":
		r.out.Tightness = "typical"
		r.byDefault("air / tightness", "a house of typical air tightness", "")
	case "leaky", "typical", "tight":
		r.out.Tightness = text.Value
	default:
		rate, err := quantity.Parse(text.Value, quantity.AirTightness)
		if err != nil {
			r.problem(text.Pos, fmt.Sprintf("tightness %q is not known", text.Value), "leaky, typical, tight, or a test result such as 7 ACH50")
			return
		}
		r.out.Tightness = "typical"
		if rate > leakyOver {
			r.out.Tightness = "leaky"
		} else if rate < tightUnder {
			r.out.Tightness = "tight"
		}
	}
}

func (r *resolver) indoor(h *House) {
	heating := h.Indoor.Heating
	if heating == nil {
		heating = &RoomAir{}
	}
	r.airReadings(h)
	r.out.Heating = r.roomAir(heating, "heating")
	if h.Indoor.Cooling != nil {
		cooling := r.roomAir(h.Indoor.Cooling, "cooling")
		r.out.Cooling = &cooling
	}
}

// roomAir reads the room air of a season; what is missing is assumed.
func (r *resolver) roomAir(air *RoomAir, season string) RoomState {
	state := RoomState{Temperature: r.assumed(season + "-temperature"), Humidity: r.assumed(season + "-humidity")}
	temperatures, humidities := r.airOf(season)
	if !air.Temperature.IsZero() {
		if t, ok := air.Temperature.SI(quantity.Temperature, r.problem); ok {
			state.Temperature = t
			r.within(air.Temperature, t, 0, 40, "room temperature", "32 F to 104 F")
		}
	} else if len(temperatures) == 0 {
		r.byDefault("indoor / "+season+" / temperature", r.words(season+"-temperature"), season+"-temperature")
	}
	if !air.Humidity.IsZero() {
		if rh, ok := air.Humidity.SI(quantity.Ratio, r.problem); ok {
			state.Humidity = rh
			r.within(air.Humidity, rh, 0.01, 1, "relative humidity", "1 % to 100 %")
		}
	} else if len(humidities) == 0 {
		r.byDefault("indoor / "+season+" / humidity", r.words(season+"-humidity"), season+"-humidity")
	}
	r.read(&state, temperatures, humidities)
	if !air.SupplyAir.IsZero() {
		if t, ok := air.SupplyAir.SI(quantity.Temperature, r.problem); ok {
			state.SupplyAir = t
			r.within(air.SupplyAir, t, 0, 60, "supply air temperature", "32 F to 140 F")
		}
	}
	return state
}

// words says an assumption with its value.
func (r *resolver) words(id string) string {
	a := r.base.Assumption(id)
	if a == nil {
		return id
	}
	return fmt.Sprintf("%s %s", a.Title, a.Value)
}

// within holds a value to a range that makes sense for a house.
func (r *resolver) within(m strict.Text, v, low, high float64, what, allowed string) {
	if v < low || v > high {
		r.problem(m.Pos, fmt.Sprintf("%s %q is out of range", what, m.Value), "allowed is "+allowed)
	}
}

// material finds a material by id and notes a problem when there is none.
func (r *resolver) material(id strict.Text) *kb.Material {
	m := r.base.Material(id.Value)
	if m == nil {
		ids := make([]string, len(r.base.Materials))
		for i, known := range r.base.Materials {
			ids[i] = known.ID
		}
		hint := "relath search finds materials by name"
		if near := strict.Suggest(id.Value, ids); near != "" {
			hint = fmt.Sprintf("did you mean %q? relath search finds others", near)
		}
		r.problem(id.Pos, fmt.Sprintf("material %q is not in the base", id.Value), hint)
	}
	return m
}

// duties checks a list of duties and gives their ids.
func (r *resolver) duties(list []strict.Text) []string {
	var ids []string
	for _, text := range list {
		if r.base.Duty(text.Value) == nil {
			known := make([]string, len(r.base.Duties))
			for i, d := range r.base.Duties {
				known[i] = d.ID
			}
			r.problem(text.Pos, fmt.Sprintf("duty %q is not known", text.Value), strict.AllowedHint(text.Value, known))
			continue
		}
		ids = append(ids, text.Value)
	}
	return ids
}

// hasTerm says whether a material carries a term.
func hasTerm(m *kb.Material, term string) bool {
	for _, t := range m.Terms {
		if t == term {
			return true
		}
	}
	return false
}

// path joins the steps to a place in the file, for defaults.
func path(steps ...string) string { return strings.Join(steps, " / ") }
