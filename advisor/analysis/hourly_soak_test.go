package analysis

import (
	"context"
	goflag "flag"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"sync"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/transient"
	"relath/kb"
)

var (
	soakShare = goflag.Float64("soak", 0.02, "share of starters and places that the soak runs")
	soakYears = goflag.Int("soak-years", 10, "years that each run of the soak goes on")
)

// placed writes a starter into a place.
func placed(starter *kb.Starter, place *kb.Place) string {
	lines := strings.Split(starter.House, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, "place:") {
			lines[i] = "place: " + place.ID
		}
		if strings.HasPrefix(line, "code:") {
			lines[i] = "" // its zone is that of another place
		}
	}
	return strings.Join(lines, "\n")
}

// soakOne runs the best case of an assembly over many years. It gives "" where
// all went well or where the assembly has no hourly answer.
func soakOne(base *kb.Base, a *assembly.Assembly, w *transient.Workspace) (problem string, ran bool) {
	l, missing, err := loadsOf(base, a, Hourly{})
	if err != nil {
		return err.Error(), false
	}
	v := &hourlyVariant{of: &Variant{Of: a.Variants[0]}, missing: missing}
	if err := v.prepare(base, a, l, Hourly{bestOnly: true, Years: *soakYears}); err != nil {
		return err.Error(), false
	}
	if v.missing != "" {
		return "", false
	}
	run := v.runs[0]
	r, err := run.solve(context.Background(), w)
	switch {
	case err != nil:
		return err.Error(), true
	case !run.converged:
		return "it diverged", true
	case run.balance[0] > balanceLimit || run.balance[1] > balanceLimit:
		return "the books do not close", true
	}
	for _, layer := range r.Layers {
		for _, x := range layer.Content {
			if math.IsNaN(x) || x < 0 {
				return "a content is no amount", true
			}
		}
	}
	return "", true
}

// Ten years of starters in all places end without divergence, drift of the books
// or growth of memory. By default a share drawn with a fixed seed is run; the
// whole by -soak 1.
func TestSoak(t *testing.T) {
	base := loadBase(t)
	type pair struct {
		starter *kb.Starter
		place   *kb.Place
	}
	var pairs []pair
	draw := rand.New(rand.NewPCG(1, 2))
	for _, s := range base.Starters {
		for _, p := range base.Places {
			if draw.Float64() < *soakShare {
				pairs = append(pairs, pair{s, p})
			}
		}
	}
	var group sync.WaitGroup
	var lock sync.Mutex
	runs, next := 0, 0
	before := heapInUse()
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			w := new(transient.Workspace)
			for {
				lock.Lock()
				if next == len(pairs) {
					lock.Unlock()
					return
				}
				p := pairs[next]
				next++
				lock.Unlock()
				house, doc, problems := assembly.Parse(p.starter.ID, []byte(placed(p.starter, p.place)))
				if len(problems) > 0 {
					t.Errorf("%s at %s: %v", p.starter.ID, p.place.ID, problems)
					return
				}
				resolved, problems := assembly.Resolve(house, doc, base)
				if len(problems) > 0 {
					t.Errorf("%s at %s: %v", p.starter.ID, p.place.ID, problems)
					return
				}
				for _, a := range resolved.Assemblies {
					problem, ran := soakOne(base, a, w)
					if problem != "" {
						t.Errorf("%s, %s at %s: %s", p.starter.ID, a.Name, p.place.ID, problem)
					}
					if ran {
						lock.Lock()
						runs++
						lock.Unlock()
					}
				}
			}
		})
	}
	group.Wait()
	const room = 64 << 20 // far below one run of ten years for each pair
	if after := heapInUse(); after > before+room {
		t.Errorf("memory grew from %d to %d MiB", before>>20, after>>20)
	}
	t.Logf("%d runs of %d years (%d hours each) over %d pairs of starter and place", runs, *soakYears, *soakYears*climate.HoursPerYear, len(pairs))
	if runs == 0 {
		t.Error("nothing ran")
	}
}

// heapInUse is what is held after a collection.
func heapInUse() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
