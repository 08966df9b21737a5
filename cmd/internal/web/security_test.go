package web

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// disk gives every file of the folder with its text.
func (s *site) disk() map[string]string {
	s.Helper()
	all := make(map[string]string)
	err := filepath.WalkDir(s.folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		all[path] = string(data)
		return err
	})
	if err != nil {
		s.Fatal(err)
	}
	return all
}

// unchanged holds the folder to what it was.
func (s *site) unchanged(before map[string]string) {
	s.Helper()
	after := s.disk()
	for name, text := range before {
		if after[name] != text {
			s.Errorf("%s changed", name)
		}
	}
	for name := range after {
		if _, ok := before[name]; !ok {
			s.Errorf("%s came", name)
		}
	}
}

// request makes a request with changes to it.
func (s *site) request(method, path, body string, change func(*http.Request)) *http.Request {
	s.Helper()
	r, err := http.NewRequest(method, s.http.URL+path, strings.NewReader(body))
	if err != nil {
		s.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	if change != nil {
		change(r)
	}
	return r
}

// TestStrangers sends what other sites make a browser send.
func TestStrangers(t *testing.T) {
	s := newSite(t)
	before := s.disk()
	form := url.Values{"token": {s.server.token}, "based": {s.hash(court)}, "do": {"remove-layer"}, "assembly": {"north wall"}, "layer": {"poly"}}.Encode()
	header := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	host := func(name string) func(*http.Request) { return func(r *http.Request) { r.Host = name } }
	_, port, _ := net.SplitHostPort(s.http.Listener.Addr().String())
	for _, name := range []string{"evil.example", "evil.example:" + port, "127.0.0.1", "127.0.0.1:1", "localhost.evil.example:" + port, ""} {
		if name == "" {
			continue // the client fills it in
		}
		s.do(s.request(http.MethodGet, "/", "", host(name)), http.StatusMisdirectedRequest)
		s.do(s.request(http.MethodPost, courtPage+"/edit", form, host(name)), http.StatusMisdirectedRequest)
	}
	for _, change := range []func(*http.Request){
		header("Origin", "http://evil.example"), header("Origin", "null"), header("Origin", "http://127.0.0.1:1"),
		header("Sec-Fetch-Site", "cross-site"), header("Sec-Fetch-Site", "same-site"),
	} {
		s.do(s.request(http.MethodPost, courtPage+"/edit", form, change), http.StatusForbidden)
	}
	for _, method := range []string{http.MethodPut, http.MethodDelete, http.MethodPatch, http.MethodOptions, "FROB"} {
		s.do(s.request(method, courtPage, "", nil), http.StatusMethodNotAllowed)
	}
	s.do(s.request(http.MethodPost, courtPage+"/edit", strings.Replace(form, "token=", "token=x", 1), nil), http.StatusForbidden)
	s.do(s.request(http.MethodPost, courtPage+"/edit", "do=remove-layer", nil), http.StatusForbidden)
	s.do(s.request(http.MethodPost, courtPage+"/edit", form, header("Content-Type", "text/plain")), http.StatusBadRequest)
	s.unchanged(before)
}

// TestHeaders wants every answer to bind the browser.
func TestHeaders(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/", northWall, "/nothing", "/assets/style.css"} {
		answer, err := s.http.Client().Get(s.http.URL + path)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		for name, want := range map[string]string{
			"Content-Security-Policy": "default-src 'none'", "X-Content-Type-Options": "nosniff", "Cross-Origin-Resource-Policy": "same-origin",
		} {
			if got := answer.Header.Get(name); !strings.HasPrefix(got, want) {
				t.Errorf("%s: %s is %q", path, name, got)
			}
		}
		if strings.Contains(answer.Header.Get("Content-Security-Policy"), "unsafe") {
			t.Errorf("%s: unsafe policy", path)
		}
	}
}

// TestPathTricks asks for files that are none of the folder's houses.
func TestPathTricks(t *testing.T) {
	s := newSite(t)
	outside := filepath.Join(t.TempDir(), "outside.yaml")
	if err := os.WriteFile(outside, []byte(s.file(court)), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(s.folder, "link.yaml")); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(s.folder, "folder.yaml"), 0o755); err != nil {
		t.Fatal(err)
	}
	before := s.disk()
	for _, name := range []string{
		"..%2Foutside.yaml", "%2e%2e%2foutside.yaml", "..%5Coutside.yaml", url.PathEscape(outside), "link.yaml", "folder.yaml", ".hidden.yaml",
		"alder-court.yaml%00", "alder-court.yaml%2F", "alder-court", ".yaml", "C:alder-court.yaml", strings.Repeat("a", 5000) + ".yaml", "%FF.yaml",
	} {
		s.get("/house/"+name, 404)
		s.get("/house/"+name+"/file", 404)
		s.post("/house/"+name+"/edit", 404, "based", s.hash(court), "do", "text", "text", s.file(court))
	}
	s.unchanged(before)
	data, err := os.ReadFile(outside)
	if err != nil || string(data) != s.file(court) {
		t.Error("the file outside changed", err)
	}
}

// TestHugeBodies sends more than a description may hold.
func TestHugeBodies(t *testing.T) {
	s := newSite(t)
	before := s.disk()
	s.edit(court, 400, "do", "text", "text", strings.Repeat("x", mostForm))
	s.edit(court, 422, "do", "text", "text", strings.Repeat("# x\n", 1<<18)+s.file(court))
	s.get("/search?q="+strings.Repeat("a", mostQuery), http.StatusRequestURITooLong)
	s.unchanged(before)
	s.get("/", 200)
}

// TestSlowBody begins a form and never ends it: the connection is cut and the
// server stays well.
func TestSlowBody(t *testing.T) {
	s := newSite(t)
	s.http.Close()
	before := s.disk()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	slow := &http.Server{Handler: s.server.Handler(l.Addr().String()), ReadTimeout: 200 * time.Millisecond, ReadHeaderTimeout: 200 * time.Millisecond}
	go func() { _ = slow.Serve(l) }()
	defer slow.Close()
	for _, begun := range []string{
		"POST " + courtPage + "/edit HTTP/1.1\r\nHost: " + l.Addr().String() + "\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 500\r\n\r\ntoken=",
		"GET / HTTP/1.1\r\nHost: ",
	} {
		c, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprint(c, begun)
		_ = c.SetReadDeadline(time.Now().Add(20 * time.Second))
		for err == nil {
			_, err = c.Read(make([]byte, 4096))
		}
		if nerr, ok := err.(net.Error); ok && nerr.Timeout() {
			t.Error("the connection was not cut")
		}
		c.Close()
	}
	answer, err := http.Get("http://" + l.Addr().String() + "/")
	if err != nil || answer.StatusCode != 200 {
		t.Fatal(answer, err)
	}
	answer.Body.Close()
	s.unchanged(before)
}

// TestMalformed sends 10,000 requests of a fixed seed that are no requests of
// ours: none changes the disk, none is answered as done or as a mistake of the
// program, and the server stays well.
func TestMalformed(t *testing.T) {
	s := newSite(t)
	before := s.disk()
	random := rand.New(rand.NewPCG(7, 7))
	word := func() string {
		list := []string{
			"", "north wall", "sheathing", "layer", "text", "do", "based", "..", "/", "%", "\x00", "<script>", "{{", "'", "\"", "\r\n", "osb", "-1", "1e999",
			strings.Repeat("a", 300), "assembly", "house", "about", "remove-assembly", "token", "\xff\xfe", "💧", court, "1/0 in", ";;;;", "back", "//evil.example",
		}
		return list[random.IntN(len(list))]
	}
	paths := []string{"/", "/new", courtPage + "/edit", courtPage + "/undo", courtPage + "/redo", northWall, "/search", "/show/", "/suggest/material", "/house/"}
	for range 10000 {
		path := paths[random.IntN(len(paths))]
		if random.IntN(3) == 0 {
			path += url.PathEscape(word())
		}
		if random.IntN(3) == 0 {
			path += "?" + url.QueryEscape(word()) + "=" + url.QueryEscape(word())
		}
		form := url.Values{}
		for range random.IntN(6) {
			form.Add(word(), word())
		}
		if random.IntN(2) == 0 {
			form.Set("token", s.server.token)
		}
		if random.IntN(2) == 0 {
			form.Set("based", s.hash(court)+word())
		}
		body := form.Encode()
		if random.IntN(8) == 0 {
			body = word() + body
		}
		method := []string{http.MethodGet, http.MethodPost, http.MethodHead}[random.IntN(3)]
		answer, err := s.http.Client().Do(s.request(method, path, body, nil))
		if err != nil {
			t.Fatal(method, path, err)
		}
		answer.Body.Close()
		if answer.StatusCode >= 500 || method == http.MethodPost && answer.StatusCode < 300 {
			t.Errorf("%s %s %q: status %d", method, path, body, answer.StatusCode)
		}
	}
	s.unchanged(before)
	s.get(northWall, 200)
}
