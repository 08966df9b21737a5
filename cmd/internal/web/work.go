package web

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync/atomic"
)

// mostWaiting is how many computations may wait for their turn.
const mostWaiting = 256

// errBusy says that too many computations wait.
var errBusy = errors.New("too much is being computed right now; try again in a moment")

// work lets as many computations run at once as there are processors.
type work struct {
	slots   chan struct{}
	waiting atomic.Int32
}

func newWork() *work { return &work{slots: make(chan struct{}, max(1, runtime.GOMAXPROCS(0)))} }

// do runs a computation when it is its turn.
func (w *work) do(ctx context.Context, run func() error) error {
	if w.waiting.Add(1) > mostWaiting {
		w.waiting.Add(-1)
		return errBusy
	}
	select {
	case w.slots <- struct{}{}:
		w.waiting.Add(-1)
	case <-ctx.Done():
		w.waiting.Add(-1)
		return ctx.Err()
	}
	defer func() { <-w.slots }()
	return run()
}

// guarded runs a computation and makes an error of a panic, so that one bad
// request does not end the server.
func guarded[V any](run func() (V, error)) (value V, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = &internalError{fmt.Sprint(r), debug.Stack()}
		}
	}()
	return run()
}

// internalError is a mistake of this program.
type internalError struct {
	what  string
	stack []byte
}

func (e *internalError) Error() string { return e.what }
