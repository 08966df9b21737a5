package analysis

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/mold"
	"relath/advisor/sorption"
	"relath/advisor/steady"
	"relath/advisor/transient"
	"relath/kb"
)

// Every shipped house has an answer, every run comes to its end, and the books
// close (the bound of the hourly model: 1E−6 of the throughput).
func TestShippedHousesRun(t *testing.T) {
	base := loadBase(t)
	for _, a := range shipped(t, base) {
		r := hourlyOf(t, base, a, Hourly{First: true})
		if e := r.Variants[0].Facts["heat-loss"]; !e.Known {
			t.Errorf("%s, %s: %s", a.House.House.House, a.Name, e.Missing)
		}
		for _, run := range r.Hourly.Runs {
			if !run.Converged || run.MassBalance > balanceLimit || run.HeatBalance > balanceLimit {
				t.Errorf("%s, %s: %+v", a.House.House.House, a.Name, run)
			}
		}
	}
}

// Registered facts of hourly models are those that hourly runs and leaks give, and
// each is there, known or not, after a run.
func TestHourlyFactsAreRegistered(t *testing.T) {
	base := loadBase(t)
	ofAssembly, ofLayer := HourlyFacts()
	given := map[string][]string{"assembly": append(ofAssembly, LeakFacts()...), "layer": ofLayer}
	for _, f := range base.Facts {
		hourly := len(f.Model) > 6 && f.Model[:6] == "hourly"
		if slices.Contains(given[f.Scope], f.ID) != hourly {
			t.Errorf("fact %s of model %q, scope %s: given by hourly runs %v", f.ID, f.Model, f.Scope, !hourly)
		}
	}
	for scope, ids := range given {
		for _, id := range ids {
			if f := base.Fact(id); f == nil || f.Scope != scope {
				t.Errorf("fact %s of scope %s is not registered", id, scope)
			}
		}
	}
	r := hourlyOf(t, base, resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0], Hourly{Years: 1})
	for _, id := range ofAssembly {
		if _, ok := r.Variants[0].Facts[id]; !ok {
			t.Errorf("fact %s is missing", id)
		}
	}
	for _, l := range r.Variants[0].Layers {
		for _, id := range ofLayer {
			if e, ok := l.Facts[id]; !ok || !e.Known && e.Missing == "" {
				t.Errorf("fact %s of %s is missing without a reason", id, l.Part.Name)
			}
		}
	}
}

// The same input gives the same facts, whatever the order in which runs end.
func TestHourlyIsDeterministic(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	x, y := hourlyOf(t, base, a, Hourly{Years: 1}), hourlyOf(t, base, a, Hourly{Years: 1})
	if diff := cmp.Diff(x.Hourly, y.Hourly); diff != "" {
		t.Error(diff)
	}
	for id, e := range x.Variants[0].Facts {
		if diff := cmp.Diff(e.Range, y.Variants[0].Facts[id].Range); diff != "" {
			t.Errorf("%s: %s", id, diff)
		}
	}
}

// An interrupted run gives up with the error of its context.
func TestHourlyIsInterrupted(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	r, err := Run(context.Background(), base, a)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	calls := 0
	err = AddHourly(ctx, base, Hourly{Years: 1, Progress: func(done, total int) {
		calls++
		cancel()
	}}, r)
	if !errors.Is(err, context.Canceled) || calls == 0 {
		t.Errorf("error %v after %d runs, want that of the context", err, calls)
	}
}

// A material without storage data leaves the question open and is named.
func TestMissingStorageIsNamed(t *testing.T) {
	overlay := fstest.MapFS{"materials/cladding/blank-panel.yaml": {Data: []byte(`id: blank-panel
name: Blank panel
family: cladding
summary: An invented panel of which no storage is known.
form: board
thickness: {usual: 1/4 in}
values:
  - {property: conductivity, value: 0.5 W/mK, source: relath, evidence: assumed}
  - {property: density, value: 1000 kg/m3, source: relath, evidence: assumed}
  - {property: specific-heat, value: 1 kJ/(kg K), source: relath, evidence: assumed}
  - {property: permeance, value: 1 perm, at: {method: dry-cup}, source: relath, evidence: assumed}
`)}}
	base, err := kb.Load(kb.Embedded(), overlay)
	if err != nil {
		t.Fatal(err)
	}
	a := resolve(t, base, wallText("des-moines-ia", `
      - {name: siding, material: blank-panel, thickness: 1/4 in}
      - name: bay
        framing: {material: spf-lumber, size: 2x4, spacing: 16 in}
        fill: [{material: fiberglass-batt, thickness: 3-1/2 in}]
      - {name: board, material: gypsum-board, thickness: 1/2 in}
`)).Assemblies[0]
	r := hourlyOf(t, base, a, Hourly{})
	e := r.Variants[0].Facts["mold-index-cavity"]
	if want := "sorption of siding (Blank panel)"; e.Known || e.Missing != want {
		t.Errorf("known %v, missing %q, want %q", e.Known, e.Missing, want)
	}
	leak, err := RunLeak(context.Background(), base, a, Leak{})
	if err != nil || leak.Missing != e.Missing {
		t.Errorf("leak: missing %q, error %v", leak.Missing, err)
	}
}

// A stand-in is named among the assumptions and marks the facts as assumed.
func TestStandInIsNamed(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", `
      - {name: siding, material: bevel-cedar-siding, thickness: 1/2 in}
      - name: bay
        framing: {material: spf-lumber, size: 2x4, spacing: 16 in}
        fill: [{material: kraft-faced-batt, thickness: 3-1/2 in}]
      - {name: board, material: gypsum-board, thickness: 1/2 in}
`)).Assemblies[0]
	r := hourlyOf(t, base, a, Hourly{Years: 1})
	faced, plain := base.Material("kraft-faced-batt").Name, base.Material("fiberglass-batt").Name
	for _, want := range []string{
		"water absorption coefficient of " + plain + " stands in for that of " + faced,
		"the permeance of " + faced + " is that of a facing on its second side",
	} {
		if !slices.ContainsFunc(r.Assumptions, func(a Assumption) bool { return a.Text == want }) {
			t.Errorf("assumption %q is missing", want)
		}
	}
	if e := r.Variants[0].Facts["mold-index-cavity"].Evidence; e != kb.Assumed {
		t.Errorf("mark %q, want %q", e, kb.Assumed)
	}
}

// The layers of the hourly model resist vapor as the element of the steady methods
// does: body, coats and joints together, at every humidity at which the curves are
// measured. Layers known by two cups differ by their convention and are left out.
func TestHourlyLayersResistAsElements(t *testing.T) {
	base := loadBase(t)
	checked := 0
	for _, a := range shipped(t, base) {
		m := newModel(base, a, a.Variants[0])
		h := newHourlyModel(m)
		for _, b := range h.bodies {
			e := &m.elements[b.element]
			curve := e.vapor.curve()
			if len(b.total) == 0 || len(b.total) != len(curve) || b.facing {
				continue
			}
			for _, end := range []position{tight, best, open} {
				for _, p := range curve {
					z := 0.0
					for _, x := range h.places {
						if x.body != indexOf(h, b.element) {
							continue
						}
						switch {
						case x.coat != 0:
							z += 1 / valueAt(b.coat(end, x.coat), p.RH)
						case b.solid != nil:
							z += b.depth / valueAt(points(b.bare, end, b.depth), p.RH)
						default:
							z += 1 / valueAt(points(b.total, end, 1), p.RH)
						}
					}
					checked++
					if want := 1 / max(pick(p.SI, end), minPermeance); math.Abs(z/want-1) > 1e-6 {
						t.Fatalf("%s, %s at %g: resistance %g, of the element %g", a.Name, m.variant.Layers[e.part].Name, p.RH, z, want)
					}
				}
			}
		}
	}
	if checked < 300 {
		t.Errorf("only %d points were compared", checked)
	}
}

func indexOf(h *hourlyModel, element int) int {
	return slices.IndexFunc(h.bodies, func(b body) bool { return b.element == element })
}

func valueAt(list []sorption.Point, rh float64) float64 {
	f, err := sorption.Linear(list)
	if err != nil {
		return math.NaN()
	}
	return f(rh)
}

// A constant climate brings the hourly model to the steady state of the steady
// methods: heat and vapor flow to 1E−4 where the tightest layer has one permeance.
// Behind a membrane that opens with humidity the vapor flow may differ by 1 %: the
// steady methods read a curve at the mean humidity of the layer's faces, which are
// those of a sheet, but the boards beside it everywhere at their own.
func TestSteadyStateOfHourlyModel(t *testing.T) {
	base := loadBase(t)
	for retarder, allowed := range map[string]float64{"polyethylene-6mil": 1e-4, "variable-retarder-polyamide": 0.01} {
		a := resolve(t, base, wallText("des-moines-ia", `
      - {name: sheathing, material: asphalted-fiberboard-sheathing, thickness: 1/2 in}
      - name: bay
        framing: {material: spf-lumber, size: 2x4, spacing: 16 in}
        fill: [{material: mineral-wool-batt, thickness: 3-1/2 in}]
      - {name: retarder, material: `+retarder+`, sealed: yes}
      - {name: board, material: gypsum-board, thickness: 1/2 in}
`)).Assemblies[0]
		month := steady.Month{Days: 31, OutdoorT: 2, OutdoorP: 500, IndoorT: 20, IndoorP: 900}
		heat, vapor := steadyFlows(t, base, a, month)
		gotHeat, gotVapor := hourlyFlows(t, base, a, month)
		if math.Abs(gotHeat/heat-1) > 1e-4 {
			t.Errorf("%s: heat flow %g W/m², steady %g", retarder, gotHeat, heat)
		}
		if math.Abs(gotVapor/vapor-1) > allowed {
			t.Errorf("%s: vapor flow %g kg/(s·m²), steady %g", retarder, gotVapor, vapor)
		}
	}
}

// steadyFlows gives heat and vapor flow outward by the steady methods, without
// condensation.
func steadyFlows(t *testing.T, base *kb.Base, a *assembly.Assembly, month steady.Month) (heat, vapor float64) {
	t.Helper()
	m := newModel(base, a, a.Variants[0])
	in := m.compile(bestCase)
	profile, err := m.workspace.Profile(in, month)
	if err != nil {
		t.Fatal(err)
	}
	r, z := in.Inside.R+in.Outside.R, 0.0
	for j, layer := range in.Layers {
		mean := (profile.Pressure[j]/profile.Saturation[j] + profile.Pressure[j+1]/profile.Saturation[j+1]) / 2
		r, z = r+layer.R, z+1/layer.Permeance.At(mean)
	}
	return (month.IndoorT - month.OutdoorT) / r, (month.IndoorP - month.OutdoorP) / z
}

// hourlyFlows gives the same of the hourly model after eight years of one climate
// without sun and rain.
func hourlyFlows(t *testing.T, base *kb.Base, a *assembly.Assembly, month steady.Month) (heat, vapor float64) {
	t.Helper()
	h := newHourlyModel(newModel(base, a, a.Variants[0]))
	inside, outside := filmsISO(a)
	const openFilm = 1e-6 // kg/(s·m²·Pa), the steady methods have no vapor film
	l := &loads{
		outside: transient.Surface{
			Temperature: transient.Constant(month.OutdoorT), VaporPressure: transient.Constant(month.OutdoorP),
			HeatTransfer: transient.Constant(1 / outside), VaporTransfer: transient.Constant(openFilm),
		},
		inside: transient.Surface{
			Temperature: transient.Constant(month.IndoorT), VaporPressure: transient.Constant(month.IndoorP),
			HeatTransfer: transient.Constant(1 / inside), VaporTransfer: transient.Constant(openFilm),
		},
	}
	run, err := h.compileHourly(hourlyCorner{at: bestCase}, l, Hourly{}, runLength{hours: 8 * climate.HoursPerYear, fine: -1})
	if err != nil {
		t.Fatal(err)
	}
	r, err := run.solve(context.Background(), new(transient.Workspace))
	if err != nil {
		t.Fatal(err)
	}
	flows, last := &r.Sides[transient.Inside], r.Hours-1
	return (flows.Heat[last] - transient.LatentHeat*flows.Vapor[last]) / secondsPerHour, flows.Vapor[last] / secondsPerHour
}

// Readings at the end of hours and amounts within hours keep their clock: the run
// starts on 1 October, the sums of the year stay.
func TestLoadsKeepTheirClock(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	year, err := yearOf(a.House.Place, nil, Typical)
	if err != nil {
		t.Fatal(err)
	}
	l := newLoads(base, a, year)
	if climate.MonthOf(startHour) != 9 || climate.MonthOf(startHour-1) != 8 {
		t.Errorf("runs start in month %d", climate.MonthOf(startHour)+1)
	}
	if got, want := l.outside.Temperature[0], year.Hours[startHour-1].Temperature; got != want {
		t.Errorf("temperature at the start %g, reading at that moment %g", got, want)
	}
	january := climate.HoursPerYear - startHour
	if got, want := l.outside.VaporPressure[january], year.Hours[climate.HoursPerYear-1].VaporPressure; got != want {
		t.Errorf("vapor pressure at the turn of the year %g, reading %g", got, want)
	}
	face := l.surface(a)
	rain, sun := 0.0, 0.0
	factor := base.Assumption("rain-deposition").SI.Best * base.Assumption("rain-exposure-normal").SI.Best
	for i := range year.Hours {
		rain += year.Hours[i].RainOn(face, factor) - l.rain[i]
		sun += year.Irradiance(i, face) - l.outside.Sun[i]
	}
	if math.Abs(rain) > 1e-6 || math.Abs(sun) > 1e-3 {
		t.Errorf("sums of the year are off by %g kg/m² of rain and %g Wh/m² of sun", rain, sun)
	}
}

// Faces: the room face has the limit of rooms, faces in cavities that of cavities,
// the face toward the weather none; glass fiber that touches strand board is
// examined with the ceiling of glass fiber.
func TestFacesThatAreExamined(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	h := newHourlyModel(newModel(base, a, a.Variants[0]))
	find := func(name string, side int) spot {
		for _, s := range h.spots() {
			if h.variant.Layers[s.part].Name == name && s.side == side {
				return s
			}
		}
		t.Fatalf("no face %d of %s", side, name)
		return spot{}
	}
	if s := find("siding", -1); s.food || !s.weather {
		t.Error("the face toward the weather is examined")
	}
	if s := find("board", 1); !s.room || !s.food || s.limit != mold.LimitRoom {
		t.Errorf("face toward the room: %+v", s)
	}
	if s := find("sheathing", 1); !s.food || s.limit != mold.LimitCavity {
		t.Errorf("inner face of the sheathing: %+v", s)
	}
	s := find("bay", -1)
	want := mold.ForInterface(mold.MediumResistant, mold.Sensitive)
	if !s.food || s.model.CriticalHumidity(20) != want.CriticalHumidity(20) || *s.model != *want {
		t.Errorf("glass fiber at strand board: %+v", s)
	}
}
