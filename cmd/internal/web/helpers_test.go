package web

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"relath/index"
	"relath/kb"
)

// opened gives the base and its index, read once for all tests.
var opened = sync.OnceValues(func() (Options, error) {
	base, err := kb.Open(kb.Options{})
	if err != nil {
		return Options{}, err
	}
	ix, err := index.Open(base, "")
	return Options{Base: base, Index: ix}, err
})

// site is a running server of a folder with copies of the shipped houses.
type site struct {
	testing.TB
	server *Server
	folder string
	http   *httptest.Server
}

// houses is where the shipped houses stand.
const houses = "../../../testdata/houses"

func newSite(t testing.TB) *site {
	t.Helper()
	o, err := opened()
	if err != nil {
		t.Fatal(err)
	}
	s := &site{TB: t, folder: t.TempDir()}
	for _, name := range shipped(t) {
		data, err := os.ReadFile(filepath.Join(houses, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(s.folder, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	o.Folder = s.folder
	if s.server, err = New(o); err != nil {
		t.Fatal(err)
	}
	s.http = httptest.NewUnstartedServer(nil)
	s.http.Config.Handler = s.server.Handler(s.http.Listener.Addr().String())
	s.http.Start()
	t.Cleanup(func() {
		s.http.Close()
		if err := s.server.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// shipped lists the shipped houses.
func shipped(t testing.TB) []string {
	t.Helper()
	list, err := filepath.Glob(houses + "/*.yaml")
	if err != nil || len(list) == 0 {
		t.Fatal("no houses", err)
	}
	var names []string
	for _, f := range list {
		if !strings.HasSuffix(f, ".expect.yaml") {
			names = append(names, filepath.Base(f))
		}
	}
	return names
}

// get asks for a page and wants a status.
func (s *site) get(path string, status int) string {
	s.Helper()
	r, err := http.NewRequest(http.MethodGet, s.http.URL+path, nil)
	if err != nil {
		s.Fatal(err)
	}
	return s.do(r, status)
}

// do sends a request, follows where it leads, and wants a status.
func (s *site) do(r *http.Request, status int) string {
	s.Helper()
	answer, err := s.http.Client().Do(r)
	if err != nil {
		s.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		s.Fatal(err)
	}
	if answer.StatusCode != status {
		s.Fatalf("%s %s: status %d, want %d\n%s", r.Method, r.URL.Path, answer.StatusCode, status, body)
	}
	return string(body)
}

// post sends a form of names and values with the token.
func (s *site) post(path string, status int, pairs ...string) string {
	s.Helper()
	form := url.Values{"token": {s.server.token}}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	r, err := http.NewRequest(http.MethodPost, s.http.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		s.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return s.do(r, status)
}

// file gives the text of a house on the disk.
func (s *site) file(name string) string {
	s.Helper()
	data, err := os.ReadFile(filepath.Join(s.folder, name))
	if err != nil {
		s.Fatal(err)
	}
	return string(data)
}

// hash gives the hash that a page of the house carries.
func (s *site) hash(name string) string { return hashOf([]byte(s.file(name))) }

// edit sends an edit of a house as it is now.
func (s *site) edit(name string, status int, pairs ...string) string {
	s.Helper()
	return s.post("/house/"+name+"/edit", status, append([]string{"based", s.hash(name)}, pairs...)...)
}

var (
	tag  = regexp.MustCompile(`<[^>]*>`)
	gaps = regexp.MustCompile(`\s+`)
)

// visible gives the words of a page.
func visible(page string) string { return gaps.ReplaceAllString(tag.ReplaceAllString(page, " "), " ") }

// wants looks for words on a page.
func (s *site) wants(page string, words ...string) {
	s.Helper()
	text := visible(page)
	for _, w := range words {
		if !strings.Contains(text, w) {
			s.Errorf("the page does not say %q", w)
		}
	}
}
