package web

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"relath/advisor"
)

// TestManyEdits has clients edit the same house from the same text at once: one
// of each round is made, the others are told, and the file is whole.
func TestManyEdits(t *testing.T) {
	s := newSite(t)
	const clients, rounds = 8, 5
	for round := range rounds {
		based := s.hash(court)
		var made, told atomic.Int32
		var all sync.WaitGroup
		for c := range clients {
			all.Go(func() {
				form := url.Values{
					"token": {s.server.token}, "based": {based}, "do": {"assembly"}, "assembly": {"north wall"},
					"area": {fmt.Sprintf("%d ft2", 100+round*clients+c)},
				}
				answer, err := s.http.Client().PostForm(s.http.URL+courtPage+"/edit", form)
				if err != nil {
					t.Error(err)
					return
				}
				answer.Body.Close()
				switch answer.StatusCode {
				case http.StatusOK:
					made.Add(1)
				case http.StatusConflict:
					told.Add(1)
				default:
					t.Errorf("status %d", answer.StatusCode)
				}
			})
		}
		all.Wait()
		if made.Load() != 1 || told.Load() != clients-1 {
			t.Errorf("round %d: %d made, %d told", round, made.Load(), told.Load())
		}
		if _, err := advisor.Load(s.server.Base, court, []byte(s.file(court))); err != nil {
			t.Fatal(err)
		}
	}
	left := 0
	for name := range s.disk() {
		if strings.Contains(name, ".relath-") {
			left++
		}
	}
	if left > 0 {
		t.Errorf("%d temporary files are left", left)
	}
}

// TestServeEnds stops a server whose run of a leak is not over.
func TestServeEnds(t *testing.T) {
	s := newSite(t)
	s.runOf()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.server.Serve(ctx, l) }()
	answer, err := http.Get("http://" + l.Addr().String() + "/")
	if err != nil || answer.StatusCode != http.StatusOK {
		t.Fatal(answer, err)
	}
	answer.Body.Close()
	cancel()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(time.Minute):
		t.Fatal("the server does not end")
	}
}

// TestCacheIsBounded asks for more results than are kept, and for one that fails.
func TestCacheIsBounded(t *testing.T) {
	c := newCache[int](3)
	made := 0
	get := func(key string) {
		t.Helper()
		if _, err := c.get(context.Background(), key, func() (int, error) { made++; return made, nil }); err != nil {
			t.Fatal(err)
		}
	}
	for _, key := range []string{"a", "b", "c", "a", "d", "a", "b"} {
		get(key)
	}
	// a, b, c and d are made; b was the one not used for the longest time when d
	// came, and is made again.
	if made != 5 || c.order.Len() != 3 || len(c.kept) != 3 {
		t.Errorf("%d made, %d and %d kept", made, c.order.Len(), len(c.kept))
	}
	for range 2 {
		if _, err := c.get(context.Background(), "x", func() (int, error) { made++; panic("broken") }); err == nil {
			t.Error("a panic is no error")
		}
	}
	if made != 7 {
		t.Errorf("a failed result was kept: %d made", made)
	}
}
