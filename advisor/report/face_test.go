package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"relath/advisor/drawing"
)

// faces are the forms that people read, each as words apart by blanks, with the
// syntax of the form taken away.
func faces(t *testing.T, d *Document) map[string]string {
	t.Helper()
	write := func(f func(*bytes.Buffer) error) string {
		var b bytes.Buffer
		if err := f(&b); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	text := write(func(b *bytes.Buffer) error { return d.Text(b) })
	for _, line := range strings.Split(text, "\n") {
		if wide(line) > Width && !strings.HasPrefix(line, "    ") {
			t.Errorf("a line is %d wide: %q", wide(line), line)
		}
	}
	_, _, runs := pdfOf(t, d)
	tidyPages(t, runs)
	return map[string]string{
		"pdf":      plainPDF(runs),
		"xlsx":     plainText(plainXLSX(t, xlsxOf(t, d))),
		"text":     plainText(text),
		"markdown": plainMarkdown(write(func(b *bytes.Buffer) error { return d.Markdown(b) })),
		"html":     plainHTML(write(func(b *bytes.Buffer) error { return d.HTML(b) })),
	}
}

var (
	textRefs     = regexp.MustCompile(`\[([0-9,]+)\]`)
	markdownRefs = regexp.MustCompile(`\[\^([0-9]+)\]`)
	htmlRefs     = regexp.MustCompile(`<a[^>]* href="#n([0-9]+)"[^>]*>[0-9]+</a>`)
	tags         = regexp.MustCompile(`<[^>]*>`)
	styles       = regexp.MustCompile(`(?s)<style>.*?</style>`)
)

// refs writes a footnote as one word, the same in all faces.
func refs(numbers string) string {
	var b strings.Builder
	for _, n := range strings.Split(numbers, ",") {
		b.WriteString(" note:" + n + " ")
	}
	return b.String()
}

func plainText(s string) string {
	return textRefs.ReplaceAllStringFunc(s, func(m string) string { return refs(strings.Trim(m, "[]")) })
}

func plainMarkdown(s string) string {
	s = markdownRefs.ReplaceAllStringFunc(s, func(m string) string { return refs(strings.Trim(m, "[]^")) })
	s = html.UnescapeString(s)
	for _, c := range []string{`|`, `*`, `_`, "`", `[`, `]`, `#`, `\`} {
		s = strings.ReplaceAll(s, `\`+c, c)
	}
	return strings.ReplaceAll(s, "*(", "(")
}

func plainHTML(s string) string {
	s = styles.ReplaceAllString(s, " ")
	s = htmlRefs.ReplaceAllStringFunc(s, func(m string) string { return refs(htmlRefs.FindStringSubmatch(m)[1]) })
	return html.UnescapeString(tags.ReplaceAllString(s, " "))
}

// walk visits every string and every footnote number of a document.
func walk(v reflect.Value, word func(string), note func(int)) {
	switch v.Kind() {
	case reflect.String:
		word(v.String())
	case reflect.Pointer:
		if f, ok := v.Interface().(*Figure); ok && f != nil && f.Table == nil {
			return // a picture of what the page has in words: TestSectionsSayNothingNew
		}
		if _, ok := v.Interface().(*drawing.Picture); ok {
			return // its words stand in the table of the figure
		}
		if !v.IsNil() {
			walk(v.Elem(), word, note)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walk(v.Index(i), word, note)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			switch f := v.Type().Field(i); {
			case f.Name == "Notes" && f.Type == reflect.TypeFor[[]int]():
				for _, n := range v.Field(i).Interface().([]int) {
					note(n)
				}
			case f.Name == "Mood":
				word(moodWord(v.Field(i).String()))
			default:
				walk(v.Field(i), word, note)
			}
		}
	}
}

// longest is the length up to which a word is never broken by a column.
const longest = 2 * narrowest

// wanted counts every word of a document, its marks and footnotes included.
func wanted(d *Document) map[string]int {
	count := make(map[string]int)
	walk(reflect.ValueOf(*d), func(s string) {
		for _, w := range strings.Fields(s) {
			count[bareWord(w)]++
		}
	}, func(n int) { count[fmt.Sprintf("note:%d", n)]++ })
	delete(count, "")
	return count
}

// bareWord strips the punctuation that faces set around words; a long word
// counts by its beginning, since a column may break it.
func bareWord(w string) string {
	w = strings.Trim(w, "()[]:;,.*\"")
	if r := []rune(w); len(r) > longest-4 {
		w = string(r[:longest-4])
	}
	return strings.ToLower(w)
}

// dropped lists the words that a face shows less often than the document has
// them.
func dropped(d *Document, face string) []string {
	have := make(map[string]int)
	for _, w := range strings.Fields(face) {
		have[bareWord(w)]++
	}
	var out []string
	for w, n := range wanted(d) {
		if have[w] < n {
			out = append(out, fmt.Sprintf("%q %d of %d times", w, have[w], n))
		}
	}
	return out
}

// noFaceDrops holds every face of a document to all its words, marks, footnotes
// and warnings, and the JSON face to the whole document.
func noFaceDrops(t *testing.T, name string, d *Document) {
	t.Helper()
	for face, text := range faces(t, d) {
		if lost := dropped(d, text); len(lost) > 0 {
			t.Errorf("%s: the %s face drops %s", name, face, strings.Join(lost, ", "))
		}
	}
	var b bytes.Buffer
	if err := (Answer{Kind: "test", Document: d}).JSON(&b); err != nil {
		t.Fatal(err)
	}
	var back Answer
	if err := json.Unmarshal(b.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(d, back.Document, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("%s: the JSON face changes the document: %s", name, diff)
	}
}

// full is a document with every kind of block, every mood, marks and footnotes.
func full() *Document {
	p := Maker{}.page("Titleword", "Subword")
	for level := 1; level <= 3; level++ {
		p.heading(level, fmt.Sprintf("Heading%d", level), p.note("source", fmt.Sprintf("Headnote%d", level)))
	}
	for _, mood := range []string{plain, lead, warning, caution, quiet} {
		p.para(mood, marked("Mood"+mood, "recalled", p.note("warning", "Moodnote"+mood)))
	}
	p.list(say("Itemone"), marked("Itemtwo", "assumed", p.note("assumption", "Itemnote")))
	p.add(Block{List: &List{Ordered: true, Items: []Text{say("Ordered")}}})
	p.table(Table{
		Caption: "Captionword", Mark: "derived", Notes: []int{p.note("model", "Captionnote")}, Heads: []string{"Headleft", "Headright"}, Right: []int{1},
		Rows: [][]Text{{say("Cellone"), marked("Celltwo", "practice", p.note("evidence", "Cellnote"))}, {say("Pipe|cell"), say("<b>&amp;")}},
	})
	p.add(Block{Bars: &Bars{
		Caption: "Barcaption", Left: "leftward", Right: "rightward", Unit: "unitword", From: 0.01, To: 100, Key: "Keyword",
		Groups: []BarGroup{{Name: "Groupword", Rows: []BarRow{{Label: "season", Left: Bar{Low: 1, Best: 2, High: 3, Shown: "leftshown"}, Right: Bar{Low: -1, Best: -1, High: -1, Shown: "rightshown", None: true}}}}},
	}})
	p.add(Block{Curve: &Curve{
		Caption: "Curvecaption", XLabel: "xlabel", YLabel: "ylabel", Log: true, X: []string{"xone", "xtwo"},
		Lines: []Line{{Label: "lineone", Points: []Point{{X: 1, Low: 1, Best: 2, High: 3, Shown: "pointone"}, {X: 2, Low: 1, Best: 2, High: 3, Shown: "pointtwo"}}}},
	}})
	p.add(Block{Figure: &Figure{Caption: "Figurecaption", Picture: somePicture(), Key: "Figurekey", Table: &Table{Heads: []string{"Figurehead"}, Rows: [][]Text{{say("Figurecell")}}}}})
	p.add(Block{Verbatim: &Verbatim{Caption: "Verbatimcaption", Text: "key: value\n  - {indent: `tick`}\n"}})
	return p.finish()
}

// somePicture has a line, a shape and words that must be escaped.
func somePicture() *drawing.Picture {
	p := &drawing.Picture{Width: 40, Height: 20, Title: "A <picture>", About: "Lines & words"}
	p.Line(drawing.Full, 0.3, drawing.At(1, 1.005), drawing.At(39, 19))
	p.Area(drawing.Wash, drawing.At(1, 1), drawing.At(10, 1), drawing.At(10, 10))
	p.Write(drawing.At(20, 10), "<b>Figureword</b>", 3, drawing.Middle, drawing.Soft)
	return p
}

func TestNoFaceDropsAnything(t *testing.T) {
	noFaceDrops(t, "full", full())
}

// The walker itself must see what is missing: a face without one of the words,
// footnotes or marks fails.
func TestWalkerSeesWhatIsMissing(t *testing.T) {
	d := full()
	for face, text := range faces(t, d) {
		for _, lost := range []string{"Celltwo", "practice", "Moodwarning", "Warning:", "note:5", "Headnote2", "Keyword", "pointtwo", "leftshown", "indent"} {
			without := strings.ReplaceAll(text, lost, "")
			if len(dropped(d, without)) == 0 {
				t.Errorf("nobody misses %q in the %s face", lost, face)
			}
		}
	}
}

// Footnotes are numbered in the order in which a reader meets them.
func TestNotesAreNumberedByFirstUse(t *testing.T) {
	d := full()
	next := 1
	walk(reflect.ValueOf(d.Blocks), func(string) {}, func(n int) {
		if n > next {
			t.Errorf("note %d comes before note %d", n, next)
		}
		if n == next {
			next++
		}
	})
	if next != len(d.Notes)+1 {
		t.Errorf("%d notes are cited, %d exist", next-1, len(d.Notes))
	}
}

func TestVerbatimReadsBack(t *testing.T) {
	const file = "format: 1\nlist:\n  - {a: b}\n"
	d := &Document{Title: "T", Blocks: []Block{{Verbatim: &Verbatim{Caption: "C", Text: file}}}}
	var b bytes.Buffer
	if err := d.Text(&b); err != nil {
		t.Fatal(err)
	}
	var got strings.Builder
	for _, line := range strings.Split(b.String(), "\n") {
		if after, ok := strings.CutPrefix(line, "    "); ok {
			got.WriteString(after + "\n")
		}
	}
	if got.String() != file {
		t.Errorf("got %q, want %q", got.String(), file)
	}
}

// A table that is too wide for its columns loses no cell: it is written row by
// row instead.
func TestWideTable(t *testing.T) {
	heads := make([]string, 14)
	row := make([]Text, 14)
	for i := range heads {
		heads[i] = fmt.Sprintf("Headnumber%d", i)
		row[i] = say(fmt.Sprintf("cellnumber%d", i))
	}
	noFaceDrops(t, "wide", &Document{Title: "Wide", Blocks: []Block{{Table: &Table{Heads: heads, Rows: [][]Text{row}}}}})
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  []string
	}{
		{"", 10, nil},
		{"one two three", 7, []string{"one two", "three"}},
		{"anextremelylongword x", 8, []string{"anextrem", "elylongw", "ord x"}},
		{"ft²·day is fine", 8, []string{"ft²·day", "is fine"}},
	} {
		if got := wrap(c.text, c.width); !reflect.DeepEqual(got, c.want) {
			t.Errorf("wrap(%q, %d) is %q, want %q", c.text, c.width, got, c.want)
		}
	}
}

// The scale of a two-sided chart is logarithmic: a decade has the same length
// wherever it lies.
func TestBarsAreLogarithmic(t *testing.T) {
	b := Bars{From: 0.01, To: 100}
	for _, c := range []struct{ v, want float64 }{{0.01, 0}, {0.1, 0.25}, {1, 0.5}, {10, 0.75}, {100, 1}, {0, 0}, {-3, 0}, {1e6, 1}} {
		if got := b.share(c.v); got < c.want-1e-12 || got > c.want+1e-12 {
			t.Errorf("share of %g is %g, want %g", c.v, got, c.want)
		}
	}
}

func TestCompact(t *testing.T) {
	for _, c := range []struct {
		low, best, high float64
		want            string
	}{
		{0, 0.5, 1.1, "0.50 (0 to 1.1)"},
		{155, 155.4, 155.9, "160"},
		{1600, 14000, 54000, "14000 (1600 to 54000)"},
		{-0.085, -0.084, -0.084, "-0.08"},
		{-0.21, -0.12, -0.062, "-0.12 (-0.21 to -0.06)"},
		{1e-6, 1e-5, 1e-4, "0"},
	} {
		if got := compact(c.low, c.best, c.high); got != c.want {
			t.Errorf("%g, %g, %g is %q, want %q", c.low, c.best, c.high, got, c.want)
		}
	}
}

// A page stands alone: no script, no file or address of another place.
func TestHTMLStandsAlone(t *testing.T) {
	var b bytes.Buffer
	if err := full().HTML(&b); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	for _, bad := range []string{"<script", "http://", "https://", "src=", "@import", "url("} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	for _, good := range []string{`lang="en"`, "<main>", `scope="col"`, `role="img"`, "<title id=", "<desc id=", "prefers-color-scheme", "@media print", `id="n1"`, `href="#n1"`} {
		if !strings.Contains(page, good) {
			t.Errorf("the page lacks %q", good)
		}
	}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		if n := strings.Count(page, ` id="`+m[1]+`"`); n != 1 {
			t.Errorf("id %q stands %d times", m[1], n)
		}
	}
}
