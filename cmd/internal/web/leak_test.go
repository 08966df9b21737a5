package web

import (
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"
)

// runOf begins a leak and gives the address of its run.
func (s *site) runOf(pairs ...string) string {
	s.Helper()
	page := s.post(northWall+"leak", 200, pairs...)
	m := regexp.MustCompile(`action="(/job/[A-Z0-9]+)/cancel"`).FindStringSubmatch(page)
	if m == nil {
		s.Fatalf("no run:\n%s", visible(page))
	}
	return html.UnescapeString(m[1])
}

// done waits until a run is over.
func (s *site) done(run string) string {
	s.Helper()
	for range 6000 {
		if page := s.get(run, 200); !strings.Contains(page, "data-run") {
			return page
		}
		time.Sleep(50 * time.Millisecond)
	}
	s.Fatal("the run does not end")
	return ""
}

// TestLeak follows a leak in two walls side by side to its end.
func TestLeak(t *testing.T) {
	s := newSite(t)
	run := s.runOf("amount", "2 kg/m2", "when", "01-15", "beside", "larch-lane.yaml|east wall")
	page := s.done(run)
	s.wants(page, "North wall, Alder Court", "East wall, Larch Lane", "The same leak in each, 15 January", "How long it takes",
		"relath leak", "--assembly &#39;north wall&#39;", "--on 01-15")
}

// TestLeakStops cancels a run, and one that waits behind it.
func TestLeakStops(t *testing.T) {
	s := newSite(t)
	first, second := s.runOf(), s.runOf("when", "07-15")
	for _, run := range []string{second, first} {
		s.post(run+"/cancel", 200)
		s.wants(s.done(run), "It was stopped")
	}
	s.post("/job/NONE/cancel", 404)
	s.get("/job/NONE", 404)
}

// TestLeakMistakes asks for what there is not.
func TestLeakMistakes(t *testing.T) {
	s := newSite(t)
	for _, c := range []struct {
		status int
		pairs  []string
	}{
		{422, []string{"own-amount", "much"}},
		{422, []string{"when", "02-31"}},
		{422, []string{"face", "left"}},
		{404, []string{"beside", "../x.yaml|wall"}},
		{404, []string{"beside", "larch-lane.yaml|no wall"}},
		{422, []string{"beside", "larch-lane.yaml|east wall", "beside", "oak-knoll.yaml|north wall", "beside", "hickory-hill.yaml|north wall"}},
	} {
		s.post(northWall+"leak", c.status, c.pairs...)
	}
}

// TestLeaksAreLimited begins more runs than may wait.
func TestLeaksAreLimited(t *testing.T) {
	s := newSite(t)
	for range mostOpen {
		s.runOf()
	}
	s.post(northWall+"leak", http.StatusServiceUnavailable)
}
