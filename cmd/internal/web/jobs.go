package web

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"sync"
)

// The most runs that are kept, and that wait or run at the same time.
const (
	mostJobs   = 16
	mostOpen   = 6
	jobSeconds = 2 // after which a browser without scripts asks again
)

// jobs are long runs, one at a time, each of which can be stopped.
type jobs struct {
	life context.Context
	turn chan struct{}
	all  sync.WaitGroup
	mu   sync.Mutex
	list []*job // the oldest first
}

// job is one long run.
type job struct {
	ID      string
	Title   string
	Back    string // address of the form that began it
	Trail   []link
	Command []string

	mu          sync.Mutex
	done, total int
	over        bool
	result      *leakBody
	err         error
	cancel      context.CancelFunc
}

func newJobs(life context.Context) *jobs { return &jobs{life: life, turn: make(chan struct{}, 1)} }

// start begins a run. The run is told how to say how far it is.
func (k *jobs) start(j *job, run func(ctx context.Context, progress func(done, total int)) (*leakBody, error)) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	open := 0
	for _, x := range k.list {
		if !x.state().Over {
			open++
		}
	}
	if open >= mostOpen {
		return errBusy
	}
	var ctx context.Context
	ctx, j.cancel = context.WithCancel(k.life)
	j.ID = rand.Text()
	k.list = append(k.list, j)
	if len(k.list) > mostJobs {
		oldest := slices.IndexFunc(k.list, func(x *job) bool { return x.state().Over })
		k.list = slices.Delete(k.list, oldest, oldest+1)
	}
	k.all.Go(func() { k.run(ctx, j, run) })
	return nil
}

// run waits for its turn and runs.
func (k *jobs) run(ctx context.Context, j *job, run func(context.Context, func(int, int)) (*leakBody, error)) {
	defer j.cancel()
	select {
	case k.turn <- struct{}{}:
		defer func() { <-k.turn }()
	case <-ctx.Done():
		j.finish(nil, ctx.Err())
		return
	}
	result, err := guarded(func() (*leakBody, error) { return run(ctx, j.progress) })
	j.finish(result, err)
}

// find gives a run by its id.
func (k *jobs) find(id string) *job {
	k.mu.Lock()
	defer k.mu.Unlock()
	for _, j := range k.list {
		if j.ID == id {
			return j
		}
	}
	return nil
}

// wait waits for all runs; the life of the server has ended before.
func (k *jobs) wait() { k.all.Wait() }

func (j *job) progress(done, total int) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.done, j.total = done, total
}

func (j *job) finish(result *leakBody, err error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.over, j.result, j.err = true, result, err
}

// jobState is how far a run is.
type jobState struct {
	ID          string
	Done, Total int
	Over        bool
	Stopped     bool
	Back        string
	Result      *leakBody
	err         error
}

func (j *job) state() jobState {
	j.mu.Lock()
	defer j.mu.Unlock()
	return jobState{ID: j.ID, Done: j.done, Total: j.total, Over: j.over, Stopped: errors.Is(j.err, context.Canceled), Back: j.Back, Result: j.result, err: j.err}
}

// errNoJob says that a run is not known any more.
var errNoJob = fmt.Errorf("%w: this run is over and forgotten; begin it again", errNoPage)

// job shows how far a run is, or what came of it.
func (s *Server) job(r *http.Request) (*view, error) {
	j := s.jobs.find(r.PathValue("job"))
	if j == nil {
		return nil, errNoJob
	}
	state := j.state()
	if state.err != nil && !state.Stopped {
		return nil, state.err
	}
	v := &view{Page: "job", Title: j.Title, Body: state, Trail: j.Trail, Command: j.Command}
	if !state.Over {
		v.Refresh = jobSeconds
	}
	return v, nil
}

// cancelJob stops a run.
func (s *Server) cancelJob(r *http.Request) (*view, error) {
	j := s.jobs.find(r.PathValue("job"))
	if j == nil {
		return nil, errNoJob
	}
	j.cancel()
	return &view{Go: "/job/" + j.ID}, nil
}
