package analysis

import (
	"context"
	"fmt"
	"runtime"
	"strings"
	"sync"

	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/transient"
	"relath/kb"
)

// hourlyVariant is a variant on its way through the hourly model.
type hourlyVariant struct {
	index   int
	of      *Variant
	missing string // why it was not run
	model   *hourlyModel
	runs    []*hourlyRun
	trials  []*trial // of the first variant, where deciders are asked for
}

// hourlyRun is one run of one corner.
type hourlyRun struct {
	corner  string
	of      *hourlyModel
	model   *transient.Model
	spots   []spot
	cores   []core
	summary *hourlySummary
	detail  *HourlyDetail // of the first corner of the first variant

	converged bool
	hours     int
	balance   [2]float64 // mass, heat
}

// core is a wooden part whose own faces and middle are watched, three probes from
// the given one on.
type core struct{ part, probe int }

// prepare compiles the corners of a variant.
func (v *hourlyVariant) prepare(base *kb.Base, a *assembly.Assembly, l *loads, o Hourly) error {
	if v.missing != "" {
		return nil
	}
	m := newModel(base, a, v.of.Of)
	if v.missing = hourlyBlocked(m); v.missing != "" {
		return nil
	}
	v.model = newHourlyModel(m)
	if len(v.model.lacks) > 0 {
		v.missing = strings.Join(v.model.lacks, "; ")
		return nil
	}
	corners, err := v.model.hourlyCorners(l, o)
	if err != nil {
		return err
	}
	for _, c := range corners {
		run, err := v.model.compileHourly(c, l, o, runLength{hours: o.years() * climate.HoursPerYear, fine: -1})
		if err != nil {
			return err
		}
		v.runs = append(v.runs, run)
	}
	if o.Deciders && v.index == 0 {
		return v.prepareTrials(l, o)
	}
	return nil
}

// hourlyBlocked says why the hourly model cannot run, or "".
func hourlyBlocked(m *model) string {
	switch {
	case !m.ambient:
		return "no outdoor climate on the first side"
	case len(m.heatless) > 0:
		return strings.Join(m.heatless, "; ")
	case len(m.lacks) > 0:
		return strings.Join(m.lacks, "; ")
	}
	return ""
}

// runLength is how long a run goes on, and what wets it.
type runLength struct {
	hours   int
	fine    int // layer of the hourly model in which a wet front moves, -1 for none
	sources []transient.Source
}

// Cells of layers in which a wet front moves. With the usual number of a board the
// mold index of a face that a leak wets errs by a tenth, and the highest content of
// siding in the rain by 1 %.
const (
	fineCells = 32 // a leak
	rainCells = 20 // rain
)

// compileHourly makes a run of one corner.
func (h *hourlyModel) compileHourly(c hourlyCorner, l *loads, o Hourly, of runLength) (*hourlyRun, error) {
	layers, err := h.layers(c)
	if err != nil {
		return nil, err
	}
	if err := h.initial(layers, l, c.at); err != nil {
		return nil, err
	}
	outside := h.exposed(l, orOne(c.rain))
	h.noteLoads(l)
	if len(outside.Rain) > 0 {
		layers[0].Cells = rainCells
	}
	if of.fine >= 0 {
		layers[of.fine].Cells = fineCells
	}
	run := &hourlyRun{corner: c.name, of: h, spots: h.spots()}
	in := transient.Input{
		Layers: layers, Outside: outside, Inside: l.inside, Hours: of.hours,
		Sources: of.sources, Paths: h.airPaths(c), Tolerance: o.tolerance(), Refine: o.Refine,
	}
	for i := range run.spots {
		in.Probes = append(in.Probes, run.spots[i].at)
	}
	for i, p := range h.places {
		if p.coat == 0 && h.bodies[p.body].solid != nil && woody(h.materialOf(h.elements[h.bodies[p.body].element])) {
			run.cores = append(run.cores, core{part: p.part, probe: len(in.Probes)})
			for _, face := range []transient.Face{transient.OuterFace, transient.Middle, transient.InnerFace} {
				in.Probes = append(in.Probes, transient.Position{Layer: i, Face: face})
			}
		}
	}
	if run.model, err = transient.Compile(in); err != nil {
		return nil, fmt.Errorf("hourly model: %w", err)
	}
	return run, nil
}

// job is one run for a worker with a workspace of its own.
type job func(ctx context.Context, w *transient.Workspace) error

// jobs are the runs of a variant; each keeps its summary and drops its courses.
func (v *hourlyVariant) jobs() []job {
	var list []job
	for i, run := range v.runs {
		list = append(list, run.job(v.index == 0 && i == 0))
	}
	for _, t := range v.trials {
		for _, run := range t.runs {
			list = append(list, run.job(false))
		}
	}
	return list
}

// job solves a run and keeps its summary, and with it the courses of its last year
// where they are drawn.
func (run *hourlyRun) job(drawn bool) job {
	return func(ctx context.Context, w *transient.Workspace) error {
		result, err := run.solve(ctx, w)
		if err != nil {
			return err
		}
		from := run.model.Input().Hours - climate.HoursPerYear
		if result.Hours <= from {
			return nil
		}
		run.summary = run.summarize(result, max(0, from))
		if drawn {
			run.detail = run.courses(result, max(0, from))
		}
		return nil
	}
}

// solve runs the model and notes how it went.
func (run *hourlyRun) solve(ctx context.Context, w *transient.Workspace) (*transient.Result, error) {
	result, err := run.model.Run(ctx, w)
	if err != nil {
		return nil, err
	}
	run.converged, run.hours = result.Status == transient.Finished, result.Hours
	run.balance = [2]float64{result.Mass.Relative(), result.Heat.Relative()}
	return result, nil
}

func (run *hourlyRun) short(variant int) HourlyRun {
	return HourlyRun{
		Variant: variant, Corner: run.corner, Converged: run.converged, Hours: run.hours,
		MassBalance: run.balance[0], HeatBalance: run.balance[1],
	}
}

// runJobs runs jobs on all processors and stops at the first error or when the
// context ends.
func runJobs(ctx context.Context, jobs []job, progress func(done, total int)) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var group sync.WaitGroup
	var lock sync.Mutex
	next, done := 0, 0
	take := func() job {
		lock.Lock()
		defer lock.Unlock()
		if next == len(jobs) || ctx.Err() != nil {
			return nil
		}
		next++
		return jobs[next-1]
	}
	finish := func() {
		lock.Lock()
		defer lock.Unlock()
		done++
		if progress != nil {
			progress(done, len(jobs))
		}
	}
	for range min(len(jobs), max(1, runtime.GOMAXPROCS(0))) {
		group.Go(func() {
			w := new(transient.Workspace)
			for j := take(); j != nil; j = take() {
				if err := j(ctx, w); err != nil {
					cancel(err)
					return
				}
				finish()
			}
		})
	}
	group.Wait()
	return context.Cause(ctx)
}
