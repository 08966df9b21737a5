package report

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// anyText draws words of every sort.
func anyText() *rapid.Generator[string] {
	odd := []rune("aé–ß漢א\u0628\U0001F600\u0301\u200f\x00\x1b\u00a0\t\n<&|`%\\()[]")
	word := rapid.OneOf(
		rapid.StringMatching(`[a-z]{1,9}`),
		rapid.StringMatching(`[a-z0-9]{40,200}`),
		rapid.StringOfN(rapid.SampledFrom(odd), 1, 6, -1),
	)
	return rapid.Custom(func(t *rapid.T) string {
		return strings.Join(rapid.SliceOfN(word, 0, rapid.SampledFrom([]int{1, 3, 12, 300}).Draw(t, "most")).Draw(t, "words"), " ")
	})
}

func anyRun() *rapid.Generator[Text] {
	return rapid.Custom(func(t *rapid.T) Text {
		return Text{
			Words: anyText().Draw(t, "words"), Mark: rapid.SampledFrom([]string{"", "recalled"}).Draw(t, "mark"),
			Notes: rapid.SliceOfN(rapid.IntRange(1, 3), 0, 2).Draw(t, "notes"),
		}
	})
}

func anyTable() *rapid.Generator[*Table] {
	return rapid.Custom(func(t *rapid.T) *Table {
		table := &Table{Caption: anyText().Draw(t, "caption")}
		columns := rapid.SampledFrom([]int{0, 1, 2, 5, 60}).Draw(t, "columns")
		for range columns {
			table.Heads = append(table.Heads, rapid.StringMatching(`[A-Z][a-z]{0,12}`).Draw(t, "head"))
		}
		for range rapid.IntRange(0, 4).Draw(t, "rows") {
			var row []Text
			for range columns {
				row = append(row, anyRun().Draw(t, "cell"))
			}
			table.Rows = append(table.Rows, row)
		}
		if columns > 1 {
			table.Right = []int{1}
		}
		return table
	})
}

func anyBlock() *rapid.Generator[Block] {
	return rapid.Custom(func(t *rapid.T) Block {
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			return Block{Heading: &Heading{Level: rapid.IntRange(1, 3).Draw(t, "level"), Text: anyRun().Draw(t, "heading")}}
		case 1:
			mood := rapid.SampledFrom([]string{plain, lead, warning, caution, quiet}).Draw(t, "mood")
			return Block{Paragraph: &Paragraph{Mood: mood, Text: anyRun().Draw(t, "paragraph")}}
		case 2:
			return Block{List: &List{Ordered: rapid.Bool().Draw(t, "ordered"), Items: rapid.SliceOfN(anyRun(), 0, 4).Draw(t, "items")}}
		case 3:
			return Block{Table: anyTable().Draw(t, "table")}
		}
		return Block{Verbatim: &Verbatim{Caption: anyText().Draw(t, "caption"), Text: anyText().Draw(t, "file")}}
	})
}

// No document makes the pages panic, lose a letter, leave the margins or set
// one text over another.
func TestPDFOfAnyDocument(t *testing.T) {
	l, err := newLetters()
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		d := &Document{
			Title: anyText().Draw(rt, "title"), Sub: anyText().Draw(rt, "sub"), Blocks: rapid.SliceOfN(anyBlock(), 0, 5).Draw(rt, "blocks"),
			Marks: []Legend{{Mark: "recalled", Meaning: "Meaning"}}, Notes: []Note{{"source", "One"}, {"model", "Two"}, {"warning", "Three"}},
		}
		_, _, runs := pdfOf(t, d)
		have := make(map[rune]int)
		for _, r := range runs {
			for _, c := range r.text {
				have[c]++
			}
		}
		for c, n := range lettersOf(d, l) {
			if have[c] < n {
				rt.Errorf("%q stands %d times, want %d", c, have[c], n)
			}
		}
		tidyPages(rt, runs)
	})
}

// lettersOf counts the letters of a document as the fonts can write them; case
// of the first letters aside.
func lettersOf(d *Document, l *letters) map[rune]int {
	count := make(map[rune]int)
	add := func(s string) {
		for _, c := range l.written(regular, s) {
			if c != ' ' && c != '\u00a0' {
				count[c]++
			}
		}
	}
	add(d.Title)
	add(d.Sub)
	each(d, func(t *Text) {
		add(t.Words)
		add(t.Mark)
	}, func(t *Table) {
		add(t.Caption)
		for _, h := range t.Heads {
			add(h)
		}
	})
	for _, b := range d.Blocks {
		if b.Verbatim != nil {
			add(b.Verbatim.Caption)
			add(b.Verbatim.Text)
		}
	}
	for _, n := range d.Notes {
		add(n.Text)
	}
	return count
}
