package web

import (
	"bytes"
	"errors"
	"fmt"
	"sync"

	"relath/advisor/assembly"
)

// The most that is remembered of one house for undo.
const (
	mostSteps     = 60
	mostStepBytes = 8 << 20
)

// shelf changes descriptions one at a time and remembers what they were.
type shelf struct {
	folder *folder
	mu     sync.Mutex
	past   map[string]*past
}

// past is what was done to one house while the program runs.
type past struct {
	mu         sync.Mutex
	undo, redo []step
	tried      []tried
	unwritten  bool   // whether the record could not be written
	kept       string // where the text lies that the first change replaced
}

// step is a text of a house and what was done to it.
type step struct {
	text []byte
	what string
	swap bool
}

// conflict says that a house is no longer what an edit was made for.
type conflict struct{ now []byte }

func (c *conflict) Error() string { return "the house was changed meanwhile" }

func newShelf(f *folder) *shelf { return &shelf{folder: f, past: make(map[string]*past)} }

// of gives the past of a house; one that is not in the folder has none that is
// remembered.
func (s *shelf) of(file string) *past {
	s.mu.Lock()
	defer s.mu.Unlock()
	p := s.past[file]
	switch {
	case p == nil && !s.folder.has(file):
		return &past{}
	case p == nil:
		p = &past{tried: s.folder.readRecord(file)}
		s.past[file] = p
	}
	return p
}

// change is one edit of a house.
type change struct {
	file  string
	based string // hash of the text for which the edit was made
	swap  bool   // a swap of the advisor, for the record
	edit  func(now []byte) (text []byte, what string, err error)
}

// apply makes a change. The error is a [*conflict] when the house is not the one
// that the change was made for, or what the edit says.
func (s *shelf) apply(c change) error {
	p := s.of(c.file)
	p.mu.Lock()
	defer p.mu.Unlock()
	now, err := s.current(c.file, c.based)
	if err != nil {
		return err
	}
	text, what, err := c.edit(now)
	if err != nil || bytes.Equal(text, now) {
		return err
	}
	if err := s.keepOriginal(p, c.file, now); err != nil {
		return err
	}
	if err := s.folder.replace(c.file, text); err != nil {
		return err
	}
	p.undo, p.redo = bounded(append(p.undo, step{now, what, c.swap})), nil
	if c.swap {
		s.note(p, c.file, tried{What: what})
	}
	return nil
}

// current reads a house and holds it to the text that an edit was made for.
func (s *shelf) current(file, based string) ([]byte, error) {
	now, err := s.folder.read(file)
	if err != nil {
		return nil, err
	}
	if hashOf(now) != based {
		return nil, &conflict{now}
	}
	return now, nil
}

// keepOriginal puts aside a text whose comments or layout a rewritten one does
// not have.
func (s *shelf) keepOriginal(p *past, file string, now []byte) error {
	if !losesLayout(file, now) {
		return nil
	}
	kept, err := s.folder.keep(file, now)
	if err != nil {
		return fmt.Errorf("no copy of %s could be kept, so nothing was changed: %w", file, err)
	}
	p.kept = kept
	return nil
}

// losesLayout says whether a text holds more than what is written anew:
// comments, or a layout of its own.
func losesLayout(file string, text []byte) bool {
	house, _, problems := assembly.Parse(file, text)
	if len(problems) > 0 {
		return true
	}
	written, err := assembly.Write(house)
	return err != nil || !bytes.Equal(written, text)
}

// bounded drops the oldest steps beyond the limits.
func bounded(list []step) []step {
	size := 0
	for i := len(list) - 1; i >= 0; i-- {
		size += len(list[i].text)
		if size > mostStepBytes || len(list)-i > mostSteps {
			return list[i+1:]
		}
	}
	return list
}

// errNothing says that there is nothing to undo or redo.
var errNothing = errors.New("there is nothing to take back or to do again")

// undo takes the last change back; why says why a swap was dropped, if anybody
// says so.
func (s *shelf) undo(file, based, why string) error {
	p := s.of(file)
	p.mu.Lock()
	defer p.mu.Unlock()
	last, err := s.turn(file, based, &p.undo, &p.redo)
	if err == nil && last.swap {
		s.note(p, file, tried{What: last.what, Dropped: true, Why: why})
	}
	return err
}

// redo makes the change again that was taken back last.
func (s *shelf) redo(file, based string) error {
	p := s.of(file)
	p.mu.Lock()
	defer p.mu.Unlock()
	last, err := s.turn(file, based, &p.redo, &p.undo)
	if err == nil && last.swap {
		s.note(p, file, tried{What: last.what})
	}
	return err
}

// turn puts the last text of one list in place and the present one on the
// other list, so that nothing is lost, even what was changed outside.
func (s *shelf) turn(file, based string, from, to *[]step) (step, error) {
	if len(*from) == 0 {
		return step{}, errNothing
	}
	now, err := s.current(file, based)
	if err != nil {
		return step{}, err
	}
	last := (*from)[len(*from)-1]
	if err := s.folder.replace(file, last.text); err != nil {
		return step{}, err
	}
	*from = (*from)[:len(*from)-1]
	*to = bounded(append(*to, step{now, last.what, last.swap}))
	return last, nil
}

// state is what a page says of the past of a house.
type state struct {
	Undo, Redo string // in words, empty for nothing
	UndoSwap   bool
	Kept       string
	Tried      []tried
	Unwritten  bool
}

// state gives what a page says of the past of a house.
func (s *shelf) state(file string) state {
	p := s.of(file)
	p.mu.Lock()
	defer p.mu.Unlock()
	out := state{Kept: p.kept, Unwritten: p.unwritten, Tried: append([]tried(nil), p.tried...)}
	if n := len(p.undo); n > 0 {
		out.Undo, out.UndoSwap = p.undo[n-1].what, p.undo[n-1].swap
	}
	if n := len(p.redo); n > 0 {
		out.Redo = p.redo[n-1].what
	}
	return out
}
