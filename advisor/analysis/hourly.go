package analysis

import (
	"context"
	"fmt"
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// Hourly says how the hourly model is run. The zero value stands for the typical
// synthetic year of the place, two years, and all variants.
type Hourly struct {
	Weather *Weather // a measured year instead of the synthetic one
	Shift   Shift
	Years   int  // facts are those of the last one; 0 for 2
	First   bool // only the first variant
	// Deciders finds by further runs of the first variant which input moves its
	// facts most, so that an open answer names what to measure.
	Deciders bool
	// AirPath adds a corner in which room air reaches the cold side of the bay,
	// for assemblies without a sealed air barrier.
	AirPath bool
	// Tolerance and Refine are those of package transient; 0 for the defaults of
	// this package.
	Tolerance float64
	Refine    int
	// Progress is told how many runs are done of how many; nil for nobody. Calls
	// come one at a time.
	Progress func(done, total int)

	bestOnly bool // leave out the other corners: for comparing best values
}

const (
	defaultYears = 2
	// hourlyTolerance is the local error that a run allows per step. A test holds
	// the facts to those of a hundredth of it.
	hourlyTolerance = 0.05
	// mostYears is the longest run.
	mostYears = 20
)

// onlyFirst is why the other variants have no hourly facts.
const onlyFirst = "hourly runs were made for the first choice of each doubt"

func (o Hourly) years() int {
	if o.Years == 0 {
		return defaultYears
	}
	return o.Years
}

func (o Hourly) tolerance() float64 {
	if o.Tolerance == 0 {
		return hourlyTolerance
	}
	return o.Tolerance
}

// HourlyResult is what hourly runs add to a result beside facts, warnings and
// assumptions.
type HourlyResult struct {
	Weather string      // of the place or station
	Notes   []string    // on the weather, to be printed with any result
	Runs    []HourlyRun // of all variants, corner by corner
	Detail  *HourlyDetail
}

// HourlyRun is one run in short.
type HourlyRun struct {
	Variant     int
	Corner      string
	Converged   bool
	Hours       int     // that were solved
	MassBalance float64 // error as a share of the throughput
	HeatBalance float64
}

// HourlyDetail is the last year of the best case of the first variant, day by day
// from 1 October.
type HourlyDetail struct {
	Parts []PartCourse // in the order of the parts
	Spots []SpotCourse
}

// PartCourse is the water of a part.
type PartCourse struct {
	Part    int
	Content []float64 // kg/m² at the end of each day; nil for sheets and cavities
}

// SpotCourse is the mold index of a face.
type SpotCourse struct {
	Part  int
	Side  int // -1 toward the first side, 1 toward the second
	Limit float64
	Index []float64 // at the end of each day
}

// AddHourly runs the hourly model over the corners of each variant of results and
// adds its facts. What the base lacks for a variant is named in the facts, which
// are then not known. It is an error when the context ends or when a model refuses
// its input.
func AddHourly(ctx context.Context, base *kb.Base, o Hourly, results ...*Result) error {
	sets := make([]*hourlySet, len(results))
	var jobs []job
	for i, r := range results {
		set, err := newHourlySet(base, r, o)
		if err != nil {
			return fmt.Errorf("assembly %q: %w", r.Assembly.Name, err)
		}
		sets[i] = set
		for _, v := range set.variants {
			jobs = append(jobs, v.jobs()...)
		}
	}
	if err := runJobs(ctx, jobs, o.Progress); err != nil {
		return err
	}
	for i, r := range results {
		r.Hourly = &HourlyResult{}
		for _, v := range sets[i].variants {
			v.state(base, r)
		}
		r.describeHourly(base, sets[i])
	}
	return nil
}

// hourlySet is a result on its way through the hourly model.
type hourlySet struct {
	loads    *loads // nil where the first side has no climate
	variants []*hourlyVariant
}

func newHourlySet(base *kb.Base, r *Result, o Hourly) (*hourlySet, error) {
	if n := o.years(); n < 1 || n > mostYears {
		return nil, askError("%d years: from 1 to %d", n, mostYears)
	}
	l, missing, err := loadsOf(base, r.Assembly, o)
	if err != nil {
		return nil, err
	}
	set := &hourlySet{loads: l}
	for i, v := range r.Variants {
		next := &hourlyVariant{index: i, of: v, missing: missing}
		if i > 0 && o.First {
			next.missing = onlyFirst
		}
		if err := next.prepare(base, r.Assembly, l, o); err != nil {
			return nil, err
		}
		set.variants = append(set.variants, next)
	}
	return set, nil
}

// loadsOf makes the loads of an assembly, or says why it has none.
func loadsOf(base *kb.Base, a *assembly.Assembly, o Hourly) (l *loads, missing string, err error) {
	if why := noClimate(a); why != "" {
		return nil, why, nil
	}
	year, name, err := YearAt(a.House.Place, o.Weather, o.Shift)
	if err != nil {
		return nil, "", err
	}
	l = newLoads(base, a, year)
	l.yearName, l.synthetic = name, o.Weather == nil
	return l, "", nil
}

// noClimate says why an assembly has no hourly climate on its first side, or "".
func noClimate(a *assembly.Assembly) string {
	switch first := a.Between[0]; {
	case a.House.Place == nil:
		return "the place is not given"
	case first == "ground":
		return "below grade the hourly model has no verdict"
	case first == "room" || first == "wet-room":
		return "no outdoor climate on the first side"
	}
	return ""
}

// describeHourly says which weather, defaults and stand-ins stand behind the runs.
func (r *Result) describeHourly(base *kb.Base, set *hourlySet) {
	l, list := set.loads, set.variants
	for _, id := range []string{"hourly-moisture", "hourly-mold", "hourly-heat"} {
		if !slices.Contains(r.Models, id) {
			r.Models = append(r.Models, id)
		}
	}
	slices.Sort(r.Models)
	if l == nil {
		return
	}
	out := r.Hourly
	out.Weather, out.Notes = l.yearName, l.notes()
	r.Assumptions = append(r.Assumptions, hourlyAssumptions(base, l, list)...)
	for _, v := range list {
		for _, run := range v.runs {
			out.Runs = append(out.Runs, run.short(v.index))
		}
	}
	if len(list) > 0 && len(list[0].runs) > 0 {
		out.Detail = list[0].runs[0].detail
	}
}

// hourlyAssumptions lists the defaults behind the loads, the stand-ins, and the
// conventions of the model.
func hourlyAssumptions(base *kb.Base, l *loads, list []*hourlyVariant) []Assumption {
	ours := kb.Basis{Source: "relath", Locator: "default", Evidence: kb.Assumed}
	var out []Assumption
	seen := make(map[string]bool)
	add := func(id, text string, basis kb.Basis) {
		if !seen[text] {
			seen[text] = true
			out = append(out, Assumption{ID: id, Text: text, Basis: basis})
		}
	}
	for _, id := range l.used {
		if a := base.Assumption(id); a != nil {
			add(id, fmt.Sprintf("%s: %s (%s)", a.Title, a.Value, a.Range), a.Basis)
		}
	}
	for _, words := range l.words {
		add("", words, ours)
	}
	for _, v := range list {
		if v.model == nil {
			continue
		}
		for _, words := range v.model.assumed {
			add("", words, ours)
		}
	}
	for _, words := range hourlyConventions() {
		add("", words, ours)
	}
	return out
}

// hourlyConventions are the choices that the literature leaves open, as they are
// printed among the assumptions of a report. The shares are what the other choice
// changes in the test wall of package transient: the water of the sheathing and of
// the rain-wet veneer, at most, in any hour of a year.
func hourlyConventions() []string {
	return []string{
		"hourly: in brackets what the other choice changes in a test wall, at most, in any hour of a year: the water of the sheathing; that of a rain-wet brick veneer",
		"hourly: a measured curve of permeance is drawn straight between its points; two cup values become the exponential that has them as its means (two cups instead of the curve 4 %; 0.1 %, the dry cup alone 14 %; 4 %)",
		"hourly: still air lets 2.0E-10 kg/(s m Pa) pass, by which vapor resistance factors become permeances (1.75E-10 1.5 %; 5 %); vapor permeability does not vary with temperature (0.3 %; 1 %)",
		"hourly: readings hold at full hours and are drawn straight between them (held for the hour 0.2 %; 5 %); sun, rain and leaks belong to their hour",
		"hourly: weather humidity refers to liquid water (to ice below 0 °C 0.5 %; 6 %), saturation in pores and at faces to ice below 0 °C (to water 0.5 %; 6 %); water does not freeze in the model",
		"hourly: gaps exchange air by mass (by volume 0.2 %; 0.3 %); latent heat 2.5 MJ/kg (by temperature 0.3 %; 1 %); no more than free saturation is held (a fifth more 0.6 %; 0.5 %)",
		"hourly: sorption while taking up water, read at 20 °C; moisture content belongs to suction; beyond the last measured humidity the two-point form to free saturation",
		"hourly: liquid moves by the water absorption coefficient while rain or a leak flows into a layer, otherwise at a tenth of that",
		"hourly: the path through the fill, without framing, joints that leak rain or air leakage, unless a corner names it",
	}
}

// rangeOf is the range of a value over the corners, the first being the best.
func rangeOf[T any](list []T, value func(T) float64) quantity.Range {
	r := quantity.Exact(value(list[0]))
	for _, x := range list[1:] {
		v := value(x)
		r.Low, r.High = min(r.Low, v), max(r.High, v)
	}
	return r
}
