package web

import (
	"fmt"
	"io"
	"net/http"
	"net/url"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// crowd lets clients do one thing after the other until n are done, and gives
// how long each took, sorted.
func crowd(b *testing.B, clients, n int, do func(client, turn int) error) []time.Duration {
	var left atomic.Int64
	left.Store(int64(n))
	var mu sync.Mutex
	var took []time.Duration
	var all sync.WaitGroup
	for c := range clients {
		all.Go(func() {
			for turn := 0; left.Add(-1) >= 0; turn++ {
				start := time.Now()
				if err := do(c, turn); err != nil {
					b.Error(err)
					return
				}
				mu.Lock()
				took = append(took, time.Since(start))
				mu.Unlock()
			}
		})
	}
	all.Wait()
	slices.Sort(took)
	return took
}

// share reports the time within which a share of the answers came.
func share(b *testing.B, took []time.Duration, of float64, name string) {
	if len(took) > 0 {
		at := min(int(of*float64(len(took))), len(took)-1)
		b.ReportMetric(float64(took[at].Microseconds())/1000, name)
	}
}

// BenchmarkEdits has five clients change a layer, each in a house of its own and
// each time to a thickness that was never there, and wait for the page.
func BenchmarkEdits(b *testing.B) {
	s := newSite(b)
	wall := func(n int) (file, page string) {
		list := [][2]string{{court, "north wall"}, {"larch-lane.yaml", "east wall"}, {"oak-knoll.yaml", "north wall"}, {"hickory-hill.yaml", "north wall"}, {"birch-corner.yaml", "addition wall"}}
		return list[n][0], list[n][1]
	}
	page := make([]string, 5)
	for c := range page {
		file, name := wall(c)
		page[c] = s.get("/house/"+file+"/"+url.PathEscape(name)+"/", 200)
	}
	took := crowd(b, len(page), b.N, func(c, turn int) error {
		file, name := wall(c)
		at := "/house/" + file
		_, based, _ := strings.Cut(page[c], `name="based" value="`)
		based, _, _ = strings.Cut(based, `"`)
		form := url.Values{
			"token": {s.server.token}, "based": {based}, "do": {"assembly"}, "assembly": {name}, "name": {name},
			"area": {fmt.Sprintf("%d ft2", 200+turn)}, "faces": {"north"}, "back": {at + "/" + url.PathEscape(name) + "/"},
		}
		answer, err := s.http.Client().PostForm(s.http.URL+at+"/edit", form)
		if err != nil {
			return err
		}
		defer answer.Body.Close()
		body, err := io.ReadAll(answer.Body)
		page[c] = string(body)
		if err == nil && answer.StatusCode != http.StatusOK {
			err = fmt.Errorf("status %d: %s", answer.StatusCode, visible(page[c]))
		}
		return err
	})
	share(b, took, 0.5, "p50-ms")
	share(b, took, 0.95, "p95-ms")
}

// BenchmarkCrowd has fifty clients ask for the heavy pages of all houses, and
// reports the memory that is held at the end.
func BenchmarkCrowd(b *testing.B) {
	s := newSite(b)
	var list []string
	for _, at := range s.addresses(shipped(b)...) {
		if strings.HasPrefix(at, "/house/") {
			list = append(list, at)
		}
	}
	s.http.Client().Transport.(*http.Transport).MaxIdleConnsPerHost = 50
	took := crowd(b, 50, b.N, func(c, turn int) error {
		answer, err := s.http.Client().Get(s.http.URL + list[(c*7+turn)%len(list)])
		if err != nil {
			return err
		}
		defer answer.Body.Close()
		_, err = io.Copy(io.Discard, answer.Body)
		if err == nil && answer.StatusCode != http.StatusOK {
			err = fmt.Errorf("status %d", answer.StatusCode)
		}
		return err
	})
	share(b, took, 0.95, "p95-ms")
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.HeapAlloc>>20), "held-MB")
	b.ReportMetric(float64(m.Sys>>20), "sys-MB")
}
