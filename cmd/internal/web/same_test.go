package web_test

import (
	"bytes"
	"context"
	"encoding/json"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"relath/cmd/internal/cli"
	"relath/cmd/internal/web"
	"relath/index"
	"relath/kb"
	"relath/kb/quantity"
)

// answer is what the terminal gives with --json, as far as it is compared.
type answer struct {
	Data []struct {
		Name     string
		Variants []struct {
			Layers []struct {
				Name  string
				Facts map[string]struct {
					Known  bool
					Number *struct{ Low, Best, High float64 }
				}
			}
		}
	}
	Document struct{ Blocks []block }
}

type text struct{ Words string }

// block is a piece of a document, as far as it holds words.
type block struct {
	Heading, Paragraph *struct{ Text text }
	List               *struct{ Items []text }
	Table              *struct {
		Caption string
		Heads   []string
		Rows    [][]text
	}
	Bars *struct {
		Caption string
		Groups  []struct {
			Name string
			Rows []struct {
				Label       string
				Left, Right struct{ Shown string }
			}
		}
	}
}

// words lists every text of a block in the order of the page.
func (b block) words() []string {
	var list []string
	switch {
	case b.Heading != nil:
		list = append(list, b.Heading.Text.Words)
	case b.Paragraph != nil:
		list = append(list, b.Paragraph.Text.Words)
	case b.List != nil:
		for _, x := range b.List.Items {
			list = append(list, x.Words)
		}
	case b.Table != nil:
		list = append(append(list, b.Table.Caption), b.Table.Heads...)
		for _, row := range b.Table.Rows {
			for _, cell := range row {
				list = append(list, cell.Words)
			}
		}
	}
	return list
}

var tags, gaps = regexp.MustCompile(`<[^>]*>`), regexp.MustCompile(`\s+`)

func visible(page string) string {
	return gaps.ReplaceAllString(html.UnescapeString(tags.ReplaceAllString(page, " ")), " ")
}

// TestSameAsTerminal compares the page of every assembly of the shipped houses
// with what `relath analyze --json` gives: every word of the document, in its
// order, and in the cards of the layers the permeance and the drying by season.
func TestSameAsTerminal(t *testing.T) {
	const folder = "../../../testdata/houses"
	files, err := filepath.Glob(folder + "/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	get := serve(t, folder)
	compared := 0
	for _, file := range files {
		if strings.HasSuffix(file, ".expect.yaml") {
			continue
		}
		for _, name := range assemblies(t, file) {
			var a answer
			terminal(t, &a, "analyze", file, "--assembly", name, "--json")
			page := get("/house/" + filepath.Base(file) + "/" + url.PathEscape(name) + "/")
			compare(t, file+" "+name, page, &a)
			compared++
		}
	}
	if compared < 9 {
		t.Errorf("only %d assemblies were compared", compared)
	}
}

// serve gives what a server of a folder answers.
func serve(t *testing.T, folder string) func(path string) string {
	base, err := kb.Open(kb.Options{})
	if err != nil {
		t.Fatal(err)
	}
	ix, err := index.Open(base, "")
	if err != nil {
		t.Fatal(err)
	}
	server, err := web.New(web.Options{Base: base, Index: ix, Folder: folder})
	if err != nil {
		t.Fatal(err)
	}
	h := server.Handler("page")
	t.Cleanup(func() { server.Close(); ix.Close() })
	return func(path string) string {
		t.Helper()
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "http://page"+path, nil))
		if w.Code != http.StatusOK {
			t.Fatalf("%s: status %d", path, w.Code)
		}
		return w.Body.String()
	}
}

// terminal runs a command and reads its JSON.
func terminal(t *testing.T, into any, args ...string) {
	t.Helper()
	var out, errs bytes.Buffer
	if code := cli.Run(context.Background(), args, cli.Streams{Out: &out, Err: &errs}); code != cli.Done {
		t.Fatalf("%v: exit code %d\n%s", args, code, errs.String())
	}
	if err := json.Unmarshal(out.Bytes(), into); err != nil {
		t.Fatal(err)
	}
}

func assemblies(t *testing.T, file string) []string {
	var a answer
	terminal(t, &a, "analyze", file, "--json")
	var names []string
	for _, d := range a.Data {
		names = append(names, d.Name)
	}
	return names
}

// compare holds a page to the answer of the terminal.
func compare(t *testing.T, what, page string, a *answer) {
	_, whole, ok := strings.Cut(page, `id="all"`)
	if !ok {
		t.Fatalf("%s: no whole analysis", what)
	}
	rest := visible(whole)
	for _, b := range a.Document.Blocks {
		for _, w := range b.words() {
			w = strings.TrimSpace(gaps.ReplaceAllString(w, " "))
			at := strings.Index(rest, w)
			if at < 0 {
				t.Fatalf("%s: the page does not say %q", what, w)
			}
			rest = rest[at+len(w):]
		}
	}
	cards := make(map[string]string)
	for _, card := range strings.Split(page, `<li id="layer-`)[1:] {
		name := regexp.MustCompile(`<h3>([^<]*)</h3>`).FindStringSubmatch(card)[1]
		cards[strings.ToLower(html.UnescapeString(name))] = visible(card)
	}
	for _, b := range a.Document.Blocks {
		if b.Bars == nil || !strings.HasPrefix(b.Bars.Caption, "How much water could leave") {
			continue
		}
		for _, g := range b.Bars.Groups {
			for _, r := range g.Rows {
				if want := r.Label + " " + r.Left.Shown + " " + r.Right.Shown; !strings.Contains(cards[strings.ToLower(g.Name)], want) {
					t.Errorf("%s, %s: the card does not say %q", what, g.Name, want)
				}
			}
		}
	}
	if len(a.Data[0].Variants) > 1 {
		return // the cards join the variants
	}
	for _, l := range a.Data[0].Variants[0].Layers {
		n := l.Facts["permeance"].Number
		if n == nil {
			continue
		}
		want := quantity.FormatRange(quantity.Range{Low: n.Low, Best: n.Best, High: n.High}, quantity.Permeance, quantity.InchPound)
		if !strings.Contains(cards[strings.ToLower(l.Name)], want) {
			t.Errorf("%s, %s: the card does not say %q", what, l.Name, want)
		}
	}
}

// TestSameSheets compares the files of a spec sheet with those that
// `relath spec -o` writes, byte by byte.
func TestSameSheets(t *testing.T) {
	const folder, house = "../../../testdata/houses", "alder-court.yaml"
	get := serve(t, folder)
	for _, ending := range []string{"pdf", "html", "md", "txt", "json"} {
		out := filepath.Join(t.TempDir(), "sheet."+ending)
		var errs bytes.Buffer
		code := cli.Run(context.Background(), []string{"spec", folder + "/" + house, "--plan", "as-described", "-o", out}, cli.Streams{Out: &errs, Err: &errs})
		if code != cli.Done {
			t.Fatalf("%s: exit code %d\n%s", ending, code, errs.String())
		}
		want, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		if got := get("/house/" + house + "/north%20wall/spec/sheet." + ending); got != string(want) {
			t.Errorf("sheet.%s is not what the terminal writes", ending)
		}
	}
}
