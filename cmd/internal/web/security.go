package web

import (
	"crypto/subtle"
	"errors"
	"net/http"
	"slices"
	"strings"

	"relath/advisor/assembly"
)

// The largest requests: a form may hold a whole description, each of whose bytes
// may be written as three.
const (
	mostHeader = 32 << 10
	mostForm   = 3*assembly.MaxBytes + 64<<10
	mostQuery  = 8 << 10
)

// policy lets a page load nothing but its own style and script.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// secure answers only requests that name one of our hosts, so that no foreign
// name that is bound to this machine reads or changes anything, and none that
// another site makes a browser send.
func (s *Server) secure(next http.Handler, hosts []string) http.Handler {
	cross := http.NewCrossOriginProtection()
	cross.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		http.Error(w, "this request comes from another site", http.StatusForbidden)
	}))
	checked := cross.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		switch {
		case !slices.Contains(hosts, strings.ToLower(r.Host)):
			http.Error(w, "this address is not served here", http.StatusMisdirectedRequest)
		case r.Method != http.MethodGet && r.Method != http.MethodHead && r.Method != http.MethodPost:
			http.Error(w, "only GET, HEAD and POST are answered", http.StatusMethodNotAllowed)
		case len(r.URL.RequestURI()) > mostQuery:
			http.Error(w, "the address is too long", http.StatusRequestURITooLong)
		case foreign(r, hosts):
			http.Error(w, "this request comes from another site", http.StatusForbidden)
		default:
			r.Body = http.MaxBytesReader(w, r.Body, mostForm)
			checked.ServeHTTP(w, r)
		}
	})
}

// foreign says whether a request that writes names another origin than ours.
func foreign(r *http.Request, hosts []string) bool {
	origin := r.Header.Get("Origin")
	return r.Method == http.MethodPost && origin != "" && !slices.Contains(hosts, strings.TrimPrefix(strings.ToLower(origin), "http://"))
}

// The errors of a form that is turned away before it is looked at.
var (
	errToken = errors.New("this form was made by an earlier run of the program; go back, load the page again and send it once more")
	errForm  = errors.New("this form cannot be read, or is larger than a description may be")
)

// checkForm reads the form of a request that writes and looks for its token.
func (s *Server) checkForm(r *http.Request) error {
	kind, _, _ := strings.Cut(r.Header.Get("Content-Type"), ";")
	switch strings.TrimSpace(kind) {
	case "application/x-www-form-urlencoded":
		if err := r.ParseForm(); err != nil {
			return errForm
		}
	default:
		return errForm
	}
	if subtle.ConstantTimeCompare([]byte(r.PostForm.Get("token")), []byte(s.token)) != 1 {
		return errToken
	}
	return nil
}
