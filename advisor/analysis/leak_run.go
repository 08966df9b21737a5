package analysis

import (
	"context"
	"fmt"
	"math"
	"slices"

	"relath/advisor/climate"
	"relath/advisor/transient"
)

// leakStudy is a leak on its way through the hourly model.
type leakStudy struct {
	out     *LeakResult
	of      *hourlyModel
	loads   *loads
	asked   Leak           // as it came
	wishes  Leak           // with the defaults
	few     bool           // best values and all layers tight alone
	runs    []*hourlyRun   // undisturbed, by corner
	wet     [][]*hourlyRun // by corner and day
	without []*leakTrace
	with    [][]*leakTrace
}

// leakTrace is what a leak is judged by, hour by hour. Flows are sums since the
// start, positive into the construction.
type leakTrace struct {
	content  [][]float64 // of the parts, kg/m²; nil without storage
	wood     [][]float64 // wood moisture of the parts, kg/kg; nil but for wood
	index    [][]float64 // mold index of the spots; nil where none is examined
	outside  []float64   // vapor from outdoor air, through the face and the gaps
	inside   []float64   // vapor from the room
	supplied []float64   // rain and leak
	runoff   []float64   // rain that was not taken
	drained  []float64
	frost    []string // names of parts in which it froze for long
}

// begin is the hour of a run at which a wetting on a day begins: in the second
// year.
func begin(d LeakDay) int {
	return climate.HoursPerYear + (d.hour()-startHour+climate.HoursPerYear)%climate.HoursPerYear
}

// compile makes the undisturbed and the wetted walls of all corners.
func (s *leakStudy) compile() error {
	corners, err := s.of.hourlyCorners(s.loads, s.wishes.Hourly)
	if err != nil {
		return err
	}
	if s.few {
		corners = corners[:min(2, len(corners))]
	}
	at, longest := s.of.positionIn(s.out.Wetted, s.out.Face), 0
	for _, d := range s.wishes.On {
		longest = max(longest, begin(d)+followed)
	}
	for _, c := range corners {
		s.out.Corners = append(s.out.Corners, c.name)
		dry, err := s.of.compileHourly(c, s.loads, s.wishes.Hourly, runLength{hours: longest, fine: at.Layer})
		if err != nil {
			return err
		}
		var wet []*hourlyRun
		for _, d := range s.wishes.On {
			of := runLength{hours: begin(d) + followed, fine: at.Layer}
			of.sources = []transient.Source{{At: at, Water: s.water(d, of.hours)}}
			run, err := s.of.compileHourly(c, s.loads, s.wishes.Hourly, of)
			if err != nil {
				return err
			}
			wet = append(wet, run)
		}
		s.runs, s.wet = append(s.runs, dry), append(s.wet, wet)
	}
	return nil
}

// run solves all runs.
func (s *leakStudy) run(ctx context.Context) error {
	s.without, s.with = make([]*leakTrace, len(s.runs)), make([][]*leakTrace, len(s.runs))
	var jobs []job
	for i, dry := range s.runs {
		jobs = append(jobs, s.job(dry, &s.without[i]))
		s.with[i] = make([]*leakTrace, len(s.wet[i]))
		for k, wet := range s.wet[i] {
			jobs = append(jobs, s.job(wet, &s.with[i][k]))
		}
	}
	return runJobs(ctx, jobs, s.wishes.Progress)
}

// job solves a run and keeps its trace; a run that does not come to the end leaves
// none.
func (s *leakStudy) job(run *hourlyRun, into **leakTrace) job {
	return func(ctx context.Context, w *transient.Workspace) error {
		r, err := run.solve(ctx, w)
		if err == nil && run.converged {
			*into = run.trace(r)
		}
		return err
	}
}

// water is the liquid water of a wetting.
func (s *leakStudy) water(d LeakDay, hours int) transient.Series {
	start := begin(d)
	water := transient.Burst(hours, start, int(math.Round(s.wishes.Over)), s.wishes.Amount)
	if s.wishes.RainShare > 0 {
		water = make(transient.Series, hours)
		for k := start; k < hours && len(s.loads.rain) > 0; k++ {
			water[k] = s.wishes.RainShare * s.loads.rain[k%len(s.loads.rain)]
		}
	}
	return water
}

// trace reads what a leak is judged by.
func (run *hourlyRun) trace(r *transient.Result) *leakTrace {
	t := &leakTrace{
		inside:   running(r.Sides[transient.Inside].Vapor),
		outside:  running(r.Sides[transient.Outside].Vapor),
		supplied: running(r.Supplied), runoff: running(r.Runoff), drained: running(r.Drained),
	}
	for k, air := range running(r.Air.Vapor) {
		t.outside[k] += air
	}
	for i, p := range run.of.variant.Layers {
		content, _ := run.content(r, i)
		t.content = append(t.content, content)
		if run.frozen(r, i) {
			t.frost = append(t.frost, p.Name)
		}
		var wood []float64
		if c := run.woodCourse(r, i); c != nil {
			wood = c.Humidity
		}
		t.wood = append(t.wood, wood)
	}
	for i, spot := range run.spots {
		var index []float64
		if spot.food && spot.model != nil {
			index = indexCourse(spot.model, run.course(r, i))
		}
		t.index = append(t.index, index)
	}
	return t
}

// running sums amounts hour by hour.
func running(amounts []float64) []float64 {
	sums := slices.Clone(amounts)
	for k := 1; k < len(sums); k++ {
		sums[k] += sums[k-1]
	}
	return sums
}

// unsolved names the first run that did not come to its end.
func (s *leakStudy) unsolved() string {
	for i := range s.runs {
		if s.without[i] == nil || slices.Contains(s.with[i], nil) {
			return fmt.Sprintf("an hourly run of the corner %q could not be solved to its end", s.out.Corners[i])
		}
	}
	return ""
}
