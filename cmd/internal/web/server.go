// Package web is the local page: the same documents as the terminal, on which a
// house can be described, understood and changed without a file or a flag.
//
// It owns routes, templates, scripts and style, the reading and writing of
// descriptions in one folder, and what keeps strangers out. It computes no
// number and judges nothing: results come from package advisor, their words
// from package report.
package web

import (
	"context"
	"crypto/rand"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"net"
	"net/http"
	"time"

	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/index"
	"relath/kb"
	"relath/kb/quantity"
)

//go:embed templates assets blank
var files embed.FS

// Options say what is served.
type Options struct {
	Base    *kb.Base
	Index   *index.Index
	Folder  string
	Overlay string // the folder laid over the base, for the commands that pages show
	Units   quantity.System
}

// The most results of each sort that are kept. Advice is the largest, a few
// megabytes for a wall of many layers.
const (
	mostHouses   = 64
	mostAnalyses = 64
	mostAdvice   = 12
	mostPlans    = 12
)

// Server answers the requests of one folder of houses.
type Server struct {
	Options
	folder   *folder
	shelf    *shelf
	jobs     *jobs
	work     *work
	token    string
	pages    map[string]*template.Template
	starters []*kb.Starter
	houses   *cache[*assembly.Resolved]
	analyses *cache[report.Analysis]
	advice   *cache[*swap.Advice]
	plans    *cache[report.Plan]
	specs    *cache[report.Spec]
	stop     context.CancelFunc
	life     context.Context // of computations, which outlive the request that began them
}

// New makes a server. It is an error when the folder cannot be opened. Close it
// at the end.
func New(o Options) (*Server, error) {
	f, err := openFolder(o.Folder)
	if err != nil {
		return nil, err
	}
	pages, err := parsePages()
	if err != nil {
		return nil, errors.Join(err, f.close())
	}
	s := &Server{
		Options: o, folder: f, shelf: newShelf(f), work: newWork(), token: rand.Text(), pages: pages, starters: sortedStarters(o.Base),
		houses:   newCache[*assembly.Resolved](mostHouses),
		analyses: newCache[report.Analysis](mostAnalyses),
		advice:   newCache[*swap.Advice](mostAdvice),
		plans:    newCache[report.Plan](mostPlans),
		specs:    newCache[report.Spec](mostPlans),
	}
	s.life, s.stop = context.WithCancel(context.Background())
	s.jobs = newJobs(s.life)
	return s, nil
}

// Close stops what is being computed and releases the folder.
func (s *Server) Close() error {
	s.stop()
	s.jobs.wait()
	return s.folder.close()
}

// maker makes documents in the units of the server.
func (s *Server) maker() report.Maker { return report.Maker{Base: s.Base, Units: s.Units} }

// tester tests rules and words their reasons in the units of the server.
func (s *Server) tester() rule.Tester { return rule.Tester{Base: s.Base, System: s.Units} }

// Handler answers requests to one of the hosts, each with its port.
func (s *Server) Handler(hosts ...string) http.Handler {
	mux := http.NewServeMux()
	s.routes(mux)
	return s.secure(mux, hosts)
}

// routes lists all pages.
func (s *Server) routes(mux *http.ServeMux) {
	mux.Handle("GET /assets/{file}", s.asset())
	get := func(pattern string, h handler) { mux.Handle("GET "+pattern, s.page(h)) }
	post := func(pattern string, h handler) { mux.Handle("POST "+pattern, s.write(h)) }
	get("/{$}", s.start)
	post("/new", s.begin)
	get("/search", s.search)
	get("/show/{id}", s.show)
	get("/suggest/{sort}", s.suggest)
	get("/house/{house}", s.house)
	post("/house/{house}/edit", s.edit)
	post("/house/{house}/undo", s.undo)
	post("/house/{house}/redo", s.redo)
	get("/house/{house}/text", s.text)
	get("/house/{house}/file", s.file)
	get("/house/{house}/tried", s.tried)
	get("/house/{house}/finishes", s.finishes)
	const at = "/house/{house}/{assembly}/"
	get(at+"{$}", s.assembly)
	get(at+"swap", s.swaps)
	post(at+"swap", s.takeSwap)
	get(at+"plans", s.plansPage)
	get(at+"leak", s.leakForm)
	post(at+"leak", s.startLeak)
	get("/job/{job}", s.job)
	post("/job/{job}/cancel", s.cancelJob)
	get(at+"spec", s.spec)
	get(at+"spec/{file}", s.specFile)
	mux.Handle("/", s.page(func(*http.Request) (*view, error) { return nil, errNoPage }))
}

// asset serves style and script. They hold for one run of the program.
func (s *Server) asset() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "no-cache")
		switch name := r.PathValue("file"); name {
		case "style.css":
			own, _ := fs.ReadFile(files, "assets/style.css")
			w.Header().Set("Content-Type", "text/css; charset=utf-8")
			fmt.Fprint(w, report.Style(), string(own))
		case "icon.svg":
			icon, _ := fs.ReadFile(files, "assets/icon.svg")
			w.Header().Set("Content-Type", "image/svg+xml")
			_, _ = w.Write(icon)
		case "page.js":
			script, _ := fs.ReadFile(files, "assets/page.js")
			w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
			_, _ = w.Write(script)
		default:
			http.NotFound(w, r)
		}
	})
}

// The times that a connection gets. A page may have to wait for its computation.
const (
	headerTime   = 5 * time.Second
	readTime     = 20 * time.Second
	writeTime    = 2 * time.Minute
	idleTime     = time.Minute
	shutdownTime = 5 * time.Second
)

// Serve answers on a listener until the context ends, then lets running requests
// finish for a few seconds.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return err
	}
	server := &http.Server{
		Handler:           s.Handler("127.0.0.1:"+port, "localhost:"+port, "[::1]:"+port),
		ReadHeaderTimeout: headerTime, ReadTimeout: readTime, WriteTimeout: writeTime, IdleTimeout: idleTime,
		MaxHeaderBytes: mostHeader,
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(l) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	s.stop()
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), shutdownTime)
	defer cancel()
	if err := server.Shutdown(last); err != nil {
		return server.Close()
	}
	return nil
}
