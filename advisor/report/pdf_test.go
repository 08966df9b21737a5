package report

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/ledongthuc/pdf"
)

// run is a piece of text on a page as another program reads it: points from the
// lower left corner.
type run struct {
	page       int
	x, y, size float64
	text       string
	font       string
	cites      bool // a number on a link
	turned     bool
}

// pdfOf writes a document and reads it back with another library.
func pdfOf(t testing.TB, d *Document) ([]byte, *pdf.Reader, []run) {
	t.Helper()
	var out bytes.Buffer
	if err := d.PDF(&out, Letter); err != nil {
		t.Fatal(err)
	}
	r, err := pdf.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
	if err != nil {
		t.Fatal(err)
	}
	var runs []run
	for n := 1; n <= r.NumPage(); n++ {
		runs = append(runs, runsOf(r.Page(n), n)...)
	}
	return out.Bytes(), r, runs
}

// runsOf gives the runs of a page in the order in which they are drawn. The
// reader follows the operators of the page; its own decoding of letters knows
// no more than 256, so that they are read here: a code is a letter in UTF-16.
func runsOf(p pdf.Page, n int) []run {
	var runs []run
	var now run
	pdf.Interpret(p.V.Key("Contents"), func(stk *pdf.Stack, op string) {
		args := make([]pdf.Value, stk.Len())
		for i := len(args) - 1; i >= 0; i-- {
			args[i] = stk.Pop()
		}
		switch op {
		case "cm":
			now.turned = true // pictures alone turn words
		case "Q":
			now.turned = false
		case "Tf":
			now.font, now.size = p.Font(args[0].Name()).BaseFont(), args[1].Float64()
		case "Td":
			now.x, now.y = args[0].Float64(), args[1].Float64()
		case "Tj":
			now.page, now.text = n, fromUTF16(args[0].RawString())
			runs = append(runs, now)
		}
	})
	links := p.V.Key("Annots")
	for i := range runs {
		for k := range links.Len() {
			at := links.Index(k).Key("Rect")
			inside := runs[i].x >= at.Index(0).Float64()-0.01 && runs[i].x < at.Index(2).Float64() &&
				runs[i].y <= at.Index(1).Float64() && runs[i].y >= at.Index(3).Float64()
			runs[i].cites = runs[i].cites || inside && digits.MatchString(runs[i].text)
		}
	}
	return runs
}

// fromUTF16 reads the codes of a text.
func fromUTF16(raw string) string {
	var codes []uint16
	for i := 0; i+1 < len(raw); i += 2 {
		codes = append(codes, uint16(raw[i])<<8|uint16(raw[i+1]))
	}
	return string(utf16.Decode(codes))
}

var digits = regexp.MustCompile(`^[0-9]+$`)

// plainPDF gives the words of the pages, footnotes as in the other faces.
func plainPDF(runs []run) string {
	var b strings.Builder
	for _, r := range runs {
		if r.cites {
			b.WriteString(refs(r.text))
			continue
		}
		b.WriteString(r.text + " ")
	}
	return b.String()
}

// tidyPages wants every run inside the margins, which pictures may overhang, and
// none over another.
func tidyPages(t interface {
	Errorf(format string, args ...any)
}, runs []run,
) {
	l, err := newLetters()
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	const perMM, pageWidth, pageHeight, side = 72 / 25.4, 612.0, 792.0, marginSide - overhang
	fonts := map[string]cut{"utf8go": regular, "utf8goB": bold, "utf8gomono": mono}
	type box struct{ x0, x1, y0, y1 float64 }
	var boxes []box
	first := 0
	for i, r := range runs {
		w := l.width(style{cut: fonts[r.font], size: r.size}, r.text) * perMM
		b := box{r.x, r.x + w, r.y - 0.15*r.size, r.y + 0.65*r.size}
		if r.turned {
			b = box{}
		}
		boxes = append(boxes, b)
		if r.turned {
			continue
		}
		if b.x0 < side*perMM-1 || b.x1 > pageWidth-side*perMM+1 || b.y0 < 12*perMM || b.y1 > pageHeight-marginTop*perMM+1 {
			t.Errorf("page %d: %q leaves the margins", r.page, r.text)
		}
		if i > 0 && runs[i-1].page != r.page {
			first = i
		}
		for k := first; k < i; k++ {
			o := boxes[k]
			if strings.TrimSpace(r.text) != "" && strings.TrimSpace(runs[k].text) != "" &&
				b.x0 < o.x1-0.3 && o.x0 < b.x1-0.3 && b.y0 < o.y1-0.3 && o.y0 < b.y1-0.3 {
				t.Errorf("page %d: %q lies over %q", r.page, r.text, runs[k].text)
			}
		}
	}
}

// The pages hold the document in its order: title, blocks, the tables of its
// pictures, marks, notes; beside it stand only feet and the heads of tables that
// go on.
func TestPDFOrder(t *testing.T) {
	d := full()
	_, _, runs := pdfOf(t, d)
	page := plainPDF(runs)
	at := 0
	for _, word := range []string{
		"Titleword", "Subword", "Heading1", "note:1", "Heading2", "Heading3", "Mood", "Warning:", "Moodwarning", "recalled", "Caution:",
		"Itemone", "Itemtwo", "assumed", "1.", "Ordered", "Captionword", "derived", "Headleft", "Headright", "Cellone", "Celltwo", "practice",
		"Pipe|cell", "<b>&amp;", "Barcaption", "leftshown", "rightshown", "Keyword", "Curvecaption", "Figurecaption", "<b>Figureword</b>", "Figurekey",
		"Verbatimcaption", "key: value", "  - {indent: `tick`}", "What the pictures say in numbers", "Barcaption", "leftshown", "rightshown",
		"Curvecaption", "pointone", "pointtwo", "Figurecaption", "Figurehead", "Figurecell", "Marks", "recalled", "Notes", "[1]", "Headnote1", "Captionnote",
	} {
		i := strings.Index(page[at:], word)
		if i < 0 {
			t.Fatalf("%q does not follow in %q", word, page[at:])
		}
		at += i + len(word)
	}
	tidyPages(t, runs)
}

// The same document gives the same bytes, and no clock stands in them.
func TestPDFIsTheSameTwice(t *testing.T) {
	first, _, _ := pdfOf(t, full())
	for range 5 {
		if again, _, _ := pdfOf(t, full()); !bytes.Equal(first, again) {
			t.Fatal("two runs differ")
		}
	}
	dates := regexp.MustCompile(`D:[0-9]+`).FindAllString(string(first), -1)
	if len(dates) != 2 || dates[0] != "D:20000101000000" || dates[1] != dates[0] {
		t.Errorf("dates %v", dates)
	}
}

// Title, language and outline are in the file; the outline has the headings at
// their levels.
func TestPDFFrame(t *testing.T) {
	data, r, runs := pdfOf(t, full())
	if got := r.Trailer().Key("Info").Key("Title").Text(); got != "Titleword" {
		t.Errorf("title %q", got)
	}
	if got := r.Trailer().Key("Root").Key("Lang").Text(); got != "en-US" {
		t.Errorf("language %q", got)
	}
	// Other programs find the letters by the same map as runsOf.
	if !bytes.Contains(data, []byte("<0000> <FFFF> <0000>")) {
		t.Error("the codes of the fonts are not those of the letters")
	}
	if !bytes.Contains(data, []byte("/FontFile2")) {
		t.Error("no font is embedded")
	}
	top := r.Outline().Child
	if len(top) != 1 || top[0].Title != "Titleword" || len(top[0].Child) != 4 || top[0].Child[0].Title != "Heading1" ||
		top[0].Child[0].Child[0].Title != "Heading2" || top[0].Child[0].Child[0].Child[0].Title != "Heading3" || top[0].Child[3].Title != "Notes" {
		t.Errorf("outline %+v", top)
	}
	for n := 1; n <= r.NumPage(); n++ {
		want := fmt.Sprintf("page %d of %d", n, r.NumPage())
		if !slices.ContainsFunc(runs, func(x run) bool { return x.page == n && x.text == want }) {
			t.Errorf("%q is not on the page", want)
		}
	}
}

// A table that goes on has its heads on every page, and a row that fits on a
// page stands on one.
func TestPDFTableGoesOn(t *testing.T) {
	table := &Table{Heads: []string{"Headleft", "Headright"}}
	for i := range 60 {
		table.Rows = append(table.Rows, []Text{say(fmt.Sprintf("begin%d %s end%d", i, strings.Repeat("word ", 200), i)), say("x")})
	}
	_, r, runs := pdfOf(t, &Document{Title: "T", Blocks: []Block{{Table: table}}})
	if r.NumPage() < 8 {
		t.Fatalf("%d pages", r.NumPage())
	}
	on := make(map[string]int)
	for _, x := range runs {
		for _, word := range strings.Fields(x.text) {
			on[word] = x.page
		}
	}
	for n := 1; n <= r.NumPage(); n++ {
		if !slices.ContainsFunc(runs, func(x run) bool { return x.page == n && x.text == "Headleft" }) {
			t.Errorf("page %d has no heads", n)
		}
	}
	for i := range table.Rows {
		if begin, end := on[fmt.Sprintf("begin%d", i)], on[fmt.Sprintf("end%d", i)]; begin != end || begin == 0 {
			t.Errorf("row %d begins on page %d and ends on page %d", i, begin, end)
		}
	}
	tidyPages(t, runs)
}

// No row of a table stands alone at the end or the top of a page, and a small
// table stands on one page.
func TestPDFNoRowAlone(t *testing.T) {
	for filler := range 60 {
		d := &Document{Title: "T"}
		for range filler {
			d.Blocks = append(d.Blocks, Block{Paragraph: &Paragraph{Text: say("filler")}})
		}
		small, long := &Table{Heads: []string{"Small"}}, &Table{Heads: []string{"Long"}}
		for i := range 60 {
			if i < 5 {
				small.Rows = append(small.Rows, []Text{say("smallrow")})
			}
			long.Rows = append(long.Rows, []Text{say("longrow")})
		}
		d.Blocks = append(d.Blocks, Block{Table: small}, Block{Table: long})
		_, _, runs := pdfOf(t, d)
		on := make(map[string]map[int]int)
		for _, r := range runs {
			if on[r.text] == nil {
				on[r.text] = make(map[int]int)
			}
			on[r.text][r.page]++
		}
		if len(on["smallrow"]) != 1 {
			t.Errorf("%d lines above: the small table stands on %v", filler, on["smallrow"])
		}
		for page, n := range on["longrow"] {
			if n == 1 {
				t.Errorf("%d lines above: a row stands alone on page %d", filler, page)
			}
		}
	}
}

// A row taller than a page goes on, and loses nothing.
func TestPDFTallRow(t *testing.T) {
	var words []string
	for i := range 4000 {
		words = append(words, fmt.Sprintf("w%d", i))
	}
	table := &Table{Heads: []string{"A", "B"}, Rows: [][]Text{{say(strings.Join(words, " ")), say("short")}}}
	_, r, runs := pdfOf(t, &Document{Title: "T", Blocks: []Block{{Table: table}}})
	have := strings.Fields(plainPDF(runs))
	at := 0
	for _, w := range have {
		if at < len(words) && w == words[at] {
			at++
		}
	}
	if at != len(words) || r.NumPage() < 2 {
		t.Errorf("%d of %d words in order on %d pages", at, len(words), r.NumPage())
	}
	tidyPages(t, runs)
}

// A heading stands on the page of what it is above.
func TestPDFHeadingStaysWithText(t *testing.T) {
	for filler := 30; filler < 60; filler++ {
		d := &Document{Title: "T"}
		for range filler {
			d.Blocks = append(d.Blocks, Block{Paragraph: &Paragraph{Text: say("filler")}})
		}
		d.Blocks = append(d.Blocks, Block{Heading: &Heading{Level: 1, Text: say("Upper")}}, Block{Heading: &Heading{Level: 2, Text: say("Lower")}},
			Block{Table: &Table{Caption: "Captionword", Heads: []string{"Headword"}, Rows: [][]Text{{say("Cellword")}}}})
		_, _, runs := pdfOf(t, d)
		page := make(map[string]int)
		for _, r := range runs {
			page[r.text] = r.page
		}
		if page["Upper"] != page["Cellword"] || page["Lower"] != page["Cellword"] || page["Captionword"] != page["Cellword"] || page["Cellword"] == 0 {
			t.Fatalf("%d lines above: %v", filler, page)
		}
	}
}

// The fonts have every letter of the pages that are shipped and of the base;
// what they lack has an entry of its own.
func TestFontsHaveTheLetters(t *testing.T) {
	l, err := newLetters()
	if err != nil {
		t.Fatal(err)
	}
	var files []string
	for _, pattern := range []string{"../../testdata/golden/*", "../../testdata/houses/*.yaml", "../../kb/data/*/*.yaml", "../../kb/data/*/*/*.yaml"} {
		found, err := filepath.Glob(pattern)
		if err != nil || len(found) == 0 {
			t.Fatalf("%s: %v", pattern, err)
		}
		files = append(files, found...)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []cut{regular, bold, mono} {
			if got := l.written(c, string(data)); strings.Contains(got, "[U+") {
				t.Errorf("%s: font %d lacks a letter: %s", file, c, got[strings.Index(got, "[U+"):][:9])
			}
		}
	}
}

// What the fonts lack is written by its number, never left out.
func TestLettersThatAreLacking(t *testing.T) {
	l, err := newLetters()
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"dry – 30 °F · ft² m³ ½ ≤ × µ → “x” ₂": "dry – 30 °F · ft² m³ ½ ≤ × µ → “x” ₂",
		"\U0001F600\x07א":       "[U+1F600][U+0007][U+05D0]",
		"⅓\u2009in x\u2011y\tz": "1/3 in x-y z",
		"\U00010000":            "[U+10000]",
		"\xff":                  "\uFFFD",
	} {
		got := l.written(regular, text)
		if want == "\uFFFD" && l.advance(regular, '\uFFFD') < 0 {
			want = "[U+FFFD]"
		}
		if got != want {
			t.Errorf("%q is written %q, want %q", text, got, want)
		}
	}
}

// Columns that fit get what they want; else they fill the room, none below its
// least and none above its want.
func TestShares(t *testing.T) {
	if got := shares([]float64{30, 40}, []float64{10, 10}, 100, 0.5); got[0] != 30 || got[1] != 40 {
		t.Errorf("what fits is changed: %v", got)
	}
	for _, power := range []float64{0, 0.5} {
		got := shares([]float64{30, 400, 90}, []float64{10, 20, 80}, 160, power)
		if sum := sumOf(got); sum > 160 || sum < 159.99 {
			t.Errorf("%v fills %g of 160", got, sum)
		}
		for c, least := range []float64{10, 20, 80} {
			if got[c] < least || got[c] > []float64{30, 400, 90}[c] {
				t.Errorf("column %d of %v", c, got)
			}
		}
	}
	// Equal limits: 30 as wanted, 80 at least, what is left for the long one.
	if got := shares([]float64{30, 400, 90}, []float64{10, 20, 80}, 160, 0); math.Abs(got[0]-30) > 1e-9 || math.Abs(got[1]-50) > 1e-9 || got[2] != 80 {
		t.Errorf("got %v", got)
	}
}
